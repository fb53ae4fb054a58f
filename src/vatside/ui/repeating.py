"""A day to be done again: how much fibre this time, and what is taken over from how it really went."""

from __future__ import annotations

from vatside.recipe.compute import compute
from vatside.recipe.fields import read
from vatside.recipe.measures import total_grams
from vatside.recipe.plan import Plan
from vatside.recipe.sheet import Sheet
from vatside.recipe.show import figure_text
from vatside.session.across.repeat import again, offers, repeat, scaled_lots
from vatside.session.session import Session
from vatside.session.state import fold
from vatside.units import Amount, Kind, Problem, parse_amount, show_mass, to_base


class Repeating:
    """What the dyer has chosen so far."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.old = fold(session).plan
        self.offers = offers(session)
        self.taken = {pin.figure for pin in self.old.pins} & {offer.path for offer in self.offers}
        """Paths of the offers taken over; what she held by hand is, until she refuses it."""
        self.grams = total_grams(self.old)
        self.title = again(self.old.title)
        self._worked: tuple[tuple[float, str, frozenset[str]], Plan, Sheet] | None = None
        """What follows from the choice, worked out once for each."""

    @property
    def plan(self) -> Plan:
        """The plan of the new day."""
        chosen = (self.grams, self.title, frozenset(self.taken))
        if self._worked is None or self._worked[0] != chosen:
            lots = self.old.lots if self.grams == total_grams(self.old) else scaled_lots(self.old, self.grams)
            plan = repeat(self.session, sorted(self.taken), self.title, lots)
            self._worked = (chosen, plan, compute(plan))
        return self._worked[1]

    def becomes(self, path: str) -> str:
        """Print what a figure will be on the new day; empty if the new day has no such figure."""
        plan = self.plan
        assert self._worked is not None
        figure = next((figure for figure in self._worked[2].figures if figure.id == path), None)
        return figure_text(figure, plan).main if figure else ""

    def turn(self, path: str) -> None:
        """Take an offer over, or leave it."""
        self.taken ^= {path}

    def turn_all(self) -> None:
        """Take everything over, or if all of it is, nothing."""
        every = {offer.path for offer in self.offers}
        self.taken = set() if self.taken == every else every

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
        """Say what the lots become."""
        lots = scaled_lots(self.old, grams)
        return "; ".join(f"{lot.name} {show_mass(to_base(lot.mass, Kind.MASS))}, pieces: {lot.pieces}" for lot in lots)

    def read_title(self, text: str) -> str | Problem:
        """Read what the new day is called."""
        value = read(self.old, "title", text)
        return value if isinstance(value, Problem) else str(value)
