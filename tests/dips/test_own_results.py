"""What the dyer's own recorded colours say of the law of uptake."""

from __future__ import annotations

from math import exp, log, sqrt

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.plan.plans import free_plan, plan_with

from vatside.dips.own_results import LEAST_FOLLOWS, OnPiece, Result, doubtful, learned, result
from vatside.plan.plan import Learned, Plan
from vatside.recipe.compute import compute

PICKED = Result(expected=0.80, follows=0.70, got=0.60, spread=0.30)
MEASURED = Result(expected=1.00, follows=0.70, got=0.85, spread=0.15)
RESULTS = st.builds(Result, st.floats(0.1, 4), st.floats(0.2, 1), st.floats(0.1, 4), st.floats(0.1, 0.6))


def test_two_results_by_hand() -> None:
    """Picked 0.60 for 0.80, measured 0.85 for 1.00, both following the law by 0.70.

    ln 0.75 ÷ 0.7 = −0.411, (0.30/0.7)² + 0.04 = 0.2237, weight 4.47; ln 0.85 ÷ 0.7 = −0.232, 0.0859, weight 11.64;
    before them 1/0.35² = 8.16. (−1.838 − 2.702) ÷ 24.27 = −0.187: factor 0.83, spread 0.20.
    """
    found = learned("cellulose", [PICKED, MEASURED])
    assert PICKED.log_factor == pytest.approx(-0.411, abs=1e-3)
    assert MEASURED.log_factor == pytest.approx(-0.232, abs=1e-3)
    assert (1 / PICKED.variance, 1 / MEASURED.variance) == pytest.approx((4.47, 11.64), abs=0.01)
    assert log(found.factor) == pytest.approx(-0.187, abs=1e-3)
    assert found.factor == pytest.approx(0.83, abs=0.005)
    assert found.spread == pytest.approx(0.203, abs=1e-3)
    assert found.results == 2


def test_no_result_is_the_practice_table() -> None:
    """A factor of one, as sure as the table's bands: 0.35."""
    found = learned("silk", [])
    assert (found.group, found.factor, found.results) == ("silk", 1.0, 0)
    assert found.spread == pytest.approx(0.35)


def test_one_bad_picture_moves_a_plan_little_and_ten_that_agree_settle_it() -> None:
    """By hand, spread 0.45, follows 0.7: v = 0.453, w = 2.2 of 10.4. Ten: w = 22, sd = 1 / sqrt(8.16 + 22.1) = 0.18."""
    picture = Result(1.0, 0.7, 0.7, 0.45)
    one, ten = learned("protein", [picture]), learned("protein", [picture] * 10)
    assert log(one.factor) == pytest.approx(picture.log_factor * 2.207 / (2.207 + 8.163), rel=0.01)
    assert abs(log(ten.factor)) > 3 * abs(log(one.factor))
    assert ten.spread == pytest.approx(1 / sqrt(8.163 + 22.07), rel=0.01)


def test_the_surer_of_two_pulls_harder() -> None:
    """One says twice as much and one half as much; the measured one wins over the picked."""
    twice, half = evolve(MEASURED, got=2.0), evolve(PICKED, got=0.4)
    assert learned("cellulose", [twice, half]).factor > 1
    assert learned("cellulose", [evolve(twice, spread=0.3), evolve(half, spread=0.15)]).factor < 1


def test_a_result_that_the_others_contradict_counts_less() -> None:
    """Five agree on the table, one says four times as much: it is doubted, and moves the factor less than its weight.

    By hand: mean of the others 0, precision 8.16 + 5 x 11.64 = 66.4; limit 2.5 x sqrt(0.0859 + 1/66.4) = 0.795, and it
    lies ln 4 ÷ 0.7 = 1.980 away: 0.795 / 1.980 = 0.40 of its weight is left.
    """
    sure = evolve(MEASURED, got=1.0)
    wild = evolve(MEASURED, got=4.0)
    assert doubtful(5, [sure] * 5 + [wild]) == pytest.approx(0.40, abs=0.005)
    left = 0.4015 * 11.64
    assert log(learned("cellulose", [sure] * 5 + [wild]).factor) == pytest.approx(
        1.980 * left / (66.4 + left), rel=0.01
    )
    assert doubtful(0, [sure] * 5 + [wild]) == float("inf") or doubtful(0, [sure] * 5 + [wild]) > 1


