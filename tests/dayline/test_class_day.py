"""A class worked through from people and grams to powder, vat, entries, rotation, end and bottleneck.

Ten people with 100 g of cotton each, ready scoured, at 1 %: the example's numbers (indigotin fixed 70 %, powder of
40 %, 15 L at about 0.95 g/L, 30 L/kg, four dips of 5 min and 1 min to handle them) are common practice, no source;
what follows from them is worked by hand beside each check.
"""

from datetime import timedelta
from math import ceil

import pytest
from attrs import evolve
from tests.dayline.instances import form_of, form_of_day
from tests.dayline.line_checker import faults
from tests.dayline.test_need import EIGHT, day_of, plan_of, random_plan

from vatside.bench.day_line import QUICK
from vatside.dayline.day_steps import steps
from vatside.dayline.going import Going
from vatside.dayline.hours import Hours
from vatside.dayline.laid_day import LaidDay, after_nights, lay_day
from vatside.dayline.tasks import template
from vatside.dayline.what_if import TOMORROW, bottleneck
from vatside.forms.fields import read
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute
from vatside.units import Problem

PEOPLE, GRAMS, DIPS, DIP, HANDLING, AIR = 10, 100, 4, 5, 1, 15


def class_plan(**changes: str) -> Plan:
    """The class, and what else is typed, `__` for a dot."""
    typed = {
        "lots.a.depth": "1 %",
        "shelf.indigo.purity": "40 %",
        "dip.a.dips": str(DIPS),
        "dip.a.dip": f"{DIP} min",
        "dip.a.air": f"{AIR} min",
    }
    made = plan_of(f"cotton, {PEOPLE * GRAMS} g, {PEOPLE} pieces, medium, ready scoured")
    for path, text in (typed | {path.replace("__", "."): text for path, text in changes.items()}).items():
        value = read(made, path, text, EIGHT)
        assert not isinstance(value, Problem), value
        made = set_value(made, path, value)
    return made


CLASS = class_plan()
SHEET = compute(CLASS)
DAY = day_of(CLASS)


def at_the_vat() -> LaidDay:
    """The same class once stock and vat are ready; the guests wash off at home."""
    made = tuple(step for step in steps(CLASS, SHEET) if template(step).id not in TOMORROW)
    done = {step.id: 10.0 for step in made if step.stage in (Stage.SCOUR, Stage.STOCK, Stage.VAT)}
    return lay_day(CLASS, SHEET, made, EIGHT, Going(done=done), evaluations=60)


@pytest.mark.parametrize(
    ("figure", "wanted", "within"),
    [
        ("stock.indigotin", 1000 * 0.01 / 0.70, 0.01),  # 10 g on the fibre, 14.3 g to bring in
        ("stock.pigment", 1000 * 0.01 / 0.70 / 0.40, 0.01),  # 36 g of powder at 40 %
        ("vat.fill", 15, 0.01),
        ("vat.strength", 0.95, 0.05),
        ("vat.entry", 15 / 30 * 1000, 0.01),  # 500 g at 30 L/kg
        ("vat.entries", PEOPLE * GRAMS / 500, 0.01),  # two groups
        ("dip.a.at_once", 5, 0.01),
    ],
)
def test_people_and_grams_give_powder_vat_and_entries(figure: str, wanted: float, within: float) -> None:
    """Each figure of the example, within 1 %, the strength, which the example rounds, within 5 %."""
    assert SHEET.value(figure) == pytest.approx(wanted, rel=within)


def test_two_groups_of_five_take_turns_four_times() -> None:
    """4 dips x 2 groups x (5 min + 1 min) are 48 min of vat time; everybody is in four times."""
    entries = [entry for turn in DAY.needed.rounds.values() for entry in turn.entries]
    assert [len(entry.pieces) for entry in entries] == [5] * DIPS * 2
    assert sum(entry.end - entry.begin for entry in entries) == DIPS * 2 * (DIP + HANDLING) == 48
    dipped = [piece for entry in entries for piece in entry.pieces]
    assert {dipped.count(piece) for piece in dipped} == {DIPS}
    assert len(set(dipped)) == PEOPLE


def test_a_group_airs_too_short_while_the_other_dips_so_the_vat_waits_for_the_air() -> None:
    """6 min of air are too short for 15: by hand three turns of 21 min and the last of 12 make 75 min, up to 90.

    Beyond those 75 min the vat is warmed again once.
    """
    starts = [DAY.laid.starts[task] for task in DAY.needed.rounds]
    turns = list(DAY.needed.rounds.values())
    in_all = starts[-1] + turns[-1].end - turns[-1].begin - starts[0]
    by_hand = (DIPS - 1) * (DIP + HANDLING + AIR) + 2 * (DIP + HANDLING)
    assert by_hand == 75
    assert by_hand <= in_all <= 90
    [(_, minutes)] = SHEET.held_up
    assert in_all == pytest.approx(by_hand + minutes, abs=len(turns))


