"""The rows of the forms of Dip and Finish."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.dips.lot import dip_order
from vatside.forms.field import Field
from vatside.forms.rows import figure_pin, pins_of, powder_pin, spoon_row
from vatside.plan.batches import Batch, batches
from vatside.plan.measures import powder
from vatside.plan.plan import Lot, Plan
from vatside.plan.scour_baths import baths
from vatside.plan.sheet import Stage
from vatside.units import Kind

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
    found, many = batches(plan), len(plan.lots) > 1
    by_fibre = (row for batch in found for row in _batch_rows(batch, batch.name if len(found) > 1 else ""))
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
