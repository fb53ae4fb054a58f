"""Mixing, heating, cooling and lye: balances worked by hand, and the refusals."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry import heat
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.chemistry.water import enthalpy


def test_equal_waters_mix_half_way() -> None:
    """Equal masses at 20 and 60 degrees C come to 40, but for the heat capacity's small change."""
    assert heat.mix_temperature(((1, 20), (1, 60))) == pytest.approx(40, abs=0.05)


def test_water_of_one_temperature_stays_there() -> None:
    """Mixing like with like changes nothing."""
    assert heat.mix_temperature(((3, 37), (0.2, 37), (0, 90))) == pytest.approx(37, abs=1e-6)


@pytest.mark.parametrize("parts", [(), ((0, 20),), ((-1, 20), (3, 50))])
def test_there_must_be_water_to_mix(parts: tuple[tuple[float, float], ...]) -> None:
    """No water, or less than none, cannot be mixed."""
    with pytest.raises(OutOfRange, match="mass of water"):
        heat.mix_temperature(parts)


@given(cold_C=st.floats(0, 40), above=st.floats(1, 55), share=st.floats(0, 1), litres=st.floats(0.1, 500))
def test_what_is_drawn_comes_to_the_target(cold_C: float, above: float, share: float, litres: float) -> None:
    """Hot and cold water drawn as told and mixed have the temperature and the volume wanted."""
    hot_C = cold_C + above
    target_C = cold_C + share * above
    split = heat.hot_cold_split(litres, target_C, hot_C, cold_C)
    kg = (heat.water_mass(split.hot_l, hot_C), heat.water_mass(split.cold_l, cold_C))
    assert heat.mix_temperature(((kg[0], hot_C), (kg[1], cold_C))) == pytest.approx(target_C, abs=1e-6)
    assert heat.water_volume(sum(kg), target_C) == pytest.approx(litres)


@pytest.mark.parametrize(
    ("target_C", "hot_C", "cold_C", "words"),
    [
        (70, 60, 12, "70 °C is hotter than the hot tap (60 °C)"),
        (5, 60, 12, "5 °C is colder than the cold tap (12 °C)"),
        (20, 12, 60, "The hot tap (12 °C) is cooler than the cold one (60 °C)"),
    ],
)
def test_taps_have_limits(target_C: float, hot_C: float, cold_C: float, words: str) -> None:
    """A temperature outside what the taps give is refused in words."""
    with pytest.raises(CannotReach) as refusal:
        heat.hot_cold_split(20, target_C, hot_C, cold_C)
    assert words in str(refusal.value)


def test_beyond_the_hot_tap_the_hob_helps() -> None:
    """Above the hot tap all is drawn hot, and the heat that is short is what the hob then brings."""
    split = heat.split_with_heating(20, 70, 55, 12)
    assert split.cold_l == 0
    assert split.minutes(2) == pytest.approx(heat.heating_minutes(split.hot_l, 55, 70, 2))


def test_below_the_cold_tap_heat_must_go() -> None:
    """Below the cold tap all is drawn cold, with heat to lose and nothing for the hob."""
    split = heat.split_with_heating(20, 5, 55, 12)
    assert split.hot_l == 0
    assert split.short_kj < 0
    assert split.minutes(2) == 0


def test_inside_the_taps_nothing_is_short() -> None:
    """Between cold and hot no heating is needed."""
    assert heat.split_with_heating(20, 45, 60, 12) == heat.hot_cold_split(20, 45, 60, 12)


def test_one_kilowatt_heats_ten_litres_by_1_4_kelvin_a_minute() -> None:
    """Hand-worked: 60 s x 1 kW / (10 kg x 4.18 kJ/(kg K)) = 1.43 K a minute."""
    assert 10 / heat.heating_minutes(10, 20, 30, 1) == pytest.approx(60 / 41.8, rel=3e-3)


@pytest.mark.parametrize(("from_C", "to_C", "kw"), [(50, 40, 2), (20, 30, 0), (20, 30, -1), (20, 120, 2)])
def test_heating_that_cannot_be(from_C: float, to_C: float, kw: float) -> None:
    """Heating downwards, without power or past boiling is refused."""
    with pytest.raises(OutOfRange):
        heat.heating_minutes(10, from_C, to_C, kw)


