"""A day under way: what was done, what remains, and what the sheet says of both."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import free_plan, plan_of_lots, plan_with, told

from vatside.dips.uptake import NOTHING, CameOut, PieceSoFar, SoFar, Tank
from vatside.forms.lot_text import with_lot
from vatside.plan.figure_text import plain, two_digits
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage, Weight
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute


def cotton(**changes: str) -> Plan:
    """Give a plan of two skeins of cotton, and a vat that does a medium blue in a few dips."""
    return plan_with(**{"lots__a__fibre": "cotton", "stock__pigment": "60 g", **changes})


def under_way(plan: Plan, depth: float, dips: int, *, strength: float | None = None, done: bool = False) -> Sheet:
    """Give the sheet once both pieces have so much on them after so many dips, in a vat of a strength (g/L)."""
    sheet = compute(plan)
    tank = Tank(sheet["vat.liquor"].value, sheet["vat.strength"].value if strength is None else strength)
    piece = PieceSoFar(depth=depth, rinsed_g=0.1, dips=dips, done=done)
    so_far = SoFar(tank, {"a.1": piece, "a.2": piece})
    return compute(plan, so_far)


def said(sheet: Sheet) -> list[tuple[Weight, str]]:
    """Give the notices about what the lot comes to."""
    return [(item.weight, item.text) for item in sheet.notices if item.figure == "dip.a.reaches"]


def test_before_anything_happened_the_plan_alone_counts() -> None:
    """Nothing so far: the same sheet, figure by figure."""
    assert compute(cotton(), NOTHING) == compute(cotton())


def test_ended_early_it_came_to_what_is_on_it() -> None:
    """Six dips of the many planned, 0.2 % on the pieces: the figures say six and 0.2 %, and nothing is to come."""
    sheet = under_way(cotton(stock__pigment="6 g"), 0.2, 6, strength=0.1, done=True)
    assert sheet["dip.a.dips"].value == 6
    assert sheet["dip.a.reaches"].value == pytest.approx(0.2)
    assert (sheet["dip.minutes"].value, sheet["dip.all_entries"].value) == (0, 0)


def test_what_warming_the_vat_again_holds_up_is_counted_until_it_is_over() -> None:
    """Some minutes before the fourth entry and others: known once dips are begun, and none with everybody done."""
    plan = with_lot(evolve(starter_plan(), lots=()), "cotton, 480 g, 8 pieces, medium")
    assert isinstance(plan, Plan)
    sheet = compute(plan)
    tank = Tank(sheet.value("vat.liquor"), sheet.value("vat.strength"))
    one_in = compute(plan, SoFar(tank, {"a.1": PieceSoFar(depth=0.2, rinsed_g=0.05, dips=1)}))
    assert one_in.held_up == sheet.held_up != ()
    done = PieceSoFar(depth=0.8, rinsed_g=0.05, dips=4, done=True)
    over = compute(plan, SoFar(tank, {f"a.{number}": done for number in range(1, 9)}))
    assert over.value("dip.minutes") == 0


def test_dips_held_are_no_dips_done() -> None:
    """Forty held, six done and ended: six."""
    assert under_way(cotton(dip__a__dips="40"), 0.2, 6, done=True)["dip.a.dips"].value == 6


def test_what_is_left_is_what_the_vat_holds() -> None:
    """With everybody done the strength then is the strength now."""
    sheet = under_way(cotton(), 0.8, 4, strength=0.37, done=True)
    assert sheet["dip.left_strength"].value == pytest.approx(0.37)
    assert sheet["dip.now"].value == pytest.approx(0.37)
    assert sheet["dip.kept"].value == pytest.approx(0.37 * sheet["vat.liquor"].value)


def test_dye_is_neither_made_nor_lost() -> None:
    """What the dips to come take out of the vat is what they lay on and what the rinses take off."""
    plan = cotton()
    sheet = under_way(plan, 0.2, 1)
    grams = sheet["dip.a.piece"].value * 2
    before = sheet["dip.now"].value * sheet["vat.liquor"].value + grams * 0.2 / 100 + 2 * 0.1
    after = sheet["dip.kept"].value + sheet["dip.on_fibre"].value + sheet["dip.rinsed"].value
    assert after == pytest.approx(before)


def test_a_stronger_vat_takes_fewer_dips() -> None:
    """Stock brought in under way: fewer dips in all, never fewer than were done."""
    plan = cotton(stock__pigment="20 g")
    weak, strong = under_way(plan, 0.2, 2), under_way(plan, 0.2, 2, strength=3.0)
    assert 2 < strong["dip.a.dips"].value < weak["dip.a.dips"].value


def test_a_weaker_vat_takes_more_dips_but_not_for_ever() -> None:
    """As many more as are accepted for the depth, seven for a medium blue; then it is given up and called pale."""
    sheet = under_way(cotton(), 0.1, 1, strength=0.05)
    assert sheet["dip.a.dips"].value == 1 + 7
    ((weight, words),) = said(sheet)
    assert weight is Weight.CARE
    assert "will come out" in words
    assert "Bring in stock" in words


def test_a_lot_whose_dips_are_over_is_not_told_to_wait_for_stock() -> None:
    """Two held, two had, and pale: one more, or leave it at that."""
    ((weight, words),) = said(under_way(cotton(dip__a__dips="2"), 0.1, 2, strength=0.05))
    assert weight is Weight.CARE
    assert "The planned dips are over" in words


def test_what_is_done_came_out() -> None:
    """Afterwards the words are of what was, and no longer a warning."""
    ((weight, words),) = said(under_way(cotton(), 0.2, 2, done=True))
    assert weight is Weight.NOTE
    assert "came out pale (0.2 %), not medium (0.8 %)" in words


def test_a_piece_that_is_done_gets_no_more() -> None:
    """One piece done at 0.2 %, the other goes on to its depth: the lot comes to their mean."""
    plan = cotton()
    sheet = compute(plan)
    tank = Tank(sheet["vat.liquor"].value, 0.4)
    one, other = PieceSoFar(0.2, 0.1, 2, done=True), PieceSoFar(0.2, 0.1, 2)
    live = compute(plan, SoFar(tank, {"a.1": one, "a.2": other}))
    assert live["dip.a.reaches"].value == pytest.approx((0.2 + 0.8) / 2, rel=0.15)


def test_a_lot_keeps_the_times_it_began_with() -> None:
    """The vat weakens under way; the dips of one lot stay as long as its first."""
    plan = cotton()
    assert under_way(plan, 0.2, 2, strength=0.1)["dip.a.dip"] == compute(plan)["dip.a.dip"]


def test_the_next_lot_begins_in_the_vat_as_it_will_be() -> None:
    """Less left by the first lot than planned: the second takes more dips."""
    plan = plan_of_lots(("cotton", "200 g"), ("linen", "200 g"), stock__pigment="60 g")
    sheet = compute(plan)
    tank = Tank(sheet["vat.liquor"].value, sheet["vat.strength"].value)
    done = PieceSoFar(0.8, 0.2, 4, done=True)
    pieces = {f"a.{number}": done for number in range(1, plan.lots[0].pieces + 1)}
    live = compute(plan, SoFar(evolve(tank, strength=0.3), pieces))
    assert live["dip.b.dips"].value > sheet["dip.b.dips"].value


def test_a_recorded_colour_stands_among_the_figures_of_the_finish() -> None:
    """Its depth beside what the scale says, named by the ladder; how it stands to what was wanted is noted."""
    came = CameOut(0.4, "light, paler than the medium wanted: grade 1.5, ΔE 9.5")
    sheet = compute(cotton(), SoFar(colours={"a": came}))
    figure = sheet["finish.colour.a"]
    assert (figure.stage, figure.value, figure.label) == (Stage.FINISH, 0.4, "Colour: light")
    assert any("came out light" in item.text for item in sheet.notices if item.figure == "finish.colour.a")


def test_the_gain_is_of_the_real_dry_mass() -> None:
    """227 g on the plan weighed 200 g dry: the same dye is more of it, by 227 / 200."""
    plan = cotton()
    real = compute(plan_with(plan, finish__before__a="200 g"))
    before = real["dip.a.piece"].value * 2
    assert real["finish.gain.a"].value == pytest.approx(real["dip.a.reaches"].value * before / 200)


def test_pieces_out_of_step_get_dips_of_their_own() -> None:
    """Two of three pieces had a dip, the third none: it gets as many dips as they, and all come to the depth."""
    plan = plan_with(three(), stock__pigment="16 g")
    sheet = compute(plan)
    tank = Tank(sheet["vat.liquor"].value, sheet["vat.strength"].value)
    first = PieceSoFar(sheet["dip.a.first"].value, 0.05, 1)
    live = compute(plan, SoFar(tank, {"a.1": first, "a.2": first}))
    dips = dict(live.piece_dips)
    assert dips["a.1"] == dips["a.2"] <= dips["a.3"]
    assert live["dip.a.dips"].value == max(dips.values())
    assert live["dip.a.reaches"].value == pytest.approx(0.8, rel=0.1)


def test_held_dips_hold_for_every_piece() -> None:
    """Pinned at five: five for all that are not done."""
    plan = plan_with(dip__a__dips="5")
    piece = PieceSoFar(0.1, 0.05, 1)
    tank = Tank(20, 0.2)
    live = compute(plan, SoFar(tank, {"a.1": piece}))
    assert dict(live.piece_dips) == {"a.1": 5, "a.2": 5}


def three(**changes: str) -> Plan:
    """Give a plan of three pieces of cotton of which two take turns, one at a time."""
    return plan_with(lots__a__fibre="cotton", lots__a__pieces="3", stock__pigment="8 g", dip__a__at_once="1",
                     dip__a__dip="10 min", dip__a__air="15 min", **changes)  # fmt: skip


def had(plan: Plan, *dips: tuple[int, bool]) -> Sheet:
    """Give the sheet once each piece has had so many dips, and is done or not, in the vat of the plan."""
    sheet = compute(plan)
    tank = Tank(sheet["vat.liquor"].value, sheet["vat.strength"].value)
    pieces = {f"a.{number}": PieceSoFar(0.1 * many, 0.05 * many, many, done)
              for number, (many, done) in enumerate(dips, start=1)}  # fmt: skip
    return compute(plan, SoFar(tank, pieces))


def eight(strength: float, dips: int, depth: float) -> Sheet:
    """Give the sheet of eight wool skeins after so many dips, so deep (%), in a vat that is so strong by now (g/L)."""
    plan = plan_with(lots__a__mass="800 g", lots__a__pieces="8", lots__a__depth="0.8 %")
    litres, piece = compute(plan)["vat.liquor"].value, PieceSoFar(depth=depth, rinsed_g=0.1, dips=dips)
    return compute(plan, SoFar(Tank(litres, strength), {f"a.{number}": piece for number in range(1, 9)}))


def test_stock_brought_in_brings_the_lot_to_its_depth() -> None:
    """Two dips in a vat of 0.02 g/L; at 0.6 g/L the dips that are accepted for a medium blue will do, and none is pale.

    By hand: 0.85 x (0.9 + 3 x 0.706 x 0.893) = 2.37 g/kg the first, 800 g of 20.4 L take a tenth of the dye each round.
    """
    sheet = eight(0.6, dips=2, depth=0.024)
    assert sheet["dip.a.reaches"].value >= 0.95 * 0.8
    assert 2 < sheet["dip.a.dips"].value <= 2 + 7
    assert said(sheet) == []


def test_pieces_out_of_step_are_counted_piece_by_piece() -> None:
    """Two with five of seven dips, the third with none of seven: 2 + 2 + 7 = 11 entries.

    By hand: the third goes in first, 11 min, then the two, who have aired; two rounds of three entries take 66 min.
    Then the third has five to come, of which the first can go in at once: 11 min, and 4 x (15 + 11) for the others.
    """
    sheet = had(three(dip__a__dips="7", dip__short_rest="0 min"), (5, False), (5, False), (0, False))
    assert sheet["dip.all_entries"].value == 11
    assert sheet["dip.minutes"].value == pytest.approx(66 + 11 + 4 * 26)


def test_a_piece_that_is_done_has_no_entry_to_come() -> None:
    """One of three done after two dips, seven held: 5 + 5 = 10 entries."""
    assert had(three(dip__a__dips="7"), (2, True), (2, False), (2, False))["dip.all_entries"].value == 10


def test_fewer_dips_held_than_had_hide_none_of_them() -> None:
    """Three dips had, then two held: the figure and the pieces count three, and no more water comes in."""
    sheet = had(three(dip__a__dips="2"), (3, False), (3, False), (3, False))
    assert sheet["dip.a.dips"].value == 3
    assert sheet["dip.a.dips"].pin is not None
    assert set(dict(sheet.piece_dips).values()) == {3}
    assert sheet["dip.brought"].value == 0
    assert sheet["dip.all_entries"].value == 0


def test_held_dips_leave_a_piece_that_is_done_as_it_is() -> None:
    """One dip and done, three had, none had; two held: one, three, two: the last brings its water in twice."""
    sheet = had(three(dip__a__dips="2"), (1, True), (3, False), (0, False))
    assert dict(sheet.piece_dips) == {"a.1": 1, "a.2": 3, "a.3": 2}
    litres = 2 * sheet["dip.a.piece"].value / 1000 * sheet["dip.a.carried"].value
    assert sheet["dip.brought"].value == pytest.approx(litres)


def test_a_vat_that_stands_thinned_is_told_by_what_stands_there() -> None:
    """Kettle water went in before the first dip: the litres and strength of now, and what helps a vat that is made."""
    plan = plan_with(None, lots__a__fibre="linen", method="fructose-lime")
    made = compute(plan)
    thin = Tank(1.5 * made.value("vat.liquor"), made.value("vat.strength") / 1.5)
    (words,) = [notice.text for notice in compute(plan, SoFar(tank=thin)).notices if notice.figure == "dip.a.dips"]
    assert f"{plain(thin.litres, 'L')} at {plain(two_digits(thin.strength), 'g/L')}" in words
    assert "a new one once the jar is empty" in words
    assert "smaller vat" not in words


def test_nobody_is_told_to_bring_stock_up_to_what_stands_there() -> None:
    """Medium wants 0.690 g/L where 0.688 stand: to the digits that are told there is nothing to bring in."""
    plan = plan_of_lots(("cotton", "240 g"), ("linen", "160 g"), plan=free_plan(), method="zinc-lime")
    for path, text in (("lots.b.depth", "light"), ("vat.fill", "10 L"), ("stock.pigment", "16.85 g")):
        plan = told(plan, path, text)
    sheet = compute(plan)
    told_of = [notice.text.rpartition("up to ")[2] for notice in sheet.notices if "before the dark" in notice.text]
    assert f"{plain(two_digits(sheet.value('vat.strength')), 'g/L')}." not in told_of
