"""The card of a blue, and why two blues came out apart."""

from __future__ import annotations

from datetime import UTC

import pytest
from attrs import evolve
from hypothesis import given, settings
from tests.recipe.plans import plan_with
from tests.session.played import Played
from tests.session.strategies import sessions

from vatside.chemistry.colour import Lab
from vatside.recipe.care.reading import PHBy, Reading
from vatside.recipe.compute import compute
from vatside.recipe.plan import Plan, ShelfEntry
from vatside.recipe.starter import starter_plan
from vatside.session.across.apart import apart_lines, reasons
from vatside.session.across.card import BlueCard, Dips, blue_card, card_text
from vatside.session.care_events import CorrectionMade, LotDipped, ReadingTaken, VatMade
from vatside.session.dip_events import DipEnded, DipStarted, PieceDone, SwatchRecorded
from vatside.session.events import ColourNoted, NoteWritten, PowderTaken
from vatside.session.session import Session
from vatside.units import Amount

TAKEN = PowderTaken("indigo", "i1", "Kala", ShelfEntry("indigo", Amount(50, "%"), None))


def card(day: Played | Plan) -> BlueCard:
    """The card of a day."""
    return blue_card((day if isinstance(day, Played) else Played(day)).session, UTC)


def line(found: BlueCard, label: str) -> str:
    """One line of a card."""
    return next((value for name, value in found.lines if name == label), "")


def test_the_pigment_is_named_with_its_lot_and_what_it_was_dosed_as() -> None:
    """Taken from the shelf, it brings the name of its lot."""
    assert line(card(Played().happen(TAKEN)), "Pigment") == "natural indigo powder, lot Kala, dosed as 50 % indigotin"
    assert line(card(Played()), "Pigment") == "natural indigo powder, dosed as 40 % indigotin"


def test_the_strength_is_that_of_what_was_held() -> None:
    """Half the pigment, half the strength."""
    day = Played().set("stock.pigment", "3.243 g")
    assert card(day).strength == pytest.approx(compute(starter_plan())["vat.strength"].value / 2, rel=1e-3)


def test_what_went_in_is_summed_over_stock_vat_and_corrections() -> None:
    """Four grams in the stock, three to sharpen and two as a correction are nine of the same reducer."""
    day = Played().set("stock.reducer", "4 g").set("vat.reducer", "3 g").done("stock.reducer_in", "vat.reducer_in")
    day.happen(VatMade()).happen(CorrectionMade(material="reducer", amount=Amount(2, "g")))
    assert line(card(day), "Went in") == "9.0 g of thiourea dioxide"


def test_a_reading_stands_with_its_temperature_beside_the_worked_out_one() -> None:
    """The pH read by meter at 44 °C is told as such; the worked-out one stays."""
    reading = Reading(Amount(44, "degC"), 9.4, pH_by=PHBy.METER)
    found = card(Played().happen(ReadingTaken(Reading(pH=11))).happen(ReadingTaken(reading)))
    assert (found.pH_read, found.celsius) == (9.4, 44)
    assert line(found, "pH read") == "9.4 at 44 °C (meter)"
    assert line(found, "pH worked out").endswith("at 47 °C")


def test_dips_are_the_plans_until_they_are_known() -> None:
    """Without dips in the log the card says that they were planned."""
    assert line(card(Played()), "Dips").endswith("(planned)")


def three_dips() -> Played:
    """The first piece in and out three times: five minutes in, a quarter of an hour in the air."""
    day = Played().happen(VatMade())
    for _ in range(3):
        day.happen(DipStarted("a.1", 5)).happen(DipEnded("a.1", 15), 5).happen(NoteWritten("airs"), 13)
    return day.happen(PieceDone("a.1"))


def test_dips_are_those_of_the_piece_that_got_most() -> None:
    """Three dips of five minutes, and a quarter of an hour in the air after each but the last minute."""
    day = three_dips().happen(DipStarted("a.2", 5)).happen(DipEnded("a.2", 15), 7)
    dips = card(day).dips
    assert (dips.number, dips.as_done) == (3, True)
    assert dips.dip_min == pytest.approx(5)
    assert dips.air_min == pytest.approx(3 * 14)


def test_dips_written_down_for_a_whole_lot_count_as_well() -> None:
    """Nobody timed the air."""
    day = Played().happen(VatMade()).happen(LotDipped("a", 2, 4)).happen(LotDipped("a", 2, 6))
    assert card(day).dips == Dips(2, 5, 0, as_done=True)


def test_swatches_of_pieces_are_named_by_their_piece() -> None:
    """A picked step and a graded one, beside the words for the lot."""
    day = Played().happen(ColourNoted("a", "fine")).happen(SwatchRecorded("a.1", step=Amount(0.8, "%")))
    day.happen(SwatchRecorded("a.2", step=Amount(0.8, "%"), grade=4, darker=True))
    assert line(card(day), "Came out") == (
        "Wool skeins: fine; Wool skeins 1: as the step of 0.8 %; Wool skeins 2: darker than the step of 0.8 %, grade 4"
    )


def test_the_colour_that_was_noted_last_counts() -> None:
    """The first look was wet."""
    day = (
        Played().happen(ColourNoted("a", "black?")).happen(ColourNoted("a", "mid blue", Amount(0.7, "%"), (35, 1, -28)))
    )
    found = card(day)
    assert line(found, "Came out") == "Wool skeins: mid blue, 0.7 %, L* a* b* 35, 1, -28"
    assert found.colours == (("wool", Lab(35, 1, -28)),)


