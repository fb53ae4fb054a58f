"""The class card as Markdown and as an HTML page that prints on two sheets, and both put beside its session.

Nothing that a person typed can become markup in it. The page stands alone, on A4 or Letter.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from html import escape
from itertools import count
from pathlib import Path

from vatside.days.class_card import Handout
from vatside.days.class_pages import DIP_HEAD, GAP_PT, HOUR, LINE, SCALES, Block, Kind, fitted, pages, type_size
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
    safe = _ADDRESS.sub(f"@{APART}", _LINK.sub(lambda match: "\\" + match[0], safe))
    return _BEGINNING.sub(_escape_beginning, safe)


def _escape_beginning(match: re.Match[str]) -> str:
    """A number is escaped behind its digits, anything else in front."""
    return f"{match[1]}\\" if match[1].isdigit() else f"\\{match[1]}"


def markdown(card: Handout) -> str:
    """Write the card, its pages parted by a rule; tables as GitHub's Markdown has them."""
    first, second = ("\n".join(line for block in page for line in (*_marked(block), "")) for page in pages(card))
    return f"{first}\n---\n\n{second}"


HEADS = {
    Kind.AMOUNTS: ("", "Weigh and draw", ""), Kind.FOR_ALL: ("", "Weigh and draw", ""), Kind.DIPS: DIP_HEAD,
    Kind.TIMES: ("", "From", "What", "Steps"),
}  # fmt: skip
"""What stands above the cells of a table; an amount and a box say themselves what they are."""
BEFORE = {Kind.TITLE: "# ", Kind.HEAD: "## ", Kind.TEXT: "- "}


def _marked(block: Block) -> Iterator[str]:
    """A block in Markdown."""
    if block.kind in HEADS:
        yield f"| {' | '.join(HEADS[block.kind])} |"
        yield f"|{'---|' * len(HEADS[block.kind])}"
        yield from (f"| {' | '.join(escaped(cell) for cell in row)} |" for row in block.rows)
    elif block.kind is Kind.STEPS:
        yield from (_marked_step(*row) for row in block.rows)
    elif block.kind is Kind.HAZARDS:
        for number, (title, *lines) in enumerate(block.rows):
            yield from ([""] if number else [])
            yield from (f"**{escaped(title)}**", "", *(f"- {escaped(line)}" for line in lines))
    elif block.kind in BEFORE:
        yield from (f"{BEFORE[block.kind]}{escaped(cell)}" for (cell,) in block.rows)
    else:
        yield from (f"- **{escaped(cell)}**" for (cell,) in block.rows)


def _marked_step(number: str, at: str, whose: str, text: str, wait: str, mind: str) -> str:
    begins = " ".join(f"**{escaped(word)}**" for word in (at, whose) if word)
    waits = f" – {escaped(wait)}" if wait else ""
    minds = f" **Mind: {escaped(mind)}**" if mind else ""
    return f"{number}. {begins}{' ' if begins else ''}{escaped(text)}{waits}{minds}"


STYLE = """\
@page {{ margin: 8mm }}
* {{ box-sizing: border-box; margin: 0; padding: 0 }}
body {{ color: #000; background: #fff; print-color-adjust: exact }}
body {{ font-family: Arial, Helvetica, "Liberation Sans", "DejaVu Sans Condensed", sans-serif; line-height: {line} }}
.one {{ font-size: {one}pt; break-after: page }}
.two {{ font-size: {two}pt }}
{sizes}
h1, h2 {{ color: {blue} }}
h1 {{ border-bottom: 2.5pt solid {blue} }}
h2 {{ break-after: avoid; margin: .4em 0 .15em; border-bottom: .5pt solid {blue} }}
ul, table {{ margin-bottom: .3em }}
table {{ width: 100%; border-collapse: collapse }}
td, th {{ text-align: left; vertical-align: top; padding-right: .5em }}
tr, li, p {{ break-inside: avoid }}
ol, ul {{ list-style: none; columns: 2; column-gap: {gap}pt }}
li {{ padding-left: 2em; text-indent: -2em }}
.amounts li, .for-all li {{ display: flex; gap: .4em; padding: 0; text-indent: 0 }}
.amounts span, .for-all span {{ flex: 1; border-bottom: .5pt dotted #777 }}
.times li {{ display: grid; grid-template-columns: 1.2em {hour}em 1fr; padding: 0; text-indent: 0 }}
.danger {{ border: 1.5pt solid {madder}; padding: 0 .3em; margin: .2em 0 }}
.danger, .strong, .mind {{ font-weight: bold }}
.mind {{ color: {madder} }}
@media screen {{ body {{ max-width: 60em; margin: 1em auto }} }}
"""
BLUE, MADDER = "#26356f", "#8c2a1a"
"""Inks that stay dark in black and white: 11.5 and 8.4 to one on white paper (contrast of WCAG 2.2)."""


