"""Steps of Dip and Finish, and when they begin."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

import pytest
from attrs import evolve
from tests.plan.plans import plan_of_lots, plan_with, told

from vatside.catalogue.load import methods
from vatside.chemistry.bath import Bath
from vatside.dayline.day_steps import steps
from vatside.dayline.going import Going, Waiting
from vatside.dayline.laid_day import lay_day
from vatside.dayline.steps import Step, stage_name
from vatside.dips.rotation import Place, Standing, pieces
from vatside.dips.uptake import SoFar
from vatside.plan.figure_text import figure_text
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute

SEVEN = datetime(2026, 5, 2, 7, 0)


def dyeing(plan: Plan) -> dict[str, Step]:
    """Give the steps of Dip and Finish by id."""
    found = steps(plan, compute(plan))
    return {step.id: step for step in found if step.stage in (Stage.DIP, Stage.FINISH)}


def both() -> Plan:
    """Give wool and cotton in one vat."""
    return plan_of_lots(("wool", "200 g"), ("cotton", "300 g"))


@pytest.mark.parametrize("method", methods())
@pytest.mark.parametrize("keep", ["0", "7 days"])
def test_every_blank_of_dip_and_finish_is_filled(method: str, keep: str) -> None:
    """No template leaves a blank or a dash where an amount belongs."""
    plan = told(told(both(), "method", method), "finish.keep", keep)
    for step in dyeing(plan).values():
        assert not re.search(r"[{}–]", step.text), step.text


def test_each_fibre_is_finished_in_order() -> None:
    """Air, rinse, sour, rinse, wash, rinse, dry, rub, weigh: for wool as for cotton."""
    names = [
        "air",
        "rinse",
        "sour",
        "sour_rinse",
        "wash_water",
        "wash_heat",
        "wash",
        "last_rinse",
        "dry",
        "rub",
        "weigh",
    ]
    found = list(dyeing(both()))
    for fibre in ("wool", "cotton"):
        assert [step.rpartition(".")[2] for step in found if step.startswith(f"finish.{fibre}.")] == names


def test_acid_comes_only_after_the_rinses() -> None:
    """The sour stands behind the rinse, says so, and must be acknowledged."""
    found = dyeing(plan_with())
    order = list(found)
    assert order.index("finish.wool.rinse") < order.index("finish.wool.sour")
    sour = found["finish.wool.sour"]
    assert sour.text.startswith("Only when the reducer is rinsed out")
    assert any(item.id == "acid" and item.must_acknowledge for item in sour.cautions)


def test_a_vat_let_go_is_oxidised_before_acid() -> None:
    """Oxidise, settle, titrate, neutralise, then the local rules, each step that takes acid with its caution."""
    found = dyeing(plan_with(finish__keep="0"))
    order = [step for step in found if step.count(".") == 1 and step.startswith("finish.")]
    assert order == [
        "finish.use_up", "finish.oxidise", "finish.settle", "finish.decant", "finish.titrate", "finish.neutralise",
        "finish.drain",
    ]  # fmt: skip
    for name in ("titrate", "neutralise"):
        assert any(item.id == "acid" for item in found[f"finish.{name}"].cautions)
    assert "local rules" in found["finish.drain"].text


def test_the_vinegar_of_a_vat_by_the_plan_is_an_estimate() -> None:
    """Until there is an account the amount is that of the vat as planned: about that is what it takes."""
    plan = plan_with(finish__keep="0")
    vinegar = figure_text(compute(plan)["finish.vinegar"], plan).main
    assert f"; about {vinegar}, by what went in" in dyeing(plan)["finish.titrate"].text


def test_the_vinegar_of_a_vat_with_an_account_is_an_estimate() -> None:
    """With 6 g of lye left once spent, 150 mmol of 0.8326 mol/L, the amount is neither the least nor the most."""
    plan = plan_with(finish__keep="0", lots__a__fibre="cotton")
    spent = Bath(20, 25, sodium=6 / 39.997)
    found = {step.id: step for step in steps(plan, compute(plan, SoFar(spent=spent)))}
    assert "; about 180 mL, by what went in" in found["finish.titrate"].text


def test_the_sample_of_a_soda_vat_is_titrated_below_the_pH_that_is_wanted() -> None:
    """At 8 a sample of the vat for silk in hard water has less than half of it; of lye it ends there. PHREEQC: 5.9."""
    silk = dyeing(plan_with(finish__keep="0", lots__a__fibre="silk", water__tap="hard"))["finish.titrate"].text
    assert "to pH 5.9, cold (it holds soda: at pH 8 only a part is in, and the pH drifts up again): vinegar" in silk
    lye = dyeing(plan_with(finish__keep="0", lots__a__fibre="cotton"))["finish.titrate"].text
    assert "to pH 8: vinegar" in lye


def test_a_kept_vat_is_not_soured() -> None:
    """Kept, it is filled up and fed; nothing of the spent path stands there."""
    found = dyeing(plan_with(finish__keep="7 days", lots__a__fibre="cotton"))
    assert {"finish.keep_fill", "finish.keep_feed"} <= set(found)
    assert not {"finish.oxidise", "finish.neutralise"} & set(found)


@pytest.mark.parametrize(("method", "wanted"), [
    ("tdo-lye", {"lye", "reducer"}), ("dithionite-lye", {"lye", "reducer"}), ("fructose-lime", {"lime"}),
    ("copperas-lime", {"lime", "copperas"}),
])  # fmt: skip
def test_what_a_kept_vat_is_fed_with_has_its_cautions(method: str, wanted: set[str]) -> None:
    """Feeding it handles the vat's own alkali and reducer, and opens late."""
    step = dyeing(plan_with(method=method, finish__keep="7 days", lots__a__fibre="cotton"))["finish.keep_feed"]
    assert {item.id for item in step.cautions} == wanted
    assert any(item.must_acknowledge for item in step.cautions)


