"""Writing a file that is not there yet, whole or not at all; one that is there stays as it is."""

from __future__ import annotations

from pathlib import Path

from vatside.plain.say import Refusal
from vatside.storage.files import Fs
from vatside.storage.flaws import why
from vatside.storage.snapshot import keep_copy
from vatside.units.one_line import plain


def write_new(path: Path, data: bytes, fs: Fs | None = None) -> None:
    """Write a new file; a Refusal where one is there already, or where it cannot be written."""
    fs, name = fs or Fs(), plain(str(path))
    try:
        keep_copy(fs, data, path)
    except FileExistsError:
        raise Refusal(f"{name} is there already; name a new file.") from None
    except (OSError, ValueError) as error:
        raise Refusal(f"{name} cannot be written: {why(error)}.") from None
