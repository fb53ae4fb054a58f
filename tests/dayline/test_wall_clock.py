"""Planning over a change to summer or winter time.

The changes are those of the law: in the European Union at 01:00 UTC on the last Sundays of March and October (directive
2000/84/EC, articles 2 and 3), in the United States at 02:00 local time on the second Sunday of March and the first of
November (Energy Policy Act of 2005, section 110), on Lord Howe Island by half an hour at 02:00 local time on the first
Sundays of October and April (IANA time zone database, `australasia`). What is expected is counted from them by hand.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from attrs import evolve
from tests.plan.plans import plan_with, wool_plan

from vatside.dayline.laid_day import LaidDay, lay_day
from vatside.dayline.steps import Step
from vatside.plan.hours import moment_of, on_wall, wanted_at
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute

BERLIN, NEW_YORK, LORD_HOWE = (ZoneInfo(name) for name in ("Europe/Berlin", "America/New_York", "Australia/Lord_Howe"))
SHEET = compute(wool_plan())


def step(step_id: str, stage: Stage, hands: float, minutes: float | None = None) -> Step:
    """Make a bare step."""
    return Step(step_id, stage, step_id, hands, minutes)


REST = step("vat.rest_covered", Stage.VAT, 0, 60)
NIGHTS = [
    # zone, ten in the evening (UTC), the vat is wanted at six on the wall, hours from the one to the other
    pytest.param(BERLIN, "2026-03-28T21:00", "2026-03-29T06:00", 7, id="Berlin, spring"),
    pytest.param(BERLIN, "2026-10-24T20:00", "2026-10-25T06:00", 9, id="Berlin, autumn"),
    pytest.param(NEW_YORK, "2026-03-08T03:00", "2026-03-08T06:00", 7, id="New York, spring"),
    pytest.param(NEW_YORK, "2026-11-01T02:00", "2026-11-01T06:00", 9, id="New York, autumn"),
    pytest.param(LORD_HOWE, "2026-10-03T11:30", "2026-10-04T06:00", 7.5, id="Lord Howe, spring"),
    pytest.param(LORD_HOWE, "2026-04-04T11:00", "2026-04-05T06:00", 8.5, id="Lord Howe, autumn"),
]


def planned(ready_by: str | None) -> Plan:
    """The starter's plan, with the hour at which the vat is wanted."""
    return evolve(wool_plan(), ready_by=ready_by)


