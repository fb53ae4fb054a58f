"""Depths, dips, colour and finish as data: what the stages after the vat read, and what is usual between its rows."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache
from math import exp, log
from typing import Any, TypeVar

from attrs import frozen

from vatside.catalogue import load
from vatside.catalogue.values import Fact
from vatside.chemistry.shade import Shade

T = TypeVar("T")


@frozen
class Rung:
    """One step of the ladder of swatches."""

    name: str
    depth: float
    """Indigotin, % on weight of fibre."""


@frozen
class Dipping:
    """How a depth is usually dipped."""

    up_to: float
    """The deepest it covers, %."""
    gives: Fact
    """What these dips come to, %."""
    dips: Fact
    accepted: Fact
    """Dips that are planned at most before more indigo or a smaller vat is asked for."""
    strength: Fact
    """Indigotin in the vat for which these dips are meant, g/L."""
    dip: Fact
    """Minutes in the vat."""
    air: Fact
    """Minutes in the air after each dip."""


@frozen
class Uptake:
    """What a group of fibres takes up in a dip; see `vatside.dips.uptake`."""

    pull: Fact
    """Most that goes on by itself in one dip, g/kg."""
    half: Fact
    """Strength at which half of that does, g/L."""
    time: Fact
    """Minutes in which a dip levels off."""
    ceiling: Fact
    """What no fibre exceeds, g/kg."""
    rinsed: Fact
    """Share of what was laid on that the rinses take off again, %."""


@frozen
class OwnResults:
    """How far a dyer's own results pull the law of uptake: spreads of the natural logarithm."""

    prior: Fact
    """Of the factor before anything is known."""
    day: Fact
    """From one day to the next."""
    measured: Fact
    """Of a depth by a colour that was measured."""
    picked: Fact
    """By a step of the ladder that looked the same."""
    graded: Fact
    """What a grade on the grey scale adds to that."""
    guessed: Fact
    """Of either, while the colour of a depth is the catalogue's guess."""
    doubt: Fact
    """A result that is off by more than so many spreads counts less."""
    factor: Fact
    """The factor before anything is known, and its bounds."""


@frozen
class Sizing:
    """How large a vat is made for its fibre."""

    least: Fact
    """Litres."""
    least_liquor: Fact
    """L/kg of the heaviest piece."""
    half_full: Fact
    """How full a tub is at least, so that pieces hang, %."""
    step: Fact
    """Litres are rounded up to."""
    hours: Fact
    """Of dips that a day has room for."""
    class_hours: Fact
    """The same in a class."""
    class_lots: Fact
    """So many lots make a class."""


@frozen
class ShadeFacts:
    """How indigo looks on a group of fibres; see `vatside.chemistry.shade.Shade`."""

    colour_yield: Fact
    most: Fact
    peak: Fact
    shift: Fact
    half_shift: Fact
    white_400: Fact
    white_700: Fact

    @property
    def shade(self) -> Shade:
        """The same as plain numbers."""
        return Shade(
            self.colour_yield.value, self.most.value, self.peak.value, self.shift.value, self.half_shift.value,
            self.white_400.value, self.white_700.value,
        )  # fmt: skip


@frozen
class Pauses:
    """When the vat wants a rest, and what an entry costs in time; minutes unless said otherwise."""

    work: Fact
    """Of work after which it wants a long rest."""
    rest: Fact
    entries: Fact
    """After so many entries a short one."""
    short_rest: Fact
    handling: Fact
    """To lower in and lift out."""
    hands: Fact
    """Of one entry: lower in, turn, lift out, press out, open the folds and hang."""


@frozen
class Finish:
    """How a group of fibres is finished; temperatures in degrees C, times in minutes."""

    last_air: Fact
    liquor: Fact
    """Of each bath, L/kg."""
    rinses: Fact
    sour: Fact
    """Minutes in the sour."""
    sour_lime: Fact
    """The same after a vat with lime."""
    sour_pH: Fact  # noqa: N815  (chemistry's own symbol)
    """What the sour is mixed to; as `low` and `high` where the paper should find it."""
    wash: Fact
    """Temperature of the wash-off."""
    wash_minutes: Fact
    detergent: Fact
    """Neutral detergent, g a litre."""
    last_rinses: Fact
    dry: Fact
    """Hours."""


@frozen
class Ending:
    """Looking after the vat afterwards."""

    oxidise: Fact
    """Hours until a spent vat is blue through and through."""
    settle: Fact
    """Hours for the blue to settle."""
    end_pH: Fact  # noqa: N815  (chemistry's own symbol)
    """What it is neutralised to."""
    sample: Fact
    """mL to titrate."""
    worth_keeping: Fact
    """Indigotin below which a vat is not kept, g/L."""


