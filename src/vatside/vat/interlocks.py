"""A correction as a value, all that it is worked out from, and what forbids it or lets it go on with care.

The few plainly dangerous orders are refused with the reason.
"""

from __future__ import annotations

from enum import StrEnum

from attrs import evolve, field, frozen

from vatside.catalogue.values import Fact
from vatside.chemistry.adjust import LOWEST_LIVE_PH
from vatside.chemistry.heat import lye_rise
from vatside.chemistry.life import makes_acid
from vatside.plan.plan import Plan
from vatside.recipe.cooling import Cooling
from vatside.recipe.vat_needs import Setting
from vatside.units import show_minutes, show_temperature
from vatside.vat.account import Account
from vatside.vat.reading import Reading

LYE_CEILING_C = 60.0
"""Dissolving lye must not come above this: common practice, no source."""
WARM_C = 40.0
"""Lye that brings its water above this is worth a word: common practice, no source."""


@frozen
class Block:
    """A refusal, and why."""

    why: str
    instead: str
    """What to do in its place."""
    final: bool = True
    """False: the dyer may go on after saying so twice. What was done already can be written down either way."""
    after: str = ""
    """What follows from it, once it was done all the same."""
    once: bool = False
    """Nothing is in danger: it is enough to say so once."""


@frozen
class Care:
    """It may be done, knowing this."""

    text: str


class TubState(StrEnum):
    """How the tub of reducer is found."""

    DRY = "dry and cool"
    DAMP = "damp or caked"
    WARM = "warm, smoking or stinging"


_SULPHUR_DIOXIDE = "There is reducer alive in this vat, and acid drives sulphur dioxide out of it, which chokes."
_SULPHIDE = "Life in this vat can have made sulphides, and acid drives hydrogen sulphide out of them, which can kill."
AFTER_ACID = (
    "Windows open, out of the room until nothing stings any more; who coughs or is short of breath sees a doctor, also "
    "hours later. No more acid."
)
"""First aid for what stings the lungs, as that of acetic acid [ICSC0363]: fresh air, rest, medical attention."""
_OXIDISE = "Stir it in the air until it is blue and stays blue; then neutralise."


def acid(account: Account, target_pH: float, *, seen_spent: bool = False) -> Block | Care | None:
    """Judge acid into a vat on its way to a pH (at the vat's temperature).

    `seen_spent`: the dyer stirred it in air until it stayed blue, which counts for more than the account. Below pH 9 a
    living vat is never soured; above it only after saying so twice (common practice, no source).
    """
    if makes_acid(account.bath) and not seen_spent and target_pH < LOWEST_LIVE_PH:
        return Block(_SULPHIDE, _OXIDISE, after=AFTER_ACID)
    if seen_spent or not account.is_alive:
        return Care("Window open, gloves and goggles, a little at a time.")
    if target_pH < LOWEST_LIVE_PH:
        return Block(_SULPHUR_DIOXIDE, _OXIDISE, after=AFTER_ACID)
    return Block(_SULPHUR_DIOXIDE, "Thin the vat with sharpened water instead.", final=False, after=AFTER_ACID)


def lye(pure_g: float, water_l: float, water_C: float, ceiling_C: float = LYE_CEILING_C) -> Block | Care | None:
    """Judge lye (g, pure) into water (L at water_C): never where it would come above the ceiling [CRCsolution].

    Raises `OutOfRange` for no water or temperatures of none.
    """
    if pure_g <= 0:
        return None
    reached = water_C + lye_rise(pure_g, water_l, water_C)
    if reached > ceiling_C:
        return Block(
            f"This lye would bring the water from {show_temperature(water_C)} to {show_temperature(reached)}: "
            "it spits and burns.",
            "Take more water, and cold.",
            after=AFTER_LYE,
        )
    if reached > WARM_C:
        return Care(f"The water comes to about {show_temperature(reached)}: a little at a time, stirring.")
    return None


