"""Booking on the shelf what a session really used; booking twice changes nothing."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve, frozen

from vatside.catalogue.load import materials
from vatside.days.done import Added, added
from vatside.log.fold import State, fold
from vatside.log.state import Session
from vatside.plan.figure_text import show_weighed
from vatside.shelf.events import Noted, PowderUsed
from vatside.shelf.shelf import Owned, Shelf
from vatside.shelf.shelf import shelf as fold_shelf
from vatside.shelf.supplies import only_one, serves, takings
from vatside.storage.places import SAMPLE_ID

DECIMALS = 3
"""Grams are booked to the milligram, so that the same use always comes out as the same number. Ours."""


@frozen
class Question:
    """What a session used of one material: from which bag? Asked where the shelf cannot tell, or to be put right."""

    material: str
    uses: tuple[PowderUsed, ...]
    """Their `item` is empty, or the bag that they were booked from."""

    @property
    def grams(self) -> float:
        """As weighed, all together."""
        return sum(use.grams for use in self.uses)

    @property
    def words(self) -> str:
        """What was used, of which nobody can tell the bag."""
        return f"{show_weighed(self.material, self.grams)} of {materials()[self.material].name}"

    def bags(self, shelf: Shelf) -> tuple[Owned, ...]:
        """Give what it can have come from; the likeliest first: bags of that very material, then what is left."""
        bags = [owned for owned in shelf.owned if serves(owned, self.material)]
        return tuple(sorted(bags, key=lambda owned: (owned.item.material != self.material, owned.finished)))

    def answered(self, item: str) -> tuple[PowderUsed, ...]:
        """Give the uses as they came from an item; empty: from no bag of this shelf."""
        return tuple(evolve(use, item=item) for use in self.uses)


@frozen
class Booking:
    """What is to be noted on the shelf for a session."""

    events: tuple[PowderUsed, ...]
    """New or put right; empty if all is booked."""
    questions: tuple[Question, ...]


NOTHING = Booking((), ())


def as_booked(shelf: Shelf, booking: Booking) -> Shelf:
    """Give the shelf as it will be once a booking is noted; nothing is written."""
    if not booking.events:
        return shelf
    seq = max(entry.seq for entry in shelf.noted)
    more = (
        Noted(seq + at, f"to-book-{at}", use.used, use) for at, use in enumerate(booking.events, start=1)
    )  # fmt: skip
    return fold_shelf((*shelf.noted, *more))


def sums_by_bag(uses: tuple[PowderUsed, ...]) -> dict[str, float]:
    """Grams of each bag, by its id."""
    sums: dict[str, float] = {}
    for use in uses:
        sums[use.item] = sums.get(use.item, 0.0) + use.grams
    return sums


def booked_words(shelf: Shelf, uses: tuple[PowderUsed, ...]) -> str:
    """Say what is booked, bag by bag."""
    bags = {owned.item.id: owned for owned in shelf.owned}
    return ", ".join(
        f"{show_weighed(bags[item].item.material, grams)} of {bags[item].name}"
        for item, grams in sums_by_bag(uses).items() if item in bags
    )  # fmt: skip


def book(shelf: Shelf, session: Session) -> Booking:
    """Compare what a session used with what the shelf knows of it, step by step and figure by figure.

    A copy of a sample used nothing. A copy of another session uses what came after it was copied.
    """
    if session.id.startswith(SAMPLE_ID):
        return Booking((), ())
    state = fold(session)
    known = {(use.step, use.figure): use for use in booked(shelf, session.id)}
    copied = {(use.step, use.figure, use.used) for use in _all(shelf) if use.session != session.id and use.grams}
    events: list[PowderUsed] = []
    questions: dict[str, list[PowderUsed]] = {}
    used = {(item.use.step, item.use.figure): item for item in added(session)}
    for key, item in used.items():
        use, old = _use(state, item), known.get(key)
        if old is None and (*key, use.used) in copied:
            continue
        place = _place(shelf, state, item, old)
        if place is None:
            questions.setdefault(item.use.material, []).append(use)
        elif old is None or _differs(old, evolve(use, item=place)):
            events.append(evolve(use, item=place))
    events.extend(evolve(old, grams=0.0) for key, old in known.items() if key not in used and old.grams)
    return Booking(tuple(events), tuple(Question(material, tuple(uses)) for material, uses in questions.items()))


def booked(shelf: Shelf, session: str) -> tuple[PowderUsed, ...]:
    """Give what the shelf knows that a session used, also from elsewhere; nought grams for what was taken back."""
    return tuple(use for use in _all(shelf) if use.session == session)


def by_bag(shelf: Shelf, session: str) -> tuple[Question, ...]:
    """Give what is booked for a session, bag by bag, as questions that could be answered anew."""
    questions: list[Question] = []
    for owned in shelf.owned:
        uses = tuple(use for use in owned.uses if use.session == session and use.grams)
        questions += [Question(owned.item.material, uses)] if uses else []
    return tuple(questions)


def _all(shelf: Shelf) -> Iterator[PowderUsed]:
    for owned in shelf.owned:
        yield from owned.uses
    yield from shelf.elsewhere


def _use(state: State, item: Added) -> PowderUsed:
    grams = round(item.use.grams, DECIMALS)
    return PowderUsed("", state.session, state.plan.title, item.use.step, item.use.figure, grams, item.at.utc)


def _differs(old: PowderUsed, new: PowderUsed) -> bool:
    """The day's title may change without anything being used."""
    return evolve(old, title="", used=new.used) != evolve(new, title="")


def _place(shelf: Shelf, state: State, item: Added, old: PowderUsed | None) -> str | None:
    """Find the item that a use came from: as booked before, or as taken into the plan, or the only one there was.

    What was booked stays with its bag when the plan goes over to another one; what was taken back is placed anew.
    """
    if old is not None and old.grams:
        return old.item
    chosen = _taken(shelf, state, item)
    if chosen is not None:
        return chosen.item.id if _was_there(chosen, item) else None
    there = [owned for owned in shelf.owned if owned.item.material == item.use.material and not owned.finished]
    only = only_one(there, state.plan, item.use.material, lambda owned: _was_there(owned, item))
    return only.item.id if only is not None else old.item if old is not None else None


def _taken(shelf: Shelf, state: State, item: Added) -> Owned | None:
    """Find the item that was taken into the plan when the step was done; if none was yet, the next one.

    None if it is not on this shelf.
    """
    mine = [taking for taking in takings(state) if taking.material == item.use.material]
    before = [taking for taking in mine if taking.at <= item.at.utc]
    chosen = before[-1] if before else mine[0] if mine else None
    return next((owned for owned in shelf.owned if chosen and owned.item.id == chosen.item), None)


def _was_there(owned: Owned, item: Added) -> bool:
    """A bag bought on a later day was not used; local days, as the dyer wrote hers down."""
    bought = owned.item.bought
    return bought is None or bought <= f"{item.at.utc.astimezone():%Y-%m-%d}"
