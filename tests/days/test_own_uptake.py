"""What the days of a folder say of the uptake of a new one."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve
from tests.log.played import Played
from tests.plan.plans import plan_with

from vatside.days.lots import learned_in
from vatside.log.events.vat import DipEnded, DipStarted, SwatchRecorded, VatMade
from vatside.log.fold import fold
from vatside.recipe.compute import compute
from vatside.storage.places import SAMPLE_ID
from vatside.storage.session_text import encode
from vatside.units import Amount


def dyed(ident: str, share: float) -> Played:
    """A day on which a skein came out so many times as deep as the account has it."""
    day = Played(plan_with(dip__a__dips="3"), ident).happen(VatMade())
    for _ in range(3):
        day.happen(DipStarted("a.1", 5)).happen(DipEnded("a.1", 15), 5)
    depth = day.state.dipping.pieces["a.1"].on.depth(compute(day.plan).value("dip.a.piece"))
    return day.happen(SwatchRecorded("a.1", step=Amount(share * depth, "%")), 60)


def put(folder: Path, *days: Played) -> Path:
    """Write days into a folder."""
    for number, day in enumerate(days):
        (folder / f"day{number}.json").write_bytes(encode(day.session))
    return folder


def test_days_that_came_out_paler_lower_what_the_fibre_takes(tmp_path: Path) -> None:
    """One pale day moves it little, two move it further and are surer; wool says nothing of linen."""
    one = learned_in(put(tmp_path, dyed("d1", 0.7)))
    two = learned_in(put(tmp_path, dyed("d1", 0.7), dyed("d2", 0.7)))
    assert [item.group for item in two] == ["protein"]
    assert 0.7 < two[0].factor < one[0].factor < 1
    assert two[0].spread < one[0].spread
    assert (one[0].results, two[0].results) == (1, 2)


def test_a_copy_of_a_day_counts_once(tmp_path: Path) -> None:
    """The same day in two files is one result."""
    assert learned_in(put(tmp_path, dyed("d1", 0.7), dyed("d1", 0.7)))[0].results == 1


def test_invented_days_teach_nothing(tmp_path: Path) -> None:
    """A copy of a sample stands in the folder; nobody dyed it."""
    sample = dyed("d1", 0.7)
    sample.session = evolve(sample.session, id=f"{SAMPLE_ID}d1")
    assert learned_in(put(tmp_path, sample)) == ()


def test_a_day_that_cannot_be_read_says_nothing(tmp_path: Path) -> None:
    """The others are read all the same."""
    (tmp_path / "broken.json").write_text("{")
    assert learned_in(put(tmp_path, dyed("d1", 0.7)))[0].results == 1


def test_a_result_says_how_much_of_the_table_the_fibre_takes() -> None:
    """As deep as the account has it: the factor stays what it is, by one result."""
    found = fold(dyed("d1", 1.0).session)
    (learned,) = learned_in(Path("/nowhere/at/all"), None, found)
    assert learned.factor == pytest.approx(1.0, rel=1e-3)
