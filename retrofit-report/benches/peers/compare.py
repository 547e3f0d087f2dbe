"""Times the portfolio pass beside polars and DuckDB, in one run, over the same file.

    python compare.py houses.csv -- retrofit triage houses.csv --out verdicts.csv

Both peers read the file, judge every row by the checks that can be said as expressions over its columns, and write
CSV. That is a lesser job: they look at the columns the file has and nothing else, refuse no cell and tell no bad row,
do not go by which observation would decide, how a row is known, sill pieces, standings, or the cases that an unknown
leaves open, and give counts and a verdict where the program also tells the deficiency, its figures, and what to look
at next. Unknown is null and goes through comparisons and through and and or as it does in the program.

The figures are read from the tables of the default set. The two peers have to come to the same counts.
"""

import csv
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

import duckdb
import polars as pl

TABLES = pathlib.Path(__file__).parents[3] / "tables" / "cebc-a3-2013"


def inches(text):
    """A length of a table in inches: 4 ft, 12 in, 15/32 in, 1-1/2 in."""
    number, unit = text.rsplit(" ", 1)
    whole, _, fraction = number.partition("-")
    total = 0.0
    for part in (whole, fraction):
        over, _, under = part.partition("/")
        total += float(over) / float(under or 1) if over else 0.0
    return total * {"ft": 12, "in": 1}[unit]


def figures():
    """The rows of a set that give a value, by figure."""
    rows = {}
    for path in sorted(TABLES.glob("*.csv")):
        for row in csv.DictReader(path.open()):
            if row.get("value"):
                rows.setdefault(row["figure"], []).append(row)
    return rows


FIGURES = figures()


def one(name):
    (row,) = FIGURES[name]
    return row["value"]


def kinds(name):
    return [kind.strip() for kind in one(name).split("|")]


def by_stories(name, **case):
    """The figure for one, two and three stories."""
    def value(stories):
        rows = [
            row
            for row in FIGURES[name]
            if row["stories"] in ("", stories) and all(row[key] in ("", at) for key, at in case.items())
        ]
        return rows[0]["value"] if rows else None

    return [value(stories) for stories in "123"]


def share(text):
    return float(text.removesuffix("%")) / 100


# The least diameter that counts for each number of stories, and the spacing for it and for a stouter one.
SPACINGS = [
    sorted((inches(row["diameter"]), inches(row["value"])) for row in FIGURES["anchor-spacing"] if row["stories"] == n)
    for n in "123"
]
LEAST_DIAMETER = [rows[0][0] for rows in SPACINGS]
THIN_SPACING = [rows[0][1] for rows in SPACINGS]
STOUT_SPACING = [rows[-1][1] for rows in SPACINGS]
STOUT = max(row[0] for rows in SPACINGS for row in rows)
HEAVY_SHARE = [share(text) for text in by_stories("braced-share", weight="heavy")]
OTHER_SHARE = [share(text) for text in by_stories("braced-share", weight="other")]
WASHER = [inches(part) for part in one("washer").split(" x ")]

LENGTHS = [
    "wall_length", "anchor_spacing", "anchor_end_distance", "anchor_diameter", "cripple_wall_height", "tallest_stud",
    "braced_length", "shortest_panel", "sheathing_thickness", "edge_nailing", "field_nailing",
]

# Numbers out of texts: the first of these that fits. A scale of one part, two parts added, or one over the other.
LENGTH = [
    ("scaled", r"^([0-9.]+) in$", 1.0),
    ("scaled", r"^([0-9.]+) ft$", 12.0),
    ("scaled", r"^([0-9.]+) mm$", 1 / 25.4),
    ("added", r"^([0-9]+)'-[0-9]+\"$", 12.0, r"^[0-9]+'-([0-9]+)\"$"),
    ("over", r"^([0-9]+)/[0-9]+ in$", r"^[0-9]+/([0-9]+) in$"),
]
SIDE = [("scaled", r"^([0-9.]+) in x", 1.0)]
THICKNESS = [
    ("scaled", r"x ([0-9.]+) in$", 1.0),
    ("over", r"x ([0-9]+)/[0-9]+ in$", r"x [0-9]+/([0-9]+) in$"),
]
PENNY = [("scaled", r"^([0-9]+)d", 1.0)]
PARSED = [(f"{name}_in", name, LENGTH) for name in LENGTHS] + [
    ("washer_side", "anchor_washer", SIDE),
    ("washer_thickness", "anchor_washer", THICKNESS),
    ("nail_penny", "panel_nail", PENNY),
    ("stories_n", "stories", [("scaled", r"^([0-9.]+)$", 1.0)]),
    ("units_n", "units", [("scaled", r"^([0-9]+)$", 1.0)]),
]


def parsed_as_sql(name, forms):
    def part(pattern):
        pattern = pattern.replace("'", "''")
        return f"TRY_CAST(REGEXP_EXTRACT({name}, '{pattern}', 1) AS DOUBLE)"

    def number(kind, first, *rest):
        if kind == "scaled":
            return f"{part(first)} * {rest[0]}"
        if kind == "added":
            return f"{part(first)} * {rest[0]} + {part(rest[1])}"
        return f"{part(first)} / {part(rest[0])}"

    return f"COALESCE({', '.join(number(*form) for form in forms)})"


