"""The keys that count right here, in one line."""

from __future__ import annotations

from attrs import frozen

from vatside.ui.text.rows import Row, Span, cells


@frozen
class Key:
    """A key, what it does in a word or two, and the action behind it."""

    key: str
    does: str
    act: str = ""


def key_row(keys: tuple[Key, ...], width: int) -> Row:
    """Print as many keys as fit, the last one (help) always."""
    if not keys:
        return Row()
    last, room = keys[-1], width - 1
    room -= _width(last)
    kept: list[Key] = []
    for key in keys[:-1]:
        if _width(key) <= room:
            kept.append(key)
            room -= _width(key)
    spans: list[Span] = [Span(" ")]
    for key in (*kept, last):
        spans += [Span(key.key, "key", key.act), Span(f" {key.does}   ", "faint", key.act)]
    return Row(tuple(spans))


def _width(key: Key) -> int:
    return cells(key.key) + cells(key.does) + 4
