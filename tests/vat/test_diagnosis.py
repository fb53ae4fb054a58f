"""What a reading means: every row found by its own signs, one axis at a time, and no reading crashes."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import plan_with
from tests.vat.vats import FIBRES, METHODS, READINGS, own_signs, setting_of

from vatside.catalogue.findings import AXES, Sign, rows
from vatside.catalogue.looks import Bottom, Clarity, Cloth, Colour, Feel, Smell, Strip, Surface
from vatside.recipe.vat_needs import at_warmth
from vatside.units import Amount
from vatside.vat.diagnosis import _points, applies, ask, in_words, judge, observations, remedies, sure_words
from vatside.vat.reading import PHBy, Reading

SETTINGS = {
    (fibre, method): setting_of(plan_with(method=method, lots__a__fibre=fibre))
    for fibre in FIBRES
    for method in METHODS
}


def at(celsius: float) -> Amount:
    """Degrees C."""
    return Amount(celsius, "degC")


OWN = [
    pytest.param(key, case, id="-".join((key, *case)))
    for case, plain in SETTINGS.items()
    for key in rows()
    if applies(rows()[key], plain)
]


@pytest.mark.parametrize(("key", "case"), OWN)
def test_a_row_is_found_by_its_own_signs(key: str, case: tuple[str, str]) -> None:
    """Shown all of its signs, a row is the likeliest on its axis; so it is where its kind of vat applies."""
    plain = SETTINGS[case]
    reading, known = own_signs(rows()[key], plain)
    found = judge(reading, evolve(plain, **known))
    on_axis = [finding for finding in found if finding.axis == rows()[key].axis]
    assert on_axis[0].id == key
    assert on_axis[0].share > 0.5


def test_a_sign_that_is_not_there_counts_half_as_much_against() -> None:
    """Unless its row says how much it takes off."""
    sign = Sign("clarity", 2.0)
    assert (_points(sign, there=True), _points(sign, there=False)) == (2.0, -1.0)
    assert _points(evolve(sign, against=0.7), there=False) == -0.7


@given(READINGS, st.sampled_from(sorted(SETTINGS)), st.integers(0, 9))
def test_no_reading_makes_it_crash(reading: Reading, case: tuple[str, str], tried: int) -> None:
    """Whatever is read, findings have shares between 0 and 1, in words, and at least one remedy."""
    plain = evolve(SETTINGS[case], tried=tried)
    for finding in judge(reading, plain):
        assert 0 <= finding.share <= 1
        assert finding.sure
        assert finding.speaks_for
        assert remedies(finding, plain)
    assert all(line.endswith((".", "?")) for line in ask(reading, plain))


@given(READINGS, st.sampled_from(sorted(SETTINGS)))
def test_the_first_axis_that_is_out_comes_first(reading: Reading, case: tuple[str, str]) -> None:
    """What is out comes in the order temperature, pH, reducer, indigo, other; the best fit of an axis first."""
    out = [finding for finding in judge(reading, SETTINGS[case]) if finding.share >= 0.5]
    assert [AXES.index(finding.axis) for finding in out] == sorted(AXES.index(finding.axis) for finding in out)


def test_an_empty_reading_asks_for_something_to_look_at() -> None:
    """Nothing read, nothing found; temperature and pH are asked for first."""
    plain = SETTINGS["wool", "tdo-lye"]
    assert judge(Reading(), plain) == ()
    questions = ask(Reading(), plain)
    assert "temperature" in questions[0]
    assert "pH" in questions[1]
    assert len(questions) == 3


def test_what_tells_likely_states_apart_is_asked_next() -> None:
    """With a pale cloth in a vat at the right warmth and pH, the strip and the colour tell more than the foam."""
    plain = SETTINGS["cotton", "tdo-lye"]
    reading = Reading(temperature=at(45), pH=11.0, pH_by=PHBy.METER, cloth=(Cloth.PALE,))
    assert any("strip" in question or "colour" in question for question in ask(reading, plain))
    assert not any("floats" in question for question in ask(reading, plain)[:1])


def test_cold_is_put_right_before_reducer() -> None:
    """6 degrees below its window a green vat is warmed first (common practice, no source: its reducer sleeps)."""
    plain = SETTINGS["wool", "tdo-lye"]
    found = judge(Reading(temperature=at(39), colour=Colour.GREEN, seconds=20), plain)
    assert [finding.id for finding in found[:2]] == ["too-cold", "short-of-reducer"]


def test_the_good_vat() -> None:
    """Clear yellow-green under a coppery film, strip turning in a minute, all in window: dye (Mairet 1938)."""
    reading = Reading(
        temperature=at(45), pH=11.0, pH_by=PHBy.METER, colour=Colour.YELLOW_GREEN, clarity=Clarity.CLEAR,
        surface=Surface.COPPERY, strip=Strip.GREEN_YELLOW, seconds=60,
    )  # fmt: skip
    found = judge(reading, SETTINGS["cotton", "tdo-lye"])
    assert found[0].id == "good"
    assert found[0].sure == "almost surely"
    assert not any(finding.is_out for finding in found)


def test_milky_and_below_nine_and_a_half_is_short_of_alkali() -> None:
    """Greenish-white, turbid liquor below pH 9.5: leuco formed but not dissolved (Mairet 1938)."""
    reading = Reading(pH=9.2, pH_by=PHBy.METER, colour=Colour.GREENISH_WHITE, clarity=Clarity.MILKY)
    assert judge(reading, SETTINGS["cotton", "dithionite-lye"])[0].id == "short-of-alkali"


def test_wool_has_its_own_limit() -> None:
    """PH 9.2 is short of alkali for cotton and right for wool, which wants 8.5 to 9.8."""
    reading = Reading(pH=9.2, pH_by=PHBy.METER)
    assert judge(reading, SETTINGS["cotton", "tdo-lye"])[0].id == "short-of-alkali"
    assert not any(finding.is_out for finding in judge(reading, SETTINGS["wool", "tdo-lye"]))


def test_slimy_bright_yellow_is_too_alkaline() -> None:
    """Slimy feel, bright yellow, colour that washes off (Mairet 1938)."""
    reading = Reading(feel=Feel.SLIMY, colour=Colour.BRIGHT_YELLOW, cloth=(Cloth.WASHES_OFF,))
    assert judge(reading, SETTINGS["cotton", "tdo-lye"])[0].id == "too-alkaline"


def test_a_hot_sample_is_compared_at_the_vat() -> None:
    """11.9 read at 25 degrees is 11.2 at 50: within cotton's window, though 11.9 itself would not be."""
    plain = evolve(SETTINGS["cotton", "tdo-lye"], slope=0.03)
    cooled = Reading(temperature=at(50), pH=11.9, pH_temperature=at(25), pH_by=PHBy.METER)
    assert not any(finding.id == "too-alkaline" for finding in judge(cooled, plain))
    assert judge(evolve(cooled, pH_temperature=at(50)), plain)[0].id == "too-alkaline"


