"""The class card: what each table weighs, does and minds, on one sheet, and what a class must know beforehand."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta, tzinfo

from attrs import frozen

from vatside.dayline.day_steps import DEFER, label, made_of_kept, steps
from vatside.dayline.laid_day import LaidDay, dated, lay_day
from vatside.dayline.line.model import NoPlanError
from vatside.dayline.line.planning import AT_ONCE
from vatside.dayline.long_day import long_day
from vatside.dayline.step_uses import figures_in
from vatside.dayline.steps import Step
from vatside.dayline.wall_clock import wanted_at
from vatside.days.lots import FEW, heated, say_pieces, say_uneven, shared
from vatside.dips.depth import depth_name
from vatside.dips.lot import dip_order, named
from vatside.plan.figure_text import figure_text
from vatside.plan.measures import fibre_words, lot_grams, method_of, parts_of, share
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Figure, Notice, Sheet, Stage, Weight
from vatside.recipe.compute import compute
from vatside.units import show_amount, show_mass, show_minutes
from vatside.units.show import plain

NOTED = (Stage.PLAN, Stage.VAT, Stage.DIP)
"""Stages whose notes tell a class whether the day can be done; those of the others only spare water or time."""
KEPT = "Afterwards the vat is kept for another day, by the steps of the app"
LET_GO = "Afterwards the vat is led to its end by the steps of the app: blue in the air first, and acid only then"
NEVER = "It is never poured off caustic; local rules come first."


def dangers(sheet: Sheet) -> tuple[str, ...]:
    """Give what can hurt someone or something."""
    return tuple(item.in_full for item in sheet.notices if item.weight is Weight.DANGER)


def looks(sheet: Sheet) -> tuple[str, ...]:
    """Give where the plan may not do what is wanted, the gravest first; of many notices the first."""
    found = sorted((item for item in sheet.notices if _counts(item)), key=lambda item: item.weight is not Weight.CARE)
    more = f"And {len(found) - FEW} more notices, in the app." if len(found) > FEW + 1 else ""
    shown = found[:FEW] if more else found
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


LONGEST_DAY = timedelta(days=60)
"""No preparation takes longer. Ours, no source."""
MOST_TABLES = 60
AT_HOME = ("rub", "weigh")
"""Steps of the finish that come when the cloth is dry, a day after the class."""


@frozen
class Weighed:
    """One line of what to weigh and draw."""

    label: str
    whole: str
    each: str
    """For one table; the same as `whole` where nothing is divided."""


@frozen
class Dipped:
    """How a lot, or several alike, are dipped: one line of the short table."""

    lot: str
    depth: str
    pieces: str
    """Of each table."""
    dips: str
    """From the piece that gets least to the one that gets most."""
    dip: str
    air: str


@frozen
class Doing:
    """One line of what to do."""

    at: str
    """Time of day, or time since the beginning; empty for what has no time of its own."""
    text: str
    """With the amounts of one table."""
    wait: str
    """Length of the wait that follows; empty if there is none."""
    mind: str
    """Titles of the cautions that stand before it."""


@frozen
class Part:
    """One stage of the day."""

    name: str
    weighed: tuple[Weighed, ...]
    doing: tuple[Doing, ...]


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
    """When the vat is wanted, or that times count from the beginning."""
    vat: str
    dipping: str
    """How long the dips take from the first piece in to the last one out."""
    fibre: tuple[str, ...]
    tables: int
    parts: tuple[Part, ...]
    dips: tuple[Dipped, ...]
    uneven: tuple[str, ...]
    """Lots whose pieces the tables cannot share alike."""
    hazards: tuple[Hazard, ...]
    notices: tuple[str, ...]
    """What in the plan itself can hurt."""
    looks: tuple[str, ...]
    """Where the plan may not do what is wanted."""
    end: str
    """What becomes of the vat."""
    defer: str = DEFER


def handout(plan: Plan, tables: int, now: datetime, zone: tzinfo | None = None) -> Handout:
    """Make a class card of a plan for a number of tables; times are those on the wall of `zone` or the machine's own.

    ValueError for no tables, or more than a hall holds.
    """
    if not 1 <= tables <= MOST_TABLES:
        raise ValueError(f"a class has between 1 and {MOST_TABLES} tables, not {tables}")
    whole = compute(plan)
    each = heated(plan, shared(whole, tables), tables)
    day = steps(plan, each)
    laid = _laid(plan, whole, day, now, zone)
    times = _times(laid, wanted_at(plan, now, zone))
    late, alike = long_day(plan, whole, day, laid) if laid else "", _alike(plan, whole)
    day = tuple(step for step in day if not _is_not_for_tables(step))
    return Handout(
        title=plain(plan.title),
        ready=_ready(times),
        vat=plain(method_of(plan).name),
        dipping=f"dipping takes {figure_text(whole['dip.minutes'], plan).main}",
        fibre=tuple(plain(line) for line in _fibre(plan, tables)),
        tables=tables,
        parts=tuple(_parts(plan, whole, each, day, times)),
        dips=tuple(_dipped(plan, whole, lots, tables) for lots in alike),
        uneven=tuple(plain(line) for line in say_uneven([(_names(lots), _pieces(lots)) for lots in alike], tables)),
        hazards=_hazards(day),
        notices=tuple(plain(line) for line in dangers(whole)),
        looks=tuple(plain(line) for line in (*([late] if late else []), *looks(whole))),
        end=vat_end(whole, plan),
    )


@frozen
class _Times:
    """When each step begins; nothing of a day that cannot be laid."""

    starts: Mapping[str, datetime]
    first: datetime
    wanted: datetime | None


def _laid(plan: Plan, sheet: Sheet, day: tuple[Step, ...], now: datetime, zone: tzinfo | None) -> LaidDay | None:
    """Lay the day out round the hour that the plan wants, even where that is past or out of reach by now."""
    wanted = wanted_at(plan, now, zone)
    begin = now if wanted is None else wanted - LONGEST_DAY
    try:
        return lay_day(dated(plan, wanted), sheet, day, begin, zone=zone, evaluations=AT_ONCE)
    except NoPlanError:
        return None


def _times(day: LaidDay | None, wanted: datetime | None) -> _Times:
    starts = day.starts if day else {}
    return _Times(starts, min(starts.values(), default=datetime.min), wanted)


def _fibre(plan: Plan, tables: int) -> Iterator[str]:
    """Lot by lot, of many lots fibre by fibre, with the share of one table."""
    if len(plan.lots) <= FEW:
        for lot in plan.lots:
            each = _each(lot_grams(plan, lot), tables)
            yield f"{lot.name}: {show_amount(lot.mass)}{_blend(lot)}, pieces: {lot.pieces}{_whose(lot)}{each}"
        return
    for fibre in dict.fromkeys(fibre_words(lot) for lot in plan.lots):
        some = [lot for lot in plan.lots if fibre_words(lot) == fibre]
        grams, pieces = sum(lot_grams(plan, lot) for lot in some), sum(lot.pieces for lot in some)
        said = f"{fibre}, lots: {len(some)}: {show_mass(grams)}"
        yield f"{said}, pieces: {pieces}{_each(grams, tables)}"


def _blend(lot: Lot) -> str:
    """Say what a blend is made of; what one fibre is, its lot's name says."""
    return f" of {fibre_words(lot)}" if len(parts_of(lot)) > 1 else ""


