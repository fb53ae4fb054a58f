"""What the log says of pieces, vat and colours: the sheet of a session goes on from it."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from tests.log.played import Played

from vatside.bench.depths import record_colour
from vatside.days.blue_card import card_lines
from vatside.days.day_record import day_record
from vatside.log.colours import swatches_of
from vatside.log.events.day import ColourNoted, StepDone
from vatside.log.events.vat import (
    CorrectionMade,
    DipEnded,
    DipStarted,
    DryMassTaken,
    LotDipped,
    PieceDone,
    SwatchRecorded,
    VatLetGo,
    VatMade,
    VatSpent,
)
from vatside.log.fold import sheet_of, so_far
from vatside.log.words.day import words
from vatside.outlook.dip_board import forecasts, pieces_of
from vatside.plan.measures import powder
from vatside.recipe.compute import compute
from vatside.units import Amount, Problem
from vatside.vat.account import predict
from vatside.vat.account_changes import tank_of

PIECES = ("a.1", "a.2")


def dips(day: Played, times: int, pieces: Iterable[str] = PIECES) -> Played:
    """Dip some pieces one after the other, so many times."""
    for _ in range(times):
        for piece in pieces:
            day.happen(DipStarted(piece, 10)).happen(DipEnded(piece, 15), 10)
    return day


def a_day() -> Played:
    """Begin a day with cotton, its vat made."""
    return Played().set("lots.a.fibre", "cotton").set("stock.pigment", "30 g").happen(VatMade())


def test_a_day_without_dips_is_its_plan() -> None:
    """Before the vat is made nothing is so far."""
    day = Played()
    assert sheet_of(day.state) == compute(day.state.plan)


def test_what_went_in_beyond_the_plan_silences_the_plan_s_advice() -> None:
    """Once lye was added the sheet gives the account's pH, and no longer asks for the alkali that is in."""
    day = Played().set("lots.a.fibre", "cotton").set("vat.alkali", "0 g").set("stock.alkali", "1 g").happen(VatMade())
    asks = [notice.text for notice in sheet_of(day.state).notices if notice.figure == "vat.pH"]
    day.happen(CorrectionMade(material="lye", amount=Amount(6, "g")))
    [said] = [notice.text for notice in sheet_of(day.state).notices if notice.figure == "vat.pH"]
    account = day.state.tending.account
    assert asks
    assert account is not None
    assert f"{predict(account).text} by the account" in said
    assert said not in asks


def test_the_vinegar_follows_the_account() -> None:
    """Six grams of lye (150 mmol) more in the vat want 180 mL more of vinegar (0.8326 mol/L), the reducer spent."""
    day = Played().set("lots.a.fibre", "cotton").set("vat.alkali", "20 g").happen(VatMade()).happen(VatSpent())
    before = sheet_of(day.state)["finish.vinegar"].value
    day.happen(CorrectionMade(material="lye", amount=Amount(6, "g")))
    purity = powder(day.state.plan, "lye").purity
    more = sheet_of(day.state)["finish.vinegar"].value - before
    assert more == pytest.approx(6 / 39.997 / 0.8326 * purity, rel=0.01)


def test_the_sheet_and_the_board_say_one_thing() -> None:
    """In the middle of the dips the lot comes to the mean of what the board says of its pieces."""
    state = dips(a_day(), 2).state
    sheet = sheet_of(state)
    ahead = forecasts(state, sheet)
    mean = sum(item.reaches for item in ahead) / len(ahead)
    assert sheet["dip.a.reaches"].value == pytest.approx(mean)
    assert {piece.dips for piece in pieces_of(state, sheet)} == {sheet["dip.a.dips"].value}


def test_a_vat_that_was_let_go_brings_no_piece_any_further() -> None:
    """A piece that still waits comes to nothing in a vat that is not there, and the board says nothing of it."""
    day = dips(a_day(), 2)
    assert forecasts(day.state, sheet_of(day.state))
    day.happen(VatLetGo(Amount(20, "L"), None, "", None, None, "drain"))
    assert forecasts(day.state, sheet_of(day.state)) == ()


def test_a_dip_that_is_running_is_still_to_come() -> None:
    """A piece in the vat has nothing of this dip on it yet; the number of dips stays what it was."""
    day = dips(a_day(), 2)
    before = sheet_of(day.state)["dip.a.dips"].value
    day.happen(DipStarted("a.1", 10))
    assert sheet_of(day.state)["dip.a.dips"].value == before
    assert so_far(day.state).of("a", 1).dips == 2


def test_after_the_last_dip_the_steps_say_what_the_account_says() -> None:
    """All pieces done: what is left, in the figure and in the account, is one number."""
    day = dips(a_day(), 1).happen(PieceDone("a.1")).happen(PieceDone("a.2"))
    account = day.state.tending.account
    assert account is not None
    sheet = sheet_of(day.state)
    assert sheet["dip.left_strength"].value == pytest.approx(tank_of(account).strength)
    line = words(StepDone("dip.cover"), day.state)
    assert f"{tank_of(account).strength:.2g} g/L" in line


