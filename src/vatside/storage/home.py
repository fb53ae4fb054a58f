"""The folder of everything a person keeps: where it is, and that it can be used."""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Mapping
from pathlib import Path

from vatside.storage.flaws import SessionError

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

    found = user_data_path("vatside", appauthor=False)
    if not found.is_absolute():
        raise SessionError(f"the system names no folder of yours; set {HOME_VARIABLE} to one")
    return found


def make_ready(folder: Path) -> None:
    """Make a folder and those above it if they are not there yet; SessionError if it can then not be looked into."""
    reading = False
    try:
        make_folder(folder)
        reading = True
        os.scandir(folder).close()
    except OSError as error:
        from vatside.storage.flaws import reason

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
