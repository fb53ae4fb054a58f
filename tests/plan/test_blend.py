"""Mixed fibre by shares, and fibre that goes through no bath; worked by hand from the catalogue's facts."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import plan_of_lots, plan_with, told, wool_plan

from vatside.catalogue.load import fibres, scours
from vatside.dayline.day_steps import steps
from vatside.forms.fields import fields, plan_problems, read
from vatside.plan.blend import blended, gentlest, mixed
from vatside.plan.figure_text import source_text, working_lines
from vatside.plan.measures import clean_grams, fibre_of, fibre_words, scour_key, scour_of
from vatside.plan.plan import Condition, Lot, Plan
from vatside.plan.sheet import Stage
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute
from vatside.shelf.supplies import water_litres
from vatside.units import Amount, Problem

SHARES = st.floats(0.01, 0.99)
PAIRS = st.lists(st.sampled_from(sorted(fibres())), min_size=2, max_size=2, unique=True)


def towels(**changes: str) -> Plan:
    """Give 300 g of cotton-linen, 55 to 45."""
    plan = plan_with(lots__a__fibre="cotton", lots__a__mass="300 g", lots__a__second="linen")
    return plan_with(plan, lots__a__second_share="45 %", **changes)


def lot(**changes: object) -> Lot:
    """Give a lot of 100 g with some places of it set."""
    return evolve(new_lot(wool_plan()), **changes)  # type: ignore[arg-type]


class TestBlend:
    """Two fibres as one."""

    def test_amounts_go_by_share(self) -> None:
        """Water held: 0.55 of cotton's 140 % and 0.45 of linen's 130 %; volumes add up, so densities divide."""
        found = fibre_of(towels().lots[0])
        assert found.held.value == pytest.approx(0.55 * 140 + 0.45 * 130)
        assert (found.held.low, found.held.high) == pytest.approx((0.55 * 120 + 0.45 * 110, 0.55 * 160 + 0.45 * 150))
        assert found.density.value == pytest.approx(1 / (0.55 / 1.52 + 0.45 / 1.50))
        assert found.regain.value == pytest.approx(0.55 * 8.5 + 0.45 * 12)

    def test_it_is_named_by_its_parts(self) -> None:
        """Cotton-linen, with the shares where there is room; a name of several words is joined with a word."""
        assert fibre_of(towels().lots[0]).name == "cotton-linen"
        assert fibre_words(towels().lots[0]) == "cotton-linen 55/45"
        assert blended((("alpaca", 0.7), ("silk", 0.3))).name == "alpaca or mohair with silk"
        assert blended((("wool", 0.7), ("silk", 0.3))).greasy_name == "greasy wool-silk"

    @pytest.mark.parametrize(
        ("first", "second", "gentle"),
        [
            ("silk", "wool", "wool"),
            ("cotton", "silk", "silk"),
            ("cotton", "wool", "wool"),
            ("wool", "alpaca", "alpaca"),
            ("cotton", "viscose", "viscose"),
            ("cotton", "linen", "linen"),
        ],
    )
    def test_the_gentler_fibre_says_how_it_is_treated(self, first: str, second: str, gentle: str) -> None:
        """Wool and hair before silk before plant fibres, then what bears less alkali and less heat."""
        found, part = blended(((first, 0.6), (second, 0.4))), fibres()[gentle]
        assert gentlest(((first, 0.6), (second, 0.4))) is part
        assert (found.group, found.window, found.scour) == (part.group, part.window, part.scour)

    @given(PAIRS, SHARES)
    def test_a_blend_lies_between_its_fibres(self, pair: list[str], share: float) -> None:
        """No amount of a blend is more than that of either fibre, or less; it is no hardier than either."""
        ones = [fibres()[key] for key in pair]
        found = blended(((pair[0], 1 - share), (pair[1], share)))
        for name in ("density", "held", "regain"):
            values = sorted(getattr(one, name).value for one in ones)
            assert values[0] - 1e-9 <= getattr(found, name).value <= values[1] + 1e-9
        assert found.step.value == min(one.step.value for one in ones)
        assert found.window.block == min(one.window.block for one in ones)

    def test_one_fibre_is_itself(self) -> None:
        """A lot of one fibre, or blended with itself or with nothing known, is the fibre of the catalogue."""
        for second in ("", "cotton", "nonsense"):
            assert fibre_of(lot(fibre="cotton", second=second)) is fibres()["cotton"]

    def test_grease_comes_off_by_share(self) -> None:
        """Raw wool-silk, 60 to 40: wool loses 30 %, silk its gum of 22 %."""
        found = lot(fibre="wool", second="silk", second_share=Amount(40, "%"), condition=Condition.GREASY)
        assert scour_of(found).loss.value == pytest.approx(0.6 * 30 + 0.4 * 22)
        assert clean_grams(wool_plan(), found) == pytest.approx(100 * (1 - 0.268))
        assert scour_of(found).agents == scours()["wool-greasy"].agents

    def test_sources_of_both_are_named(self) -> None:
        """Cotton's density is published, linen's from memory: the working says both."""
        figure = compute(towels())["scour.cotton-linen.level"]
        both = f"{source_text('MortonHearle')}; {source_text('memory')}"
        assert working_lines(figure, towels())[-1] == f"Source: {both}"

    def test_blends_of_several_shares_share_a_bath(self) -> None:
        """55/45 and the other way round go into one pot and hold what all their cotton and linen hold."""
        plan = plan_of_lots(("cotton", "100 g"), ("linen", "300 g"))
        plan = plan_with(plan, lots__a__second="linen", lots__a__second_share="45", lots__b__second="cotton")
        assert {scour_key(found) for found in plan.lots} == {"cotton-linen"}
        cotton, linen = 55 + 150, 45 + 150
        assert compute(plan)["scour.cotton-linen.wet_mass"].value == pytest.approx(400 + 1.4 * cotton + 1.3 * linen)

    def test_mixing_keeps_the_whole(self) -> None:
        """Parts of parts are shares of one in all, also of nothing."""
        found = mixed(((("wool", 0.5), ("silk", 0.5)), 200), ((("wool", 1.0),), 100))
        assert dict(found) == pytest.approx({"wool": 200 / 300, "silk": 100 / 300})
        assert dict(mixed(((("wool", 1.0),), 0), ((("silk", 1.0),), 0))) == {"wool": 0.5, "silk": 0.5}

    def test_the_form(self) -> None:
        """Blended with nothing until a fibre is chosen; then half of it until a share is said."""
        assert "lots.a.second_share" not in {row.path for row in fields(wool_plan(), Stage.PLAN)}
        plan = plan_with(lots__a__second="silk")
        assert "lots.a.second_share" in {row.path for row in fields(plan, Stage.PLAN)}
        assert fibre_words(plan.lots[0]) == "wool-silk 50/50"
        assert isinstance(read(plan, "lots.a.second_share", "100 %"), Problem)
        assert fibre_words(plan_with(plan, lots__a__second="nothing").lots[0]) == "wool"

    def test_a_fibre_may_become_the_second_one(self) -> None:
        """Wool-silk whose wool is changed to silk is silk, and no plan that cannot be read again."""
        plan = plan_with(lots__a__second="silk", lots__a__fibre="silk")
        assert fibre_of(plan.lots[0]) is fibres()["silk"]
        assert plan_problems(plan) == ()


class TestNoBath:
    """Fibre that comes ready scoured, or is only rinsed."""

    def test_ready_scoured_fibre_is_only_wetted_out(self) -> None:
        """No bath, no powder, no rinse, nothing lost: a soak and the pressing out."""
        plan = towels(lots__a__condition="ready scoured")
        sheet = compute(plan)
        scour = [step.id for step in steps(plan, sheet) if step.stage is Stage.SCOUR]
        assert scour == ["scour.cotton-linen-ready.soak", "scour.cotton-linen-ready.hang"]
        assert sheet["scour.cotton-linen-ready.dry_mass"].value == 300
        assert not [figure for figure in sheet.of(Stage.SCOUR) if figure.teaspoons is not None]
        assert not [notice for notice in sheet.notices if notice.stage is Stage.SCOUR]

    def test_greasy_fibre_scoured_before_loses_nothing_more(self) -> None:
        """A kilogram that was scoured on another day comes to the vat as a kilogram."""
        found = lot(fibre="wool", mass=Amount(1, "kg"), condition=Condition.READY)
        assert clean_grams(wool_plan(), found) == 1000

    def test_a_rinse_comes_before_the_wetting_out(self) -> None:
        """One rinse as warm as the fibre bears it from the room, and no powders."""
        plan = plan_with(lots__a__condition="only rinsed")
        scour = [step for step in steps(plan, compute(plan)) if step.stage is Stage.SCOUR]
        assert [step.id.rpartition(".")[2] for step in scour] == ["only_rinse", "soak", "hang"]
        assert scour[0].text.startswith("Rinse the wool 1 time in 7.5 L of water at 30 °C: ")
        assert not any(step.cautions for step in scour)

    def test_each_load_has_its_rinse(self) -> None:
        """A kilogram of linen wants 25 L: four pots of 7.5 L, hand-warm though the tap runs hotter."""
        plan = plan_with(lots__a__fibre="linen", lots__a__mass="1 kg", lots__a__condition="only rinsed")
        scour = [step for step in steps(plan, compute(plan)) if step.stage is Stage.SCOUR]
        assert [step.id for step in scour][:4] == [f"scour.linen-rinsed.only_rinse.{load}" for load in (1, 2, 3, 4)]
        assert "at 40 °C" in scour[0].text
        assert scour[3].text.endswith("(load 4)")

    def test_rinses_can_be_held(self) -> None:
        """Two rinses take twice the water; none, no step."""
        once = plan_with(lots__a__condition="only rinsed")
        twice, never = (told(once, "scour.wool-rinsed.rinses", number) for number in ("2", "0"))
        name = "scour.wool-rinsed.rinse_water"
        assert compute(twice).value(name) == 2 * compute(once).value(name)
        assert "scour.wool-rinsed.only_rinse" not in {step.id for step in steps(never, compute(never))}

    def test_the_water_of_the_day_is_less(self) -> None:
        """What is only wetted out takes the soak alone: 300 g at 25 L/kg."""
        greedy, modest = towels(), towels(lots__a__condition="ready scoured")
        saved = water_litres(greedy, compute(greedy)) - water_litres(modest, compute(modest))
        sheet = compute(greedy)
        baths = sheet.value("scour.cotton-linen.baths") * sheet.value("scour.cotton-linen.load_water")
        assert saved == pytest.approx(baths + sheet.value("scour.cotton-linen.rinse_water"))

    def test_the_form_asks_for_no_soda(self) -> None:
        """Rows of powders and of a bath that is not there fall away."""
        paths = {row.path for row in fields(towels(lots__a__condition="ready scoured"), Stage.SCOUR, hidden=True)}
        assert {path for path in paths if not path.startswith("vessels.")} == {"scour.cotton-linen-ready.soak"}

    def test_clean_and_ready_fibre_stand_apart(self) -> None:
        """Two lots of one fibre, one of which is ready, have headings that tell them apart."""
        plan = plan_with(plan_of_lots(("linen", "100 g"), ("linen", "100 g")), lots__b__condition="ready scoured")
        groups = {figure.group for figure in compute(plan).of(Stage.SCOUR)}
        assert groups == {"linen", "linen, ready scoured"}
