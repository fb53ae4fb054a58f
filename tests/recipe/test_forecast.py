"""Looking ahead: who comes out pale."""

from __future__ import annotations

import pytest
from attrs import evolve

from vatside.recipe.depth import depth_name
from vatside.recipe.forecast import Forecast, Need, look_ahead, pale_warnings
from vatside.recipe.uptake import Take, Tank, dip_until

TAKE = Take(1.2, 1.0, 5, 0.15)


def need(number: int, **changes: object) -> Need:
    """Give a piece of a hundred grams that wants a medium blue."""
    plain = Need(f"a.{number}", f"Scarf {number}", "a", 0.1, TAKE, 0.0, 0.8, 12)
    return evolve(plain, **changes)  # type: ignore[arg-type]


def test_a_strong_vat_disappoints_nobody() -> None:
    """Everybody reaches the depth, and no warning is given."""
    found = look_ahead(Tank(40, 2.0), [need(1), need(2)], until_deep=True).pieces
    assert all(not item.pale and item.reaches >= 0.95 * 0.8 for item in found)
    assert pale_warnings(found, 2.0) == ()


def test_the_pieces_that_come_out_pale_are_named() -> None:
    """Dark pieces of the first lot leave too little for the scarves that follow: the first of those is named."""
    dark = [need(number, piece=f"b.{number}", name=f"Coat {number}", turn="b", wants=2.0, dips=20) for number in (1, 2)]
    found = look_ahead(Tank(12, 0.5), [*dark, need(1, wants=1.2), need(2, wants=1.2)], until_deep=True).pieces
    assert found[-1].pale
    (words,) = pale_warnings([item for item in found if item.piece.startswith("a")], 0.1)
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


def test_like_pieces_share_what_there_is() -> None:
    """In turn, round by round, they end within one dip of one another."""
    found = look_ahead(Tank(10, 0.6), [need(1), need(2), need(3)], until_deep=True).pieces
    depths = [item.reaches for item in found]
    assert max(depths) - min(depths) < 0.1


def test_it_agrees_with_the_plan() -> None:
    """The forecast from a fresh vat is the planned outcome of the same lot."""
    tank = Tank(30, 0.9)
    planned = dip_until(tank, 3, 0.1, TAKE, 0.8)
    found = look_ahead(tank, [need(number) for number in (1, 2, 3)], until_deep=True).pieces
    assert max(item.dips for item in found) == pytest.approx(planned.dips, abs=1)
    assert sum(item.reaches for item in found) / 3 == pytest.approx(planned.depth, rel=0.1)


def test_what_a_piece_has_counts() -> None:
    """A piece that has its depth already needs no more dips."""
    (found,) = look_ahead(Tank(20, 0.5), [need(1, has=0.8)], until_deep=True).pieces
    assert (found.dips, found.pale) == (0, False)


def test_no_more_dips_than_allowed() -> None:
    """Two dips left: the forecast ends there."""
    (found,) = look_ahead(Tank(20, 0.2), [need(1, dips=2)], until_deep=True).pieces
    assert found.dips == 2
    assert found.pale


def test_a_piece_without_a_depth_is_never_pale() -> None:
    """Nothing wanted, nothing missed."""
    assert not Forecast("a.1", "Rag", 0.0, 0.0, 0).pale


def test_fixed_dips_go_on_past_the_depth_by_hand() -> None:
    """What is to be dipped thrice is dipped thrice, though its second dip was deep enough; the next finds what is left.

    A litre of 10 g/L loses a tenth to each piece: 10, 9, 8.1, 7.29, 6.561 g/L. The first has 27.1 g/kg laid on by
    three dips, the second 7.29 g/kg by one; a fifth of it goes with the rinses: 2.168 % and 0.5832 %, 0.6878 g.
    """
    take = Take(carried=0.0, takes=1.0, minutes=5, rinsed=0.2)
    pieces = [need(1, turn="a", take=take, wants=1.5, dips=3), need(2, turn="b", take=take, wants=1.5, dips=1)]
    ahead = look_ahead(Tank(1.0, 10.0), pieces)
    assert [item.dips for item in ahead.pieces] == [3, 1]
    assert [item.reaches for item in ahead.pieces] == pytest.approx([2.168, 0.5832])
    assert ahead.tank.strength == pytest.approx(6.561)
    assert ahead.rinsed_g == pytest.approx(0.2 * (1 + 0.9 + 0.81 + 0.729))
