"""A break or a delay of the whole day: what can wait moves to its end, what cannot is named."""

from __future__ import annotations

from attrs import frozen

from vatside.bench import commands
from vatside.bench.desk import Desk
from vatside.bench.wait_view import WaitView
from vatside.dips.pieces import Place
from vatside.log.events.day import Event, WaitExtended
from vatside.units import Kind, Problem, parse_amount, show_countdown, show_minutes, to_base

NAME = "Break"
"""What the wait is called that rings at its end."""
USUAL = "15 min"
LONGEST = 8 * 60.0
"""Minutes; who goes for longer keeps the vat. Ours, no source."""


@frozen
class Break:
    """What a break of so many minutes does to the waits that run."""

    minutes: float
    moved: tuple[WaitView, ...]
    """They would be over before its end, and can stand until then."""
    cannot: tuple[tuple[WaitView, str], ...]
    """They cannot, and why; they ring as they would have."""


def read_break(text: str) -> float | Problem:
    """Read how long it is to be, in minutes; a bare number counts as minutes."""
    found = parse_amount(text, Kind.TIME, unit="min")
    if isinstance(found, Problem):
        return found
    minutes = to_base(found, Kind.TIME)
    if not 0 < minutes <= LONGEST:
        return Problem(f"A break is longer than nothing and at most {show_minutes(LONGEST)}; else keep the vat.")
    return minutes


def looked_at(desk: Desk, minutes: float) -> Break:
    """Say what a break would move, and what it cannot."""
    due = [wait for wait in desk.waits(desk.clock.now()) if not wait.paused and _calls_within(wait, minutes)]
    reasons = [(wait, _hindrance(desk, wait, minutes)) for wait in due]
    return Break(
        minutes,
        tuple(wait for wait, why in reasons if not why),
        tuple((wait, why) for wait, why in reasons if why),
    )


def take(desk: Desk, minutes: float) -> str:
    """Take a break: one act, which one undo takes back. Say what it moved and what cannot wait."""
    desk.settle()
    found = looked_at(desk, minutes)
    moved: list[Event] = [WaitExtended(wait.id, minutes - wait.left / 60) for wait in found.moved]
    desk.log(*moved, commands.free_wait(NAME, minutes, desk.state.seq + 1 + len(moved)))
    return f"Break of {show_minutes(minutes)}; u takes it back. {words(found)}".strip()


def words(found: Break) -> str:
    """Say what cannot wait, and then what moves."""
    cannot = "; ".join(f"{wait.label} {why}" for wait, why in found.cannot)
    moved = ", ".join(wait.label for wait in found.moved)
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
