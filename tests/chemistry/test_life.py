"""A vat from fresh to spent."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from vatside.chemistry.bath import Bath, add_grams, aerate, reduce, water_bath
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.life import SPENT, Band, course, holds_reducer, least_alkali, spend
from vatside.chemistry.liquor import at_25, solve, sulfur_dioxide_ppm
from vatside.chemistry.reducers import REDUCERS, End
from vatside.chemistry.tap import CLASSES, fill

NAMES = st.sampled_from(sorted(REDUCERS))
ENDS = st.sampled_from(["sulfate", "sulfite", "closed"])


def vat(name: str = "thiourea dioxide", grams: float = 4.0, lye: float = 2.0) -> Bath:
    """A tub of 20 kg with lye and a reducer."""
    return add_grams(add_grams(Bath(20, 47), "sodium hydroxide", lye), name, grams)


@given(name=NAMES, grams=st.floats(0.1, 50), share=st.floats(0, 1), end=ENDS)
def test_what_is_spent_is_gone(name: str, grams: float, share: float, end: End) -> None:
    """So much of the reducer is gone, all of it at the end, and the sulfur is all there."""
    before = vat(name, grams)
    after, total = spend(before, share, end), REDUCERS[name].total
    assert getattr(after, total) == pytest.approx((1 - share) * getattr(before, total))
    assert holds_reducer(after) == (getattr(after, total) > 0)
    if end != "closed":
        sulfur = (2 * one.dithionite + one.thiourea_dioxide + one.sulfite + one.sulfate for one in (before, after))
        assert next(sulfur) == pytest.approx(next(sulfur))


@given(name=NAMES, grams=st.floats(0.1, 50), end=ENDS)
def test_the_bath_loses_the_hydroxide_of_the_record(name: str, grams: float, end: End) -> None:
    """In strong lye the charge balance loses just the hydroxide that the record counts."""
    before = vat(name, grams, lye=400)
    kind = REDUCERS[name]
    took = kind.hydroxide_closed if end == "closed" else kind.hydroxide
    there = getattr(before, kind.total)
    if kind.at_once:  # iron takes its hydroxide as it goes in, zinc takes it from lime, of which there is none here
        took = 0
    lost = 20 * (solve(before).hydroxide - solve(spend(before, 1, end)).hydroxide)
    assert lost == pytest.approx(took * there, rel=0.02, abs=1e-4)


def test_spent_by_air_as_aerated_but_for_the_dye() -> None:
    """All spent to sulfate, a vat without dye is what aerating makes of it."""
    assert spend(vat(), 1.0) == aerate(vat())


def test_lye_alone_falls_through() -> None:
    """A tub with 1.9 g of lye and 3.9 g of thiourea dioxide goes from over 9 to about 3 as the reducer is used up."""
    found = course(vat(grams=3.9, lye=1.9))
    assert found.fresh.low > 9
    assert found.spent.low < 3.2
    assert found.low == found.spent.low
    assert found.high == found.fresh.high


def test_a_bath_without_reducer_stands_still() -> None:
    """Fresh, half and spent are one where nothing is spent, and no gas comes off."""
    found = course(add_grams(Bath(20, 47), "sodium hydroxide", 2))
    assert found.fresh == found.half == found.spent
    assert found.fresh.low == found.fresh.high
    assert found.sulfur_dioxide_ppm == 0


def test_chalk_widens_the_band_in_hard_water() -> None:
    """In hard water the ends of the band are chalk settled and not."""
    bath = add_grams(fill(Bath(20, 47), CLASSES["hard"], 20), "sodium carbonate", 12)
    assert course(bath).fresh == Band.of([solve(bath).pH, solve(bath, chalk=True).pH])
    assert solve(bath, chalk=True).chalk_g > 1
    assert at_25(bath, chalk=True).chalk_g == pytest.approx(0, abs=0.05)


@pytest.mark.parametrize(
    ("water", "share", "ppm"),
    # worked with PHREEQC's pH and the solubility of Sander's tables: 22 kg, 1.96 g of lye, 3.24 g of indigotin, 7.9 g
    # of thiourea dioxide, of which 0.558 g went with the oxygen; spare reducer gone to sulfite
    [("pure", 0.5, 17), ("pure", 0.75, 200), ("pure", 1.0, 430), ("soft", 0.5, 0.1)],
)
def test_sulfur_dioxide_over_a_vat_of_lye_alone(water: str, share: float, ppm: float) -> None:
    """Sulfite that turns acid gives off gas, most of all in soft water."""
    dye = 3.24 / 262.2635
    tub = fill(Bath(22, 47, leuco=dye, sulfite=dye), CLASSES[water], 22)
    tub = spend(add_grams(add_grams(tub, "sodium hydroxide", 1.96), "thiourea dioxide", 0.558), 1.0, "sulfate")
    tub = add_grams(evolve(tub, sulfite=dye, sulfate=tub.sulfate - dye), "thiourea dioxide", 6.007)
    assert sulfur_dioxide_ppm(solve(spend(tub, share, "sulfite"))) == pytest.approx(ppm, rel=0.3, abs=0.06)


@pytest.mark.parametrize("water", ["medium", "hard"])
def test_hard_water_holds_the_gas_back(water: str) -> None:
    """The same vat in medium or hard water stays under a part in a million: its bicarbonate takes the acid."""
    tub = add_grams(
        add_grams(fill(Bath(22, 47), CLASSES[water], 22), "sodium hydroxide", 1.96), "thiourea dioxide", 6.007
    )
    assert course(tub).sulfur_dioxide_ppm < 1


def test_the_least_lye_of_a_stock() -> None:
    """Hand-worked: 0.740 g a gram of thiourea dioxide, 0.460 of dithionite, 0.153 or 0.305 of dye, 0.4 a litre."""
    both = (("thiourea dioxide", 4.0), ("sodium dithionite", 5.0))
    worked = 0.740 * 4 + 0.460 * 5 + 0.1525 * 10 + 0.4 * 2
    assert least_alkali("sodium hydroxide", 10, both, 2) == pytest.approx(worked, abs=0.01)
    assert least_alkali("sodium hydroxide", 10, both, 2, double=True) == pytest.approx(worked + 1.525, abs=0.01)
    assert least_alkali("sodium carbonate", 0, (("thiourea dioxide", 1.0),), 0) == pytest.approx(1.96, abs=0.01)


def test_the_least_lye_ends_above_11_9() -> None:
    """A litre with its least lye, all reducer gone, is still above pH 11.9 at 25 degrees C."""
    lye = least_alkali("sodium hydroxide", 3.24, (("thiourea dioxide", 3.9),), 1)
    stock = add_grams(add_grams(Bath(1, 25), "sodium hydroxide", lye), "thiourea dioxide", 3.9)
    dye = 3.24 / 262.2635
    stock = add_grams(stock, "leuco-indigo", dye * 264.2793)
    assert solve(spend(stock, 1)).pH == pytest.approx(11.9, abs=0.1)


@pytest.mark.parametrize("share", [-0.1, 1.1, float("nan")])
def test_a_share_is_a_share(share: float) -> None:
    """No share of nothing, and none over the whole."""
    with pytest.raises(OutOfRange, match="share that is spent"):
        spend(vat(), share)


@pytest.mark.parametrize("water", ["pure", "soft", "medium", "hard"])
def test_no_stage_between_gives_off_more_than_is_said(water: str) -> None:
    """A vat of lye alone, its reducer spent to sulfite and that aired bit by bit, stays within a tenth of the bound."""
    bath = fill(water_bath(20, 47), CLASSES[water], 20)
    for name, grams in (("sodium hydroxide", 1.9), ("indigotin", 3.24), ("thiourea dioxide", 5.2)):
        bath = add_grams(bath, name, grams)
    bath = reduce(bath, 150)
    bound = course(bath).sulfur_dioxide_ppm
    gone = spend(bath, SPENT, "sulfite")
    between = (spend(gone, share / 20) for share in range(21))
    ends: tuple[End, ...] = ("sulfate", "sulfite")
    by_half = (spend(bath, share / 20, end) for share in range(21) for end in ends)
    worst = max(sulfur_dioxide_ppm(solve(stage)) for stage in (*between, *by_half))
    assert worst <= 1.1 * bound + 0.5
