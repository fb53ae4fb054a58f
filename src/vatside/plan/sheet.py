"""The sheet: every worked-out figure of a plan, with its working; and how grave a notice is, in sign and word."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from functools import cached_property

from attrs import frozen

from vatside.units import Amount


class Stage(StrEnum):
    """The parts of the job in the order of the day."""

    PLAN = "plan"
    SCOUR = "scour"
    STOCK = "stock"
    VAT = "vat"
    DIP = "dip"
    FINISH = "finish"


class Weight(StrEnum):
    """How much a notice matters."""

    NOTE = "note"
    CARE = "care"
    """Look here: the plan may not do what is wanted."""
    DANGER = "danger"
    """Someone or something can be hurt or lost."""


@frozen
class Remedy:
    """One way to put a notice right, taken as a whole."""

    label: str
    """What it does, in words that go on from a colon: `18 g of indigo powder`, `fill 3 L`.

    A stage that offers it may leave a blank such as `{vat.pH}` for what that figure comes to once it is taken.
    """
    places: tuple[tuple[str, Amount | None], ...]
    """Places of the plan and figures, and the amount each is set to; None lets a figure follow the plan again."""


@frozen
class Notice:
    """A sentence about the plan that the dyer should read before weighing anything."""

    stage: Stage
    weight: Weight
    text: str
    """What is wrong, and what it costs; what to do about it are the remedies."""
    figure: str | None = None
    """The figure it is about."""
    remedies: tuple[Remedy, ...] = ()
    """What would put it right, each by itself; of a finished sheet each of them does.

    Of several that set the same places the first that puts it right is taken: a finer amount, then a coarser one.
    """
    otherwise: str = ""
    """What to do where no remedy does it; of a finished sheet it is part of the text."""

    @property
    def about(self) -> tuple[str, str]:
        """What tells it from another notice, whatever the numbers in it are."""
        return self.stage.value, self.figure or self.text

    @property
    def in_full(self) -> str:
        """The sentence with its remedies behind it."""
        if not self.remedies:
            return self.text
        return f"{self.text} To put it right: {'; or '.join(remedy.label for remedy in self.remedies)}."


@frozen
class Input:
    """One number that went into a figure."""

    label: str
    value: float
    unit: str


@frozen
class Working:
    """How a figure came about."""

    formula: str
    """In words and signs: `fibre × depth ÷ yield`."""
    inputs: tuple[Input, ...]
    source: str
    """A source key of the catalogue, or `common practice, no source`."""


@frozen
class Figure:
    """One worked-out quantity."""

    stage: Stage
    id: str
    label: str
    value: float
    """What the rest of the sheet uses: the pin if there is one, in `unit`."""
    unit: str
    """The base unit of its kind (g, L, degC, min, %, g/L, L/kg, or empty)."""
    worked: float
    """What the plan alone asks for, in `unit`."""
    working: Working
    pin: Amount | None = None
    """What the dyer fixed, as typed."""
    teaspoons: float | None = None
    """Level teaspoons of the same, where a shelf entry makes that possible."""
    spread: float = 0.0
    """How unsure the spoon is, as a share: 0.3 means ±30 %."""
    minimum: float | None = None
    """The theory minimum, in `unit`."""
    group: str = ""
    """Heading under which it is shown, for stages with several baths."""
    pinnable: bool = False
    rough: bool = False
    """Good to two digits at most."""
    between: tuple[float, float] | None = None
    """Where it lies four days in five, in `unit`; None for what does not vary."""
    fewest: float | None = None
    """What one piece gets where others get more: the value is what one gets at most. None where all are alike."""
    parts: tuple[float, ...] | None = None
    """A whole and what of it is drawn hot and cold, L: this is one of the two, printed so that they add up."""


@frozen
class Sheet:
    """All figures of a plan and what there is to say about them."""

    figures: tuple[Figure, ...]
    notices: tuple[Notice, ...]
    piece_dips: tuple[tuple[str, int], ...] = ()
    """Dips in all of each piece: what it has on it, and its place in the turns, are its own."""
    held_up: tuple[tuple[int, float], ...] = ()
    """Entries in all before one that waits until the vat is warm again, and for how many minutes."""

    def of(self, stage: Stage) -> tuple[Figure, ...]:
        """Give the figures of one stage in the order they are worked out."""
        return tuple(figure for figure in self.figures if figure.stage is stage)

    def __getitem__(self, figure_id: str) -> Figure:
        """Give one figure; KeyError if the plan has none of that id."""
        return self._by_id[figure_id]

    def __contains__(self, figure_id: object) -> bool:
        return figure_id in self._by_id

    @cached_property
    def _by_id(self) -> dict[str, Figure]:
        return {figure.id: figure for figure in reversed(self.figures)}

    def value(self, figure_id: str, default: float | None = None) -> float:
        """Give a figure's value; `default` for one that a plan may do without. KeyError where there is no default."""
        figure = self._by_id.get(figure_id)
        if figure is not None:
            return figure.value
        if default is None:
            raise KeyError(figure_id)
        return default


@frozen
class Severity:
    """One row of the table."""

    weight: Weight
    sign: str
    """At most two columns; it says the same without colour."""
    word: str
    """Stands before the sentence; empty where the sign is enough."""
    ink: str
    """The role of its words: madder for what can hurt or be lost, and for nothing else."""
    key: str
    """Shows all that is said of it."""

    @property
    def opening(self) -> str:
        """What a sentence of this weight begins with."""
        word = f"{self.word}: " if self.word else ""
        return f"{self.sign} {word}" if self.sign else word


DANGER = Severity(Weight.DANGER, "!!", "Danger", "danger", "i")
CARE = Severity(Weight.CARE, "!", "", "care", "i")
NOTE = Severity(Weight.NOTE, "", "", "faint", "i")
TABLE = (DANGER, CARE, NOTE)
"""The gravest first."""


def severity(weight: Weight) -> Severity:
    """Give the row of a weight."""
    return next(row for row in TABLE if row.weight is weight)


def gravest(weights: Iterable[Weight]) -> Severity | None:
    """Give the gravest of some weights; None of none, or if all are only notes."""
    there = set(weights)
    return next((row for row in (DANGER, CARE) if row.weight in there), None)


def gravest_first(notices: Iterable[Notice]) -> tuple[Notice, ...]:
    """Order notices by weight."""
    return tuple(sorted(notices, key=lambda notice: TABLE.index(severity(notice.weight))))
