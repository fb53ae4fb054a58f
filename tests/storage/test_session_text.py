"""The text of a session file: what is written, what is read, and what is refused in words."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, get_args

import attrs
import pytest
from attrs import evolve
from hypothesis import given
from tests.log.makers import a_day, logged, session
from tests.log.strategies import UNKNOWN, sessions
from tests.plan.plans import kept_vat, wool_plan

from vatside.log.events.day import Entry, Event, NoteWritten, PlanChanged, Unknown, WaitStarted
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.log.waits import Moment
from vatside.plan.plan import Form, Kept, Plan
from vatside.plan.starter import starter_plan
from vatside.storage import codec, file_format
from vatside.storage.file_format import VERSION, migrate, read_utc, show_utc, too_new
from vatside.storage.flaws import MOST_TOLD, Flaw, SessionError
from vatside.storage.session_text import decode, encode, encode_new, say_goes_on
from vatside.units import Amount

OLD = Path(__file__).parents[1] / "samples"
"""Days as older versions wrote them."""
DAY = session(*a_day())
RAW: dict[str, Any] = json.loads(encode(DAY))


def raw(**changes: Any) -> dict[str, Any]:
    """The JSON values of a day with some replaced."""
    return {**json.loads(json.dumps(RAW)), **changes}


def refused(data: object) -> tuple[str, ...]:
    """The problems with which a file is refused."""
    text = data if isinstance(data, bytes) else json.dumps(data).encode()
    with pytest.raises(SessionError) as caught:
        decode(text)
    assert all(problem and "\n" not in problem for problem in caught.value.problems)
    return caught.value.problems


def changed(index: int, **changes: Any) -> dict[str, Any]:
    """A day with some values of one event replaced."""
    events = raw()["events"]
    events[index] = {**events[index], **changes}
    return raw(events=events)


def test_the_head_is_as_agreed() -> None:
    """The file says its format, version, id and moment of creation."""
    assert list(RAW) == ["format", "version", "id", "created", "plan", "events"]
    assert (RAW["format"], RAW["version"], RAW["created"]) == ("vatside-session", VERSION, "2026-05-02T08:00:00+00:00")


def test_an_event_is_one_flat_line() -> None:
    """An entry is one object on one line: its number, its moment, its kind and its own values."""
    entry = Entry(1, Moment(datetime(2026, 5, 2, 8, 1, 13, tzinfo=UTC), 12.5, "1a2b3c4d"), NoteWritten("½ lb"))
    expected = (
        '{"seq":1,"at":"2026-05-02T08:01:13+00:00","elapsed":12.5,"boot":"1a2b3c4d",'
        '"kind":"note_written","text":"½ lb"}'
    )
    assert codec.DAY_LOG.line(entry) == expected
    assert expected in encode(Session("s", entry.at.utc, wool_plan(), (entry,))).decode()


def test_an_amount_is_value_and_unit() -> None:
    """Quantities are a number and a unit, apart."""
    assert RAW["events"][1]["value"] == {"value": 250.0, "unit": "g"}


def test_a_day_comes_back_as_it_was() -> None:
    """Writing and reading loses nothing, types included."""
    again = decode(encode(DAY)).session
    assert again == DAY
    assert type(again.plan.spoons) is type(DAY.plan.spoons)
    assert isinstance(again.plan.lots[0].form, Form)


@given(sessions())
def test_any_session_comes_back_as_it_was(random: Session) -> None:
    """Whatever the plan and the events, what is read is what was written, and writing it again gives the same bytes."""
    data = encode(random)
    again = decode(data).session
    assert again == random
    assert encode(again) == data
    assert _types(again.plan) == _types(random.plan)


def _types(value: object) -> object:
    """The types of a value, through and through: a str is not the StrEnum it equals."""
    if isinstance(value, tuple):
        return tuple(_types(item) for item in value)
    cls = type(value)
    if attrs.has(cls):
        return (cls, *(_types(getattr(value, field.name)) for field in attrs.fields(cls)))
    return cls


@given(UNKNOWN)
def test_an_unknown_kind_comes_out_unchanged(event: Unknown) -> None:
    """What a newer version wrote goes through a round trip without losing a key."""
    entry = logged(event)[0]
    line = codec.DAY_LOG.line(entry)
    assert codec.DAY_LOG.read_line(line.encode()) == entry
    assert json.loads(line)["kind"] == event.name
    assert event.body.items() <= json.loads(line).items()


def test_kinds_are_written_by_hand() -> None:
    """No two kinds share a name, none is a Python class path, and none of their fields hides an entry's own."""
    kinds = [cls.kind for cls in get_args(Event)]
    assert len(set(kinds)) == len(kinds)
    assert all(kind.replace("_", "").isalpha() and kind.islower() for kind in kinds)
    for cls in codec.DAY_LOG.kinds.values():
        assert not {field.name for field in attrs.fields(cls)} & set(codec.DAY_LOG.head)


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "not JSON"),
        (b"hello", "line 1, column 1"),
        (b'{"format": "vatside-session",\n "version": ', "line 2"),
        (b"[]", "not a Vatside session"),
        (b"5", "not a Vatside session"),
        (b'{"format": "other"}', "not a Vatside session"),
        (b'{"a": 1, "a": 2}', "'a' stands twice"),
        (b"\xef\xbb\xbf{}", "byte-order mark"),
        (b'{"a": "\xff"}', "byte 8 is not UTF-8"),
        ('{"format": "vatside-session"}'.encode("utf-16"), "UTF-8"),
        (b"[" * 100_000, "nested too deeply"),
        (b'{"a":' * 50_000, "nested too deeply"),
        (b'{"a": ' + b"9" * 5000 + b"}", "thousands of digits"),
        (b'{"a": NaN}', "NaN"),
        (b'{"a": -Infinity}', "-Infinity"),
    ],
    ids=lambda value: repr(value)[:30],
)
def test_what_is_no_clean_json_is_refused_in_a_sentence(data: bytes, said: str) -> None:
    """Each way in which a text can be no session has its own sentence."""
    problems = refused(data)
    assert len(problems) == 1
    assert said in problems[0]