def html(card: Handout) -> str:
    """Write the page: no scripts, no files from elsewhere, every text escaped."""
    (first, _), (second, _) = fitted(card)
    sizes = "\n".join(f".{kind} {{ font-size: {scale:g}em }}" for kind, scale in SCALES.items())
    one, two = (f"{type_size(page):g}" for page in (first, second))
    inks = {"blue": BLUE, "madder": MADDER}
    style = STYLE.format(one=one, two=two, line=LINE, gap=GAP_PT, sizes=sizes, hour=HOUR, **inks)
    return "\n".join(
        (
            "<!DOCTYPE html>",
            '<html lang="en"><head><meta charset="utf-8">',
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">",
            '<meta name="viewport" content="width=device-width">',
            f"<title>{escape(card.title)}</title>",
            f"<style>\n{style}</style></head><body>",
            '<main class="one">', *(line for block in first for line in _tagged(block)), "</main>",
            '<main class="two">', *(line for block in second for line in _tagged(block)), "</main>",
            "</body></html>",
            "",
        )
    )  # fmt: skip


_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:\d+/\d+|k?g|m?L|k?W|tsp|tbsp|cups?|lb|oz|°[CF]|%|s|min|h|d)(?!\w))")


def _shown(text: str) -> str:
    """Escape a text, and let no line end between a number and its unit."""
    return _BEFORE_UNIT.sub("&nbsp;", escape(text))


TAGS = {Kind.TITLE: "h1", Kind.HEAD: "h2"}


def _tagged(block: Block) -> Iterator[str]:
    """A block in HTML."""
    if block.kind is Kind.DIPS:
        yield "<table><tr>" + "".join(f"<th>{name}</th>" for name in DIP_HEAD) + "</tr>"
        yield from ("<tr>" + "".join(f"<td>{_shown(cell)}</td>" for cell in row) + "</tr>" for row in block.rows)
        yield "</table>"
    elif block.kind in ITEMS:
        yield f'<ul class="{block.kind}">'
        yield from (f"<li>{ITEMS[block.kind](*(_shown(cell) for cell in row))}</li>" for row in block.rows)
        yield "</ul>"
    else:
        tag = TAGS.get(block.kind, "p")
        yield from (f'<{tag} class="{block.kind}">{_shown(cell)}</{tag}>' for (cell,) in block.rows)


def _amount(box: str, label: str, amount: str) -> str:
    return f"<span>{box} {label}</span> <b>{amount}</b>"


def _time(box: str, at: str, text: str, numbers: str) -> str:
    return f"<i>{box}</i> <b>{at}</b> <span>{text}{f' ({numbers})' if numbers else ''}</span>"


def _step(number: str, at: str, whose: str, text: str, wait: str, mind: str) -> str:
    waits = f" – {wait}" if wait else ""
    minds = f' <span class="mind">Mind: {mind}</span>' if mind else ""
    return f"{number}. <b>{at} {whose}</b> {text}{waits}{minds}"


def _hazard(title: str, *lines: str) -> str:
    return f"<b>{title}.</b> {' '.join(lines)}"


ITEMS: Mapping[Kind, Callable[..., str]] = {
    Kind.AMOUNTS: _amount, Kind.FOR_ALL: _amount, Kind.TIMES: _time, Kind.STEPS: _step, Kind.HAZARDS: _hazard
}  # fmt: skip


def write_card(card: Handout, session: Path) -> tuple[Path, Path]:
    """Write both files under new names beside a session file; SessionError if the disk refuses."""
    fs = Fs()
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
