"""The end of a vat: oxidise, neutralise by a titrated sample or by the account, then the local rules."""

from __future__ import annotations

from enum import StrEnum

from attrs import Attribute, evolve, field, frozen

from vatside.catalogue.looks import Smell
from vatside.chemistry.adjust import Acid as SolverAcid
from vatside.chemistry.adjust import (
    acid_by_alkalinity,
    acid_needed,
    aired_pH,
    alkali_for_pH,
    spent_and_cool,
)
from vatside.chemistry.bath import aerate
from vatside.chemistry.liquor import at_25, solve
from vatside.chemistry.substances import ALKALIS, LYE, VINEGAR_STRENGTH
from vatside.plan.measures import SODA, method_of, powder, reducer_of
from vatside.plan.plan import Plan
from vatside.recipe.baths import Dose
from vatside.recipe.stages.sludge import decanted
from vatside.units import show_mass, show_volume
from vatside.vat.account import Account, warmed
from vatside.vat.interlocks import Block
from vatside.vat.reading import Reading
from vatside.vat.trust import compare, trust

HAZARDOUS_PH = 12.5
"""From here on liquor counts as hazardous waste in the US [CFR261]."""
DRAIN_C = 40.0
"""Nothing warmer goes to a drain [CFR403]."""
LOCAL_RULES = (
    "Then your local rules: ask the water company before anything goes to a drain; never to a septic tank, a garden "
    "bed, a stream or a storm drain. Let lime or iron sludge dry and put it with the solid waste they name. "
    "The supplier's safety sheets and licensed practice come first."
)
_OXIDISE = "First oxidise it: stir and pour it in the air until it is blue and stays blue, one to 24 hours; let"
OXIDISE_FIRST = f"{_OXIDISE} the blue settle overnight, pour the clear off, filter and keep the blue."
OXIDISE_OVER_LIME = (
    f"{_OXIDISE} lime and blue settle overnight and take the clear off, by the jug, into another tub: it alone is "
    "neutralised. What lies at the bottom stays as it is, to dry."
)


def oxidise_first(alkali: str = LYE) -> str:
    """Say what comes before any acid in a vat of an alkali (a substance): lime stays behind."""
    return OXIDISE_OVER_LIME if limes(alkali) else OXIDISE_FIRST


def limes(alkali: str) -> bool:
    """Tell an alkali that lies at the bottom, which no acid is spent on."""
    return alkali in ALKALIS and ALKALIS[alkali].saturates


class Acid(StrEnum):
    """What neutralises."""

    VINEGAR = "vinegar"
    CITRIC = "citric-acid"


def _is_pH(_owner: object, attribute: Attribute[float], value: float) -> None:
    if not 0 < value < 14:
        raise ValueError(f"the {attribute.name} pH to end at lies between 0 and 14, not at {value:g}")


@frozen
class PHRange:
    """What a vat may be let go at; set by the dyer's local rules [CFR420]."""

    low: float = field(default=6.0, validator=_is_pH)
    high: float = field(default=9.0, validator=_is_pH)
    target: float = field(default=8.0, validator=_is_pH)

    def __attrs_post_init__(self) -> None:
        if not self.low <= self.target <= self.high:
            raise ValueError(f"the pH aimed at ({self.target:g}) lies outside {self.low:g} to {self.high:g}")


LEAST_G = 0.05
"""Less acid than this is none."""
MOST_CITRIC = 0.95
"""Share of the alkali of a lime vat for citric acid: the end is a cliff from pH 11 to 5 [CalciumCitrate2018]."""


