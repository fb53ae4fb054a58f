"""A day done again: what is asked, and what it comes to."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

from textual.app import ComposeResult

from vatside.days.repeat import Offer
from vatside.days.repeat_choices import Repeating
from vatside.days.why_apart import Told
from vatside.plan.plan import Plan
from vatside.ui.base.keymap import BACK, HELP, LEAVE, LOOK, QUIET, Key, Sections, Table
from vatside.ui.base.side_screen import SideScreen
from vatside.ui.text.rows import BLANK, Row, Signs, Span, cells, left, paragraph, row, spread, wide_of, wrap
from vatside.ui.windows.ask import ask
from vatside.units import show_mass
from vatside.units.show import clean

FIBRE, TITLE = "@fibre", "@title"
MOST = 3
"""Lines that fibre or vat may take: the offers stand on the same screen."""


def repeat_rows(
    title: str, fibre: str, scaled: str, blue: Sequence[Told], offers: Sequence[Offer], taken: Collection[str],
    becomes: Callable[[str], str], width: int, signs: Signs,
) -> tuple[Row, ...]:  # fmt: skip
    """Print the new day's name, fibre and vat, then every offer with its answer."""
    rows = [
        spread((Span("  New day   ", "faint"), Span(clean(title), "strong")), (), width, TITLE),
        spread((Span("  Fibre     ", "faint"), Span(fibre, "strong")), (Span("m ", "key"),), width, FIBRE),
        *(row(Span(f"            {line}", "faint"), key=FIBRE) for line in wrap(clean(scaled), width - 14)[:MOST]),
        *_blue(blue, width),
        BLANK,
    ]
    if not offers:
        words = "That day went as its plan works out: there is nothing to take over beside the plan itself."
        return (*rows, *paragraph(words, width, "faint"))
    rows.append(row(Span(" It really went otherwise. Take it over?", "head")))
    for offer in offers:
        rows += _offer(offer, offer.path in taken, becomes(offer.path), width, signs)
    return tuple(rows)


def _blue(blue: Sequence[Told], width: int) -> list[Row]:
    """What the vat comes to, beside what it was; what would show on the cloth first, and marked."""
    rows = []
    for marked in (True, False):
        lines = wrap(clean("; ".join(words for words, differs in blue if differs is marked)), width - 14)
        rows += [row(Span(f"            {line}", "care" if marked else "faint"), key=FIBRE) for line in lines[:MOST]]
    if rows:
        first = rows[0].spans[0]
        rows[0] = row(Span("  The vat   ", "faint"), Span(first.text.strip(), first.role), key=FIBRE)
    return rows


def _offer(offer: Offer, taken: bool, becomes: str, width: int, signs: Signs) -> list[Row]:
    """One line where there is room, else the numbers below the name."""
    sign = signs.done if taken else signs.later
    answer = Span(left("take" if taken else "leave", 6), "strong" if taken else "faint")
    head = (Span(f"  {sign} "), answer, Span(clean(offer.label), "" if taken else "faint"))
    was = f"plan {offer.planned}, was {offer.actual}"
    now = f" {signs.arrows[-1]} now {becomes}" if becomes else " not needed now"
    room = wide_of(head) + cells(was) + cells(now) + 3
    tail = (Span(was, "faint"), Span(f"{now} ", "number"))
    if room <= width:
        return [spread(head, tail, width, offer.path)]
    below = [tail] if 10 + wide_of(tail) <= width else [(span,) for span in tail]
    return [spread(spans, (), width, offer.path) for spans in (head, *((Span(" " * 10), *part) for part in below))]


AGAIN = "Again"

REPEAT_KEYS: Table = (
    QUIET,
    Key("enter", "begin", "begin the day", "begin the new day with what is taken over here", AGAIN),
    Key("space", "turn", "take, leave", "take a line over, or leave it to the plan", AGAIN),
    Key("z", "all", "all, none", "take all of it, or nothing", AGAIN, "all"),
    Key(
        "m", "fibre", "fibre", "match it to the fibre of this time: whole pieces, and what was set by hand goes along",
        AGAIN, "match",
    ),
    BACK,
    Key("up down", "", "another line", "another line", AGAIN),
    LOOK, *LEAVE, HELP,
)  # fmt: skip
REPEAT_WORDS: Sections = (
    (
        "What is offered",
        (
            ("set", "what was set by hand that day"),
            ("used", "what really went in, corrections too, where that was not what the plan works out"),
            ("times", "how long the waits really took that were sat out"),
            ("same g/L", "for other fibre: the vat filled by the fibre, or the indigo set for the liquor"),
        ),
    ),
)


class RepeatScreen(SideScreen):
    """A past day on its way to a new one."""

    KEYS = REPEAT_KEYS
    WORDS = REPEAT_WORDS

    def __init__(self, choice: Repeating, signs: Signs, begin: Callable[[Plan], None]) -> None:
        super().__init__(signs)
        self.choice = choice
        self._begin_new = begin

    def regions(self) -> ComposeResult:
        """The offers between head and keys."""
        yield self.part("head", lambda width: self.head_rows("Again", self.choice.old.title, width))
        yield self.part("list", self._rows, keys=True)

    def on_mount(self) -> None:
        """Begin at the first offer."""
        lines = self.parts["list"]
        lines.focus()
        lines.key = self.choice.offers[0].path if self.choice.offers else FIBRE

    def _rows(self, width: int) -> Sequence[Row]:
        choice = self.choice
        return repeat_rows(
            choice.title, show_mass(choice.grams), choice.scaled_words(choice.grams),
            choice.blue(self.signs.arrows[-1]), choice.offers, choice.chosen, choice.becomes, width, self.signs,
        )  # fmt: skip

    def action_turn(self) -> None:
        """Take the line in hand over, or leave it; ask for what is no offer."""
        key = self.parts["list"].key
        if key == FIBRE:
            self.action_fibre()
        elif key == TITLE:
            self._ask_title()
        else:
            self.choice.turn(key)
            self.refill("list")

    def action_all(self) -> None:
        """Take everything over, or nothing."""
        self.choice.turn_all()
        self.refill("list")

    def action_fibre(self) -> None:
        """Ask how much fibre there is this time."""

        def take(grams: float) -> None:
            self.choice.grams = grams
            self.refill("list")

        choice, title = self.choice, "How much fibre in all, air-dry?"
        ask(self.app, title, choice.read_grams, choice.scaled_words, take, show_mass(choice.grams))

    def _ask_title(self) -> None:
        def take(title: str) -> None:
            self.choice.title = title.strip()
            self.refill("list")

        choice, what = self.choice, "What is the new day called?"
        ask(self.app, what, choice.read_title, lambda _: "the new day's name", take, choice.title)

    def action_begin(self) -> None:
        """Begin the new day."""
        self._begin_new(self.choice.plan)
