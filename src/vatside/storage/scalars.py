"""One value of a session file: text, number, truth or choice, strictly read. Each raises Flaw in words."""

from __future__ import annotations

import re
from enum import Enum
from typing import Any

from vatside.storage.flaws import Flaw, shown
from vatside.units import UNITS

LARGEST = 1e10
"""No quantity of a dye day is larger; so many seconds (317 years) still lead to a date that there is."""
IDENTITY = re.compile(r"[A-Za-z0-9_-]{1,64}")


def read_text_or_choice(raw: object, cls: type[str]) -> str | Enum:
    """Read text; cattrs asks the hook of str for every StrEnum as well."""
    return read_text(raw, cls) if cls is str else _choice(raw, cls)


def _choice(raw: object, cls: Any) -> Enum:
    item: Enum
    for item in cls:
        if item.value == raw and type(raw) is str:
            return item
    raise Flaw(f"must be one of {', '.join(str(item.value) for item in cls)}, not {shown(raw)}")


def read_unit(raw: object, _type: object) -> str:
    """Read the name of a unit; only those that the form knows."""
    name = read_text(raw, str)
    if name not in UNITS:
        raise Flaw(f"{shown(name)} is no unit that Vatside knows")
    return name


def encodable(text: str) -> bool:
    """Tell whether the text has no half characters (lone surrogates)."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def read_text(raw: object, _type: object) -> str:
    """Read text without half characters."""
    if not isinstance(raw, str):
        raise Flaw(f"must be text, not {shown(raw)}")
    if not raw.isascii() and not encodable(raw):
        raise Flaw("holds half a character")
    return raw


def read_whole(raw: object, _type: object) -> int:
    """Read a whole number of 10^10 at most."""
    if type(raw) is not int:
        raise Flaw(f"must be a whole number, not {shown(raw)}")
    if abs(raw) > LARGEST:
        raise Flaw("is too large to be meant")
    return raw


def read_number(raw: object, _type: object) -> float:
    """Read a finite number of 10^10 at most."""
    if type(raw) is not float and type(raw) is not int:
        raise Flaw(f"must be a number, not {shown(raw)}")
    if not abs(raw) <= LARGEST:
        raise Flaw("is too large to be meant")
    return float(raw)


def read_truth(raw: object, _type: object) -> bool:
    """Read true or false."""
    if not isinstance(raw, bool):
        raise Flaw(f"must be true or false, not {shown(raw)}")
    return raw


def read_identity(raw: object, _type: object = None) -> str:
    """Read what tells a session, or an entry of the shelf's log, from every other one."""
    if not isinstance(raw, str) or not IDENTITY.fullmatch(raw):
        raise Flaw(f"must be up to 64 plain letters, digits and dashes, not {shown(raw)}")
    return raw
