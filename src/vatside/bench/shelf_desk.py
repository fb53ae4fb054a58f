"""The shelf as the screens use it: what is owned, what this day needs, what the dyer notes, and a form of it.

The fields of a form are read one by one, and noted as they are left.
"""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen

from vatside.bench.desk import Desk
from vatside.clocks.clock import Clock
from vatside.forms.field import Draft, Field
from vatside.log.fold import State, fold
from vatside.log.state import Session, is_over
from vatside.plan.figure_text import show_weighed
from vatside.plan.plan import FieldValue, Plan
from vatside.shelf.booking import Question, book, booked_words, by_bag
from vatside.shelf.cost import Cost, day_cost, went_in
from vatside.shelf.events import ItemFinished, ItemWeighed, Noted, NoteDropped, PowderUsed, ShelfEvent
from vatside.shelf.plan_and_bag import Disagreement, disagreements, why_not
from vatside.shelf.shelf import Owned, Shelf, event_words
from vatside.shelf.shelf_file import ShelfFile
from vatside.shelf.supplies import HowMany, Need, Taken, how_many_more, needs, taken, taking
from vatside.storage.session_file import ReadOnly
from vatside.units import Amount, Kind, to_base


class ShelfDraft(Draft):
    """A form of the shelf: what was typed is noted when it is left."""

    title = ""

    def __init__(self, powders: ShelfDesk) -> None:
        super().__init__()
        self.powders = powders
        self.typed: dict[str, FieldValue] = {}
        """What was typed and is not noted yet."""

    def noted(self, path: str) -> FieldValue:
        """What stands in a row as long as nothing is typed there."""
        raise NotImplementedError

    def value(self, path: str) -> FieldValue:
        """What stands in a row."""
        return self.typed[path] if path in self.typed else self.noted(path)

    def text(self, field: Field) -> str:
        """Print what stands in a row; money with two decimals, or as many more as there are."""
        value = self.value(field.path)
        if field.kind is Kind.NUMBER and isinstance(value, Amount) and round(value.value, 2) == value.value:
            return f"{value.value:.2f}"
        return super().text(field)

    def take(self, path: str, value: FieldValue) -> None:
        """Keep it until it is noted."""
        self.typed[path] = value

    def refuse(self, path: str) -> None:
        """Forget the value of a row whose text can no longer be read: `52` was only the beginning of `523x`."""
        self.typed.pop(path, None)

    def working(self) -> tuple[str, ...]:
        """What follows from the rows, in words."""
        return ()

    @property
    def question(self) -> str:
        """What is asked once before the form is left; empty if nothing is."""
        return ""

    def settle(self) -> str:
        """Note what was typed so far; say what went wrong."""
        raise NotImplementedError

    @property
    def backwards(self) -> str:
        """What leaving it does, in a word or two."""
        return "back"

    def finish(self) -> str:
        """Note everything, as the form is left; say how that went."""
        return self.settle()


MOST_DAYS = 99


@frozen
class ForPlan:
    """What a day needs of the shelf."""

    needs: tuple[Need, ...]
    more: HowMany
    cost: Cost
    disagreements: tuple[Disagreement, ...]
    went: Mapping[str, float]
    """Grams of each material that are in, so that nobody buys them; of a day that is over none: the next is meant."""


