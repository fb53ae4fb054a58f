"""Two sessions side by side: what was planned, what went in, what was read, how long it took, what came of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from attrs import frozen

from vatside.days.day_facts import AMOUNTS, GROUPS, PLAN, PLANNED, facts_of
from vatside.days.day_record import DayRecord, Fact
from vatside.days.lot_pairs import Pairs, lot_words, paired

OF_A_LOT = re.compile(r"^(lots\.|dip\.|piece\.|colour\.|finish\.(?:before|after|gain)\.)([A-Za-z0-9_-]+)(?=\.|$)")
"""Facts that name a lot."""
NOTHING = Fact("", "", "")


@frozen
class Row:
    """One thing of two sessions."""

    group: str
    label: str
    left: str
    right: str

    @property
    def differs(self) -> bool:
        """Tell whether the two are not the same; as much planned as went in is the same amount."""
        if self.group == AMOUNTS:
            return self.left.removesuffix(PLANNED) != self.right.removesuffix(PLANNED)
        return self.left != self.right


def compare(left: DayRecord, right: DayRecord) -> tuple[Row, ...]:
    """Put two days side by side; what is of a lot stands beside what is of its partner."""
    lots = paired(left.plan.lots, right.plan.lots)
    return (
        *_plan(left, right, lots),
        *(row for group in GROUPS for _, row in _matched(group, left, right, lots.as_left())),
    )


def _plan(left: DayRecord, right: DayRecord, lots: Pairs) -> Iterator[Row]:
    """Leave out the places of a lot that has no partner; it is said in one line."""
    called = lots.as_left()
    alone = {f"lots.{lot.id}" for lot in lots.left} | {f"lots.{called[lot.id]}" for lot in lots.right}
    for path, row in _matched(PLAN, left, right, called):
        if path.rpartition(".")[0] not in alone:
            yield row
    yield from (Row(PLAN, f"{lot.name}: no partner", lot_words(lot), "") for lot in lots.left)
    yield from (Row(PLAN, f"{lot.name}: no partner", "", lot_words(lot)) for lot in lots.right)


def _matched(group: str, left: DayRecord, right: DayRecord, called: Mapping[str, str]) -> Iterator[tuple[str, Row]]:
    """Match what both sides have, in the order of the left one."""
    ones = {fact.id: fact for fact in facts_of(left, group)}
    others = {_as_left(fact.id, called): fact for fact in facts_of(right, group)}
    for key in {**ones, **others}:
        one, other = ones.get(key, NOTHING), others.get(key, NOTHING)
        yield key, Row(group, one.label or other.label, one.text, other.text)


def _as_left(fact_id: str, called: Mapping[str, str]) -> str:
    """Give what a fact of the right side goes by on the left one."""
    return OF_A_LOT.sub(lambda found: f"{found[1]}{called.get(found[2], found[2])}", fact_id)
