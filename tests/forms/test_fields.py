"""Rows of the forms: what they take, how they print it, and what they refuse in which words."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.any_plan import any_plan, typed
from tests.plan.plans import plan_of_lots, plan_with, told, wool_plan

from vatside.catalogue.load import methods
from vatside.forms.fields import Field, field, fields, get_value, plan_problems, read, set_value, show
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.recipe.compute import compute
from vatside.units import KIND_OF_UNIT, Amount, Kind, Problem, to_base


def rows(plan: Plan) -> list[Field]:
    """Give every row of every form, hidden ones too."""
    return [row for stage in Stage for row in fields(plan, stage, hidden=True)]


@examples(15)
@given(any_plan())
def test_every_row_reads_what_it_shows(plan: Plan) -> None:
    """What stands in a field, typed again, is the same value."""
    for row in rows(plan):
        value = read(plan, row.path, show(plan, row.path))
        assert same(value, get_value(plan, row.path)), row.path


@pytest.mark.parametrize("path", [row.path for row in rows(wool_plan())])
def test_typing_what_stands_there_changes_nothing(path: str) -> None:
    """Reading and setting what a field of the starter shows leaves every figure as it was."""
    plan = wool_plan()
    value = read(plan, path, show(plan, path))
    assert not isinstance(value, Problem)
    assert compute(set_value(plan, path, value)).figures == compute(plan).figures


@given(any_plan(), st.data())
def test_every_row_shows_what_it_read(plan: Plan, data: st.DataObject) -> None:
    """A value that was read, set and shown reads as itself."""
    row = data.draw(st.sampled_from(rows(plan)))
    value = read(plan, row.path, data.draw(typed(row)))
    if isinstance(value, Problem):
        return
    changed = set_value(plan, row.path, value)
    assert get_value(changed, row.path) == value
    again = read(changed, row.path, show(changed, row.path))
    assert same(again, value), (row.path, show(changed, row.path))


def same(one: object, other: object) -> bool:
    """Tell whether two values are the same to six digits, which is what is printed."""
    if not isinstance(one, Amount) or not isinstance(other, Amount):
        return one == other
    sizes = [to_base(item, kind_of(item)) for item in (one, other)]
    return sizes[0] == pytest.approx(sizes[1], rel=6e-6, abs=1e-4)


def kind_of(amount: Amount) -> Kind:
    """Give the kind that an amount's unit measures."""
    return KIND_OF_UNIT[amount.unit]


EVERY_ROW = [pytest.param(row, id=row.path) for row in rows(wool_plan())]


@pytest.mark.parametrize("row", EVERY_ROW)
@given(text=st.text(max_size=80))
@examples(12)
@example("9**9**9**9")
@example("1e400")
@example("nan")
@example("\x00")
@example("[bold]2[/bold] g")
@example("½½")
@example("٣ g")
@example("-5")
@example("1" * 400)
@example("2026-02-30 10:00")
def test_garbage_is_answered_in_words(row: Field, text: str) -> None:
    """Any text at all gives a value or a printable sentence that begins with the field's name."""
    answer = read(wool_plan(), row.path, text)
    if isinstance(answer, Problem):
        assert answer.text.startswith(f"{row.label}: ")
        assert answer.text.isprintable()
    else:
        compute(set_value(wool_plan(), row.path, answer))


