"""The scour baths: each load of a bath by itself, side by side with the others as pots, hobs and hands allow."""

from collections.abc import Sequence

from attrs import define, evolve, field

from vatside.dayline.need.chains import Draft, held_by, task_of, template
from vatside.dayline.steps import Step
from vatside.plan.measures import litres
from vatside.plan.plan import Plan
from vatside.plan.scour_baths import Bath
from vatside.plan.sheet import Sheet

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
    found = _Bath()
    for step in steps:
        moment, name = template(step).when, template(step).id
        if moment in ("before", "only"):
            found.before.append((f"{name}{len(found.before)}" if moment == "only" else name, step))
        elif moment == "after":
            found.after.append((name, step))
        else:
            if name == "fill" or not found.loads:
                found.loads.append([])
            found.loads[-1].append((f"{name}2" if name in dict(found.loads[-1]) else name, step))
    return found


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
