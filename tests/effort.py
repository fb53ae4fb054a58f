"""How hard the tests try: a whole run with few examples finds what is commonly broken, a long one what is rare.

A usual run makes half the tries that a test names; `TEST_EFFORT=1 pytest` makes all of them, `TEST_EFFORT=10 pytest`
ten times as many examples, damaged files and kills.
"""

from __future__ import annotations

import os

from hypothesis import settings

EFFORT = float(os.environ.get("TEST_EFFORT", "0.5"))
"""Times the number of tries that a test names."""


def tries(named: int) -> int:
    """Give a number of tries for the effort asked for, of one that a test names; at least one."""
    return max(1, round(named * EFFORT))


def examples(named: int) -> settings:
    """Let a property see so many examples, times the effort."""
    return settings(max_examples=tries(named), deadline=None)
