"""Every figure of the starter plan in plain floats: the arithmetic alone, to hold the sheet's machinery against.

The plan is the calm starter's, six linen napkins, but for its water: rain, in which the charge balance needs neither
carbonate nor calcium. What a sheet spends on the waters that an unknown tap may bring is so on neither side.
"""

from __future__ import annotations

from math import ceil, exp

from tests.bench.plain_dips import DEPTH, PIECES, Dips, Taking
from tests.bench.plain_liquor import Liquor
from tests.bench.plain_size import Vat, vat_for
from tests.bench.plain_water import COLD, HOT, ROOM, density, draw, heating, lye_rise, oxygen

from vatside.catalogue import dyeing
from vatside.catalogue.load import fibres, materials, methods, scours
from vatside.chemistry.tap import PURE
from vatside.recipe.stages.sour import a_litre_takes

Figures = dict[str, float]

NAOH, TDO, INDIGOTIN, OXYGEN, ACETIC = 39.9971, 108.1195, 262.2635, 31.9988, 60.0521
"""g/mol."""


class Facts:
    """What the catalogue says about the starter plan, looked up once and for all."""

    def __init__(self) -> None:
        method, known = methods()["tdo-lye"], materials()
        self.linen, self.stock, self.vat, self.keeps = fibres()["linen"], method.stock, method.vat, method.keeps_days
        self.scour = scours()[self.linen.scour]
        per_kg, per_litre = (agent.per_kg or agent.per_litre for agent in self.scour.agents)
        self.soda, self.detergent = per_kg.value if per_kg else 0.0, per_litre.value if per_litre else 0.0
        purities = (known[key].purity.value / 100 for key in (method.indigo, method.alkali, method.reducer))
        self.indigo, self.lye, self.tdo = purities
        self.vinegar, self.citric = known["vinegar"].purity.value / 100, known["citric-acid"].purity.value / 100
        self.taking = Taking(self.linen, self.vat.warmth)
        self.finish, self.ending = dyeing.finishes()["cellulose"], dyeing.ending()
        # What a litre of her water takes is worked out once for all sheets, on either side.
        sour = (PURE, ROOM, self.finish.sour_pH.value)
        self.sour_vinegar, self.sour_citric = (a_litre_takes(*sour, acid) for acid in ("vinegar", "citric acid"))
        feed = known["thiourea-dioxide"].feed
        self.feed = feed.value if feed else 0.0


def figures(grams: float, facts: Facts) -> Figures:
    """Work out the starter plan's sheet for a mass of linen, g."""
    f: Figures = {}
    _scour(f, grams, facts)
    size = vat_for(f["scour.linen.dry_mass"], facts.linen, facts.vat, facts.taking)
    _stock(f, size, facts)
    _vat(f, size, facts)
    _liquor(f, facts)
    _dip(f, facts)
    _finish(f, facts)
    return f


def _drawn(f: Figures, prefix: str, litres: float, t: float) -> None:
    f[f"{prefix}hot"], f[f"{prefix}cold"], kettle = draw(litres, t)
    if t > HOT + 0.5:
        f[f"{prefix}kettle"] = kettle


def _scour(f: Figures, grams: float, facts: Facts) -> None:
    s, linen, p = facts.scour, facts.linen, "scour.linen."
    f[p + "liquor"] = liquor = grams / 1000 * s.liquor.value
    f[p + "load_water"] = water = 10 * 0.75
    room = (10 * 0.95 - water) * linen.density.value * 1000
    f[p + "loads"] = loads = max(ceil(round(liquor / water, 6)), ceil(round(grams / room, 6)), 1)
    f[p + "level"] = 100 * (water + grams / loads / linen.density.value / 1000) / 10
    f[p + "soak"], f[p + "soak_water"] = s.soak.value, liquor
    f[p + "hold_temperature"] = hold = s.hold.value
    f[p + "ceiling"] = s.ceiling.value
    f[p + "start"] = start = max(min(HOT, hold), COLD)
    _drawn(f, p, water, start)
    _drawn(f, p + "again_", water, hold)
    f[p + "heating"] = heating(water, start, hold, grams / 1000 / f[p + "loads"] * (facts.linen.held.value / 100 + 0.3))
    f[p + "hold"], f[p + "stir_every"], f[p + "turn"] = s.minutes.value, s.stir_every, s.minutes.value / 2
    f[p + "baths"] = loads * s.baths
    f[p + "soda-ash"], f[p + "detergent"] = facts.soda * grams / loads / 1000, facts.detergent * water
    f[p + "rinses"] = s.rinses
    f[p + "rinse_water"] = water * s.rinses * loads
    f[p + "rinse_temperature"] = first = max(min(hold, HOT), hold - linen.step.value)
    _drawn(f, p + "rinse_", water, first)
    f[p + "steps_down"] = max(ceil(round((first - ROOM) / linen.step.value, 6)), 0)
    f[p + "cool"] = s.cool.value
    f[p + "dry_mass"] = dry = grams * (1 - s.loss.value / 100)
    f[p + "wet_mass"] = dry * (1 + linen.held.value / 100)


