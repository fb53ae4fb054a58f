"""The ways in which the chemistry says no, each a sentence for the dyer."""

from __future__ import annotations


class OutOfRange(ValueError):
    """A value lies outside what the formula is good for."""


class CannotReach(ValueError):
    """No amount of what is to hand gets there."""


class Dangerous(ValueError):
    """What was asked for can hurt."""


def require_within(name: str, value: float, low: float, high: float, unit: str) -> None:
    """Raise `OutOfRange` unless low <= value <= high; NaN is never within."""
    if not low <= value <= high:
        raise OutOfRange(f"The {name} must lie between {low:g} and {high:g} {unit}, not {value:g}.".replace(" .", "."))


def require_positive(name: str, value: float, unit: str) -> None:
    """Raise `OutOfRange` unless the value is finite and above zero."""
    if not 0 < value < float("inf"):
        raise OutOfRange(f"The {name} must be more than 0 {unit}, not {value:g}.")


def require_not_negative(name: str, value: float, unit: str) -> None:
    """Raise `OutOfRange` if the value is below zero, infinite or not a number."""
    if not 0 <= value < float("inf"):
        raise OutOfRange(f"The {name} cannot be {value:g} {unit}.")
