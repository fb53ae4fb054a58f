"""How far the shelf goes, what to buy, and what a day costs."""

from __future__ import annotations

from datetime import date
from math import inf

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import plan_of_lots, plan_with, wool_plan
from tests.shelf.shelves import noted

from vatside.catalogue.load import methods
from vatside.plan.figure_text import show_weighed
from vatside.plan.plan import Kept, Plan
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute
from vatside.shelf.cost import cost
from vatside.shelf.events import Item, ItemBought, ItemFinished, PriceSet, ShelfEvent
from vatside.shelf.item_fields import clash, detail_problem, doubtful, read_detail
from vatside.shelf.shelf import Shelf, shelf
from vatside.shelf.supplies import Need, energy_kwh, how_many_more, needs, shopping_list, water_litres, work_minutes
from vatside.units import Amount, Problem


def bag(material: str, grams: float, purity: float = 40, price: float | None = None, name: str = "") -> Item:
    """A bag of a material."""
    paid = None if price is None else Amount(price, "")
    return Item(name or material, material, Amount(grams, "g"), Amount(purity, "%"), price=paid)


def stocked(*items: Item, more: tuple[ShelfEvent, ...] = ()) -> Shelf:
    """A shelf with these items, and what happened to them."""
    return shelf(noted(*(ItemBought(one) for one in items), *more))


def _short(need: Need) -> float:
    """What is missing for one day, g."""
    return max(need.grams - need.have, 0.0)


PIGMENT = 227 * 0.008 / 0.7 / 0.4
"""Powder that the starter's day takes: 227 g at 0.8 %, 70 % of it on the fibre, 40 % pure."""


def test_a_day_needs_what_its_steps_put_in() -> None:
    """Lye goes in twice and is one need."""
    found = {need.material: need for need in needs(wool_plan(), stocked())}
    sheet = compute(wool_plan())
    assert found["indigo"].grams == pytest.approx(PIGMENT)
    assert found["lye"].grams == pytest.approx(sheet["stock.alkali"].value + sheet["vat.alkali"].value)


def test_the_first_thing_to_run_out_is_the_limit() -> None:
    """Indigo for seven days and a half, lye for ever: seven more days, and it is the indigo."""
    more = how_many_more(wool_plan(), stocked(bag("indigo", 7.5 * PIGMENT), bag("lye", 1e5, 99)))
    assert (more.days, more.pieces, more.limit) == (7, 15, "natural indigo powder")
    assert more.fibre_g == pytest.approx(7.5 * 227)
    assert "thiourea dioxide" in more.unknown


def test_days_and_pieces_add_up() -> None:
    """Two pieces a day: seven days and a half are seven days and one piece over, fifteen in all."""
    more = how_many_more(wool_plan(), stocked(bag("indigo", 7.5 * PIGMENT)))
    assert more.words == "7 days like this and 1 piece over, 15 pieces in all"
    whole = how_many_more(wool_plan(), stocked(bag("indigo", 7 * PIGMENT)))
    assert whole.words == "7 days like this, 14 pieces in all"


@pytest.mark.parametrize(
    ("share", "words"), [(0.6, "less than a day like this, 1 piece"), (0.1, "less than a day like this, not one piece")]
)
def test_less_than_a_day_is_told_in_pieces(share: float, words: str) -> None:
    """Enough for one of two pieces, or for none."""
    assert how_many_more(wool_plan(), stocked(bag("indigo", share * PIGMENT))).words == words


def test_exactly_enough_is_enough() -> None:
    """Seven days' worth lasts seven days, whatever floats make of it."""
    assert how_many_more(wool_plan(), stocked(bag("indigo", 7 * PIGMENT))).days == 7


def test_an_empty_shelf_says_nothing_of_what_runs_out() -> None:
    """Nothing that is needed was ever there."""
    more = how_many_more(wool_plan(), stocked())
    assert (more.days, more.limit) == (0, "")
    assert len(more.unknown) == len(needs(wool_plan(), stocked()))


