"""From a day to a net: what is checked, numbered and worked out once before anything is laid."""

from vatside.dayline.line.model import HANDS, Day, NoPlanError, Span, Task
from vatside.dayline.line.net import NEVER, Arc, Booked, Call, Held, Need, Net, ancestors, in_order, ones, shifts

#: As often as this a task may be visited on average before its links are said to contradict each other: ours.
MOST_VISITS = 60


class Compiler:
    """Numbers the tasks of one day and gathers what the net needs; used once, by `compiled`."""

    def __init__(self, day: Day) -> None:
        """Number tasks and rows, nothing else."""
        self.day = day
        self.tasks = [task for task in day.tasks if task.id not in day.running]
        self.number = {task.id: i for i, task in enumerate(self.tasks)}
        self.by_id = {task.id: task for task in day.tasks}
        self.kept = {name for name in day.resources if self._contended(name)}
        self.bases: dict[str, int] = {}
        self.rows = 0
        for name, resource in day.resources.items():
            self.bases[name] = self.rows
            self.rows += len(resource.sizes) or resource.units
        self.people = day.resources[HANDS].units
        self.first_call = self._numbered_calls()
        self.units: dict[int, int] = self._units_in_use()

    def _contended(self, name: str) -> bool:
        """False where all that want it together could have it: such a resource never stands in the way."""
        resource = self.day.resources[name]
        if name == HANDS or resource.away or resource.sizes:
            return True
        spans = sum(span.units for span in self.day.spans if span.resource == name)
        uses = sum(use.units for task in self.day.tasks for use in task.uses if use.resource == name)
        return spans + uses > resource.units

    def _numbered_calls(self) -> dict[str, int]:
        first, count = {}, 0
        for task in self.day.tasks:
            first[task.id] = count
            count += len(task.nudges)
        self.seats = count
        return first

    def _units_in_use(self) -> dict[int, int]:
        """Which pot each running span has: the largest load takes the smallest pot that is large enough."""
        running = [
            (s, span)
            for s, span in enumerate(self.day.spans)
            if span.size is not None and span.first in self.day.running and self._end(span) > 0
        ]
        taken: dict[int, int] = {}
        for s, span in sorted(running, key=lambda each: (each[1].unit is None, -(each[1].size or 0))):
            fitting = self._fitting(span)
            free = [u for u in fitting if (span.resource, u) not in self._pairs(taken)]
            # A fact stands somewhere, if not in what the day counts on: that stays as taken as it is.
            taken[s] = (free or fitting)[0]
        return taken

    def _pairs(self, taken: dict[int, int]) -> set[tuple[str, int]]:
        return {(self.day.spans[s].resource, u) for s, u in taken.items()}

    def _end(self, span: Span) -> int:
        if span.last not in self.day.running:
            return NEVER
        return self.day.running[span.last] + (self.by_id[span.last].minutes if span.to_end else 0)

    def _fitting(self, span: Span) -> list[int]:
        """Units that are large enough, the smallest first."""
        if span.unit is not None:
            return [span.unit]
        sizes = self.day.resources[span.resource].sizes
        fitting = sorted((size, u) for u, size in enumerate(sizes) if size >= (span.size or 0))
        if not fitting:
            raise NoPlanError(f"no {span.resource} is large enough for {span.first}")
        return [u for _, u in fitting]

    # --- links ---------------------------------------------------------------

    def arcs(self) -> tuple[list[list[Arc]], list[set[int]], list[int], list[int]]:
        """Arcs between tasks, who comes before whom, and what running tasks ask: earliest starts and limits."""
        n = len(self.tasks)
        out: list[list[Arc]] = [[] for _ in range(n)]
        before: list[set[int]] = [set() for _ in range(n)]
        head = [max(0, task.release) for task in self.tasks]
        limit = [NEVER] * n
        for link in self.day.links:
            last = self.number.get(link.last)
            if last is None:
                continue
            if link.first in self.day.running:
                began = self.day.running[link.first]
                head[last] = max(head[last], began + link.least)
                if link.most is not None:
                    limit[last] = min(limit[last], began + link.most)
                continue
            first = self.number[link.first]
            out[first].append((last, link.least))
            before[last].add(first)
            if link.most is not None:
                out[last].append((first, -link.most))
        for span in self.day.spans:
            first_of, last_of = self.number.get(span.first), self.number.get(span.last)
            if first_of is not None and last_of is not None and first_of != last_of:
                before[last_of].add(first_of)
        return out, before, head, limit

    # --- what is taken -------------------------------------------------------

    def needs(self, task: Task) -> tuple[Need, ...]:
        """The uses of a task, and the spans that it opens and closes itself, made ready."""
        made = []
        for use in task.uses:
            if use.resource in self.kept and use.until > use.since:
                made.append(self._need(use.resource, use.since, use.until, use.units))
        for span in self.day.spans:
            if span.first == span.last == task.id and span.resource in self.kept and span.size is None and span.to_end:
                made.append(self._need(span.resource, 0, task.minutes, span.units))
        return tuple(made)

    def _need(self, name: str, since: int, until: int, units: int) -> Need:
        base, size = self.bases[name], self.day.resources[name].units
        if units > size:
            raise NoPlanError(f"{units} of {name} are wanted and there are {size}")
        return Need(base + size - units, since, shifts(until - since), base, size, units, ones(until - since))

    def calls(self, task: Task) -> tuple[Call, ...]:
        """The nudges of a task made ready."""
        first = self.first_call[task.id]
        made = []
        for k, nudge in enumerate(task.nudges):
            low, high = max(0, nudge.at - nudge.early), nudge.at + nudge.late
            made.append(Call(first + k, low, high, nudge.at, shifts(high - low + 1)))
        return tuple(made)

    def early_calls(self) -> list[tuple[int, int, int, int]]:
        """Nudges of what runs: number, first, last and own minute; those that are past are left out."""
        made = []
        for id_, began in self.day.running.items():
            for call in self.calls(self.by_id[id_]):
                if began + call.high >= 0:
                    made.append((call.number, max(0, began + call.low), began + call.high, began + call.at))
        return made

    def booked(self) -> list[Booked]:
        """Absences, what runs, and what it holds."""
        made = []
        for name, resource in self.day.resources.items():
            made += [self._book(name, units, a, b) for a, b, units in resource.away if name in self.kept]
        for id_, began in self.day.running.items():
            for use in self.by_id[id_].uses:
                if use.resource in self.kept:
                    made.append(self._book(use.resource, use.units, began + use.since, began + use.until))
        for s, span in enumerate(self.day.spans):
            if span.first in self.day.running and span.resource in self.kept and self._end(span) > 0:
                made.append(self._booked_span(s, span))
        return made

    def _book(self, name: str, units: int, begin: int, end: int) -> Booked:
        size = self.day.resources[name].units
        return Booked(self.bases[name], size, min(units, size), begin, end)

    def _booked_span(self, s: int, span: Span) -> Booked:
        begin, end = self.day.running[span.first], self._end(span)
        if span.size is None:
            return self._book(span.resource, span.units, begin, end)
        return Booked(self.bases[span.resource] + self.units[s], 1, 1, begin, end)

    def held(self, out: list[list[Arc]], above: list[int]) -> list[Held]:
        """The spans (things held from one task to another) that a task still to be laid opens or closes."""
        made = []
        for s, span in enumerate(self.day.spans):
            closer = self.number.get(span.last)
            if closer is None or span.resource not in self.kept or self._is_need(span):
                continue
            opener = self.number.get(span.first, -1)
            until = self.tasks[closer].minutes if span.to_end else 0
            need = until + (_longest(out, above, opener, closer) if opener >= 0 else 0)
            made.append(self._held(s, span, opener, closer, until, need))
        return made

    def _is_need(self, span: Span) -> bool:
        return span.first == span.last and span.size is None

    def _held(self, s: int, span: Span, opener: int, closer: int, until: int, need: int) -> Held:
        base = self.bases[span.resource]
        if span.size is None:
            size = self.day.resources[span.resource].units
            if span.units > size:
                raise NoPlanError(f"{span.units} of {span.resource} are wanted and there are {size}")
            return Held(s, base, (base,), size, span.units, opener, 0, closer, until, max(1, need))
        units = [self.units[s]] if s in self.units else self._fitting(span)
        return Held(s, base, tuple(base + u for u in units), 1, 1, opener, 0, closer, until, max(1, need))


