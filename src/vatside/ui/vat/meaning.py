"""What a reading means, and what to do about it: one key does it and starts the wait."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from textual.app import ComposeResult
from textual.containers import Container

from vatside.bench import vat_acts
from vatside.bench.desk import local
from vatside.log.events.vat import CorrectionMade
from vatside.log.words.vat import care_words, reading_words
from vatside.outlook.vat import POWDERS
from vatside.outlook.vat_deeds import amount_of, as_proposed, proposed_amount, with_amount
from vatside.outlook.vat_order import disorder, reading_wanted, some_left
from vatside.plan.sheet import CARE
from vatside.ui.base.host import host_of
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.text.rows import BLANK, Row, Span, paragraph
from vatside.ui.vat.account import ago, history_region
from vatside.ui.vat.account_rows import stand_of
from vatside.ui.vat.finding_rows import (
    PH,
    Meaning,
    comparison_rows,
    deed_rows,
    meaning_rows,
    take_as_true,
    way_name,
    without_vat,
)
from vatside.ui.vat.keys import MEANING_KEYS, WORDS
from vatside.ui.vat.pictures import scale_rows
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows.ask import ask
from vatside.units import show_amount
from vatside.units.show import clean
from vatside.vat.account import Account
from vatside.vat.corrections import Correction
from vatside.vat.interlocks import Block

LEFT = ("none", "nothing")
"""What a way does that is done by doing nothing."""
NOTHING_TO_DO = "There is nothing to do here; r reads again, Esc goes back."


class MeaningScreen(SessionScreen):
    """The findings above, what to do about the chosen one below."""

    CSS_PATH = "vat.tcss"
    GIVES_WAY = True
    KEYS = MEANING_KEYS
    WORDS = WORDS
    REGIONS = ("findings", "deed")

    def regions(self) -> ComposeResult:
        """What it is, what to do, what runs."""
        yield self.part("head", self._head)
        with Container(id="body"):
            yield self.part("findings", self._findings, "What it is", keys=True)
            yield self.part("deed", self._deed, "What to do", keys=True)

    def on_mount(self) -> None:
        """Begin with what is put right first."""
        self._way: dict[str, int] = {}
        self.parts["findings"].key = self._meaning.first
        self.parts["findings"].point_with(self.signs.here)
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self.take("findings")
        self.renew()

    def renew(self) -> None:
        """Show everything anew; the cursor stays on something there is."""
        lines = self.parts["findings"]
        if lines.key not in (PH, *(item.id for item in self.outlook.findings)):
            lines.key = self._meaning.first
        super().renew()
        self._title()

    def _title(self) -> None:
        ways = self._ways
        at = self._way.get(self._key, 0) % max(len(ways), 1)
        more = f", {self.signs.cycle} {at + 1} of {len(ways)}: {way_name(ways[at])}" if len(ways) > 1 else ""
        self.parts["deed"].border_title = f"What to do{more}"

    # What is shown

    @property
    def _key(self) -> str:
        return self.parts["findings"].key

    @property
    def _meaning(self) -> Meaning:
        outlook = self.outlook
        done = [item.id for item in outlook.findings if outlook.done_since(item.id)]
        helped = outlook.helped.text if outlook.helped else ""
        return Meaning(outlook.findings, outlook.comparison, outlook.questions, helped, done)

    @property
    def _ways(self) -> tuple[Correction, ...]:
        return self.outlook.ways(self._key)

    @property
    def way(self) -> Correction | None:
        """What would be done now."""
        ways = self._ways
        return ways[self._way.get(self._key, 0) % len(ways)] if ways else None

    def _head(self, width: int) -> Sequence[Row]:
        taken = self.outlook.taken
        when = f"read {ago(taken.at, self.glance.now)} " if taken else ""
        seen = " · ".join(reading_words(taken.reading)) if taken else "No reading yet: r takes one."
        lines = paragraph(clean(seen), width)
        return (self.title_row("What it means", (Span(when, "faint"),), width), *lines[:2])

    def _findings(self, width: int) -> Sequence[Row]:
        roomy = self.size.height >= 30
        rows = meaning_rows(self._meaning, self._key, width, self.signs, all_open=roomy)
        if not roomy or not self.has_class("-wide"):
            return rows
        return (*rows, BLANK, *history_region(self.outlook, width, self.size.height, self.signs))

    def _deed(self, width: int) -> Sequence[Row]:
        outlook = self.outlook
        if self._key == PH and outlook.comparison is not None:
            return (*comparison_rows(outlook.comparison, width, sure=outlook.sure), BLANK, *self._picture(width))
        way = self.way
        if way is None:
            words = outlook.account if isinstance(outlook.account, str) else "Nothing to do about it here."
            return paragraph(words, width, "faint")
        if way.does == "none" and (since := self._since):
            return paragraph(f"{CARE.opening}{since}", width, CARE.ink)
        made = outlook.done_since(self._key)
        done = "; ".join(
            f"{local(one.at):%H:%M} {without_vat(care_words(one.event, outlook.state.plan))}" for one in made
        )
        parts = [one.remedy for one in way.along]
        again = way.does in POWDERS and any(one.event.amount and one.event.remedy not in parts for one in made)
        rows = deed_rows(way, done, width, read_first=again or (bool(self._meaning.done) and not made))
        return (*rows, BLANK, *self._picture(width)) if self._axis == "pH" else rows

    @property
    def _since(self) -> str:
        """What has become by the clock of a vat that was read as good; empty while that holds."""
        state, now = self.desk.state, self.glance.now
        wrong = disorder(state, self.desk.sheet, now)
        return wrong.text if wrong else reading_wanted(state, now) if some_left(state) else ""

    @property
    def _axis(self) -> str:
        return next((item.axis for item in self.outlook.findings if item.id == self._key), "")

    def _picture(self, width: int) -> Sequence[Row]:
        """Draw where the pH stands in the window of the fibre."""
        outlook = self.outlook
        if not isinstance(outlook.account, Account):
            return ()
        stand = stand_of(outlook, outlook.account.celsius)
        return scale_rows(stand, width, self.signs)

    # What the keys count for

    @property
    def is_doubted(self) -> bool:
        """Tell that the pH read is in hand, and that the account says otherwise."""
        comparison = self.outlook.comparison
        return self._key == PH and comparison is not None and not comparison.agrees

    @property
    def can_be_done(self) -> bool:
        """Tell whether space does something."""
        return not self.is_doubted and self.way is not None and self.way.does not in LEFT

    @property
    def amount_words(self) -> str:
        """Say of what there may be another amount; empty if of nothing."""
        return amount_of(self.way, self.desk.state.plan) if self.can_be_done and self.way else ""

    @property
    def has_ways(self) -> bool:
        """Tell whether there is more than one way to put it right."""
        return len(self._ways) > 1

    def on_lines_chose(self, event: Lines.Chose) -> None:
        """Show what to do about another finding."""
        if event.lines is self.parts["findings"]:
            self.parts["deed"].scroll_home(animate=False)
            self.refill("findings", "deed", "keys")
            self._title()

    # What is done

    def action_measured(self) -> None:
        """Take the pH that was read as the true one."""
        take_as_true(self)

    def action_way(self, by: int) -> None:
        """Turn to another way to put it right."""
        ways = self._ways
        if len(ways) > 1:
            self._way[self._key] = (self._way.get(self._key, 0) + by) % len(ways)
            self.parts["deed"].scroll_home(animate=False)
            self.refill("deed", "keys")
            self._title()

    def action_do(self) -> None:
        """Do it as proposed, once its cautions are read; start its wait."""
        way = self.way
        if self._key == PH:
            self.action_measured()
        elif way is None or way.does in LEFT:
            self.say(NOTHING_TO_DO)
        else:
            self._do(way, as_proposed(way, self.desk.state.plan))

    def _do(self, way: Correction, event: CorrectionMade) -> None:
        if isinstance(way.guard, Block) and way.guard.final:
            self.say(f"Refused: {way.guard.why} {way.guard.instead}", 12)
            return
        self.perform(lambda: vat_acts.correct(self.desk, way, event))

    def action_amount(self) -> None:
        """Ask how much really went in."""
        way, plan = self.way, self.desk.state.plan
        what = amount_of(way, plan) if way else ""
        if way is None or not what:
            idle = way is None or way.does in LEFT
            self.say(NOTHING_TO_DO if idle else "There is no amount to it; space says that it is done.")
            return

        amount, read = proposed_amount(way, plan), partial(with_amount, way, plan)
        proposed = show_amount(amount) if amount else ""

        def take(event: CorrectionMade) -> None:
            self._do(way, event)

        ask(self.app, f"How much {what} went in?", read, lambda event: care_words(event, plan), take, proposed)

    def action_read(self) -> None:
        """Go on with this reading, or take a new one."""
        host_of(self).routes.add_to(self)

    def action_board(self) -> None:
        """Go to the dip board."""
        host_of(self).routes.board(self)

    def action_vat(self) -> None:
        """Show the account and the history."""
        host_of(self).routes.vat(self)
