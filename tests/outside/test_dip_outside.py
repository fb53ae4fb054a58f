"""Dips, depths and finish against published figures, within their own precision."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_with

from vatside.catalogue.dyeing import shades, usual_for
from vatside.catalogue.load import fibres
from vatside.chemistry.colour import delta_e_76, difference_of, grade
from vatside.chemistry.shade import colour_of
from vatside.dips.depth import depth_name
from vatside.dips.uptake import law_of, pull_share
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute


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
        """Three ounces of sulphuric acid in ten gallons are 38 meq/L; vinegar or citric acid bring a fifth at most.

        By hand: in hard water, of 5 meq/L, 7.6 mL of 5 % vinegar a litre are 6.4 meq, 0.35 g of citric acid 5.4 meq.
        """
        sheet = sheet_of(finish__wool__water="1 L", water__tap="hard", water__room="20 °C")
        vinegar_meq = sheet["finish.wool.vinegar"].value * 1000 * 0.05 / 60.05 * 1000
        citric_meq = 3 * sheet["finish.wool.citric"].value * 0.995 / 192.12 * 1000
        assert vinegar_meq == pytest.approx(6.4, abs=0.2)
        assert citric_meq == pytest.approx(5.4, abs=0.2)
        assert all(5 <= meq <= 38 / 5 for meq in (vinegar_meq, citric_meq))


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


def test_fifty_grams_dye_seven_hundred() -> None:
    """50 g of powder of 40 % dye about 700 g of cotton to 2 % with a yield of 70 %."""
    sheet = sheet_of(lots__a__fibre="cotton", lots__a__depth="2 %", stock__pigment="50 g", vessels__tub__volume="60 L")
    assert sheet["vat.dyes.a"].value == pytest.approx(700, rel=0.02)


def half_hours(strength: float, dips: int) -> float:
    """Give what half an hour in a large vat comes to on wool, so many times, %."""
    law, on = law_of(fibres()["wool"], 30, "sodium dithionite"), 0.0
    for _ in range(dips):
        on += law.stays(strength, on)
    return on / 10


@pytest.mark.parametrize(
    ("strength", "once", "six_times"),
    [
        pytest.param(0.14, {"very pale"}, {"light", "medium"}, id="Mairet, a cupful of stock in ten gallons: pale"),
        pytest.param(0.907, {"light"}, {"full", "dark"}, id="Knecht, Rawson & Loewenthal: a strong vat for wool"),
    ],
)
def test_half_an_hour_in_the_old_wool_vats(strength: float, once: set[str], six_times: set[str]) -> None:
    """Half an hour a piece: the blues by which these vats are called come by several dips, at the high end.

    By hand, wool: f = 1 - e^-sqrt 30 = 0.996. 0.14 g/L: 0.85 x (0.21 + 3 x 0.359 x 0.996) = 1.09 g/kg, 0.11 %; six of
    them 60 x (1 - 0.9818^6) = 6.2 g/kg. 0.907 g/L: 0.85 x (1.361 + 2.342) = 3.15 g/kg, 0.31 %; six of them 1.7 %. What
    counts as such a blue is common practice, no source; the vats and the half hour are published, no depth is.
    """
    assert depth_name(half_hours(strength, 1)) in once
    assert depth_name(half_hours(strength, 6)) in six_times
    assert half_hours(0.14, 1) == pytest.approx(0.109, abs=0.002)
    assert half_hours(0.907, 6) == pytest.approx(1.66, abs=0.03)


def test_a_light_blue_comes_in_seconds_by_half() -> None:
    """Mairet 1916: on wool a light blue is obtained in a few seconds, darker blues take longer.

    Half a minute brings half of what a long dip does by itself: 1 - e^-sqrt 0.5 = 0.51.
    """
    assert pull_share(0.5, 1.0) == pytest.approx(0.507, abs=1e-3)
    assert pull_share(30, 1.0) < 1


@pytest.mark.parametrize(
    ("strength", "depths"),
    [
        pytest.param((1.0, 3.0), (1.0, 3.0), id="Şahin et al. 2004: industry dyes at 1 to 3 g/L"),
        pytest.param((0.8, 2.44), (2.0,), id="Packer: 2.0 to 6.1 g of powder of 40 % a litre for dark cotton"),
        pytest.param((0.907, 1.56), (1.0, 1.5), id="Knecht 0.907, Mairet 1.25 and 1.56 g/L: strong vats for wool"),
    ],
)
def test_usual_strengths_are_those_of_print(strength: tuple[float, float], depths: tuple[float, ...]) -> None:
    """What the practice table takes for a depth lies between the strengths that are published for such a blue."""
    low, high = strength
    assert all(low <= usual_for(depth).strength <= high for depth in depths)


def test_a_sugar_vat_reaches_the_depth_with_more_dips() -> None:
    """Colourage 52(6) (2005): sugar and lime give 25 to 30 % less uptake, so that the same depth takes more dips."""
    hydro, sugar = (sheet_of(method=method, dip__a__dip="5 min", vat__fill="8 L", stock__pigment="12 g") for method in
                    ("dithionite-lye", "fructose-lime"))  # fmt: skip
    assert sugar["dip.a.dips"].value > hydro["dip.a.dips"].value
