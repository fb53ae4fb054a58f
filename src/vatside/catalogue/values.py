"""What the data files hold, as frozen values."""

from __future__ import annotations

from attrs import field, frozen

MOMENTS = ("", "before", "first", "later", "load", "after", "only")
"""When in a scour a step comes."""


@frozen
class Fact:
    """A number of the trade with its source and, where known, its usual range."""

    value: float
    source: str
    low: float | None = None
    high: float | None = None

    @property
    def lowest(self) -> float:
        """Where the range begins; the value itself without one."""
        return self.value if self.low is None else self.low

    @property
    def highest(self) -> float:
        """Where the range ends."""
        return self.value if self.high is None else self.high

    @property
    def spread(self) -> float:
        """The larger share by which the range leaves the value; 0 without a range."""
        ends = (end for end in (self.low, self.high) if end is not None and self.value)
        return max((abs(end - self.value) / self.value for end in ends), default=0.0)


@frozen
class Source:
    """A citation and how much of the text was in front of us."""

    text: str
    seen: str


@frozen
class Window:
    """pH (at the temperature of the vat) between which a fibre dyes well and stays whole."""

    target: float
    low: float
    high: float
    block: float
    """Above this the fibre is harmed."""
    source: str


GROUPS = ("protein", "silk", "cellulose")
"""Kinds of fibre that a vat treats alike: the one that alkali and heat harm first in front."""


@frozen
class Fibre:
    """A kind of fibre."""

    name: str
    group: str
    """One of `GROUPS`."""
    density: Fact
    """g/cm3."""
    regain: Fact
    """% of bone-dry mass."""
    held: Fact
    """Water held after squeezing by hand, % of dry mass."""
    step: Fact
    """Largest safe change of temperature between two baths, degrees C."""
    window: Window
    scour: str
    """Id of the scour for clean fibre."""
    scour_greasy: str
    """Id of the scour for fibre with its grease, wax or gum on."""
    greasy_name: str = ""
    """What it is called with its grease or gum on; empty where that takes no scour of its own."""


@frozen
class Agent:
    """What goes into a scour bath: grams of product a kilogram of fibre, or a litre of bath."""

    material: str
    per_kg: Fact | None = None
    per_litre: Fact | None = None

    def grams(self, fibre_kg: float, litres: float) -> float:
        """Grams of product for that much fibre (kg) in that much bath (L)."""
        by_fibre = self.per_kg.value * fibre_kg if self.per_kg else 0.0
        by_bath = self.per_litre.value * litres if self.per_litre else 0.0
        return by_fibre + by_bath

    @property
    def source(self) -> str:
        """Source key of the amount."""
        fact = self.per_kg or self.per_litre
        return fact.source if fact else "practice"


@frozen
class Scour:
    """A scouring recipe; temperatures in degrees C, times in minutes of one bath."""

    name: str
    hold: Fact
    ceiling: Fact
    minutes: Fact
    soak: Fact
    liquor: Fact
    """L/kg."""
    loss: Fact
    """% of dry mass taken off."""
    cool: Fact
    """Minutes in the last rinse water until it has come down to the room; 0 where the rinses are cold already."""
    baths: int
    rinses: int
    stir_every: float
    turn: bool
    start: str
    """`lukewarm` or `hot`."""
    agents: tuple[Agent, ...]


@frozen
class Addition:
    """How a powder or liquid goes into a vat."""

    text: str
    """How to dissolve or sprinkle it; `{water}` stands for the water to dissolve it in."""
    water_per_gram: float
    """Litres to dissolve a gram in; 0: it goes in dry, or as it is."""
    least_water: float
    """Litres."""
    source: str
    solid: bool = False
    """It does not dissolve: a try-out takes it by weight."""
    brewed: bool = False
    """It is boiled, and its brew goes in."""


@frozen
class Material:
    """A powder or liquid."""

    name: str
    short: str
    role: str
    """`indigo`, `alkali`, `buffer` (holds a pH that an alkali sets), `reducer`, `soap` or `acid`."""
    species: str
    """The name under which the liquor knows the active substance; empty for soaps."""
    purity: Fact
    """%."""
    bulk: Fact
    """Loose powder or liquid, g/mL."""
    cautions: tuple[str, ...]
    goes_in: Addition | None = None
    """Into a live vat; None for what never does."""
    feed: Fact | None = None
    """Of a reducer, for a week of a vat that is kept, g/L."""
    reduced: Fact | None = None
    """Of a pigment, how much of its dye is reduced already, %."""
    counts_as: Fact | None = None
    """Of a paste, the purity (%) of the powder that it stands for where a method goes by powder."""
    uptake: Fact | None = None
    """Share of the usual uptake that a reducer leaves; None: all of it."""


@frozen
class CautionText:
    """What can hurt, in the words of the screen."""

    title: str
    acknowledge: bool
    source: str
    lines: tuple[str, ...]


