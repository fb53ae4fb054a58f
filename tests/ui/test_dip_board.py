"""The dip board: one answer to who goes in next, one key that moves a piece on, nobody airs too short."""

from __future__ import annotations

import re

import pytest
from attrs import evolve
from tests.ui.hands import STANDS, Bench, Hands, of_wool

from vatside.bench import dip_acts
from vatside.bench import dip_view as falling
from vatside.bench.commands import free_wait
from vatside.bench.desk import Desk
from vatside.bench.dip_view import Board, Line
from vatside.dips.rotation import Call, Do, Piece, Place, Row, Standing
from vatside.log.events.day import LotAdded, PinSet, StepDone
from vatside.log.events.vat import DipEnded, DipStarted, PieceDone, VatMade
from vatside.outlook import dip_board
from vatside.plan.starter import new_lot
from vatside.ui.base.keymap import shown
from vatside.ui.dips.board import DipScreen
from vatside.ui.dips.board_rows import board_rows, strength_spans
from vatside.ui.text.rows import UNICODE
from vatside.ui.widgets.lines import Lines
from vatside.units import Amount

SIZES = [(80, 24), (60, 20), (120, 40)]


async def dip_day(hands: Hands, *, dips: int = 2, name: str = "", pieces: int = 2) -> None:
    """Begin a day whose pieces have a 10 min dip and 15 min of air, one in the vat at a time; show the board."""

    def log(desk: Desk) -> None:
        of_wool(desk, pieces)
        desk.record(
            PinSet("dip.a.dips", Amount(dips, "")),
            PinSet("dip.a.at_once", Amount(1, "")),
            PinSet("dip.a.dip", Amount(10, "min")),
            PinSet("dip.a.air", Amount(15, "min")),
            PinSet("dip.entries", Amount(100, "")),
            *STANDS,
        )

    await hands.begin(log, "dip")
    await hands.press("d")
    await hands.until(lambda: board_in_hand(hands))
    if name:
        await hands.press("enter")
        await hands.write(name)
        await hands.press("enter")


def board_in_hand(hands: Hands) -> bool:
    """Whether the board is in front and has a piece in hand: before that no key means anything to it."""
    screen = hands.app.screen
    return isinstance(screen, DipScreen) and bool(screen.piece)


def places(hands: Hands) -> list[str]:
    """Where the pieces are, in the order of the plan."""
    desk = hands.desk
    stand = dip_board.standings(desk.state, desk.clock.now())
    return [stand[piece.id].place.value if piece.id in stand else "waiting"
            for piece in dip_board.pieces_of(desk.state, desk.sheet)]  # fmt: skip


def called(hands: Hands) -> str:
    """The line that says what to do."""
    return hands.screen.splitlines()[1]


@pytest.mark.parametrize("size", SIZES)
async def test_every_piece_has_a_line(bench: Bench, size: tuple[int, int]) -> None:
    """Name, dips done of planned and place stand on the board in every size of window."""
    async with bench(size=size) as hands:
        await dip_day(hands)
        lines = [line for line in hands.screen.splitlines() if "0/2" in line]
        assert len(lines) == 2
        assert all("waiting" in line for line in lines)
        assert "PUT IN" in called(hands)


async def test_space_puts_the_next_piece_in(bench: Bench) -> None:
    """One key lowers the piece that is called for, and its dip runs."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space")
        assert places(hands) == ["in the vat", "waiting"]
        assert "10:00" in hands.screen
        assert hands.desk.state.waits[0].minutes == 10


async def test_one_key_takes_a_piece_all_the_way(bench: Bench) -> None:
    """Space alone: in, turned, out to air, turned, in again, and at the end done."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        seen = []
        for _ in range(80):
            if all(place == "done" for place in places(hands)):
                break
            await hands.later(60)
            await hands.press("space")
            seen.append(tuple(places(hands)))
        assert places(hands) == ["done", "done"], hands.screen
        assert seen.index(("in the vat", "waiting")) < seen.index(("airing", "in the vat"))
        assert "piece_turned" in hands.kinds
        assert hands.kinds.count("dip_started") == 2
        assert "ALL DIPPED" in called(hands)


