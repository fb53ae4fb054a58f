"""Every figure of the starter plan in plain floats: the arithmetic alone, to hold the sheet's machinery against."""

from __future__ import annotations

from math import ceil, exp, floor, sqrt

from tests.bench.plain_liquor import Liquor
from tests.bench.plain_water import COLD, HOB_KW, HOT, ROOM, density, draw, enthalpy, heating, lye_rise, oxygen

from vatside.catalogue import dyeing
from vatside.catalogue.load import fibres, materials, methods, scours

Figures = dict[str, float]

NAOH, TDO, INDIGOTIN, OXYGEN, ACETIC = 39.9971, 108.1195, 262.2635, 31.9988, 60.0521
"""g/mol."""


class Facts:
    """What the catalogue says about the starter plan, looked up once and for all."""

    def __init__(self) -> None:
        method = methods()["tdo-lye"]
        self.wool, self.stock, self.vat, self.keeps = fibres()["wool"], method.stock, method.vat, method.keeps_days
        self.scour, known = scours()[self.wool.scour], materials()
        self.indigo, self.lye, self.tdo = (known[key] for key in (method.indigo, method.alkali, method.reducer))
        self.soap = self.scour.agents[0].per_kg.value if self.scour.agents[0].per_kg else 0.0
        self.vinegar, self.citric = known["vinegar"].purity.value / 100, known["citric-acid"].purity.value / 100
        self.uptake, self.dipping = dyeing.uptakes()["protein"], dyeing.dipping_for(0.8)
        self.pauses, self.finish, self.ending = dyeing.pauses(), dyeing.finishes()["protein"], dyeing.ending()
        self.feed = dyeing.feeds()["thiourea dioxide"].value


def figures(grams: float, facts: Facts) -> Figures:
    """Work out the starter plan's sheet for a mass of wool, g."""
    f: Figures = {}
    for stage in (_scour, _stock, _vat, _liquor, _dip, _finish):
        stage(f, grams, facts)
    return f


def _drawn(f: Figures, prefix: str, litres: float, t: float) -> None:
    f[f"{prefix}hot"], f[f"{prefix}cold"], kettle = draw(litres, t)
    if t > HOT + 0.5:
        f[f"{prefix}kettle"] = kettle


def _scour(f: Figures, grams: float, facts: Facts) -> None:
    s, wool, p = facts.scour, facts.wool, "scour.wool."
    f[p + "liquor"] = liquor = grams / 1000 * s.liquor.value
    f[p + "load_water"] = water = 10 * 0.75
    room = (10 * 0.95 - water) * wool.density.value * 1000
    f[p + "loads"] = loads = max(ceil(round(liquor / water, 6)), ceil(round(grams / room, 6)), 1)
    f[p + "level"] = 100 * (water + grams / loads / wool.density.value / 1000) / 10
    f[p + "soak"], f[p + "soak_water"] = s.soak.value, liquor
    f[p + "hold_temperature"] = hold = s.hold.value
    f[p + "ceiling"] = s.ceiling.value
    f[p + "start"] = start = max(min(ROOM + wool.step.value, hold, HOT), COLD)
    _drawn(f, p, water, start)
    f[p + "heating"] = max(heating(water, start, hold), hold - start)
    f[p + "hold"], f[p + "stir_every"], f[p + "turn"] = s.minutes.value, s.stir_every, s.minutes.value / 2
    f[p + "baths"] = loads * s.baths
    f[p + "soap"] = facts.soap * grams / loads / 1000
    f[p + "rinses"] = s.rinses
    f[p + "rinse_water"] = water * s.rinses * loads
    f[p + "rinse_temperature"] = hold
    _drawn(f, p + "rinse_", water, hold)
    f[p + "steps_down"] = max(ceil(round((hold - ROOM) / wool.step.value, 6)), 0)
    f[p + "cool"] = s.cool.value
    f[p + "dry_mass"] = dry = grams * (1 - s.loss.value / 100)
    f[p + "wet_mass"] = dry * (1 + wool.held.value / 100)


