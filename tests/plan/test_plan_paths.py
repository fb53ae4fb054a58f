"""Reading and setting one place of a plan."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import plan_of_lots, plan_with, told, wool_plan

from vatside.plan.measures import powder
from vatside.plan.paths import add_lot, get_value, remove_lot, set_value
from vatside.plan.plan import FieldValue, Pin, Plan
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
from vatside.units import Amount


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("title", "Blue Monday"),
        ("ready_by", "10:00"),
        ("ready_by", None),
        ("measure", "spoons"),
        ("water.hot", Amount(140, "degF")),
        ("vessels.tub.height", Amount(40, "cm")),
        ("vessels.tub.shape", "oval"),
        ("lots.a.pieces", 5),
        ("lots.a.form", "cloth"),
        ("shelf.indigo.purity", Amount(30, "%")),
        ("shelf.indigo.spoon_mass", Amount(2.2, "g")),
        ("shelf.soap.spoon_mass", Amount(5, "g")),
        ("stock.pigment", Amount(4, "tsp")),
    ],
)
def test_what_is_set_stands_there(path: str, value: FieldValue) -> None:
    """A value set at a path is found there again, and nothing else of the plan's values has changed."""
    plan = wool_plan()
    changed = set_value(plan, path, value)
    assert get_value(changed, path) == value
    assert get_value(plan, path) != value or value is None


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("title", None),
        ("title", 5),
        ("ready_by", 5),
        ("ready_by", True),
        ("water.hot", None),
        ("water.hot", "55"),
        ("water.hot", 55),
        ("water", Amount(1, "L")),
        ("lots.a.pieces", "5"),
        ("lots.a.pieces", True),
        ("lots.a.pieces", Amount(5, "")),
        ("lots.a.mass", None),
        ("lots.a.form", "sock"),
        ("measure", None),
        ("shelf", Amount(1, "g")),
        ("pins", "none"),
        ("vessels.tub", "round"),
        ("shelf.indigo.purity", None),
        ("shelf.indigo.material", "chalk"),
        ("shelf.indigo.material", None),
        ("stock.pigment", "4 tsp"),
        ("stock.pigment", 4),
    ],
)
def test_what_does_not_fit_is_refused(path: str, value: FieldValue) -> None:
    """A value of the wrong sort is a ValueError or, where nothing can be set at all, a KeyError."""
    with pytest.raises((ValueError, KeyError)):
        set_value(wool_plan(), path, value)


@pytest.mark.parametrize(
    "path",
    ["tub", "water.tepid", "water.hot.value.x", "lots.b.mass", "lots.a.colour", "shelf.chalk.purity", "lots", ""],
)
def test_places_that_are_not(path: str) -> None:
    """A path that leads nowhere is a KeyError, to read and to set."""
    with pytest.raises(KeyError):
        get_value(wool_plan(), path)
    with pytest.raises((KeyError, ValueError)):
        set_value(wool_plan(), path, "x")


class TestLots:
    """Adding and taking out."""

    def test_a_new_lot_is_like_the_last(self) -> None:
        """It has a free letter, the last lot's fibre and a weight to change."""
        plan = plan_with(lots__a__fibre="linen")
        lot = new_lot(plan)
        assert (lot.id, lot.fibre, lot.mass) == ("b", "linen", Amount(100, "g"))

    def test_letters_run_out(self) -> None:
        """Forty lots all have an id of their own."""
        plan = plan_of_lots(*[("wool", "10 g")] * 40)
        assert len({lot.id for lot in plan.lots}) == 40

    def test_a_freed_letter_is_taken_again(self) -> None:
        """With `a` gone, the next lot is `a`."""
        plan = remove_lot(plan_of_lots(("wool", "10 g"), ("silk", "10 g")), "a")
        assert new_lot(plan).id == "a"

    def test_the_same_id_replaces(self) -> None:
        """Adding a lot under an id that is taken leaves one lot of it."""
        plan = wool_plan()
        plan = add_lot(plan, evolve(plan.lots[0], name="again"))
        assert [lot.name for lot in plan.lots] == ["again"]

    def test_the_last_one_stays(self) -> None:
        """A day without fibre is no dye day."""
        assert len(remove_lot(wool_plan(), "a").lots) == 1

    def test_one_lot_is_set_alone(self) -> None:
        """Setting lot b leaves lot a as it was."""
        plan = plan_of_lots(("wool", "10 g"), ("silk", "20 g"))
        assert told(plan, "lots.b.mass", "30 g").lots[0] == plan.lots[0]


