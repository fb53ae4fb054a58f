"""A day to be done again: how much fibre this time, and what is taken over from how it really went."""

from __future__ import annotations

from collections.abc import Collection

from attrs import evolve

from vatside.days.lots import FILL, STRENGTH, fibre_ratio, fill_for, is_same, scaled_lots
from vatside.days.repeat import Offer, again, free_title, offers, repeat
from vatside.days.why_apart import Told, before_and_after
from vatside.forms.fields import read
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.plan.figure_text import figure_text
from vatside.plan.measures import total_grams
from vatside.plan.plan import Learned, Lot, Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute
from vatside.units import Amount, Kind, Problem, parse_amount, show_mass, to_base


class Repeating:
    """What the dyer has chosen so far."""

    def __init__(self, session: Session, titles: Collection[str] = (), learned: tuple[Learned, ...] = ()) -> None:
        self.session = session
        self.old = fold(session).plan
        self.was = compute(self.old)
        self.learned = learned
        """What the dyer's own results say by now."""
        self.taken = {pin.figure for pin in self.old.pins} | {FILL}
        """Paths taken over if they are offered; what she held by hand is, and the same g/L, until she refuses it."""
        self.grams = total_grams(self.old)
        """As asked for; whole pieces may come to more or less."""
        self.title = free_title(again(self.old.title), titles)
        self._offered: tuple[float, tuple[Offer, ...]] | None = None
        self._worked: tuple[tuple[float, str, frozenset[str]], Plan, Sheet] | None = None
        """What follows from the choice, worked out once for each."""

    @property
    def lots(self) -> tuple[Lot, ...]:
        """The lots of the new day."""
        return self.old.lots if self.grams == total_grams(self.old) else scaled_lots(self.old, self.grams)

    @property
    def offers(self) -> tuple[Offer, ...]:
        """What can be taken over for so much fibre."""
        if self._offered is None or self._offered[0] != self.grams:
            self._offered = (self.grams, offers(self.session, self.lots))
        return self._offered[1]

    @property
    def chosen(self) -> frozenset[str]:
        """Paths of the offers that are taken over."""
        return frozenset(self.taken & {offer.path for offer in self.offers})

    @property
    def plan(self) -> Plan:
        """The plan of the new day."""
        return self._work()[0]

    def _work(self) -> tuple[Plan, Sheet]:
        chosen = (self.grams, self.title, self.chosen)
        if self._worked is None or self._worked[0] != chosen:
            plan = repeat(self.session, sorted(self.chosen), self.title, self.lots)
            plan = evolve(plan, learned=self.learned)
            self._worked = (chosen, plan, compute(plan))
        return self._worked[1:]

    def becomes(self, path: str) -> str:
        """Print what a figure will be on the new day; empty if the new day has no such figure."""
        plan, sheet = self._work()
        figure = next((figure for figure in sheet.figures if figure.id == path), None)
        return figure_text(figure, plan).main if figure else ""

    def blue(self, arrow: str) -> tuple[Told, ...]:
        """Say what the vat comes to, beside what that day's plan came to; and if the tub is too small for the same."""
        lines = tuple(before_and_after(self.was, self._work()[1], self.lots, arrow))
        differs = not is_same(self.was.value(STRENGTH), self._work()[1].value(STRENGTH))
        small = differs and fibre_ratio(self.old, self.lots) > 1 and fill_for(self.old, self.lots) is None
        return (*lines, ("The tub holds no more liquor for so much fibre", True)) if small else lines

    def turn(self, path: str) -> None:
        """Take an offer over, or leave it."""
        self.taken ^= {path}

    def turn_all(self) -> None:
        """Take everything over, or if all of it is, nothing."""
        every = {offer.path for offer in self.offers}
        self.taken = set() if self.chosen == every else every

    def read_grams(self, text: str) -> float | Problem:
        """Read how much fibre there is this time; a Problem if that cannot be made of the old lots."""
        amount = parse_amount(text, Kind.MASS, unit="g")
        if not isinstance(amount, Amount):
            return amount
        grams = to_base(amount, Kind.MASS)
        try:
            scaled_lots(self.old, grams)
        except ValueError as error:
            return Problem(f"{error}.")
        return grams

    def scaled_words(self, grams: float) -> str:
        """Say what the lots become, in whole pieces, and what that weighs."""
        lots = self.old.lots if grams == total_grams(self.old) else scaled_lots(self.old, grams)
        texts = (f"{lot.name} {show_mass(to_base(lot.mass, Kind.MASS))}, pieces: {lot.pieces}" for lot in lots)
        comes_to = show_mass(total_grams(evolve(self.old, lots=lots)))
        whole = f". In whole pieces that is {comes_to}" if comes_to != show_mass(grams) else ""
        return f"{'; '.join(texts)}{whole}"

    def read_title(self, text: str) -> str | Problem:
        """Read what the new day is called."""
        value = read(self.old, "title", text)
        return value if isinstance(value, Problem) else str(value)
