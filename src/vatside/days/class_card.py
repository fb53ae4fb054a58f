"""The class card: what each table weighs, does and minds, hour by hour, and what a class must know beforehand.

One vat serves all tables. It, its stock, its lye and its reducer are the teacher's; the tables scour, dip and finish.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, tzinfo

from attrs import frozen

from vatside.dayline.day_steps import GENTLE, ROTATE, steps
from vatside.dayline.line.planning import EVALUATIONS
from vatside.dayline.step_uses import figures_in
from vatside.dayline.step_words import label, made_of_kept
from vatside.dayline.steps import DEFER, Step, caution, stage_name
from vatside.dayline.warn import long_day
from vatside.days.class_clock import (
    ClassDay,
    Row,
    Timed,
    by_stage,
    class_day,
    dipped_between,
    is_teachers,
    rows,
    together,
    uncounted,
)
from vatside.days.class_dips import Dipped, alike, as_done, dipped, names, pieces
from vatside.days.lots import FEW, heated, say_loads, say_uneven, shared
from vatside.log.fold import sheet_of
from vatside.log.state import State
from vatside.plan.figure_text import figure_text
from vatside.plan.measures import fibre_words, lot_grams, method_of, parts_of, powder
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Figure, Notice, Sheet, Stage, Weight, gravest_first
from vatside.units import show_amount, show_mass, show_minutes
from vatside.units.show import plain

NOTED = (Stage.PLAN, Stage.VAT, Stage.DIP)
"""Stages whose notes tell a class whether the day can be done; those of the others only spare water or time."""
KEPT = "Afterwards the teacher keeps the vat for another day"
LET_GO = "Afterwards the teacher leads the vat to its end: blue in the air first, and acid only then"
NEVER = "It is never poured off caustic; local rules come first."
GLOVES = "gloves"
"""The caution that everybody who dips reads, whatever the steps bring."""


def dangers(sheet: Sheet) -> tuple[str, ...]:
    """Give what can hurt someone or something."""
    return tuple(item.in_full for item in sheet.notices if item.weight is Weight.DANGER)


def looks(sheet: Sheet) -> tuple[str, ...]:
    """Give where the plan may not do what is wanted, the gravest first; of many notices the first."""
    notices = gravest_first(item for item in sheet.notices if _counts(item))
    more = f"And {len(notices) - FEW} more notices on the sheet of the day." if len(notices) > FEW + 1 else ""
    shown = notices[:FEW] if more else notices
    return (*(item.in_full for item in shown), *([more] if more else ()))


def _counts(notice: Notice) -> bool:
    return notice.weight is Weight.CARE or (notice.weight is Weight.NOTE and notice.stage in NOTED)


def vat_end(sheet: Sheet, plan: Plan) -> str:
    """Say what becomes of the vat, and of the stock that is left, which is not the tables' to do."""
    return f"{KEPT if sheet.value('finish.keep') > 0 else LET_GO}. {NEVER}{_jar(sheet, plan)}"


def _jar(sheet: Sheet, plan: Plan) -> str:
    litres = sheet.value("stock.left", 0.0)
    if not litres:
        return ""
    words = "; ".join(label(plan, litres, sheet.value("stock.left_strength"), made_of_kept(plan, sheet)))
    return f" The stock that is left stays closed in its jar. Its label: {words}."


MOST_TABLES = 60
WHEN_DRY = ("rub", "weigh")
"""Steps of the finish that come when the cloth is dry, a day after the class."""


@frozen
class Weighed:
    """One line of what to weigh and draw."""

    label: str
    whole: str
    each: str
    """For one table; the same as `whole` where nothing is divided."""


@frozen
class Doing:
    """One line of what to do."""

    at: str
    """Hour of the day; empty for what has none."""
    text: str
    """With the amounts of one table, or of the vat."""
    wait: str
    """Length of the wait that follows; empty if there is none."""
    mind: str
    """Titles of the cautions that stand before it."""
    stage: str
    teacher: bool


@frozen
class Part:
    """What is weighed and drawn for one stage, by each table or by the teacher for all."""

    name: str
    teacher: bool
    weighed: tuple[Weighed, ...]


@frozen
class Hazard:
    """What can hurt."""

    title: str
    lines: tuple[str, ...]