@pytest.mark.parametrize(("method", "fibre", "caution"), [
    ("tdo-lye", "cotton", "lye"), ("tdo-lye", "wool", "soda"), ("tdo-soda", "silk", "soda"),
    ("fructose-lime", "cotton", "lime"),
])  # fmt: skip
def test_a_vat_is_put_away_with_the_caution_of_its_own_liquor(method: str, fibre: str, caution: str) -> None:
    """Lye where it holds lye, soda where soda holds it; no powder is handled, and nothing goes in unmeasured."""
    step = dyeing(plan_with(method=method, finish__keep="7 days", lots__a__fibre=fibre))["finish.keep_fill"]
    assert {item.id for item in step.cautions} == {caution}
    assert "sharpened water" not in step.text
    assert "add nothing" in step.text


def test_a_vat_in_a_half_empty_tub_is_kept_in_a_smaller_one() -> None:
    """4 L in a tub of 8 L want one of 4 L; 7 L in it stay where they are."""
    plan = {"finish__keep": "7 days", "lots__a__mass": "40 g", "vessels__tub__volume": "8 L"}
    half, full = (dyeing(plan_with(**plan, vat__fill=fill))["finish.keep_fill"].text for fill in ("4 L", "7 L"))
    assert "in a tub that it just fills" in half
    assert "in a tub" not in full


@pytest.mark.parametrize(("fibre", "alkali"), [("cotton", "of lye"), ("wool", "of soda ash"), ("silk", "of soda ash")])
def test_feeding_names_its_alkali(fibre: str, alkali: str) -> None:
    """The reducer fed each week turns to acid: the same sentence says what goes in against it, in grams."""
    found = dyeing(plan_with(lots__a__fibre=fibre, finish__keep="7 days"))
    (step,) = [step for name, step in found.items() if name.startswith("finish.keep_feed")]
    assert alkali in step.text
    assert "– of" not in step.text


