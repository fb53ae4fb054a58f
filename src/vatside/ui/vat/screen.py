"""What the screens about the live vat share: the vat as the log leaves it, the waits, the way to each other."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from vatside.bench.desk import Desk, local
from vatside.bench.vat import acts
from vatside.bench.vat.acts import outlook_of
from vatside.dayline.steps import Step
from vatside.log.moment import Moment, seconds_between
from vatside.outlook.vat import Outlook
from vatside.ui.base.waits_screen import Watching
from vatside.ui.text.rows import Row
from vatside.ui.text.signs import Signs
from vatside.ui.vat.keys import WORDS
from vatside.units import show_minutes


class Tending(Watching):
    """A screen about the live vat."""

    CSS_PATH = "care.tcss"
    WORDS = WORDS
    REGIONS: ClassVar[tuple[str, ...]] = ()
    """The regions that take the keys, in order."""

    def __init__(self, desk: Desk, signs: Signs) -> None:
        super().__init__()
        self.desk = desk
        self.signs = signs
        self.glance = desk.glance(desk.clock.now())

    @property
    def outlook(self) -> Outlook:
        """The vat as the log leaves it, and as it stands now."""
        return outlook_of(self.desk)

    @property
    def step_in_hand(self) -> Step | None:
        """No step: space has a meaning of its own here."""
        return None

    def done(self) -> None:
        """Stay where one is."""

    def tick(self, now: Moment) -> None:
        """Let the clock show."""
        before = self.outlook
        self.look(now)
        self.refill("head", "waits", "keys", *(self.REGIONS if self.outlook is not before else ()))

    def renew(self) -> None:
        """Show everything anew."""
        self.look(self.desk.clock.now())
        self.refill(*self.parts)

    def on_screen_resume(self) -> None:
        """Catch up with what happened while another screen was in front."""
        if self.parts:
            self.renew()

    def key_words(self, width: int) -> Sequence[Row]:
        """Say which keys count, or what was just said."""
        return self.said_rows(width) or (self.key_row(width),)

    def action_next_region(self, by: int) -> None:
        """Go round the regions."""
        here = next((number for number, name in enumerate(self.REGIONS) if self.parts[name].has_focus), 0)
        self.take(self.REGIONS[(here + by) % len(self.REGIONS)])

    def take(self, name: str) -> None:
        """Give the keys to a region; where there is no room for two, only it is shown."""
        for region in self.REGIONS:
            self.set_class(region == name, f"-{region}")
        self.parts[name].focus()
        self.refill("keys")

    def action_measured(self) -> None:
        """Take the pH that was read as the true one."""
        found = self.outlook.comparison
        if self.outlook.put_in_since:
            self.say("Something went in since that reading: r reads it again.")
        elif self.outlook.is_old and self.outlook.reading.pH is not None:
            self.say("That reading is too long past to count: r reads it again.")
        elif found is None:
            self.say("No pH was read: r adds it.")
        elif found.agrees:
            self.say(f"The two agree: the account stands as it was read. {self._pH_stands()}")
        else:
            self.perform(lambda: acts.trust(self.desk, found))

    def _pH_stands(self) -> str:
        """Say what the pH that was read and agreed with means for the fibre, not only for the account."""
        found = next((item for item in self.outlook.findings if item.axis == "pH" and item.is_out), None)
        return f"It is still {found.name}: put that right." if found else "There is nothing to put right."

    def action_back(self) -> None:
        """Go back."""
        self.dismiss()

    def ago(self, then: Moment) -> str:
        """Say when something was, on the wall and by how long it is past."""
        minutes = seconds_between(then, self.glance.now) / 60
        past = "just now" if minutes < 1 else f"{show_minutes(round(minutes))} ago"
        return f"{local(then):%H:%M}, {past}"
