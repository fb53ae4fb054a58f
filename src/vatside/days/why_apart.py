"""Why two blues came out apart: what differs between their cards, most likely cause first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import log

from attrs import frozen

from vatside.chemistry.difference import delta_e_76
from vatside.days.blue_card import BlueCard
from vatside.days.blues import Dips, LotBlue
from vatside.days.lot_pairs import paired
from vatside.plan.measures import fibre_of
from vatside.units import Kind, show_concentration, show_minutes, show_percent, show_temperature, to_base
from vatside.units.one_line import plain

SHOWS_STRENGTH = 0.10
SHOWS_FOR_FIBRE = 0.15
SHOWS_PH = 0.3
SHOWS_CELSIUS = 3.0
SHOWS_DIPS = 0.20
SHOWS_AIR = 0.25
SHOWS_REDUCER = 0.40
SHOWS_PURITY = 0.10
"""Differences from which on one sees them on the cloth: shares, pH and degrees C. Ours, no source."""
SHOWS_DEPTH = 0.10
"""Depths that are this much apart are told apart: ours, no source."""
SAME_BLUE = 3.0
"""Distance (CIE 1976) up to which two blues count as one in a studio: common practice, no source."""
ANOTHER_FIBRE, ANOTHER_VAT, ANOTHER_LOT, ANOTHER_FINISH = 4.0, 3.0, 1.0, 0.9
"""What another fibre, kind of vat, lot of pigment and finish weigh beside those. Ours, no source."""


@frozen
class Reason:
    """One thing that differs and may be why."""

    label: str
    left: str
    right: str
    weight: float
    """1 is what just shows; more is likelier to be the reason."""
    says: str
    """What it does to the right one."""
    darker: int = 0
    """1 if it makes the right one darker, -1 if paler, 0 if that depends."""

    @property
    def likely(self) -> bool:
        """Tell whether it is large enough to be seen."""
        return self.weight >= 1


def reasons(left: BlueCard, right: BlueCard) -> tuple[Reason, ...]:
    """Give what differs between two cards, the likeliest reason first.

    Among equals: strength, dye for the fibre, pH, temperature, dips, reducer, pigment, fibre, kind of vat, finish.
    """
    found = [reason for reason in _all(left, right) if reason.left != reason.right]
    return tuple(sorted(found, key=lambda reason: -reason.weight))


def _all(left: BlueCard, right: BlueCard) -> Iterator[Reason]:
    yield _more(
        "Indigotin", left.strength, right.strength, show_concentration, SHOWS_STRENGTH,
        ("more dye in the vat: darker", "less dye in the vat: paler"),
    )  # fmt: skip
    yield _more(
        "Indigotin for the fibre", left.for_fibre, right.for_fibre, _short_percent, SHOWS_FOR_FIBRE,
        ("more dye for each gram: the last dips stay strong", "less dye for each gram: the vat runs out sooner"),
    )  # fmt: skip
    yield from _pH(left, right)
    warmer = right.celsius - left.celsius
    yield Reason(
        "Temperature", show_temperature(left.celsius), show_temperature(right.celsius), abs(warmer) / SHOWS_CELSIUS,
        "warmer: quicker uptake, less even" if warmer > 0 else "cooler: the reducer works less",
    )  # fmt: skip
    one, other = chosen_pair(left, right)
    yield from _dips(one.dips, other.dips)
    yield _more(
        "Reducer", left.reducer, right.reducer, show_concentration, SHOWS_REDUCER,
        ("more reducer: more of the dye is reduced", "less reducer: some of the dye may not have been reduced"),
    )  # fmt: skip
    yield from _pigment(left, right)
    fibre, another = fibre_of(one.lot).name, fibre_of(other.lot).name
    yield Reason("Fibre", fibre, another, ANOTHER_FIBRE, "another fibre takes another blue")
    yield from _kind(left, right)


Texts = tuple[str, str]


def _more(label: str, left: float, right: float, show: Callable[[float], str], shows: float, says: Texts) -> Reason:
    """One amount beside another: of more the right one is darker."""
    up = right > left
    return Reason(label, show(left), show(right), how_far(left, right) / shows, says[not up], 1 if up else -1)


def _short_percent(value: float) -> str:
    return show_percent(float(f"{value:.2g}"))


def _pH(left: BlueCard, right: BlueCard) -> Iterator[Reason]:
    """Read values are held against read ones, worked-out against worked-out."""
    pairs = (("pH read", left.pH_read, right.pH_read), ("pH worked out", left.pH_worked, right.pH_worked))
    for label, one, other in pairs:
        if one is not None and other is not None:
            up = other > one
            says = "higher: less uptake, deeper into the fibre" if up else "lower: more colour for the dye"
            yield Reason(label, f"{one:.1f}", f"{other:.1f}", abs(other - one) / SHOWS_PH, says, -1 if up else 1)
            return


def chosen_pair(left: BlueCard, right: BlueCard) -> tuple[LotBlue, LotBlue]:
    """Give the lots that stand for the two days: of those beside each other that both were dipped, the heaviest.

    Whichever day stands on the left, it is the same two.
    """
    return min(lot_pairs(left, right), key=_rank)


def _rank(pair: tuple[LotBlue, LotBlue]) -> tuple[bool, float, list[str]]:
    dipped = all(blue.dips.as_done for blue in pair)
    grams = sum(to_base(blue.lot.mass, Kind.MASS) for blue in pair)
    return not dipped, -grams, sorted(blue.lot.name for blue in pair)


def lot_pairs(left: BlueCard, right: BlueCard) -> tuple[tuple[LotBlue, LotBlue], ...]:
    """Give the lots beside each other: by name, then by fibre, then as they come."""
    ones, others = ({blue.lot.id: blue for blue in card.lots} for card in (left, right))
    found = paired([blue.lot for blue in left.lots], [blue.lot for blue in right.lots])
    return tuple((ones[one.id], others[other.id]) for one, other in found.both)


def _dips(one: Dips, other: Dips) -> Iterator[Reason]:
    if not (one.number and other.number):
        return
    planned = ", so far" if one.so_far or other.so_far else ""
    planned = planned if one.as_done and other.as_done else ", as planned"
    yield _more(
        f"Dips{planned}", one.number, other.number, lambda number: f"{number:.0f}", SHOWS_DIPS,
        ("more dips: darker", "fewer dips: paler"),
    )  # fmt: skip
    yield _more(
        f"One dip{planned}", one.dip_min, other.dip_min, show_minutes, SHOWS_AIR,
        ("longer in the vat: somewhat darker", "shorter in the vat: somewhat paler"),
    )  # fmt: skip
    if one.air_min and other.air_min:
        yield _more(
            "Time in the air", one.air_min, other.air_min, show_minutes, SHOWS_AIR,
            ("longer in the air: more of it turned blue", "shorter in the air: less of it turned blue"),
        )  # fmt: skip


def _pigment(left: BlueCard, right: BlueCard) -> Iterator[Reason]:
    weight = how_far(left.purity, right.purity) / SHOWS_PURITY
    says = "both were dosed by these: if one is wrong, so was its dose"
    yield Reason("Purity", f"{left.purity:.3g} %", f"{right.purity:.3g} %", weight, says)
    says = "what its label says may not be so: dip two strips alike and note how it strikes"
    yield Reason("Pigment", left.pigment, right.pigment, ANOTHER_LOT, says)


def _kind(left: BlueCard, right: BlueCard) -> Iterator[Reason]:
    yield Reason("Kind of vat", left.vat, right.vat, ANOTHER_VAT, "another vat dyes another blue")
    if left.finish and right.finish:
        says = "sour and wash take loose blue off and shift the shade a little"
        yield Reason("Finish", left.finish, right.finish, ANOTHER_FINISH, says)


def how_far(one: float, other: float) -> float:
    """How far two amounts are apart, as the logarithm of their ratio; far, where one of them is nothing."""
    if one <= 0 or other <= 0:
        return 0.0 if one == other else 10.0
    return abs(log(other) - log(one))


# What came out


def came_apart(left: BlueCard, right: BlueCard) -> int:
    """Tell whether the right blue came out darker (1), paler (-1), or nobody knows or sees it (0), over all lots."""
    ways = [way for pair in lot_pairs(left, right) if (way := _darker(*pair))]
    return (sum(ways) > 0) - (sum(ways) < 0)


def _darker(one: LotBlue, other: LotBlue) -> int:
    if one.lab is not None and other.lab is not None and fibre_of(one.lot) == fibre_of(other.lot):
        lighter = one.lab.L - other.lab.L
        return 0 if delta_e_76(one.lab, other.lab) <= SAME_BLUE else (lighter > 0) - (lighter < 0)
    if one.depth is None or other.depth is None or how_far(one.depth, other.depth) < SHOWS_DEPTH:
        return 0
    return 1 if other.depth > one.depth else -1


def _colour_lines(left: BlueCard, right: BlueCard) -> Iterator[str]:
    for one, other in lot_pairs(left, right):
        name = one.lot.name if one.lot.name == other.lot.name else f"{one.lot.name} → {other.lot.name}"
        parts = []
        if one.lab is not None and other.lab is not None:
            distance = delta_e_76(one.lab, other.lab)
            parts.append(f"colour distance {distance:.1f} (up to {SAME_BLUE:g} is the same blue)")
        if one.depth is not None and other.depth is not None:
            parts.append(f"{_short_percent(one.depth)} → {_short_percent(other.depth)} on the ladder")
        way = {1: "the second is darker", -1: "the second is paler"}.get(_darker(one, other), "")
        if parts:
            yield f"{name}: {'; '.join([*parts, *([way] if way else [])])}"


def apart_lines(left: BlueCard, right: BlueCard) -> Iterator[str]:
    """Say how far two blues are apart and why, likeliest first; what would have done the opposite comes after.

    A day that was never dyed has no blue to explain: only what differs is said.
    """
    undyed = [f"“{plain(card.title)}” has no dips and no colour" for card in (left, right) if not card.dyed]
    if undyed:
        who = undyed[0] if len(undyed) == 1 else "Neither day has dips or a colour"
        yield f"{who} written down: there is no blue to explain."
        yield from (f"  {reason.label}: {reason.left} → {reason.right}" for reason in reasons(left, right))
        return
    yield from _colour_lines(left, right)
    way = came_apart(left, right)
    found = reasons(left, right)
    likely = [reason for reason in found if reason.likely and reason.darker * way >= 0]
    against = [reason for reason in found if reason.likely and reason.darker * way < 0]
    yield "Most likely because of:" if likely else _nothing(way)
    for number, reason in enumerate(likely, start=1):
        yield f"  {number}. {_line(reason)}"
    if against:
        yield f"What would rather have made it {'paler' if way > 0 else 'darker'}:"
        yield from (f"  - {_line(reason)}" for reason in against)
    small = [f"{reason.label} {reason.left} → {reason.right}" for reason in found if not reason.likely]
    if small:
        yield f"Too small to be seen: {'; '.join(small)}"


def _nothing(way: int) -> str:
    if way:
        return "Nothing that was written down explains it: the water, the scour, or a reading that was not taken."
    return "Nothing differs by enough to be seen."


def _line(reason: Reason) -> str:
    return f"{reason.label}: {reason.left} → {reason.right}; {reason.says}"
