"""The scour, worked by hand. Water weighs 1 kg/L and takes 4.18 kJ/(kg K) here, good to 1.5 %."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.plan.plans import plan_of_lots, plan_with, told, wool_plan

from vatside.plan.batches import baths
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.recipe.compute import compute
from vatside.units import Amount

HAND = 0.015
"""Share by which water worked out by hand may be off."""


class TestHalfAPoundOfWool:
    """227 g of clean wool, a pot of 10 L three quarters full, taps of 55 and 12, a room of 20 C, a hob of 1.5 kW."""

    sheet = compute(wool_plan())

    @pytest.mark.parametrize(
        ("figure", "value"),
        [
            ("liquor", 0.227 * 30),
            ("load_water", 10 * 0.75),
            ("loads", 1),
            ("level", 100 * (7.5 + 0.227 / 1.31) / 10),
            ("soak", 20),
            ("soak_water", 0.227 * 30),
            ("hold_temperature", 60),
            ("ceiling", 60),
            ("start", 20 + 10),
            ("hold", 60),
            ("stir_every", 12),
            ("turn", 60 / 2),
            ("baths", 1),
            ("soap", 0.227 * 32.6),
            ("rinses", 2),
            ("rinse_water", 2 * 7.5),
            ("rinse_temperature", 60),
            ("steps_down", (60 - 20) / 10),
            ("cool", 60),
            ("dry_mass", 227),
            ("wet_mass", 227 * (1 + 1.50)),
        ],
    )
    def test_figures(self, figure: str, value: float) -> None:
        """Fibre times ratio, pot times fill, room plus a step, half the hold, and so on."""
        assert self.sheet[f"scour.wool.{figure}"].value == pytest.approx(value)

    def test_taps(self) -> None:
        """7.5 L at 30 from 55 and 12: (30 - 12) / (55 - 12) of it hot, the rest cold."""
        hot = 7.5 * (30 - 12) / (55 - 12)
        assert self.sheet["scour.wool.hot"].value == pytest.approx(hot, rel=HAND)
        assert self.sheet["scour.wool.cold"].value == pytest.approx(7.5 - hot, rel=HAND)

    def test_wool_is_warmed_a_degree_a_minute(self) -> None:
        """From 30 to 60 takes 30 min, though the hob alone could do it in 7.5 x 4.18 x 30 / 1.5 / 60 = 10 min."""
        assert self.sheet["scour.wool.heating"].value == 30

    def test_rinse_beyond_the_tap_goes_on_the_hob(self) -> None:
        """7.5 L from 55 to 60 take 7.5 x 4.18 x 5 / 1.5 / 60 = 1.7 min on the hob, all of it drawn hot."""
        assert self.sheet["scour.wool.rinse_kettle"].value == pytest.approx(7.5 * 4.18 * 5 / 1.5 / 60, rel=0.02)
        assert self.sheet["scour.wool.rinse_cold"].value == 0
        assert self.sheet["scour.wool.rinse_hot"].value == pytest.approx(7.5, rel=HAND)

    def test_there_is_no_second_bath(self) -> None:
        """Clean wool takes one bath, so nothing is drawn for another."""
        assert self.sheet.value("scour.wool.again_hot", -1) == -1


class TestKiloOfGreasyWool:
    """1000 g in the grease: two baths of soap at 10 g/L, set to 57, four pot loads."""

    sheet = compute(plan_with(lots__a__mass="1 kg", lots__a__condition="greasy"))

    @pytest.mark.parametrize(
        ("figure", "value"),
        [
            ("liquor", 1 * 30),
            ("loads", 4),  # 30 / 7.5
            ("baths", 4 * 2),
            ("soap", 7.5 * 10),
            ("hold", 30),
            ("turn", 15),
            ("rinses", 3),
            ("rinse_water", 7.5 * 3 * 4),
            ("dry_mass", 1000 * (1 - 0.30)),
            ("wet_mass", 700 * 2.5),
            ("steps_down", 4),  # (57 - 20) / 10 = 3.7
        ],
    )
    def test_figures(self, figure: str, value: float) -> None:
        """Loads by liquor, two baths each, soap by the litre, three tenths lost as grease."""
        assert self.sheet[f"scour.wool-greasy.{figure}"].value == pytest.approx(value)

    def test_second_bath_is_as_warm_as_the_first_was_left(self) -> None:
        """The second bath is drawn at 57, not at the 30 in which dry wool begins: 2 degrees on the hob."""
        minutes = self.sheet["scour.wool-greasy.again_kettle"].value
        assert minutes == pytest.approx(7.5 * 4.18 * 2 / 1.5 / 60, rel=0.03)
        assert self.sheet["scour.wool-greasy.again_cold"].value == 0

    def test_it_is_left_alone(self) -> None:
        """Wool in hot soap is not stirred: moving it about felts it."""
        assert "scour.wool-greasy.stir_every" not in self.sheet


class TestCotton:
    """900 g of cotton: 18 L of liquor, three loads of 300 g in 7.5 L, soda ash 30 g/kg, detergent 1.5 g/L."""

    sheet = compute(plan_with(lots__a__fibre="cotton", lots__a__mass="900 g"))

    @pytest.mark.parametrize(
        ("figure", "value"),
        [
            ("liquor", 0.9 * 20),
            ("loads", 3),  # 18 / 7.5 = 2.4
            ("level", 100 * (7.5 + 0.3 / 1.52) / 10),
            ("soda-ash", 0.3 * 30),
            ("detergent", 7.5 * 1.5),
            ("start", 55),
            ("hold_temperature", 95),
            ("rinses", 3),
            ("rinse_water", 7.5 * 3 * 3),
            ("rinse_temperature", 55),
            ("cool", 0),
            ("wet_mass", 900 * 2.4),
        ],
    )
    def test_figures(self, figure: str, value: float) -> None:
        """A simmer, then one rinse as the hot tap runs and two cold ones: nothing to wait for at the end."""
        assert self.sheet[f"scour.cotton.{figure}"].value == pytest.approx(value)

    def test_heating(self) -> None:
        """7.5 L from 55 to 95 at 1.5 kW, with 300 g of cotton that holds 420 g of water and came in at 20 °C.

        (7.5 x 40 + (0.42 + 0.09) x 75) x 4.18 / 1.5 / 60 = 15.7 min, an eighth more than for the water alone.
        """
        minutes = (7.5 * 40 + (0.42 + 0.3 * 0.3) * 75) * 4.18 / 1.5 / 60
        assert self.sheet["scour.cotton.heating"].value == pytest.approx(minutes, rel=HAND)

    def test_each_load_is_weighed_by_itself(self) -> None:
        """The label says that the soda is for one bath, since there are three."""
        assert self.sheet["scour.cotton.soda-ash"].label == "Soda ash a bath"


def test_raw_silk_is_boiled_off_and_rinsed_a_step_cooler() -> None:
    """100 g with the gum on: 27.5 g of soap in 4 L/0.1 kg, 95 degrees, first rinse at 85, and 78 g left."""
    sheet = compute(plan_with(lots__a__fibre="silk", lots__a__condition="greasy", lots__a__mass="100 g"))
    assert sheet["scour.silk-greasy.liquor"].value == pytest.approx(0.1 * 40)
    assert sheet["scour.silk-greasy.soap"].value == pytest.approx(0.1 * 275)
    assert sheet["scour.silk-greasy.rinse_temperature"].value == 95 - 10
    assert sheet["scour.silk-greasy.dry_mass"].value == pytest.approx(78)


def test_linen_takes_two_simmers() -> None:
    """400 g: 10 L of liquor, two loads, two baths each, 0.2 x 50 = 10 g of soda ash in every one."""
    sheet = compute(plan_with(lots__a__fibre="linen", lots__a__mass="400 g"))
    assert sheet["scour.linen.baths"].value == 4
    assert sheet["scour.linen.soda-ash"].value == pytest.approx(10)


def test_lots_of_one_fibre_share_a_bath() -> None:
    """100 g and 127 g of wool want the liquor of 227 g."""
    plan = plan_of_lots(("wool", "100 g"), ("wool", "127 g"))
    assert len(baths(plan)) == 1
    assert compute(plan)["scour.wool.liquor"].value == pytest.approx(0.227 * 30)


def test_greasy_wool_has_a_bath_of_its_own() -> None:
    """Clean and greasy wool do not share; their baths come in the order of the lots."""
    plan = told(plan_of_lots(("wool", "100 g"), ("wool", "100 g")), "lots.b.condition", "greasy")
    assert [bath.name for bath in baths(plan)] == ["wool", "greasy wool"]


def test_cotton_with_its_wax_shares_the_bath_of_clean_cotton() -> None:
    """Both take the same simmer, so they go in together."""
    plan = told(plan_of_lots(("cotton", "100 g"), ("cotton", "100 g")), "lots.b.condition", "greasy")
    assert [bath.key for bath in baths(plan)] == ["cotton"]


def test_forty_lots() -> None:
    """Forty lots of 100 g wool are one bath of 4 kg: 120 L of liquor, sixteen pots of 7.5 L."""
    sheet = compute(plan_of_lots(*[("wool", "100 g")] * 40))
    assert sheet["scour.wool.liquor"].value == pytest.approx(120)
    assert sheet["scour.wool.loads"].value == 16


class TestPotLoads:
    """What decides how often the pot is filled."""

    def test_liquor_decides_in_a_roomy_pot(self) -> None:
        """500 g of wool want 15 L: two pots of 7.5 L exactly, not three by a rounding."""
        assert loads(plan_with(lots__a__mass="500 g")) == 2

    def test_room_decides_in_a_full_pot(self) -> None:
        """With 9.4 of 10 L held, 0.1 L is left below the rim: 131 g of wool, so 227 g take two loads."""
        assert loads(plan_with(scour__wool__load_water="9.4 L")) == 2

    def test_less_water_held_takes_more_loads(self) -> None:
        """6.81 L of liquor in pots of 3.5 L is two loads."""
        assert loads(plan_with(scour__wool__load_water="3.5 L")) == 2

    def test_a_pot_without_room_still_has_a_number(self) -> None:
        """Water up to the rim leaves no room for fibre: the liquor alone decides, and a notice tells."""
        assert loads(plan_with(scour__wool__load_water="10 L", lots__a__mass="500 g")) == 2

    def test_held_loads_share_the_soda(self) -> None:
        """300 g of cotton in three loads held by hand take 3 g of soda ash each."""
        plan = plan_with(lots__a__fibre="cotton", lots__a__mass="300 g", scour__cotton__loads="3")
        assert compute(plan)["scour.cotton.soda-ash"].value == pytest.approx(0.1 * 30)


def loads(plan: Plan) -> float:
    """Give the pot loads of the wool bath."""
    return compute(plan)["scour.wool.loads"].value


class TestOtherTaps:
    """Rooms and taps that are not the usual ones."""

    def test_a_cold_room_begins_cooler(self) -> None:
        """In a room of 8 degrees wool begins at 18."""
        assert start(plan_with(water__room="8 C")) == 18

    def test_never_above_the_hold(self) -> None:
        """Silk set to 25 in a room of 20 goes in at 25."""
        sheet = compute(plan_with(lots__a__fibre="silk", scour__silk__hold_temperature="25 C"))
        assert sheet["scour.silk.start"].value == 25

    def test_never_above_the_hot_tap(self) -> None:
        """A hot tap of 26 gives no 30."""
        assert start(plan_with(water__hot="26 C")) == 26

    def test_never_below_the_cold_tap(self) -> None:
        """A cold tap of 28 in a room of 15 gives 28."""
        assert start(plan_with(water__cold="28 C", water__room="15 C")) == 28

    def test_without_a_hot_tap_all_is_drawn_cold(self) -> None:
        """Both taps at 12: the water takes 7.5 x 4.18 x 83 / 1.5 / 60 = 28.9 min to 95, the wet cotton more."""
        sheet = compute(plan_with(lots__a__fibre="cotton", water__hot="12 C"))
        assert sheet["scour.cotton.hot"].value == 0
        assert sheet["scour.cotton.cold"].value == pytest.approx(7.5)
        wet = sheet["scour.cotton.dry_mass"].value / 1000 / sheet["scour.cotton.loads"].value * (1.4 + 0.3)
        minutes = (7.5 * 83 + wet * 75) * 4.18 / 1.5 / 60
        assert sheet["scour.cotton.heating"].value == pytest.approx(minutes, rel=0.01)

    def test_hold_below_the_start_needs_no_heating(self) -> None:
        """Wool set to 20 goes in at 20."""
        assert compute(plan_with(scour__wool__hold_temperature="20 C"))["scour.wool.heating"].value == 0


def start(plan: Plan) -> float:
    """Give the temperature at which wool goes in."""
    return compute(plan)["scour.wool.start"].value


@pytest.mark.parametrize("grams", [0.0, 1e-9, 1e6])
def test_nothing_and_a_ton(grams: float) -> None:
    """No fibre at all and a ton of it both have a sheet: at least one load, liquor in proportion."""
    plan = wool_plan()
    lot = evolve(plan.lots[0], mass=Amount(grams, "g"))
    sheet: Sheet = compute(evolve(plan, lots=(lot,)))
    assert sheet["scour.wool.loads"].value >= 1
    assert sheet["scour.wool.liquor"].value == pytest.approx(grams * 0.03)


def test_no_lots_no_bath() -> None:
    """A plan without lots has no scour, and still a stock and a vat."""
    sheet = compute(evolve(wool_plan(), lots=()))
    assert not [figure for figure in sheet.figures if figure.id.startswith("scour.")]
    assert sheet["stock.wanted"].value == 0
    assert sheet["vat.liquor"].value > 0


@pytest.mark.parametrize("fibre", ["wool", "alpaca", "silk", "cotton", "linen", "hemp", "viscose", "lyocell"])
def test_no_recipe_passes_its_own_ceiling(fibre: str) -> None:
    """Every fibre is set to or below what it stands, clean or greasy."""
    for condition in ("clean", "greasy"):
        plan = plan_with(lots__a__fibre=fibre, lots__a__condition=condition)
        bath = baths(plan)[0]
        sheet = compute(plan)
        assert sheet[bath.id("start")].value <= sheet[bath.id("hold_temperature")].value
        assert sheet[bath.id("hold_temperature")].value <= sheet[bath.id("ceiling")].value


@pytest.mark.parametrize("fibre", ["wool", "alpaca", "silk"])
def test_protein_never_takes_more_than_a_step(fibre: str) -> None:
    """From the room into the bath, and from the bath into the first rinse, is at most 10 degrees."""
    plan = plan_with(lots__a__fibre=fibre)
    bath, sheet = baths(plan)[0], compute(plan)
    assert sheet[bath.id("start")].value - 20 <= 10
    assert sheet[bath.id("hold_temperature")].value - sheet[bath.id("rinse_temperature")].value <= 10


def soap_said(**changes: str) -> list[str]:
    """What is said of soap in the scour of a plan."""
    sheet = compute(plan_with(**changes))
    return [item.text for item in sheet.notices if item.stage is Stage.SCOUR and "of soap" in item.text]


def test_hard_water_takes_the_soap_first() -> None:
    """7 L at 3 mmol/L of calcium: 2 mol of sodium oleate (304.45 g) to each take 12.8 g, 1 of soda ash (105.99) 2.2 g.

    "None of them will begin to perform effective duty until such hard water has been rendered soft at the expense of
    the soap" [Smith, The Chemistry of Hat Manufacturing, 1906].
    """
    plan = {"water__hardness": "300 mg/L", "scour__wool__load_water": "7 L"}
    planned = compute(plan_with(**plan))["scour.wool.soap"].value
    assert planned < 12.8
    (said,) = soap_said(**plan)
    assert "takes all of the soap for the wool: 13.0 g in a pot of 7 L" in said
    assert "Stir 2.2 g of soda ash into each pot first" in said
    assert f"or take {planned + 12.8:.0f}.0 g of soap" in said


@pytest.mark.parametrize("changes", [
    {"water__tap": "soft"},
    {},  # nobody has said how hard it is
    {"water__hardness": "300 mg/L", "lots__a__fibre": "cotton"},  # soda and a detergent
    {"water__hardness": "300 mg/L", "lots__a__fibre": "alpaca"},  # a detergent
    {"water__hardness": "300 mg/L", "lots__a__fibre": "silk", "lots__a__condition": "greasy"},  # far more soap
    {"water__hardness": "300 mg/L", "scour__wool__load_water": "7 L", "scour__wool__soap": "21 g"},
])  # fmt: skip
def test_where_enough_soap_is_left_nothing_is_said_of_it(changes: dict[str, str]) -> None:
    """Soft water, a detergent, a strong soap bath, or as much more as the water takes."""
    assert soap_said(**changes) == []
