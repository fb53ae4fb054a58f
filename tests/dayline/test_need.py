"""Whole days of plans: nothing is booked twice, the dips take turns as on the board, hours and facts are kept."""

from datetime import UTC, datetime
from random import Random
from zoneinfo import ZoneInfo

import pytest
from attrs import evolve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.dayline.instances import form_of, form_of_day
from tests.dayline.line_checker import faults

from vatside.catalogue.load import methods
from vatside.dayline.day_steps import steps
from vatside.dayline.day_words import stops
from vatside.dayline.entries import entries
from vatside.dayline.going import Going, Waiting
from vatside.dayline.hours import Hours
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.lanes import BREAK, lanes
from vatside.dayline.line.planning import hold, plan
from vatside.dayline.needed import Needed, needed
from vatside.dayline.rounds import rounds
from vatside.dayline.warn import outlook
from vatside.dips.entry_rule import rests
from vatside.dips.rotation import pieces
from vatside.forms.fields import read
from vatside.forms.lot_text import with_lot
from vatside.log.state import Session
from vatside.plan.paths import set_value
from vatside.plan.plan import Plan, Workplace
from vatside.plan.sheet import Stage
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.storage.session_text import decode, encode_new
from vatside.units import Amount, Problem

EIGHT = datetime(2026, 12, 1, 8, 0)
FIBRES = ("wool", "cotton", "silk", "linen", "alpaca", "viscose")
DEPTHS = ("pale", "light", "medium", "dark")


def plan_of(*lots: str, **place: object) -> Plan:
    """The starter's kitchen with these lots."""
    made = evolve(starter_plan(), lots=(), place=Workplace(**place))  # type: ignore[arg-type]
    for text in lots:
        more = with_lot(made, text)
        assert not isinstance(more, Problem), more
        made = more
    return made


def random_plan(seed: int) -> Plan:
    """Some lots, some kind of vat, some hands and things."""
    random = Random(seed)
    lots = [
        f"{random.choice(FIBRES)}, {grams} g, {random.randint(1, 6)} pieces, {random.choice(DEPTHS)}"
        for grams in random.choices([60, 150, 300, 500], k=random.randint(1, 4))
    ]
    made = plan_of(
        *lots,
        people=random.randint(1, 3),
        hobs=random.randint(1, 2),
        sinks=random.randint(1, 2),
        bowls=random.randint(2, 4),
        lunch=random.choice([0, 0, 30, 45]),
        pots=(Amount(random.choice([10, 16]), "L"),) * random.randint(0, 2),
        away=random.choice([None, None, "1 from 13:00", "1 until 09:00"]),
    )
    return evolve(made, method=random.choice(sorted(methods())))


def need_of(made: Plan, going: Going | None = None) -> Needed:
    """What is to be laid from eight in the morning."""
    sheet = compute(made)
    return needed(made, sheet, steps(made, sheet), EIGHT, going or Going())


def day_of(made: Plan, **how: object) -> LaidDay:
    """The day as it is laid out."""
    sheet = compute(made)
    return lay_day(made, sheet, steps(made, sheet), EIGHT, evaluations=60, **how)  # type: ignore[arg-type]


@settings(deadline=None, max_examples=20, suppress_health_check=list(HealthCheck))
@given(st.integers(0, 1_000_000))
def test_nothing_is_booked_twice_on_any_plan(seed: int) -> None:
    """Hands, hobs, sinks, pots, bowls and jars of random plans, checked minute by minute."""
    day = need_of(random_plan(seed)).day
    assert faults(form_of_day(day), form_of(plan(day, 10))) == []


def test_every_step_of_the_day_is_laid_or_left_for_another() -> None:
    """No step of the table is lost on the way, and none is made up."""
    made = plan_of("wool, 300 g, 3 pieces, medium", "cotton, 400 g, 4 pieces, medium")
    need = need_of(made)
    laid = {step.id for step in need.steps.values()} | {step.id for step in need.another_day}
    assert laid == {step.id for step in steps(made, compute(made))}


def test_the_rounds_take_as_long_as_the_sheet_says_the_dips_take() -> None:
    """Who goes in and when the vat rests is the same rule; here no warming falls between."""
    sheet = compute(starter_plan())
    found = entries(pieces(starter_plan(), sheet), rests(sheet), 1.0)
    assert len(found) == sheet.value("dip.all_entries")
    assert found[-1].end == pytest.approx(sheet.value("dip.minutes"))


def test_ten_lots_of_one_piece_are_dipped_as_one_lot_of_ten() -> None:
    """Lots have no say in who goes in when: alike pieces, five dips each, five to an entry, fill the same entries."""
    one = plan_of("cotton, 1000 g, 10 pieces, medium")
    ten = plan_of(*["cotton, 100 g, 1 piece, medium"] * 10)
    ends = []
    for made in (one, ten):
        sheet = compute(made)
        alike = [evolve(piece, dips=5, share=0.2) for piece in pieces(made, sheet)]
        found = rounds(entries(alike, rests(sheet), 1.0), 6)
        ends.append([(each.begin, each.end, len(each.entries)) for each in found])
    assert ends[0] == ends[1]


