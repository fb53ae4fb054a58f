"""What the dyer decides before a dye day: the plan, as frozen values."""

from __future__ import annotations

from enum import StrEnum
from functools import cached_property

from attrs import frozen

from vatside.units import Amount, Spoons

FieldValue = Amount | str | int | None
"""What one field of a plan can hold."""


class Form(StrEnum):
    """How the fibre of a lot is made up."""

    SKEINS = "skeins"
    CLOTH = "cloth"
    GARMENTS = "garments"
    LOOSE = "loose fibre"


class Condition(StrEnum):
    """What the fibre carries when it comes to the scour."""

    CLEAN = "clean"
    GREASY = "greasy"
    READY = "ready scoured"
    """Bought ready for dyeing, or scoured on another day: it is only wetted out."""
    RINSED = "only rinsed"
    """Wants no more than a rinse before it is wetted out."""


class Measure(StrEnum):
    """What the dyer weighs with; decides which figure is printed first."""

    SCALE = "scale"
    SPOONS = "spoons"


class Stuff(StrEnum):
    """What a vessel is made of."""

    STAINLESS = "stainless steel"
    ENAMEL = "enamel"
    GLASS = "heat-proof glass"
    PLASTIC = "heat-proof plastic"
    ALUMINIUM = "aluminium"
    GALVANISED = "galvanised (zinc)"
    TINNED = "tinned (tin)"


class Dosing(StrEnum):
    """How much indigo a vat is given."""

    SPENT = "for this fibre"
    """As much as these lots take; the vat is spent at the end."""
    WORKING = "a working vat"
    """As strong as its depth is usually dipped in; the rest is kept."""


class TubShape(StrEnum):
    """How the size of a vat tub is given."""

    LITRES = "litres"
    ROUND = "round"
    BOX = "box"
    OVAL = "oval"


HALF = Amount(50, "%")
"""Share of the second fibre until one is said."""


@frozen(cache_hash=True)  # plans that differ in one lot share all others, and are asked for by their hash
class Lot:
    """Fibre that goes through together."""

    id: str
    name: str
    fibre: str
    """A fibre id of the catalogue."""
    mass: Amount
    """Air-dry mass of the whole lot."""
    pieces: int
    form: Form
    condition: Condition
    depth: Amount
    """Indigotin wanted on the fibre, % on weight of fibre."""
    second: str = ""
    """The fibre id of what `fibre` is blended with; empty: nothing."""
    second_share: Amount = HALF
    """Share of the second fibre in the mass of a blend, %."""
    names: tuple[str, ...] = ()
    """Whose the pieces are, by piece number; a missing or empty one has no name of its own."""
    comes: str | None = None
    """Local time at which it is there, `YYYY-MM-DDTHH:MM` or `HH:MM`; None: from the beginning."""
    named: bool = True
    """False: nobody typed its name, which follows what it is made of and how it is made up."""


@frozen
class Tub:
    """The vat's vessel, by litres or by shape and inside measures."""

    shape: TubShape
    volume: Amount
    """Brim volume, used when the shape is `litres`."""
    length: Amount
    """Inside length, or the longer diameter of an oval, or the diameter of a round tub."""
    width: Amount
    """Inside width, or the shorter diameter of an oval."""
    height: Amount
    """Inside height."""
    headspace: Amount
    """Share of the height left empty, %."""
    stuff: Stuff


@frozen
class Vessels:
    """Pots and jars of the day."""

    scour_pot: Amount
    """Brim volume of the scour pot."""
    scour_fill: Amount
    """How full the pot is before the fibre goes in, %."""
    scour_stuff: Stuff
    stock_jar: Amount
    """Stock in one jar."""
    jar_stuff: Stuff
    tub: Tub
    others: tuple[Amount, ...] = ()
    """Brim volumes of further tubs; headspace and stuff as the first."""


class TapKind(StrEnum):
    """What the dyer knows of her tap water."""

    UNKNOWN = "not known"
    SOFT = "soft"
    MEDIUM = "medium"
    HARD = "hard"
    VERY_HARD = "very hard"
    SOFTENED = "softened in the house"
    PURE = "rain or distilled"


