"""What the board of the dips shows, as values: its lines, what each piece will come to, how strong the vat is.

The look ahead names what to look out for; the strength is by the vat's account, and falls dip by dip.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import evolve, field, frozen

from vatside.bench.desk import Desk
from vatside.chemistry.errors import OutOfRange
from vatside.dips import rotation
from vatside.dips.rotation import Call, Do
from vatside.log.events.day import Entry, Undone
from vatside.log.events.vat import DipEnded
from vatside.log.fold import State, history
from vatside.log.state import Session
from vatside.log.vat_account import account_of, standing_at
from vatside.log.waits import Moment
from vatside.outlook import dip_board
from vatside.recipe.compute import compute
from vatside.vat.account_changes import tank_of


@frozen
class Line:
    """One piece at a moment."""

    row: rotation.Row
    since: Moment | None
    """When it came to where it is; None: it has not been in yet."""
    turn: str
    """What to do with it right now where it hangs or lies, because its call rings; else empty."""
    paused: bool


@frozen
class Following:
    """The piece that goes in next, or after the one called for; and in how many seconds."""

    piece: str
    name: str
    seconds: float


@frozen
class Board:
    """Everything on the dip board that moves with the clock."""

    call: Call
    lines: tuple[Line, ...]
    following: Following | None
    afterwards: tuple[str, ...] = ()
    """What to do once everybody has had the last dip."""

    @property
    def turning(self) -> Line | None:
        """A piece that wants to be turned."""
        return next((line for line in self.lines if line.turn), None)

    @property
    def piece(self) -> str:
        """The piece that the large words are about; empty where they are about none."""
        if self.call.do is not Do.LIFT and self.turning is not None:
            return self.turning.row.piece
        return self.call.piece or ""

    def line(self, piece: str) -> Line | None:
        """One piece."""
        return next((line for line in self.lines if line.row.piece == piece), None)


EVERY = 5.0
"""Seconds between two looks ahead, which are long work."""


@frozen
class DipForecasts:
    """What was seen on the last look ahead."""

    state: State | None
    until: float
    """When it is to be looked again, on the clock that never jumps."""
    warnings: tuple[str, ...] = ()
    comes_to: Mapping[str, float] = field(factory=dict)
    """What each piece that has dips to come will come to, %."""


class DipForecaster:
    """Looks ahead again once something happened, or the last look is old."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._seen = DipForecasts(None, 0.0)

    def now(self) -> DipForecasts:
        """Give what is seen now."""
        state, sheet, now = self._desk.state, self._desk.sheet, self._desk.clock.now()
        if self._seen.state is not state or now.elapsed >= self._seen.until:
            stands = standing_at(state, now)
            comes_to = {item.piece: item.reaches for item in dip_board.forecasts(stands, sheet)}
            warnings = dip_board.warnings(stands, sheet, now)
            self._seen = DipForecasts(state, now.elapsed + EVERY, warnings, comes_to)
        return self._seen


def strength(desk: Desk) -> float | None:
    """Give the vat's reduced indigotin as the account has it now, g/L; None where it cannot be worked out.

    A vat that was let go holds nothing, not what the plan would make.
    """
    if desk.state.tending.let_go is not None and desk.state.tending.account is None:
        return 0.0
    try:
        return tank_of(account_of(standing_at(desk.state, desk.clock.now()), desk.sheet)).strength
    except OutOfRange:
        return None


class StrengthHistory:
    """How the vat's strength fell, g/L: before the first dip and after each, as the log has them."""

    def __init__(self) -> None:
        self._entries: Sequence[Entry] = ()
        self._levels: tuple[float, ...] = ()

    def after(self, state: State) -> tuple[float, ...]:
        """Give it for a state; the log is gone through anew only where more than the latest dip is new."""
        old, self._entries = self._entries, state.entries
        new = state.entries[len(old) :]
        grown = bool(old) and len(state.entries) >= len(old) and state.entries[len(old) - 1] is old[-1]
        dips = sum(isinstance(entry.event, DipEnded) for entry in new)
        account = state.tending.account
        if grown and not new:
            return self._levels
        if not grown or dips > 1 or any(isinstance(entry.event, Undone) for entry in new) or not self._levels:
            self._levels = strengths(state)
        elif dips and account is not None:
            self._levels = (*self._levels, tank_of(account).strength)
        return self._levels


def strengths(state: State) -> tuple[float, ...]:
    """Go through the log: the strength before the first dip and after each, g/L."""
    levels: list[float] = []
    before: State | None = None
    for now in history(_as_it_counts(state)):
        account = now.tending.account
        if before is not None and account is not None and _out(before, now):
            levels += [] if levels else _before(before)
            levels.append(tank_of(account).strength)
        before = now
    return tuple(levels)


def _as_it_counts(state: State) -> Session:
    """Give the session as if what was taken back had never been."""
    kept = (entry for entry in state.entries if entry.seq not in state.undone)
    entries = tuple(entry for entry in kept if not isinstance(entry.event, Undone))
    return evolve(state.began, entries=entries)


def _before(state: State) -> list[float]:
    """Give the strength before the first dip; the first dip opens the account of a vat that nobody said was made."""
    try:
        return [tank_of(account_of(state, compute(state.plan))).strength]
    except OutOfRange:
        return []


def _out(before: State, now: State) -> bool:
    """Tell whether a piece came out between two states."""
    ended = [sum(item.end is not None for item in state.dipping.entered) for state in (before, now)]
    return ended[1] > ended[0]