def _stock(f: Figures, grams: float, facts: Facts) -> None:
    r, purity, lye = facts.stock, facts.indigo.purity.value / 100, facts.lye.purity.value / 100
    f["stock.wanted"] = wanted = f["scour.wool.dry_mass"] * 0.8 / 100 / (facts.vat.yield_.value / 100)
    f["stock.others"] = 0.0
    f["stock.pigment"] = pigment = wanted / purity
    f["stock.indigotin"] = indigotin = pigment * purity
    f["stock.owf"] = 100 * pigment / f["scour.wool.dry_mass"]
    f["stock.jars"] = jars = max(ceil(round(pigment / r.pigment_limit.value, 6)), 1)
    f["stock.water"] = water = jars * 1.0
    f["stock.strength"] = indigotin / water
    f["stock.alkali"] = max(r.alkali_per_litre.value * water, r.alkali_per_gram.value * indigotin) / lye
    reducer = max(r.reducer_per_litre.value * water, r.reducer_per_gram.value * indigotin)
    f["stock.reducer"] = reducer / (facts.tdo.purity.value / 100)
    naoh, warmest = f["stock.alkali"] * lye, r.ceiling.value
    for _ in range(3):
        warmest = r.ceiling.value - lye_rise(naoh, water, warmest)
    f["stock.warmest"] = warmest
    f["stock.start"] = start = max(min(r.temperature.value, warmest), COLD)
    f["stock.rise"] = lye_rise(naoh, water, start)
    _drawn(f, "stock.", water, start)
    f["stock.bath"], f["stock.bath_temperature"] = r.warm_bath.value * water, r.temperature.value
    _drawn(f, "stock.bath_", f["stock.bath"], r.temperature.value)
    f["stock.stir"], f["stock.hold"], f["stock.look_every"] = r.stir.value, r.hold.value, r.look_every.value


def _vat(f: Figures, grams: float, facts: Facts) -> None:
    r, lye, tdo, dry = facts.vat, facts.lye.purity.value / 100, facts.tdo.purity.value / 100, f["scour.wool.dry_mass"]
    f["vat.tub"] = 24.0
    f["vat.fill"] = fill = 24.0 * 0.85
    f["vat.entry"] = entry = min(dry, fill / r.liquor.value * 1000)
    f["vat.entries"] = ceil(round(dry / entry, 6))
    f["vat.displaced"] = displaced = dry / facts.wool.density.value / 1000 * min(entry / dry, 1)
    f["vat.liquor"] = liquor = max(fill - displaced, 0.1)
    f["vat.stock"] = stock = min(f["stock.water"], liquor)
    f["vat.water"] = water = liquor - stock
    f["vat.temperature"] = warm = r.warmth.protein.value
    _drawn(f, "vat.", water, warm)
    f["vat.alkali"] = alkali = r.alkali_per_litre.value * liquor / lye
    f["vat.oxygen"] = air = (oxygen(HOT) * f["vat.hot"] + oxygen(COLD) * f["vat.cold"]) / 1000
    f["vat.reducer"] = max(r.reducer_per_litre.value * liquor / tdo, air * TDO / OXYGEN / tdo)
    share = min(stock / f["stock.water"], 1.0)
    f["vat.indigotin"] = indigotin = f["stock.indigotin"] * share
    f["vat.strength"] = indigotin / liquor
    used = indigotin * 3 * NAOH / INDIGOTIN + air * 2 * NAOH / OXYGEN
    f["vat.alkali_left"] = left = (f["stock.alkali"] * share + alkali) * lye - used
    f["vat.alkali_strength"] = left / liquor
    f["vat.dyes.a"] = dry * indigotin / f["stock.wanted"]
    f["vat.sharpen"], f["vat.rest"] = r.sharpen.value, r.rest.value


