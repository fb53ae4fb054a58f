"""The class card: amounts for each table, times, cautions, and nothing in it that anyone could inject."""

from __future__ import annotations

import re
from datetime import datetime
from html.parser import HTMLParser

import pytest
from attrs import evolve
from hypothesis import assume, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt
from tests.effort import examples
from tests.plan.plans import plan_of_lots, plan_with, wool_plan

from vatside.catalogue.load import fibres, methods
from vatside.dayline.day_steps import DEFER, steps
from vatside.days.class_card import Handout, Part, Weighed, handout
from vatside.days.class_print import READABLE, SHEET_PT, SIZES, escaped, fitted, height_pt, html, markdown, type_size
from vatside.days.lots import shared, split_pieces
from vatside.plan.figure_text import figure_text
from vatside.plan.plan import Condition, Pin, Plan
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
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
    return handout(plan or wool_plan("Class"), tables, NOW)


def named(text: str) -> Plan:
    """A plan with a text wherever a person can type one."""
    plan = wool_plan(text)
    return evolve(plan, lots=(evolve(plan.lots[0], name=text), evolve(plan.lots[0], id="b", fibre="cotton", name=text)))


def weighed(found: Handout, label: str) -> Weighed:
    """One line of what to weigh."""
    return next(line for part in found.parts for line in part.weighed if line.label == label)


def test_amounts_are_divided_by_the_tables() -> None:
    """Four tables share 6.5 g of indigo: 1.6 g each."""
    line = weighed(card(tables=4), "Indigo powder")
    assert (line.whole, line.each) == ("6.5 g (2 7/8 tsp)", "1.6 g (3/4 tsp)")


def test_each_table_knows_its_fibre() -> None:
    """Four tables share 227 g; one table has all of it, and needs no word for that."""
    assert card(tables=4).fibre == ("Wool skeins: 227 g, pieces: 2, 56.8 g for each table if shared alike",)
    assert card().fibre == ("Wool skeins: 227 g, pieces: 2",)


def test_the_card_says_what_a_blend_is_made_of_and_whose_its_pieces_are() -> None:
    """A lot's name need not tell either."""
    lot = evolve(wool_plan().lots[0], second="silk", names=("Asha", "", "Nobody"))
    assert card(evolve(wool_plan(), lots=(lot,))).fibre == ("Wool skeins: 227 g of wool-silk 50/50, pieces: 2 (Asha)",)
    many = tuple(evolve(lot, id=f"l{n}") for n in range(20))
    assert card(evolve(wool_plan(), lots=many)).fibre == ("wool-silk 50/50, lots: 20: 4.54 kg, pieces: 40",)


def test_many_lots_are_told_fibre_by_fibre() -> None:
    """Twenty lots of wool and of cotton are two lines."""
    plan = wool_plan()
    made = (evolve(plan.lots[0], id=f"l{n}", fibre=("wool", "cotton")[n % 2], pieces=1) for n in range(20))
    assert card(evolve(plan, lots=tuple(made))).fibre == (
        "wool, lots: 10: 2.27 kg, pieces: 10",
        "cotton, lots: 10: 2.27 kg, pieces: 10",
    )


@pytest.mark.parametrize("ready_by", ["2026-04-01T10:00", "2026-05-02T07:00", "2026-06-02T10:00"])
def test_times_lead_up_to_the_hour_that_is_wanted(ready_by: str) -> None:
    """A card of a day that is past, or that comes too soon, is laid out like any other: the vat is ready then."""
    found = card(evolve(wool_plan(), ready_by=ready_by))
    look = next(line for part in found.parts for line in part.doing if line.text.endswith("the vat is ready"))
    assert found.ready.endswith(ready_by[-5:])
    assert f"{datetime.fromisoformat(ready_by):%B %Y}" in found.ready
    assert look.at == f"{int(ready_by[-5:-3]) - 1:02d}:58"


def test_temperatures_are_not() -> None:
    """Every table heats to the same 60 °C."""
    assert any(line.text.startswith("Hold at 60 °C") for part in card(tables=4).parts for line in part.doing)


@given(st.integers(1, 60))
def test_the_tables_together_have_everything(tables: int) -> None:
    """Masses and volumes of all tables add up to those of the sheet; everything else is as it was."""
    whole = compute(wool_plan())
    for figure, one in zip(whole.figures, shared(whole, tables).figures, strict=True):
        if figure.unit in ("g", "L"):
            assert one.value * tables == pytest.approx(figure.value)
        elif figure.id != "stock.jars":
            assert one == figure