def test_lime_leaves_sludge() -> None:
    """A vat with lime has a net over its sludge and a step for getting rid of it; one with lye has neither."""
    lime = dyeing(plan_with(method="copperas-lime", lots__a__fibre="cotton", finish__keep="0"))
    assert {"dip.raise", "finish.sludge"} <= set(lime)
    assert not {"dip.raise", "finish.sludge"} & set(dyeing(plan_with(finish__keep="0")))


def test_the_ph_is_raised_between_wool_and_cotton() -> None:
    """In a vat for both the wool is dipped before it and the cotton after it; for wool alone no step stands for it."""
    plan = told(told(both(), "lots.a.name", "Shawls"), "lots.b.name", "Towels")
    found = dyeing(plan)
    order = list(found)
    assert order[order.index("dip.gentle") :][:3] == ["dip.gentle", "dip.protein_first", "dip.rotate"]
    assert "Shawls" in found["dip.gentle"].text
    assert "Towels" not in found["dip.gentle"].text
    assert "Towels" in found["dip.rotate"].text
    assert "Shawls" not in found["dip.rotate"].text
    assert not {"dip.gentle", "dip.protein_first"} & set(dyeing(plan_with()))


def low() -> Plan:
    """Give wool and cotton in a vat that the lye is left out of."""
    return plan_with(both(), stock__alkali="2 g", vat__alkali="0 g")


def test_the_step_names_the_lye_that_raises_the_ph() -> None:
    """Its grams and spoons stand in the step, with the caution of lye and how warm its water may be."""
    step = dyeing(low())["dip.protein_first"]
    grams = float(f"{compute(low())['dip.alkali'].value:.2g}")
    assert f"about {grams:.1f} g (" in step.text
    (lye,) = [item for item in step.cautions if item.id == "lye"]
    assert lye.must_acknowledge
    assert "cold water" in lye.lines[0]


def test_no_lye_is_named_where_the_vat_stands_there_already() -> None:
    """A vat held above the pH of cotton: the pH is read, nothing is put in."""
    step = dyeing(told(plan_with(both(), vat__alkali="20 g"), "vat.baking-soda", "0 g"))["dip.protein_first"]
    assert "read the pH before cotton" in step.text
    assert " g " not in step.text
    assert step.cautions == ()


def test_the_work_of_the_dips_is_parted() -> None:
    """What the two steps take is what the dips take in all, and both take some."""
    found = dyeing(both())
    parts = [found[step].hands_min for step in ("dip.gentle", "dip.rotate")]
    assert min(parts) > 0
    assert sum(parts) == pytest.approx(compute(both())["dip.minutes"].value)


def test_hands_are_on_while_a_piece_goes_in_and_comes_out() -> None:
    """Three dips of one piece are three entries of 3 min for the hands (common practice, no source); it airs."""
    plan = plan_with(lots__a__pieces="1", dip__a__dips="3", dip__a__dip="10 min", dip__a__air="20 min")
    step = dyeing(plan)["dip.rotate"]
    assert step.work_min == 9
    assert step.hands_min >= 3 * 10 + 2 * 20


def test_the_hands_of_the_dips_are_parted() -> None:
    """In a vat for both each step has its share of the hands, and together they have all of them."""
    found = dyeing(both())
    parts = [found[step].work_min for step in ("dip.gentle", "dip.rotate")]
    assert min(parts) > 0
    assert sum(parts) == pytest.approx(3 * compute(both())["dip.all_entries"].value)


def test_the_lots_are_named_in_their_order() -> None:
    """The step of the dips says who goes first: wool before silk."""
    plan = plan_of_lots(("silk", "200 g"), ("wool", "300 g"))
    plan = told(told(plan, "lots.a.name", "Scarves"), "lots.b.name", "Shawls")
    assert "Shawls, then Scarves" in dyeing(plan)["dip.rotate"].text


def test_the_waits_have_the_lengths_of_the_sheet() -> None:
    """A held last airing is the wait of its step."""
    assert dyeing(plan_with(finish__wool__last_air="25 min"))["finish.wool.air"].minutes == 25


