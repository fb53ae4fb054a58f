"""What is shown of a vat that is no more."""

from __future__ import annotations

from pathlib import Path

from tests.ui.hands import Bench

from vatside.bench import dip_view
from vatside.storage.places import samples_folder


async def test_a_vat_that_was_let_go_has_no_strength(bench: Bench, tmp_path: Path) -> None:
    """The board of a finished day has nothing left in the vat, as its sheet has."""
    path = tmp_path / "sessions" / "day.json"
    path.parent.mkdir()
    path.write_bytes((samples_folder() / "finished-day.json").read_bytes())
    async with bench(file=path) as hands:
        assert dip_view.strength(hands.desk) == hands.desk.sheet["dip.now"].value == 0
