"""The benchmark's own works, on measures that are made up, and its plain arithmetic on the real sheet."""

from __future__ import annotations

import sys
from itertools import count
from pathlib import Path

import pytest
from tests.bench.__main__ import main
from tests.bench.measure import NotHere, Pairs, Row, interleaved
from tests.bench.plain_sheet import Facts
from tests.bench.run import Run
from tests.bench.sheets import differences
from tests.bench.table import Line, printed
from tests.bench.ticking import ticking


def _row(name: str, *ratios: float) -> Row:
    """A row whose baseline is always one; each measurement gives the next ratio."""
    turns = count()
    return Row(name, "a / b", "ms", 2, 3, lambda run: Pairs((ratios[min(next(turns), len(ratios) - 1)],), (1.0,)))


def _missing(run: Run) -> Pairs:
    raise NotHere("no /proc")


def test_the_ratio_is_the_middle_one_of_the_rounds() -> None:
    """One round on a busy machine moves the ratio by nothing."""
    assert Pairs((2.0, 30.0, 6.0), (1.0, 2.0, 3.0)).ratio == 2.0


def test_both_sides_are_measured_turn_about() -> None:
    """Either side goes first in every other round, and the first round is thrown away."""
    order: list[str] = []

    def taking(name: str) -> float:
        order.append(name)
        return float(len(order))

    pairs = interleaved(2, lambda: taking("ours"), lambda: taking("base"))
    assert order == ["ours", "base", "base", "ours", "ours", "base"]
    assert pairs == Pairs((4.0, 5.0), (3.0, 6.0))


@pytest.mark.parametrize(
    ("ratio", "verdict"), [(2.0, "met"), (2.01, "over the goal"), (3.0, "over the goal"), (3.01, "ALARM")]
)
def test_verdicts(ratio: float, verdict: str) -> None:
    """A goal and an alarm are met up to and including themselves."""
    assert Line(_row("x"), Pairs((ratio,), (1.0,))).verdict == verdict


@pytest.mark.parametrize(("ratios", "code"), [((1.0,), 0), ((2.5,), 0), ((4.0,), 1), ((4.0, 1.0), 0)])
def test_only_an_alarm_that_comes_twice_fails(ratios: tuple[float, ...], code: int) -> None:
    """Goals that are missed are shown; a ratio past its alarm is measured again before it fails the run."""
    assert main([], [_row("x", *ratios)]) == code


def test_what_cannot_be_measured_here_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    """A row without its means is no failure, and gives its reason."""
    assert main([], [Row("x", "a / b", "ms", 2, 3, _missing)]) == 0
    assert "not here: no /proc" in capsys.readouterr().out


def test_one_row_and_several_runs(capsys: pytest.CaptureFixture[str]) -> None:
    """`--only` leaves the others out, and `--times` puts the ratios of all runs beside each other."""
    assert main(["--only", "y", "--times", "2"], [_row("x", 4.0), _row("y", 1.25, 1.75)]) == 0
    assert capsys.readouterr().out.splitlines()[-1].split() == ["y", "1.25", "1.75"]


def test_columns_stand_under_each_other() -> None:
    """Every line of the table has its verdict in the same column."""
    lines = [Line(_row(name), Pairs((value,), (1.0,))) for name, value in (("x", 1.0), ("a-long-name", 2.5))]
    head, first, second = printed(lines).splitlines()
    assert head.index("verdict") == first.index("met") == second.index("over the goal")


@pytest.mark.parametrize("grams", [300.0, 411.0, 900.0])
def test_the_plain_arithmetic_is_the_sheets(grams: float) -> None:
    """The floats that the sheet is held against give every figure of it, and no other."""
    assert differences(grams, Facts()) == []


@pytest.mark.long
async def test_hours_of_looks_at_the_clock_keep_memory_flat(tmp_path: Path) -> None:
    """An hour leaves so few things behind that thirty of them stay within a mebibyte, at 64 bytes each."""
    async with ticking(tmp_path) as app:
        await app.hour()
        before = sys.getallocatedblocks()
        await app.hour()
        assert (sys.getallocatedblocks() - before) * 30 < 2**20 / 64
