"""What the keys do at the bench."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from vatside.bench import acts
from vatside.bench.desk import Desk
from vatside.bench.wait_view import WaitView
from vatside.dayline.steps import Step
from vatside.log.events.day import NoteWritten
from vatside.outlook.interlocks import Held
from vatside.storage.session_file import ReadOnly
from vatside.ui.base.screen import SAID, Standing
from vatside.units import Problem, show_minutes


class Bench(Standing):
    """The acts of the dyer, each behind one key; what they show is the day screen's."""

    desk: Desk
    _asked: tuple[str, float] = ("", 0.0)
    """The done step that space was pressed on, and until when a second press counts."""

    def perform(self, act: Callable[[], str], then: Callable[[], None] = lambda: None) -> None:
        """Do something to the session, say how it went, show what follows, and go on with `then`.

        What is held back is asked about first, and then done by the same way.
        """
        try:
            self.say(act())
        except ReadOnly as reason:
            self.say(f"Reading only: {reason}.")
        except Held as held:
            from vatside.ui.windows.questions import ask_first

            ask_first(self, held, act, then)
            return
        self.renew()
        then()

    def renew(self) -> None:
        """Show everything anew."""
        raise NotImplementedError

    def done(self) -> None:
        """Go on after a step."""
        raise NotImplementedError

    @property
    def step_in_hand(self) -> Step | None:
        """The step that space does."""
        raise NotImplementedError

    @property
    def wait_in_hand(self) -> WaitView | None:
        """The wait that `+`, `-`, `p` and `e` act on."""
        raise NotImplementedError

    def action_do(self) -> None:
        """Do the step in hand."""
        step = self.step_in_hand
        if step is None or (step.id in self.desk.state.done and not self._opens_again(step)):
            return
        self.perform(lambda: acts.do(self.desk, step), self.done)

    def _opens_again(self, step: Step) -> bool:
        """Tell whether space was pressed twice on a done step: once is too easily done by a wet glove."""
        now = self.desk.clock.now().elapsed
        asked, until = self._asked
        self._asked = (step.id, now + SAID)
        if asked == step.id and now < until:
            self._asked = ("", 0.0)
            return True
        self.say("That is done already; space once more opens it again.")
        return False

    def on_wait(self, act: Callable[[WaitView], str]) -> None:
        """Do something to the wait in hand."""
        wait = self.wait_in_hand
        if wait is None:
            self.say("Nothing is running.")
        else:
            self.perform(lambda: act(wait))

    def action_extend(self, sign: int) -> None:
        """Add minutes to the wait in hand, or take some off."""
        self.on_wait(lambda wait: acts.extend(self.desk, wait, sign * acts.MORE))

    def action_pause(self) -> None:
        """Stop the wait in hand, or let it run on."""
        self.on_wait(lambda wait: acts.pause(self.desk, wait))

    def action_end(self) -> None:
        """End the wait in hand."""
        self.on_wait(lambda wait: acts.end(self.desk, wait))
        self.done()

    def action_quiet(self) -> None:
        """Hear every alarm."""
        self.perform(lambda: acts.quiet(self.desk))

    def action_undo(self) -> None:
        """Take the last act back."""
        self.perform(self.desk.undo)

    def action_own_wait(self) -> None:
        """Ask for a wait of the dyer's own."""

        def means(text: str) -> tuple[bool, str]:
            found = acts.read_wait(text)
            if isinstance(found, Problem):
                return False, found.text
            return True, f"{found[1]}, {show_minutes(found[0])}"

        def answered(text: str | None) -> None:
            found = acts.read_wait(text or "")
            if not isinstance(found, Problem):
                minutes, name = found
                self.perform(lambda: acts.own_wait(self.desk, minutes, name))

        self.ask("A wait of your own", means, answered)

    def action_note(self) -> None:
        """Ask for words for the log."""

        def means(text: str) -> tuple[bool, str]:
            return bool(text.strip()), "goes into the log with the time"

        def typed(text: str) -> None:
            self.desk.draft(NoteWritten(text.strip()) if text.strip() else None)

        def answered(text: str | None) -> None:
            self.desk.draft(None)
            if text and text.strip():
                words = text.strip()
                self.perform(lambda: acts.note(self.desk, words))

        self.ask("A note for the log", means, answered, typed=typed)

    def action_save_elsewhere(self) -> None:
        """Ask for another place for the session."""
        from vatside.bench import evening_acts

        old = self.desk.keeping.path

        def means(text: str) -> tuple[bool, str]:
            found = evening_acts.elsewhere(text, old)
            return (False, found.text) if isinstance(found, Problem) else (True, f"{found}: the day goes on there")

        def answered(text: str | None) -> None:
            found = evening_acts.elsewhere(text or "", old)
            if not isinstance(found, Problem):
                self.perform(lambda: self.desk.keeping.save_elsewhere(found))

        proposal = str(Path.home() / old.name) if old else str(Path.home() / "dye-day.json")
        self.ask("Save elsewhere", means, answered, proposal)

    def ask(
        self,
        title: str,
        means: Callable[[str], tuple[bool, str]],
        answered: Callable[[str | None], None],
        text: str = "",
        typed: Callable[[str], None] | None = None,
    ) -> None:
        """Ask for a line of text; `typed` is told of every key."""
        from vatside.ui.windows.ask import AskWindow

        self.app.push_screen(AskWindow(title, means, text, typed), answered)
