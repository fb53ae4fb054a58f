"""Putting together what is alike."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

Key = TypeVar("Key")
Member = TypeVar("Member")


def gathered(pairs: Iterable[tuple[Key, Member]]) -> dict[Key, list[Member]]:
    """Put together what has the same key, in the order in which each first comes."""
    groups: dict[Key, list[Member]] = {}
    for key, member in pairs:
        groups.setdefault(key, []).append(member)
    return groups