@frozen
class Water:
    """What comes out of the taps, the room and the hob."""

    hot: Amount
    cold: Amount
    room: Amount
    hob: Amount
    """Heating power that reaches the pot."""
    tap: TapKind = TapKind.UNKNOWN
    hardness: Amount | None = None
    """By a report or a strip; it goes before the word."""
    alkalinity: Amount | None = None
    """By a report or a strip; None: worked out from the hardness."""


@frozen
class ShelfEntry:
    """One powder or liquid as it stands on the dyer's shelf."""

    material: str
    """A material id of the catalogue."""
    purity: Amount
    """Share of the active substance, %."""
    spoon_mass: Amount | None
    """Grams in one level teaspoon, weighed by the dyer; None: the catalogue's bulk density."""


@frozen
class Pin:
    """A figure that the dyer has fixed by hand."""

    figure: str
    amount: Amount


@frozen
class Kept:
    """What stands in the tub from another day, to be topped up instead of a new vat."""

    volume: Amount
    """Liquor in the tub."""
    temperature: Amount
    """Of it, before it is warmed."""
    indigotin: Amount
    """In it, reduced or not."""
    alkali: Amount
    """In it that nothing has used up yet, as lye."""
    reducer: Amount
    """Left in it, pure."""
    carbonate: Amount | None = None
    """In it, bicarbonate and all, as baking soda; None: what its tap water brought."""
    salts: Amount | None = None
    """What spent reducer left in it, as sodium sulfate; None: none to speak of."""
    oxidised: Amount | None = None
    """Of its indigotin what air has turned blue again; None: none."""


@frozen
class StockKept:
    """What stands in a jar from another vat: it goes in before any stock is made."""

    volume: Amount
    """Stock in the jar."""
    indigotin: Amount
    """In it, reduced or not."""
    alkali: Amount
    """In it that nothing has used up yet, as lye."""
    reducer: Amount
    """Left in it, pure."""
    made: str | None = None
    """Local time at which it was made, `YYYY-MM-DDTHH:MM`; None: nobody knows."""
    taken: str | None = None
    """Local time at which it was taken for this vat; None: not said."""


@frozen
class Learned:
    """What the dyer's own results say of a group of fibres."""

    group: str
    factor: float
    """Of the dye that the practice table lets it take."""
    spread: float
    """How sure that is: standard deviation of its natural logarithm."""
    results: int


@frozen
class Workplace:
    """Hands and things that a day can count on, and its hours; one dyer at one hob where nothing is said."""

    people: int = 1
    away: str | None = None
    """Who is not there when: `1 until 10:00, 1 from 13:00`; None: all are there all the time."""
    hobs: int = 1
    sinks: int = 1
    pots: tuple[Amount, ...] = ()
    """Brim volumes of further pots beside the scour pot."""
    bowls: int = 4
    jars: int | None = None
    """Stock jars that there are; None: as many as the stock takes."""
    lunch: int = 0
    """Minutes for which everybody stops; 0: never."""
    lunch_from: str = "12:00"
    """Clock time at which that may begin."""
    lunch_to: str = "13:30"
    """And at which it is to begin at the latest."""
    not_before: str | None = None
    """Local time before which nobody begins, `YYYY-MM-DDTHH:MM` or `HH:MM`."""
    home_by: str | None = None
    """Local time at which all is to be done, `YYYY-MM-DDTHH:MM` or `HH:MM`."""


ALONE = Workplace()
"""What a plan goes by that says nothing of it."""


@frozen(cache_hash=True)
class Plan:
    """Everything decided for one dye day; a sheet follows from it alone."""

    title: str
    ready_by: str | None
    """Local time at which the vat is wanted, `YYYY-MM-DDTHH:MM`."""
    method: str
    """A method id of the catalogue."""
    measure: Measure
    spoons: Spoons
    lots: tuple[Lot, ...]
    vessels: Vessels
    water: Water
    shelf: tuple[ShelfEntry, ...]
    pins: tuple[Pin, ...] = ()
    kept: Kept | None = None
    """None: the vat is made anew."""
    dosing: Dosing | None = None
    """None: as suits the lots."""
    stock_kept: StockKept | None = None
    """None: no stock of another vat is at hand."""
    learned: tuple[Learned, ...] = ()
    """By group of fibres; none: the practice table alone."""
    place: Workplace = ALONE

    @cached_property
    def by_id(self) -> dict[str, Lot]:
        """Lots by id, the first of those that share one."""
        return {lot.id: lot for lot in reversed(self.lots)}
