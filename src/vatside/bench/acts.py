"""What the dyer does at the bench, as events; each act answers with a sentence for her. A break of the whole day too.

In a break, or a delay, what can wait moves to its end, and what cannot is named.
"""

from __future__ import annotations

from attrs import evolve, frozen

from vatside.bench import commands
from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.glance import WaitView
from vatside.dayline.step_uses import uses
from vatside.dayline.steps import Step
from vatside.dips.rotation import Place
from vatside.log.events.day import (
    AlarmQuieted,
    Event,
    LotAdded,
    LotRemoved,
    NoteWritten,
    StepDone,
    StepReopened,
    WaitEnded,
    WaitExtended,
    WaitPaused,
    WaitResumed,
)
from vatside.log.waits import BREAK_NAME
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Remedy, Stage
from vatside.plan.starter import new_lot
from vatside.units import (
    Amount,
    Kind,
    Problem,
    parse_amount,
    show_amount,
    show_count,
    show_countdown,
    show_minutes,
    to_base,
)
from vatside.units.show import capital

KEEPS, LETS_GO = "finish.keep_fill", "finish.drain"
"""The steps with which the vat is kept, or gone."""
SAYS = {
    "finish.oxidise": "it stays blue: now read the pH of a cooled sample (r)",
    "finish.titrate": "v and then x takes what the sample took, and tells the dose",
    LETS_GO: "v and then x writes down where it went",
}
"""What follows at the end of the vat once a step of the list is done, where that is not all."""
MORE = 5.0
"""Minutes that one press adds to a wait or takes off it."""


def do(desk: Desk, step: Step) -> str:
    """Do a step, start its wait, finish what is over, or open again what was done."""
    from vatside.bench import vat_acts as care

    wait = next((item for item in desk.waits(desk.clock.now()) if item.step == step.id), None)
    if step.id in desk.state.done:
        desk.log(*_taken_back(desk, step), StepReopened(step.id))
        return "Open again."
    if wait is not None and not wait.over:
        return f"{wait.label}: {show_countdown(wait.left)} to go; e ends it early."
    if wait is not None:
        return end(desk, wait)
    if step.minutes:
        desk.settle()
        dips = _dips_before(desk, step)
        desk.log(*dips, commands.start_wait(step, desk.state.seq + 1), *care.begins_with(step.id, desk.state))
        return f"{step.wait_label or 'The wait'} runs for {show_minutes(step.minutes)}."
    if step.id == KEEPS:
        from vatside.bench import evening_acts as farther

        return farther.keep_vat(desk, "", StepDone(step.id))
    begins, ends = care.begins_with(step.id, desk.state), care.ended(step.id, desk.state, desk.sheet)
    counted = _counted_all_the_same(desk, step) if begins else ""
    desk.log(*_dips_before(desk, step), StepDone(step.id), *begins, *ends)
    return f"Done; {SAYS.get(step.id, 'u takes it back')}.{counted}"


def _counted_all_the_same(desk: Desk, step: Step) -> str:
    """Say which powders the account of the vat that now begins has in it, though their steps are not ticked."""
    before = desk.steps[: desk.steps.index(step)]
    left = [one for one in before if one.stage in (Stage.STOCK, Stage.VAT) and one.id not in desk.state.done]
    put_in = [one for one in left if any(uses(desk.plan, desk.sheet, one.id))]
    return f" Not ticked, but counted as in it: {put_in[0].text.partition(';')[0]}." if put_in else ""


def _dips_before(desk: Desk, step: Step) -> tuple[Event, ...]:
    """Give the dips that she has just said were done and not written down."""
    if not desk.all_the_same:
        return ()
    from vatside.outlook.hand_acts import NOT_DIPPED, Scene
    from vatside.outlook.step_interlocks import dips_as_planned

    if not any((item.rule, item.subject) == (NOT_DIPPED, step.id) for item in desk.all_the_same):
        return ()
    return tuple(dips_as_planned(Scene(desk.state, desk.sheet, desk.steps, desk.clock.now()), step.id))


def _taken_back(desk: Desk, step: Step) -> tuple[Event, ...]:
    """Give what opening a step again takes back with it."""
    from vatside.bench import evening_acts as farther
    from vatside.bench import vat_acts as care

    return farther.undo_keeping(desk.state) if step.id == KEEPS else care.undone_with(step.id, desk.state)


def end(desk: Desk, wait: WaitView) -> str:
    """End a wait, early or not; its step is done with it."""
    from vatside.bench import vat_acts as care

    events: list[Event] = [WaitEnded(wait.id)]
    if wait.step and wait.step not in desk.state.done:
        events += [StepDone(wait.step), *care.ended(wait.step, desk.state, desk.sheet)]
    desk.log(*events)
    return f"{wait.label} ended; {SAYS.get(wait.step or '', 'u takes it back')}."


