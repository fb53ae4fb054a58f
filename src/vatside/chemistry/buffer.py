"""A vat for wool or silk that stays in its window from the first dip to the last: soda ash and baking soda.

Lye alone cannot hold it: what reducer is left takes two hydroxide ions a mole, and pure lye falls from pH 9.3 to 3. A
carbonate buffer of about 56 mmol a gram of spare thiourea dioxide swallows them. The rule below is a fit to such vats
worked out with PHREEQC [Buffered]; where it misses, the charge balance finds the doses.
"""

from __future__ import annotations

from math import ceil, inf

from attrs import frozen

from vatside.chemistry.bath import Bath, add_grams, reduce, water_bath
from vatside.chemistry.errors import CannotReach, require_not_negative
from vatside.chemistry.life import SPENT, Course, course, spend
from vatside.chemistry.liquor import solve
from vatside.chemistry.reducers import USUAL, as_usual
from vatside.chemistry.roots import falling_root
from vatside.chemistry.substances import BAKING_SODA, LYE, SODA_ASH
from vatside.chemistry.tap import PURE, TapWater, fill


@frozen
class Rule:
    """How much soda ash and baking soda a kind of fibre wants: grams, and the pH that they hold."""

    low: float
    high: float
    soda_reducer: float
    """Soda ash for each gram of thiourea dioxide, in stock and tub."""
    soda_indigotin: float
    soda_hardness: float
    """Soda ash for each gram of hardness, as calcium carbonate."""
    baking_reducer: float
    baking_indigotin: float
    baking_hardness: float
    baking_litre: float
    """Baking soda a litre at the least."""


RULES: dict[str, Rule] = {
    "protein": Rule(8.5, 9.8, 2.35, 0.2, 1.3, 3.0, -2.0, 0.0, 0.3),
    "silk": Rule(9.5, 10.5, 3.7, 0.2, 2.2, 0.4, 0.0, -0.6, 0.0),
}
"""By the group of fibre; windows at the temperature of the vat [Buffered]."""

SODA_OF_LYE, BAKING_OF_LYE = 2.65, -2.10
"""A gram of lye with 2.10 g of baking soda is 2.65 g of soda ash and water [Reactions]."""

BELOW_HIGH, ABOVE_LOW = 0.15, 0.2
"""How far inside the window doses are aimed, in pH: fresh before chalk settles, spent after."""
RULE_BELOW_HIGH, RULE_ABOVE_LOW = 0.1, 0.05
"""How far inside the rule's own doses must lie to stand."""
MOST = 12.0
"""Soda ash, or baking soda, beyond which a vat is salt water more than a dye bath, g/L: ours."""

OXYGEN_MG = 7.5
"""Oxygen that warmed tap water brings, mg/L: between cold saturation and hot [BensonKrause1984]."""


@frozen
class BufferedVat:
    """What a vat for wool or silk holds besides its buffer; grams of pure substances, all of stock and tub together."""

    litres: float
    temperature_C: float  # noqa: N815  (chemistry's own symbol)
    indigotin_g: float
    reducer_g: float = 0.0
    reducer: str = USUAL
    """Its substance."""
    lye_g: float = 0.0
    """In stock and tub already."""
    baking_soda_g: float = 0.0
    """In the tub already, with the carbonate of soda ash, whose alkali counts as lye."""

    @property
    def as_usual_g(self) -> float:
        """All reducer, as so much of the usual one that takes the same hydroxide."""
        return as_usual(self.reducer, self.reducer_g)

    def bath(self, water: TapWater, soda_g: float, baking_g: float) -> Bath:
        """Give the fresh vat: the water's oxygen is gone, the dye reduced, all other reducer unspent."""
        bath = fill(water_bath(self.litres, self.temperature_C), water, self.litres)
        for name, grams in (
            ("indigotin", self.indigotin_g),
            (self.reducer, self.reducer_g),
            (LYE, self.lye_g),
            (SODA_ASH, soda_g),
            (BAKING_SODA, self.baking_soda_g + baking_g),
        ):
            bath = add_grams(bath, name, grams)
        return reduce(bath, OXYGEN_MG * self.litres)


@frozen
class Buffer:
    """Soda ash and baking soda for a tub, and the pH that they give it."""

    soda_ash_g: float
    baking_soda_g: float
    course: Course

    def holds(self, group: str) -> bool:
        """Say whether the vat stays in the window of a group of fibre all the way, whatever settles."""
        rule = RULES[group]
        return rule.low <= self.course.low and self.course.high <= rule.high