def _stock(f: Figures, size: Vat, facts: Facts) -> None:
    r, limit = facts.stock, facts.stock.pigment_limit
    f["stock.wanted"], f["stock.others"] = size.indigotin, 0.0
    f["stock.pigment"] = pigment = size.indigotin / facts.indigo
    f["stock.indigotin"] = indigotin = pigment * facts.indigo
    f["stock.owf"] = 100 * pigment / f["scour.linen.dry_mass"]
    f["stock.jars"] = jars = max(ceil(round(pigment / limit.value, 6)), 1)
    steps = ceil(round(max(pigment / (limit.low or limit.value), 0.2) / 0.05, 6))
    f["stock.water"] = water = min(steps * 0.05, jars * 1.0)
    f["stock.strength"] = indigotin / water
    reducer = max(r.reducer_per_litre.value * water, r.reducer_per_gram.value * indigotin, indigotin * TDO / INDIGOTIN)
    f["stock.reducer"] = reducer / facts.tdo
    to_the_end = (indigotin / INDIGOTIN + 2 * reducer / TDO) * NAOH + 0.4 * water
    alkali = max(r.alkali_per_litre.value * water, r.alkali_per_gram.value * indigotin, to_the_end)
    f["stock.alkali"] = alkali / facts.lye
    warmest = r.ceiling.value
    for _ in range(3):
        warmest = r.ceiling.value - lye_rise(alkali, water, warmest)
    f["stock.warmest"] = warmest
    f["stock.start"] = start = max(min(r.temperature.value, warmest), COLD)
    f["stock.jug"] = jug = min(max(round(f["stock.alkali"] * 0.02 / 0.05) * 0.05, 0.05), water / 2)
    f["stock.rise"] = lye_rise(alkali, jug, COLD)
    _drawn(f, "stock.", water - jug, start)
    f["stock.bath"], f["stock.bath_temperature"] = r.warm_bath.value * water, r.temperature.value
    _drawn(f, "stock.bath_", f["stock.bath"], r.temperature.value)
    f["stock.stir"], f["stock.hold"], f["stock.look_every"] = r.stir.value, r.hold.value, r.look_every.value


def _vat(f: Figures, size: Vat, facts: Facts) -> None:
    r, lye, tdo, dry = facts.vat, facts.lye, facts.tdo, f["scour.linen.dry_mass"]
    f["vat.tub"], f["vat.fill"], f["vat.entry"], f["vat.entries"] = size.tub, size.fill, size.entry, size.groups
    f["vat.displaced"] = size.displaced
    f["vat.liquor"] = liquor = max(size.fill - size.displaced, 0.1)
    f["vat.stock"] = stock = min(f["stock.water"], liquor)
    f["vat.water"] = water = liquor - stock
    f["vat.temperature"] = warm = r.warmth.cellulose.value
    _drawn(f, "vat.", water, warm)
    f["vat.oxygen"] = air = (oxygen(HOT) * f["vat.hot"] + oxygen(COLD) * f["vat.cold"]) / 1000
    f["vat.reducer"] = max(r.reducer_per_litre.value * liquor, air * TDO / OXYGEN) / tdo
    share = stock / f["stock.water"]
    f["vat.indigotin"] = indigotin = f["stock.indigotin"] * share
    f["vat.strength"] = indigotin / liquor
    mass, brought, leuco, sulfur = _moles(f, facts)
    for_life = Liquor(0.0, 0.0, sulfur / mass, leuco / mass, warm).sodium_for(facts.linen.window.low + 0.1) * mass
    f["vat.alkali"] = alkali = max(for_life - brought, 0.0) * NAOH / lye
    used = indigotin * 3 * NAOH / INDIGOTIN + air * 2 * NAOH / OXYGEN
    f["vat.alkali_left"] = left = (f["stock.alkali"] * share + alkali) * lye - used
    f["vat.alkali_strength"] = left / liquor
    f["vat.dyes.a"] = dry * indigotin * r.yield_.value / 100 / (dry * DEPTH / 100)
    f["vat.sharpen"], f["vat.rest"] = r.sharpen.value, r.rest.value
    then = ROOM + (warm - ROOM) * exp(-0.17 / 60 * (20 / liquor) ** (1 / 3) * r.rest.value)
    if then <= (r.warmth.cellulose.low or 0.0) - 0.5:
        f["vat.by_then"], f["vat.warm_up"] = then, heating(liquor, then, warm, 0.0)


