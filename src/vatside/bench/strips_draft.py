"""Two strips side by side, while they are being typed: how a new lot of pigment strikes beside one that is known."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import evolve

from vatside.bench.shelf_desk import ShelfDesk, ShelfDraft
from vatside.chemistry.colour import Lab
from vatside.dips.depth import Picked
from vatside.forms.field import Field, refused
from vatside.plan.measures import powder
from vatside.plan.plan import FieldValue
from vatside.plan.sheet import CARE, Stage
from vatside.shelf.events import HOW_TO_WRITE, Dyed, Strike, read_seen, strike, struck
from vatside.shelf.shelf import Owned, share_of
from vatside.shelf.supplies import serves
from vatside.units import Amount, Kind, Problem, show_amount, show_percent, to_base

OLD, COUNTS, OLD_BATH, OLD_SEEN, NEW_BATH, NEW_SEEN = "old", "counts", "old_bath", "old_seen", "new_bath", "new_seen"
USUAL_BATH = Amount(2, "g/L")
"""Powder in the bath of a strip: about what a dark vat holds. Ours, no source."""
NO_BAG = "none"
_AT = Stage.PLAN

_BATH = Field("", "", _AT, Kind.CONCENTRATION, "g/L", 0.01, 100, help="of it in the bath of its strip, as weighed")
_ROWS = (
    Field(COUNTS, "It counts as", _AT, Kind.PERCENT, "%", 1, 100, help="as your plans have dosed it"),
    evolve(_BATH, path=OLD_BATH, label="Powder of it"),
    Field(OLD_SEEN, "Its strip", _AT, optional=True, help=HOW_TO_WRITE),
    evolve(_BATH, path=NEW_BATH, label="Powder of the new"),
    Field(NEW_SEEN, "New strip", _AT, optional=True, help=f"dry, same fibre, same dips: {HOW_TO_WRITE}"),
)


class StripsDraft(ShelfDraft):
    """The rows for two strips; the strike is noted when they are left, if both have a colour."""

    def __init__(self, powders: ShelfDesk, owned: Owned) -> None:
        super().__init__(powders)
        self.new = owned
        self.title = f"Two strips: {owned.name} beside a batch you know"
        self.others = tuple(
            bag for bag in powders.shelf.owned
            if bag.item.id != owned.item.id and serves(bag, owned.item.material)
        )  # fmt: skip

    def fields(self) -> Iterator[Field]:
        """The lot that is known, its strip, the new strip."""
        names = (*((bag.item.id, bag.name) for bag in self.others), (NO_BAG, "one that is gone"))
        yield Field(OLD, "The batch you know", _AT, choices=names)
        yield from _ROWS

    def noted(self, path: str) -> FieldValue:
        """What is taken if nothing is typed."""
        if path == OLD:
            return self.others[0].item.id if self.others else NO_BAG
        if path == COUNTS:
            return Amount(round(100 * self._known(), 2), "%")
        return USUAL_BATH if path in (OLD_BATH, NEW_BATH) else None

    def _known(self) -> float:
        """What the old lot counts as: its bag's dose, or else the plan's."""
        chosen = self.value(OLD)
        for bag in self.others:
            if bag.item.id == chosen:
                return bag.purity
        plan = self.powders.plan
        return powder(plan, self.new.item.material).purity if plan else share_of(self.new.item.purity)

    def hint(self, path: str) -> str:
        """Say what to do."""
        return "dip it, dry it, measure it" if path in (OLD_SEEN, NEW_SEEN) else ""

    def read(self, path: str, text: str) -> FieldValue | Problem:
        """Read a row; a colour stays as it was typed."""
        typed = text.strip()
        seen = read_seen(typed) if typed and path in (OLD_SEEN, NEW_SEEN) else None
        return refused(self.field(path), seen.text) if isinstance(seen, Problem) else super().read(path, typed)

    def take(self, path: str, value: FieldValue) -> None:
        """Keep a value; where another known lot is chosen, forget what the one before counted as."""
        super().take(path, value)
        if path == OLD:
            self.typed.pop(COUNTS, None)

    def _strike(self) -> Strike | str:
        """The strike, or why there is none yet."""
        old, new = self._seen(OLD_SEEN), self._seen(NEW_SEEN)
        if old is None or new is None:
            return "Dip two strips of one fibre alike, one of each batch; dry them; write down both colours."
        label = share_of(self.new.item.purity)
        try:
            return strike(
                Dyed(self._amount(OLD_BATH), self._amount(COUNTS) / 100, old), Dyed(self._amount(NEW_BATH), label, new)
            )
        except ValueError as error:
            return f"{error}"

    def _seen(self, path: str) -> Lab | Picked | None:
        typed = self.typed.get(path)
        colour = read_seen(typed) if isinstance(typed, str) and typed else None
        return None if isinstance(colour, Problem) else colour

    def _amount(self, path: str) -> float:
        value, kind = self.value(path), self.field(path).kind
        assert isinstance(value, Amount)
        assert kind is not None
        return to_base(value, kind)

    def working(self) -> tuple[str, ...]:
        """How the strike follows, or what is still wanted."""
        outcome = self._strike()
        if isinstance(outcome, str):
            return (outcome,)
        return (*outcome.working, *([f"{CARE.opening}{outcome.caution}"] if outcome.caution else ()))

    @property
    def backwards(self) -> str:
        """Leaving it with both colours notes the strike."""
        return "back" if isinstance(self._strike(), str) or self.wrong else "note the strength"

    def settle(self) -> str:
        """Nothing is noted before both strips have been looked at; see `finish`."""
        return ""

    def finish(self) -> str:
        """Note the strike; say how that went."""
        outcome = self._strike()
        if isinstance(outcome, str) or self.wrong:
            return ""
        trouble = self.powders.note(struck(self.new.item.id, outcome))
        counts = show_percent(100 * self.powders.shelf[self.new.item.id].purity) if not trouble else ""
        strength = show_amount(outcome.percent)
        return trouble or f"{self.new.name}: strength {strength}, it counts as {counts}. space takes it in."