def test_a_lot_holds_up_only_the_round_that_has_a_piece_of_it() -> None:
    """Cotton may simmer while wool is dipped."""
    need = need_of(plan_of("wool, 300 g, 3 pieces, medium", "cotton, 400 g, 4 pieces, medium"))
    waits = {link.last for link in need.day.links if link.first == "scour.cotton.hang"}
    first_plant = next(task for task, each in need.rounds.items() if each.phase == 1)
    assert waits == {first_plant}


def test_the_hot_bath_is_rinsed_within_what_its_recipe_allows() -> None:
    """Cotton simmers 60 min and stands 120 (its recipe's range); wool stands ten minutes beyond its hour."""
    need = need_of(plan_of("wool, 200 g, 1 piece, medium", "cotton, 200 g, 1 piece, medium"))
    most = {link.first: link.most for link in need.day.links if link.last.endswith(".rinse")}
    assert most["scour.cotton.hold"] == 121
    assert most["scour.wool.hold"] == 71


def test_a_day_is_laid_backwards_from_the_hour_at_which_the_vat_is_wanted() -> None:
    """It begins as late as still does it: begun ten minutes later it would be late."""
    made = set_value(starter_plan(), "ready_by", "2026-12-01T14:00")
    day = day_of(made)
    assert day.spare is not None
    assert 0 <= day.spare < 10
    assert day.begin > EIGHT


def test_late_is_said_only_where_the_laid_day_ends_after_the_wanted_hour() -> None:
    """From eight on the vat cannot stand at nine."""
    day = day_of(set_value(starter_plan(), "ready_by", "2026-12-01T09:00"))
    assert day.begin == EIGHT
    assert day.spare is not None
    assert day.ready is not None
    assert day.spare == 60 - day.ready


def test_lunch_is_taken_in_its_window() -> None:
    """Nobody works while everybody stops."""
    day = day_of(evolve(starter_plan(), place=Workplace(lunch=45)))
    (begin,) = day.laid.breaks
    assert 12 * 60 <= 8 * 60 + begin <= 13 * 60 + 30


def test_a_lot_that_comes_later_is_soaked_later() -> None:
    """Its bath waits, the vat does not."""
    made = plan_of("wool, 200 g, 1 piece, medium", "cotton, 200 g, 1 piece, medium")
    late = evolve(made, lots=(made.lots[0], evolve(made.lots[1], comes="09:30")))
    laid = plan(need_of(late).day, 30)
    assert laid.starts["scour.cotton.soak"] >= 90
    assert laid.starts["scour.wool.soak"] < 90


def test_more_hands_never_make_a_held_plan_longer() -> None:
    """Adding a person to a plan that is held changes nothing."""
    one = need_of(plan_of("wool, 300 g, 3 pieces, medium")).day
    two = need_of(plan_of("wool, 300 g, 3 pieces, medium", people=2)).day
    laid = plan(one, 30)
    assert dict(hold(two, laid).starts) == dict(laid.starts)


def test_a_wait_that_runs_ends_when_it_ends() -> None:
    """Twelve minutes are left of the hold, and the rinse comes after them, the nudges heard are not called again."""
    done = {
        "scour.cotton.soak": 60.0,
        "scour.cotton.fill": 50.0,
        "scour.cotton.agents": 48.0,
        "scour.cotton.heat": 40.0,
    }
    going = Going(done=done, waits={"scour.cotton.hold": Waiting(gone=48, left=12)})
    need = need_of(plan_of("cotton, 300 g, 3 pieces, medium"), going)
    laid = plan(need.day, 30)
    assert laid.starts["scour.cotton.rinse"] >= 12
    assert laid.overrun == 0
    assert faults(form_of_day(need.day), form_of(laid)) == []
    (hold_task,) = (task for task in need.day.tasks if task.id == "scour.cotton.hold")
    assert all(laid.starts["scour.cotton.hold"] + nudge.at >= 0 for nudge in hold_task.nudges)


def test_a_bath_left_standing_is_told_in_minutes() -> None:
    """The hold was over two hours ago, its recipe lets it stand for one."""
    done = {
        "scour.cotton.soak": 300.0,
        "scour.cotton.fill": 280.0,
        "scour.cotton.agents": 270.0,
        "scour.cotton.heat": 250.0,
    }
    need = need_of(plan_of("cotton, 300 g, 3 pieces, medium"), Going(done=done | {"scour.cotton.hold": 120.0}))
    laid = plan(need.day, 30)
    assert laid.starts["scour.cotton.rinse"] == 0
    assert laid.overrun == 60


