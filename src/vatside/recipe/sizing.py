"""How large a vat is made for its fibre, how much indigo goes into it, and in which of the dyer's tubs.

For *this fibre* the vat gets the indigo that the lots take and is spent at the end; *a working vat* is made as strong
as its depth is usually dipped in, and what is left is kept. The liquor follows from that strength and from what hangs
in the vat at once; the smallest tub is taken in which the dips are no more than is accepted and are done in the time
there is. What the dyer holds (tub, litres, powder) is honoured. Litres are with the fibre in, grams are indigotin.
"""

from __future__ import annotations

from functools import lru_cache
from math import sqrt

from attrs import evolve, frozen

from vatside.dips.run import Run
from vatside.plan.measures import powder
from vatside.plan.plan import Dosing, Plan
from vatside.recipe import kept
from vatside.recipe.kept import in_tub
from vatside.recipe.need import Need, dosing_of, fills_of, need_of, quick_fill, room_of, tubs

STEPS = 8
"""Halvings of a search on a logarithmic scale: to a hundredth, as near as such a guess is worth."""


HELD = ("vat.tub", "vat.fill", "stock.pigment")
"""What makes a vat that is not worked out for its fibre."""


@frozen
class Size:
    """A vat for its fibre."""

    tub: float
    """Brim of the tub, L."""
    fill: float
    """With the fibre in, L."""
    liquor: float
    """Without the room that it takes, L."""
    entry: float
    """Fibre that it takes at once, g."""
    indigotin: float
    """In it, what is kept there included, g."""
    needed: float
    """Of it what the dosing asks for without more for fewer dips, g."""
    dosing: Dosing
    run: Run
    """The dips as they go in it."""
    accepted: bool
    """No lot takes more dips than accepted, every piece comes to its depth, and the vat is not too strong."""
    in_time: bool

    @property
    def strength(self) -> float:
        """g/L."""
        return self.indigotin / self.liquor


def size_of(plan: Plan) -> Size:
    """Give the vat for a plan, what is held honoured."""
    return _sized(evolve(plan, title="", ready_by=None))


@lru_cache(maxsize=32)
def _sized(plan: Plan) -> Size:
    """Remembered: a key in a field that changes none of this asks again.

    The smallest tub is taken in which no more dips are needed than are accepted, with more indigo if need be, at a
    strength that is usual for the depth, and in which they take at most one dip longer than in a tub made for the
    fibre, in the time there is; else the quickest. So less cloth is not dipped longer because it just fits into a
    small tub.
    """
    need = need_of(plan)
    fills = [(brim, fill) for brim in tubs(need) for fill in fills_of(need, brim)]
    plain = [size_for(need, brim, fill) for brim, fill in fills or [(tubs(need)[-1], room_of(need, tubs(need)[-1]))]]
    helped = [more for size in plain if (more := _helped(need, size)) is not None]
    if not helped:
        return min(plain, key=lambda size: (not size.run.deep, size.run.dips, size.fill))
    modest = [size for size in helped if size.strength <= need.most_usual] or helped
    long = _ideal_minutes(need) + need.a_dip
    quick = [size for size in modest if size.run.minutes <= long]
    timely = [size for size in quick if size.in_time]
    return (timely or quick)[0] if quick else min(modest, key=lambda size: size.run.minutes)


def _ideal_minutes(need: Need) -> float:
    """Give how long the dips take in a tub that was made for them."""
    fill = quick_fill(need)
    ideal = size_for(need, fill, fill)
    return (_helped(need, ideal) or ideal).run.minutes


def _helped(need: Need, size: Size) -> Size | None:
    """Give the vat as it is if its dips are accepted, at the weakest that is usual at least; else with more indigo.

    A small lot in the least litres would be dipped longer than a larger one else. None where nothing helps.
    """
    if size.strength < need.weakest and not _is_held(need.plan):
        size = _size(need, size.tub, size.fill, need.weakest * size.liquor, size.needed)
    return size if size.accepted else stronger(need, size)


def _is_held(plan: Plan) -> bool:
    return any(pin.figure in HELD for pin in plan.pins)


def size_for(need: Need, brim: float, fill: float) -> Size:
    """Give the vat of so many litres with the indigo that is held, or else that the dosing asks for."""
    liquor, dosing, own = need.liquor(fill), dosing_of(need), _held_indigotin(need.plan)
    if dosing is Dosing.SPENT:
        needed = min(need.on_fibre / need.indigo_yield, need.strongest * liquor)
    else:
        needed = liquor * min(max(need.strength, 2 * need.taken / liquor), need.strongest) if need.on_fibre else 0.0
    return _size(need, brim, fill, needed if own is None else own, needed)


def stronger(need: Need, size: Size) -> Size | None:
    """Give the same vat with as much more indigo as the dips want; None if anything is held, or it helps nothing."""
    if not need.on_fibre or _is_held(need.plan):
        return None
    more = enough_for(need, size.fill, size.strength, usual=size.dosing is Dosing.WORKING)
    return None if more is None else _size(need, size.tub, size.fill, more * size.liquor, size.needed)


def _size(need: Need, brim: float, fill: float, indigotin: float, needed: float) -> Size:
    liquor = need.liquor(fill)
    dips = need.dips(fill, indigotin / liquor)
    return Size(
        brim, fill, liquor, need.entry(fill), indigotin, needed, dosing_of(need), dips,
        need.accepts(dips) and indigotin <= need.strongest * liquor * (1 + 1e-9), dips.minutes <= 60 * need.hours,
    )  # fmt: skip


def _held_indigotin(plan: Plan) -> float | None:
    """Indigotin in the vat where the dyer holds the powder, with what is kept; None where she does not, g."""
    pigment = powder(plan, "indigo")
    for pin in plan.pins:
        if pin.figure == "stock.pigment":
            grams = max(pigment.grams(pin.amount, plan.spoons) - kept.others_g(plan), 0.0)
            return grams * pigment.purity + there_g(plan)
    return None


def there_g(plan: Plan) -> float:
    """Give the indigotin that a vat has without new powder: in the tub, and of the kept stock, g."""
    if plan.stock_kept is None:
        return in_tub(plan).indigotin_g
    free = size_of(following(plan, "stock.pigment"))
    brought = kept.brought_l(plan, free.indigotin, free.liquor)
    return in_tub(plan).indigotin_g + kept.in_jar(plan).grams_in(brought)


def enough_for(need: Need, fill: float, strength: float, *, usual: bool = False) -> float | None:
    """Give the least strength (g/L) in which every lot takes no more dips than accepted, or `usual`; None if none."""
    if not need.accepts(need.dips(fill, need.strongest), usual=usual):
        return None
    low, high = min(strength, need.strongest), need.strongest
    for _ in range(STEPS):
        middle = sqrt(low * high)
        if need.accepts(need.dips(fill, middle), usual=usual):
            high = middle
        else:
            low = middle
    return high


def small_enough(need: Need, size: Size) -> float | None:
    """Give the most litres in which the same indigo takes no more than the usual dips; None if there are none."""
    low, high = need.least_fill, size.fill
    if low >= high or not need.accepts(need.dips(low, size.indigotin / need.liquor(low)), usual=True):
        return None
    for _ in range(STEPS):
        middle = sqrt(low * high)
        if need.accepts(need.dips(middle, size.indigotin / need.liquor(middle)), usual=True):
            low = middle
        else:
            high = middle
    return low


def following(plan: Plan, *figures: str) -> Plan:
    """Give the plan with some figures left to follow it."""
    return evolve(plan, pins=tuple(pin for pin in plan.pins if pin.figure not in figures))
