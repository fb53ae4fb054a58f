"""What was really done in a session: what went in, how long the waits took, what was read, which blues came out."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from attrs import evolve, frozen

from vatside.catalogue.load import materials
from vatside.chemistry.colour import Lab
from vatside.dayline.day_steps import steps
from vatside.dayline.step_uses import Use, uses, wait_figure
from vatside.dips.depth import Picked, Seen
from vatside.log.effects.pieces import name_of
from vatside.log.effects.vat import NEUTRALISE, grams, is_raising
from vatside.log.events.day import ColourNoted, StepDone, StepReopened
from vatside.log.events.vat import CorrectionMade, ReadingTaken, SwatchRecorded, VatLetGo, VatSpent, VatToppedUp
from vatside.log.fold import State, fold, history
from vatside.log.state import Session, counted, last_act
from vatside.log.waits import Moment
from vatside.plan.batches import Batch, batches
from vatside.plan.figure_text import show_weighed
from vatside.plan.measures import powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.recipe.compute import compute
from vatside.units import Amount, show_amount, show_minutes, show_percent, show_temperature
from vatside.vat.reading import Reading, looks

PIECE_WAIT = re.compile(r"[^:]+:(?:dip|air)\d+")
"""Ids of the waits that count dips and airings."""
SAID_LATER = ("finish.titrate",)
"""Steps that name an amount only about; what really went in is said when the vat is let go."""


@frozen
class Added:
    """A powder or liquid that really went in."""

    use: Use
    planned: float
    """What the plan at the end of the session works out, g; pins left aside."""
    at: Moment
    """When the step was done."""


@frozen
class Waited:
    """A wait that was sat out and ended."""

    step: str | None
    label: str
    figure: str
    """The figure that gives its length; empty for a free wait."""
    planned: float
    """Minutes that the plan at the end of the session works out, or that a free wait began with."""
    real: float
    """Minutes it really took, pauses left out."""
    of_piece: bool = False
    """A dip or an airing of one piece."""


def to_last_act(session: Session) -> Session:
    """Give a day up to the last thing that was done in it: looked at months later, it has not become longer."""
    last = last_act(session.entries)
    return session.upto(last.seq if last else 0)


def added(session: Session) -> tuple[Added, ...]:
    """Give what really went in: by the steps done, in their order, then by corrections and by the acid at the end.

    A kept vat that was topped up got all that its steps put in, ticked or not. An amount is the one that the plan had
    when the step was done; a pin that stands at the end corrects it, as does the spoon weighed by then.
    """
    final = fold(session)
    return (*_by_steps(session, final), *_by_hand(session, final))


def _by_steps(session: Session, final: State) -> Iterator[Added]:
    last = compute(final.plan)
    pinned = {pin.figure for pin in final.plan.pins}
    for step, at, plan in _steps_done(session, final):
        now = {use.figure: use for use in uses(final.plan, last, step)}
        for use in uses(plan, compute(plan), step):
            counts = now.get(use.figure, use) if use.figure in pinned else use
            planned = _worked(now[use.figure], last) if use.figure in now else use.grams
            yield Added(evolve(counts, material=use.material), planned, at)


def _worked(use: Use, sheet: Sheet) -> float:
    """Grams that the plan alone asks for; litres of a liquid go the same way."""
    row = sheet[use.figure]
    return use.grams * row.worked / row.value if row.value else row.worked


def _steps_done(session: Session, final: State) -> Iterator[tuple[str, Moment, Plan]]:
    """Every step that is done in the end, with the plan as it then was."""
    plans, opened = {}, set()
    topped: tuple[Moment, Plan] | None = None
    for entry, before in zip(session.entries, history(session), strict=False):
        event = entry.event
        if entry.seq in final.undone:
            continue
        if isinstance(event, StepDone):
            plans[event.step] = before.plan
        elif isinstance(event, StepReopened):
            opened.add(event.step)
        elif isinstance(event, VatToppedUp) and before.tending.account is not None:
            topped = (entry.at, before.plan)
    for step, at in final.done.items():
        if step in plans and step not in SAID_LATER:
            yield step, at, plans[step]
    if topped is not None:
        at, plan = topped
        yield from ((step, at, plan) for step in _topping_up(plan) if step not in {*final.done, *opened})


def _topping_up(plan: Plan) -> Iterator[str]:
    """Steps that put something into a kept vat or into the stock for it."""
    return (step.id for step in steps(plan, compute(plan)) if step.stage in (Stage.STOCK, Stage.VAT))


def _by_hand(session: Session, final: State) -> Iterator[Added]:
    """Corrections of the vat, and of the acid that neutralised it what none of them told of."""
    told: dict[str, float] = {}
    for entry, before in zip(session.entries, history(session), strict=False):
        event, use = entry.event, None
        if entry.seq in final.undone:
            continue
        if isinstance(event, VatSpent):
            told = {}
        elif isinstance(event, CorrectionMade) and not is_raising(event):
            why = "end" if event.remedy == NEUTRALISE else "correction"  # no blue is made in a vat that is let go
            use = _amount_use(before.plan, f"{why}.{entry.seq}", event.material, event.amount)
        elif isinstance(event, VatLetGo):
            use = _beyond(_amount_use(before.plan, f"end.{entry.seq}", event.acid, event.acid_amount), told)
        if use is not None:
            told[use.material] = told.get(use.material, 0.0) + use.grams
            yield Added(use, use.grams, entry.at)


def _beyond(use: Use | None, told: dict[str, float]) -> Use | None:
    """Give what of a use was not told of yet; None where that is no more than its rounding."""
    if use is None or use.grams <= (1 + ROUNDED) * told.get(use.material, 0.0):
        return None
    return evolve(use, grams=use.grams - told.get(use.material, 0.0))


ROUNDED = 0.02
"""Share of a sum of printed amounts that their rounding may come to: ours."""


def _amount_use(plan: Plan, step: str, material: str, amount: Amount | None) -> Use | None:
    if amount is None or not material:
        return None
    try:
        what = powder(plan, material)
        return Use(step, f"{step.partition('.')[0]}.{what.id}", what.id, grams(what, amount, plan))
    except (KeyError, ValueError):  # the log says it, nobody can weigh it
        return None


def waited(session: Session) -> tuple[Waited, ...]:
    """Give every wait that was ended, in that order."""
    state = fold(session)
    sheet = compute(state.plan)
    ended = []
    for wait in state.past_waits:
        figure = wait_figure(state.plan, wait.step) if wait.step else ""
        planned = next((row.worked for row in sheet.figures if row.id == figure), wait.minutes)
        of_piece = wait.step is None and PIECE_WAIT.fullmatch(wait.id) is not None
        ended.append(Waited(wait.step, wait.label, figure, planned, wait.banked / 60, of_piece))
    return tuple(ended)


def finishes_done(state: State, sheet: Sheet, went_in: Iterable[Added], sat_out: Iterable[Waited]) -> dict[str, str]:
    """Say what was done to each fibre after the vat, by the fibre's name; a fibre to which nothing was is not here."""
    real = {wait.step: round(wait.real) for wait in sat_out if wait.step}
    acids = dict(_acids(went_in))
    by_fibre = {}
    for batch in batches(state.plan):
        parts = [words for step, words in _parts(batch, sheet, real, acids) if batch.id(step) in state.done]
        if parts:
            by_fibre[batch.name] = ", ".join(parts)
    return by_fibre


