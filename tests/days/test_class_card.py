"""The class card: amounts for each table, times, cautions, and nothing in it that anyone could inject."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from functools import lru_cache
from html import unescape
from html.parser import HTMLParser

import pytest
from attrs import evolve
from hypothesis import assume, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from tests.clocks.virtual_clock import VirtualClock
from tests.dayline.test_need import plan_of
from tests.effort import examples
from tests.log.makers import CREATED
from tests.plan.plans import plan_of_lots, plan_with, wool_plan

from vatside.bench.day_line import QUICK, line_of
from vatside.bench.desk import Desk
from vatside.bench.keeping import Keeping
from vatside.catalogue.load import cautions, fibres, methods
from vatside.dayline.day_steps import steps
from vatside.dayline.day_words import clock_at, deeds
from vatside.dayline.laid_day import lay_day
from vatside.dayline.line.planning import AT_ONCE, EVALUATIONS
from vatside.dayline.steps import DEFER
from vatside.days.class_card import Handout, Weighed, handout
from vatside.days.class_clock import class_day
from vatside.days.class_pages import (
    SCALES,
    SIZES,
    SMALLEST,
    Block,
    Kind,
    fitted,
    height_pt,
    pages,
    type_size,
)
from vatside.days.class_print import escaped, html, markdown
from vatside.days.day_record import day_record
from vatside.days.lots import say_pieces, shared, split_pieces
from vatside.dips.lot import span
from vatside.log.events.day import WaitStarted
from vatside.log.fold import fold
from vatside.log.state import Session
from vatside.plan.figure_text import FigureText, figure_text
from vatside.plan.plan import Condition, Pin, Plan
from vatside.plan.sheet import Stage
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
from vatside.storage.places import samples_folder
from vatside.storage.session_text import loaded_of
from vatside.units import Amount

NOW = datetime(2026, 5, 2, 6, 0)
"""Local time, as the schedule takes it."""

HOSTILE = (
    "<script>alert(1)</script>",
    "</title><img src=x onerror=alert(1)>",
    "&lt;b&gt; &amp; <b>",
    "[click](javascript:alert(1))",
    "![x](http://evil.example/x.png)",
    "**bold** _em_ `code` ~~gone~~",
    "| a | b |",
    "# Heading",
    "1. one",
    "12) two",
    "- item",
    "+ item",
    "> quote",
    "```",
    "---",
    "===",
    "[ ] todo",
    "http://evil.example www.evil.example a@evil.example",
    "[^1] {.class} $x$ ==mark== ^up^",
    "line\none\r\n\n# two\x0b\x0c\u2028three",
    "\\*not* \\[x](y)",
    "\u202egnp.exe",
    "\u200f\u2067\u061cabc\u2069",
    "`` ` ``` |` |\\|",
    "a](b) ![c](d)](e)",
    "<!-- x --><![CDATA[ y ]]>",
    "&#60;script&#62; &#x3c;b&#x3e;",
    "</main></style><style>*{display:none}",
    'on" style="x:y" \'',
    "\tcode",
)


def card(plan: Plan | None = None, tables: int = 1) -> Handout:
    """The card of a plan."""
    return of(plan or wool_plan("Class"), tables)


def of(plan: Plan, tables: int, looks: int = AT_ONCE) -> Handout:
    """The card of a plan, its day laid with few looks: which hours come of it is tested where more are taken."""
    return handout(fold(Session("s", CREATED, plan)), tables, NOW, evaluations=looks)


def named(text: str) -> Plan:
    """A plan with a text wherever a person can type one."""
    plan = wool_plan(text)
    return evolve(plan, lots=(evolve(plan.lots[0], name=text), evolve(plan.lots[0], id="b", fibre="cotton", name=text)))


@lru_cache(maxsize=64)
def named_card(text: str) -> Handout:
    """The card of such a plan for three tables; on paper and as a page it is the same one."""
    return card(named(text), 3)


def weighed(found: Handout, label: str) -> Weighed:
    """One line of what to weigh."""
    return next(line for part in found.parts for line in part.weighed if line.label == label)


def test_amounts_of_scour_and_finish_are_divided_by_the_tables() -> None:
    """Four tables share the soap of one pot; by hand, a quarter each."""
    whole = compute(wool_plan())["scour.wool.soap"].value
    line = weighed(card(tables=4), "Soap")
    assert float(line.each.partition(" ")[0]) == pytest.approx(whole / 4, abs=0.06)


def test_one_shared_vat_is_one_vat() -> None:
    """Stock and vat are the teacher's, whole: what four tables share is not weighed four times."""
    for tables in (1, 4):
        found = card(tables=tables)
        line = weighed(found, "Indigo powder")
        assert (line.whole, line.each) == ("6.5 g (2 7/8 tsp)", "6.5 g (2 7/8 tsp)")
        assert {part.name for part in found.parts if part.teacher} == {"Stock", "Vat"}