def _moles(f: Figures, facts: Facts) -> tuple[float, float, float, float]:
    """Give the vat's kilograms of water, and moles: sodium of the stock, leuco-indigo, sulfur in all its forms."""
    share = f["vat.stock"] / f["stock.water"]
    mass = (f["vat.water"] * density(f["vat.temperature"]) + f["vat.stock"] * density(f["stock.start"])) / 1000
    reducer = (f["vat.reducer"] + share * f["stock.reducer"]) * facts.tdo / TDO
    return mass, share * f["stock.alkali"] * facts.lye / NAOH, share * f["stock.indigotin"] / INDIGOTIN, reducer


def _liquor(f: Figures, facts: Facts) -> None:
    warm, start, window = f["vat.temperature"], f["stock.start"], facts.linen.window
    kg, air = f["stock.water"] * density(start) / 1000, f["stock.water"] * oxygen(start) / 1000 / OXYGEN
    sodium, leuco = f["stock.alkali"] * facts.lye / NAOH, f["stock.indigotin"] / INDIGOTIN
    _pH(f, "stock.", (sodium / kg, leuco / kg, air / kg, leuco / kg), f["stock.reducer"] * facts.tdo / TDO / kg, start)
    share = f["vat.stock"] / f["stock.water"]
    mass, brought, leuco, sulfur = _moles(f, facts)
    air, sodium = f["vat.oxygen"] / OXYGEN + share * air, brought + f["vat.alkali"] * facts.lye / NAOH
    _pH(f, "vat.", (sodium / mass, leuco / mass, air / mass, leuco / mass), sulfur / mass, warm)
    mono = 10 ** (f["vat.pH"] - 7.97)
    di = mono * 10 ** (f["vat.pH"] - 12.68)
    f["vat.leuco_acid"], f["vat.leuco_di"] = round(100 / (1 + mono + di)), round(100 * di / (1 + mono + di))
    f["vat.leuco_mono"] = 100 - f["vat.leuco_acid"] - f["vat.leuco_di"]
    f["vat.window_low"], f["vat.window_high"] = window.low, window.high


def _pH(f: Figures, prefix: str, fresh: tuple[float, float, float, float], sulfur: float, t: float) -> None:
    """A liquor fresh, cooled, and once all its reducer has become sulfate."""
    f[f"{prefix}pH"], f[f"{prefix}pH_25"] = Liquor(*fresh, t).pH(), Liquor(*fresh, 25.0).pH()
    f[f"{prefix}pH_spent"] = Liquor(fresh[0], 0.0, sulfur, fresh[3], t).pH()


