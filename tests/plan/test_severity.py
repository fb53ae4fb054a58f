"""One table says how grave a thing is: nobody else writes its signs and words."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import vatside
from vatside.plan.sheet import CARE, DANGER, NOTE, TABLE, Weight, gravest, severity

ROOT = Path(vatside.__file__).parent
SIGN = re.compile(r"""(^|["'])!{1,2}(\s|$)""")
WORD = re.compile(r"\W*(Danger|Care)\s*(:|$)")


def literals(path: Path) -> Iterator[str]:
    """Every string of a module that is not a docstring."""
    tree = ast.parse(path.read_text("utf-8"))
    said = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in said:
            yield node.value


@pytest.mark.parametrize("room", ["ui", "plain", "days", "bench", "shelf"])
def test_no_room_writes_the_signs_or_words_of_the_table_itself(room: str) -> None:
    """`!!`, `! `, `Danger` and `Care` stand in the table alone."""
    own = [(path.name, text) for path in sorted((ROOT / room).rglob("*.py")) for text in literals(path)
           if SIGN.search(text) or WORD.match(text)]  # fmt: skip
    assert own == []


def test_a_sentence_opens_by_its_weight() -> None:
    """What can hurt by sign and word, what needs a look by its sign, a note by nothing."""
    assert [row.opening for row in (DANGER, CARE, NOTE)] == ["!! Danger: ", "! ", ""]


def test_every_weight_has_its_row() -> None:
    """Sign, ink and key of no two weights that matter are alike in sign or ink."""
    assert {row.weight for row in TABLE} == set(Weight)
    assert len({(row.sign, row.ink) for row in TABLE}) == len(TABLE)
    assert severity(Weight.DANGER) is DANGER
    assert gravest([Weight.NOTE, Weight.CARE, Weight.DANGER]) is DANGER
    assert gravest([Weight.NOTE]) is None