def _longest(out: list[list[Arc]], above: list[int], first: int, last: int) -> int:
    """The longest way by links from one task to a later one; 0 where there is none."""
    between = above[last] | 1 << last
    best = {first: 0}
    todo = [first]
    while todo:
        i = todo.pop()
        for j, w in out[i]:
            if w >= 0 and between >> j & 1 and best[i] + w > best.get(j, -1):
                best[j] = best[i] + w
                todo.append(j)
    return best.get(last, 0)


def _turned(out: list[list[Arc]]) -> list[list[Arc]]:
    """The arcs the other way round."""
    back: list[list[Arc]] = [[] for _ in out]
    for i, arcs in enumerate(out):
        for j, w in arcs:
            back[j].append((i, w))
    return back


def _after(before: list[set[int]]) -> list[tuple[int, ...]]:
    after: list[list[int]] = [[] for _ in before]
    for i, earlier in enumerate(before):
        for p in sorted(earlier):
            after[p].append(i)
    return [tuple(later) for later in after]


def settled(out: list[list[Arc]], head: list[int], rounds: int) -> list[int]:
    """Earliest starts by links alone. Raises NoPlanError where two links cannot both be kept."""
    best = list(head)
    todo = list(range(len(best)))
    left = rounds
    while todo:
        i = todo.pop()
        left -= 1
        if left < 0:
            raise NoPlanError("two limits cannot both be kept")
        for j, w in out[i]:
            if best[i] + w > best[j]:
                best[j] = best[i] + w
                todo.append(j)
    return best


