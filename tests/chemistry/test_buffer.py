"""Buffers for wool and silk, against vats worked out with PHREEQC."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples

from vatside.chemistry.buffer import RULES, BufferedVat, buffer_for, rule_of_thumb
from vatside.chemistry.errors import CannotReach, OutOfRange
from vatside.chemistry.life import SPENT, Band, course, spend
from vatside.chemistry.liquor import solve
from vatside.chemistry.tap import CLASSES

WATERS = [CLASSES[name] for name in ("soft", "medium", "hard")]

VATS = {
    # litres and grams of fibre: indigotin, all thiourea dioxide, lye in the stock
    (5, 50): (0.71, 1.2, 0.8),
    (5, 150): (2.14, 2.6, 2.1),
    (10, 100): (1.43, 2.4, 1.5),
    (10, 300): (4.29, 5.3, 4.2),
    (20, 227): (3.24, 5.2, 3.3),
    (20, 600): (8.57, 10.6, 8.1),
    (40, 500): (7.14, 11.1, 6.8),
    (40, 1000): (14.3, 18.3, 13.2),
}
"""A per cent on the fibre at 70 % yield, with little reducer."""

# soda ash and baking soda for soft, medium and hard water; then fresh, half and spent by PHREEQC (phreeqc.dat with its
# sodium-carbonate pairs off, and pitzer.dat), over all three waters, chalk settled or not
WOOL = {
    (5, 50): ((1, 2, 3), (4, 4, 4), (9.42, 9.63), (9.19, 9.47), (8.64, 9.31)),
    (5, 150): ((1.5, 2, 3), (8, 8, 8), (9.44, 9.60), (9.16, 9.35), (8.69, 9.08)),
    (10, 100): ((2.5, 4, 6), (7.5, 7.5, 7.5), (9.40, 9.62), (9.17, 9.46), (8.78, 9.29)),
    (10, 300): ((2.5, 4, 6), (16, 16, 16), (9.44, 9.58), (9.16, 9.35), (8.68, 9.08)),
    (20, 227): ((5.5, 8, 12), (16, 16, 16), (9.40, 9.63), (9.16, 9.45), (8.76, 9.27)),
    (20, 600): ((6, 9, 13), (31.5, 31.5, 31.5), (9.44, 9.58), (9.17, 9.36), (8.71, 9.09)),
    (40, 500): ((11.5, 17.5, 25), (33.5, 33.5, 33.5), (9.40, 9.61), (9.15, 9.44), (8.74, 9.25)),
    (40, 1000): ((13, 18.5, 26.5), (54, 54, 54), (9.44, 9.59), (9.17, 9.38), (8.72, 9.13)),
}
SILK = {
    (5, 50): ((3, 4, 6), (2, 1.5, 1.5), (10.02, 10.19), (9.89, 10.02), (9.74, 9.87)),
    (5, 150): ((5, 6.5, 8), (5.5, 5, 4.5), (10.02, 10.09), (9.84, 9.90), (9.62, 9.74)),
    (10, 100): ((6, 8.5, 12), (4, 3, 3), (10.00, 10.18), (9.86, 10.01), (9.71, 9.85)),
    (10, 300): ((10, 12.5, 16), (10.5, 10, 9), (10.02, 10.11), (9.84, 9.90), (9.64, 9.74)),
    (20, 227): ((13, 18, 24.5), (8.5, 7, 7), (9.99, 10.17), (9.85, 10.00), (9.70, 9.83)),
    (20, 600): ((21, 26, 32.5), (21, 19.5, 17.5), (10.02, 10.09), (9.84, 9.90), (9.63, 9.73)),
    (40, 500): ((28, 38, 51), (18, 15, 14.5), (9.99, 10.16), (9.85, 9.99), (9.69, 9.82)),
    (40, 1000): ((39, 48.5, 62), (34, 31.5, 28), (10.02, 10.12), (9.85, 9.92), (9.66, 9.76)),
}
ROWS = [("protein", key, WOOL[key]) for key in VATS] + [("silk", key, SILK[key]) for key in VATS]
_Range = tuple[float, float]
_Row = tuple[_Range, _Range, _Range, _Range, _Range]


def vat(group: str, key: tuple[int, int]) -> BufferedVat:
    """A vat of the tables."""
    indigotin, reducer, lye = VATS[key]
    return BufferedVat(key[0], 47 if group == "protein" else 42, indigotin, reducer, lye_g=lye)


def inside(found: Band, published: _Range) -> bool:
    """Whether a band lies in the published one, to three hundredths."""
    return published[0] - 0.03 <= found.low and found.high <= published[1] + 0.035


@pytest.mark.parametrize(("group", "key", "row"), ROWS)
def test_the_pH_of_the_tables(group: str, key: tuple[int, int], row: _Row) -> None:
    """With the doses of the tables, fresh, half and spent lie in the ranges that PHREEQC gives."""
    doses = zip(WATERS, row[0], row[1], strict=True)
    found = course(*(vat(group, key).bath(water, soda, baking) for water, soda, baking in doses))
    assert inside(found.fresh, row[2])
    assert found.half is not None
    assert inside(found.half, row[3])
    assert inside(found.spent, row[4])


@pytest.mark.parametrize(("group", "key", "row"), ROWS)
def test_the_doses_of_the_tables(group: str, key: tuple[int, int], row: _Row) -> None:
    """The rule gives the doses of the tables to half a gram, and with them the vat stays in its window."""
    for water, soda, baking in zip(WATERS, row[0], row[1], strict=True):
        assert rule_of_thumb(group, vat(group, key), water) == pytest.approx((soda, baking), abs=0.5)
        assert buffer_for(group, vat(group, key), water).holds(group)


@examples(30)
@given(
    group=st.sampled_from(sorted(RULES)),
    litres=st.floats(3, 100),
    dye=st.floats(0.04, 0.86),
    stock=st.floats(1.0, 2.0),
    tub=st.floats(0.05, 0.2),
    lye=st.floats(0, 1.3),
    dithionite=st.booleans(),
    water=st.sampled_from(sorted(CLASSES)),
)
def test_any_lean_vat_is_held(
    group: str, litres: float, dye: float, stock: float, tub: float, lye: float, dithionite: bool, water: str
) -> None:
    """In any tub of 3 to 100 L, any water and with any stock's lye, the doses hold the vat from fresh to spent."""
    reducer = stock * dye + tub
    there = BufferedVat(
        litres,
        47 if group == "protein" else 42,
        dye * litres,
        (reducer / 0.621 if dithionite else reducer) * litres,
        "sodium dithionite" if dithionite else "thiourea dioxide",
        lye * (0.74 * reducer + 0.15 * dye) * litres,
    )
    found = buffer_for(group, there, CLASSES[water])
    assert found.holds(group)
    spent = solve(spend(there.bath(CLASSES[water], found.soda_ash_g, found.baking_soda_g), SPENT), chalk=True).pH
    assert spent >= RULES[group].low


