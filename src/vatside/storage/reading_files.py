"""Looking into a session file without opening it for writing."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from vatside.log.fold import fold
from vatside.log.session import Session
from vatside.plan.plan import Plan
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.loading import Loaded, load


def session_of(path: str | PathLike[str]) -> Session:
    """Read a session with its journal; SessionError with every problem if nothing can be read."""
    return loaded_of(path).session


def loaded_of(path: str | PathLike[str]) -> Loaded:
    """Read a session as the disk has it, with what is wrong with it; SessionError as for `session_of`."""
    try:
        return load(Fs(), Path(path))
    except SessionError as error:
        name = Path(path).name
        raise SessionError(*(line if name in line else f"{name}: {line}" for line in error.problems)) from None


def missing_from(loaded: Loaded) -> tuple[str, ...]:
    """Say why what was read is perhaps not all there was; nothing for a whole file."""
    return (*loaded.damage, *((loaded.behind,) if loaded.behind else ()))


def plan_of(path: str | PathLike[str]) -> Plan:
    """Read the plan of a session as it stands after its log; SessionError as for `session_of`."""
    return fold(session_of(path)).plan
