"""Two sessions side by side."""

from __future__ import annotations

from datetime import UTC

from attrs import evolve
from hypothesis import given
from tests.effort import examples
from tests.log.played import Played
from tests.log.strategies import sessions
from tests.plan.plans import wool_plan

from vatside.bench.commands import free_wait
from vatside.days.compare import Row
from vatside.days.compare import compare as side_by_side
from vatside.days.day_record import day_record
from vatside.log.events.day import ColourNoted, NoteWritten, SessionReopened, WaitEnded
from vatside.log.events.vat import CorrectionMade, DipEnded, DipStarted, ReadingTaken, VatMade
from vatside.log.state import Session
from vatside.units import Amount
from vatside.vat.reading import Reading


def compare(left: Session, right: Session) -> tuple[Row, ...]:
    """Two sessions beside each other."""
    return side_by_side(day_record(left, UTC), day_record(right, UTC))


def rows(left: Played, right: Played, group: str) -> dict[str, tuple[str, str]]:
    """What differs in one group, by label."""
    found = compare(left.session, right.session)
    return {row.label: (row.left, row.right) for row in found if row.group == group and row.differs}


def test_a_day_looked_at_months_later_ended_when_it_ended() -> None:
    """Opened again 90 days after its last act, it took as long as before."""
    left, right = Played().waited("stock.hold_warm", 70), Played().waited("stock.hold_warm", 70)
    right.happen(SessionReopened(), 90 * 24 * 60)
    assert rows(left, right, "Times") == {}


def test_a_session_differs_from_itself_in_nothing() -> None:
    """Laid beside itself, every row is the same."""
    day = Played().set("stock.pigment", "4 g").waited("stock.hold_warm", 70).session
    assert not any(row.differs for row in compare(day, day))


def test_the_plan_is_held_against_the_plan_as_it_ended() -> None:
    """A change on the fly counts."""
    left, right = Played(), Played().set("water.hot", "60 C")
    assert rows(left, right, "Plan") == {"Hot tap": ("55 °C", "60 °C")}


def test_a_renamed_lot_is_still_the_same_lot() -> None:
    """Lots match by what they are, not by what they are called."""
    right = Played().set("lots.a.name", "Grey wool").set("lots.a.mass", "100 g")
    assert rows(Played(), right, "Plan") == {
        "Wool skeins: Called": ("Wool skeins", "Grey wool"),
        "Wool skeins: Dry weight": ("227 g", "100 g"),
    }


def lots(*said: tuple[str, str], swap: bool = False) -> Played:
    """A day with lots of these names and fibres, with ids of their own."""
    plan = wool_plan()
    made = [
        evolve(plan.lots[0], id=f"{'xyz'[number] if swap else 'abc'[number]}", name=name, fibre=fibre)
        for number, (name, fibre) in enumerate(said)
    ]
    return Played(evolve(plan, lots=tuple(made)))


def test_lots_stand_beside_those_of_their_name_whatever_the_order() -> None:
    """Wool first one day, last the next: nothing of the plan differs but the order."""
    one = lots(("Shawl", "wool"), ("Towels", "cotton"))
    other = lots(("towels", "cotton"), ("Shawl", "wool"), swap=True)
    assert rows(one, other, "Plan") == {"Towels: Called": ("Towels", "towels")}


def test_lots_of_another_name_stand_beside_their_fibre() -> None:
    """Cotton with cotton, wool with wool, though nothing is called the same."""
    one = lots(("Shawl", "wool"), ("Towels", "cotton"))
    other = lots(("Napkins", "cotton"), ("Scarf", "wool"), swap=True)
    assert rows(one, other, "Plan") == {
        "Shawl: Called": ("Shawl", "Scarf"),
        "Towels: Called": ("Towels", "Napkins"),
    }


def test_what_is_left_stands_side_by_side_and_the_lonely_one_is_named() -> None:
    """Silk beside linen, as nothing else is left; the third has no partner, in one line."""
    one = lots(("Shawl", "silk"))
    other = lots(("Napkins", "cotton"), ("Scarf", "wool"), swap=True)
    found = rows(one, other, "Plan")
    assert found["Shawl: Fibre"] == ("silk", "cotton")
    assert found["Scarf: no partner"] == ("", "227 g of wool, 2 × skeins, depth wanted 0.8 %")
    assert not [label for label in found if label.startswith("Scarf") and "no partner" not in label]


def test_pieces_pins_and_colours_follow_their_lot() -> None:
    """Two dips of the shawl stand beside those of the shawl, whichever letter it goes by; so do pins and colour."""
    found = []
    for day, lot in (
        (lots(("Shawl", "wool"), ("Towels", "cotton")), "a"),
        (lots(("Towels", "cotton"), ("Shawl", "wool"), swap=True), "y"),
    ):
        day.set(f"dip.{lot}.dips", "3").happen(VatMade()).happen(DipStarted(f"{lot}.1", 5))
        found.append(day.happen(DipEnded(f"{lot}.1", 10), 5).happen(ColourNoted(lot, "mid")))
    for group in ("Plan", "Set by hand", "Dips"):
        assert rows(found[0], found[1], group) == {}
    assert "Shawl came out" not in rows(found[0], found[1], "Result")