@pytest.mark.parametrize(
    ("path", "text", "wrong", "right"),
    [
        ("lots.a.mass", "", "nothing stands here", "between 1 g and 1000 kg"),
        ("lots.a.mass", "0 g", "0 g cannot be", "between 1 g"),
        ("lots.a.mass", "-5 g", "less than nothing", "such as 250 g"),
        ("lots.a.mass", "a pound or so", "cannot be read", "such as 250 g"),
        ("lots.a.mass", "2 L", "2 L is a volume", "a mass is wanted, such as 2 g"),
        ("lots.a.mass", "5000 kg", "5000 kg cannot be", "between"),
        ("lots.a.depth", "40 %", "40 % cannot be", "between 0 % and 10 %"),
        ("lots.a.depth", "sky blue", "“sky blue” is no depth", "light, medium, full"),
        ("lots.a.pieces", "2.5", "2.5 cannot be", "a whole number from 1 to 999"),
        ("lots.a.pieces", "0", "0 cannot be", "a whole number from 1 to 999"),
        ("lots.a.fibre", "nettle", "nettle is none of", "wool"),
        ("lots.a.name", "", "nothing stands here", "write something"),
        ("spoons", "", "nothing stands here", "write one of US, metric, old British"),
        ("lots.a.name", "x" * 81, "81 letters are too many", "at most 80"),
        ("title", "a\x07b", "characters that cannot be shown", "again without them"),
        ("ready_by", "25:00", "25:00 is no time", "write 14:00"),
        ("ready_by", "13 pm", "13 pm is no time", "write 14:00"),
        ("ready_by", "0 am", "0 am is no time", "write 14:00"),
        ("ready_by", "ten", "ten is no time", "write 14:00"),
        ("ready_by", "2026-02-30 10:00", "there is no 2026-02-30", "write 14:00"),
        ("method", "woad", "woad is none of", "copperas and lime"),
        ("water.hot", "140", "140 °C cannot be", "between 1 °C and 100 °C"),
        ("water.hob", "0", "0 kW cannot be", "between 0.1 kW and 20 kW"),
        ("water.hob", "1500", "1500 kW cannot be", "between 0.1 kW and 20 kW"),
        ("vessels.scour_fill", "100 %", "100 % cannot be", "between 10 % and 90 %"),
        ("vessels.tub.height", "0", "0 cm cannot be", "between 1 cm and 300 cm"),
        ("vessels.tub.headspace", "80", "80 % cannot be", "between 0 % and 60 %"),
        ("shelf.indigo.purity", "400 %", "400 % cannot be", "between 1 % and 100 %"),
        ("shelf.indigo.spoon_mass", "1 tsp", "1 tsp is a volume", "a mass is wanted"),
        ("scour.wool.hold", "0 min", "0 min cannot be", "between 1 min and 24 h"),
        ("scour.wool.loads", "1.5", "1.5 cannot be", "a whole number between 1 and 50"),
        ("scour.wool.rinses", "2 1/2", "2.5 cannot be", "a whole number between 0 and 10"),
        ("stock.pigment", "0 tsp", "0 tsp cannot be", "between 0.01 g"),
        ("stock.pigment", "100000 cups", "100000 cups cannot be", "and 100 kg"),
        ("stock.alkali", "1 1/2", "", ""),
        ("stock.jars", "none", "cannot be read", "a plain number"),
        ("vat.temperature", "95 C", "95 °C cannot be", "between 5 °C and 70 °C"),
    ],
)
def test_refusals(path: str, text: str, wrong: str, right: str) -> None:
    """A refusal names the field, what is wrong and what would be right."""
    plan = wool_plan()
    answer = read(plan, path, text)
    if not wrong:
        assert not isinstance(answer, Problem)
        return
    assert isinstance(answer, Problem)
    assert answer.text.startswith(f"{field(plan, path).label}: ")
    assert wrong in answer.text
    assert right in answer.text


@pytest.mark.parametrize(
    ("path", "text", "amount"),
    [
        ("lots.a.mass", "1/2 lb", Amount(0.5, "lb")),
        ("lots.a.mass", "2 x 100 g", Amount(200, "g")),
        ("lots.a.mass", "227", Amount(227, "g")),
        ("lots.a.mass", "1 lb 4 oz", Amount(1.25, "lb")),
        ("lots.a.depth", "0,8", Amount(0.8, "%")),
        ("lots.a.depth", "Dark blue", Amount(2, "%")),
        ("lots.a.depth", "2 % owf", Amount(2, "%")),
        ("water.hot", "140 F", Amount(140, "degF")),
        ("water.hot", "212 F", Amount(212, "degF")),
        ("water.hot", "100 C", Amount(100, "degC")),
        ("water.hob", "1500 W", Amount(1500, "W")),
        ("water.cold", "32 F", Amount(32, "degF")),
        ("vessels.scour_pot", "3 gal", Amount(3, "gal")),
        ("vessels.stock_jar", "1 quart", Amount(1, "quart")),
        ("vessels.tub.length", "14 in", Amount(14, "in")),
        ("vessels.tub.volume", "400 mL", Amount(400, "mL")),
        ("shelf.indigo.purity", "40", Amount(40, "%")),
        ("shelf.indigo.spoon_mass", "2.4", Amount(2.4, "g")),
        ("scour.wool.hold", "1 h 30", Amount(90, "min")),
        ("scour.wool.hold", "1:15", Amount(75, "min")),
        ("scour.wool.soak", "overnight", None),
        ("scour.wool.soak", "12 h", Amount(12, "h")),
        ("stock.pigment", "4 tsp", Amount(4, "tsp")),
        ("stock.pigment", "1 1/2 tsp", Amount(1.5, "tsp")),
        ("stock.alkali", "8,5 g", Amount(8.5, "g")),
        ("stock.jars", "2", Amount(2, "")),
        ("vat.stock", "250 mL", Amount(250, "mL")),
    ],
)
def test_what_a_dyer_would_write(path: str, text: str, amount: Amount | None) -> None:
    """Fields take fractions, commas, sums and other people's units; what cannot be known is refused."""
    answer = read(wool_plan(), path, text)
    assert answer == amount if amount else isinstance(answer, Problem)


