"""The open waits of a session: frozen, and as quick to change when there are thousands as when there are six."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import overload

from attrs import evolve

from vatside.log.growing import Heap, Shared, melded
from vatside.log.waits import Wait

Place = tuple[int, Wait]
"""A wait, and how many were begun before it."""


class Waits(Sequence[Wait]):
    """Waits by id, in the order in which they were started."""

    __slots__ = ("_begun", "_by_id", "_free", "_listed", "_top")

    def __init__(self, by_id: Shared[Place] | None = None, begun: int = 0, free: Heap = None, top: int = 0) -> None:
        self._by_id: Shared[Place] = by_id or Shared()
        self._begun = begun
        self._free = free
        """Numbers up to the highest ever given that no wait has."""
        self._top = top
        self._listed: tuple[Wait, ...] | None = None

    def __len__(self) -> int:
        return len(self._by_id)

    def __iter__(self) -> Iterator[Wait]:
        return iter(self._all())

    def _all(self) -> tuple[Wait, ...]:
        if self._listed is None:
            places = sorted(self._by_id.values(), key=lambda place: place[0])
            self._listed = tuple(wait for _, wait in places)
        return self._listed

    @overload
    def __getitem__(self, at: int) -> Wait: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[Wait, ...]: ...
    def __getitem__(self, at: int | slice) -> Wait | tuple[Wait, ...]:
        return self._all()[at]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and len(self) == len(other) and self._all() == tuple(other)

    def __hash__(self) -> int:
        return hash(self._all())

    def __repr__(self) -> str:
        return f"Waits{self._all()!r}"

    def get(self, wait_id: str | None) -> Wait | None:
        """Give an open wait; None if there is none of that id."""
        found = self._by_id.get(wait_id) if wait_id is not None else None
        return found[1] if found else None

    def begun_as(self, wait: Wait) -> int:
        """Tell how many were begun before a wait that is there."""
        found = self._by_id.get(wait.id)
        return found[0] if found else self._begun

    def news(self, before: Waits) -> Iterator[Wait]:
        """Give the waits that others do not hold as they are here, in no order; what both share is not looked at."""
        return (wait for _, wait in self._by_id.news(before._by_id))

    def begun(self, wait: Wait) -> Waits:
        """Put a wait beside the others, under the lowest number that is free: no other one's number moves.

        ValueError if one of that id runs already.
        """
        if self._by_id.get(wait.id):
            raise ValueError(f"wait {wait.id} runs already")
        number, free = (self._free[1], melded(*self._free[2:])) if self._free else (self._top + 1, None)
        wait = wait if number == wait.number else evolve(wait, number=number)
        return Waits(self._by_id.put(wait.id, (self._begun, wait)), self._begun + 1, free, max(self._top, number))

    def without(self, wait_id: str) -> Waits:
        """Take a wait away that is there; its number is free again."""
        if len(self) == 1:
            return Waits()
        known = self.get(wait_id)
        free = self._free if known is None else melded(self._free, (1, known.number, None, None))
        return Waits(self._by_id.drop(wait_id), self._begun, free, self._top)

    def changed(self, wait: Wait) -> Waits:
        """Put a wait in the place of the one that has its id."""
        place = self._by_id.get(wait.id)
        by_id = self._by_id.put(wait.id, (place[0] if place else self._begun, wait))
        return Waits(by_id, self._begun, self._free, self._top)

    def each(self, change: Callable[[Wait], Wait]) -> Waits:
        """Change every wait; none of them its id or its number."""
        by_id: Shared[Place] = Shared()
        for begun, wait in self._by_id.values():
            by_id = by_id.put(wait.id, (begun, change(wait)))
        return Waits(by_id, self._begun, self._free, self._top)
