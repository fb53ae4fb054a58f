"""Days of older formats keep their litres and powders, and say what became of a figure that is gone."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.log.played import Played

from vatside.forms.fields import GONE_TAKES
from vatside.log.events.day import SessionReopened
from vatside.log.fold import fold
from vatside.log.words.day import log_lines
from vatside.plain.file_contents import problems
from vatside.plan.paths import get_value
from vatside.plan.plan import Dosing, Plan
from vatside.recipe.compute import compute
from vatside.storage.file_format import VERSION
from vatside.storage.files import Fs
from vatside.storage.session_file import SessionFile
from vatside.storage.session_text import Loaded, load
from vatside.units import Amount

SAMPLES = Path(__file__).parents[1] / "samples"
TAKES = {"figure": "dip.a.takes", "amount": {"value": 2.3, "unit": "L/kg"}}
Change = Callable[[dict[str, Any]], object]
Put = Callable[..., Path]


@pytest.fixture
def put(tmp_path: Path) -> Put:
    """Give what writes the day of format 2, changed, into a file."""

    def write(*changes: Change) -> Path:
        raw = json.loads((SAMPLES / "format-2.json").read_text())
        for change in changes:
            change(raw)
        path = tmp_path / "day.json"
        path.write_text(json.dumps(raw))
        return path

    return write


def pin(figure: str, value: float, unit: str) -> Change:
    """Hold a figure in the plan that the day began with."""
    amount = {"value": value, "unit": unit}
    return lambda raw: raw["plan"]["pins"].append({"figure": figure, "amount": amount})


def last(kind: str, **body: object) -> Change:
    """Log one more event."""

    def change(raw: dict[str, Any]) -> None:
        before = raw["events"][-1]
        head = {name: before[name] for name in ("at", "elapsed", "boot")}
        raw["events"].append({"seq": before["seq"] + 1, **head, "kind": kind, **body})

    return change


def without(kind: str) -> Change:
    """Make every event of a kind a note, so that the numbers stay."""

    def change(raw: dict[str, Any]) -> None:
        for number, event in enumerate(raw["events"]):
            if event["kind"] == kind:
                head = {name: event[name] for name in ("seq", "at", "elapsed", "boot")}
                raw["events"][number] = {**head, "kind": "note_written", "text": "-"}

    return change


def read(path: Path) -> Loaded:
    """Read a file."""
    return load(Fs(), path)


def plan(path: Path) -> Plan:
    """Give the plan as it stands at the end of a file."""
    return fold(read(path).session).plan


@pytest.mark.parametrize("version", [1, 2])
def test_an_older_day_keeps_its_litres_and_powders(version: int) -> None:
    """24 L with 15 % headspace are 20.4 L, one jar is 1 L of stock, three spoons of 2.4 g are 7.2 g of powder.

    Its other powders are those that 0.3.0 printed for it (regression): 8.586 g of lye into the stock, 3.939 g of
    thiourea dioxide, 5.830 and 3.989 g to sharpen.
    """
    path = SAMPLES / f"format-{version}.json"
    sheet = compute(plan(path))
    assert read(path).version == version
    assert sheet.value("vat.fill") == pytest.approx(24 * 0.85)
    assert sheet.value("stock.water") == pytest.approx(1.0)
    assert sheet.value("stock.pigment") == pytest.approx(3 * 2.4)
    powders = [sheet.value(name) for name in ("stock.alkali", "stock.reducer", "vat.alkali", "vat.reducer")]
    assert powders == pytest.approx([8.586, 3.939, 5.830, 3.989], abs=1e-3)


def test_powders_that_have_still_to_go_in_follow_the_plan(put: Put) -> None:
    """With no step done, only the litres are held."""
    held = {pin.figure for pin in plan(put(without("step_done"))).pins}
    assert held == {"vat.fill", "stock.water", "stock.pigment", "dip.a.dips"}


def test_powder_that_nobody_held_stays_what_the_fibre_takes(put: Put) -> None:
    """Cotton of 0.4 %, 227 g, at 70 % on the fibre and a purity of 40 %: 3.243 g, though 20 L of it dye pale."""
    path = put(without("pin_set"))
    assert compute(plan(path)).value("stock.pigment") == pytest.approx(227 * 0.004 / 0.7 / 0.4, rel=1e-4)
    assert plan(path).dosing is Dosing.SPENT


def test_the_last_tub_of_the_log_counts(put: Put) -> None:
    """A tub of 10 L, said after the plan was made: 8.5 L."""
    path = put(last("plan_changed", path="vessels.tub.volume", value={"value": 10, "unit": "L"}))
    assert compute(plan(path)).value("vat.fill") == pytest.approx(8.5)


def test_jars_that_were_held_are_made_up_whole(put: Put) -> None:
    """Two jars of one litre."""
    assert compute(plan(put(pin("stock.jars", 2, "")))).value("stock.water") == pytest.approx(2.0)


def test_what_the_dyer_held_stays_as_she_held_it(put: Put) -> None:
    """Her 12 L and her half litre of stock."""
    held = plan(put(pin("vat.fill", 12, "L"), pin("stock.water", 0.5, "L")))
    assert get_value(held, "vat.fill") == Amount(12, "L")
    assert get_value(held, "stock.water") == Amount(0.5, "L")


def test_litres_that_were_let_follow_again_are_those_of_a_full_tub(put: Put) -> None:
    """In the older day the tub was filled then."""
    cleared = put(last("pin_set", figure="vat.fill", amount={"value": 12, "unit": "L"}),
                  last("pin_cleared", figure="vat.fill"))  # fmt: skip
    assert compute(plan(cleared)).value("vat.fill") == pytest.approx(20.4)


def test_a_figure_that_is_gone_is_let_go_and_said_once(put: Put) -> None:
    """One sentence when the day is opened, none when it is opened again."""
    path = put(pin("dip.a.takes", 2.3, "L/kg"))
    opened = SessionFile.open(path)
    assert opened.notices[0] == GONE_TAKES
    assert "filled to 20.4 L" in opened.notices[1]
    opened.file.append(SessionReopened(), Played().clock.now())
    opened.file.close()
    again = SessionFile.open(path)
    again.file.close()
    assert again.notices == ()
    assert read(path).version == VERSION
    assert get_value(plan(path), "dip.a.takes") is None
    assert compute(plan(path)).value("vat.fill") == pytest.approx(20.4)


def test_a_logged_pin_of_a_figure_that_is_gone_changes_nothing_and_is_told(put: Put) -> None:
    """The day reads whole; log and check say why that entry does nothing."""
    path = put(last("pin_set", **TAKES), last("pin_cleared", figure="dip.a.takes"))
    found = read(path)
    assert found.damage == ()
    assert found.gone == GONE_TAKES
    assert [misfit.text for misfit in fold(found.session).misfits] == [GONE_TAKES] * 2
    assert GONE_TAKES in log_lines(found.session)[-1]
    assert any(GONE_TAKES in line for line in problems(path))


def test_other_pins_of_figures_that_are_not_there_wait(put: Put) -> None:
    """A bath of another fibre's scour."""
    path = put(pin("scour.silk.hold", 40, "min"))
    assert get_value(plan(path), "scour.silk.hold") == Amount(40, "min")
    assert read(path).gone == ""


def test_a_day_of_today_is_read_as_it_is(tmp_path: Path, put: Put) -> None:
    """Nothing is held in a file of the current version."""

    def newer(raw: dict[str, Any]) -> None:
        raw["version"] = VERSION

    path = put(newer)
    assert get_value(plan(path), "vat.fill") is None
    assert plan(path).dosing is None
