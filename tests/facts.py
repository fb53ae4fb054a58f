"""Facts of one thing that takes long to draw or to work out: all of them look at the same ones."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, ParamSpec

P = ParamSpec("P")


class Facts(Generic[P]):
    """Functions of one thing, each with a sentence that says what holds of it."""

    def __init__(self) -> None:
        self._all: list[Callable[P, None]] = []

    def __call__(self, fact: Callable[P, None]) -> Callable[P, None]:
        """Take a fact in, as a decorator."""
        self._all.append(fact)
        return fact

    def hold(self, *of: P.args, **more: P.kwargs) -> None:
        """Look at each of the facts; the first that does not hold fails the test."""
        assert self._all
        for fact in self._all:
            fact(*of, **more)