@pytest.mark.parametrize("method", sorted(methods()))
def test_lye_is_the_teachers(method: str) -> None:
    """Whatever is done with lye, and all of stock and vat, is done by the teacher; the tables scour, dip and finish."""
    found = card(plan_with(method=method), 3)
    assert all(line.teacher for line in found.doing if "lye" in line.mind.lower() or line.stage in ("Stock", "Vat"))
    assert not any(line.teacher for line in found.doing if line.stage in ("Scour", "Finish"))
    assert not any("lye" in line.label.lower() for part in found.parts if not part.teacher for line in part.weighed)


def test_each_table_knows_its_fibre() -> None:
    """Four tables share 227 g; one table has all of it, and needs no word for that."""
    assert card(tables=4).fibre == ("Wool skeins: 227 g, pieces: 2, 56.8 g for each table if shared alike",)
    assert card().fibre == ("Wool skeins: 227 g, pieces: 2",)


def test_the_card_says_what_a_blend_is_made_of_and_whose_its_pieces_are() -> None:
    """A lot's name need not tell either."""
    lot = evolve(wool_plan().lots[0], second="silk", names=("Asha", "", "Nobody"))
    assert card(evolve(wool_plan(), lots=(lot,))).fibre == ("Wool skeins: 227 g of wool-silk 50/50, pieces: 2 (Asha)",)
    many = tuple(evolve(lot, id=f"l{n}", names=("Asha",) if n == 3 else ("Ben",) if n == 7 else ()) for n in range(20))
    assert card(evolve(wool_plan(), lots=many)).fibre == ("wool-silk 50/50, lots: 20: 4.54 kg, pieces: 40 (Asha, Ben)",)


def test_ten_names_on_nine_pieces_are_told() -> None:
    """The tenth has no piece: sheet and card say so, and whose it would have been."""
    names = ("Asha", "Ben", "Carla", "Dilip", "Edda", "Femi", "Greta", "Hana", "Ines", "Jonas")
    plan = evolve(wool_plan(), lots=(evolve(wool_plan().lots[0], pieces=9, names=names),))
    said = "Wool skeins: 10 names for 9 pieces, so there is none for Jonas."
    assert said in [notice.text for notice in compute(plan).notices]
    assert said in card(plan).looks


def test_many_lots_are_told_fibre_by_fibre() -> None:
    """Twenty lots of wool and of cotton are two lines."""
    plan = wool_plan()
    made = (evolve(plan.lots[0], id=f"l{n}", fibre=("wool", "cotton")[n % 2], pieces=1) for n in range(20))
    assert card(evolve(plan, lots=tuple(made))).fibre == (
        "wool, lots: 10: 2.27 kg, pieces: 10",
        "cotton, lots: 10: 2.27 kg, pieces: 10",
    )


@pytest.mark.parametrize("ready_by", ["2026-04-01T10:00", "2026-06-02T10:00"])
def test_times_lead_up_to_the_hour_that_is_wanted(ready_by: str) -> None:
    """A card of a day that is past is laid out like any other: the vat is ready by then."""
    found = card(evolve(wool_plan(), ready_by=ready_by))
    (ready,) = [row.at for row in found.times if row.text == "The vat is ready"]
    wanted = datetime.fromisoformat(ready_by)
    assert found.ready == f"{wanted:%A} {wanted.day} {wanted:%B %Y}, vat ready by {ready_by[-5:]}"
    assert timedelta(0) <= wanted - datetime.fromisoformat(f"{ready_by[:10]}T{ready}") < timedelta(minutes=30)


def test_the_hours_are_those_of_the_laid_day() -> None:
    """The card of a plan and `vatside day` of the same are one day: each step at the same minute."""
    plan = plan_with(ready_by="2026-05-02T14:00", place__lunch="45")
    sheet = compute(plan)
    laid = lay_day(plan, sheet, steps(plan, sheet), NOW)
    hours = {deed.step.text: clock_at(laid, deed.at) for deed in reversed(deeds(laid))}
    found = of(plan, 1, EVALUATIONS)
    assert {line.text: line.at for line in found.doing} == {line.text: hours[line.text] for line in found.doing}
    (lunch,) = laid.laid.breaks
    assert ("Everybody stops for 45 min", clock_at(laid, lunch)) in [(row.text, row.at) for row in found.times]
    assert (found.times[-1].text, found.times[-1].at) == ("All done", clock_at(laid, laid.laid.end))


def test_times_and_steps_stand_in_the_order_of_the_clock() -> None:
    """On page one and on page two; no stage stands behind another that begins later."""
    found = card(evolve(starter_plan(), ready_by="2026-05-02T12:00"), 3)
    for ats in ([row.at for row in found.times], [line.at for line in found.doing]):
        assert ats == sorted(ats)
        assert all(re.fullmatch(r"\d\d:\d\d", at) for at in ats)


def test_the_vat_is_ready_before_the_first_piece_goes_in() -> None:
    """Both stand at the same minute, and one who reads down the page looks at the vat first."""
    words = [row.text for row in card(evolve(starter_plan(), ready_by="2026-05-02T12:00")).times]
    dips = next(at for at, text in enumerate(words) if text.startswith("Dip and air"))
    assert words[dips - 1].startswith("The vat is ready")
    assert words[-1] == "All done"