async def test_a_full_vat_takes_nobody(bench: Bench) -> None:
    """With one piece in a vat for one, space on the other says so and changes nothing."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "down", "space")
        assert places(hands) == ["in the vat", "waiting"]
        assert "The vat is full" in hands.screen


async def test_a_dip_is_not_cut_short_by_space(bench: Bench) -> None:
    """Space on a piece that has just gone in says how long it stays; `e` lifts it out all the same."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "space")
        assert places(hands) == ["in the vat", "waiting"]
        assert "to go. e lifts it out" in hands.screen
        await hands.press("e")
        assert places(hands) == ["airing", "waiting"]


@pytest.mark.parametrize("size", SIZES)
async def test_an_idle_vat_says_why_on_the_board(bench: Bench, size: tuple[int, int]) -> None:
    """The wool airs between two dips and cotton has not been in: the line of the call says why nobody goes in."""
    async with bench(size=size) as hands:
        await dip_day(hands, pieces=1)
        hands.desk.record(LotAdded(evolve(new_lot(hands.desk.plan), fibre="cotton", name="Towels")))
        hands.desk.record(DipStarted("a.1", 10), DipEnded("a.1", 15))
        await hands.later(60)
        assert "WAIT" in called(hands)
        assert "for Wool skeins, plant fibres go in last" in called(hands)


async def take(hands: Hands, piece: str) -> None:
    """Put the cursor on a piece."""
    screen = hands.app.screen
    assert isinstance(screen, DipScreen)
    await hands.press("home")
    for _ in range(20):
        if screen.piece == piece:
            return
        await hands.press("down")
    pytest.fail(f"{piece} is not on the board:\n{hands.screen}")


async def test_nobody_airs_too_short(bench: Bench) -> None:
    """Neither space nor one `e` puts a piece in that lacks air; both say what it lacks."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "e")
        await take(hands, "a.1")
        await hands.press("space")
        assert "airs 15:00 more" in hands.screen
        await hands.press("e")
        assert "lacks 15:00 of air" in hands.screen
        assert places(hands) == ["airing", "waiting"]


async def test_the_second_e_is_sure(bench: Bench) -> None:
    """After the warning `e` once more puts the piece in with too little air; later on it is asked about again."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "e")
        await take(hands, "a.1")
        await hands.press("e")
        await hands.later(30)
        await take(hands, "a.1")
        await hands.press("e")
        assert places(hands)[0] == "airing"
        await hands.press("e")
        assert places(hands)[0] == "in the vat"


async def test_the_end_of_a_dip_rings(bench: Bench) -> None:
    """When a dip is over the bell rings and the board calls for lifting out."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space")
        rung: list[float] = []
        hands.app.bell = lambda: rung.append(hands.clock.elapsed)  # type: ignore[method-assign]
        await hands.later(601)
        assert rung
        assert "LIFT OUT !" in called(hands)
        assert "! lift it out" in hands.screen


async def test_turning_is_called_for(bench: Bench) -> None:
    """Half way through the dip the board asks for the turn; space quiets it and the dip goes on."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space")
        await hands.later(301)
        assert "TURN !" in called(hands)
        await hands.press("space")
        assert "TURN" not in called(hands)
        assert hands.kinds[-1] == "piece_turned"
        assert places(hands)[0] == "in the vat"


async def test_the_call_to_turn_keeps_its_words(bench: Bench) -> None:
    """Some seconds late the board and the wait still say how to turn it."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space")
        await hands.later(320)
        assert "turn it, spread it" in called(hands)
        assert "! turn it, spread it" in hands.screen.splitlines()[-3]


async def test_who_is_next_stands_beside_a_turn(bench: Bench) -> None:
    """While a piece wants turning, the one to go in next is the one that can go in now."""
    async with bench() as hands:
        await dip_day(hands)
        lot = hands.desk.state.plan.lots[0].id
        hands.desk.record(PinSet(f"dip.{lot}.at_once", Amount(2, "")))
        await hands.press("space")
        await hands.later(301)
        assert "TURN" in called(hands)
        line = next(line for line in hands.screen.splitlines() if line.startswith(" next in"))
        assert "Wool skeins 2  now" in line


async def test_an_aired_piece_is_called_in(bench: Bench) -> None:
    """Once a piece has aired long enough, and the vat is free, it is the one to put in."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "e", "space", "e")
        assert places(hands) == ["airing", "airing"]
        await hands.press("q")
        await hands.later(15 * 60 + 2)
        assert "PUT IN" in called(hands)
        assert "aired long enough" in called(hands)


