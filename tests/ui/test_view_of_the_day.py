"""The day as a list, the steps, the notices and the head."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from attrs import evolve
from tests.plan.plans import plan_with

from vatside.bench.day_line import QUICK, Asked, LaidJob
from vatside.bench.glance import Progress, WaitView, next_of_day, next_step
from vatside.dayline.day_steps import steps as steps_of
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.steps import Step
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.log.waits import Moment
from vatside.plan.figure_text import figure_text
from vatside.plan.plan import Measure, Plan
from vatside.plan.sheet import DANGER, Notice, Stage, Weight
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.ui.day.figure_table import figure_rows, overview
from vatside.ui.day.step_list import day_rows, done_words, step_rows
from vatside.ui.text.head_rows import StageView, head_rows, in_hand, marked, opening_stage, stage_views, time_spans
from vatside.ui.text.rows import ASCII, UNICODE, cells
from vatside.ui.windows.notices import all_rows, banner_rows
from vatside.units import show_minutes

PLAN = evolve(starter_plan("Market day"), ready_by="2026-05-02T18:00")
SHEET = compute(PLAN)
STEPS = steps_of(PLAN, SHEET)
NOW = datetime(2026, 5, 2, 9, 0)
EMPTY = fold(Session("5e55", NOW.replace(tzinfo=UTC), PLAN))
STOCK = tuple(step for step in STEPS if step.stage is Stage.STOCK)


def laid_out(now: datetime = NOW, plan: Plan = PLAN, steps: tuple[Step, ...] = STEPS) -> LaidDay:
    """Lay the whole day out."""
    return lay_day(plan, compute(plan), steps, now.replace(tzinfo=UTC), zone=UTC, evaluations=QUICK)


def seen(day: LaidDay | None, now: datetime = NOW) -> LaidJob:
    """A day as the head is handed it."""
    moment = Moment(now.replace(tzinfo=UTC), 0.0, "boot")
    return LaidJob(Asked(PLAN, SHEET, STEPS, EMPTY, moment), day)


def head_words(day: LaidDay | None, now: datetime = NOW, **how: object) -> str:
    """What the head says of the time."""
    return "".join(span.text for span in time_spans(seen(day, now), over=False, **how))  # type: ignore[arg-type]


def progress(*done: str, **more: object) -> Progress:
    """Say which steps are done."""
    return Progress(set(done), more.get("running", {}))  # type: ignore[arg-type]


def test_the_day_is_in_order_also_past_midnight() -> None:
    """A stage that begins on the next day stands behind those of this one, and names its day."""
    late = laid_out(plan=evolve(PLAN, ready_by="2026-05-02T23:00"))
    lines = [item.text for item in day_rows(STEPS, (), late, 60, UNICODE)]
    names = [line.split()[1] if ":" in line.split()[0] else line.split()[2] for line in lines if ":" in line]
    assert names.index("Scour") < names.index("Stock") < names.index("Vat") < names.index("Dip")
    assert names[-1] == "Finish"
    assert next(line for line in lines if "Finish" in line).strip().startswith("Sun ")


def test_dipping_is_listed_after_its_vat() -> None:
    """Pieces are wetted while the vat rests; the list says when they go in, which is once it is ready."""
    day = laid_out()
    lines = [item.text for item in day_rows(STEPS, (), day, 60, UNICODE)]
    ready, dip = (next(n for n, line in enumerate(lines) if words in line) for words in ("fibre ready", " Dip "))
    assert ready < dip
    assert f"{day.starts['dip.rotate']:%H:%M}" in lines[dip]


def test_the_vat_is_ready_when_it_is_wanted() -> None:
    """The list says the hour of the laid day, which is up to some minutes before the wanted one."""
    day = laid_out()
    assert day.ready is not None
    [line] = [item.text for item in day_rows(STEPS, (), day, 60, UNICODE) if "Vat and fibre ready" in item.text]
    assert f"{day.at(day.ready):%H:%M}" in line
    assert timedelta(0) <= datetime(2026, 5, 2, 18, tzinfo=UTC) - day.at(day.ready) < timedelta(minutes=10)


def test_a_late_vat_is_told_beside_its_hour() -> None:
    """Begun 40 minutes after the latest beginning: the list says how late all is ready, and what was wanted."""
    now = laid_out().begin.replace(tzinfo=None) + timedelta(minutes=40)
    late = laid_out(now)
    assert late.spare is not None
    assert -40 <= late.spare <= -30
    [line] = [item.text for item in day_rows(STEPS, (), late, 60, UNICODE) if "Vat and fibre ready" in item.text]
    assert line.rstrip().endswith(f"{-late.spare} min late, wanted 18:00")
    assert f"{-late.spare} min late" in head_words(late, now)


def test_a_day_that_cannot_be_laid_is_told_calmly() -> None:
    """No times, a word in the head, and the stages with what is to be done in them."""
    assert head_words(None) == "no times: this day cannot be laid"
    lines = [item.text for item in day_rows(STEPS, (), None, 60, UNICODE, "This day cannot be laid: for a reason.")]
    assert any("Scour" in line for line in lines)
    assert not any(":" in line.split()[0] for line in lines if line.strip())
    assert any("! This day cannot be laid: for a reason." in line for line in lines)


def test_a_day_that_is_to_come_says_when_it_begins() -> None:
    """Where there is little room, in place of what is in hand: 2 May 2026 at nine, for a vat at six in the evening."""
    day = laid_out()
    assert head_words(day).startswith(f"begin {day.begin:%H:%M} · vat by 18:00 · ")
    assert head_words(day, wide=False) == f"begin {day.begin:%H:%M} · vat by 18:00"
    assert head_words(laid_out(day.begin), day.begin).startswith("vat by 18:00 · ")


def test_an_hour_that_went_by_long_ago_is_not_counted_from() -> None:
    """A file that is opened a day later says so in place of the hours."""
    now = datetime(2026, 5, 3, 18)
    assert head_words(laid_out(now), now) == "that hour is long past"


def test_where_the_dyer_is_to_be_home_first_her_hour_is_told() -> None:
    """The vat would be in time, but not the end of the day."""
    plan = evolve(PLAN, place=evolve(PLAN.place, home_by="19:00"))
    day = laid_out(plan=plan)
    assert "all done by 19:00 · " in head_words(day)
    assert f"{in_hand(day.spare or 0).text}" in head_words(day)


@pytest.mark.parametrize("plan", [PLAN, evolve(PLAN, ready_by=None)])
def test_what_keeps_the_vat_from_being_ready_stands_in_its_place(plan: Plan) -> None:
    """Once the steps of the vat are done, the head says what is true of it, wanted hour or none, and never late."""
    day = laid_out(datetime(2026, 5, 2, 18, 30), plan, tuple(step for step in STEPS if step.stage is Stage.DIP))
    assert head_words(day, vat="") == "the vat is ready"
    assert head_words(day, vat="the vat is kept") == "the vat is kept"


@pytest.mark.parametrize(
    ("gravest", "after"),
    [(None, Weight.CARE), (Weight.CARE, Weight.CARE), (Weight.DANGER, Weight.DANGER)],
)
def test_a_stage_with_refused_entries_carries_a_mark(gravest: Weight | None, after: Weight) -> None:
    """A mark of care, unless there is a danger to look out for; stages without refused entries stay as they are."""
    views = (StageView(Stage.STOCK, 5, 7, gravest), StageView(Stage.VAT, 0, 7, None))
    assert [view.gravest for view in marked(views, {Stage.STOCK})] == [after, None]


def test_the_mark_of_a_stage_stands_behind_its_name() -> None:
    """The head shows `STOCK 5/7 !` while something in the stock's form is refused."""
    views = marked((StageView(Stage.STOCK, 5, 7, None),), {Stage.STOCK})
    _, line = head_rows("Day", views, Stage.STOCK, (), 80, UNICODE, turns=True)
    assert "STOCK 5/7 !" in line.text


