"""How large a vat is made for its fibre, and what it costs where the dyer holds another."""

from __future__ import annotations

from math import log

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.plans import free_plan, plan_with

from vatside.plan.paths import set_value
from vatside.plan.plan import Condition, Dosing, Form, Lot, Plan
from vatside.plan.sheet import Notice, Remedy, Weight
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.recipe.need import dosing_of, need_of, rests_of, rounded
from vatside.recipe.sizing import size_of
from vatside.units import Amount


def one_lot(fibre: str, grams: float, pieces: int, depth: float, *tubs: float, dosing: Dosing | None = None) -> Plan:
    """Give a plan of one lot that comes ready, and of some tubs (L to the brim)."""
    plan = starter_plan()
    lot = Lot("a", "Lot", fibre, Amount(grams, "g"), pieces, Form.SKEINS, Condition.READY, Amount(depth, "%"))
    first, *others = (Amount(brim, "L") for brim in tubs or (5, 12, 24))
    vessels = evolve(plan.vessels, tub=evolve(plan.vessels.tub, volume=first), others=tuple(others))
    return evolve(plan, lots=(lot,), vessels=vessels, dosing=dosing)


@pytest.mark.parametrize(("wanted", "piece", "litres"), [(3.2, 30, 3.5), (13.9, 3, 14.0), (14.6, 3, 15.0), (3.0, 0, 3)])
def test_litres_are_rounded_up(wanted: float, piece: float, litres: float) -> None:
    """To the next half litre, and on to the next whole piece where no more than a quarter of one is lacking."""
    assert rounded(wanted, piece) == pytest.approx(litres)


def test_litres_follow_the_dye_or_the_heaviest_piece_by_hand() -> None:
    """Cotton, 500 g in five, 2.0 %: 10 / 0.7 = 14.3 g at 1.61 g/L are 8.9 L, up to 9 L of a tub of 12.

    Wool, 227 g in two, 0.8 %: 2.6 g at 0.86 g/L are 3.0 L; a skein of 113.5 g wants 30 L/kg: 3.4, up to 3.5 L.
    """
    assert size_of(one_lot("cotton", 500, 5, 2.0, 12, dosing=Dosing.SPENT)).fill == pytest.approx(9)
    assert size_of(one_lot("wool", 227, 2, 0.8, 5, dosing=Dosing.SPENT)).fill == pytest.approx(3.5)


def test_a_tub_is_half_full_at_least() -> None:
    """So that pieces hang: a small lot in the only tub there is, of 24 L, gets 12 L."""
    assert size_of(one_lot("cotton", 100, 2, 0.4, 24)).fill == pytest.approx(12)


@pytest.mark.parametrize(
    ("lots", "depth", "dosing"),
    [(("cotton",), 0.8, Dosing.SPENT), (("cotton",), 3.0, Dosing.WORKING), (("wool", "cotton"), 0.8, Dosing.WORKING),
     (("cotton",) * 5, 0.8, Dosing.WORKING)],
)  # fmt: skip
def test_the_way_of_dosing_suits_the_lots(lots: tuple[str, ...], depth: float, dosing: Dosing) -> None:
    """Spent for one dyer's lot; a working vat for a class, for two kinds of fibre, and for the darkest."""
    model = one_lot("cotton", 100, 1, depth).lots[0]
    plan = evolve(starter_plan(), lots=tuple(evolve(model, id=f"l{n}", fibre=each) for n, each in enumerate(lots)))
    assert dosing_of(need_of(plan)) is dosing


def test_what_is_held_is_honoured() -> None:
    """A tub, its litres and its powder."""
    plan = plan_with(free_plan(), vat__fill="9 L", stock__pigment="7 g")
    size = size_of(plan)
    assert size.fill == 9
    assert size.indigotin == pytest.approx(2.8)
    assert size_of(set_value(one_lot("wool", 227, 2, 0.8), "vat.tub", Amount(24, "L"))).tub == 24