class TestShelf:
    """The powders and what a spoon of them weighs."""

    def test_another_powder_has_its_own_purity(self) -> None:
        """Woad is 30 %, synthetic indigo 95, whatever the natural one was written down as."""
        plan = plan_with(shelf__indigo__purity="55 %", shelf__indigo__material="woad")
        assert get_value(plan, "shelf.indigo.purity") == Amount(30, "%")

    def test_going_back_finds_what_was_written(self) -> None:
        """The natural powder's 55 % is still there when it is chosen again."""
        plan = plan_with(
            shelf__indigo__purity="55 %", shelf__indigo__spoon_mass="2.4 g", shelf__indigo__material="woad"
        )
        back = told(plan, "shelf.indigo.material", "indigo")
        assert get_value(back, "shelf.indigo.purity") == Amount(55, "%")
        assert get_value(back, "shelf.indigo.spoon_mass") == Amount(2.4, "g")

    def test_flakes_serve_for_beads(self) -> None:
        """Both are lye, so the one on the shelf is the one that is weighed."""
        plan = plan_with(shelf__alkali__material="lye-flakes")
        assert powder(plan, "alkali").id == "lye-flakes"
        assert powder(plan, "lye").id == "lye-flakes"

    def test_lime_does_not_serve_for_lye(self) -> None:
        """A vat of lime takes its own entry and leaves the lye's alone."""
        plan = plan_with(shelf__alkali__purity="90 %", method="copperas-lime")
        assert powder(plan, "alkali").id == "slaked-lime"
        assert powder(plan, "alkali").purity == pytest.approx(0.95)

    def test_an_entry_is_kept_once(self) -> None:
        """Writing purity and spoon of one powder leaves one entry for it."""
        plan = plan_with(shelf__indigo__purity="55 %", shelf__indigo__spoon_mass="2.4 g", shelf__soap__spoon_mass="5 g")
        assert sorted(entry.material for entry in plan.shelf) == ["indigo", "soap"]

    def test_a_spoon_can_be_unweighed(self) -> None:
        """An empty text gives back the usual powder's bulk."""
        plan = told(plan_with(shelf__indigo__spoon_mass="2.4 g"), "shelf.indigo.spoon_mass", "")
        assert powder(plan, "indigo") == powder(wool_plan(), "indigo")


def test_a_second_pin_replaces_the_first() -> None:
    """A figure has one pin at most."""
    plan = told(plan_with(stock__pigment="4 tsp"), "stock.pigment", "8 g")
    assert [pin for pin in plan.pins if pin.figure == "stock.pigment"] == [Pin("stock.pigment", Amount(8, "g"))]


def test_unknown_method_and_fibre_of_a_foreign_plan() -> None:
    """A plan of elsewhere with names not known here is still worked out, as the first of each."""
    plan = wool_plan()
    foreign: Plan = evolve(plan, method="zinc", lots=(evolve(plan.lots[0], fibre="nettle"),))
    assert compute(foreign).figures


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"lots.a.fibre": "wool"}, "Wool cloth"),
        ({"lots.a.fibre": "wool", "lots.a.form": "skeins"}, "Wool skeins"),
        ({"lots.a.form": "loose fibre", "lots.a.fibre": "alpaca"}, "Loose alpaca"),
        ({"lots.a.second": "cotton"}, "Linen-cotton cloth"),
        ({"lots.a.pieces": 4}, "Linen napkins"),
        ({"lots.a.name": "For Asha", "lots.a.fibre": "wool"}, "For Asha"),
        ({"lots.a.name": "Napkins", "lots.a.form": "skeins"}, "Napkins"),
    ],
)
def test_a_name_that_nobody_typed_follows(changes: dict[str, FieldValue], name: str) -> None:
    """What a lot comes with is called by its fibre and how it is made up; a name once typed stays."""
    plan = starter_plan()
    for path, value in changes.items():
        plan = set_value(plan, path, value)
    assert plan.lots[0].name == name


def test_two_lots_that_follow_have_two_names() -> None:
    """The second wool skeins are the second ones; the number stays with its lot."""
    plan = starter_plan()
    plan = add_lot(plan, new_lot(plan))
    for lot in plan.lots:
        plan = set_value(set_value(plan, f"lots.{lot.id}.form", "skeins"), f"lots.{lot.id}.fibre", "wool")
    assert [lot.name for lot in plan.lots] == ["Wool skeins", "Wool skeins 2"]
    assert set_value(plan, "lots.b.form", "skeins") == plan


def test_one_more_lot_comes_in_the_state_of_the_last_one() -> None:
    """Beside a class of ready scoured cloth nothing is scoured unasked."""
    plan = set_value(starter_plan(), "lots.a.condition", "ready scoured")
    assert new_lot(plan).condition == "ready scoured"
