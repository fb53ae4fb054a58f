"""Labels as one HTML page that stands alone: three in a row, to be cut along the lines, on A4 or Letter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from vatside.days.labels import Label

STYLE = """\
@page { margin: 8mm }
* { box-sizing: border-box; margin: 0; padding: 0 }
body { color: #000; background: #fff; font: 9pt/1.2 Arial, Helvetica, "Liberation Sans", sans-serif }
main { display: flex; flex-wrap: wrap }
section { width: 33.3%; min-height: 36mm; padding: 2mm; border: 0.2mm dashed #000; break-inside: avoid }
section { overflow-wrap: anywhere }
h2 { font-size: 1.25em }
.hazard { border: 1mm solid #000 }
.hazard h2::before { content: "! " }
@media screen { body { max-width: 60em; margin: 1em auto } }
"""


def label_sheet(title: str, labels: Iterable[Label]) -> str:
    """Write the page: no scripts, no files from elsewhere, every text escaped."""
    return "\n".join(
        (
            "<!DOCTYPE html>",
            '<html lang="en"><head><meta charset="utf-8">',
            "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">",
            '<meta name="viewport" content="width=device-width">',
            f"<title>{escape(title)}</title>",
            f"<style>\n{STYLE}</style></head><body><main>",
            *(line for label in labels for line in _section(label)),
            "</main></body></html>",
            "",
        )
    )


def _section(label: Label) -> Iterator[str]:
    yield '<section class="hazard">' if label.hazard else "<section>"
    yield f"<h2>{escape(label.title)}</h2>"
    yield from (f"<p>{escape(line)}</p>" for line in label.lines)
    yield "</section>"
