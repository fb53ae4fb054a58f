"""The page of a kind of vat says what it is for, how long it takes, what it weighs, costs and harms, how it ends."""

from __future__ import annotations

from pathlib import Path

import pytest
from attrs import evolve

from vatside.bench.method_page import method_page, shelf_beside
from vatside.catalogue.load import cautions, materials, methods
from vatside.plan.starter import starter_plan
from vatside.shelf.shelf import shelf

PAGES = sorted(methods())


def page(method: str) -> dict[str, str]:
    """Give the page of a kind of vat for a new plan, without prices."""
    rows = method_page(evolve(starter_plan(), method=method), shelf(()))
    return {word: " ".join(text for other, text in rows if other == word) for word, _ in rows}


@pytest.mark.parametrize("method", PAGES)
def test_a_page_says_all_that_is_asked_of_it(method: str) -> None:
    """Its own line, every group it suits, its rests, the powders in grams, each caution of them, its end."""
    known, said = methods()[method], page(method)
    assert known.about[1:] in said["for"]
    assert said["suits"].count("°C") == len(known.vat.suits)
    assert "rests" in said["takes"]
    assert f"{known.keeps_days} day" in said["keeps"]
    for powder in (known.indigo, known.reducer, known.alkali):
        assert f"{materials()[powder].name} " in said["weighs"]
        assert all(cautions()[key].title in said["harms"] for key in materials()[powder].cautions)


def test_grams_are_told_of_the_powders_that_are_named_alone() -> None:
    """The soda ash of a scour stands on the page of a soda vat, and no page promises it where it does not stand."""
    assert "soda ash" not in page("fructose-lime")["weighs"]
    assert "scour" not in page("fructose-lime")["weighs"]
    assert "soda ash" in page("tdo-soda")["weighs"]


def test_a_vat_that_is_handed_over_says_so() -> None:
    """Zinc goes to the waste office without acid; of the others only those with an end of their own say so."""
    assert "waste office" in page("zinc-lime")["ends"]
    assert "mild pH" in page("tdo-lye")["ends"]


def test_without_prices_it_says_where_they_go() -> None:
    """Nothing is called free because nobody named its price."""
    assert "No prices" in page("tdo-lye")["costs"]


def test_the_shelf_lies_beside_the_folder_of_days(tmp_path: Path) -> None:
    """A folder without a shelf has an empty one."""
    assert shelf_beside(tmp_path / "sessions") == shelf(())
