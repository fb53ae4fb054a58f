"""The class card as Markdown and as an HTML page that prints on one sheet, and both put beside its session.

Nothing that a person typed can become markup in it. The page stands alone, on A4 or Letter.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from html import escape
from itertools import count
from math import ceil
from pathlib import Path

from attrs import evolve

from vatside.days.class_card import Dipped, Doing, Handout, Part, Weighed
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError, why
from vatside.storage.snapshot import keep_copy

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


SIZES = tuple(quarter / 4 for quarter in range(40, 25, -1))
"""Sizes of type, pt, the largest that fits being taken; smaller ones nobody reads at a table."""
READABLE = 8.75
"""Type that reads well at arm's length, pt. Ours."""
SHEET_PT = (7.6 * 72, 10.1 * 72)
"""Room for type on the narrower and on the shorter of A4 and Letter, with margins of 8 mm, pt."""
COLUMNS = 2
DIP_HEAD = ("Dip", "depth", "pieces", "dips", "in", "air")
DIP_CELLS = (14, 8, 8)
"""Letters that a line of the dips has room for in its first cells, in a column at a middling size of type. Ours."""
GAP_PT = 14.0
LINE = 1.18
"""Height of a line, sizes of type."""
LETTER = 0.44
"""Mean width of a letter, sizes of type: measured with common sans-serif faces, on the wide side. Ours."""

STYLE = """\
@page {{ margin: 8mm }}
* {{ box-sizing: border-box; margin: 0; padding: 0 }}
body {{ color: #000; background: #fff }}
body {{ font: {size}pt/{line} Arial, Helvetica, "Liberation Sans", "DejaVu Sans Condensed", sans-serif }}
main {{ columns: {columns}; column-gap: {gap}pt; column-fill: balance }}
h1 {{ font-size: 1.5em }}
h2 {{ font-size: 1.1em; margin-top: .5em; border-bottom: 1px solid #000; break-after: avoid }}
table {{ width: 100%; border-collapse: collapse }}
td, th {{ text-align: left; vertical-align: top; padding-right: .5em }}
table, tr, li, p {{ break-inside: avoid }}
ol, ul {{ padding-left: 1.6em }}
.danger, .defer {{ font-weight: bold }}
.mind {{ border: 1px solid #000; padding: 0 .3em }}
@media screen {{ body {{ max-width: 60em; margin: 1em auto; font-size: 12pt }} }}
@media print {{ html, body {{ height: auto }} }}
"""


def html(card: Handout) -> str:
    """Write the page: no scripts, no files from elsewhere, every text escaped."""
    card, left_out = fitted(card)
    size = type_size(card)
    style = STYLE.format(size=f"{size:g}", line=LINE, columns=COLUMNS, gap=GAP_PT)
    return "\n".join(
        (
            "<!DOCTYPE html>",
            '<html lang="en"><head><meta charset="utf-8">',
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">",
            '<meta name="viewport" content="width=device-width">',
            f"<title>{escape(card.title)}</title>",
            f"<style>\n{style}</style></head><body>",
            *_body(card, left_out),
            "</body></html>",
            "",
        )
    )


def _body(card: Handout, left_out: tuple[str, ...]) -> Iterator[str]:
    yield f"<h1>{escape(card.title)}</h1>"
    tables = f" · {card.tables} tables" if card.tables > 1 else ""
    yield f"<p>{escape(card.ready)} · {escape(card.vat)} · {escape(card.dipping)}{tables}</p>"
    yield f"<p>{escape(' · '.join(card.fibre))}</p>"
    yield from (f'<p class="danger">{escape(line)}</p>' for line in card.uneven)
    yield from (f'<p class="danger">Danger: {escape(line)}</p>' for line in card.notices)
    yield from (f"<p><b>Look:</b> {escape(line)}</p>" for line in card.looks)
    yield "<main>"
    for part in card.parts:
        yield from _part_html(part, card.tables, card.dips if part.name == "Dip" else ())
    yield "<h2>Mind</h2>"
    for hazard in card.hazards:
        yield f"<p><b>{escape(hazard.title)}.</b> {escape(' '.join(hazard.lines))}</p>"
    yield "</main>"
    if left_out:
        yield f"<p>Left out for want of room: {escape(', '.join(left_out))}.</p>"
    yield f'<p class="defer">{escape(card.end)}</p>'
    yield f'<p class="defer">{escape(card.defer)}</p>'


def _part_html(part: Part, tables: int, dips: tuple[Dipped, ...]) -> Iterator[str]:
    yield f"<h2>{escape(part.name)}</h2>"
    if part.weighed:
        yield f"<p><b>{'Each table' if tables > 1 else 'Weigh and draw'}:</b> {escape(_amounts(part.weighed))}</p>"
    if dips:
        yield "<table><tr>" + "".join(f"<th>{name}</th>" for name in DIP_HEAD) + "</tr>"
        yield from (_row(line) for line in dips)
        yield "</table>"
    yield "<ol>"
    yield from (_doing_html(line) for line in part.doing)
    yield "</ol>"


