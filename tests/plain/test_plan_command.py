"""`vatside plan`: a plan from nothing, its sheet, its file, and what it refuses."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.days.test_own_uptake import dyed, put

from vatside.__main__ import main
from vatside.log.fold import fold
from vatside.plain.sheet import run_plan
from vatside.plan.plan import Condition, Dosing
from vatside.recipe.compute import compute
from vatside.storage.session_text import loaded_of
from vatside.units import Amount

LINEN = ("plan", "--lot", "linen, 320 g, 4 pieces, medium")
KEYS = {"stage", "id", "value", "unit", "text", "pinned", "working"}
CLOCK = VirtualClock(datetime(2026, 5, 2, 8, tzinfo=UTC))


def test_it_prints_the_sheet_of_its_words(capsys: pytest.CaptureFixture[str]) -> None:
    """Title, stages, the indigo: by hand 320 g x 0.8 % / 0.7 / 40 % = 9.1 g of powder."""
    assert main([*LINEN, "--tub", "24L", "--purity", "40%"]) == 0
    out = capsys.readouterr().out
    assert out.splitlines()[0] == "Linen"
    assert [line for line in out.splitlines() if line in ("Scour", "Stock", "Vat", "Dip", "Finish")] != []
    assert main([*LINEN, "--all"]) == 0
    assert len(capsys.readouterr().out) > len(out)


def test_json_has_every_figure_with_the_keys_of_the_sheet(capsys: pytest.CaptureFixture[str]) -> None:
    """Two lots have their dips under their own ids."""
    assert main([*LINEN, "--lot", "wool-silk 70/30, 100 g, 0.4 %", "--json"]) == 0
    rows = {row["id"]: row for row in json.loads(capsys.readouterr().out)}
    assert all(set(row) - {"notices"} == KEYS for row in rows.values())
    assert {"dip.a.dips", "dip.b.dips", "stock.pigment", "vat.liquor", "scour.silk-wool.soak"} <= set(rows)


@pytest.mark.parametrize(("lot", "filled"), [("linen, 320 g, 4 pieces, medium", 5.0), ("linen, 1 kg, medium", 8.5)])
def test_a_tub_is_given_by_its_brim(capsys: pytest.CaptureFixture[str], lot: str, filled: float) -> None:
    """10 L to the brim with 15 % left empty hold 8.5 L, fibre in; little fibre still wants it half full."""
    assert main(["plan", "--lot", lot, "--tub", "10L", "--json"]) == 0
    rows = {row["id"]: row["value"] for row in json.loads(capsys.readouterr().out)}
    assert rows["vat.tub"] == 10
    assert rows["vat.fill"] == pytest.approx(filled)


def test_it_saves_a_session_that_opens(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Everything that was said stands in the file; its sheet is the one that was printed."""
    path = tmp_path / "towels.json"
    words = [
        "--lot", "cotton-linen 55/45, 300 g, 2 cloths, light, ready scoured, called Towels, names Asha, Ben",
        "--tub", "24L", "--tub", "10 L", "--purity", "30 %", "--dosing", "working", "--method", "dithionite-lye",
        "--ready", "14:00", "--save", str(path), "--json",
    ]  # fmt: skip
    assert run_plan(words, CLOCK) == 0
    printed = capsys.readouterr()
    assert printed.err == f"vatside plan: {path} written\n"
    plan = fold(loaded_of(str(path)).session).plan
    lot = plan.lots[0]
    assert (lot.name, lot.pieces, lot.condition, lot.names) == ("Towels", 2, Condition.READY, ("Asha", "Ben"))
    assert (plan.title, plan.method, plan.dosing) == ("Towels", "dithionite-lye", Dosing.WORKING)
    assert (plan.vessels.tub.volume, plan.vessels.others) == (Amount(24, "L"), (Amount(10, "L"),))
    assert plan.shelf[0].purity == Amount(30, "%")
    assert plan.ready_by is not None
    assert plan.ready_by.endswith("T14:00")
    values = {row["id"]: row["value"] for row in json.loads(printed.out)}
    assert values == {figure.id: figure.value for figure in compute(plan).figures}


