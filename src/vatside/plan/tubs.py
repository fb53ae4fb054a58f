"""The dyer's further tubs as one text: `5 L, 24 L`."""

from __future__ import annotations

from vatside.units import Amount, Kind, Problem, Spoons, parse_amount, show_amount, to_base

SMALLEST_L, LARGEST_L = 0.1, 1000.0
"""Brims that a tub can have, as in the form."""
MOST_TUBS = 12
"""More tubs than this nobody owns: ours."""


def said(others: tuple[Amount, ...]) -> str:
    """Write tubs as a person types them; empty for none."""
    return ", ".join(show_amount(brim) for brim in others)


def parted(text: str, spoons: Spoons) -> tuple[Amount, ...] | Problem:
    """Read brims with commas between them, in litres where no unit stands; or say in words what is wrong."""
    found = []
    for part in (part.strip() for part in text.split(",")):
        if not part:
            continue
        amount = parse_amount(part, Kind.VOLUME, unit="L", spoons=spoons)
        if isinstance(amount, Problem):
            return amount
        if not SMALLEST_L <= to_base(amount, Kind.VOLUME, spoons) <= LARGEST_L:
            return Problem(f"{show_amount(amount)} cannot be a tub: between 100 mL and 1000 L")
        found.append(amount)
    return tuple(found) if len(found) <= MOST_TUBS else Problem(f"{len(found)} tubs are too many; at most {MOST_TUBS}")
