"""What a dip does to the account of the vat."""

from __future__ import annotations

from itertools import pairwise

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.plans import plan_with

from vatside.chemistry.ageing import saturation
from vatside.chemistry.liquor import solve
from vatside.chemistry.substances import substance
from vatside.dips.lot import law_for
from vatside.dips.own_results import MORE, OnPiece
from vatside.dips.uptake import Law
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute
from vatside.vat.account import Account, free_alkali_g, planned_account, predict
from vatside.vat.account_changes import dip

LAW = Law(carried=1.4, pull=2.05, half=0.25, ceiling=55, rinsed=0.15)


def fresh(plan: Plan | None = None) -> Account:
    """Give the account of a plan's vat, just made."""
    plan = plan or plan_with()
    return planned_account(plan, compute(plan))


@examples(40)
@given(st.floats(1, 2000), st.floats(0.1, 2.5), st.floats(0, 4), st.floats(0.4, 2.5), st.integers(1, 8))
def test_indigotin_is_in_the_vat_or_on_the_piece(
    grams: float, carried: float, pull: float, factor: float, dips: int
) -> None:
    """After any number of dips vat, fibre and rinses hold what the vat held at first."""
    account, on = fresh(), OnPiece()
    start = account.indigotin_g
    for _ in range(dips):
        account, on = dip(account, on, Law(carried, pull, 0.25, 55, 0.15, factor), grams, 20, factor)
    assert account.indigotin_g + on.stays + on.goes == pytest.approx(start, rel=1e-9)
    assert account.indigotin_g >= 0


@examples(40)
@given(st.floats(1, 2000), st.floats(0.1, 2.5), st.integers(1, 6))
def test_the_vat_stays_as_full_as_it_was(grams: float, carried: float, dips: int) -> None:
    """A piece carries out what it brought in: the mass of water is the same after every dip."""
    account, on = fresh(), OnPiece()
    account, on = dip(account, on, evolve(LAW, carried=carried), grams, 20)
    water = account.bath.water_kg
    for _ in range(dips):
        account, on = dip(account, on, evolve(LAW, carried=carried), grams, 20)
    assert account.bath.water_kg == pytest.approx(water, rel=0.01)


def test_sodium_goes_round() -> None:
    """What alkali the piece carries out it brings back: vat and piece together keep their sodium."""
    account, on = fresh(), OnPiece()
    start = account.bath.sodium
    for _ in range(5):
        account, on = dip(account, on, LAW, 500, 20)
    assert on.liquor is not None
    assert account.bath.sodium + on.liquor.sodium == pytest.approx(start)


def test_alkali_falls_with_the_dips() -> None:
    """Less alkali is free in the vat after each dip."""
    account, on = fresh(), OnPiece()
    free = [free_alkali_g(account)]
    for _ in range(4):
        account, on = dip(account, on, LAW, 500, 20)
        free.append(free_alkali_g(account))
    assert all(later < earlier for earlier, later in pairwise(free))


def test_oxygen_takes_reducer_by_hand() -> None:
    """0.5 kg brings 0.7 L with 9.1 mg/L: 6.4 mg of oxygen take 6.4 x 108.12 / 32.00 = 21.5 mg of the reducer.

    The vat then holds that much less, and less what the piece carries out.
    """
    account = fresh()
    before = account.bath.thiourea_dioxide * substance("thiourea dioxide").molar_mass
    after, _ = dip(account, OnPiece(), LAW, 500, 20)
    left = after.bath.thiourea_dioxide * substance("thiourea dioxide").molar_mass
    litres = account.litres + 0.7
    oxygen_g = 0.7 * saturation(20) / 1000
    assert oxygen_g == pytest.approx(0.0064, abs=0.0001)
    assert left == pytest.approx((before - oxygen_g * 108.12 / 32.00) * (1 - 0.7 / litres), rel=0.002)


def test_a_cold_piece_cools_the_vat_by_mixing() -> None:
    """0.7 L at 20 °C into 20 L at 47 °C: 47 - 27 x 0.7 / 20.9 = 46.1 °C."""
    account = fresh()
    after, _ = dip(account, OnPiece(), LAW, 500, 20)
    litres = account.litres
    assert after.celsius == pytest.approx(account.celsius - (account.celsius - 20) * 0.7 / (litres + 0.7), abs=0.05)


def test_a_vat_without_reducer_lays_on_specks() -> None:
    """Unreduced dye that the piece carries out stays on nothing: it goes with the rinses."""
    account = fresh()
    bath = account.bath
    blue = evolve(account, bath=evolve(bath, indigotin=bath.indigotin + bath.leuco, leuco=0.0, thiourea_dioxide=0.0))
    _, on = dip(blue, OnPiece(), LAW, 500, 20)
    assert on.stays == 0
    assert on.goes > 0


def test_the_quick_figure_agrees_with_the_account() -> None:
    """All dips of two skeins, dip by dip through the account, come to what the sheet says, within two percent.

    The account mixes the water that the pieces bring into the vat before it lays on, the sheet does not.
    """
    plan = plan_with()
    sheet = compute(plan)
    account, pieces = planned_account(plan, sheet), [OnPiece(), OnPiece()]
    grams = sheet["dip.a.piece"].value
    law = law_for(plan, plan.lots[0], sheet["dip.a.dip"].value)
    for _ in range(round(sheet["dip.a.dips"].value)):
        for number in (0, 1):
            account, pieces[number] = dip(account, pieces[number], law, grams, 20)
    mean = sum(piece.depth(grams) for piece in pieces) / 2
    assert mean == pytest.approx(sheet["dip.a.reaches"].value, rel=0.02)
    assert account.strength == pytest.approx(sheet["dip.left_strength"].value, rel=0.05)


def test_what_the_table_gives_is_kept_beside_what_the_dyer_takes() -> None:
    """A fibre held at 1.5 times the table: the same dips by the table alone lay on two thirds, a tenth more with 1.1.

    By hand, one dip of 100 g in 20 L: x is small, so that what goes on follows the factor to one percent.
    """
    _, on = dip(fresh(), OnPiece(), LAW.times(1.5), 100, 20, 1.5)
    assert on.by_table == pytest.approx(on.laid / 1.5, rel=0.01)
    assert on.by_more == pytest.approx(MORE * on.by_table, rel=0.01)


def test_fibre_hangs_above_the_lime_and_takes_none_of_it() -> None:
    """Of lime that lies at the bottom a piece carries nothing out: what dissolves goes along, the rest stays."""
    account, on = fresh(plan_with(None, method="zinc-lime", lots__a__fibre="cotton", vat__alkali="300 g")), OnPiece()
    before = predict(account).undissolved_lime_g
    assert before > 200
    account, on = dip(account, on, LAW, 500, 20)
    assert on.liquor is not None
    assert solve(on.liquor).undissolved_lime_g == pytest.approx(0, abs=0.05)
    assert predict(account).undissolved_lime_g == pytest.approx(before, abs=1.5)  # the water it brought dissolves some