FIBRES = st.sampled_from(("wool", "silk", "cotton", "linen"))


@examples(40)
@given(
    FIBRES, st.integers(1, 14), st.integers(0, 13), st.floats(20, 150), st.floats(0.1, 2.5), st.floats(0.3, 1),
    st.sampled_from(((5, 24), (8, 20), (5, 10, 24), (10, 24, 60), (24,))),
)  # fmt: skip
def test_less_cloth_never_takes_over_one_dip_longer(
    fibre: str, pieces: int, fewer: int, each: float, depth: float, lighter: float, tubs: tuple[float, ...]
) -> None:
    """Fewer pieces, or lighter ones, in a vat that is sized anew; as long as the larger lot has a tub that suits it.

    Steps of the litres make a dip of jitter, and that dip the rest which follows it. A tub that is too small for its
    lot is made stronger than is usual, and a strong vat dyes in fewer dips: less cloth in the same bucket is no gain.
    """
    big_plan = one_lot(fibre, pieces * each, pieces, depth, *tubs)
    big = size_of(big_plan)
    some = max(pieces - fewer, 1)
    small = size_of(one_lot(fibre, some * each * lighter, some, depth, *tubs))
    need = need_of(big_plan)
    if big.accepted and big.strength <= need.most_usual:
        assert small.run.dips <= big.run.dips + 2
        assert small.run.minutes <= big.run.minutes + need.a_dip + rests_of(big_plan).long


def test_a_crowded_small_tub_is_left_for_a_larger_one() -> None:
    """Pieces of 170 g go into eight litres one by one, into the larger tub two at once."""
    assert size_of(one_lot("cotton", 680, 4, 1.4, 5, 10, 24)).tub == 24
    assert size_of(one_lot("cotton", 200, 4, 1.4, 5, 10, 24)).tub == 5


def test_a_piece_that_just_does_not_fit_goes_in_with_the_others() -> None:
    """By hand: 4.25 L take 142 g at thirty litres a kilogram, two pieces of 75 g lack 8 g, a ninth of a piece."""
    need = need_of(one_lot("linen", 300, 4, 1.4, 5))
    assert need.entry(4.25) == pytest.approx(150)
    assert need.entry(3.0) == pytest.approx(100)


@examples(20)
@given(FIBRES, st.integers(1, 8), st.floats(20, 150), st.floats(0.1, 2.5), st.sampled_from((None, *Dosing)))
def test_a_plan_left_to_itself_is_done_in_the_dips_that_are_accepted(
    fibre: str, pieces: int, each: float, depth: float, dosing: Dosing | None
) -> None:
    """With tubs of 5, 12, 24 and 60 L: every piece comes to its depth, in a vat that holds and moves them."""
    plan = one_lot(fibre, pieces * each, pieces, depth, 5, 12, 24, 60, dosing=dosing)
    size = size_of(plan)
    assert size.accepted
    assert size.run.deep
    assert size.fill <= 0.85 * size.tub + 1e-9
    assert size.fill >= min(20 * each / 1000, 0.85 * size.tub) - 1e-9
    assert size.strength <= 3.0 + 1e-9


def cure(notice: Notice, word: str) -> Remedy:
    """Give the one remedy of a notice whose label holds a word."""
    (found,) = (remedy for remedy in notice.remedies if word in remedy.label)
    return found


def taken(plan: Plan, remedy: Remedy) -> Plan:
    """Give the plan with a remedy taken whole."""
    for figure, amount in remedy.places:
        plan = evolve(plan, pins=tuple(pin for pin in plan.pins if pin.figure != figure))
        if amount is not None:
            plan = set_value(plan, figure, amount)
    return plan


def weak(plan: Plan) -> list[Notice]:
    """Give the notices that say the vat is weak for a lot."""
    found = compute(plan).notices
    return [item for item in found if (item.figure or "").endswith(".dips") and item.weight is Weight.CARE]


