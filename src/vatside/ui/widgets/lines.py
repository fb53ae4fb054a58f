"""Rows of words in a scrolling region, painted only where they changed; two of them at the bottom edge."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, ClassVar

from attrs import evolve
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from vatside.ui.base.keymap import Shown, key_row, typing
from vatside.ui.text.rows import Row, Signs, Span, cells, paragraph, row
from vatside.ui.theme.looks import Ground, inks
from vatside.units.show import clean

if TYPE_CHECKING:
    from vatside.bench.glance import WaitView

Fill = Callable[[int], Sequence[Row]]


def _nothing(_width: int) -> Sequence[Row]:
    return ()


class Lines(ScrollView, can_focus=True, inherit_bindings=False):
    """A region of rows; where rows have keys, one of them is chosen with the arrows."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "choose(-1)", show=False),
        Binding("down", "choose(1)", show=False),
        Binding("pageup", "choose(-5)", show=False),
        Binding("pagedown", "choose(5)", show=False),
        Binding("home", "choose(-1000)", show=False),
        Binding("end", "choose(1000)", show=False),
    ]

    class Chose(Message):
        """Another row was chosen by hand."""

        def __init__(self, lines: Lines) -> None:
            super().__init__()
            self.lines = lines

        @property
        def control(self) -> Lines:
            """The region."""
            return self.lines

    def __init__(self, fill: Fill = _nothing, *, id: str, title: str = "", keys: bool = True) -> None:  # noqa: A002
        super().__init__(id=id)
        self.fill = fill
        """What gives the rows for a width."""
        self.rows: tuple[Row, ...] = ()
        self.key = ""
        """The key of the chosen row."""
        self.points_with = ""
        """The sign that stands in the first column of the chosen rows, on what `space` acts on; empty: none does."""
        self._theme = ""
        self._mixed: dict[Ground, Mapping[str, Style]] = {}
        self.can_focus = keys
        self.border_title = title

    def refill(self) -> None:
        """Ask for the rows anew, if the region is on the screen at all."""
        width = self.scrollable_content_region.width
        if width > 0:
            self.show(self.fill(width))

    def on_resize(self) -> None:
        """Fit the rows to the new width; what is chosen comes into view again where it fell out of it."""
        self.refill()
        first = next((y for y, item in enumerate(self.rows) if item.key and item.key == self.key), 0)
        if not 0 <= first - self.scroll_offset.y < self.size.height:
            self.reveal()

    def watch_show_vertical_scrollbar(self) -> None:
        """Fit the rows beside the scroll bar: its coming changes no size that a region is told of."""
        self.call_after_refresh(self.refill)

    def show(self, rows: Sequence[Row]) -> None:
        """Show other rows; only those that differ are painted."""
        old, self.rows = self.rows, tuple(rows)
        if len(old) != len(self.rows):
            self._fit(len(old))
            self.refresh()
            return
        for y, (before, after) in enumerate(zip(old, self.rows, strict=True)):
            if before != after:
                self.refresh_line(y)

    def _fit(self, before: int) -> None:
        """Take over the number of rows; the screen is laid out anew only where that moves anything."""
        size, room = Size(0, len(self.rows)), self.container_size.height
        height = self.styles.height
        if height is None or height.is_auto or (before > room) != (size.height > room):
            self.virtual_size = size
            return
        self.set_reactive(Lines.virtual_size, size)
        self.scroll_y = self.scroll_y  # no further than the last row
        if self.show_vertical_scrollbar:
            self.vertical_scrollbar.window_virtual_size = size.height

    def choose(self, key: str) -> None:
        """Mark the rows of a key as chosen and bring them into view."""
        if key != self.key:
            self.key = key
            self.refresh()
        self.reveal()

    def reveal(self) -> None:
        """Bring the chosen rows into view, with a row of what comes before and after."""
        chosen = [y for y, item in enumerate(self.rows) if item.key == self.key and item.key]
        if chosen:
            top = max(chosen[0] - 1, 0)
            self.scroll_to_region(Region(0, top, 1, chosen[-1] - top + 2), animate=False, force=True, immediate=True)

    @property
    def keys(self) -> tuple[str, ...]:
        """What can be chosen, in order."""
        return tuple(dict.fromkeys(item.key for item in self.rows if item.key))

    def action_choose(self, by: int) -> None:
        """Choose the row so many keys further; a region without keys scrolls."""
        keys = self.keys
        if not keys:
            self.scroll_relative(y=max(min(by, len(self.rows)), -len(self.rows)), animate=False)
            return
        at = keys.index(self.key) if self.key in keys else (-1 if by > 0 else len(keys))
        self.choose(keys[max(min(at + by, len(keys) - 1), 0)])
        self.post_message(self.Chose(self))

    def render_line(self, y: int) -> Strip:
        """Paint one line of the region."""
        width = self.scrollable_content_region.width
        at = y + self.scroll_offset.y
        if at >= len(self.rows):
            return Strip.blank(width, self.rich_style)
        item = self.rows[at]
        in_hand = bool(item.key) and item.key == self.key
        ground = Ground.CHOSEN if in_hand and self.has_focus else Ground.PAPER
        looks = self._looks(ground)
        spans = pointed(item, self.points_with).spans if in_hand and self._is_first(at) else item.spans
        strip = Strip([Segment(clean(span.text), _look(span.role, looks)) for span in spans])
        plain = looks.get("")
        return strip.adjust_cell_length(width, plain).apply_style(self.rich_style)

    def _is_first(self, at: int) -> bool:
        """Tell whether a row is the first of its key."""
        return at == 0 or self.rows[at - 1].key != self.rows[at].key

    def point_with(self, sign: str) -> None:
        """Put a sign before the chosen row, or none."""
        if sign != self.points_with:
            self.points_with = sign
            self.refresh()

    def _looks(self, ground: Ground) -> Mapping[str, Style]:
        """The looks of the theme in use, mixed once for each theme."""
        if self._theme != self.app.theme:
            self._theme, self._mixed = self.app.theme, {}
        if ground not in self._mixed:
            self._mixed[ground] = inks(self.app.current_theme.variables, ground)
        return self._mixed[ground]

    def on_focus(self) -> None:
        """Show the cursor."""
        self.refresh()

    def on_blur(self) -> None:
        """Hide the cursor."""
        self.refresh()

    def on_click(self, event: events.Click) -> None:
        """Choose the row clicked on, or do what its words say."""
        place = event.get_content_offset(self)
        if place is None or place.y + self.scroll_offset.y >= len(self.rows):
            return
        item = self.rows[place.y + self.scroll_offset.y]
        act = _act_at(item, place.x)
        if act:
            self.screen.call_later(self.screen.run_action, act)
        elif item.key:
            self.choose(item.key)
            self.post_message(self.Chose(self))


