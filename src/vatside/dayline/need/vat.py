"""Stock and vat: two rows that join where the stock goes in."""

from collections.abc import Sequence

from vatside.dayline.need.chains import Draft, held_by
from vatside.dayline.steps import Step
from vatside.plan.sheet import Stage

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
