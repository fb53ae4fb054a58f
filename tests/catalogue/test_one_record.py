"""A reducer is known to its one record and its powder, a kind of vat to its one file, and nothing else knows them."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import vatside
from vatside.catalogue.findings import rows
from vatside.catalogue.load import DATA, materials, methods
from vatside.chemistry.bath import TOTALS
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import ALKALIS, SUBSTANCES

SOURCE = Path(vatside.__file__).parent
RECORDS = ("chemistry/reducers.py", "chemistry/sources.py")
"""Where reducers may be named: their records, and the titles of what they rest on."""
OTHER_THINGS = {"dithionite", "zinc"}
"""Also an ion of the charge balance, and a metal that vessels are made of."""
POWDERS = {key for key, item in materials().items() if item.role == "reducer"}
NAMES = ({*methods(), *POWDERS, *REDUCERS}) - OTHER_THINGS
NAMED = re.compile(rf"(?<![\w-])(?:{'|'.join(re.escape(name) for name in sorted(NAMES))})(?![\w-])")
MODULES = [path for path in sorted(SOURCE.rglob("*.py")) if str(path.relative_to(SOURCE)) not in RECORDS]


def spoken(path: Path) -> Iterator[str]:
    """Every string of a module that the program works with: all but the docstrings and notes."""
    tree = ast.parse(path.read_text("utf-8"))
    notes = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in notes:
            yield node.value


def test_nothing_else_names_a_reducer_or_a_kind_of_vat() -> None:
    """No module but the records spells one: it asks the record, the powder or the method."""
    found = {str(path.relative_to(SOURCE)): NAMED.findall(text) for path in MODULES for text in spoken(path)}
    assert {path: names for path, names in found.items() if names} == {}


def test_the_search_finds_one() -> None:
    """A module that asks whether the reducer is fructose would be found."""
    assert NAMED.findall('reducer == "fructose"') == ["fructose"]
    assert NAMED.findall("method tdo-lye") == ["tdo-lye"]
    assert not NAMED.findall("fructose-like")


@pytest.mark.parametrize("name", REDUCERS)
def test_a_bath_holds_what_a_reducer_is_and_becomes(name: str) -> None:
    """Its own total and those of all that it becomes are totals of a bath."""
    kind = REDUCERS[name]
    assert SUBSTANCES[name] is kind.pure
    made = {total for part in (kind.with_indigo, kind.with_oxygen, kind.in_air, kind.closed) for total, _ in part}
    assert {kind.total, *made} <= set(TOTALS)


@pytest.mark.parametrize("name", REDUCERS)
def test_a_reducer_has_its_powder(name: str) -> None:
    """A powder brings it, says how it goes into a live vat, and how much of it a kept vat is fed."""
    powders = [item for item in materials().values() if item.role == "reducer" and item.species == name]
    assert powders
    assert all(item.goes_in and item.feed for item in powders)


@pytest.mark.parametrize("key", ["air-in", "short-of-reducer"])
@pytest.mark.parametrize("name", REDUCERS)
def test_a_vat_that_lacks_its_reducer_is_given_it(name: str, key: str) -> None:
    """A vat that is blue or green again has a remedy for each reducer."""
    assert [item for item in rows()[key].remedies if name in item.reducers]


def test_an_alkali_has_its_powder_and_says_how_it_goes_in() -> None:
    """Each alkali of the catalogue has a record, and its powder says how it goes into a live vat."""
    powders = [item for item in materials().values() if item.role in ("alkali", "buffer")]
    assert {item.species for item in powders} <= set(ALKALIS)
    assert all(item.goes_in for item in powders)


def test_each_kind_of_vat_is_one_file() -> None:
    """The files in the folder are the kinds of vat, and one of them is what a new plan begins with."""
    assert set(methods()) == {path.stem for path in (DATA / "methods").glob("*.toml")}
    assert sum(method.usual for method in methods().values()) == 1
