"""What a reading of the vat can mean and what is done about it, as data."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from attrs import frozen
from cattrs import Converter

from vatside.catalogue import load
from vatside.catalogue.load import sources
from vatside.catalogue.looks import LOOKS, NUMBERS
from vatside.catalogue.values import Addition, Fact

AXES = ("air", "temperature", "pH", "reducer", "indigo", "other", "none")
"""What a finding is about, in the order in which things are put right: one at a time, from the left."""

DEEDS = ("add", "to window", "dilute", "stock", "heat", "cool", "chill", "by hand", "none")
"""What a remedy does to the vat; see `Remedy.does`."""
CONFIRM = "confirm"
"""What the way does, and its name, that only reads the pH once more; it stands in no row of the table."""


@frozen
class Sign:
    """One thing to see or measure, and how much it says; exactly one test is filled in."""

    about: str
    """A look or a number of `vatside.catalogue.looks`."""
    points: float
    """What it adds to the logarithm of the odds when it is so."""
    against: float | None = None
    """What it takes off when something else was seen; None: half the points."""
    seen: tuple[str, ...] = ()
    """Any of these looks."""
    below: float | None = None
    above: float | None = None
    below_for: dict[str, float] | None = None
    """Another `below` for a group of fibres."""
    below_window: float | None = None
    """Lower than the window by more than this."""
    above_window: float | None = None
    in_window: bool = False
    needed: bool = False
    """Without any of the signs that are needed the state is not named at all."""
    source: str = "practice"


@frozen
class Remedy:
    """One thing to do about a finding."""

    id: str
    does: str
    """`add` so much a litre; `to window`: alkali or acid until the fibre's pH; `dilute`; `stock`; `heat`; `cool` by
    itself; `chill` by a cold bath or ice; `by hand`: nothing is added; `none`: leave it."""
    text: str
    """Verb first; `{amount}` stands for the amount, `{celsius}` for the temperature to come to, `{warm}` for that
    of `warm`, or for the warmest that the vat may be, whichever is less."""
    wait: Fact
    """Minutes until one looks again."""
    wait_label: str = ""
    material: str = ""
    """A material's id, or the role `alkali` or `reducer` of the method; empty where nothing is added."""
    per_litre: Fact | None = None
    """Grams of the pure substance in a litre of vat."""
    oxidised: Fact | None = None
    """Share of the dye that is blue again: its reducer and what sharpens the water go in, if that is more."""
    warm: float = 0.0
    """Works best from this temperature on, degrees C; no warmer than the vat is ever to be."""
    reducers: tuple[str, ...] = ()
    """Only with these reducers (substances); empty: with any."""
    alkalis: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()
    """Only for these groups of fibres; empty: for any."""
    source: str = ""
    """Of the remedy; empty: that of its row."""


@frozen
class Row:
    """One state that a vat may be in: its signs and its remedies."""

    name: str
    axis: str
    means: str
    source: str
    signs: tuple[Sign, ...]
    remedies: tuple[Remedy, ...]
    reducers: tuple[str, ...] = ()
    """Only in vats with these reducers (substances); empty: in any."""
    once_awake: tuple[str, ...] = ()
    """With these reducers only in a vat that was seen to work before: what never came to life has spent nothing."""
    prior: float = -2.0
    """Logarithm of the odds before anything was looked at."""


@cache
def _converter() -> Converter:
    return Converter(forbid_extra_keys=True)


@cache
def rows() -> dict[str, Row]:
    """Every state by id, in the order of the data; a method's own file may add states, and remedies to those of all."""
    raw = load.with_vats("findings")
    more = [item for file in load.method_files().values() for item in file.get("remedies", {}).items()]
    for key, remedies in more:
        have = raw[key]["remedies"]  # a kind of one's own that began as a copy brings what is there already
        raw = raw | {key: {**raw[key], "remedies": [*have, *(item for item in remedies if item not in have)]}}
    return {key: _converter().structure(row, Row) for key, row in raw.items()}


@cache
def additions() -> dict[str, Addition]:
    """How each substance goes into the vat, by substance."""
    return {item.species: item.goes_in for item in load.materials().values() if item.goes_in}


def forget() -> None:
    """Read anew what methods bring along, the next time."""
    rows.cache_clear()
    additions.cache_clear()


def problems() -> tuple[str, ...]:
    """Every contradiction of the findings, in words; empty when they hang together."""
    return tuple(line for key, row in rows().items() for line in _row_problems(key, row)) + tuple(_addition_problems())


def _row_problems(key: str, row: Row) -> Iterator[str]:
    if row.axis not in AXES:
        yield f"{key}: no axis {row.axis}"
    if row.source not in sources():
        yield f"{key}: no source {row.source}"
    yield from (f"{key}: no reducer {name}" for name in (*row.reducers, *row.once_awake) if name not in _reducers())
    for sign in row.signs:
        yield from (f"{key}, {sign.about}: {line}" for line in _sign_problems(sign))
    for remedy in row.remedies:
        yield from (f"{key}, {remedy.id}: {line}" for line in _remedy_problems(remedy))


def _sign_problems(sign: Sign) -> Iterator[str]:
    tests = (sign.below, sign.above, sign.below_window, sign.above_window)
    numbers = sum(test is not None for test in tests) + sign.in_window
    if sign.about in LOOKS:
        known = {str(item.value) for item in LOOKS[sign.about]}
        yield from (f"nobody can choose {word!r}" for word in sign.seen if word not in known)
        if numbers or not sign.seen:
            yield "a look is one of a list"
    elif sign.about not in NUMBERS:
        yield "no such look or number"
    elif sign.seen or numbers != 1:
        yield "a number has one test"
    if sign.points <= 0 or sign.source not in sources():
        yield "says nothing, or nobody said it"


def _remedy_problems(remedy: Remedy) -> Iterator[str]:
    if remedy.does not in DEEDS:
        yield f"no deed {remedy.does}"
    if remedy.material and remedy.material not in ("alkali", "reducer", *load.materials()):
        yield f"no material {remedy.material}"
    if (remedy.per_litre is None) == (remedy.does == "add"):
        yield "an amount a litre belongs to add, and to nothing else"
    if remedy.source and remedy.source not in sources():
        yield f"no source {remedy.source}"
    for fact in (remedy.wait, remedy.per_litre):
        if fact is not None and fact.source not in sources():
            yield f"no source {fact.source}"
        if fact is not None and not (fact.low or fact.value) <= fact.value <= (fact.high or fact.value):
            yield f"{fact.value} is not between {fact.low} and {fact.high}"
    yield from (f"no substance {name}" for name in (*remedy.reducers, *remedy.alkalis) if name not in additions())


def _addition_problems() -> Iterator[str]:
    yield from (
        f"{name}: no source {item.source}" for name, item in additions().items() if item.source not in sources()
    )


def _reducers() -> set[str]:
    return {material.species for material in load.materials().values() if material.role == "reducer"}