def test_the_times_name_every_step_once() -> None:
    """1, 2–4, 5 and so on, as page two numbers them, however the rows are put together."""
    found = card(plan_with(ready_by="11:00"), 2)
    named = [number for row in found.times if row.numbers for number in _numbers(row.numbers)]
    assert named == list(range(1, len(found.doing) + 1))


def _numbers(text: str) -> range:
    first, _, last = text.partition("–")
    return range(int(first), int(last or first) + 1)


def test_a_vat_that_takes_a_week_tells_its_days() -> None:
    """What is not on the day of the class has its date, once in a line; without a date the days are counted."""
    plan = plan_with(starter_plan(), method="fermentation", ready_by="2026-05-20T14:00")
    rows = of(plan, 1).times
    assert rows[0].at.startswith("Wed 13 May ")
    assert re.fullmatch(r"\d\d:\d\d", rows[-1].at)
    assert all(row.text.count("May") <= 1 for row in rows)
    undated = of(plan_with(starter_plan(), method="fermentation"), 1).times
    assert re.fullmatch(r"\d\d:\d\d", undated[0].at)
    assert undated[-1].at.startswith("day 8 ")


def test_loads_of_one_pot_are_one_step() -> None:
    """Six baths of cotton are told once, with the hours at which they come again."""
    plan = evolve(plan_of_lots(("cotton", "720 g"), plan=starter_plan()), ready_by="2026-05-02T15:00")
    found = of(plan, 1)
    assert compute(plan)["scour.cotton.loads"].value > 1
    assert len([line for line in found.doing if line.text.startswith("Fill the pot")]) == 1
    assert any(re.search(r"Fill the pot.*, again \d\d:\d\d", row.text) for row in found.times)


def test_a_day_that_cannot_be_laid_says_so() -> None:
    """Forty-five lots in one pot keep no order that is good for them: steps without hours, and a sentence."""
    found = of(many_lots(45), 1)
    assert found.no_times.startswith("No hours: ")
    assert found.doing
    assert not any(row.at for row in found.times)
    assert found.no_times in markdown(found)


def test_a_day_that_is_laid_from_now_on_and_not_from_eight_is_told_as_it_is() -> None:
    """Thirty lots: an order is found from the hour on at which it is asked, and that is said to be a long day."""
    found = of(many_lots(30), 1)
    assert not found.no_times
    assert "From the first step until all is done" in markdown(found)


def many_lots(number: int) -> Plan:
    """Lots of three fibres."""
    plan = starter_plan("Many")
    fibres_ = ("linen", "wool", "cotton")
    return evolve(plan, lots=tuple(evolve(plan.lots[0], id=f"l{n}", fibre=fibres_[n % 3]) for n in range(number)))


def test_a_day_that_was_begun_is_told_by_its_log() -> None:
    """What is done stands at the hour at which it was, with its box ticked."""
    session = loaded_of(str(samples_folder() / "at-the-stove.json")).session
    state = fold(session)
    found = handout(state, 3, NOW.replace(tzinfo=UTC), UTC, 1)
    done = [row for row in found.times if row.done]
    moments = {f"{at.utc:%H:%M}" for at in state.done.values()}
    moments |= {f"{wait.started.utc:%H:%M}" for wait in state.past_waits}
    assert done
    assert {row.at for row in done} <= moments
    assert "☑" in markdown(found)
    assert "☐" in markdown(found)


def test_temperatures_are_not() -> None:
    """Every table heats to the same 60 °C."""
    assert any(line.text.startswith("Hold at 60 °C") for line in card(tables=4).doing)


@given(st.integers(1, 60))
def test_the_tables_together_have_everything(tables: int) -> None:
    """Masses and volumes of scour and finish add up to those of the sheet; stock, vat and all else are as they were."""
    whole = compute(wool_plan())
    for figure, one in zip(whole.figures, shared(whole, tables).figures, strict=True):
        if figure.unit in ("g", "L") and figure.stage in (Stage.SCOUR, Stage.FINISH):
            assert one.value * tables == pytest.approx(figure.value)
        else:
            assert one == figure


def test_loads_of_the_one_pot_are_no_shares_of_a_table() -> None:
    """1.2 kg of cotton takes four loads of the day's pot, laid one after the other: each is a whole pot for all."""
    plan = plan_of("cotton, 1200 g, 12 pieces, medium")
    for tables in (1, 4):
        found = of(plan, tables)
        fill, heat = (
            next(line for line in found.doing if line.text.startswith(words)) for words in ("Fill the pot", "Lower")
        )
        assert "Fill the pot with 7.5 L" in fill.text
        assert "in a pot of this size" not in heat.wait
        assert weighed(found, "Soda ash a bath").each == "9.0 g (2 3/4 tsp)"
        assert weighed(found, "Water to wet out").each == ("24 L" if tables == 1 else "6 L")
        assert any("4 loads, for all tables together" in line for line in found.uneven) is (tables > 1)


