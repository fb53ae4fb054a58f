"""The rows of the forms of Vat, Dip and Finish: tubs, dosing, amounts, times, what stands there, each lot."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.dips.lot import dip_order
from vatside.forms.field import Field
from vatside.forms.rows import choices_of, figure_pin, mass_row, pins_of, powder_pin, spoon_row
from vatside.plan.batches import Batch, batches, baths
from vatside.plan.measures import BUFFERED, is_buffered, method_of, powder
from vatside.plan.plan import Dosing, Lot, Plan, Stuff, TubShape
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
        figure_pin("vat.tub", "Take the tub of", at, Kind.VOLUME, "L", 0.1, 1000, shown=bool(plan.vessels.others)),
        figure_pin("vat.fill", "Fill, fibre in", at, Kind.VOLUME, "L", 0.1, 1000),
        figure_pin("vat.temperature", "Vat at", at, Kind.TEMPERATURE, "degC", 5, 70),
        *(_brought() if plan.stock_kept else ()),
        figure_pin("vat.stock", "Stock to bring in", at, Kind.VOLUME, "L", 0, 500),
        _into_the_tub(plan, "alkali"),
        *(_soda(plan) if is_buffered(plan) else ()),
        _into_the_tub(plan, "reducer"),
        figure_pin("vat.sharpen", "Sharpen for", at, Kind.TIME, "min", 0, 1440),
        figure_pin("vat.rest", "Rest for", at, Kind.TIME, "min", 0, LONGEST_REST_MIN),
        figure_pin("vat.entry", "Fibre at one entry", at, Kind.MASS, "g", 1, 1e6, shown=False),
    )


def _into_the_tub(plan: Plan, role: str) -> Field:
    """The row of a powder that goes into the tub beside the stock, by the name that it has on the sheet."""
    what_for = "for the tub" if method_of(plan).vat.wakes is not None else "to sharpen"
    return powder_pin(f"vat.{role}", f"{powder(plan, role).material.short} {what_for}", Stage.VAT, role)


LONGEST_REST_MIN = 21 * 24 * 60
"""A vat that ferments takes up to a fortnight [Aino2018]; a week more: ours."""


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
        return Field(path, "A tub, to the brim", Stage.VAT, Kind.VOLUME, "L", 0.1, 1000, shown=shown)
    across = {"length": "Diameter inside" if shape is TubShape.ROUND else "Length inside"}
    label = across.get(name, f"{name.capitalize()} inside")
    return Field(path, label, Stage.VAT, Kind.LENGTH, "cm", 1, 300, shown=shown)


WEIGH_HELP = "what the scale says, dry for a day in the same room"


def dip_rows(plan: Plan) -> tuple[Field, ...]:
    """Rows of the dips, lot by lot in the order in which they go in."""
    many = len(plan.lots) > 1
    lots = (row for lot in dip_order(plan) for row in _lot_dips(lot, lot.name if many else ""))
    return (
        *lots,
        figure_pin("dip.rest_after", "Long rest after work of", Stage.DIP, Kind.TIME, "min", 10, 1440, shown=False),
        figure_pin("dip.rest", "Long rest", Stage.DIP, Kind.TIME, "min", 0, 1440),
        figure_pin("dip.entries", "Short rest after entries", Stage.DIP, Kind.NUMBER, "", 1, 100, shown=False),
        figure_pin("dip.short_rest", "Short rest", Stage.DIP, Kind.TIME, "min", 0, 240),
    )


def _lot_dips(lot: Lot, group: str) -> Iterator[Field]:
    pin = pins_of(lambda name: f"dip.{lot.id}.{name}", Stage.DIP, group)
    yield pin("dip", "Dip for", Kind.TIME, "min", 0.1, 240)
    yield pin("air", "Air for", Kind.TIME, "min", 0.5, 1440)
    yield pin("dips", "Dips", Kind.NUMBER, "", 0, 100)
    yield pin("at_once", "In the vat at once", Kind.NUMBER, "", 1, 999)
    yield pin("carried", "Liquor it carries", Kind.RATIO, "L/kg", 0.1, 5, tip="by hand 1 to 1.5, spun 0.5 to 0.8")
    yield pin(
        "factor",
        "Takes up, beside the table",
        Kind.PERCENT,
        "%",
        20,
        300,
        tip="100 is the practice table; your own colours pull it by themselves",
    )


def finish_rows(plan: Plan) -> tuple[Field, ...]:
    """Rows of the finish by fibre, of the scale's word on each lot, and of the vat's end."""
    all_batches, many = batches(plan), len(plan.lots) > 1
    by_fibre = (row for batch in all_batches for row in _batch_rows(batch, batch.name if len(all_batches) > 1 else ""))
    weights = (row for lot in plan.lots for row in _weights(lot, lot.name if many else ""))
    end = (
        figure_pin(
            "finish.keep", "Keep the vat for", Stage.FINISH, Kind.TIME, "day", 0, 1440 * 400, tip="0 lets it go"
        ),
        evolve(powder_pin("finish.feed", "Reducer a week", Stage.FINISH, "reducer"), shown=False),
        figure_pin("finish.oxidise", "Oxidise for", Stage.FINISH, Kind.TIME, "h", 1, 1440 * 7, shown=False),
        figure_pin("finish.settle", "Let it settle for", Stage.FINISH, Kind.TIME, "h", 0, 1440 * 7, shown=False),
        figure_pin("finish.sample", "Sample to titrate", Stage.FINISH, Kind.VOLUME, "mL", 0.01, 5, shown=False),
    )
    return (*by_fibre, *weights, *end, *_shelf(plan))


def _batch_rows(batch: Batch, group: str) -> Iterator[Field]:
    pin = pins_of(batch.id, Stage.FINISH, group)
    yield pin("last_air", "Last airing", Kind.TIME, "min", 0, 2880)
    yield pin("water", "Water of each bath", Kind.VOLUME, "L", 0.1, 1000)
    yield pin("vinegar", "Vinegar to sour", Kind.VOLUME, "mL", 0, 100)
    yield evolve(pin("citric", "or citric acid", Kind.POWDER, "g", 0, 1e5, False), powder="citric-acid")
    yield pin("sour", "In the sour, no longer than", Kind.TIME, "min", 0, 60)
    yield pin("wash", "Wash off at", Kind.TEMPERATURE, "degC", 5, 100)
    yield pin("wash_minutes", "Wash for", Kind.TIME, "min", 0, 240, False)
    yield evolve(pin("detergent", "Detergent", Kind.POWDER, "g", 0, 1e5), powder="detergent")
    yield pin("rinses", "Rinses", Kind.NUMBER, "", 0, 20, False)
    yield pin("rinse_temperature", "First rinse at", Kind.TEMPERATURE, "degC", 0, 100, False)
    yield pin("heating", "Heating the wash takes", Kind.TIME, "min", 0, 600, False)
    yield pin("last_rinses", "Rinses after the wash", Kind.NUMBER, "", 0, 20, False)
    yield pin("dry", "Drying takes", Kind.TIME, "h", 0, 1440 * 14, False)


def _weights(lot: Lot, group: str) -> Iterator[Field]:
    for name, label in (("before", "Weighed dry before the vat"), ("after", "Weighed, dyed and dry")):
        row = figure_pin(f"finish.{name}.{lot.id}", label, Stage.FINISH, Kind.MASS, "g", 0.1, 1e6, tip=WEIGH_HELP)
        yield evolve(row, group=group)


def _shelf(plan: Plan) -> Iterator[Field]:
    """Rows of the shelf that the scour's form does not have already."""
    yield Field("shelf.vinegar.purity", "Vinegar, strength", Stage.FINISH, Kind.PERCENT, "%", 1, 30, shown=False)
    yield Field("shelf.citric-acid.purity", "Citric acid purity", Stage.FINISH, Kind.PERCENT, "%", 1, 100, shown=False)
    scoured = {agent.material for bath in baths(plan) for agent in bath.scour.agents}
    for key in ("detergent", "citric-acid"):
        if key not in scoured:
            yield evolve(spoon_row(f"shelf.{key}", powder(plan, key), Stage.FINISH), shown=False)