class ShelfDesk:
    """The shelf, and the day that it is looked at for."""

    def __init__(self, file: ShelfFile, clock: Clock, desk: Desk | None = None, day: Session | None = None) -> None:
        self.file = file
        self.clock = clock
        self.desk = desk
        """The day on the bench; None where the shelf is only looked at for a day, or for none."""
        self.days = 1
        """For how many such days is bought."""
        self._state = fold(day) if day else None
        self._day = day
        self.questions: tuple[Question, ...] = ()
        """What was used today, and nobody can tell from which bag."""
        self._mine: list[tuple[str, tuple[Noted, ...]]] = []
        """What the dyer noted since the shelf was opened, in words and as entries; bookings are not hers."""
        self._worked: tuple[Plan, Shelf, Taken, int, ForPlan] | None = None

    @property
    def shelf(self) -> Shelf:
        """What is owned."""
        return self.file.shelf

    @property
    def plan(self) -> Plan | None:
        """The plan that it is looked at for."""
        return self.state.plan if self.state else None

    @property
    def state(self) -> State | None:
        """The day that it is looked at for, as it stands."""
        return self.desk.state if self.desk else self._state

    @property
    def standing(self) -> str:
        """What is wrong for as long as it lasts."""
        return self.file.trouble or (f"reading only: {self.file.readonly}" if self.file.readonly else "")

    @property
    def taken(self) -> Taken:
        """The bags that the plan of the day holds."""
        return taken(self.state) if self.state else {}

    def for_plan(self) -> ForPlan | None:
        """Work out what the plan needs; None without a plan."""
        day = self.desk.keeping.session if self.desk else self._day
        state, plan, shelf, held = self.state, self.plan, self.shelf, self.taken
        if plan is None or state is None or day is None:
            return None
        seq = day.seq
        if self._worked is None or self._worked[:4] != (plan, shelf, held, seq):
            for_plan = ForPlan(
                needs(plan, shelf, held), how_many_more(plan, shelf, held),
                day_cost(day, shelf), disagreements(plan, shelf, held), {} if is_over(state) else went_in(day),
            )  # fmt: skip
            self._worked = (plan, shelf, held, seq, for_plan)
        return self._worked[4]

    @property
    def in_plan(self) -> frozenset[str]:
        """Ids of the bags that the plan weighs from, as they are."""
        for_plan = self.for_plan()
        if for_plan is None:
            return frozenset()
        others = {one.owned.item.id for one in for_plan.disagreements if one.owned}
        return frozenset(need.bag.item.id for need in for_plan.needs if need.bag) - others

    def note(self, *events: ShelfEvent) -> str:
        """Note what the dyer says of the shelf, to be taken back if she wants; give what went wrong."""
        before = self.shelf
        trouble = self._note(*events)
        if not self.file.readonly:
            words = ", ".join(dict.fromkeys(event_words(event, before) for event in events))
            self._mine.append((words, self.file.latest))
        return trouble

    def _note(self, *events: ShelfEvent) -> str:
        if self.file.readonly:
            return str(ReadOnly(self.file.readonly))
        self.file.note(events, self.clock.now().utc)
        return f"{self.file.trouble}." if self.file.trouble else ""

    def take_back(self) -> str:
        """Take back what was noted last since the shelf was opened; say what."""
        if not self._mine:
            return "Nothing was written down since the shelf was opened."
        words, entries = self._mine[-1]
        trouble = self._note(*(NoteDropped(entry.id) for entry in entries))
        if not self.file.readonly:
            self._mine.pop()
        return trouble or f"Taken back: {words}."

    # What the dyer does

    def weigh(self, owned: Owned, left: Amount) -> str:
        """Note what is left in a bag."""
        sentence = f"{owned.name}: {show_weighed(owned.item.material, to_base(left, Kind.MASS))} left."
        return self.note(ItemWeighed(owned.item.id, left)) or sentence

    def finish(self, owned: Owned) -> str:
        """Note that a bag is empty; or if it was said to be, that it is not."""
        if owned.finished:
            return self.note(ItemWeighed(owned.item.id, Amount(owned.left, "g"))) or f"{owned.name} is back."
        return self.note(ItemFinished(owned.item.id)) or f"{owned.name} is finished; x brings it back."

    def take(self, *bags: Owned) -> str:
        """Take bags into the plan of the day, with their purity and their spoon."""
        if self.desk is None:
            return "Open a day first: from its shelf (o twice) a bag is taken into its plan."
        finished = [owned.name for owned in bags if owned.finished]
        if finished:
            return f"{finished[0]} is finished; x brings it back."
        for owned in bags:
            event = taking(self.desk.plan, owned)
            if event is None:
                return f"This day has no use for {owned.name}."
            refused = why_not(self.desk.plan, event)
            if refused:
                return f"{owned.name} cannot go into this plan as it is. {refused}."
            try:
                self.desk.log(event)
            except ReadOnly as reason:
                return str(reason)
        names = ", ".join(owned.name for owned in bags)
        return f"The plan now uses {names}; u in the day takes it back."

    def match(self) -> str:
        """Take every bag into the plan whose purity or spoon differs from what the plan counts on."""
        for_plan = self.for_plan()
        bags = [one.owned for one in for_plan.disagreements if one.owned] if for_plan else []
        if bags:
            return self.take(*bags)
        return (
            "space on a bag takes it into the plan."
            if for_plan and for_plan.disagreements
            else "Plan and shelf say the same."
        )

    def book(self) -> str:
        """Book what the day on the bench really used; say what was booked and what nobody can tell. Twice is once."""
        if self.desk is None or self.file.readonly or not self.shelf.owned:
            return ""
        booking = book(self.shelf, self.desk.keeping.session)
        self.questions = tuple(question for question in booking.questions if question.bags(self.shelf))
        asks = ", ".join(question.words for question in self.questions)
        asked = f"From which bag: {asks}? j on the day's shelf (o twice) says it." if asks else ""
        booked = self._booked(booking.events)
        trouble = self._note(*booking.events) if booking.events else ""
        return trouble or " ".join(filter(None, (booked, asked)))

    def _booked(self, uses: tuple[PowderUsed, ...]) -> str:
        words = booked_words(self.shelf, uses)
        return f"Booked as used: {words}." if words else ""

    def which(self) -> tuple[Question, ...]:
        """Give what can be asked about the day on the bench: what is open first, else what is booked."""
        return self.questions or (by_bag(self.shelf, self.desk.state.session) if self.desk else ())

    def answer(self, question: Question, item: str) -> str:
        """Note which bag it came from; empty: from none on this shelf."""
        trouble = self.note(*question.answered(item))
        self.book()
        grams = show_weighed(question.material, question.grams)
        return trouble or f"Booked: {grams} from {self.shelf[item].name if item else 'elsewhere'}."