def rule_of_thumb(group: str, vat: BufferedVat, water: TapWater = PURE) -> tuple[float, float]:
    """Give the grams of soda ash and baking soda by the rule alone [Buffered].

    Fits vats of 0.14..2.9 g/L of thiourea dioxide, 0.04..0.86 g/L of indigotin and water up to 400 mg/L at 42..47
    degrees C. By PHREEQC wool vats run from 9.64 down to 8.47 then, silk vats from 10.41 to 9.47. Raises `OutOfRange`
    for amounts below zero.
    """
    require_not_negative("amount of reducer", vat.reducer_g, "g")
    rule, hardness = RULES[group], water.hardness_mg * vat.litres / 1000
    soda = rule.soda_reducer * vat.as_usual_g + rule.soda_indigotin * vat.indigotin_g + rule.soda_hardness * hardness
    baking = (
        rule.baking_reducer * vat.as_usual_g + rule.baking_indigotin * vat.indigotin_g + rule.baking_hardness * hardness
    )
    baking = max(baking, rule.baking_litre * vat.litres)
    baking -= BAKING_OF_LYE * vat.lye_g + vat.baking_soda_g
    return max(soda - SODA_OF_LYE * vat.lye_g, 0.0), max(baking, 0.0)


def buffer_for(group: str, vat: BufferedVat, *waters: TapWater) -> Buffer:
    """Give the soda ash and baking soda that keep a vat for wool (`protein`) or silk in its window [Buffered].

    The first water sets the doses, the course takes all of them in; none: pure water. For tubs of 3 to 100 L. The rule
    stands where the charge balance finds its vat inside the window (four milliseconds); else both doses are worked out
    (a dozen). Rounded to 0.5 g, or 0.1 g under 10 L. Raises `CannotReach` when no dose up to 12 g/L holds the vat, and
    `OutOfRange` as `vatside.chemistry.liquor.solve`.
    """
    waters = waters or (PURE,)
    doses = _rounded(rule_of_thumb(group, vat, waters[0]), vat.litres)
    if not _stands(RULES[group], vat, waters[0], doses):
        doses = _rounded(_worked_out(RULES[group], vat, waters[0]), vat.litres)
    return Buffer(*doses, course(*(vat.bath(water, *doses) for water in waters)))


def _stands(rule: Rule, vat: BufferedVat, water: TapWater, doses: tuple[float, float]) -> bool:
    if max(doses) > MOST * vat.litres:
        return False
    fresh, spent = _ends(vat.bath(water, *doses))
    return spent >= rule.low + RULE_ABOVE_LOW and fresh <= rule.high - RULE_BELOW_HIGH


def _ends(bath: Bath) -> tuple[float, float]:
    """Give the pH of the fresh vat before chalk settles, and of the spent one after: the two ends of its life."""
    return solve(bath).pH, solve(spend(bath, SPENT), chalk=True).pH


def _worked_out(rule: Rule, vat: BufferedVat, water: TapWater) -> tuple[float, float]:
    """Find the least baking soda with which some soda ash meets both ends."""
    most, near_enough, plain = MOST * vat.litres, 1e-3 * vat.litres, vat.bath(water, 0.0, 0.0)
    soda_by_baking: dict[float, float] = {}

    def holding(soda: float, baking: float) -> Bath:
        return add_grams(add_grams(plain, SODA_ASH, soda), BAKING_SODA, baking)

    def soda_for(baking: float) -> float:
        def short(soda: float) -> float:
            return rule.high - BELOW_HIGH - solve(holding(soda, baking)).pH

        if baking not in soda_by_baking:
            near = next(reversed(soda_by_baking.values()), most / 10)
            soda_by_baking[baking] = falling_root(short, 0.0, most, near, -1 / vat.litres, near_enough)
        return soda_by_baking[baking]

    def missing(baking: float) -> float:
        soda = soda_for(baking)
        fresh, spent = _ends(holding(soda, baking))
        # Where soda goes in, the fresh end is met, and what is left of it is the search's own error.
        above = fresh - rule.high + BELOW_HIGH if soda <= 2 * near_enough else -inf
        return max(rule.low + ABOVE_LOW - spent, above)

    baking = falling_root(missing, 0.0, most, most / 4, -1 / vat.litres, near_enough)
    if missing(baking) > BELOW_HIGH:
        raise CannotReach(
            f"No dose of soda holds this vat between pH {rule.low:g} and {rule.high:g} with "
            f"{vat.reducer_g / vat.litres:.2g} g/L of reducer and {vat.lye_g / vat.litres:.2g} g/L of lye in it: "
            "make less stock, or one with less reducer."
        )
    return soda_for(baking), baking


def _rounded(doses: tuple[float, float], litres: float) -> tuple[float, float]:
    step = 0.5 if litres >= 10 else 0.1
    return step * round(doses[0] / step), step * ceil(doses[1] / step - 0.5)