def test_only_what_is_measured_out_stands_in_the_tables() -> None:
    """What the fibre weighs afterwards is read, not weighed out."""
    labels = [line.label for part in card().parts for line in part.weighed]
    assert "Soap" in labels
    assert "Weighs, pressed out" not in labels
    assert "Indigotin left in the vat" not in labels


def test_the_card_of_a_day_that_was_done_is_its_record() -> None:
    """Dips as the record has them, amounts as the sheet of its log, hours as its log."""
    session = loaded_of(str(samples_folder() / "finished-day.json")).session
    record, found = day_record(session, UTC), handout(fold(session), 1, NOW.replace(tzinfo=UTC), UTC, 1)
    assert [line.dips for line in found.dips] == [span(*blue.dips.numbers) for blue in record.lots]
    printed = {text for figure in record.sheet.figures for text in _amounts(figure_text(figure, record.plan))}
    assert all(line.whole in printed for part in found.parts for line in part.weighed)
    assert not any(row.text.startswith("All done") for row in found.times)


def _amounts(text: FigureText) -> tuple[str, str]:
    return text.main, f"{text.main} ({text.second})"


def mixed() -> Plan:
    """Four scarves of silk and six tea towels of cotton in one vat."""
    plan = plan_of_lots(("silk", "60 g"), ("cotton", "300 g"))
    one, two = plan.lots
    return evolve(plan, lots=(evolve(one, name="Scarves", pieces=4), evolve(two, name="Tea towels", pieces=6)))


def test_a_short_table_says_how_each_lot_is_dipped() -> None:
    """Lot by lot: pieces of a table, dips, minutes in the vat and in the air, as the sheet has them."""
    sheet, found = compute(mixed()), card(mixed(), 2)
    assert [line.lot for line in found.dips] == ["Scarves", "Tea towels"]
    for line, lot, pieces in zip(found.dips, "ab", "23", strict=True):
        assert line.pieces == pieces
        assert line.dips == figure_text(sheet[f"dip.{lot}.dips"], mixed()).main
        assert line.dip == f"{sheet[f'dip.{lot}.dip'].value:.0f} min"
        assert line.air == f"{sheet[f'dip.{lot}.air'].value:.0f} min"
    for text in (markdown(found), html(found)):
        assert "Scarves" in text.partition("pieces")[2]
        assert "board" not in text


def test_the_ph_goes_up_between_silk_and_cotton_on_the_card() -> None:
    """Scarves, then the pH, then tea towels."""
    dip = [line.text for line in card(mixed()).doing if line.stage == "Dip"]
    (scarves, ph, towels) = [
        next(at for at, text in enumerate(dip) if words in text)
        for words in ("air Scarves", "for cotton", "air Tea towels")
    ]
    assert scarves < ph < towels


@pytest.mark.parametrize(
    ("pieces", "tables", "each"), [(4, 3, (2, 1, 1)), (6, 3, (2, 2, 2)), (2, 4, (1, 1, 0, 0)), (5, 1, (5,))]
)
def test_only_whole_pieces_are_shared_out(pieces: int, tables: int, each: tuple[int, ...]) -> None:
    """Nobody gets a third of a scarf."""
    assert split_pieces(pieces, tables) == each


def test_a_table_without_a_piece_has_none() -> None:
    """Three scarves for four tables: one at three, none at one."""
    assert say_pieces(3, 4) == "1 at 3 tables, none at 1"


def test_on_paper_a_number_keeps_its_unit() -> None:
    """No line of the page can end between them."""
    page = html(card(mixed(), 3))
    assert re.search(r"\d&nbsp;L\b", page)
    assert re.search(r"\d&nbsp;(tsp|tbsp)\b", page)
    assert not re.search(r"\d (mL|L|g|tsp|tbsp|min|h|°C)\b", re.sub(r"<style>.*</style>", "", page, flags=re.DOTALL))


def test_pieces_that_do_not_divide_are_said() -> None:
    """Four scarves for three tables: two at one, one at two; the six towels divide."""
    found = card(mixed(), 3)
    (said,) = found.uneven
    assert said.startswith("Pieces do not divide by 3 tables: Scarves (4).")
    assert [line.pieces for line in found.dips] == ["2 at 1 table, 1 at 2", "2"]
    assert said in markdown(found).replace("\\", "")
    assert said in html(found)
    assert card(mixed(), 2).uneven == ()


def test_a_smaller_pot_heats_in_less_time() -> None:
    """A third of water and cotton is at 95 °C in a third of the time; silk goes up no faster than a degree a minute."""
    heat = {}
    for tables in (1, 3):
        doing = card(mixed(), tables).doing
        heat[tables] = {name: next(line.wait for line in doing if f"Lower the {name} in" in line.text) for name in
                        ("silk", "cotton")}  # fmt: skip
    assert heat[1]["cotton"] == "16 min"
    assert heat[3]["cotton"] == "5.2 min in a pot of this size"
    assert heat[1]["silk"] == heat[3]["silk"] == "8 min"