def pause(desk: Desk, wait: WaitView) -> str:
    """Stop a wait, or let it run on."""
    desk.log(WaitResumed(wait.id) if wait.paused else WaitPaused(wait.id))
    return f"{wait.label} {'runs on' if wait.paused else 'paused; p lets it run on'}."


def extend(desk: Desk, wait: WaitView, minutes: float) -> str:
    """Add minutes to a wait or take some off, not more than are left."""
    if minutes < 0:
        minutes = -min(-minutes, max(wait.left, 0) / 60)
        if minutes == 0:
            return f"{wait.label} is over; e ends it."
    elif wait.over:
        minutes += -wait.left / 60
    desk.log(WaitExtended(wait.id, minutes))
    left = show_countdown(max(wait.left + minutes * 60, 0))
    return f"{wait.label}: {left} to go."


def quiet(desk: Desk) -> str:
    """Hear every alarm that rings."""
    ringing = [wait for wait in desk.waits(desk.clock.now()) if wait.ringing]
    if not ringing:
        return "Nothing rings."
    desk.log(*(AlarmQuieted(wait.id) for wait in ringing))
    return f"Heard: {', '.join(wait.label for wait in ringing)}."


def read_wait(text: str) -> tuple[float, str] | Problem:
    """Read `10 min rinse` (or `rinse 10 min`) into minutes and a name, or say what is wrong with it."""
    words = text.split()
    other = _no_time(words)
    if other is not None:
        return other
    for count in range(len(words), 0, -1):
        for time, name in ((words[:count], words[count:]), (words[-count:], words[:-count])):
            amount = parse_amount(" ".join(time), Kind.TIME, unit="min")
            if isinstance(amount, Amount):
                minutes = to_base(amount, Kind.TIME)
                if minutes > 0:
                    return minutes, " ".join(word for word in name if word != "for") or "A wait"
    return Problem(f"{_lacks(words)}Write how long and what for: 10 min rinse")


def _no_time(words: list[str]) -> Problem | None:
    """Say so where an amount of something else stands in front: `5 g` is no wait of five minutes for a g."""
    for count in (3, 2):
        begin = " ".join(words[:count])
        time = parse_amount(begin, Kind.TIME, unit="min")
        others = (parse_amount(begin, kind) for kind in (Kind.POWDER, Kind.VOLUME, Kind.TEMPERATURE))
        if len(words) >= count and isinstance(time, Problem) and any(isinstance(other, Amount) for other in others):
            return time
    return None


def _lacks(words: list[str]) -> str:
    """Say what is wrong with a wait in front of how it is written; empty where nothing is written yet."""
    if not words:
        return ""
    begin = parse_amount(" ".join(words[:2]), Kind.TIME, unit="min")
    if isinstance(begin, Amount):
        return "A wait is longer than nothing. "
    if words[0][0].isdigit() or words[0][0] in "-−–+":
        return f"{begin.text.partition(':')[0]}. "
    return f"{' '.join(words)}: no length of time is in it. "


def own_wait(desk: Desk, minutes: float, name: str) -> str:
    """Start a wait that belongs to no step."""
    desk.settle()
    desk.log(commands.free_wait(name, minutes, desk.state.seq + 1))
    return f"{name} runs for {show_minutes(minutes)}."


def note(desk: Desk, text: str) -> str:
    """Write free words into the log."""
    desk.log(NoteWritten(text))
    return "Noted."


def take_remedy(desk: Desk, remedy: Remedy) -> str:
    """Take what a notice offers to put it right, all of it at once."""
    desk.log(commands.take(remedy))
    return f"Put right; u takes it back. {capital(remedy.label)}."


def add_lot(desk: Desk) -> str:
    """Take one more lot in; give its id."""
    desk.settle()
    lot = new_lot(desk.state.plan)
    desk.log(LotAdded(lot))
    return lot.id


def remove_lot(desk: Desk, lot_id: str) -> str:
    """Take a lot out; the last one stays, and one of which anything was written is asked about."""
    desk.settle()
    lots = desk.state.plan.lots
    lot = next((lot for lot in lots if lot.id == lot_id), None)
    if len(lots) < 2 or lot is None:
        return "One lot stays; change it instead."
    if not _is_untouched(desk, lot) and not desk.once_more.answers(lot, desk.seconds):
        held = f"{show_amount(lot.mass)}, {show_count(lot.pieces, 'piece')}"
        return f"{lot.name} ({held}) would go with all that was written of it; the same key once more takes it out."
    desk.log(LotRemoved(lot_id))
    return f"{lot.name} is out; u brings it back."


