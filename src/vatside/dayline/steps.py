"""What there is to do: steps and waits, filled from the templates of the catalogue with the amounts of a sheet.

Whether a step is needed, its sentence, its wait, its nudges, its cautions.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from attrs import field, frozen

from vatside.catalogue.load import cautions
from vatside.catalogue.values import StepTemplate
from vatside.plan.blend import UNSCOURED
from vatside.plan.figure_text import as_told, figure_text, plain
from vatside.plan.measures import ROLES, SODA, celsius, fibre_of, is_buffered, method_of, powder, reducer_of, species_of
from vatside.plan.plan import Form, Lot, Plan
from vatside.plan.sheet import Figure, Sheet, Stage
from vatside.units import show_count


@frozen
class Nudge:
    """A call to do something small during a wait."""

    minute: float
    """Minutes after the wait's start."""
    label: str


@frozen
class Caution:
    """What can hurt in a step, and what to wear or do against it."""

    id: str
    title: str
    lines: tuple[str, ...]
    must_acknowledge: bool
    """The step opens only once the dyer says that it was read."""
    here: str = ""
    """What it comes to in this step alone: once that is another, it is read again."""


@frozen
class Step:
    """One thing to do; a wait if `minutes` is set."""

    id: str
    stage: Stage
    text: str
    """The dyer's sentence, verb first, amounts filled in."""
    hands_min: float
    """Minutes for which it keeps the dyer: nothing else is begun meanwhile."""
    minutes: float | None = None
    """Length of the wait; None for a step without one."""
    wait_label: str = ""
    nudges: tuple[Nudge, ...] = ()
    cautions: tuple[Caution, ...] = ()
    group: str = ""
    """Which bath or lot it belongs to, where a stage has several."""
    handling_min: float | None = None
    """Of what keeps her, the minutes of her hands; None: all of it. The others she stands by, as while pieces air."""

    template: StepTemplate | None = None
    """What it was made of; it says how the step lies in the day."""

    @property
    def work_min(self) -> float:
        """Minutes of hands at work."""
        return self.hands_min if self.handling_min is None else self.handling_min


COUNTED = {
    "jars": ("jar", "jars"),
    "rinses": ("time", "times"),
    "last_rinses": ("time", "times"),
    "steps_down": ("bath", "baths"),
}
"""Figures that are counted, by the last part of their id."""

NOTHING_L = 0.0005
"""A draw that would be printed as no water at all, L."""

MOMENT_MIN = 0.5
"""Less on the hob than this is told in seconds, as its wait is, and waits for no hob: a kettle does it too. Ours."""

BLANK = re.compile(r"\{([A-Za-z_.0-9-]+)\}")


def amount_words(figure: Figure, plan: Plan) -> str:
    """Print a figure inside a sentence: `6.5 g (2 7/8 tsp)`, `2 jars`, `60 °C`."""
    counted = COUNTED.get(figure.id.rpartition(".")[2])
    if counted:
        return show_count(round(figure.value), *counted)
    text = figure_text(figure, plan)
    return f"{text.main} ({text.second})" if text.second else text.main


def draw_words(prefix: str, sheet: Sheet, plan: Plan) -> str:
    """Say how water is drawn: `3.2 L hot and 4.3 L cold`, `7.5 L hot, then 12 min on the hob`."""
    taps = [(sheet[f"{prefix}{tap}"], tap) for tap in ("hot", "cold")]
    parts = [f"{amount_words(figure, plan)} {tap}" for figure, tap in taps if as_told(figure) > NOTHING_L]
    drawn = " and ".join(parts) or "none"
    if f"{prefix}kettle" not in sheet:
        return drawn
    minutes = sheet.value(f"{prefix}kettle")
    if minutes < MOMENT_MIN:
        return f"{drawn}, then {plain(minutes, 'min')} on the hob or a splash from the kettle"
    return f"{drawn}, then {plain(max(round(minutes), 1), 'min')} on the hob"


def ties(lots: Iterable[Lot]) -> str:
    """Say what to look for in skeins; empty where there are none."""
    skeins = any(lot.form is Form.SKEINS for lot in lots)
    return "; ties of skeins loose, each one checked" if skeins else ""


_OPENS = {Form.SKEINS: "spread the strands", Form.LOOSE: "pull it loose"}


def opening(*forms: Form) -> str:
    """Say how what was dipped is opened in the air, by how it is made up."""
    return " and ".join(dict.fromkeys(_OPENS.get(form, "open every fold") for form in forms))


def wet_from(plan: Plan) -> str:
    """Say what the pieces are still wet from before the dips."""
    return "the wetting out" if all(lot.condition in UNSCOURED for lot in plan.lots) else "the scour"


def stage_name(stage: Stage, steps: Iterable[Step]) -> str:
    """Name a stage by its steps: a scour without a bath is only a wetting out."""
    without = stage is Stage.SCOUR and not any(step.stage is stage and ".hold." in f"{step.id}." for step in steps)
    return "Wet out" if without else stage.value.capitalize()


