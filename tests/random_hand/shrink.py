"""Makes the acts of a failing hand as few and as short as they can be and still fail the same way."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import evolve
from tests.random_hand.acts import KEYS, Act

Fails = Callable[[Sequence[Act]], bool]


def shrunk(acts: Sequence[Act], fails: Fails, tries: int = 300) -> tuple[Act, ...]:
    """Give the shortest acts found in so many tries; those given must fail."""
    left = [tries]

    def still(some: Sequence[Act]) -> bool:
        left[0] -= 1
        return left[0] >= 0 and fails(some)

    found = _fewer(tuple(acts), still)
    return _shorter(found, still)


def _fewer(acts: tuple[Act, ...], still: Fails) -> tuple[Act, ...]:
    """Leave out halves, then quarters, and so on down to single acts."""
    size = max(len(acts) // 2, 1)
    while True:
        at = 0
        while at < len(acts):
            without = acts[:at] + acts[at + size :]
            if without and still(without):
                acts = without
            else:
                at += size
        if size == 1:
            return acts
        size //= 2


def _shorter(acts: tuple[Act, ...], still: Fails) -> tuple[Act, ...]:
    """Leave out letters of what is left."""
    for number, act in enumerate(acts):
        at = 0
        while act.kind == KEYS and at < len(act.text) > 1:
            shorter = evolve(act, text=act.text[:at] + act.text[at + 1 :])
            if still((*acts[:number], shorter, *acts[number + 1 :])):
                act = shorter
                acts = (*acts[:number], act, *acts[number + 1 :])
            else:
                at += 1
    return acts
