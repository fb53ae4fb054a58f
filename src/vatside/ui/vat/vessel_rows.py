"""Pot and tub, seen from the side: how high the liquor stands, with and without the fibre, and what room is left.

The walls count as straight. Where the dyer gave her tub by its inside measures, each height stands in centimetres too.
"""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen

from vatside.plan.batches import Bath
from vatside.plan.measures import brim_litres, share
from vatside.plan.measures import litres as litres_of
from vatside.plan.plan import Plan, TubShape
from vatside.plan.sheet import Sheet
from vatside.ui.text.rows import BLANK, Row, Signs, Span, clip, row
from vatside.units import Kind, show_volume, to_base

INSIDE, NARROW = 16, 8
"""Columns of its inside, with all the room and with little."""
ROOMY = 45
"""Columns from which it has all its room."""
LEAST, MOST = 4, 6
"""Rows of its inside."""
ROUND_IT = 3
"""Rows beside them: a blank one, its name, its floor."""
NEXT_TO_NOTHING = 0.005
"""Share of the brim by which two heights must differ to be told apart."""


@frozen
class Level:
    """A height in a vessel."""

    litres: float
    text: str


@frozen
class Vessel:
    """A pot or a tub, and what stands in it."""

    name: str
    brim: float
    """L."""
    liquor: float
    """L, without fibre."""
    fibre: float
    """L that the fibre takes."""
    levels: tuple[Level, ...]
    height_cm: float = 0.0
    """Inside; 0 where it is not known."""


def tub_of(plan: Plan, sheet: Sheet, litres: float | None = None) -> Vessel | None:
    """Give the vat's tub with so many litres of liquor in it, or as planned; None where the plan has no tub yet."""
    if "vat.tub" not in sheet or "vat.liquor" not in sheet:
        return None
    brim, fibre, tub = sheet.value("vat.tub"), sheet.value("vat.displaced", 0.0), plan.vessels.tub
    planned, liquor = litres is None, sheet.value("vat.liquor") if litres is None else litres
    measured = tub.shape is not TubShape.LITRES and abs(brim_litres(plan, tub) - brim) < NEXT_TO_NOTHING * brim
    levels = (
        Level(liquor, "liquor" if planned else "liquor now"),
        Level(liquor + fibre, "with fibre"),
        Level(brim * (1 - share(tub.headspace)), "headspace"),
    )
    return Vessel("Tub", brim, liquor, fibre, levels, to_base(tub.height, Kind.LENGTH) if measured else 0.0)


def pot_of(plan: Plan, sheet: Sheet, bath: Bath) -> Vessel | None:
    """Give the pot of a scour bath; None for fibre that goes into none."""
    if bath.id("load_water") not in sheet or bath.id("level") not in sheet:
        return None
    brim, water = litres_of(plan, plan.vessels.scour_pot), sheet.value(bath.id("load_water"))
    full = brim * sheet.value(bath.id("level")) / 100
    levels = (Level(water, "water"), Level(full, "with fibre"))
    return Vessel("Pot", brim, water, max(full - water, 0.0), levels)


def vessel_rows(vessel: Vessel, width: int, room: int, signs: Signs) -> tuple[Row, ...]:
    """Draw it with its heights beside it, in so many rows at the most; nothing where these are too few."""
    wide, tall = INSIDE if width >= ROOMY else NARROW, min(room - ROUND_IT, MOST)
    if tall < LEAST:
        return ()
    labels, wall = _placed(vessel, tall), Span(signs.rule, "edge")
    rows = [BLANK, row(Span(f" {vessel.name}", "head"))]
    for up in reversed(range(tall)):
        text = clip(labels.get(up, ""), width - wide - 5)
        inside = Span(_filled(vessel, (up + 0.5) / tall, signs) * wide, "ripe3")
        rows.append(row(Span(" "), wall, inside, wall, Span(f" {text}")))
    corners = "└┘" if signs.half_blocks else "++"
    return (*rows, row(Span(f" {corners[0]}{signs.bare * wide}{corners[1]}", "edge")))


def _filled(vessel: Vessel, height: float, signs: Signs) -> str:
    """Give the sign of a height (0 to 1): solid where liquor stands, shaded where it stands only with the fibre in."""
    litres = height * vessel.brim
    if litres <= vessel.liquor:
        return signs.shades[-1]
    return signs.shades[1] if litres <= vessel.liquor + vessel.fibre else " "


def _placed(vessel: Vessel, tall: int) -> Mapping[int, str]:
    """Give each height a row of its own, the floor's being 0; of two that are the same the first is told."""
    apart: list[Level] = []
    for level in (*vessel.levels, Level(vessel.brim, "to the brim")):
        if all(abs(level.litres - other.litres) > NEXT_TO_NOTHING * vessel.brim for other in apart):
            apart.append(level)
    by_row: dict[int, str] = {}
    above = tall
    for below, level in zip(reversed(range(len(apart))), sorted(apart, key=_from_the_top), strict=True):
        above = max(min(int(level.litres / vessel.brim * tall), above - 1), below)
        by_row[above] = _said(vessel, level)
    return by_row


def _from_the_top(level: Level) -> float:
    return -level.litres


def _said(vessel: Vessel, level: Level) -> str:
    tall = f" {level.litres / vessel.brim * vessel.height_cm:.0f} cm" if vessel.height_cm else ""
    return f"{show_volume(level.litres)}{tall} {level.text}"
