"""The iCalendar file: RFC 5545 as the library `icalendar` reads it, and by its own words where that is lenient."""

import sys
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.dayline.test_need import plan_of

from vatside.dayline.calendar_file import calendar, escaped, folded, sent_before, uid_of
from vatside.dayline.day_steps import steps
from vatside.dayline.day_words import acts, deeds
from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.log.state import Session
from vatside.plain.day import machine_zone, write_calendar
from vatside.plain.say import Refusal
from vatside.recipe.compute import compute

icalendar = pytest.importorskip("icalendar")
STAMP = datetime(2026, 11, 28, 12, 0, tzinfo=UTC)
NEEDED = ("UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "SEQUENCE")


def day_in(zone: str, begin: datetime) -> LaidDay:
    """A day of one lot that begins then."""
    made = plan_of("wool, 200 g, 2 pieces, medium")
    sheet = compute(made)
    return lay_day(made, sheet, steps(made, sheet), begin, zone=ZoneInfo(zone), evaluations=20)


def text_of(day: LaidDay, before: str = "") -> str:
    """The file."""
    found = acts(deeds(day))
    old = sent_before(before) if before else {}
    zone = day.zone if isinstance(day.zone, ZoneInfo) else None
    return calendar(day, found, title="Fête; blue, twice", session="5e55", stamp=STAMP, before=old, zone=zone)


DAY = day_in("Europe/Berlin", datetime(2026, 12, 1, 7, 0, tzinfo=UTC))
TEXT = text_of(DAY)


def events(text: str) -> list[dict[str, object]]:
    """Every event as the library reads it; none may have errors."""
    found = icalendar.Calendar.from_ical(text).walk("VEVENT")
    assert all(event.errors == [] for event in found)
    return list(found)


def test_every_act_is_an_event_with_all_that_the_form_asks_for() -> None:
    """RFC 5545, 3.6.1: UID, DTSTAMP, DTSTART, and DTEND, each act once."""
    found = events(TEXT)
    assert len(found) == len(acts(deeds(DAY)))
    assert all(name in event for event in found for name in NEEDED)
    assert len({str(event["UID"]) for event in found}) == len(found)


def test_lines_end_with_cr_and_lf_and_hold_75_octets_at_most() -> None:
    """RFC 5545, 3.1; a fold is never inside a character."""
    raw = TEXT.encode("utf-8")
    assert raw.count(b"\n") == raw.count(b"\r\n")
    for line in raw.split(b"\r\n"):
        assert len(line) <= 75
        line.decode("utf-8")


def test_starts_are_those_of_the_laid_day() -> None:
    """The same moment, whatever the zone of the wall."""
    first = acts(deeds(DAY))[0]
    assert events(TEXT)[0]["DTSTART"].dt == DAY.at(first.at)  # type: ignore[attr-defined]


def test_each_event_is_alarmed_five_minutes_before() -> None:
    """RFC 5545, 3.6.6: ACTION, DESCRIPTION and TRIGGER of a display alarm."""
    for event in events(TEXT):
        (alarm,) = event.walk("VALARM")  # type: ignore[attr-defined]
        assert (str(alarm["ACTION"]), alarm["TRIGGER"].dt) == ("DISPLAY", timedelta(minutes=-5))
        assert str(alarm["DESCRIPTION"])


def test_no_caution_is_lost() -> None:
    """What is dangerous in a step stands first in its event."""
    said = "\n".join(str(event["DESCRIPTION"]) for event in events(TEXT))
    for deed in deeds(DAY):
        for caution in deed.step.cautions:
            assert f"Take care: {caution.title}" in said


def test_commas_semicolons_and_accents_come_back_as_they_were() -> None:
    """RFC 5545, 3.3.11."""
    assert all(str(event["SUMMARY"]).startswith("Fête; blue, twice: ") for event in events(TEXT))


@given(st.text(st.characters(codec="utf-8"), max_size=200))
def test_any_text_survives_folding_and_escaping(text: str) -> None:
    """Unfolded as the form says, nothing of a line is lost, whatever characters stand at the fold."""
    line = f"SUMMARY:{escaped(text)}"
    parts = folded(line)
    assert "".join([parts[0], *(part[1:] for part in parts[1:])]) == line
    assert all(len(part.encode("utf-8")) <= 75 for part in parts)
    assert "\n" not in line


def test_a_second_export_moves_events_instead_of_doubling_them() -> None:
    """Same UIDs, later sequence; what fell out is sent as cancelled."""
    later = evolve(DAY, begin=DAY.begin + timedelta(hours=1))
    again = events(text_of(later, TEXT))
    assert [str(event["UID"]) for event in again] == [str(event["UID"]) for event in events(TEXT)]
    assert {int(event["SEQUENCE"]) for event in again} == {1}  # type: ignore[call-overload]
    found = acts(deeds(DAY))
    fewer = calendar(DAY, found[1:], title="x", session="5e55", stamp=STAMP, before=sent_before(TEXT))
    (gone,) = (event for event in events(fewer) if event.get("STATUS") == "CANCELLED")
    assert str(gone["UID"]) == uid_of("5e55", found[0])
    assert int(gone["SEQUENCE"]) == 1  # type: ignore[call-overload]
    assert uid_of("5e55", found[0]) not in sent_before(fewer)


@pytest.mark.parametrize("begin", [datetime(2026, 3, 29, 0, 30, tzinfo=UTC), datetime(2026, 10, 25, 0, 30, tzinfo=UTC)])
def test_lengths_are_kept_over_the_change_of_the_clocks(begin: datetime) -> None:
    """The hour that is left out in spring and the one that comes twice in autumn, in Berlin."""
    day = day_in("Europe/Berlin", begin)
    starts = [event["DTSTART"].dt.astimezone(UTC) for event in events(text_of(day))]  # type: ignore[attr-defined]
    assert starts == [begin + timedelta(minutes=act.at) for act in acts(deeds(day))]


NUMBERS = count()


def offsets(text: str) -> list[timedelta | None]:
    """What the file's own zone says of each start, read by the library from the file alone; None for one in UTC."""
    own = icalendar.Calendar.from_ical(text.replace("Europe/Berlin", f"Our wall {next(NUMBERS)}"))  # it keeps zones
    (zone,) = own.walk("VTIMEZONE")
    wall = zone.to_tz()
    starts = [event["DTSTART"] for event in own.walk("VEVENT")]
    return [start.dt.replace(tzinfo=wall).utcoffset() if "TZID" in start.params else None for start in starts]


def test_times_stand_on_the_wall_with_their_zone() -> None:
    """RFC 5545, 3.2.19 and 3.6.5: TZID names a VTIMEZONE of the file, which holds the offset of that day by itself."""
    assert TEXT.count("BEGIN:VTIMEZONE") == 1
    assert f"DTSTART;TZID=Europe/Berlin:{DAY.at(acts(deeds(DAY))[0].at):%Y%m%dT%H%M%S}\r\n" in TEXT
    assert set(offsets(TEXT)) == {timedelta(hours=1)}
    summer = text_of(day_in("Europe/Berlin", datetime(2026, 6, 1, 7, 0, tzinfo=UTC)))
    assert set(offsets(summer)) == {timedelta(hours=2)}


@pytest.mark.parametrize("zone", ["Asia/Kolkata", "America/St_Johns", "Australia/Lord_Howe", "UTC"])
def test_any_zone_comes_back(zone: str) -> None:
    """Half hours, half an hour of summer time, and clocks that never change; starts are the laid moments."""
    day = day_in(zone, datetime(2026, 12, 1, 7, 0, tzinfo=UTC))
    starts = [event["DTSTART"].dt for event in events(text_of(day))]  # type: ignore[attr-defined]
    assert starts == [day.at(act.at) for act in acts(deeds(day))]


@pytest.mark.parametrize("begin", [datetime(2026, 3, 29, 0, 30, tzinfo=UTC), datetime(2026, 10, 25, 0, 30, tzinfo=UTC)])
def test_a_night_of_the_clocks_is_told_by_the_file_itself(begin: datetime) -> None:
    """Before and after the change each start has its own offset; the second of two like hours is written in UTC."""
    day = day_in("Europe/Berlin", begin)
    found, own = offsets(text_of(day)), [day.at(act.at).utcoffset() for act in acts(deeds(day))]
    on_wall = [(said, true) for said, true in zip(found, own, strict=True) if said is not None]
    assert all(said == true for said, true in on_wall)
    assert len(set(on_wall)) == 2
    assert (None in found) == (begin.month == 10)


def test_a_wall_without_a_name_is_written_in_utc() -> None:
    """No zone is made up."""
    found = acts(deeds(DAY))
    text = calendar(DAY, found, title="x", session="5e55", stamp=STAMP, before={})
    assert "TZID" not in text
    assert [event["DTSTART"].dt for event in events(text)] == [DAY.at(act.at) for act in found]  # type: ignore[attr-defined]


def test_what_was_sent_on_the_wall_is_cancelled_at_the_same_moment() -> None:
    """Whatever zone the next export is in."""
    gone = sent_before(text_of(DAY))[uid_of("5e55", acts(deeds(DAY))[0])]
    assert gone.start == f"{DAY.begin.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def test_the_zone_of_the_machine_is_found_by_its_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By TZ, else by the link of the system; none where neither names one that there is."""
    monkeypatch.setenv("TZ", "Europe/Berlin")
    assert machine_zone() == ZoneInfo("Europe/Berlin")
    monkeypatch.setenv("TZ", "Nowhere/At_all")
    assert machine_zone() is None
    monkeypatch.delenv("TZ")
    link = tmp_path / "localtime"
    assert machine_zone(link) is None
    link.symlink_to("/usr/share/zoneinfo/Asia/Tokyo")
    assert machine_zone(link) == ZoneInfo("Asia/Tokyo")


@pytest.mark.skipif(sys.platform == "win32", reason="links are a thing of POSIX")
def test_a_link_stays_a_link(tmp_path: Path) -> None:
    """The file that it leads to is written, whatever an export that was cut off has left beside it."""
    (tmp_path / "link.ics").symlink_to(tmp_path / "own.ics")
    (tmp_path / "own.ics.new").touch()
    session = Session("5e55", STAMP, plan_of("wool, 200 g, 2 pieces, medium"))
    for _ in range(2):
        write_calendar(tmp_path / "link.ics", DAY, deeds(DAY), session, STAMP)
    assert (tmp_path / "link.ics").is_symlink()
    assert sent_before((tmp_path / "own.ics").read_text("utf-8"))


@pytest.mark.skipif(sys.platform == "win32", reason="such devices are a thing of POSIX")
def test_a_device_stays_as_it_is(tmp_path: Path) -> None:
    """It is not read to an end that it may not have."""
    (tmp_path / "own.ics").symlink_to("/dev/null")
    session = Session("5e55", STAMP, plan_of("wool, 200 g, 2 pieces, medium"))
    with pytest.raises(Refusal, match=r"own\.ics stays as it is: it is no plain file\."):
        write_calendar(tmp_path / "own.ics", DAY, deeds(DAY), session, STAMP)
    assert [path.name for path in tmp_path.iterdir()] == ["own.ics"]


def test_a_calendar_that_cannot_be_replaced_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system's refusal is one sentence, and nothing is left beside it."""

    def refuse(*_: object) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "replace", refuse)
    session = Session("5e55", STAMP, plan_of("wool, 200 g, 2 pieces, medium"))
    with pytest.raises(Refusal, match="stays as it is: the system does not allow it"):
        write_calendar(tmp_path / "own.ics", DAY, deeds(DAY), session, STAMP)
    assert list(tmp_path.iterdir()) == []


def test_a_file_of_somebody_else_stays_as_it_is(tmp_path: Path) -> None:
    """Only a file that was written here is brought up to date."""
    file = tmp_path / "mine.ics"
    file.write_text("BEGIN:VCALENDAR\r\nPRODID:somebody\r\nEND:VCALENDAR\r\n")
    session = Session("5e55", STAMP, plan_of("wool, 200 g, 2 pieces, medium"))
    with pytest.raises(Refusal, match="stays as it is"):
        write_calendar(file, DAY, deeds(DAY), session, STAMP)
    assert "somebody" in file.read_text()
    own = tmp_path / "own.ics"
    for sequence in (0, 1):
        write_calendar(own, DAY, deeds(DAY), session, STAMP)
        assert {sent.sequence for sent in sent_before(own.read_text("utf-8")).values()} == {sequence}
    assert sorted(path.name for path in tmp_path.iterdir()) == ["mine.ics", "own.ics"]
