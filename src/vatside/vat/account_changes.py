"""What time and dips do to the account of a vat, and what each piece will come to by it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import inf

from attrs import evolve, frozen

from vatside.chemistry.ageing import Standing, round_surface_m2, saturation, wear
from vatside.chemistry.bath import Bath, aerate, at_temperature, changed, reduce, together
from vatside.chemistry.liquor import solve
from vatside.chemistry.rates import Estimate
from vatside.chemistry.substances import LYE, REDUCERS, moles, substance
from vatside.chemistry.tap import tap_bath
from vatside.dips.depth import WHAT_HELPS, WHAT_IS_LEFT, depth_name, is_pale
from vatside.dips.lot import law_for
from vatside.dips.own_results import MORE, OnPiece
from vatside.dips.uptake import Law, Tank, enter
from vatside.plan.grouping import gathered
from vatside.plan.measures import celsius, clean_grams
from vatside.plan.plan import Lot, Plan
from vatside.vat.account import Account, dipped, parted, reducer_g

PH_COUNTS_H = 1 / 3
"""From so many hours on the pH is worked out for how fast the reducer falls apart; before, that takes next to none."""
ALKALINE = 10.0
"""Stands in for it until then."""


@frozen
class Keeping:
    """How a vat stands while nobody does anything to it."""

    reducer: str
    """A substance."""
    per_minute: float
    """Newton's constant: the vat's own, or the usual one."""
    room: float
    """Degrees C."""
    lid: bool = False


@lru_cache(maxsize=4)
def aged(account: Account, hours: float, how: Keeping) -> Account:
    """Give a vat after so many hours [Newton] [Reactions].

    Its reducer falls apart and meets the air, see `vatside.chemistry.ageing.wear`, and turns to acid; air beyond that
    turns the dye blue again. Raises `OutOfRange` for less than no time. Remembered: several screens ask for one minute.
    """
    vat = Standing(
        account.litres, _pH(account.liquor, hours), account.celsius, how.room,
        how.per_minute, round_surface_m2(account.litres), how.lid,
    )  # fmt: skip
    t_C = vat.temperature(hours)
    if how.reducer not in REDUCERS:
        return evolve(account, bath=at_temperature(account.bath, t_C))
    worn = wear(how.reducer, Estimate(*reducer_between(account, how.reducer)), hours, vat)
    likely = worn.left.likely
    bath = reduce(with_reducer(account.bath, how.reducer, likely), worn.spare_mg)
    return evolve(
        account,
        bath=at_temperature(bath, t_C),
        less_g=likely - min(worn.left.low, likely),
        more_g=max(worn.left.high, likely) - likely,
    )


def _pH(bath: Bath, hours: float) -> float:
    return min(max(solve(bath).pH, 0.0), 14.0) if hours > PH_COUNTS_H else ALKALINE


def reducer_between(account: Account, name: str) -> tuple[float, float, float]:
    """Give the least, the likely and the most of a reducer that is left, pure g."""
    likely = reducer_g(account, name)
    return max(likely - account.less_g, 0.0), likely, likely + account.more_g


def seen_blue(account: Account, name: str) -> Account:
    """Give an account whose liquor and strip were read blue: no more of its reducer is left than the least [Reactions].

    Of one that air spends and that does not turn to acid by itself; others reduce slowly, and may be blue with much.
    """
    if name not in REDUCERS or REDUCERS[name].sours or not REDUCERS[name].air_spends:
        return account
    least = reducer_between(account, name)[0]
    return evolve(account, bath=with_reducer(account.bath, name, least), less_g=least, more_g=0.0)


def ends(account: Account, name: str) -> tuple[Account, Account]:
    """Give the account with the least and with the most reducer that it may hold."""
    if name not in REDUCERS:
        return account, account
    low, _, high = reducer_between(account, name)
    least, most = (with_reducer(account.bath, name, grams) for grams in (low, high))
    return evolve(account, bath=least), evolve(account, bath=most)


def pH_between(account: Account, name: str) -> Estimate:
    """Give the pH of a vat at its temperature, by all that its account leaves open.

    The least, the likely and the most of a reducer that may be left; the alkali that a reading taken as true leaves
    unsure; chalk settled or not [Chalk]. Raises `OutOfRange` for a liquor that the chemistry does not know.
    """
    bath = account.liquor
    likely = solve(bath).pH
    values = [likely, *(solve(end.liquor).pH for end in ends(account, name))]
    less, more = account.unsure_g
    values += [solve(_with_lye(bath, grams)).pH for grams in (-less, more) if grams]
    if bath.calcium and bath.carbonate:
        values.append(solve(_with_lye(bath, account.chalk_g), chalk=True).pH)
    return Estimate(min(values), likely, max(values))


def _with_lye(bath: Bath, grams: float) -> Bath:
    """Give a bath with so much more lye, or with acid that binds it."""
    lye = moles(LYE, abs(grams))
    return changed(bath, (("sodium" if grams > 0 else "strong_anions", lye),))


def with_reducer(bath: Bath, name: str, grams: float) -> Bath:
    """Give a bath in which so many grams of a reducer are left: the rest is spent, or what was spent is there again.

    It ends as sulfite, as long as some is left, as the acids of sugar and starch, or as what it takes of the lime there
    is; no more comes back than its products tell of [Reactions].
    """
    kind = REDUCERS[name]
    products = kind.becomes("closed" if kind.sours else "sulfite")
    gone = getattr(bath, kind.total) - moles(name, max(grams, 0.0))
    there = {total: getattr(bath, total) for total, _ in products}
    gone = max(gone, -min((there[total] / count for total, count in products if count > 0), default=inf))
    changes = {total: max(there[total] + count * gone, 0.0) for total, count in products}
    return evolve(bath, **{kind.total: getattr(bath, kind.total) - gone}, **changes)


LEAST_LITRES = 1e-6
"""A piece that carries less than this carries nothing."""
MOST_OF_VAT = 0.95
"""No piece carries more of the vat away than this share."""


def dip(
    account: Account, piece: OnPiece, law: Law, grams: float, room_C: float, own: float = 1.0
) -> tuple[Account, OnPiece]:
    """Dip a piece (dry mass in g) once: give the account of the vat and the piece after it.

    `own` is the dyer's own factor in the law. Indigotin in the vat and on the piece together stay the same. Raises
    `OutOfRange` for temperatures of no water.
    """
    kg = grams / 1000
    brought = max(law.carried * kg, LEAST_LITRES)
    mixed = _mixed(account.bath, piece.liquor or tap_bath(brought, room_C, account.tap), brought, room_C)
    full = evolve(account, bath=mixed)
    tank = tank_of(full)
    laid = _laid(tank, law, kg, piece.stays)
    after = evolve(mixed, leuco=max(mixed.leuco - laid / _mass(), 0.0))
    share = min(brought / full.litres, MOST_OF_VAT)
    stays, leaves = parted(evolve(account, bath=after), share)
    stays = evolve(stays, leuco=after.leuco)  # its dye is counted on the piece already
    table = law.times(1 / own)
    new = OnPiece(
        laid=piece.laid + laid,
        rinsed=law.rinsed,
        specks=piece.specks + leaves.indigotin * _mass(),
        by_table=piece.by_table + _laid(tank, table, kg, piece.by_table * (1 - law.rinsed)),
        by_more=piece.by_more + _laid(tank, table.times(MORE), kg, piece.by_more * (1 - law.rinsed)),
        liquor=at_temperature(evolve(aerate(leaves), leuco=0.0, indigotin=0.0), room_C),
    )
    return evolve(account, bath=stays, asleep=False), new  # who dips in it has seen it live


def _laid(tank: Tank, law: Law, kg: float, stays_g: float) -> float:
    """Give grams laid on a piece that has so many on it."""
    return enter(tank, [(law, kg, stays_g / kg)]).laid[0] * kg if kg > 0 else 0.0


def _mixed(bath: Bath, brought: Bath, litres: float, room_C: float) -> Bath:
    """Mix in what the piece brings, and let the reducer use up its oxygen [BensonKrause1984] [Reactions]."""
    return reduce(together(bath, brought), litres * saturation(room_C))


def _mass() -> float:
    return substance("indigotin").molar_mass


def after_dip(account: Account, plan: Plan, lot: Lot, pieces: int, minutes: float) -> Account:
    """Give the account after some pieces of a lot were dipped once, for so many minutes each.

    Wet pieces bring water of the room's temperature, with its air, and carry as much liquor out; the dye they take is
    `vatside.dips.uptake`'s, as of pieces that have none yet. Raises `OutOfRange` if they would carry all of it out.
    """
    kg = clean_grams(plan, lot) / max(lot.pieces, 1) / 1000 * pieces
    law = law_for(plan, lot, minutes)
    tank = tank_of(account)
    after, water = enter(tank, [(law, kg, 0.0)]).tank, law.carried * kg
    taken = max(tank.grams - after.grams - water * after.strength, 0.0)
    return dipped(account, taken, water, water, celsius(plan.water.room))


@frozen
class Forecast:
    """What a piece will come to."""

    piece: str
    name: str
    reaches: float
    """%."""
    wants: float
    """%."""
    dips: int
    """How many more that takes."""

    @property
    def pale(self) -> bool:
        """It comes out visibly paler than wanted."""
        return is_pale(self.reaches, self.wants)


def tank_of(account: Account) -> Tank:
    """Give the vat as litres and strength of what is reduced."""
    return Tank(account.litres, account.reduced_g / account.litres)


def pale_warnings(forecasts: Sequence[Forecast], strength: float) -> tuple[str, ...]:
    """Name the pieces that will miss their own depth, with what can still be done; those whose dips are over apart.

    `strength` is what the vat holds, g/L. Empty if no piece comes out pale.
    """
    pale = [item for item in forecasts if item.pale]
    coming = f": {strength:.2g} g/L is left. {WHAT_HELPS}"
    parted = ((True, "will come out", coming), (False, "will stay", f". {WHAT_IS_LEFT}"))
    return tuple(
        f"{_miss(group, verb)}{advice}"
        for to_come, verb, advice in parted
        if (group := [item for item in pale if bool(item.dips) is to_come])
    )


def _miss(pale: Iterable[Forecast], verb: str) -> str:
    """Say of pieces what they come to in place of what was wanted, like with like."""
    alike = gathered(((depth_name(item.reaches), depth_name(item.wants)), item) for item in pale)
    parts = [(_named(forecasts), _instead(names, forecasts[0])) for names, forecasts in alike.items()]
    (name, words), *others = parts
    return "; ".join((f"{name} {verb} {words}", *(f"{name} {words}" for name, words in others)))


def _named(pieces: Sequence[Forecast]) -> str:
    return pieces[0].name + (f" and {len(pieces) - 1} more" if len(pieces) > 1 else "")


def _instead(names: tuple[str, str], first: Forecast) -> str:
    comes, wanted = names
    about = f"about {first.reaches:.2g} %"
    return f"{comes} ({about}), not {wanted}" if comes != wanted else f"paler ({about}) than the {wanted} wanted"
