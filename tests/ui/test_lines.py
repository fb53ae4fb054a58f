"""Regions of rows."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.ui.hands import Bench

from vatside.storage.places import samples_folder
from vatside.ui.text.rows import cells
from vatside.ui.widgets.lines import Lines


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
@pytest.mark.parametrize("key", ["l", "question_mark"])
async def test_no_word_lies_below_the_scroll_bar(bench: Bench, tmp_path: Path, size: tuple[int, int], key: str) -> None:
    """A long log and the help are fitted beside the bar once it has come."""
    path = tmp_path / "sessions" / "day.json"
    path.parent.mkdir()
    path.write_bytes((samples_folder() / "finished-day.json").read_bytes())
    async with bench(file=path, size=size) as hands:
        await hands.press("escape", key)
        window = hands.app.screen.query_one("#reading", Lines)
        await hands.until(lambda: window.show_vertical_scrollbar)
        await hands.settle()
        widest = max(sum(cells(span.text) for span in row.spans) for row in window.rows)
        assert widest <= window.scrollable_content_region.width
