"""Pieces in a session: events, the fold, the board, swatches and scales."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED
from tests.plan.plans import wool_plan

from vatside.bench.depths import record_swatch
from vatside.catalogue.dyeing import own_results
from vatside.catalogue.load import fibres
from vatside.chemistry.colour import Lab
from vatside.dips.depth import Graded, Picked, swatch
from vatside.dips.rotation import Do, Place
from vatside.forms.fields import read, set_value
from vatside.log import waits
from vatside.log.colours import fits, results_of, verdicts
from vatside.log.effects.pieces import name_of
from vatside.log.events.day import ColourNoted, Entry, Event, LotRemoved, Undone, WaitEnded, WaitExtended
from vatside.log.events.vat import (
    CorrectionMade,
    DipEnded,
    DipsPlanned,
    DipStarted,
    DryMassTaken,
    PieceBack,
    PieceDone,
    PieceNamed,
    PieceTurned,
    SwatchRecorded,
    UptakeLearned,
    VatMade,
)
from vatside.log.fold import State, apply, fold, sheet_of
from vatside.log.state import Session
from vatside.log.waits import Moment
from vatside.log.words.day import log_lines
from vatside.outlook import dip_board
from vatside.plan.plan import Learned, Plan
from vatside.recipe.compute import compute
from vatside.storage.codec import DAY_LOG
from vatside.units import Amount, Problem


def plan_of(**changes: str) -> Plan:
    """Give a plan of three scarves of cotton, each alone in the vat; `__` stands for a dot."""
    typed = {"lots.a.name": "Scarves", "lots.a.fibre": "cotton", "lots.a.mass": "300 g", "lots.a.pieces": "3",
             "vat.entry": "100 g", "dip.a.dip": "5 min", "dip.a.air": "15 min", "dip.a.dips": "3"}  # fmt: skip
    plan = wool_plan("Scarves")
    for path, text in (typed | {name.replace("__", "."): text for name, text in changes.items()}).items():
        value = read(plan, path, text)
        assert not isinstance(value, Problem), value
        plan = set_value(plan, path, value)
    return plan


class Day:
    """A session being played on a virtual clock."""

    def __init__(self, **changes: str) -> None:
        self.clock = VirtualClock(CREATED)
        self.session = Session("s1", CREATED, plan_of(**changes))
        self.state = fold(self.session)
        """How the day stands."""

    def happen(self, *events: Event, after_min: float = 0.0) -> State:
        """Let events happen, the first some minutes later."""
        self.clock.advance(60 * after_min)
        for event in events:
            entry = Entry(self.session.seq + 1, self.clock.now(), event)
            self.session = evolve(self.session, entries=(*self.session.entries, entry))
            self.state = apply(self.state, entry)
        return self.state

    @property
    def now(self) -> Moment:
        """What the clocks show."""
        return self.clock.now()


def test_a_dip_is_a_wait() -> None:
    """A piece lowered in counts down its five minutes under its name, with a call to turn it at half time."""
    day = Day()
    state = day.happen(DipStarted("a.1", 5))
    (wait,) = state.waits
    assert wait.label == "Dip Scarves 1"
    assert waits.remaining(wait, day.now) == 300
    assert wait.nudges == (2.5,)
    assert state.dipping.pieces["a.1"].place is Place.IN_VAT


def planned(state: State) -> list[int]:
    """Give the dips of the three scarves."""
    return [piece.dips for piece in dip_board.pieces_of(state, sheet_of(state))]


@pytest.mark.parametrize("begun", [(), (DipStarted("a.1", 5),), (DipStarted("a.1", 5), DipEnded("a.1", 15))])
def test_more_dips_are_planned_for_one_piece_alone(begun: tuple[Event, ...]) -> None:
    """Five for the first scarf, three for the others, wherever the first one is; every dip is an entry to come."""
    before = Day().happen(*begun)
    state = Day().happen(*begun, DipsPlanned("a.1", 5))
    assert planned(before) == [3, 3, 3]
    assert planned(state) == [5, 3, 3]
    entries = [sheet_of(each).value("dip.all_entries") for each in (before, state)]
    assert entries[1] == entries[0] + 2


def test_a_piece_that_is_done_gets_no_more_dips() -> None:
    """What was planned beyond counts no longer once it has had its last dip."""
    state = Day().happen(DipStarted("a.1", 5), DipEnded("a.1", 15), DipsPlanned("a.1", 5), PieceDone("a.1"))
    assert planned(state)[0] == 1


def test_a_dip_beyond_the_plan_is_one_of_those_planned() -> None:
    """Three planned, in for the fourth: four."""
    dips = [event for _ in range(3) for event in (DipStarted("a.1", 5), DipEnded("a.1", 15))]
    assert planned(Day().happen(*dips, DipStarted("a.1", 5)))[0] == 4


def test_lifted_out_it_airs() -> None:
    """The dip's wait ends, that of the air begins."""
    day = Day()
    state = day.happen(DipStarted("a.1", 5), DipEnded("a.1", 15))
    assert [wait.label for wait in state.waits] == ["Air Scarves 1"]
    assert [wait.label for wait in state.past_waits] == ["Dip Scarves 1"]
    assert state.dipping.pieces["a.1"].place is Place.AIRING


