"""From a plan to its sheet, in one pure step; each remedy of its notices is tried before it is offered.

A remedy lands if its notice is gone and nothing else has come that matters. One that brings another notice is taken
together with what puts that right.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator
from functools import cache, lru_cache
from math import isclose

from attrs import evolve, frozen

from vatside.dips.uptake import NOTHING, SoFar
from vatside.forms.fields import base_value, field
from vatside.plan.figure_text import figure_text
from vatside.plan.paths import is_pin, set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Notice, Remedy, Sheet, Weight
from vatside.recipe import pins
from vatside.recipe import plan_notices as checks
from vatside.recipe.pins import full_label
from vatside.recipe.stages import dip, finish, liquor, scour, sludge, stock, vat
from vatside.recipe.worksheet import Worksheet
from vatside.units import Amount, show_amount

ROUNDS = 4
"""Remedies taken together at most: what takes more is no advice any more. Ours."""
MOST_TRIED = 8
"""Plans worked out for one sheet at most, the gravest notices first, so that no key in the form is long. Ours."""
BLANK = re.compile(r"\{([\w.-]+)\}")
GRAVITY = (Weight.NOTE, Weight.CARE, Weight.DANGER)

Work = Callable[[Plan], Sheet]
"""Works a plan out, with no remedy tried."""


def with_advice(plan: Plan, sheet: Sheet, work: Work, gone_in: Collection[str] = ()) -> Sheet:
    """Give the sheet with the remedies that land, their blanks filled, and without the others.

    None changes a figure whose amount has gone in already (`gone_in`).
    """
    trial = _Trial(plan, sheet, cache(_so_often(work, MOST_TRIED)), frozenset(gone_in))
    gravest_first = sorted(enumerate(sheet.notices), key=lambda item: -GRAVITY.index(item[1].weight))
    advised = {number: _advised(trial, _with_own(sheet, notice)) for number, notice in gravest_first}
    notices = tuple(advised[number] for number in range(len(advised)))
    return sheet if notices == sheet.notices else evolve(sheet, notices=notices)


def taken(plan: Plan, remedy: Remedy) -> Plan:
    """Give the plan with all that a remedy sets.

    KeyError if the plan has no such place, ValueError if what is set is no amount that it takes.
    """
    for path, amount in remedy.places:
        plan = set_value(plan, path, amount)
    return plan


class TriedEnough(Exception):
    """So many plans were worked out already that this one is not."""


def _so_often(work: Work, most: int) -> Work:
    """Give what works plans out so often and then no more; raises `TriedEnough`."""
    left = iter(range(most))

    def counted(plan: Plan) -> Sheet:
        if next(left, None) is None:
            raise TriedEnough
        return work(plan)

    return counted


@frozen
class _Trial:
    """A plan with its sheet, and how another one is worked out."""

    plan: Plan
    sheet: Sheet
    work: Work
    gone_in: frozenset[str]

    def taking(self, remedy: Remedy) -> Sheet | None:
        """Give the sheet with a remedy taken; None if the plan does not take it, or what went in would be another."""
        try:
            sheet = self.work(taken(self.plan, remedy))
        except (KeyError, ValueError):
            return None
        return sheet if all(self._stays(figure, sheet) for figure in self.gone_in) else None

    def _stays(self, figure: str, sheet: Sheet) -> bool:
        return isclose(self.sheet.value(figure, 0.0), sheet.value(figure, 0.0), rel_tol=1e-9, abs_tol=1e-12)


def _fits(plan: Plan, remedy: Remedy) -> bool:
    """Tell whether the form would let all of a remedy's amounts through."""
    return all(_is_in_range(plan, path, amount) for path, amount in remedy.places)


def _is_in_range(plan: Plan, path: str, amount: Amount | None) -> bool:
    try:
        row = field(plan, path)
    except KeyError:
        return False
    return row.optional if amount is None else row.low <= base_value(plan, row, amount) <= row.high


def _with_own(sheet: Sheet, notice: Notice) -> Notice:
    """Let a figure that is held, and has a notice without a remedy, follow the plan again."""
    if notice.remedies or notice.weight is Weight.NOTE or not notice.figure:
        return notice
    if notice.figure not in sheet or sheet[notice.figure].pin is None:
        return notice
    figure = sheet[notice.figure]
    label = f"{_small(full_label(figure))} {{{figure.id}}}, as worked out"
    return evolve(notice, remedies=(Remedy(label, ((figure.id, None),)),))


def _small(label: str) -> str:
    return label[:1].lower() + label[1:]


def _advised(trial: _Trial, notice: Notice) -> Notice:
    """Give a notice with the remedies that land; where none does, with what is to be done otherwise."""
    if not notice.remedies:
        return evolve(notice, text=_joined(notice), otherwise="") if notice.otherwise else notice
    landed: dict[frozenset[str], Remedy] = {}
    known = not all(any(path in trial.gone_in for path, _ in remedy.places) for remedy in notice.remedies)
    try:
        for remedy in notice.remedies:
            places = frozenset(dict(remedy.places))
            landing = _landing(trial, notice, remedy) if places not in landed else None
            if landing is not None and landing not in landed.values():
                landed[places] = landing
    except TriedEnough:
        known = False  # what was not tried is not said to be of no use
    text = _joined(notice) if known and not landed else notice.text
    return evolve(notice, text=text, remedies=tuple(landed.values()), otherwise="")