def parsed_by_polars(name, forms):
    def part(pattern):
        return pl.col(name).str.extract(pattern, 1).cast(pl.Float64, strict=False)

    def number(kind, first, *rest):
        if kind == "scaled":
            return part(first) * rest[0]
        if kind == "added":
            return part(first) * rest[0] + part(rest[1])
        return part(first) / part(rest[0])

    return pl.coalesce(number(*form) for form in forms)


# The checks are one SQL text that both read, so that nothing is said twice; each runs it by its own plan.
def in_list(name, words):
    return f"{name} IN ({', '.join(repr(word) for word in words)})"


def for_stories(values):
    one_story, two, three = values
    return f"CASE stories_up WHEN 1 THEN {one_story} WHEN 2 THEN {two} WHEN 3 THEN {three} END"


def properties():
    least_side, _, least_thickness = WASHER
    penny, shank = one("panel-nail").split("d ")
    return f"""SELECT *,
        {in_list('anchor_kind', kinds('anchor-kinds'))} AS kind_ok,
        anchor_diameter_in >= {for_stories(LEAST_DIAMETER)} OR anchor_kind IN ('side_plate', 'strap') AS diameter_ok,
        CASE WHEN anchor_washer IN ('none', 'cut') THEN FALSE
            ELSE washer_side >= {least_side} AND washer_thickness >= {least_thickness} END
            OR anchor_kind IN ('side_plate', 'strap') AS washer_ok,
        (anchor_tightness = 'snug') OR anchor_kind IN ('side_plate', 'strap') AS tight_ok,
        anchor_corrosion <> 'wasted' AS steel_ok,
        {in_list('sheathing', kinds('sheathing-kinds'))} AS sheathing_ok,
        sheathing_thickness_in >= {inches(one('min-sheathing-thickness'))} AS thickness_ok,
        nail_penny >= {penny} AND panel_nail LIKE '% {shank}' AS nail_ok,
        edge_nailing_in <= {inches(one('edge-nailing'))} AS edge_ok,
        field_nailing_in <= {inches(one('field-nailing'))} AS field_ok,
        nails_flush = 'yes' AS flush_ok,
        joints_blocked = 'yes' AS joints_ok,
        panel_foot <> 'short' AS foot_ok,
        shortest_panel_in >= {inches(one('min-panel-length'))} AS long_ok,
        shortest_panel_in >= {share(one('min-panel-proportion'))} * tallest_stud_in AS proportion_ok,
        panel_cut_through = 'no' AS whole_ok"""


def cases():
    return """SELECT *, CEIL(stories_n) AS stories_up, (exterior = 'stucco') AND (roof = 'tile') AS is_heavy,
        COALESCE(anchors = 'no', FALSE) AS no_anchors, COALESCE(cripple_wall = 'no', FALSE) AS no_cripple_wall,
        COALESCE(panels = 'no', FALSE) AS no_panels"""


def amounts():
    return f"""SELECT *,
        kind_ok AND diameter_ok AND washer_ok AND tight_ok AND steel_ok AND NOT no_anchors AS anchors_count,
        sheathing_ok AND thickness_ok AND nail_ok AND edge_ok AND field_ok AND flush_ok AND joints_ok AND foot_ok
            AND long_ok AND proportion_ok AND whole_ok AND NOT no_panels AS panels_count"""


def enough():
    spaced = f"""anchor_spacing_in <= CASE WHEN anchor_diameter_in >= {STOUT} THEN {for_stories(STOUT_SPACING)}
        ELSE {for_stories(THIN_SPACING)} END"""
    ends = f"""anchor_end_distance_in >= {inches(one('min-end-distance'))}
        AND anchor_end_distance_in <= {inches(one('max-end-distance'))}"""
    asked = f"""CASE WHEN is_heavy THEN {for_stories(HEAVY_SHARE)} WHEN NOT is_heavy THEN {for_stories(OTHER_SHARE)} END"""
    return f"""SELECT *,
        anchors_count AND {spaced} AS spacing_ok,
        anchors_count AND {ends} AS ends_ok,
        panels_count AND braced_length_in >= {asked} * wall_length_in AS bracing_ok,
        panels_count AND braced_at_each_end = 'yes' AS at_ends_ok"""


