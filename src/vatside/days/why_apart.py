"""Why two blues came out apart, most likely cause first, and whether a day done again makes the same blue."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from math import log

from attrs import frozen

from vatside.chemistry.colour import delta_e_76
from vatside.days.blues import LotBlue
from vatside.days.day_record import DayRecord, Fact, quantity
from vatside.days.lots import paired
from vatside.dips.lot import dips_number
from vatside.plan.figure_text import two_digits
from vatside.plan.measures import fibre_of
from vatside.plan.plan import Lot
from vatside.plan.sheet import Sheet
from vatside.units import Kind, show_concentration, show_percent, to_base
from vatside.units.show import plain

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
class Rule:
    """What a difference of one fact does to a blue."""

    weight: Callable[[Fact, Fact], float]
    """1 is what just shows; more is likelier to be the reason."""
    more: str
    """What more of it does to the right one."""
    less: str = ""
    """What less of it does; empty where nothing is more or less."""
    darker: int = 0
    """1 if more of it makes the right one darker, -1 if paler, 0 if that depends."""


def _ratio(shows: float) -> Callable[[Fact, Fact], float]:
    """Weigh amounts by how many times one is the other."""
    return lambda left, right: how_far(left.value or 0.0, right.value or 0.0) / shows


def _gap(shows: float) -> Callable[[Fact, Fact], float]:
    """Weigh degrees and pH by what lies between them."""
    return lambda left, right: abs((right.value or 0.0) - (left.value or 0.0)) / shows


def _another(weight: float) -> Callable[[Fact, Fact], float]:
    """Weigh a fact that has no size, such as the fibre: the same weight for any difference."""
    return lambda _left, _right: weight


def how_far(one: float, other: float) -> float:
    """How far two amounts are apart, as the logarithm of their ratio; far, where one of them is nothing."""
    if one <= 0 or other <= 0:
        return 0.0 if one == other else 10.0
    return abs(log(other) - log(one))


_PH = Rule(_gap(SHOWS_PH), "higher: less uptake, deeper into the fibre", "lower: more colour for the dye", -1)
RULES: Mapping[str, Rule] = {
    "strength": Rule(
        _ratio(SHOWS_STRENGTH), "more dye in the vat: darker", "less dye in the vat: paler", 1
    ),
    "for_fibre": Rule(
        _ratio(SHOWS_FOR_FIBRE), "more dye for each gram: the last dips stay strong",
        "less dye for each gram: the vat runs out sooner", 1,
    ),
    "pH_read": _PH,
    "pH_worked": _PH,
    "celsius": Rule(
        _gap(SHOWS_CELSIUS), "warmer: quicker uptake, less even", "cooler: the reducer works less"
    ),
    "dips": Rule(_ratio(SHOWS_DIPS), "more dips: darker", "fewer dips: paler", 1),
    "dip": Rule(
        _ratio(SHOWS_AIR), "longer in the vat: somewhat darker", "shorter in the vat: somewhat paler", 1
    ),
    "air": Rule(
        _ratio(SHOWS_AIR), "longer in the air: more of it turned blue", "shorter in the air: less of it turned blue", 1
    ),
    "reducer": Rule(
        _ratio(SHOWS_REDUCER), "more reducer: more of the dye is reduced",
        "less reducer: some of the dye may not have been reduced", 1,
    ),
    "purity": Rule(_ratio(SHOWS_PURITY), "both were dosed by these: if one is wrong, so was its dose"),
    "pigment": Rule(
        _another(ANOTHER_LOT), "what its label says may not be so: dip two strips alike and note how it strikes"
    ),
    "fibre": Rule(_another(ANOTHER_FIBRE), "another fibre takes another blue"),
    "vat": Rule(_another(ANOTHER_VAT), "another vat dyes another blue"),
    "finish": Rule(_another(ANOTHER_FINISH), "sour and wash take loose blue off and shift the shade a little"),
}  # fmt: skip
"""By the fact that differs; among equals the first is the likelier reason."""


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


def reasons(left: DayRecord, right: DayRecord) -> tuple[Reason, ...]:
    """Give what differs between two days, the likeliest reason first.

    A pH is held against one of its kind: read ones where both vats were read, worked-out ones else.
    """
    ones, others = _facts(left, right)
    known = {key: rule for key, rule in RULES.items() if key in ones and key in others}
    if "pH_read" in known:
        known.pop("pH_worked", None)
    unlike = (
        _reason(rule, ones[key], others[key]) for key, rule in known.items() if ones[key].text != others[key].text
    )
    return tuple(sorted(unlike, key=lambda reason: -reason.weight))


def _facts(left: DayRecord, right: DayRecord) -> tuple[Mapping[str, Fact], Mapping[str, Fact]]:
    """Give what makes both blues, with the dips of the lots that stand for them."""
    one, other = chosen_pair(left, right)
    as_done = one.dips.as_done and other.dips.as_done
    how = ", as planned" if not as_done else ", so far" if one.dips.so_far or other.dips.so_far else ""
    return {**left.blue, **_of_lot(one, how)}, {**right.blue, **_of_lot(other, how)}


def _of_lot(blue: LotBlue, how: str) -> Mapping[str, Fact]:
    """Give the facts of one lot; dips that are none, and air that nobody timed, are no facts."""
    dips = blue.dips
    facts = [Fact("fibre", "Fibre", fibre_of(blue.lot).name)]
    if dips.number:
        facts += [
            quantity("dips", f"Dips{how}", dips.number, ""),
            quantity("dip", f"One dip{how}", dips.dip_min, "min"),
        ]
    if dips.number and dips.air_min:
        facts.append(quantity("air", "Time in the air", dips.air_min, "min"))
    return {fact.id: fact for fact in facts}


def _reason(rule: Rule, left: Fact, right: Fact) -> Reason:
    up = (right.value or 0.0) > (left.value or 0.0)
    says = rule.more if up or not rule.less else rule.less
    darker = rule.darker if up else -rule.darker
    return Reason(left.label, left.text, right.text, rule.weight(left, right), says, darker)


def chosen_pair(left: DayRecord, right: DayRecord) -> tuple[LotBlue, LotBlue]:
    """Give the lots that stand for the two days: of those beside each other that both were dipped, the heaviest.

    Whichever day stands on the left, it is the same two.
    """
    return min(lot_pairs(left, right), key=_rank)


def _rank(pair: tuple[LotBlue, LotBlue]) -> tuple[bool, float, list[str]]:
    dipped = all(blue.dips.as_done for blue in pair)
    grams = sum(to_base(blue.lot.mass, Kind.MASS) for blue in pair)
    return not dipped, -grams, sorted(blue.lot.name for blue in pair)


def lot_pairs(left: DayRecord, right: DayRecord) -> tuple[tuple[LotBlue, LotBlue], ...]:
    """Give the lots beside each other: by name, then by fibre, then as they come."""
    ones, others = ({blue.lot.id: blue for blue in day.lots} for day in (left, right))
    pairs = paired(left.plan.lots, right.plan.lots)
    return tuple((ones[one.id], others[other.id]) for one, other in pairs.both)


# What came out


def came_apart(left: DayRecord, right: DayRecord) -> int:
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


def _is_same(left: DayRecord, right: DayRecord) -> bool:
    """Tell whether the colour of every pair of lots was noted on both days, and none is darker."""
    pairs = tuple(lot_pairs(left, right))
    return bool(pairs) and all(_can_be_told(*pair) and not _darker(*pair) for pair in pairs)


def _can_be_told(one: LotBlue, other: LotBlue) -> bool:
    measured = one.lab is not None and other.lab is not None and fibre_of(one.lot) == fibre_of(other.lot)
    return measured or (one.depth is not None and other.depth is not None)


def _colour_lines(left: DayRecord, right: DayRecord) -> Iterator[str]:
    for one, other in lot_pairs(left, right):
        name = one.lot.name if one.lot.name == other.lot.name else f"{one.lot.name} → {other.lot.name}"
        parts = []
        if one.lab is not None and other.lab is not None:
            distance = delta_e_76(one.lab, other.lab)
            parts.append(f"colour distance {distance:.1f} (up to {SAME_BLUE:g} is the same blue)")
        if one.depth is not None and other.depth is not None:
            parts.append(
                f"{show_percent(two_digits(one.depth))} → {show_percent(two_digits(other.depth))} on the ladder"
            )
        way = {1: "the second is darker", -1: "the second is paler"}.get(_darker(one, other), "")
        if parts:
            yield f"{name}: {'; '.join([*parts, *([way] if way else [])])}"


def apart_lines(left: DayRecord, right: DayRecord) -> Iterator[str]:
    """Say how far two blues are apart and why, likeliest first; what would have done the opposite comes after.

    A day that was never dyed has no blue to explain: only what differs is said.
    """
    undyed = [f"“{plain(day.plan.title)}” has no dips and no colour" for day in (left, right) if not day.dyed]
    if undyed:
        who = undyed[0] if len(undyed) == 1 else "Neither day has dips or a colour"
        yield f"{who} written down: there is no blue to explain."
        yield from (f"  {reason.label}: {reason.left} → {reason.right}" for reason in reasons(left, right))
        return
    yield from _colour_lines(left, right)
    way = came_apart(left, right)
    ranked = reasons(left, right)
    likely = [reason for reason in ranked if reason.likely and reason.darker * way >= 0]
    against = [reason for reason in ranked if reason.likely and reason.darker * way < 0]
    because = "The same blue, though these differ:" if _is_same(left, right) else "Most likely because of:"
    yield because if likely else _nothing(way)
    for number, reason in enumerate(likely, start=1):
        yield f"  {number}. {_line(reason)}"
    if against:
        yield f"What would rather have made it {'paler' if way > 0 else 'darker'}:"
        yield from (f"  - {_line(reason)}" for reason in against)
    small = [f"{reason.label} {reason.left} → {reason.right}" for reason in ranked if not reason.likely]
    if small:
        yield f"Too small to be seen: {'; '.join(small)}"


def _nothing(way: int) -> str:
    if way:
        return "Nothing that was written down explains it: the water, the scour, or a reading that was not taken."
    return "Nothing differs by enough to be seen."


def _line(reason: Reason) -> str:
    return f"{reason.label}: {reason.left} → {reason.right}; {reason.says}"


Told = tuple[str, bool]
"""Words, and whether it differs by enough to be seen."""


def before_and_after(was: Sheet, now: Sheet, lots: tuple[Lot, ...], arrow: str = "→") -> Iterator[Told]:
    """Say what a vat comes to that is made again, beside what its plan came to, both as worked out."""
    one, other = was.value("vat.strength"), now.value("vat.strength")
    yield _told("Strength", show_concentration(one), show_concentration(other), arrow, _far(one, other, SHOWS_STRENGTH))
    one, other = was.value("vat.pH", 0.0), now.value("vat.pH", 0.0)
    if one and other:
        yield _told("pH", f"{one:.1f}", f"{other:.1f}", arrow, abs(other - one) >= SHOWS_PH)
    for lot in lots:
        one, other = (sheet.value(f"dip.{lot.id}.dips") for sheet in (was, now))
        after = dips_number(now, lot)
        before = dips_number(was, lot) if one != other else after  # `6` and `5 to 6` are planned alike
        yield _told(f"Dips of {lot.name}", before, after, arrow, _far(one, other, SHOWS_DIPS))


def _told(label: str, one: str, other: str, arrow: str, differs: bool) -> Told:
    return f"{label} {one} {arrow} {other}" if one != other else f"{label} {one}", differs


def _far(one: float, other: float, shows: float) -> bool:
    return how_far(one, other) >= shows
