"""The interlocks: each plainly dangerous act, the reason in a sentence, and whether it is refused or asked about.

`RULES` is the table. Every act passes `asked` before it is logged, whoever it comes from. What it finds is shown; the
act goes on once its cautions are read, or with a `DoneAllTheSame` in front of it for each question.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from attrs import evolve, frozen

from vatside.log.effects.pieces import lot_of
from vatside.log.events.day import DoneAllTheSame, Event
from vatside.log.events.vat import CorrectionMade, LotDipped
from vatside.log.moment import Moment, seconds_between
from vatside.outlook.cautions_to_read import Unread, unread
from vatside.outlook.dip_board import waiting
from vatside.outlook.hand_acts import ALKALI_IN, FILL, RAISE, Act, Doing, Place, Scene, doings
from vatside.outlook.stands import account_now, stands_now
from vatside.outlook.vat_additions import doubt
from vatside.outlook.vat_deeds import VAT_STARTS
from vatside.plan.delicate import suits_lime
from vatside.plan.measures import celsius, fibre_of, powder
from vatside.plan.plan import Stuff
from vatside.recipe.dose import Dose
from vatside.recipe.stages.stock import LEAST_JUG_L, jug_litres
from vatside.units import show_count, show_minutes, show_temperature
from vatside.vat import interlocks
from vatside.vat.account import Account, predict, with_powder
from vatside.vat.dosing import dissolving_litres
from vatside.vat.interlocks import LYE_CEILING_C, WARM_C, Block
from vatside.vat.spent import ready_for_acid


@frozen
class Question:
    """What speaks against an act."""

    rule: str
    subject: str
    text: str
    """The act in words."""
    block: Block
    caution: str
    """The catalogue's caution that says more."""

    @property
    def answer(self) -> DoneAllTheSame:
        """Give the event that says it was done all the same."""
        return DoneAllTheSame(self.rule, self.subject, self.block.why)


class Held(Exception):
    """Something is not logged yet: it is refused, or asked about first."""

    def __init__(self, asked: Sequence[Question | Unread]) -> None:
        super().__init__("; ".join(item.block.why if isinstance(item, Question) else item.step.text for item in asked))
        self.asked = tuple(asked)


Judge = Callable[[Scene, Doing], Block | None]


@frozen
class Rule:
    """One interlock."""

    key: str
    acts: tuple[Act, ...]
    judge: Judge
    caution: str


def questions(scene: Scene, events: Sequence[Event]) -> tuple[Question, ...]:
    """Give what speaks against these events, in the order of the table."""
    return tuple(
        Question(rule.key, doing.subject, doing.text, block, rule.caution)
        for doing in doings(scene, events)
        for rule in RULES
        if doing.act in rule.acts and (block := rule.judge(scene, doing)) is not None
    )


def asked(scene: Scene, events: Sequence[Event]) -> tuple[Question | Unread, ...]:
    """Give all that stands between these events and the log: questions first, then cautions to be read.

    A `DoneAllTheSame` among the events answers its question, and with it what the tub of reducer is asked for.
    """
    said = {(event.rule, event.subject) for event in events if isinstance(event, DoneAllTheSame)}
    open_ = (item for item in questions(scene, events) if (item.rule, item.subject) not in said)
    to_read = (item for item in unread(scene, events) if (item.rule, item.step.id) not in said)
    return (*open_, *to_read)


# Lye


def _warm_lye(scene: Scene, doing: Doing) -> Block | None:
    """Lye into water too warm: its jug, and what that is poured into, as read last or by the plan."""
    if not doing.is_lye or not doing.grams:
        return None
    by_jug = interlocks.lye(_pure(doing), _jug(scene, doing), celsius(scene.state.plan.water.cold))
    if isinstance(by_jug, Block) and _has_jug(scene, doing):
        return by_jug
    return _into_jar(scene) if doing.place is Place.JAR else _into_tub(scene)


def _pure(doing: Doing) -> float:
    return doing.grams * (doing.what.purity if doing.what else 1.0)


