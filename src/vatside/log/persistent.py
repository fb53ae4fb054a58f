"""Frozen sequences and maps that share what they have in common, and the open waits of a session, made of them.

One more item costs no copy of the others: thousands of waits are as quick to change as six.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, Generic, TypeVar, overload

from attrs import evolve

from vatside.log.waits import Wait

T = TypeVar("T")
Value = TypeVar("Value")

LEAF = 32
"""Items of a map that lie together before they are parted. Ours, measured."""
BITS = 5
DEEPEST = 6
"""Levels after which keys of one hash lie together, however many they are."""


class AppendOnly(Sequence[T]):
    """A sequence that only grows; all that came of one beginning share one list, of which each sees its own length."""

    __slots__ = ("_length", "_shared")

    def __init__(self, items: Iterable[T] = ()) -> None:
        self._shared = list(items)
        self._length = len(self._shared)

    def and_one(self, item: T) -> AppendOnly[T]:
        """Give the sequence with one more item at its end."""
        shared = self._shared
        if len(shared) != self._length:  # another one went on from here already
            shared = shared[: self._length]
        shared.append(item)
        more = AppendOnly[T].__new__(AppendOnly)
        more._shared, more._length = shared, self._length + 1
        return more

    def first(self, count: int) -> AppendOnly[T]:
        """Give the sequence as it was when it had so many items."""
        fewer = AppendOnly[T].__new__(AppendOnly)
        fewer._shared, fewer._length = self._shared, min(count, self._length)
        return fewer

    def __len__(self) -> int:
        return self._length

    def __iter__(self) -> Iterator[T]:
        return iter(self._shared[: self._length])

    @overload
    def __getitem__(self, at: int) -> T: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[T, ...]: ...
    def __getitem__(self, at: int | slice) -> T | tuple[T, ...]:
        if isinstance(at, slice):
            return tuple(self._shared[number] for number in range(*at.indices(self._length)))
        return self._shared[range(self._length)[at]]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and len(self) == len(other) and tuple(self) == tuple(other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __repr__(self) -> str:
        return f"Grown{tuple(self)!r}"


Node = Any
"""A leaf, which is a dict by key, or a tuple of 32 nodes, chosen by the next five bits of the hash."""


class Shared(Generic[Value]):
    """A map by text; a change copies one way through a tree of 32 branches at each fork."""

    __slots__ = ("_length", "_root")

    def __init__(self, root: Node = None, length: int = 0) -> None:
        self._root: Node = {} if root is None else root
        self._length = length

    def __len__(self) -> int:
        return self._length

    def get(self, key: str) -> Value | None:
        """Give what stands under a key; None if nothing does."""
        node, way = self._root, hash(key)
        while type(node) is tuple:
            node, way = node[way & (LEAF - 1)], way >> BITS
        value: Value | None = node.get(key)
        return value

    def put(self, key: str, value: Value) -> Shared[Value]:
        """Give the map with a value under a key, new or instead of another."""
        new = self.get(key) is None
        return Shared(_put(self._root, hash(key), 0, key, value), self._length + new)

    def drop(self, key: str) -> Shared[Value]:
        """Give the map without a key that is there."""
        return Shared(_drop(self._root, hash(key), key), self._length - 1)

    def values(self) -> Iterator[Value]:
        """Give every value, in no order."""
        return _values(self._root)

    def news(self, before: Shared[Value]) -> Iterator[Value]:
        """Give the values that another one does not hold, in no order; the branches that both share cost nothing."""
        return _news(self._root, before._root)


def _news(node: Node, before: Node) -> Iterator[Any]:
    if node is before:
        return
    if type(node) is tuple and type(before) is tuple:
        for branch, other in zip(node, before, strict=True):
            yield from _news(branch, other)
        return
    known = {id(value) for value in _values(before)}
    yield from (value for value in _values(node) if id(value) not in known)


def _put(node: Node, way: int, depth: int, key: str, value: object) -> Node:
    if type(node) is tuple:
        at = way & (LEAF - 1)
        return (*node[:at], _put(node[at], way >> BITS, depth + 1, key, value), *node[at + 1 :])
    leaf = {**node, key: value}
    if len(leaf) <= LEAF or depth == DEEPEST:
        return leaf
    parted: list[dict[str, object]] = [{} for _ in range(LEAF)]
    for name, item in leaf.items():
        parted[(hash(name) >> (BITS * depth)) & (LEAF - 1)][name] = item
    return tuple(parted)


def _drop(node: Node, way: int, key: str) -> Node:
    if type(node) is tuple:
        at = way & (LEAF - 1)
        return (*node[:at], _drop(node[at], way >> BITS, key), *node[at + 1 :])
    return {name: item for name, item in node.items() if name != key}


def _values(node: Node) -> Iterator[Any]:
    if type(node) is not tuple:
        yield from node.values()
        return
    for branch in node:
        yield from _values(branch)


Heap = tuple[int, int, Any, Any] | None
"""Rank, least number, and two heaps of greater ones: a leftist heap (Crane 1972; Knuth, The Art of
Computer Programming 3, section 5.2.3; from memory)."""


def melded(one: Heap, other: Heap) -> Heap:
    """Give one heap with the numbers of two, in as many steps as the logarithm of their count."""
    if one is None or other is None:
        return one or other
    if one[1] > other[1]:
        one, other = other, one
    left, right = one[2], melded(one[3], other)
    ranks = tuple(0 if heap is None else heap[0] for heap in (left, right))
    if ranks[0] < ranks[1]:
        left, right = right, left
    return min(ranks) + 1, one[1], left, right


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
        pair = self._by_id.get(wait_id) if wait_id is not None else None
        return pair[1] if pair else None

    def begun_as(self, wait: Wait) -> int:
        """Tell how many were begun before a wait that is there."""
        pair = self._by_id.get(wait.id)
        return pair[0] if pair else self._begun

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