def test_only_what_is_measured_out_stands_in_the_tables() -> None:
    """What the fibre weighs afterwards is read, not weighed out."""
    labels = [line.label for part in card().parts for line in part.weighed]
    assert "Soap" in labels
    assert "Weighs, pressed out" not in labels
    assert "Indigotin left in the vat" not in labels


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
    (dip,) = [part for part in card(mixed()).parts if part.name == "Dip"]
    (scarves, ph, towels) = [
        next(at for at, line in enumerate(dip.doing) if words in line.text)
        for words in ("air Scarves", "for cotton", "air Tea towels")
    ]
    assert scarves < ph < towels


@pytest.mark.parametrize(
    ("pieces", "tables", "each"), [(4, 3, (2, 1, 1)), (6, 3, (2, 2, 2)), (2, 4, (1, 1, 0, 0)), (5, 1, (5,))]
)
def test_only_whole_pieces_are_shared_out(pieces: int, tables: int, each: tuple[int, ...]) -> None:
    """Nobody gets a third of a scarf."""
    assert split_pieces(pieces, tables) == each


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
        doing = [line for part in card(mixed(), tables).parts for line in part.doing]
        heat[tables] = {name: next(line.wait for line in doing if f"Lower the {name} in" in line.text) for name in
                        ("silk", "cotton")}  # fmt: skip
    assert heat[1]["cotton"] == "16 min"
    assert heat[3]["cotton"] == "5.2 min"
    assert heat[1]["silk"] == heat[3]["silk"] == "8 min"


def test_a_heating_time_that_is_held_stays() -> None:
    """What the teacher timed herself is not divided."""
    plan = plan_with(mixed(), scour__cotton__heating="20 min")
    assert any(line.wait == "20 min" for part in card(plan, 3).parts for line in part.doing if "cotton in" in line.text)


@pytest.mark.parametrize("tables", [1, 2, 3])
def test_the_usual_card_is_printed_in_type_that_reads_well(tables: int) -> None:
    """One fibre, in a vat made for it: 8.75 pt or more on one sheet with nothing left out."""
    found, left_out = fitted(card(starter_plan("Class"), tables))
    assert left_out == ()
    assert type_size(found) >= READABLE


def test_jars_are_shared_as_far_as_they_go() -> None:
    """Three jars for two tables: two on each; one jar for four tables: one on each."""
    for jars, tables, each in (("3", 2, 2), ("1", 4, 1), ("6", 2, 3)):
        assert shared(compute(plan_with(stock__jars=jars)), tables)["stock.jars"].value == each


def test_a_hall_has_room_for_sixty() -> None:
    """The most tables that are taken."""
    assert card(tables=60).tables == 60


def test_the_steps_name_the_amounts_of_one_table() -> None:
    """What is read out at the table is what is weighed there."""
    doing = [line.text for part in card(tables=4).parts for line in part.doing]
    assert "Grind 1.6 g (3/4 tsp) of indigo until it feels smooth; wet it to a paste with a little hot water" in doing


def test_times_come_from_the_schedule() -> None:
    """Wanted at eleven: the stock rests an hour, the vat another, so grinding begins long before."""
    doing = {line.text[:5]: line.at for part in card(plan_with(ready_by="11:00")).parts for line in part.doing}
    assert re.fullmatch(r"0[67]:\d\d|08:\d\d", doing["Grind"])
    assert card(plan_with(ready_by="11:00")).ready == "Vat ready on Saturday 2 May 2026 by 11:00"


def test_without_an_hour_times_count_from_the_beginning() -> None:
    """Some step begins at nought."""
    found = card()
    assert "+0:00" in [line.at for part in found.parts for line in part.doing]
    assert found.ready == "Times count from the beginning"


@pytest.mark.parametrize("method", sorted(methods()))
def test_every_caution_of_the_day_is_on_the_card(method: str) -> None:
    """Whatever is handled, its caution stands there once, and the card ends by deferring to the safety sheet."""
    plan = plan_with(method=method)
    titles = [hazard.title for hazard in card(plan).hazards]
    day = [step for step in steps(plan, compute(plan)) if not re.fullmatch(r"finish\.\w+", step.id)]
    assert set(titles) == {caution.title for step in day for caution in step.cautions}
    assert len(titles) == len(set(titles))
    assert DEFER in markdown(card(plan))
    assert DEFER.replace("'", "&#x27;") in html(card(plan))


def test_what_the_plan_itself_warns_of_is_on_the_card() -> None:
    """Lye in an aluminium pot is a danger; the class must know before the plan is changed."""
    found = card(plan_with(vessels__jar_stuff="aluminium"))
    assert any("luminium" in line for line in found.notices)
    assert "**Danger:**" in markdown(found)


