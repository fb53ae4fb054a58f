"""How large a vat is made for its fibre, how much indigo goes into it, and in which of the dyer's tubs.

For *this fibre* the vat gets the indigo that the lots take and is spent at the end; *a working vat* is made as strong
as its depth is usually dipped in, and what is left is kept. The liquor follows from that strength and from what hangs
in the vat at once; the smallest tub is taken in which the dips are no more than is accepted and are done in the time
there is. What the dyer holds (tub, litres, powder) is honoured. Litres are with the fibre in, grams are indigotin.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from math import ceil, floor, sqrt

from attrs import evolve, field, frozen

from vatside.catalogue.dyeing import pauses, sizing, usual_for
from vatside.recipe import jar
from vatside.recipe.dip_item import DipLot, dip_lots, pieces_of
from vatside.recipe.dip_run import Piece, Run, run
from vatside.recipe.kept import in_tub
from vatside.recipe.measures import brim_litres, held, litres, method_of, powder, share
from vatside.recipe.plan import Dosing, Plan
from vatside.recipe.rests import Rests
from vatside.recipe.uptake import Tank
from vatside.units import Kind

SPENT_UP_TO = 3.0
"""Deeper than this (%) a vat that is spent at the end does not get: a judgement of our own."""
STEPS = 8
"""Halvings of a search on a logarithmic scale: to a hundredth, as near as such a guess is worth."""
QUARTER = 0.25
"""Litres go up to the next whole piece if they lack no more than this share of one: ours."""
NEAR = 1e-6
"""A strength that is short by less than this share is not short."""
FEWEST_LITRES = 0.1
"""No vat is smaller, whatever is held."""


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


@frozen
class Need:
    """What the lots ask of a vat, whatever the tub."""

    plan: Plan
    lots: tuple[DipLot, ...]
    indigo_yield: float
    """Share of a spent vat's dye that reaches the fibre."""
    ratio: float
    """Liquor ratio, L/kg."""
    strongest: float
    """g/L."""
    _pieces: dict[float, tuple[Piece, ...]] = field(init=False, factory=dict, eq=False, repr=False)
    """By the litres that they hang in: a search for a strength asks for the same ones again and again."""

    @property
    def kg(self) -> float:
        """Dry fibre."""
        return sum(item.grams for item in self.lots) / 1000

    @property
    def density(self) -> float:
        """Mean density of the fibre, kg/L."""
        room = sum(item.grams / item.fibre.density.value for item in self.lots) / 1000
        return self.kg / room if room else 1.0

    @property
    def heaviest(self) -> float:
        """Heaviest piece, kg."""
        return max((item.piece_kg for item in self.lots), default=0.0)

    @property
    def on_fibre(self) -> float:
        """Indigotin wanted on the fibre, g."""
        return sum(item.grams * item.depth / 100 for item in self.lots)

    @property
    def taken(self) -> float:
        """Indigotin that the dips take out of the vat for it: what the rinses take off again included, g."""
        return sum(item.grams * item.depth / 100 / (1 - item.law.rinsed) for item in self.lots)

    @property
    def strength(self) -> float:
        """Usual strength for the darkest lot, g/L."""
        return usual_for(max((item.depth for item in self.lots), default=0.0)).strength

    @property
    def weakest(self) -> float:
        """Weakest that is usual for the darkest lot, g/L: a small lot in the least litres would dip for ever else."""
        return usual_for(max((item.depth for item in self.lots), default=0.0)).weakest

    @property
    def most_usual(self) -> float:
        """Strongest that is usual for the darkest lot, g/L."""
        return usual_for(max((item.depth for item in self.lots), default=0.0)).strongest

    @property
    def least_fill(self) -> float:
        """So that the heaviest piece moves freely, L."""
        rules = sizing()
        return max(rules.least.value, rules.least_liquor.value * self.heaviest, self._kept_fill)

    @property
    def _kept_fill(self) -> float:
        """What stands in the tub already, with the fibre in."""
        return in_tub(self.plan).litres

    @property
    def hours(self) -> float:
        """Hours of dips that there is room for."""
        rules = sizing()
        return rules.class_hours.value if len(self.lots) >= rules.class_lots.value else rules.hours.value

    def entry(self, fill: float) -> float:
        """Fibre that a vat takes at once, g, as far as nobody holds it."""
        own = held(self.plan, "vat.entry", Kind.MASS)
        return min(1000 * self.kg, 1000 * fill / self.ratio) if own is None else own

    def liquor(self, fill: float) -> float:
        """Liquor beside the fibre that is in at once, L."""
        return max(fill - self.entry(fill) / 1000 / self.density, FEWEST_LITRES)

    def dips(self, fill: float, strength: float) -> Run:
        """Dip all lots in thought in a vat of so many litres and g/L."""
        return run(self._pieces_at(fill), Tank(self.liquor(fill), strength), handling=pauses().handling.value,
                   when=rests_of(self.plan))  # fmt: skip

    def _pieces_at(self, fill: float) -> tuple[Piece, ...]:
        if fill not in self._pieces:
            self._pieces[fill] = bundled([piece for item in self.lots for piece in pieces_of(item, self.entry(fill))])
        return self._pieces[fill]

    def accepts(self, made: Run, *, usual: bool = False) -> bool:
        """Tell whether every piece comes to its depth in the dips that are accepted, or `usual`."""
        most = {item.lot.id: item.usual.most_dips if usual else item.usual.accepted_dips for item in self.lots}
        return all(
            end.piece.exactly is not None or (end.deep and end.dips <= most[end.piece.id.rpartition(".")[0]])
            for end in made.ends
        )


