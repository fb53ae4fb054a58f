"""Moments as text: ISO 8601 in UTC."""

from __future__ import annotations

from datetime import UTC, datetime

from vatside.plan.wanted_hour import YEARS
from vatside.storage.flaws import Flaw, shown


def show_utc(utc: datetime) -> str:
    """Write a moment in UTC, milliseconds only where there are any."""
    if utc.microsecond and utc.microsecond % 1000 == 0:
        return utc.isoformat(timespec="milliseconds")
    return utc.isoformat()


def read_utc(raw: object, _type: object = datetime) -> datetime:
    """Read a moment; Flaw unless it is ISO text with `+00:00`."""
    try:
        moment = datetime.fromisoformat(raw if isinstance(raw, str) else "")
    except ValueError:
        raise Flaw(f"must be a time like 2026-05-02T08:01:13+00:00, not {shown(raw)}") from None
    if moment.tzinfo is not UTC and moment.tzinfo != UTC:
        raise Flaw(f"must be in UTC, ending in +00:00, not {shown(raw)}")
    if moment.year not in YEARS:
        raise Flaw(f"the year {moment.year} cannot be")
    return moment
