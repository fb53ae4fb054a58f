"""The worksheet on which the stages put their figures, and which of them are shown at once."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from attrs import Factory, define, evolve, field

from vatside.catalogue.values import Fact
from vatside.plan.measures import Powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Figure, Input, Notice, Remedy, Sheet, Stage, Weight, Working
from vatside.units import KIND_OF_UNIT, Amount, is_spoon, to_base


@define
class Worksheet:
    """Collects figures in the order they are worked out; a pinned figure hands its pin on."""

    plan: Plan
    trial: bool = False
    """Nobody reads it: only which figures and notices there are counts."""
    stage: Stage = Stage.PLAN
    group: str = ""
    rows: dict[str, Figure] = field(factory=dict)
    notices: list[Notice] = field(factory=list)
    piece_dips: dict[str, int] = field(factory=dict)
    held_up: dict[int, float] = field(factory=dict)
    _pins: dict[str, Amount] = field(
        init=False,
        default=Factory(lambda self: {pin.figure: pin.amount for pin in self.plan.pins}, takes_self=True),
    )

    def put(
        self,
        figure_id: str,
        label: str,
        worked: float,
        unit: str,
        working: Working,
        *,
        powder: Powder | None = None,
        pinnable: bool = False,
        minimum: float | None = None,
        rough: bool = False,
        least: float = -inf,
        between: tuple[float, float] | None = None,
        fewest: float | None = None,
        parts: tuple[float, ...] | None = None,
    ) -> float:
        """Write one figure down and give the value that counts from here on: the pin, if there is one.

        What is done already is the `least` that a pin can come to.
        """
        pin = self._pins.get(figure_id) if pinnable else None
        value = worked if pin is None else max(self._pinned(pin, unit, powder), least)
        self.rows[figure_id] = Figure(
            stage=self.stage,
            id=figure_id,
            label=label,
            value=value,
            unit=unit,
            worked=worked,
            working=working,
            pin=pin,
            teaspoons=powder.teaspoons(value) if powder else None,
            spread=_spread(powder, pin),
            minimum=minimum,
            group=self.group,
            pinnable=pinnable,
            rough=rough,
            between=between,
            fewest=fewest if fewest is not None and fewest < value else None,
            parts=parts,
        )
        return value

    def fact(
        self, figure_id: str, label: str, fact: Fact, unit: str, by: str, *, scale: float = 1.0, pinnable: bool = True
    ) -> float:
        """Write down a figure that no other one changes: `by` says what it goes by, as `by fibre`."""
        return self.put(
            figure_id, label, fact.value * scale, unit, self.worked(by, source=fact.source), pinnable=pinnable
        )

    def _pinned(self, pin: Amount, unit: str, powder: Powder | None) -> float:
        if powder is not None:
            return powder.grams(pin, self.plan.spoons)
        return to_base(pin, KIND_OF_UNIT[unit], self.plan.spoons)

    def worked(self, formula: str, *using: str | Input | None, source: str = "practice") -> Working:
        """Write a working whose inputs are earlier figures (by id) or numbers of the plan and the catalogue.

        None stands for one that this plan does without.
        """
        return Working(formula, tuple(self._input(item) for item in using if item is not None), source)

    def _input(self, item: str | Input) -> Input:
        if isinstance(item, Input):
            return item
        row = self.rows[item]
        return Input(row.label, row.value, row.unit)

    def __getitem__(self, figure_id: str) -> float:
        return self.rows[figure_id].value

    def say(
        self,
        weight: Weight,
        text: str,
        figure: str | None = None,
        remedies: tuple[Remedy, ...] = (),
        otherwise: str = "",
    ) -> None:
        """Add a notice to the stage at hand; its remedies are tried once the sheet is worked out."""
        self.notices.append(Notice(self.stage, weight, text, figure, remedies, otherwise))

    def copy(self) -> Worksheet:
        """Give one that goes on from here by itself."""
        return evolve(self, rows=dict(self.rows), notices=list(self.notices), piece_dips=dict(self.piece_dips))

    def sheet(self) -> Sheet:
        """Give what has been put down as a frozen sheet."""
        more = tuple(self.piece_dips.items()), tuple(self.held_up.items())
        return Sheet(tuple(self.rows.values()), tuple(self.notices), *more)


def _spread(powder: Powder | None, pin: Amount | None) -> float:
    """A scale is sure; a spoon is as sure as its powder."""
    if powder is None or (pin is not None and not is_spoon(pin)):
        return 0.0
    return powder.spread


MOST = 12
"""Figures of a stage that can be taken in at the stove; ours, no source."""

NEED: dict[Stage, tuple[str, ...]] = {
    Stage.SCOUR: (
        "scour.*.soap", "scour.*.soda-ash", "scour.*.detergent", "scour.*.load_water", "scour.*.hold_temperature",
        "scour.*.hold", "scour.*.soak", "scour.*.loads", "scour.*.soak_water", "scour.*.rinses",
        "scour.*.rinse_temperature", "scour.*.hot", "scour.*.cold", "scour.*.start",
    ),
    Stage.STOCK: (
        "stock.pigment", "stock.kept", "stock.left", "stock.alkali", "stock.reducer", "stock.jug", "stock.water",
        "stock.start", "stock.hot", "stock.cold", "stock.hold", "stock.jars", "stock.bath", "stock.bath_temperature",
        "stock.stir", "stock.strength",
    ),
    Stage.VAT: (
        "vat.soda-ash", "vat.baking-soda", "vat.alkali", "vat.stock_kept", "vat.reducer",
        "vat.stock", "vat.water", "vat.surplus", "vat.temperature",
        "vat.hot", "vat.cold", "vat.tub", "vat.liquor", "vat.clear",
        "vat.strength", "vat.rest", "vat.pH", "vat.sharpen",
    ),
    Stage.DIP: (
        "dip.*.dips", "dip.alkali", "dip.minutes", "dip.*.dip", "dip.*.air", "dip.kept", "dip.*.at_once",
        "dip.all_entries", "dip.reducer", "dip.*.reaches", "dip.rest", "dip.short_rest", "dip.left_strength",
    ),
    Stage.FINISH: (
        "finish.*.vinegar", "finish.*.detergent", "finish.*.water", "finish.vinegar", "finish.*.citric",
        "finish.*.wash", "finish.*.sour", "finish.keep", "finish.*.last_air", "finish.*.rinses",
        "finish.*.wash_minutes", "finish.after.*", "finish.feed",
        "finish.feed.alkali", "finish.feed.soda-ash", "finish.feed.baking-soda",
    ),
}  # fmt: skip
"""Figures of each stage, the most needed first; `*` stands for every bath, lot or fibre."""


def shown(sheet: Sheet, stage: Stage) -> tuple[Figure, ...]:
    """Give a stage's figures that are always seen, in the order of the sheet.

    What is held by hand or named by a notice is among them; then comes what is needed most, all baths, lots or fibres
    alike, as far as a dozen goes. What is needed first of all is never left out.
    """
    figures = [figure for figure in sheet.of(stage) if not _is_left_out(figure, sheet)]
    ranks = {figure.id: _rank(figure.id, NEED.get(stage, ())) for figure in figures}
    named = set(_named(sheet))
    chosen = {figure.id for figure in figures if figure.pin is not None or figure.id in named}
    for at in range(len(NEED.get(stage, ()))):
        more = chosen | {key for key, rank in ranks.items() if rank == at}
        if len(more) <= MOST or not at:
            chosen = more
    return tuple(figure for figure in figures if figure.id in chosen)


MADE_WITHOUT = ("stock.alkali", "stock.reducer", "stock.stir", "stock.hold", "vat.alkali")
"""What a kind of vat may make no use of: its stock is then a paste of the dye."""


def _is_left_out(figure: Figure, sheet: Sheet) -> bool:
    """Tell what is nothing here, and the weekly powders of a vat that is not kept."""
    if figure.id.startswith("finish.feed") and figure.pin is None:
        return not sheet.value("finish.keep", 0.0)
    return figure.id in MADE_WITHOUT and not figure.value and figure.pin is None and not figure.minimum


def _named(sheet: Sheet) -> Iterator[str]:
    """Give the figures that notices are about, and those that would put them right."""
    for notice in sheet.notices:
        yield from (place for remedy in notice.remedies for place, _ in remedy.places)
        yield notice.figure or ""


def _rank(figure_id: str, need: tuple[str, ...]) -> int:
    """Give the place of a figure in the order of need; below all of them for one that has none."""
    parts = figure_id.split(".")
    names = {figure_id}
    if len(parts) == 3:
        names |= {f"{parts[0]}.*.{parts[2]}", f"{parts[0]}.{parts[1]}.*"}
    return next((at for at, name in enumerate(need) if name in names), len(need))