def test_a_heating_time_that_is_held_stays() -> None:
    """What the teacher timed herself is not divided."""
    plan = plan_with(mixed(), scour__cotton__heating="20 min")
    assert any(line.wait == "20 min" for line in card(plan, 3).doing if "cotton in" in line.text)


def test_a_hall_has_room_for_sixty() -> None:
    """The most tables that are taken."""
    assert card(tables=60).tables == 60


def test_the_steps_name_the_amounts_of_one_table() -> None:
    """What is read out at the table is what is weighed there."""
    found = card(tables=4)
    doing = " ".join(line.text for line in found.doing)
    for part in found.parts:
        assert all(line.each in doing for line in part.weighed)


@pytest.mark.parametrize("tables", [1, 2, 3])
def test_what_a_table_draws_hot_and_cold_is_what_its_pot_takes(tables: int) -> None:
    """7.5 L for two tables are 3.8 L each, as printed: what its steps say of the taps adds up to that."""
    plan = wool_plan()
    one = shared(compute(plan), tables)
    texts = [figure_text(one[f"scour.wool.{name}"], plan).main for name in ("hot", "cold", "load_water")]
    hot, cold, whole = (float(text.removesuffix(" L")) for text in texts)
    assert hot + cold == pytest.approx(whole)


def test_a_day_without_an_hour_is_begun_at_eight() -> None:
    """Its date is left to be written in; the hours are those of a day begun at eight."""
    found = card()
    assert found.ready == "Day: ____________, begun at 08:00"
    assert found.times[0].at == "08:00"


def test_all_is_done_by_the_hour_that_is_wanted() -> None:
    """The card names the hour beside the end, under the name that form, command and day line have for it."""
    (end,) = [row.text for row in card(plan_with(place__home_by="19:00", ready_by="11:00")).times if "done" in row.text]
    assert end == "All done, wanted by 19:00"


@pytest.mark.parametrize("method", sorted(methods()))
def test_every_caution_of_the_day_is_on_the_card(method: str) -> None:
    """Whatever is handled, its caution stands there once, and that of the dips; the card defers to the safety sheet."""
    plan = plan_with(method=method)
    found = card(plan)
    titles = [hazard.title for hazard in found.hazards]
    day = [step for step in steps(plan, compute(plan)) if not re.fullmatch(r"finish\.\w+", step.id)]
    assert set(titles) == {caution.title for step in day for caution in step.cautions} | {cautions()["gloves"].title}
    assert all(title in markdown(found).partition("\n## ")[0].replace("\\", "") for title in titles)
    assert len(titles) == len(set(titles))
    assert DEFER in markdown(found)
    assert DEFER.replace("'", "&#x27;") in html(found)


def test_what_the_plan_itself_warns_of_is_on_the_card() -> None:
    """Lye in an aluminium pot is a danger; the class must know before the plan is changed."""
    found = card(plan_with(vessels__jar_stuff="aluminium"))
    assert any("luminium" in line for line in found.notices)
    (danger,) = [block for block in pages(found)[0] if block.kind is Kind.DANGER]
    assert all(line.startswith("!! Danger: ") for (line,) in danger.rows)
    assert [block.kind for block in pages(found)[0][:3]] == [Kind.TITLE, Kind.TEXT, Kind.DANGER]


def test_the_card_says_that_a_class_cannot_be_done() -> None:
    """Tea towels with more dips than anybody does in a day: the sheet's own notice stands on both cards."""
    found = card(mixed(), 2)
    (notice,) = [item.text for item in compute(mixed()).notices if item.figure == "dip.b.dips"]
    assert "7 at most are usual for medium" in notice
    assert any(line.startswith(notice) for line in found.looks)
    for text in (markdown(found), html(found)):
        assert notice in text.replace("&nbsp;", " ")


def test_what_only_spares_water_is_not_on_the_card() -> None:
    """That a smaller pot would heat sooner is no matter of the class."""
    assert any("smaller pot" in item.text for item in compute(mixed()).notices)
    assert not any("smaller pot" in line for line in card(mixed()).looks)


def test_many_notices_are_cut_short_and_counted() -> None:
    """Forty lots that are held at one dip and come out pale: the first are named, and how many more there are."""
    plan = plan_of_lots(*(("cotton", "20 g") for _ in range(40)))
    once = tuple(Pin(f"dip.{lot.id}.dips", Amount(1, "")) for lot in plan.lots)
    plan = evolve(plan, pins=(*plan.pins, *once))
    found = card(plan).looks
    assert len(found) < 10
    assert re.fullmatch(r"And \d+ more notices on the sheet of the day\.", found[-1])


def test_the_card_says_how_long_the_dips_take() -> None:
    """In hours and minutes, as the sheet has it, and the same in head and notice."""
    hours = compute(mixed())["dip.minutes"].value / 60
    said = re.search(r"dipping takes (\d+) h (?:(\d+) min)?", markdown(card(mixed())).replace("\\", ""))
    assert said is not None
    assert int(said[1]) + int(said[2] or 0) / 60 == pytest.approx(hours, rel=0.05)
    (look,) = [line for line in card(mixed()).looks if line.startswith("The dips take")]
    assert look.startswith(f"The dips take {said[0].removeprefix('dipping takes ')},")


