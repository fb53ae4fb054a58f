"""Every kind of vat against PHREEQC and against what is published of it.

The pH of soda and lime vats over their life were worked out with PHREEQC beforehand (phreeqc.dat with its
sodium-carbonate pairs off and pitzer.dat), vat by vat, for grams of pure powder in tap water of 150 mg/L hardness and
120 mg/L alkalinity.
"""

from __future__ import annotations

import pytest
from attrs import evolve
from phreeqpython import PhreeqPython
from tests.outside.phreeqc_runs import phreeqc
from tests.plan.plans import plan_with, wool_plan

from vatside.catalogue.load import materials, methods
from vatside.catalogue.looks import Colour
from vatside.chemistry.bath import Bath, add_grams, not_begun, reduce, water_bath
from vatside.chemistry.life import SPENT, holds_reducer, spend
from vatside.chemistry.liquor import solve
from vatside.chemistry.substances import ALKALIS
from vatside.chemistry.tap import CLASSES, fill
from vatside.dayline.day_steps import steps
from vatside.forms.fields import read, set_value
from vatside.plan.figure_text import as_told, plain
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import vat_bath
from vatside.recipe.compute import compute
from vatside.recipe.vat_needs import setting
from vatside.units import Problem, Spoons
from vatside.vat.diagnosis import judge
from vatside.vat.reading import Reading

LIME_AND_GYPSUM = "    Portlandite 0 0\n    Gypsum 0 0\n"


def typed(plan: Plan, path: str, text: str) -> Plan:
    """Set a field from typed text."""
    value = read(plan, path, text)
    assert not isinstance(value, Problem), value
    return set_value(plan, path, value)


def tap(litres: float, t_C: float, **grams: float) -> Bath:
    """Give medium tap water with grams of pure substances in it, the dye reduced; `__` stands for a blank."""
    bath = fill(water_bath(litres, t_C), CLASSES["medium"], litres)
    for name, much in grams.items():
        bath = add_grams(bath, name.replace("__", " "), much)
    return reduce(bath)


@pytest.mark.parametrize(("soda", "fresh", "spent"), [(2, 9.99, 9.69), (5, 10.37, 10.22), (8, 10.52, 10.40)])
def test_soda_over_the_life_of_a_vat(soda: float, fresh: float, spent: float) -> None:
    """Soda ash (g/L) beside 0.4 g/L of thiourea dioxide and 0.5 g/L of indigotin at 45 degrees C."""
    bath = tap(1, 45, indigotin=0.5, sodium__carbonate=soda, thiourea__dioxide=0.4)
    assert solve(bath).pH == pytest.approx(fresh, abs=0.06)
    assert solve(spend(bath, SPENT)).pH == pytest.approx(spent, abs=0.06)


@pytest.mark.parametrize("soda", [2, 5, 8])
def test_soda_beside_dithionite(own: PhreeqPython, soda: float) -> None:
    """Soda ash (g/L) beside 1 g/L of dithionite and 0.5 g/L of indigotin at 40 degrees C, fresh and spent."""
    fresh = tap(1, 40, indigotin=0.5, sodium__carbonate=soda, sodium__dithionite=1)
    for bath in (fresh, spend(fresh, SPENT)):
        as_salt = evolve(bath, dithionite=0.0, strong_anions=bath.strong_anions + 2 * bath.dithionite)
        assert solve(bath).pH == pytest.approx(phreeqc(own, as_salt), abs=0.04)


def test_soda_ash_alone_stops_short_of_eleven() -> None:
    """10 g/L of soda ash at 45 degrees C stand at pH 10.95 in pure water, by PHREEQC: below what suits cotton."""
    assert solve(add_grams(water_bath(1, 45), "sodium carbonate", 10)).pH == pytest.approx(10.95, abs=0.04)


