"""What is taken along: labels to print and tables for other programs."""

from __future__ import annotations

import csv
from datetime import datetime, timedelta
from io import StringIO
from pathlib import Path

import pytest
from tests.log.played import Played
from tests.shelf.shelves import MAY, item

from vatside.__main__ import main
from vatside.dayline.step_words import label
from vatside.days.blue_card import Label, label_sheet, labels
from vatside.log.fold import fold, sheet_of
from vatside.plain.papers import as_csv
from vatside.plan.measures import method_of
from vatside.shelf.events import ItemBought
from vatside.shelf.shelf_file import ShelfFile
from vatside.storage.places import samples_folder
from vatside.storage.session_text import loaded_of
from vatside.units import Amount

FINISHED = samples_folder() / "finished-day.json"
CLASS = samples_folder() / "at-the-stove.json"


def printed(capsys: pytest.CaptureFixture[str], *words: str) -> list[dict[str, str]]:
    """Run a command and read what it printed as a table."""
    assert main(words) == 0
    return list(csv.DictReader(StringIO(capsys.readouterr().out)))


def test_every_figure_stands_in_the_table(capsys: pytest.CaptureFixture[str]) -> None:
    """One line each, with its value as a number, in the order of the sheet."""
    rows = printed(capsys, "csv", "figures", str(FINISHED))
    sheet = sheet_of(fold(loaded_of(str(FINISHED)).session))
    assert [row["id"] for row in rows] == [figure.id for figure in sheet.figures]
    assert all(float(row["value"]) == pytest.approx(sheet.value(row["id"]), rel=1e-9) for row in rows)


def test_readings_are_in_order_and_in_utc(capsys: pytest.CaptureFixture[str]) -> None:
    """Temperature and pH are numbers, the time is ISO 8601 with its offset."""
    rows = printed(capsys, "csv", "readings", str(FINISHED))
    times = [row["time"] for row in rows]
    assert times == sorted(times)
    assert all(time.endswith("+00:00") for time in times)
    assert all(0 < float(row["pH"]) < 14 for row in rows if row["pH"])


def test_the_shelf_and_a_cost_are_tables(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """A bag is a line; what a day costs ends in one for all of it."""
    shelf = tmp_path / "shelf.json"
    ShelfFile(shelf).note([ItemBought(item(lot="A", price=Amount(18, "")))], MAY)
    [bag] = printed(capsys, "csv", "shelf", "--shelf", str(shelf))
    assert (bag["lot"], float(bag["price"])) == ("A", 18)
    rows = printed(capsys, "csv", "cost", str(FINISHED), "--shelf", str(shelf))
    assert rows[-1]["what"] == "in all"


def test_a_table_is_as_the_standard_has_it() -> None:
    """Lines end in CRLF, quotes are doubled, a comma or a break is quoted (RFC 4180, 2.1, 2.6, 2.7)."""
    assert as_csv([("a", 1.5, None), ('say "x", y', "two\nlines", 2)]) == 'a,1.5,\r\n"say ""x"", y","two\nlines",2\r\n'


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@x", "\tx"])
def test_a_name_is_never_a_formula(name: str) -> None:
    """An apostrophe goes before what a table program would work out; a number below nothing stays one."""
    assert as_csv([(name, -1.5)]) == f"'{name},-1.5\r\n"


@pytest.mark.parametrize("what", ["figures", "readings", "cost"])
def test_a_table_of_a_day_asks_for_the_day(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    """One sentence and exit code 2."""
    assert main(["csv", what]) == 2
    assert "name the session" in capsys.readouterr().err


@pytest.mark.parametrize("command", [("csv", "figures"), ("labels",)])
def test_a_file_that_is_there_is_left_alone(
    command: tuple[str, ...], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A new file is written whole; a second time it is refused."""
    out = tmp_path / "out"
    assert main([*command, str(FINISHED), "--output", str(out)]) == 0
    written = out.read_bytes()
    assert main([*command, str(FINISHED), "--output", str(out)]) == 2
    assert "is there already" in capsys.readouterr().err
    assert out.read_bytes() == written


def test_each_piece_has_a_label() -> None:
    """With its fibre, its mass, its blue, its day and how to wash it; by name, where it has one."""
    found = labels(loaded_of(str(CLASS)).session)
    assert len(found) == 8
    assert found[0].title == "Asha"
    assert found[0].lines[0].startswith("Aprons: cotton, about")
    assert "wash apart" in found[0].lines[3].lower()


def test_a_weighed_piece_says_its_own_mass() -> None:
    """363 g of four panels, dyed and dry, are 90.8 g each (by hand: 363 / 4)."""
    found = labels(loaded_of(str(FINISHED)).session)
    assert {label.lines[0] for label in found if not label.hazard} == {"cotton, 90.8 g"}


def test_a_label_bears_the_dips_of_its_own_piece() -> None:
    """Of the four panels two went in five times and two six times, as the log says: 13:13 to 15:03."""
    found = labels(loaded_of(str(FINISHED)).session)
    assert [label.lines[1].rpartition(", ")[2] for label in found] == ["5 dips", "5 dips", "6 dips", "6 dips"]


def test_a_jar_that_is_left_is_labelled_with_what_hurts() -> None:
    """Stock that the vat does not take up says its strength, until when it is good, and that it burns."""
    played = Played().set("vat.stock", "100 mL")
    jar = [label for label in labels(played.session) if label.hazard]
    assert len(jar) == 1
    assert jar[0].heading == "!! Danger: Indigo stock"
    text = " ".join(jar[0].lines)
    assert all(word in text for word in ("g/L", "use within", "CAUSTIC", "NOT FOOD"))


def test_a_jar_of_known_age_says_by_when_it_is_used() -> None:
    """Once it is made, its label bears the hour and the last day of its method's keeping time: a month."""
    state = fold(loaded_of(str(CLASS)).session)
    made = datetime(2026, 5, 2, 9, 20)
    what, when, hurts = label(state.plan, 0.1, 24.0, made)
    until = made + timedelta(days=int(method_of(state.plan).stock.keeps.value))
    assert "24 g/L of indigotin, 100 mL" in what
    assert when == f"made 2 May 09:20, use by {until.day} {until:%b}"
    assert "burns skin and blinds eyes" in hurts


def test_a_label_is_text_and_never_a_page_of_its_own() -> None:
    """What stands in a name is escaped; three labels stand in a row."""
    page = label_sheet("<x>", [Label("<script>", ("a & b",), hazard=True)])
    assert "<script>" not in page
    assert "&lt;script&gt;" in page
    assert "a &amp; b" in page
    assert 'class="hazard"' in page
