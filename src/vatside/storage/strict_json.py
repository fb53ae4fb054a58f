"""Strict JSON: what the standard reader lets through and a session file must not hold."""

from __future__ import annotations

from json import JSONDecodeError, JSONDecoder, JSONEncoder
from typing import Any

from vatside.storage.flaws import Flaw, SessionError, shown

DEEPEST = 50
"""Levels of nesting that an event of an unknown kind may have."""

_ENCODER = JSONEncoder(ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def dump(value: object) -> str:
    """Write JSON on one line; Flaw for a number that JSON does not have."""
    try:
        return _ENCODER.encode(value)
    except ValueError as error:
        raise Flaw("a number must be finite") from error


def parse(data: bytes) -> Any:
    """Read JSON; SessionError with one sentence for whatever is not clean JSON in UTF-8."""
    if data.startswith(b"\xef\xbb\xbf"):
        raise SessionError("the file begins with a byte-order mark: save it as plain UTF-8")
    try:
        return _DECODER.decode(data.decode("utf-8"))
    except UnicodeDecodeError as error:
        raise SessionError(f"byte {error.start + 1} is not UTF-8 text") from None
    except JSONDecodeError as error:
        raise SessionError(f"line {error.lineno}, column {error.colno}: this is not JSON, or it breaks off") from None
    except RecursionError:
        raise SessionError("the file is nested too deeply to be a session") from None
    except Flaw as error:
        raise SessionError(str(error)) from None
    except ValueError:
        raise SessionError("the file holds a number with thousands of digits") from None


def too_deep(value: object, left: int = DEEPEST) -> bool:
    """Tell whether lists and objects are nested deeper than `left` levels."""
    if isinstance(value, dict):
        value = list(value.values())
    if not isinstance(value, list):
        return False
    return left == 0 or any(too_deep(item, left - 1) for item in value)


def _no_duplicates(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise Flaw(f"the name {shown(twice)} stands twice in one object")
    return found


def _no_constant(name: str) -> Any:
    raise Flaw(f"{name} is no number that a session can hold")


_DECODER = JSONDecoder(object_pairs_hook=_no_duplicates, parse_constant=_no_constant)
