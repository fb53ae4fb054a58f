"""No colour at all, for whoever asks for none (NO_COLOR): grounds become reversed rows, weight and signs stay."""

from __future__ import annotations

from functools import lru_cache

from rich.color import ColorType
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

from vatside.ui.theme.contrast import SHAPES, contrast

REVERSED = Style(reverse=True)


class Colourless(LineFilter):
    """Leaves every colour out; what stands on a ground of its own is shown with ink and paper changed over."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Give the segments without colours; `background` is the paper."""
        return [Segment(text, _plain(style, background.hex), control) for text, style, control in segments]


@lru_cache(maxsize=1024)
def _plain(style: Style | None, paper: str) -> Style | None:
    if style is None:
        return None
    ground = style.bgcolor
    raised = ground is not None and ground.type is not ColorType.DEFAULT
    is_ground = raised and contrast(Color.from_rich_color(ground), paper) >= SHAPES
    return style.without_color + REVERSED if is_ground else style.without_color
