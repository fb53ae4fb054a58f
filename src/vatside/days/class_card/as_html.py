"""The class card as one HTML page that stands alone and prints on one sheet, A4 or Letter."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from html import escape
from math import ceil

from attrs import evolve

from vatside.days.class_card.as_markdown import cells_of
from vatside.days.class_card.card import Dipped, Doing, Handout, Part, Weighed

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
        yield from _part(part, card.tables, card.dips if part.name == "Dip" else ())
    yield "<h2>Mind</h2>"
    for hazard in card.hazards:
        yield f"<p><b>{escape(hazard.title)}.</b> {escape(' '.join(hazard.lines))}</p>"
    yield "</main>"
    if left_out:
        yield f"<p>Left out for want of room: {escape(', '.join(left_out))}.</p>"
    yield f'<p class="defer">{escape(card.end)}</p>'
    yield f'<p class="defer">{escape(card.defer)}</p>'


def _part(part: Part, tables: int, dips: tuple[Dipped, ...]) -> Iterator[str]:
    yield f"<h2>{escape(part.name)}</h2>"
    if part.weighed:
        yield f"<p><b>{'Each table' if tables > 1 else 'Weigh and draw'}:</b> {escape(_amounts(part.weighed))}</p>"
    if dips:
        yield "<table><tr>" + "".join(f"<th>{name}</th>" for name in DIP_HEAD) + "</tr>"
        yield from (_row(line) for line in dips)
        yield "</table>"
    yield "<ol>"
    yield from (_doing(line) for line in part.doing)
    yield "</ol>"


def _amounts(weighed: tuple[Weighed, ...]) -> str:
    """Give the amounts of one table in a line; what all need stands in the Markdown."""
    return " · ".join(f"{line.label} {line.each}" for line in weighed)


def _row(line: Dipped) -> str:
    return "<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in cells_of(line)) + "</tr>"


def _doing(line: Doing) -> str:
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