def test_a_colour_of_nothing_is_a_misfit() -> None:
    """A lot that is not there, a depth that is none and half a measured colour change nothing."""
    day = Played().happen(ColourNoted("zz", "blue")).happen(ColourNoted("a", "", Amount(3, "g")))
    day.happen(ColourNoted("a", "", None, (1.0,)))
    assert len(day.state.misfits) == 3
    assert card(day).colours == ()


def test_the_card_prints_on_lines_of_its_own() -> None:
    """Title and day first, then a line for each thing; nothing that a terminal would act on."""
    text = card_text(card(Played(evolve(starter_plan(), title="x\x1b[31m\ny"))))
    assert text.splitlines()[0] == "x [31m y, 2026-05-02"
    assert all(part.isprintable() for part in text.splitlines())


def test_the_same_day_has_nothing_that_parts_it() -> None:
    """A card laid beside itself shows no reason."""
    assert reasons(card(Played()), card(Played())) == ()
    assert list(apart_lines(card(Played()), card(Played()))) == ["Nothing differs by enough to be seen."]


def of(**changes: object) -> BlueCard:
    """A card with some things changed."""
    plain = evolve(card(Played()), strength=1.0, pH_worked=10.0, celsius=45.0, dips=Dips(4, 5, 60, as_done=True))
    changed: BlueCard = evolve(plain, **changes)  # type: ignore[arg-type]
    return changed


@pytest.mark.parametrize(
    ("changes", "first"),
    [
        ({"strength": 0.5}, "Indigotin"),
        ({"pH_worked": 11.0}, "pH worked out"),
        ({"celsius": 30.0}, "Temperature"),
        ({"dips": Dips(9, 5, 60, as_done=True)}, "Dips"),
        ({"dips": Dips(4, 5, 20, as_done=True)}, "Time in the air"),
        ({"purity": 20.0}, "Purity"),
        ({"pigment": "natural indigo powder, lot Neel"}, "Pigment"),
        ({"vat": "fructose and lime; fructose"}, "Kind of vat"),
    ],
)
def test_what_alone_differs_is_the_reason(changes: dict[str, object], first: str) -> None:
    """One thing apart, and large enough to be seen."""
    (reason,) = reasons(of(), of(**changes))
    assert reason.label == first
    assert reason.likely


def test_the_larger_difference_is_the_likelier_reason() -> None:
    """Twice the dips outweigh a tenth more dye; a tenth of a pH nobody sees."""
    found = reasons(of(), of(strength=1.11, pH_worked=10.1, dips=Dips(8, 5, 60, as_done=True)))
    assert [reason.label for reason in found] == ["Dips", "Indigotin", "pH worked out"]
    assert [reason.likely for reason in found] == [True, True, False]


def test_equal_differences_keep_the_trades_order() -> None:
    """Three degrees and another lot weigh the same; the temperature comes first."""
    found = reasons(of(), of(celsius=48.0, pigment="natural indigo powder, lot Neel"))
    assert [(reason.label, reason.weight) for reason in found] == [("Temperature", 1), ("Pigment", 1)]


def test_a_vat_without_dye_is_as_far_apart_as_can_be() -> None:
    """Nothing beside something; nothing beside nothing is the same."""
    (reason,) = reasons(of(), of(strength=0.0))
    assert reason.weight >= 10
    assert reasons(of(strength=0.0), of(strength=0.0)) == ()


def test_air_that_nobody_timed_is_no_reason() -> None:
    """One of the two is not known."""
    assert reasons(of(), of(dips=Dips(4, 5, 0, as_done=True))) == ()


def test_a_read_pH_is_never_held_against_a_worked_out_one() -> None:
    """One of the two vats was read: only the worked-out values are of one kind."""
    (reason,) = reasons(of(pH_read=9.0), of(pH_worked=10.5))
    assert (reason.label, reason.left, reason.right) == ("pH worked out", "10.0", "10.5")


def test_reasons_say_which_way_they_go() -> None:
    """Less dye is paler, seen from the right card."""
    assert reasons(of(), of(strength=0.5))[0].says == "less dye in the vat: paler"
    assert reasons(of(strength=0.5), of())[0].says == "more dye in the vat: darker"


def test_measured_colours_of_one_fibre_are_held_against_each_other() -> None:
    """Wool beside wool."""
    left = Played().happen(ColourNoted("a", "", None, (35, 0, -28)))
    right = Played().happen(ColourNoted("a", "", None, (38, 4, -28)))
    assert next(apart_lines(card(left), card(right))) == "wool: colour distance 5.0 (up to 3 is the same blue)"


def test_twice_the_purity_on_the_label_is_half_the_powder() -> None:
    """The card of a stronger lot shows the same strength from less powder, and names the purity as what differs."""
    left, right = card(Played()), card(plan_with(shelf__indigo__purity="80 %"))
    assert left.strength == pytest.approx(right.strength)
    assert "Purity" in [reason.label for reason in reasons(left, right)]


@settings(max_examples=40)
@given(sessions(), sessions())
def test_any_two_cards_can_be_held_against_each_other(one: Session, other: Session) -> None:
    """Either way round the same things differ by the same weight."""
    left, right = blue_card(one, UTC), blue_card(other, UTC)
    there = {reason.label: reason.weight for reason in reasons(left, right)}
    back = {reason.label: reason.weight for reason in reasons(right, left)}
    assert there.keys() == back.keys()
    assert all(back[label] == pytest.approx(weight) for label, weight in there.items())