def pointed(item: Row, sign: str) -> Row:
    """Put a sign into the first column of a row, where that is blank."""
    if not sign or not item.spans or not item.spans[0].text.startswith(" "):
        return item
    first = item.spans[0]
    return evolve(item, spans=(Span(sign, "strong", first.act), evolve(first, text=first.text[1:]), *item.spans[1:]))


def _act_at(item: Row, x: int) -> str:
    at = 0
    for span in item.spans:
        at += cells(span.text)
        if x < at:
            return span.act
    return ""


def _look(role: str, looks: Mapping[str, Style]) -> Style | None:
    """The look of a role; a swatch brings its own colour."""
    return Style.parse(role) if role.startswith("on #") else looks.get(role)


SAID = 6.0
"""Seconds for which a sentence stays."""


class KeyLine(Lines):
    """A sentence stands above the keys until its time is over, and hides neither them nor the waits."""

    def __init__(self, keys: Callable[[], Sequence[Shown]], clock: Callable[[], float]) -> None:
        super().__init__(self._rows, id="keys", keys=False)
        self.said = ""
        """The sentence that was said last."""
        self.above: Callable[[int], Sequence[Row]] = lambda width: ()  # noqa: ARG005
        """Gives for a width what stands over the keys."""
        self.resting: Callable[[int], Sequence[Row]] = lambda width: ()  # noqa: ARG005
        """Gives for a width what stands in the row of the sentences while nothing is said: so no other row moves."""
        self._keys = keys
        self._clock = clock
        self._until = 0.0
        """The clock's second from which it is no longer shown."""

    def say(self, words: str, seconds: float = SAID) -> None:
        """Say a sentence for some seconds; an empty one takes the last one away."""
        self.said, self._until = words, self._clock() + seconds
        if self.is_mounted:
            self.refill()

    def unsay(self, words: str) -> None:
        """Take this sentence away, if it stands there."""
        if words and self.said == words:
            self.say("")

    def _rows(self, width: int) -> Sequence[Row]:
        return (*self.above(width), *(self._said(width) or self.resting(width)), key_row(self._keys(), width))

    def _said(self, width: int) -> tuple[Row, ...]:
        """Give what was just said; nothing once its time is over."""
        if not self.said or self._clock() >= self._until:
            return ()
        return tuple(paragraph(clean(self.said), width, "said"))