def _acids(went_in: Iterable[Added]) -> Iterator[tuple[str, str]]:
    """What a sour was made of, by its step."""
    for item in went_in:
        material = materials()[item.use.material]
        if item.use.step.endswith(".sour") and material.role == "acid":
            much = show_weighed(item.use.material, item.use.grams)
            yield item.use.step, f" with {much} of {material.short.lower()}"


def _parts(batch: Batch, sheet: Sheet, real: dict[str, int], acids: dict[str, str]) -> Iterator[tuple[str, str]]:
    """What each step of the finish amounts to, by the step: its real time where one was taken."""

    def time(step: str, figure: str) -> str:
        return show_minutes(real.get(batch.id(step), sheet.value(batch.id(figure))))

    def times(figure: str) -> str:
        count = round(sheet.value(batch.id(figure)))
        return "once" if count == 1 else f"{count} times"

    wash = show_temperature(sheet.value(batch.id("wash")))
    yield "air", f"last air {time('air', 'last_air')}"
    yield "rinse", f"rinsed {times('rinses')}"
    yield "sour", f"soured {time('sour', 'sour')}{acids.get(batch.id('sour'), '')}"
    yield "sour_rinse", "rinsed"
    yield "wash", f"washed {time('wash', 'wash_minutes')} at {wash}"
    yield "last_rinse", f"rinsed {times('last_rinses')}"
    yield "dry", f"dried {time('dry', 'dry')}"


