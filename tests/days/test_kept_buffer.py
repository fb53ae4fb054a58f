"""A vat for wool or silk that is kept: its soda comes along to the next day."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.days.test_keep_vat import WEEKS, followed, later
from tests.log.played import Played
from tests.plan.plans import plan_with

from vatside.chemistry.bath import aerate
from vatside.chemistry.buffer import RULES
from vatside.chemistry.liquor import solve
from vatside.days.keep_vat import Carried, carry_on, keep
from vatside.log.events.vat import CorrectionMade, VatMade
from vatside.recipe.baths import kept_bath, lye_held
from vatside.recipe.compute import compute
from vatside.recipe.kept import in_tub
from vatside.storage.session_text import decode, encode
from vatside.units import Amount

HARD = {"water__hardness": "300 mg/L", "water__alkalinity": "250 mg/L"}
A_NIGHT = 12 * 3600.0


def made(fibre: str) -> Played:
    """A vat for a fibre in hard water, with its stock in it."""
    return Played(plan_with(lots__a__fibre=fibre, **HARD)).happen(VatMade())


def carried(day: Played, seconds: float) -> Carried:
    """What the next day begins with when the vat is kept now and taken up so many seconds later."""
    day.happen(keep(day.session, 0.0))
    return carry_on(day.session, later(day, seconds))


@pytest.mark.parametrize("fibre", ["wool", "silk"])
def test_a_vat_is_as_alkaline_the_next_morning(fibre: str) -> None:
    """What stands in the tub has the pH that the account gave it, but for the acid of what reducer the night takes."""
    day = made(fibre)
    account = day.state.tending.account
    assert account is not None
    at_once, next_day = carried(day, 0).plan, carried(day, A_NIGHT).plan
    before = solve(account.bath, 20).pH
    assert solve(kept_bath(at_once), 20).pH == pytest.approx(before, abs=0.03)
    assert before - 0.2 < solve(kept_bath(next_day), 20).pH < before


@pytest.mark.parametrize("fibre", ["wool", "silk"])
def test_weeks_later_its_reducer_is_acid(fibre: str) -> None:
    """With the reducer gone the vat stands where the account's own does once air has spent it and its dye is blue."""
    day = made(fibre)
    account = day.state.tending.account
    assert account is not None
    next_day = carried(day, WEEKS).plan
    assert solve(kept_bath(next_day), 20).pH == pytest.approx(solve(aerate(account.bath), 20).pH, abs=0.03)


def test_weeks_later_its_dye_is_blue_and_wants_reducer() -> None:
    """Air that met no reducer turned the dye back: plan, file and account of the next day say how much.

    A mole of reducer goes in for each mole of it, besides what sharpens the water.
    """
    day = made("cotton")
    account = day.state.tending.account
    assert account is not None
    begun = carried(day, WEEKS)
    kept = begun.plan.kept
    assert kept is not None
    assert kept.oxidised is not None
    assert kept.oxidised.value == pytest.approx(account.indigotin_g, rel=0.01)
    after = followed(begun, later(day, WEEKS))
    there = after.state.tending.account
    assert there is not None
    assert there.unreduced_g == pytest.approx(kept.oxidised.value, rel=0.01)
    assert decode(encode(after.session)).session.plan.kept == kept
    sheet, reduced = compute(begun.plan), compute(evolve(begun.plan, kept=evolve(kept, oxidised=None)))
    stays = 1 - sheet.value("vat.surplus") / kept.volume.value
    more = sheet.value("vat.reducer") - reduced.value("vat.reducer")
    assert more == pytest.approx(stays * kept.oxidised.value * 108.115 / 262.268 / 0.99, rel=0.02)


def test_a_vat_kept_overnight_with_reducer_left_is_not_blue() -> None:
    """As long as reducer is left it takes the air before the dye does."""
    kept = carried(made("cotton"), 3600.0).plan.kept
    assert kept is not None
    assert kept.reducer.value > 0
    assert kept.oxidised is None


@pytest.mark.parametrize("fibre", ["wool", "silk"])
def test_the_next_day_reckons_with_it(fibre: str) -> None:
    """Topped up, the vat stays in the window of its fibre, and the carbonate in the tub is not dosed again."""
    plan = carried(made(fibre), WEEKS).plan
    sheet, window = compute(plan), RULES["silk" if fibre == "silk" else "protein"]
    fresh, spent = sheet["vat.pH"].between, sheet["vat.pH_spent"].between
    assert fresh is not None
    assert spent is not None
    assert window.low <= spent[0] <= fresh[1] <= window.high
    assert plan.kept is not None
    assert plan.kept.carbonate is not None
    unknown = compute(evolve(plan, kept=evolve(plan.kept, carbonate=None)))
    spared = unknown["vat.baking-soda"].value - sheet["vat.baking-soda"].value
    assert spared == pytest.approx(plan.kept.carbonate.value - 9, abs=3), "the tap's own is nine grams of it"


def test_soda_put_into_the_kept_vat_is_written_into_the_plan() -> None:
    """Ten grams of baking soda stirred in before topping up are ten grams more of carbonate in the tub."""
    day = made("wool")
    begun = carried(day, A_NIGHT)
    after = followed(begun, later(day, A_NIGHT))
    before = after.state.plan.kept
    after.happen(CorrectionMade(material="baking-soda", amount=Amount(10, "g")))
    kept = after.state.plan.kept
    assert before is not None
    assert kept is not None
    assert before.carbonate is not None
    assert kept.carbonate is not None
    assert kept.carbonate.value - before.carbonate.value == pytest.approx(10, rel=0.02)


def test_it_is_in_the_file_and_a_file_without_it_opens() -> None:
    """The plan comes back as it was; one that knows of no carbonate opens as before."""
    day = made("wool")
    begun = carried(day, A_NIGHT)
    session = followed(begun, later(day, A_NIGHT)).session
    written = encode(session)
    assert b'"carbonate"' in written
    assert decode(written).session == session


def test_a_kept_vat_of_an_older_file_has_the_carbonate_of_the_tap() -> None:
    """A plan that knows of none stands in her water: it reads as it was written, and its alkali stays the same."""
    day = made("wool")
    begun = carried(day, A_NIGHT)
    assert begun.plan.kept is not None
    older = evolve(begun.plan, kept=evolve(begun.plan.kept, carbonate=None, salts=None))
    session = followed(evolve(begun, plan=older), later(day, A_NIGHT)).session
    written = encode(session)
    assert b'"salts":' not in written
    assert decode(written).session == session
    assert kept_bath(older).carbonate == pytest.approx(in_tub(older).litres * 5.0 * 1.06 / 1000, rel=1e-3)
    assert -lye_held(kept_bath(older)) == pytest.approx(in_tub(older).alkali_g, abs=0.1)
