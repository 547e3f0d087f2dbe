"""Judges a table of houses on Apache Spark: each partition passes through the checker of the wheel.

    python on_spark.py houses.csv verdicts            # on this machine
    spark-submit --master yarn on_spark.py s3://…/houses.csv s3://…/verdicts

The table has the columns of `retrofit triage --columns`, as text; results are written as Parquet, one row a house.
"""

import argparse

import pyarrow as pa
from pyspark.sql import SparkSession
from pyspark.sql.pandas.types import from_arrow_schema
from retrofit_arrow import Checker


def check(batches):
    """A partition through the checks. A checker keeps what it has learned, so one serves all batches."""
    checker = Checker()
    for batch in batches:
        yield pa.record_batch(checker.check_batch(batch))


def results_of(names):
    """The columns of the results for a table with these columns."""
    nothing = pa.table({name: pa.array([], pa.string()) for name in names})
    return from_arrow_schema(pa.table(Checker().check(nothing)).schema)


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("houses")
    parser.add_argument("verdicts")
    parser.add_argument("--master", help="where to run; left out, what spark-submit says")
    arguments = parser.parse_args()

    builder = SparkSession.builder.appName("retrofit").config("spark.sql.execution.arrow.maxRecordsPerBatch", 20_000)
    if arguments.master:
        builder = builder.master(arguments.master).config("spark.driver.bindAddress", "127.0.0.1")
    spark = builder.getOrCreate()
    # Every column as text: the checker reads `7'-0"` and `84 in` alike, and Spark guesses nothing.
    houses = spark.read.csv(arguments.houses, header=True, inferSchema=False, quote='"', escape='"')
    houses.mapInArrow(check, results_of(houses.columns)).write.mode("overwrite").parquet(arguments.verdicts)
    spark.stop()


if __name__ == "__main__":
    main()
