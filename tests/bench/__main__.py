"""`python -m tests.bench`: measure every ratio, print one table, fail only past an alarm."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence

from tests.bench.measure import NotHere, Row
from tests.bench.rows import ROWS
from tests.bench.run import Run
from tests.bench.table import Line, printed, several


def measured(row: Row, run: Run) -> Line:
    """Measure one row."""
    try:
        return Line(row, row.measure(run))
    except NotHere as error:
        return Line(row, None, str(error))


def measured_surely(row: Row, run: Run, again: Callable[[], Run]) -> Line:
    """Measure one row; only a ratio that is past the alarm twice is taken for an alarm."""
    first = measured(row, run)
    return measured(row, again()) if first.alarming else first


def main(arguments: Sequence[str] | None = None, rows: Sequence[Row] = ROWS) -> int:
    """Run the benchmark; 1 if a row is past its alarm."""
    wish = _wish(arguments, rows)
    chosen = [row for row in rows if not wish.only or row.name in wish.only]
    runs = []
    for _ in range(wish.times):
        run = Run(short=wish.short, quick=wish.quick)
        runs.append([measured_surely(row, run, lambda: Run(short=wish.short)) for row in chosen])
        print(printed(runs[-1]), flush=True)
        print()
    if wish.times > 1:
        print(several(runs))
    return int(any(all(line.alarming for line in same) for same in zip(*runs, strict=True)))


def _wish(arguments: Sequence[str] | None, rows: Sequence[Row]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--short", action="store_true", help="fewer rounds")
    parser.add_argument("--quick", action="store_true", help="fewer still, and less of what is large")
    parser.add_argument("--times", type=int, default=1, metavar="N", help="measure everything so many times")
    names = [row.name for row in rows]
    parser.add_argument("--only", action="append", choices=names, metavar="ROW", help=f"one of {', '.join(names)}")
    return parser.parse_args(arguments)


if __name__ == "__main__":
    sys.exit(main())
