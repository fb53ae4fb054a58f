"""What she does when: steps in a row as one act, with how long it may be put off; the next of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from vatside.dayline.laid_day import LaidDay
from vatside.dayline.line.model import HANDS, Task
from vatside.dayline.need.entries import Round
from vatside.dayline.steps import Step

#: Steps that begin within so many minutes after the hands are free of the one before are one act: ours.
IN_A_ROW = 3


@frozen
class Deed:
    """One step at its time. Minutes are counted from the beginning of the laid day."""

    task: str
    step: Step
    at: int
    hands_end: int
    """When its hands are free."""
    end: int
    """When its wait is over."""
    nudges: tuple[int, ...]
    latest: int
    """How late it may begin, if the others keep their times."""
    round: Round | None = None
    number: int = 0
    """Of its round, counted from 1; 0 for a step that is none."""

    @property
    def group(self) -> str:
        """What it belongs to: a bath, a fibre, or the stage."""
        return self.step.group or self.step.stage.value


@frozen
class Act:
    """Deeds in a row."""

    deeds: tuple[Deed, ...]

    @property
    def at(self) -> int:
        """When it begins."""
        return self.deeds[0].at

    @property
    def hands_end(self) -> int:
        """When the hands are free."""
        return max(deed.hands_end for deed in self.deeds)

    @property
    def latest(self) -> int:
        """How late it may begin so that none of it comes too late."""
        return min(deed.latest - (deed.at - self.at) for deed in self.deeds)


def deeds(day: LaidDay) -> tuple[Deed, ...]:
    """Every step that is to come, in the order of its start."""
    numbers = {task: number + 1 for number, task in enumerate(day.needed.rounds)}
    coming = [task for task in day.needed.day.tasks if task.id not in day.needed.day.running]
    made = [_deed(day, task, numbers.get(task.id, 0)) for task in coming]
    return tuple(sorted(made, key=lambda deed: (deed.at, deed.end)))


def _deed(day: LaidDay, task: Task, number: int) -> Deed:
    at = day.laid.starts[task.id]
    hands = max((use.until for use in task.uses if use.resource == HANDS), default=0)
    return Deed(
        task.id, day.needed.steps[task.id], at, at + hands, at + task.minutes,
        day.laid.nudges.get(task.id, ()), day.latest.get(task.id, at), day.needed.rounds.get(task.id), number,
    )  # fmt: skip


def acts(found: Sequence[Deed]) -> tuple[Act, ...]:
    """Deeds as acts: what begins within three minutes after the one before belongs to it, rounds stay by themselves."""
    made: list[list[Deed]] = []
    for deed in found:
        last = made[-1][-1] if made else None
        if last and not (last.round or deed.round) and last.at < deed.at <= last.hands_end + IN_A_ROW:
            made[-1].append(deed)
        else:
            made.append([deed])
    return tuple(Act(tuple(each)) for each in made)


def calls(day: LaidDay) -> Iterator[tuple[int, str, str]]:
    """(minute, task, words) of every nudge that is to come, of waits that run too."""
    tasks = {task.id: task for task in day.needed.day.tasks}
    for name, minutes in day.laid.nudges.items():
        step = day.needed.steps[name]
        labels = [nudge.label for nudge in step.nudges][len(step.nudges) - len(tasks[name].nudges) :]
        for minute, label in zip(minutes, labels, strict=False):
            if minute >= 0:
                yield minute, name, label