def test_stock_brought_in_counts() -> None:
    """A correction under way lowers the dips to come."""
    day = dips(a_day(), 1)
    before = sheet_of(day.state)["dip.a.dips"].value
    day.happen(CorrectionMade(finding="", remedy="", material="indigo", amount=Amount(150, "g")))
    day.happen(CorrectionMade(finding="", remedy="", material="reducer", amount=Amount(150, "g")))
    assert sheet_of(day.state)["dip.a.dips"].value < before


def test_dips_written_down_for_a_whole_lot_leave_the_plan_as_it_is() -> None:
    """Old files say that a lot was dipped without saying what its pieces have: nothing is planned anew for it."""
    day = a_day().happen(LotDipped("a", 2, 5))
    assert sheet_of(day.state) == compute(day.state.plan)


def test_a_vat_that_was_let_go_holds_nothing() -> None:
    """What is left is nothing, and what is on the pieces stays."""
    day = dips(a_day(), 2)
    for piece in PIECES:
        day.happen(PieceDone(piece))
    on = sheet_of(day.state)["dip.a.reaches"].value
    sheet = sheet_of(day.happen(VatLetGo(Amount(20, "L"), None, "", None, None, "drain")).state)
    assert sheet["dip.kept"].value == 0
    assert sheet["dip.a.reaches"].value == on


def test_the_latest_colour_counts_whichever_way_it_was_written_down() -> None:
    """Old files hold colours of two kinds; the later one counts, and the finish shows it."""
    day = a_day().happen(SwatchRecorded("a", step=Amount(0.4, "%"))).happen(ColourNoted("a", depth=Amount(1.4, "%")))
    assert sheet_of(day.state)["finish.colour.a"].value == pytest.approx(1.4)
    day.happen(SwatchRecorded("a", step=Amount(0.2, "%")))
    assert sheet_of(day.state)["finish.colour.a"].value == pytest.approx(0.2)


def test_the_colour_of_a_lot_is_the_mean_of_its_pieces() -> None:
    """Two pieces recorded: their mean, and the words of the one that is farther off."""
    day = a_day().happen(SwatchRecorded("a.1", step=Amount(0.2, "%"))).happen(
        SwatchRecorded("a.2", step=Amount(0.6, "%"))
    )  # fmt: skip
    came = so_far(day.state).colours["a"]
    assert came.depth == pytest.approx(0.4)
    assert "of 2 pieces at worst" in came.words
    assert came.words.startswith("pale")


@pytest.mark.parametrize(
    ("typed", "step", "said"),
    [
        ("medium", 0.8, ""),
        ("light; like the sea", 0.4, "like the sea"),
        ("deep, even, 2 %", 2.0, "deep, even"),
    ],
)
def test_words_go_with_a_colour(typed: str, step: float, said: str) -> None:
    """One command reads shade and words; words are of the lot, the shade is of the piece."""
    found = record_colour("a", "a.1", typed)
    assert not isinstance(found, Problem)
    assert found[0] == SwatchRecorded("a.1", step=Amount(step, "%"))
    assert found[1:] == ((ColourNoted("a", said),) if said else ())


def test_a_measured_colour_among_words_is_found() -> None:
    """Three numbers after the last comma are L*, a* and b*; everything else is words."""
    found = record_colour("a", "a", "deep, even 2 %, 30 -2,5 -28")
    assert found == (SwatchRecorded("a", lab=(30.0, -2.5, -28.0)), ColourNoted("a", "deep, even 2 %"))


@pytest.mark.parametrize("typed", ["10 % too pale", "dyed 12/5/26", "paler, 3 dips 10 5 20 min", "about 2 %"])
def test_a_number_inside_words_is_no_colour(typed: str) -> None:
    """It would count as a depth and drive what a fibre takes; the dyer is told how to write it."""
    found = record_colour("a", "a", typed)
    assert isinstance(found, Problem)
    assert "after a comma" in found.text


def test_words_alone_follow_a_semicolon() -> None:
    """So a step that is spelt wrongly is not taken for words."""
    assert record_colour("a", "a", "; like the sea") == (ColourNoted("a", "like the sea"),)
    assert isinstance(record_colour("a", "a", "mediun"), Problem)


def test_words_say_nothing_of_the_depth() -> None:
    """A colour in words leaves the recorded one as it was."""
    day = a_day().happen(SwatchRecorded("a", step=Amount(0.4, "%"))).happen(ColourNoted("a", "like the sea"))
    assert list(swatches_of(day.state)) == ["a"]
    assert sheet_of(day.state)["finish.colour.a"].value == pytest.approx(0.4)


def test_the_card_says_what_is_on_the_fibre() -> None:
    """By the account once it was dipped, and of the real dry mass once it was weighed."""
    day = dips(a_day(), 1)
    day.happen(DryMassTaken("a", Amount(200, "g"), before=True)).happen(DryMassTaken("a", Amount(203, "g")))
    lines = dict(card_lines(day_record(day.session)))
    assert "by the account of the vat" in lines["Indigo on it"]
    assert "1.5 % of 200 g" in lines["Gained"]