def _has_jug(scene: Scene, doing: Doing) -> bool:
    return doing.place is not Place.JAR or scene.sheet.value("stock.jug", 0.0) > 0


def _jug(scene: Scene, doing: Doing) -> float:
    if doing.place is Place.JAR:
        return max(scene.sheet.value("stock.jug", 0.0), LEAST_JUG_L / 10)
    if doing.event is None or doing.what is None:
        return jug_litres(doing.grams)
    return max(dissolving_litres(Dose(doing.what, doing.grams)), LEAST_JUG_L)


def _into_jar(scene: Scene) -> Block | None:
    sheet, read = scene.sheet, read_C(scene, Place.JAR)
    there = sheet.value("stock.start") if read is None else read
    warmest = sheet.value("stock.warmest", LYE_CEILING_C)
    if there <= warmest + TOLERANCE_K:
        return None
    return _too_warm("jar", there, f"{show_temperature(warmest)} is the most for so much lye", read is not None)


def _into_tub(scene: Scene) -> Block | None:
    stands = stands_now(scene.state, scene.sheet, scene.at) if scene.state.tending.account else None
    read = read_C(scene, Place.TUB)
    there = stands.celsius if stands else scene.sheet.value("vat.temperature") if read is None else read
    if there <= LYE_CEILING_C + TOLERANCE_K:
        return None
    said = f"{show_temperature(LYE_CEILING_C)} is the most"
    return _too_warm("tub", there, said, stands is not None or read is not None)


TOLERANCE_K = 0.05
"""A limit that is met to what a thermometer prints is kept."""


def _too_warm(where: str, there_C: float, limit: str, read: bool) -> Block:
    source = "as read last" if read else "by the plan"
    return Block(
        f"Lye goes into water that is too warm: the {where} is at {show_temperature(there_C)} {source}, {limit}. "
        "It spits and burns.",
        "Let it cool, or draw it afresh; read it (r), then the lye.",
        after=interlocks.AFTER_LYE,
    )


def read_C(scene: Scene, place: Place) -> float | None:
    """Give the temperature last read of the jar, or of the tub before its vat is made; None without one.

    A reading is of the tub once its water was begun, else of the jar.
    """
    filled = scene.begun(FILL[Place.TUB])
    if scene.state.tending.account is not None and place is Place.TUB:
        return None
    for taken in reversed(scene.state.tending.readings):
        of_tub = filled is not None and seconds_between(filled, taken.at) >= 0
        if taken.reading.celsius is not None and of_tub is (place is Place.TUB):
            return taken.reading.celsius
    return None


def _hot_in_glass(scene: Scene, doing: Doing) -> Block | None:
    """Lye dissolved in a warm glass jar, where the dyer wants it so."""
    if not doing.is_lye or doing.place is not Place.JAR or _has_jug(scene, doing) or not doing.grams:
        return None
    read = read_C(scene, Place.JAR)
    reaches = (scene.sheet.value("stock.start") if read is None else read) + scene.sheet.value("stock.rise", 0.0)
    if scene.state.plan.vessels.jar_stuff is not Stuff.GLASS or reaches <= WARM_C:
        return None
    return Block(
        f"Lye dissolved in a glass jar at {show_temperature(reaches)}: glass can crack, and hot lye runs out.",
        "Dissolve it in cold water in a plastic jug, then pour it in.",
        after="Stand the jar in a plastic bowl; if it cracks, nobody near it. " + interlocks.AFTER_LYE,
    )


def _water_onto_lye(scene: Scene, doing: Doing) -> Block | None:
    """Lye before its water, or water after the lye."""
    if powder(scene.state.plan, "alkali").material.species != "sodium hydroxide" or doing.event is not None:
        return None
    if doing.place not in FILL or (doing.place is Place.TUB and scene.state.tending.account is not None):
        return None
    fill, lye = FILL[doing.place], ALKALI_IN[doing.place]
    dry = scene.step(fill) is not None and scene.begun(fill) is None
    if doing.subject == lye and doing.is_lye and dry:
        block = interlocks.water_onto_lye()
        return evolve(block, why=f"There is no water in the {doing.place.value} yet. {block.why}")
    return interlocks.water_onto_lye() if doing.subject == fill and lye in scene.state.done and dry else None


