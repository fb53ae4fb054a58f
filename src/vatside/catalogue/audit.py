"""Hold the data files against each other and against themselves, and a dyer's own kinds of vat against them all.

Her own kind of vat is the text of a file, and is taken in or refused in words.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import attrs
from cattrs import Converter, transform_error
from cattrs.errors import BaseValidationError
from cattrs.gen import make_dict_structure_fn, override

from vatside.catalogue import dyeing, findings, load
from vatside.catalogue.load import HOLDS, KITCHEN, cautions, fibres, materials, methods, scours, sources, steps_of
from vatside.catalogue.values import (
    GROUPS,
    MOMENTS,
    CautionText,
    Fact,
    Fibre,
    MethodEnd,
    Scour,
    StepTemplate,
    VatRules,
    Window,
)
from vatside.chemistry.reducers import REDUCERS
from vatside.chemistry.substances import ALKALIS, HYDROXIDE, SUBSTANCES

ROLES = ("indigo", "alkali", "buffer", "reducer", "soap", "acid")
"""What a material is for."""
STARTS = ("lukewarm", "hot")
"""How a scour bath begins."""
END_PAGES = 4
"""The end of a vat has: blue, acid or none, what is done, where it goes."""
STEP_FILES = ("scour", "jar", "vat", "dip", "finish")
"""Files of steps, by what they are for."""
OWN_CAUTIONS = ("agents", "alkali", "reducer", "indigo", "liquor")
"""Stand for the cautions of what goes in, or of what the vat is made with."""


def problems() -> tuple[str, ...]:
    """Every contradiction of the data files, in words; empty when they hang together."""
    return (
        *_fibres(),
        *_scours(),
        *_materials(),
        *_methods(),
        *_steps(),
        *_broken_facts(),
    )


def _fibres() -> Iterator[str]:
    for key, fibre in fibres().items():
        named = {fibre.scour, fibre.scour_greasy}
        yield from (f"fibre {key}: no scour {scour}" for scour in sorted(named - set(scours())))
        if fibre.group not in GROUPS:
            yield f"fibre {key}: no group {fibre.group}"
        if (fibre.scour != fibre.scour_greasy) != bool(fibre.greasy_name):
            yield f"fibre {key}: a scour of its own and a greasy_name go together"
        yield from _window(key, fibre)


def _window(key: str, fibre: Fibre) -> Iterator[str]:
    window = fibre.window
    if not window.low <= window.target <= window.high <= window.block:
        yield f"fibre {key}: its window does not run from low over target and high to block"


def _scours() -> Iterator[str]:
    for key, scour in scours().items():
        named = [agent.material for agent in scour.agents]
        yield from (f"scour {key}: no material {material}" for material in named if material not in materials())
        if scour.start not in STARTS:
            yield f"scour {key}: no start {scour.start}"
        if scour.hold.value > scour.ceiling.value:
            yield f"scour {key}: held above its own ceiling"
        yield from _agents(key, scour)


def _agents(key: str, scour: Scour) -> Iterator[str]:
    for agent in scour.agents:
        if (agent.per_kg is None) == (agent.per_litre is None):
            yield f"scour {key}: {agent.material} wants one amount, a kilogram or a litre"


def _materials() -> Iterator[str]:
    for key, material in materials().items():
        yield from _unknown_cautions(f"material {key}", material.cautions)
        if material.role not in ROLES:
            yield f"material {key}: no role {material.role}"
        known: dict[str, Iterable[str]] = {"alkali": HYDROXIDE, "buffer": ALKALIS, "reducer": REDUCERS, "soap": [""]}
        if material.species not in known.get(material.role, SUBSTANCES):
            yield f"material {key}: chemistry knows no {material.role} {material.species}"


def _methods() -> Iterator[str]:
    for key, method in methods().items():
        for role in ("indigo", "alkali", "reducer"):
            material = materials().get(getattr(method, role))
            if material is None or material.role != role:
                yield f"method {key}: {getattr(method, role)} is no {role}"
        yield from (f"method {key}: no group {group}" for group in method.vat.suits if group not in GROUPS)


def _steps() -> Iterator[str]:
    for name in STEP_FILES:
        yield from (line for step in steps_of(name) for line in _step_problems(f"{name} step {step.id}", step))
    for key, method in methods().items():
        if method.end is not None and len(method.end.pages) != END_PAGES:
            yield f"method {key}: its end has {END_PAGES} pages, not {len(method.end.pages)}"
        own = (*method.steps, *method.ending)
        yield from (line for step in own for line in _step_problems(f"method {key}, {step.id}", step))


def _step_problems(place: str, step: StepTemplate) -> Iterator[str]:
    yield from _unknown_cautions(place, (name for name in step.cautions if name not in OWN_CAUTIONS))
    if step.when not in MOMENTS:
        yield f"{place}: no moment {step.when}"
    yield from (f"{place}: {name!r} is no figure" for name in step.needs if len(name) == 1)
    if step.source not in ("", *sources()):
        yield f"{place}: no source {step.source}"
    yield from (f"{place}: holds {words}" for words in step.holds if not HOLDS.fullmatch(words))
    yield from (f"{place}: takes {name}" for name in step.takes if name not in KITCHEN)
    yield from (f"{place}: no alkali {name}" for name in step.alkalis if name not in ALKALIS)
    yield from (f"{place}: no group {name}" for name in step.groups if name not in GROUPS)


def _unknown_cautions(place: str, names: Iterable[str]) -> Iterator[str]:
    yield from (f"{place}: no caution {name}" for name in names if name not in cautions())


def _broken_facts() -> Iterator[str]:
    steps = {name: steps_of(name) for name in STEP_FILES}
    groups = (fibres(), scours(), materials(), methods(), cautions(), dyeing.facts(), steps)
    for group in groups:
        for key, item in group.items():
            yield from _facts_in(key, item)


def _facts_in(place: str, item: object) -> Iterator[str]:
    """Walk an attrs value and judge each fact and window in it."""
    if isinstance(item, Fact):
        yield from _fact_problems(place, item)
    if isinstance(item, Fact | Window | CautionText | MethodEnd) and item.source not in sources():
        yield f"{place}: no source {item.source}"
    if isinstance(item, tuple):
        for number, part in enumerate(item, 1):
            yield from _facts_in(f"{place} {number}", part)
    elif attrs.has(cls := type(item)):
        for name in attrs.fields_dict(cls):
            yield from _facts_in(f"{place}, {name}", getattr(item, name))


def _fact_problems(place: str, fact: Fact) -> Iterator[str]:
    if not fact.lowest <= fact.value <= fact.highest:
        yield f"{place}: {fact.value} is not between {fact.lowest} and {fact.highest}"
    if fact.lowest < 0:
        yield f"{place}: {fact.lowest} is less than nothing"


LONGEST = 200_000
"""Characters of a file: far more than any kind of vat takes."""
MOST_TOLD = 5
"""Problems of one file that are told at once."""
NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
"""What a file, and with it a kind of vat, may be called."""


def problems_of_own(name: str, text: str) -> tuple[str, ...]:
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
    flaws = tuple(_problems(name, rows, text))
    return (*flaws[:MOST_TOLD], f"and {len(flaws) - MOST_TOLD} more.") if len(flaws) > MOST_TOLD else flaws


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
def method_added(name: str, text: str) -> Iterator[None]:
    """Add a kind of vat to the catalogue inside the `with` block; it is taken out again at its end."""
    before = load.own_files()
    put({**before, **_read({name: text})})
    try:
        yield
    finally:
        put(before)


def _at_line(error: str) -> str:
    """Put the line in front: `line 3: Invalid value (column 8)`."""
    match = re.search(r"^(.*) \(at line (\d+), column (\d+)\)$", error)
    return f"line {match[2]}: {match[1]} (column {match[3]})" if match else error


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
        for message in transform_error(error, path="$"):
            words, _, path = message.rpartition(" @ ")
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
    with method_added(name, text):
        try:
            flaws = (*problems(), *findings.problems())
        except (KeyError, TypeError, ValueError, AttributeError, BaseValidationError) as error:
            flaws = (f"{type(error).__name__}: {error}",)
    for flaw in flaws:
        yield f"{_line(text, flaw)}: {flaw.removeprefix(f'method {name}: ').removeprefix(f'method {name}, ')}"


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
