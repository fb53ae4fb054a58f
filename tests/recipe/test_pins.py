"""Holding figures by hand."""

from __future__ import annotations

import pytest
from tests.facts import Facts
from tests.plan.plans import free_plan, hand_plan, plan_of_lots, plan_with, says, told, wool_plan

from vatside.forms.fields import Field, fields, get_value, set_value
from vatside.plan.plan import Plan
from vatside.plan.sheet import Figure, Notice, Sheet, Stage, Weight
from vatside.recipe.compute import compute
from vatside.units import BASE_UNITS, Kind

PLANS = {
    "wool": free_plan(),
    "greasy, cotton and linen": told(
        plan_of_lots(("wool", "500 g"), ("cotton", "1 kg"), ("linen", "300 g"), plan=free_plan()),
        "lots.a.condition",
        "greasy",
    ),
    "cold vat": plan_with(free_plan(), method="copperas-lime", lots__a__fibre="cotton"),
    "sugar vat": plan_with(free_plan(), method="fructose-lime", lots__a__fibre="silk"),
}


def pin_rows(plan: Plan) -> list[Field]:
    """Give every row that holds a figure."""
    return [row for stage in Stage for row in fields(plan, stage, hidden=True) if row.pin]


EVERY_PIN = [
    pytest.param(plan, row.path, id=f"{name}: {row.path}") for name, plan in PLANS.items() for row in pin_rows(plan)
]


def elsewhere(plan: Plan, path: str) -> str:
    """Give an amount other than what the plan works out, in the figure's own unit."""
    figure, row = compute(plan)[path], next(row for row in pin_rows(plan) if row.path == path)
    unit = BASE_UNITS[row.kind or Kind.NUMBER]
    if row.kind is Kind.NUMBER:
        return str(int(figure.value) + 1)
    wanted = figure.worked * 0.75 if figure.worked else row.low + 1
    return f"{min(max(wanted, row.low), row.high):.6f} {unit}"


fact: Facts[[Plan, str, Plan]] = Facts()
"""What holds of a plan, each of its pinnable figures, and the plan that holds it."""


@pytest.mark.parametrize(("plan", "path"), EVERY_PIN)
def test_every_fact_holds_of_every_pin(plan: Plan, path: str) -> None:
    """Each of the facts here, for each pinnable figure of several plans."""
    fact.hold(plan, path, told(plan, path, elsewhere(plan, path)))


@fact
def a_pin_holds(plan: Plan, path: str, held: Plan) -> None:
    """The sheet uses what was typed and still tells what the plan works out."""
    text = elsewhere(plan, path)
    figure = compute(held)[path]
    assert figure.value == pytest.approx(float(text.partition(" ")[0]))
    assert figure.worked == pytest.approx(compute(plan)[path].worked)
    assert figure.pin is not None


@fact
def what_comes_before_stays(plan: Plan, path: str, held: Plan) -> None:
    """Every figure above the held one is as it was; where it sizes the vat, every figure of the scour is."""
    before, after = compute(plan), compute(held)
    if path in ("vat.tub", "vat.fill", "vat.entry") or path.startswith("dip."):
        assert before.of(Stage.SCOUR) == after.of(Stage.SCOUR)
    else:
        assert upstream(before, path) == upstream(after, path)


@fact
def unpinning_restores(plan: Plan, path: str, held: Plan) -> None:
    """An empty text gives the figure back to the plan, and with it every figure."""
    freed = told(held, path, "")
    assert get_value(freed, path) is None
    assert freed == plan


@fact
def the_cost_is_said(plan: Plan, path: str, held: Plan) -> None:
    """A figure held away from its worth has a notice that names it, what is held and what was worked out."""
    figure = compute(held)[path]
    notice = next(notice for notice in compute(held).notices if notice.figure == path and "set to" in notice.text)
    assert figure.label in notice.text
    assert "worked out" in notice.text


@fact
def held_where_it_is_costs_nothing(plan: Plan, path: str, held: Plan) -> None:
    """A row takes what the plan works out, and holding that is no news."""
    row = next(row for row in pin_rows(plan) if row.path == path)
    figure = compute(plan)[path]
    text = f"{figure.worked:.9f} {BASE_UNITS[row.kind or Kind.NUMBER]}"
    same = told(plan, path, str(int(figure.worked)) if row.kind is Kind.NUMBER else text)
    assert not says(compute(same), "set to")


def upstream(sheet: Sheet, path: str) -> list[Figure]:
    """Give the figures worked out before one."""
    ids = [figure.id for figure in sheet.figures]
    return list(sheet.figures[: ids.index(path)])