@pytest.mark.parametrize("key", [key for key in methods() if key.endswith("-soda")])
@pytest.mark.parametrize("fibre", ["wool", "silk"])
def test_soda_holds_wool_and_silk(key: str, fibre: str) -> None:
    """A vat of soda for wool or silk stays in its window to the end of its reducer, and nobody is warned of it."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", fibre), "method", key)
    sheet = compute(plan)
    low, high = sheet.value("vat.window_low"), sheet.value("vat.window_high")
    assert low <= sheet.value("vat.pH_spent") <= sheet.value("vat.pH") <= high
    assert holds_reducer(vat_bath(plan, sheet.value))
    assert not [notice for notice in sheet.notices if notice.figure in ("vat.pH", "vat.pH_spent")]


@pytest.mark.parametrize(
    ("water", "lime", "fresh", "spent"),
    # 6 g of thiourea dioxide and 4 g of indigotin in 20 L at 45 degrees C, by PHREEQC
    [("pure", 30, 11.8, 11.75), ("hard", 30, 11.8, 11.75), ("pure", 10, 11.4, 11.2)],
)
def test_lime_over_the_life_of_a_vat_of_thiourea_dioxide(water: str, lime: float, fresh: float, spent: float) -> None:
    """Enough lime keeps it saturated to the end in any water; a third of it does not."""
    bath = fill(water_bath(20, 45), CLASSES[water], 20)
    for name, grams in (("indigotin", 4), ("calcium hydroxide", lime), ("thiourea dioxide", 6)):
        bath = add_grams(bath, name, grams)
    bath = reduce(bath)
    assert solve(bath).pH == pytest.approx(fresh, abs=0.08)
    assert solve(spend(bath, SPENT)).pH == pytest.approx(spent, abs=0.12)


def test_the_sludge_of_one_two_three() -> None:
    """A pound of indigo, two of copperas and three of lime in 12 imperial gallons: 1.8 kg of dry sludge, 7 to 14 L.

    Worked by hand: 3.26 mol of iron leave 349 g of Fe(OH)3; of 3.26 mol of sulphate, gypsum of 172 g/mol settles but
    for what dissolves (2.1 g/L, from memory); 1290 g of lime, less 0.267 g a gram of copperas, 0.141 a gram of indigo
    and what dissolves, leave about 1 kg.
    """
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", "copperas-lime")
    for path, text in (
        ("shelf.indigo.purity", "100 %"), ("stock.pigment", "454 g"), ("stock.reducer", "908 g"),
        ("stock.alkali", "1362 g"), ("stock.water", "54 L"), ("vat.fill", "54.6 L"), ("vat.reducer", "0 g"),
        ("vat.alkali", "0 g"), ("lots.a.mass", "1 g"), ("vessels.tub.volume", "70 L"),
    ):  # fmt: skip
        plan = typed(plan, path, text)
    sludge = compute(plan)["vat.sludge"]
    assert sludge.between is not None
    assert sludge.between == pytest.approx((7, 14), rel=0.1)


@pytest.mark.parametrize("key", [key for key, item in methods().items() if item.vat.sludge])
def test_fibre_hangs_above_the_sludge(key: str) -> None:
    """At one entry a vat with sludge takes less fibre than its litres would without: by the share that sludge takes."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", key)
    rules = methods()[key].vat
    assert rules.sludge is not None
    sheet = compute(typed(plan, "lots.a.mass", "2 kg"))
    clear = sheet.value("vat.fill") * (1 - rules.sludge.value / 100)
    assert sheet.value("vat.entry") == pytest.approx(min(2000, 1000 * clear / rules.liquor.value), rel=1e-6)
    assert sheet.value("vat.clear") + sheet.value("vat.sludge") == pytest.approx(sheet.value("vat.liquor"))


