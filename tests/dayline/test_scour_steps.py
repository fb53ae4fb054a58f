"""Steps of the scour: baths, loads, rinses and nudges."""

from __future__ import annotations

import pytest
from tests.plan.plans import plan_of_lots, plan_with, told

from vatside.dayline.day_steps import steps
from vatside.dayline.steps import Step
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute


def scour(plan: Plan) -> list[Step]:
    """Give the scour steps of a plan."""
    return [step for step in steps(plan, compute(plan)) if step.stage is Stage.SCOUR]


def ids(plan: Plan) -> list[str]:
    """Give the ids of the scour steps without `scour.` in front."""
    return [step.id.removeprefix("scour.") for step in scour(plan)]


def found(plan: Plan, step_id: str) -> Step:
    """Give one scour step."""
    return next(step for step in scour(plan) if step.id == f"scour.{step_id}")


def test_one_bath() -> None:
    """Clean wool in one pot: soak, fill, soap, heat, hold, rinse, cool, hang."""
    names = ["soak", "fill", "agents", "heat", "hold", "rinse", "cool", "hang"]
    assert ids(plan_with()) == [f"wool.{name}" for name in names]


def test_two_baths_of_one_load() -> None:
    """Greasy wool is lifted into a fresh bath as warm as the first, and rinsed once after both."""
    names = ["soak", "fill.1", "agents.1", "heat.1", "hold.1", "fill_again.2", "agents.2", "lower.2", "hold.2", "rinse"]
    assert ids(plan_with(lots__a__condition="greasy"))[:10] == [f"wool-greasy.{name}" for name in names]


def test_two_loads_of_two_baths() -> None:
    """Each load begins lukewarm, has its second bath hot, and its own rinse."""
    found = [
        name.removeprefix("wool-greasy.") for name in ids(plan_with(lots__a__condition="greasy", lots__a__mass="500 g"))
    ]
    assert [name for name in found if name.startswith(("fill", "rinse"))] == [
        "fill.1", "fill_again.2", "rinse.1", "fill.3", "fill_again.4", "rinse.2",
    ]  # fmt: skip
    assert [found.count(name) for name in ("soak", "cool", "hang")] == [1, 1, 1]


def test_the_second_bath_is_as_warm_as_the_first() -> None:
    """No wool goes from 57 degrees into 30: the step says 57, and what to draw for it."""
    text = found(plan_with(lots__a__condition="greasy"), "wool-greasy.fill_again.2").text
    assert "as warm as before: 7.5 L at 57 °C" in text
    assert "then 1 min on the hob" in text


def test_what_is_numbered_says_of_what() -> None:
    """Baths and loads are numbered in words, waits by number only."""
    plan = plan_with(lots__a__condition="greasy", lots__a__mass="500 g")
    assert found(plan, "wool-greasy.hold.3").text.endswith("(bath 3)")
    assert found(plan, "wool-greasy.hold.3").wait_label == "Scour greasy wool 3"
    assert found(plan, "wool-greasy.rinse.2").text.endswith("(load 2)")


def test_cotton_is_not_left_to_cool() -> None:
    """Its last rinses are cold, so nothing has to come down."""
    assert "cotton.cool" not in ids(plan_with(lots__a__fibre="cotton"))


def test_cooling_can_be_held_at_nothing() -> None:
    """A dyer who will not wait gets no step to wait in."""
    assert "wool.cool" not in ids(plan_with(scour__wool__cool="0 min"))


def test_no_rinses_no_rinse() -> None:
    """Rinses held at none leave the step out."""
    assert "wool.rinse" not in ids(plan_with(scour__wool__rinses="0"))


def test_a_ton_is_written_out_twelve_times() -> None:
    """More than twelve loads is no kitchen: the steps stop there, and the sheet says so."""
    plan = plan_with(lots__a__fibre="cotton", lots__a__mass="1000 kg")
    assert sum(step.id.startswith("scour.cotton.hold") for step in scour(plan)) == 12


def test_the_rinse_says_how_much_each_time() -> None:
    """Two rinses of 7.5 L, the first drawn at 60."""
    text = found(plan_with(), "wool.rinse").text
    assert text.startswith("Lift out and rinse 2 times, 7.5 L each; the first at 60 °C: ")


