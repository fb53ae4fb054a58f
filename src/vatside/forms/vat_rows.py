"""The rows of the form of the vat: tubs, dosing, amounts and times, and what stands in the tub or a jar already."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.forms.field import Field
from vatside.forms.rows import choices_of, figure_pin, mass_row, powder_pin, spoon_row
from vatside.plan.delicate import BUFFERED, is_buffered
from vatside.plan.measures import powder
from vatside.plan.plan import Dosing, Plan, Stuff, TubShape
from vatside.plan.scour_baths import baths
from vatside.plan.sheet import Stage
from vatside.units import Kind

_DOSING = (("", "as suits the lots"), *((item.value, item.value) for item in Dosing))
_DOSING_MEANS = (
    ("", "for this fibre; a working vat for a class, for two kinds of fibre and for the darkest"),
    (Dosing.SPENT.value, "as much as these lots take: the vat is spent at the end"),
    (Dosing.WORKING.value, "as strong as its depth is usually dipped in: the rest is kept"),
)


def vat_rows(plan: Plan) -> tuple[Field, ...]:
    """Rows of the tub and the vat; a tub asks only for the sizes of its shape."""
    at, shape = Stage.VAT, plan.vessels.tub.shape
    sizes = {
        TubShape.LITRES: ("volume",),
        TubShape.ROUND: ("length", "height"),
        TubShape.BOX: ("length", "width", "height"),
        TubShape.OVAL: ("length", "width", "height"),
    }
    return (
        *(_kept_rows(plan) if plan.kept else ()),
        Field("vessels.tub.shape", "Tub given by", at, choices=choices_of(TubShape)),
        *(_tub_size(name, shape, shown=name in sizes[shape]) for name in ("volume", "length", "width", "height")),
        Field(
            "vessels.others",
            "Other tubs",
            at,
            optional=True,
            help="to the brim: 5 L, 24 L; the smallest of all your tubs that does it is taken",
        ),
        Field("vessels.tub.headspace", "Headspace", at, Kind.PERCENT, "%", 0, 60),
        Field("vessels.tub.stuff", "Tub of", at, choices=choices_of(Stuff)),
        Field("dosing", "Indigo for", at, choices=_DOSING, means=_DOSING_MEANS),
        figure_pin("vat.tub", "Take the tub of", at, Kind.VOLUME, "L", 0.1, 1000, shown=False),
        figure_pin("vat.fill", "Fill, fibre in", at, Kind.VOLUME, "L", 0.1, 1000),
        figure_pin("vat.temperature", "Vat at", at, Kind.TEMPERATURE, "degC", 5, 70),
        *(_brought() if plan.stock_kept else ()),
        figure_pin("vat.stock", "Stock to bring in", at, Kind.VOLUME, "L", 0, 500),
        powder_pin("vat.alkali", "Alkali to sharpen", at, "alkali"),
        *(_soda(plan) if is_buffered(plan) else ()),
        powder_pin("vat.reducer", "Reducer to sharpen", at, "reducer"),
        figure_pin("vat.sharpen", "Sharpen for", at, Kind.TIME, "min", 0, 1440),
        figure_pin("vat.rest", "Rest for", at, Kind.TIME, "min", 0, 2880),
        figure_pin("vat.entry", "Fibre at one entry", at, Kind.MASS, "g", 1, 1e6, shown=False),
    )


def _soda(plan: Plan) -> Iterator[Field]:
    """Rows of what holds a vat for wool or silk, with its spoons where no scour has them already."""
    scoured = {agent.material for bath in baths(plan) for agent in bath.scour.agents}
    for figure in BUFFERED:
        key = figure.removeprefix("vat.")
        item = powder(plan, key)
        yield powder_pin(figure, item.material.short, Stage.VAT, key)
        if key not in scoured:
            yield evolve(spoon_row(f"shelf.{key}", item, Stage.VAT), shown=False)


def _brought() -> tuple[Field, ...]:
    return (figure_pin("vat.stock_kept", "Kept stock to bring in", Stage.VAT, Kind.VOLUME, "L", 0, 500),)


def _kept_rows(plan: Plan) -> tuple[Field, ...]:
    """Rows of what stands in the tub from another day; its carbonate where a soda buffer holds it."""
    at, buffered = Stage.VAT, is_buffered(plan)
    return (
        Field("kept.volume", "Kept, in the tub", at, Kind.VOLUME, "L", 0.1, 1000, help="measure it: water goes off"),
        Field("kept.temperature", "It stands at", at, Kind.TEMPERATURE, "degC", 0, 100),
        mass_row("kept.indigotin", "Indigotin in it", at, low=0.0),
        mass_row(
            "kept.oxidised",
            "Of it blue again",
            at,
            low=0.0,
            optional=True,
            help="once its reducer is gone air turns the dye back; none, if it is yellow-green below the film",
        ),
        mass_row(
            "kept.alkali",
            "Alkali in it, as lye",
            at,
            low=-1e6,
            help="what nothing has used up yet; the pH tells. Below zero: a soda buffer that turned to carbonic acid",
        ),
        mass_row("kept.reducer", "Reducer in it, pure", at, low=0.0, help="after a day there is none left"),
        mass_row(
            "kept.carbonate",
            "Carbonate in it, as baking soda",
            at,
            low=0.0,
            optional=True,
            shown=buffered,
            help="soda ash, baking soda and tap water together; empty: the tap's alone",
        ),
        mass_row(
            "kept.salts",
            "Salts in it, as sodium sulfate",
            at,
            low=0.0,
            optional=True,
            shown=False,
            help="what spent reducer left",
        ),
    )


def _tub_size(name: str, shape: TubShape, *, shown: bool) -> Field:
    path = f"vessels.tub.{name}"
    if name == "volume":
        return Field(path, "Tub, to the brim", Stage.VAT, Kind.VOLUME, "L", 0.1, 1000, shown=shown)
    across = {"length": "Diameter inside" if shape is TubShape.ROUND else "Length inside"}
    label = across.get(name, f"{name.capitalize()} inside")
    return Field(path, label, Stage.VAT, Kind.LENGTH, "cm", 1, 300, shown=shown)
