"""From what people write after a number to one of our units."""

from __future__ import annotations

import re

from vatside.units.amount import Kind, Problem
from vatside.units.names import CONFUSABLE, EXAMPLES, KIND_WORDS, LOCAL_SPELLINGS, SPELLINGS, UNITS

_PER = re.compile(r"\bper\b(?! cent)")
_CLOSED_UP = re.compile(r" ?([/°%]) ?")
_LEVEL_SPOON = re.compile(r"level (?=t|cup)")
_BARE_DEGREES = ("°", "deg", "degree", "degrees")


def read_unit(text: str, kind: Kind, default: str | None = None) -> str | Problem:
    """Find the unit id for a spelling; what is wanted (`kind`) settles `C` and `m`.

    `default` is the unit of a bare number: `60°` takes it. A Problem names what would be right.
    """
    key = _key(text)
    if kind is Kind.TEMPERATURE and default and key in _BARE_DEGREES:
        return default
    local = LOCAL_SPELLINGS.get((kind, key))
    if local is not None:
        return local
    if key in CONFUSABLE:
        return Problem(CONFUSABLE[key])
    return SPELLINGS.get(key) or _quotient(key) or _unknown(text, kind)


def _unknown(text: str, kind: Kind) -> Problem:
    return Problem(f"“{text}” is no unit known here: write {KIND_WORDS[kind]}, such as {EXAMPLES[kind]}")


def _key(text: str) -> str:
    lowered = _CLOSED_UP.sub(r"\1", _PER.sub("/", text.lower()))
    return _LEVEL_SPOON.sub("", lowered)


def _quotient(key: str) -> str | None:
    """Read `g/l` and its like from the spellings of its two parts."""
    over, slash, under = key.partition("/")
    unit = f"{SPELLINGS.get(over)}{slash}{SPELLINGS.get(under)}"
    return unit if unit in UNITS else None