@pytest.mark.parametrize(
    ("broken", "said"),
    [
        (lambda: raw(version="1"), "version must be a whole number"),
        (lambda: raw(version=True), "version must be a whole number"),
        (lambda: raw(version=0), "version must be a whole number"),
        (lambda: raw(extra=1), "unknown entry 'extra'"),
        (lambda: {key: value for key, value in raw().items() if key != "plan"}, "plan is missing"),
        (lambda: raw(id="a b"), "id: must be up to 64"),
        (lambda: raw(id=""), "id: must be"),
        (lambda: raw(created="2026-05-02T08:00:00"), "created: must be in UTC"),
        (lambda: raw(created="2026-05-02T08:00:00+02:00"), "created: must be in UTC"),
        (lambda: raw(created="yesterday"), "created: must be a time like"),
        (lambda: raw(created="0001-01-01T00:00:00+00:00"), "the year 1 cannot be"),
        (lambda: raw(created=5), "created: must be"),
        (lambda: raw(events={}), "events: must be a list"),
        (lambda: raw(events=[[]]), "event 1: an event must be an object"),
        (lambda: raw(plan=[]), "plan: must be an object"),
        (lambda: raw(plan={**RAW["plan"], "extra": 1}), "plan: unknown entry 'extra'"),
        (lambda: raw(plan={**RAW["plan"], "title": None}), "plan, title: must be text, not None"),
        (lambda: raw(plan={**RAW["plan"], "lots": {}}), "plan, lots: must be a list"),
        (lambda: raw(plan={**RAW["plan"], "spoons": "wooden"}), "plan, spoons: must be one of us, metric"),
        (lambda: raw(plan={**RAW["plan"], "lots": []}), "there must be one at least"),
        (lambda: raw(plan={**RAW["plan"], "lots": RAW["plan"]["lots"] * 2}), "two have the same id"),
        (lambda: changed(1, value={"value": "1", "unit": "g"}), "event 2, value, value: must be a number, not '1'"),
        (lambda: changed(1, value={"value": True, "unit": "g"}), "event 2, value, value: must be a number"),
        (lambda: changed(1, value={"value": 1e300, "unit": "g"}), "event 2, value, value: is too large"),
        (lambda: changed(1, value={"value": 1, "unit": "stone"}), "'stone' is no unit"),
        (lambda: changed(1, value={"value": 1}), "event 2, value, unit: is missing"),
        (lambda: changed(1, value=[1]), "event 2, value: must be an object"),
        (lambda: changed(1, value=1.5), "event 2, value: must be an object"),
        (lambda: changed(3, amount=None), "event 4, amount: must be an object"),
        (lambda: changed(0, text=5), "event 1, text: must be text, not 5"),
        (lambda: changed(0, text="\ud800"), "event 1, text: holds half a character"),
        (lambda: changed(0, extra=5), "event 1: unknown entry 'extra'"),
        (lambda: changed(0, kind=5), "event 1: kind must be text"),
        (lambda: changed(0, seq=1.0), "event 1: seq must be a whole number"),
        (lambda: changed(0, seq=True), "event 1: seq must be a whole number"),
        (lambda: changed(0, seq=0), "event 1: seq must be 1 or more"),
        (lambda: changed(0, seq=7), "event 1: its seq is 7"),
        (lambda: changed(0, elapsed="1"), "event 1: elapsed must be a number"),
        (lambda: changed(0, at="2026-05-02"), "event 1: at must be in UTC"),
        (lambda: changed(6, minutes="60"), "event 7, minutes: must be a number"),
        (lambda: changed(6, nudges=15), "event 7, nudges: must be a list"),
        (lambda: changed(6, nudges=[15, "30"]), "event 7, nudges 2: must be a number, not '30'"),
        (lambda: changed(4, lot={"id": "b"}), "event 5, lot, name: is missing"),
        (lambda: changed(0, kind="newer", text=[[[[[]]]]] * 3, deep=_nested(60)), "cannot be kept"),
    ],
)  # fmt: skip
def test_each_flaw_is_told_with_its_place(broken: Callable[[], object], said: str) -> None:
    """Nothing is coerced or dropped silently: the sentence names the place and what is wrong there."""
    assert any(said in problem for problem in refused(broken())), refused(broken())


