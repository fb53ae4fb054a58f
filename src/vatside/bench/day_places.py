"""What a day counts on as the dyer sets it: hands, things and hours, when a lot is there, and one piece fewer."""

from __future__ import annotations

from attrs import evolve, frozen

from vatside.bench import commands
from vatside.bench.desk import Desk, local
from vatside.forms.fields import field, get_value, show
from vatside.forms.place_rows import place_rows
from vatside.log.events.day import PiecesWeighed, PlanChanged
from vatside.plan.paths import NAMES, names_said, piece_name
from vatside.plan.plan import Lot
from vatside.units import Amount, Problem, show_amount, show_count
from vatside.units.show import clean

LEFT_OUT = ("place.jars",)
"""What is seldom another than it is, and has no key."""
ROW_KEYS = "1234567890acdefghijklmnopqrstuvwxyz"
"""The keys of the rows, in their order; `b` goes back."""


@frozen
class PlaceRow:
    """One row about hands, things and hours: the key that chooses it, its path in the plan, and its text."""

    key: str
    path: str
    label: str
    text: str
    help: str

    @property
    def said(self) -> str:
        """The text of the row, or "not said" while it is empty."""
        return self.text or "not said"


def rows_of_place(desk: Desk) -> tuple[PlaceRow, ...]:
    """Hands, things and hours as the plan has them, and when each lot is there; keys count from 1, then by letters."""
    offered = [(row, row.label) for row in place_rows(desk.plan) if row.path not in LEFT_OUT]
    for lot in desk.plan.lots:
        offered.append((field(desk.plan, f"lots.{lot.id}.comes"), f"{clean(lot.name)} is there by"))
    return tuple(
        PlaceRow(key, row.path, label, show(desk.plan, row.path), row.help)
        for key, (row, label) in zip(ROW_KEYS, offered, strict=False)
    )


@frozen
class Fewer:
    """A lot of which one is not there: what it then holds."""

    lot: Lot
    pieces: int
    mass: Amount
    number: int
    """Which piece stays away, counted from 1."""

    @property
    def label(self) -> str:
        """The lot, or whose piece of it stays away."""
        return clean(piece_name(self.lot, self.number) if any(self.lot.names) else self.lot.name)

    @property
    def said(self) -> str:
        """`9 pieces, 900 g`."""
        return f"{show_count(self.pieces, 'piece')}, {show_amount(self.mass)}"

    @property
    def names(self) -> tuple[str, ...]:
        """The names that stay; the last one takes the place of the one that goes."""
        names = [*self.lot.names, *[""] * self.lot.pieces][: self.lot.pieces]
        names[self.number - 1] = names[-1]
        return tuple(names[:-1])


def one_fewer(desk: Desk) -> tuple[Fewer, ...]:
    """Each lot of which one piece can stay away, or each named piece, with what is left; none that was in the vat."""
    been_in = desk.state.dipping.pieces
    return tuple(
        Fewer(lot, lot.pieces - 1, evolve(lot.mass, value=lot.mass.value * (lot.pieces - 1) / lot.pieces), number)
        for lot in desk.plan.lots
        if lot.pieces > 1 and f"{lot.id}.{lot.pieces}" not in been_in
        for number in range(1 if any(lot.names) else lot.pieces, lot.pieces + 1)
        if f"{lot.id}.{number}" not in been_in
    )


def take_one_out(desk: Desk, fewer: Fewer) -> str:
    """Let one piece with its share of the weight stay away, as one act; say what is left."""
    desk.settle()
    before = _dips(desk)
    named = [PlanChanged(f"lots.{fewer.lot.id}.{NAMES}", names_said(fewer.names) or None)] if fewer.lot.names else []
    desk.log(PiecesWeighed(f"lots.{fewer.lot.id}.mass", fewer.mass, fewer.pieces), *named)
    more = [f"{name} {dips} dips, not {before[name]}" for name, dips in _dips(desk).items() if dips > before[name]]
    weaker = f"; less dye in the vat: {', '.join(more)}" if more else ""
    without = f" without {fewer.label}" if fewer.label != clean(fewer.lot.name) else ""
    return f"{clean(fewer.lot.name)}{without}: {fewer.said}{weaker}; u takes it back."


def _dips(desk: Desk) -> dict[str, int]:
    """How many dips each lot takes: less fibre has less dye in its vat, and may take one more for the same blue."""
    return {clean(lot.name): round(desk.sheet.value(f"dip.{lot.id}.dips", 0.0)) for lot in desk.plan.lots}


def read_place(desk: Desk, row: PlaceRow, text: str) -> str | Problem:
    """Give a text that a row takes, or say what is wrong with it."""
    event = commands.change(desk.plan, row.path, text, local(desk.clock.now()))
    return event if isinstance(event, Problem) else text


def put_place(desk: Desk, row: PlaceRow, text: str) -> str:
    """Set a row about hands, things and hours; say what it holds now."""
    event = commands.change(desk.plan, row.path, text, local(desk.clock.now()))
    if isinstance(event, Problem):
        return event.text
    desk.log(event)
    value = get_value(desk.plan, row.path)
    return f"{field(desk.plan, row.path).label}: {show(desk.plan, row.path) if value is not None else 'not said'}."