def _eaten_vessel(scene: Scene, doing: Doing) -> Block | None:
    """Alkali in aluminium, zinc or tin [SDSLye]."""
    vessels = scene.state.plan.vessels
    stuff = {Place.POT: vessels.scour_stuff, Place.JAR: vessels.jar_stuff, Place.TUB: vessels.tub.stuff}[doing.place]
    if stuff not in EATEN:
        return None
    return Block(
        f"The {doing.place.value} is {stuff.value}: alkali eats it and gives off hydrogen, which burns.",
        "Take stainless steel, sound enamel or heat-proof plastic, and say so in the form.",
        after="No flame near it, windows open; pour it over into stainless steel or plastic, slowly, gloves on.",
    )


EATEN = (Stuff.ALUMINIUM, Stuff.GALVANISED, Stuff.TINNED)
"""What alkali eats."""


def _second_lye(scene: Scene, doing: Doing) -> Block | None:
    """More lye while the last was not stirred in: nobody read the vat since, and its wait is not over."""
    if not doing.is_lye or doing.place is not Place.TUB:
        return None
    last = _last_lye(scene)
    minutes = seconds_between(last, scene.at) / 60 if last else STIRRED_IN_MIN
    if last is None or not 0 <= minutes < STIRRED_IN_MIN:
        return None
    readings = scene.state.tending.readings
    if readings and seconds_between(last, readings[-1].at) > 0:
        return None
    return Block(
        f"Lye went in {show_minutes(minutes) if minutes >= 1 else 'a moment'} ago, and nobody read the vat since: is "
        "it stirred in? Unmixed lye lies on the bottom, and a second one comes on top of it.",
        f"Stir gently from the bottom, wait {show_minutes(STIRRED_IN_MIN)}, read the pH (r), then the rest.",
        final=False,
        after="Stir from the bottom, wait, and read the pH before any piece goes in.",
    )


STIRRED_IN_MIN = 15.0
"""Minutes until alkali stirred into a vat can be read, as the wait after it: common practice, no source."""


def _last_lye(scene: Scene) -> Moment | None:
    """Say when lye last went into the tub."""
    plan, found = scene.state.plan, []
    if powder(plan, "alkali").material.species == "sodium hydroxide":
        found = [scene.state.done[step] for step in (ALKALI_IN[Place.TUB], RAISE) if step in scene.state.done]
    for made in scene.state.tending.corrections:
        if made.event.amount is not None and _species(scene, made.event.material) == "sodium hydroxide":
            found.append(made.at)
    return min(found, key=lambda at: abs(seconds_between(at, scene.at)), default=None)


def _species(scene: Scene, material: str) -> str:
    try:
        return powder(scene.state.plan, material).material.species
    except KeyError:
        return ""


# Acid and doubtful amounts


def _acid_live(scene: Scene, doing: Doing) -> Block | None:
    """Acid into a vat that lives, or that comes below pH 9 by it while reducer is left."""
    tending, account = scene.state.tending, account_now(scene.state, scene.sheet)
    if account is None:
        return None
    if doing.event is None:
        reading = tending.readings[-1].reading if tending.readings else None
        block = ready_for_acid(reading, seen_spent=tending.seen_spent) if account.is_alive else None
        return evolve(block, after=interlocks.AFTER_ACID) if block else None
    found = interlocks.acid(account, _after(account, scene, doing), seen_spent=tending.seen_spent)
    return found if isinstance(found, Block) else None


def _after(account: Account, scene: Scene, doing: Doing) -> float:
    """Give the pH that it would come to; as if below 9 where that cannot be told."""
    try:
        return predict(with_powder(account, scene.state.plan, doing.subject, doing.grams)).pH
    except ValueError:
        return 0.0


