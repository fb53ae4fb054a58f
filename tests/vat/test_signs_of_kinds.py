"""What a kind of vat shows of its own, and what is advised for it; every order names its powder."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.log.makers import session
from tests.plan.plans import plan_with
from tests.vat.vats import setting_of, vat_with

from vatside.catalogue.findings import rows
from vatside.catalogue.load import materials, methods
from vatside.catalogue.looks import Bottom, Clarity, Colour, Smell, Strip, Surface
from vatside.dayline.day_steps import steps
from vatside.log.events.day import PlanChanged
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatMade
from vatside.log.fold import State, fold, sheet_of
from vatside.outlook.vat_facts import setting_of as live_setting
from vatside.plan.figure_text import figure_text
from vatside.plan.measures import powder
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.corrections import corrections
from vatside.vat.diagnosis import Finding, judge
from vatside.vat.reading import PHBy, Reading

GREY_IRON = Reading(
    temperature=Amount(20, "degC"), pH=12.3, colour=Colour.GREY, clarity=Clarity.CLOUDY, strip=Strip.BLUE_GREY,
    bottom=Bottom.PALE,
)  # fmt: skip


def live(method: str, *readings: Reading, lime: Amount | None = None) -> State:
    """Give a day on which such a vat was made and read, with more lime in it."""
    change = PlanChanged("lots.a.fibre", "cotton"), PlanChanged("method", method)
    more = (CorrectionMade(material="alkali", amount=lime),) if lime else ()
    return fold(session(*change, VatMade(), *more, *(ReadingTaken(one) for one in readings)))


def found(state: State, reading: Reading) -> dict[str, Finding]:
    """Give what a reading of it means, by id, in order."""
    return {item.id: item for item in judge(reading, live_setting(state, sheet_of(state)))}


def test_iron_over_undissolved_lime_is_not_short_of_lime() -> None:
    """Lime lies at the bottom by the account: grey and cloudy is reducer or rest, and the first advice is to stir."""
    state = live("copperas-lime", lime=Amount(60, "g"))
    assert (live_setting(state, sheet_of(state)).lime or 0) > 0.2
    told = found(state, GREY_IRON)
    assert not ("soft" in told and told["soft"].is_out)
    assert told["grey"].is_out
    vat = vat_with(GREY_IRON, method="copperas-lime", lots__a__fibre="cotton")
    ways = corrections(told["grey"], evolve(vat, confirmed=True))
    assert [way.remedy for way in ways] == ["stir-up", "copperas"]


def test_iron_without_lime_at_the_bottom_is_soft() -> None:
    """Blue-black with rising sediment, and no lime left by the account: short of lime, as the old books say."""
    plain = evolve(setting_of(plan_with(method="copperas-lime", lots__a__fibre="cotton")), lime=0.0)
    reading = Reading(colour=Colour.BLUE_BLACK, clarity=Clarity.RISING)
    assert next(item for item in judge(reading, plain) if item.id == "soft").is_out


@pytest.mark.parametrize("colour", [Colour.BLUE, Colour.BLUE_BLACK])
def test_blue_black_zinc_is_blue(colour: Colour) -> None:
    """Blue-black, cloudy, and a strip that is blue at once in 5 s: air got in, almost surely."""
    reading = Reading(colour=colour, clarity=Clarity.CLOUDY, strip=Strip.BLUE, seconds=5)
    assert found(live("zinc-lime"), reading)["air-in"].share > 0.9


def test_bran_that_was_never_yellow_is_asleep_not_spent() -> None:
    """Blue without a film on the first day: it has not come to life yet, and no bran is fed for air."""
    blue = Reading(
        temperature=Amount(28, "degC"), pH=9.8, colour=Colour.BLUE, surface=Surface.BARE, smell=Smell.USUAL
    )  # fmt: skip
    told = [item.id for item in found(live("fermentation"), blue).values() if item.is_out]
    assert told[0] == "asleep"
    assert "air-in" not in told


def test_bran_that_was_yellow_can_be_spent() -> None:
    """Once it was seen yellow-green, blue, cloudy and a strip blue at once mean air again."""
    awake = live("fermentation", Reading(colour=Colour.YELLOW_GREEN))
    blue = Reading(colour=Colour.BLUE, clarity=Clarity.CLOUDY, strip=Strip.BLUE)
    assert found(awake, blue)["air-in"].is_out


@pytest.mark.parametrize("method", ["tdo-lye", "dithionite-soda"])
def test_a_stinging_smell_is_aired_first(method: str) -> None:
    """Sour and stinging is sulphur dioxide: the first thing said is window, distance, and no acid."""
    told = found(live(method), Reading(smell=Smell.STINGING))
    assert next(iter(told)) == "fumes"
    (way,) = corrections(told["fumes"], vat_with(method=method))
    assert "Window and door open" in way.text
    assert "No acid" in way.text


@pytest.mark.parametrize("method", methods())
@pytest.mark.parametrize("fibre", ["cotton", "wool"])
def test_every_order_of_a_powder_names_it(method: str, fibre: str) -> None:
    """No way says grams alone: beside the amount stands what is weighed."""
    vat = vat_with(method=method, lots__a__fibre=fibre)
    for key, row in rows().items():
        if row.reducers and vat.setting.reducer not in row.reducers:
            continue
        finding = Finding(key, row.name, row.axis, 1.0, ("seen",), (), row.means, row.source)
        for way in corrections(finding, vat):
            if way.grams and way.does == "add":
                material = materials()[way.material]
                names = {material.short.lower(), material.name.split(" (")[0].lower(), "reducer", "copperas"}
                assert any(name.split(",")[0] in way.text.lower() for name in names), way.text


def test_zinc_and_lime_go_by_the_dye() -> None:
    """Knecht's 8 lb of zinc and 20 of quicklime to 16 lb of 60 per cent: 0.83 and 2.75 g a gram of indigotin."""
    for purity in ("20 %", "40 %", "60 %", "95 %"):
        sheet = compute(plan_with(method="zinc-lime", lots__a__fibre="cotton", shelf__indigo__purity=purity))
        dye = sheet.value("stock.indigotin")
        assert sheet.value("stock.reducer") * 0.95 == pytest.approx(0.833 * dye, rel=0.01)
        assert sheet.value("stock.alkali") * 0.95 == pytest.approx(2.75 * dye, rel=0.02)


