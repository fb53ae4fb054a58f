"""The trade's numbers as they stand in the data files, against where they were taken from."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from attrs import evolve
from tests.plan.plans import kept_vat, wool_plan

import vatside
from vatside.catalogue.load import cautions, fibres, materials, methods, scours, sources, steps_of
from vatside.catalogue.values import Agent, Fact, StepTemplate
from vatside.chemistry.substances import reducer
from vatside.forms.fields import set_value
from vatside.plan.batches import baths
from vatside.plan.sheet import Sheet
from vatside.recipe.compute import compute


class TestFact:
    """A number with its range."""

    def test_spread_is_the_larger_share(self) -> None:
        """0.45 between 0.30 and 0.65 is unsure by 44 %, not by 33."""
        assert Fact(0.45, "guess", 0.30, 0.65).spread == pytest.approx(0.20 / 0.45)

    def test_without_a_range_nothing_is_said(self) -> None:
        """No range, no spread."""
        assert Fact(5, "practice").spread == 0

    def test_nothing_has_no_spread(self) -> None:
        """A value of 0 divides by nothing."""
        assert Fact(0, "practice", 0, 5).spread == 0


@pytest.mark.parametrize(
    ("agent", "grams"),
    [
        (Agent("soap", per_kg=Fact(32.6, "practice")), 6.52),
        (Agent("soap", per_litre=Fact(1.5, "practice")), 11.25),
        (Agent("soap"), 0),
    ],
)
def test_agents_go_by_fibre_or_by_bath(agent: Agent, grams: float) -> None:
    """200 g in 7.5 L: 0.2 x 32.6 g, or 7.5 x 1.5 g."""
    assert agent.grams(0.2, 7.5) == pytest.approx(grams)


@pytest.mark.parametrize(
    ("fibre", "density", "regain", "low", "high"),
    [
        ("wool", 1.31, 13.6, 120, 180),
        ("silk", 1.34, 11, 100, 140),
        ("cotton", 1.52, 8.5, 120, 160),
        ("viscose", 1.49, 11, 180, 250),
        ("linen", 1.50, 12, 110, 150),
        ("hemp", 1.48, 12, 110, 150),
    ],
)
def test_fibre_constants(fibre: str, density: float, regain: float, low: float, high: float) -> None:
    """Morton & Hearle's densities at 65 % humidity, D1909's regains, and what a hand leaves in."""
    item = fibres()[fibre]
    assert item.density.value == density
    assert item.regain.value == regain
    assert (item.held.low, item.held.high) == (low, high)


@pytest.mark.parametrize(
    ("group", "low", "target", "high"),
    [("protein", 8.5, 9.3, 9.8), ("silk", 9.5, 10.0, 10.5), ("cellulose", 10.5, 11.0, 11.5)],
)
def test_windows(group: str, low: float, target: float, high: float) -> None:
    """Common practice: each group of fibres has one window of pH."""
    windows = [fibre.window for fibre in fibres().values() if fibre.group == group]
    assert windows
    assert all((window.low, window.target, window.high) == (low, target, high) for window in windows)


@pytest.mark.parametrize(
    ("fibre", "block"),
    [("wool", 10.5), ("silk", 11.0), ("viscose", 12.5), ("cotton", 13.0), ("linen", 13.0), ("hemp", 13.0)],
)
def test_where_a_fibre_is_harmed(fibre: str, block: float) -> None:
    """Common practice: above pH 10.5 wool is harmed, above 11 silk, above 12.5 or 13 the others."""
    assert fibres()[fibre].window.block == block


@pytest.mark.parametrize(
    ("scour", "hold", "minutes", "liquor"),
    [
        ("wool-clean", 60, 60, 30),
        ("wool-greasy", 57, 30, 30),
        ("hair-clean", 40, 25, 30),
        ("silk-clean", 38, 20, 35),
        ("silk-raw", 95, 75, 40),
        ("cotton", 95, 60, 20),
        ("bast", 92, 75, 25),
        ("viscose", 65, 25, 25),
    ],
)
def test_scours(scour: str, hold: float, minutes: float, liquor: float) -> None:
    """How hot, how long and in how much water each fibre is scoured."""
    item = scours()[scour]
    assert (item.hold.value, item.minutes.value, item.liquor.value) == (hold, minutes, liquor)


def test_only_grease_and_gum_weigh_something() -> None:
    """Fibre that comes clean loses nothing that matters; raw wool and silk do."""
    assert {key for key, scour in scours().items() if scour.loss.value} == {"wool-greasy", "silk-raw"}


def test_protein_sees_no_soda() -> None:
    """Soda and heat attack wool, hair and silk."""
    for fibre in fibres().values():
        if fibre.group != "cellulose":
            named = {agent.material for key in (fibre.scour, fibre.scour_greasy) for agent in scours()[key].agents}
            assert "soda-ash" not in named


@pytest.mark.parametrize("key", methods())
def test_practice_takes_at_least_what_the_reaction_does(key: str) -> None:
    """A usual powder gets more reducer than the reaction takes, in every kind of vat whose reaction is known."""
    method, plan = methods()[key], set_value(wool_plan(), "method", key)
    figure = compute(plan)["stock.reducer"]
    if reducer(materials()[method.reducer].species).assumed:
        assert figure.minimum is None
    else:
        assert figure.minimum is not None
        assert figure.value >= figure.minimum


@pytest.mark.parametrize("key", methods())
def test_the_stock_stays_below_its_ceiling(key: str) -> None:
    """No method's own temperature lies above what ruins its stock."""
    rules = methods()[key].stock
    assert rules.temperature.value <= rules.ceiling.value


