"""Writing a file that is not there yet, whole or not at all; one that is there stays as it is."""

from __future__ import annotations

from pathlib import Path

from vatside.plain.say import Refusal
from vatside.session.files import Fs, reason
from vatside.session.snapshot import discard, keep_copy


def write_new(path: Path, data: bytes, fs: Fs | None = None) -> None:
    """Write a new file; a Refusal where one is there already, or where it cannot be written."""
    fs = fs or Fs()
    try:
        keep_copy(fs, data, path)
    except FileExistsError:
        raise Refusal(f"{path} is there already; name a new file.") from None
    except (OSError, ValueError) as error:
        if isinstance(error, OSError) and fs.stamp(path) is not None:
            discard(fs, path)
        raise Refusal(f"{path} cannot be written: {reason(error) if isinstance(error, OSError) else error}.") from None
