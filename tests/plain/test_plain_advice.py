"""What `vatside sheet` says of the ways to put things right."""

from __future__ import annotations

import json
import shlex
from pathlib import Path

import pytest
from attrs import evolve
from tests.log.makers import session

from vatside.log.events.day import PinSet
from vatside.plain.sheet import run_sheet
from vatside.plan.starter import starter_plan
from vatside.storage.session_text import encode
from vatside.units import Amount


def printed(path: Path, capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """Give what the sheet of a day prints."""
    assert run_sheet([str(path), *words]) == 0
    return capsys.readouterr().out


@pytest.fixture(name="day")
def _day(tmp_path: Path) -> Path:
    """Wool in a vat with eight grams of lye and no baking soda, too much for it, its stock's water begun too warm."""
    path, held = tmp_path / "day.json", {"vat.alkali": 8, "vat.baking-soda": 0}
    pins = (PinSet(figure, Amount(grams, "g")) for figure, grams in held.items())
    path.write_bytes(encode(session(PinSet("stock.start", Amount(66, "degC")), *pins)))
    return path


def test_what_is_offered_can_be_typed_as_it_stands(day: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each way stands below its notice with its `--set`; given so, the notice is gone."""
    ways = [line for line in printed(day, capsys).splitlines() if "To put it right:" in line]
    ways = [line for line in ways if "stock.start=" in line or "vat.alkali=" in line]
    assert len(ways) >= 2
    changes = [word for line in ways for word in shlex.split(line[line.index("--set") :])]
    assert "!!" not in printed(day, capsys, *changes)


def test_the_plain_data_has_them(day: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Notices stand with the figure they are about: weight, text, and what each remedy sets."""
    rows = {row["id"]: row for row in json.loads(printed(day, capsys, "--json"))}
    start = max(rows["stock.start"]["notices"], key=lambda notice: len(notice["remedies"]))
    assert start["weight"] == "danger"
    assert start["remedies"] == [{"label": "start the water at 55 °C, as worked out", "set": {"stock.start": ""}}]
    (alkali,) = rows["vat.pH"]["notices"]
    assert alkali["remedies"][0]["set"].keys() == {"vat.alkali", "vat.baking-soda"}
    assert "notices" not in rows["stock.jars"]


def test_too_much_lye_is_not_said_to_come_down_by_itself(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Lye that all the reducer cannot use up asks for the amount as it is worked out; what it can is left a note."""
    path = tmp_path / "day.json"
    path.write_bytes(encode(evolve(session(), plan=starter_plan())))
    for grams, stays in ((2, False), (100, True)):
        said = printed(path, capsys, "--set", f"vat.alkali={grams} g")
        assert ("it does not come down" in said) is stays
        assert ("To put it right: lye to sharpen" in said) is stays