MANY_PIECES = 60
"""More pieces than this are looked at in bundles that go in together: nothing but speed."""


def bundled(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """Put like pieces of a lot that go in together into one where there are a great many."""
    size = ceil(len(pieces) / MANY_PIECES)
    if size < 2:
        return tuple(pieces)
    found: list[Piece] = []
    for piece in pieces:
        last = found[-1] if found else None
        alike = last is not None and evolve(last, id="", kg=0, share=0) == evolve(piece, id="", kg=0, share=0)
        if alike and last and last.share + piece.share <= 1 and last.kg < (size - 0.5) * piece.kg:
            found[-1] = evolve(last, kg=last.kg + piece.kg, share=last.share + piece.share)
        else:
            found.append(piece)
    return tuple(found)


def rests_of(plan: Plan) -> Rests:
    """Give the plan's rests, with what is held."""
    rules = pauses()
    rows = (
        ("rest_after", rules.work, Kind.TIME), ("rest", rules.rest, Kind.TIME),
        ("entries", rules.entries, Kind.NUMBER), ("short_rest", rules.short_rest, Kind.TIME),
    )  # fmt: skip
    own = ((held(plan, f"dip.{name}", kind), fact.value) for name, fact, kind in rows)
    return Rests(*(usual if value is None else value for value, usual in own))


@lru_cache(maxsize=8)
def need_of(plan: Plan) -> Need:
    """Give what the lots of a plan ask of a vat: once for all the stages that want to know."""
    rules = method_of(plan).vat
    return Need(plan, dip_lots(plan), rules.yield_.value / 100, rules.liquor.value, rules.strength_limit.value)


def dosing_of(need: Need) -> Dosing:
    """Give the way of dosing: as chosen; else a working vat for a class, for two kinds of fibre, and for the darkest.

    A kept vat is a working one.
    """
    if need.plan.dosing is not None:
        return need.plan.dosing
    darkest = max((item.depth for item in need.lots), default=0.0)
    many = len(need.lots) >= sizing().class_lots.value or len({item.phase for item in need.lots}) > 1
    return Dosing.WORKING if many or need.plan.kept or darkest >= SPENT_UP_TO else Dosing.SPENT


def size_of(plan: Plan) -> Size:
    """Give the vat for a plan, what is held honoured."""
    return _sized(evolve(plan, title="", ready_by=None))


@lru_cache(maxsize=32)
def _sized(plan: Plan) -> Size:
    """Remembered: a key in a field that changes none of this asks again.

    The smallest tub is taken in which no more dips are needed than are accepted, in time, at a strength that is usual
    for the depth. Else the smallest in which that many dips do it with more indigo, if need be; else the one with the
    fewest dips.
    """
    need = need_of(plan)
    fills = [(brim, fill) for brim in tubs(need) if (fill := fill_of(need, brim)) is not None]
    plain: list[Size] = []
    for brim, fill in fills or [(tubs(need)[-1], room_of(need, tubs(need)[-1]))]:
        plain.append(size := made(need, brim, fill))
        if size.accepted and size.in_time and need.weakest * (1 - NEAR) <= size.strength <= need.most_usual:
            return size
    helped = [more for size in plain if (more := _helped(need, size)) is not None and more.strength <= need.most_usual]
    if helped:
        return helped[0]
    least = (more for size in plain if (more := _helped(need, size)) is not None)
    return next(least, None) or min(plain, key=lambda size: (not size.run.deep, size.run.dips, size.fill))


def _helped(need: Need, size: Size) -> Size | None:
    """Give the vat as it is if its dips are accepted, at the weakest that is usual at least; else with more indigo.

    A small lot in the least litres would be dipped longer than a larger one else. None where nothing helps.
    """
    if size.strength < need.weakest and not _is_held(need.plan):
        size = _size(need, size.tub, size.fill, need.weakest * size.liquor, size.needed)
    return size if size.accepted else stronger(need, size)


def _is_held(plan: Plan) -> bool:
    return any(pin.figure in HELD for pin in plan.pins)


def tubs(need: Need) -> tuple[float, ...]:
    """Give the brims of the dyer's tubs, smallest first; only the one that is held."""
    own = held(need.plan, "vat.tub", Kind.VOLUME)
    if own is not None:
        return (own,)
    vessels = need.plan.vessels
    return tuple(sorted({brim_litres(need.plan, vessels.tub), *(litres(need.plan, more) for more in vessels.others)}))


def room_of(need: Need, brim: float) -> float:
    """Give how far a tub is filled at most, L."""
    return brim * (1 - share(need.plan.vessels.tub.headspace))


def fill_of(need: Need, brim: float) -> float | None:
    """Give how far one tub is filled; None where it is too small for the heaviest piece, or for what is kept."""
    own, room = held(need.plan, "vat.fill", Kind.VOLUME), room_of(need, brim)
    if own is not None:
        return own if own <= brim or brim == tubs(need)[-1] else None
    if room < need.least_fill:
        return None
    return min(max(wanted_fill(need, dosing_of(need)), brim * sizing().half_full.value / 100), room)


def tub_for(need: Need) -> float:
    """Give the brim of a tub that would suit the fibre, L."""
    return wanted_fill(need, dosing_of(need)) / (1 - share(need.plan.vessels.tub.headspace))


def wanted_fill(need: Need, dosing: Dosing) -> float:
    """Give the litres that suit the fibre, whatever the tub."""
    if dosing is Dosing.SPENT:
        wanted = max(need.on_fibre / need.indigo_yield / need.strength, need.ratio * need.heaviest)
    else:
        wanted = max(need.ratio * _at_once_kg(need), 2 * need.taken / need.strength)
    return rounded(max(wanted, need.least_fill), need.ratio * need.heaviest)


def _at_once_kg(need: Need) -> float:
    """Fibre in the vat at once that keeps it busy while the rest airs; more at once saves no time, kg."""
    count = sum(item.lot.pieces for item in need.lots)
    darkest = max(need.lots, key=lambda item: item.depth, default=None)
    if darkest is None or not count:
        return 0.0
    groups = floor(darkest.air / (darkest.dip + pauses().handling.value) + 1e-9) + 1
    return ceil(count / groups) * need.kg / count


def rounded(fill: float, a_piece: float) -> float:
    """Round litres up to the next step, and on to the next whole piece if little is lacking."""
    step = sizing().step.value
    up = ceil(fill / step - 1e-9) * step
    whole = ceil(up / a_piece - 1e-9) * a_piece if a_piece > 0 else up
    return whole if whole - up <= QUARTER * a_piece else up


def made(need: Need, brim: float, fill: float) -> Size:
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
            grams = max(pigment.grams(pin.amount, plan.spoons) - jar.others_g(plan), 0.0)
            return grams * pigment.purity + there_g(plan)
    return None


def there_g(plan: Plan) -> float:
    """Give the indigotin that a vat has without new powder: in the tub, and of the kept stock, g."""
    if plan.stock_kept is None:
        return in_tub(plan).indigotin_g
    free = size_of(following(plan, "stock.pigment"))
    return in_tub(plan).indigotin_g + jar.in_jar(plan).grams_in(jar.brought_l(plan, free.indigotin, free.liquor))


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
