"""The editable rows of each stage: one table of what a plan can be told, by path.

A path is either a place in the plan (`water.hot`, `lots.a.mass`, `shelf.indigo.purity`) or the id of a
figure that can be fixed by hand (`stock.pigment`).
"""

from __future__ import annotations

from attrs import frozen

from vatside.recipe.sheet import Stage
from vatside.units import Kind


@frozen
class Field:
    """One editable row of a stage's form."""

    path: str
    label: str
    stage: Stage
    kind: Kind | None
    """What amount it takes; None for a choice, a text, a whole number or a clock time."""
    unit: str | None = None
    """The unit taken when only a number is typed."""
    low: float = 0.0
    high: float = float("inf")
    """The range allowed, in the base unit of `kind` (or the whole number itself)."""
    choices: tuple[tuple[str, str], ...] = ()
    """Ids and names of what can be chosen."""
    whole: bool = False
    clock: bool = False
    """A local date and time."""
    optional: bool = False
    pin: bool = False
    """A figure: empty means that it follows the plan."""
    help: str = ""
    group: str = ""