async def test_who_is_next_is_said_while_waiting(bench: Bench) -> None:
    """While everybody is busy the board names the next piece and when."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "e", "space")
        line = next(line for line in hands.screen.splitlines() if "next in" in line and " in 1" in line)
        assert "Wool skeins 1" in line
        assert "15:00" in line


async def test_a_name_is_shown_and_is_no_markup(bench: Bench) -> None:
    """A typed name stands on the board as it was typed."""
    async with bench() as hands:
        await dip_day(hands, name="[bold]scarf[/]")
        assert "[bold]scarf[/]" in hands.screen
        await hands.press("space", "f")
        await hands.later(1)
        assert "[BOLD]SCARF[/]" in hands.screen


async def test_a_name_goes_with_a_minus_and_stays_with_escape(bench: Bench) -> None:
    """Escape leaves the name, `-` takes it away."""
    async with bench() as hands:
        await dip_day(hands, name="scarf")
        await hands.press("enter", "escape")
        assert "scarf" in hands.screen
        await hands.press("enter", "home", *["delete"] * 5, "-", "enter")
        assert "scarf" not in hands.desk.state.dipping.names.values()


async def test_undo_takes_a_dip_back(bench: Bench) -> None:
    """`u` brings the piece out again as if it had never gone in."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "u")
        assert places(hands) == ["waiting", "waiting"]
        assert not hands.desk.state.waits


async def test_one_more_dip_than_planned(bench: Bench) -> None:
    """A piece with all its dips is looked at; `a` plans one more, and the board calls it in."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        await hands.press("space", "e", "space", "e")
        await hands.later(15 * 60 + 2)
        assert "LOOK AT" in called(hands)
        await hands.press("a")
        assert places(hands) == ["airing", "airing"]
        assert "PUT IN" in called(hands)
        assert "dip 2 of 2" in called(hands)
        await hands.press("space")
        assert sorted(places(hands)) == ["airing", "in the vat"]


@pytest.mark.parametrize("size", SIZES)
async def test_one_more_leaves_a_piece_where_it_is(bench: Bench, size: tuple[int, int]) -> None:
    """`a` on a piece in the vat plans one dip more for it alone and lifts nothing out; `u` takes that back."""
    async with bench(size=size) as hands:
        await dip_day(hands)
        await hands.press("space")
        await hands.later(1)
        await hands.press("a")
        assert places(hands) == ["in the vat", "waiting"]
        assert "1/3" in hands.screen
        assert "0/2" in hands.screen
        assert "3 dips in all, one more than planned" in hands.screen
        await hands.press("u")
        assert "1/2" in hands.screen
        assert places(hands) == ["in the vat", "waiting"]


async def test_one_more_for_a_piece_that_has_not_been_in(bench: Bench) -> None:
    """`a` before the first dip: three for that piece, two for the other."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("a")
        assert "0/3" in hands.screen
        assert "0/2" in hands.screen
        assert places(hands) == ["waiting", "waiting"]


async def test_one_more_for_a_piece_that_was_done(bench: Bench) -> None:
    """`m` on a done piece lets it take turns again for one dip; one `u` takes both back."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        await hands.press("space", "e")
        await take(hands, "a.1")
        await hands.press("x")
        await hands.later(1)
        await take(hands, "a.1")
        await hands.press("a")
        assert places(hands)[0] == "waiting"
        assert "1/2" in hands.screen
        await hands.press("u")
        assert places(hands)[0] == "done"


async def test_a_dip_beyond_the_plan_counts_as_planned(bench: Bench) -> None:
    """A piece put in once more by `e` never says 2 of 1."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        await hands.press("space", "e", "space", "e")
        await hands.later(15 * 60 + 2)
        await hands.press("e")
        assert "in the vat" in places(hands)
        assert "2/2" in hands.screen
        assert "2/1" not in hands.screen


