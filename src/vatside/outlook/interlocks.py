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
from vatside.outlook.cautions_to_read import Unread, unread
from vatside.outlook.dip_board import waiting
from vatside.outlook.hand_acts import Act, Doing, Scene, doings
from vatside.outlook.lye_interlocks import eaten_vessel, hot_in_glass, second_lye, warm_lye, water_onto_lye
from vatside.outlook.other_powders import other_powder
from vatside.outlook.stands import account_now, stands_now
from vatside.outlook.vat_additions import doubt
from vatside.outlook.vat_deeds import VAT_STARTS
from vatside.plan.delicate import suits_lime
from vatside.plan.measures import fibre_of, powder
from vatside.units import show_count
from vatside.vat import interlocks
from vatside.vat.account import Account, predict, with_powder
from vatside.vat.interlocks import Block
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
        "Dip them first, or say that they are done (d, then x).",
        final=False,
        after="They keep their place on the board for a vat of another day.",
    )


def _names(left: Sequence[str]) -> str:
    more = len(left) - MOST_NAMED
    return ", ".join(left[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


MOST_NAMED = 3
"""A sentence that names more pieces is not read to its end. Ours."""


RULES: tuple[Rule, ...] = (
    Rule("water-onto-lye", (Act.ALKALI, Act.WATER), water_onto_lye, "lye"),
    Rule("eaten-vessel", (Act.ALKALI, Act.POUR), eaten_vessel, "lye"),
    Rule("warm-lye", (Act.ALKALI,), warm_lye, "lye"),
    Rule("hot-in-glass", (Act.ALKALI,), hot_in_glass, "lye"),
    Rule("second-lye", (Act.ALKALI,), second_lye, "lye"),
    Rule("other-powder", (Act.ALKALI, Act.REDUCER), other_powder, "lye"),
    Rule("acid-live", (Act.ACID,), _acid_live, "acid"),
    Rule("doubtful", (Act.ALKALI, Act.REDUCER, Act.ACID), _doubtful, "lye"),
    Rule("no-vat", (Act.DIP,), _no_vat, "gloves"),
    Rule("above-window", (Act.DIP,), _above_window, "gloves"),
    Rule("pieces-wait", (Act.LEAVE,), _pieces_wait, "gloves"),
)
"""Every interlock but those that a caution is: gloves before the first dip, a dry tub before any reducer."""
