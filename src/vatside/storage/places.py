"""Where files are: what a person keeps, what comes along with Vatside, and what lies beside a session file."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Mapping
from pathlib import Path

from vatside.storage.flaws import SessionError, reason

JOURNAL = ".journal"
"""What the name of a journal adds to its session file's."""


def journal_path(path: Path) -> Path:
    """Where the journal of a session file is."""
    return path.with_name(f"{path.name}{JOURNAL}")


def lock_path(path: Path) -> Path:
    """Where the lock of a session file is; the file stays when the lock is free."""
    return path.with_name(f"{path.name}.lock")


def backup_path(path: Path) -> Path:
    """Where the content before the latest replacement is."""
    return path.with_name(f"{path.name}.bak")


def draft_path(path: Path) -> Path:
    """Where what is being typed is, until it is logged."""
    return path.with_name(f"{path.name}.draft")


HOME_VARIABLE = "VATSIDE_HOME"
"""Environment variable that moves everything of a person to another folder."""
OWN_FOLDER_MODE = 0o700
"""Mode of a folder we make: the dyer's own, as the XDG Base Directory Specification 0.8 asks for folders it names."""


def home(environment: Mapping[str, str] = os.environ) -> Path:
    """Give the folder: `VATSIDE_HOME`, or where the system wants it; SessionError if there is no such place."""
    chosen = environment.get(HOME_VARIABLE)
    if chosen:
        try:
            return Path(chosen).expanduser()
        except RuntimeError:
            raise SessionError(f"{HOME_VARIABLE}={chosen}: nobody of that name has a home folder here") from None
    from platformdirs import user_data_path

    folder = user_data_path("vatside", appauthor=False)
    if not folder.is_absolute():
        raise SessionError(f"the system names no folder of yours; set {HOME_VARIABLE} to one")
    return folder


def make_ready(folder: Path) -> None:
    """Make a folder and those above it if they are not there yet; SessionError if it can then not be looked into."""
    reading = False
    try:
        make_folder(folder)
        reading = True
        os.scandir(folder).close()
    except OSError as error:
        why = reason(error, reading=reading)
        raise SessionError(f"{folder} cannot be used: {why}; {HOME_VARIABLE} moves your files elsewhere") from None


def make_folder(path: Path) -> None:
    """Create a folder and those above it, for their owner alone whatever the umask is."""
    missing = [path]
    while not os.path.lexists(missing[-1].parent) and missing[-1].parent != missing[-1]:
        missing.append(missing[-1].parent)
    for folder in reversed(missing):
        try:
            folder.mkdir(OWN_FOLDER_MODE)
        except FileExistsError:
            if not folder.is_dir():
                raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder)) from None
            continue
        if sys.platform != "win32":
            folder.chmod(OWN_FOLDER_MODE)


SAMPLE_ID = "sample-"
"""What the id of a session begins with that is a copy of a sample: nothing of it was really used."""


def samples_folder() -> Path:
    """Give the folder of sample sessions; FileNotFoundError with words if it is missing."""
    return shipped("sample_sessions")


def guided_day() -> Path:
    """Give the sample that a newcomer is shown: a day with its end, from the plan to the dry cloth."""
    return samples_folder() / "finished-day.json"


def themes_folder() -> Path:
    """Give the folder of themes; FileNotFoundError with words if it is missing."""
    return shipped("themes")


def shipped(name: str) -> Path:
    """Find a folder that comes with Vatside."""
    installed = Path(__file__).resolve().parents[1] / name
    if installed.is_dir():
        return installed
    checkout = Path(__file__).resolve().parents[3]
    if (checkout / "pyproject.toml").is_file() and (checkout / name).is_dir():
        return checkout / name
    raise FileNotFoundError(f"the folder {name} that comes with Vatside is missing: install it again")


SAMPLE = "sample:"
