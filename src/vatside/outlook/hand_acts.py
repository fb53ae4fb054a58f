"""What the dyer does with her hands when something is about to be logged, and what stands in the tub by then.

What goes where, which piece goes in. `stands_now` alone tells the interlocks what stands in the tub.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from enum import StrEnum

from attrs import frozen

from vatside.chemistry.substances import heats
from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dayline.rounds import BETWEEN
from vatside.dayline.steps import Step
from vatside.log.effects.pieces import lot_of, name_of
from vatside.log.effects.vat import grams, is_raising
from vatside.log.events.day import DoneAllTheSame, Event, StepDone, WaitStarted
from vatside.log.events.vat import CorrectionMade, DipStarted, LotDipped, VatKept, VatLetGo, VatSpent
from vatside.log.fold import State
from vatside.log.vat_account import standing_at
from vatside.log.waits import Moment
from vatside.log.words.vat import care_words
from vatside.plan.measures import BUFFERED, SODA, Powder, powder
from vatside.plan.sheet import Sheet
from vatside.recipe.vat_needs import pH_at, setting
from vatside.units.show import capital
from vatside.vat.account import Account, planned_account, predict


@frozen
class Stands:
    """The liquor in the tub."""

    account: Account
    celsius: float
    pH: float | None  # noqa: N815  (chemistry's own symbol)
    """At that temperature, as read while nothing went in since, else by the account; None where that cannot be told."""
    read: bool
    """The pH was read."""


def stands_now(state: State, sheet: Sheet, at: Moment) -> Stands | None:
    """Give what stands in the tub at a moment, the clock counted; None before it is made and once it is gone."""
    state = standing_at(state, at)
    account = account_now(state, sheet)
    if account is None:
        return None
    read = _read_pH(state, sheet, account.celsius)
    return Stands(account, account.celsius, _predicted(account) if read is None else read, read is not None)


def account_now(state: State, sheet: Sheet) -> Account | None:
    """Give the account as the log left it, for what the clock takes off its reducer is no leave to sour it.

    The plan's own once a step of the vat was done, though nobody said that it was made.
    """
    tending = state.tending
    if tending.account is not None or tending.let_go is not None:
        return tending.account
    if not any(step.startswith("vat.") for step in state.done):
        return None
    try:
        return planned_account(state.plan, sheet)
    except ValueError:
        return None


def _predicted(account: Account) -> float | None:
    try:
        return predict(account).pH
    except ValueError:
        return None


def _read_pH(state: State, sheet: Sheet, vat_C: float) -> float | None:
    """Give the pH last read, at the temperature of the vat; None once something went in since, or without one."""
    tending = state.tending
    if not tending.readings or tending.account is None:
        return None
    reading = tending.readings[-1].reading
    if reading.pH is None or tending.put_in_since:
        return None
    return pH_at(reading.pH, reading.sample_in(vat_C), vat_C, setting(state.plan, sheet))


class Act(StrEnum):
    """What can go wrong."""

    ALKALI = "alkali goes in"
    WATER = "water goes in"
    POUR = "caustic liquor is poured"
    REDUCER = "reducer goes in"
    ACID = "acid goes in"
    DIP = "a piece goes in"
    LEAVE = "the vat is put away, spent or let go"
    STEP = "a step is begun or done"


class Place(StrEnum):
    """Where it goes."""

    POT, JAR, TUB, BENCH = "scour pot", "stock jar", "vat tub", "bench"


@frozen
class Scene:
    """How things stand before something is logged."""

    state: State
    sheet: Sheet
    steps: Sequence[Step]
    at: Moment

    def step(self, step_id: str) -> Step | None:
        """Give one step, if the plan has it."""
        return next((step for step in self.steps if step.id == step_id), None)

    def begun(self, step_id: str) -> Moment | None:
        """Say when a step was begun that is done or whose wait runs; None for one that was not."""
        wait = next((wait for wait in self.state.waits if wait.step == step_id), None)
        return self.state.done.get(step_id) or (wait.started if wait else None)


@frozen
class Doing:
    """One act."""

    act: Act
    place: Place
    subject: str
    """The step, the piece, or the powder."""
    text: str
    """In words."""
    what: Powder | None = None
    grams: float = 0.0
    """Of the powder, as weighed."""
    event: Event | None = None
    """What it is logged by; None for a step."""

    @property
    def is_lye(self) -> bool:
        """Tell lye from the milder alkalis."""
        return self.act is Act.ALKALI and self.what is not None and heats(self.what.material.species)


FILL = {Place.JAR: "stock.water", Place.TUB: "vat.fill"}
"""The step that brings the water, by place."""
ALKALI_IN = {Place.JAR: "stock.alkali_in", Place.TUB: "vat.alkali_in"}
"""The step that brings the alkali."""
_STEPS: dict[str, tuple[Act, Place, str]] = {
    FILL[Place.JAR]: (Act.WATER, Place.JAR, ""),
    FILL[Place.TUB]: (Act.WATER, Place.TUB, ""),
    ALKALI_IN[Place.JAR]: (Act.ALKALI, Place.JAR, "alkali"),
    ALKALI_IN[Place.TUB]: (Act.ALKALI, Place.TUB, "alkali"),
    "vat.soda_in": (Act.ALKALI, Place.TUB, SODA),
    BETWEEN: (Act.ALKALI, Place.TUB, "alkali"),
    "vat.stock_in": (Act.POUR, Place.TUB, "alkali"),
    "stock.reducer_in": (Act.REDUCER, Place.JAR, "reducer"),
    "vat.reducer_in": (Act.REDUCER, Place.TUB, "reducer"),
    "finish.keep_feed": (Act.REDUCER, Place.TUB, "reducer"),
    "finish.neutralise": (Act.ACID, Place.TUB, "vinegar"),
}
"""What the steps of vat and stock do, by their ids."""
_FIGURES = {
    ALKALI_IN[Place.JAR]: "stock.alkali",
    ALKALI_IN[Place.TUB]: "vat.alkali",
    "vat.soda_in": BUFFERED[0],
    BETWEEN: "dip.alkali",
}
"""How much of the powder a step brings."""


def steps_begun(scene: Scene, events: Sequence[Event]) -> Iterator[Step]:
    """Give the steps that begin with these events; one whose wait runs was begun before."""
    running = {wait.step for wait in scene.state.waits}
    ids = dict.fromkeys(
        event.step for event in events
        if isinstance(event, WaitStarted | StepDone) and event.step and event.step not in running
    )  # fmt: skip
    yield from (step for step in scene.steps if step.id in ids)


OXIDISE = "finish.oxidise"
"""The step in which air ends the vat, and that says once it is done that it stays blue."""
NOT_DIPPED = "not-dipped"
"""The interlock of dips that nobody wrote down."""


def doings(scene: Scene, events: Sequence[Event]) -> Iterator[Doing]:
    """Give all that is done by these events; dips that are written down afterwards are not done now."""
    past = any(isinstance(event, DoneAllTheSame) and event.rule == NOT_DIPPED for event in events)
    spent = any(isinstance(event, VatSpent) for event in events)
    for step in steps_begun(scene, events):
        yield from _by_step(scene, step)
        if step.id == OXIDISE and not spent:
            yield Doing(Act.LEAVE, Place.TUB, "vat", step.text)
        yield Doing(Act.STEP, Place.BENCH, step.id, step.text)
    for event in events:
        if isinstance(event, CorrectionMade) and not is_raising(event):
            yield from _by_correction(scene, event)
        elif isinstance(event, DipStarted):
            yield from _by_piece(scene, event)
        elif isinstance(event, LotDipped) and not past:
            yield Doing(Act.DIP, Place.TUB, event.lot, _sentence(care_words(event, scene.state.plan)), event=event)
        elif isinstance(event, VatKept | VatLetGo | VatSpent):
            yield Doing(Act.LEAVE, Place.TUB, "vat", "The vat is put away", event=event)


def _by_step(scene: Scene, step: Step) -> Iterator[Doing]:
    plan, known = scene.state.plan, _STEPS.get(step.id)
    if known is None:
        if step.id.startswith("scour.") and "agents" in step.id.split(".") and "soda" in _cautions(step):
            yield Doing(Act.ALKALI, Place.POT, step.id, step.text, powder(plan, SODA))
        return
    act, place, name = known
    what = powder(plan, name) if name else None
    figure = _FIGURES.get(step.id, "")
    yield Doing(act, place, step.id, step.text, what, scene.sheet.value(figure) if figure else 0.0)


def _cautions(step: Step) -> frozenset[str]:
    return frozenset(item.id for item in step.cautions)


_ROLES = {"alkali": Act.ALKALI, "buffer": Act.ALKALI, "reducer": Act.REDUCER, "acid": Act.ACID}


def _by_correction(scene: Scene, event: CorrectionMade) -> Iterator[Doing]:
    """Give what goes in by hand; what cannot be told is left to the effect, which refuses it."""
    plan, text = scene.state.plan, _sentence(care_words(event, scene.state.plan))
    if event.stock is not None:
        yield Doing(Act.POUR, Place.TUB, "stock", text, powder(plan, "alkali"), event=event)
    if event.amount is None:
        return
    try:
        what = powder(plan, event.material)
        much = grams(what, event.amount, plan)
    except (KeyError, ValueError):
        return
    act = _ROLES.get(what.material.role)
    if act is not None:
        yield Doing(act, Place.TUB, event.material, text, what, much, event)


def _sentence(words: str) -> str:
    bare = words.removeprefix("Vat: ")
    return capital(bare)


def _by_piece(scene: Scene, event: DipStarted) -> Iterator[Doing]:
    try:
        lot_of(scene.state.plan, event.piece)
    except KeyError:
        return
    yield Doing(Act.DIP, Place.TUB, event.piece, f"{name_of(scene.state, event.piece)} goes in", event=event)


def dip_step(scene: Scene) -> Step | None:
    """Give the step that a dip belongs to."""
    first = scene.step(GENTLE)
    return first if first is not None and GENTLE not in scene.state.done else scene.step(ROTATE)