def test_the_second_dip_ends_the_air() -> None:
    """Dips are counted; only one wait runs for a piece."""
    day = Day()
    day.happen(DipStarted("a.1", 5))
    day.happen(DipEnded("a.1", 15), after_min=5)
    state = day.happen(DipStarted("a.1", 5), after_min=15)
    assert state.dipping.pieces["a.1"].dips == 2
    assert [wait.label for wait in state.waits] == ["Dip Scarves 1"]


@pytest.mark.parametrize(
    ("events", "words"),
    [
        ((DipStarted("a.9", 5),), "piece a.9"),
        ((DipsPlanned("a.9", 5),), "piece a.9"),
        ((DipsPlanned("a.1", 101),), "cannot have 101 dips"),
        ((DipStarted("x.1", 5),), "piece x.1"),
        ((DipStarted("a.0", 5),), "piece a.0"),
        ((DipStarted("a.1", 5), DipStarted("a.1", 5)), "in the vat already"),
        ((DipEnded("a.1", 15),), "not in the vat"),
        ((DipStarted("a.1", 5), PieceDone("a.1")), "lift it out first"),
        ((PieceDone("a.1"), DipStarted("a.1", 5)), "take it back first"),
        ((PieceBack("a.1"),), "was not done"),
        ((PieceNamed("a.1", "x" * 41),), "letters at most"),
        ((SwatchRecorded("a.1"),), "held against a step"),
        ((SwatchRecorded("a.1", lab=(50.0, 1.0)),), "three numbers"),
        ((SwatchRecorded("a.1", step=Amount(3, "g")),), "no depth"),
        ((SwatchRecorded("a.1", step=Amount(1, "%"), grade=7),), "from 1 to 5"),
        ((DryMassTaken("x", Amount(100, "g")),), "lot x"),
        ((DryMassTaken("a", Amount(5, "min")),), "mass"),
    ],
)
def test_what_does_not_fit_changes_nothing(events: tuple[Event, ...], words: str) -> None:
    """It stays in the log as a misfit, in words, and all else stands."""
    state = Day().happen(*events)
    assert len(state.misfits) == 1
    assert words in state.misfits[0].text


