"""From each old version of the file to the next: pure functions on JSON values.

To change the format: raise `VERSION`, add the step from the version before, and put a finished file of
that version into `tests/samples`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from vatside.storage.flaws import SessionError, shown

FORMAT = "vatside-session"
VERSION = 3
PLANNED_FOR_THE_FIBRE = 3
"""From this version on litres and jars follow the fibre."""

Step = Callable[[dict[str, Any]], dict[str, Any]]

STEPS: Mapping[int, Step] = {1: lambda raw: raw, 2: lambda raw: raw}
"""The step that leads from a version to the next one, by the version it starts from.

2: a plan may stand on a kept vat, and a file may go on in its journal; a file of version 1 has neither.
3: litres follow the fibre, and a figure is gone. What that asks of a day is known once its log is read, the journal
included: `older_days` holds it then.
"""


def migrate(raw: dict[str, Any], steps: Mapping[int, Step] = STEPS, current: int = VERSION) -> dict[str, Any]:
    """Lead a session's JSON values up to the current version; newer ones pass as they are.

    SessionError if a step is missing.
    """
    version = raw["version"]
    while version < current:
        if version not in steps:
            raise SessionError(f"the file is of version {version}, which no Vatside ever wrote")
        raw = {**steps[version](raw), "version": version + 1}
        version += 1
    return raw


def check_head(raw: object, what: str = "session") -> int:
    """Give the version of what claims to be a session, or the shelf; SessionError if it is none at all."""
    if type(raw) is not dict or raw.get("format") != f"vatside-{what}":
        raise SessionError(f"this is not a Vatside {what}")
    version = raw.get("version")
    if type(version) is not int or version < 1:
        raise SessionError(f"version must be a whole number from 1, not {shown(version)}")
    return version


def too_new(version: int) -> str:
    """Say that a newer Vatside wrote it."""
    return f"a newer Vatside wrote this file (version {version}; this one writes version {VERSION})"