def held_large() -> Plan:
    """Give 150 g of cotton in two skeins, 1.0 %, held in 17 L: the vat is large and weak for it."""
    plan = one_lot("cotton", 150, 2, 1.0, 5, 20, dosing=Dosing.SPENT)
    return plan_with(plan, vat__fill="17 L", stock__pigment="5.4 g")


@pytest.mark.parametrize("word", ["of indigo", "follow the fibre"])
def test_a_cure_lands(word: str) -> None:
    """Taken, the notice is gone and no new one of its weight comes."""
    plan = held_large()
    (notice,) = weak(plan)
    before = {item.text for item in compute(plan).notices if item.weight is not Weight.NOTE}
    after = compute(taken(plan, cure(notice, word)))
    assert not weak(taken(plan, cure(notice, word)))
    assert {item.figure for item in after.notices if item.weight is not Weight.NOTE} <= {
        item.figure for item in compute(plan).notices if item.text in before
    }


def test_a_weak_vat_is_called_so_with_its_figures() -> None:
    """17 L at 0.13 g/L take about 25 dips where 7 at most are usual; both cures are named with theirs."""
    (notice,) = weak(held_large())
    assert "7 at most are usual for medium" in notice.text
    assert "17 L at 0.13 g/L" in notice.text
    assert len(notice.remedies) == 2


def test_more_indigo_says_what_stays_in_the_vat() -> None:
    """The dips and the indigotin kept are those that the sheet shows once it is taken."""
    plan = held_large()
    remedy = cure(weak(plan)[0], "of indigo")
    sheet = compute(taken(plan, remedy))
    assert f"{sheet['dip.a.dips'].value:g} dips" in remedy.label
    assert f"{sheet['dip.kept'].value:.1f} g of indigotin" in remedy.label


def test_a_working_vat_says_what_else_it_could_dye_by_hand() -> None:
    """A kilogram of wool, 1.0 %, in 27 L with 27 g: about 15 g are left at 0.56 g/L.

    Light (0.4 %, weakest 0.44 g/L): (0.56 - 0.22) x 27 x 0.85 x 100 / 0.4 = 2.0 kg.
    """
    plan = one_lot("wool", 1000, 10, 1.0, 53.5, dosing=Dosing.WORKING)
    (notice,) = [item for item in compute(plan).notices if item.figure == "dip.kept"]
    left, litres = compute(plan)["dip.left_strength"].value, compute(plan)["vat.liquor"].value
    grams = (left - 0.5 * weakest(0.4)) * litres * 0.85 * 100 / 0.4
    assert grams == pytest.approx(2000, rel=0.15)
    assert f"{float(f'{grams:.2g}') / 1000:.2f} kg light" in notice.text


def weakest(depth: float) -> float:
    """By hand, between 0.4 g/L at 0.35 % and 0.8 at 1.0 %, both by the logarithm."""
    return 0.4 * 2 ** (log(depth / 0.35) / log(1 / 0.35))


def test_a_long_day_says_what_to_change_and_by_how_much() -> None:
    """Dark cotton takes over four hours: what the dips wait for, what shortens them, where to stop for the night."""
    (notice,) = [item for item in compute(one_lot("cotton", 500, 5, 2.0, 10)).notices if item.figure == "dip.minutes"]
    assert "they wait for the air" in notice.text
    assert ", or " in notice.text
    assert "stop after dip" in notice.text
    assert ". or" not in notice.text
    assert ".." not in notice.text


def test_held_dips_that_are_too_few_are_let_go_again() -> None:
    """One dip held: the lot comes out pale, and the cure is to let the dips follow the depth."""
    plan = plan_with(one_lot("cotton", 300, 3, 1.4), dip__a__dips="1")
    (notice,) = [item for item in compute(plan).notices if item.figure == "dip.a.reaches"]
    assert notice.weight is Weight.CARE
    assert not [item for item in compute(taken(plan, notice.remedies[0])).notices if item.figure == "dip.a.reaches"]
