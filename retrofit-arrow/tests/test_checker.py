"""The wheel says, row by row, what the command line says, whatever table the rows come in.

RETROFIT names the command; PORTFOLIO a table of houses, such as examples/palo-verde-junction.csv.
"""

import csv
import os
import subprocess
import sys
from pathlib import Path

import duckdb
import pandas
import polars
import pyarrow as pa
import pyarrow.csv
import pyarrow.parquet
import pytest

from retrofit_arrow import Checker

ROOT = Path(__file__).parents[2]
PORTFOLIO = Path(os.environ.get("PORTFOLIO", ROOT / "examples" / "palo-verde-junction.csv"))
COUNTS = ["met", "not_met", "not_determined", "not_applicable", "outside"]


@pytest.fixture(scope="session")
def expected(tmp_path_factory):
    """What the command line writes: a dictionary for each house, blanks as None."""
    out = tmp_path_factory.mktemp("triage") / "verdicts.csv"
    subprocess.run([os.environ["RETROFIT"], "--quiet", "triage", PORTFOLIO, "--out", out], check=True)
    with out.open(newline="") as file:
        rows = [{name: cell or None for name, cell in row.items()} for row in csv.DictReader(file)]
    assert len(rows) == 5000
    return rows


@pytest.fixture(scope="session")
def houses():
    """The portfolio as text, as nobody has guessed its types."""
    with PORTFOLIO.open(newline="") as file:
        names = next(csv.reader(file))
    text = pyarrow.csv.ConvertOptions(column_types={name: pa.string() for name in names}, strings_can_be_null=True)
    return pyarrow.csv.read_csv(PORTFOLIO, convert_options=text)


def agrees(table, expected):
    """Whether a table of results holds what the command line wrote, row by row."""
    rows = pa.table(table).to_pylist()
    assert len(rows) == len(expected)
    for row, wanted in zip(rows, expected):
        assert row.pop("problem") is None
        for count in COUNTS:
            row[count] = str(row[count])
        assert row == wanted


def test_pyarrow(houses, expected):
    agrees(Checker().check(houses), expected)


def test_a_batch_at_a_time(houses, expected):
    checker = Checker()
    batches = houses.to_batches(max_chunksize=333)
    agrees(pa.Table.from_batches([pa.record_batch(checker.check_batch(batch)) for batch in batches]), expected)


def test_polars(houses, expected):
    agrees(polars.DataFrame(Checker().check(polars.from_arrow(houses))), expected)


def test_polars_streaming(houses, expected):
    checker = Checker()
    lazy = polars.from_arrow(houses).lazy()
    checked = lazy.map_batches(lambda frame: polars.DataFrame(checker.check(frame)), validate_output_schema=False)
    agrees(checked.collect(), expected)


def test_duckdb(houses, expected):
    connection = duckdb.connect()
    connection.register("houses", houses)
    # One by one, so that the rows keep their order.
    connection.execute("SET threads = 1")
    agrees(Checker().check(connection.sql("SELECT * FROM houses")), expected)


def test_pandas(houses, expected):
    frame = houses.to_pandas()
    assert isinstance(frame, pandas.DataFrame)
    agrees(Checker().check(frame), expected)


def test_values_with_types_of_their_own():
    """Numbers and yes or no need not be text, and null is unknown."""
    typed = pa.table({"id": ["a", "b"], "stories": pa.array([1, None], pa.int8()), "anchors": [False, None]})
    text = pa.table({"id": ["a", "b"], "stories": ["1", ""], "anchors": ["no", " "]})
    checker = Checker()
    assert pa.table(checker.check(typed)).to_pylist() == pa.table(checker.check(text)).to_pylist()


def test_a_row_that_cannot_be_read_says_why():
    table = pa.table({
        "id": ["good", "bad", None, "broken", "last, not least"],
        "stories": ["1", "one", None, "1", "2"],
        "x_note": [None, None, None, "two\nlines", "6'-0\", \"quoted\""],
    })
    rows = pa.table(Checker().check(table)).to_pylist()
    problems = [row["problem"] for row in rows]
    assert rows[4]["x_note"] == "6'-0\", \"quoted\""
    assert [row["id"] for row in rows] == ["good", None, None, None, "last, not least"]
    assert [row["verdict"] is None for row in rows] == [False, True, True, True, False]
    assert problems[0] is None and problems[4] is None
    assert problems[1].startswith("column stories: found \"one\"")
    assert "empty row" in problems[2]
    assert "column x_note: found a line break" in problems[3]


def test_what_cannot_be_used_is_an_error():
    with pytest.raises(ValueError, match="did you mean \"stories\""):
        Checker().check(pa.table({"id": ["a"], "storeys": ["1"]}))
    with pytest.raises(ValueError, match="there is no set of provisions of this name"):
        Checker("nowhere")
    with pytest.raises(OSError):
        Checker(tables=["no-such-folder"])
    # The checker is as good as new afterwards.
    checker = Checker()
    with pytest.raises(ValueError):
        checker.check(pa.table({"stories": ["1"]}))
    assert pa.table(checker.check(pa.table({"id": ["a"]}))).num_rows == 1


def test_a_table_without_rows_has_columns():
    empty = pa.table(Checker().check(pa.table({"id": pa.array([], pa.string())})))
    assert empty.num_rows == 0 and empty.column_names[0] == "id"


def test_spark_in_local_mode(expected, tmp_path):
    """The documented example, as it stands, over several partitions."""
    out = tmp_path / "verdicts"
    example = Path(__file__).parents[1] / "examples" / "on_spark.py"
    environment = os.environ | {
        "PYSPARK_PYTHON": sys.executable,
        "SPARK_LOCAL_IP": "127.0.0.1",
    }
    subprocess.run(
        [sys.executable, example, PORTFOLIO, out, "--master", "local[2]"], check=True, env=environment
    )
    # Partitions come out in an order of their own; rows that stand twice are alike.
    results = pyarrow.parquet.read_table(out).sort_by("id")
    agrees(results, sorted(expected, key=lambda row: row["id"]))
