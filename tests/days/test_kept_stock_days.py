"""The stock that stays in its jar, and other vats from it."""

from __future__ import annotations

import json
from datetime import UTC
from pathlib import Path

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.effort import examples
from tests.log.played import BEGAN, Played
from tests.recipe.test_kept_stock import for_others, with_stock
from tests.recipe.test_kept_stock import stock as a_stock
from tests.shelf.shelves import item, of

from vatside.dayline.day_steps import steps
from vatside.days import kept_stock
from vatside.days.done import added
from vatside.days.kept_vats import is_begun
from vatside.log.events.day import Undone
from vatside.log.events.vat import CorrectionMade, StockCarriedOn, VatLetGo, VatMade
from vatside.log.fold import State, sheet_of
from vatside.log.state import Session
from vatside.log.words.day import words
from vatside.plan.plan import Plan, StockKept
from vatside.plan.starter import starter_plan
from vatside.recipe.kept import in_jar
from vatside.shelf.cost import day_cost
from vatside.shelf.events import ItemBought
from vatside.storage.codec import DAY_LOG, plan_from_json, plan_to_json
from vatside.storage.session_file import SessionFile
from vatside.units import Amount, Kind, to_base

MAKING = ("stock.paste", "stock.alkali_in", "stock.reducer_in", "stock.look", "vat.stock_in")
DAY_MIN = 24 * 60.0


def a_day(plan: Plan | None = None, ident: str = "s1") -> Played:
    """A day whose vat is made, with 15 g of powder in the stock for other vats: 6 g of indigotin."""
    return Played(plan or for_others(15), ident).done(*MAKING).happen(VatMade())


def in_jar_g(state: State) -> float:
    """Indigotin that stands in the jar, g."""
    found = kept_stock.left(state, UTC)
    return to_base(found.indigotin, Kind.MASS) if found else 0.0


def another(day: Played, ident: str = "s2", after_min: float = 1.0) -> Played:
    """The next day, begun from what the first one left; both logs say so."""
    day.clock.advance(after_min * 60)
    now = day.clock.now()
    taken = kept_stock.take(day.state, now, zone=UTC)
    assert taken is not None
    gone, came = kept_stock.events(day.state, taken, ident, taken.plan.title, now)
    day.happen(gone, 0)
    return Played(taken.plan, ident, VirtualClock(now.utc, now.elapsed, now.boot)).happen(came, 0)


def used(day: Played) -> float:
    """Indigotin in the vat of a day, g."""
    assert day.state.tending.account is not None
    return day.state.tending.account.indigotin_g


def test_half_a_jar_used_leaves_half() -> None:
    """8.57 g of powder for the vat and as much for another: half of the dye stays in the account."""
    day = a_day(for_others(300 * 0.008 / 0.7 / 0.4))
    assert in_jar_g(day.state) == pytest.approx(300 * 0.008 / 0.7)
    assert in_jar_g(day.state) == pytest.approx(used(day))


def test_nothing_stands_in_the_jar_before_the_vat_is_made() -> None:
    """A plan is no stock yet; nor is a jar that was emptied."""
    assert kept_stock.left(Played(for_others(15)).state) is None
    assert kept_stock.left(a_day(starter_plan()).state) is None


def test_stock_that_a_correction_took_is_gone_from_the_jar() -> None:
    """What really went in counts: 100 mL more of 9.92 g/L."""
    day = a_day()
    before = in_jar_g(day.state)
    day.happen(CorrectionMade(stock=Amount(100, "mL")))
    assert before - in_jar_g(day.state) == pytest.approx(0.1 * before / 0.604545, rel=1e-4)


def test_the_jar_outlives_the_vat() -> None:
    """The vat is poured away; the stock stands there still, and can be taken."""
    day = a_day().happen(VatLetGo(Amount(4, "L"), 9, "", None, 8, "drain"))
    assert in_jar_g(day.state) == pytest.approx(6)
    another(day)
    assert in_jar_g(day.state) == 0


def test_the_label_says_when_it_was_made_by_the_log() -> None:
    """Looked at and found good four minutes after six: that day and hour, and thirty days on."""
    day = a_day()
    label = kept_stock.label_lines(day.state, sheet_of(day.state), UTC)
    assert label[1] == "made 2 May 06:04, use by 1 Jun"
    assert "9.92 g/L" in label[0]
    assert "CAUSTIC" in label[2]