class TestKnechtZincVat:
    """Knecht, Rawson & Loewenthal, A Manual of Dyeing, 6th ed. (Griffin, 1920), I p. 317: zinc and lime for cotton."""

    def sheet(self) -> Sheet:
        """Half of it: 8 lb of 60 per cent indigo, made to 15 gallons of stock, then to a vat of 200 gallons."""
        plan = set_value(set_value(wool_plan(), "lots.a.fibre", "cotton"), "method", "zinc-lime")
        plan = evolve(plan, spoons=Spoons.IMPERIAL)
        for path, text in (
            ("shelf.indigo.purity", "60 %"), ("stock.pigment", "8 lb"), ("stock.water", "15 gal"),
            ("vat.fill", "200 gal"), ("vat.reducer", "0 g"), ("lots.a.mass", "1 g"),
        ):  # fmt: skip
            plan = typed(plan, path, text)
        return compute(plan)

    def test_amounts(self) -> None:
        """Of the whole, 8 lb of zinc dust and 20 lb of quicklime, 56.08 g of which make 74.09 g of slaked lime."""
        sheet, pound = self.sheet(), 453.592
        assert sheet.value("stock.reducer") * 0.95 == pytest.approx(4 * pound, rel=0.005)
        assert sheet.value("stock.alkali") * 0.95 == pytest.approx(10 * pound * 74.09 / 56.08, rel=0.005)

    def test_strengths(self) -> None:
        """53 g/L of powder in the stock, 2.39 g/L of indigotin in the vat; the stock stands warm for 4 to 5 h."""
        sheet = self.sheet()
        assert sheet.value("stock.pigment") / sheet.value("stock.water") == pytest.approx(53.2, abs=0.3)
        assert sheet.value("vat.strength") == pytest.approx(2.39, abs=0.01)
        assert sheet.value("stock.start") == 50
        assert 240 <= sheet.value("stock.hold") <= 300

    def test_zinc_for_the_dye(self) -> None:
        """0.249 g of zinc and 0.141 g of lime go with a gram of indigotin, 0.567 g of lime with a gram of zinc.

        Worked by hand: 65.38 / 262.26, 74.09 / 2 / 262.26 and 74.09 / 2 / 65.38.
        """
        sheet = self.sheet()
        indigotin, zinc = sheet.value("stock.indigotin"), sheet.value("stock.reducer") * 0.95
        least = sheet["stock.reducer"].minimum
        assert least is not None
        assert least * 0.95 == pytest.approx(0.2493 * indigotin, rel=0.002)
        lime = sheet["stock.alkali"].minimum
        assert lime is not None
        assert lime * 0.95 == pytest.approx(0.1413 * indigotin + 0.5666 * zinc, rel=0.002)

    def test_hydrogen(self) -> None:
        """What indigo leaves of 3.63 kg of zinc gives off 0.374 L a gram: 0.95 m3 over the life of the batch."""
        assert self.sheet().value("vat.hydrogen") == pytest.approx(950 / 2, rel=0.02)

    def test_hydrogen_is_one_number(self) -> None:
        """The notice tells the litres as the table does: a guess to two digits."""
        sheet = self.sheet()
        told = plain(as_told(sheet["vat.hydrogen"]), "L")
        [notice] = [item for item in sheet.notices if item.figure == "vat.hydrogen"]
        assert notice.text.startswith(f"Up to {told} of hydrogen")

    def test_sludge(self) -> None:
        """Zincate, lime and the rest of the indigo, about 18 kg dry, take 4 to 8 per cent of the vat.

        Zinc of 65.38 g/mol settles as half of 309.88 g/mol: 8.6 kg; 2.9 kg of the powder are no indigotin.
        """
        sheet = self.sheet()
        between = sheet["vat.sludge"].between
        assert between is not None
        assert between == pytest.approx((0.04 * 909, 0.08 * 909), rel=0.15)

    def test_lime_to_the_end(self) -> None:
        """It stays a saturated lime vat: pH 12.45 at 25 degrees C [Bates, Bower & Smith 1956]."""
        sheet = self.sheet()
        assert sheet.value("vat.pH_25") == pytest.approx(12.45, abs=0.05)
        assert sheet.value("vat.pH_spent") == pytest.approx(sheet.value("vat.pH"), abs=0.02)


def test_fruit_is_dyed_where_it_dyed_best() -> None:
    """Hossain, Khan & Uddin (2017): fruit and hydrated lime gave the best colour at 25 degrees C and pH 10.8 to 11."""
    rules = methods()["plant-lime"].vat
    assert rules.warmth.cellulose.value == 25
    assert 10.8 <= rules.windows["cellulose"].target <= 11


def test_a_weak_fruit_vat_is_given_time() -> None:
    """Shin, Choi & Yoo (2014): at -550 to -600 mV a fruit reducer still dyed, within one to two days."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", "plant-lime")
    plain = setting(plan, compute(plan))
    slow = Reading(redox=-580, colour=Colour.YELLOW_GREEN)
    assert judge(slow, plain)[0].id == "slow-and-working"


def test_sugar_at_work_is_not_called_short() -> None:
    """Saikhao et al., J. Clean. Prod. 197 (2018): a bath of sugar falls below -700 mV within ten minutes and stays."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", "fructose-lime")
    found = judge(Reading(redox=-710, colour=Colour.YELLOW_GREEN), setting(plan, compute(plan)))
    assert found[0].id == "good"


