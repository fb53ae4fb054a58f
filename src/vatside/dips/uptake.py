"""How much indigo one dip lays on, how the vat weakens by it, and what the day has done to vat and pieces so far.

A dip lays grams on a kilogram of dry fibre in two ways: the liquor that the fibre carries out turns blue on it, and dye
goes on by the fibre's own pull, which levels off with strength and with time. What is on the fibre already hinders
both, so that nothing exceeds its ceiling:

    laid = factor × (carried × c + pull × c ÷ (c + half) × (1 − e^(−√(t ÷ time)))) × (1 − on ÷ ceiling)

The form is ours; its numbers are fitted to the practice table of the catalogue, which is common practice without a
source [fit]. Below 0.1 g/L and above 3 g/L nothing was fitted, and a mill's rope of many quick dips takes up twice as
much as it says.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import exp, sqrt

from attrs import evolve, field, frozen

from vatside.catalogue.dyeing import reducer_shares, uptakes
from vatside.catalogue.values import Fibre
from vatside.chemistry.bath import Bath

CLOSE_ENOUGH = 0.95
"""A depth counts as reached from this share on: less than a just visible difference."""
MOST_DIPS = 30
"""Nobody dips more often: a judgement of our own."""
WORTH_A_DIP = 0.01
"""A dip that adds less than this share of what is wanted is not worth it: a judgement of our own."""


def pull_share(minutes: float, time: float) -> float:
    """Give the share of a fibre's own pull that a dip of some minutes brings: by the root of time, towards 1."""
    return 1 - exp(-sqrt(max(minutes, 0.0) / time)) if time > 0 else 1.0


@frozen
class Law:
    """What a fibre takes in a dip of one length."""

    carried: float
    """Litres it holds after pressing, for each kilogram."""
    pull: float
    """Most that goes on by itself in this dip, g/kg: the fibre's pull as far as the dip's time lets it level off."""
    half: float
    """Strength at which half of that goes on, g/L."""
    ceiling: float
    """g/kg."""
    rinsed: float
    """Share of what is laid on that the rinses take off again."""
    factor: float = 1.0
    """The reducer's share and the dyer's own results."""

    def laid(self, strength: float, on: float = 0.0) -> float:
        """Give grams laid on a kilogram in one dip from a large vat (g/L), with so much on it already (g/kg)."""
        if strength <= 0:
            return 0.0
        own = self.pull * strength / (strength + self.half)
        return self.factor * (self.carried * strength + own) * max(1 - on / self.ceiling, 0.0)

    def stays(self, strength: float, on: float = 0.0) -> float:
        """Give what of that is left after rinsing, g/kg."""
        return (1 - self.rinsed) * self.laid(strength, on)

    def times(self, factor: float) -> Law:
        """Give the law of a fibre that takes so many times as much."""
        return evolve(self, factor=self.factor * factor)


def law_of(fibre: Fibre, minutes: float, reducer: str, *, carried: float | None = None, factor: float = 1.0) -> Law:
    """Give the law for a fibre in dips of some minutes, by the catalogue; `reducer` is a substance.

    `carried` (L/kg) takes the place of the water that the fibre holds; `factor` is the dyer's own.
    """
    facts, share = uptakes()[fibre.group], reducer_shares().get(reducer)
    return Law(
        carried=fibre.held.value / 100 if carried is None else carried,
        pull=facts.pull.value * pull_share(minutes, facts.time.value),
        half=facts.half.value,
        ceiling=facts.ceiling.value,
        rinsed=facts.rinsed.value / 100,
        factor=factor * (share.value if share else 1.0),
    )


@frozen
class Tank:
    """A vat as litres and strength, for looking ahead; the account of the liquor knows it better."""

    litres: float
    strength: float
    """Reduced indigotin, g/L."""

    @property
    def grams(self) -> float:
        """Indigotin in it, g."""
        return self.litres * self.strength


@frozen
class Entry:
    """What one entry did."""

    tank: Tank
    laid: tuple[float, ...]
    """On each piece, before rinsing, g/kg."""
    share: float
    """Of the vat's dye that the pieces would take if it did not weaken: above a third, they come out unlike."""


def enter(tank: Tank, pieces: Sequence[tuple[Law, float, float]]) -> Entry:
    """Dip some pieces together once; each is its law, its dry mass (kg) and what is on it already (g/kg).

    What is laid on them is what the vat has lost. The pieces take their own aired liquor back in, so the litres stay.
    """
    wanted = [law.laid(tank.strength, on) * kg for law, kg, on in pieces]
    total, grams = sum(wanted), tank.grams
    if total <= 0 or grams <= 0:
        return Entry(tank, (0.0,) * len(pieces), 0.0)
    share = total / grams
    taken = grams * (1 - exp(-share))
    laid = tuple(want * taken / total / kg if kg else 0.0 for want, (_, kg, _) in zip(wanted, pieces, strict=True))
    return Entry(Tank(tank.litres, (grams - taken) / tank.litres), laid, share)


@frozen
class PieceSoFar:
    """A piece that has been in the vat."""

    depth: float = 0.0
    """Indigotin on it after rinsing, by the account of the vat, %."""
    rinsed_g: float = 0.0
    """What the rinses will take off again, g."""
    dips: int = 0
    """Ended ones."""
    done: bool = False
    """It has had its last dip."""


@frozen
class CameOut:
    """The colour that a lot came out with, as the dyer recorded it."""

    depth: float
    """%, read off the ladder."""
    words: str
    """How it stands to the depth wanted."""


@frozen
class SoFar:
    """Everything that the log knows and the plan does not."""

    tank: Tank | None = None
    """The vat as its account has it now; None while it has none."""
    pieces: Mapping[str, PieceSoFar] = field(factory=dict)
    """By `LOT.NUMBER`; one that is not here has not been in yet."""
    colours: Mapping[str, CameOut] = field(factory=dict)
    """By lot id."""
    corrected: str = ""
    """The pH by the account of a vat into which more went than the plan has; empty for a vat as planned."""
    stands: float | None = None
    """Its pH in the vat: the one read since, or else the account's; None where `corrected` is empty."""
    spent: Bath | None = None
    """The vat by its account, as it is once air has spent it, at 25 degrees C; None while it is as planned."""
    at_least: Mapping[str, int] = field(factory=dict)
    """Dips in all that a piece has at least, whatever its depth takes, by `LOT.NUMBER`: it is in once more, or the
    dyer wants it."""
    gone_in: frozenset[str] = frozenset()
    """Figures whose amount was weighed, drawn or warmed in a step that is done: nothing changes them any more."""
    ended: bool = False
    """The vat was seen to stay blue, or was let go: nothing of it is kept."""
    entries: int = 0
    """That are over; 0 where the log has none or lots were written down as a whole."""

    def of(self, lot: str, number: int) -> PieceSoFar:
        """Give one piece of a lot, counted from 1."""
        return self.pieces.get(f"{lot}.{number}", PieceSoFar())


NOTHING = SoFar()
"""Before the day begins."""
