"""The shelf as the screens use it: what is owned, what this day needs of it, and what the dyer notes."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen

from vatside.catalogue.load import materials
from vatside.recipe.plan import Plan
from vatside.session.across.uses import material_of
from vatside.session.clock import Clock
from vatside.session.shelf.booking import book, taking
from vatside.session.shelf.cost import Cost, cost
from vatside.session.shelf.events import ItemFinished, ItemWeighed, PowderUsed, ShelfEvent
from vatside.session.shelf.shelf import Owned, Shelf
from vatside.session.shelf.store import ShelfFile
from vatside.session.shelf.supplies import HowMany, Need, how_many_more, needs, serves
from vatside.session.store import ReadOnly
from vatside.ui.desk import Desk
from vatside.units import Amount, Kind, Problem, parse_amount, show_mass, to_base

MOST_DAYS = 99


@frozen
class ForPlan:
    """What a day needs of the shelf."""

    plan: Plan
    needs: tuple[Need, ...]
    more: HowMany
    cost: Cost


class Powders:
    """The shelf, and the day that it is looked at for."""

    def __init__(self, file: ShelfFile, clock: Clock, desk: Desk | None = None, plan: Plan | None = None) -> None:
        self.file = file
        self.clock = clock
        self.desk = desk
        """The day on the bench; None where the shelf is only looked at for a plan, or for none."""
        self.days = 1
        """For how many such days is bought."""
        self._plan = plan
        self.unplaced = ""
        """What was used today, and nobody can tell from which bag."""
        self._worked: tuple[Plan, Shelf, ForPlan] | None = None

    @property
    def shelf(self) -> Shelf:
        """What is owned."""
        return self.file.shelf

    @property
    def plan(self) -> Plan | None:
        """The plan that it is looked at for."""
        return self.desk.plan if self.desk else self._plan

    @property
    def standing(self) -> str:
        """What is wrong for as long as it lasts."""
        return self.file.trouble or (f"reading only: {self.file.readonly}" if self.file.readonly else "")

    def for_plan(self) -> ForPlan | None:
        """Work out what the plan needs; None without a plan."""
        plan, shelf = self.plan, self.shelf
        if plan is None:
            return None
        if self._worked is None or self._worked[:2] != (plan, shelf):
            found = ForPlan(plan, needs(plan, shelf), how_many_more(plan, shelf), cost(plan, shelf))
            self._worked = (plan, shelf, found)
        return self._worked[2]

    def note(self, *events: ShelfEvent) -> str:
        """Note what happened to the shelf; give what went wrong."""
        if self.file.readonly:
            return f"Reading only: {self.file.readonly}."
        self.file.note(events, self.clock.now().utc)
        return f"{self.file.trouble}." if self.file.trouble else ""

    # What the dyer does

    def read_left(self, text: str) -> Amount | Problem:
        """Read what is left in a bag; nothing at all is an amount too."""
        if text.strip() in ("0", "0 g"):
            return Amount(0, "g")
        return parse_amount(text, Kind.MASS, unit="g")

    def weigh(self, owned: Owned, left: Amount) -> str:
        """Note what is left in a bag."""
        said = f"{owned.name}: {show_mass(to_base(left, Kind.MASS))} left."
        return self.note(ItemWeighed(owned.item.id, left)) or said

    def finish(self, owned: Owned) -> str:
        """Note that a bag is empty; or if it was said to be, that it is not."""
        if owned.finished:
            return self.note(ItemWeighed(owned.item.id, Amount(owned.left, "g"))) or f"{owned.name} is back."
        return self.note(ItemFinished(owned.item.id)) or f"{owned.name} is finished; x brings it back."

    def take(self, owned: Owned) -> str:
        """Take a bag into the plan of the day, with its purity and its spoon."""
        if self.desk is None:
            return "Open a day first: from its shelf (m, then o) a bag is taken into its plan."
        event = taking(self.desk.plan, owned)
        if event is None:
            return f"This day has no use for {owned.name}."
        try:
            self.desk.log(event)
        except ReadOnly as reason:
            return f"Reading only: {reason}."
        return f"The plan now uses {owned.name}; u in the day takes it back."

    def book(self) -> str:
        """Book what the day on the bench really used; say what was booked. Booking twice changes nothing."""
        if self.desk is None or self.file.readonly or not self.shelf.owned:
            return ""
        found = book(self.shelf, self.desk.keeping.session)
        self.unplaced = self._from_which(found.unplaced)
        if not found.events:
            return ""
        names = {owned.item.id: owned.name for owned in self.shelf.owned}
        said = _summed((names[use.item], use.grams) for use in found.events)
        return self.note(*found.events) or f"Booked as used: {said}."

    def _from_which(self, uses: tuple[PowderUsed, ...]) -> str:
        """Name what was used of something that stands on the shelf more than once."""
        plan, shelf = self.plan, self.shelf
        if plan is None:
            return ""
        there = [(material_of(plan, use.figure) or "", use.grams) for use in uses]
        owned = [(name, grams) for name, grams in there if any(serves(one, name) for one in shelf.there)]
        return _summed((materials()[name].name, grams) for name, grams in owned)


def _summed(parts: Iterable[tuple[str, float]]) -> str:
    """Say how much of what, each thing once."""
    sums: dict[str, float] = {}
    for name, grams in parts:
        sums[name] = sums.get(name, 0.0) + grams
    return ", ".join(f"{show_mass(grams)} of {name}" for name, grams in sums.items())