@pytest.mark.parametrize(
    ("path", "text", "key"),
    [
        ("method", "dithionite and lye", "dithionite-lye"),
        ("method", "copp", "copperas-lime"),
        ("lots.a.condition", "G", "greasy"),
        ("lots.a.fibre", "LINEN", "linen"),
        ("spoons", "US", "us"),
        ("spoons", "metric", "metric"),
        ("measure", "spoon", "spoons"),
        ("vessels.tub.stuff", "stain", "stainless steel"),
        ("shelf.alkali.material", "lye-flakes", "lye-flakes"),
    ],
)
def test_choices_by_name_or_beginning(path: str, text: str, key: str) -> None:
    """A choice is made by its id, its name or enough of the name's beginning."""
    assert read(wool_plan(), path, text) == key


def test_an_unclear_beginning_names_what_it_could_be() -> None:
    """Two vats of lye, two of lime: `heat-proof` could be glass or plastic."""
    answer = read(wool_plan(), "vessels.tub.stuff", "heat")
    assert isinstance(answer, Problem)
    assert "heat could be heat-proof glass, heat-proof plastic" in answer.text


@pytest.mark.parametrize(
    ("text", "stored", "shown"),
    [
        ("10:00", "10:00", "10:00"),
        ("9", "09:00", "09:00"),
        ("9.30", "09:30", "09:30"),
        ("14h05", "14:05", "14:05"),
        ("10 am", "10:00", "10:00"),
        ("2:30 PM", "14:30", "14:30"),
        ("12 pm", "12:00", "12:00"),
        ("12 a.m.", "00:00", "00:00"),
        ("2026-05-02 10:00", "2026-05-02T10:00", "Sat 2 May 2026 10:00"),
        ("2026-05-02T7:30", "2026-05-02T07:30", "Sat 2 May 2026 07:30"),
        ("Sat 2 May 2026 10:00", "2026-05-02T10:00", "Sat 2 May 2026 10:00"),
        ("", None, ""),
    ],
)
def test_clock_times(text: str, stored: str | None, shown: str) -> None:
    """A time is stored one way and shown as people say it, so that it can be read back; empty leaves it open."""
    plan = wool_plan()
    value = read(plan, "ready_by", text)
    assert value == stored
    assert show(set_value(plan, "ready_by", value), "ready_by") == shown


def test_spoon_sums_are_the_plan_s_own() -> None:
    """An Australian tablespoon is four teaspoons: 2 tbsp 1 tsp are 9 of them, not 7."""
    plan = plan_with(spoons="australian")
    value = read(plan, "stock.pigment", "2 tbsp 1 tsp")
    assert isinstance(value, Amount)
    assert to_base(value, Kind.VOLUME, plan.spoons) == pytest.approx(9 * 0.005)


def test_spoons_are_weighed_before_they_are_judged() -> None:
    """50 kg of lye in spoons is within the range; the same spoons of twice the weight are not."""
    spoons = f"{60_000 / 5.668:.0f} tsp"
    assert isinstance(read(wool_plan(), "stock.alkali", spoons), Amount)
    assert isinstance(read(plan_with(shelf__alkali__spoon_mass="10 g"), "stock.alkali", spoons), Problem)