def test_the_finish_follows_the_dips() -> None:
    """Fibres are finished side by side: cotton does not wait until the wool is rinsed, and none until the last dip."""
    plan = both()
    sheet = compute(plan)
    day = lay_day(plan, sheet, steps(plan, sheet), SEVEN)
    dips = [day.at(day.laid.starts[task]) for task in day.needed.rounds]
    assert dips[0] < day.starts["finish.wool.air"] < day.starts["finish.cotton.air"]
    assert day.starts["finish.cotton.air"] > dips[-1]


def test_a_running_wait_counts_as_it_stands() -> None:
    """With five minutes of the last airing left, the rinse begins five minutes on."""
    plan = plan_with()
    sheet = compute(plan)
    wool = [step for step in steps(plan, sheet) if step.id in ("finish.wool.air", "finish.wool.rinse")]
    now = datetime(2026, 5, 2, 15, 0)
    standings = {piece.id: Standing(Place.DONE, 9) for piece in pieces(plan, sheet)}
    going = Going(waits={"finish.wool.air": Waiting(20.0, 5.0)}, standings=standings)
    found = lay_day(plan, sheet, wool, now, going).starts
    assert found["finish.wool.rinse"] == now + timedelta(minutes=5)


def test_of_many_lots_the_first_are_named() -> None:
    """Forty lots: five names, and the other 35."""
    plan = plan_of_lots(*(("cotton", "50 g") for _ in range(40)))
    plan = evolve(plan, lots=tuple(evolve(lot, name=f"Lot {at}") for at, lot in enumerate(plan.lots)))
    (text,) = [step.text for step in steps(plan, compute(plan)) if "the other 35 in their turn" in step.text]
    assert text.count(", then ") == 5


@pytest.mark.parametrize(
    ("forms", "gentle", "plants"),
    [
        (("skeins", "skeins"), "spread the strands in the air", "spread the strands in the air"),
        (("skeins", "cloth"), "surface, spread the strands in the air", "surface, open every fold in the air"),
        (("loose fibre", "garments"), "surface, pull it loose in the air", "surface, open every fold in the air"),
    ],
)
def test_it_is_opened_as_it_is_made_up(forms: tuple[str, str], gentle: str, plants: str) -> None:
    """A skein has no folds; the words follow what goes in at each step."""
    plan = both()
    for lot, form in zip(plan.lots, forms, strict=True):
        plan = told(plan, f"lots.{lot.id}.form", form)
    found = dyeing(plan)
    assert gentle in found["dip.gentle"].text
    assert plants in found["dip.rotate"].text


def test_ties_are_looked_at_in_the_bath_that_has_skeins() -> None:
    """Wool skeins and a linen cloth: the cloth has none."""
    plan = both()
    for lot, form in zip(plan.lots, ("skeins", "cloth"), strict=True):
        plan = told(plan, f"lots.{lot.id}.form", form)
    wet = [step.text for step in steps(plan, compute(plan)) if step.text.startswith("Wet out")]
    assert ["ties of skeins" in text for text in wet] == ["wool" in text for text in wet]
    assert len(wet) == 2


def test_what_was_never_scoured_today_is_not_wet_from_it() -> None:
    """Cloth that comes ready scoured is wet from its wetting out, and so its stage is called."""
    ready = told(plan_with(), "lots.a.condition", "ready scoured")
    for plan, wet, name in ((plan_with(), "the scour", "Scour"), (ready, "the wetting out", "Wet out")):
        found = steps(plan, compute(plan))
        assert f"wet from {wet}," in dyeing(plan)["dip.wet"].text
        assert stage_name(Stage.SCOUR, found) == name


def test_the_end_of_a_vat_says_what_to_do() -> None:
    """The sentence begins with its verb."""
    plan = told(plan_with(), "finish.keep", "0 days")
    assert dyeing(plan)["finish.drain"].text.startswith("Pour it off cold, by the jug")