def test_hot_water_added() -> None:
    """What is added mixes with what is there to the temperature wanted."""
    litres = heat.hot_water_to_add(15, 42, 48, 90)
    kg = ((heat.water_mass(15, 42), 42), (heat.water_mass(litres, 90), 90))
    assert heat.mix_temperature(kg) == pytest.approx(48, abs=1e-6)


def test_no_hot_water_for_a_bath_that_is_warm_enough() -> None:
    """Nothing is added to a bath at or above the target."""
    assert heat.hot_water_to_add(15, 50, 48, 90) == 0


def test_lukewarm_water_heats_nothing() -> None:
    """Water no hotter than the target cannot reach it."""
    with pytest.raises(CannotReach, match="Water at 48 °C cannot bring anything to 48 °C"):
        heat.hot_water_to_add(15, 42, 48, 48)


def test_fifty_grams_of_lye_in_two_litres() -> None:
    """Hand-worked: 50/39.997 x 44.51 kJ / (1.994 kg x 4.18 kJ/(kg K)) = 6.68 K."""
    assert heat.lye_rise(50, 2, 25) == pytest.approx(50 / 39.997 * 44.51 / (1.994 * 4.18), rel=2e-3)


@given(lye=st.floats(0, 60), litres=st.floats(1, 20), ceiling_C=st.floats(30, 60))
def test_the_warmest_start_just_reaches_the_ceiling(lye: float, litres: float, ceiling_C: float) -> None:
    """Start and rise together make the ceiling."""
    start = heat.warmest_start(lye, litres, ceiling_C)
    assert start + heat.lye_rise(lye, litres, start) == pytest.approx(ceiling_C, abs=1e-3)


def test_far_too_much_lye_leaves_no_start() -> None:
    """An absurd amount of lye gives a start below freezing instead of an error."""
    assert heat.warmest_start(1000, 1, 60) < 0


def test_cooling_runs_through_the_readings() -> None:
    """A bath followed with its own constant comes back to the second reading, and to the time in between."""
    constant = heat.cooling_constant(50, 44, 20, 30)
    assert heat.temperature_after(50, 20, 30, constant) == pytest.approx(44)
    assert heat.minutes_to_cool(50, 44, 20, constant) == pytest.approx(30)


def test_warming_up_in_the_room_is_cooling_too() -> None:
    """A cold bath comes towards the air by the same law."""
    constant = heat.cooling_constant(5, 10, 20, 60)
    assert heat.temperature_after(5, 20, 60, constant) == pytest.approx(10)


def test_two_thermometer_readings_tell_little() -> None:
    """Hand-worked: sqrt((0.5/30)^2 + (0.5/24)^2) / ln(30/24) = 12 %."""
    assert heat.cooling_error(50, 44, 20) == pytest.approx(0.1196, abs=1e-3)


@pytest.mark.parametrize(
    ("first_C", "second_C", "air_C", "minutes"), [(50, 50, 20, 30), (50, 20, 20, 30), (50, 44, 60, 30), (50, 44, 20, 0)]
)
def test_readings_that_show_no_cooling(first_C: float, second_C: float, air_C: float, minutes: float) -> None:
    """No constant comes out of readings that did not move towards the air."""
    with pytest.raises(OutOfRange):
        heat.cooling_constant(first_C, second_C, air_C, minutes)


@pytest.mark.parametrize("to_C", [20, 15, 55])
def test_a_bath_never_gets_past_the_air(to_C: float) -> None:
    """A bath at 50 in air at 20 degrees C cools neither to 20 or below nor upwards."""
    with pytest.raises(CannotReach, match="never comes to"):
        heat.minutes_to_cool(50, to_C, 20, 0.0074)


def test_mixing_keeps_heat() -> None:
    """The heat before and after mixing is the same."""
    mixed = heat.mix_temperature(((4, 15), (6, 80)))
    assert 10 * enthalpy(mixed) == pytest.approx(4 * enthalpy(15) + 6 * enthalpy(80))