@pytest.mark.parametrize("method", methods())
def test_the_stock_goes_in_as_it_is_reckoned(method: str) -> None:
    """A jar of lime is stirred up, for the account has its lime in the tub; of the others the residue stays behind."""
    plan = plan_with(method=method, lots__a__fibre="cotton")
    text = next(step.text for step in steps(plan, compute(plan)) if step.id == "vat.stock_in")
    limed = method.endswith("lime")
    assert ("with its share of lime" in text) is limed
    if limed:
        assert "residue" not in text


def test_sulfite_settles_with_lime() -> None:
    """Each mole of thiourea dioxide leaves one of calcium sulfite, 129.15 g: it counts in the sludge."""
    sheet = compute(plan_with(method="tdo-lime", lots__a__fibre="cotton"))
    inputs = {item.label: item.value for item in sheet["vat.sludge"].working.inputs}
    reducer = (sheet.value("stock.reducer") + sheet.value("vat.reducer")) * 0.99 / 108.12
    assert inputs["calcium sulfite"] == pytest.approx(129.15 * reducer, rel=0.15)


def test_a_range_is_printed_in_its_unit() -> None:
    """Sludge between 53 and 110 mL, and not 0.0530908 to 0.106182."""
    plan = plan_with(method="zinc-lime", lots__a__fibre="cotton")
    marks = figure_text(compute(plan)["vat.sludge"], plan)
    said = " ".join(str(part) for part in (marks.main, marks.second, marks.marks))
    assert "mL" in said or " L" in said
    assert ".0" not in said.replace("0.0 ", "")