AFTER_LYE = (
    "Stand back until it is calm and cool. Lye on the skin or in an eye: water, 15 minutes and more, clothes off, "
    "see a doctor."
)
"""First aid [SDSLye]."""


def water_onto_lye() -> Block:
    """Refuse water onto lye, always [SDSLye]."""
    return Block(
        "Water poured onto lye boils up and throws lye about.",
        "Water first: then the lye into it, slowly, stirring.",
        after=AFTER_LYE,
    )


_AFTER_DAMP = "Keep the vat in the open or the room aired, watch the tub from afar; it has less strength: read the vat."
"""Fresh air, and nothing that burns near it [ICSC1717]."""


def reducer_tub(state: TubState) -> Block | None:
    """Judge a tub of dithionite or thiourea dioxide before it is used [ICSC1717]."""
    if state is TubState.WARM:
        return Block(
            "Reducer that heats itself can catch fire and gives off sulphur dioxide.",
            "Leave it, do not open or move it, go out, air the room, call the fire service. "
            "A little water makes it worse.",
            after=_AFTER_DAMP,
        )
    if state is TubState.DAMP:
        return Block(
            "Damp reducer heats itself and can catch fire; it has also lost strength.",
            "Close it, stand it outdoors away from anything that burns, and take a dry tub. "
            "Ask the supplier's safety sheet how to get rid of it.",
            after=_AFTER_DAMP,
        )
    return None


NOTHING = "nothing"
"""What a correction does that comes to no amount at all."""

NO_WAIT = Fact(0.0, "practice")


@frozen
class Correction:
    """One thing to do about a finding."""

    finding: str
    remedy: str
    does: str
    text: str
    """What to do, with its amount."""
    wait: Fact
    """Minutes until one looks again, with the usual range."""
    wait_label: str
    source: str
    material: str = ""
    """Id on the shelf; empty where no powder or liquid goes in. For `dilute` it sharpens the water."""
    grams: float = 0.0
    """Of it, as weighed."""
    litres: float = 0.0
    """Of stock or water that goes in."""
    exchanges: bool = False
    """The tub has no room: as much liquor is taken out first."""
    water_l: float = 0.0
    """Water that a powder or liquid is thinned with, where it is enough to count."""
    out_l: float = 0.0
    """Liquor taken out first, because the tub has no room for what is poured in."""
    celsius: float | None = None
    """Temperature to come to."""
    how: str = ""
    sample: str = ""
    """The same on half a litre."""
    beside: str = ""
    """The other amount there is (table or chemistry), and what it costs."""
    first: str = ""
    """What must be so before it."""
    cautions: tuple[str, ...] = ()
    """Ids of the catalogue's cautions, to be acknowledged before it."""
    guard: Block | Care | None = None
    """What forbids it, or what to mind."""
    along: tuple[Correction, ...] = ()
    """Powders that go in before it, as one act with it."""

    @property
    def wait_min(self) -> float:
        """Minutes to set the timer to."""
        return self.wait.value

    @property
    def wait_text(self) -> str:
        """The wait with its usual range."""
        low, high = self.wait.low or self.wait.value, self.wait.high or self.wait.value
        if low == high:
            return show_minutes(self.wait.value) if self.wait.value else ""
        return f"{show_minutes(self.wait.value)} ({show_minutes(low)} to {show_minutes(high)})"


@frozen
class Vat:
    """All that a correction is worked out from."""

    plan: Plan
    account: Account
    setting: Setting
    reading: Reading = field(factory=Reading)
    cooling: Cooling | None = None
    confirmed: bool = False
    """The pH was read twice, with nothing put in between, and both agree."""


def nothing(plain: Correction, text: str) -> Correction:
    """Give the correction as one that comes to no amount, with the reason as its text."""
    return evolve(plain, does=NOTHING, text=text, wait=NO_WAIT, wait_label="")