@pytest.mark.parametrize(("keep", "words"), [("7 days", "keeps the vat for another day"), ("0", "acid only then")])
def test_the_card_says_what_becomes_of_the_vat(keep: str, words: str) -> None:
    """Kept, or led to its end; either way never poured off caustic, and local rules come first."""
    found = card(plan_with(finish__keep=keep))
    assert words in found.end
    for text in (markdown(found), html(found)):
        assert found.end in text
        assert "never poured off caustic; local rules come first" in text


def test_getting_rid_of_the_vat_is_not_done_at_the_tables() -> None:
    """Neutralising is the teacher's."""
    assert not any("settle overnight" in line.text for line in card().doing)


def test_guests_know_no_app() -> None:
    """Nothing on the paper sends them to a program."""
    for plan in (wool_plan(), mixed(), starter_plan(), plan_with(finish__keep="7 days")):
        assert not re.search(r"\bapp\b|vatside", markdown(card(plan, 2)), re.IGNORECASE)


@pytest.mark.parametrize("tables", [0, -1, 61])
def test_a_class_has_some_tables(tables: int) -> None:
    """None, fewer than none and more than a hall holds are refused in words."""
    with pytest.raises(ValueError, match="between 1 and 60 tables"):
        card(tables=tables)


MARKDOWN = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])


def shape(text: str) -> list[str]:
    """The structure of a Markdown text, without its words."""
    found = []
    for token in MARKDOWN.parse(text):
        found.append(token.type + token.tag)
        found += [child.type for child in token.children or () if child.type != "text"]
    return found


@pytest.mark.parametrize("text", HOSTILE)
def test_no_name_changes_the_shape_of_the_markdown(text: str) -> None:
    """With a hostile name everywhere, the card has the very structure that a tame one gives it."""
    assert shape(markdown(named_card(text))) == shape(markdown(named_card("tame")))


JOINER = "\u2060"
"""A character without width that keeps an address from becoming a link."""
ADDRESS = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
"""What GitHub's Markdown makes a link of, escaped or not (extended e-mail autolinks of its specification)."""


@pytest.mark.parametrize(
    "text", ["a@b.cd", "mailto:a@b.cd", "xmpp:a.b-c+d@b-c.d_e/f", "\\@a@b.cd@e.fg", "a@_b.cd", "a@-b.cd"]
)
def test_no_address_becomes_a_link(text: str) -> None:
    """What a reader sees is the address, what a Markdown engine finds in it is none."""
    (token,) = [token for token in MARKDOWN.parse(escaped(text)) if token.children]
    shown = "".join(child.content for child in token.children or ())
    assert not ADDRESS.search(shown)
    assert shown.replace(JOINER, "") == text


ANY_TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=60) | st.text(
    "ab1.)(#+-=*_~`|<>&!:/@[]{}$^\\\t\n w", max_size=30
)


@examples(100)
@given(ANY_TEXT)
def test_no_text_at_all_becomes_markdown(text: str) -> None:
    """Any text, escaped, is shown as it is (blanks and controls aside) wherever the card puts text."""
    wanted = "".join("".join(letter if letter.isprintable() else " " for letter in text).split())
    assume(wanted)
    for place in ("{}", "# {}", "- {}", "1. {}", "**{}**", "x {}"):
        tokens = MARKDOWN.parse(place.format(escaped(text)))
        children = [child for token in tokens for child in token.children or ()]
        assert {child.type for child in children} <= {"text", "text_special", "strong_open", "strong_close"}
        shown = "".join("".join(child.content for child in children).replace(JOINER, "").split())
        assert shown == ("x" + wanted if place.startswith("x") else wanted)


@given(st.text("abc|*_<>&\n`[]()!#-+=~$.:/w1 ", min_size=1, max_size=30))
def test_a_cell_stays_one_cell(text: str) -> None:
    """No text breaks out of its cell of a table."""
    table = f"| a | b |\n|---|---|\n| {escaped(text)} | y |\n"
    assert shape(table).count("td_opentd") == 2
    assert "html_inline" not in shape(table)


class Page(HTMLParser):
    """What a browser would find: elements with their attributes, and words."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, tuple[tuple[str, str | None], ...]]] = []
        self.words = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note an element."""
        self.elements.append((tag, tuple(attrs)))

    def handle_data(self, data: str) -> None:
        """Note words."""
        self.words += data


@pytest.mark.parametrize("text", HOSTILE)
def test_no_name_adds_an_element_to_the_page(text: str) -> None:
    """With a hostile name everywhere, the page has the elements and attributes that a tame one gives it."""
    hostile, tame = (Page(html(named_card(name))) for name in (text, "tame"))
    assert hostile.elements == tame.elements