def test_every_event_comes_back_from_the_file() -> None:
    """Written as JSON and read again each event is the same."""
    events: tuple[Event, ...] = (
        DipStarted("a.1", 5.0), DipEnded("a.1", 15.0), PieceTurned("a.1"), PieceDone("a.1"), PieceBack("a.1"),
        DipsPlanned("a.1", 4), PieceNamed("a.1", "Grandmother's shawl"), SwatchRecorded("a.1", (35.0, -2.0, -20.0)),
        SwatchRecorded("a", (), Amount(0.8, "%"), 4.5, True), DryMassTaken("a", Amount(230, "g"), before=True),
    )  # fmt: skip
    for event in events:
        entry = Entry(1, VirtualClock().now(), event)
        assert DAY_LOG.from_json(DAY_LOG.to_json(entry)) == entry


def test_live_and_reopened_are_the_same() -> None:
    """Applying the day one by one gives what folding it gives, undo included."""
    day = Day()
    day.happen(DipStarted("a.1", 5), after_min=1)
    day.happen(DipEnded("a.1", 15), after_min=5)
    day.happen(DipStarted("a.2", 5), Undone(3), after_min=1)
    live = fold(day.session.upto(0))
    for entry in day.session.entries:
        live = apply(live, entry)
    assert live == day.state
    assert "a.2" not in live.dipping.pieces


def test_undo_puts_the_dye_back() -> None:
    """Taking a lifting-out back leaves the piece in the vat, and the vat as it was."""
    day = Day()
    day.happen(VatMade(), DipStarted("a.1", 5))
    before = day.state.tending.account
    day.happen(DipEnded("a.1", 15), after_min=5)
    state = day.happen(Undone(3))
    assert state.tending.account == before
    assert state.dipping.pieces["a.1"].place is Place.IN_VAT


def test_dips_are_taken_into_the_account() -> None:
    """What the vat has lost is on the piece, and goes with its rinses."""
    day = Day()
    account = day.happen(VatMade()).tending.account
    day.happen(DipStarted("a.1", 5))
    state = day.happen(DipEnded("a.1", 15), after_min=5)
    on = state.dipping.pieces["a.1"].on
    assert account is not None
    assert state.tending.account is not None
    assert on.stays > 0
    assert state.tending.account.indigotin_g + on.stays + on.goes == pytest.approx(account.indigotin_g)


def test_the_real_minutes_count() -> None:
    """A piece forgotten for twenty minutes took more than one lifted after five."""
    depths = []
    for minutes in (5, 20):
        day = Day()
        day.happen(DipStarted("a.1", 5))
        depths.append(day.happen(DipEnded("a.1", 15), after_min=minutes).dipping.pieces["a.1"].on.stays)
    assert depths[1] > depths[0]


def test_corrections_and_dips_share_one_account() -> None:
    """Reducer added between two dips is in the vat that the second dip finds."""
    day = Day()
    day.happen(VatMade(), DipStarted("a.1", 5), DipEnded("a.1", 15))
    before = day.state.tending.account
    after = day.happen(CorrectionMade(material="reducer", amount=Amount(5, "g"))).tending.account
    assert before is not None
    assert after is not None
    assert after.bath.thiourea_dioxide > before.bath.thiourea_dioxide


def test_the_board_calls_for_each_in_turn() -> None:
    """First in, lifted when its time is over, the next one in; nobody twice before it has aired."""
    day = Day()
    sheet = compute(day.session.plan)

    def call() -> tuple[Do, str | None]:
        found = dip_board.next_move(day.state, sheet, day.now)
        return found.do, found.piece

    assert call() == (Do.ENTER, "a.1")
    day.happen(DipStarted("a.1", 5))
    assert call() == (Do.WAIT, "a.1")
    day.clock.advance(300)
    assert call() == (Do.LIFT, "a.1")
    day.happen(DipEnded("a.1", 15))
    assert call() == (Do.ENTER, "a.2")
    day.happen(DipStarted("a.2", 5))
    day.happen(DipEnded("a.2", 15), after_min=5)
    assert call() == (Do.ENTER, "a.3")