def _nested(levels: int) -> list[Any]:
    inner: list[Any] = []
    for _ in range(levels):
        inner = [inner]
    return inner


def test_several_flaws_are_told_together() -> None:
    """All that is wrong is said at once, one sentence each."""
    events = raw()["events"]
    events[0]["text"], events[1]["value"]["unit"], events[5]["extra"] = 5, "stone", 1
    assert len(refused(raw(events=events, id="a b"))) == 4


def test_many_flaws_are_counted() -> None:
    """A file full of flaws does not fill the screen."""
    events = [{**event, "extra": 1} for event in raw()["events"]]
    problems = refused(raw(events=events))
    assert len(problems) == MOST_TOLD + 1
    assert problems[-1] == f"and {len(events) - MOST_TOLD} more problems"


@pytest.mark.parametrize(
    ("path", "amount", "said"),
    [
        (("water", "hot"), Amount(500, "degC"), "plan, Hot tap: 500 °C cannot be"),
        (("water", "hot"), Amount(5, "g"), "plan, Hot tap: must be an amount of temperature"),
        (("vessels", "stock_jar"), Amount(0, "L"), "plan, Stock in one jar"),
    ],
)
def test_a_plan_outside_the_forms_ranges_is_refused(path: tuple[str, str], amount: Amount, said: str) -> None:
    """A figure can only be worked out from a plan that the form would have let through."""
    part = evolve(getattr(DAY.plan, path[0]), **{path[1]: amount})
    data = encode(evolve(DAY, plan=evolve(DAY.plan, **{path[0]: part})))
    assert any(said in problem for problem in refused(data)), refused(data)


def test_a_newer_file_says_so_before_its_flaws() -> None:
    """What a newer version wrote and this one cannot read is refused with the version named first."""
    problems = refused(raw(version=VERSION + 1, extra=1))
    assert problems[0] == too_new(VERSION + 1)


def test_a_newer_file_that_fits_can_be_read() -> None:
    """A newer version is told, not hidden."""
    assert decode(json.dumps(raw(version=2)).encode()).version == 2


def test_whole_numbers_stand_for_numbers() -> None:
    """JSON has one kind of number: 60 is as good as 60.0, and comes back as a float."""
    event = decode(json.dumps(changed(6, minutes=90)).encode()).session.entries[6].event
    assert isinstance(event, WaitStarted)
    assert type(event.minutes) is float


def test_numbers_that_json_does_not_have_are_not_written() -> None:
    """A NaN never reaches the file."""
    with pytest.raises(Flaw):
        codec.DAY_LOG.line(logged(WaitStarted("w", None, "x", float("nan")))[0])
    with pytest.raises(Flaw):
        file_format.dump_json([float("inf")])


def test_milliseconds_are_kept() -> None:
    """Moments keep their milliseconds, and odd microseconds as well."""
    for micro in (0, 123_000, 123_456):
        moment = datetime(2026, 5, 2, 8, 0, 0, micro, tzinfo=UTC)
        assert read_utc(show_utc(moment)) == moment