def test_dips_are_told_once() -> None:
    """The waits of dips and airings are no rows of their own beside the dips."""
    day = Played().happen(VatMade()).happen(DipStarted("a.1", 5)).happen(DipEnded("a.1", 10), 5)
    day.happen(free_wait("Tea", 5, 9)).happen(WaitEnded("w9"), 5)
    times = [row.label for row in compare(day.session, day.session) if row.group == "Times"]
    assert "Tea" in times
    assert not [label for label in times if label.startswith(("Dip ", "Air "))]


def test_amounts_say_what_went_in_and_what_is_only_planned() -> None:
    """One session ground its pigment, the other is to grind twice as much."""
    other = Played().set("stock.pigment", "13 g")
    assert rows(Played().done("stock.paste"), other, "Amounts")["Stock: Indigo powder"] == ("6.5 g", "13.0 g planned")


def test_what_is_poured_is_compared_by_volume() -> None:
    """Vinegar goes in by the jug, so both sides say millilitres."""
    (row,) = [row for row in compare(Played().session, Played().session) if row.label == "Finish: Vinegar to sour"]
    assert row.left.endswith(" mL planned")
    assert row.right == row.left


def test_as_much_planned_as_went_in_is_no_difference() -> None:
    """The row says which is which, but is not marked: the amount is the same."""
    done, planned = Played().done("stock.paste").session, Played().session
    (row,) = [row for row in compare(done, planned) if row.label == "Stock: Indigo powder"]
    assert (row.left, row.right, row.differs) == ("6.5 g", "6.5 g planned", False)


def test_amounts_of_one_bath_match_whatever_else_is_scoured() -> None:
    """The wool's soap is the same row with and without a bath of cotton beside it."""
    plan = wool_plan()
    cotton = evolve(plan.lots[0], id="b", fibre="cotton", name="Towels")
    both = Played(evolve(plan, lots=(*plan.lots, cotton)))
    amounts = [row.label for row in compare(Played().session, both.session) if row.group == "Amounts"]
    assert sum("Soap" in label for label in amounts) == 1


def test_a_correction_has_a_row_of_its_own() -> None:
    """Reducer that was added to a tired vat stands beside nothing."""
    left = Played().happen(VatMade()).happen(CorrectionMade(material="reducer", amount=Amount(2, "g")))
    assert rows(left, Played(), "Amounts") == {"Correction: thiourea dioxide": ("2.0 g", "")}


def test_readings_stand_side_by_side_with_their_temperature() -> None:
    """A pH is only told with the temperature at which it was read."""
    reading = Reading(temperature=Amount(47, "degC"), pH=9.6)
    found = rows(Played().happen(ReadingTaken(reading)), Played(), "Readings")
    assert found["pH, last"] == ("9.6 at 47 °C (strip)", "")
    assert found["Temperature, last"] == ("47 °C", "")


def test_waits_match_by_step_and_count_each_time() -> None:
    """Two rests of the stock are two rows."""
    left = Played().waited("stock.hold_warm", 60).waited("stock.hold_warm", 15)
    right = Played().waited("stock.hold_warm", 75)
    found = rows(left, right, "Times")
    assert found["Stock rest"] == ("1 h", "1 h 15 min")
    assert found["Stock rest, time 2"] == ("15 min", "")


def test_free_waits_match_by_what_they_are_called() -> None:
    """Two waits of no step are two rows."""
    left = Played().happen(free_wait("Tea", 5, 1)).happen(WaitEnded("w1"), 5)
    left.happen(free_wait("Cake", 20, 3)).happen(WaitEnded("w3"), 20)
    found = rows(left, Played(), "Times")
    assert (found["Tea"], found["Cake"]) == (("5 min", ""), ("20 min", ""))


def test_dips_stand_piece_by_piece() -> None:
    """One skein got two dips, the other none."""
    left = Played().happen(VatMade())
    for _ in range(2):
        left.happen(DipStarted("a.1", 5)).happen(DipEnded("a.1", 10), 5)
    assert rows(left, Played(), "Dips") == {"Wool skeins 1": ("2 of 5 min, 1 min in the air", "")}


def test_the_result_is_what_came_out() -> None:
    """Colours by lot, and the notes."""
    left = Played().happen(ColourNoted("a", "mid blue", Amount(0.7, "%"))).happen(NoteWritten("fine"))
    found = rows(left, Played(), "Result")
    assert found["Wool skeins came out"] == ("mid blue, 0.7 %", "")
    assert found["Notes"] == ("fine", "")


@examples(15)
@given(sessions(), sessions())
def test_any_two_sessions_can_be_compared_either_way_round(one: Session, other: Session) -> None:
    """Swapping the two swaps the columns and loses no row."""

    def seen(found: tuple[Row, ...], *, swapped: bool) -> list[tuple[str, str, str]]:
        return sorted((row.group, *((row.right, row.left) if swapped else (row.left, row.right))) for row in found)

    there, back = compare(one, other), compare(other, one)
    assert seen(there, swapped=False) == seen(back, swapped=True)