def test_the_board_shows_where_everybody_is() -> None:
    """Since when, and how long still, to the second; the pieces keep the order of the plan."""
    day = Day()
    day.happen(DipStarted("a.1", 5))
    day.happen(DipEnded("a.1", 15), DipStarted("a.2", 5), after_min=5)
    day.clock.advance(60)
    rows = dip_board.board(day.state, compute(day.session.plan), day.now)
    assert [(row.name, row.place, row.gone, row.left) for row in rows] == [
        ("Scarves 1", Place.AIRING, 60, 840), ("Scarves 2", Place.IN_VAT, 60, 240),
        ("Scarves 3", Place.WAITING, 0, None),
    ]  # fmt: skip


def test_a_longer_wait_is_a_longer_air() -> None:
    """Minutes added to a piece's wait hold on the board."""
    day = Day()
    day.happen(DipStarted("a.1", 5), DipEnded("a.1", 15))
    day.happen(WaitExtended("a.1:air1", 5))
    assert dip_board.standings(day.state, day.now)["a.1"].left == 20 * 60


def test_a_wait_ended_by_hand_is_over() -> None:
    """Ended early, the air counts as done: the dyer has the last word."""
    day = Day()
    day.happen(DipStarted("a.1", 5), DipEnded("a.1", 15), WaitEnded("a.1:air1"))
    assert dip_board.standings(day.state, day.now)["a.1"].left == 0


def test_the_board_survives_a_reboot() -> None:
    """After the machine was off for ten minutes the piece has aired ten minutes more."""
    day = Day()
    day.happen(DipStarted("a.1", 5), DipEnded("a.1", 15))
    day.clock.reboot(600)
    where = dip_board.standings(day.state, day.now)["a.1"]
    assert (where.gone, where.left) == (600, 300)


def test_the_vat_is_called_to_rest() -> None:
    """After six entries the board wants a rest of twelve minutes."""
    day = Day(dip__a__dips="6", lots__a__pieces="1", dip__a__air="5 min")
    for _ in range(6):
        day.happen(DipStarted("a.1", 5))
        day.happen(DipEnded("a.1", 5), after_min=5)
        day.clock.advance(300)
    sheet = compute(plan_of(dip__a__dips="7", lots__a__pieces="1"))
    call = dip_board.next_move(day.state, sheet, day.now)
    assert (call.do, call.seconds) == (Do.REST, 12 * 60 - 300)


def test_the_vat_says_that_it_wants_a_rest() -> None:
    """The same in words, beside who comes out pale; silent once everybody is done."""
    day = Day(dip__a__dips="6", lots__a__pieces="1", dip__a__air="5 min", stock__pigment="60 g")
    for _ in range(6):
        day.happen(DipStarted("a.1", 5))
        day.happen(DipEnded("a.1", 5), after_min=5)
        day.clock.advance(300)
    sheet = compute(plan_of(dip__a__dips="7", lots__a__pieces="1", stock__pigment="60 g"))
    assert "Once it is empty, the vat wants 12 min of rest after 6 entries." in dip_board.warnings(
        day.state, sheet, day.now
    )
    assert dip_board.warnings(day.happen(PieceDone("a.1")), sheet, day.now) == ()


def test_too_soon_says_by_how_much() -> None:
    """Ten of fifteen minutes aired: five are lacking; a piece that was never in lacks none."""
    day = Day()
    day.happen(DipStarted("a.1", 5), DipEnded("a.1", 15))
    day.clock.advance(600)
    assert dip_board.too_soon(day.state, "a.1", day.now) == 300
    assert dip_board.too_soon(day.state, "a.2", day.now) == 0


def test_pale_pieces_are_named_before_they_go_in() -> None:
    """A weak vat and dark scarves: the warning names the first of them."""
    day = Day(lots__a__depth="4 %", stock__pigment="3 g")
    day.happen(VatMade(), PieceNamed("a.1", "Anna's scarf"))
    (words,) = dip_board.pale_ones(day.state, compute(day.session.plan))
    assert words.startswith("Anna's scarf and 2 more will come out")


