"""The day line on the screen: rows that fit and can be read without colour, and a day laid beside the keys."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.dayline.test_need import day_of, plan_of
from tests.ui.hands import Bench, Hands, wool_day
from tests.ui.seen import pairs

from vatside.bench import acts
from vatside.bench.desk import Desk
from vatside.bench.glance import next_of_day
from vatside.dayline.day_words import deeds, why
from vatside.dayline.what_if import Help
from vatside.log.events.day import PlanChanged, StepDone
from vatside.plan.sheet import Stage
from vatside.storage.places import themes_folder
from vatside.ui.line.beside import WAY_S, way_of
from vatside.ui.line.line_rows import act_rows, head_rows, lane_rows, warned_rows, why_rows
from vatside.ui.line.screen import LineScreen
from vatside.ui.text.rows import ASCII, UNICODE, Row, cells
from vatside.ui.theme.looks import read_looks
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows.ask import value_rows

PLAN = plan_of("wool, 200 g, 2 pieces, medium", "cotton, 200 g, 2 pieces, medium")
LATE = plan_of("wool, 200 g, 2 pieces, medium", home_by="2026-12-01T09:00")
DAY = day_of(PLAN)
LATE_DAY = day_of(LATE)
CLOCK = datetime(2026, 12, 1, 6, 0, tzinfo=UTC)


def text(rows: tuple[Row, ...]) -> list[str]:
    """The words alone."""
    return [row.text for row in rows]


@pytest.mark.parametrize("width", [60, 80, 120])
def test_lanes_and_acts_fit_the_width(width: int) -> None:
    """No row is wider than the screen, whatever its scale."""
    rows = (*lane_rows(DAY, PLAN, width, 20, UNICODE), *act_rows(DAY, width), *head_rows("A", DAY, "", width))
    assert [row.text for row in rows if cells(row.text) > width] == []


def test_the_whole_day_is_in_the_lanes() -> None:
    """A lane each for hands, hob, pot, sink, jar, vat and both lots; the last bar ends in the last column."""
    rows = text(lane_rows(DAY, PLAN, 80, 20, ASCII))
    names = [line.split()[0] for line in rows[1:9]]
    assert names == ["hands", "hob", "pot", "sink", "jar", "vat", *(lot.name for lot in PLAN.lots)]
    ends = [len(line.rstrip()) for line in rows[2:9]]
    assert max(ends) >= len(rows[1].rstrip()) - 1


def test_bars_carry_their_names_without_colour_or_box_lines() -> None:
    """In plain letters a hob says whose it is."""
    hob = next(line for line in text(lane_rows(DAY, PLAN, 80, 20, ASCII)) if line.startswith(" hob"))
    assert "[wool" in hob
    assert "[cotton" in hob
    assert hob.isascii()


def test_where_there_is_little_room_the_lots_and_what_is_scarce_are_kept() -> None:
    """Hands, hob, vat and lots; sink, jar and pots go."""
    names = [line.split()[0] for line in text(lane_rows(DAY, PLAN, 60, 10, ASCII))[1:6]]
    assert names == ["hands", "hob", "vat", *(lot.name for lot in PLAN.lots)]


def test_the_steps_come_in_the_order_of_their_times() -> None:
    """A row each with its own key."""
    rows = act_rows(DAY, 80)
    assert [row.key for row in rows if row.key] == [deed.task for deed in deeds(DAY)]
    assert all(row.text[2] == ":" for row in rows if row.key)


def test_a_late_day_says_so_and_names_what_would_help() -> None:
    """By a sign and a word as well as in colour; while nothing is known yet, that it is being worked out."""
    title, sentence, *_ = text(head_rows("A", LATE_DAY, "", 80))
    assert "!" in title
    assert sentence.lstrip()[0].isupper()
    trying = " ".join(text(warned_rows(LATE_DAY, (), trying=True, width=80, most=9)))
    assert "being worked out" in trying
    helps = (Help(("another hob",), 30, 20, enough=False),)
    assert "Another hob: 20 min sooner" in " ".join(text(warned_rows(LATE_DAY, helps, trying=False, width=80, most=9)))


def test_of_a_day_that_nothing_saves_the_earliest_hour_is_said() -> None:
    """The hour at which it ends as it is laid out, by its clock."""
    none = " ".join(" ".join(text(warned_rows(LATE_DAY, (), trying=False, width=80, most=9))).split())
    assert "No single change" in none
    assert f"The earliest that can be met is {LATE_DAY.at(LATE_DAY.laid.end):%H:%M} for the end." in none
    little = (Help(("another hob",), 30, 20, enough=False),)
    assert "The earliest" in " ".join(text(warned_rows(LATE_DAY, little, trying=False, width=80, most=9)))
    enough = (Help(("another hob",), 30, 20, enough=True),)
    assert "The earliest" not in " ".join(text(warned_rows(LATE_DAY, enough, trying=False, width=80, most=9)))


def test_an_hour_long_past_is_not_counted_in_days() -> None:
    """A file that is opened months later is not late."""
    old = evolve(LATE_DAY, home=-200 * 24 * 60)
    said = " ".join(text((*head_rows("A", old, "", 80), *warned_rows(old, (), trying=False, width=80, most=9))))
    assert "long past" in said
    assert "late" not in said.replace("latest", "")


def test_lunch_stands_among_the_steps_with_its_latest_hour() -> None:
    """Between the step before and the one after; nowhere between its two hours is it later than wanted."""
    made = plan_of("wool, 200 g, 2 pieces, medium", lunch=45, lunch_from="10:00", lunch_to="12:00")
    day = day_of(made)
    rows = act_rows(evolve(day, laid=evolve(day.laid, breaks=(150,))), 80)
    (lunch,) = [line for line in text(rows) if "Lunch" in line]
    assert lunch.startswith("10:30 Lunch until 11:15 ")
    assert lunch.split()[-2:] == ["latest", "12:00"]
    times = [line[:5] for line in text(rows)]
    assert times == sorted(times)


def test_the_legend_names_what_stands_in_the_lanes_and_nothing_else() -> None:
    """No break where there is none; digits where several work; a letter for each name that had no room."""
    legend = text(lane_rows(DAY, PLAN, 120, 20, ASCII))[-1]
    body = "".join(line[15:] for line in text(lane_rows(DAY, PLAN, 120, 20, ASCII))[1:-1])
    assert "all stop" not in legend
    assert all(f"{sign} {word}" in legend for sign, word in (("#", "busy"), ("+", "half")) if sign in body)
    assert all(f", {letter} " in legend for letter in set(body) if letter.isupper())
    many = plan_of("wool, 200 g, 2 pieces, medium", "cotton, 200 g, 2 pieces, medium", people=3, lunch=30)
    legend = text(lane_rows(day_of(many), many, 120, 20, ASCII))[-1]
    assert "pairs busy, = all stop" in legend
    assert "#" not in legend


def test_why_names_a_step_once() -> None:
    """What it follows and what gives it hands back may be the same step."""
    for deed in deeds(DAY):
        said = " ".join(why(DAY, deed.task)).lower()
        for other in deeds(DAY):
            first = other.step.text.partition(";")[0].partition(":")[0].partition(",")[0].lower()
            assert said.count(first) <= 1, (deed.task, said)


def test_a_day_in_hand_needs_no_help() -> None:
    """Nothing is said of changes."""
    assert warned_rows(DAY, (), trying=False, width=80, most=9) == ()


def test_why_names_the_step_and_the_reason() -> None:
    """The words of the step, then sentences."""
    task = deeds(DAY)[-1].task
    said = " ".join(text(why_rows(DAY, task, why(DAY, task), 70)))
    assert all(sentence.split()[0] in said for sentence in why(DAY, task))


async def at_the_line(hands: Hands) -> LineScreen:
    """Go to the day line by its keys and wait until it is laid."""
    await wool_day(hands)
    await hands.press("escape", "o", "z")
    screen = hands.app.screen
    assert isinstance(screen, LineScreen)
    await hands.until(lambda: screen.line.day is not None)
    await hands.until(lambda: bool(screen.chosen))
    return screen


def people_of(screen: LineScreen) -> int:
    """Pairs of hands of the day that is shown."""
    return screen.line.day.needed.day.resources["hands"].units if screen.line.day else 0


async def test_keys_lead_to_the_line_explain_a_step_and_lay_the_day_anew(bench: Bench) -> None:
    """From the day by two keys; Enter says why; a second pair of hands is logged and stands in the lane of hands."""
    async with bench(clock=VirtualClock(CLOCK)) as hands:
        screen = await at_the_line(hands)
        await hands.until(lambda: " hands " in hands.screen)
        assert screen.size.width == 80
        assert "= hands, hours" in hands.screen
        await hands.press("down", "enter")
        assert "Why then?" in hands.screen
        await hands.press("escape", "=", "1", "2", "enter")
        assert hands.desk.plan.place.people == 2
        assert isinstance(hands.desk.state.entries[-1].event, PlanChanged)
        await hands.until(lambda: people_of(screen) == 2)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_a_laid_day_can_be_read_in_every_look(bench: Bench, size: tuple[int, int]) -> None:
    """Words 4.5:1 on their ground, bars and shades 3:1, in every look that comes along."""
    looks = read_looks([themes_folder()])[0]
    async with bench(size=size, clock=VirtualClock(CLOCK)) as hands:
        screen = await at_the_line(hands)
        step = hands.desk.step(screen.chosen)
        assert step is not None
        screen.perform(lambda: acts.do(hands.desk, step))
        await hands.until(lambda: screen.line.day is not None and bool(screen.line.day.needed.day.running))
        await hands.until(lambda: " now " in hands.screen)
        seen = pairs(hands.app)
        assert [(look.id, pair) for look in looks for pair in seen if pair.is_too_faint(look.theme().variables)] == []


async def test_what_moved_is_said_when_a_wait_takes_longer(bench: Bench) -> None:
    """A step is begun, its wait made an hour longer: the line holds, moves the rest, and says so."""
    async with bench(clock=VirtualClock(CLOCK)) as hands:
        screen = await at_the_line(hands)
        step = hands.desk.step(screen.chosen)
        assert step is not None
        screen.perform(lambda: acts.do(hands.desk, step))
        await hands.until(lambda: screen.line.day is not None and bool(screen.line.day.needed.day.running))
        await hands.press(*"+" * 12)
        await hands.until(lambda: "later" in hands.screen)


@pytest.mark.laid
async def test_a_wide_day_under_way_shows_the_next_three(bench: Bench) -> None:
    """Beside its stages, once something was begun, with their times; a narrow window has no room for them."""
    async with bench(size=(120, 40), clock=VirtualClock(CLOCK)) as hands:
        await wool_day(hands)
        coming: Lines = hands.day.parts["coming"]
        at_first = len(coming.rows)
        assert at_first == 0
        await hands.press("escape")
        first = next(step for step in hands.desk.steps if step.minutes)
        hands.day.perform(lambda: acts.do(hands.desk, first))
        await hands.until(lambda: len(coming.rows) == 4)
        assert all(row.text.strip()[:3] == "now" or ":" in row.text[:6] for row in coming.rows[1:])
        await hands.until(lambda: " Next " in hands.screen)


def hold_the_scour(desk: Desk) -> None:
    """Do all of the scour up to its bath, which is begun."""
    scour = [step for step in desk.steps if step.stage is Stage.SCOUR]
    hold = next(step for step in scour if ".hold." in f"{step.id}.")
    for step in scour[: scour.index(hold)]:
        desk.record(StepDone(step.id))
    acts.do(desk, hold)


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_a_small_window_says_what_comes_first_on_another_stage(bench: Bench, size: tuple[int, int]) -> None:
    """While the fibre is scoured the stock is to be begun: whoever looks at the scour alone would be hours late."""
    async with bench(size=size, clock=VirtualClock(CLOCK)) as hands:
        await hands.begin(hold_the_scour, "scour")
        coming = next_of_day(hands.desk.steps, hands.day.glance.progress, hands.day.steps.starts)
        assert coming is not None
        assert coming.stage is Stage.STOCK
        hands.day.say("")
        await hands.settle()
        assert f" Next {hands.day.steps.starts[coming.id]:%H:%M} Stock: " in hands.screen
        await hands.to("stock")
        assert "Next " not in hands.screen


async def test_one_fewer_and_one_who_comes_late_are_two_keys_each(bench: Bench) -> None:
    """`x` and the lot take a piece out with its share, `=` and its letter set the hour at which a lot is there."""
    async with bench(clock=VirtualClock(CLOCK)) as hands:
        await at_the_line(hands)
        lot = hands.desk.plan.lots[0]
        await hands.press("x", "1")
        left = hands.desk.plan.lots[0]
        assert (left.pieces, left.mass.value) == (lot.pieces - 1, lot.mass.value * (lot.pieces - 1) / lot.pieces)
        await hands.press("u")
        assert hands.desk.plan.lots[0] == lot
        await hands.press("=", "c")
        await hands.press(*"11:30", "enter")
        assert (hands.desk.plan.lots[0].comes or "").endswith("11:30")
        await hands.press("=", "c", "escape")
        assert hands.desk.plan.lots[0].comes, "leaving its window says nothing of the hour"
        await hands.press("=", "c", *["backspace"] * 20, "enter")
        assert hands.desk.plan.lots[0].comes is None


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_the_key_row_stays_on_a_small_screen_whatever_is_said(bench: Bench, size: tuple[int, int]) -> None:
    """A late day says much; the lanes give way, keys and three steps stay."""
    async with bench(size=size, clock=VirtualClock(CLOCK)) as hands:
        screen = await at_the_line(hands)
        now = CLOCK.astimezone()
        hands.desk.log(PlanChanged("place.home_by", f"{now + timedelta(hours=1):%Y-%m-%dT%H:%M}"))
        screen.renew()
        await hands.until(lambda: "late" in hands.screen)
        await hands.until(lambda: "earliest" in hands.screen or "Another" in hands.screen)
        lines = hands.screen.splitlines()
        assert "why then" in lines[-1]
        assert sum(":" in line[:4] for line in lines) >= 3


async def test_all_that_the_day_counts_on_stands_on_one_line_each(bench: Bench) -> None:
    """At 24 rows the last value is in sight, and no value stands where a key could be taken for it."""
    async with bench(size=(80, 24), clock=VirtualClock(CLOCK)) as hands:
        await at_the_line(hands)
        await hands.press("=")
        shown = [line.strip("│ ") for line in hands.screen.splitlines()]
        assert any(re.fullmatch(r".*1 +Pairs of hands +1\b.*", line) for line in shown)
        assert any(re.fullmatch(r".*0 +Lunch from +12:00\b.*", line) for line in shown)


def test_a_search_stands_still_until_no_key_comes_any_more() -> None:
    """One key before it, then two while it waits: it waits once for each, and not again without another."""
    keys, waited = [3.0], []

    def wait(seconds: float) -> None:
        waited.append(seconds)
        if len(waited) == 1:
            keys.append(5.0)

    give_way = way_of(lambda: keys[-1], wait)
    give_way()
    assert waited == [], "a key of before the search has been worked off"
    keys.append(4.0)
    give_way()
    give_way()
    assert waited == [WAY_S, WAY_S]


@pytest.mark.parametrize("width", range(40, 80))
def test_what_the_day_counts_on_stands_off_its_name(width: int) -> None:
    """However long a name, two columns stand between it and its value."""
    others = [("1", "Hobs", "1"), ("c", "Linen napkins with a hem is there by", "not said")]
    rows = [item.text for item in value_rows(others, width)]
    assert [row.rpartition("  ")[2] for row in rows] == ["1", "not said"]
    assert all(cells(row) <= width for row in rows)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_a_window_of_words_is_no_taller_than_its_words(bench: Bench, size: tuple[int, int]) -> None:
    """The reason for a step is a line or two, and the day stays in sight around it; a long help takes all there is."""
    async with bench(size=size) as hands:
        await wool_day(hands)
        await hands.press("escape", "o", "z", "enter")
        top, bottom = (next(n for n, line in enumerate(hands.screen.splitlines()) if sign in line) for sign in "┏┗")
        assert "Why then?" in hands.screen
        assert 4 <= bottom - top <= 8
        await hands.press("escape", "question_mark")
        assert "Esc back" in hands.screen
        assert "hands, hours" in hands.screen