DOWNSTREAM = [
    ("scour.wool.load_water", "3.5 L", "scour.wool.loads", 2),
    ("scour.wool.loads", "2", "scour.wool.soap", 0.227 / 2 * 32.6),
    ("scour.wool.hold_temperature", "50 C", "scour.wool.rinse_temperature", 50),
    ("scour.wool.hold", "40 min", "scour.wool.turn", 20),
    ("scour.wool.rinses", "3", "scour.wool.rinse_water", 22.5),
    ("scour.wool.rinse_temperature", "50 C", "scour.wool.steps_down", 3),
    ("stock.pigment", "10 g", "stock.indigotin", 4),
    ("stock.pigment", "100 g", "stock.jars", 2),
    ("stock.pigment", "10 g", "vat.indigotin", 4),
    ("stock.pigment", "10 g", "stock.owf", 1000 / 227),
    ("stock.water", "2 L", "stock.alkali", (0.8925 * 227 * 0.008 / 0.70 + 0.8) / 0.99),
    ("stock.water", "2 L", "stock.bath", 6),
    ("stock.start", "40 C", "stock.kettle", 0),
    ("vat.fill", "15 L", "vat.liquor", 15 - 0.227 / 1.31),
    ("vat.entry", "100 g", "vat.entries", 2),
    ("vat.stock", "0 L", "vat.indigotin", 0),
    ("vat.alkali", "0 g", "vat.reducer", 0.10 * (20.4 - 0.227 / 1.31) / 0.99),
]


@pytest.mark.parametrize(("path", "text", "figure", "value"), DOWNSTREAM)
def test_what_comes_after_follows(path: str, text: str, figure: str, value: float) -> None:
    """A held figure is what everything after it counts on."""
    assert compute(told(hand_plan(), path, text)).value(figure, 0.0) == pytest.approx(value, rel=5e-4)


def test_lye_held_in_the_jar_warms_it_more() -> None:
    """40 g of lye instead of 2.74, both straight into the jar, warm it fifteen times as much."""
    usual, held = compute(plan_with(stock__jug="0 L")), compute(plan_with(stock__jug="0 L", stock__alkali="40 g"))
    ratio = held.value("stock.rise") / usual.value("stock.rise")
    assert ratio == pytest.approx(40 / 2.743, rel=0.01)


def said(plan: Plan, path: str, text: str) -> Notice:
    """Hold one figure more, and give the one notice that says what that costs."""
    (notice,) = (item for item in says(compute(told(plan, path, text)), "set to") if item.figure == path)
    return notice


class TestCosts:
    """What a pin's notice says."""

    def test_less_dye(self) -> None:
        """4 g of powder where 6.49 are wanted are 62 % of the indigo, enough for 140 g of the wool."""
        notice = said(hand_plan(), "stock.pigment", "4 g")
        assert notice.weight is Weight.CARE
        assert "set to 4 g; worked out 6.5 g" in notice.text
        assert "62 % of the indigo that the lots want" in notice.text
        assert "140 g of fibre" in notice.text

    def test_more_dye(self) -> None:
        """13 g of powder where 6.49 are wanted are twice what the lots want."""
        notice = said(hand_plan(), "stock.pigment", "13 g")
        assert notice.weight is Weight.NOTE
        assert "2.0 times the indigo" in notice.text

    def test_spoons_are_said_in_grams_too(self) -> None:
        """What is held in spoons and what was worked out in grams are compared in grams."""
        notice = said(hand_plan(), "stock.pigment", "6 tsp")
        assert "set to 6 tsp (13.3 g); worked out 6.5 g" in notice.text

    @pytest.mark.parametrize(
        ("path", "fate"),
        [
            ("stock.alkali", "undissolved"),
            ("stock.reducer", "unreduced"),
            ("vat.reducer", "oxygen in the water"),
        ],
    )
    def test_below_the_reaction(self, path: str, fate: str) -> None:
        """Less than the reaction takes says what will go wrong, and how much it takes."""
        notice = said(hand_plan(), path, "0.1 g")
        assert notice.weight is Weight.CARE
        assert fate in notice.text
        assert "takes" in notice.text

    def test_a_bath_is_named(self) -> None:
        """With two baths the notice says which one is held."""
        notice = said(plan_of_lots(("wool", "100 g"), ("cotton", "100 g")), "scour.wool.hold", "20 min")
        assert notice.text.startswith("wool: Hold for set to 20 min")

    def test_a_hair_s_breadth_is_free(self) -> None:
        """6.5 g held where 6.486 are worked out is the same on any scale."""
        sheet = compute(told(hand_plan(), "stock.pigment", "6.5 g"))
        assert not [item for item in says(sheet, "set to") if item.figure == "stock.pigment"]


def test_a_pin_of_a_figure_that_is_not_there_waits() -> None:
    """A pin on the wool bath sleeps while the lot is cotton, and holds again when it is wool."""
    held = plan_with(scour__wool__hold="20 min")
    cotton = told(held, "lots.a.fibre", "cotton")
    assert "scour.wool.hold" not in [figure.id for figure in compute(cotton).figures]
    assert compute(told(cotton, "lots.a.fibre", "wool"))["scour.wool.hold"].value == 20


def test_only_pinnable_figures_take_pins() -> None:
    """A pin on a figure that cannot be held changes nothing."""
    plan = set_value(wool_plan(), "stock.indigotin", get_value(plan_with(stock__pigment="50 g"), "stock.pigment"))
    assert compute(plan)["stock.indigotin"].value == compute(wool_plan())["stock.indigotin"].value