@pytest.mark.parametrize("key", methods())
def test_the_vat_is_warm_enough_for_its_reducer(key: str) -> None:
    """Every fibre's temperature lies at or above what the reducer needs."""
    rules = methods()[key].vat
    for group in ("protein", "silk", "cellulose"):
        assert rules.warmth.of(group).value >= rules.temperature_low


def test_a_group_nobody_knows_is_dyed_like_cellulose() -> None:
    """An unknown group gets cellulose's warmth rather than an error."""
    warmth = methods()["tdo-lye"].vat.warmth
    assert warmth.of("protein") is warmth.protein
    assert warmth.of("feathers") is warmth.cellulose


@pytest.mark.parametrize("key", ["fructose-lime", "copperas-lime"])
def test_lime_is_not_for_wool(key: str) -> None:
    """Lime stands two units above what wool takes."""
    assert methods()[key].vat.suits == ("cellulose",)


def blanks(step: StepTemplate) -> set[str]:
    """Give the names of the blanks in a step's text."""
    return set(re.findall(r"\{([a-z_.0-9-]+)\}", step.text + step.kept))


JAR_WORDS = {"jar", "in_all", "shared", "in_jar", "lye_water", "lye_jug", "alkali", "reducer"}


@pytest.mark.parametrize("key", methods())
def test_every_blank_of_a_method_is_a_figure(key: str) -> None:
    """Texts, waits and nudges of a method's steps name figures of its own sheet."""
    plan = set_value(wool_plan(), "method", key)
    plans = (plan, *(evolve(plan, kept=kept_vat(celsius=celsius)) for celsius in (5, 90)))
    ids = {figure.id for one in plans for figure in compute(one).figures}
    for step in methods()[key].steps:
        named = blanks(step) - JAR_WORDS
        assert named <= ids | {f"{stage}.draw" for stage in ("stock", "vat")}, step.id
        assert {step.wait, *step.needs} <= ids | {"", "stock.kettle", "vat.kettle", "vat.cooling"}
        assert {step.nudge_every} <= ids | {""}


