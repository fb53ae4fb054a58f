"""What a day waits for longest, and the smallest changes that would help: each by laying the day with it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from itertools import combinations
from math import ceil
from typing import Any

from attrs import evolve, frozen

from vatside.dayline.day_steps import steps as steps_of_day
from vatside.dayline.easing import PLENTY
from vatside.dayline.going import NOT_BEGUN, Going
from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.compiling import compiled
from vatside.dayline.line.model import HANDS, Day, NoPlanError, Resource
from vatside.dayline.line.net import Net
from vatside.dayline.line.planning import plan as lay
from vatside.dayline.needed import needed
from vatside.dayline.steps import Step
from vatside.dayline.tasks import template
from vatside.plan.measures import share
from vatside.plan.plan import Condition, Lot, Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.recipe.compute import compute
from vatside.units import show_minutes

#: Evaluations for each thing of which there is plenty in thought.
EACH_WITH_PLENTY = 60
#: Minutes that plenty of a thing must gain before that thing is said to hold the day up: ours.
WORTH_NAMING = 10
THINGS = {"pot": "pots", "hob": "hobs", "sink": "sinks", "bowl": "bowls", "jar": "jars", HANDS: "hands"}
STAGES = {Stage.SCOUR: "the scour", Stage.STOCK: "the stock", Stage.VAT: "the vat's rest", Stage.FINISH: "the finish"}
AIR, VAT = "air", "the vat"
LAST_AIRING = "air"
"""The step of the finish that only waits for the air."""


@frozen
class Bottleneck:
    """What holds a day up, and by how many minutes: those that plenty of it would gain, or that it takes."""

    name: str
    minutes: int
    more_helps: bool
    """More of it would help; else it takes its time whatever there is."""


def bottleneck(day: LaidDay) -> Bottleneck | None:
    """The thing, or two things together, of which plenty gains most; else what takes longest. None on an empty day."""
    scarce = [*_lunch_in_the_way(day), *_scarce(day, ((name,) for name in THINGS))]
    if not any(item.minutes >= WORTH_NAMING for item in scarce):
        scarce = list(_scarce(day, combinations(THINGS, 2)))
    most = max(scarce, key=lambda each: each.minutes, default=None)
    if most is not None and most.minutes >= WORTH_NAMING:
        return most
    return _takes_longest(day)


LUNCH = "lunch"


def _lunch_in_the_way(day: LaidDay) -> Iterator[Bottleneck]:
    """A lunch that costs more than its own minutes: what cannot be left alone for so long waits until it is over."""
    whole = day.needed.day
    if whole.breaks:
        own = sum(pause.minutes for pause in whole.breaks)
        end, without = (lay(laid, EACH_WITH_PLENTY, like=day.laid).end for laid in (whole, evolve(whole, breaks=())))
        yield Bottleneck(LUNCH, end - without - own, more_helps=False)


def _scarce(day: LaidDay, names: Iterable[tuple[str, ...]]) -> Iterator[Bottleneck]:
    # As many layings without plenty: what the search gains by itself is no thing's doing.
    end = lay(day.needed.day, EACH_WITH_PLENTY, like=day.laid).end
    for these in names:
        plenty = day.needed.day
        for name in these:
            plenty = _with_plenty(plenty, name)
        gains = end - lay(plenty, EACH_WITH_PLENTY, like=day.laid).end
        yield Bottleneck(" and ".join(THINGS[name] for name in these), gains, more_helps=True)


def _with_plenty(day: Day, name: str) -> Day:
    resource = day.resources[name]
    sizes = resource.sizes[-1:] * PLENTY + resource.sizes
    # Where nobody was there, nobody is.
    away = tuple((a, b, PLENTY if count >= resource.units else count) for a, b, count in resource.away)
    made = Resource(PLENTY, away, tuple(sorted(sizes)) if resource.sizes else ())
    return evolve(day, resources={**day.resources, name: made})


def _takes_longest(day: LaidDay) -> Bottleneck | None:
    """The part that has most minutes of the longest way through the links."""
    net = compiled(day.needed.day)
    if not net.size:
        return None
    minutes: dict[str, int] = defaultdict(int)
    i = max(range(net.size), key=lambda each: net.head[each] + net.lengths[each])
    _count(day, net, i, net.lengths[i], minutes)
    while (before := _before(net, i)) is not None:
        _count(day, net, before, net.head[i] - net.head[before], minutes)
        i = before
    name = max(minutes, key=lambda each: minutes[each])
    return Bottleneck(name, minutes[name], more_helps=False)


def _before(net: Net, i: int) -> int | None:
    """The task that a task waits for by a link, if it waits for one."""
    for p in net.before[i]:
        if any(j == i and net.head[p] + w == net.head[i] for j, w in net.out[p]):
            return p
    return None


def _count(day: LaidDay, net: Net, i: int, took: int, minutes: dict[str, int]) -> None:
    """Of a round after which the vat waits: minutes of its first entry, and those in which that airs or it rests."""
    name = net.ids[i]
    turn = day.needed.rounds.get(name)
    if turn is not None:
        waits = took > net.lengths[i]
        inside = ceil(turn.entries[0].end - turn.begin) if waits else took
        minutes[VAT] += inside
        minutes[AIR] += took - inside
    elif template(day.needed.steps[name]).id == LAST_AIRING and day.needed.steps[name].stage is Stage.FINISH:
        minutes[AIR] += took
    else:
        minutes[STAGES.get(day.needed.steps[name].stage, VAT)] += took


#: Evaluations for each change.
EACH = 60
#: Minutes that a change must gain to be named.
WORTH = 5
#: Minutes of hands that one bath of the quicker cooling takes: ours, no source.
BATH_MIN = 5
#: Changes that are named at most.
SHOWN = 3
#: Steps that can be left for tomorrow once the reducer is rinsed out: common practice, no source.
TOMORROW = ("wash_water", "wash_heat", "wash", "wash_each", "last_rinse")
LUNCH_SHORT = 20


@frozen
class Case:
    """What a day is laid of."""

    plan: Plan
    sheet: Sheet
    steps: tuple[Step, ...]


@frozen
class Change:
    """One thing that could be otherwise."""

    label: str
    cost: int
    """What it asks of the dyer: the smaller the sooner it is named."""
    make: Callable[[Case], Case]


@frozen
class Help:
    """Changes together, and what they gain."""

    labels: tuple[str, ...]
    cost: int
    gains: int
    """Minutes that the day is less late, or ends sooner where no hour is wanted."""
    enough: bool
    """Nothing is late any more."""

    @property
    def words(self) -> str:
        """`another pot and another hob: 1 h 58 min sooner`."""
        end = "in time" if self.enough else f"{show_minutes(self.gains)} sooner"
        return f"{' and '.join(self.labels)}: {end}"


def what_would_help(
    day: LaidDay, plan: Plan, sheet: Sheet, steps: Sequence[Step], going: Going = NOT_BEGUN
) -> Iterator[Help]:
    """Every single change that gains something, then pairs of things and hands; a list that fills while it is read."""
    case = Case(plan, sheet, tuple(steps))
    # As many layings without a change: what the search gains by itself is no change's doing.
    again = _spare(day, case, going)
    stands = day.spare if day.spare is not None else -day.laid.end
    before = stands if again is None else max(stands, again)
    changes = tuple(_changes(case, going))
    for change in changes:
        yield from _tried(day, before, case, (change,), going)
    things = [change for change in changes if change.cost <= _COST_OF_HANDS]
    for pair in combinations(things, 2):
        yield from _tried(day, before, case, pair, going)


def bottleneck_words(scarcest: Bottleneck | None) -> str:
    """What the day waits for longest, in one sentence."""
    if scarcest is None:
        return "Nothing is left to wait for."
    minutes = show_minutes(scarcest.minutes)
    if scarcest.name == LUNCH:
        return f"Lunch as it lies costs {minutes} more than its own: = lets it begin at another hour."
    if scarcest.more_helps:
        return f"It waits for {scarcest.name}: with plenty of them it would end {minutes} sooner."
    return f"No more hands or pots would shorten it much: {scarcest.name} alone takes {minutes}."


def best(helps: Iterable[Help], most: int = SHOWN) -> list[Help]:
    """The cheapest that are enough; where none is, those that gain most. None that another does as well for less."""
    kept = sorted(helps, key=lambda each: (not each.enough, each.cost if each.enough else -each.gains, each.cost))
    shown: list[Help] = []
    for option in kept:
        if not any(set(other.labels) < set(option.labels) and other.gains >= option.gains - WORTH for other in shown):
            shown.append(option)
    return shown[:most]


def _tried(day: LaidDay, before: int, case: Case, changes: Sequence[Change], going: Going) -> Iterator[Help]:
    for change in changes:
        case = change.make(case)
    spare = _spare(day, case, going)
    if spare is None:
        return
    gains = spare - before
    if gains >= WORTH:
        enough = day.spare is not None and spare >= 0
        yield Help(tuple(change.label for change in changes), _cost(changes), gains, enough)


def _cost(changes: Sequence[Change]) -> int:
    """How much several changes ask together: as much as the dearest of them, and one more for each further one."""
    return max(change.cost for change in changes) + len(changes) - 1


def _spare(day: LaidDay, case: Case, going: Going) -> int | None:
    """Minutes in hand with a change, or the end below zero where no hour is wanted; None for what cannot be laid."""
    try:
        need = needed(case.plan, case.sheet, case.steps, day.begin, going, day.zone)
        laid = lay(need.day, EACH)
    except NoPlanError:
        return None
    changed = evolve(day, needed=need, laid=laid)
    return changed.spare if day.spare is not None else -laid.end


# --- what can be changed -----------------------------------------------------

_COST_OF_HANDS = 40


def _changes(case: Case, going: Going) -> Iterator[Change]:
    yield from _cooling(case)
    yield from _lunch(case)
    for name, label in (("bowls", "another bowl"), ("sinks", "another sink"), ("hobs", "another hob")):
        yield Change(label, 30, partial(_one_more, name))
    yield Change("another pot", 30, _another_pot)
    yield Change("another pair of hands", _COST_OF_HANDS, partial(_one_more, "people"))
    yield from _scoured_before(case, going)
    yield from _palest(case, going)
    if any(template(step).id in TOMORROW and step.id not in going.done for step in case.steps):
        yield Change("wash off tomorrow", 60, _without_washing)


def _one_more(name: str, case: Case) -> Case:
    return _placed(case, **{name: getattr(case.plan.place, name) + 1})


def _placed(case: Case, **things: Any) -> Case:
    return evolve(case, plan=evolve(case.plan, place=evolve(case.plan.place, **things)))


def _another_pot(case: Case) -> Case:
    return _placed(case, pots=(*case.plan.place.pots, case.plan.vessels.scour_pot))


def _cooling(case: Case) -> Iterator[Change]:
    """Fibre that cools slowly can be cooled bath by bath, each a step cooler."""
    if any(template(step).id == "cool" and step.minutes for step in case.steps):
        yield Change("cool the quicker way, bath by bath", 10, _cooled)


def _cooled(case: Case) -> Case:
    def quicker(step: Step) -> Step:
        baths = case.sheet.value(f"{step.id.removesuffix('.cool')}.steps_down", 0.0)
        if template(step).id != "cool" or not baths or baths * BATH_MIN >= (step.minutes or 0.0):
            return step
        return evolve(step, hands_min=BATH_MIN * baths, minutes=None)

    return evolve(case, steps=tuple(quicker(step) for step in case.steps))


def _lunch(case: Case) -> Iterator[Change]:
    lunch = case.plan.place.lunch
    if lunch > LUNCH_SHORT:
        yield Change(f"{LUNCH_SHORT} min for lunch", 20, lambda now: _placed(now, lunch=LUNCH_SHORT))


def _scoured_before(case: Case, going: Going) -> Iterator[Change]:
    """What is clean can be scoured the day before, where nothing was begun yet; greasy fibre has that for a rule."""
    if any(lot.condition == Condition.CLEAN for lot in case.plan.lots) and not going.begun:
        yield Change("scour the day before", 45, _scoured)


def _scoured(case: Case) -> Case:
    lots = (
        evolve(lot, condition=Condition.READY) if lot.condition == Condition.CLEAN else lot for lot in case.plan.lots
    )
    return _planned_anew(case.plan, lots)


def _planned_anew(plan: Plan, lots: Iterable[Lot]) -> Case:
    """The whole day of other lots."""
    plan = evolve(plan, lots=tuple(lots))
    sheet = compute(plan)
    return Case(plan, sheet, steps_of_day(plan, sheet))


def _palest(case: Case, going: Going) -> Iterator[Change]:
    """The lot that wants least, where nothing was begun yet and another is left."""
    if len(case.plan.lots) < 2 or going.begun:
        return
    lot = min(case.plan.lots, key=lambda each: share(each.depth))
    yield Change(f"leave out {lot.name}", 50, lambda now: _without(now, lot.id))


def _without(case: Case, lot: str) -> Case:
    return _planned_anew(case.plan, (other for other in case.plan.lots if other.id != lot))


def _without_washing(case: Case) -> Case:
    return evolve(case, steps=tuple(step for step in case.steps if template(step).id not in TOMORROW))