async def test_the_vat_weakens_dip_by_dip(bench: Bench) -> None:
    """The strength on the board falls with each dip, and what it began with stands beside it."""
    async with bench() as hands:
        await dip_day(hands)
        before = falling.strength(hands.desk)
        assert before is not None
        await hands.press("space", "e")
        after = falling.strength(hands.desk)
        assert after is not None
        assert after < before
        assert f"{after:.2g} of {before:.2g}" in hands.screen


async def test_strength_taken_back_with_an_undo(bench: Bench) -> None:
    """After an undo the curve has one dip less, as the whole log says."""
    async with bench() as hands:
        await dip_day(hands)
        curve = falling.StrengthHistory()
        for key in ("space", "e", "space", "e"):
            await hands.press(key)
            await hands.later(1)
        assert curve.after(hands.desk.state) == falling.strengths(hands.desk.state)
        assert len(curve.after(hands.desk.state)) == 3
        await hands.press("u")
        assert len(curve.after(hands.desk.state)) == 2


async def test_pale_is_said_before_it_goes_in(bench: Bench) -> None:
    """A plan that a weak vat cannot give is warned of before the first dip."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("escape")
        hands.desk.record(PinSet("vat.strength", Amount(0.02, "g/L")))
        await hands.press("d")
        await hands.later(1)
        words = dip_board.warnings(hands.desk.state, hands.desk.sheet, hands.clock.now())
        assert any("out" in line for line in words)
        assert "before the next dip" in " ".join(hands.screen.replace("!", " ").split())


async def test_the_vat_that_needs_a_rest_gets_it(bench: Bench) -> None:
    """After the entries that a vat stands, the board says to let it rest and space says how long."""
    async with bench() as hands:
        await dip_day(hands, dips=3)
        await hands.press("escape")
        hands.desk.record(PinSet("dip.entries", Amount(2, "")), PinSet("dip.short_rest", Amount(12, "min")))
        await hands.press("d")
        await hands.press("space", "e", "space", "e")
        await hands.later(1)
        assert "LET THE VAT REST" in called(hands)
        following = dip_acts.board(hands.desk, hands.clock.now()).following
        assert following is not None
        assert following.seconds >= 11 * 60
        assert "wants" in hands.screen


async def test_the_far_view_names_the_next_piece(bench: Bench) -> None:
    """From across the kitchen the next action is the next piece."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "f")
        await hands.later(1)
        assert "NEXT  Wait" in hands.screen or "NEXT  Put in" in hands.screen
        await hands.later(600)
        assert "Lift out Wool skeins 1" in hands.screen


async def test_the_stage_itself_says_who_is_next(bench: Bench) -> None:
    """Back on the stage the call stands above the steps."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space", "escape")
        assert "1 in, 0 airing, 0/2 done" in hands.screen


async def test_space_on_the_step_opens_the_board(bench: Bench) -> None:
    """The step that is done by the board opens it; once every piece is done, it is ticked from there."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        await hands.press("escape")
        while hands.day.parts["steps"].key != "dip.rotate":
            await hands.press("down")
        await hands.press("space")
        assert isinstance(hands.app.screen, DipScreen)
        await hands.press("x", "x", "x")
        assert places(hands) == ["done", "done"]
        await hands.press("space")
        assert type(hands.app.screen).__name__ == "DayScreen"
        assert "dip.rotate" in hands.desk.state.done


async def test_the_wool_of_a_vat_for_both_has_its_own_step(bench: Bench) -> None:
    """Space on it opens the board while wool is left, and ticks it once the wool is out, cotton or no cotton."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        desk = hands.desk
        desk.record(LotAdded(evolve(new_lot(desk.plan), fibre="cotton", name="Towels")))
        await hands.press("escape")
        hands.day.parts["steps"].choose("dip.gentle")
        await hands.press("space")
        assert isinstance(hands.app.screen, DipScreen)
        await hands.press("escape")
        for piece in ("a.1", "a.2"):
            desk.record(DipStarted(piece, 10), DipEnded(piece, 15), PieceDone(piece))
        hands.day.parts["steps"].choose("dip.gentle")
        await hands.press("space")
        assert "dip.gentle" in desk.state.done
        assert "dip.rotate" not in desk.state.done


async def test_dips_survive_a_new_start(bench: Bench) -> None:
    """Closed and opened again, the pieces are where they were and the dip has gone on."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space")
        path, clock = hands.desk.keeping.path, hands.clock
        await hands.press("ctrl+q")
    clock.advance(120)
    async with bench(clock=clock, file=path) as again:
        await again.to("dip")
        await again.press("d")
        assert places(again) == ["in the vat", "waiting"]
        assert "8:00" in again.screen