@pytest.mark.parametrize("method", ["fermentation", "plant-lime", "fructose-lime", "dithionite-soda"])
def test_rotten_eggs_are_told_before_anything_is_read_again(method: str) -> None:
    """Sour, grey-green and stinking: first the gas, which numbs the nose; then what is out of order in the vat."""
    foul = Reading(
        temperature=Amount(33, "degC"), pH=8.4, colour=Colour.GREY_GREEN, clarity=Clarity.CLOUDY,
        smell=Smell.ROTTEN,
    )  # fmt: skip
    told = judge(foul, setting_of(plan_with(method=method, lots__a__fibre="cotton")))
    assert told[0].axis == "air"
    assert "hydrogen sulphide" in told[0].name
    [way] = corrections(told[0], vat_with(foul, method=method, lots__a__fibre="cotton"))
    assert "door open" in way.text
    assert "never tight" in way.text


def test_an_order_names_its_powder_once() -> None:
    """A vat that ferments too far: "soda ash" stands in the order a single time."""
    foul = Reading(smell=Smell.ROTTEN, colour=Colour.GREY_GREEN)
    vat = vat_with(foul, method="fermentation", lots__a__fibre="linen")
    [way] = corrections(next(one for one in judge(foul, vat.setting) if one.id == "over-fermented"), vat)
    assert way.text.count("soda ash") == 1


@pytest.mark.parametrize("method", sorted(key for key, one in methods().items() if one.alkali == "slaked-lime"))
def test_a_lime_vat_that_is_short_is_stirred_then_limed(method: str) -> None:
    """Milky at pH 10.3: lime that lies undissolved first; read twice, a gram a litre, as milk, never "dissolved"."""
    milky = Reading(Amount(25, "degC"), 10.3, pH_by=PHBy.METER, colour=Colour.GREENISH_WHITE, clarity=Clarity.MILKY)
    vat = vat_with(milky, method=method, lots__a__fibre="cotton")
    finding = next(one for one in judge(milky, vat.setting) if one.id == "short-of-alkali")
    assert [way.remedy for way in corrections(finding, vat)] == ["stir-lime", "lime"]
    [lime] = corrections(finding, evolve(vat, confirmed=True))
    assert lime.remedy == "lime"
    assert lime.grams * 0.95 == pytest.approx(vat.account.litres, rel=0.05)
    assert "dissolved, and" not in lime.text


@pytest.mark.parametrize(("method", "said"), [("fermentation", True), ("fructose-lime", False)])
def test_where_she_feeds_it_stands_how_little_is_known(method: str, said: bool) -> None:
    """Bran as sold holds 2 to 24 % starch [BranStarch]: what it does is read, not reckoned. Fructose is known."""
    green = Reading(colour=Colour.GREEN, clarity=Clarity.CLEAR, strip=Strip.BLUISH_GREEN, seconds=15)
    vat = vat_with(green, method=method, lots__a__fibre="linen")
    ways = corrections(next(one for one in judge(green, vat.setting) if one.id == "short-of-reducer"), vat)
    fed = next(way for way in ways if powder(vat.plan, way.material).material.role == "reducer")
    assert ("10 to 30 % works" in fed.beside) is said


@pytest.mark.parametrize(
    ("pH", "by", "called"),
    [(12.0, PHBy.STRIP, False), (12.5, PHBy.STRIP, True), (12.0, PHBy.METER, True)],
)
def test_a_strip_half_a_step_above_lime_is_no_trouble(pH: float, by: PHBy, *, called: bool) -> None:
    """Saturated lime stands at 11.8 at 45 degrees C (Bates, Bower & Smith 1956): a strip may say 12 of it."""
    plain = setting_of(plan_with(method="fructose-lime", lots__a__fibre="cotton"))
    reading = Reading(temperature=Amount(45, "degC"), pH=pH, pH_by=by, colour=Colour.BLUE)
    assert any(item.id == "too-alkaline" and item.is_out for item in judge(reading, plain)) is called