def _whose(lot: Lot) -> str:
    names = [name for name in lot.names[: lot.pieces] if name]
    return f" ({', '.join(names)})" if names else ""


def _each(grams: float, tables: int) -> str:
    return f", {show_mass(grams / tables)} for each table if shared alike" if tables > 1 else ""


def _alike(plan: Plan, whole: Sheet) -> tuple[tuple[Lot, ...], ...]:
    """Put lots together whose pieces are alike and dipped alike, in the order in which they first go in."""
    found: dict[tuple[object, ...], list[Lot]] = {}
    for lot in dip_order(plan, whole.value("vat.strength")):
        told = (figure_text(whole[f"dip.{lot.id}.{name}"], plan).main for name in ("dips", "dip", "air", "piece"))
        found.setdefault((fibre_words(lot), lot.form, share(lot.depth), *told), []).append(lot)
    return tuple(tuple(lots) for lots in found.values())


def _names(lots: Iterable[Lot]) -> str:
    return named([lot.name for lot in lots])


def _pieces(lots: Iterable[Lot]) -> int:
    return sum(lot.pieces for lot in lots)


def _dipped(plan: Plan, whole: Sheet, lots: tuple[Lot, ...], tables: int) -> Dipped:
    lot = lots[0]
    minutes = {name: show_minutes(whole.value(f"dip.{lot.id}.{name}")) for name in ("dip", "air")}
    return Dipped(
        lot=plain(_names(lots)),
        depth=depth_name(100 * share(lot.depth)),
        pieces=say_pieces(_pieces(lots), tables),
        dips=figure_text(whole[f"dip.{lot.id}.dips"], plan).main,
        dip=minutes["dip"],
        air=minutes["air"],
    )