def test_a_strip_says_less_than_a_meter() -> None:
    """The same pH by strip makes a finding less sure."""
    plain = SETTINGS["cotton", "tdo-lye"]
    by_meter = judge(Reading(pH=12.3, pH_by=PHBy.METER), plain)[0]
    by_strip = judge(Reading(pH=12.3, pH_by=PHBy.STRIP), plain)[0]
    assert by_meter.id == by_strip.id == "too-alkaline"
    assert by_strip.share < by_meter.share


def test_what_speaks_against_is_said() -> None:
    """A blue liquor that is clear: cloudy was to be expected, and that is said beside what fits."""
    found = judge(Reading(colour=Colour.BLUE, clarity=Clarity.CLEAR), SETTINGS["cotton", "tdo-lye"])[0]
    assert found.speaks_for == ("liquor blue",)
    assert found.speaks_against == ("liquor clear, not cloudy",)


def test_two_vain_corrections_make_a_dead_vat() -> None:
    """No yellow after two corrections: dead, or to be tested with a strike (common practice, no source)."""
    plain = SETTINGS["cotton", "tdo-lye"]
    blue = Reading(colour=Colour.BLUE)
    assert not any(finding.id == "dead" for finding in judge(blue, plain))
    assert any(finding.id == "dead" and finding.is_out for finding in judge(blue, evolve(plain, tried=2)))


