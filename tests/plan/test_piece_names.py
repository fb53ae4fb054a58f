"""Names that pieces carry from the plan on."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import plan_with, wool_plan

from vatside.forms.fields import fields, plan_problems, read, show
from vatside.plan.paths import piece_name
from vatside.plan.plan import Lot, Plan
from vatside.plan.sheet import Stage
from vatside.units import Problem


def skeins(pieces: int, *names: str) -> Lot:
    """Give a lot of some pieces with names."""
    return evolve(wool_plan().lots[0], name="Skeins", pieces=pieces, names=names)


def named(text: str, pieces: str = "4") -> Plan:
    """Give a plan whose first lot has its pieces named."""
    return plan_with(plan_with(lots__a__pieces=pieces), lots__a__names=text)


@pytest.mark.parametrize(
    ("names", "number", "called"),
    [
        ((), 2, "Skeins 2"),
        (("Asha", "Ben"), 1, "Asha"),
        (("Asha", "Ben"), 2, "Ben"),
        (("Asha", "Ben"), 3, "Skeins 3"),
        (("Asha", "", "Ben"), 2, "Skeins 2"),
        (("Asha", "Ben", "Asha"), 1, "Asha 1"),
        (("Asha", "Ben", "Asha"), 3, "Asha 2"),
    ],
)
def test_a_piece_is_called_by_its_name_or_its_lot(names: tuple[str, ...], number: int, called: str) -> None:
    """Pieces without a name keep the number they have in the lot; two of one person are told apart."""
    assert piece_name(skeins(4, *names), number) == called


def test_a_name_given_at_the_vat_wins() -> None:
    """What the board says of a piece stands over the plan; a lot of one piece goes by its own name."""
    assert piece_name(skeins(2, "Asha"), 1, "Cora") == "Cora"
    assert piece_name(skeins(1), 1) == "Skeins"
    assert piece_name(skeins(1, "Asha"), 1) == "Asha"


def test_names_that_go_beyond_the_pieces_wait() -> None:
    """Two of four named pieces are left: no number is counted for a piece that is not there."""
    assert piece_name(skeins(2, "Asha", "Ben", "Asha"), 1) == "Asha"


def test_the_form_takes_them_in_one_row() -> None:
    """They are typed with commas, and stand there as they were typed; nothing takes them away."""
    plan = named(" Asha,Ben ,, Cora,")
    assert plan.lots[0].names == ("Asha", "Ben", "", "Cora")
    assert show(plan, "lots.a.names") == "Asha, Ben, , Cora"
    assert read(plan, "lots.a.names", "") is None
    assert plan_with(plan, lots__a__names="").lots[0].names == ()
    assert plan_problems(plan) == ()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("Asha, Ben, Cora", "Piece names: 3 names for 2 pieces; one for each at most"),
        ("x" * 41, "Piece names: a name has 40 letters at most, not 41"),
        ("Asha\tB, Ben", "Piece names: a name holds characters that cannot be shown, or a comma"),
    ],
)
def test_what_cannot_be_is_said(typed: str, said: str) -> None:
    """A name too many, one too long and one that cannot be shown are refused in a sentence."""
    assert read(plan_with(), "lots.a.names", typed) == Problem(said)


def test_fewer_pieces_keep_a_plan_that_can_be_read() -> None:
    """Names of pieces that were taken away again are no fault of the plan."""
    assert plan_problems(plan_with(named("Asha, Ben, Cora"), lots__a__pieces="2")) == ()


def test_a_file_with_names_that_cannot_be_is_refused() -> None:
    """A comma inside a name, which the form could not have made, is told with its lot."""
    plan = evolve(wool_plan(), lots=(skeins(2, "Li, Ann"),))
    assert plan_problems(plan) == ("lots.a: a name holds characters that cannot be shown, or a comma",)


def test_a_single_piece_has_no_row_for_it() -> None:
    """The lot's own name says whose it is."""
    assert "lots.a.names" not in {row.path for row in fields(plan_with(lots__a__pieces="1"), Stage.PLAN)}
