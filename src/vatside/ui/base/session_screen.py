"""What every screen of a session shares: its desk, waits, acts; and the ways to other screens, as it asks for them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, ClassVar, Protocol

from textual.app import ComposeResult

from vatside.bench import acts
from vatside.bench.desk import Held
from vatside.log.events.day import Undone
from vatside.plan.sheet import Stage
from vatside.storage.session_file import ReadOnly
from vatside.ui.base.keymap import shown
from vatside.ui.base.screens import FullScreen
from vatside.ui.text.rows import Row, Span, row, spread
from vatside.ui.widgets.lines import SAID, KeyLine, WaitsBar
from vatside.units.show import clean

if TYPE_CHECKING:
    from vatside.bench.desk import Desk
    from vatside.bench.glance import WaitView
    from vatside.dayline.steps import Step
    from vatside.log.waits import Moment
    from vatside.outlook.vat import Outlook
    from vatside.ui.text.rows import Signs


class SessionScreen(FullScreen):
    """A screen on which a session goes on; every act of the dyer is behind one key."""

    REGIONS: ClassVar[tuple[str, ...]] = ()
    """The regions that take the keys, in order."""
    SEEN_FROM_AFAR: ClassVar[bool] = False
    """What it calls for stands there in large letters: the far view need not come up by itself."""
    GIVES_WAY: ClassVar[bool] = False
    """Another screen of its family takes its place, and does not stand on it."""

    def __init__(self, desk: Desk, signs: Signs) -> None:
        super().__init__()
        self.desk = desk
        self.signs = signs
        self.glance = desk.glance(desk.clock.now())
        nothing = (row(Span(" Nothing is running.", "faint")),) if desk.keeping.readonly else None
        self.waits_bar = WaitsBar(signs, nothing)
        self.waits_bar.look_at(self.glance.waits)
        self.key_line: KeyLine = KeyLine(lambda: shown(self.KEYS, self), lambda: desk.seconds)
        self.key_line.resting = lambda width: (row(Span(signs.bare * width, "edge")),)
        self._vat_shown: Outlook | None = None
        """What was known of the vat at the last look at the clock: a new minute is another."""
        self._asked: tuple[str, float] = ("", 0.0)
        """The done step that space was pressed on, and until when `y` opens it again."""

    def bottom(self) -> ComposeResult:
        """What runs, and the keys."""
        yield self.put(self.waits_bar)
        yield self.put(self.key_line)

    # What is shown

    @property
    def is_ringing(self) -> bool:
        """Tell whether an alarm rings."""
        return bool(self.glance.ringing)

    def title_row(self, title: str, far: Sequence[Span], width: int) -> Row:
        """Name the screen, behind the mark of a day that is not at work; `far` stands at the right edge."""
        name, mark = Span(f" {clean(title)}", "strong"), self.desk.keeping.mark
        return spread((Span(f" {mark} ", "here"), name) if mark else (name,), far, width)

    def look(self, now: Moment) -> None:
        """Look at the clock."""
        self.glance = self.desk.glance(now)
        self.waits_bar.look_at(self.glance.waits)

    def tick(self, now: Moment) -> None:
        """Let the clock show; the regions follow once what is known of the vat is another."""
        shown, self._vat_shown = self._vat_shown, self.outlook
        if self.REGIONS and self._vat_shown is not shown:
            self.renew()
            return
        self.look(now)
        self.refill("head", "waits", "keys")

    def renew(self) -> None:
        """Show everything anew."""
        self.look(self.desk.clock.now())
        self.refill(*self.parts)

    def on_screen_resume(self) -> None:
        """Catch up with what happened while another screen was in front."""
        if self.parts:
            self.renew()

    @property
    def outlook(self) -> Outlook:
        """The vat as the log leaves it, and as it stands now."""
        from vatside.bench.vat_acts import outlook_of

        return outlook_of(self.desk)

    # What is in hand

    def take(self, name: str) -> None:
        """Give the keys to a region; where there is no room for two, only it is shown."""
        for region in self.REGIONS:
            self.set_class(region == name, f"-{region}")
        self.parts[name].focus()
        self.refill("waits", "keys")

    def action_next_region(self, by: int) -> None:
        """Go round the regions."""
        if self.REGIONS:
            current = next((number for number, name in enumerate(self.REGIONS) if self.parts[name].has_focus), 0)
            self.take(self.REGIONS[(current + by) % len(self.REGIONS)])

    @property
    def step_in_hand(self) -> Step | None:
        """The step that space does; None where space has a meaning of its own."""
        return None

    @property
    def wait_in_hand(self) -> WaitView | None:
        """The wait that `+`, `-`, `p` and `e` act on."""
        return self.waits_bar.in_hand

    # What the keys do

    def perform(self, act: Callable[[], str], then: Callable[[], None] = lambda: None) -> None:
        """Do something to the session, say how it went, show what follows, and go on with `then`.

        What is held back is asked about first, and then done by the same way.
        """
        try:
            self.say(act())
        except ReadOnly as reason:
            self.say(str(reason))
            return
        except Held as held:
            from vatside.ui.windows.questions import ask_first

            ask_first(self, held, act, then)
            return
        self.renew()
        then()

    def done(self) -> None:
        """Called after a step or wait is done; by default the screen stays where it is."""

    def action_do(self) -> None:
        """Do the step in hand."""
        step = self.step_in_hand
        if step is None:
            return
        if step.id in self.desk.state.done:
            self._asked = (step.id, self.desk.clock.now().elapsed + SAID)
            self.say("That is done already; y opens it again.")
            self.refill("keys")
            return
        self.perform(lambda: acts.do(self.desk, step), self.done)

    @property
    def may_open_again(self) -> bool:
        """Tell whether space was pressed on the done step in hand: however often, it opens nothing by itself."""
        step, (asked, until) = self.step_in_hand, self._asked
        return step is not None and step.id == asked and self.desk.clock.now().elapsed < until

    def action_open_again(self) -> None:
        """Open the done step in hand again, which space has just been pressed on."""
        step = self.step_in_hand
        if step is not None and self.may_open_again and step.id in self.desk.state.done:
            self._asked = ("", 0.0)
            self.perform(lambda: acts.do(self.desk, step), self.done)

    def on_wait(self, act: Callable[[WaitView], str], then: Callable[[], None] = lambda: None) -> None:
        """Do something to the wait in hand, and go on with `then`."""
        wait = self.wait_in_hand
        if wait is None:
            self.say("No wait is in hand: 1 to 9 choose one." if self.glance.waits else "Nothing is running.")
        else:
            self.perform(lambda: act(wait), then)

    def action_wait(self, number: int) -> None:
        """Choose a wait by its number."""
        self.waits_bar.take_in_hand(number)
        self.refill("waits", "keys")

    def action_extend(self, sign: int) -> None:
        """Add minutes to the wait in hand, or take some off."""
        self.on_wait(lambda wait: acts.extend(self.desk, wait, sign * acts.MORE))

    def action_pause(self) -> None:
        """Stop the wait in hand, or let it run on."""
        self.on_wait(lambda wait: acts.pause(self.desk, wait))

    def action_end(self) -> None:
        """End the wait in hand."""
        self.on_wait(lambda wait: acts.end(self.desk, wait), self.done)

    def action_quiet(self) -> None:
        """Hear every alarm."""
        self.perform(lambda: acts.quiet(self.desk))

    def action_undo(self) -> None:
        """Take the last act back."""
        from vatside.bench.undo import take_back  # late, as below: few days take anything back at once

        self.perform(lambda: take_back(self.desk))

    @property
    def can_redo(self) -> bool:
        """Tell whether something that was taken back can be brought back."""
        if not any(isinstance(entry.event, Undone) for entry in self.desk.state.entries[-1:]):
            return False
        from vatside.bench.undo import last_undo

        return bool(last_undo(self.desk.state))

    def action_redo(self) -> None:
        """Bring back what was taken back last."""
        from vatside.bench.undo import bring_back

        self.perform(lambda: bring_back(self.desk))

    # What is asked

    def action_ask(self, what: str) -> None:
        """Ask for a line of text: a wait of her own, a break, a note, another place for the session."""
        from vatside.ui.windows import questions

        getattr(questions, what)(self)

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()


class Routes(Protocol):
    """The ways to the screens about the vat, the dips and the day line, and to what reaches beyond the day."""

    def read_on(self, screen: SessionScreen, stage: Stage) -> None:
        """Open the form of a reading for what stands on the stove at a stage of the day."""

    def read_here(self, screen: SessionScreen) -> None:
        """Take a reading of the vat and stay on the screen that asked for it."""

    def add_to(self, screen: SessionScreen) -> None:
        """Go on with the latest reading, if it was taken just now; else take a new one."""

    def meaning(self, screen: SessionScreen) -> None:
        """Show what the latest reading means."""

    def vat(self, screen: SessionScreen) -> None:
        """Show the vat's account and its history."""

    def spent(self, screen: SessionScreen) -> None:
        """Show the way to the end of the vat."""

    def board(self, screen: SessionScreen) -> None:
        """Show the dip board."""

    def ladder(self, screen: SessionScreen, lot: str) -> None:
        """Show the ladder of depths for a lot, or else for the first one."""

    def colour(self, screen: SessionScreen, ident: str) -> None:
        """Record the colour that a piece, or a lot, came out with."""

    def line(self, screen: SessionScreen) -> None:
        """Show when what is done, and where hands and things are needed."""

    def others(self, screen: SessionScreen) -> None:
        """Offer what reaches beyond the day."""