def _dip(f: Figures, facts: Facts) -> None:
    taking, dry, warm = facts.taking, f["scour.linen.dry_mass"], f["vat.temperature"]
    p, litres, strength, each = taking.pauses, f["vat.liquor"], f["vat.strength"], dry / PIECES
    f["dip.rest_after"], f["dip.rest"] = p.work.value, p.rest.value
    f["dip.entries"], f["dip.short_rest"] = p.entries.value, p.short_rest.value
    f["dip.a.dip"], f["dip.a.air"], f["dip.a.piece"] = taking.usual.dip, taking.air, each
    f["dip.a.at_once"] = min(max(int(f["vat.entry"] / each + 1e-6), 1), PIECES)
    f["dip.a.carried"], f["dip.a.factor"] = taking.carried, 100.0
    kg, share = each / 1000, min(each / f["vat.entry"], 1.0)
    made = Dips(taking, kg, share, litres, strength, start=warm)
    less, more = (Dips(taking, kg, share, litres, strength, exp(wide)) for wide in (-taking.wide, taking.wide))
    f["dip.a.first"], f["dip.a.reaches"] = made.first / 10, sum(made.on) / PIECES / 10
    f["dip.a.dips"] = max(made.dips)
    f["dip.a.dips_low"], f["dip.a.dips_high"] = min(*made.dips, *more.dips), max(*made.dips, *less.dips)
    f["dip.all_entries"], f["dip.minutes"], f["dip.hands"] = made.count, made.minutes, p.hands.value * made.count
    f["dip.brought"] = brought = taking.carried * kg * sum(made.dips)
    f["dip.oxygen"] = brought * oxygen(ROOM) / 1000
    f["dip.reducer"] = f["dip.oxygen"] * TDO / OXYGEN / facts.tdo
    f["dip.cools"] = warm - made.coolest
    if made.warm_by:
        f["dip.warm_after"], f["dip.warm_by"], f["dip.warm_hob"] = made.warm_after, made.warm_by, made.warm_hob
        f["dip.warm_kettle"] = litres * made.warm_by / (95 - made.warm_from)
    f["dip.on_fibre"], f["dip.rinsed"] = kg * sum(made.on), made.rinsed
    f["dip.kept"], f["dip.left_strength"] = made.strength * litres, made.strength


def _finish(f: Figures, facts: Facts) -> None:
    s, dry, p = facts.finish, f["scour.linen.dry_mass"], "finish.linen."
    f[p + "last_air"] = s.last_air.value
    f[p + "water"] = water = dry / 1000 * s.liquor.value
    f[p + "rinses"], f[p + "rinse_temperature"] = s.rinses.value, ROOM
    f[p + "vinegar"] = water * facts.sour_vinegar / 1000 * 5 / (100 * facts.vinegar)
    f[p + "citric"] = water * facts.sour_citric / facts.citric
    f[p + "sour"] = s.sour.value
    f[p + "sour_pH"] = s.sour_pH.value
    f[p + "wash"] = wash = s.wash.value
    f[p + "wash_start"] = start = max(min(HOT, wash), COLD)
    f[p + "detergent"] = soap = water * s.detergent.value
    f[p + "wash_minutes"], f[p + "last_rinses"], f[p + "dry"] = (
        s.wash_minutes.value, s.last_rinses.value, s.dry.value * 60,
    )  # fmt: skip
    parts = max(ceil(round((water + dry / facts.linen.density.value / 1000) / (10 * 0.95), 6)), 1)
    _drawn(f, p + "wash_", water / parts, start)
    wet = dry / parts / 1000 * (facts.linen.held.value / 100 + 0.3)
    f[p + "heating"] = heats = heating(water / parts, start, wash, wet)
    if parts > 1:
        f[p + "wash_parts"], f[p + "part_water"], f[p + "part_detergent"] = parts, water / parts, soap / parts
        f[p + "part_takes"] = one = f.get(p + "wash_kettle", 0.0) + heats + s.wash_minutes.value
        f[p + "wash_in_all"] = parts * one - f.get(p + "wash_kettle", 0.0)
    f["finish.before.a"], f["finish.after.a"] = dry, dry * (1 + f["dip.a.reaches"] / 100)
    f["finish.gain.a"] = 100 * (f["finish.after.a"] - dry) / dry
    end = facts.ending
    worth = f["dip.left_strength"] >= end.worth_keeping.value
    f["finish.keep"] = 1440.0 * facts.keeps if worth else 0.0
    f["finish.feed"] = facts.feed * f["vat.liquor"] / facts.tdo
    f["finish.feed.alkali"] = 2 * f["finish.feed"] * facts.tdo / TDO * NAOH / facts.lye
    f["finish.oxidise"], f["finish.settle"] = end.oxidise.value * 60, end.settle.value * 60
    f["finish.sample"] = end.sample.value / 1000
    f["finish.samples"] = f["vat.liquor"] / f["finish.sample"]
    _, brought, _, sulfur = _moles(f, facts)
    free = brought + f["vat.alkali"] * facts.lye / NAOH - 2 * sulfur
    # At pH 8 acetic acid is all ions but for 10 ** (4.75 - 8) of it.
    f["finish.vinegar"] = free * (1 + 10**-3.25) / (50 / ACETIC) * 5 / (100 * facts.vinegar)
    f["finish.end_pH"] = f["finish.sample_pH"] = end.end_pH.value
    f["finish.pH_low"], f["finish.pH_high"] = end.end_pH.low or 0.0, end.end_pH.high or 0.0
