"""A dyer's own kinds of vat: the text of a file held against the catalogue, and taken in or refused in words."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from cattrs import Converter, transform_error
from cattrs.errors import BaseValidationError
from cattrs.gen import make_dict_structure_fn, override

from vatside.catalogue import audit, findings, load
from vatside.catalogue.values import VatRules

LONGEST = 200_000
"""Characters of a file: far more than any kind of vat takes."""
MOST_TOLD = 5
"""Problems of one file that are told at once."""
NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
"""What a file, and with it a kind of vat, may be called."""


def problems(name: str, text: str) -> tuple[str, ...]:
    """Say everything that keeps a file from being a kind of vat, each with its line; empty for a good one.

    The catalogue stays as it is.
    """
    if not NAME.fullmatch(name):
        return (f"{name!r} is no name for a kind of vat: small letters, digits and dashes.",)
    if name in load.shipped_methods():
        return (f"{name!r} is a kind of vat of the program's own: give the file another name.",)
    if len(text) > LONGEST:
        return (f"a kind of vat is no longer than {LONGEST} characters.",)
    try:
        rows = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        return (_at_line(str(error)),)
    found = tuple(_problems(name, rows, text))
    return (*found[:MOST_TOLD], f"and {len(found) - MOST_TOLD} more.") if len(found) > MOST_TOLD else found


def take_in(files: Mapping[str, str]) -> None:
    """Make kinds of vat of good files part of the catalogue, until others take their place."""
    put(_read(files))


def _read(files: Mapping[str, str]) -> dict[str, dict[str, Any]]:
    return {name: tomllib.loads(text) for name, text in files.items()}


def put(tables: dict[str, dict[str, Any]]) -> None:
    """Put kinds of vat, as their files stand, into the place of the dyer's own."""
    load.take_in(tables)
    findings.forget()


@contextmanager
def tried(name: str, text: str) -> Iterator[None]:
    """Have one more kind of vat for a while."""
    before = load.own_files()
    put({**before, **_read({name: text})})
    try:
        yield
    finally:
        put(before)


def _at_line(error: str) -> str:
    """Put the line in front: `line 3: Invalid value (column 8)`."""
    found = re.search(r"^(.*) \(at line (\d+), column (\d+)\)$", error)
    return f"line {found[2]}: {found[1]} (column {found[3]})" if found else error


def _problems(name: str, rows: dict[str, Any], text: str) -> Iterator[str]:
    odd = (path for path, value in _strings(rows) if not value.isprintable())
    yield from (f"{_line(text, path)}: a control character" for path in odd)
    structure = tuple(_structure(rows, text))
    yield from structure or _contradictions(name, text)


def _strings(value: object, path: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, dict):
        for key, part in value.items():
            yield from _strings(part, f"{path}.{key}")
    elif isinstance(value, list):
        for part in value:
            yield from _strings(part, path)


def _structure(rows: dict[str, Any], text: str) -> Iterator[str]:
    """Say what is missing, too much, or of the wrong kind."""
    needed = ("name", "about", "indigo", "alkali", "reducer", "keeps_days", "stock", "vat")
    missing = [key for key in needed if key not in rows]
    yield from (f"line 1: it lacks {key!r}" for key in missing)
    if missing:
        return
    try:
        load.method(rows, _converter())
    except BaseValidationError as error:
        for said in transform_error(error, path="$"):
            words, _, path = said.rpartition(" @ ")
            place = path.removeprefix("$.").removeprefix("$")
            yield f"{_line(text, place)}: {f'{place}: ' if place else ''}{words}"
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        yield f"line 1: {type(error).__name__}: {error}"


def _converter() -> Converter:
    """Give one that says where an error stands."""
    made = Converter(forbid_extra_keys=True)
    made.register_structure_hook(VatRules, make_dict_structure_fn(VatRules, made, yield_=override(rename="yield")))
    return made


def _contradictions(name: str, text: str) -> Iterator[str]:
    """Say what the catalogue finds wrong with it once it is taken in, and take it out again."""
    with tried(name, text):
        try:
            found = (*audit.problems(), *findings.problems())
        except (KeyError, TypeError, ValueError, AttributeError, BaseValidationError) as error:
            found = (f"{type(error).__name__}: {error}",)
    for said in found:
        yield f"{_line(text, said)}: {said.removeprefix(f'method {name}: ').removeprefix(f'method {name}, ')}"


def _line(text: str, where: str) -> str:
    """Find the line that a path or a sentence speaks of: the one that names most of its words, under its table."""
    words = [word for word in re.findall(r"[A-Za-z_][\w-]*", where.replace("yield_", "yield")) if len(word) > 2]
    table, best, line = "", (0, 0), 1
    for number, row in enumerate(text.splitlines(), 1):
        header = re.match(r"\s*\[+([^\]]+)\]", row)
        table = header[1] if header else table
        key = re.match(r"\s*\"?([\w-]+)\"?\s*=", row)
        score = (
            sum(word in table.split(".") for word in words) + 3 * bool(key and key[1] in words),
            sum(word in row for word in words),
        )
        if score > best:
            best, line = score, number
    return f"line {line}"
