"""The class card as Markdown. Nothing that a person typed can become markup in it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from vatside.days.class_card.card import Dipped, Doing, Handout, Part

_ENTITIES = {"&": "&amp;", "<": "&lt;", ">": "&gt;"}
_MARKUP = re.compile(r"([\\`*_{}\[\]|~$^#]|=(?==)|(?<==)=)")
_LINK = re.compile(r":(?=//)|(?<=www)\.", re.IGNORECASE)
_ADDRESS = re.compile(r"@(?=[\w\\-])")
APART = "&#8288;"
"""A joiner without width: GitHub's Markdown makes a link of an address only after it has undone escapes and entities,
so that nothing else keeps it from one."""
_BEGINNING = re.compile(r"^([+-]|\d+(?=[.)](?:\s|$)))")


def escaped(text: str) -> str:
    """Give a text that Markdown shows as it is, with no more escapes than that takes.

    Line ends and other controls become blanks, so that nothing can begin a line of its own; what means something at
    the beginning of a line only is escaped there only.
    """
    flat = "".join(letter if letter.isprintable() else " " for letter in text).strip()
    safe = "".join(_ENTITIES.get(letter, letter) for letter in _MARKUP.sub(r"\\\1", flat))
    safe = _ADDRESS.sub(f"@{APART}", _LINK.sub(lambda found: "\\" + found[0], safe))
    return _BEGINNING.sub(_escape_beginning, safe)


def _escape_beginning(found: re.Match[str]) -> str:
    """A number is escaped behind its digits, anything else in front."""
    return f"{found[1]}\\" if found[1].isdigit() else f"\\{found[1]}"


def markdown(card: Handout) -> str:
    """Write the card; tables as GitHub's Markdown has them."""
    return "\n".join(_lines(card)) + "\n"


def _lines(card: Handout) -> Iterator[str]:
    yield f"# {escaped(card.title)}"
    yield ""
    tables = f" · {card.tables} tables" if card.tables > 1 else ""
    yield f"{escaped(card.ready)} · {escaped(card.vat)} · {escaped(card.dipping)}{tables}"
    yield ""
    yield from (f"- {escaped(line)}" for line in card.fibre)
    yield from (f"- **{escaped(line)}**" for line in card.uneven)
    if card.notices or card.looks:
        yield ""
        yield from (f"- **Danger:** {escaped(line)}" for line in card.notices)
        yield from (f"- **Look:** {escaped(line)}" for line in card.looks)
    for part in card.parts:
        yield from _part(part, card.tables, card.dips if part.name == "Dip" else ())
    yield from ("", "## Mind")
    for hazard in card.hazards:
        yield ""
        yield f"**{escaped(hazard.title)}**"
        yield ""
        yield from (f"- {escaped(line)}" for line in hazard.lines)
    yield from ("", f"**{escaped(card.end)}**")
    yield from ("", f"**{escaped(card.defer)}**")


def _part(part: Part, tables: int, dips: tuple[Dipped, ...]) -> Iterator[str]:
    yield from ("", f"## {escaped(part.name)}", "")
    if part.weighed:
        yield f"| Weigh and draw | {'Each table' if tables > 1 else ''} |"
        yield "|---|---|"
        yield from (f"| {escaped(line.label)} | {escaped(line.each)} |" for line in part.weighed)
        yield ""
        if tables > 1:
            every = " · ".join(f"{line.label} {line.whole}" for line in part.weighed)
            yield from (f"For all {tables} tables: {escaped(every)}", "")
    if dips:
        yield from ("| Dip | Depth | Pieces each table | Dips | In the vat | In the air |", "|---|---|---|---|---|---|")
        yield from ("| " + " | ".join(escaped(cell) for cell in cells_of(line)) + " |" for line in dips)
        yield ""
    yield from (_doing(number, line) for number, line in enumerate(part.doing, start=1))


def cells_of(line: Dipped) -> tuple[str, ...]:
    """Give the cells of a line of the dips."""
    return (line.lot, line.depth, line.pieces, line.dips, line.dip, line.air)


def _doing(number: int, line: Doing) -> str:
    at = f"**{escaped(line.at)}** " if line.at else ""
    wait = f" – {escaped(line.wait)}" if line.wait else ""
    mind = f" **Mind: {escaped(line.mind)}**" if line.mind else ""
    return f"{number}. {at}{escaped(line.text)}{wait}{mind}"
