"""Looking ahead: who comes out pale."""

from __future__ import annotations

from vatside.dips.depth import depth_name
from vatside.vat.account_changes import Forecast, pale_warnings


def test_nobody_is_named_who_comes_to_four_fifths() -> None:
    """Everybody reaches about the depth, and no warning is given."""
    found = (Forecast("a.1", "Scarf 1", 0.8, 0.8, 3), Forecast("a.2", "Scarf 2", 0.65, 0.8, 3))
    assert not any(item.pale for item in found)
    assert pale_warnings(found, 2.0) == ()


def test_the_pieces_that_come_out_pale_are_named() -> None:
    """The first by its name, the others by their number, with what is left in the vat."""
    found = [Forecast(f"a.{number}", f"Scarf {number}", 0.4, 1.2, 4) for number in (1, 2)]
    (words,) = pale_warnings(found, 0.1)
    assert words.startswith("Scarf 1 and 1 more will come out")
    assert "0.1 g/L is left" in words


def test_each_piece_is_called_pale_in_its_own_words() -> None:
    """A full blue that comes out pale and light ones that come out very pale are not told as one."""
    found = (
        Forecast("a.1", "Mohair", 0.2, 4.0, 3), Forecast("b.1", "Linen 1", 0.1, 0.4, 3),
        Forecast("b.2", "Linen 2", 0.1, 0.4, 3), Forecast("c.1", "Silk", 0.4, 0.4, 3),
    )  # fmt: skip
    names = {depth: depth_name(depth) for depth in (0.1, 0.2, 0.4, 4.0)}
    (words,) = pale_warnings(found, 0.1)
    assert words.startswith(
        f"Mohair will come out {names[0.2]} (about 0.2 %), not {names[4.0]}; "
        f"Linen 1 and 1 more {names[0.1]} (about 0.1 %), not {names[0.4]}: 0.1 g/L is left."
    )
    assert "Silk" not in words


def test_a_piece_whose_dips_are_over_gets_other_advice() -> None:
    """No dip to come: once more, or leave it; nothing is said of what to do before."""
    (words,) = pale_warnings((Forecast("a.1", "Mohair", 0.2, 4.0, 0),), 0.1)
    assert words.startswith("Mohair will stay ")
    assert "one more" in words
    assert "before" not in words


def test_a_piece_without_a_depth_is_never_pale() -> None:
    """Nothing wanted, nothing missed."""
    assert not Forecast("a.1", "Rag", 0.0, 0.0, 0).pale
