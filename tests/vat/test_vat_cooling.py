"""How fast a vat cools, by its own readings, and what warms it."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.vat.vats import vat_with

from vatside.recipe.cooling import Cooling, TimedReading, cooling, leaves, says_when, usual
from vatside.units import Amount
from vatside.vat.account import warmed
from vatside.vat.corrections import corrections
from vatside.vat.diagnosis import judge
from vatside.vat.dosing import warming
from vatside.vat.reading import Reading

TWO = (TimedReading(0, 50), TimedReading(30, 44))


def test_rate_from_two_readings() -> None:
    """50 then 44 after half an hour in air at 20: ln(30/24)/30 = 0.00744 a minute, sure to 12 %."""
    found = cooling(TWO, 20)
    assert found is not None
    assert found.per_minute == pytest.approx(0.007438, rel=1e-3)
    assert found.error == pytest.approx(0.12, abs=0.005)
    assert found.at(60) == pytest.approx(20 + 24 * 24 / 30, abs=0.01)


def test_when_it_leaves_its_window() -> None:
    """From 44 to 40 at that rate: ln(24/20)/0.00744 = 24.5 min, 22 to 28 by the error."""
    found = cooling(TWO, 20)
    assert found is not None
    left = leaves(found, 40)
    assert left is not None
    assert left.minutes == pytest.approx(24.5, abs=0.1)
    assert left.soonest == pytest.approx(24.5 / 1.12, abs=0.2)
    assert left.latest == pytest.approx(24.5 / 0.88, abs=0.3)
    assert "about 25 min" in says_when(found, 40, "wool")


def test_what_is_not_known_of_its_warmth_counts_from_both_ends() -> None:
    """Perhaps at 42, perhaps at 46: ln(22/20) ÷ (1.12 × 0.00744) = 11 min, ln(26/20) ÷ (0.88 × 0.00744) = 40 min."""
    found = cooling(TWO, 20)
    assert found is not None
    left = leaves(evolve(found, colder=2, warmer=2), 40)
    assert left is not None
    assert left.minutes == pytest.approx(24.5, abs=0.1)
    assert left.soonest == pytest.approx(11.4, abs=0.2)
    assert left.latest == pytest.approx(40.1, abs=0.3)


def test_it_may_be_below_by_now() -> None:
    """At 44, perhaps at 39: that may be so now, and the words say so."""
    found = cooling(TWO, 20)
    assert found is not None
    assert "about 25 min (now to" in says_when(evolve(found, colder=5), 40, "wool")


def test_below_already() -> None:
    """A vat below the window has left it."""
    found = cooling(TWO, 20)
    assert found is not None
    assert says_when(found, 45, "wool") == "It is below the 45 °C that wool wants."


def test_a_warm_room_keeps_it() -> None:
    """A limit at or below the room is never reached."""
    found = cooling(TWO, 20)
    assert found is not None
    assert leaves(found, 20) is None
    assert "stays above 15 °C" in says_when(found, 15, "cotton")


@pytest.mark.parametrize(
    "readings",
    [
        (), TWO[:1], (TimedReading(0, 45), TimedReading(10, 44.6)), (TimedReading(0, 40), TimedReading(10, 47)),
        (TimedReading(0, 45), TimedReading(2, 44)), (TimedReading(0, 45), TimedReading(29, 42.1)),
        (TimedReading(0, 25), TimedReading(60, 19)), (TimedReading(5, 45), TimedReading(5, 40)),
    ],
)  # fmt: skip
def test_readings_that_tell_nothing(readings: tuple[TimedReading, ...]) -> None:
    """Too few, too close, heated between, through the room's temperature, or at one moment: no rate."""
    assert cooling(readings, 20) is None


@pytest.mark.parametrize("last", [TimedReading(10, 42), TimedReading(30, 44)])
def test_readings_that_tell_enough(last: TimedReading) -> None:
    """Three degrees in ten minutes, or half an hour, is more than a kitchen thermometer errs by."""
    assert cooling((TimedReading(0, 45), last), 20) is not None