def test_a_plan_that_says_nothing_of_hands_and_things_has_one_of_each() -> None:
    """The defaults: one dyer, one hob, one sink, the scour pot, four bowls, no lunch."""
    things = need_of(starter_plan()).day.resources
    assert {name: thing.units for name, thing in things.items()} == {
        "hands": 1, "hob": 1, "sink": 1, "pot": 1, "bowl": 4, "jar": 1, "tub": 1,
    }  # fmt: skip


def test_hands_and_things_of_a_plan_are_set_by_their_paths_and_kept_in_its_file() -> None:
    """What is typed is read, held by the plan, and found again in a file; a plan without names none of it."""
    typed = {
        "place.people": "2", "place.hobs": "2", "place.pots": "10 L, 16 L", "place.away": "1 from 13:00 to 15:00",
        "place.lunch": "45", "place.jars": "3", "place.home_by": "17:00",
    }  # fmt: skip
    made = starter_plan()
    for path, text in typed.items():
        value = read(made, path, text, EIGHT)
        assert not isinstance(value, Problem), value
        made = set_value(made, path, value)
    assert made.place == Workplace(
        people=2, hobs=2, pots=(Amount(10, "L"), Amount(16, "L")), away="1 from 13:00 to 15:00", lunch=45, jars=3,
        home_by="2026-12-01T17:00",
    )  # fmt: skip
    session = Session("5e55", datetime(2026, 12, 1, tzinfo=UTC), made)
    assert decode(encode_new(session)).session.plan == made
    assert b"place" not in encode_new(evolve(session, plan=starter_plan()))


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("place.people", "0"),
        ("place.away", "2 sometimes"),
        ("place.away", "1 from 15:00 to 13:00"),
        ("place.pots", "tea"),
    ],
)
def test_what_is_no_place_is_refused_in_words(path: str, text: str) -> None:
    """Nothing is set."""
    assert isinstance(read(starter_plan(), path, text, EIGHT), Problem)


def test_those_who_are_away_are_not_planned_with() -> None:
    """One of two comes at nine: until then there is one pair of hands."""
    need = need_of(plan_of("wool, 300 g, 3 pieces, medium", people=2, away="1 until 09:00"))
    assert need.day.resources["hands"].away[0] == (0, 60, 1)


def test_one_who_comes_late_to_a_class_joins_the_dips_and_holds_nobody_up() -> None:
    """Ready scoured cloth of two, one of whom comes at noon: the vat and the first rounds do not wait for her."""
    made = plan_of("cotton, 500 g, 5 pieces, medium, ready scoured", "cotton, 100 g, 1 piece, medium, ready scoured")
    there = need_of(made)
    late = need_of(evolve(made, lots=(made.lots[0], evolve(made.lots[1], comes="12:00"))))
    piece = f"{made.lots[1].id}.1"
    on_time, later = (plan(need.day, 60) for need in (there, late))
    first = next(iter(late.rounds))
    assert later.starts[first] <= on_time.starts[first]
    hers = [
        later.starts[task] + entry.begin - turn.begin
        for task, turn in late.rounds.items()
        for entry in turn.entries
        if piece in entry.pieces
    ]
    assert len(hers) == sum(piece in entry.pieces for turn in there.rounds.values() for entry in turn.entries)
    assert min(hers) >= 4 * 60
    assert faults(form_of_day(late.day), form_of(later)) == []


def test_wool_that_comes_late_is_waited_for_before_the_pH_goes_up() -> None:
    """Plant fibres do not go in while wool is still to come."""
    made = plan_of("wool, 200 g, 2 pieces, medium, ready scoured", "cotton, 200 g, 2 pieces, medium, ready scoured")
    late = need_of(evolve(made, lots=(evolve(made.lots[0], comes="14:00"), made.lots[1])))
    phases = [entry.phase for turn in late.rounds.values() for entry in turn.entries]
    assert phases == sorted(phases)
    laid = plan(late.day, 60)
    assert min(laid.starts[task] for task in late.rounds) >= 6 * 60


@pytest.mark.parametrize(
    "lot", ["cotton, 480 g, 8 pieces, medium", "linen, 300 g, 6 pieces, medium", "wool, 400 g, 4 pieces, medium",
            "cotton, 600 g, 10 pieces, dark"],
)  # fmt: skip
def test_the_dips_are_laid_as_long_as_the_sheet_says_they_take(lot: str) -> None:
    """Rests, airing and warming the vat again included, but for each round's last minute that is not whole."""
    made = plan_of(lot)
    sheet = compute(made)
    day = lay_day(made, sheet, steps(made, sheet), EIGHT, evaluations=60)
    begins = [day.laid.starts[name] for name in day.needed.rounds]
    last = list(day.needed.rounds.values())[-1]
    laid = begins[-1] + last.end - last.begin - begins[0]
    assert 0 <= laid - sheet.value("dip.minutes") <= len(begins)


