"""More room in what the sources remember: tests ask for the same sheets and liquors over and over, days do not.

Nothing else changes: what is remembered is worked out by pure functions of frozen values.
"""

from __future__ import annotations

import functools
import sys
from collections.abc import Callable
from typing import Any

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
