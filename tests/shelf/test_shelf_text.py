"""The shelf as the text of its file."""

from __future__ import annotations

import json
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.log.strategies import JSON
from tests.shelf.shelves import item, logs, noted, used

from vatside.log.events.day import Unknown
from vatside.shelf.events import ItemBought, Noted, merged
from vatside.shelf.shelf_file import SHELF_LOG, decode, encode
from vatside.storage.flaws import SessionError

FROZEN = (
    b'{\n"format": "vatside-shelf",\n"version": 1,\n"events": [\n'
    b'{"seq":1,"id":"e1","at":"2026-05-01T09:00:00+00:00","kind":"item_bought","item":{"id":"i1","material":"indigo",'
    b'"mass":{"value":100.0,"unit":"g"},"purity":{"value":40.0,"unit":"%"},"lot":"","spoon_mass":null,"price":null,'
    b'"bought":null,"opened":null,"strike":{"value":100.0,"unit":"%"}}},\n'
    b'{"seq":2,"id":"e2","at":"2026-05-01T10:00:00+00:00","kind":"powder_used","item":"i1","session":"s1",'
    b'"title":"Day","step":"stock.paste","figure":"stock.pigment","grams":6.0,"used":"2026-05-01T08:00:00+00:00"}\n]}\n'
)
"""A file of version 1, never to be changed."""


def test_a_file_of_version_1_is_read_and_written_as_ever() -> None:
    """The frozen sample means what it meant, and is written back byte for byte."""
    log = noted(ItemBought(item()), used("i1", 6.0))
    assert decode(FROZEN).noted == log
    assert encode(log) == FROZEN


@given(logs())
def test_any_shelf_comes_back_as_it_was(log: tuple[Noted, ...]) -> None:
    """Written and read again, unknown kinds included."""
    whole = merged(log, ())
    assert decode(encode(whole)).noted == whole


def test_an_unknown_kind_is_kept_as_it_is() -> None:
    """What a newer version noted is carried through."""
    entry = Noted(1, "e1", noted(ItemBought(item()))[0].at, Unknown("item_lent", {"to": "a friend", "n": [1, None]}))
    assert decode(encode((entry,))).noted == (entry,)


def test_kinds_are_names_of_their_own() -> None:
    """Seven kinds, none called like another."""
    assert set(SHELF_LOG.kinds) == {
        "item_bought", "item_changed", "item_weighed", "item_finished", "powder_used", "price_set",
        "note_dropped",
    }  # fmt: skip


def changed(**more: object) -> bytes:
    """The frozen file with something changed at its top."""
    return json.dumps({**json.loads(FROZEN), **more}).encode()


def in_event(**more: object) -> bytes:
    """The frozen file with something changed in its second event; None takes a name out."""
    raw = json.loads(FROZEN)
    raw["events"][1].update(more)
    return json.dumps(raw).encode()


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "not JSON"),
        (b"[]", "not a Vatside shelf"),
        (changed(format="vatside-session"), "not a Vatside shelf"),
        (changed(version="1"), "version must be a whole number"),
        (changed(version=0), "version must be a whole number"),
        (changed(events={}), "events: must be a list"),
        (changed(colour="blue"), "unknown entry 'colour'"),
        (in_event(seq=0), "event 2: seq must be 1 or more"),
        (in_event(seq=1.5), "event 2: seq must be a whole number"),
        (in_event(id="e1"), "two have the same id"),
        (in_event(id="../x"), "event 2: id must be"),
        (in_event(at="yesterday"), "event 2: at must be a time"),
        (in_event(grams="6"), "event 2, grams: must be a number"),
        (in_event(weight=6), "event 2: unknown entry 'weight'"),
        (in_event(kind="item_lent", seq=2, to="\ud800"), "cannot be kept"),
        (FROZEN[:-40], "not JSON"),
        (FROZEN.replace(b"6.0", b"NaN"), "NaN is no number"),
        (b"\xef\xbb\xbf" + FROZEN, "byte-order mark"),
    ],
)
def test_what_is_no_shelf_is_refused_in_words(data: bytes, says: str) -> None:
    """Each flaw names its place."""
    with pytest.raises(SessionError) as refusal:
        decode(data)
    assert says in str(refusal.value)


def test_a_newer_shelf_is_read_and_called_newer() -> None:
    """It can be looked at; its version is named."""
    newer = decode(changed(version=2))
    assert newer.newer == "a newer Vatside wrote this shelf (version 2; this one writes version 1)"
    assert len(newer.noted) == 2


@given(JSON | st.dictionaries(st.sampled_from(["format", "version", "events", "x"]), JSON), st.booleans())
def test_any_json_is_a_shelf_or_refused_in_words(raw: object, claims: bool) -> None:
    """Never a traceback: what is read can be written again."""
    if claims and isinstance(raw, dict):
        raw = {**raw, "format": "vatside-shelf", "version": 1}
    with suppress(SessionError):
        found = decode(json.dumps(raw).encode())
        assert decode(encode(found.noted)).noted == found.noted
