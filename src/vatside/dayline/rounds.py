"""Entries into the vat gathered into rounds, and these as tasks with what comes before and between.

A round is a run of entries without a gap, as many as the vat takes before a rest; between two rounds the vat is empty.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil

from attrs import frozen

from vatside.catalogue.dyeing import pauses
from vatside.dayline.day_steps import GENTLE, ROTATE
from vatside.dayline.entries import Entry
from vatside.dayline.line.model import HANDS, Task, Use
from vatside.dayline.steps import Step
from vatside.dayline.tasks import Draft
from vatside.dips.rotation import lot_id

#: Entries that are this near to each other, minutes, follow without a gap.
NO_GAP = 0.5
#: Minutes that a caustic vat stands open at most after its last dip, so not over lunch: ours.
OPEN = 15


@frozen
class Round:
    """Entries that follow each other without a gap, but for what warming the vat takes."""

    entries: tuple[Entry, ...]

    @property
    def begin(self) -> float:
        """When the first goes in."""
        return self.entries[0].begin

    @property
    def end(self) -> float:
        """When the last comes out."""
        return self.entries[-1].end

    @property
    def phase(self) -> int:
        """0 wool, hair and silk; 1 plant fibres."""
        return self.entries[0].phase

    @property
    def pieces(self) -> frozenset[str]:
        """All that are in it."""
        return frozenset(piece for entry in self.entries for piece in entry.pieces)


def rounds(dips: Sequence[Entry], most: int) -> tuple[Round, ...]:
    """Entries as rounds of at most so many."""
    made: list[list[Entry]] = []
    for entry in dips:
        last = made[-1] if made else None
        gap = entry.begin - entry.held_up - last[-1].end if last else 0.0
        if last and len(last) < max(most, 1) and entry.phase == last[-1].phase and gap < NO_GAP:
            last.append(entry)
        else:
            made.append([entry])
    return tuple(Round(tuple(in_round)) for in_round in made)


BETWEEN, WET, COVER = "dip.protein_first", "dip.wet", "dip.cover"
"""The step that raises the pH between protein and plant fibres, the one that wets, and the one that covers the vat."""


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
    dip_rounds: Sequence[Round],
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
    tasks = _rounds(draft, by_id, dip_rounds, None if begun else names[first[-1].id] if first else ready)
    _wet(draft, by_id, dip_rounds, tasks, hangs)
    _hung(draft, dip_rounds, tasks, hangs)
    cover = _cover(draft, by_id, tasks, first[-1].id if first else None)
    return Dipped(tuple(tasks), tuple(dip_rounds), _last(dip_rounds, tasks), cover)


def round_id(number: int) -> str:
    """Name the task of a round, counted from 1."""
    return f"{ROTATE}#{number}"


def _rounds(draft: Draft, by_id: Mapping[str, Step], dip_rounds: Sequence[Round], before: str | None) -> list[str]:
    """One task a round, each as long after the one before as airing and rests ask for."""
    tasks: list[str] = []
    for number, dip_round in enumerate(dip_rounds):
        step = by_id.get(GENTLE if dip_round.phase == 0 and GENTLE in by_id else ROTATE) or by_id.get(ROTATE)
        if step is None:
            break
        task = draft.add(step, _round(number + 1, dip_round))
        earlier = dip_rounds[number - 1] if number else None
        last = tasks[-1] if tasks else before
        if dip_round.phase and (earlier is None or not earlier.phase) and BETWEEN in by_id:
            between = draft.add(by_id[BETWEEN])
            if last:
                draft.link(last, between)
            draft.link(between, task)
        elif earlier is None:
            if before:
                draft.link(before, task)
        else:
            least = max(_length(earlier), ceil(dip_round.begin - earlier.begin - 1e-6))
            draft.link(tasks[-1], task, least)
        tasks.append(task)
    return tasks


def _round(number: int, dip_round: Round) -> Task:
    """A round as a task; one whose pieces still air begins when they have."""
    return Task(
        round_id(number),
        _length(dip_round),
        _hands(dip_round),
        release=ceil(dip_round.begin - 1e-6) if number == 1 else 0,
    )


def _length(dip_round: Round) -> int:
    """Until the last piece of a round is pressed and hung up."""
    return ceil(dip_round.end - dip_round.begin - 1e-6) + _after_lifting()


def _after_lifting() -> int:
    """Minutes of hands after a piece is out: all but those of lowering in and lifting."""
    return max(ceil(pauses().hands.value) - 2, 0)


def _hands(dip_round: Round) -> tuple[Use, ...]:
    """A minute to lower the first in; at each change one to lift, one for the next, the others to press and hang."""
    taken = {0}
    for entry in dip_round.entries:
        out = ceil(entry.end - dip_round.begin - 1e-6)
        taken |= {out - 1, *range(out, out + _after_lifting())}
        taken |= {out} if entry is not dip_round.entries[-1] else set()
    return tuple(Use(HANDS, a, b) for a, b in _runs(sorted(minute for minute in taken if minute >= 0)))


def _runs(minutes: Sequence[int]) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for minute in minutes:
        if runs and runs[-1][1] == minute:
            runs[-1] = (runs[-1][0], minute + 1)
        else:
            runs.append((minute, minute + 1))
    return runs


def _wet(
    draft: Draft, by_id: Mapping[str, Step], dip_rounds: Sequence[Round], tasks: Sequence[str], hangs: Mapping[str, str]
) -> None:
    """The pieces of the first round are wet before it; those that still simmer stay wet from their scour."""
    if WET not in by_id:
        return
    wet = draft.add(by_id[WET])
    if not tasks:
        return
    draft.link(wet, tasks[0])
    for hang in dict.fromkeys(
        hangs[lot] for lot in sorted({lot_id(piece) for piece in dip_rounds[0].pieces}) if lot in hangs
    ):
        draft.link(hang, wet)


def _hung(draft: Draft, dip_rounds: Sequence[Round], tasks: Sequence[str], hangs: Mapping[str, str]) -> None:
    """A lot hangs before the first round that has a piece of it, not before the vat."""
    seen: set[str] = set()
    for dip_round, task in zip(dip_rounds, tasks, strict=False):
        new = {hangs[lot] for lot in {lot_id(piece) for piece in dip_round.pieces} if lot in hangs} - seen
        for hang in sorted(new):
            draft.link(hang, task)
        seen |= new


def _cover(draft: Draft, by_id: Mapping[str, Step], tasks: Sequence[str], before: str | None) -> str | None:
    if COVER not in by_id:
        return None
    cover = draft.add(by_id[COVER])
    after = tasks[-1] if tasks else before
    if after:
        draft.link(after, cover, within=OPEN)
    return cover


def _last(dip_rounds: Sequence[Round], tasks: Sequence[str]) -> dict[str, tuple[str, int]]:
    last: dict[str, tuple[str, int]] = {}
    for dip_round, task in zip(dip_rounds, tasks, strict=False):
        for entry in dip_round.entries:
            out = ceil(entry.end - dip_round.begin - 1e-6) + _after_lifting()
            last |= dict.fromkeys(entry.pieces, (task, out))
    return last
