"""The end of a vat: oxidise, how much acid, give it, let it go, one page after the other."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from textual import on
from textual.app import ComposeResult
from textual.containers import Container

from vatside.bench import vat_acts
from vatside.bench.desk import Desk
from vatside.bench.vat_forms import Ending
from vatside.catalogue.values import MethodEnd
from vatside.log.events.day import DoneAllTheSame
from vatside.log.events.vat import CorrectionMade
from vatside.log.fold import State
from vatside.log.words.vat import care_words
from vatside.outlook import vat_end
from vatside.plan.measures import method_of
from vatside.ui.base.host import host_of
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.text.rows import Row, Signs
from vatside.ui.vat.keys import SPENT_KEYS, WORDS
from vatside.ui.vat.spent_rows import page_names, page_rows, path_row
from vatside.ui.widgets.entry import Entry
from vatside.ui.widgets.form import Form
from vatside.ui.windows.ask import ask, some_words
from vatside.ui.windows.questions import InsistWindow
from vatside.units import show_amount

OXIDISE, HOW_MUCH, GIVE, LET_GO = range(4)


class SpentScreen(SessionScreen):
    """One page at a time; each opens with what the log says was done."""

    CSS_PATH = "vat.tcss"
    GIVES_WAY = True
    KEYS = SPENT_KEYS
    WORDS = WORDS
    REGIONS = ("page",)

    def __init__(self, desk: Desk, signs: Signs) -> None:
        super().__init__(desk, signs)
        self.ending = Ending()
        self.page = _reached(desk.state)

    def regions(self) -> ComposeResult:
        """The path, the page, what runs."""
        yield self.part("head", self._head)
        with Container(id="body"):
            yield Form(id="form", signs=self.signs)
            yield self.part("page", self._page, self._names[self.page], keys=True)

    def on_mount(self) -> None:
        """Begin at the page that the log has come to."""
        self.form.border_title = "Set"
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self.go(self.page)

    @property
    def form(self) -> Form:
        """The form of the second page."""
        return self.query_one(Form)

    def go(self, page: int) -> None:
        """Turn to a page."""
        self.page = page
        self.set_class(self.sets, "-form")
        self.parts["page"].border_title = self._names[page]
        self.parts["page"].scroll_home(animate=False)
        self.take("page")
        self.renew()

    def renew(self) -> None:
        """Show everything anew."""
        self.form.show(self.ending.rows(), self.ending.wrong)
        super().renew()

    # What is shown

    def _head(self, width: int) -> Sequence[Row]:
        title = self.title_row(f"The end of the vat · {self.desk.plan.title}", (), width)
        return (title, path_row(self.page, _reached(self.desk.state), width, self.signs, self._own))

    def _page(self, width: int) -> Sequence[Row]:
        return page_rows(self.page, self.outlook, self.ending.choices, width)

    @property
    def _own(self) -> MethodEnd | None:
        return method_of(self.desk.state.plan).end

    @property
    def is_handed_over(self) -> bool:
        """Tell an end of its own from one by acid and pH."""
        return self._own is not None

    @property
    def _names(self) -> tuple[str, ...]:
        return page_names(self._own)

    @property
    def sets(self) -> bool:
        """Tell whether the page has a form."""
        return self.page == HOW_MUCH and self._own is None

    @property
    def gives(self) -> bool:
        """Tell whether the page asks for an amount that went in."""
        return self.page == GIVE and self._own is None

    # What is set

    @on(Entry.Typed)
    def _typed(self, event: Entry.Typed) -> None:
        self.ending.portions = len(vat_end.acid_given(self.desk.state))
        self.ending.type(event.path, event.text)
        self.renew()

    @on(Form.Left)
    def _left(self, event: Form.Left) -> None:
        event.stop()
        self.renew()

    @on(Form.Done)
    def _form_done(self) -> None:
        self.take("page")

    @on(Entry.Aside)
    def _aside(self, event: Entry.Aside) -> None:
        if event.what == "help":
            self.action_help()

    def action_back(self) -> None:
        """Leave the form, or go back."""
        if isinstance(self.focused, Entry):
            self.take("page")
        else:
            self.dismiss()

    # What is done

    def action_turn(self, by: int) -> None:
        """Go to another page."""
        self.go(min(max(self.page + by, OXIDISE), LET_GO))

    def action_page(self, number: int) -> None:
        """Go to a page by its number."""
        self.go(number)

    def action_do(self) -> None:
        """Do what the page asks for."""
        if self.desk.state.tending.account is None:
            self.say("There is no vat here to end.")
        elif self.page == OXIDISE:
            self._blue()
            self.go(_reached(self.desk.state))
        elif self.page == HOW_MUCH:
            self.go(GIVE)
        elif self.page == GIVE and self._own is not None:
            self.go(LET_GO)
        elif self.page == GIVE:
            self._give(vat_end.portion(self.desk.state, self.ending.choices))
        else:
            self._let_go()

    def _blue(self) -> None:
        """Write down that it stays blue; said again, it would void the pH that was read since."""
        if self.desk.state.tending.seen_spent:
            self.say("It is written down already that it stays blue.")
        else:
            self.perform(lambda: vat_acts.seen_blue(self.desk, self.ending.choices.aim))

    def _give(self, event: CorrectionMade | str) -> None:
        block = vat_end.refusal(self.desk.state)
        if block is not None:
            self.say(f"Refused: {block.why} {block.instead}", 12)
        elif isinstance(event, str):
            self.say(event)
        else:
            self.perform(lambda: vat_acts.neutralise(self.desk, event))

    def action_amount(self) -> None:
        """On the second page, go to the form; on the third, ask how much acid really went in."""
        if self.sets:
            self.form.take()
        elif self.gives:
            self._ask_amount(vat_end.portion(self.desk.state, self.ending.choices))

    def _ask_amount(self, event: CorrectionMade | str) -> None:
        if isinstance(event, str) or vat_end.refusal(self.desk.state) is not None:
            self._give(event)
            return
        plan, amount = self.desk.state.plan, show_amount(event.amount) if event.amount else ""
        read = partial(vat_acts.with_acid, event, plan)
        ask(self.app, "How much acid went in?", read, lambda portion: care_words(portion, plan), self._give, amount)

    def _let_go(self) -> None:
        block = vat_end.holds_back(self.desk.state, self.ending.choices)
        if block is None:
            self._ask_where()
        elif block.final:
            self.say(f"Not yet: {block.why} {block.instead}", 12)
        else:
            insisted = DoneAllTheSame("not-yet", "vat", block.why)
            window = InsistWindow("Let the vat go", block)
            self.app.push_screen(window, lambda yes: self._ask_where(insisted) if yes else None)

    def _ask_where(self, *insisted: DoneAllTheSame) -> None:
        def take(where: str) -> None:
            self.perform(lambda: vat_acts.let_go(self.desk, where, *insisted))

        says = "In your words: whom you asked, and where it went; it goes into the log."
        ask(self.app, "Where did it go?", some_words(says), lambda _: says, take)

    def action_read(self) -> None:
        """Take a reading and come back."""
        host_of(self).routes.read_here(self)

    def action_vat(self) -> None:
        """Show the account and the history."""
        host_of(self).routes.vat(self)


def _reached(state: State) -> int:
    """Say how far the log has come."""
    if not state.tending.seen_spent or vat_end.refusal(state) is not None:
        return OXIDISE
    if method_of(state.plan).end is not None or not vat_end.acid_given(state):
        return HOW_MUCH
    return LET_GO if vat_end.pHs_round_acid(state)[1] is not None else GIVE