def test_the_step_that_labels_the_jar_has_the_label_of_the_log() -> None:
    """As long as the jar stands there; once another day has it, there is nothing to label."""
    day = a_day()

    def texts() -> list[str]:
        sheet = sheet_of(day.state)
        found = kept_stock.with_label(steps(day.state.plan, sheet), day.state, sheet)
        return [step.text for step in found if step.id == kept_stock.LABELLED]

    assert len(texts()) == 1
    assert "use by 1 Jun" in texts()[0]
    assert "day and hour" not in texts()[0]
    another(day)
    assert texts() == []


def test_two_vats_from_one_stock_use_exactly_what_it_held() -> None:
    """Side by side on one day: dye in both vats and in the last jar is what was weighed in, to 1e-9."""
    first = a_day()
    second = another(first).happen(VatMade())
    weighed = sheet_of(first.state).value("stock.indigotin")
    assert used(first) + used(second) + in_jar_g(second.state) == pytest.approx(weighed, rel=1e-9)
    assert in_jar_g(first.state) == 0
    assert (*first.state.misfits, *second.state.misfits) == ()


@examples(10)
@given(st.floats(1, 60), st.lists(st.floats(0.05, 0.9), min_size=1, max_size=3))
def test_any_splits_of_a_stock_lose_nothing(powder_g: float, shares: list[float]) -> None:
    """One vat after the other takes a share of what is left."""
    days = [a_day(for_others(powder_g))]
    for number, share in enumerate(shares):
        found = kept_stock.left(days[-1].state, UTC)
        if found is None:
            break
        litres = f"{share * to_base(found.volume, Kind.VOLUME):.6f} L"
        days.append(another(days[-1], f"s{number + 2}").set("vat.stock_kept", litres).happen(VatMade()))
    last = days[-1].state.tending.account
    assert last is not None
    there = sum(used(day) for day in days) + last.stock_strength * last.stock_litres
    made = sum(sheet_of(day.state).value("stock.indigotin") for day in days)
    assert there == pytest.approx(made, rel=1e-9)


def test_the_first_day_may_be_under_way_still() -> None:
    """Its vat goes on; only the jar is gone."""
    day = a_day()
    before = used(day)
    another(day)
    assert used(day) == before
    assert kept_stock.take(day.state, day.clock.now()) is None


def test_the_same_jar_is_not_taken_twice() -> None:
    """The second taking does not fit the log, and changes nothing."""
    day = a_day()
    taken = kept_stock.take(day.state, day.clock.now(), zone=UTC)
    assert taken is not None
    gone, _ = kept_stock.events(day.state, taken, "s2", "Wool", day.clock.now())
    day.happen(gone).happen(gone)
    assert [misfit.text for misfit in day.state.misfits] == ["there is no stock here"]


def test_taking_it_can_be_taken_back() -> None:
    """The jar stands in the first day's account again."""
    day = a_day()
    another(day)
    day.happen(Undone(day.session.seq))
    assert in_jar_g(day.state) == pytest.approx(6)


def test_reducer_is_not_counted_on_after_a_day() -> None:
    """Within it, it is as the account has it."""

    def reducer(minutes: float) -> float:
        kept = another(a_day(), after_min=minutes).state.plan.stock_kept
        assert kept is not None
        return to_base(kept.reducer, Kind.MASS)

    assert reducer(60) > 0
    assert reducer(25 * 60) == 0


def test_a_stock_past_its_days_says_so_when_it_is_taken() -> None:
    """Thirty days are over: the new day's sheet warns, though no hour was set for its vat."""
    late, soon = (another(a_day(), after_min=days * DAY_MIN) for days in (31, 29))
    assert any("past the 30 d" in notice.text for notice in sheet_of(late.state).notices)
    assert not any("past the" in notice.text for notice in sheet_of(soon.state).notices)
    kept = late.state.plan.stock_kept
    assert kept is not None
    assert "read it, and sharpen it" in kept_stock.age_words(late.state.plan, kept, kept.taken or "")


