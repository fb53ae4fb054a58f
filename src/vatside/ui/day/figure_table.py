"""The figures of the stage on the screen: what to weigh and draw."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from attrs import evolve, frozen

from vatside.bench.desk import Desk
from vatside.bench.glance import Glance
from vatside.dayline.steps import Step
from vatside.plan.batches import baths, stage_title
from vatside.plan.figure_text import FigureText, figure_text
from vatside.plan.grouping import gathered
from vatside.plan.plan import Plan
from vatside.plan.sheet import Figure, Sheet, Stage
from vatside.recipe.worksheet import shown
from vatside.ui.dips.now import ladder
from vatside.ui.text.rows import BLANK, Column, Row, Signs, Span, cells, column, is_joined, left, row, wide_of, wrap
from vatside.ui.theme.choice import has_colours
from vatside.ui.widgets.lines import Lines
from vatside.units.show import clean

LABEL_LEAST = 14
"""Columns that a label always gets."""
INSET = "  "
"""Before what belongs to the row above."""
ROOMY = 56
"""Columns from which all figures stand in the same columns."""
GOING_ON = ("of ", "or ", "and ")
SENSES = ("Weigh", "Draw", "Warm", "Wait", "Know")
"""What one does with a figure, in the order of need."""


@frozen
class _Printed:
    figure: Figure
    text: FigureText

    @property
    def label(self) -> str:
        return clean(self.figure.label)


def overview(sheet: Sheet) -> tuple[Figure, ...]:
    """Give what the whole day takes off the shelf, and the size of the vat."""
    weighed = (
        figure for figure in sheet.figures
        if figure.id == "vat.liquor" or (figure.teaspoons is not None and (figure.value or figure.pin is not None))
    )  # fmt: skip
    return tuple(figure for figure in weighed if not figure.label.startswith(GOING_ON))


def figure_rows(
    figures: Sequence[Figure], plan: Plan, changed: Mapping[str, int], width: int, signs: Signs,
    *, by_stage: bool = False,
) -> tuple[Row, ...]:  # fmt: skip
    """Print figures as a table; `changed` says which went up (1) or down (-1) a moment ago."""
    printed = [_Printed(figure, figure_text(figure, plan)) for figure in figures]
    sections = _stages(printed, plan) if by_stage else _sections(printed)
    layouts = _layouts([members for _, members in sections], width)
    rows: list[Row] = []
    for head, members in sections:
        rows += ([BLANK] if rows else []) + [row(Span(head, "head"))]
        layout = layouts[_doubled(members)].closer(members)
        for item in members:
            rows += _rows(item, layout, changed.get(item.figure.id, 0), width, signs)
    return tuple(rows)


def _doubled(members: Sequence[_Printed]) -> bool:
    """Whether any of them is printed in two ways."""
    return any(item.text.second for item in members)


def _layouts(sections: Sequence[Sequence[_Printed]], width: int) -> dict[bool, _Layout]:
    """Give the columns of sections with second amounts and of those without: the same ones, where there is room."""
    if width >= ROOMY:
        return dict.fromkeys((True, False), _layout([item for members in sections for item in members], width))
    return {
        two: _layout([item for members in sections if _doubled(members) is two for item in members], width)
        for two in (True, False)
    }


@frozen
class _Layout:
    label: int
    main: Column
    second: Column

    def closer(self, items: Sequence[_Printed]) -> _Layout:
        """Keep the points where they are and bring the units up to the numbers of these items."""
        mine, other = column(item.text.main for item in items), column(item.text.second for item in items)
        second = Column(self.second.whole, other.rest, other.unit) if other.width else self.second
        return evolve(self, main=Column(self.main.whole, mine.rest, mine.unit), second=second)


def _layout(items: Sequence[_Printed], width: int) -> _Layout:
    """Measure the columns of some figures: numbers as wide as they are, labels in what is left."""
    main, second = column(item.text.main for item in items), column(item.text.second for item in items)
    most = width - 1 - main.width - 2 - LABEL_LEAST
    joined = (cells(item.text.second) for item in items if is_joined(item.text.second))
    behind = max(second.width, *(wide for wide in joined if wide <= most), 0)
    room = width - 1 - main.width - (2 + behind if behind else 0)
    wanted = max((cells(item.label) for item in items), default=0)
    return _Layout(min(max(wanted, LABEL_LEAST), max(room, LABEL_LEAST)), main, second)


def _sections(printed: Sequence[_Printed]) -> list[tuple[str, list[_Printed]]]:
    """Sort figures by bath, then by what one does with them."""
    sections: dict[tuple[str, str], list[_Printed]] = {}
    groups = dict.fromkeys(item.figure.group for item in printed)
    for key in ((group, sense) for group in groups for sense in SENSES):
        sections[key] = []
    sense = SENSES[-1]
    for item in printed:
        # A label that goes on from the row above (`of it indigotin`, `or citric acid`) stays with it.
        sense = sense if item.label.startswith(GOING_ON) else _sense(item.figure)
        sections[item.figure.group, sense].append(item)
    return [
        (f"{clean(group)}: {sense.lower()}" if group else sense, members)
        for (group, sense), members in sections.items()
        if members
    ]


def _stages(printed: Sequence[_Printed], plan: Plan) -> list[tuple[str, list[_Printed]]]:
    """Sort figures by stage."""
    by_stage = gathered((stage_title(plan, item.figure.stage), item) for item in printed)
    return [(stage, _told_apart(members)) for stage, members in by_stage.items()]


def _told_apart(members: list[_Printed]) -> list[_Printed]:
    """Name the bath of figures that are called alike."""
    counts = Counter(item.figure.label for item in members)
    return [_with_bath(item) if counts[item.figure.label] > 1 and item.figure.group else item for item in members]


def _with_bath(item: _Printed) -> _Printed:
    figure = item.figure
    return evolve(item, figure=evolve(figure, label=f"{figure.label}, {figure.group}"))


def _sense(figure: Figure) -> str:
    """Say what one does with a figure."""
    if figure.teaspoons is not None:
        return "Weigh"
    return {"L": "Draw", "degC": "Warm", "K": "Warm", "min": "Wait"}.get(figure.unit, "Know")


def _rows(item: _Printed, layout: _Layout, change: int, width: int, signs: Signs) -> list[Row]:
    mark = {1: signs.up, -1: signs.down}.get(change, " ")
    role = "" if item.figure.pin is not None else "faint"
    label = wrap(item.label, layout.label - cells(INSET), layout.label)
    near = [Span(left(label[0], layout.label), role), Span(mark, "changed")]
    under: list[Span] = []
    for group in _amounts(item, layout):
        if under or wide_of(near) + wide_of(group) > width:
            under += group
        else:
            near += group
    tail = [Span(left(INSET + line, layout.label + 1), role) for line in label[1:]]
    return [Row(tuple(spans), item.figure.id) for spans in (near, *_below(tail, under, width))]


def _below(tail: Sequence[Span], under: Sequence[Span], width: int) -> Iterator[tuple[Span, ...]]:
    """Give the rows below the first: the rest of a long label, and beside it what had no room above."""
    if not under or (tail and wide_of([tail[0], *under]) <= width):
        first = tail[:1]
    else:
        yield from ((span,) for span in tail)
        tail, first = (), ()
    if first or under:
        yield (*first, *under)
    yield from ((span,) for span in tail[1:])


def _amounts(item: _Printed, layout: _Layout) -> Iterator[tuple[Span, ...]]:
    """What stands behind the label, as far as there is room: the amount, the other amount, then all marks together."""
    yield layout.main.spans(item.text.main, "held" if item.figure.pin is not None else "number")
    if item.text.second or (layout.second.width and item.text.marks):
        yield (Span("  "), *layout.second.spans(item.text.second, ""))
    if item.text.marks:
        yield tuple(Span(f"  {mark}", "held" if mark.startswith("set ") else "faint") for mark in item.text.marks)


TALL = 30
"""Rows of a screen from which a picture has all its room."""


class FigureTable(Lines):
    """What a stage weighs and draws, or all its figures; for the plan, what the whole day takes."""

    def __init__(self, desk: Desk, signs: Signs, stage: Stage, glance: Glance) -> None:
        super().__init__(self._rows, id="figures")
        self.add_class("framed")
        self.desk = desk
        self.signs = signs
        self.stage = stage
        self.glance = glance
        self.setting = ""
        """The field of the plan that is being set: while that is a depth, how deep it is stands here."""
        self._group = ""
        """The bath or lot of the step in hand."""
        self.put_title()

    def put_title(self) -> None:
        """Say above the figures which ones they are."""
        title = "All figures (z: fewer)" if self.desk.all_figures else "Weigh and draw (z: all)"
        self.border_title = "For the whole day" if self.stage is Stage.PLAN else title

    def turn(self, stage: Stage) -> None:
        """Begin at the top of another stage."""
        self.stage, self.key, self._group = stage, "", ""
        self.scroll_home(animate=False)
        self.put_title()

    def follow(self, step: Step | None) -> None:
        """Bring the figures of a step's bath or lot to the top, once, unless the dyer reads elsewhere among them."""
        group = step.group if step else ""
        if group != self._group:
            self._group = group
            self._bring()

    def _bring(self) -> None:
        """Scroll to the heading of the group, which stands above its first figure."""
        mine = {figure.id for figure in self.figures if figure.group == self._group}
        at = next((y for y, item in enumerate(self.rows) if item.key in mine), None)
        if self._group and at is not None and not self.has_focus:
            self.scroll_to(y=max(at - 1, 0), animate=False, immediate=True, force=True)

    @property
    def figures(self) -> tuple[Figure, ...]:
        """The figures that belong here, whether there is room for them or not."""
        if self.stage is Stage.PLAN:
            return overview(self.desk.sheet)
        return self.desk.sheet.of(self.stage) if self.desk.all_figures else shown(self.desk.sheet, self.stage)

    def ids_round(self, figure: str) -> tuple[str, ...]:
        """Give the figures among which the arrows go from one to the next; `figure` is one of them, if there is it."""
        # A region that is not on the screen may still hold figures that the plan no longer has.
        known = {item.id for item in self.desk.sheet.figures}
        ids = tuple(key for key in self.keys if key in known) or tuple(item.id for item in self.figures)
        return ids if not figure or figure in ids else tuple(item.id for item in self.desk.sheet.of(self.stage))

    def _rows(self, width: int) -> Sequence[Row]:
        return self._ladder(width) or self._table(width)

    def _ladder(self, width: int) -> Sequence[Row]:
        painted, tall = has_colours(self.app), self.screen.size.height >= TALL
        return ladder(self.desk, self.setting, width, self.signs, painted=painted, tall=tall) if self.setting else ()

    def _table(self, width: int) -> Sequence[Row]:
        by_stage = self.stage is Stage.PLAN
        rows = figure_rows(self.figures, self.desk.plan, self.glance.marks, width, self.signs, by_stage=by_stage)
        shown = self._with_pH(rows, width) if self.stage is Stage.VAT else rows
        return self._with_vessel(shown, width) if self.stage in (Stage.SCOUR, Stage.VAT) else shown

    def _with_vessel(self, rows: Sequence[Row], width: int) -> Sequence[Row]:
        """Draw below the figures how full pot or tub is, where that fits."""
        from vatside.ui.vat.pictures import pot_of, tub_of, vessel_rows

        plan, sheet = self.desk.plan, self.desk.sheet
        pots = {bath.name: pot_of(plan, sheet, bath) for bath in baths(plan)} if self.stage is Stage.SCOUR else {}
        first = next(filter(None, pots.values()), None)
        vessel = tub_of(plan, sheet) if self.stage is Stage.VAT else pots.get(self._group) or first
        room = self.scrollable_content_region.height - len(rows)
        return (*rows, *vessel_rows(vessel, width, room, self.signs)) if vessel else rows

    def _with_pH(self, rows: tuple[Row, ...], width: int) -> Sequence[Row]:
        """Draw below the figures of the vat where its pH stands."""
        from vatside.ui.vat.pictures import with_picture

        roomy = self.screen.size.height >= TALL
        return with_picture(rows, self.desk.plan, self.desk.sheet, width, self.signs, roomy=roomy)