def test_a_texts_quirks_survive() -> None:
    """Quotes, newlines, emoji, right-to-left text and nulls in a note come back as they were."""
    for text in ('"\\\n\t\r', "🧵‍♀️", "نيل", "\x00\x1b[31m", "\u2028"):
        entry = logged(NoteWritten(text))[0]
        assert codec.DAY_LOG.read_line(codec.DAY_LOG.line(entry).encode()) == entry
        assert "\n" not in codec.DAY_LOG.line(entry)


def test_a_choice_as_a_value_comes_back_as_text() -> None:
    """A choice set by an event is written as its id."""
    event = PlanChanged("lots.a.form", Form.CLOTH)
    assert codec.DAY_LOG.read_line(codec.DAY_LOG.line(logged(event)[0]).encode()).event == PlanChanged(
        "lots.a.form", "cloth"
    )


def test_migrations_run_step_by_step() -> None:
    """An old file goes through every step up to the current version."""
    steps = {1: lambda old: {**old, "a": 1}, 2: lambda old: {**old, "b": old["a"] + 1}}
    assert migrate({"version": 1}, steps, current=3) == {"version": 3, "a": 1, "b": 2}


def test_a_missing_step_is_told() -> None:
    """A version that no step leads from is refused in words."""
    with pytest.raises(SessionError, match="version 1"):
        migrate({"version": 1}, {}, current=2)


def test_steps_lead_up_to_the_current_version() -> None:
    """Every version from the first has its step."""
    assert migrate(raw())["version"] == VERSION


def test_a_day_of_every_older_version_reads_whole() -> None:
    """A finished day as each version wrote it: every event carried out, and the next writing is of today's version."""
    for version in range(1, VERSION):
        read = decode((OLD / f"format-{version}.json").read_bytes())
        assert read.version == version
        assert fold(read.session).misfits == ()
        assert decode(encode(read.session)).version == VERSION


def test_the_mark_of_a_journal_is_put_into_the_text_as_if_written_with_it() -> None:
    """The same bytes as a whole new writing; a text laid out otherwise is left to that."""
    assert b"".join(say_goes_on(encode(DAY))) == encode(DAY, goes_on=True)
    assert say_goes_on(json.dumps(RAW).encode()) == ()


def test_the_plan_is_complete_in_json() -> None:
    """No field of the plan is left out of the file; what does not stand in it is not written down."""
    fields = {field.name for field in attrs.fields(Plan)}
    assert set(RAW["plan"]) == fields - {"kept", "stock_kept", "place"}
    bare = json.loads(encode(evolve(DAY, plan=evolve(DAY.plan, dosing=None))))
    assert set(bare["plan"]) == fields - {"kept", "stock_kept", "dosing", "place"}


def test_a_new_day_can_be_read_again() -> None:
    """Its way of dosing stands empty: as suits the lots."""
    plan = starter_plan()
    assert plan.dosing is None
    assert decode(encode_new(evolve(DAY, plan=plan, entries=()))).session.plan == plan


def test_a_kept_vat_goes_through_the_file() -> None:
    """What stands in the tub is part of the plan, amount by amount; what is not known of it is not written down."""
    day = evolve(DAY, plan=evolve(DAY.plan, kept=kept_vat()))
    written = json.loads(encode(day))["plan"]["kept"]
    assert written["volume"] == {"value": 20.0, "unit": "L"}
    assert set(written) == {field.name for field in attrs.fields(Kept)} - {"carbonate", "salts", "oxidised"}
    assert decode(encode(day)).session.plan == day.plan


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("volume", {"value": -3, "unit": "L"}, "Kept, in the tub: -3 L cannot be"),
        ("temperature", {"value": 3, "unit": "g"}, "It stands at: must be an amount of temperature"),
        ("alkali", None, "plan, kept, alkali: must be an object with named values"),
    ],
)
def test_a_kept_vat_that_cannot_be_is_refused(path: str, value: object, said: str) -> None:
    """Its amounts lie within what the form takes."""
    plan = json.loads(encode(evolve(DAY, plan=evolve(DAY.plan, kept=kept_vat()))))["plan"]
    broken = raw(plan={**plan, "kept": {**plan["kept"], path: value}})
    with pytest.raises(SessionError, match=re.escape(said)):
        decode(json.dumps(broken).encode())
