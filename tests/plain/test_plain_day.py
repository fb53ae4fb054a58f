"""`vatside day`: what it prints, writes and refuses."""

import csv
import io
import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock
from tests.dayline.test_need import plan_of

from vatside.log.state import Session
from vatside.plain.day import run_day
from vatside.plain.say import Refusal
from vatside.plan.paths import set_value
from vatside.storage.session_text import encode_new

NOW = datetime(2026, 12, 1, 6, 0, tzinfo=UTC)


def standing() -> VirtualClock:
    """A clock that stands at six in the morning."""
    return VirtualClock(NOW)


@pytest.fixture(autouse=True)
def _utc(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TZ", "UTC")
    __import__("time").tzset()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A day of two lots that wants its vat at two."""
    made = plan_of("wool, 200 g, 2 pieces, medium", "cotton, 200 g, 2 pieces, medium")
    made = set_value(made, "ready_by", "2026-12-01T14:00")
    path = tmp_path / "day.json"
    path.write_bytes(encode_new(Session("5e55", NOW, made)))
    return path


def test_head_lanes_and_acts_are_printed(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """When it begins, what is in hand, who has hob and pot when, what to do."""
    assert run_day([str(file)], standing()) == 0
    said = capsys.readouterr().out.splitlines()
    assert "vat ready" in said[0]
    assert "in hand" in said[0]
    first = next(number for number, line in enumerate(said) if line.startswith("hands"))
    assert [line.split()[0] for line in said[first : first + 3]] == ["hands", "hob", "pot"]
    assert any("Wet out the wool" in line for line in said)
    assert all(len(line) <= 80 for line in said[first - 1 : first + 6])


@pytest.mark.parametrize("option", ["--done-by", "--home"])
def test_a_day_that_cannot_be_in_time_ends_with_one(
    file: Path, capsys: pytest.CaptureFixture[str], option: str
) -> None:
    """All done by nine: the head says how late, and the exit code too; the option goes by either name."""
    assert run_day([str(file), option, "09:00"], standing()) == 1
    assert "late)" in capsys.readouterr().out.splitlines()[0]


def test_a_second_hob_and_pair_of_hands_never_end_the_day_later(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From six on: what is there besides can stay unused."""
    ends = []
    for more in ([], ["--people", "2", "--hobs", "2"]):
        run_day([str(file), "--json", *more], standing())
        told = json.loads(capsys.readouterr().out)
        ends.append(datetime.fromisoformat(told["end"]) - datetime.fromisoformat(told["begin"]))
    assert ends[1] <= ends[0] * 1.05


def test_the_data_name_every_step_with_times_and_offset(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """ISO 8601 times, in the order of their start, none before the beginning."""
    run_day([str(file), "--json"], standing())
    told = json.loads(capsys.readouterr().out)
    starts = [datetime.fromisoformat(step["start"]) for step in told["steps"]]
    assert starts == sorted(starts)
    assert starts[0] >= datetime.fromisoformat(told["begin"])
    assert all(start.tzinfo is not None for start in starts)
    assert all(step["latest"] >= step["start"] for step in told["steps"])
    by_step = [nudge for step in told["steps"] for nudge in step["nudges"]]
    assert sorted(call["at"] for call in told["calls"]) == sorted(by_step)
    assert "stir slowly" in {call["text"] for call in told["calls"]}


def test_a_table_is_written_for_other_programs(file: Path, tmp_path: Path) -> None:
    """RFC 4180: CRLF, a header, a row for each step."""
    out = tmp_path / "day.csv"
    run_day([str(file), "--csv", str(out)], standing())
    raw = out.read_bytes().decode("utf-8")
    rows = list(csv.DictReader(io.StringIO(raw, newline="")))
    assert raw.count("\r\n") == len(rows) + 1
    assert {"lane", "step", "planned_start", "latest"} <= set(rows[0])


def test_the_files_are_written_where_nobody_reads_what_is_printed(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As behind `| head -1`, which closes the pipe."""
    out = tmp_path / "day.ics", tmp_path / "day.csv"

    def closed(_text: str) -> None:
        raise BrokenPipeError

    monkeypatch.setattr("vatside.plain.day.tell", closed)
    with pytest.raises(BrokenPipeError):
        run_day([str(file), "--ics", str(out[0]), "--csv", str(out[1])], standing())
    assert all(path.exists() for path in out)


def test_what_was_written_is_said_beside_what_is_printed(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Calendar and table are named on the error stream, so that the JSON on the other stays JSON."""
    out = tmp_path / "day.ics", tmp_path / "day.csv"
    run_day([str(file), "--json", "--ics", str(out[0]), "--csv", str(out[1])], standing())
    said = capsys.readouterr()
    assert all(f"vatside day: {path} written" in said.err for path in out)
    json.loads(said.out)


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (["--people", "0"], "--people: 0 cannot be"),
        (["--hobs", "100"], "--hobs: 100 cannot be"),
        (["--lunch", "-5"], "--lunch: -5 cannot be"),
        (["--done-by", "soon"], "is no hour"),
        (["--from", "dawn"], "is no hour"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(file: Path, words: list[str], why: str) -> None:
    """Nothing is printed then."""
    with pytest.raises(Refusal, match=why):
        run_day([str(file), *words], standing())


def test_what_the_day_waits_for_is_said_where_it_is_asked(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The last sentence, and only then."""
    run_day([str(file), "--why"], standing())
    assert capsys.readouterr().out.splitlines()[-1].startswith(("It waits for", "No more hands or pots"))


def test_nobody_begins_before_the_hour_that_is_named(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From ten on."""
    run_day([str(file), "--from", "10:00", "--json"], standing())
    told = json.loads(capsys.readouterr().out)
    assert min(step["start"] for step in told["steps"]) >= "2026-12-01T10:00"


def test_how_late_a_step_may_begin_stands_below_that_step(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Of several steps in a row each has its own hour, as in the data."""
    assert run_day([str(file), "--json"], standing()) == 0
    steps = json.loads(capsys.readouterr().out)["steps"]
    assert run_day([str(file)], standing()) == 0
    said = capsys.readouterr().out.splitlines()
    late = [(said[i - 1][:5], line[-5:]) for i, line in enumerate(said) if line.strip().startswith("at the latest")]
    assert late == [(step["start"][11:16], step["latest"][11:16]) for step in steps if step["latest"] > step["start"]]