def test_a_finished_bag_counts_for_nothing_but_is_known() -> None:
    """There was some once: nought more days, and it is known what is missing."""
    more = how_many_more(wool_plan(), stocked(bag("indigo", 100), more=(ItemFinished("indigo"),)))
    assert (more.days, more.limit) == (0, "natural indigo powder")


def test_lots_of_one_dye_stand_in_by_what_is_in_them() -> None:
    """Ten grams of 95 % do the work of 23.75 g of 40 %."""
    found = {need.material: need for need in needs(wool_plan(), stocked(bag("synthetic-indigo", 10, 95)))}
    assert found["indigo"].have == pytest.approx(10 * 95 / 40)


def test_what_is_short_is_what_one_day_lacks() -> None:
    """Two grams of 6.486 are there; ten would be more than enough."""
    two, ten = (needs(wool_plan(), stocked(bag("indigo", grams))) for grams in (2, 10))
    assert {need.material: _short(need) for need in two}["indigo"] == pytest.approx(PIGMENT - 2)
    assert {need.material: _short(need) for need in ten}["indigo"] == 0


def test_the_shopping_list_has_what_is_short() -> None:
    """Two grams are there: the rest of one day, or of three."""
    there = stocked(bag("indigo", 2))
    lines = {line.name: line.grams for line in shopping_list(wool_plan(), there)}
    assert lines["natural indigo powder"] == pytest.approx(PIGMENT - 2)
    three = {line.name: line.grams for line in shopping_list(wool_plan(), there, days=3)}
    assert three["natural indigo powder"] == pytest.approx(3 * PIGMENT - 2)


def test_enough_of_everything_is_nothing_to_buy() -> None:
    """A full shelf."""
    plan = wool_plan()
    full = stocked(*(bag(need.material, need.grams * 2, 100 * need.purity) for need in needs(plan, stocked())))
    assert shopping_list(plan, full) == ()
    assert how_many_more(plan, full).days == 2


@given(st.sampled_from(sorted(methods())), st.floats(0.1, 5))
def test_bought_by_the_list_the_day_can_be_done(method: str, days: float) -> None:
    """Whatever the vat: with the list bought, nothing is short."""
    plan = plan_with(method=method)
    items = [bag(need.material, need.grams * days, 100 * need.purity) for need in needs(plan, stocked())]
    purities = {need.name: need for need in needs(plan, stocked())}
    bought = [
        bag(purities[line.name].material, line.grams, 100 * purities[line.name].purity, name=f"new-{number}")
        for number, line in enumerate(shopping_list(plan, stocked(*items)))
    ]
    found = needs(plan, stocked(*items, *bought))
    assert all(_short(need) < 0.0101 for need in found)


def test_a_need_of_nothing_lasts_for_ever() -> None:
    """A figure held at nought is no need at all."""
    plan = plan_with(vat__alkali="0 g", stock__alkali="0 g")
    assert "lye" not in {need.material for need in needs(plan, stocked())}
    need = needs(plan, stocked())[0]
    assert evolve(need, grams=0.0).times == inf


def test_pigment_costs_by_what_is_weighed_of_its_bag() -> None:
    """100 g for 40 are 0.40 a gram; the day weighs 6.486 g, whatever the label says."""
    found = cost(wool_plan(), stocked(bag("indigo", 100, 80, price=40)))
    (row,) = [row for row in found.rows if row.label == "natural indigo powder"]
    assert row.amount == "6.5 g"
    assert row.money == pytest.approx(0.40 * PIGMENT)


def test_a_stand_in_costs_by_what_is_in_it() -> None:
    """Synthetic indigo of 80 %, 100 g for 40: 0.50 a gram of indigotin; the day takes 2.594 g of that."""
    found = cost(wool_plan(), stocked(bag("synthetic-indigo", 100, 80, price=40)))
    (row,) = [row for row in found.rows if row.label == "natural indigo powder"]
    assert row.money == pytest.approx(0.5 * 227 * 0.008 / 0.7)


