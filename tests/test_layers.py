"""The layer line, as the code's own imports draw it."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "src" / "vatside"
ORDER = ("units", "chemistry", "catalogue", "recipe", "dayline", "session", "plain", "ui")
"""From the bottom up; a layer may import itself and those before it. `plain` and `ui` are both on top."""
CORE = ORDER[:-1]


def modules() -> Iterator[tuple[str, Path]]:
    """Every module inside a layer."""
    for layer in ORDER:
        yield from ((layer, path) for path in sorted((ROOT / layer).rglob("*.py")))


def imported(path: Path) -> Iterator[str]:
    """Dotted names of everything a module imports, late imports included."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


@pytest.mark.parametrize(("layer", "path"), [pytest.param(*item, id=f"{item[0]}-{item[1].stem}") for item in modules()])
def test_imports_point_down(layer: str, path: Path) -> None:
    """A module imports only its own layer and the ones below, and only `ui` imports textual."""
    allowed = set(ORDER[: ORDER.index(layer) + 1])
    for name in imported(path):
        parts = name.split(".")
        if parts[0] == "vatside" and len(parts) > 1 and parts[1] in ORDER:
            assert parts[1] in allowed, f"{path.name} of {layer} imports {name}"
        if parts[0] in ("textual", "rich"):
            assert layer == "ui", f"{path.name} of {layer} imports {name}"


@pytest.mark.parametrize("layer", ["units", "chemistry"])
def test_the_arithmetic_stands_alone(layer: str) -> None:
    """Chemistry never sees pint, and units imports it only when a conversion is asked for."""
    code = f"import sys, pkgutil, importlib, vatside.{layer} as p\n" + (
        "for m in pkgutil.iter_modules(p.__path__, p.__name__ + '.'): importlib.import_module(m.name)\n"
        "print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_the_core_runs_without_textual() -> None:
    """Importing every layer but `ui` leaves textual alone, late imports of a start included."""
    code = "import sys, pkgutil, importlib\n" + "".join(
        f"import vatside.{layer} as p\n"
        "for m in pkgutil.iter_modules(p.__path__, p.__name__ + '.'): importlib.import_module(m.name)\n"
        for layer in CORE
    )
    done = subprocess.run(
        [sys.executable, "-c", code + "print('textual' in sys.modules)"], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "False"
