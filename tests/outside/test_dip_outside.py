"""Dips, depths and finish against published figures, within their own precision."""

from __future__ import annotations

import pytest
from tests.recipe.plans import plan_with

from vatside.catalogue.dyeing import dipping_for, shades, uptakes
from vatside.chemistry.difference import delta_e_76, difference_of, grade
from vatside.chemistry.shade import colour_of
from vatside.recipe.compute import compute
from vatside.recipe.depth import depth_name
from vatside.recipe.sheet import Sheet
from vatside.recipe.uptake import Take, Tank, dip_until


def sheet_of(**changes: str) -> Sheet:
    """Work out the starter plan with some fields set."""
    return compute(plan_with(**changes))


class TestMairet:
    """Mairet E.M., Vegetable Dyes (Faber, 1938 reprint)."""

    def test_air_for_as_long_as_dipped(self) -> None:
        """Half an hour in the vat asks for half an hour in the air, whatever the depth."""
        for depth in ("0.1 %", "1 %", "4 %"):
            assert sheet_of(lots__a__depth=depth, dip__a__dip="30 min")["dip.a.air"].value == 30

    def test_the_vat_rests_an_hour_after_three(self) -> None:
        """Three hours of work, one of rest."""
        sheet = sheet_of()
        assert (sheet["dip.rest_after"].value, sheet["dip.rest"].value) == (180, 60)

    def test_the_studio_sour_is_weaker_than_hers(self) -> None:
        """Three ounces of sulphuric acid in ten gallons are 38 meq/L; vinegar or citric acid bring about half of it.

        By hand: 20 mL of 5 % vinegar a litre are 16.7 meq, 1.5 g of citric acid 23.4 meq.
        """
        sheet = sheet_of(finish__wool__water="1 L")
        vinegar_meq = sheet["finish.wool.vinegar"].value * 1000 * 0.05 / 60.05 * 1000
        citric_meq = 3 * sheet["finish.wool.citric"].value * 0.995 / 192.12 * 1000
        assert vinegar_meq == pytest.approx(16.7, abs=0.1)
        assert citric_meq == pytest.approx(23.4, abs=0.1)
        assert all(38 / 3 <= meq <= 38 * 3 / 4 for meq in (vinegar_meq, citric_meq))


def test_laboratory_repeats_grade_well() -> None:
    """Son, Shin & Yoo 2010: repeats of indigo on wool lay 0.41 to 1.43 apart, which grades 4 or better."""
    assert grade(0.41) >= 4.5
    assert grade(1.43) >= 4
    assert difference_of(4) > 1.43


def test_fifteen_dips_go_from_white_to_near_black() -> None:
    """Wang H.-C. et al.: cotton dipped fifteen times, 60 to 90 s each, lay 69 to 73 from the undyed.

    On the estimated ladder for cellulose so great a difference belongs to 3 to 7 %: very dark to near black.
    """
    cotton = shades()["cellulose"]
    white = colour_of(0, cotton)
    assert delta_e_76(white, colour_of(3, cotton)) < 69
    assert delta_e_76(white, colour_of(7, cotton)) > 72


def test_a_strong_vat_in_six_dips() -> None:
    """The trade's example of the model: from 2 g/L, with 1.2 L/kg carried and 1 taken, six dips give about 2 %.

    In 25 L a kilogram, the strength falling, without the loss in the rinses.
    """
    end = dip_until(Tank(25, 2.0), 1, 1.0, Take(1.2, 1.0, 5, 0.0), 2.0, 6)
    assert end.depth == pytest.approx(2.0, rel=0.1)


def test_fifty_grams_dye_seven_hundred() -> None:
    """50 g of powder of 40 % dye about 700 g of cotton to 2 % with a yield of 70 %."""
    sheet = sheet_of(lots__a__fibre="cotton", lots__a__depth="2 %", stock__pigment="50 g", vessels__tub__volume="60 L")
    assert sheet["vat.dyes.a"].value == pytest.approx(700, rel=0.02)


@pytest.mark.parametrize(("depth", "low", "high"), [(0.35, 0.1, 0.5), (0.8, 0.5, 1.5), (2.2, 1.5, 4.5)])
def test_the_usual_dips_in_the_usual_vat(depth: float, low: float, high: float) -> None:
    """Common practice: light, medium and dark come about in their usual dips, in a vat kept at its strength."""
    usual = dipping_for(depth)
    take = Take(1.4, 1.0, usual.dip.value, 0.15)
    end = dip_until(Tank(1e6, usual.strength.value), 1, 0.1, take, depth, round(usual.dips.value))
    assert low <= end.depth <= high


@pytest.mark.parametrize(
    ("strength", "names"),
    [
        pytest.param(0.14, {"very pale", "pale", "light"}, id="Mairet, a cupful of stock in ten gallons: a pale vat"),
        pytest.param(0.907, {"medium", "full"}, id="Knecht, Rawson & Loewenthal: a strong vat for wool"),
    ],
)
def test_half_an_hour_in_the_old_wool_vats(strength: float, names: set[str]) -> None:
    """Half an hour a piece: the starting value for wool gives in one dip the blue by which the vat is called.

    What counts as such a blue is common practice, no source; the vats and the half hour are published.
    """
    wool = uptakes()["protein"]
    take = Take(1.5, wool.takes.value, 30, wool.rinsed.value / 100)
    end = dip_until(Tank(1e6, strength), 1, 0.1, take, 10, 1)
    assert depth_name(end.depth) in names