PARTS = {
    "temperature": "Temperature",
    "pH": "pH",
    "redox": "Redox",
    "colour": "Liquor",
    "clarity": "Clarity",
    "surface": "On top",
    "strip": "Strip",
    "seconds": "Strip turns in",
    "smell": "Smell",
    "feel": "Feel",
    "bottom": "Bottom",
    "cloth": "Cloth",
}
"""The parts of a reading and what they are called side by side."""
LAB = 3
"""Numbers of a measured colour."""


@frozen
class Read:
    """A reading and when it was taken."""

    at: Moment
    reading: Reading


def readings(state: State) -> tuple[Read, ...]:
    """Give every reading of the vat before it was spent, in the order of the log: what is drained made no blue."""
    spent = next((entry.at.utc for entry in counted(state) if isinstance(entry.event, VatSpent)), None)
    return tuple(
        Read(entry.at, entry.event.reading)
        for entry in counted(state)
        if isinstance(entry.event, ReadingTaken) and (spent is None or entry.at.utc < spent)
    )


def last_of(taken: tuple[Read, ...], part: str) -> Reading | None:
    """Give the latest reading in which the dyer looked at one part; None if she never did."""
    return next((item.reading for item in reversed(taken) if part_text(item.reading, part)), None)


def part_text(reading: Reading, part: str) -> str:
    """Print one part of a reading; empty where the dyer did not look."""
    if part == "temperature":
        return "" if reading.celsius is None else show_temperature(reading.celsius)
    if part == "pH":
        return _pH_text(reading)
    if part == "redox":
        return "" if reading.redox is None else f"{reading.redox:.0f} mV"
    if part == "seconds":
        return "" if reading.seconds is None else f"{reading.seconds:.0f} s"
    return ", ".join(looks(reading, part))


def _pH_text(reading: Reading) -> str:
    """A pH says nothing without its temperature."""
    if reading.pH is None:
        return ""
    warm = reading.sample_celsius
    at = "temperature not noted" if warm is None else f"at {show_temperature(warm)}"
    return f"{reading.pH:.1f} {at} ({reading.pH_by.value})"


def colours(state: State) -> dict[str, tuple[str, ...]]:
    """Give what was noted of each lot's colour, by lot id: the dyer's words first, then the swatches of its pieces."""
    by_lot: dict[str, list[str]] = {}
    words = {event.lot: event for entry in counted(state) if isinstance(event := entry.event, ColourNoted)}
    for lot, noted in words.items():
        by_lot.setdefault(lot, []).append(_words(noted))
    for piece, seen in {item.piece: item.seen for item in state.dipping.swatches}.items():
        by_lot.setdefault(_lot_of(piece, state), []).append(_seen(piece, seen, state))
    return {lot.id: tuple(by_lot[lot.id]) for lot in state.plan.lots if lot.id in by_lot}


def measured(state: State) -> dict[str, Lab]:
    """Give the latest measured colour of each lot, by lot id."""
    by_lot: dict[str, Lab] = {}
    for entry in counted(state):
        event = entry.event
        if isinstance(event, ColourNoted | SwatchRecorded) and len(event.lab) == LAB:
            lot = event.lot if isinstance(event, ColourNoted) else _lot_of(event.piece, state)
            by_lot[lot] = Lab(*event.lab)
    return {lot.id: by_lot[lot.id] for lot in state.plan.lots if lot.id in by_lot}


def _lot_of(piece: str, state: State) -> str:
    return piece if any(lot.id == piece for lot in state.plan.lots) else piece.rpartition(".")[0]


def _words(noted: ColourNoted) -> str:
    """Print a colour: the dyer's words, her depth, what was measured."""
    depth = "" if noted.depth is None else show_amount(noted.depth)
    lab = _lab_text(noted.lab) if noted.lab else ""
    return ", ".join(part for part in (noted.words, depth, lab) if part)


def _seen(piece: str, seen: Seen, state: State) -> str:
    """Print a swatch, with its piece where it is of one piece only."""
    whose = "" if _lot_of(piece, state) == piece else f"{name_of(state, piece)}: "
    if isinstance(seen, Lab):
        return whose + _lab_text((seen.L, seen.a, seen.b))
    if isinstance(seen, Picked):
        return f"{whose}as the step of {show_percent(seen.depth)}"
    side = "darker" if seen.darker else "paler"
    return f"{whose}{side} than the step of {show_percent(seen.depth)}, grade {seen.grade:g}"


def _lab_text(lab: tuple[float, ...]) -> str:
    return "L* a* b* " + ", ".join(f"{number:g}" for number in lab)
