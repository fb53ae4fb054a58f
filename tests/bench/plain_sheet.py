"""Every figure of a plan in plain floats: the arithmetic alone, to hold the sheet's machinery against.

The plan is that of the tests: wool in two skeins in a full tub, whose dips both go in together.
"""

from __future__ import annotations

from math import cbrt, ceil, exp, sqrt

from tests.bench.plain_liquor import Liquor
from tests.bench.plain_water import COLD, HOB_KW, HOT, ROOM, density, draw, enthalpy, heating, lye_rise, oxygen

from vatside.catalogue import dyeing, usual
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
        self.uptake, self.usual, self.warm = dyeing.uptakes()["protein"], usual.usual_for(0.8), self.vat.warmth.protein
        self.pull = self.uptake.pull.value * (1 - exp(-sqrt(self.usual.dip / self.uptake.time.value)))
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
    f["stock.jars"] = max(ceil(round(pigment / r.pigment_limit.value, 6)), 1)
    f["stock.water"] = water = 1.0
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
    f["vat.entries"] = 1
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
    f["vat.dyes.a"] = dry * indigotin * r.yield_.value / 100 / (dry * 0.8 / 100)
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
    f["vat.alkali_for_window"] = total = vat.sodium_for(window.target) * mass * NAOH / lye
    f["vat.sharpen_for_window"] = max(total - f["stock.alkali"] * share, 0.0)


class Dips:
    """The dips of two like pieces that go in together: dye, minutes and heat, entry after entry."""

    def __init__(self, f: Figures, facts: Facts, kg: float, factor: float) -> None:
        self.count, self.on, self.first, self.rinsed = 0, 0.0, 0.0, 0.0
        self.litres, self.strength, self.minutes = f["vat.liquor"], f["vat.strength"], 0.0
        self.celsius, self.cooled, self.coolest = f["vat.temperature"], 0.0, f["vat.temperature"]
        self.warm_after, self.warm_by, self.warm_hob, self.began = 0, 0.0, 0.0, 0.0
        dip, air = f["dip.a.dip"], f["dip.a.air"]
        while self.count < 30 and self.on < 0.95 * 8 and self._lays(facts, factor) * 0.85 >= 0.01 * 8:
            if self.count:
                self._waits(facts, air)
            self._enters(facts, kg, factor)
            self._cools(self.minutes + dip + facts.pauses.handling.value)
            self.minutes += dip + facts.pauses.handling.value

    def _lays(self, facts: Facts, factor: float) -> float:
        own = facts.pull * self.strength / (self.strength + facts.uptake.half.value)
        held = facts.wool.held.value / 100
        return factor * (held * self.strength + own) * (1 - self.on / facts.uptake.ceiling.value)

    def _enters(self, facts: Facts, kg: float, factor: float) -> None:
        water = kg * (facts.wool.held.value / 100 + 0.3)
        self.celsius -= (self.celsius - ROOM) * water / (self.litres + water)
        self.coolest = min(self.coolest, self.celsius)
        grams = self.strength * self.litres
        taken = grams * (1 - exp(-self._lays(facts, factor) * kg / grams))
        self.first = self.first or 0.85 * taken / kg
        self.on, self.rinsed = self.on + 0.85 * taken / kg, self.rinsed + 0.15 * taken
        self.strength, self.count = (grams - taken) / self.litres, self.count + 1

    def _waits(self, facts: Facts, air: float) -> None:
        """Air, and the long rest where one is due; an airing is rest enough for the short one."""
        out, rest = self.minutes, 0.0
        self.minutes += air
        if out - self.began >= facts.pauses.work.value:
            rest = facts.pauses.rest.value - air
            self.began = self.minutes + rest
        self._cools(self.minutes + rest)
        low, high = facts.warm.low or facts.warm.value, facts.warm.high or facts.warm.value
        if self.celsius < low + 0.5:
            kelvin = high - 1 - self.celsius
            hob = 4.19 * self.litres * kelvin / (60 * HOB_KW * 0.8)
            if not self.warm_after:
                self.warm_after, self.warm_by, self.warm_hob, self.warm_from = self.count, kelvin, hob, self.celsius
            self.celsius, late = high - 1, max(hob - air - rest, 0.0)
            self.minutes += late
            self.cooled = self.minutes + rest
        self.minutes += rest

    def _cools(self, minute: float) -> None:
        lost = 0.17 / 60 * cbrt(20 / self.litres) * (minute - self.cooled)
        self.celsius, self.cooled = ROOM + (self.celsius - ROOM) * exp(-lost), minute


def _dip(f: Figures, grams: float, facts: Facts) -> None:
    p, dry, warm = facts.pauses, f["scour.wool.dry_mass"], f["vat.temperature"]
    f["dip.rest_after"], f["dip.rest"] = p.work.value, p.rest.value
    f["dip.entries"], f["dip.short_rest"] = p.entries.value, p.short_rest.value
    f["dip.a.dip"], f["dip.a.air"] = facts.usual.dip, facts.usual.air
    f["dip.a.piece"], f["dip.a.at_once"] = dry / 2, 2
    f["dip.a.carried"], f["dip.a.factor"] = facts.wool.held.value / 100, 100.0
    kg, wide = dry / 1000, 1.28 * sqrt(0.35**2 + 0.2**2)
    made, less, more = (Dips(f, facts, kg, factor) for factor in (1.0, exp(-wide), exp(wide)))
    f["dip.a.first"], f["dip.a.reaches"] = made.first / 10, made.on / 10
    f["dip.a.dips"], f["dip.all_entries"] = made.count, made.count
    f["dip.a.dips_low"], f["dip.a.dips_high"] = min(more.count, made.count), max(less.count, made.count)
    f["dip.minutes"], f["dip.hands"] = made.minutes, p.hands.value * made.count
    f["dip.brought"] = brought = kg * f["dip.a.carried"] * made.count
    f["dip.oxygen"] = brought * oxygen(ROOM) / 1000
    f["dip.reducer"] = f["dip.oxygen"] * TDO / OXYGEN / (facts.tdo.purity.value / 100)
    f["dip.cools"] = warm - made.coolest
    if made.warm_after:
        f["dip.warm_after"], f["dip.warm_by"], f["dip.warm_hob"] = made.warm_after, made.warm_by, made.warm_hob
        f["dip.warm_kettle"] = f["vat.liquor"] * made.warm_by / (95 - made.warm_from)
    f["dip.on_fibre"], f["dip.rinsed"] = kg * made.on, made.rinsed
    f["dip.kept"], f["dip.left_strength"] = made.strength * made.litres, made.strength


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
