"""The dip board: which piece goes in next, and where every piece is."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual.app import ComposeResult

from vatside.bench import acts as taking
from vatside.bench import depths, dip_acts, dip_view
from vatside.bench.desk import Desk, local
from vatside.bench.dip_acts import Unsure
from vatside.bench.dip_view import DipForecaster
from vatside.dips.lot import dips_lines
from vatside.dips.rotation import Do
from vatside.log.waits import Moment
from vatside.plan.paths import LONGEST_NAME
from vatside.plan.sheet import Notice, Stage, Weight
from vatside.ui.base.host import host_of
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.day.far_view import FarScreen
from vatside.ui.dips import board_rows
from vatside.ui.dips.dip_rows import ON_THE_VAT
from vatside.ui.dips.keys import BOARD_KEYS, WORDS
from vatside.ui.text.rows import Row, Signs
from vatside.ui.widgets.lines import SAID, Lines
from vatside.ui.windows import notices
from vatside.ui.windows.ask import ask
from vatside.ui.windows.notices import NoticesWindow, banner_rows
from vatside.units import Problem

AT_THE_VAT = (Stage.VAT, Stage.DIP)
"""What can hurt in these stages is told on the board as well."""


class DipScreen(SessionScreen):
    """One answer in large letters, a line for each piece; one key moves a piece on."""

    CSS_PATH = "dips.tcss"

    KEYS = BOARD_KEYS
    SEEN_FROM_AFAR = True
    WORDS = WORDS

    def __init__(self, desk: Desk, signs: Signs) -> None:
        super().__init__(desk, signs)
        self.board = dip_acts.board(desk, self.glance.now)
        self.waits_bar.suggested = self._wait_of_piece
        self.waits_bar.only_suggested = True
        self.own_choice = False
        """The dyer has put the cursor on another piece than the one called for."""
        self._unsure: tuple[str, float] = ("", 0.0)
        """The piece that was asked about, and until when the answer counts."""
        self._ended: tuple[str, float] = ("", 0.0)
        """The piece that was ended last by a key of its own, and until when a second press may be a slip."""
        self._ahead = DipForecaster(desk)
        self._falling = dip_view.StrengthHistory()

    def regions(self) -> ComposeResult:
        """What next, who is where, what to look out for, what runs."""
        yield self.part("head", self._head)
        yield self.part("call", self._call)
        yield self.part("pieces", self._pieces, "Pieces", keys=True)
        yield self.part("warnings", self._warnings)

    def on_mount(self) -> None:
        """Begin at the piece that is called for."""
        self.call_after_refresh(self._begin)

    def _begin(self) -> None:
        self.parts["pieces"].focus()
        self.renew()

    # What is shown

    def _head(self, width: int) -> Sequence[Row]:
        past = self._falling.after(self.desk.state)
        stands, strong = self.desk.state.tending.account is not None, dip_view.strength(self.desk)
        strength = board_rows.strength_spans(strong, past, width, self.signs, stands=stands)
        return (self.title_row(f"Dips · {self.desk.plan.title}", strength, width),)

    def _call(self, width: int) -> Sequence[Row]:
        height = self.size.height
        tallest = 10 if height >= 36 else 5 if height >= 24 else 3
        in_hand, comes_to = not self._acts_on_piece, self._ahead.now().comes_to
        return board_rows.headline_rows(self.board, comes_to, width, tallest, self.signs, here=in_hand)

    @property
    def _acts_on_piece(self) -> bool:
        """Tell whether `space` acts on the piece that the cursor is on; else on what the large words say."""
        do = self.board.call.do
        if self.own_choice:
            return True
        return do is not Do.DONE and (do not in ON_THE_VAT or self.board.turning is not None)

    def _pieces(self, width: int) -> Sequence[Row]:
        since = [local(line.since) if line.since else None for line in self.board.lines]
        comes_to = self._ahead.now().comes_to
        if width >= board_rows.WIDE:
            return board_rows.wide_rows(self.board, since, comes_to, width, self.signs)
        return board_rows.board_rows(self.board, since, width, self.signs)

    def _warnings(self, width: int) -> Sequence[Row]:
        most = 2 if self.size.height < 24 else 4
        dangers = self._dangers
        known = {item.text for item in dangers}
        banner = banner_rows(dangers, width, most, fixed=self.desk.keeping.readonly is not None)
        others = [words for words in self._ahead.now().warnings if words not in known]
        warned = (*banner, *(board_rows.warning_rows(others, width, most - len(banner)) if len(banner) < most else ()))
        lines = dips_lines(self.desk.plan, self.desk.sheet)
        return (*warned, *board_rows.resting_on_rows(lines, width, max(most - len(warned), 1)))

    @property
    def _dangers(self) -> tuple[Notice, ...]:
        """What can hurt or be lost at the vat."""
        there = (item for item in self.desk.notices if item.weight is Weight.DANGER)
        return tuple(item for item in there if item.stage in AT_THE_VAT)

    @property
    def offers(self) -> bool:
        """Tell whether one of them can be put right."""
        return self.desk.keeping.readonly is None and any(item.remedies for item in self._dangers)

    def renew(self) -> None:
        """Show everything anew."""
        self.look(self.desk.clock.now())
        self._follow()
        self.refill(*self.parts)
        self.parts["pieces"].reveal()

    def tick(self, now: Moment) -> None:
        """Let the clock show; the cursor goes with the call."""
        self.look(now)
        self._follow()
        self.refill(*self.parts)

    def look(self, now: Moment) -> None:
        """Look at the clock and at the pieces."""
        super().look(now)
        self.board = dip_acts.board(self.desk, now)

    def refill(self, *names: str) -> None:
        """Show some regions anew; one sign stands on what `space` acts on."""
        if "pieces" in self.parts:
            self.parts["pieces"].point_with(self.signs.here if self._acts_on_piece else "")
        super().refill(*names)

    def _follow(self) -> None:
        """Put the cursor on the piece that is called for, unless the dyer chose another one."""
        lines = self.parts["pieces"]
        if self.board.line(lines.key) is None:
            self.own_choice = False
        if not self.own_choice and self.board.lines:
            coming = self.board.following.piece if self.board.following else ""
            wanted = self.board.piece or lines.key or coming
            lines.choose(wanted if self.board.line(wanted) else self.board.lines[0].row.piece)

    def on_lines_chose(self, event: Lines.Chose) -> None:
        """The dyer has another piece in hand, and its wait with it."""
        self.waits_bar.chosen = None
        self.own_choice = event.lines.key != self.board.piece
        self.refill("keys", "call", "waits")

    # What is in hand

    @property
    def piece(self) -> str:
        """The piece in hand."""
        return self.parts["pieces"].key if self.parts else ""

    def _wait_of_piece(self) -> str | None:
        """The wait of the piece in hand, which comes to hand with it."""
        where = self.desk.state.dipping.pieces.get(self.piece)
        return where.wait if where else None

    def action_wait(self, number: int) -> None:
        """Choose a wait by its number; that of a piece comes to hand with its piece, which `e` acts on."""
        super().action_wait(number)
        pieces = {where.wait: piece for piece, where in self.desk.state.dipping.pieces.items() if where.wait}
        piece = pieces.get(self.waits_bar.chosen or "")
        if piece is not None:
            self.waits_bar.chosen = None
            self.parts["pieces"].choose(piece)
            self.own_choice = piece != self.board.piece
            self.refill("pieces", "call", "waits", "keys")

    def done(self) -> None:
        """The cursor goes with the call again."""
        self.own_choice = False
        self.waits_bar.chosen = None

    # What the keys do

    def _act(self, act: Callable[[], str | Unsure]) -> None:
        """Do something with the piece in hand; what had better wait is said and nothing done."""

        def acted() -> str:
            outcome = act()
            if isinstance(outcome, Unsure):
                return outcome.words
            self.done()
            return outcome

        self.perform(acted)

    def action_do(self) -> None:
        """Move the piece in hand on."""
        if self._acts_on_piece:
            self._act(lambda: dip_acts.move_on(self.desk, self.piece, self.desk.clock.now()))
        elif self.board.call.do is Do.DONE:
            self.perform(lambda: dip_acts.finish(self.desk))
            self.dismiss()
        else:
            self._see_to_the_vat(self.board.call.do)

    def action_all(self) -> None:
        """Lift out all whose dip is over, or put in all that may go in."""
        self._act(lambda: dip_acts.all_at_once(self.desk, self.desk.clock.now()))

    def action_advice(self) -> None:
        """Put right what can hurt, if anything is offered for it."""
        for notice in notices.offered(self._dangers)[:1] if self.offers else ():
            notices.choose_remedy(
                self.app, notice, lambda remedy: self.perform(lambda: taking.take_remedy(self.desk, remedy))
            )

    def action_notices(self) -> None:
        """Show everything to look out for."""
        self.app.push_screen(NoticesWindow(self.desk))

    def _see_to_the_vat(self, do: Do) -> None:
        """Read it, or show what its reading means and what to do."""
        if do is Do.READ:
            self.action_reading()
        else:
            host_of(self).routes.meaning(self)

    def action_early(self) -> None:
        """Lift it out, or put it in, before its time; too little air and a vat nobody read are asked about once.

        A wait of no piece, chosen by its number, is ended instead.
        """
        if self.waits_bar.chosen is not None:
            self.action_end()
            return
        piece, now = self.piece, self.desk.clock.now()
        sure = self._unsure[0] == piece and now.elapsed < self._unsure[1]

        def act() -> str | Unsure:
            outcome = dip_acts.at_once(self.desk, piece, now, sure=sure)
            self._unsure = (piece if isinstance(outcome, Unsure) else "", now.elapsed + SAID)
            return outcome

        self._act(act)

    def action_more(self) -> None:
        """Give it one more dip than planned."""
        self._act(lambda: dip_acts.once_more(self.desk, self.piece, self.desk.clock.now()))

    def action_finished(self) -> None:
        """It has had its last dip, or takes turns again; the piece the cursor goes on to is asked about first."""
        piece, now = self.piece, self.desk.clock.now()
        before, until = self._ended
        went_on = before != piece and now.elapsed < until and not self.own_choice

        def act() -> str | Unsure:
            outcome = dip_acts.done_or_back(self.desk, piece, now, just=before if went_on else "")
            self._ended = ("" if isinstance(outcome, Unsure) else piece, now.elapsed + SAID)
            return outcome

        self._act(act)

    def action_name(self) -> None:
        """Ask for a name of its own."""
        piece, line = self.piece, self.board.line(self.piece)
        if line is None:
            return

        says = f"{line.row.name} is called so from now on; - takes the name away"

        def read(text: str) -> str | Problem:
            if len(text.strip()) > LONGEST_NAME or not text.strip().isprintable():
                return Problem(f"A name has {LONGEST_NAME} letters at most.")
            return text.strip() or Problem(says)

        def take(name: str) -> None:
            self.perform(lambda: dip_acts.call_it(self.desk, piece, "" if name == "-" else name))

        name = self.desk.state.dipping.names.get(piece, "")
        ask(self.app, "What is this piece called?", read, lambda _: says, take, name)

    # Other screens

    def action_colour(self) -> None:
        """Record the colour that it came out with."""
        host_of(self).routes.colour(self, self.piece)

    def action_own_results(self) -> None:
        """Let the dips go by the dyer's own results."""
        self.perform(lambda: depths.go_by_own(self.desk, host_of(self).folder))

    def action_far(self) -> None:
        """Show the waits large."""
        self.app.push_screen(FarScreen(self.desk, self.signs))

    def action_reading(self) -> None:
        """Take a reading of the vat."""
        host_of(self).routes.read_on(self, Stage.DIP)

    def action_vat(self) -> None:
        """Show the vat's account and its history."""
        host_of(self).routes.vat(self)
