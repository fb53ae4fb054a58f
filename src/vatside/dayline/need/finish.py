"""The finish: each fibre once its last piece is out, side by side; and the end of the vat for today."""

from collections.abc import Sequence

from vatside.dayline.need.chains import Draft, held_by, template
from vatside.dayline.need.dips import Dipped
from vatside.dayline.steps import Step
from vatside.plan.batches import Batch
from vatside.plan.measures import fibre_key
from vatside.plan.plan import Plan


def add_batch(draft: Draft, plan: Plan, batch: Batch, steps: Sequence[Step], dipped: Dipped, wash_l: float) -> None:
    """Take up the steps of one fibre; its airing begins when the last of its pieces is out."""
    row = [(template(step).id, step) for step in steps if not template(step).another_day]
    names = {name: draft.add(step) for name, step in row}
    draft.chain(names, row)
    for name, step in row:
        for thing, until, to_end in held_by(step):
            if until in names:
                draft.span(thing, names[name], names[until], to_end=to_end, size=wash_l if thing == "pot" else None)
    if row:
        _after_dips(draft, plan, batch, names[row[0][0]], dipped)


def _after_dips(draft: Draft, plan: Plan, batch: Batch, first: str, dipped: Dipped) -> None:
    lots = {lot.id for lot in plan.lots if fibre_key(lot) == batch.key}
    ends: dict[str, int] = {}
    for piece, (task, minute) in dipped.last.items():
        if piece.rpartition(".")[0] in lots:
            ends[task] = max(ends.get(task, 0), minute)
    for task in sorted(ends):
        draft.link(task, first, ends[task], within=None)


def add_ending(draft: Draft, steps: Sequence[Step], cover: str | None) -> None:
    """Take up what is done with the vat today, after it is covered."""
    row = [(step.id, step) for step in steps if not template(step).another_day]
    names = {name: draft.add(step) for name, step in row}
    draft.chain(names, row)
    if row and cover:
        draft.link(cover, names[row[0][0]], within=None)
