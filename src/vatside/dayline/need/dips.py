"""The dips: what comes before them, their rounds, what stands between wool and plant fibre, and the cover."""

from collections.abc import Mapping, Sequence
from math import ceil

from attrs import frozen

from vatside.catalogue.dyeing import pauses
from vatside.dayline.dye_steps import GENTLE, ROTATE
from vatside.dayline.line.model import HANDS, Task, Use
from vatside.dayline.need.chains import Draft
from vatside.dayline.need.entries import Round
from vatside.dayline.steps import Step

BETWEEN, WET, COVER = "dip.protein_first", "dip.wet", "dip.cover"


@frozen
class Dipped:
    """What follows from the rounds: their tasks, and where each piece is through."""

    tasks: tuple[str, ...]
    rounds: tuple[Round, ...]
    last: Mapping[str, tuple[str, int]]
    """By piece: the task of its last round, and the minute of it in which it comes out."""
    cover: str | None


def add_dips(
    draft: Draft,
    steps: Sequence[Step],
    found: Sequence[Round],
    ready: str | None,
    hangs: Mapping[str, str],
    *,
    begun: bool,
) -> Dipped:
    """Take up the steps of the dips.

    `ready` is the task that finds the vat ready, `hangs` the one that hangs a lot up. Once they have `begun`, nothing
    but airing and rests says when the next round goes in.
    """
    by_id = {step.id: step for step in steps}
    first = [step for step in steps if step.id not in (GENTLE, ROTATE, BETWEEN, COVER, WET)]
    names = {step.id: draft.add(step) for step in first}
    draft.chain(names, [(step.id, step) for step in first])
    if first and ready:
        draft.link(ready, first[0].id)
    tasks = _rounds(draft, by_id, found, None if begun else names[first[-1].id] if first else ready)
    _wet(draft, by_id, found, tasks, hangs)
    _hung(draft, found, tasks, hangs)
    cover = _cover(draft, by_id, tasks, first[-1].id if first else None)
    return Dipped(tuple(tasks), tuple(found), _last(found, tasks), cover)


def round_id(number: int) -> str:
    """Name the task of a round, counted from 1."""
    return f"{ROTATE}#{number}"


def _rounds(draft: Draft, by_id: Mapping[str, Step], found: Sequence[Round], before: str | None) -> list[str]:
    """One task a round, each as long after the one before as airing and rests ask for."""
    tasks: list[str] = []
    for number, each in enumerate(found):
        step = by_id.get(GENTLE if each.phase == 0 and GENTLE in by_id else ROTATE) or by_id.get(ROTATE)
        if step is None:
            break
        task = draft.add(step, _round(number + 1, each))
        earlier = found[number - 1] if number else None
        if earlier is None:
            if before:
                draft.link(before, task)
        elif earlier.phase != each.phase and BETWEEN in by_id:
            between = draft.add(by_id[BETWEEN])
            draft.link(tasks[-1], between)
            draft.link(between, task)
        else:
            least = max(_length(earlier), ceil(each.begin - earlier.begin - 1e-6))
            draft.link(tasks[-1], task, least)
        tasks.append(task)
    return tasks


def _round(number: int, each: Round) -> Task:
    """A round as a task; one whose pieces still air begins when they have."""
    return Task(round_id(number), _length(each), _hands(each), release=ceil(each.begin - 1e-6) if number == 1 else 0)


def _length(each: Round) -> int:
    """Until the last piece of a round is pressed and hung up."""
    return ceil(each.end - each.begin - 1e-6) + _after_lifting()


def _after_lifting() -> int:
    """Minutes of hands after a piece is out: all but those of lowering in and lifting."""
    return max(ceil(pauses().hands.value) - 2, 0)


def _hands(each: Round) -> tuple[Use, ...]:
    """A minute to lower the first in; at each change one to lift, one for the next, the others to press and hang."""
    taken = {0}
    for entry in each.entries:
        out = ceil(entry.end - each.begin - 1e-6)
        taken |= {out - 1, *range(out, out + _after_lifting())}
        taken |= {out} if entry is not each.entries[-1] else set()
    return tuple(Use(HANDS, a, b) for a, b in _runs(sorted(minute for minute in taken if minute >= 0)))


def _runs(minutes: Sequence[int]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for minute in minutes:
        if runs and runs[-1][1] == minute:
            runs[-1] = (runs[-1][0], minute + 1)
        else:
            runs.append((minute, minute + 1))
    return runs


def _lot(piece: str) -> str:
    return piece.rpartition(".")[0]


def _wet(
    draft: Draft, by_id: Mapping[str, Step], found: Sequence[Round], tasks: Sequence[str], hangs: Mapping[str, str]
) -> None:
    """The pieces of the first round are wet before it; those that still simmer stay wet from their scour."""
    if WET not in by_id:
        return
    wet = draft.add(by_id[WET])
    if not tasks:
        return
    draft.link(wet, tasks[0])
    for hang in dict.fromkeys(hangs[lot] for lot in sorted({_lot(piece) for piece in found[0].pieces}) if lot in hangs):
        draft.link(hang, wet)


def _hung(draft: Draft, found: Sequence[Round], tasks: Sequence[str], hangs: Mapping[str, str]) -> None:
    """A lot hangs before the first round that has a piece of it, not before the vat."""
    seen: set[str] = set()
    for each, task in zip(found, tasks, strict=False):
        new = {hangs[lot] for lot in {_lot(piece) for piece in each.pieces} if lot in hangs} - seen
        for hang in sorted(new):
            draft.link(hang, task)
        seen |= new


def _cover(draft: Draft, by_id: Mapping[str, Step], tasks: Sequence[str], before: str | None) -> str | None:
    if COVER not in by_id:
        return None
    cover = draft.add(by_id[COVER])
    after = tasks[-1] if tasks else before
    if after:
        draft.link(after, cover, within=None)
    return cover


def _last(found: Sequence[Round], tasks: Sequence[str]) -> dict[str, tuple[str, int]]:
    last: dict[str, tuple[str, int]] = {}
    for each, task in zip(found, tasks, strict=False):
        for entry in each.entries:
            out = ceil(entry.end - each.begin - 1e-6) + _after_lifting()
            last |= dict.fromkeys(entry.pieces, (task, out))
    return last