def _joined(notice: Notice) -> str:
    return f"{notice.text} {notice.otherwise}".strip()


def _landing(trial: _Trial, notice: Notice, remedy: Remedy) -> Remedy | None:
    for _ in range(ROUNDS):
        sheet = trial.taking(remedy)
        if sheet is None:
            return None
        wrong = tuple(_wrong(trial.sheet.notices, sheet, notice))
        if not wrong:
            then = taken(trial.plan, remedy)
            return evolve(remedy, label=_filled(remedy.label, then, sheet)) if _fits(then, remedy) else None
        more = next((more for item in wrong for more in item.remedies if _adds(remedy, more)), None)
        if more is None:
            return None
        remedy = _together(trial.plan, remedy, more)
    return None


def _adds(remedy: Remedy, more: Remedy) -> bool:
    return not set(more.places) <= set(remedy.places)


def _together(plan: Plan, first: Remedy, more: Remedy) -> Remedy:
    """Give two remedies as one; where both set a place, the later one counts, and its words."""
    places = dict(first.places) | dict(more.places)
    paths, later = (set(dict(remedy.places)) for remedy in (first, more))
    if paths <= later:
        label = more.label
    elif paths & later:
        label = ", ".join(_named(plan, path, amount) for path, amount in places.items())
    else:
        label = f"{first.label}, and {more.label}"
    return Remedy(label, tuple(places.items()))


def _named(plan: Plan, path: str, amount: Amount | None) -> str:
    row = field(plan, path)
    name = f"{row.group}: {row.label}" if row.group else row.label
    return f"{_small(name)} {f'{{{path}}}' if is_pin(path) or amount is None else show_amount(amount)}"


def _wrong(before: Iterable[Notice], sheet: Sheet, notice: Notice) -> Iterator[Notice]:
    """Give the notices that are there once a remedy of `notice` is taken and should not be."""
    after = tuple(_with_own(sheet, item) for item in sheet.notices)
    least = Weight.NOTE if notice.weight is Weight.NOTE else Weight.CARE
    if _counted(after, least)[notice.about] >= _counted(before, least)[notice.about]:
        yield from (item for item in after if item.about == notice.about and _at_least(item, least))
    for weight in (Weight.DANGER, Weight.CARE):
        more = _counted(after, weight) - _counted(before, weight)
        yield from (item for item in after if item.about in more and _at_least(item, weight))


def _counted(notices: Iterable[Notice], least: Weight) -> Counter[tuple[str, str]]:
    return Counter(item.about for item in notices if _at_least(item, least))


def _at_least(notice: Notice, least: Weight) -> bool:
    return GRAVITY.index(notice.weight) >= GRAVITY.index(least)


def _filled(label: str, plan: Plan, sheet: Sheet) -> str:
    """Fill the blanks of a label from the sheet on which it is taken."""

    def amount(match: re.Match[str]) -> str:
        if match[1] not in sheet:
            return match[0]
        figure = sheet[match[1]]
        return f"{figure.value:.1f}" if figure.id.endswith(".pH") else figure_text(figure, plan).main

    return BLANK.sub(amount, label)


def compute(plan: Plan, so_far: SoFar = NOTHING) -> Sheet:
    """Work out every figure of a plan; pins hold, and everything after them follows.

    With what was done `so_far`, the dips and the finish are what became of the pieces and what remains. A remedy that a
    notice offers was tried and holds what it says.
    """
    return _planned(plan) if so_far == NOTHING else _with_remedies(plan, so_far)


@lru_cache(maxsize=16)
def _planned(plan: Plan) -> Sheet:
    """Remembered: a log is asked for the sheet of the same plan again and again."""
    return _with_remedies(plan, NOTHING)


def _with_remedies(plan: Plan, so_far: SoFar) -> Sheet:
    sheet = _worked_out(plan, so_far)
    return with_advice(plan, sheet, lambda other: _worked_out(other, so_far, trial=True), so_far.gone_in)


def untried(plan: Plan, so_far: SoFar = NOTHING) -> Sheet:
    """Give the sheet of `compute` before any remedy was tried: every figure, and which notices there are.

    For whoever tells a long day, plan by plan: to try the remedies costs twice what the figures do.
    """
    if so_far != NOTHING:
        return _worked_out(plan, so_far, trial=True)
    return _untried(evolve(plan, title=""))  # no figure and no notice has the name of the day in it


@lru_cache(maxsize=4)
def _untried(plan: Plan) -> Sheet:
    return _worked_out(plan, NOTHING, trial=True)


@lru_cache(maxsize=4)
def _up_to_the_dips(plan: Plan, trial: bool) -> Worksheet:
    """Work out what nothing that was done changes: each dip asks for it again. To be copied, not written on."""
    sheet = Worksheet(plan, trial=trial)
    for stage in (scour, stock, vat, liquor, sludge):
        stage.work_out(sheet)
    return sheet


def _worked_out(plan: Plan, so_far: SoFar, *, trial: bool = False) -> Sheet:
    """Give the sheet with the remedies as the stages propose them."""
    sheet = _up_to_the_dips(plan, trial).copy()
    dip.work_out(sheet, so_far)
    finish.work_out(sheet, so_far)
    pins.say_costs(sheet)
    checks.look_over(sheet)
    checks.past_plan(sheet, so_far)
    return sheet.sheet()
