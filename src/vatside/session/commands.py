"""What the dyer does, as events: each command looks at the state and gives what happened, or why not."""

from __future__ import annotations

from vatside.recipe.fields import get_value, is_pin, read
from vatside.recipe.plan import Plan
from vatside.session.events import (
    Entry,
    Event,
    PinCleared,
    PinSet,
    PlanChanged,
    Undone,
    WaitPaused,
    WaitResumed,
    WaitStarted,
)
from vatside.session.state import State
from vatside.session.waits import Wait, is_paused
from vatside.units import Amount, Problem


def change(plan: Plan, path: str, text: str) -> Event | Problem | None:
    """Set one field to what was typed; None if it says so already. KeyError if the plan has no such field."""
    value = read(plan, path, text)
    if isinstance(value, Problem):
        return value
    if value == get_value(plan, path):
        return None
    if not is_pin(path):
        return PlanChanged(path, value)
    return PinSet(path, value) if isinstance(value, Amount) else PinCleared(path)


def start_wait(
    state: State,
    label: str,
    minutes: float,
    *,
    step: str | None = None,
    nudges: tuple[float, ...] = (),
    nudge_label: str = "",
) -> WaitStarted:
    """Start a wait under an id that the session has not used yet."""
    return WaitStarted(f"w{state.seq + 1}", step, label, minutes, nudges, nudge_label)


def pause_or_resume(wait: Wait) -> WaitPaused | WaitResumed:
    """Stop a running wait, or let a stopped one run on."""
    return WaitResumed(wait.id) if is_paused(wait) else WaitPaused(wait.id)


CLOCKWORK = ("clock_slept", "clock_stepped", "clock_corrected", "session_reopened", "unknown")
"""Kinds that nobody did by hand and that an undo passes over."""


def undo(state: State) -> Undone | None:
    """Take back the latest thing the dyer did; None if nothing is left."""
    for entry in reversed(state.entries):
        if _can_be_undone(state, entry):
            return Undone(entry.seq)
    return None


def redo(state: State) -> Undone | None:
    """Take back the latest undo, if nothing else was done since; None otherwise."""
    for entry in reversed(state.entries):
        if entry.seq in state.undone:
            continue
        if isinstance(entry.event, Undone) and not _is_redo(state, entry.event):
            return Undone(entry.seq)
        if _can_be_undone(state, entry):
            return None
    return None


def _can_be_undone(state: State, entry: Entry) -> bool:
    event = entry.event
    return entry.seq not in state.undone and not isinstance(event, Undone) and event.kind not in CLOCKWORK


def _is_redo(state: State, event: Undone) -> bool:
    return isinstance(state.entries[event.event - 1].event, Undone)