def _liquor(f: Figures, grams: float, facts: Facts) -> None:
    lye = facts.lye.purity.value / 100
    warm, start, window = f["vat.temperature"], f["stock.start"], facts.wool.window
    kg, air = f["stock.water"] * density(start) / 1000, f["stock.water"] * oxygen(start) / 1000 / OXYGEN
    sodium, leuco = f["stock.alkali"] * lye / NAOH, f["stock.indigotin"] / INDIGOTIN
    for name, t in (("stock.pH", start), ("stock.pH_25", 25.0)):
        f[name] = Liquor(sodium / kg, leuco / kg, air / kg, leuco / kg, t).pH()
    share = f["vat.stock"] / f["stock.water"]
    mass = f["vat.water"] * density(warm) / 1000 + share * kg
    sodium, leuco, air = (
        f["vat.alkali"] * lye / NAOH + share * sodium,
        share * leuco,
        f["vat.oxygen"] / OXYGEN + share * air,
    )
    vat = Liquor(sodium / mass, leuco / mass, air / mass, leuco / mass, warm)
    f["vat.pH"] = pH = vat.pH()
    f["vat.pH_25"] = Liquor(vat.sodium, vat.sulfite, vat.sulfate, vat.leuco, 25.0).pH()
    mono = 10 ** (pH - 7.97)
    di = mono * 10 ** (pH - 12.68)
    f["vat.leuco_acid"], f["vat.leuco_di"] = round(100 / (1 + mono + di)), round(100 * di / (1 + mono + di))
    f["vat.leuco_mono"] = 100 - f["vat.leuco_acid"] - f["vat.leuco_di"]
    f["vat.window_low"], f["vat.window_high"] = window.low, window.high
    f["vat.alkali_for_window"] = total = tenths(vat.sodium_for(window.target) * mass * NAOH / lye)
    f["vat.sharpen_for_window"] = tenths(max(total - f["stock.alkali"] * share, 0.0))


def tenths(grams: float) -> float:
    """Round grams up to what a kitchen scale shows."""
    return ceil(round(10 * grams, 6)) / 10


def _dips(strength: float, piece: float, laid: float, carried: float, litres: float, most: int) -> tuple[float, ...]:
    """Dips, depth, first dip, grams that the vat has lost; stops at a depth of 0.76 % or after so many dips."""
    full = litres + carried * piece
    keeps = (litres / full * max(1 - laid * piece / full, 0.0)) ** 2
    on = first = lost = 0.0
    count = 0
    while count < most and (most < 40 or on < 0.95 * 0.8):
        loss = strength * litres * (1 - keeps)
        gain = loss / (2 * piece) * 0.85 / 10
        if most == 40 and gain < 0.8 / 100:
            break
        strength, on, count, lost = strength * keeps, on + gain, count + 1, lost + loss
        first = first or gain
    return count, on, first, lost


