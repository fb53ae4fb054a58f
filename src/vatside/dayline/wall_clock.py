"""The clock on the wall and the moments it means, over a change to summer or winter time too.

A moment knows its offset from UTC; what the dyer writes (`02:30`) does not. Lengths of time are only right between
moments. A zone is given by its rules, or None for the machine's own.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone, tzinfo

from vatside.plan.plan import Plan

LATE_GRACE = timedelta(hours=6)
"""A clock time without a date that passed less than this ago means today, not tomorrow. Ours."""


def on_wall(moment: datetime, zone: tzinfo | None = None) -> datetime:
    """Give a moment as the wall clock shows it, with the offset that holds then, so that two of them can be compared.

    A time without an offset is one of a wall where no clocks change, and stays what it is.
    """
    if moment.tzinfo is None:
        return moment
    local = moment.astimezone(zone)
    return local.replace(tzinfo=timezone(local.utcoffset() or UTC.utcoffset(None)), fold=0)


def moment_of(wall: datetime, now: datetime, zone: tzinfo | None = None) -> datetime:
    """Give the moment at which the wall clock shows a time, as `on_wall` does.

    Of an hour that comes twice the next one after `now` is meant, or the second once both are past; of an hour that
    is left out, the time as if the clocks had not changed. Where `now` has no offset, no clocks change.
    """
    if now.tzinfo is None:
        return wall
    first, second = (_at(wall.replace(fold=fold), zone) for fold in (0, 1))
    return on_wall(second if first < second and first < now else first, zone)


def _at(wall: datetime, zone: tzinfo | None) -> datetime:
    return (wall if zone is None else wall.replace(tzinfo=zone)).astimezone(UTC)


def wanted_at(plan: Plan, now: datetime, zone: tzinfo | None = None) -> datetime | None:
    """Turn the plan's `ready_by` into a local time near `now`; None if the plan leaves it open."""
    if plan.ready_by is None:
        return None
    if "T" in plan.ready_by:
        return moment_of(datetime.fromisoformat(plan.ready_by), now, zone)
    hour, minute = (int(part) for part in plan.ready_by.split(":"))
    today = on_wall(now, zone).replace(tzinfo=None, hour=hour, minute=minute, second=0, microsecond=0)
    wanted = moment_of(today, now, zone)
    return wanted if wanted > now - LATE_GRACE else moment_of(today + timedelta(days=1), now, zone)
