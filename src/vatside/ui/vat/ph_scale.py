"""A small picture of where a vat stands: the pH from 8 to 13, the fibre's window, and a mark; in words too."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from vatside.catalogue.values import Window
from vatside.plan.plan import Plan
from vatside.plan.sheet import CARE, DANGER, Sheet
from vatside.recipe.vat_needs import setting
from vatside.ui.text.rows import BLANK, Row, Signs, Span, cells, paragraph, row

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
    span = f"the {window.low:g} to {window.high:g} that {stand.fibre} likes (best {window.target:g})"
    if pH is None:
        return f"The pH cannot be worked out; {stand.fibre} likes {window.low:g} to {window.high:g}."
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
    share = (min(max(pH, LOW), HIGH) - LOW) / (HIGH - LOW)
    return round(share * (wide - 1))


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
