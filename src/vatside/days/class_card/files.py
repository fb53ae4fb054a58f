"""Putting a class card beside its session: Markdown to change, and a page to print."""

from __future__ import annotations

from itertools import count
from pathlib import Path

from vatside.days.class_card.as_html import html
from vatside.days.class_card.as_markdown import markdown
from vatside.days.class_card.card import Handout
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError, why
from vatside.storage.snapshot import keep_copy


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