def test_what_is_left_of_a_kept_stock_keeps_its_date() -> None:
    """The third vat's jar is as old as the first one's."""
    second = another(a_day(), after_min=5 * DAY_MIN).happen(VatMade())
    assert (kept_stock.left(second.state, UTC) or a_stock()).made == "2026-05-02T06:04"


def test_nothing_is_booked_twice() -> None:
    """Powder is booked where it was weighed in; the second vat books none of it."""
    first = a_day()
    second = another(first).done("vat.stock_in").happen(VatMade())
    pigment = [use.use.grams for day in (first, second) for use in added(day.session) if use.use.material == "indigo"]
    assert pigment == [pytest.approx(300 * 0.008 / 0.7 / 0.4 + 15)]


def test_the_dye_is_paid_where_it_went() -> None:
    """Both days together pay for the powder once, less what still stands in the last jar."""
    shelf = of(ItemBought(item("i1", price=Amount(40, ""))))
    first = a_day()
    second = another(first).done("vat.stock_in").happen(VatMade())

    def dye(day: Played) -> float:
        return sum(row.money or 0.0 for row in day_cost(day.session, shelf).rows if row.by_colour)

    left = in_jar_g(second.state)
    weighed = sheet_of(first.state).value("stock.indigotin")
    assert dye(first) + dye(second) == pytest.approx((weighed - left) / 0.4 * 0.40)
    assert dye(first) == pytest.approx(used(first) / 0.4 * 0.40)


def test_jars_stand_in_the_list_until_they_are_taken(tmp_path: Path) -> None:
    """One that was left is found among the files, one that was taken is not, nor a file that cannot be read."""
    left, taken = a_day(), a_day(ident="s3")
    another(taken)
    paths = [tmp_path / f"{name}.json" for name in ("left", "taken", "torn")]
    for path, day in zip(paths, (left, taken), strict=False):
        SessionFile.write_new(path, day.session).close()
    paths[2].write_text('{"stock.others"')
    (found,) = kept_stock.standing_stocks(paths)
    assert found.path == paths[0]
    jar = in_jar(evolve(found.plan, stock_kept=found.stock))
    assert jar.litres == pytest.approx(0.6045, rel=1e-3)
    assert jar.strength == pytest.approx(9.92, rel=1e-3)


def test_a_day_that_only_has_the_jar_at_hand_is_not_begun() -> None:
    """It touched no vat yet."""
    assert not is_begun(another(a_day()).state)


def test_the_log_says_whose_jar_it_is() -> None:
    """Both days name the other one."""
    first = a_day()
    second = another(first)
    gone, came = first.session.entries[-1], second.session.entries[-1]
    held = "600 mL of stock at 9.92 g/L"
    assert words(gone.event, first.state) == f"The stock in the jar went to “A new day, again”: {held}"
    assert words(came.event, second.state) == f"From the jar of “A new day”: {held}"
    assert kept_stock.origin(second.state) == came.event


def test_a_kept_stock_survives_the_file() -> None:
    """Plan and events come back as they were; a plan without one does not name it, as in older files."""
    plan = with_stock(a_stock())
    assert plan_from_json(json.loads(json.dumps(plan_to_json(plan)))) == plan
    assert "stock_kept" not in plan_to_json(starter_plan())
    first = a_day()
    second = another(first)
    for entry in (first.session.entries[-1], second.session.entries[-1]):
        assert DAY_LOG.from_json(json.loads(json.dumps(DAY_LOG.to_json(entry)))) == entry


def test_a_stock_that_cannot_be_is_refused() -> None:
    """A jar of a thousand litres is none; the plan stays as it was."""
    stock = StockKept(Amount(1000, "L"), Amount(1, "g"), Amount(1, "g"), Amount(0, "g"))
    day = Played(starter_plan()).happen(StockCarriedOn("s0", "Monday", BEGAN, stock))
    assert day.state.plan.stock_kept is None
    assert len(day.state.misfits) == 1


def test_another_day_like_one_with_a_kept_stock_makes_its_own() -> None:
    """Its plan begins without the jar, which is empty by then."""
    second = another(a_day()).happen(VatMade())
    later = kept_stock.take(second.state, second.clock.now())
    assert later is not None
    assert later.plan.stock_kept is None
    assert isinstance(second.session, Session)
    assert evolve(second.state.plan, stock_kept=None).pins == later.plan.pins