def test_what_has_no_price_is_named_and_left_out() -> None:
    """The total is of what is known, and says what is not."""
    found = cost(wool_plan(), stocked(bag("indigo", 100, 40, price=18)))
    assert found.total == pytest.approx(0.18 * PIGMENT)
    assert "thiourea dioxide" in found.unpriced
    assert "Energy" in found.unpriced
    assert "natural indigo powder" not in found.unpriced


def test_the_bag_bought_last_sets_the_price() -> None:
    """What the next one will cost is nearer to that."""
    old = evolve(bag("indigo", 100, 40, price=10, name="i1"), bought="2025-01-01")
    new = evolve(bag("indigo", 100, 40, price=20, name="i2"), bought="2026-01-01")
    assert cost(wool_plan(), stocked(old, new)).total == pytest.approx(0.2 * PIGMENT)
    assert cost(wool_plan(), stocked(new, old)).total == pytest.approx(0.2 * PIGMENT)


def prices(kwh: float, water: float, hour: float) -> tuple[ShelfEvent, ...]:
    """Prices of the house."""
    return (
        PriceSet("currency", "€"), PriceSet("kwh", Amount(kwh, "")), PriceSet("water", Amount(water, "")),
        PriceSet("hour", Amount(hour, "")),
    )  # fmt: skip


def test_energy_is_the_heat_that_warms_the_water() -> None:
    """By hand, 4.18 kJ a litre and degree from 12 °C.

    Scour 7.5 L to 60, first rinse 7.5 L to 60, stock 1 L to 55, warm bath 3 L to 55, vat 19.2 L to 47; then
    6.81 L each: a rinse at 30, the wash at 45, rinses at 35 and 25; the last, at 20, is as warm as the room.
    """
    plan = wool_plan()
    by_hand = 4.18 / 3600 * (2 * 7.5 * 48 + 4 * 43 + 19.227 * 35 + 6.81 * (18 + 33 + 23 + 13))
    assert energy_kwh(plan, compute(plan)) == pytest.approx(by_hand, rel=0.01)


def test_what_stays_of_a_kept_vat_is_warmed_from_as_warm_as_it_stands() -> None:
    """By hand, 4.18 kJ a litre and degree: 10 L that stand at 20 °C to 47, in the place of water from 12 °C."""
    plan = wool_plan()
    kept = evolve(plan, kept=Kept(Amount(10, "L"), Amount(20, "degC"), Amount(0, "g"), Amount(0, "g"), Amount(0, "g")))
    saved = energy_kwh(plan, compute(plan)) - energy_kwh(kept, compute(kept))
    assert saved == pytest.approx(4.18 / 3600 * 10 * (20 - 12), rel=0.05)


def test_water_is_all_that_is_drawn() -> None:
    """By hand: 6.81 L to wet out, 7.5 to scour, 15 to rinse, 1 + 3 for the stock, 19.2 for the vat; then 6.81 L each.

    Three rinses, the sour and the rinse after it, the wash and three rinses by safe steps down to the room.
    """
    plan = wool_plan()
    assert water_litres(plan, compute(plan)) == pytest.approx(6.81 + 7.5 + 15 + 4 + 19.227 + 9 * 6.81, rel=1e-3)


def test_plant_fibres_are_washed_hot_and_rinsed_hot_once() -> None:
    """By hand, 227 g in 4.54 L of 4.18 kJ a litre and degree from 12 °C: the wash at 85, a rinse at 55 from the tap."""
    plan = plan_of_lots(("cotton", "227 g"))
    small = plan_with(plan, finish__cotton__water="1 L")
    saved = energy_kwh(plan, compute(plan)) - energy_kwh(small, compute(small))
    assert saved == pytest.approx(4.18 / 3600 * 3.54 * (73 + 43), rel=0.02)


def test_the_house_is_paid_by_its_prices() -> None:
    """Energy by the kilowatt-hour, water by the cubic metre, work by the hour of hands."""
    plan = wool_plan()
    sheet = compute(plan)
    found = cost(plan, stocked(more=prices(0.4, 5, 12)))
    wanted = energy_kwh(plan, sheet) * 0.4 + water_litres(plan, sheet) * 0.005 + work_minutes(plan, sheet) / 60 * 12
    assert found.total == pytest.approx(wanted)
    assert found.money(found.total) == f"€ {wanted:.2f}"


