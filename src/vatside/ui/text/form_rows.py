"""The rows of a stage's form: what is set, what follows from the plan, what is wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from vatside.forms.field import Field, FormRow, Wrong
from vatside.forms.fields import empty_words, fields, written
from vatside.plan.figure_text import plain
from vatside.plan.measures import likely
from vatside.plan.plan import Plan
from vatside.plan.sheet import CARE, Sheet, Stage
from vatside.ui.text.rows import Row, Signs, Span, cells, clip, left, row, wrapped
from vatside.units import Kind, show_count
from vatside.units.show import clean

ENTRY_LEAST = 8
"""Columns that a field always gets; labels have what is left, and one that is cut stands in full below the form."""
NOTES = 4
"""Columns behind a field: one, and the widest sign there."""
CHOOSING = "left, right or a letter chooses"
FEW = 5
"""Names that fit below a form: of a choice that has no more, all are told (our own choice)."""
LOT = "@lot"
"""The path of the row that switches between lots or baths; no place in the plan."""


def takes_words(field: Field) -> bool:
    """Tell a field for free words, where every key is a letter."""
    return field.kind is None and not (field.choices or field.clock or field.whole)


def cut_choice(name: str, names: Sequence[str], width: int) -> str:
    """Cut what a field of so many columns has no room for; of choices that begin alike the last word stays."""
    cut = clip(name, width)
    alike = any(clip(other, width) == cut for other in names if other != name)
    first, _, last = name.rpartition(" ")
    return f"{clip(first, width - cells(last) - 1)} {last}" if alike and first and cells(last) < width - 2 else cut


def groups(plan: Plan, stage: Stage) -> tuple[str, ...]:
    """Name the lots (or baths) of a form; a lot by its id, since two may be called the same."""
    return tuple(dict.fromkeys(_group(item) for item in fields(plan, stage) if item.group))


def form_rows(plan: Plan, sheet: Sheet, stage: Stage, group: str, problems: Mapping[str, Wrong]) -> tuple[FormRow, ...]:
    """Give the rows of a stage; of its lots or baths, only those of `group`."""
    rows: list[FormRow] = []
    known = groups(plan, stage)
    for item in fields(plan, stage):
        if item.group and not any(old.path == LOT for old in rows):
            rows.append(_switch(plan, stage, known, group))
        if not item.group or _group(item) == group:
            rows.append(_form_row(item, plan, sheet, problems.get(item.path)))
    return tuple(rows)


def _group(item: Field) -> str:
    """A lot's rows are told apart by its id, a bath's by its name."""
    parts = item.path.split(".")
    if parts[0] == "finish" and parts[1] in ("before", "after"):
        return parts[2]
    return parts[1] if parts[0] in ("lots", "dip") else item.group


def _switch(plan: Plan, stage: Stage, known: Sequence[str], group: str) -> FormRow:
    names = {lot.id: lot.name for lot in plan.lots} if stage is not Stage.SCOUR else {}
    at = known.index(group) + 1 if group in known else 1
    word = "Lot" if set(known) <= set(names) else "Bath" if stage is Stage.SCOUR else "Part"
    choices = tuple((key, clean(names.get(key, key))) for key in known)
    help_ = "left and right show the other ones" if len(known) > 1 else ""
    help_ = "; ".join(filter(None, (help_, "+ adds a lot, - takes this one out" if stage is Stage.PLAN else "")))
    item = Field(LOT, f"{word} {at} of {len(known)}", stage, choices=choices, help=help_)
    return FormRow(item, dict(choices).get(group, group))


def _form_row(item: Field, plan: Plan, sheet: Sheet, wrong: Wrong | None) -> FormRow:
    text = written(plan, item)
    held = item.pin and bool(text)
    if wrong:
        good = text or f"{_hint(item, plan, sheet)}{', as worked out' if item.pin else ''}"
        return FormRow(item, wrong.text, _hint(item, plan, sheet), held, clean(good))
    return FormRow(item, clean(text), _hint(item, plan, sheet), held)


def _hint(item: Field, plan: Plan, sheet: Sheet) -> str:
    if item.pin:
        try:
            figure = sheet[item.path]
            return plain(figure.worked, figure.unit)
        except KeyError:
            return ""
    if item.kind in (Kind.HARDNESS, Kind.ALKALINITY):
        return _of_the_tap(item, plan)
    return empty_words(item)


def _of_the_tap(item: Field, plan: Plan) -> str:
    """Give what is reckoned with of a tap that is known by its word, or not at all."""
    water = likely(plan)
    much = water.hardness_mg if item.kind is Kind.HARDNESS else water.alkalinity_mg
    return f"about {much:.0f} mg/L" if much else "none"


def label_width(rows: Sequence[FormRow], width: int) -> int:
    """Give the columns that the labels of a form take: the longest one with its mark and a gap, if there is room."""
    wanted = max((cells(item.field.label) for item in rows), default=0) + 2
    return min(wanted, max(width - NOTES - ENTRY_LEAST, ENTRY_LEAST))


def label_rows(rows: Sequence[FormRow], at: str, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print the labels, the one of the field in hand marked."""
    return tuple(_label(item, item.path == at, width, signs) for item in rows)