def test_nobody_is_pale_in_a_strong_vat() -> None:
    """Enough dye: no warning."""
    day = Day(lots__a__depth="0.2 %", stock__pigment="100 g")
    day.happen(VatMade())
    assert dip_board.pale_ones(day.state, compute(day.session.plan)) == ()


def test_who_has_had_its_dips_is_not_told_to_have_stock_before_them() -> None:
    """Three short dips of three held are over for one scarf, the others are still to come: each is told its own."""
    day = Day(lots__a__depth="4 %", stock__pigment="3 g")
    day.happen(VatMade())
    for _ in range(3):
        day.happen(DipStarted("a.1", 5))
        day.happen(DipEnded("a.1", 15), after_min=0.1)
    coming, over = dip_board.pale_ones(day.state, sheet_of(day.state))
    assert coming.startswith("Scarves 2 and 1 more will come out")
    assert "before the next dip" in coming
    assert over.startswith("Scarves 1 will stay")
    assert "The planned dips are over" in over
    assert "before" not in over


def test_names_come_and_go() -> None:
    """A name of its own, and back to the lot's."""
    day = Day()
    assert name_of(day.happen(PieceNamed("a.2", " Towel ")), "a.2") == "Towel"
    assert name_of(day.happen(PieceNamed("a.2", "")), "a.2") == "Scarves 2"


def test_turning_quiets_the_call_for_it() -> None:
    """Turned when the call comes, the alarm is heard."""
    day = Day()
    day.happen(DipStarted("a.1", 5))
    day.clock.advance(160)
    assert waits.ringing(day.state.waits[0], day.now) is not None
    state = day.happen(PieceTurned("a.1"))
    assert waits.ringing(state.waits[0], day.now) is None


@pytest.mark.parametrize(
    ("text", "event"),
    [
        ("35.2 -2.1 -20", SwatchRecorded("a.1", (35.2, -2.1, -20.0))),
        ("L* 35,2 a* −2 b* -20", SwatchRecorded("a.1", (35.2, -2.0, -20.0))),
        ("Medium", SwatchRecorded("a.1", step=Amount(0.8, "%"))),
        ("0.6 %", SwatchRecorded("a.1", step=Amount(0.6, "%"))),
        ("dark 4-5 paler", SwatchRecorded("a.1", step=Amount(2.0, "%"), grade=4.5)),
        ("medium 3 darker", SwatchRecorded("a.1", step=Amount(0.8, "%"), grade=3.0, darker=True)),
    ],
)
def test_swatches_are_read_as_written(text: str, event: SwatchRecorded) -> None:
    """Measured, picked, or graded."""
    assert record_swatch("a.1", text) == event


@pytest.mark.parametrize("text", ["", "blue", "150 0 0", "0 %", "medium 9 darker", "1 2", "٣ ٣ ٣"])
def test_what_is_no_swatch_is_explained(text: str) -> None:
    """A sentence that says how to write one."""
    found = record_swatch("a.1", text)
    assert isinstance(found, Problem)
    assert "such as" in found.text


def dyed_day(*swatches: Event) -> Day:
    """Give a day on which all three scarves were dipped three times, and what was recorded then."""
    day = Day(stock__pigment="40 g")
    day.happen(VatMade())
    for _ in range(3):
        for piece in ("a.1", "a.2", "a.3"):
            day.happen(DipStarted(piece, 5))
            day.happen(DipEnded(piece, 15), after_min=5)
    day.happen(*swatches, after_min=60)
    return day


def depth_of(piece: str) -> float:
    """Give what the account has on a scarf that was dipped three times, %."""
    grams = compute(plan_of(stock__pigment="40 g"))["dip.a.piece"].value
    return dyed_day().state.dipping.pieces[piece].on.depth(grams)


def uptake(*days: Day) -> Learned:
    """Give what some days say that cotton takes up."""
    return fits(results_of(day.state) for day in days).uptake["cellulose"]


