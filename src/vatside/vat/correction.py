"""A correction as a value, and all that it is worked out from."""

from __future__ import annotations

from attrs import evolve, field, frozen

from vatside.catalogue.values import Fact
from vatside.plan.plan import Plan
from vatside.recipe.cooling import Cooling
from vatside.recipe.vat_needs import Setting
from vatside.units import show_minutes
from vatside.vat.account import Account
from vatside.vat.interlocks import Block, Care
from vatside.vat.reading import Reading

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