def _label(item: FormRow, in_hand: bool, width: int, signs: Signs) -> Row:
    if item.path == LOT:
        return row(Span(left(f"{signs.here if in_hand else ' '}{item.field.label}", width), "head"))
    return row(Span(left(f"{signs.here if in_hand else ' '}{item.field.label}", width), "strong" if in_hand else ""))


def note_rows(rows: Sequence[FormRow], problems: Mapping[str, Wrong], signs: Signs) -> tuple[Row, ...]:
    """Print what stands behind the fields: a problem's sign, held, or that it is a choice."""
    return tuple(_note(item, problems, signs) for item in rows)


def note_width(rows: Sequence[FormRow], problems: Mapping[str, Wrong], signs: Signs) -> int:
    """Give the columns that those take: a blank, and the widest, at least the sign of a problem."""
    return 1 + max(2, *(cells(note.text) for note in note_rows(rows, problems, signs)), 0)


def _note(item: FormRow, problems: Mapping[str, Wrong], signs: Signs) -> Row:
    if item.path in problems:
        return row(Span(CARE.sign, CARE.ink))
    if item.held:
        return row(Span("set", "held"))
    if item.field.choices:
        return row(Span(signs.cycle, "faint"))
    return row()


def words(
    item: FormRow | None, problems: Mapping[str, Wrong], width: int, label: int, *, listed: bool = False, most: int = 4
) -> tuple[Row, ...]:
    """Say what is wrong with the field in hand, or with another one, or what this one takes.

    `label` is the width of the labels: what is cut there is said in full. `listed` names the choices that there are.
    """
    path = item.path if item else ""
    wrong = problems.get(path) or next(iter(problems.values()), None)
    if wrong and not listed:
        rests = f"; figures rest on {item.good}" if item and item.good and path in problems else ""
        text = f"{CARE.opening}{clean(wrong.words)}{rests}"
        return tuple(wrapped(text, width, CARE.ink)[:most])
    if item is None:
        return ()
    text, role = (_listed(item), "care") if listed else (_hint_words(item, label), "faint")
    return tuple(wrapped(text, width, role)[:most])


def left_words(rows: Sequence[FormRow], problems: Mapping[str, Wrong], path: str) -> str:
    """Say what counts in place of a refused text whose field was left, and how many others are refused."""
    wrong = problems.get(path)
    if wrong is None:
        return ""
    good = next((item.good for item in rows if item.path == path), "")
    others = len(problems) - 1
    more = f" {show_count(others, 'other entry is', 'other entries are')} refused too." if others else ""
    return f"{wrong.words.rstrip('.')}{f'; it stays {good}' if good else ''}.{more}"


def refused_stages(plan: Plan, problems: Mapping[str, Wrong]) -> frozenset[Stage]:
    """Give the stages whose forms hold a refused text."""
    return frozenset(stage for stage in Stage if any(item.path in problems for item in fields(plan, stage)))


def refused_words(plan: Plan, sheet: Sheet, problems: Mapping[str, Wrong]) -> tuple[str, ...]:
    """Say of every refused text where it stands, why it is refused and what counts in its place."""
    sentences = []
    for stage in Stage:
        for item in (field for field in fields(plan, stage) if field.path in problems):
            good = _form_row(item, plan, sheet, problems[item.path]).good
            why = problems[item.path].words.rstrip(".")
            sentences.append(f"{stage.value.capitalize()}, {why}{f'; it stays {good}' if good else ''}.")
    return tuple(sentences)


def _listed(item: FormRow) -> str:
    """Say that a choice stays, and what it could be."""
    return f"{CARE.opening}{item.field.label} stays {item.text or 'empty'}; {CHOOSING}: {_names(item)}"


def _names(item: FormRow) -> str:
    """Give what a choice could be."""
    return ", ".join(name for _, name in item.field.choices if name)


def _hint_words(item: FormRow, label: int) -> str:
    """Say what a field takes, or what its choice means."""
    field, hint = item.field, item.field.help
    if field.pin:
        hint = f"empty: {item.hint}, as worked out" if item.held else "follows the plan; type to set it by hand"
    elif field.choices and item.path != LOT:
        few = f"{CHOOSING}: {_names(item)}" if len(field.choices) <= FEW else f"{item.text or 'not looked'}: {CHOOSING}"
        means = dict(field.means).get(_key(item), hint)
        hint = f"{item.text or 'not looked'}: {means}" if means else few
    return f"{field.label}: {hint}" if cells(field.label) >= label else hint


def _key(item: FormRow) -> str:
    """Give the id of what is chosen."""
    return next((key for key, name in item.field.choices if name == item.text), "")