def test_it_goes_by_the_own_results_of_other_days(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Wool came out pale on a day of the folder: it is taken to take up less; linen goes by the table."""
    (tmp_path / "sessions").mkdir()
    put(tmp_path / "sessions", dyed("d1", 0.7))
    monkeypatch.setenv("VATSIDE_HOME", str(tmp_path))
    assert main(["plan", "--lot", "wool, 300 g, 3 pieces, light", "--lot", "linen, 300 g, 3 pieces", "--json"]) == 0
    values = {row["id"]: row["value"] for row in json.loads(capsys.readouterr().out)}
    assert 70 < values["dip.a.factor"] < 100
    assert values["dip.b.factor"] == 100


def test_it_never_writes_over_a_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is there stays, and the command says so."""
    path = tmp_path / "day.json"
    path.write_text("mine")
    assert main([*LINEN, "--save", str(path)]) == 2
    assert capsys.readouterr().err == f"vatside plan: {path} is there already; name a new file.\n"
    assert path.read_text() == "mine"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), 'a plan takes at least one lot, such as --lot "linen, 320 g, 4 pieces, medium".'),
        (("--lot", "linen"), "--lot: “linen” lacks a mass with its unit; write for example linen, 320 g"),
        (("--lot", "linen, 1 kg", "--tub", "nothing"), "--tub: A tub, to the brim: “nothing” cannot be read: write a"),
        (("--lot", "linen, 1 kg", "--tub", ""), "--tub: A tub, to the brim: nothing stands here; between 100 mL"),
        (("--lot", "linen, 1 kg", "--purity", "400"), "--purity: Indigo powder purity: 400 % cannot be; between 1 %"),
        (("--lot", "linen, 1 kg", "--method", "magic"), "--method: Kind of vat: magic is none of copperas and lime"),
        (("--lot", "linen, 1 kg", "--dosing", "some"), "--dosing: 'some' is no way of dosing; write spent or working."),
        (("--lot", "linen, 1 kg", "--ready", "25:00"), "--ready: Vat ready by: 25:00 is no time; write 14:00"),
        (("--lot", "linen, 1 kg", "--ready", ""), "--ready: nothing is written after it."),
        (("--lots", "linen, 1 kg"), "`vatside --help` shows how it is called."),
    ],
)
def test_what_cannot_be_is_one_sentence(words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit code 2, nothing printed, and what would be right."""
    assert main(["plan", *words]) == 2
    printed = capsys.readouterr()
    assert not printed.out
    assert printed.err.count("\n") == 1
    assert said in printed.err


@pytest.mark.parametrize(("grams", "pieces", "often"), [(800, 8, False), (1600, 16, True)])
def test_a_vat_that_is_warmed_once_is_not_warmed_each_time(
    capsys: pytest.CaptureFixture[str], grams: int, pieces: int, often: bool
) -> None:
    """Of one warming the sentence names one entry; of several it says that each is by as much."""
    assert main(["plan", "--lot", f"cotton, {grams} g, {pieces} pieces, light", "--tub", "20L"]) == 0
    said = next(line for line in capsys.readouterr().out.splitlines() if "The dips cool the vat" in line)
    assert ("after entry " in said) is not often
    assert ("each time" in said) is often


def test_the_notice_of_long_dips_says_the_hours_of_the_figure(capsys: pytest.CaptureFixture[str]) -> None:
    """One day has one length of its dips, wherever it is read."""
    assert main(["plan", "--lot", "linen, 3 kg, 60 pieces, full", "--tub", "12L", "--all"]) == 0
    lines = capsys.readouterr().out.splitlines()
    figure = next(line for line in lines if line.startswith("  Dipping takes")).removeprefix("  Dipping takes").strip()
    assert any(f"The dips take {figure}, " in line for line in lines)


def test_dips_that_not_all_pieces_get_are_said_from_the_least_to_the_most(capsys: pytest.CaptureFixture[str]) -> None:
    """Later skeins of a vat that weakens want more dips than the first; one piece has one count."""
    assert main(["plan", "--lot", "wool, 1 kg, 10 pieces, medium", "--tub", "12L", "--all"]) == 0
    assert re.search(r"\n  Dips +\d+ to \d+  \d+ to \d+\n", capsys.readouterr().out)
    assert main(["plan", "--lot", "wool, 100 g, 1 piece, medium", "--all"]) == 0
    assert re.search(r"\n  Dips +\d+  \d+ to \d+\n", capsys.readouterr().out)
