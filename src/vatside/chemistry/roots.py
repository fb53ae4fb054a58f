"""Finding where a falling function crosses zero."""

from __future__ import annotations

from collections.abc import Callable
from math import inf

SECANT_STEPS = 30
"""From here on every step halves the bracket, so that no function, however bent, can keep the search from ending."""
MOST_STEPS = SECANT_STEPS + 60


def falling_root(
    f: Callable[[float], float], low: float, high: float, guess: float, slope: float, tolerance: float
) -> float:
    """Find x in low..high where the falling continuous function f passes zero, to within the tolerance in x.

    `guess` and `slope` (f's at the guess, below zero) only save time. Needs f(low) >= 0 >= f(high); where f does not
    cross zero it gives the end nearest to doing so.
    """
    x = min(max(guess, low), high)
    last_x = last_y = inf
    for step in range(MOST_STEPS):
        y = f(x)
        if y == 0:
            return x
        low, high = (x, high) if y > 0 else (low, x)
        if y != last_y and last_y != inf:
            slope = (y - last_y) / (x - last_x)
            if slope < 0 and abs(y) < -slope * tolerance:
                return x
        last_x, last_y = x, y
        x = _next(x, y, slope, low, high) if step < SECANT_STEPS else (low + high) / 2
        if abs(x - last_x) < tolerance:
            return x
    return x


def _next(x: float, y: float, slope: float, low: float, high: float) -> float:
    """Follow the secant, or halve the bracket when it leads outside."""
    ahead = x - y / slope if slope < 0 else high
    return ahead if low < ahead < high else (low + high) / 2