def _is_untouched(desk: Desk, lot: Lot) -> bool:
    """Tell a lot that stands as one more lot comes, with nothing typed or held of it."""
    plan = desk.state.plan
    others = tuple(item for item in plan.lots if item.id != lot.id)
    fresh = new_lot(evolve(plan, lots=others))
    held = any(lot.id in pin.figure.split(".") for pin in plan.pins)
    return not held and lot == evolve(fresh, id=lot.id, name=lot.name) and lot.name in _usual_names(plan)


def _usual_names(plan: Plan) -> tuple[str, ...]:
    """Give the names that lots come with."""
    return tuple(f"Lot {number}" for number in range(1, len(plan.lots) + 2))


USUAL_BREAK = "15 min"
LONGEST_BREAK = 8 * 60.0
"""Minutes; who goes for longer keeps the vat. Ours, no source."""


@frozen
class Break:
    """What a break does to the waits that run."""

    moved: tuple[WaitView, ...]
    """They would be over before its end, and can stand until then."""
    cannot: tuple[tuple[WaitView, str], ...]
    """They cannot, and why; they ring as they would have."""


def read_break(text: str) -> float | Problem:
    """Read how long it is to be, in minutes; a bare number counts as minutes."""
    amount = parse_amount(text, Kind.TIME, unit="min")
    if isinstance(amount, Problem):
        return amount
    minutes = to_base(amount, Kind.TIME)
    if not 0 < minutes <= LONGEST_BREAK:
        return Problem(f"A break is longer than nothing and at most {show_minutes(LONGEST_BREAK)}; else keep the vat.")
    return minutes


def looked_at(desk: Desk, minutes: float) -> Break:
    """Say what a break would move, and what it cannot."""
    due = [wait for wait in desk.waits(desk.clock.now()) if not wait.paused and _calls_within(wait, minutes)]
    reasons = [(wait, _hindrance(desk, wait, minutes)) for wait in due]
    return Break(
        tuple(wait for wait, why in reasons if not why),
        tuple((wait, why) for wait, why in reasons if why),
    )


def take_break(desk: Desk, minutes: float) -> str:
    """Take a break: one act, which one undo takes back. Say what it moved and what cannot wait."""
    desk.settle()
    planned_break = looked_at(desk, minutes)

    line, now = line_of(desk), desk.clock.now()
    before = line.as_it_stands(now)
    moved: list[Event] = [WaitExtended(wait.id, minutes - wait.left / 60) for wait in planned_break.moved]
    desk.log(*moved, commands.free_wait(BREAK_NAME, minutes, desk.state.seq + 1 + len(moved)))
    line_words = line.said_of_break(before, now)
    return f"Break of {show_minutes(minutes)}; u takes it back. {break_words(planned_break)} {line_words}".strip()


def break_words(planned_break: Break) -> str:
    """Say what cannot wait, and then what moves."""
    cannot = "; ".join(f"{wait.label} {why}" for wait, why in planned_break.cannot)
    moved = ", ".join(wait.label for wait in planned_break.moved)
    parts = (f"Cannot wait: {cannot}." if cannot else "", f"Moved to its end: {moved}." if moved else "")
    return " ".join(part for part in parts if part) or "Nothing is due before its end."


def _calls_within(wait: WaitView, minutes: float) -> bool:
    coming = wait.left if wait.nudge_left is None else min(wait.left, wait.nudge_left)
    return coming < minutes * 60


def _hindrance(desk: Desk, wait: WaitView, minutes: float) -> str:
    """Say why a wait cannot stand until the end of a break; empty if it can."""
    when = f"in {show_countdown(wait.left)}" if wait.left > 0 else "now"
    places = {where.wait: where.place for where in desk.state.dipping.pieces.values()}
    if places.get(wait.id) is Place.IN_VAT:
        return f"comes out of the vat {when}"
    step = desk.step(wait.step) if wait.step else None
    template = step.template if step else None
    if template is not None and template.heats:
        return f"stands on the hob, over {when}"
    if wait.nudge_left is not None and wait.nudge_left < wait.left:
        return f"calls in {show_countdown(wait.nudge_left)}: {wait.nudge or 'look'}"
    late = minutes - max(wait.left, 0.0) / 60
    if template is not None and template.then_within is not None and late > template.then_within.value:
        return f"wants its next step within {show_minutes(template.then_within.value)}, over {when}"
    return ""
