"""The worksheet on which the stages put their figures, one after the other."""

from __future__ import annotations

from math import inf

from attrs import Factory, define, field

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