@given(st.lists(RESULTS, max_size=8))
def test_the_factor_stays_within_what_is_believed(results: list[Result]) -> None:
    """Whatever was recorded: 0.4 to 2.5 times the table, and never less sure than before."""
    found = learned("cellulose", results)
    assert 0.4 <= found.factor <= 2.5
    assert found.spread <= 0.35 + 1e-12
    assert found.results == len(results)


@given(st.lists(RESULTS, max_size=6), RESULTS)
def test_every_result_makes_it_surer(results: list[Result], more: Result) -> None:
    """By its weight: where none of them is doubted, the precisions add up."""
    found = [*results, more]
    if all(doubtful(number, found) >= 1 for number in range(len(found))):
        wanted = 1 / 0.35**2 + sum(1 / item.variance for item in found)
        assert learned("silk", found).spread == pytest.approx(1 / sqrt(wanted))


def test_a_piece_says_how_far_its_depth_follows() -> None:
    """Ten percent more that it takes lay on 7 % more: 0.71; 100 g with 1 g by the table of which 15 % are rinsed."""
    on = OnPiece(laid=0.9, rinsed=0.15, by_table=1.0, by_more=1.07)
    found = result(on, 100, 0.7, 0.3)
    assert found is not None
    assert found.expected == pytest.approx(0.85)
    assert found.follows == pytest.approx(log(1.07) / log(1.1))


@pytest.mark.parametrize(
    ("on", "got"),
    [(OnPiece(), 0.5), (OnPiece(rinsed=0.15, by_table=1, by_more=1), 0.5), (OnPiece(by_table=1, by_more=1.1), 0.0)],
)
def test_a_piece_that_shows_nothing_says_nothing(on: OnPiece, got: float) -> None:
    """No dip, a depth that does not follow, or no blue."""
    assert result(on, 100, got, 0.3) is None


def test_near_the_ceiling_a_depth_says_little() -> None:
    """It is taken to follow by a fifth at least, so that no result is blown up."""
    found = result(OnPiece(by_table=1.0, by_more=1.001), 100, 0.5, 0.3)
    assert found is not None
    assert found.follows == LEAST_FOLLOWS


def with_results(factor: float, spread: float, count: int) -> Plan:
    """Give ten pieces of cotton, where the dyer's own results say so much."""
    plan = plan_with(
        free_plan(), lots__a__fibre="cotton", lots__a__mass="1 kg", lots__a__pieces="10", lots__a__depth="1 %",
        vat__fill="15 L", stock__pigment="45 g",
    )  # fmt: skip
    return evolve(plan, learned=(Learned("cellulose", factor, spread, count),))


def dips(plan: Plan) -> list[float]:
    """Give the dips of the lot: as few as, worked out, as many as."""
    sheet = compute(plan)
    return [sheet[f"dip.a.{name}"].value for name in ("dips_low", "dips", "dips_high")]


def test_own_results_go_into_the_plan_by_themselves() -> None:
    """After the two results above, factor 0.83: more dips than by the table, and the working says what it rests on."""
    plan = with_results(0.83, 0.203, 2)
    assert dips(plan)[1] > dips(with_results(1.0, 0.35, 0))[1]
    figure = compute(plan)["dip.a.factor"]
    assert figure.value == pytest.approx(83)
    assert ("results", 2) in [(item.label, item.value) for item in figure.working.inputs]


def test_the_range_narrows_with_results() -> None:
    """The same factor, surer: fewer dips between as few as and as many as."""
    wide, narrow = dips(with_results(1.0, 0.35, 0)), dips(with_results(1.0, 0.05, 10))
    assert wide[1] == narrow[1]
    assert wide[0] <= narrow[0] <= narrow[1] <= narrow[2] < wide[2]


def test_the_range_by_hand() -> None:
    """Four days in five: e^(±1.28 × sqrt(0.35² + 0.20²)) = 1.68 and 0.60."""
    rows = compute(with_results(1.0, 0.35, 0))["dip.a.dips_low"].working.inputs
    assert [item.value for item in rows if item.label == "takes"] == [pytest.approx(100 * exp(1.28 * 0.4031), rel=1e-3)]


def test_a_pin_wins_over_results() -> None:
    """Held at the table: the dips are the table's, whatever was recorded."""
    held = plan_with(with_results(0.5, 0.1, 9), dip__a__factor="100 %")
    assert dips(held)[1] == dips(with_results(1.0, 0.35, 0))[1]


def test_results_of_one_group_say_nothing_of_another() -> None:
    """What cotton took does not move wool."""
    plan = free_plan()
    assert compute(evolve(plan, learned=(Learned("cellulose", 0.5, 0.1, 9),)))["dip.a.factor"].value == 100