def test_what_stands_there_is_read_though_other_spoons_have_carried_it_past_its_range() -> None:
    """500 US quarts are 473 L; of the larger quart 568 L, where 500 L are the most: typed anew it would be refused."""
    plan = told(told(wool_plan(), "stock.water", "500 quarts"), "spoons", "metric")
    assert show(plan, "stock.water") == "500 quarts"
    assert read(plan, "stock.water", "500 quarts") == Amount(500, "quart")
    assert isinstance(read(plan, "stock.water", "499 quarts"), Problem)


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("lots.a.names", "None"),
        ("vessels.others", "none"),
        ("ready_by", "any time"),
        ("shelf.soda-ash.spoon_mass", "usual"),
    ],
)
def test_what_an_empty_row_shows_can_be_typed_and_empties_it(path: str, text: str) -> None:
    """She writes back what stood there before her slip: no piece is called None."""
    plan = wool_plan()
    assert read(plan, path, text) == read(plan, path, "")
    assert not isinstance(read(plan, path, text), Problem)


def test_unknown_places() -> None:
    """A path that the plan does not have is a KeyError, never a guess."""
    for path in ("water.tepid", "lots.z.mass", "scour.silk.hold", "stock.indigotin", "", "lots", "pins"):
        with pytest.raises(KeyError):
            read(wool_plan(), path, "1")


def test_a_tub_asks_for_the_sizes_of_its_shape() -> None:
    """By litres one size is asked for, of a round tub two, of a box three; the others stay within reach of a path."""
    shown = {
        shape: [
            row.label
            for row in fields(plan_with(vessels__tub__shape=shape), Stage.VAT)
            if row.path.startswith("vessels.tub.") and row.kind and row.kind.value in ("length", "volume")
        ]
        for shape in ("litres", "round", "box", "oval")
    }
    assert shown == {
        "litres": ["A tub, to the brim"],
        "round": ["Diameter inside", "Height inside"],
        "box": ["Length inside", "Width inside", "Height inside"],
        "oval": ["Length inside", "Width inside", "Height inside"],
    }


def test_paths_are_unique() -> None:
    """No two rows of any form share a path, with several baths and lots."""
    plan = told(plan_of_lots(("wool", "1 kg"), ("wool", "1 kg"), ("hemp", "1 kg")), "lots.a.condition", "greasy")
    paths = [row.path for row in rows(plan)]
    assert len(paths) == len(set(paths))


@pytest.mark.parametrize("row", EVERY_ROW)
def test_what_stands_in_the_starter_is_allowed(row: Field) -> None:
    """The newcomer's plan would be let through by its own form."""
    assert not isinstance(read(wool_plan(), row.path, show(wool_plan(), row.path)), Problem)


@pytest.mark.parametrize("path", ["shelf.alkali.spoon_mass", "shelf.soap.spoon_mass"])
@pytest.mark.parametrize(("text", "taken"), [("0.9 g", False), ("1 g", True), ("12.5 g", True), ("45 g", False)])
def test_a_spoon_weighs_what_a_powder_can_weigh(path: str, text: str, taken: bool) -> None:
    """A level teaspoon is 5 mL, by its definition; powders weigh 0.2 to 2.5 g/mL (ends from memory): 1 to 12.5 g."""
    answer = read(wool_plan(), path, text)
    assert isinstance(answer, Amount) is taken
    if isinstance(answer, Problem):
        assert f"{text} cannot be; a level spoon of powder weighs between 1 g and 12.5 g" in answer.text


def test_a_spoon_of_before_still_opens_and_stays() -> None:
    """45 g was taken once: a file with it opens, and its own text in the form is no new mistake."""
    plan = set_value(wool_plan(), "shelf.alkali.spoon_mass", Amount(45, "g"))
    assert plan_problems(plan) == ()
    assert read(plan, "shelf.alkali.spoon_mass", "45 g") == Amount(45, "g")


@pytest.mark.parametrize("method", list(methods()))
def test_a_powder_has_one_name(method: str) -> None:
    """What the form sets is called as on the sheet beside it: zinc dust, and not once reducer."""
    plan = plan_with(method=method)
    sheet = compute(plan)
    for path in ("stock.alkali", "stock.reducer", "vat.alkali", "vat.reducer"):
        called = sheet[path].label.removesuffix("to ferment").removesuffix("for the tub").removesuffix("to sharpen")
        assert field(plan, path).label.startswith(called)