def hours_of(begin: datetime, until: int = 2000, **place: object) -> tuple[tuple[int, int, int], ...]:
    """The nights of a plan, in minutes from a beginning."""
    made = plan_of("wool, 200 g, 2 pieces, medium", **place)
    return Hours(made, begin).nights(until)


def test_nobody_works_from_ten_at_night_to_five_in_the_morning() -> None:
    """From eight in the morning the night begins after 14 h and lasts for 7; both of two people sleep."""
    assert hours_of(EIGHT, people=2) == ((14 * 60, 21 * 60, 2),)
    assert hours_of(EIGHT, 3000) == ((14 * 60, 21 * 60, 1), (38 * 60, 45 * 60, 1))


def test_an_hour_that_is_named_goes_before_the_night() -> None:
    """Home by eleven: until then she works; not before four: from then on; who has begun at midnight is up."""
    assert hours_of(EIGHT, home_by="2026-12-01T23:00") == ((15 * 60, 21 * 60, 1),)
    assert hours_of(EIGHT, not_before="2026-12-02T04:00") == ((14 * 60, 20 * 60, 1),)
    assert hours_of(EIGHT.replace(hour=23)) == ((23 * 60, 30 * 60, 1),)
    wanted = set_value(plan_of("wool, 200 g, 2 pieces, medium"), "ready_by", "2026-12-01T23:00")
    assert Hours(wanted, EIGHT).nights(2000) == ()


def test_a_night_is_as_long_as_the_clocks_make_it() -> None:
    """Berlin, the night of the change to summer time: six hours."""
    made, begin = plan_of("wool, 200 g, 2 pieces, medium"), datetime(2026, 3, 28, 7, 0, tzinfo=UTC)
    assert Hours(made, begin, ZoneInfo("Europe/Berlin")).nights(1500) == ((14 * 60, 20 * 60, 1),)


def test_what_does_not_fit_before_the_night_is_laid_the_next_morning_and_said() -> None:
    """Begun at three in the afternoon no hand moves at night, what only waits may stand, and a sentence tells it."""
    made = plan_of("wool, 300 g, 3 pieces, medium", "cotton, 400 g, 4 pieces, medium")
    sheet = compute(made)
    day = lay_day(made, sheet, steps(made, sheet), EIGHT.replace(hour=15), evaluations=60)
    night = (7 * 60, 14 * 60)
    assert day.needed.nights[0] == night
    assert [
        bar for bar in lanes(day)[0].bars if bar.label != BREAK and night[0] < bar.end and bar.begin < night[1]
    ] == []
    assert faults(form_of_day(day.needed.day), form_of(day.laid)) == []
    assert day.laid.end > night[1]
    assert any(said.startswith("It goes on after a night") for said in outlook(day).sentences)
    assert any(stop.name == "Night" for stop in stops(day))
    early = lay_day(made, sheet, steps(made, sheet), EIGHT, evaluations=60)
    assert not any("night" in said for said in outlook(early).sentences)


@pytest.mark.parametrize(("hour", "minute", "tonight"), [(20, 24, True), (21, 0, True), (21, 30, False)])
def test_a_ready_vat_is_dipped_in_by_eleven_at_night_or_in_the_morning(hour: int, minute: int, tonight: bool) -> None:
    """A hundred minutes of dips go on an hour past dusk, and only what cannot wait with them; never all night."""
    made = plan_of("wool, 300 g, 4 pieces, medium")
    sheet = compute(made)
    day_steps = steps(made, sheet)
    going = Going(done={step.id: 30.0 for step in day_steps if step.stage in (Stage.SCOUR, Stage.STOCK, Stage.VAT)})
    at = EIGHT.replace(hour=hour, minute=minute)
    day = lay_day(made, sheet, day_steps, at, going, evaluations=12)
    dipped = [(day.at(day.laid.starts[name]), day.at(day.laid.starts[name] + part.end - part.begin))
              for name, part in day.needed.rounds.items()]  # fmt: skip
    assert all((begin.date() == at.date()) is tonight for begin, _ in dipped)
    assert all(end.hour < 23 for _, end in dipped)


def test_a_vat_that_the_others_leave_no_place_all_the_way_is_put_off_part_of_it() -> None:
    """Sugar and lime for linen and wool: the vat waits for its first fibre for less than an hour and a half."""
    day = day_of(random_plan(4))
    need, starts = day.needed, day.laid.starts
    assert need.vat is not None
    assert need.ready is not None
    stands = starts[need.vat] + next(task.minutes for task in need.day.tasks if task.id == need.vat)
    assert starts[need.ready] - stands < 90