def test_work_is_left_out_unless_the_dyer_counts_it() -> None:
    """No price for an hour, no row."""
    assert "Work" not in [row.label for row in cost(wool_plan(), stocked()).rows]


def two_lots() -> Plan:
    """A pale lot and one four times as deep, of the same weight."""
    plan = wool_plan()
    pale = evolve(plan.lots[0], depth=Amount(0.2, "%"), pieces=2)
    deep = evolve(new_lot(plan), mass=pale.mass, depth=Amount(0.8, "%"), pieces=4)
    return evolve(plan, lots=(pale, deep))


def test_a_deep_skein_costs_more_than_a_pale_one() -> None:
    """Pigment is shared by the dye that a lot wants: one part to four."""
    found = cost(two_lots(), stocked(bag("indigo", 100, 40, price=18)))
    pale, deep = found.lots
    assert deep.total == pytest.approx(4 * pale.total)
    assert deep.each == pytest.approx(deep.total / 4)


@given(st.floats(0, 100), st.floats(0, 5), st.floats(0, 20), st.floats(0, 50))
def test_the_lots_together_cost_the_day(price: float, kwh: float, water: float, hour: float) -> None:
    """Nothing is lost in sharing out."""
    found = cost(two_lots(), stocked(bag("indigo", 100, 40, price=price), more=prices(kwh, water, hour)))
    assert sum(lot.total for lot in found.lots) == pytest.approx(found.total)
    assert found.each * 6 == pytest.approx(found.total)


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("mass", "1/2 lb", Amount(0.5, "lb")),
        ("purity", "40", Amount(40, "%")),
        ("spoon_mass", "", None),
        ("spoon_mass", "2,4", Amount(2.4, "g")),
        ("price", "18.50", Amount(18.5, "")),
        ("bought", "2026-05-02", "2026-05-02"),
        ("lot", "", ""),
        ("lot", " A 3 ", "A 3"),
        ("material", "synthetic", "synthetic-indigo"),
        ("material", "lye-flakes", "lye-flakes"),
        ("currency", "€", "€"),
        ("kwh", "0.32", Amount(0.32, "")),
    ],
)
def test_details_are_read_as_a_person_writes_them(name: str, text: str, value: object) -> None:
    """Halves, commas, names begun."""
    assert read_detail(name, text) == value


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("mass", "", "nothing stands here"),
        ("mass", "-3 g", "Bought"),
        ("purity", "400", "between 1 % and 100 %"),
        ("bought", "May", "is no day"),
        ("bought", "2026-02-30", "is no day"),
        ("bought", "20260502", "is no day"),
        ("material", "gold", "one of"),
        ("lot", "x" * 81, "at most 80"),
        ("lot", "a\x1b[2Jb", "characters that cannot be shown"),
        ("currency", "doubloons", "8 letters at most"),
        ("strike", "5000", "between 10 % and 1000 %"),
    ],
)
def test_a_wrong_detail_is_explained(name: str, text: str, says: str) -> None:
    """The sentence names the field and what would be right."""
    problem = read_detail(name, text)
    assert isinstance(problem, Problem)
    assert says in problem.text