def _dip(f: Figures, grams: float, facts: Facts) -> None:
    d, p, usual, dry = facts.dipping, facts.pauses, facts.uptake, f["scour.wool.dry_mass"]
    strength, litres, warm = f["vat.strength"], f["vat.liquor"], f["vat.temperature"]
    f["dip.rest_after"], f["dip.rest"] = p.work.value, p.rest.value
    f["dip.entries"], f["dip.short_rest"] = p.entries.value, p.short_rest.value
    longest = d.dip.high or d.dip.value
    f["dip.a.dip"] = dip = min(max(round(d.dip.value * d.strength.value / strength), d.dip.value), longest)
    f["dip.a.air"] = air = max(d.air.value, dip)
    f["dip.a.piece"] = piece = dry / 2
    f["dip.a.at_once"] = at_once = min(max(floor(f["vat.entry"] / piece + 1e-6), 1), 2)
    f["dip.a.in_turn"] = min((floor(air / dip + 1e-9) + 1) * at_once, 2)
    f["dip.a.carried"], f["dip.a.takes"] = carried, takes = facts.wool.held.value / 100, usual.takes.value
    by_itself = takes * min(sqrt(dip / 5), 2.5)
    count, on, first, lost = _dips(strength, piece / 1000, by_itself, carried, litres, 40)
    f["dip.a.first"], f["dip.a.dips"] = first, count
    f["dip.a.reaches"] = on
    most = round(d.dips.high or d.dips.value)
    if count > most:
        f["dip.a.strength"] = 0.8 / _dips(1.0, piece / 1000, by_itself, carried, litres, most)[1]
    groups, each = ceil(2 / at_once), dip + p.handling.value
    minutes = (count - 1) * max(groups * each, each + air) + groups * each
    f["dip.all_entries"] = entries = groups * count
    f["dip.minutes"] = minutes + max(ceil(entries / p.entries.value) - 1, 0) * p.short_rest.value
    f["dip.brought"] = brought = dry / 1000 * carried * count
    f["dip.oxygen"] = brought * oxygen(ROOM) / 1000
    f["dip.reducer"] = f["dip.oxygen"] * TDO / OXYGEN / (facts.tdo.purity.value / 100)
    f["dip.cools"] = (warm - ROOM) * (1 - exp(-brought / litres))
    f["dip.on_fibre"], f["dip.rinsed"] = dry * on / 100, lost * 0.15
    f["dip.kept"] = left = f["vat.indigotin"] - f["dip.on_fibre"] - f["dip.rinsed"]
    f["dip.left_strength"] = left / litres


def _finish(f: Figures, grams: float, facts: Facts) -> None:
    s, step, dry, p = facts.finish, facts.wool.step.value, f["scour.wool.dry_mass"], "finish.wool."
    f[p + "last_air"] = s.last_air.value
    f[p + "water"] = water = dry / 1000 * s.liquor.value
    f[p + "rinses"], f[p + "rinse_temperature"] = s.rinses.value, ROOM + step
    f[p + "vinegar"] = water * s.vinegar.value / 1000 * 5 / (100 * facts.vinegar)
    f[p + "citric"] = water * s.citric.value / facts.citric
    f[p + "sour"] = s.sour.value
    f[p + "sour_pH_low"], f[p + "sour_pH_high"] = s.sour_pH.low or 0.0, s.sour_pH.high or 0.0
    f[p + "wash"] = wash = s.wash.value
    f[p + "wash_start"] = start = max(min(ROOM + step, wash), COLD)
    _drawn(f, p + "wash_", water, start)
    f[p + "detergent"] = water * s.detergent.value
    kj = water * density(start) / 1000 * (enthalpy(wash) - enthalpy(start))
    f[p + "heating"] = max(kj / HOB_KW / 60, wash - start)
    f[p + "wash_minutes"] = s.wash_minutes.value
    f[p + "last_rinses"] = max(s.last_rinses.value, ceil(round((wash - ROOM) / step, 6)))
    f[p + "dry"] = s.dry.value * 60
    f["finish.before.a"], f["finish.after.a"] = dry, dry * (1 + f["dip.a.reaches"] / 100)
    f["finish.gain.a"] = 100 * (f["finish.after.a"] - dry) / dry
    end = facts.ending
    worth = f["dip.left_strength"] >= end.worth_keeping.value
    f["finish.keep"] = 1440.0 * facts.keeps if worth else 0.0
    f["finish.feed"] = facts.feed * f["vat.liquor"] / (facts.tdo.purity.value / 100)
    f["finish.oxidise"], f["finish.settle"] = end.oxidise.value * 60, end.settle.value * 60
    f["finish.sample"] = end.sample.value / 1000
    f["finish.samples"] = f["vat.liquor"] / f["finish.sample"]
    f["finish.vinegar"] = f["vat.alkali_left"] / NAOH / (50 / ACETIC) * 5 / (100 * facts.vinegar)
    f["finish.end_pH"] = end.end_pH.value
    f["finish.pH_low"], f["finish.pH_high"] = end.end_pH.low or 0.0, end.end_pH.high or 0.0
