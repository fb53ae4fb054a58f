"""The rows of every form, as tables."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache

from attrs import evolve

from vatside.catalogue.dyeing import ladder
from vatside.catalogue.load import fibres, materials, method_choices
from vatside.catalogue.values import Material
from vatside.forms.field import Field
from vatside.forms.place_rows import place_rows
from vatside.plan.batches import Bath, baths
from vatside.plan.measures import ROLES, Powder, by_jug, has_warm_bath, is_paced, powder
from vatside.plan.plan import Condition, Form, Lot, Measure, Plan, Stuff, TapKind, TubShape
from vatside.plan.sheet import Stage
from vatside.units import Kind, Spoons

SPOON_G = (1.0, 12.5)
"""Grams that a level teaspoon of powder can weigh: 5 mL at 0.2 to 2.5 g/mL. The ends are from memory of bulk densities:
fluffed silica and soaps below, dense salts above."""


def choices_of(
    values: type[Form | Condition | Measure | Stuff | TapKind | TubShape],
) -> tuple[tuple[str, str], ...]:
    """Give the choices of an enumeration, which are called what they are."""
    return tuple((item.value, item.value) for item in values)


_SPOON_NAMES = {Spoons.US: "US", Spoons.IMPERIAL: "old British"}
_SPOONS = tuple((item.value, _SPOON_NAMES.get(item, item.value)) for item in Spoons)


def mass_row(path: str, label: str, stage: Stage, **more: object) -> Field:
    """Give the row of a mass."""
    return evolve(Field(path, label, stage, Kind.MASS, "g", 0.01, 1e6), **more)  # type: ignore[arg-type]


_TAP_MEANS = (
    (TapKind.UNKNOWN.value, "medium is reckoned with, and the band from soft to hard is shown"),
    (TapKind.SOFT.value, "40 mg/L: lathers at once, leaves no scale"),
    (TapKind.MEDIUM.value, "150 mg/L"),
    (TapKind.HARD.value, "300 mg/L: scale in the kettle"),
    (TapKind.VERY_HARD.value, "400 mg/L"),
    (TapKind.SOFTENED.value, "hardness is gone, what takes acid is not"),
    (TapKind.PURE.value, "nothing in it"),
)


def plan_rows(plan: Plan) -> tuple[Field, ...]:
    """Rows of the plan and of each of its lots."""
    lots = (row for lot in plan.lots for row in lot_rows(lot))
    return (*_day_rows(), *lots, *_method_rows(), *_water_rows(plan), *place_rows(plan))


def _day_rows() -> tuple[Field, ...]:
    at = Stage.PLAN
    return (
        Field("title", "Day", at, help="what you call this day"),
        Field("ready_by", "Vat ready by", at, clock=True, optional=True, help="14:00, sat 14:00, 5 Dec 14:00"),
    )


def _method_rows() -> tuple[Field, ...]:
    at, known = Stage.PLAN, method_choices()
    return (
        Field(
            "method",
            "Kind of vat",
            at,
            choices=tuple((key, name) for key, name, _ in known),
            means=tuple((key, about) for key, _, about in known),
        ),
        Field("measure", "Measure by", at, choices=choices_of(Measure)),
        Field("spoons", "Spoons", at, choices=_SPOONS),
    )


def _water_rows(plan: Plan) -> tuple[Field, ...]:
    at, unit = Stage.PLAN, "mg/L CaCO3"
    return (
        Field("water.hot", "Hot tap", at, Kind.TEMPERATURE, "degC", 1, 100),
        Field("water.cold", "Cold tap", at, Kind.TEMPERATURE, "degC", 0, 60),
        Field("water.tap", "Tap water is", at, choices=choices_of(TapKind), means=_TAP_MEANS),
        Field(
            "water.hardness", "Hardness", at, Kind.HARDNESS, unit, 0, 2000, optional=True,
            help="by a report or a strip: 150 mg/L, 8 °dH, 15 °f, 10 °e; it goes before the word",
        ),
        Field(
            "water.alkalinity", "Alkalinity", at, Kind.ALKALINITY, unit, 0, 2000, optional=True,
            shown=plan.water.hardness is not None, help="by a report or a strip; empty: 0.8 of the hardness",
        ),
        Field("water.room", "Room", at, Kind.TEMPERATURE, "degC", 0, 45),
        Field("water.hob", "Hob", at, Kind.POWER, "kW", 0.1, 20, help="power that reaches the pot"),
    )  # fmt: skip


ALONE = "nothing"
"""What the form says of a lot of one fibre."""


def _fibres() -> tuple[tuple[str, str], ...]:
    return tuple((key, fibre.name) for key, fibre in fibres().items())


@cache
def _depths() -> str:
    """Name the depths of the ladder, without those that only come between others."""
    return ", ".join(f"{rung.name} {rung.depth:g}" for rung in ladder() if not rung.name.startswith("very "))


MOST_KEPT = 4096
"""Lots whose rows are kept, in all plans."""


def lot_rows(lot: Lot) -> tuple[Field, ...]:
    """Rows of one lot."""
    return _lot_rows(lot.id, lot.name, blended=bool(lot.second), named=lot.pieces > 1 or bool(lot.names))


@lru_cache(MOST_KEPT)
def _lot_rows(lot_id: str, name: str, *, blended: bool, named: bool) -> tuple[Field, ...]:
    """Kept by all that they depend on: a key in the form asks for the rows of every lot a dozen times."""
    at, base, group = Stage.PLAN, f"lots.{lot_id}.", name
    return (
        Field(base + "name", "Called", at, group=group),
        Field(
            base + "fibre", "Fibre", at, group=group,
            choices=_fibres(),
        ),
        Field(
            base + "second", "Blended with", at, group=group, choices=(("", ALONE), *_fibres()),
            help="the second fibre of cotton-linen, wool-silk and the like",
            means=(("", "one fibre, as in most lots"),),
        ),
        Field(
            base + "second_share", "Share of it", at, Kind.PERCENT, "%", 1, 99, group=group, shown=blended,
            help="of the second fibre in the weight, as the label says",
        ),
        Field(base + "mass", "Dry weight", at, Kind.MASS, "g", 1, 1e6, group=group, help="1/2 lb, 227 g, 2 x 100 g"),
        Field(
            base + "depth", "Depth", at, Kind.PERCENT, "%", 0, 10, group=group,
            help=f"a word or indigotin on the fibre: {_depths()} %",
        ),
        Field(base + "pieces", "Pieces", at, whole=True, low=1, high=999, group=group),
        Field(
            base + "names", "Piece names", at, names=True, optional=True, group=group,
            shown=named, help="whose the pieces are, one after the other: Asha, Ben",
        ),
        Field(base + "comes", "Is there by", at, clock=True, optional=True, shown=False, group=group),
        Field(base + "form", "Made up as", at, choices=choices_of(Form), group=group),
        Field(
            base + "condition", "Comes", at, choices=choices_of(Condition), group=group,
            means=(
                (Condition.CLEAN.value, "clean to the eye; the scour takes off what holds the dye back"),
                (Condition.GREASY.value, "with its grease, wax or gum on"),
                (Condition.READY.value, "scoured before, or sold ready to dye: only wetted out"),
                (Condition.RINSED.value, "a rinse and the wetting out, no bath"),
            ),
        ),
    )  # fmt: skip


def scour_rows(plan: Plan) -> tuple[Field, ...]:
    """Rows of the pot and of every scour bath."""
    at = Stage.SCOUR
    all_baths = baths(plan)
    name = "Pot" if all(bath.unscoured for bath in all_baths) else "Scour pot"
    pot = (
        Field("vessels.scour_pot", name, at, Kind.VOLUME, "L", 0.5, 500, help="to the brim"),
        Field("vessels.scour_fill", "Filled before fibre", at, Kind.PERCENT, "%", 10, 90),
        Field("vessels.scour_stuff", "Pot of", at, choices=choices_of(Stuff)),
    )
    rows = [row for bath in all_baths for row in _bath_rows(bath, bath.name if len(all_baths) > 1 else "")]
    agents = dict.fromkeys(agent.material for bath in all_baths for agent in bath.scour.agents)
    spoons = (spoon_row(f"shelf.{key}", powder(plan, key), at) for key in agents)
    return (*pot, *rows, *spoons)


def _bath_rows(bath: Bath, group: str) -> tuple[Field, ...]:
    pin = pins_of(bath.id, Stage.SCOUR, group)
    agents = (
        evolve(pin(key, materials()[key].short, Kind.POWDER, "g", 0, 1e5), powder=key)
        for key in (agent.material for agent in bath.scour.agents)
    )
    if bath.unscoured:
        rinse = (
            pin("load_water", "Water in the pot", Kind.VOLUME, "L", 0.1, 500),
            pin("loads", "Pot loads", Kind.NUMBER, "", 1, 50, shown=False),
            pin("rinses", "Rinses", Kind.NUMBER, "", 0, 10),
            pin("rinse_temperature", "Rinse at", Kind.TEMPERATURE, "degC", 0, 100),
        )
        return (pin("soak", "Wet out for", Kind.TIME, "min", 0, 2880), *(rinse if bath.scour.rinses else ()))
    stirs = (pin("stir_every", "Stir every", Kind.TIME, "min", 1, 240, shown=False),) if bath.scour.stir_every else ()
    return (
        pin("load_water", "Water in the pot", Kind.VOLUME, "L", 0.1, 500),
        pin("soak", "Wet out for", Kind.TIME, "min", 0, 2880),
        *agents,
        pin("hold_temperature", "Hold at", Kind.TEMPERATURE, "degC", 5, 100),
        pin("hold", "Hold for", Kind.TIME, "min", 1, 1440),
        pin("heating", "Heating takes", Kind.TIME, "min", 0, 600, shown=False),
        *stirs,
        pin("loads", "Pot loads", Kind.NUMBER, "", 1, 50, shown=False),
        pin("rinses", "Rinses", Kind.NUMBER, "", 0, 10, shown=False),
        pin("rinse_temperature", "First rinse at", Kind.TEMPERATURE, "degC", 0, 100, shown=False),
        pin("cool", "Comes down in", Kind.TIME, "min", 0, 1440, shown=False),
    )


def spoon_row(path: str, item: Powder, stage: Stage) -> Field:
    """The row for the mass of a level teaspoon that the dyer has weighed."""
    return mass_row(
        f"{path}.spoon_mass", f"{item.material.short}, 1 tsp", stage,
        low=0.1, high=50, typed=SPOON_G, optional=True,
        help="weigh ten level spoons, write a tenth; empty: a usual powder",
    )  # fmt: skip


def _powder_rows(plan: Plan, role: str, stage: Stage) -> tuple[Field, ...]:
    item = powder(plan, role)
    same = tuple((key, material.name) for key, material in materials().items() if _alike(material, item.material))
    path = f"shelf.{role}"
    kind = Field(f"{path}.material", f"{role.capitalize()} on the shelf", stage, choices=same, shown=len(same) > 1)
    purity = Field(f"{path}.purity", f"{item.material.short} purity", stage, Kind.PERCENT, "%", 1, 100)
    return (kind, purity, spoon_row(path, item, stage))


def _alike(one: Material, other: Material) -> bool:
    return one.role == other.role and one.species == other.species


def stock_rows(plan: Plan) -> tuple[Field, ...]:
    """Rows of the stock."""
    at = Stage.STOCK
    jar = (
        Field("vessels.stock_jar", "Stock in one jar", at, Kind.VOLUME, "L", 0.1, 50,
              help="the jar itself half as large again: no more than two thirds full while warm"),
        Field("vessels.jar_stuff", "Jar of", at, choices=choices_of(Stuff)),
    )  # fmt: skip
    amounts = {role: powder_pin(f"stock.{role}", powder(plan, role).material.short, at, role) for role in ROLES}
    amounts["indigo"] = powder_pin("stock.pigment", "Indigo powder", at, "indigo", 0.01)
    warm = (
        figure_pin("stock.bath", "Warm bath round it", at, Kind.VOLUME, "L", 0, 500, shown=False),
        figure_pin(
            "stock.bath_temperature", "Warm bath at", at, Kind.TEMPERATURE, "degC", 0, 100, shown=is_paced(plan)
        ),
    )
    jug = (evolve(
        figure_pin("stock.jug", "Cold, for the lye", at, Kind.VOLUME, "L", 0, 50, shown=False),
        help="in a plastic jug; 0: it all goes into the jar",
    ),)  # fmt: skip
    powders = [row for role in ROLES for row in (amounts[role], *_powder_rows(plan, role, at))]
    return (
        *(_stock_kept_rows() if plan.stock_kept else ()),
        *powders[:4],
        evolve(
            figure_pin("stock.others", "Powder for other vats", at, Kind.MASS, "g", 0, 1e5),
            help="a stock for several vats: this much more goes in, and stays in the jar",
        ),
        *jar,
        figure_pin("stock.start", "Start the water at", at, Kind.TEMPERATURE, "degC", 0, 100),
        *(jug if by_jug(plan) else ()),
        *powders[4:],
        figure_pin("stock.hold", "Rest for", at, Kind.TIME, "min", 1, 2880),
        figure_pin("stock.stir", "Stir for", at, Kind.TIME, "min", 0, 120, shown=False),
        figure_pin("stock.look_every", "Look every", at, Kind.TIME, "min", 1, 1440, shown=False),
        figure_pin("stock.jars", "Jars", at, Kind.NUMBER, "", 1, 100, shown=False),
        figure_pin("stock.water", "Water", at, Kind.VOLUME, "L", 0.05, 500, shown=False),
        *(warm if has_warm_bath(plan) else ()),
    )


def figure_pin(
    path: str,
    label: str,
    stage: Stage,
    kind: Kind,
    unit: str,
    low: float,
    high: float,
    shown: bool = True,
    tip: str = "",
) -> Field:
    """Give the row of a figure that can be held."""
    return Field(path, label, stage, kind, unit, low, high, pin=True, optional=True, shown=shown, help=tip)


def pins_of(path_of: Callable[[str], str], stage: Stage, group: str) -> Callable[..., Field]:
    """Give what makes the rows of one lot, bath or fibre: of figures that can be held, called as `figure_pin` is."""

    def pin(
        name: str, label: str, kind: Kind, unit: str, low: float, high: float, shown: bool = True, tip: str = ""
    ) -> Field:
        return evolve(figure_pin(path_of(name), label, stage, kind, unit, low, high, shown, tip), group=group)

    return pin


def powder_pin(path: str, label: str, stage: Stage, role: str, low: float = 0.0) -> Field:
    """Give the row of a powder that can be held."""
    return evolve(figure_pin(path, label, stage, Kind.POWDER, "g", low, 1e5), powder=role)


def _stock_kept_rows() -> tuple[Field, ...]:
    """Rows of what stands in a jar from another vat."""
    at = Stage.STOCK
    return (
        Field(
            "stock_kept.volume", "Kept, in the jar", at, Kind.VOLUME, "L", 0.001, 500, help="goes in before new stock"
        ),
        mass_row("stock_kept.indigotin", "Indigotin in it", at, low=0.0),
        mass_row("stock_kept.alkali", "Alkali in it, as lye", at, low=0.0, help="what nothing has used up yet"),
        mass_row("stock_kept.reducer", "Reducer in it, pure", at, low=0.0, help="after a day there is none left"),
        Field("stock_kept.made", "Made", at, clock=True, optional=True, shown=False),
        Field("stock_kept.taken", "Taken", at, clock=True, optional=True, shown=False),
    )
