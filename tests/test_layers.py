"""The stair of rooms, as the code's own imports draw it."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1] / "src" / "vatside"
STAIR = (
    ("units",), ("chemistry",), ("catalogue",), ("plan",), ("dips",), ("forms",), ("recipe",), ("vat",), ("dayline",),
    ("log",), ("storage", "clocks", "outlook"), ("days",), ("shelf",), ("bench", "plain"), ("ui",),
)  # fmt: skip
"""From the bottom up; a room imports itself and what stands below it. Rooms of one step do not import each other."""
LEVEL = {room: number for number, step in enumerate(STAIR) for room in step}


def modules() -> Iterator[Path]:
    """Every module of the program."""
    yield from sorted(ROOT.rglob("*.py"))


def name_of(path: Path) -> str:
    """Dotted name of a module."""
    parts = path.relative_to(ROOT.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imported(path: Path) -> Iterator[str]:
    """Dotted names of everything a module imports, late imports included."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def room_of(name: str) -> str:
    """The room that a dotted name of ours lies in; empty for the two modules outside of all rooms, and for others."""
    parts = name.split(".")
    return parts[1] if parts[0] == "vatside" and len(parts) > 1 and parts[1] in LEVEL else ""


@pytest.mark.parametrize("room", LEVEL)
def test_imports_point_down(room: str) -> None:
    """A module imports only its own room and the ones below, and only `ui` imports textual."""
    for path in sorted((ROOT / room).rglob("*.py")):
        for name in imported(path):
            other = room_of(name)
            assert not other or other == room or LEVEL[other] < LEVEL[room], f"{name_of(path)} imports {name}"
            if name.split(".")[0] in ("textual", "rich"):
                assert room == "ui", f"{name_of(path)} imports {name}"


def test_every_folder_is_a_room() -> None:
    """No module lies in a folder that the stair does not name."""
    assert {path.name for path in ROOT.iterdir() if path.is_dir() and any(path.rglob("*.py"))} == set(LEVEL)


def test_no_module_imports_in_a_circle() -> None:
    """Late imports and those for types alone count as well."""
    names = {name_of(path): path for path in modules()}
    arrows = {name: {other for other in imported(path) if other in names} - {name} for name, path in names.items()}
    assert not list(circles(arrows))


ASKED_BY = {
    "vatside.ui.routes": ("vatside.ui.app", "vatside.ui.routes"),
    "vatside.ui.app": ("vatside.ui.start",),
    "vatside.ui.start": ("vatside.__main__",),
}
"""What leads from screen to screen, and who may import it."""


@pytest.mark.parametrize("lead", ASKED_BY)
def test_no_screen_knows_where_it_leads(lead: str) -> None:
    """Routes are imported by the app alone, the app by its start: what a screen asks of them it asks the host."""
    for path in modules():
        if any(name == lead or name.startswith(f"{lead}.") for name in imported(path)):
            assert name_of(path).startswith(ASKED_BY[lead]), name_of(path)


def circles(arrows: dict[str, set[str]]) -> Iterator[set[str]]:
    """Groups of modules each of which reaches every other one of its group."""
    reached = {name: reach(name, arrows) for name in arrows}
    left = {name for name in arrows if name in reached[name]}
    while left:
        one = left.pop()
        group = {one} | {other for other in left if other in reached[one] and one in reached[other]}
        left -= group
        yield group


def reach(name: str, arrows: dict[str, set[str]]) -> set[str]:
    """Everything that a module imports, and what that imports in turn."""
    found: set[str] = set()
    new = set(arrows[name])
    while new:
        found |= new
        new = {other for each in new for other in arrows[each]} - found
    return found


ALL_OF = "for m in pkgutil.walk_packages(p.__path__, p.__name__ + '.'): importlib.import_module(m.name)\n"


@pytest.mark.parametrize("room", ["units", "chemistry"])
def test_the_arithmetic_stands_alone(room: str) -> None:
    """Chemistry never sees pint, and units imports it only when a conversion is asked for."""
    code = f"import sys, pkgutil, importlib, vatside.{room} as p\n{ALL_OF}print('pint' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_the_core_runs_without_textual() -> None:
    """Importing every room but `ui` leaves textual alone, late imports of a start included."""
    code = "import sys, pkgutil, importlib\n" + "".join(
        f"import vatside.{room} as p\n{ALL_OF}" for room in LEVEL if room != "ui"
    )
    done = subprocess.run(
        [sys.executable, "-c", code + "print('textual' in sys.modules)"], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "False"
