"""The dozen figures of a stage that are always seen."""

from __future__ import annotations

from fnmatch import fnmatch

import pytest
from hypothesis import given
from tests.effort import examples
from tests.plan.any_plan import any_plan
from tests.plan.plans import plan_of_lots, plan_with, told, wool_plan

from vatside.log.fold import fold, sheet_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet, Stage
from vatside.recipe.compute import compute
from vatside.recipe.worksheet import MOST, NEED, shown
from vatside.storage.places import samples_folder
from vatside.storage.session_text import decode

SHEETS = {path.stem: sheet_of(fold(decode(path.read_bytes()).session)) for path in samples_folder().glob("*.json")}
SHEETS["starter"] = compute(wool_plan())
WEIGHED = {
    Stage.SCOUR: ("soap", "soda-ash", "detergent"),
    Stage.STOCK: ("pigment", "alkali", "reducer", "water", "hot", "cold"),
    Stage.VAT: ("alkali", "reducer", "stock", "water", "hot", "cold"),
    Stage.FINISH: ("vinegar", "citric", "detergent", "water"),
}
"""What goes into scale or jug, by the last part of its id."""


def ids(sheet: Sheet, stage: Stage) -> list[str]:
    """Give the ids of what is shown."""
    return [figure.id for figure in shown(sheet, stage)]


@pytest.mark.parametrize("stage", Stage)
@pytest.mark.parametrize("name", SHEETS)
def test_a_stage_shows_a_dozen_at_most(name: str, stage: Stage) -> None:
    """Neither the first day nor a sample has more to take in at once."""
    assert len(shown(SHEETS[name], stage)) <= 12


@pytest.mark.parametrize("stage", WEIGHED)
@pytest.mark.parametrize("name", SHEETS)
def test_what_is_weighed_and_drawn_is_among_them(name: str, stage: Stage) -> None:
    """Powders, water and vinegar: whatever a step puts in, and not 0 g; a scour of two baths draws by its steps."""
    here = {
        figure.id
        for figure in SHEETS[name].of(stage)
        if figure.id.rpartition(".")[2] in WEIGHED[stage] and figure.value
    }
    assert here <= set(ids(SHEETS[name], stage))


def test_what_is_held_or_spoken_of_is_always_seen() -> None:
    """A held figure and the ones that a notice is about have no key to be looked for behind."""
    plan = told(told(wool_plan(), "vat.alkali", "40 g"), "stock.look_every", "10 min")
    sheet = compute(plan)
    named = {notice.figure for notice in sheet.notices} - {None}
    seen = {figure for stage in Stage for figure in ids(sheet, stage)}
    assert named
    assert named | {"vat.alkali", "stock.look_every"} <= seen


@examples(25)
@given(any_plan())
def test_of_any_plan(plan: Plan) -> None:
    """No more than a dozen but for what is held, spoken of or needed first; in the order of the sheet."""
    sheet = compute(plan)
    named = {notice.figure for notice in sheet.notices} | {
        key for item in sheet.notices for cure in item.remedies for key, _ in cure.places
    }
    for stage in Stage:
        found = shown(sheet, stage)
        first = NEED[stage][0] if stage in NEED else ""
        must = [item for item in found if item.pin is not None or item.id in named or fnmatch(item.id, first)]
        assert len(found) <= max(MOST, len(must))
        assert [item for item in sheet.of(stage) if item in found] == list(found)


def test_ten_lots_show_their_dips_and_not_some_of_their_minutes() -> None:
    """Lots are treated alike: what there is no room for is left out for all of them."""
    sheet = compute(plan_of_lots(*[("cotton", "100 g")] * 10))
    names = [figure.rpartition(".")[2] for figure in ids(sheet, Stage.DIP)]
    assert names.count("dips") == 10
    assert {names.count(name) for name in ("dip", "air", "at_once")} <= {0, 10}


def test_ready_scoured_fibre_shows_its_wetting_out() -> None:
    """There is nothing to weigh; how long and in how much water is all."""
    sheet = compute(plan_with(lots__a__condition="ready scoured"))
    assert ids(sheet, Stage.SCOUR) == ["scour.wool-ready.soak", "scour.wool-ready.soak_water"]
