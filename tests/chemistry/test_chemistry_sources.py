"""The references: every key that the chemistry quotes is there, and none is idle."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import vatside.chemistry
from vatside.chemistry.sources import SOURCES

MODULES = [path for path in sorted(Path(vatside.chemistry.__file__).parent.glob("*.py")) if path.stem != "sources"]
KEY = re.compile(r"\[([A-Z][A-Za-z0-9-]+)\]")


def quoted(path: Path) -> set[str]:
    """Keys in square brackets in a module's docstrings and the notes under its constants."""
    notes = (
        node.value.value
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str)
    )
    return set(KEY.findall(" ".join(notes)))


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.stem))
def test_every_key_has_its_reference(path: Path) -> None:
    """A key in square brackets leads to a reference."""
    assert quoted(path) <= set(SOURCES)


def test_no_reference_is_idle() -> None:
    """Every reference is quoted by a formula, a constant or another reference."""
    everywhere = set[str]().union(*(quoted(path) for path in MODULES))
    within = set(KEY.findall(" ".join(source.text + source.seen for source in SOURCES.values())))
    assert set(SOURCES) <= everywhere | within


@pytest.mark.parametrize("key", SOURCES)
def test_a_reference_says_what_was_seen(key: str) -> None:
    """Each reference has a text and says how far it was seen."""
    assert SOURCES[key].text
    assert SOURCES[key].seen