def test_a_swatch_teaches_the_uptake() -> None:
    """A scarf deeper than the account has it raises what cotton takes, by one result, short of what it shows."""
    deep = uptake(dyed_day(SwatchRecorded("a.1", step=Amount(1.5 * depth_of("a.1"), "%"))))
    assert 1 < deep.factor < 1.5
    assert deep.results == 1
    pale = uptake(dyed_day(SwatchRecorded("a.1", step=Amount(depth_of("a.1") / 1.5, "%"))))
    assert pale.factor < 1


def test_a_swatch_as_expected_changes_nothing() -> None:
    """A scarf that is as deep as the account has it confirms the practice table, and makes it surer."""
    found = uptake(dyed_day(SwatchRecorded("a.2", step=Amount(depth_of("a.2"), "%"))))
    assert found.factor == pytest.approx(1.0, rel=1e-6)
    assert found.spread < own_results().prior.value


def test_pieces_of_one_lot_count_as_one_result() -> None:
    """Three scarves of one day are one day's word."""
    seen = [SwatchRecorded(f"a.{number}", step=Amount(1.3 * depth_of("a.1"), "%")) for number in (1, 2, 3)]
    assert uptake(dyed_day(*seen)).results == 1


def test_what_was_learned_goes_into_the_plan_and_out_again() -> None:
    """The event sets it; taken back, the table stands alone again."""
    day = dyed_day()
    learned = (Learned("cellulose", 0.8, 0.2, 3),)
    assert day.happen(UptakeLearned(learned)).plan.learned == learned
    assert day.happen(Undone(len(day.session.entries))).plan.learned == ()


@pytest.mark.parametrize("factor", [0.0, 0.1, 9.0, -1.0])
def test_what_no_fibre_takes_up_is_refused(factor: float) -> None:
    """Below two fifths or above two and a half times the table it is a slip."""
    day = Day()
    state = day.happen(UptakeLearned((Learned("cellulose", factor, 0.2, 1),)))
    assert state.plan.learned == ()
    assert len(state.misfits) == 1


def test_a_weighed_lot_teaches_the_colour() -> None:
    """With the gain known by the scale a swatch darker than estimated raises the colour yield, and no uptake."""
    cotton = fibres()["cotton"]
    day = dyed_day(
        DryMassTaken("a", Amount(290, "g"), before=True), DryMassTaken("a", Amount(293, "g")),
        ColourNoted("a", lab=(25.0, 0.0, -22.0)),
    )  # fmt: skip
    plan = day.state.plan
    sheet = compute(plan)
    assert sheet["finish.gain.a"].value == pytest.approx(300 / 290, rel=1e-6)
    found = fits([results_of(day.state)])
    assert found.uptake == {}
    assert found.colour["cellulose"].count == 1
    assert found.colour["cellulose"].value > 8
    fitted = swatch(sheet["finish.gain.a"].value, cotton, found.colour["cellulose"]).lab
    assert abs(fitted.L - 25) < 1.5


def test_a_mass_that_cannot_be_teaches_nothing() -> None:
    """Kilograms written for grams: the colour counts as if the lot had not been weighed dyed."""
    colour = ColourNoted("a", lab=(25.0, 0.0, -22.0))
    wrong = dyed_day(DryMassTaken("a", Amount(293, "kg")), colour)
    assert results_of(wrong.state).colour == ()
    assert results_of(wrong.state).swatches == results_of(dyed_day(colour).state).swatches


def test_results_of_two_days_are_fitted_together() -> None:
    """Two sessions with a swatch each rest on two results, and are surer than one."""
    days = [dyed_day(SwatchRecorded("a.1", step=Amount(depth, "%"))) for depth in (0.9, 1.0)]
    assert uptake(*days).results == 2
    assert uptake(*days).spread < uptake(days[0]).spread


