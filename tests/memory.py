"""More room in what the sources remember: tests ask for the same sheets and liquors over and over, days do not.

Nothing else changes: what is remembered is worked out by pure functions of frozen values.
"""

from __future__ import annotations

import functools
import sys
from collections.abc import Callable, Mapping
from typing import Any

import attrs

TIMES = 64
"""So many times as many values are kept as the sources ask for."""
MOST = 8192
"""But no more than so many of one function."""
_usual = functools.lru_cache


def make_room() -> None:
    """Widen each memory of the sources that are imported from now on."""
    functools.lru_cache = _roomy  # type: ignore[assignment]


def _roomy(maxsize: Any = 128, typed: bool = False) -> Callable[..., Any]:
    ours = sys._getframe(1).f_globals.get("__name__", "").startswith("vatside.")
    widened = min(maxsize * TIMES, MOST) if ours and isinstance(maxsize, int) else maxsize
    return _usual(widened, typed)


def remember_plans() -> None:
    """Keep the plans of the days that are laid: many tests lay one day, and what comes of it follows from it alone.

    What is asked of the planner itself is worked out each time.
    """
    from vatside.dayline import laid_day, what_if

    vars(laid_day)["plan"] = vars(what_if)["lay"] = _remembered


_plans: dict[tuple[Any, ...], Any] = {}


def _remembered(day: Any, evaluations: int, *, like: Any = None) -> Any:
    key = (_values(day), evaluations, like and _values(like))
    found = _plans.get(key)  # taken at once: a day is laid in a thread of its own, and another one may clear the rest
    if found is None:
        if len(_plans) >= MOST:
            _plans.clear()
        found = _plans[key] = _planned(day, evaluations, like)
    if isinstance(found, Exception):
        raise type(found)(*found.args)
    return found


def _planned(day: Any, evaluations: int, like: Any) -> Any:
    from vatside.dayline.line.model import NoPlanError
    from vatside.dayline.line.planning import plan

    try:
        return plan(day, evaluations, like=like)
    except NoPlanError as error:
        return error


def _values(whole: Any) -> tuple[Any, ...]:
    """The values of a frozen whole, those of its tables in their order."""
    values = (getattr(whole, one.name) for one in attrs.fields(type(whole)))
    return tuple(tuple(value.items()) if isinstance(value, Mapping) else value for value in values)