def checks():
    """Each check: its name, what has to hold, and when it is of account."""
    tallest = for_stories(["TRUE", "TRUE", f"tallest_stud_in <= {inches(by_stories('max-stud-height')[2])}"])
    limits = {
        "stories": f"stories_up <= {one('max-stories')}",
        "units": f"units_n <= {one('max-units')}",
        "height": f"cripple_wall_height_in <= {inches(one('max-cripple-wall-height'))}",
        "studs": tallest,
        "foundation": in_list("foundation_kind", kinds("foundation-kinds")),
        "perimeter": "continuous_perimeter = 'yes'",
    }
    must = {
        "condition": "foundation_condition IN ('sound', 'cracked')",
        "sill": "CASE WHEN sill_soundness = 'split' THEN NULL ELSE sill_soundness = 'sound' END",
        "spacing": "spacing_ok",
        "ends": "ends_ok",
    }
    anchors = ["kind_ok", "diameter_ok", "washer_ok", "tight_ok", "steel_ok"]
    panels = [
        "sheathing_ok", "thickness_ok", "nail_ok", "edge_ok", "field_ok", "flush_ok", "joints_ok", "foot_ok", "long_ok",
        "proportion_ok", "whole_ok",
    ]
    # A single property falls short only where those that have it are not enough.
    must |= {name: f"CASE WHEN no_anchors THEN TRUE ELSE {name} OR (spacing_ok AND ends_ok) END" for name in anchors}
    must |= {
        name: f"CASE WHEN no_cripple_wall OR no_panels THEN TRUE ELSE {name} OR (bracing_ok AND at_ends_ok) END"
        for name in panels
    }
    must |= {
        name: f"CASE WHEN no_cripple_wall THEN TRUE ELSE {name} END" for name in ["bracing_ok", "at_ends_ok"]
    }
    links = "spacing_ok AND ends_ok AND (no_cripple_wall OR (bracing_ok AND at_ends_ok))"
    must["retrofit"] = f"(earlier_retrofit = 'no') OR ({links})"
    return limits, must


def judged():
    limits, must = checks()
    named = ", ".join(f"({says}) AS is_{name}" for name, says in (limits | must).items())
    return f"SELECT *, {named}", [f"is_{name}" for name in limits], [f"is_{name}" for name in must]


def verdict():
    _, limits, must = judged()
    count = lambda names, says: " + ".join(f"CASE WHEN {says.format(name)} THEN 1 ELSE 0 END" for name in names)
    return f"""SELECT id, region,
        CASE WHEN {count(limits, 'NOT {}')} > 0 THEN 'outside' WHEN {count(must, 'NOT {}')} > 0 THEN 'not met'
            WHEN {count(limits + must, '{} IS NULL')} > 0 THEN 'not determined' ELSE 'met' END AS verdict,
        {count(limits + must, '{}')} AS met,
        {count(must, 'NOT {}')} AS not_met,
        {count(limits + must, '{} IS NULL')} AS not_determined,
        {count(limits, 'NOT {}')} AS outside"""


def statement(source):
    """All steps, one over the other."""
    text = source
    for step in [cases(), properties(), amounts(), enough(), judged()[0], verdict()]:
        text = f"({step} FROM {text} AS t)"
    return f"SELECT * FROM {text} AS t"


def by_polars(path, out):
    parsed = [parsed_by_polars(name, forms).alias(alias) for alias, name, forms in PARSED]
    houses = pl.scan_csv(path, infer_schema=False).with_columns(parsed)
    with pl.SQLContext(houses=houses) as context:
        context.execute(statement("houses"), eager=False).sink_csv(out)


def by_duckdb(path, out):
    parsed = ", ".join(f"{parsed_as_sql(name, forms)} AS {alias}" for alias, name, forms in PARSED)
    source = f"(SELECT *, {parsed} FROM read_csv('{path}', all_varchar = true, header = true))"
    connection = duckdb.connect()
    connection.execute("SET threads = 2")
    connection.execute(f"COPY ({statement(source)}) TO '{out}' (HEADER, DELIMITER ',')")
    connection.close()


def counts(path):
    with open(path) as file:
        rows = csv.DictReader(file)
        total = {}
        for row in rows:
            total[row["verdict"]] = total.get(row["verdict"], 0) + 1
        return total


def timed(run, times=3):
    seconds = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        seconds.append(time.perf_counter() - start)
    return statistics.median(seconds)


def main():
    split = sys.argv.index("--")
    (path,), command = sys.argv[1:split], sys.argv[split + 1 :]
    with open(path, "rb") as file:
        rows = sum(chunk.count(b"\n") for chunk in iter(lambda: file.read(1 << 20), b"")) - 1
    limits, must = checks()
    print(f"{rows} rows; {len(limits) + len(must)} checks by the peers")
    with tempfile.TemporaryDirectory() as folder:
        outputs = {peer.__name__: f"{folder}/{peer.__name__}.csv" for peer in (by_polars, by_duckdb)}
        ours = timed(lambda: subprocess.run(command, check=True, capture_output=True))
        print(f"this program   {rows / ours / 1e6:6.2f} million rows/s")
        for peer in (by_polars, by_duckdb):
            seconds = timed(lambda: peer(path, outputs[peer.__name__]))
            rate = rows / seconds / 1e6
            print(f"{peer.__name__:<14} {rate:6.2f} million rows/s   {seconds / ours:5.2f} times as long as this program")
        results = [counts(out) for out in outputs.values()]
        print("verdicts of the peers:", results[0])
        if results[0] != results[1]:
            sys.exit(f"the peers disagree: {results}")


if __name__ == "__main__":
    main()