def test_a_danger_to_come_calls_once_its_stage_is_begun() -> None:
    """On an untouched day the signs are faint; with the paste ground that of the stock is madder, the others stay."""
    inks = {}
    for done in ((), ("stock.paste",)):
        views = stage_views(tuple(Stage), STEPS, frozenset(done), ())
        _, line = head_rows("Day", views, Stage.PLAN, (), 100, UNICODE, turns=True)
        inks[done] = [span.role for span in line.spans if span.text == DANGER.sign]
    assert set(inks[()]) == {"faint"}
    assert sorted(inks[("stock.paste",)]) == sorted([DANGER.ink, *inks[()][1:]])


def test_a_notice_goes_before_a_danger_far_off() -> None:
    """What the plan may not do is to be seen now; so is an entry that was refused."""
    notice = Notice(Stage.STOCK, Weight.CARE, "Take one more jar.")
    (view,) = stage_views((Stage.STOCK,), STEPS, frozenset(), (notice,))
    assert view.gravest is Weight.CARE
    (view,) = marked(stage_views((Stage.STOCK,), STEPS, frozenset(), ()), {Stage.STOCK})
    assert (view.gravest, view.far_off) == (Weight.CARE, False)


@pytest.mark.parametrize("width", [60, 80, 100])
def test_every_stage_is_named_whole_with_all_its_marks(width: int) -> None:
    """Gaps and counts give way before a name does."""
    views = stage_views(tuple(Stage), STEPS, frozenset(step.id for step in STEPS[:2]), ())
    views = marked(views, frozenset(Stage))
    for here in Stage:
        _, line = head_rows("Day", views, here, (), width, UNICODE, turns=True)
        assert "…" not in line.text
        assert "finish" in line.text.casefold()