@pytest.mark.parametrize(
    ("name", "text", "material", "value"),
    [
        ("price", "£18.50", "indigo", Amount(18.5, "")),
        ("price", "18,50 €", "indigo", Amount(18.5, "")),
        ("price", "18.50 EUR", "indigo", Amount(18.5, "")),
        ("mass", "500 mL", "vinegar", Amount(505, "g")),
        ("mass", "500", "vinegar", Amount(505, "g")),
        ("mass", "1 kg", "vinegar", Amount(1, "kg")),
        ("mass", "1 L", "detergent", Amount(1030, "g")),
        ("mass", "250", "detergent", Amount(250, "g")),
        ("opened", "today", "indigo", "2026-05-02"),
        ("bought", "Yesterday", "indigo", "2026-05-01"),
        ("bought", "1 Nov", "indigo", "2025-11-01"),
        ("bought", "2 May", "indigo", "2026-05-02"),
        ("bought", "November 1", "indigo", "2025-11-01"),
        ("bought", "1 nov. 2024", "indigo", "2024-11-01"),
    ],
)
def test_bottles_prices_and_days_are_read_as_a_person_writes_them(
    name: str, text: str, material: str, value: object
) -> None:
    """A currency's sign, a volume of what is poured (1.01 and 1.03 g/mL), a day by its word or its month."""
    assert read_detail(name, text, material=material, today=date(2026, 5, 2)) == value


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("bought", "2026-05-03", "still to come"),
        ("opened", "tomorrow", "still to come"),
        ("opened", "3 May 2026", "still to come"),
        ("opened", "31 Feb", "there is no 31 feb"),
        ("opened", "1 Mob", "is no day"),
        ("mass", "1 L", "a mass is wanted"),
        ("price", "twelve", "cannot be read"),
        ("price", "£-3", "cannot be read"),
        ("price", "1,250", "could be"),
    ],
)
def test_a_day_or_a_price_that_cannot_be_is_explained(name: str, text: str, says: str) -> None:
    """Nobody bought anything tomorrow."""
    problem = read_detail(name, text, material="indigo", today=date(2026, 5, 2))
    assert isinstance(problem, Problem)
    assert says in problem.text


def test_vinegar_is_shown_as_it_is_measured_out() -> None:
    """505 g are 500 mL; a powder stays in grams."""
    assert (show_weighed("vinegar", 505), show_weighed("lye", 505)) == ("500 mL", "505 g")


@pytest.mark.parametrize(
    ("purity", "strike", "says"),
    [(38, 523, "would count as 199 %, purer than pure; at most 263 %"), (50, 201, "purer than pure"), (50, 200, "")],
)
def test_no_strike_makes_a_bag_purer_than_pure(purity: float, strike: float, says: str) -> None:
    """38 × 5.23 = 199 %; half pure may strike twice as strong and no more."""
    found = clash(evolve(bag("indigo", 100, purity), strike=Amount(strike, "%")), "strike")
    assert found is None if not says else says in (found or "")


@pytest.mark.parametrize(("strike", "asked"), [(49.9, True), (50, False), (100, False), (200, False), (201, True)])
def test_a_strike_that_no_two_lots_have_is_doubtful(strike: float, asked: bool) -> None:
    """Less than half, or more than twice."""
    assert bool(doubtful(Amount(strike, "%"))) == asked


def test_nothing_is_opened_before_it_is_bought() -> None:
    """The day itself is well; a day before is not."""
    new = evolve(bag("indigo", 100), bought="2026-05-02", opened="2026-05-02")
    assert clash(new, "opened") is None
    assert "before it was bought, 2026-05-02" in (clash(evolve(new, opened="2026-05-01"), "opened") or "")


def test_a_detail_that_is_none_is_a_problem_of_its_own() -> None:
    """Nobody can set what an item does not have."""
    assert detail_problem("colour", "blue") == "there is no 'colour' to set"


@pytest.mark.parametrize(("text", "taken"), [("0.9 g", False), ("2.6 g", True), ("45 g", False)])
def test_a_spoon_on_the_shelf_weighs_what_a_powder_can(text: str, taken: bool) -> None:
    """Ten spoons written down undivided are told of; what a file holds from before is let through."""
    found = read_detail("spoon_mass", text)
    assert isinstance(found, Amount) is taken
    assert taken or "a level spoon of powder weighs between" in getattr(found, "text", "")
    assert detail_problem("spoon_mass", Amount(45, "g")) is None


def test_the_work_of_a_day_is_that_of_hands() -> None:
    """A longer airing costs nobody's work: 40 minutes instead of 10 leave it as it was."""
    short, long = (plan_with(dip__a__dips="3", dip__a__air=air) for air in ("10 min", "40 min"))
    assert work_minutes(short, compute(short)) == work_minutes(long, compute(long))