def _is_not_for_tables(step: Step) -> bool:
    """Keeping the vat or getting rid of it is not done at the tables, nor what comes once the cloth is dry."""
    return step.stage is Stage.FINISH and (step.id.count(".") == 1 or step.id.rpartition(".")[2] in AT_HOME)


def _ready(times: _Times) -> str:
    if times.wanted is None:
        return "Times count from the beginning"
    return f"Vat ready on {times.wanted:%A} {times.wanted.day} {times.wanted:%B %Y} by {times.wanted:%H:%M}"


def _parts(plan: Plan, whole: Sheet, each: Sheet, day: tuple[Step, ...], times: _Times) -> Iterator[Part]:
    for stage in _by_the_clock(day, times):
        mine = tuple(step for step in day if step.stage is stage)
        if mine:
            weighed = tuple(_weighed(plan, whole, each, mine))
            yield Part(stage.value.capitalize(), weighed, tuple(_doing(step, times) for step in mine))


def _by_the_clock(day: Iterable[Step], times: _Times) -> list[Stage]:
    """Order the stages as they begin: a stock that rests for long is begun before the scour."""
    begins: dict[Stage, datetime] = {}
    last = max(times.starts.values(), default=times.first)
    for step in day:
        at = times.starts.get(step.id, last)
        begins[step.stage] = min(begins.get(step.stage, at), at)
    return sorted(Stage, key=lambda stage: begins.get(stage, last))


def _weighed(plan: Plan, whole: Sheet, each: Sheet, mine: Iterable[Step]) -> Iterator[Weighed]:
    """Every amount that the sentences of a stage name, once, in their order; temperatures stand in the sentences."""
    named = dict.fromkeys(figure for step in mine for figure in figures_in(plan, step.id))
    ones = {figure.id: figure for figure in each.figures}
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


def _doing(step: Step, times: _Times) -> Doing:
    at = times.starts.get(step.id)
    wait = show_minutes(step.minutes) if step.minutes else ""
    return Doing(_clock(at, times), plain(step.text), wait, plain("; ".join(item.title for item in step.cautions)))


def _clock(at: datetime | None, times: _Times) -> str:
    if at is None:
        return ""
    if times.wanted is not None:
        return f"{at:%H:%M}" if at.date() == times.wanted.date() else f"{at:%a %H:%M}"
    gone = round((at - times.first) / timedelta(minutes=1))
    return f"+{gone // 60}:{gone % 60:02d}"


def _hazards(day: Iterable[Step]) -> tuple[Hazard, ...]:
    """Every caution once, in the order in which the day comes to it."""
    found = {item.id: item for step in day for item in step.cautions}
    return tuple(
        Hazard(plain(item.title), tuple(plain(line) for line in item.lines if line != DEFER)) for item in found.values()
    )
