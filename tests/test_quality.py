"""Lint, formatting and types are part of the tests; and chance is not."""

from __future__ import annotations

import importlib
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import EFFORT

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize(
    "command",
    [
        pytest.param(("ruff", "check", "src", "tests"), id="lint"),
        pytest.param(("ruff", "format", "--check", "src", "tests"), id="format"),
        pytest.param(("mypy",), id="types"),
    ],
)
def test_the_tree_is_clean(command: tuple[str, ...]) -> None:
    """Ruff and strict mypy have nothing to say about the sources and the tests."""
    done = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]


@pytest.mark.skipif(EFFORT > 1, reason="a long run draws other examples each time")
def test_the_usual_run_sees_the_same_examples_whatever_is_loaded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A module that an earlier test imported, with its constants, changes no example of a later one."""
    before = examples_seen()
    (tmp_path / "loaded_later.py").write_text("FOUND = (7654321, 2.3456789, 'a word that nobody draws')\n" * 50)
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delitem(sys.modules, "loaded_later", raising=False)
    importlib.import_module("loaded_later")
    try:
        assert examples_seen() == before
    finally:
        del sys.modules["loaded_later"]


def examples_seen() -> list[tuple[object, ...]]:
    """All examples of one property."""
    seen: list[tuple[object, ...]] = []

    @given(st.lists(st.integers()), st.lists(st.floats(0, 10)), st.lists(st.text()))
    def see(whole: object, parts: object, words: object) -> None:
        seen.append((whole, parts, words))

    see()
    return seen
