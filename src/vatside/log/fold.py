"""What follows from a session: the fold of its log over its plan.

Live running, reopening and replay all go through the same effects, one for each kind of event.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from attrs import evolve

from vatside.log import waits
from vatside.log.effects import pieces as _dip  # noqa: F401  (registers what the events of the pieces do)
from vatside.log.effects import stock as _stock  # noqa: F401  (registers what the events of a stock do)
from vatside.log.effects import vat as _care  # noqa: F401  (registers what the events of a vat do)
from vatside.log.effects.day import carry_out
from vatside.log.effects.kept_vat import in_step
from vatside.log.events.day import Entry, Event, Undone
from vatside.log.moment import Moment
from vatside.log.session import Session
from vatside.log.state import Misfit, Note, State, initial_state
from vatside.log.vat_clock import brought_up, clocked

__all__ = ["Misfit", "Note", "State", "apply", "carried_out", "fold", "history", "initial_state", "taken_back"]


def fold(session: Session) -> State:
    """Give the state after the whole log."""
    undone = taken_back(session.entries)
    state = evolve(initial_state(session), undone=undone)
    last: Moment | None = None
    for entry in session.entries:
        state = _carry_out(state, entry, last, skip=entry.seq in undone)
        last = entry.at
    return evolve(state, entries=session.entries)


def apply(state: State, entry: Entry) -> State:
    """Give the state after one more entry; taking something back goes through the log anew."""
    if isinstance(entry.event, Undone):
        return fold(evolve(state.began, entries=(*state.entries, entry)))
    # One copy of a long log, where unpacking would make two.
    return evolve(_carry_out(state, entry, state.last), entries=state.entries + (entry,))  # noqa: RUF005


def history(session: Session) -> Iterator[State]:
    """Every state that the session went through: first the bare plan, then one after each entry.

    As `apply` would give them, but without their entries.
    """
    states = [initial_state(session)]
    undos: list[Entry] = []
    yield states[0]
    for seq, entry in enumerate(session.entries, start=1):
        if isinstance(entry.event, Undone):
            undos.append(entry)
            _take_back(states, session.upto(seq), taken_back(undos))
        states.append(_next(states[-1], session, seq))
        yield states[-1]


def _take_back(states: list[State], session: Session, undone: frozenset[int]) -> None:
    """Put the states right from the first entry on that counts differently after the latest undo."""
    changed = undone ^ states[-1].undone
    if not changed:
        return
    del states[max(min(changed), 1) :]
    states[-1] = evolve(states[-1], undone=undone)
    for seq in range(len(states), len(session.entries)):
        states.append(_next(states[-1], session, seq))


def _next(state: State, session: Session, seq: int) -> State:
    entry = session.entries[seq - 1]
    last = session.entries[seq - 2].at if seq > 1 else None
    return _carry_out(state, entry, last, skip=seq in state.undone)


def taken_back(entries: Iterable[Entry]) -> frozenset[int]:
    """Numbers of the entries that do not count; read from the end, as an undo can itself be undone."""
    undone: set[int] = set()
    for entry in reversed(tuple(entries)):
        if isinstance(entry.event, Undone) and entry.seq not in undone and entry.event.event < entry.seq:
            undone.add(entry.event.event)
    return frozenset(undone)


def _carry_out(state: State, entry: Entry, last: Moment | None, *, skip: bool = False) -> State:
    """Let one entry change the state; one that does not fit is noted as a misfit."""
    if last is not None and last.boot != entry.at.boot:
        state = _tie_waits(state, entry.at)
    if skip:
        return state
    try:
        _check_undo(entry)
        return carried_out(entry.event, state, entry.at)
    except (KeyError, ValueError) as error:
        return evolve(state, misfits=state.misfits.and_one(Misfit(entry.seq, _reason(error))))


def carried_out(event: Event, state: State, at: Moment) -> State:
    """Give the state after an event; KeyError for what is not there, ValueError in words for what does not fit."""
    after = carry_out(event, brought_up(state, event, at), at)
    return clocked(state, in_step(state, after), event, at)


def _check_undo(entry: Entry) -> None:
    if isinstance(entry.event, Undone) and not 0 < entry.event.event < entry.seq:
        raise KeyError(f"earlier entry {entry.event.event}")


def _reason(error: KeyError | ValueError) -> str:
    return f"there is no {error.args[0]} here" if isinstance(error, KeyError) else str(error)


def _tie_waits(state: State, at: Moment) -> State:
    """On the first entry of another boot, tie the waits to its clocks: the time of day bridges the gap once."""
    return evolve(state, waits=state.waits.each(lambda wait: waits.tied(wait, at)))