@pytest.mark.parametrize("width", [34, 38, 41, 60])
def test_names_of_stages_are_never_cut(width: int) -> None:
    """However long the times with their days are, counts and waits give way, not the name."""
    lines = [item.text for item in day_rows(STEPS, (), laid_out(datetime(2026, 5, 1, 9)), width, UNICODE)]
    for stage in ("Scour", "Stock", "Vat", "Dip", "Finish", "Vat and fibre ready"):
        assert any(f"  {stage}" in line for line in lines), lines
    assert all(cells(line) <= width for line in lines)


@pytest.mark.parametrize(
    ("minutes", "said"),
    [(72, "1 h 12 min in hand"), (0, "no time in hand"), (-5, "! 5 min late")],
)
def test_time_in_hand(minutes: int, said: str) -> None:
    """Time in hand, none, and late each have their words."""
    assert in_hand(minutes).text == said


def test_the_foot_counts_hands_and_not_airing() -> None:
    """A day whose pieces air for hours asks no more of the hands than one whose pieces air for minutes."""
    feet = []
    for air in ("10 min", "3 h"):
        plan = plan_with(dip__a__dips="3", dip__a__air=air)
        todo = steps_of(plan, compute(plan))
        feet.append(day_rows(todo, (), laid_out(NOW, plan, todo), 80, UNICODE)[-1].text)
    assert feet[0] == feet[1]
    assert "Hands on for" in feet[0]


def test_the_head_names_the_day_that_is_planned() -> None:
    """2 May 2026 is a Saturday, by the calendar; today needs no naming."""
    day = laid_out()
    assert "vat by Sat 2 May 18:00 · " in head_words(day, datetime(2026, 4, 30, 9))
    assert "vat by 18:00 · " in head_words(day)


def test_without_a_wanted_hour_it_says_when_the_vat_could_be_ready() -> None:
    """Nobody is late for nothing."""
    day = laid_out(plan=evolve(PLAN, ready_by=None))
    assert day.ready is not None
    assert head_words(day) == f"begun now, ready at {day.at(day.ready):%H:%M}"


def test_the_next_step_stands_out_and_done_ones_are_ticked() -> None:
    """The ticks come first, then the one step that stands out; the first column is the cursor's."""
    rows = step_rows(STOCK, progress(STOCK[0].id, STOCK[1].id), 60, UNICODE)
    ticked = [n for n, item in enumerate(rows) if "✓" in item.text]
    coming = {item.key for item in rows if item.spans and item.spans[0].role == "next"}
    assert len(ticked) == 2
    assert coming == {STOCK[2].id}
    assert all(item.text.startswith(" ") for item in rows if item.key)


def test_a_step_that_is_done_takes_as_many_rows_as_before() -> None:
    """No row below it moves under the hand."""
    before = step_rows(STOCK, progress(), 60, UNICODE)
    after = step_rows(STOCK, progress(*(step.id for step in STOCK)), 60, UNICODE)
    assert [item.key for item in before] == [item.key for item in after]