def test_every_blank_of_the_scour_is_a_figure() -> None:
    """Texts and waits of the scour's steps name figures of a bath."""
    ids = {figure.id for figure in greasy().figures}
    bath = baths(set_value(wool_plan(), "lots.a.condition", "greasy"))[0]
    for step in steps_of("scour"):
        named = {name.removeprefix("bath.") for name in blanks(step) if name.startswith("bath.")}
        assert {bath.id(name) for name in named if not name.endswith("draw")} <= ids, step.id
        assert not step.wait or step.wait == "kettle" or bath.id(step.wait) in ids
        assert blanks(step) - {f"bath.{name}" for name in named} <= {"fibre", "agents", "quicker", "ties"}


def greasy() -> Sheet:
    """Give the sheet of greasy wool, which has every scour step."""
    return compute(set_value(wool_plan(), "lots.a.condition", "greasy"))


@pytest.mark.parametrize("key", methods())
def test_every_powder_is_warned_of_where_it_is_handled(key: str) -> None:
    """Each caution of a method's alkali, reducer and indigo stands before the step that handles it."""
    method = methods()[key]
    warned = {name for step in method.steps for name in step.cautions}
    for role in ("indigo", "alkali", "reducer"):
        assert role in warned or set(materials()[getattr(method, role)].cautions) <= warned


@pytest.mark.parametrize("key", ["lye", "lime", "reducer", "acid"])
def test_what_can_hurt_must_be_acknowledged(key: str) -> None:
    """Lye, lime, reducer and acid open their steps only once they were read."""
    assert cautions()[key].acknowledge


def test_no_source_is_idle() -> None:
    """Every source is named by a number of the catalogue or by a figure."""
    root = Path(vatside.__file__).parent
    files = [*root.rglob("*.toml"), *root.rglob("*.py")]
    text = "".join(path.read_text("utf-8") for path in files if path.name != "sources.toml")
    assert [key for key in sources() if not re.search(rf'["\[]{key}["\]]', text)] == []


def test_sources_say_how_much_was_seen() -> None:
    """Each citation says whether a whole text, a part or nothing of it was seen."""
    assert {source.seen for source in sources().values()} <= {"whole", "pages", "table", "extract", "abstract", "none"}
    assert all(source.text for source in sources().values())


@pytest.mark.parametrize("method", sorted(methods()))
@pytest.mark.parametrize("step", ["stock.look", "vat.look"])
def test_the_signs_of_readiness_come_from_a_text_that_was_seen(method: str, step: str) -> None:
    """What a dyer is told to look for before she goes on is somebody's published word, not hearsay."""
    looks = [item for item in methods()[method].steps if item.id == step]
    assert len(looks) == (step not in methods()[method].without)
    assert all(sources()[look.source].seen != "none" for look in looks)


@pytest.mark.parametrize(
    ("method", "step", "signs"),
    [
        # Mairet 1938: a perfectly clear golden yellow on glass, free of dark spots, blue in about 45 seconds.
        ("dithionite-lye", "stock.look", ("glass", "clear", "golden yellow", "no dark specks", "45 s")),
        # The same: the vat greenish yellow, which a reading calls yellow-green; a blue, turbid one wants reducer.
        ("dithionite-lye", "vat.look", ("yellow-green", "neither blue nor cloudy")),
        # Mairet 1938, zinc and lime: the stock pure yellow under a blue-black scum, the vat like light ale.
        ("fructose-lime", "stock.look", ("pure yellow", "blue-black scum", "glass")),
        ("fructose-lime", "vat.look", ("light ale", "greenish means not yet")),
        # Mairet 1916, no. 6: greenish yellow with blackish veins and a rich froth.
        ("copperas-lime", "stock.look", ("greenish yellow", "dark veins", "rich blue froth")),
        # Beech 1901: clear and brownish yellow under a bluish scum; any green is dye not reduced.
        ("copperas-lime", "vat.look", ("clear and brownish yellow", "no green", "scum")),
    ],
)
def test_signs_of_readiness(method: str, step: str, signs: tuple[str, ...]) -> None:
    """Each sign that the text names is named, in words of our own."""
    (text,) = [item.text for item in methods()[method].steps if item.id == step]
    assert [sign for sign in signs if sign not in text] == []
