"""A class that grows or shrinks: card, head, day line and `vatside day` name one end of its day."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench.day_line import line_of
from vatside.bench.desk import Desk
from vatside.bench.open_day import new_day, sample_day
from vatside.dayline.day_words import in_hand
from vatside.days.class_clock import ClassDay, class_day, rows
from vatside.log.events.day import PiecesWeighed, PlanChanged
from vatside.plain.day import run_day
from vatside.storage.places import samples_folder
from vatside.ui.text.head_rows import time_spans
from vatside.units import Amount

CLOTH_G = 50.0
HOURS = {"14:00": "ready_by", "17:00": "place.home_by"}


def of_day(folder: Path, name: str) -> Desk:
    """Give a copy of a sample, or a new day."""
    clock = VirtualClock()
    return sample_day(samples_folder() / f"{name}.json", folder, clock) if name else new_day(folder, clock)


def classes(desk: Desk, people: int, hour: str) -> None:
    """Let so many people bring a cloth each, and want the hour."""
    desk.record(PiecesWeighed("lots.a.mass", Amount(CLOTH_G * people, "g"), people))
    desk.record(*[PlanChanged(HOURS[hour], hour)] if hour else [])


def ends_on_card(day: ClassDay) -> list[str]:
    """Give the hour of the last row of the card's times."""
    return [row.at for row in rows(day, day.steps, {step.step.id: step.step.text for step in day.steps})][-1:]


@pytest.mark.parametrize(
    ("name", "people", "hour"),
    [("", 4, ""), ("", 8, "17:00"), ("", 10, "14:00"), ("at-the-stove", 4, "17:00"), ("at-the-stove", 10, "")],
)
def test_all_name_one_end(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, people: int, hour: str
) -> None:
    """As many or few as come, in time or late, begun or not."""
    desk = of_day(tmp_path, name)
    classes(desk, people, hour)
    line, now = line_of(desk), desk.clock.now()
    job = line.job(now)
    assert job is not None
    line.take(job())
    seen = line.seen(now)
    assert seen.day is not None
    assert desk.keeping.path is not None
    run_day([str(desk.keeping.path), "--json"], desk.clock)
    told = json.loads(capsys.readouterr().out)
    card = class_day(desk.state, desk.sheet, now.utc)
    end = seen.day.at(seen.day.laid.end)
    assert (told["end"], told["spare_min"]) == (end.isoformat(timespec="minutes"), seen.day.spare)
    assert ends_on_card(card) == [card.clock(end)]
    head = "".join(span.text for span in time_spans(seen, over=False))
    assert (
        in_hand(seen.day.spare) if seen.day.spare is not None else f"{seen.day.at(seen.day.ready or 0):%H:%M}"
    ) in head
    desk.keeping.close()