def test_the_usual_cooling_of_a_tub() -> None:
    """20 L lose 17 % of their warmth an hour, 160 L half of that; from 50 °C in a room of 20: 30 × (1 − e^−0.17)."""
    found = usual(TimedReading(0, 50), 20, 20)
    assert found is not None
    assert found.per_minute == pytest.approx(0.17 / 60)
    large = usual(TimedReading(0, 50), 160, 20)
    assert large is not None
    assert large.per_minute == pytest.approx(0.085 / 60)
    assert "A tub of 20 L usually loses about 4.7 °C an hour (±50 %)" in says_when(found, 40, "wool")


def test_no_usual_cooling_at_the_warmth_of_the_room() -> None:
    """A vat as cool as its room loses nothing."""
    assert usual(TimedReading(0, 20), 20, 20) is None


def test_heating_starts_a_new_stretch() -> None:
    """What lies before the vat was warmed does not count."""
    readings = (TimedReading(0, 50), TimedReading(20, 40), TimedReading(40, 50), TimedReading(70, 44))
    found = cooling(readings, 20)
    assert found is not None
    assert found.per_minute == pytest.approx(0.007438, rel=1e-3)


def test_order_does_not_matter() -> None:
    """Readings may come in any order."""
    assert cooling(TWO[::-1], 20) == cooling(TWO, 20)


def test_hot_water_for_ten_degrees() -> None:
    """Twenty litres from 40 to 47 °C with water of 95: 20.2 × 7 / 48 = 2.9 L; the vat keeps 87 % of its strength."""
    vat = vat_with()
    found = warming(warmed(vat.account, 40), vat.plan, 47)
    assert found is not None
    assert found.fits
    assert found.hot_l == pytest.approx(vat.account.litres * 7 / 48, rel=0.03)
    assert found.strength == pytest.approx(1 / (1 + 7 / 48), abs=0.01)
    # 20.2 L × 4.18 kJ × 7 K ÷ 1.5 kW ÷ 60 s
    assert found.hob_min == pytest.approx(20.2 * 4.18 * 7 / 1.5 / 60, rel=0.03)


def test_a_full_tub_takes_its_hot_water_in_exchange() -> None:
    """With 25 degrees to gain the tub runs over: liquor comes out first, 25/73 of it."""
    vat = vat_with()
    found = warming(warmed(vat.account, 22), vat.plan, 47)
    assert found is not None
    assert not found.fits
    assert found.hot_l / vat.account.litres == pytest.approx(25 / 73, abs=0.02)
    assert found.strength == pytest.approx(1 - 25 / 73, abs=0.02)
    assert "out" in found.text


def test_a_warm_vat_needs_no_warming() -> None:
    """At its temperature nothing is to be done."""
    vat = vat_with()
    assert warming(vat.account, vat.plan, vat.account.celsius) is None


def test_two_readings_a_minute_apart_tell_nothing() -> None:
    """Five degrees in a minute is the thermometer being moved, not 200 degrees an hour; ten minutes apart they tell."""
    assert cooling([TimedReading(0, 45), TimedReading(1, 40)], 20) is None
    assert cooling([TimedReading(0, 45), TimedReading(9, 41)], 20) is None
    assert cooling([TimedReading(0, 45), TimedReading(10, 41)], 20) is not None


@pytest.mark.parametrize(("per_minute", "warm"), [(0.0029, 47), (0.0033, 49), (0.00744, 49)])
def test_a_small_tub_is_warmed_for_its_wait(per_minute: float, warm: float) -> None:
    """Newton: 27 K above the room fall in 25 min to 25.1, 24.9 or 22.4 K, and wool wants 25.

    So the last two would be too cold again when they are looked at; a day's own warming ends 1 K below the warmest.
    """
    vat = vat_with(Reading(temperature=Amount(41, "degC")))
    vat = evolve(vat, cooling=Cooling(per_minute, 0.1, 20, TimedReading(0, 41)))
    found = next(item for item in judge(vat.reading, vat.setting) if item.id == "too-cold")
    (way,) = corrections(found, vat)
    assert way.celsius == pytest.approx(warm)
    assert f"{warm} °C" in way.text
