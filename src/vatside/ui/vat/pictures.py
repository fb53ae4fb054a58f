"""Small pictures of how a vat stands: its pH in the window of the fibre, in words too; pot and tub, seen from the side.

The scale of pH goes from 8 to 13. Of a vessel it is shown how high the liquor stands, with and without the fibre, and
what room is left. The walls count as straight. Where the dyer gave her tub by its inside measures, each height stands
in centimetres too.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from attrs import frozen

from vatside.catalogue.values import Window
from vatside.plan.batches import Bath
from vatside.plan.measures import brim_litres, share
from vatside.plan.measures import litres as litres_of
from vatside.plan.plan import Plan, TubShape
from vatside.plan.sheet import CARE, DANGER, Sheet
from vatside.recipe.vat_needs import setting
from vatside.ui.text.rows import BLANK, Row, Signs, Span, cells, clip, paragraph, row
from vatside.units import Kind, show_volume, to_base

LOW, HIGH = 8.0, 13.0
WIDEST = 62
"""Columns beyond which the picture says no more."""
BELOW = ("vat.pH", "vat.pH_25")
"""The figures that the picture of a planned vat stands below, the last of them that is shown."""
NEAR = 0.05
"""pH no farther than this past an end of the window prints as that end."""


@frozen
class Stand:
    """What the picture shows; every pH at the temperature of the vat."""

    fibre: str
    window: Window
    celsius: float
    worked: float | None
    """Worked out."""
    read: float | None = None
    """Read, and brought to the vat's temperature."""
    at_end: bool = False
    """It is spent: the window is the one in which it may be let go, and no fibre's."""

    @property
    def pH(self) -> float | None:
        """The pH that counts: the one read, where there is one."""
        return self.read if self.read is not None else self.worked


def scale_rows(stand: Stand, width: int, signs: Signs) -> tuple[Row, ...]:
    """Draw the scale with its marks, then say it in words."""
    wide = min(width - 2, WIDEST)
    rows = []
    if stand.worked is not None:
        rows.append(_mark(signs.down, f"{stand.worked:.1f} worked out", stand.worked, wide, "strong"))
    rows += [_band(stand.window, wide, signs), _numbers(wide)]
    if stand.read is not None:
        rows.append(_mark(signs.up, f"{stand.read:.1f} read", stand.read, wide, "number"))
    return (*rows, *paragraph(words(stand), width, _role(stand)))


def with_picture(
    rows: Sequence[Row], plan: Plan, sheet: Sheet, width: int, signs: Signs, *, roomy: bool
) -> tuple[Row, ...]:
    """Put the picture of the planned vat's window above its figures, or with little room below its pH."""
    places = [number for number, item in enumerate(rows) if item.key in BELOW]
    if not places:
        return tuple(rows)
    plain = setting(plan, sheet)
    worked = sheet["vat.pH"].value if "vat.pH" in sheet else None
    stand = Stand(plain.fibre, plain.window, sheet.value("vat.temperature"), worked)
    picture = scale_rows(stand, width, signs)
    if roomy:
        return (*picture, BLANK, *rows)
    at = places[-1] + 1
    return (*rows[:at], *(Row(item.spans, rows[at - 1].key) for item in picture), *rows[at:])


def words(stand: Stand) -> str:
    """Say where the vat stands in its window."""
    window, pH = stand.window, stand.pH
    whose = "at which it may be let go" if stand.at_end else f"that {stand.fibre} likes"
    span = f"the {window.low:g} to {window.high:g} {whose} (best {window.target:g})"
    if pH is None:
        return f"The pH cannot be worked out; it should be within {span}."
    where = f"pH {pH:.1f} at {stand.celsius:.0f} °C"
    if pH > window.block + NEAR:
        return f"{where}: {pH - window.high:.1f} above {span}; above {window.block:g} it is harmed."
    if pH > window.high + NEAR:
        return f"{where}: {pH - window.high:.1f} above {span}."
    if pH < window.low - NEAR:
        return f"{where}: {window.low - pH:.1f} below {span}."
    return f"{where}: within {span}."


def _role(stand: Stand) -> str:
    pH, window = stand.pH, stand.window
    if pH is None:
        return "faint"
    if pH > window.block + NEAR:
        return DANGER.ink
    return "good" if window.low - NEAR <= pH <= window.high + NEAR else CARE.ink


def _at(pH: float, wide: int) -> int:
    """Column of a pH; what lies beyond an end stands on it."""
    along = (min(max(pH, LOW), HIGH) - LOW) / (HIGH - LOW)
    return round(along * (wide - 1))


def _mark(sign: str, label: str, pH: float, wide: int, role: str) -> Row:
    at = _at(pH, wide)
    if at + 1 + cells(label) < wide:
        return row(Span(" " * (at + 1)), Span(f"{sign} {label}", role))
    before = max(at - cells(label), 0)
    return row(Span(" " * before), Span(f"{label} {sign}", role))


def _band(window: Window, wide: int, signs: Signs) -> Row:
    """The window solid, above it lighter, and where the fibre is harmed in the sign of danger."""
    low, high, block = (_at(pH, wide) for pH in (window.low, window.high, window.block))
    harmed = wide - 1 - block if window.block < HIGH else 0
    solid, light = signs.shades[-1], signs.shades[0]
    return row(
        Span(" " + signs.bare * low, "edge"),
        Span(solid * (high - low + 1), "good"),
        Span(light * (wide - 1 - harmed - high), "bare"),
        Span((DANGER.sign * harmed)[:harmed], DANGER.ink),
    )


def _numbers(wide: int) -> Row:
    line = [" "] * (wide + 3)
    for pH in range(int(LOW), int(HIGH) + 1):
        text = str(pH)
        at = min(_at(pH, wide), wide - cells(text))
        line[at : at + cells(text)] = text
    return row(Span(" "), Span("".join(line).rstrip(), "faint"))


INSIDE, NARROW = 16, 8
"""Columns of the inside of a vessel, with all the room and with little."""
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
    for below, level in zip(reversed(range(len(apart))), sorted(apart, key=lambda level: -level.litres), strict=True):
        above = max(min(int(level.litres / vessel.brim * tall), above - 1), below)
        by_row[above] = _said(vessel, level)
    return by_row


def _said(vessel: Vessel, level: Level) -> str:
    tall = f" {level.litres / vessel.brim * vessel.height_cm:.0f} cm" if vessel.height_cm else ""
    return f"{show_volume(level.litres)}{tall} {level.text}"