@frozen
class AcidDose:
    """How much acid neutralises the vat."""

    acid: Acid
    grams: float
    """As weighed; of vinegar with its water."""
    millilitres: float
    """Of vinegar; 0 for citric acid."""
    target_pH: float  # noqa: N815  (chemistry's own symbol)
    clear_l: float = 0.0
    """Litres of clear liquor that it is for, poured off its lime; 0: for the whole vat."""
    begin_g: float = 0.0
    """What goes in at first at the most, as weighed, for a pH read so roughly that far less could do; 0: no such."""
    by: str = "account"
    """`account` or `sample`."""
    next_day_pH: float | None = None  # noqa: N815  (chemistry's own symbol)
    """Where a soda vat, dosed by its alkalinity, stands once its carbonic acid has gone; None: it does not drift."""
    then_vinegar: bool = False
    """The rest is for vinegar: citric acid that meets all the lime turns the vat sour."""

    @property
    def text(self) -> str:
        """The amount and how to give it."""
        if self.grams < LEAST_G:
            return self._none
        much = show_volume(self.millilitres / 1000) if self.acid is Acid.VINEGAR else show_mass(self.grams)
        name = "vinegar" if self.acid is Acid.VINEGAR else "citric acid"
        lime = f", for {show_volume(self.clear_l)} poured off the lime" if self.clear_l else ""
        lime += f"; begin with {self._begin}, in case the pH read is right to the letter" if self.begin_g else ""
        by = "from your sample" if self.by == "sample" else "from what went in and the pH read"
        if self.next_day_pH is not None:
            soda = (
                f"to pH {self.target_pH:.1f} at first (from your sample)"
                if self.by == "sample"
                else ("by the alkali of its soda")
            )
            return (
                f"{much} of {name}, {soda}{lime}: it fizzes, for carbonic acid goes off, and the pH "
                f"drifts up to about {self.next_day_pH:.1f}. Give three quarters, stir till it stops fizzing, then the "
                "rest little by little; read the pH the next day."
            )
        if self.then_vinegar:
            return (
                f"{much} of {name} at most, 95 % of what its lime takes{lime}: more turns it sour once calcium citrate "
                f"has settled. Stir well, wait ten minutes, then vinegar little by little to pH {self.target_pH:g}."
            )
        return (
            f"{much} of {name} to pH {self.target_pH:g} ({by}{lime}). Give three quarters, stir well, wait ten "
            "minutes, read the pH, then the rest little by little."
        )

    @property
    def _begin(self) -> str:
        share: float = self.begin_g / self.grams
        return show_volume(share * self.millilitres / 1000) if self.millilitres else show_mass(self.begin_g)

    @property
    def _none(self) -> str:
        if self.by == "sample":
            return "What the sample asked for is in: read the pH (r)."
        return f"It is at pH {self.target_pH:g} or below already: no acid."


def in_acid(plan: Plan) -> str:
    """Say what acid does to a vat of this plan that is alive, as the end of a sentence."""
    return reducer_of(plan).in_acid


AIR_IT_OUT = (
    "Outdoors, or windows open and nobody over it: stir it in the air until it smells no more, read it again (r). "
    "A head that aches or swims by it: out into the fresh air, a doctor."
)


def ready_for_acid(reading: Reading | None, does: str, *, seen_spent: bool, alkali: str = LYE) -> Block | None:
    """Refuse to neutralise until the dyer has seen the vat stay blue; a yellow or green liquor is still alive.

    `does`: what acid does to it then, see `in_acid`. A vat that smells of rotten eggs is aired first.
    """
    if reading is not None and reading.smell is Smell.ROTTEN:
        return Block("It smells of rotten eggs: acid drives hydrogen sulphide out of it, which can kill.", AIR_IT_OUT)
    living = ("yellow-green", "amber", "bright yellow", "pale yellow", "green", "greenish white")
    colour = str(reading.colour.value) if reading is not None and reading.colour is not None else ""
    if colour in living:
        return Block(f"The liquor is {colour}: there is reducer left, and acid {does}.", oxidise_first(alkali))
    if not seen_spent:
        return Block(f"Acid into a vat with reducer left {does}.", oxidise_first(alkali))
    return None


def no_acid(plan: Plan) -> Block | None:
    """Refuse acid, seen blue or not, into a vat whose kind bears none."""
    end = method_of(plan).end
    return Block(end.no_acid, end.instead, after=AFTER_HYDROGEN) if end else None


AFTER_HYDROGEN = "Windows open, no flame and no spark, out of the room until it has stopped bubbling. No more acid."
"""Fresh air, and nothing that lights a gas: common practice, no source."""


def dose_by_account(account: Account, plan: Plan, acid: Acid, aim: PHRange | None = None) -> AcidDose:
    """Work out the acid for the vat, stirred in air until spent, from everything that went in [HarnedEhlers1933].

    At 25 degrees C, the clear liquor alone where lime lies below it; carbonate from the air is not counted. A vat with
    soda, or with soda and some acid, drifts back as carbonic acid goes off: it is dosed by its alkalinity then. Citric
    acid meets no more than 95 % of lime [CalciumCitrate2018]. Raises `CannotReach` or `OutOfRange`.
    """
    limits = aim or PHRange()
    takes, what, limed = takes_acid(account), powder(plan, acid.value), limes(account.alkali)
    spent, litres = spent_and_cool(takes.bath), takes.litres if limed else 0.0
    named: SolverAcid = "vinegar" if acid is Acid.VINEGAR else "citric acid"
    needed = acid_needed(spent, limits.target, limits.high, named)
    if acid is Acid.VINEGAR:
        millilitres = vinegar_ml(needed.amount, what.purity)
        return AcidDose(acid, millilitres * what.material.bulk.value, millilitres, limits.target, litres,
                        next_day_pH=needed.next_day_pH)  # fmt: skip
    grams = min(needed.amount, MOST_CITRIC * acid_by_alkalinity(spent, named)) if limed else needed.amount
    return AcidDose(acid, grams / what.purity, 0.0, limits.target, litres, next_day_pH=needed.next_day_pH,
                    then_vinegar=limed and needed.amount > 0)  # fmt: skip