def test_a_swatch_is_held_against_what_was_wanted() -> None:
    """A light scarf where medium was wanted is said to be paler."""
    day = dyed_day(SwatchRecorded("a.1", step=Amount(0.4, "%")))
    held = verdicts(day.state, fits([]))
    assert "paler than the medium wanted" in held["a.1"].words(0.8)


def test_swatches_keep_how_they_were_seen() -> None:
    """Measured, picked and graded ones stand in the state as such."""
    state = Day().happen(
        SwatchRecorded("a.1", (35.0, -2.0, -20.0)), SwatchRecorded("a.2", step=Amount(0.8, "%")),
        SwatchRecorded("a.3", step=Amount(0.8, "%"), grade=4, darker=True),
    )  # fmt: skip
    assert [item.seen for item in state.dipping.swatches] == [
        Lab(35.0, -2.0, -20.0), Picked(0.8), Graded(0.8, 4, True),
    ]  # fmt: skip


def test_a_lot_that_left_takes_its_pieces_off_the_board() -> None:
    """The board shows the plan's pieces; swatches of a lot that left teach nothing and break nothing."""
    day = dyed_day(SwatchRecorded("a.1", step=Amount(0.9, "%")))
    state = day.happen(LotRemoved("a"))
    assert len(state.misfits) == 1  # the last lot stays
    shrunk = evolve(state, plan=evolve(state.plan, lots=(evolve(state.plan.lots[0], id="b"),)))
    sheet = compute(shrunk.plan)
    assert all(row.lot == "b" for row in dip_board.board(shrunk, sheet, day.now))
    assert results_of(shrunk).swatches == ()


def test_the_log_speaks_of_pieces_by_name() -> None:
    """Each event has words of its own."""
    day = Day()
    day.happen(
        PieceNamed("a.1", "Anna's scarf"), DipStarted("a.1", 5), PieceTurned("a.1"), DipEnded("a.1", 15),
        PieceDone("a.1"), PieceBack("a.1"), SwatchRecorded("a", step=Amount(0.8, "%"), grade=4.5, darker=True),
        DipsPlanned("a.1", 4), DryMassTaken("a", Amount(293, "g")),
    )  # fmt: skip
    said = [line.split("  ", 1)[1] for line in log_lines(day.session)]
    assert said == [
        "Scarves 1 is called Anna's scarf",
        "Anna's scarf in for 5 min, dip 1",
        "Anna's scarf turned",
        "Anna's scarf out, to air 15 min",
        "Anna's scarf has had its last dip",
        "Anna's scarf takes turns again",
        "Colour of Scarves: darker than the step of 0.8 %, grade 4.5",
        "Anna's scarf is to have 4 dips in all",
        "Scarves weighs 293 g dyed and dry",
    ]


def test_a_dip_that_is_taken_back_is_the_one_that_was_logged() -> None:
    """While it is named the piece is still in the vat: its first dip stays the first."""
    day = Day()
    day.happen(DipStarted("a.1", 5))
    day.happen(Undone(day.session.entries[-1].seq))
    assert log_lines(day.session)[-1].endswith("Taken back: Scarves 1 in for 5 min, dip 1")


def test_names_of_the_plan_go_with_the_pieces() -> None:
    """Board, waits and log call a piece by the plan's name; one given at the vat wins, and taken away gives it back."""
    day = Day(lots__a__names="Asha, Ben")
    state = day.happen(DipStarted("a.1", 5))
    names = [piece.name for piece in dip_board.pieces_of(state, compute(state.plan))]
    assert names == ["Asha", "Ben", "Scarves 3"]
    assert state.waits[0].label == "Dip Asha"
    assert any("Asha in for 5 min, dip 1" in line for line in log_lines(day.session))
    state = day.happen(PieceNamed("a.1", "Cora"), PieceNamed("a.2", "Dan"), PieceNamed("a.2", ""))
    assert [name_of(state, piece) for piece in ("a.1", "a.2")] == ["Cora", "Ben"]
