"""The ladder of depths in a window: to set a depth, or to record the colour that came out."""

from __future__ import annotations

from collections.abc import Sequence

from textual import on
from textual.app import ComposeResult
from textual.widgets import Input

from vatside.bench import depths
from vatside.bench.depths import Ladder
from vatside.bench.desk import Desk
from vatside.dips.depth import swatches
from vatside.plan.measures import fibre_of, share
from vatside.plan.plan import Lot
from vatside.plan.sheet import CARE
from vatside.ui.base.screens import Window
from vatside.ui.dips.dip_rows import ladder_rows
from vatside.ui.dips.keys import COLOUR_KEYS, LADDER_KEYS
from vatside.ui.text.rows import Row, Signs, row, wrapped
from vatside.ui.theme.choice import has_colours
from vatside.ui.widgets.lines import Lines
from vatside.units.show import clean


class LadderWindow(Window[tuple[str, str]]):
    """A field with the ladder below: the arrows write a step into it, anything else can be typed."""

    KEYS = LADDER_KEYS
    CSS_PATH = "dips.tcss"
    title_words = "How deep?"

    def __init__(self, desk: Desk, signs: Signs, lot: Lot) -> None:
        super().__init__()
        self.desk = desk
        self.signs = signs
        self.lot = lot
        self.fit = depths.own_colour(desk, lot)

    def regions(self) -> ComposeResult:
        """The field, what it means, the ladder, the keys."""
        yield Lines(self._about, id="about", keys=False)
        entry = Input(self.first_text, compact=True, id="answer", select_on_focus=True)
        entry.cursor_blink = False
        yield entry
        yield Lines(self._words, id="means", keys=False)
        yield Lines(self._ladder, id="ladder", keys=False)
        yield Lines(self.key_rows, id="answers", keys=False)

    @property
    def text(self) -> str:
        """What stands in the field."""
        return self.query_one(Input).value

    @property
    def ident(self) -> str:
        """Whose depth or colour it is."""
        return self.lot.id

    @property
    def first_text(self) -> str:
        """What stands in the field at first."""
        depth = 100 * share(self.lot.depth)
        return f"{depth:.3g} %" if depth > 0 else ""

    def means(self) -> tuple[bool, str, float]:
        """Say what stands in the field."""
        return depths.depth_means(self.desk, self.lot, self.text)

    def _ladder_of(self, picked: float | None) -> Ladder:
        painted = has_colours(self.app)
        return depths.ladder_of(self.lot, self.fit, painted=painted, picked=picked)

    def about(self) -> str:
        """Say whose it is."""
        return self.lot.name

    def _about(self, width: int) -> Sequence[Row]:
        return tuple(wrapped(clean(self.about()), width, "strong"))

    def _words(self, width: int) -> Sequence[Row]:
        good, text, _ = self.means()
        said = clean(text if good or self.text.strip() else self.empty_words())
        role = "" if good else CARE.ink if self.text.strip() else "faint"
        rows = wrapped(said, width, role)[:3]
        return (*rows, *[row()] * (2 - len(rows)))

    def empty_words(self) -> str:
        """Say what can be typed."""
        return "a depth in % on the weight of fibre, or a step below"

    def _ladder(self, width: int) -> Sequence[Row]:
        good, _, depth = self.means()
        return ladder_rows(self._ladder_of(depth if good else 0.0), width, self.signs)

    @on(Input.Changed)
    def _typed(self) -> None:
        self.renew()

    def renew(self) -> None:
        """Show everything anew."""
        for lines in self.query(Lines):
            lines.refill()

    def action_step(self, by: int) -> None:
        """Write the step before or after into the field."""
        steps = [step.depth for step in swatches(fibre_of(self.lot))]
        good, _, depth = self.means()
        at = depth if good else 0.0
        later = [step for step in steps if step > at * 1.02]
        earlier = [step for step in steps if step < at * 0.98]
        wanted = (later or steps[-1:])[0] if by > 0 else (earlier or steps[:1])[-1]
        entry = self.query_one(Input)
        entry.value = f"{wanted:g} %"
        self.written(entry)

    def written(self, entry: Input) -> None:
        """A step was written: what is typed next takes its place."""
        entry.action_select_all()

    @on(Input.Submitted)
    def _entered(self) -> None:
        if self.means()[0]:
            self.dismiss((self.ident, self.text))


class ColourWindow(LadderWindow):
    """The colour that a piece came out with, dry: measured, picked from the ladder, or graded against a step."""

    KEYS = COLOUR_KEYS
    title_words = "What colour did it come out?"

    def __init__(self, desk: Desk, signs: Signs, ident: str) -> None:
        self.subjects = depths.colour_owners(desk)
        known = [key for key, _ in self.subjects]
        self.whose = ident if ident in known else known[0]
        lot = depths.lot_of_any(desk.state.plan, self.whose)
        assert lot is not None
        super().__init__(desk, signs, lot)

    @property
    def ident(self) -> str:
        """The piece, or the lot."""
        return self.whose

    @property
    def first_text(self) -> str:
        """Nothing stands in the field at first: what it came out with is for the dyer to say."""
        return ""

    def means(self) -> tuple[bool, str, float]:
        """Say what stands in the field."""
        return depths.colour_means(self.desk, self.whose, self.text, self.fit)

    def written(self, entry: Input) -> None:
        """A step was written: what is typed next is its grade."""
        entry.action_end()

    def about(self) -> str:
        """Say whose it is, and what was recorded of it before."""
        name = dict(self.subjects)[self.whose]
        before = depths.recorded(self.desk, self.whose, self.fit)
        return f"{name}, dry, in daylight. {before}".strip()

    def empty_words(self) -> str:
        """Say what can be typed."""
        return "A step (medium, 0.8 %), a grey-scale grade (medium 4 darker) or L* a* b* (35.2 -2 -20). Words after ;"

    def action_other(self, by: int) -> None:
        """Turn to another piece or lot."""
        known = [key for key, _ in self.subjects]
        self.whose = known[(known.index(self.whose) + by) % len(known)]
        lot = depths.lot_of_any(self.desk.state.plan, self.whose)
        if lot is not None and lot.id != self.lot.id:
            self.lot = lot
            self.fit = depths.own_colour(self.desk, lot)
        self.renew()