def test_one_vain_correction_is_counted_as_one() -> None:
    """A single correction that brought nothing is 1 correction, not corrections."""
    seen = observations(Reading(colour=Colour.BLUE), evolve(SETTINGS["cotton", "tdo-lye"], tried=1))
    assert in_words("tried", seen) == "1 correction brought nothing"


def test_lime_vats_stand_where_lime_holds_them() -> None:
    """Saturated lime is pH 12.6 at 20 degrees (Bates 1956): no fault of an iron vat on cotton."""
    reading = Reading(temperature=at(20), pH=12.6, pH_by=PHBy.METER, colour=Colour.YELLOW_GREEN, smell=Smell.USUAL)
    found = judge(reading, SETTINGS["cotton", "copperas-lime"])
    assert not any(finding.id == "too-alkaline" for finding in found)


@pytest.mark.parametrize(
    ("share", "word"),
    [(0.95, "almost surely"), (0.75, "likely"), (0.5, "perhaps"), (0.31, "not ruled out")],
)
def test_how_sure_in_words(share: float, word: str) -> None:
    """A share has its word."""
    assert sure_words(share) == word


def test_dithionite_rows_stay_with_dithionite() -> None:
    """A thiourea dioxide vat at 65 degrees is too warm, but its powder is not what falls apart."""
    hot = Reading(temperature=at(65), colour=Colour.BROWN, smell=Smell.STINGING)
    lye, dithionite = (judge(hot, SETTINGS["cotton", kind]) for kind in ("tdo-lye", "dithionite-lye"))
    assert [found[0].id for found in (lye, dithionite)] == ["fumes", "fumes"]
    assert [found[1].id for found in (lye, dithionite)] == ["too-warm", "overheated"]


@given(
    st.sampled_from([case for case in SETTINGS if case[1] != "copperas-lime"]), READINGS, st.sampled_from(PHBy),
    st.floats(0.1, 6), st.booleans(),
)  # fmt: skip
def test_no_look_argues_away_a_pH_outside_its_window(
    case: tuple[str, str], seen: Reading, by: PHBy, out: float, low: bool
) -> None:
    """A tenth of a pH below the window or more is to be put right, above it too, whatever else was seen."""
    plain = SETTINGS[case]
    high = at_warmth(plain, seen.celsius).window.high
    pH = plain.window.low - out if low else min(high + out, 14.5)
    reading = evolve(seen, pH=pH, pH_by=by, pH_temperature=None)
    wanted = "short-of-alkali" if low else "too-alkaline"
    assert any(finding.id == wanted and finding.is_out for finding in judge(reading, plain))


def test_bright_yellow_with_sludge_and_a_low_pH_is_short_of_alkali() -> None:
    """PH 7.6 by strip in a vat for hair, whose window begins at 8.5, under a coppery film."""
    plain = setting_of(plan_with(lots__a__fibre="alpaca or mohair"))
    reading = Reading(
        pH=7.6, colour=Colour.BRIGHT_YELLOW, clarity=Clarity.CLOUDY, surface=Surface.COPPERY, strip=Strip.BLUE_GREY,
        bottom=Bottom.BLUE,
    )  # fmt: skip
    assert judge(reading, plain)[0].id == "short-of-alkali"
