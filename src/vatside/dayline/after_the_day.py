"""Dip and Finish laid out forwards from the hour at which the vat is ready."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from attrs import define, field

from vatside.dayline.steps import Step
from vatside.plan.sheet import Stage


@define
class _Hands:
    """Minutes after ready during which the dyer's hands are taken."""

    taken: list[tuple[float, float]] = field(factory=list)

    def take(self, begin: float, length: float) -> float:
        """Take `length` minutes that begin at `begin` or later; give where they begin."""
        for low, high in sorted(self.taken):
            if begin < high and low < begin + length:
                begin = high
        if length:
            self.taken.append((begin, begin + length))
        return begin


def afterwards(steps: Iterable[Step], left: Mapping[str, float]) -> dict[str, float]:
    """Give the minutes after ready at which each step of Dip and Finish begins.

    The dips come one after the other; then the fibres are finished side by side, as one pair of hands allows, and so is
    the vat. `left` gives minutes still to go for steps whose wait is running.
    """
    steps = tuple(steps)
    hands, begins = _Hands(), dict[str, float]()
    end = _chain((step for step in steps if step.stage is Stage.DIP), 0.0, hands, begins, left)
    finish = [step for step in steps if step.stage is Stage.FINISH]
    for group in dict.fromkeys(step.group for step in finish):
        _chain((step for step in finish if step.group == group), end, hands, begins, left)
    return begins


def _chain(
    steps: Iterable[Step], begin: float, hands: _Hands, begins: dict[str, float], left: Mapping[str, float]
) -> float:
    """Lay one chain of steps from `begin` on; give where it ends."""
    for step in steps:
        if step.id in left:
            begins[step.id] = begin
            begin += max(left[step.id], 0.0)
            continue
        begins[step.id] = hands.take(begin, step.hands_min)
        begin = begins[step.id] + step.hands_min + (step.minutes or 0.0)
    return begin