@frozen
class StepTemplate:
    """A step, for scour, stock, vat, dip or finish; `{figure.id}` stands for a figure of the sheet.

    A figure without a dot, and `{bath.NAME}`, is one of the bath that the step is for.
    """

    id: str
    text: str
    hands: float
    """Minutes."""
    wait: str = ""
    """Figure that gives the length of the wait, in minutes; empty: no wait."""
    wait_label: str = ""
    nudge_every: str = ""
    """Figure that gives the minutes between nudges."""
    nudge_label: str = ""
    turn: str = ""
    """Figure that gives the minutes after which the fibre is turned over."""
    busy: bool = False
    """The wait takes the hands as long as it lasts."""
    works: str = ""
    """A figure that gives further minutes of hands-on work."""
    needs: tuple[str, ...] = ()
    """Figures without each of which the step is left out: what goes in, most often."""
    unless: str = ""
    """A figure that leaves the step out."""
    alkalis: tuple[str, ...] = ()
    """Substances of the vat's alkali for which it is; empty: any."""
    groups: tuple[str, ...] = ()
    """Groups of fibres in the plan for which it is; empty: any."""
    each: bool = False
    """In the finish: once for each fibre of the plan."""
    when: str = ""
    """In a scour: `before` or `after` all pot loads, in the `first` bath of a load, in each `later` one, once all
    baths of a `load` are done, or, for each load that goes through no bath, `only`; empty: in every bath."""
    heading: str = ""
    """What the step belongs to, where it belongs to no fibre."""
    source: str = ""
    """Where the signs are from that it says to look for; empty for a step that names none."""
    kept: str = ""
    """What it says where the vat of another day is topped up; empty: the same."""
    cautions: tuple[str, ...] = ()
    """`alkali`, `reducer` and `indigo` stand for those of the vat's own, `agents` for those of what a bath takes."""
    takes: tuple[str, ...] = ()
    """What its hands need besides, as `sink`."""
    heats: bool = False
    """Its wait stands on a hob."""
    holds: tuple[str, ...] = ()
    """What it keeps: `pot until rinse`, until that step has ended, or `hob until rinse begins`."""
    follows: tuple[str, ...] | None = None
    """The steps that come before it; None: the one above it."""
    meanwhile: bool = False
    """Its hands need nothing of the wait before it: it may be done while that runs."""
    then_within: Fact | None = None
    """Minutes that may pass between its end and the next step; None: that can wait."""
    unattended: bool = False
    """Nobody waits for its end on the same day."""
    another_day: bool = False
    """Not done on the dye day."""


@frozen
class StockRules:
    """How a method makes its stock; grams of the pure substance."""

    alkali_per_litre: Fact
    alkali_per_gram: Fact
    reducer_per_litre: Fact
    reducer_per_gram: Fact
    ratio_basis: str
    """`indigotin` or `powder`: what the per-gram ratios count."""
    pigment_limit: Fact
    """Powder a litre of stock, g/L."""
    temperature: Fact
    ceiling: Fact
    stir: Fact
    hold: Fact
    look_every: Fact
    warm_bath: Fact
    """Litres of warm water around a litre of stock."""
    keeps: Fact
    """Days that it stays usable in a full, closed jar."""


@frozen
class Warmth:
    """Temperatures at which a kind of vat dyes each group of fibres, degrees C."""

    cellulose: Fact
    silk: Fact
    protein: Fact

    def of(self, group: str) -> Fact:
        """Give the temperature for a fibre's group; cellulose's for a group that is not known."""
        return {"silk": self.silk, "protein": self.protein}.get(group, self.cellulose)


@frozen
class VatRules:
    """How a method makes its vat; grams of the pure substance."""

    alkali_per_litre: Fact
    reducer_per_litre: Fact
    temperature_low: float
    """Below this the reducer hardly works, degrees C."""
    warmth: Warmth
    suits: tuple[str, ...]
    """Groups of fibres that its alkali does not harm."""
    sharpen: Fact
    rest: Fact
    strength_limit: Fact
    """Indigotin above which colour rubs off, g/L."""
    yield_: Fact
    """Share of the indigotin that reaches the fibre before the vat is too weak, %."""
    liquor: Fact
    """L/kg at one entry."""
    look_every: Fact | None = None
    """Minutes between the looks at a vat that comes to life slowly."""
    wakes: Fact | None = None
    """Highest pH at which a vat comes to life, its dye blue until then; None: its reducer needs no life."""
    sludge: Fact | None = None
    """Share of the vat that sludge takes in the end, %: the fibre hangs above it."""
    windows: dict[str, Window] = field(factory=dict)
    """By group of fibre, where such a vat dyes at another pH than is usual for the fibre."""

    @property
    def ratio(self) -> float:
        """Liquor and sludge for a kilogram of fibre at one entry, L/kg."""
        return self.liquor.value / (1 - (self.sludge.value if self.sludge else 0.0) / 100)


@frozen
class EndPage:
    """One page of such an end."""

    name: str
    short: str
    """The same where there is little room."""
    text: str
    why: str


@frozen
class MethodEnd:
    """How a kind of vat ends to which no acid may be given and which no pH lets go: it is handed over."""

    no_acid: str
    """Why."""
    instead: str
    source: str
    pages: tuple[EndPage, ...]
    """As many as the end of any vat has: blue, no acid, what to do instead, where it goes."""


@frozen
class Method:
    """A kind of vat."""

    name: str
    about: str
    """What it is for, how long it takes, what it harms: beside its name where one is chosen."""
    indigo: str
    alkali: str
    reducer: str
    keeps_days: int
    stock: StockRules
    vat: VatRules
    steps: tuple[StepTemplate, ...]
    usual: bool = False
    """A new plan begins with it."""
    without: tuple[str, ...] = ()
    """Steps of all vats that this one does without."""
    ending: tuple[StepTemplate, ...] = ()
    """The steps of its end, once for the vat: those of all vats, with its own words where it has any."""
    end: MethodEnd | None = None
    """None: it is neutralised, and let go by its pH and the local rules."""
