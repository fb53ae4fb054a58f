"""What time does to a vat, against the published lives and fluxes that the rates come from."""

from __future__ import annotations

from math import exp, log

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry import ageing
from vatside.chemistry.ageing import Standing, falling_apart, left_after, oxygen_through_surface, wear
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.rates import Estimate

TUB = Standing(litres=20, pH=9.3, from_C=47, air_C=18, cooling=0.004, surface_m2=0.0707, lid=False)


@pytest.mark.parametrize(
    ("t_C", "days"),
    # half-lives worked by hand from 26.5 kcal/mol and 4.5e-3 a minute at 88.5 degrees C
    [(25, 275), (40, 32), (50, 8.7), (60, 2.5)],
)
def test_dithionite_in_lye(t_C: float, days: float) -> None:
    """Half of it is gone after so many days without air."""
    rate = falling_apart("sodium dithionite", t_C, 11)
    assert log(2) / rate.likely / 24 == pytest.approx(days, rel=0.04)
    assert rate.low < rate.likely < rate.high


def test_dithionite_lasts_a_hundred_days_at_room_temperature() -> None:
    """Published: over 100 days at pH 9.5; the fast end of the band has e-folded just then."""
    assert 24 * 100 * falling_apart("sodium dithionite", 25, 9.5).high == pytest.approx(1.0, abs=0.05)


@pytest.mark.parametrize(("pH", "share"), [(7.0, 0.067), (6.0, 0.21)])
def test_dithionite_in_a_vat_turned_acid(pH: float, share: float) -> None:
    """Worked by hand for 5 mmol/L at 47 degrees C: 1.3e8 exp(-12000 / 1.987 T) sqrt(H) sqrt(S2O4), for an hour."""
    rate = falling_apart("sodium dithionite", 47, pH, 0.005 * 174.1068)
    assert rate.likely == pytest.approx(share, rel=0.04)


@pytest.mark.parametrize(("pH", "t_C", "hours"), [(9, 50, 10), (10, 50, 5), (12, 50, 1), (9, 40, 25), (8, 50, 20)])
def test_thiourea_dioxide_is_a_guess_with_a_band(pH: float, t_C: float, hours: float) -> None:
    """Half-lives as guessed, a third to three times."""
    rate = falling_apart("thiourea dioxide", t_C, pH)
    assert log(2) / rate.likely == pytest.approx(hours)
    assert (rate.low, rate.high) == pytest.approx((rate.likely / 3, rate.likely * 3))


@given(st.floats(0, 100), st.floats(0, 13.9), st.sampled_from(["thiourea dioxide", "sodium dithionite"]))
def test_warmer_is_faster(t_C: float, pH: float, name: str) -> None:
    """No reducer lasts longer in a warmer vat, and every band is a band."""
    warmer, rate = falling_apart(name, min(t_C + 5, 100), pH), falling_apart(name, t_C, pH)
    assert rate.likely <= warmer.likely
    assert 0 <= rate.low <= rate.likely <= rate.high


def test_oxygen_through_a_still_surface() -> None:
    """Worked by hand: 0.17 and 2.07 cm/h of 5.75 mg/L at 47 degrees C are 10 and 119 mg a square metre and hour."""
    flux = oxygen_through_surface(1.0, 47)
    assert flux.low == pytest.approx(9.8, abs=0.2)
    assert flux.high == pytest.approx(119, abs=2)
    lidded = oxygen_through_surface(1.0, 47, lid=True)
    assert (lidded.low, lidded.high) == pytest.approx((flux.low / 10, flux.high / 2))
    assert oxygen_through_surface(1.0, 47, stirred=True).likely == pytest.approx(5 * flux.likely)


@pytest.mark.parametrize(("name", "low", "high"), [("thiourea dioxide", 2, 57), ("sodium dithionite", 4, 78)])
def test_what_air_takes_in_an_hour_from_a_round_tub(name: str, low: float, high: float) -> None:
    """Worked by hand for a tub 30 cm across at 47 degrees C, mg an hour."""
    taken = ageing.reducer_for_oxygen(name, oxygen_through_surface(0.0707, 47))
    assert 1000 * taken.low == pytest.approx(low, rel=0.25)
    assert 1000 * taken.high == pytest.approx(high, rel=0.03)