def test_a_strong_stock_into_baking_soda() -> None:
    """By PHREEQC 8.6 g of lye, 7.9 g of thiourea dioxide and 3.24 g of indigotin in 22 L want 35 g of baking soda."""
    found = buffer_for("protein", BufferedVat(22, 47, 3.24, 7.9, lye_g=8.6), CLASSES["medium"])
    assert found.baking_soda_g == pytest.approx(35, abs=2)
    assert found.soda_ash_g <= 2
    assert found.course.fresh.high == pytest.approx(9.60, abs=0.06)


def test_the_water_brings_its_oxygen() -> None:
    """Worked by hand: 7.5 mg/L in 20 L, 4.7 mmol, take 0.51 g of thiourea dioxide before any dye is reduced."""
    fresh = vat("protein", (20, 227)).bath(CLASSES["pure"], 8, 16)
    assert 108.1195 * fresh.sulfate == pytest.approx(0.507, abs=0.002)
    assert 262.2635 * fresh.leuco == pytest.approx(3.24)


def test_an_unknown_water_widens_the_course() -> None:
    """Doses are for the first water; the course takes in the ends, and may leave the window there."""
    there = vat("protein", (20, 227))
    known = buffer_for("protein", there, CLASSES["medium"])
    open_ = buffer_for("protein", there, CLASSES["medium"], CLASSES["soft"], CLASSES["hard"])
    assert (open_.soda_ash_g, open_.baking_soda_g) == (known.soda_ash_g, known.baking_soda_g)
    assert open_.course.low < known.course.low
    assert open_.course.high > known.course.high


@pytest.mark.parametrize("group", sorted(RULES))
def test_what_no_dose_can_mend(group: str) -> None:
    """Eight grams of reducer a litre are too much for any soda, and the sentence says what to make instead."""
    with pytest.raises(CannotReach, match="make less stock"):
        buffer_for(group, BufferedVat(10, 45, 5, 80))
    with pytest.raises(OutOfRange, match="amount of reducer"):
        rule_of_thumb(group, BufferedVat(10, 45, 5, -1))
