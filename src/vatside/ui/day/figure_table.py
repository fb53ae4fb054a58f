"""The figures of the stage on the screen: what to weigh and draw."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.bench.desk import Desk
from vatside.bench.glance import Glance
from vatside.dayline.steps import Step
from vatside.plan.sheet import Figure, Stage
from vatside.recipe.shown import shown
from vatside.ui.day.figure_rows import figure_rows, overview
from vatside.ui.dips.now import ladder
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs
from vatside.ui.theme.choice import has_colours
from vatside.ui.widgets.lines import Lines

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
        here = "All figures (z: fewer)" if self.desk.all_figures else "Weigh and draw (z: all)"
        self.border_title = "For the whole day" if self.stage is Stage.PLAN else here

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
        return self._with_pH(rows, width) if self.stage is Stage.VAT else rows

    def _with_pH(self, rows: tuple[Row, ...], width: int) -> Sequence[Row]:
        """Draw below the figures of the vat where its pH stands."""
        from vatside.ui.vat.ph_scale import with_picture

        roomy = self.screen.size.height >= TALL
        return with_picture(rows, self.desk.plan, self.desk.sheet, width, self.signs, roomy=roomy)