def _amounts(weighed: tuple[Weighed, ...]) -> str:
    """Give the amounts of one table in a line; what all need stands in the Markdown."""
    return " · ".join(f"{line.label} {line.each}" for line in weighed)


def _row(line: Dipped) -> str:
    return "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in cells_of(line)) + "</tr>"


def _doing_html(line: Doing) -> str:
    at = f"<b>{escape(line.at)}</b> " if line.at else ""
    wait = f" – {escape(line.wait)}" if line.wait else ""
    mind = f' <span class="mind">{escape(line.mind)}</span>' if line.mind else ""
    return f"<li>{at}{escape(line.text)}{wait}{mind}</li>"


def fitted(card: Handout) -> tuple[Handout, tuple[str, ...]]:
    """Cut a card that is too long for one sheet, what can best be done without first; give what was left out.

    The lists of amounts, which stand in the steps as well, where type that reads well has no room for them; then,
    where even the smallest type is too large, the finish, then the scour.
    """
    left_out: tuple[str, ...] = ()
    for size, cut, words in ((READABLE, _without_lists, ""), (SIZES[-1], _without("Finish"), "finish"),
                             (SIZES[-1], _without("Scour"), "scour")):  # fmt: skip
        if height_pt(card, size) <= SHEET_PT[1]:
            break
        card, left_out = cut(card), (*left_out, *([words] if words else []))
    return card, left_out


def _without_lists(card: Handout) -> Handout:
    return evolve(card, parts=tuple(evolve(part, weighed=()) for part in card.parts))


def _without(name: str) -> Callable[[Handout], Handout]:
    return lambda card: evolve(card, parts=tuple(part for part in card.parts if part.name != name))


def type_size(card: Handout) -> float:
    """Give the largest size of type at which the card is taken to fit one sheet, pt; the smallest if none does."""
    return next((size for size in SIZES if height_pt(card, size) <= SHEET_PT[1]), SIZES[-1])


def height_pt(card: Handout, size: float) -> float:
    """Estimate how high the card is in print, pt."""
    width, column = SHEET_PT[0], (SHEET_PT[0] - GAP_PT) / COLUMNS
    first = card.ready + card.vat + card.dipping
    whole = [first, " · ".join(card.fibre), *card.uneven, *card.notices, *card.looks, card.end, card.defer]
    head = 1.5 + sum(_rows(text, width, size) for text in whole)
    lines = sum(_part_rows(part, column, size) for part in card.parts) + 2
    lines += 1 + sum(_dip_rows(line) for line in card.dips) if card.dips else 0
    lines += sum(_rows(f"{item.title}. {' '.join(item.lines)}", column, size) for item in card.hazards)
    return (head + ceil(lines / COLUMNS) + 1) * size * LINE


def _part_rows(part: Part, column: float, size: float) -> float:
    indent = 1.6 * size
    texts = (f"{line.at} {line.text} – {line.wait} {line.mind}" for line in part.doing)
    steps = sum(_rows(text, column - indent, size) for text in texts)
    return 2 + steps + (_rows(f"Weigh and draw: {_amounts(part.weighed)}", column, size) if part.weighed else 0)


def _dip_rows(line: Dipped) -> int:
    return max(ceil(len(cell) / room) for cell, room in zip(cells_of(line), DIP_CELLS, strict=False))


def _rows(text: str, width: float, size: float) -> int:
    return max(ceil(len(text) * LETTER * size / width), 1)


def write_card(card: Handout, session: Path, fs: Fs | None = None) -> tuple[Path, Path]:
    """Write both files under new names beside a session file; SessionError if the disk refuses."""
    fs = fs or Fs()
    try:
        text, page = _free_names(fs, session)
        fs.make_folder(session.parent)
        keep_copy(fs, markdown(card).encode("utf-8", "replace"), text)
        keep_copy(fs, html(card).encode("utf-8", "replace"), page)
    except (OSError, ValueError) as error:
        raise SessionError(f"the class card cannot be written to {session.parent}: {why(error)}") from None
    return text, page


def _free_names(fs: Fs, session: Path) -> tuple[Path, Path]:
    stem = session.name.removesuffix(".json")
    for number in count(1):
        name = f"{stem}-class-card" if number == 1 else f"{stem}-class-card-{number}"
        text, page = session.with_name(f"{name}.md"), session.with_name(f"{name}.html")
        if fs.stamp(text) is None and fs.stamp(page) is None:
            break
    return text, page
