"""Steps as tasks, rows of them as links and spans; the loads of the scour baths, and stock and vat until they join."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil

from attrs import define, evolve, field

from vatside.catalogue.load import HOLDS
from vatside.catalogue.values import StepTemplate
from vatside.dayline.line.model import HANDS, Link, Nudge, Span, Task, Use
from vatside.dayline.steps import MOMENT_MIN, Step
from vatside.plan.batches import Bath
from vatside.plan.measures import litres
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage

#: A nudge may come so many minutes before or after its own: ours, no source.
NUDGE_PLAY = 4
BLANK = StepTemplate("", "", 0)


@define
class Draft:
    """What is gathered of a day."""

    tasks: dict[str, Task] = field(factory=dict)
    links: list[Link] = field(factory=list)
    spans: list[Span] = field(factory=list)
    steps: dict[str, Step] = field(factory=dict)
    """Which step a task is of."""
    within: dict[str, int | None] = field(factory=dict)
    """Minutes that may pass after a task."""
    open_spans: list[tuple[str, str, str, bool]] = field(factory=list)
    """(thing, opener, step until which it is held, to its end), to be closed once that step is known."""

    def add(self, step: Step, task: Task | None = None, *, within: int = 0) -> str:
        """Take a step up as a task; so many minutes more may pass after it."""
        made = task or task_of(step)
        self.tasks[made.id] = made
        self.steps[made.id] = step
        play = template(step).then_within
        self.within[made.id] = None if play is None else ceil(play.value) + within
        return made.id

    def link(self, first: str, last: str, least: int | None = None, within: int | None = -1) -> None:
        """Let one task follow another, within as many minutes as may pass after the first."""
        least = self.tasks[first].minutes if least is None else least
        play = self.within[first] if within == -1 else within
        self.links.append(Link(first, last, least, None if play is None else least + play))

    def span(self, thing: str, first: str, last: str, *, to_end: bool, size: float | None = None) -> None:
        """Let something be held from one task to another."""
        self.spans.append(Span(thing, first, last, to_end, 1, size))

    def chain(self, names: Mapping[str, str], steps: Sequence[tuple[str, Step]]) -> None:
        """Link a row of (short name, step) by what each says that it follows; the one above it where it says nothing.

        `names` gives the task of each short name; what is not there is passed over.
        """
        above: str | None = None
        for name, step in steps:
            follows = template(step).follows
            wanted = (
                ([above] if above else []) if follows is None else [earlier for earlier in follows if earlier in names]
            )
            for earlier in wanted:
                self.link(names[earlier], names[name])
            above = name


def template(step: Step) -> StepTemplate:
    """What the tables say of a step; nothing of one that was made without them."""
    return step.template or BLANK


def lengths(step: Step) -> tuple[int, int]:
    """Whole minutes of hands and of the wait after them; a wait that keeps the hands is all hands."""
    hands = ceil(step.hands_min - 1e-6)
    of = template(step)
    wait = 0 if of.busy or of.unattended else ceil((step.minutes or 0.0) - 1e-6)
    return hands, wait


def task_of(step: Step, name: str | None = None) -> Task:
    """A step as one task: hands first, then the wait."""
    hands, wait = lengths(step)
    of = template(step)
    uses = [Use(HANDS, 0, hands)] if hands else []
    uses += [Use(thing, 0, hands) for thing in of.takes if hands]
    uses += [Use("hob", hands, hands + wait)] if of.heats and (step.minutes or 0.0) >= MOMENT_MIN else []
    calls = (
        []
        if of.unattended or of.busy
        else [Nudge(hands + round(nudge.minute), NUDGE_PLAY, NUDGE_PLAY) for nudge in step.nudges]
    )
    return Task(name or step.id, hands + wait, tuple(uses), tuple(calls))


def held_by(step: Step) -> list[tuple[str, str, bool]]:
    """What a step keeps: (thing, name of the step until which, to the end of that)."""
    matches = (HOLDS.fullmatch(words) for words in template(step).holds)
    return [(match[1], match[2], match[3] is None) for match in matches if match]


#: Litres that a kilogram of fibre takes up in a pot: common practice, no source.
FIBRE_LITRES = 0.7


@define
class _Bath:
    """The steps of one bath, sorted by load."""

    before: list[tuple[str, Step]] = field(factory=list)
    loads: list[list[tuple[str, Step]]] = field(factory=list)
    after: list[tuple[str, Step]] = field(factory=list)


def add_bath(draft: Draft, plan: Plan, sheet: Sheet, bath: Bath, steps: Sequence[Step]) -> str | None:
    """Take up the steps of a bath; the task after which its fibre is ready for the vat."""
    parts = _sorted(steps)
    size = _size(plan, sheet, bath)
    before = {name: draft.add(step) for name, step in parts.before}
    draft.chain(before, parts.before)
    ends: list[str] = []
    heats: list[str] = []
    first: str | None = None
    for load in parts.loads:
        names = _add_load(draft, bath, load)
        draft.chain(before | names, load)
        first = _after_the_last(draft, first, names, load)
        _holds(draft, load, names, size)
        ends.append(names[load[-1][0]])
        heats += [names[name] for name in ("heat", "lower") if name in names][:1]
    _soak_bowl(draft, parts.before, before, heats)
    return _after(draft, parts.after, ends or list(before.values())[-1:])


def _sorted(steps: Sequence[Step]) -> _Bath:
    """A load begins where its pot is filled."""
    bath = _Bath()
    for step in steps:
        moment, name = template(step).when, template(step).id
        if moment in ("before", "only"):
            bath.before.append((f"{name}{len(bath.before)}" if moment == "only" else name, step))
        elif moment == "after":
            bath.after.append((name, step))
        else:
            if name == "fill" or not bath.loads:
                bath.loads.append([])
            bath.loads[-1].append((f"{name}2" if name in dict(bath.loads[-1]) else name, step))
    return bath


def _after_the_last(draft: Draft, first: str | None, names: dict[str, str], load: Sequence[tuple[str, Step]]) -> str:
    """The loads of a bath are alike: they begin in the order of their numbers, and go in so."""
    begins = names.get("heat", names[load[0][0]])
    if first:
        draft.link(first, begins, 0, None)
    return begins


def _add_load(draft: Draft, bath: Bath, load: Sequence[tuple[str, Step]]) -> dict[str, str]:
    """A bath may be held on: as long as its recipe allows."""
    names = {}
    for name, step in load:
        more = 0
        if name.startswith("hold"):
            high = bath.scour.minutes.high or bath.scour.minutes.value
            play = template(step).then_within
            more = max(0, int(high - (step.minutes or 0.0)) - int(play.value if play else 0))
        names[name] = draft.add(step, within=more)
    return names


def _size(plan: Plan, sheet: Sheet, bath: Bath) -> float:
    """Litres that the pot of a load must hold; the scour pot holds each, for the loads were made for it."""
    pot = litres(plan, plan.vessels.scour_pot)
    loads = max(round(sheet.value(bath.id("loads"), 1)), 1)
    return min(sheet.value(bath.id("load_water"), 0.0) + FIBRE_LITRES * bath.grams / 1000 / loads, pot)


def _holds(draft: Draft, load: Sequence[tuple[str, Step]], names: dict[str, str], size: float) -> None:
    last = load[-1][0]
    for name, step in load:
        for thing, until, to_end in held_by(step):
            close = names[until] if until in names else names[last]
            draft.span(thing, names[name], close, to_end=to_end or until not in names,
                       size=size if thing == "pot" else None)  # fmt: skip


def _soak_bowl(draft: Draft, before: Sequence[tuple[str, Step]], names: dict[str, str], heats: Sequence[str]) -> None:
    """The fibre soaks in its bowl until the last load of it goes into the pot."""
    for name, step in before:
        for thing, _, _ in held_by(step):
            for heat in heats[-1:]:
                draft.span(thing, names[name], heat, to_end=False)


def _after(draft: Draft, after: Sequence[tuple[str, Step]], ends: list[str]) -> str | None:
    """Each load cools by itself, right after its rinse; the last step comes once all have."""
    for name, step in after:
        if name == "cool" and len(ends) > 0:
            ends = [_cooled(draft, step, end, k, len(ends)) for k, end in enumerate(ends)]
            continue
        task = draft.add(step)
        for end in ends:
            draft.link(end, task, within=None)
        ends = [task]
    return ends[-1] if ends else None


def _cooled(draft: Draft, step: Step, end: str, number: int, of: int) -> str:
    last = number == of - 1
    task = draft.add(step, None if last else evolve(task_of(step), id=f"{step.id}#{number + 1}"))
    draft.link(end, task)
    for thing, _, _ in held_by(step):
        draft.span(thing, task, task, to_end=True)
    return task


#: The steps that need the stock: they come once it has been looked at.
JOINS = ("vat.jar", "vat.stock_in")


def add_vat(draft: Draft, steps: Sequence[Step]) -> str | None:
    """Take up the steps of stock and vat; the task after which the vat is ready."""
    stock = [step for step in steps if step.stage is Stage.STOCK]
    vat = [step for step in steps if step.stage is Stage.VAT]
    for row in (stock, vat):
        names = {step.id: draft.add(step) for step in row}
        draft.chain(names, [(step.id, step) for step in row])
    for step in (*stock, *vat):
        for thing, until, to_end in held_by(step):
            draft.open_spans.append((thing, step.id, until, to_end))
    join = next((step.id for step in vat if step.id in JOINS), None)
    if stock and join:
        draft.link(stock[-1].id, join)
    return vat[-1].id if vat else None
