"""The shelf: what is owned, what a day needs of it, what to buy and what it costs."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual import on
from textual.app import ComposeResult
from textual.containers import Container

from vatside.bench.bag_draft import BagDraft, NewBag, PriceDraft
from vatside.bench.shelf_desk import MOST_DAYS, ShelfDesk, ShelfDraft
from vatside.catalogue.load import materials
from vatside.log.state import is_over
from vatside.plan.figure_text import show_weighed
from vatside.plan.sheet import CARE
from vatside.shelf.item_fields import LEFT, read_detail
from vatside.shelf.shelf import Owned
from vatside.ui.base.keymap import BACK, HELP, LEAVE, LOOK, QUIET, Key, Sections, Table
from vatside.ui.base.side_screen import SideScreen
from vatside.ui.shelf.bag import BagScreen, ask_which, show_strips
from vatside.ui.shelf.rows import cost_rows, item_rows, need_rows, no_plan_rows, to_settle_rows
from vatside.ui.text.rows import Row, Signs
from vatside.ui.widgets.lines import Lines
from vatside.ui.windows.ask import ask
from vatside.units import Amount, Kind, Problem, to_base
from vatside.units.show import clean

SHELF, DAY, WRITE = "On the shelf", "For a day", "Write down"

SHELF_KEYS: Table = (
    QUIET,
    Key(
        "enter", "edit", lambda screen: "prices" if screen.at_needs else "write down",
        "write down what is known of a bag: batch, purity, spoon, price, days; at the day's needs: currency, and the "
        "prices of energy, water and work", SHELF,
    ),
    Key("a", "add", "add", "something new on the shelf", SHELF, "add"),
    Key("r", "weigh", "weigh", "read the scale: what is left", SHELF, "read"),
    Key(
        "space", "take", "take into plan", "take it into the plan of the open day, with its purity and its spoon",
        SHELF,
    ),
    Key("m", "match", "match plan", "take every bag into the plan that it reckons otherwise with", SHELF, "match"),
    Key("j", "which", "from which bag", "say from which bag it was used, or put that right", SHELF, "put right"),
    Key(
        "equals_sign", "strips", "two strips",
        "how strong it is: two strips, one of the batch you know, for the bag in hand", SHELF,
    ),
    Key("x", "finish", "finished", "it is finished; once more brings it back", SHELF, "take out"),
    Key("plus minus", "days(1) days(-1)", "days to buy for", "buy for more days, or fewer", DAY),
    Key(
        "u", "take_back", "take back",
        "take back what was written down last, a wrong bag too; once more what was before that", SHELF, "undo",
    ),
    Key("tab,shift+tab", "other", "other side", "to what a day needs and costs, and back", DAY),
    BACK,
    Key("up down", "", "another bag", "another bag", SHELF),
    LOOK, *LEAVE, HELP,
)  # fmt: skip

WORDS: Sections = (
    ("Signs", ((CARE.sign, "there is too little of it"),)),
    (
        "A spoon of it",
        (
            ("1 tsp", "weigh ten level spoons once and write them down: spoons are then grams that can be trusted"),
            (
                "strength",
                "dip two strips alike, one from the old batch (=): 90 % is a tenth less colour than that",
            ),
        ),
    ),
    ("Used", (("", "what a day really put in is booked when its shelf is opened, and when the day is left"),)),
)


class ShelfScreen(SideScreen):
    """One shelf for all days."""

    KEYS = SHELF_KEYS
    WORDS = WORDS

    def __init__(self, powders: ShelfDesk, signs: Signs) -> None:
        super().__init__(signs)
        self.powders = powders

    def regions(self) -> ComposeResult:
        """What is owned, and what a day needs of it."""
        yield self.part("head", self._head)
        with Container(id="powders"):
            yield self.part("bags", self._items, "On the shelf", keys=True)
            yield self.part("needs", self._needs, "For a day", keys=True)

    def on_mount(self) -> None:
        """Book what was used meanwhile, and take the keys."""
        lines = self.parts["bags"]
        lines.focus()
        booked = self.powders.book()
        self.call_after_refresh(self._begin, booked)

    def _begin(self, booked: str) -> None:
        self.renew()
        self.say(booked, 12)

    def renew(self) -> None:
        """Show everything anew, with what another window has noted."""
        lines = self.parts["bags"]
        self.powders.file.reload()
        self.refill("head", "bags", "needs", "keys")
        if lines.keys and lines.key not in lines.keys:
            lines.choose(lines.keys[0])
            lines.refill()
        self.call_after_refresh(lines.reveal)  # a bag that is finished moves, and the hand stays on it
        self._title()

    def _title(self) -> None:
        state, days = self.powders.state, self.powders.days
        name = "a day" if state is None else f"“{clean(state.plan.title)}”"
        over = state is not None and is_over(state)
        times = f"{days}{' more' * over} days like " if days > 1 else "another day like " * over
        # A border's title reads markup: what a person typed must not become any.
        self.parts["needs"].border_title = f"For {times}{name}".replace("[", r"\[")

    def _head(self, width: int) -> Sequence[Row]:
        standing = self.powders.standing
        return self.head_rows("The shelf", f"{CARE.opening}{standing}" if standing else "one for all days", width)

    def _items(self, width: int) -> Sequence[Row]:
        in_hand = self.parts["bags"].key
        return item_rows(self.powders.shelf, self.powders.in_plan, width, self.signs, in_hand)

    @on(Lines.Chose, "#bags")
    def _chose(self) -> None:
        self.refill("bags")

    def _needs(self, width: int) -> Sequence[Row]:
        for_plan = self.powders.for_plan()
        if for_plan is None:
            return no_plan_rows(width)
        open_ = [question.words for question in self.powders.questions]
        rows = need_rows(for_plan, self.powders.days, width, self.signs)
        return (*to_settle_rows(open_, for_plan.disagreements, width), *rows, *cost_rows(for_plan.cost, width))

    @property
    def owned(self) -> Owned | None:
        """The bag in hand."""
        key = self.parts["bags"].key
        return next((owned for owned in self.powders.shelf.owned if owned.item.id == key), None)

    @property
    def at_needs(self) -> bool:
        """Tell whether the keys are at what a day needs."""
        return bool(self.parts) and self.parts["needs"].has_focus

    def action_other(self) -> None:
        """Give the keys to the other region."""
        self.parts["bags" if self.at_needs else "needs"].focus()
        self.refill("keys")

    def _write(self, draft: ShelfDraft) -> None:
        self.app.push_screen(BagScreen(draft, self.signs, self._written))

    def action_edit(self) -> None:
        """Write down what is known of the bag in hand; at the needs, what energy, water and work cost."""
        if self.at_needs:
            self._write(PriceDraft(self.powders))
        elif self.owned is None:
            self.action_add()
        else:
            self._write(BagDraft(self.powders, self.owned))

    def action_add(self) -> None:
        """Put something new on the shelf."""
        self._write(NewBag(self.powders))

    def action_weigh(self) -> None:
        """Ask what is left in the bag in hand."""
        owned = self.owned
        if owned is None:
            return

        def read(text: str) -> Amount | Problem:
            left = read_detail(LEFT.path, text, material=owned.item.material)
            return left if isinstance(left, Amount | Problem) else Problem("")

        def says(left: Amount) -> str:
            weighed = show_weighed(owned.item.material, to_base(left, Kind.MASS))
            return f"{weighed} left; {show_weighed(owned.item.material, owned.left)} by the book"

        def take(left: Amount) -> None:
            words = self.powders.weigh(owned, left)
            self.renew()
            self.say(words)

        ask(self.app, f"What is left of {owned.name}?", read, says, take)

    def action_finish(self) -> None:
        """Say that the bag in hand is finished, or that it is not."""
        self._act(self.powders.finish)

    def action_take_back(self) -> None:
        """Take back what was written down last."""
        self._written(self.powders.take_back())

    def action_take(self) -> None:
        """Take the bag in hand into the plan."""
        self._act(self.powders.take)
        self.powders.book()
        self.renew()

    def action_match(self) -> None:
        """Take every bag into the plan that it reckons otherwise with."""
        words = self.powders.match()
        self.powders.book()
        self.renew()
        self.say(words, 12)

    def action_which(self) -> None:
        """Say from which bag something was used today."""
        ask_which(self.app, self.powders, self._written)

    def action_strips(self) -> None:
        """Work out how the bag in hand strikes, from two strips."""
        owned = self.owned
        if owned is None:
            return
        if materials()[owned.item.material].role != "indigo":
            self.say("Two strips tell how strong a pigment is; this is none.")
            return
        show_strips(self.app, self.powders, owned, self.signs, self._written)

    def _written(self, words: str) -> None:
        self.renew()
        self.say(words, 12)

    def _act(self, act: Callable[[Owned], str]) -> None:
        if self.owned is not None:
            words = act(self.owned)
            self.renew()
            self.say(words)

    def action_days(self, by: int) -> None:
        """Buy for more days, or fewer."""
        self.powders.days = min(max(self.powders.days + by, 1), MOST_DAYS)
        self.renew()