def _doubtful(scene: Scene, doing: Doing) -> Block | None:
    """Something of her own that would harm the fibre, or is far more than the vat is made with."""
    if not isinstance(doing.event, CorrectionMade) or doing.event.finding or doing.event.remedy:
        return None
    return doubt(scene.state, scene.sheet, doing.event)


# The pieces


def _no_vat(scene: Scene, _doing: Doing) -> Block | None:
    """A dip into a tub in which no vat stands."""
    state = scene.state
    if state.tending.let_go is not None:
        why = "No vat stands there: it was let go."
    elif state.tending.seen_spent:
        why = "No vat stands there: it was stirred in the air until it stayed blue."
    elif state.tending.account is None and state.plan.kept is None and VAT_STARTS not in state.done:
        why = "No vat stands there yet: its stock has not gone in."
    else:
        return None
    return Block(
        why,
        "Do the steps of the vat first; space on them says that they are done.",
        final=False,
        after="What it takes up is reckoned as if the vat of the plan stood there.",
    )


def _above_window(scene: Scene, doing: Doing) -> Block | None:
    """Wool and hair above their window, silk where it is harmed: by her reading, or by the account."""
    if not isinstance(doing.event, LotDipped) and "." not in doing.subject:
        return None
    plan = scene.state.plan
    lots = {lot.id: lot for lot in plan.lots}
    lot = lots.get(doing.subject) or lot_of(plan, doing.subject)[0]
    fibre, stands = fibre_of(lot), stands_now(scene.state, scene.sheet, scene.at)
    if stands is None or stands.pH is None or suits_lime(fibre.group, powder(plan, "alkali").material.species):
        return None
    limit = {"protein": fibre.window.high, "silk": fibre.window.block}.get(fibre.group)
    if limit is None or stands.pH <= limit + NEAR_PH:
        return None
    return Block(
        f"The vat stands at pH {stands.pH:.1f} {'as read' if stands.read else 'by the account'}; {fibre.name} is "
        f"harmed above {limit:g}.",
        "Read the pH (r), bring it down first (v), then dip.",
        final=False,
        after=f"Keep it short, rinse the {fibre.name} well and sour it; it may come out harsh and weak.",
    )


NEAR_PH = 0.05
"""A pH no farther past a limit prints as the limit itself."""


def _pieces_wait(scene: Scene, _doing: Doing) -> Block | None:
    """The vat put away while pieces still wait for their turn."""
    left = waiting(scene.state, scene.sheet)
    if not left:
        return None
    return Block(
        f"{show_count(len(left), 'piece')} still {'waits' if len(left) == 1 else 'wait'} for a dip: {_names(left)}.",
        "Dip them first, or say that they are done (d, then k).",
        final=False,
        after="They keep their place on the board for a vat of another day.",
    )


def _names(left: Sequence[str]) -> str:
    more = len(left) - MOST_NAMED
    return ", ".join(left[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


MOST_NAMED = 3
"""A sentence that names more pieces is not read to its end. Ours."""


RULES: tuple[Rule, ...] = (
    Rule("water-onto-lye", (Act.ALKALI, Act.WATER), _water_onto_lye, "lye"),
    Rule("eaten-vessel", (Act.ALKALI, Act.POUR), _eaten_vessel, "lye"),
    Rule("warm-lye", (Act.ALKALI,), _warm_lye, "lye"),
    Rule("hot-in-glass", (Act.ALKALI,), _hot_in_glass, "lye"),
    Rule("second-lye", (Act.ALKALI,), _second_lye, "lye"),
    Rule("acid-live", (Act.ACID,), _acid_live, "acid"),
    Rule("doubtful", (Act.ALKALI, Act.REDUCER, Act.ACID), _doubtful, "lye"),
    Rule("no-vat", (Act.DIP,), _no_vat, "gloves"),
    Rule("above-window", (Act.DIP,), _above_window, "gloves"),
    Rule("pieces-wait", (Act.LEAVE,), _pieces_wait, "gloves"),
)
"""Every interlock but those that a caution is: gloves before the first dip, a dry tub before any reducer."""