@frozen
class Handout:
    """Everything on the card, as plain text without markup."""

    title: str
    ready: str
    """The day and the hour at which the vat is wanted, or a line to write the day on."""
    vat: str
    dipping: str
    """How long the dips take, or when they were, from first in to last out; empty where nobody knows."""
    fibre: tuple[str, ...]
    tables: int
    notices: tuple[str, ...]
    """What in the plan itself can hurt."""
    hurts: str
    """Everything that can hurt, in a line."""
    parts: tuple[Part, ...]
    dips: tuple[Dipped, ...]
    uneven: tuple[str, ...]
    """What the tables cannot share alike: pieces of a lot, the loads of one pot."""
    times: tuple[Row, ...]
    no_times: str
    """Why there are no hours; empty where there are."""
    doing: tuple[Doing, ...]
    """Every step, in the order of the clock; the times name them by their numbers, which begin at 1."""
    hazards: tuple[Hazard, ...]
    looks: tuple[str, ...]
    """Where the plan may not do what is wanted."""
    end: str
    """What becomes of the vat."""
    defer: str = DEFER


def handout(
    state: State, tables: int, now: datetime, zone: tzinfo | None = None, evaluations: int = EVALUATIONS
) -> Handout:
    """Make a class card of a day for a number of tables; times are those on the wall of `zone` or the machine's own.

    The day is laid with `evaluations` looks, as on the screen. ValueError for no tables, or more than a hall holds.
    """
    if not 1 <= tables <= MOST_TABLES:
        raise ValueError(f"a class has between 1 and {MOST_TABLES} tables, not {tables}")
    plan, whole = state.plan, sheet_of(state)
    table_sheet = heated(plan, shared(whole, tables), tables)
    at_table = {step.id: step for step in steps(plan, table_sheet)}
    words = {name: plain(uncounted(step.text)) for name, step in at_table.items()}
    day = class_day(state, whole, now, zone, evaluations)
    shown = together([item for item in day.steps if not _is_not_for_tables(item.step)])
    late, groups, hazards = _long(plan, whole, day), alike(plan, whole), _hazards(shown)
    done = as_done(state, whole)
    return Handout(
        title=plain(plan.title),
        ready=_ready(day),
        vat=plain(method_of(plan).name),
        dipping=_dipping(state, whole, day, zone),
        fibre=tuple(plain(line) for line in _fibre(plan, tables)),
        tables=tables,
        notices=tuple(plain(line) for line in dangers(whole)),
        hurts=plain(_hurts(plan, hazards)),
        parts=tuple(_parts(plan, whole, table_sheet, shown)),
        dips=tuple(dipped(plan, whole, lots, tables, done) for lots in groups),
        uneven=tuple(
            plain(line)
            for line in (
                *say_uneven([(names(lots), pieces(lots)) for lots in groups], tables),
                *say_loads(plan, whole, tables),
            )
        ),
        times=tuple(rows(day, shown, words)),
        no_times=f"No hours: {day.problem}." if day.problem else "",
        doing=tuple(_doing(item, at_table[item.step.id], day) for item in shown),
        hazards=hazards,
        looks=tuple(plain(line) for line in (*([late] if late else []), *looks(whole))),
        end=vat_end(whole, plan),
    )


def _long(plan: Plan, sheet: Sheet, day: ClassDay) -> str:
    """Say of a day that is still to be begun how long it is, where it does not fit into one."""
    if day.laid is None or any(item.done for item in day.steps):
        return ""
    return long_day(plan, sheet, tuple(item.step for item in day.steps), day.laid)


def _dipping(state: State, whole: Sheet, day: ClassDay, zone: tzinfo | None) -> str:
    """How long the dips take, or what is left of them; once none is left, from when to when they were."""
    went = dipped_between(state, [lot.id for lot in state.plan.lots], zone)
    dips = [each for each in day.steps if each.step.id in (ROTATE, GENTLE)]
    if dips and all(each.done or each.passed for each in dips):
        return f"dipped from {day.clock(went[0])} to {day.clock(went[1])}" if went else ""
    return f"dipping takes {figure_text(whole['dip.minutes'], state.plan).main}{' more' if went else ''}"


def _ready(day: ClassDay) -> str:
    if day.wanted is not None:
        return f"{day.wanted:%A} {day.wanted.day} {day.wanted:%B %Y}, vat ready by {day.wanted:%H:%M}"
    if day.begins is None:
        return "Day: ____________"
    if any(item.done for item in day.steps):
        return f"{day.begins:%A} {day.begins.day} {day.begins:%B %Y}"
    return f"Day: ____________, begun at {day.begins:%H:%M}"


def _hurts(plan: Plan, hazards: Sequence[Hazard]) -> str:
    """Everything that can hurt in a line, and whose the vat is."""
    powders = [powder(plan, role).material for role in ("alkali", "reducer")]
    alkali, reducer = powders[0].short.lower(), powders[1].short.lower()
    titles, hers = "; ".join(hazard.title for hazard in hazards), f"its {alkali} or its {reducer}"
    return f"{titles}. One vat for all, made by the teacher: nobody else handles {hers}. What to wear and do: page two."