async def test_after_the_last_dip_the_board_says_what_comes_next(bench: Bench) -> None:
    """Cover the vat and hang the fibre up: what is left of the dips, and the last airing with its minutes."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        for piece in ("a.1", "a.2"):
            hands.desk.record(DipStarted(piece, 10), DipEnded(piece, 15), PieceDone(piece))
        await hands.later(1)
        assert "ALL DIPPED" in called(hands)
        assert "cover the vat" in hands.screen
        assert "last airing, 20 min" in hands.screen


@pytest.mark.parametrize("size", SIZES)
async def test_what_comes_next_stands_there_as_long_as_it_is_to_do(bench: Bench, size: tuple[int, int]) -> None:
    """Ticked and opened again, the board still says what is left; with that done too, that nothing is."""
    async with bench(size=size) as hands:
        await dip_day(hands, dips=1)
        for piece in ("a.1", "a.2"):
            hands.desk.record(DipStarted(piece, 10), DipEnded(piece, 15), PieceDone(piece))
        hands.desk.record(StepDone("dip.rotate"))
        await hands.press("escape", "d")
        assert "ALL DIPPED" in called(hands)
        assert "cover the vat" in hands.screen
        hands.desk.record(StepDone("dip.cover"), StepDone("finish.wool.air"))
        await hands.later(1)
        assert "cover the vat" not in hands.screen
        assert "Nothing is left to do at the vat" in hands.screen
        assert "1  Nothing" not in hands.screen, "one thing is no list"


@pytest.mark.parametrize("size", [(80, 24), (100, 30), (113, 30), (120, 40), (140, 40)])
async def test_what_is_said_of_a_piece_is_never_cut(bench: Bench, size: tuple[int, int]) -> None:
    """The hour at which it came there gives way to it, and two columns stand before what it comes to."""
    async with bench(size=size) as hands:
        await dip_day(hands)
        hands.desk.type("lots.a.name", "Panels for the kitchen window")
        hands.desk.record(DipStarted("a.1", 10), DipEnded("a.1", 15))
        hands.desk.record(DipStarted("a.2", 10))
        await hands.later(20 * 60)
        await hands.press("q")
        lines = [line for line in hands.screen.splitlines() if re.search("airing|in the vat", line)]
        assert [bool(re.search("aired enough|! lift it out", line)) for line in lines] == [True, True], lines
        assert not any(re.search(r"\S ?comes to", line) for line in lines), lines


@pytest.mark.parametrize(("size", "why"), [((60, 20), "stands there yet"), ((90, 24), "has not gone in.")])
async def test_the_reason_beside_the_verb_ends_with_a_clause(bench: Bench, size: tuple[int, int], why: str) -> None:
    """What has no room is left out from the end, clause by clause."""
    async with bench(size=size) as hands:
        await hands.begin(of_wool, "dip")
        await hands.press("d")
        await hands.until(lambda: board_in_hand(hands))
        assert called(hands).rstrip().endswith(why)


@pytest.mark.parametrize("size", SIZES)
async def test_like_pieces_keep_their_numbers(bench: Bench, size: tuple[int, int]) -> None:
    """A long name is cut before its number, on the lines and in the large words."""
    async with bench(size=size) as hands:
        await dip_day(hands)
        hands.desk.type("lots.a.name", "Linen tea towels with a wide hem, bought in the spring, half bleached")
        hands.desk.settle()
        await hands.press("escape", "d")
        lines = [line.split("0/2")[0] for line in hands.screen.splitlines() if "0/2" in line]
        assert [line.split()[-1] for line in lines] == ["1", "2"]
        assert all("…" in line for line in lines)
        large = [line.partition("LINEN")[2].strip() for line in hands.screen.splitlines() if "LINEN" in line]
        assert [line.endswith("… 1") or line.endswith("…1") for line in large] == [True]


async def test_a_piece_that_is_done_is_sent_to_its_last_airing(bench: Bench) -> None:
    """`x` says so with the minutes of its fibre, and the board shows the dips it had, not those planned."""
    async with bench() as hands:
        await dip_day(hands, dips=5)
        hands.desk.record(DipStarted("a.1", 10), DipEnded("a.1", 15))
        await take(hands, "a.1")
        await hands.press("x")
        assert "last airing, 20 min" in hands.screen
        line = next(line for line in hands.screen.splitlines() if "Wool skeins 1" in line and "done" in line)
        assert "1 dip " in line
        assert "1/5" not in line


async def test_done_pressed_twice_ends_one_piece(bench: Bench) -> None:
    """A second `x` at once, with the cursor gone on to the next piece, says so and ends nothing; a third one does."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("x", "x")
        assert places(hands) == ["done", "waiting"]
        assert "x was for Wool skeins 1; once more ends Wool skeins 2 too." in hands.screen
        await hands.press("x")
        assert places(hands) == ["done", "done"]


