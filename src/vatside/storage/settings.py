"""What a dyer may set for her own machine, in `settings.toml` of her data folder: how an alarm is told outside the app.

A session never brings any of it along: only who owns the folder says which command is run.
"""

from __future__ import annotations

import tomllib
from enum import StrEnum
from pathlib import Path
from typing import Any

from attrs import frozen

from vatside.storage.files import plain_text
from vatside.storage.flaws import reason

NAME = "settings.toml"
LARGEST = 65536
"""Bytes of a settings file; more was never written by hand. Ours, no source."""
MOST_WORDS, LONGEST_WORD = 32, 400
"""Words of a command, and letters of one. Ours, no source."""


class Escape(StrEnum):
    """The terminal's own way to a notice on the desktop; off at first, for no standard has one."""

    OFF = "off"
    OSC_9 = "osc9"
    OSC_777 = "osc777"


@frozen
class Settings:
    """What stands in the file, or would."""

    notice: Escape = Escape.OFF
    command: tuple[str, ...] = ()
    """A program and its words, run with what rings as its last word; none at first."""


def read_settings(folder: Path) -> tuple[Settings, str]:
    """Read the file of a folder; where it is bad, the usual settings and one sentence that names what is wrong."""
    path = folder / NAME
    try:
        return _settings(tomllib.loads(plain_text(path, LARGEST))), ""
    except FileNotFoundError:
        return Settings(), ""
    except OSError as error:
        why = reason(error, reading=True)
    except UnicodeDecodeError:
        why = "it is no text in UTF-8"
    except (ValueError, RecursionError) as error:
        why = " ".join(str(error).split()) or "it cannot be read"
    return Settings(), f"{NAME} is left out: {why}."


def _settings(table: dict[str, Any]) -> Settings:
    """Take a table apart; ValueError, in words, for what cannot be."""
    known = {"notice", "command"}
    for name in table:
        if name not in known:
            raise ValueError(f"{name!r} is no setting; there are {', '.join(sorted(known))}")
    return Settings(_notice(table.get("notice", Escape.OFF)), _command(table.get("command", [])))


def _notice(value: object) -> Escape:
    if value not in list(Escape):
        raise ValueError(f"notice must be one of {', '.join(f'{item.value!r}' for item in Escape)}")
    return Escape(str(value))


def _command(value: object) -> tuple[str, ...]:
    """Take a list of words; a single text would have to be parted by a shell, and there is none."""
    if not isinstance(value, list) or not all(isinstance(word, str) for word in value):
        raise ValueError('command must be a list of words, such as ["notify-send", "Vatside"]')
    if len(value) > MOST_WORDS or any(len(word) > LONGEST_WORD or "\0" in word for word in value):
        raise ValueError(f"command may have {MOST_WORDS} words of {LONGEST_WORD} letters")
    if value and not value[0]:
        raise ValueError("command names no program")
    return tuple(value)
