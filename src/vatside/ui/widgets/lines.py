"""Rows of words in a scrolling region, painted only where they changed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import ClassVar

from attrs import evolve
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from vatside.ui.text.rows import Row, Span, cells
from vatside.ui.theme.inks import Ground, inks
from vatside.units.one_line import clean

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

        def __init__(self, lines: Lines, key: str) -> None:
            super().__init__()
            self.lines = lines
            self.key = key

        @property
        def control(self) -> Lines:
            """The region."""
            return self.lines

    class Clicked(Message):
        """Words that do something were clicked."""

        def __init__(self, act: str) -> None:
            super().__init__()
            self.act = act

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
        """Fit the rows to the new width."""
        self.refill()

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
        self.post_message(self.Chose(self, self.key))

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
            self.post_message(self.Clicked(act))
        elif item.key:
            self.choose(item.key)
            self.post_message(self.Chose(self, item.key))


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
