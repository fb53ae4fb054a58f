"""The quick readers and those that tell what is wrong are of one mind."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from tests.log.strategies import EVENTS

from vatside.log.events.day import Entry, Event, Unknown
from vatside.log.waits import Moment
from vatside.storage.codec import DAY_LOG, converter, reader

AT = Moment(datetime(2026, 5, 2, 8, 0, tzinfo=UTC), 1.0, "boot")
ODD = st.sampled_from([None, True, 0, 1.5, 1e13, "", "x", "\ud800", [], ["x"], {}, {"value": 1, "unit": "g"}])


@given(EVENTS.filter(lambda event: not isinstance(event, Unknown)), st.data())
def test_what_the_quick_one_refuses_the_slow_one_refuses(event: Event, data: st.DataObject) -> None:
    """One value changed, taken out or put in: both read the same event, or neither reads one."""
    raw = DAY_LOG.to_json(Entry(1, AT, event))
    name = data.draw(st.sampled_from([name for name in raw if name not in DAY_LOG.head] + ["extra"]))
    if data.draw(st.booleans()):
        raw[name] = data.draw(ODD)
    else:
        raw.pop(name, None)
    assert _quick(raw) == _slow(raw)


def _quick(raw: dict[str, Any]) -> object:
    try:
        return DAY_LOG.from_json(raw).event
    except Exception:
        return "refused"


def _slow(raw: dict[str, Any]) -> object:
    cls = DAY_LOG.kinds[raw["kind"]]
    own = {name: value for name, value in raw.items() if name not in DAY_LOG.head}
    try:
        return reader(converter(), cls, detailed=True)(own, cls)
    except Exception:
        return "refused"
