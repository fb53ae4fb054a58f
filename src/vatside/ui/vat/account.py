"""The vat: what is in it, where it stands, what happened to it; and the regions of it that the meaning shows too."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from textual.app import ComposeResult
from textual.containers import Horizontal

from vatside.bench import vat_acts
from vatside.bench.commands import free_wait
from vatside.bench.desk import local
from vatside.log.events.vat import CorrectionMade
from vatside.log.waits import Moment, seconds_between
from vatside.log.words.vat import care_words
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_additions import addition, comes_to
from vatside.outlook.vat_deeds import as_measured, hot_water, no_room, read_volume
from vatside.plan.sheet import Stage
from vatside.recipe.cooling import is_at, leaves
from vatside.ui.base.host import host_of
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.text.rows import Row, Signs, Span
from vatside.ui.vat.account_rows import account_rows
from vatside.ui.vat.finding_rows import take_as_true, without_vat
from vatside.ui.vat.history_rows import Happened, Wanted, history_rows, picture_rows, rows_of_a_curve
from vatside.ui.vat.keys import VAT_KEYS, WORDS
from vatside.ui.vat.pictures import tub_of, vessel_rows
from vatside.ui.windows.ask import ask
from vatside.units import Amount, Problem, show_amount, show_minutes, show_temperature
from vatside.vat.account import Account


def tub_region(outlook: Outlook, width: int, room: int, signs: Signs) -> Sequence[Row]:
    """Draw how full the tub is, where so many rows are enough; nothing of a vat that is gone."""
    if not isinstance(outlook.account, Account) or outlook.state.tending.let_go is not None:
        return ()
    tub = tub_of(outlook.state.plan, outlook.sheet, outlook.account.litres if outlook.is_made else None)
    return vessel_rows(tub, width, room, signs) if tub else ()


def history_region(outlook: Outlook, width: int, height: int, signs: Signs) -> Sequence[Row]:
    """Print what happened to it, on a screen of so many rows."""
    plan, window, setting = outlook.state.plan, outlook.setting.window, outlook.setting
    lines = [
        Happened(local(at), without_vat(care_words(event, plan)), isinstance(event, CorrectionMade))
        for at, event in outlook.happened
    ]
    wanted = Wanted((setting.coolest, setting.warmest), (window.low, window.high))
    tall = rows_of_a_curve(height)
    picture = picture_rows(outlook.course, wanted, width, tall, signs) if outlook.course else ()
    return history_rows(lines, picture, width, signs)


def ago(then: Moment, now: Moment) -> str:
    """Say when something was, on the wall and by how long it is past."""
    minutes = seconds_between(then, now) / 60
    past = "just now" if minutes < 1 else f"{show_minutes(round(minutes))} ago"
    return f"{local(then):%H:%M}, {past}"


class VatScreen(SessionScreen):
    """The account on the left, the history on the right."""

    CSS_PATH = "vat.tcss"
    GIVES_WAY = True
    KEYS = VAT_KEYS
    WORDS = WORDS
    REGIONS = ("account", "history")

    def regions(self) -> ComposeResult:
        """What is in it, what happened, what runs."""
        yield self.part("head", self._head)
        with Horizontal(id="body"):
            yield self.part("account", self._account, "What is in it", keys=True)
            yield self.part("history", self._history, "How it went", keys=True)

    def on_mount(self) -> None:
        """Begin at the account."""
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self.take("account")
        self.renew()

    # What is shown

    def _head(self, width: int) -> Sequence[Row]:
        taken = self.outlook.taken
        when = f"last read {ago(taken.at, self.glance.now)} " if taken else "not read yet "
        return (self.title_row(f"The vat · {self.desk.plan.title}", (Span(when, "faint"),), width),)

    def _account(self, width: int) -> Sequence[Row]:
        rows = account_rows(self.outlook, width, self.signs)
        room = self.parts["account"].scrollable_content_region.height - len(rows)
        return (*rows, *tub_region(self.outlook, width, room, self.signs))

    def _history(self, width: int) -> Sequence[Row]:
        return history_region(self.outlook, width, self.size.height, self.signs)

    # What is done

    def action_measured(self) -> None:
        """Take the pH that was read as the true one."""
        take_as_true(self)

    def action_read(self) -> None:
        """Take a reading."""
        host_of(self).routes.read_on(self, Stage.VAT)

    def action_board(self) -> None:
        """Go to the dip board."""
        host_of(self).routes.board(self)

    def action_meaning(self) -> None:
        """Show what the latest reading means."""
        host_of(self).routes.meaning(self)

    def action_end_of_it(self) -> None:
        """Go the way to its end."""
        host_of(self).routes.spent(self)

    def _no_vat(self) -> bool:
        """Say so where there is no vat yet, or none any more."""
        if not self.outlook.is_made:
            gone = self.desk.state.tending.let_go is not None
            yet = "There is no vat yet: it begins with the step that brings the stock in."
            self.say("This vat was let go." if gone else yet)
        return not self.outlook.is_made

    def action_hot(self) -> None:
        """Ask how much kettle water went in."""
        if self._no_vat():
            return
        warming = self.outlook.warming
        exchanged = bool(warming and not warming.fits)
        plan = self.desk.state.plan

        def read(text: str) -> CorrectionMade | Problem:
            volume = read_volume(plan, text)
            return volume if isinstance(volume, Problem) else self._fitting(hot_water(volume, exchanged=exchanged))

        proposal = show_amount(as_measured(warming.hot_l)) if warming else ""
        ask(self.app, "How much kettle water goes in?", read, self._says, self._put_in, proposal)

    def action_litres(self) -> None:
        """Ask how much liquor really stands in the tub."""
        account, plan = self.desk.state.tending.account, self.desk.state.plan
        if self._no_vat() or account is None:
            return

        def take(volume: Amount) -> None:
            self.perform(lambda: vat_acts.measured(self.desk, volume))

        says, measured = "what is dissolved stays; strength and pH follow the water", as_measured(account.litres)
        read = partial(read_volume, plan)
        ask(self.app, "How much liquor stands in the tub?", read, lambda _: says, take, show_amount(measured))

    def action_call(self) -> None:
        """Start a wait that ends when the vat is about to leave its warmth."""
        cooling, setting = self.outlook.cooling, self.outlook.setting
        left = leaves(cooling, setting.coolest) if cooling else None
        gone = 0.0 if cooling is None else self.outlook.minutes(self.desk.clock.now()) - cooling.now.minute
        minutes = left.soonest - gone if left else 0.0
        if cooling is None or minutes <= 0 or is_at(cooling, setting.coolest):
            self.say(self.outlook.leaving)
            return
        label = f"Vat down to {show_temperature(setting.coolest)}"

        def act() -> str:
            self.desk.log(free_wait(label, minutes, self.desk.state.seq + 1))
            return f"{label}: it calls when that may be so; u takes it back."

        self.perform(act)

    def action_add(self) -> None:
        """Ask what else went in."""
        if self._no_vat():
            return
        plan = self.desk.state.plan

        def read(text: str) -> CorrectionMade | Problem:
            event = addition(plan, text)
            return event if isinstance(event, Problem) else self._fitting(event)

        ask(self.app, "What went in? 2 g lye, 1 L water, 500 mL stock", read, self._says, self._put_in)

    def _fitting(self, event: CorrectionMade) -> CorrectionMade | Problem:
        """Give what goes in, or say that the tub does not hold it."""
        full = no_room(self.outlook.stands, event)
        return Problem(full) if full else event

    def _says(self, event: CorrectionMade) -> str:
        """Say what is about to be written down, and what it comes to."""
        state = self.outlook.stands
        return ", ".join(filter(None, (care_words(event, state.plan), comes_to(state, event))))

    def _put_in(self, event: CorrectionMade) -> None:
        self.perform(lambda: vat_acts.put_in(self.desk, event))