@examples(15)
@given(st.text(st.characters(exclude_categories=["Cs", "Cc", "Zl", "Zp"]), min_size=1, max_size=80))
def test_every_name_is_shown_on_the_page(text: str) -> None:
    """Whatever the day is called, its letters are on the page, and no element comes of them."""
    page = Page(html(card(wool_plan(text))))
    wanted = "".join("".join(letter if letter.isprintable() else " " for letter in text).split())
    assert wanted in "".join(page.words.split())
    assert page.elements == Page(html(card())).elements


def test_the_page_stands_alone() -> None:
    """No script, no file from elsewhere, and a policy that would forbid both."""
    page = html(card(tables=4))
    assert not re.search(r"<script|<link|<img|src=|href=|@import|url\(", page)
    assert "default-src 'none'" in page


def fibre_plan(number: int) -> Plan:
    """A plan with a lot of each of the first fibres."""
    plan = wool_plan("Many")
    for fibre in list(fibres())[: number - 1]:
        plan = evolve(plan, lots=(*plan.lots, evolve(new_lot(plan), fibre=fibre, name=fibre)))
    return plan


HALLS: dict[str, Callable[[], tuple[Plan, int]]] = {
    "one fibre": lambda: (starter_plan("Class"), 1),
    "three tables": lambda: (starter_plan("Class"), 3),
    "wool, twelve tables": lambda: (wool_plan(), 12),
    "eight guests": lambda: (plan_of_lots(*[("cotton", "90 g")] * 8, plan=starter_plan()), 4),
    "two fibres": lambda: (mixed(), 3),
    "eight fibres": lambda: (fibre_plan(8), 12),
    "thirty lots": lambda: (many_lots(30), 60),
}


@pytest.mark.parametrize("hall", HALLS)
def test_each_page_fits_its_sheet(hall: str) -> None:
    """Counted by hand: the lines of each block times the height of its own size of type stay within A4 and Letter."""
    plan, tables = HALLS[hall]()
    for page, _ in fitted(card(plan, tables)):
        size = type_size(page)
        assert size >= SMALLEST
        assert sum(lines(block, size) * size * SCALES.get(block.kind, 1.0) * 1.15 for block in page) <= LETTER_PT[1]


LETTER_PT = (210 / 25.4 * 72 - 2 * 22.7, 11 * 72 - 2 * 22.7)
"""The narrower width, that of A4 (210 mm, ISO 216), and the shorter height, that of Letter (11 in, ANSI Y14.1), less
margins of 8 mm, pt."""
ARIAL = 0.441
"""Mean width of a letter of English in Arial and Helvetica, sizes of type: the widths of the font's metrics (Adobe
core 14 fonts, from memory) weighed by how often each letter comes (common frequencies, from memory)."""