def _fibre(plan: Plan, tables: int) -> Iterator[str]:
    """Lot by lot, of many lots fibre by fibre, with the share of one table."""
    if len(plan.lots) <= FEW:
        for lot in plan.lots:
            per_table = _each(lot_grams(plan, lot), tables)
            yield f"{lot.name}: {show_amount(lot.mass)}{_blend(lot)}, pieces: {lot.pieces}{_whose(lot)}{per_table}"
        return
    for fibre in dict.fromkeys(fibre_words(lot) for lot in plan.lots):
        lots = [lot for lot in plan.lots if fibre_words(lot) == fibre]
        grams, pieces = sum(lot_grams(plan, lot) for lot in lots), sum(lot.pieces for lot in lots)
        start = f"{fibre}, lots: {len(lots)}: {show_mass(grams)}"
        yield f"{start}, pieces: {pieces}{_whose(*lots)}{_each(grams, tables)}"


def _blend(lot: Lot) -> str:
    """Say what a blend is made of; what one fibre is, its lot's name says."""
    return f" of {fibre_words(lot)}" if len(parts_of(lot)) > 1 else ""


MOST_NAMED = 60
"""Names that a line holds; a hall has no more. Ours."""


def _whose(*lots: Lot) -> str:
    names = [name for lot in lots for name in lot.names[: lot.pieces] if name]
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f" ({', '.join(names[:MOST_NAMED])}{more})" if names else ""


def _each(grams: float, tables: int) -> str:
    return f", {show_mass(grams / tables)} for each table if shared alike" if tables > 1 else ""


def _is_not_for_tables(step: Step) -> bool:
    """Keeping the vat or getting rid of it is not done at the tables, nor what comes once the cloth is dry."""
    return step.stage is Stage.FINISH and (step.id.count(".") == 1 or step.id.rpartition(".")[2] in WHEN_DRY)


def _parts(plan: Plan, whole: Sheet, table_sheet: Sheet, shown: Sequence[Timed]) -> Iterator[Part]:
    for stage, teacher, mine in by_stage(shown):
        weighed = tuple(_weighed(plan, whole, whole if teacher else table_sheet, mine))
        if weighed:
            yield Part(stage_name(stage, mine), teacher, weighed)


def _weighed(plan: Plan, whole: Sheet, table_sheet: Sheet, mine: Iterable[Step]) -> Iterator[Weighed]:
    """Every amount that the sentences of some steps name, once, in their order; temperatures stand in the sentences."""
    named = dict.fromkeys(figure for step in mine for figure in figures_in(plan, step.id))
    ones = {figure.id: figure for figure in table_sheet.figures}
    for figure in whole.figures:
        if figure.id in named and _is_measured_out(figure):
            label = f"{figure.group}: {figure.label}" if figure.group else figure.label
            yield Weighed(plain(label), _amount(figure, plan), _amount(ones[figure.id], plan))


def _is_measured_out(figure: Figure) -> bool:
    """Tell powders and water from masses that only come out, such as that of the wet fibre."""
    return figure.unit == "L" or (figure.unit == "g" and figure.teaspoons is not None)


def _amount(figure: Figure, plan: Plan) -> str:
    text = figure_text(figure, plan)
    return f"{text.main} ({text.second})" if text.second else text.main


def _doing(item: Timed, step: Step, day: ClassDay) -> Doing:
    """One step as its table has it; a smaller pot is hot sooner than the whole that the day is laid for."""
    wait = show_minutes(step.minutes) if step.minutes else ""
    if step.minutes and item.step.minutes != step.minutes:
        wait = f"{wait} in a pot of this size"
    mind = plain("; ".join(item.title for item in step.cautions))
    teacher = is_teachers(item.step)
    text = uncounted(step.text) if item.again else step.text
    return Doing(day.clock(item.at), plain(text), wait, mind, step.stage.value.capitalize(), teacher)


def _hazards(shown: Iterable[Timed]) -> tuple[Hazard, ...]:
    """Every caution once, in the order in which the day comes to it; that of the dips whatever the steps say."""
    by_id = {item.id: item for timed in shown for item in timed.step.cautions}
    by_id.setdefault(GLOVES, caution(GLOVES))
    ordered = sorted(by_id.values(), key=lambda item: not item.must_acknowledge)
    return tuple(
        Hazard(plain(item.title), tuple(plain(line) for line in item.lines if line != DEFER)) for item in ordered
    )
