"""The worksheet on which the stages put their figures, drawn water and heated pots too; which are shown at once."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from attrs import Factory, define, field

from vatside.catalogue.values import Fibre
from vatside.chemistry import heat
from vatside.chemistry.heat import FIBRE_AS_WATER
from vatside.chemistry.water import enthalpy
from vatside.plan.measures import Powder, celsius
from vatside.plan.plan import Plan
from vatside.plan.sheet import Figure, Input, Notice, Remedy, Sheet, Stage, Weight, Working
from vatside.units import KIND_OF_UNIT, Amount, Kind, is_spoon, to_base


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
        )
        return value

    def _pinned(self, pin: Amount, unit: str, powder: Powder | None) -> float:
        if powder is not None:
            return powder.grams(pin, self.plan.spoons)
        return to_base(pin, KIND_OF_UNIT[unit], self.plan.spoons)

    def worked(self, formula: str, *using: str | Input, source: str = "practice") -> Working:
        """Write a working whose inputs are earlier figures (by id) or numbers of the plan and the catalogue."""
        return Working(formula, tuple(self._input(item) for item in using), source)

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

    def sheet(self) -> Sheet:
        """Give what has been put down as a frozen sheet."""
        return Sheet(tuple(self.rows.values()), tuple(self.notices), tuple(self.piece_dips.items()))


def _spread(powder: Powder | None, pin: Amount | None) -> float:
    """A scale is sure; a spoon is as sure as its powder."""
    if powder is None or (pin is not None and not is_spoon(pin)):
        return 0.0
    return powder.spread


CLOSE_ENOUGH_K = 0.5
"""A tap that falls short by less is warm enough: common practice, no source."""


def draw(sheet: Worksheet, prefix: str, volume_l: float, target_C: float, label: str = "") -> None:
    """Put `PREFIX hot` and `PREFIX cold` (L) on the sheet, and `PREFIX kettle` (min) if the tap is too cool.

    The volume is meant at the target, each draw at its own tap's temperature. Above the hot tap, all of it is drawn
    hot and the rest is heating on the hob; below the cold tap, all is drawn cold. A hot tap no warmer than the cold
    one counts as none. target_C in 0..100 degrees C.
    """
    water = sheet.plan.water
    cold_C = celsius(water.cold)
    hot_C = max(celsius(water.hot), cold_C)
    split = heat.split_with_heating(volume_l, target_C, hot_C, cold_C)
    hot, cold = (split.hot_l, split.cold_l) if hot_C > cold_C else (0.0, split.hot_l + split.cold_l)
    inputs = (
        Input("water", volume_l, "L"),
        Input("wanted", target_C, "degC"),
        Input("hot tap", celsius(water.hot), "degC"),
        Input("cold tap", cold_C, "degC"),
    )
    working = sheet.worked("heat of hot + heat of cold = heat of the mixture", *inputs, source="Popiel1998")
    tail = f", {label}" if label else ""
    sheet.put(f"{prefix}hot", f"Hot tap{tail}", hot, "L", working)
    sheet.put(f"{prefix}cold", f"Cold tap{tail}", cold, "L", working)
    if target_C > hot_C + CLOSE_ENOUGH_K:
        power = to_base(water.hob, Kind.POWER)
        working = sheet.worked(
            "water × heat capacity × rise ÷ hob power, without losses",
            *inputs,
            Input("hob", power, "kW"),
            source="Popiel1998",
        )
        sheet.put(f"{prefix}kettle", f"Then on the hob{tail}", split.minutes(power), "min", working)


def wet_litres(fibre: Fibre, grams: float) -> float:
    """Give the water that takes as much heat as squeezed wet fibre (g, dry), L."""
    return grams / 1000 * (fibre.held.value / 100 + FIBRE_AS_WATER)


def pot_minutes(plan: Plan, water_l: float, start_C: float, hold_C: float, fibre: Fibre, grams: float) -> float:
    """Give the minutes in which the hob brings a pot to hold_C, wet fibre as cold as the room going in [Popiel1998].

    Without losses; 0 where it is warm enough already. Temperatures in 0..100 degrees C; raises `OutOfRange` outside.
    """
    if hold_C <= start_C:
        return 0.0
    power, room = to_base(plan.water.hob, Kind.POWER), celsius(plan.water.room)
    fibre_kj = wet_litres(fibre, grams) * max(enthalpy(hold_C) - enthalpy(room), 0.0)
    return heat.heating_minutes(water_l, start_C, hold_C, power) + fibre_kj / power / 60


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
    figures = [figure for figure in sheet.of(stage) if not _is_left_out(figure)]
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


def _is_left_out(figure: Figure) -> bool:
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
