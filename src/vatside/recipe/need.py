"""What the lots of a plan ask of a vat, whatever the tub: litres and strength that suit them, time, and the tubs.

Litres are with the fibre in, grams are indigotin.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property, lru_cache
from math import ceil, floor

from attrs import evolve, field, frozen

from vatside.catalogue.dyeing import Usual, pauses, sizing, usual_for
from vatside.dips.entry_rule import Rests
from vatside.dips.lot import DipLot, dip_lots, pieces_of
from vatside.dips.run import Piece, Run, run
from vatside.dips.uptake import Tank
from vatside.plan.measures import brim_litres, held, litres, method_of, share
from vatside.plan.plan import Dosing, Plan
from vatside.recipe.kept import in_tub
from vatside.units import Kind

SPENT_UP_TO = 3.0
"""Deeper than this (%) a vat that is spent at the end does not get: a judgement of our own."""
QUARTER = 0.25
"""Litres go up to the next whole piece if they lack no more than this share of one: ours."""
FEWEST_LITRES = 0.1
"""No vat is smaller, whatever is held."""


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

    @cached_property
    def kg(self) -> float:
        """Dry fibre."""
        return sum(item.grams for item in self.lots) / 1000

    @cached_property
    def density(self) -> float:
        """Mean density of the fibre, kg/L."""
        room = sum(item.grams / item.fibre.density.value for item in self.lots) / 1000
        return self.kg / room if room else 1.0

    @cached_property
    def heaviest(self) -> float:
        """Heaviest piece, kg."""
        return max((item.piece_kg for item in self.lots), default=0.0)

    @cached_property
    def on_fibre(self) -> float:
        """Indigotin wanted on the fibre, g."""
        return sum(item.grams * item.depth / 100 for item in self.lots)

    @cached_property
    def taken(self) -> float:
        """Indigotin that the dips take out of the vat for it: what the rinses take off again included, g."""
        return sum(item.grams * item.depth / 100 / (1 - item.law.rinsed) for item in self.lots)

    @cached_property
    def count(self) -> int:
        """Pieces of all lots."""
        return sum(item.lot.pieces for item in self.lots)

    @cached_property
    def _usual(self) -> Usual:
        return usual_for(max((item.depth for item in self.lots), default=0.0))

    @property
    def strength(self) -> float:
        """Usual strength for the darkest lot, g/L."""
        return self._usual.strength

    @cached_property
    def weakest(self) -> float:
        """Weakest that is usual for the darkest lot, g/L: a small lot in the least litres would dip for ever else."""
        return self._usual.weakest

    @cached_property
    def most_usual(self) -> float:
        """Strongest that is usual for the darkest lot, g/L."""
        return self._usual.strongest

    @cached_property
    def least_fill(self) -> float:
        """So that the heaviest piece moves freely, L."""
        rules = sizing()
        return max(rules.least.value, rules.least_liquor.value * self.heaviest, self._kept_fill)

    @cached_property
    def _kept_fill(self) -> float:
        """What stands in the tub already, with the fibre in."""
        return in_tub(self.plan).litres

    @cached_property
    def hours(self) -> float:
        """Hours of dips that there is room for."""
        rules = sizing()
        return rules.class_hours.value if len(self.lots) >= rules.class_lots.value else rules.hours.value

    @property
    def a_dip(self) -> float:
        """Minutes that one dip more takes of the darkest lot: in, out and aired."""
        darkest = max(self.lots, key=lambda item: item.depth, default=None)
        return darkest.dip + darkest.air + pauses().handling.value if darkest else 0.0

    def entry(self, fill: float) -> float:
        """Fibre that a vat takes at once, g, as far as nobody holds it."""
        own = held(self.plan, "vat.entry", Kind.MASS)
        return min(1000 * self.kg, 1000 * whole_pieces(fill / self.ratio, self.heaviest)) if own is None else own

    def liquor(self, fill: float) -> float:
        """Liquor beside the fibre that is in at once, L."""
        return max(fill - self.entry(fill) / 1000 / self.density, FEWEST_LITRES)

    def dips(self, fill: float, strength: float) -> Run:
        """Dip all lots in thought in a vat of so many litres and g/L."""
        tank = Tank(self.liquor(fill), strength)
        return run(self._pieces_at(fill), tank, handling=pauses().handling.value, when=rests_of(self.plan))

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
    bundles: list[Piece] = []
    for piece in pieces:
        last = bundles[-1] if bundles else None
        alike = last is not None and _likeness(last) == _likeness(piece)
        if alike and last and last.share + piece.share <= 1 and last.kg < (size - 0.5) * piece.kg:
            bundles[-1] = evolve(last, kg=last.kg + piece.kg, share=last.share + piece.share)
        else:
            bundles.append(piece)
    return tuple(bundles)


def _likeness(piece: Piece) -> tuple[object, ...]:
    """Give all of a piece but its name, its mass and its share."""
    return (
        piece.phase, piece.dip, piece.air, piece.wants, piece.has, piece.had, piece.exactly, piece.least, piece.most,
        piece.law,
    )  # fmt: skip


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
    return Need(plan, dip_lots(plan), rules.yield_.value / 100, rules.ratio, rules.strength_limit.value)


def dosing_of(need: Need) -> Dosing:
    """Give the way of dosing: as chosen; else a working vat for a class, for two kinds of fibre, and for the darkest.

    A kept vat is a working one.
    """
    if need.plan.dosing is not None:
        return need.plan.dosing
    darkest = max((item.depth for item in need.lots), default=0.0)
    many = len(need.lots) >= sizing().class_lots.value or len({item.phase for item in need.lots}) > 1
    return Dosing.WORKING if many or need.plan.kept or darkest >= SPENT_UP_TO else Dosing.SPENT


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


def fills_of(need: Need, brim: float) -> tuple[float, ...]:
    """Give how far one tub may be filled, least first; none where it is too small for the heaviest piece, or the kept.

    As much as suits the dye; and as much as takes half of the pieces at once, unless the powder is held for its litres.
    """
    own, room = held(need.plan, "vat.fill", Kind.VOLUME), room_of(need, brim)
    if own is not None:
        return (own,) if own <= brim or brim == tubs(need)[-1] else ()
    if room < need.least_fill:
        return ()
    half, wanted = brim * sizing().half_full.value / 100, {wanted_fill(need, dosing_of(need))}
    if not any(pin.figure == "stock.pigment" for pin in need.plan.pins):
        wanted.add(quick_fill(need))
    return tuple(sorted({min(max(fill, half), room) for fill in wanted}))


def quick_fill(need: Need) -> float:
    """Give the litres that take half of the pieces at once: more saves no time, fewer want more rests."""
    half = ceil(need.count / 2) * need.kg / need.count if need.count else 0.0
    busy = rounded(need.ratio * half, need.ratio * need.heaviest)
    return max(wanted_fill(need, dosing_of(need)), busy)


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
    darkest = max(need.lots, key=lambda item: item.depth, default=None)
    if darkest is None or not need.count:
        return 0.0
    groups = floor(darkest.air / (darkest.dip + pauses().handling.value) + 1e-9) + 1
    return ceil(need.count / groups) * need.kg / need.count


def rounded(fill: float, a_piece: float) -> float:
    """Round litres up to the next step, and on to the next whole piece if little is lacking."""
    step = sizing().step.value
    return whole_pieces(ceil(fill / step - 1e-9) * step, a_piece)


def whole_pieces(room: float, a_piece: float) -> float:
    """Round up to a whole number of pieces if little is lacking."""
    whole = ceil(room / a_piece - 1e-9) * a_piece if a_piece > 0 else room
    return whole if whole - room <= QUARTER * a_piece else room