def takes_acid(account: Account) -> Account:
    """Give what acid goes into: the vat once air has spent it, and over lime its clear liquor alone, settled cool.

    Liquor without any dye was poured off already. Raises `OutOfRange`.
    """
    spent = evolve(account, bath=aerate(account.liquor))
    if not limes(account.alkali) or not spent.bath.indigotin:
        return spent
    return warmed(evolve(spent, bath=decanted(spent_and_cool(spent.bath))), account.celsius)


def next_day_pH(account: Account) -> float | None:
    """Give the pH at 25 degrees C to which a spent vat with acid and carbonate in it comes as carbonic acid goes off.

    None for a vat without acid, or where nothing goes off. Raises `OutOfRange`.
    """
    spent = spent_and_cool(account.bath)
    if not spent.carbonate or not (spent.acetate or spent.citrate):
        return None
    pH = aired_pH(spent)
    return pH if pH > solve(spent).pH else None


def soda_by_account(account: Account, plan: Plan, aim: PHRange | None = None) -> Dose:
    """Work out the soda ash that brings a spent vat up to the target at 25 degrees C [Reactions].

    Raises `CannotReach` or `OutOfRange`.
    """
    spent = spent_and_cool(account.bath)
    what = powder(plan, SODA)
    return Dose(what, alkali_for_pH(spent, (aim or PHRange()).target, what.material.species) / what.purity)


def spent_pH(account: Account) -> float:
    """Give the pH at 25 degrees C to expect once air has spent the reducer, by what went in. Raises `OutOfRange`."""
    return at_25(aerate(account.liquor)).pH


def put_right(account: Account, reading: Reading, aim: PHRange) -> Account:
    """Give what acid goes into as a pH read in it has it: where the two disagree, or part at the pH to end at.

    A pH that rose because acid drove carbonic acid off says nothing of the alkali: that stays as the account has it.
    Raises `OutOfRange`.
    """
    spent = takes_acid(account)
    comparison = compare(spent, reading)
    if comparison is None or (
        comparison.agrees and (comparison.measured > aim.high) == (comparison.predicted > aim.high)
    ):
        return spent
    aired = next_day_pH(spent)
    if aired is not None and comparison.predicted < comparison.measured <= aired + comparison.tolerance:
        return spent
    return trust(spent, comparison.measured, comparison.celsius)


def vinegar_ml(of_five_percent: float, share: float) -> float:
    """Turn mL of 5 % vinegar into mL of one of another strength (share, g in a mL)."""
    return of_five_percent * VINEGAR_STRENGTH / max(share, 0.001)


def not_yet(pH: float | None, t_C: float, aim: PHRange) -> Block | None:
    """Refuse to let a vat go whose pH nobody read since the last thing was done to it, or that `may_go` holds back.

    Not for good: where liquor of any pH may be handed over is the dyer's to know.
    """
    if pH is None:
        return Block("Its pH was not read since it stayed blue and the last acid went in.",
                     "Read the pH of a cooled sample (r), then let it go.", final=False)  # fmt: skip
    words = may_go(pH, t_C, aim)
    return Block(" ".join(words), "Put that right, read it once more, then let it go.", final=False) if words else None


def may_go(pH: float, t_C: float, aim: PHRange | None = None) -> tuple[str, ...]:
    """Say what still stands in the way of letting the vat go, at 25 degrees C; empty if nothing but local rules."""
    limits = aim or PHRange()
    words = []
    if pH >= HAZARDOUS_PH:
        words.append(f"pH {pH:.1f} is hazardous waste in some countries: neutralise it or ask.")
    elif pH > limits.high:
        words.append(f"pH {pH:.1f} is above {limits.high:g}: more acid, or air where page 3 asks for none.")
    elif pH < limits.low:
        words.append(f"pH {pH:.1f} is below {limits.low:g}: a little soda ash brings it back.")
    if t_C > DRAIN_C:
        words.append(f"Let it cool below {DRAIN_C:.0f} °C.")
    return tuple(words)