def test_other_reducers() -> None:
    """Copperas is counted by theory, four irons an oxygen."""
    copperas = ageing.reducer_for_oxygen("ferrous sulfate heptahydrate", Estimate(32, 32, 32))
    assert copperas.low == copperas.high == pytest.approx(4 * 0.278, rel=0.01)
    assert falling_apart("ferrous sulfate heptahydrate", 50, 12) == Estimate(0, 0, 0)


def test_zinc_goes_on_giving_hydrogen_for_days_and_is_not_gone_in_a_day() -> None:
    """By Faraday's law, from memory: 0.5 µA on each of 1700 cm² of a gram of dust that lime has coated, and 10 bare."""
    coated, bare = (amps * 1700 / (2 * 96485) * 65.38 * 3600 for amps in (0.5e-6, 10e-6))
    share = falling_apart("zinc", 20, 12.6)
    assert share.likely == pytest.approx(coated, rel=0.5)
    assert share.low < coated < share.high < bare < 24 * share.high


@given(st.floats(0, 50), st.floats(0, 100), st.floats(0, 2), st.floats(0, 1))
def test_what_is_left(grams: float, hours: float, share: float, oxygen: float) -> None:
    """Never more than there was, never less than nothing, and less the longer it stands."""
    left = left_after(grams, hours, share, oxygen)
    assert 0 <= left <= grams * (1 + 1e-9)
    assert left_after(grams, hours + 1, share, oxygen) <= left * (1 + 1e-9)


def test_what_is_left_worked_by_hand() -> None:
    """4 g, a tenth an hour and 0.02 g/h to the air, 8 h: (4 + 0.2) e^-0.8 - 0.2; without falling apart 4 - 0.16."""
    assert left_after(4, 8, 0.1, 0.02) == pytest.approx(4.2 * exp(-0.8) - 0.2)
    assert left_after(4, 8, 0, 0.02) == pytest.approx(3.84)


def left(grams: float, hours: float, vat: Standing) -> Estimate:
    """What is left of thiourea dioxide of which so much was there for sure."""
    return wear("thiourea dioxide", Estimate(grams, grams, grams), hours, vat).left


def test_a_night_in_a_cooling_tub() -> None:
    """Cooling saves reducer, a lid saves more, and each band holds its middle."""
    warm, cooling, lidded = (left(3.4, 10, vat) for vat in (evolve(TUB, cooling=0.0), TUB, evolve(TUB, lid=True)))
    assert warm.likely < cooling.likely < lidded.likely < 3.4
    for found in (warm, cooling, lidded):
        assert found.low <= found.likely <= found.high


def test_the_pieces_are_small_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """Cut ten times finer the answer moves by less than 1 %."""
    coarse = left(3.4, 12, TUB)
    monkeypatch.setattr(ageing, "STEPS", 240)
    monkeypatch.setattr(ageing, "PIECE_H", 0.05)
    fine = left(3.4, 12, TUB)
    assert coarse.likely == pytest.approx(fine.likely, rel=0.01)


@pytest.mark.parametrize(
    "ask",
    [
        lambda: falling_apart("sugar", 40, 10),
        lambda: falling_apart("thiourea dioxide", 120, 10),
        lambda: falling_apart("thiourea dioxide", 40, 15),
        lambda: oxygen_through_surface(-1, 40),
        lambda: left_after(1, -1, 0, 0),
        lambda: left(-1, 1, TUB),
    ],
)
def test_what_cannot_be(ask: object) -> None:
    """Strangers, steam and less than nothing are refused."""
    with pytest.raises(OutOfRange):
        ask()  # type: ignore[operator]


def test_bran_turns_to_acid_over_days() -> None:
    """A guess that fits a vat which reduces from the fourth day to the fourteenth: half of it in three days, warm."""
    warm, cold, caustic = (falling_apart("fermentable starch", *at) for at in ((35, 10), (25, 10), (35, 11.5)))
    assert exp(-warm.likely * 72) == pytest.approx(0.5, abs=0.01)
    assert cold.likely == pytest.approx(warm.likely / 2.5, rel=0.01)
    assert caustic.likely < warm.likely / 3
    assert warm.low < warm.likely < warm.high