def test_the_card_says_that_a_class_cannot_be_done() -> None:
    """Tea towels with more dips than anybody does in a day: the sheet's own notice stands on both cards."""
    found = card(mixed(), 2)
    (notice,) = [item.text for item in compute(mixed()).notices if item.figure == "dip.b.dips"]
    assert "7 at most are planned for medium" in notice
    assert any(line.startswith(notice) for line in found.looks)
    for text in (markdown(found), html(found)):
        assert notice in text


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
    assert re.fullmatch(r"And \d+ more notices, in the app\.", found[-1])


def test_the_card_says_how_long_the_dips_take() -> None:
    """In hours and minutes, as the sheet has it, and the same in head and notice."""
    hours = compute(mixed())["dip.minutes"].value / 60
    said = re.search(r"dipping takes (\d+) h (?:(\d+) min)?", markdown(card(mixed())).replace("\\", ""))
    assert said is not None
    assert int(said[1]) + int(said[2] or 0) / 60 == pytest.approx(hours, rel=0.05)
    (look,) = [line for line in card(mixed()).looks if line.startswith("The dips take")]
    assert look.startswith(f"The dips take {said[0].removeprefix('dipping takes ')},")


@pytest.mark.parametrize(("keep", "words"), [("7 days", "kept for another day"), ("0", "acid only then")])
def test_the_card_says_what_becomes_of_the_vat(keep: str, words: str) -> None:
    """Kept, or led to its end; either way never poured off caustic, and local rules come first."""
    found = card(plan_with(finish__keep=keep))
    assert words in found.end
    for text in (markdown(found), html(found)):
        assert found.end in text
        assert "never poured off caustic; local rules come first" in text


def test_getting_rid_of_the_vat_is_not_done_at_the_tables() -> None:
    """Neutralising is the teacher's."""
    assert not any("settle overnight" in line.text for part in card().parts for line in part.doing)


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
    assert shape(markdown(card(named(text), 3))) == shape(markdown(card(named("tame"), 3)))


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
    hostile, tame = (Page(html(card(named(name), 3))) for name in (text, "tame"))
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


@pytest.mark.parametrize("number", [1, 2, 3, 8])
@pytest.mark.parametrize("tables", [1, 12])
def test_the_page_is_made_to_fit_one_sheet(number: int, tables: int) -> None:
    """At the size of type chosen, the height estimated stays within A4 and Letter, cut if need be."""
    found, _ = fitted(card(fibre_plan(number), tables))
    assert height_pt(found, type_size(found)) <= SHEET_PT[1]


def test_what_is_left_out_for_want_of_room_is_said() -> None:
    """Eight fibres are too much for a sheet: the page says what is missing, and no caution is."""
    whole = card(fibre_plan(8))
    cut, left_out = fitted(whole)
    assert left_out
    assert f"Left out for want of room: {', '.join(left_out)}." in html(whole)
    assert cut.hazards == whole.hazards


def test_a_day_of_one_fibre_is_not_cut() -> None:
    """The usual card has everything on it, in type that can be read."""
    for method in methods():
        found, left_out = fitted(card(plan_with(method=method), 6))
        assert left_out == ()
        assert type_size(found) >= 7


@given(st.integers(0, 200), st.sampled_from(SIZES))
def test_more_lines_are_never_lower(lines: int, size: float) -> None:
    """The estimate grows with the card and with the type."""
    part = Part("Stock", tuple(Weighed("x", "1 g", "1 g") for _ in range(lines)), ())
    small, large = (evolve(card(), parts=parts) for parts in ((), (part,)))
    assert height_pt(small, size) <= height_pt(large, size) <= height_pt(large, size + 1)


def test_the_stages_stand_in_the_order_of_the_clock() -> None:
    """Fibre that comes ready scoured is wetted out last, while stock and vat rest."""
    plan = evolve(plan_of_lots(("cotton", "100 g"), plan=starter_plan()), ready_by="2026-05-02T14:00")
    ready = evolve(plan, lots=tuple(evolve(lot, condition=Condition.READY) for lot in plan.lots))
    found = {name: [part.name for part in handout(one, 1, NOW).parts] for name, one in (("c", plan), ("r", ready))}
    assert found["c"][:2] == ["Scour", "Stock"]
    assert found["r"][:3] == ["Stock", "Vat", "Wet out"]


def test_lots_alike_are_one_line_and_divide_as_one() -> None:
    """A class of eight, each with a cloth of her own, at four tables: two pieces each, and nothing is uneven."""
    plan = plan_of_lots(*[("cotton", "90 g")] * 8, plan=starter_plan())
    lots = tuple(evolve(lot, form=plan.lots[1].form, pieces=1) for lot in plan.lots)
    found = handout(evolve(plan, lots=lots), 4, NOW)
    (line,) = found.dips
    assert line.pieces == "2"
    assert line.lot == "Cotton cloth, Lot 2 and 6 more lots"
    assert found.uneven == ()
