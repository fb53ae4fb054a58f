"""What there is to do in a stage: steps and waits, made from a plan and its sheet."""

from __future__ import annotations

from attrs import frozen

from vatside.catalogue.values import StepTemplate
from vatside.plan.sheet import Stage


@frozen
class Nudge:
    """A call to do something small during a wait."""

    minute: float
    """Minutes after the wait's start."""
    label: str


@frozen
class Caution:
    """What can hurt in a step, and what to wear or do against it."""

    id: str
    title: str
    lines: tuple[str, ...]
    must_acknowledge: bool
    """The step opens only once the dyer says that it was read."""
    here: str = ""
    """What it comes to in this step alone: once that is another, it is read again."""


@frozen
class Step:
    """One thing to do; a wait if `minutes` is set."""

    id: str
    stage: Stage
    text: str
    """The dyer's sentence, verb first, amounts filled in."""
    hands_min: float
    """Minutes for which it keeps the dyer: nothing else is begun meanwhile."""
    minutes: float | None = None
    """Length of the wait; None for a step without one."""
    wait_label: str = ""
    nudges: tuple[Nudge, ...] = ()
    cautions: tuple[Caution, ...] = ()
    group: str = ""
    """Which bath or lot it belongs to, where a stage has several."""
    handling_min: float | None = None
    """Of what keeps her, the minutes of her hands; None: all of it. The others she stands by, as while pieces air."""

    template: StepTemplate | None = None
    """What it was made of; it says how the step lies in the day."""

    @property
    def work_min(self) -> float:
        """Minutes of hands at work."""
        return self.hands_min if self.handling_min is None else self.handling_min