def at(text: str) -> datetime:
    """A moment in UTC."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def laid(ready_by: str | None, now: str, zone: ZoneInfo) -> LaidDay:
    """Lay out a day that only has a rest of an hour, and nothing to dip."""
    return lay_day(planned(ready_by), SHEET, [REST], at(now), zone=zone)


def ready(day: LaidDay) -> datetime:
    """When the vat is ready."""
    assert day.ready is not None
    return day.at(day.ready)


def shown(moment: datetime | None) -> str:
    """What the wall shows, with the offset."""
    return f"{moment:%H:%M %z}" if moment else ""


@pytest.mark.parametrize(("zone", "evening", "ready_by", "hours"), NIGHTS)
class TestNights:
    """From ten in the evening to a vat at six in the morning."""

    def test_in_hand(self, zone: ZoneInfo, evening: str, ready_by: str, hours: float) -> None:
        """The rest begins an hour before ready, in moments and on the wall of the morning; nothing is in hand then."""
        day = laid(ready_by, evening, zone)
        assert day.begin == at(evening) + timedelta(hours=hours - 1)
        assert f"{day.starts[REST.id]:%H:%M}" == "05:00"
        assert f"{ready(day):%Y-%m-%dT%H:%M}" == ready_by
        assert day.spare == 0

    def test_late(self, zone: ZoneInfo, evening: str, ready_by: str, hours: float) -> None:
        """Half the night in, and wanted ten minutes earlier than can be: late by ten minutes."""
        late = at(evening) + timedelta(hours=hours - 1, minutes=10)
        assert lay_day(planned(ready_by), SHEET, [REST], late, zone=zone).spare == -10

    def test_a_bare_hour(self, zone: ZoneInfo, evening: str, ready_by: str, hours: float) -> None:
        """`06:00` in the evening is six in the morning."""
        wanted = wanted_at(planned("06:00"), at(evening), zone)
        assert wanted == at(evening) + timedelta(hours=hours)

    def test_a_long_rest_over_the_change(self, zone: ZoneInfo, evening: str, ready_by: str, hours: float) -> None:
        """A rest of twelve hours from the evening on ends after twelve hours, whatever the wall shows by then."""
        rest = step("vat.rest_covered", Stage.VAT, 0, 12 * 60)
        day = lay_day(planned(None), SHEET, [rest], at(evening), zone=zone)
        assert ready(day) - at(evening) == timedelta(hours=12)
        assert ready(day).replace(tzinfo=None) == datetime.fromisoformat(ready_by) + timedelta(hours=12 - hours)


@pytest.mark.parametrize(
    ("now", "said"),
    [
        ("2026-10-25T00:30", "02:30 +0100"),  # from the first 02:30 to the second
        ("2026-10-25T00:10", "02:10 +0100"),
        ("2026-10-24T23:30", "02:30 +0200"),
        ("2026-03-29T00:30", "03:30 +0200"),  # 01:30 and an hour
        ("2026-03-28T23:30", "01:30 +0100"),
    ],
)
def test_a_rest_that_ends_inside_the_hour(now: str, said: str) -> None:
    """An hour of rest that begins or ends inside the doubled or the missing hour is an hour."""
    assert shown(ready(laid(None, now, BERLIN))) == said


class TestTheHourThatComesTwice:
    """Between 02:00 and 03:00 in Berlin on 25 October 2026."""

    @pytest.mark.parametrize(
        ("now", "wanted"),
        [
            ("2026-10-24T20:00", "02:30 +0200"),  # the evening before
            ("2026-10-25T00:20", "02:30 +0200"),  # 02:20, the first time
            ("2026-10-25T00:40", "02:30 +0100"),  # 02:40, the first time
            ("2026-10-25T01:20", "02:30 +0100"),  # 02:20, the second time
            ("2026-10-25T03:00", "02:30 +0100"),  # both past
        ],
    )
    @pytest.mark.parametrize("ready_by", ["02:30", "2026-10-25T02:30"])
    def test_the_next_one_is_meant(self, now: str, wanted: str, ready_by: str) -> None:
        """Half past two is the next half past two that there is, else the latest."""
        assert shown(wanted_at(planned(ready_by), at(now), BERLIN)) == wanted

    def test_the_order_is_that_of_time(self) -> None:
        """A step at the second 02:10 comes after one at the first 02:50."""
        chain = [step("vat.stock_in", Stage.VAT, 0, 20), step("vat.rest_covered", Stage.VAT, 0, 20)]
        day = lay_day(planned(None), SHEET, chain, at("2026-10-25T00:50"), zone=BERLIN)
        assert [shown(day.starts[item.id]) for item in chain] == ["02:50 +0200", "02:10 +0100"]
        assert min(day.starts.values()) == day.starts["vat.stock_in"]


def test_an_hour_that_is_left_out() -> None:
    """02:30 of 29 March 2026 is not on any wall in Berlin: an hour and a half after 01:00 it is 03:30."""
    assert shown(moment_of(datetime(2026, 3, 29, 2, 30), at("2026-03-28T20:00"), BERLIN)) == "03:30 +0200"


def test_the_wall_of_the_machine(machine_in_berlin: None) -> None:
    """Without a zone the machine's own rules count, of the day that is meant and not of today."""
    summer, winter = on_wall(at("2026-07-01T12:00")), on_wall(at("2026-12-01T12:00"))
    assert (shown(summer), shown(winter)) == ("14:00 +0200", "13:00 +0100")
    assert shown(moment_of(datetime(2026, 10, 25, 2, 30), at("2026-10-25T00:40"))) == "02:30 +0100"


@pytest.mark.parametrize(
    ("now", "wanted"),
    [
        (datetime(2026, 5, 2, 7), datetime(2026, 5, 2, 10)),
        (datetime(2026, 5, 2, 10, 30), datetime(2026, 5, 2, 10)),  # late, not tomorrow
        (datetime(2026, 5, 2, 15, 59), datetime(2026, 5, 2, 10)),  # six hours late at the most: ours, as the code says
        (datetime(2026, 5, 2, 16, 0), datetime(2026, 5, 3, 10)),
        (datetime(2026, 5, 1, 21), datetime(2026, 5, 2, 10)),  # the evening before
    ],
)
def test_a_bare_hour_means_the_nearest_day(now: datetime, wanted: datetime) -> None:
    """`10:00` is today's, unless that is long past."""
    assert wanted_at(plan_with(ready_by="10:00"), now) == wanted
