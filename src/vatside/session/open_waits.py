"""The open waits of a session: frozen, and as quick to change when there are thousands as when there are six."""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import overload

from attrs import evolve

from vatside.session.waits import Wait


class Waits(Sequence[Wait]):
    """Waits by id, in the order in which they were started.

    A change copies references at the speed of the machine and looks at no wait but its own.
    """

    __slots__ = ("_by_id", "_free", "_top")

    def __init__(self, by_id: Mapping[str, Wait] | None = None, free: tuple[int, ...] = (), top: int = 0) -> None:
        self._by_id = by_id or {}
        self._free = free
        """Numbers up to the highest in use that no wait has, in their order."""
        self._top = top

    def __len__(self) -> int:
        return len(self._by_id)

    def __iter__(self) -> Iterator[Wait]:
        return iter(self._by_id.values())

    @overload
    def __getitem__(self, at: int) -> Wait: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[Wait, ...]: ...
    def __getitem__(self, at: int | slice) -> Wait | tuple[Wait, ...]:
        return tuple(self)[at]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and tuple(self) == tuple(other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __repr__(self) -> str:
        return f"Waits{tuple(self)!r}"

    def get(self, wait_id: str | None) -> Wait | None:
        """Give an open wait; None if there is none of that id."""
        return self._by_id.get(wait_id) if wait_id is not None else None

    def begun(self, wait: Wait) -> Waits:
        """Put a wait beside the others, under the lowest number that is free: no other one's number moves.

        ValueError if one of that id runs already.
        """
        if wait.id in self._by_id:
            raise ValueError(f"wait {wait.id} runs already")
        number = self._free[0] if self._free else self._top + 1
        wait = wait if number == wait.number else evolve(wait, number=number)
        return Waits({**self._by_id, wait.id: wait}, self._free[1:], max(self._top, number))

    def without(self, wait_id: str) -> Waits:
        """Take a wait away; its number is free again."""
        others = dict(self._by_id)
        number = others.pop(wait_id).number
        if not others:
            return Waits()
        free = list(self._free)
        insort(free, number)
        return Waits(others, *_lowered(free, self._top))

    def changed(self, wait: Wait) -> Waits:
        """Put a wait in the place of the one that has its id."""
        return Waits({**self._by_id, wait.id: wait}, self._free, self._top)

    def each(self, change: Callable[[Wait], Wait]) -> Waits:
        """Change every wait; none of them its id or its number."""
        return Waits({wait_id: change(wait) for wait_id, wait in self._by_id.items()}, self._free, self._top)


def _lowered(free: list[int], top: int) -> tuple[tuple[int, ...], int]:
    """Let go of free numbers at the upper end."""
    while free and free[-1] == top:
        free.pop()
        top -= 1
    return tuple(free), top