def test_air_is_what_the_dips_wait_for() -> None:
    """The vat is ready: nothing more of anything helps, indigo is enough, the air takes longest of all."""
    found = bottleneck(at_the_vat())
    assert found is not None
    assert (found.name, found.more_helps) == ("air", False)
    assert SHEET.value("dip.kept") > 0


def test_the_class_ends_when_its_longest_way_does() -> None:
    """Before the date: no rule is broken, and stock, rests, dips, air and finish in a row say how soon it can end."""
    assert faults(form_of_day(DAY.needed.day), form_of(DAY.laid)) == []
    last = max(DAY.laid.starts[task] for task in DAY.needed.rounds)
    assert DAY.ready is not None
    assert DAY.ready <= min(DAY.laid.starts[task] for task in DAY.needed.rounds)
    assert DAY.laid.end > last + 30  # the last airing is half an hour at least


def test_names_stay_with_their_pieces() -> None:
    """Whose a piece is stands in the plan; one fewer is the last of them."""
    named = class_plan(lots__a__names=", ".join(f"Guest {number}" for number in range(1, PEOPLE + 1)))
    assert len(named.lots[0].names) == PEOPLE
    fewer = evolve(named, lots=(evolve(named.lots[0], pieces=9, mass=evolve(named.lots[0].mass, value=900.0)),))
    need = day_of(fewer).needed
    assert {piece for turn in need.rounds.values() for piece in turn.pieces} == {f"a.{n}" for n in range(1, 10)}


def test_a_second_pair_of_hands_does_not_shorten_what_waits_for_air() -> None:
    """Students dip, one looks on: more of them end no sooner than the same turns allow."""
    more = day_of(evolve(CLASS, place=evolve(CLASS.place, people=3)))
    turns = [ceil(turn.begin) for turn in more.needed.rounds.values()]
    assert turns == [ceil(turn.begin) for turn in DAY.needed.rounds.values()]


def test_a_few_layings_put_lunch_where_a_search_puts_it() -> None:
    """Vat by two, lunch of three quarters of an hour: begin, vat and end are those of 200 layings."""
    plan = evolve(CLASS, ready_by="2026-12-01T14:00", place=evolve(CLASS.place, lunch=45))
    sheet = compute(plan)
    quick, searched = (lay_day(plan, sheet, steps(plan, sheet), EIGHT, evaluations=count) for count in (QUICK, 200))
    assert (quick.begin, quick.ready, quick.laid.end) == (searched.begin, searched.ready, searched.laid.end)


@pytest.mark.parametrize(("seed", "ready", "least"), [(52, "18:00", "10:00"), (4, "18:00", "09:00")])
def test_a_day_begins_no_earlier_than_its_hour_and_its_evening_want(seed: int, ready: str, least: str) -> None:
    """All of what is in hand would take it into the night: it begins later by a part of it, and ends that evening."""
    plan = evolve(random_plan(seed), ready_by=f"2026-12-01T{ready}")
    sheet = compute(plan)
    day = lay_day(plan, sheet, steps(plan, sheet), EIGHT, evaluations=QUICK)
    assert f"{day.begin:%H:%M}" >= least
    assert day.spare is not None
    assert day.spare >= 0
    assert day.at(day.laid.end).date() == EIGHT.date()


def planned_on_the_eve(**hours: str) -> LaidDay:
    """A class of eight at half past nine that is too early for its vat, laid on the evening before."""
    made = set_value(plan_of("cotton, 600 g, 10 pieces, medium", lunch=45, **hours), "ready_by", "2026-12-01T09:30")
    sheet = compute(made)
    return lay_day(made, sheet, steps(made, sheet), EIGHT - timedelta(hours=14), evaluations=60)


@pytest.mark.parametrize("opens", ["08:00", "2026-12-01T08:00"])
def test_a_class_planned_on_the_eve_begins_when_the_door_opens_and_not_that_evening(opens: str) -> None:
    """However late it comes, nothing is done before the hour that is named, so no night lies in it."""
    day = planned_on_the_eve(not_before=opens)
    assert day.begin == EIGHT
    assert list(after_nights(day)) == []


def test_lunch_is_on_the_day_of_the_class_though_something_is_done_on_the_eve() -> None:
    """An hour without a day is one of the day on which the vat is wanted."""
    made = set_value(plan_of("cotton, 600 g, 10 pieces, medium", lunch=45), "ready_by", "2026-12-01T09:30")
    pause = Hours(made, EIGHT - timedelta(hours=14)).lunch()
    assert pause is not None
    assert pause.earliest == 18 * 60  # from 18:00 on the eve to 12:00


def test_the_vat_is_covered_before_everybody_goes_to_lunch() -> None:
    """A caustic vat stands open with nobody at it for a quarter of an hour at most, however the day is laid."""
    made = set_value(plan_of("cotton, 600 g, 10 pieces, medium", lunch=45), "ready_by", "2026-12-01T14:30")
    made = evolve(made, place=evolve(made.place, lunch_from="16:30", lunch_to="17:30"))
    day = day_of(made)
    covered, last = day.laid.starts["dip.cover"], max(day.laid.starts[name] + 7 for name in day.needed.rounds)
    assert 0 <= covered - last <= 15