def _idle(*, letters: bool) -> Sequence[Row]:
    """Say that nothing runs, and which key starts something, unless that key is a letter of what is being typed."""
    hint = "" if letters else "; w starts a wait of your own"
    return (row(Span(f" Nothing is running{hint}", "faint")),)


class WaitsBar(Lines):
    """Every wait with what is left of it; the keys for waits act on the one in hand."""

    def __init__(
        self, signs: Signs, nothing: Sequence[Row] | None = None, *, most: int | None = None, marked: bool = True
    ) -> None:
        """`nothing`: what stands here while nothing runs; without it, how to start something."""
        super().__init__(self._rows, id="waits", keys=False)
        self.signs = signs
        self.nothing = nothing
        self.most = most
        """Rows at most; None: as many as a screen of this height has room for."""
        self.marked = marked
        """The wait in hand is marked."""
        self.waits: tuple[WaitView, ...] = ()
        self.chosen: str | None = None
        """The wait chosen by its number; None: the one that needs it first."""
        self.suggested: Callable[[], str | None] = lambda: None
        """Gives the wait that comes to hand unless another one was chosen."""
        self.only_suggested = False
        """Where none is suggested or chosen, none but one that rings comes to hand."""
        self._rung: frozenset[str] = frozenset()

    def look_at(self, waits: Sequence[WaitView]) -> None:
        """Know the waits as they stand; one that begins to ring comes to hand."""
        self.waits = tuple(waits)
        rung = frozenset(wait.id for wait in waits if wait.ringing)
        if rung - self._rung:
            self.chosen = None
        self._rung = rung

    def take_in_hand(self, number: int) -> None:
        """Take a wait into hand by its number."""
        self.chosen = next((wait.id for wait in self.waits if wait.number == number), self.chosen)

    @property
    def in_hand(self) -> WaitView | None:
        """The wait chosen by its number, or else the one suggested, or the one that needs it first."""
        by_id = {wait.id: wait for wait in self.waits}
        first = next((wait for wait in self.waits if wait.ringing or not self.only_suggested), None)
        return by_id.get(self.chosen or "") or by_id.get(self.suggested() or "") or first

    def _rows(self, width: int) -> Sequence[Row]:
        from vatside.ui.text.wait_rows import wait_rows  # late: the list of days stands before any wait is shown

        if not self.waits:
            return _idle(letters=bool(typing(self.screen))) if self.nothing is None else self.nothing
        wait = self.in_hand if self.marked else None
        return wait_rows(self.waits, wait.id if wait else None, width, self.most or self._room, self.signs)

    @property
    def _room(self) -> int:
        """Rows for the waits on a screen of this height."""
        height = self.screen.size.height
        return 2 if height < 24 else 3 if height < 30 else 6