def fill(template: str, sheet: Sheet, plan: Plan, **words: str) -> str:
    """Fill `{figure.id}`, `{PREFIXdraw}` and `{word}` blanks; a figure the sheet does not have leaves a dash."""

    def blank(match: re.Match[str]) -> str:
        name = match[1]
        if name in words:
            return words[name]
        try:
            if name.endswith("draw"):
                return draw_words(name.removesuffix("draw"), sheet, plan)
            return amount_words(sheet[name], plan)
        except KeyError:
            return "–"

    return BLANK.sub(blank, template)


DEFER = "Read the supplier's safety sheet; local rules and licensed practice come first."
"""The last line of every caution."""


def caution(caution_id: str, *here: str) -> Caution:
    """Give one caution of the catalogue, ready for the screen; `here` says what it comes to in this step."""
    entry = cautions()[caution_id]
    return Caution(caution_id, entry.title, (*here, *entry.lines, DEFER), entry.acknowledge, " ".join(here))


def lye_limits(plan: Plan, sheet: Sheet, stage: Stage) -> tuple[str, ...]:
    """Say how warm the water may be that lye goes into: at the stock jug and jar, elsewhere the jug alone."""
    ceiling = plain(method_of(plan).stock.ceiling.value, "degC")
    if stage is not Stage.STOCK or "stock.rise" not in sheet:
        return (f"The jug: plastic, cold water, and never above {ceiling} once the lye is in.",)
    warmest, rise = (plain(sheet.value(name), unit) for name, unit in (("stock.warmest", "degC"), ("stock.rise", "K")))
    if not sheet.value("stock.jug", 0.0):
        return (
            f"The jar: water at {warmest} or cooler; this lye warms it by {rise}, and it must stay below {ceiling}.",
        )
    jug, cold = plain(sheet.value("stock.jug", 0.0), "L"), celsius(plan.water.cold)
    comes_to = plain(cold + sheet.value("stock.rise"), "degC")
    return (
        f"The jug: plastic, {jug} of cold water; this lye brings it from {plain(cold, 'degC')} to {comes_to}.",
        f"The jar: water at {warmest} or cooler; it must stay below {ceiling}.",
    )


def acid_words(plan: Plan) -> tuple[str, ...]:
    """Say what acid does in a vat of this reducer."""
    kind = reducer_of(plan)
    airing = ("If it ever smelt of rotten eggs: outdoors, and aired first until it smells no more.",)
    return (f"Acid into a living vat {kind.in_acid}.", *(airing if kind.sours else ()))


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
    gas = reducer_of(plan).breathes
    if not gas:
        return {"close_jars": "close them", "lid": "lid on", "closed": "closed", "close": "close it", "gassing": ""}
    return {
        "close_jars": f"lay the lids on, never screwed tight: {gas} comes off",
        "lid": f"a lid laid on, never tight, no flame near: {gas} comes off",
        "closed": "loosely covered",
        "close": "cover it loosely",
        "gassing": "",
    }


def is_needed(item: StepTemplate, at: Setting) -> bool:
    """Tell whether a step is for this vat and these fibres, and whether anything goes in with it."""
    return (
        (not item.alkalis or species_of(at.plan, "alkali") in item.alkalis)
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
    nudges, turn = every(at.value(item.nudge_every), minutes, item.nudge_label), at.value(item.turn)
    if not turn or turn >= minutes:
        return nudges
    apart = [nudge for nudge in nudges if abs(nudge.minute - turn) > TURN_ALONE_MIN]
    return tuple(sorted([*apart, Nudge(turn, "turn the fibre over")], key=lambda nudge: nudge.minute))


def every(interval: float, minutes: float, label: str) -> tuple[Nudge, ...]:
    """Give a nudge at each interval (minutes) of a wait, none at its very end."""
    if interval <= 0:
        return ()
    return tuple(Nudge(interval * number, label) for number in range(1, int((minutes - 0.01) / interval) + 1))


def _cautions(item: StepTemplate, at: Setting) -> Iterator[Caution]:
    """Give the cautions, each once; a role stands for those of the vat's own powder, `agents` for those of the bath."""
    named = (name for word in item.cautions for name in own_cautions(at.plan, word, at.agents))
    for name in dict.fromkeys(named):
        yield caution(name, *_here(name, at))


def _here(name: str, at: Setting) -> tuple[str, ...]:
    """Say what a caution comes to in this vat."""
    if name == "lye":
        return lye_limits(at.plan, at.sheet, at.stage)
    return acid_words(at.plan) if name == "acid" else ()


def own_cautions(plan: Plan, name: str, agents: tuple[str, ...] = ()) -> tuple[str, ...]:
    """Give the cautions that a template's word stands for."""
    if name == "agents":
        return agents
    if name == "liquor":
        return powder(plan, SODA if is_buffered(plan) else "alkali").material.cautions
    return powder(plan, name).material.cautions if name in ROLES else (name,)
