"""The ladder of swatches, and what a recorded swatch says."""

from __future__ import annotations

import re
from itertools import pairwise

import pytest

from vatside.catalogue.dyeing import ladder
from vatside.catalogue.load import fibres
from vatside.chemistry.colour import Lab
from vatside.chemistry.shade import Fit
from vatside.dips.depth import Graded, Picked, compare, depth_name, rests_on, seen_depth, swatch, swatches

COTTON = fibres()["cotton"]


@pytest.mark.parametrize("fibre", fibres())
def test_every_fibre_has_a_ladder_from_pale_to_near_black(fibre: str) -> None:
    """The steps run from 0.1 % to 4 % and more, each darker, each with a name and a colour."""
    steps = swatches(fibres()[fibre])
    assert steps[0].depth == 0.1
    assert steps[-1].depth >= 4
    assert all(pale.lab.L > deep.lab.L for pale, deep in pairwise(steps))
    assert all(re.fullmatch("#[0-9a-f]{6}", step.hex) and step.name for step in steps)


def test_names_are_told_apart() -> None:
    """On a terminal without colours the name alone must do."""
    names = [rung.name for rung in ladder()]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize(
    ("depth", "name"),
    [(0, "undyed"), (0.1, "very pale"), (0.45, "light"), (0.8, "medium"), (2.2, "dark"), (9, "near black")],
)
def test_a_depth_is_named_by_its_nearest_step(depth: float, name: str) -> None:
    """In ratio, so that 0.45 is light rather than medium."""
    assert depth_name(depth) == name


def test_a_higher_yield_is_darker() -> None:
    """With the dyer's own colour yield above the estimate every step is darker."""
    own = Fit(12.0, 3, 0.5)
    plain, fitted = swatches(COTTON), swatches(COTTON, own)
    assert all(mine.lab.L < theirs.lab.L for mine, theirs in zip(fitted, plain, strict=True))


@pytest.mark.parametrize(
    ("fit", "words"),
    [
        (None, "an estimate: no result of yours yet"),
        (Fit(8, 0), "an estimate: no result of yours yet"),
        (Fit(8, 1), "from one result of your own"),
        (Fit(8, 4, 0.8), "from 4 of your own results, ±10 %"),
        (Fit(8, 4, 0.0), "from 4 of your own results"),
    ],
)
def test_it_says_what_it_rests_on(fit: Fit | None, words: str) -> None:
    """Nobody takes an estimate for a measurement."""
    assert rests_on(fit) == words


def test_a_picked_step_is_its_depth() -> None:
    """Picking the step of 0.8 % says 0.8 %."""
    assert seen_depth(Picked(0.8), COTTON).depth == 0.8


def test_a_measured_colour_is_the_nearest_depth() -> None:
    """The colour of a step leads back to the step."""
    assert seen_depth(swatch(1.4, COTTON).lab, COTTON).depth == pytest.approx(1.4, rel=1e-3)


def test_a_graded_swatch_lies_beside_its_step() -> None:
    """Darker than the step is deeper, paler is less, and a worse grade is farther off."""
    darker, paler = (seen_depth(Graded(0.8, 4, side), COTTON).depth for side in (True, False))
    assert paler < 0.8 < darker
    assert seen_depth(Graded(0.8, 3, True), COTTON).depth > darker


def test_a_match_is_said_to_be_one() -> None:
    """A swatch of the depth wanted has grade 5 and is as wanted."""
    found = compare(swatch(0.8, COTTON).lab, 0.8, COTTON)
    assert found.grade == 5
    assert "as wanted" in found.words(0.8)


def test_a_pale_swatch_is_said_to_be_paler() -> None:
    """Light where medium was wanted: paler, with a poor grade."""
    found = compare(Picked(0.4), 0.8, COTTON)
    assert found.grade <= 2.5
    assert "paler than the medium wanted" in found.words(0.8)


def test_a_colour_that_is_no_indigo_is_said_to_be_none() -> None:
    """A green finds a depth and is marked as foreign."""
    found = compare(Lab(50, -40, 30), 0.8, COTTON)
    assert not found.plain
    assert "not that of indigo alone" in found.words(0.8)