def lines(block: Block, size: float) -> int:
    """Lines of a block, in two columns where it has boxes or numbers, each row from the left edge on."""
    size *= SCALES.get(block.kind, 1.0)
    paired = block.kind in (Kind.AMOUNTS, Kind.FOR_ALL, Kind.TIMES, Kind.STEPS, Kind.HAZARDS)
    width = (LETTER_PT[0] - 14) / 2 - 2 * size if paired else LETTER_PT[0]
    each = [1 + int(sum(map(len, row)) * ARIAL * size / width) for row in block.rows]
    return -(-sum(each) // 2) if paired else sum(each)


@pytest.mark.parametrize("hall", list(HALLS)[:4])
def test_nothing_is_left_out_of_the_usual_card(hall: str) -> None:
    """A class of one fibre has all of it on its two pages, in type of nine points and more."""
    plan, tables = HALLS[hall]()
    assert [left_out for _, left_out in fitted(card(plan, tables))] == [(), ()]


@pytest.mark.parametrize("method", sorted(methods()))
def test_a_day_of_any_vat_is_not_cut(method: str) -> None:
    """Every kind of vat, at six tables."""
    assert [
        left_out for _, left_out in fitted(card(plan_with(starter_plan(), method=method, ready_by="14:00"), 6))
    ] == [(), ()]


def test_nothing_on_paper_is_smaller_than_nine_points() -> None:
    """Sizes of the page are 9 pt or more, and no part of it is smaller than its page."""
    assert min(SIZES) == SMALLEST == 9
    assert min(SCALES.values()) >= 1
    for plan in (starter_plan(), fibre_plan(8)):
        page = html(card(plan, 12))
        assert all(float(size) >= 9 for size in re.findall(r"font-size: ([\d.]+)pt", page))
        assert all(float(size) >= 1 for size in re.findall(r"font-size: ([\d.]+)em", page))
        assert len(re.findall(r"font-size", page)) == len(re.findall(r"font-size: [\d.]+(?:pt|em)", page))


def test_what_is_left_out_for_want_of_room_is_said() -> None:
    """Eight fibres are too much for two sheets: each page says what is missing, and no caution is."""
    whole = card(fibre_plan(8))
    (first, _), (second, left_out) = fitted(whole)
    assert left_out
    assert f"Left out for want of room: {', '.join(left_out)}." in html(whole).replace("&#x27;", "'")
    hazards = {block.kind: block.rows for block in second}[Kind.HAZARDS]
    assert [row[0] for row in hazards] == [hazard.title for hazard in whole.hazards]
    assert any(block.kind is Kind.DANGER for block in first)


@given(st.integers(0, 200), st.sampled_from(SIZES))
def test_more_lines_are_never_lower(count: int, size: float) -> None:
    """The estimate grows with the page and with the type."""
    small = (Block(Kind.TITLE, (("Class",),)),)
    large = (*small, Block(Kind.AMOUNTS, tuple(("☐", "x", "1 g") for _ in range(count))))
    assert height_pt(small, size) <= height_pt(large, size) <= height_pt(large, size + 1)


@pytest.mark.parametrize("tables", [1, 3])
def test_markdown_and_page_say_the_same_in_the_same_order(tables: int) -> None:
    """Every number of a card that is not cut: in one order on both, as one reads down."""
    found = card(evolve(starter_plan("Class"), ready_by="2026-05-02T14:00"), tables)
    body = unescape(re.sub(r"<[^>]+>", " ", html(found).partition("<body>")[2]))
    told = [re.findall(r"\d[\d:.]*", words.replace("\\", "")) for words in (body, markdown(found))]
    assert told[0] == told[1]


def test_what_is_weighed_and_done_has_a_box() -> None:
    """As many boxes as amounts and as rows of the times that name steps; none for the vat being ready, and the end."""
    found = card(plan_with(ready_by="14:00"), 2)
    boxes = sum(len(part.weighed) for part in found.parts) + sum(bool(row.numbers) for row in found.times)
    assert markdown(found).count("☐") == html(found).count("☐") == boxes


def test_the_stages_stand_in_the_order_of_the_clock() -> None:
    """Fibre that comes ready scoured is wetted out last, while stock and vat rest."""
    plan = evolve(plan_of_lots(("cotton", "500 g"), plan=starter_plan()), ready_by="2026-05-02T14:00")
    ready = evolve(plan, lots=tuple(evolve(lot, condition=Condition.READY) for lot in plan.lots))
    assert [part.name for part in card(ready, 1).parts][:3] == ["Stock", "Vat", "Wet out"]
    found = card(plan, 1)
    first = {line.stage: number for number, line in reversed(list(enumerate(found.doing)))}
    assert [first[part.name] for part in found.parts] == sorted(first[part.name] for part in found.parts)


def test_lots_alike_are_one_line_and_divide_as_one() -> None:
    """A class of eight, each with a cloth of her own, at four tables: two pieces each, and nothing is uneven."""
    plan = plan_of_lots(*[("cotton", "90 g")] * 8, plan=starter_plan())
    lots = tuple(evolve(lot, form=plan.lots[1].form, pieces=1) for lot in plan.lots)
    found = of(evolve(plan, lots=lots), 4)
    (line,) = found.dips
    assert line.pieces == "2"
    assert line.lot == "Cotton cloth, Lot 2 and 6 more lots"
    assert not [line for line in found.uneven if line.startswith("Pieces")]


def test_a_day_that_is_to_be_done_by_an_hour_of_today_is_a_day_of_today() -> None:
    """Asked at one minute past eight, all done by five: the card begins now, and its last hour has no other date."""
    plan = wool_plan()
    plan = evolve(plan, ready_by=None, place=evolve(plan.place, home_by="2026-05-02T23:00"))
    now = NOW.replace(hour=8, minute=1)
    state = fold(Session("s", CREATED, plan))
    assert class_day(state, compute(plan), now, evaluations=AT_ONCE).begins == now
    times = handout(state, 1, now, evaluations=AT_ONCE).times
    assert [row for row in times if row.at.startswith("day")] == []
    assert any(row.text == "All done, wanted by 23:00" for row in times)


def test_the_card_of_a_day_under_way_is_held_to_the_plan_that_is_followed() -> None:
    """An hour after its first step every hour to come is that of the day line."""
    clock = VirtualClock()
    desk = Desk(clock, Keeping(Session("s", clock.now().utc, wool_plan()), None))
    line_of(desk).seen(clock.now())
    first = desk.steps[0]
    desk.record(WaitStarted("w1", first.id, first.id, first.minutes or 1))
    clock.advance(45 * 60)
    shown = line_of(desk).seen(clock.now()).day
    assert shown is not None
    found = class_day(desk.state, desk.sheet, clock.now().utc)
    assert {each.step.id: each.at for each in found.steps if each.step.id in shown.starts} == dict(shown.starts)


def test_the_card_of_a_day_to_come_has_the_hours_of_the_day_line() -> None:
    """In time for its wanted hour, it begins, has its vat and ends when the head says."""
    plan = evolve(wool_plan(), ready_by="2026-05-02T17:00")
    clock = VirtualClock()
    desk = Desk(clock, Keeping(Session("s", clock.now().utc, plan), None))
    shown = line_of(desk).seen(clock.now()).day
    card = class_day(desk.state, desk.sheet, clock.now().utc, evaluations=QUICK).laid
    assert shown is not None
    assert card is not None
    assert (shown.spare or -1) >= 0
    assert (card.begin, card.ready, card.laid.end) == (shown.begin, shown.ready, shown.laid.end)
