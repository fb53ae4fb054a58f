"""All steps of a dye day, in order, from the templates of the catalogue."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from vatside.catalogue.load import cautions, materials, scour_steps
from vatside.catalogue.values import StepText
from vatside.dayline.steps import Caution, Nudge, Step
from vatside.dayline.wording import amount_words, fill
from vatside.recipe.measures import method_of
from vatside.recipe.plan import Plan
from vatside.recipe.scour import Bath, baths
from vatside.recipe.sheet import Sheet, Stage

MOST_ROUNDS = 12
"""Pot loads written out one by one; more than that is no kitchen."""

DEFER = "Read the supplier's safety sheet; local rules and licensed practice come first."
"""The last line of every caution."""


def steps(plan: Plan, sheet: Sheet) -> tuple[Step, ...]:
    """Give every step of the day, stage by stage."""
    return (*_scour(plan, sheet), *_method(plan, sheet))


def caution(caution_id: str) -> Caution:
    """Give one caution of the catalogue, ready for the screen."""
    found = cautions()[caution_id]
    return Caution(caution_id, found.title, (*found.lines, DEFER), found.acknowledge)


def _method(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    for item in method_of(plan).steps:
        minutes = sheet.value(item.wait) if item.wait else None
        yield Step(
            id=item.id,
            stage=Stage(item.id.partition(".")[0]),
            text=fill(item.text, sheet, plan),
            hands_min=item.hands,
            minutes=minutes,
            wait_label=item.wait_label,
            nudges=_every(sheet.value(item.nudge_every), minutes or 0.0, item.nudge_label),
            cautions=tuple(caution(name) for name in item.cautions),
        )


def _every(interval: float, minutes: float, label: str) -> tuple[Nudge, ...]:
    """A nudge at each interval, none at the very end of the wait."""
    if interval <= 0:
        return ()
    return tuple(Nudge(interval * number, label) for number in range(1, int((minutes - 0.01) / interval) + 1))


def _scour(plan: Plan, sheet: Sheet) -> Iterator[Step]:
    for bath in baths(plan):
        rounds = min(max(round(sheet.value(bath.id("baths"), 1)), 1), MOST_ROUNDS)
        first, last = [scour_steps()[0]], [item for item in scour_steps()[1:] if item.once]
        middle = [item for item in scour_steps() if not item.once]
        yield from (_scour_step(plan, sheet, bath, item, 0) for item in first)
        for number in range(1, rounds + 1):
            yield from (_scour_step(plan, sheet, bath, item, number if rounds > 1 else 0) for item in middle)
        yield from (_scour_step(plan, sheet, bath, item, 0) for item in last)


def _scour_step(plan: Plan, sheet: Sheet, bath: Bath, item: StepText, number: int) -> Step:
    text = item.text.replace("{bath.", "{" + bath.id(""))
    words = {"fibre": bath.name, "agents": _agents(plan, sheet, bath)}
    minutes = sheet.value(bath.id(item.wait)) if item.wait else None
    label = item.wait_label.replace("{fibre}", bath.name)
    return Step(
        id=bath.id(item.id) + (f".{number}" if number else ""),
        stage=Stage.SCOUR,
        text=fill(text, sheet, plan, **words) + (f" (bath {number})" if number else ""),
        hands_min=item.hands,
        minutes=minutes,
        wait_label=f"{label} {number}" if number else label,
        nudges=_stirs(sheet, bath, minutes or 0.0) if item.nudges else (),
        cautions=tuple(caution(name) for name in _caution_ids(item.cautions, bath)),
        group=bath.name,
    )


def _agents(plan: Plan, sheet: Sheet, bath: Bath) -> str:
    parts = (
        f"{amount_words(sheet[bath.id(agent.material)], plan)} of {materials()[agent.material].short.lower()}"
        for agent in bath.scour.agents
    )
    return " and ".join(parts)


def _caution_ids(names: Iterable[str], bath: Bath) -> Iterator[str]:
    """`agents` stands for the cautions of whatever the bath takes."""
    for name in names:
        if name == "agents":
            found = (item for agent in bath.scour.agents for item in materials()[agent.material].cautions)
            yield from dict.fromkeys(found)
        else:
            yield name


def _stirs(sheet: Sheet, bath: Bath, minutes: float) -> tuple[Nudge, ...]:
    """Stirs at their interval and the turn at half time, which replaces a stir close to it."""
    half = sheet.value(bath.id("turn"))
    stirs = _every(sheet.value(bath.id("stir_every")), minutes, "stir slowly")
    if not half or half >= minutes:
        return stirs
    apart = [nudge for nudge in stirs if abs(nudge.minute - half) > 3]
    return tuple(sorted([*apart, Nudge(half, "turn the fibre over")], key=lambda nudge: nudge.minute))