def test_what_can_hurt_stands_on_its_step_and_on_the_tab_of_its_stage() -> None:
    """The step where the lye goes in says danger, and so does its stage until it is done."""
    step = next(step for step in STOCK if any(caution.id == "lye" for caution in step.cautions))
    here = [item for item in step_rows(STOCK, progress(), 60, UNICODE) if item.key == step.id]
    assert any(row.text.lstrip().startswith("!! Lye") and row.spans[-1].role == "danger" for row in here)
    [before] = stage_views((Stage.STOCK,), STOCK, frozenset(), ())
    [after] = stage_views((Stage.STOCK,), STOCK, frozenset(step.id for step in STOCK), ())
    assert (before.gravest, after.gravest) == (Weight.DANGER, None)


def test_a_running_step_shows_what_is_left() -> None:
    """The wait's rest stands at the right edge of its step."""
    step = next(step for step in STOCK if step.minutes)
    wait = WaitView("w1", 1, step.wait_label, 90.0, 0.5, step=step.id)
    lines = [item.text for item in step_rows(STOCK, progress(running={step.id: wait}), 60, UNICODE)]
    assert any(line.rstrip().endswith("1:30") and "◷" in line for line in lines)


@pytest.mark.parametrize("width", range(30, 70))
def test_the_length_of_a_wait_does_not_read_on_from_the_words_before_it(width: int) -> None:
    """Two columns at least stand between them, so that nobody reads "7.5 L of 30 min"."""
    firsts = {item.id: item.minutes for item in STEPS if item.minutes}
    for item in step_rows(STEPS, progress(), width, UNICODE):
        length = show_minutes(firsts.get(item.key) or 0)
        if item.key in firsts and item.text.endswith(length):
            del firsts[item.key]
            assert item.text.removesuffix(length).endswith("  "), item.text
    assert not firsts


@pytest.mark.parametrize("signs", [UNICODE, ASCII])
@pytest.mark.parametrize("width", [30, 38, 58, 100])
def test_steps_fit_their_width(width: int, signs: object) -> None:
    """No row is wider than its region."""
    assert all(cells(item.text) <= width for item in step_rows(STEPS, progress(), width, signs))  # type: ignore[arg-type]


BIG = plan_with(lots__a__mass="1.4 kg", vessels__tub__volume="80 L", method="fructose-lime")


@pytest.mark.parametrize("measure", ["scale", "spoons"])
@pytest.mark.parametrize("width", [36, 37, 38, 44, 58, 100])
@pytest.mark.parametrize("plan", [PLAN, BIG], ids=["plain", "big"])
def test_figures_show_every_number_and_word_in_full(plan: Plan, width: int, measure: str) -> None:
    """However narrow the region, amounts and labels are never cut; what has no room stands below."""
    plan = evolve(plan, measure=Measure(measure))
    sheet = compute(plan)
    for stage in Stage:
        rows = figure_rows(sheet.of(stage), plan, {}, width, UNICODE)
        assert all(cells(item.text.rstrip()) <= width for item in rows)
        for figure in sheet.of(stage):
            shown = " ".join(item.text for item in rows if item.key == figure.id).split()
            assert not set(figure.label.split()) - set(shown)
            assert not set(figure_text(figure, plan).second.replace("less than ", "<").split()) - set(shown)


def test_an_amount_of_two_spoons_keeps_out_of_the_column() -> None:
    """`7 tbsp 2 tsp` stands in one piece and does not push the other spoons apart."""
    rows = figure_rows(compute(BIG).of(Stage.STOCK), BIG, {}, 58, UNICODE)
    assert any("g  7 tbsp 2 tsp" in item.text for item in rows)


def test_the_whole_day_is_what_comes_off_the_shelf() -> None:
    """The plan's figures are what is weighed by the spoon, and the size of the vat."""
    assert all(figure.teaspoons is not None or figure.id == "vat.liquor" for figure in overview(SHEET))
    assert {"stock.pigment", "stock.alkali", "vat.reducer"} <= {figure.id for figure in overview(SHEET)}


def test_next_step_skips_what_runs() -> None:
    """What runs is not what comes next."""
    wait = WaitView("w1", 1, "x", 90.0, 0.5, step=STOCK[0].id)
    found = next_step(STOCK, progress(running={STOCK[0].id: wait}))
    assert isinstance(found, Step)
    assert found.id == STOCK[1].id