def compiled(day: Day) -> Net:
    """The day made ready for laying. Raises NoPlanError for a limit against itself or a thing that there is not."""
    made = Compiler(day)
    out, before, head, limit = made.arcs()
    n = len(made.tasks)
    above = ancestors(before, in_order(before))
    rounds = MOST_VISITS * (n + 2)
    spans = made.held(out, above)
    needs = [made.needs(task) for task in made.tasks]
    return Net(
        ids=[task.id for task in made.tasks],
        lengths=[task.minutes for task in made.tasks],
        counts=[task.counts for task in made.tasks],
        head=settled(out, head, rounds),
        tail=settled(_turned(out), [task.minutes if task.counts else 0 for task in made.tasks], rounds),
        limit=limit,
        due=[NEVER if task.due is None else task.due for task in made.tasks],
        out=[tuple(arcs) for arcs in out],
        before=[tuple(sorted(earlier)) for earlier in before],
        after=_after(before),
        above=above,
        needs=needs,
        hand_needs=[tuple(need for need in task_needs if need.base == made.bases[HANDS]) for task_needs in needs],
        calls=[made.calls(task) for task in made.tasks],
        held=spans,
        opens=[tuple(k for k, h in enumerate(spans) if h.opener == i) for i in range(n)],
        closes=[tuple(k for k, h in enumerate(spans) if h.closer == i) for i in range(n)],
        booked=made.booked(),
        early_calls=made.early_calls(),
        seats=made.seats,
        rows=made.rows + made.people,
        hands=made.bases[HANDS],
        people=made.people,
        totals=made.rows,
        first_call=made.first_call,
        units_in_use=made.units,
        break_minutes=[pause.minutes for pause in day.breaks],
        break_places=[pause.places for pause in day.breaks],
        horizon=day.horizon,
    )
