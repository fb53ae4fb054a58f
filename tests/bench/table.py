"""The table that is printed, and what each line comes to."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

from attrs import frozen
from tests.bench.measure import Pairs, Row

MET, OVER, ALARM = "met", "over the goal", "ALARM"


@frozen
class Line:
    """A row that was measured, or the reason why it was not."""

    row: Row
    pairs: Pairs | None
    reason: str = ""

    @property
    def verdict(self) -> str:
        """What the ratio comes to."""
        if self.pairs is None:
            return f"not here: {self.reason}"
        if self.pairs.ratio <= self.row.goal:
            return MET
        return OVER if self.pairs.ratio <= self.row.alarm else ALARM

    @property
    def alarming(self) -> bool:
        """Past the alarm."""
        return self.verdict == ALARM


HEAD = ("row", "", "ours", "baseline", "", "ratio", "goal", "alarm", "verdict")


def printed(lines: Sequence[Line]) -> str:
    """Print the lines as one table."""
    cells = [HEAD, *(_cells(line) for line in lines)]
    widths = [max(len(row[column]) for row in cells) for column in range(len(HEAD))]
    return "\n".join(_row(row, widths) for row in cells)


def _row(row: Sequence[str], widths: Sequence[int]) -> str:
    left = {0, 1, 4, 8}
    padded = (text.ljust(width) if at in left else text.rjust(width)
              for at, (text, width) in enumerate(zip(row, widths, strict=True)))  # fmt: skip
    return "  ".join(padded).rstrip()


def _cells(line: Line) -> tuple[str, ...]:
    row, pairs = line.row, line.pairs
    measured = ("–", "–", "", "–")
    if pairs is not None:
        measured = (_figure(median(pairs.ours)), _figure(median(pairs.baseline)), row.unit, f"{pairs.ratio:.2f}")
    title = f"{row.title}: {pairs.of}" if pairs is not None and pairs.of else row.title
    return (row.name, title, *measured, f"{row.goal:g}", f"{row.alarm:g}", line.verdict)


def _figure(value: float) -> str:
    return f"{value:.3g}" if value < 100 else f"{value:.0f}"


def several(runs: Sequence[Sequence[Line]]) -> str:
    """Print the ratios of several runs beside each other."""
    width = max(len(line.row.name) for line in runs[0])
    rows = (
        f"{same[0].row.name.ljust(width)}  " + "  ".join(f"{_ratio(line):>6}" for line in same)
        for same in zip(*runs, strict=True)
    )
    return "\n".join(rows)


def _ratio(line: Line) -> str:
    return f"{line.pairs.ratio:.2f}" if line.pairs else "–"
