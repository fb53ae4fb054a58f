"""Steps as tasks, and rows of steps as links and spans, by what the tables say of each."""

from collections.abc import Mapping, Sequence
from math import ceil

from attrs import define, field

from vatside.catalogue.audit import HOLDS
from vatside.catalogue.values import StepTemplate
from vatside.dayline.line.model import HANDS, Link, Nudge, Span, Task, Use
from vatside.dayline.steps import Step

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
            wanted = ([above] if above else []) if follows is None else [each for each in follows if each in names]
            for each in wanted:
                self.link(names[each], names[name])
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
    uses += [Use("hob", hands, hands + wait)] if of.heats and wait else []
    calls = (
        []
        if of.unattended or of.busy
        else [Nudge(hands + round(nudge.minute), NUDGE_PLAY, NUDGE_PLAY) for nudge in step.nudges]
    )
    return Task(name or step.id, hands + wait, tuple(uses), tuple(calls))


def held_by(step: Step) -> list[tuple[str, str, bool]]:
    """What a step keeps: (thing, name of the step until which, to the end of that)."""
    found = (HOLDS.fullmatch(words) for words in template(step).holds)
    return [(match[1], match[2], match[3] is None) for match in found if match]