def _rows(name: str, key: str, cls: type[T]) -> dict[str, T]:
    return {row: load.converter().structure(value, cls) for row, value in load.kept_table(name)[key].items()}


@cache
def ladder() -> tuple[Rung, ...]:
    """The steps of the ladder of swatches, palest first."""
    return load.converter().structure(load.kept_table("depths.toml")["ladder"], tuple[Rung, ...])


@cache
def dippings() -> tuple[Dipping, ...]:
    """How depths are dipped, palest first."""
    return load.converter().structure(load.kept_table("depths.toml")["dipping"], tuple[Dipping, ...])


def dipping_for(depth: float) -> Dipping:
    """Give how a depth (%) is usually dipped."""
    return next((row for row in dippings() if depth <= row.up_to), dippings()[-1])


@cache
def own_results() -> OwnResults:
    """How far a dyer's own results pull the law of uptake."""
    return load.converter().structure(load.kept_table("depths.toml")["own"], OwnResults)


@cache
def sizing() -> Sizing:
    """How large a vat is made for its fibre."""
    return load.converter().structure(load.kept_table("depths.toml")["sizing"], Sizing)


@cache
def uptakes() -> dict[str, Uptake]:
    """Uptake by group of fibres."""
    return _rows("depths.toml", "uptake", Uptake)


@cache
def reducer_shares() -> dict[str, Fact]:
    """What a reducer leaves of the uptake, by substance, as a share."""
    return {item.species: item.uptake for item in load.materials().values() if item.uptake}


@cache
def shade_facts() -> dict[str, ShadeFacts]:
    """The colour of indigo by group of fibres, with sources."""
    return _rows("depths.toml", "shades", ShadeFacts)


@cache
def shades() -> dict[str, Shade]:
    """The colour of indigo by group of fibres, as plain numbers."""
    return {group: facts.shade for group, facts in shade_facts().items()}


@cache
def pauses() -> Pauses:
    """When the vat wants a rest."""
    return load.converter().structure(load.kept_table("depths.toml")["pauses"], Pauses)


@cache
def finishes() -> dict[str, Finish]:
    """Finish by group of fibres."""
    return _rows("finish_steps.toml", "finish", Finish)


@cache
def ending() -> Ending:
    """Looking after the vat afterwards."""
    return load.converter().structure(load.kept_table("finish_steps.toml")["ending"], Ending)


def facts() -> dict[str, object]:
    """Every value of these files that holds facts, by name, for the audit."""
    tables: dict[str, dict[str, Any]] = {
        "uptake": uptakes(), "shade": shade_facts(), "finish": finishes(),
    }  # fmt: skip
    named = {f"{name} {key}": item for name, table in tables.items() for key, item in table.items()}
    named |= {f"dipping up to {row.up_to:g} %": row for row in dippings()}
    return named | {"pauses": pauses(), "ending": ending(), "own results": own_results(), "sizing": sizing()}


@frozen
class Usual:
    """What is usual for one depth, between the rows of the table."""

    strength: float
    """g/L."""
    weakest: float
    """g/L."""
    strongest: float
    """g/L."""
    dip: float
    """Minutes in the vat."""
    air: float
    """Minutes in the air after each dip."""
    most_dips: int
    """Usual at most."""
    accepted_dips: int
    """Planned at most before more indigo or a smaller vat is asked for."""


def usual_for(depth: float) -> Usual:
    """Give what is usual for a depth (%): between the middles of the rows by the logarithm of depth, level beyond."""
    return _usual(max(depth, 1e-6))


@lru_cache(maxsize=256)
def _usual(depth: float) -> Usual:
    rows, row = dippings(), dipping_for(depth)
    middles = [log(item.gives.value) for item in rows]
    at = min(max(log(depth), middles[0]), middles[-1])
    above = next(number for number, middle in enumerate(middles) if at <= middle)
    below = max(above - 1, 0)
    share = (at - middles[below]) / (middles[above] - middles[below]) if above else 0.0

    def between(value: Callable[[Dipping], float]) -> float:
        return value(rows[below]) + share * (value(rows[above]) - value(rows[below]))

    return Usual(
        strength=exp(between(lambda item: log(item.strength.value))),
        weakest=exp(between(lambda item: log(item.strength.low or item.strength.value))),
        strongest=exp(between(lambda item: log(item.strength.high or item.strength.value))),
        dip=max(round(between(lambda item: item.dip.value)), 1),
        air=round(between(lambda item: item.air.value)),
        most_dips=round(row.dips.high or row.dips.value),
        accepted_dips=round(row.accepted.value),
    )
