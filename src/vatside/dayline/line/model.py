"""What a day is made of before it is laid: tasks, nudges, links, spans, resources, breaks and what already runs.

All times are whole minutes and 0 is now. A task that runs began at 0 or before.
"""

from collections.abc import Mapping

from attrs import field, frozen

#: The resource that nudges and breaks take.
HANDS = "hands"


@frozen
class Resource:
    """So many units of one kind, or unlike units with sizes; `away` are (from, to, units) that are not there."""

    units: int
    away: tuple[tuple[int, int, int], ...] = ()
    sizes: tuple[float, ...] = ()


@frozen
class Use:
    """`units` of a resource, taken from start + `since` to before start + `until` of a task."""

    resource: str
    since: int
    until: int
    units: int = 1


@frozen
class Nudge:
    """One minute of one pair of hands at start + `at` of a task, up to `early` before or `late` after."""

    at: int
    early: int
    late: int


@frozen
class Task:
    """A step of `minutes`, hands and wait together, that begins at `release` at the earliest.

    `due` is the minute by which it is wanted done, None if nobody waits for it. A task that does not count may go on
    after the day has ended.
    """

    id: str
    minutes: int
    uses: tuple[Use, ...] = ()
    nudges: tuple[Nudge, ...] = ()
    release: int = 0
    due: int | None = None
    counts: bool = True


@frozen
class Link:
    """`last` begins `least` minutes after `first` began, or up to `most`; without `most` it may wait for ever."""

    first: str
    last: str
    least: int
    most: int | None = None


@frozen
class Span:
    """A thing held from the start of `first` to the end of `last` (its start where `to_end` is false).

    On a resource with sizes it is one unit of at least `size`; `unit` names which one where that is a fact.
    """

    resource: str
    first: str
    last: str
    to_end: bool = True
    units: int = 1
    size: float | None = None
    unit: int | None = None


@frozen
class Break:
    """Everybody who is there stops for `minutes`; it begins at `earliest`, `earliest` + `step`, … up to `latest`."""

    minutes: int
    earliest: int
    latest: int
    step: int = 5

    @property
    def places(self) -> range:
        """Where it may begin."""
        return range(self.earliest, self.latest + 1, self.step)


@frozen
class Day:
    """Everything that is to be laid. `running` holds the starts that are facts; nothing may end after `horizon`."""

    resources: Mapping[str, Resource]
    tasks: tuple[Task, ...]
    links: tuple[Link, ...] = ()
    spans: tuple[Span, ...] = ()
    breaks: tuple[Break, ...] = ()
    running: Mapping[str, int] = field(factory=dict)
    horizon: int = 1800


@frozen
class Plan:
    """A start for every task, a minute for every nudge, a start for every break, a unit for every sized span.

    `overrun` are the minutes that something is left standing longer than it may because it already ran, `late` the
    minutes after the wanted hours, `end` the last minute of a task that counts.
    """

    starts: Mapping[str, int]
    nudges: Mapping[str, tuple[int, ...]]
    breaks: tuple[int, ...]
    units: Mapping[int, int]
    overrun: int
    late: int
    end: int

    @property
    def value(self) -> tuple[int, int, int]:
        """Smaller is better: first nothing is left standing, then nobody waits, then the day ends soon."""
        return (self.overrun, self.late, self.end)


class NoPlanError(Exception):
    """The day cannot be laid as it is written: a limit against itself, or a thing that there is not."""
