"""What stands before an act: the cautions still to be read, and the interlocks, each with its reason in a sentence.

`RULES` is the table of plainly dangerous acts, refused or asked about. Every act passes `asked` before it is logged,
whoever it comes from. What it finds is shown; the act goes on once its cautions are read, or with a `DoneAllTheSame` in
front of it for each question. A caution is to be read if it was not today, or not of this danger.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date

from attrs import evolve, frozen

from vatside.dayline.day_steps import STOCK_IN
from vatside.dayline.steps import Step, acid_words, caution
from vatside.log.effects.day import REDUCER
from vatside.log.effects.pieces import lot_of
from vatside.log.events.day import DoneAllTheSame, Event
from vatside.log.events.vat import CorrectionMade, LotDipped, VatSpent
from vatside.log.fold import State
from vatside.log.waits import Moment
from vatside.log.words.vat import BY_HAND
from vatside.outlook import powder_interlocks
from vatside.outlook.dip_board import waiting
from vatside.outlook.hand_acts import (
    NOT_DIPPED,
    OXIDISE,
    Act,
    Doing,
    Place,
    Scene,
    account_now,
    dip_step,
    doings,
    stands_now,
    steps_begun,
)
from vatside.outlook.step_interlocks import not_dipped, scour_left, wait_runs
from vatside.outlook.vat_additions import doubt
from vatside.outlook.vat_end import Choices, holds_back
from vatside.plan.measures import celsius, fibre_of, suits_lime
from vatside.plan.sheet import Stage
from vatside.recipe.baths import Dose
from vatside.recipe.stages.stock import LEAST_JUG_L
from vatside.units import show_count
from vatside.vat import interlocks
from vatside.vat.account import Account, predict, with_powder
from vatside.vat.dosing import dissolving_litres
from vatside.vat.interlocks import Block, Care, acid, lye
from vatside.vat.spent import in_acid, no_acid, ready_for_acid

DAMP = "damp-reducer"
"""The interlock of reducer whose tub was not found dry and cool."""
GLOVES = "gloves"
"""The caution before the first dip of a day."""
ACID = "acid"
"""The caution before acid."""


@frozen
class Unread:
    """Cautions that must be read before a step, a dip or an addition."""

    step: Step
    """With its cautions; one of its own where no step of the day is meant."""

    @property
    def why(self) -> str:
        """Name what its cautions are about."""
        return self.step.text

    @property
    def rule(self) -> str:
        """Name the interlock that it belongs to."""
        return DAMP if self.asks_tub else "unread"

    @property
    def asks_tub(self) -> bool:
        """Tell whether the tub of reducer is to be looked into."""
        return any(item.id == REDUCER for item in self.step.cautions)


def unread(scene: Scene, events: Sequence[Event]) -> Iterator[Unread]:
    """Give what is to be read before these events."""
    for step in _to_read(scene, events):
        if not is_read(scene.state, step, scene.at):
            yield Unread(step)


def _to_read(scene: Scene, events: Sequence[Event]) -> Iterator[Step]:
    yield from steps_begun(scene, events)
    deeds = [doing for doing in doings(scene, events) if doing.event is not None]
    if any(doing.act is Act.DIP for doing in deeds) and not _gloves_on(scene):
        step = dip_step(scene)
        if step is not None:
            yield evolve(step, text=deeds[0].text, cautions=(*step.cautions, caution(GLOVES)))
    for doing in deeds:
        if doing.what is not None and doing.act in (Act.ALKALI, Act.REDUCER, Act.ACID):
            yield _addition(scene, doing)


def is_read(state: State, step: Step, at: Moment) -> bool:
    """Tell whether every caution of a step that must be read was, today and of this danger."""
    known = state.acknowledged.get(step.id, {})
    return all(_counts(known.get(item.id), item.here, at) for item in step.cautions if item.must_acknowledge)


def _counts(read: tuple[Moment, str | None] | None, comes_to: str, at: Moment) -> bool:
    return read is not None and _day(read[0]) == _day(at) and read[1] in (None, comes_to)


def _day(at: Moment) -> date:
    """Give the day on the wall."""
    return at.utc.astimezone().date()


def _gloves_on(scene: Scene) -> bool:
    return any(_day(read[GLOVES][0]) == _day(scene.at) for read in scene.state.acknowledged.values() if GLOVES in read)


def _addition(scene: Scene, doing: Doing) -> Step:
    """Give what goes in by hand as a step, for its cautions; what it comes to here stands in front of them."""
    event, care = doing.event, _care(scene, doing)
    named = doing.what.material.cautions if doing.what else ()
    if not isinstance(event, CorrectionMade):
        raise TypeError(f"{doing.act} is no addition")
    key = f"{event.finding}.{event.remedy}" if event.finding else event.remedy or f"added.{event.material}"
    comes_to = () if care is None else (care.text,)
    acid_here = acid_words(scene.state.plan)
    cautions = tuple(caution(name, *comes_to, *(acid_here if name == ACID else ())) for name in named)
    return Step(f"{BY_HAND}{key}", Stage.VAT, doing.text, 0.0, cautions=cautions)


def _care(scene: Scene, doing: Doing) -> Care | None:
    """Say what to mind of an amount that may go in."""
    guard: Block | Care | None = None
    account = account_now(scene.state, scene.sheet)
    if doing.is_lye and doing.what is not None:
        water = max(dissolving_litres(Dose(doing.what, doing.grams)), LEAST_JUG_L)
        guard = lye(doing.grams * doing.what.purity, water, celsius(scene.state.plan.water.cold))
    elif doing.act is Act.ACID and account is not None:
        guard = acid(account, 0.0, seen_spent=scene.state.tending.seen_spent)
    return guard if isinstance(guard, Care) else None


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
    def why(self) -> str:
        """Say what speaks against it."""
        return self.block.why

    @property
    def answer(self) -> DoneAllTheSame:
        """Give the event that says it was done all the same."""
        return DoneAllTheSame(self.rule, self.subject, self.block.why)


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
    insisted = {(event.rule, event.subject) for event in events if isinstance(event, DoneAllTheSame)}
    open_ = (item for item in questions(scene, events) if (item.rule, item.subject) not in insisted)
    to_read = (item for item in unread(scene, events) if (item.rule, item.step.id) not in insisted)
    return (*open_, *to_read)


# Acid and doubtful amounts


def _acid_live(scene: Scene, doing: Doing) -> Block | None:
    """Acid into a vat that lives, or that comes below pH 9 by it while reducer is left."""
    tending, account = scene.state.tending, account_now(scene.state, scene.sheet)
    if account is None or no_acid(scene.state.plan) is not None:
        return None
    does = in_acid(scene.state.plan)
    if doing.event is None:
        reading = tending.readings[-1].reading if tending.readings else None
        block = ready_for_acid(reading, does, seen_spent=tending.seen_spent) if account.is_alive else None
        return evolve(block, after=interlocks.AFTER_ACID) if block else None
    guard = interlocks.acid(account, _after(account, scene, doing), seen_spent=tending.seen_spent)
    return guard if isinstance(guard, Block) else None


def _bears_none(scene: Scene, doing: Doing) -> Block | None:
    """Acid into a vat whose kind bears none, blue or not."""
    account = account_now(scene.state, scene.sheet)
    return no_acid(scene.state.plan) if account is not None and doing.place is Place.TUB else None


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
    """A dip into a tub in which no vat stands; once a piece went in all the same, one stands there by her word."""
    state = scene.state
    unmade = state.tending.account is None and state.plan.kept is None and STOCK_IN not in state.done
    if state.tending.let_go is not None:
        why = "No vat stands there: it was let go."
    elif state.tending.seen_spent:
        why = "No vat stands there: it was stirred in the air until it stayed blue."
    elif unmade and not state.dipping.entered:
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
    if stands is None or stands.pH is None or suits_lime(plan, fibre.group):
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


def _pieces_wait(scene: Scene, doing: Doing) -> Block | None:
    """The vat put away while pieces still wait for their turn; once it is stirred in the air, that was asked."""
    left = waiting(scene.state, scene.sheet)
    was_asked = isinstance(doing.event, VatSpent) and scene.begun(OXIDISE) is not None
    if not left or was_asked or scene.state.tending.seen_spent:
        return None
    return Block(
        f"{show_count(len(left), 'piece')} still {'waits' if len(left) == 1 else 'wait'} for a dip: {_names(left)}.",
        "Dip them first, or say that they are done (d, then x).",
        final=False,
        after="Pieces that wait keep their place on the board for a vat of another day.",
    )


def _poured_off(scene: Scene, doing: Doing) -> Block | None:
    """The vat poured off by the list, while it is alive or its pH and warmth are not known to be as the rules want."""
    tending = scene.state.tending
    if doing.subject != "finish.drain" or tending.let_go is not None or tending.account is None:
        return None
    block = holds_back(scene.state, Choices())
    return evolve(block, final=False, after="Local rules say what may go where, and at which pH.") if block else None


def _names(left: Sequence[str]) -> str:
    more = len(left) - MOST_NAMED
    return ", ".join(left[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


MOST_NAMED = 3
"""A sentence that names more pieces is not read to its end. Ours."""


RULES: tuple[Rule, ...] = (
    Rule("water-onto-lye", (Act.ALKALI, Act.WATER), powder_interlocks.water_onto_lye, "lye"),
    Rule("eaten-vessel", (Act.ALKALI, Act.POUR), powder_interlocks.eaten_vessel, "lye"),
    Rule("warm-lye", (Act.ALKALI,), powder_interlocks.warm_lye, "lye"),
    Rule("hot-in-glass", (Act.ALKALI,), powder_interlocks.hot_in_glass, "lye"),
    Rule("second-lye", (Act.ALKALI,), powder_interlocks.second_lye, "lye"),
    Rule("other-powder", (Act.ALKALI, Act.REDUCER), powder_interlocks.other_powder, "lye"),
    Rule("no-acid", (Act.ACID,), _bears_none, "acid"),
    Rule("acid-live", (Act.ACID,), _acid_live, "acid"),
    Rule("given-again", (Act.ALKALI, Act.REDUCER, Act.ACID), powder_interlocks.given_again, "lye"),
    Rule("doubtful", (Act.ALKALI, Act.REDUCER, Act.ACID), _doubtful, "lye"),
    Rule("no-vat", (Act.DIP,), _no_vat, "gloves"),
    Rule("above-window", (Act.DIP,), _above_window, "gloves"),
    Rule("scour-left", (Act.DIP,), scour_left, "heat"),
    Rule("pieces-wait", (Act.LEAVE,), _pieces_wait, "gloves"),
    Rule("poured-off", (Act.STEP,), _poured_off, "acid"),
    Rule("wait-runs", (Act.STEP,), wait_runs, "heat"),
    Rule(NOT_DIPPED, (Act.STEP,), not_dipped, "gloves"),
)
"""Every interlock but those that a caution is: gloves before the first dip, a dry tub before any reducer."""