async def test_done_is_not_asked_about_a_piece_that_was_chosen(bench: Bench) -> None:
    """With the next piece chosen by the arrows, or the first press some time ago, `x` ends it at once."""
    async with bench() as hands:
        await dip_day(hands, pieces=3)
        await take(hands, "a.2")
        await hands.press("x")
        await take(hands, "a.3")
        await hands.press("x")
        assert places(hands) == ["waiting", "done", "done"]
        await hands.later(10)
        await hands.press("x")
        assert places(hands) == ["done", "done", "done"]


async def test_one_dip_is_no_dips(bench: Bench) -> None:
    """With a single dip planned, neither the board nor what is said of a piece that is done has one dips."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        assert hands.screen.count("0/1 dip ") == 2
        hands.desk.record(DipStarted("a.1", 10), DipEnded("a.1", 15))
        await hands.later(15 * 60)
        assert "Wool skeins 1 is done, 1 dip:" in str(dip_acts.move_on(hands.desk, "a.1", hands.clock.now()))


@pytest.mark.parametrize("size", SIZES)
async def test_what_the_piece_in_question_comes_to_stands_on_the_board(bench: Bench, size: tuple[int, int]) -> None:
    """In every size of window, and the same as on the sheet."""
    async with bench(size=size) as hands:
        await dip_day(hands, pieces=1)
        assert f"comes to about {hands.grams('dip.a.reaches'):.2g} %" in hands.screen


async def test_board_steps_and_figures_say_one_strength(bench: Bench) -> None:
    """All done after one dip: the board's strength is that of the step which covers the vat."""
    async with bench() as hands:
        await dip_day(hands)
        for piece in ("a.1", "a.2"):
            hands.desk.record(DipStarted(piece, 10), DipEnded(piece, 15), PieceDone(piece))
        await hands.later(1)
        strength = f"{hands.grams('dip.left_strength'):.2g}"
        assert f"vat {strength} of" in hands.screen
        cover = hands.desk.step("dip.cover")
        assert cover is not None
        assert f"{strength} g/L" in cover.text


async def test_the_pH_goes_up_before_plant_fibres_follow_wool(bench: Bench) -> None:
    """Wool through, cotton to come: the board warns until the step is ticked."""
    async with bench() as hands:
        await dip_day(hands, dips=1)
        desk = hands.desk
        desk.record(LotAdded(evolve(new_lot(desk.plan), fibre="cotton", name="Towels")))
        for piece in ("a.1", "a.2"):
            desk.record(DipStarted(piece, 10), DipEnded(piece, 15), PieceDone(piece))
        words = dip_board.warnings(desk.state, desk.sheet, desk.clock.now())
        assert any("Raise the pH to 11 before Towels" in text for text in words)
        await hands.later(1)
        await take(hands, "b.1")
        await hands.press("space")
        assert places(hands)[2:] == ["waiting"]
        desk.record(StepDone("dip.protein_first"))
        words = dip_board.warnings(desk.state, desk.sheet, desk.clock.now())
        assert not any("Raise the pH" in text for text in words)


