"""How hard the tests try: a whole run with few examples finds what is commonly broken, a long one what is rare.

`TEST_EFFORT=10 pytest` gives ten times the examples, damaged files and kills.
"""

from __future__ import annotations

import os

from hypothesis import settings

EFFORT = float(os.environ.get("TEST_EFFORT", "1"))
"""Times the usual number of tries."""


def tries(usual: int) -> int:
    """Give a number of tries for the effort asked for, of one that is usual; at least one."""
    return max(1, round(usual * EFFORT))


def examples(usual: int) -> settings:
    """Let a property see so many examples in a usual run."""
    return settings(max_examples=tries(usual), deadline=None)
