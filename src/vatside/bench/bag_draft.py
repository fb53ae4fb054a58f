"""What is written down of a bag on the shelf, or of the prices, while it is being typed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any
from uuid import uuid4

from attrs import evolve

from vatside.bench.shelf_desk import ShelfDesk, ShelfDraft
from vatside.catalogue.load import materials
from vatside.forms.field import Field, read
from vatside.plan.figure_text import show_weighed
from vatside.plan.measures import BY_VOLUME
from vatside.plan.plan import FieldValue
from vatside.plan.sheet import CARE, Stage
from vatside.shelf.events import Item, ItemBought, ItemChanged, ItemWeighed, PriceSet, ShelfEvent
from vatside.shelf.item_fields import DETAILS, LEFT, PRICES, clash, doubtful, read_detail
from vatside.shelf.shelf import Owned
from vatside.units import Amount, Kind, Problem, show_amount, show_mass, to_base

TEN = Field("@ten", "Ten tsp weigh", Stage.PLAN, Kind.MASS, "g", 1, 500, optional=True,
            help="ten level teaspoons on the scale, struck off with a knife, not pressed: 26 g")  # fmt: skip
USUAL = "indigo"
"""What a new bag holds until something else is said."""


class Bag(ShelfDraft):
    """The rows of a bag, whether it stands on the shelf already or not."""

    def __init__(self, powders: ShelfDesk) -> None:
        super().__init__(powders)
        self.usual = USUAL
        """What it holds until something else is said."""

    @property
    def material(self) -> str:
        """What it holds, by what was typed so far."""
        typed = self.typed.get("material")
        return typed if isinstance(typed, str) else self.usual

    @property
    def today(self) -> date:
        """The local day."""
        return self.powders.clock.now().utc.astimezone().date()

    def hint(self, path: str) -> str:
        """Say what would help in an empty row."""
        return {
            TEN.path: "weigh them once",
            "spoon_mass": "not weighed",
            "lot": "no name",
            "price": "not known",
            "mass": "how much?",
        }.get(path, "")

    def text(self, field: Field) -> str:
        """Print what stands in a row; a liquid by its volume."""
        value = self.value(field.path)
        if field.path in (LEFT.path, "mass") and isinstance(value, Amount) and self.material in BY_VOLUME:
            return show_weighed(self.material, to_base(value, Kind.MASS))
        return super().text(field)

    def read(self, path: str, text: str) -> FieldValue | Problem:
        """Read a row; the spoon that follows from ten of them is read as well."""
        if path != TEN.path:
            return read_detail(path, text, material=self.material, today=self.today)
        ten = read(TEN, text)
        spoon = read_detail("spoon_mass", show_mass(_tenth(ten).value)) if isinstance(ten, Amount) else None
        return spoon if isinstance(spoon, Problem) else ten

    def take(self, path: str, value: FieldValue) -> None:
        """Keep what goes with the rest of the bag; a spoon is a tenth of ten, and weighed by itself it is that."""
        if path not in (TEN.path, LEFT.path) and (problem := clash(_with(self.as_written(), {path: value}), path)):
            raise ValueError(problem)
        super().take(path, value)
        if path == TEN.path:
            self.wrong.pop("spoon_mass", None)
            self.typed.pop("spoon_mass", None)
            if isinstance(value, Amount):
                self.typed["spoon_mass"] = _tenth(value)
        elif path == "spoon_mass":
            self.typed.pop(TEN.path, None)
        elif path == "material" and isinstance(strike := self.typed.get("strike"), Amount):
            self.type("strike", show_amount(strike))

    def as_written(self) -> Item:
        """The bag as it would be with what was typed."""
        details = {path: value for path, value in self.typed.items() if path not in (TEN.path, LEFT.path)}
        return _with(self.base, details)

    @property
    def base(self) -> Item:
        """The bag without what was typed."""
        raise NotImplementedError

    @property
    def doubt(self) -> str:
        """What is doubtful about what was typed."""
        typed = self.typed.get("strike")
        return doubtful(typed) if isinstance(typed, Amount) and typed != self.base.strike else ""

    @property
    def question(self) -> str:
        """Ask once more about a strike below half or above twice that of the lot it is held against."""
        return f"{self.doubt} Escape once more writes it down." if self.doubt else ""

    def working(self) -> tuple[str, ...]:
        """What is doubtful."""
        return (f"{CARE.opening}{self.doubt}",) if self.doubt else ()


class BagDraft(Bag):
    """A bag that stands on the shelf."""

    def __init__(self, powders: ShelfDesk, owned: Owned) -> None:
        super().__init__(powders)
        self.id, self.usual = owned.item.id, owned.item.material
        self.title = owned.name

    @property
    def owned(self) -> Owned:
        """The bag as it stands."""
        return self.powders.shelf[self.id]

    @property
    def base(self) -> Item:
        """The bag as it stands."""
        return self.owned.item

    def fields(self) -> Iterator[Field]:
        """What is left comes first: it is asked for most often."""
        yield LEFT
        yield from _with_ten()

    def noted(self, path: str) -> FieldValue:
        """What is written down."""
        if path == LEFT.path:
            return Amount(round(self.owned.left, 1), "g")
        return None if path == TEN.path else _detail(self.owned.item, path)

    def hint(self, path: str) -> str:
        """Say what would help in an empty row."""
        opened = self.owned.opened
        return f"{opened}, first used" if path == "opened" and opened else super().hint(path)

    def settle(self) -> str:
        """Note every row that is another one now, and nothing doubtful."""
        return self._note("strike" if self.doubt else "")

    def finish(self) -> str:
        """Note what is doubtful too: it was asked about."""
        return self._note()

    def _note(self, held: str = "") -> str:
        rows = [(path, value) for path, value in self.typed.items() if path != held]
        events = [event for path, value in rows if (event := self._event(path, value)) is not None]
        self.typed = {path: value for path, value in self.typed.items() if path == held}
        return self.powders.note(*events) if events else ""

    def _event(self, path: str, value: FieldValue) -> ShelfEvent | None:
        if path == TEN.path or value == self.noted(path):
            return None
        if path == LEFT.path and isinstance(value, Amount):
            return ItemWeighed(self.id, value)
        return ItemChanged(self.id, path, value)


class NewBag(Bag):
    """A bag that does not stand on the shelf yet."""

    title = "New on the shelf"

    def __init__(self, powders: ShelfDesk) -> None:
        super().__init__(powders)
        self.item = _usual(uuid4().hex[:8], USUAL, self.today)
        self.usual = self.item.material

    def fields(self) -> Iterator[Field]:
        """Everything that can be said of a bag."""
        yield from _with_ten()

    def noted(self, path: str) -> FieldValue:
        """What is taken if nothing is typed; purity goes with what it is, and how much there is only the dyer knows."""
        if path == TEN.path:
            return None
        return None if path == "mass" else _detail(self.base, path)

    @property
    def base(self) -> Item:
        """A bag of what was chosen, of the purity that is usual for that."""
        return evolve(self.item, material=self.material, purity=_purity(self.material))

    def settle(self) -> str:
        """Nothing is noted before the bag is put on the shelf."""
        return ""

    @property
    def backwards(self) -> str:
        """Without a mass nothing is put on the shelf."""
        return "put it on the shelf" if "mass" in self.typed else "back"

    @property
    def question(self) -> str:
        """A bag of which more is written down than what it is, but not how much there is."""
        if "mass" in self.typed or not set(self.typed) - {"material"}:
            return super().question if "mass" in self.typed else ""
        return "Bought: how much? Escape once more leaves all of it out."

    def finish(self) -> str:
        """Note the new bag, if it was said how much there is; say how that went."""
        if "mass" not in self.typed:
            return ""
        item = self.as_written()
        trouble = self.powders.note(ItemBought(item))
        name = self.powders.shelf[item.id].name if not trouble else ""
        much = show_weighed(item.material, to_base(item.mass, Kind.MASS))
        return trouble or f"On the shelf: {name}, {much}; u takes it back."


class PriceDraft(ShelfDraft):
    """What does not stand on the shelf and costs all the same."""

    title = "Prices"

    def fields(self) -> Iterator[Field]:
        """Currency, energy, water and work."""
        yield from PRICES

    def noted(self, path: str) -> FieldValue:
        """The price as noted."""
        price = getattr(self.powders.shelf.prices, path)
        return Amount(price, "") if isinstance(price, float | int) else price

    def hint(self, path: str) -> str:
        """Say what an empty row means."""
        return {"currency": "£", "hour": "not counted"}.get(path, "not known")

    def settle(self) -> str:
        """Note every price that is another one now."""
        events = [PriceSet(path, value) for path, value in self.typed.items() if value != self.noted(path)]
        self.typed.clear()
        return self.powders.note(*events) if events else ""


def _detail(item: Item, path: str) -> FieldValue:
    value: FieldValue = getattr(item, path)
    return value


def _with(item: Item, typed: dict[str, FieldValue]) -> Item:
    changes: dict[str, Any] = typed
    return evolve(item, **changes)


def _with_ten() -> Iterator[Field]:
    for field in DETAILS:
        if field.path == "spoon_mass":
            yield TEN
        yield field


def _usual(name: str, material: str, today: date) -> Item:
    return Item(name, _known(material), Amount(100, "g"), _purity(_known(material)), bought=today.isoformat())


def _known(material: str) -> str:
    return material if material in materials() else next(iter(materials()))


def _purity(material: str) -> Amount:
    return Amount(materials()[material].purity.value, "%")


def _tenth(ten: Amount) -> Amount:
    return Amount(round(to_base(ten, Kind.MASS) / 10, 3), "g")
