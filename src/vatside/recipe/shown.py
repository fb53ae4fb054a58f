"""Which figures of a stage are shown at once: what is weighed and drawn; the rest is one key away."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.plan.sheet import Figure, Sheet, Stage

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
    here = [figure for figure in sheet.of(stage) if not _is_left_out(figure)]
    ranks = {figure.id: _rank(figure.id, NEED.get(stage, ())) for figure in here}
    named = set(_named(sheet))
    found = {figure.id for figure in here if figure.pin is not None or figure.id in named}
    for at in range(len(NEED.get(stage, ()))):
        more = found | {key for key, rank in ranks.items() if rank == at}
        if len(more) <= MOST or not at:
            found = more
    return tuple(figure for figure in here if figure.id in found)


MADE_WITHOUT = ("stock.alkali", "stock.reducer", "stock.stir", "stock.hold")
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