@pytest.mark.parametrize(("fibre", "lime"), [("linen", 6), ("silk", 4)])
def test_glucose_and_lime_stay_saturated(fibre: str, lime: float) -> None:
    """Shin, Cho & Yoo (2009): 6 g/L of lime for ramie, 4 for silk, 10 to 12 of glucose at 60 degrees C: limed.

    A mole of sugar takes one to two of hydroxide: at one, 12 g/L take 67 of the 162 or 108 meq/L.
    """
    for sugar in (10, 12):
        bath = tap(1, 60, calcium__hydroxide=lime, fructose=sugar)
        limed = solve(add_grams(water_bath(1, 60), "calcium hydroxide", 5)).pH
        assert solve(bath).pH == pytest.approx(limed, abs=0.03), fibre
        assert solve(spend(bath, SPENT)).pH > limed - 0.35


@pytest.mark.parametrize(("acid", "pH"), [(0, 11.0), (10, 10.4), (20, 10.0), (30, 9.6)])
def test_soda_swallows_the_acid_of_fermentation(acid: float, pH: float) -> None:
    """5 g/L of soda ash at 35 degrees C after so many mmol of lactic acid a litre, by PHREEQC, printed to a tenth."""
    bath = add_grams(water_bath(1, 35), "sodium carbonate", 5)
    assert solve(evolve(bath, strong_anions=acid / 1000)).pH == pytest.approx(pH, abs=0.07)


@pytest.mark.parametrize(("acid", "pH"), [(0, 12.0), (20, 11.3), (24, 10.6)])
def test_lye_does_not(acid: float, pH: float) -> None:
    """1 g/L of lye at 35 degrees C, by PHREEQC, and then it falls through: why bran and lye is no kind of vat here."""
    bath = add_grams(water_bath(1, 35), "sodium hydroxide", 1)
    assert solve(evolve(bath, strong_anions=acid / 1000)).pH == pytest.approx(pH, abs=0.12)
    assert solve(evolve(bath, strong_anions=0.026)).pH < 7


def test_no_kind_of_vat_ferments_in_lye() -> None:
    """Each method whose reducer is alive has a carbonate for its alkali."""
    living = [item for item in methods().values() if "starch" in materials()[item.reducer].species]
    assert living
    assert all(ALKALIS[materials()[item.alkali].species].is_carbonate for item in living)


@pytest.mark.parametrize("water", ["soft", "medium", "hard", "very hard"])
def test_a_fermentation_is_set_where_life_bears_it(own: PhreeqPython, water: str) -> None:
    """Padden et al. (1998) kept it at pH 9, bran wakes up to 10.5 (a guess): so it is set, its dye still blue.

    PHREEQC says the same of that vat. In soft water the least that holds any acid at all, 1 g/L, stands a tenth above,
    and the plan says so.
    """
    plan = plan_with(None, lots__a__fibre="linen", method="fermentation", water__tap=water)
    sheet = compute(plan)
    bath = not_begun(vat_bath(plan, sheet.value))
    assert bath.leuco == 0
    bare = evolve(bath, indigotin=0, starch=0)
    assert sheet.value("vat.pH") == pytest.approx(phreeqc(own, bare), abs=0.07)
    assert 9 <= sheet.value("vat.pH") <= (10.65 if water == "soft" else 10.501)
    assert any("it sleeps" in notice.text for notice in sheet.notices) is (water == "soft")
    assert sheet.value("vat.pH_spent") < sheet.value("vat.pH_awake") < sheet.value("vat.pH")


def test_dye_that_life_reduces_takes_alkali_once_it_does() -> None:
    """Half a mole of starch a mole of indigotin gives one of lactic acid, and the ion takes another hydroxide."""
    blue = add_grams(add_grams(water_bath(1, 35), "indigotin", 1), "fermentable starch", 1)
    again = not_begun(reduce(add_grams(blue, "sodium carbonate", 2)))
    assert again.indigotin == pytest.approx(blue.indigotin)
    assert again.starch == pytest.approx(blue.starch)
    assert again.strong_anions == pytest.approx(0, abs=1e-12)


def test_fermentation_takes_days_and_asks_every_day() -> None:
    """Aino et al. (2018): indigo is reduced from four days to two weeks after the vat was set."""
    plan = set_value(set_value(wool_plan(), "lots.a.fibre", "linen"), "method", "fermentation")
    day = {step.id: step for step in steps(plan, compute(plan))}
    rest = day["vat.rest_covered"]
    assert rest.minutes is not None
    assert 4 * 1440 <= rest.minutes <= 14 * 1440
    assert [nudge.minute for nudge in rest.nudges] == [1440.0 * number for number in range(1, 7)]
    assert not {"stock.alkali_in", "stock.reducer_in", "stock.hold_warm"} & set(day)