async def test_a_vat_that_harms_what_goes_in_is_told_before_it_goes_in(bench: Bench) -> None:
    """Far too alkaline for wool: the board says so first, until no piece is to go in any more."""
    async with bench() as hands:
        await dip_day(hands, dips=1, pieces=1)
        desk = hands.desk
        desk.record(PinSet("vat.alkali", Amount(60, "g")))
        await hands.later(1)
        [first, *_] = dip_board.warnings(desk.state, desk.sheet, desk.clock.now())
        assert "alkali harms wool" in first
        shown = " ".join(row.text.strip() for row in hands.app.screen.query_one("#warnings", Lines).rows)
        assert shown.startswith("!! Danger: ")
        assert "alkali harms wool" in shown
        lot = desk.state.plan.lots[0].id
        desk.record(DipStarted(f"{lot}.1", 10), DipEnded(f"{lot}.1", 15), PieceDone(f"{lot}.1"))
        said = dip_board.warnings(desk.state, desk.sheet, desk.clock.now())
        assert not any("alkali harms wool" in words for words in said)


async def test_after_a_break_the_vat_is_read_first(bench: Bench) -> None:
    """The board calls for the reading; `e` twice dips all the same, which the log says and one undo takes back."""
    async with bench() as hands:
        await dip_day(hands)
        hands.desk.record(VatMade())
        await hands.long_later(60)
        await hands.settle()
        assert "Nobody has looked at the vat for 1 h" in hands.screen
        assert "PUT IN" not in hands.screen
        assert not any("next in" in line and "now" in line for line in hands.screen.splitlines())
        await hands.press("e")
        assert "e once more" in hands.screen
        assert not hands.desk.state.dipping.pieces
        await hands.press("e")
        assert len(hands.desk.state.dipping.pieces) == 1
        assert "dipped all the same" in hands.desk.state.notes[-1].text
        await hands.press("u")
        assert not hands.desk.state.dipping.pieces
        assert not len(hands.desk.state.notes)


async def test_space_reads_the_vat_when_the_board_calls_for_it(bench: Bench) -> None:
    """The key that does what is called for opens the reading."""
    async with bench() as hands:
        await dip_day(hands)
        hands.desk.record(VatMade())
        await hands.long_later(60)
        await hands.settle()
        await hands.press("space")
        await hands.until(lambda: type(hands.app.screen).__name__ == "ReadingScreen")


async def test_all_go_in_and_come_out_by_one_key(bench: Bench) -> None:
    """As many as may go in together; once their dips are over the same key lifts them, and one undo takes it back."""
    async with bench() as hands:
        await dip_day(hands, pieces=3)
        hands.desk.record(PinSet("dip.a.at_once", Amount(3, "")))
        await hands.press("z")
        assert places(hands) == ["in the vat"] * 3
        await hands.press("u")
        assert places(hands) == ["waiting"] * 3
        await hands.press("z")
        assert "All out" not in hands.screen
        await hands.later(60)
        await hands.press("z")
        assert places(hands) == ["in the vat"] * 3
        await hands.later(600)
        assert "all out" in help_line(hands)
        await hands.press("z")
        assert places(hands) == ["airing"] * 3


def help_line(hands: Hands) -> str:
    """Every key that counts on the board just now, whether there is room for it or not."""
    screen = hands.app.screen
    return " ".join(f"{key.label} {key.words}" for key in shown(screen.KEYS, screen))  # type: ignore[attr-defined]


async def test_the_board_never_orders_what_space_would_refuse(bench: Bench) -> None:
    """No vat stands: it says what to do first instead of calling a piece in."""
    async with bench() as hands:
        await hands.begin(lambda desk: of_wool(desk, 1), "dip")
        await hands.press("d")
        await hands.until(lambda: board_in_hand(hands))
        assert "NOT YET" in called(hands)
        assert "No vat stands there yet" in called(hands)
        assert "PUT IN" not in hands.screen
        await hands.press("space")
        assert places(hands) == ["waiting"]