def test_a_day_opens_where_its_next_step_is() -> None:
    """Untouched it opens at the plan, begun at the next step, finished at the last stage."""
    everything = {step.id for step in STEPS}
    scoured = {step.id for step in STEPS if step.stage is Stage.SCOUR}
    assert opening_stage(STEPS, progress(), {}) is Stage.PLAN
    assert opening_stage(STEPS, progress(*scoured), {}) is Stage.STOCK
    assert opening_stage(STEPS, progress(*everything), {}) is STEPS[-1].stage


def test_what_is_next_goes_by_the_hour_and_not_by_the_row_of_stages() -> None:
    """The stock is done and rests first; the day scours a week later: the vat is next, and the day opens there."""
    done = {step.id for step in STOCK}
    vat, scour = (next(step for step in STEPS if step.stage is stage) for stage in (Stage.VAT, Stage.SCOUR))
    so_far, starts = progress(*done), {vat.id: NOW, scour.id: NOW + timedelta(days=6)}
    assert next_of_day(STEPS, so_far, starts) == vat
    assert "Vat is next" in done_words(Stage.STOCK, STEPS, next_of_day(STEPS, so_far, starts), UNICODE)
    assert opening_stage(STEPS, so_far, starts) is Stage.VAT


def test_nobody_is_sent_to_the_dips_before_the_vat_is_made() -> None:
    """Wetting out may lie before the look at the stock; the stock is what one goes on with."""
    stock, dip = (next(step for step in STEPS if step.stage is stage) for stage in (Stage.STOCK, Stage.DIP))
    scoured = {step.id for step in STEPS if step.stage is Stage.SCOUR}
    starts = {stock.id: NOW, dip.id: NOW - timedelta(hours=1)}
    assert next_of_day(STEPS, progress(*scoured), starts) == stock


def test_a_day_opens_where_a_wait_is_over() -> None:
    """Whatever comes next: what rings is seen to first."""
    wait = WaitView("w1", 1, "x", -5.0, 1.0, step=STOCK[-1].id)
    assert wait.over
    assert opening_stage(STEPS, progress(running={STOCK[-1].id: wait}), {}) is Stage.STOCK


def test_the_gravest_notice_comes_first_and_what_is_left_out_is_said() -> None:
    """Danger before care; notes only in the full list."""
    notices = [
        Notice(Stage.VAT, Weight.NOTE, "a note"),
        Notice(Stage.VAT, Weight.CARE, "have a care " * 20),
        Notice(Stage.VAT, Weight.DANGER, "it burns"),
    ]
    rows = banner_rows(notices, 60, 2)
    assert rows[0].text.strip() == "!! Danger: it burns"
    assert rows[-1].text.endswith("i")
    assert "a note" in "\n".join(item.text for item in all_rows(notices, plan_with(), 60))
    assert all(cells(item.text) <= 60 for item in rows)


def test_a_stage_carries_the_sign_of_its_gravest_notice() -> None:
    """The stage line knows how many steps are done and what is worst."""
    views = stage_views((Stage.STOCK,), STEPS, {STOCK[0].id}, SHEET.notices)
    assert (views[0].done, views[0].steps) == (1, len(STOCK))


def test_a_vat_that_takes_a_week_is_ready_on_a_named_day() -> None:
    """A fermentation begun now is ready on another day, and the head says which."""
    plan = evolve(PLAN, ready_by=None, method="fermentation")
    day = laid_out(NOW, plan, steps_of(plan, compute(plan)))
    assert day.ready is not None
    assert f" {day.at(day.ready).day} " in head_words(day)
    assert day.ready >= 6 * 24 * 60


@pytest.mark.parametrize("weight", Weight)
def test_a_notice_begins_with_a_sign_and_its_words_stand_in_one_column(weight: Weight) -> None:
    """So that where one ends and the next begins is seen without colours."""
    said = "the dips cool the vat, which is to be warmed again after each of the first six entries of the day"
    _, first, *rest = [row.text for row in all_rows((Notice(Stage.DIP, weight, said),), plan_with(), 40)]
    sign, _, words = first.strip().partition(" ")
    assert sign in ("!!", "!", "·")
    assert rest
    assert {cells(line) - cells(line.lstrip()) for line in rest} == {first.index(words)}
    assert all(cells(line) <= 40 for line in (first, *rest))
