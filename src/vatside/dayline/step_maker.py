"""Making the steps of a day from templates: whether one is needed, its sentence, its wait, its nudges, its cautions."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import field, frozen

from vatside.catalogue.values import StepTemplate
from vatside.chemistry.reducers import REDUCERS
from vatside.dayline.cautions import caution, lye_limits
from vatside.dayline.steps import Caution, Nudge, Step
from vatside.dayline.template import fill
from vatside.plan.delicate import SODA, is_buffered
from vatside.plan.measures import ROLES, fibre_of, powder
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage

TURN_ALONE_MIN = 3.0
"""A stir as close as this to the turning of the fibre falls away: common practice, no source."""


@frozen
class Setting:
    """What a template is filled for: a stage, or one bath of it."""

    plan: Plan
    sheet: Sheet
    stage: Stage
    words: dict[str, str] = field(factory=dict)
    """What stands in the sentence for `{word}`."""
    bath: str = ""
    """What the ids of its own steps and figures begin with, as `scour.wool.`; empty where it has none."""
    number: str = ""
    """Tells a step from its like; empty where there is only one."""
    counted: str = ""
    """What is numbered, as `bath`."""
    agents: tuple[str, ...] = ()
    """Cautions of what the bath takes."""
    group: str = ""

    def figure(self, name: str) -> str:
        """Give the whole id of a figure that a template names; empty for none."""
        return name if not name or "." in name else f"{self.bath}{name}"

    def value(self, name: str) -> float:
        """Give a figure's value; nothing where there is none."""
        return self.sheet.value(self.figure(name), 0.0) if name else 0.0


def lid_words(plan: Plan) -> dict[str, str]:
    """Say how jars and vat are covered: never tightly where gas comes off."""
    gas = REDUCERS[powder(plan, "reducer").material.species].breathes
    if not gas:
        return {"close_jars": "close them", "lid": "lid on", "closed": "closed", "close": "close it", "gassing": ""}
    return {
        "close_jars": f"lay the lids on, never screwed tight: {gas} comes off",
        "lid": f"a lid laid on, never tight, no flame near: {gas} comes off",
        "closed": "loosely covered",
        "close": "cover it loosely",
        "gassing": ". Wet, in an open pail out of doors, until no more bubbles rise: shut up, it bursts",
    }


def is_needed(item: StepTemplate, at: Setting) -> bool:
    """Tell whether a step is for this vat and these fibres, and whether anything goes in with it."""
    return (
        (not item.alkalis or powder(at.plan, "alkali").material.species in item.alkalis)
        and (not item.groups or bool({fibre_of(lot).group for lot in at.plan.lots} & set(item.groups)))
        and all(at.value(name) > 0 for name in item.needs)
        and (not item.unless or not at.value(item.unless))
    )


def make(item: StepTemplate, at: Setting) -> Step:
    """Make one step of its template."""
    minutes, ending = length(item, at), f".{at.number}" if at.number else ""
    return Step(
        id=f"{at.bath}{item.id}{ending}",
        stage=at.stage,
        text=_text(item, at),
        hands_min=item.hands + ((minutes or 0.0) if item.busy else 0.0),
        minutes=minutes,
        wait_label=_label(item, at) if minutes is not None else "",
        nudges=_nudges(item, at, minutes or 0.0),
        cautions=tuple(_cautions(item, at)),
        group=item.heading or at.group,
        template=item,
    )


def length(item: StepTemplate, at: Setting) -> float | None:
    """Give the minutes of a wait; None where the sheet has no such wait."""
    wait = at.figure(item.wait)
    return at.sheet.value(wait) if wait and wait in at.sheet else None


def _text(item: StepTemplate, at: Setting) -> str:
    """Fill the sentence; a bath's words come first, for they may hold figures of their own."""
    text = item.kept if at.plan.kept and item.kept else item.text
    for name, words in at.words.items() if at.bath else ():
        text = text.replace("{" + name + "}", words)
    text = fill(text.replace("{bath.", "{" + at.bath), at.sheet, at.plan, **at.words)
    return f"{text} ({at.counted} {at.number})" if at.number else text


def _label(item: StepTemplate, at: Setting) -> str:
    label = item.wait_label.replace("{fibre}", at.words.get("fibre", ""))
    return f"{label} {at.number}" if at.number and label else label


def _nudges(item: StepTemplate, at: Setting, minutes: float) -> tuple[Nudge, ...]:
    """Give a nudge at each interval, none at the very end of the wait, and the turn, which replaces one close to it."""
    found, turn = every(at.value(item.nudge_every), minutes, item.nudge_label), at.value(item.turn)
    if not turn or turn >= minutes:
        return found
    apart = [nudge for nudge in found if abs(nudge.minute - turn) > TURN_ALONE_MIN]
    return tuple(sorted([*apart, Nudge(turn, "turn the fibre over")], key=lambda nudge: nudge.minute))


def every(interval: float, minutes: float, label: str) -> tuple[Nudge, ...]:
    """Give a nudge at each interval (minutes) of a wait, none at its very end."""
    if interval <= 0:
        return ()
    return tuple(Nudge(interval * number, label) for number in range(1, int((minutes - 0.01) / interval) + 1))


def _cautions(item: StepTemplate, at: Setting) -> Iterator[Caution]:
    """Give the cautions, each once; a role stands for those of the vat's own powder, `agents` for those of the bath."""
    named = (name for each in item.cautions for name in own_cautions(at.plan, each, at.agents))
    for name in dict.fromkeys(named):
        yield caution(name, *(lye_limits(at.plan, at.sheet, at.stage) if name == "lye" else ()))


def own_cautions(plan: Plan, name: str, agents: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Give the cautions that a template's word stands for."""
    if name == "agents":
        return agents
    if name == "liquor":
        return powder(plan, SODA if is_buffered(plan) else "alkali").material.cautions
    return powder(plan, name).material.cautions if name in ROLES else (name,)