def test_coming_down_quicker() -> None:
    """From 60 to 20 at ten degrees a time is four baths."""
    text = found(plan_with(), "wool.cool").text
    assert text.endswith("quicker, 4 baths, each at most 10 °C cooler")


def test_one_step_down_is_no_quicker() -> None:
    """A rinse at 30 is one step from the room, so there is nothing to be gained."""
    text = found(plan_with(scour__wool__rinse_temperature="30 C"), "wool.cool").text
    assert "quicker" not in text


def test_soda_is_warned_of() -> None:
    """A bath with soda ash carries soda's caution, one with soap alone none."""
    assert [caution.id for caution in found(plan_with(lots__a__fibre="cotton"), "cotton.agents").cautions] == ["soda"]
    assert found(plan_with(), "wool.agents").cautions == ()


def test_two_agents_are_both_dissolved() -> None:
    """Soda and detergent stand in one sentence with their amounts."""
    text = found(plan_with(lots__a__fibre="cotton", lots__a__mass="300 g"), "cotton.agents").text
    assert "9.0 g" in text
    assert "of soda ash and 11.2 g" in text


def test_lots_of_one_fibre_are_one_bath() -> None:
    """Two lots of wool are soaked once, under the fibre's name."""
    plan = plan_of_lots(("wool", "100 g"), ("wool", "100 g"))
    assert [step.group for step in scour(plan)] == ["wool"] * 8


def test_each_fibre_has_its_own_bath() -> None:
    """Wool and silk follow each other, each with its own hold."""
    plan = plan_of_lots(("wool", "100 g"), ("silk", "100 g"))
    holds = [step for step in scour(plan) if ".hold" in step.id]
    assert [(step.group, step.minutes) for step in holds] == [("wool", 60), ("silk", 20)]


class TestNudges:
    """Stirs and turns during the hold."""

    @pytest.mark.parametrize(
        ("changes", "minutes"),
        [
            ({}, [12, 24, 30, 36, 48]),
            ({"scour__wool__hold": "20 min"}, [10]),  # the stir at 12 is too close to the turn at 10
            ({"scour__wool__stir_every": "30 min"}, [30]),
            ({"scour__wool__stir_every": "20 min"}, [20, 30, 40]),
            ({"scour__wool__hold": "1 min"}, [0.5]),
            ({"scour__wool__hold": "24 min"}, [12]),
        ],
    )
    def test_wool(self, changes: dict[str, str], minutes: list[float]) -> None:
        """A stir at each interval, the turn at half time instead of a stir near it, none at the end."""
        assert [nudge.minute for nudge in found(plan_with(**changes), "wool.hold").nudges] == minutes

    def test_silk_is_only_turned(self) -> None:
        """Silk is not stirred."""
        plan = plan_with(lots__a__fibre="silk", lots__a__mass="100 g")
        assert [nudge.label for nudge in found(plan, "silk.hold").nudges] == ["turn the fibre over"]

    def test_every_bath_is_turned(self) -> None:
        """Both baths of greasy wool are turned at 15 min."""
        plan = plan_with(lots__a__condition="greasy")
        for number in (1, 2):
            assert [nudge.minute for nudge in found(plan, f"wool-greasy.hold.{number}").nudges] == [15]


def test_no_hot_tap() -> None:
    """Everything is drawn cold, and the words name no hot water."""
    text = found(plan_with(water__hot="12 C"), "wool.fill").text
    assert text == "Fill the pot with 7.5 L of water at 12 °C: 7.5 L cold"


def test_names_of_raw_fibres() -> None:
    """With gum on it is raw silk, in the grease it is greasy wool; cotton stays cotton."""
    plan = plan_of_lots(("silk", "100 g"), ("wool", "100 g"), ("cotton", "100 g"))
    for lot in "abc":
        plan = told(plan, f"lots.{lot}.condition", "greasy")
    assert list(dict.fromkeys(step.group for step in scour(plan))) == ["raw silk", "greasy wool", "cotton"]
