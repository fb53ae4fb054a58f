"""A dyer's own kinds of vat: one file each in her data folder; a bad one is named, and all goes on without it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from attrs import evolve

from vatside.catalogue import audit, findings
from vatside.catalogue.audit import LONGEST, put
from vatside.catalogue.audit import problems_of_own as problems
from vatside.catalogue.load import DATA, methods
from vatside.forms.rows import plan_rows
from vatside.plain.file_contents import run_check
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.storage.own_vats import take_folder_in

TDO_LIME = (DATA / "methods" / "tdo-lime.toml").read_text("utf-8")
GOOD = TDO_LIME.replace('"thiourea dioxide and lime"', '"dithionite and lime"').replace(
    'reducer = "thiourea-dioxide"', 'reducer = "dithionite"'
)
"""A kind of vat that is not shipped: a known reducer with a known alkali."""


@pytest.fixture(autouse=True)
def _as_before() -> Iterator[None]:
    yield
    put({})


def folder_with(tmp_path: Path, **files: str) -> Path:
    """Write files into a folder of own vats; `__` stands for a dash."""
    for name, text in files.items():
        (tmp_path / f"{name.replace('__', '-')}.toml").write_text(text, "utf-8")
    return tmp_path


def test_one_file_is_one_kind_of_vat(tmp_path: Path) -> None:
    """It is offered with the others, and a day is worked out with it to the end of its reducer."""
    assert take_folder_in(folder_with(tmp_path, dithionite__lime=GOOD)) == ()
    method = next(row for row in plan_rows(starter_plan()) if row.path == "method")
    assert ("dithionite-lime", "dithionite and lime") in method.choices
    sheet = compute(evolve(starter_plan(), method="dithionite-lime"))
    # 0.426 g of lime a gram of dithionite and 0.141 a gram of indigotin, worked by hand from 2 mol of hydroxide a mole
    least = sheet["stock.alkali"].minimum
    assert least is not None
    wanted = 0.4256 * 0.88 * sheet.value("stock.reducer") + 0.1413 * sheet.value("stock.indigotin")
    assert least * 0.95 == pytest.approx(wanted, rel=0.002)


def test_the_catalogue_hangs_together_with_it(tmp_path: Path) -> None:
    """The audit has nothing to say once it is taken in."""
    take_folder_in(folder_with(tmp_path, dithionite__lime=GOOD))
    assert audit.problems() == findings.problems() == ()


def test_a_copy_of_a_kind_brings_no_way_twice(tmp_path: Path) -> None:
    """Her own fruit vat, begun as a copy of the one that is shipped: what is done about air is said once."""
    text = (DATA / "methods" / "plant-lime.toml").read_text("utf-8")
    take_folder_in(folder_with(tmp_path, plum__lime=text.replace('"ripe fruit and lime"', '"plums and lime"')))
    assert "plum-lime" in methods()
    for row in findings.rows().values():
        names = [remedy.id for remedy in row.remedies]
        assert len(names) == len(set(names))


def test_a_vat_of_her_own_powder(tmp_path: Path) -> None:
    """A file may bring its powder, with how it goes in, and a caution."""
    powder = GOOD.replace('reducer = "dithionite"', 'reducer = "old-dithionite"') + (
        '[materials.old-dithionite]\nname = "dithionite, a year old"\nshort = "Old reducer"\nrole = "reducer"\n'
        'species = "sodium dithionite"\ncautions = ["old"]\n'
        'purity = { value = 60, source = "guess" }\nbulk = { value = 1.2, source = "guess" }\n'
        '[cautions.old]\ntitle = "Old reducer"\nacknowledge = true\nsource = "practice"\nlines = ["Look first."]\n'
    )
    assert take_folder_in(folder_with(tmp_path, mine=powder)) == ()
    assert compute(evolve(starter_plan(), method="mine"))["stock.reducer"].label == "Old reducer"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("[stock]", "[stock", "line 11: Expected ']' at the end of a table declaration"),
        ("sharpen = ", "shapren = ", "vat"),
        ("hold = { value = 60", 'hold = { value = "long"', "stock.hold"),
        ('reducer = "dithionite"', 'reducer = "gin"', "line 8: gin is no reducer"),
        ('suits = ["cellulose"]', 'suits = ["paper"]', "no group paper"),
        ('source = "Rubbing"', 'source = "hearsay"', "no source hearsay"),
        ("value = 65, low = 55", "value = 65, low = 66", "65.0 is not between 66.0 and 75.0"),
        ("value = 65, low = 55", "value = 0, low = 0", "no day can be worked out with it"),
        ('name = "dithionite and lime"', 'name = "dithionite \\u001b[2J lime"', "control character"),
        ('name = "dithionite and lime"', "", "it lacks 'name'"),
    ],
)
def test_a_bad_file_is_named_with_its_line(tmp_path: Path, old: str, new: str, said: str) -> None:
    """The rest of the catalogue stays, and the sentence says which file, which line and why."""
    assert old in GOOD
    (sentence,) = take_folder_in(folder_with(tmp_path, mine=GOOD.replace(old, new)))
    assert sentence.startswith("vats/mine.toml is left out: ")
    assert said in sentence
    assert "line " in sentence or "no day" in sentence
    assert "mine" not in methods()


def test_a_good_one_stays_beside_a_bad_one(tmp_path: Path) -> None:
    """One bad file takes nothing else along."""
    said = take_folder_in(folder_with(tmp_path, bad="name = 3", good=GOOD))
    assert len(said) == 1
    assert "good" in methods()
    assert "bad" not in methods()


@pytest.mark.parametrize(("name", "said"), [("tdo-lye", "the program's own"), ("My vat", "no name")])
def test_names_that_are_taken_or_none(name: str, said: str) -> None:
    """A file cannot take a shipped vat's place, and its name is one that a plan can hold."""
    assert said in problems(name, GOOD)[0]


def test_what_is_no_text(tmp_path: Path) -> None:
    """A file of bytes, an endless one and a folder of that name are said in words."""
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe")
    (tmp_path / "folder.toml").mkdir()
    (tmp_path / "long.toml").write_text("#" * (LONGEST + 1), "utf-8")
    said = take_folder_in(tmp_path)
    assert len(said) == 3
    assert all("is left out" in sentence for sentence in said)
    assert take_folder_in(tmp_path / "nowhere") == ()


def test_check_reads_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`vatside check FILE.toml` says well, or every problem with its line."""
    folder_with(tmp_path, mine=GOOD, bad=GOOD.replace('reducer = "dithionite"', 'reducer = "gin"'))
    assert run_check([str(tmp_path / "mine.toml")]) == 0
    assert run_check([str(tmp_path / "bad.toml")]) == 1
    well, bad = capsys.readouterr().out.splitlines()
    assert well.endswith("mine.toml: well")
    assert "line 8: gin is no reducer" in bad
    assert set(methods()).isdisjoint({"mine", "bad"})
