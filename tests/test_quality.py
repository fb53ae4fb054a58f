"""Lint, formatting and types are part of the tests."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

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
