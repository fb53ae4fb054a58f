"""What the form says in and below a field that is empty or chosen."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.ui.hands import Bench

from vatside.forms.field import FormRow
from vatside.plan.paths import OTHERS
from vatside.plan.plan import Plan, TapKind
from vatside.plan.sheet import Stage
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.ui.text.form_rows import cut_choice, form_rows, words
from vatside.ui.text.rows import cells
from vatside.vat.reading_form import reading_fields


def field(plan: Plan, stage: Stage, path: str) -> FormRow:
    """Give one row of a form."""
    found = form_rows(plan, compute(plan), stage, plan.lots[0].id, {})
    return next(item for item in found if item.field.path == path)


def test_who_has_one_tub_is_told_of_no_others() -> None:
    """An empty field of further tubs stands for none, not for usual ones."""
    plan = starter_plan()
    one = evolve(plan, vessels=evolve(plan.vessels, others=()))
    assert field(one, Stage.VAT, OTHERS).hint == "none"


@pytest.mark.parametrize(("second", "said"), [("", "nothing: one fibre"), ("cotton", "cotton: the second fibre")])
def test_a_blend_says_what_its_choice_means(second: str, said: str) -> None:
    """Nothing is one fibre alone; any other choice is the second one."""
    plan = starter_plan()
    plan = evolve(plan, lots=(evolve(plan.lots[0], second=second),))
    item = field(plan, Stage.PLAN, "lots.a.second")
    below = " ".join(line.text.strip() for line in words(item, {}, 60, 20))
    assert below.startswith(said)


def test_a_choice_of_few_names_them_all() -> None:
    """Who calls her skeins yarn reads below the row what they are called here."""
    plan = starter_plan()
    below = " ".join(line.text.strip() for line in words(field(plan, Stage.PLAN, "lots.a.form"), {}, 40, 20))
    assert "skeins, cloth, garments, loose fibre" in below


def test_not_having_looked_is_no_name_among_them() -> None:
    """A look that is not made yet has no name: it begins the row of what could be seen with no comma."""
    clarity = next(item for item in reading_fields() if item.label == "Clarity")
    below = " ".join(line.text.strip() for line in words(FormRow(clarity, ""), {}, 60, 20))
    assert "chooses: clear, cloudy" in below


@pytest.mark.parametrize(("tap", "mg"), [(TapKind.HARD, 300), (TapKind.UNKNOWN, 150), (TapKind.SOFT, 40)])
def test_an_empty_hardness_shows_what_the_word_for_the_tap_stands_for(tap: TapKind, mg: int) -> None:
    """A hard tap has no usual hardness: 300 mg/L, 150 where nothing is known, 40 for a soft one."""
    plan = starter_plan()
    plan = evolve(plan, water=evolve(plan.water, tap=tap))
    found = next(item for stage in Stage for item in form_rows(plan, compute(plan), stage, plan.lots[0].id, {})
                 if item.field.path == "water.hardness")  # fmt: skip
    assert found.hint == f"about {mg} mg/L"


@pytest.mark.parametrize("width", [8, 14, 21, 29, 30, 40])
def test_choices_that_begin_alike_are_told_apart_where_they_are_cut(width: int) -> None:
    """Beads and flakes of lye weigh a spoon each its own way: no width shows both as the same."""
    names = ("lye (sodium hydroxide), beads", "lye (sodium hydroxide), flakes", "slaked lime")
    cut = [cut_choice(name, names, width) for name in names]
    assert len(set(cut)) == 3
    assert all(cells(text) <= width for text in cut)
    assert cut_choice(names[2], names, 8) == "slaked…"


@pytest.mark.parametrize(("width", "whole"), [(120, False), (140, True)])
async def test_a_wide_screen_gives_the_form_its_share(bench: Bench, width: int, whole: bool) -> None:
    """With room for all three the powder's name is not cut; at 120 columns the steps need theirs."""
    async with bench(size=(width, 40)) as hands:
        await hands.new_day()
        await hands.to("stock")
        assert ("natural indigo powder" in hands.screen) is whole
        assert "natural indigo" in hands.screen