def test_the_called_piece_is_looked_up_once_for_all_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    """To look it up for each line would cost the square of a large class's pieces."""
    lines = [
        Line(Row(f"a.{n}", f"Cloth {n}", "a", 0, 5, Place.WAITING, 0.0, None, ""), None, "", paused=False)
        for n in range(50)
    ]
    asked: list[Board] = []
    monkeypatch.setattr(Board, "turning", property(asked.append))
    board_rows(Board(Call(Do.ENTER, "a.1", "Cloth 1"), tuple(lines), None), [None] * 50, 80, UNICODE)
    assert len(asked) == 1


async def test_no_row_of_the_board_moves_under_the_hand(bench: Bench) -> None:
    """In the vat, in the air or done, each piece keeps its row, and its strip goes deeper."""
    async with bench() as hands:
        await dip_day(hands, pieces=3)
        rows = hands.app.screen.query_one("#pieces", Lines)
        before, strip = rows.keys, rows.rows[0].text
        await hands.press("space", "e")
        await hands.later(1)
        assert rows.keys == before
        assert rows.rows[0].text != strip
        assert {span.role for span in rows.rows[0].spans} & {"ripe0", "ripe1", "ripe2"}


async def test_a_number_brings_the_piece_to_hand_that_its_wait_is_of(bench: Bench) -> None:
    """What `e` acts on is marked: the piece of the wait chosen, or a wait of no piece itself."""
    async with bench() as hands:
        await dip_day(hands)
        await hands.press("space")
        hands.desk.record(free_wait("Kettle", 5, hands.desk.state.seq + 1))
        await hands.later(1)
        board = hands.app.screen
        assert isinstance(board, DipScreen)
        await hands.press("down", "1")
        assert board.piece == "a.1"
        assert board.wait_in_hand is not None
        assert board.wait_in_hand.number == 1
        await hands.press("2", "e")
        assert [wait.label for wait in hands.desk.state.waits if wait.label == "Kettle"] == []
        assert places(hands) == ["in the vat", "waiting"]
        await hands.press("1", "e")
        assert places(hands) == ["airing", "waiting"]


def test_what_waits_to_be_lifted_keeps_nobody_from_being_next() -> None:
    """The tub is full of a piece that is over: who follows goes in now, not after an airing."""
    dips = (0, 1)
    found = [Piece(f"a.{at}", f"a.{at}", "a", 1, 100, 0.8, 3, 5, 15, 1) for at in dips]
    stand = {"a.0": Standing(Place.IN_VAT, 1, 302, -2)}
    coming = dip_acts.following(found, stand)
    assert coming is not None
    assert (coming.name, coming.seconds) == ("a.1", 0)


@pytest.mark.parametrize(("now", "said"), [(0.0, "no blue is left in the vat"), (0.5, "vat 0.5 of 0.78 g/L")])
def test_a_vat_without_blue_is_told_in_words(now: float, said: str) -> None:
    """On a day that is done nothing falls to `0 of 0.78`."""
    assert "".join(span.text for span in strength_spans(now, (0.78,), 80, UNICODE)).strip() == said


async def test_from_the_end_of_the_dips_space_goes_on_with_what_comes_next(bench: Bench) -> None:
    """Back on the steps the next one is in hand and in view, not the dips that the board has brought to their end."""
    async with bench(size=(60, 20)) as hands:
        await dip_day(hands, dips=1, pieces=1)
        steps = [step.id for step in hands.desk.steps_in(hands.day.stage)]
        before = steps[: steps.index("dip.rotate")]
        hands.desk.record(*map(StepDone, before), DipStarted("a.1", 10), DipEnded("a.1", 15), PieceDone("a.1"))
        hands.app.screen.renew()  # type: ignore[attr-defined]
        await hands.settle()
        await hands.press("space")
        assert hands.app.screen is hands.day
        assert "dip.rotate" in hands.desk.state.done
        assert hands.day.steps.key == steps[len(before) + 1]
        assert any(line.lstrip("│ ").startswith("▸") for line in hands.screen.splitlines()[3:])
