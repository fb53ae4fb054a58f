"""Whatever the dyer does in whatever order: the log only grows, its file checks, and each day opens as it was shown."""

from __future__ import annotations

import shutil
from contextlib import suppress
from pathlib import Path
from tempfile import mkdtemp

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule
from tests.clocks.virtual_clock import VirtualClock

from vatside.bench import acts
from vatside.bench import vat_acts as care
from vatside.bench.desk import Desk, Held
from vatside.bench.open_day import new_day, open_day
from vatside.bench.ticker import Ticker
from vatside.bench.undo import take_back
from vatside.forms.fields import fields
from vatside.log.events.day import Entry
from vatside.plain.file_contents import session_problems
from vatside.plan.sheet import Stage
from vatside.vat.reading import Reading

AMOUNTS = ("325 g", "1 1/2 tsp", "3", "0", "20 L", "45 C", "9.3", "14:00", "1e9 kg")
TEXTS = st.sampled_from((*AMOUNTS, "", "linen", "wool", "yes", "no", "medium", "x"))
CLOCK = "before that of the event above"


class AnyActs(RuleBasedStateMachine):
    """A desk with its folder, below the screens."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(mkdtemp(prefix="acts-"))
        self.clock = VirtualClock()
        self.desk: Desk
        self.ticker: Ticker
        self.seen: tuple[Entry, ...] = ()
        self.copies = 0

    @initialize()
    def begin(self) -> None:
        """Begin a day."""
        self._take(new_day(self.folder / "sessions", self.clock))

    def _take(self, desk: Desk) -> None:
        self.desk, self.ticker = desk, Ticker(desk)

    @rule(number=st.integers(0, 400), text=TEXTS)
    def type(self, number: int, text: str) -> None:
        """Type into any field."""
        there = [item for stage in Stage for item in fields(self.desk.plan, stage) if not item.path.startswith("@")]
        path = there[number % len(there)].path
        self.desk.type(path, text)
        if path in self.desk.wrong:
            self.desk.leave()

    @rule()
    def leave(self) -> None:
        """Leave the field."""
        self.desk.leave()

    @rule(number=st.integers(0, 60))
    def do(self, number: int) -> None:
        """Do any step, or open it again; what is held back is left."""
        with suppress(Held):
            acts.do(self.desk, self.desk.steps[number % len(self.desk.steps)])

    @rule(minutes=st.floats(0.1, 600))
    def wait(self, minutes: float) -> None:
        """Start a wait of one's own."""
        acts.own_wait(self.desk, minutes, "rinse")

    @rule(act=st.sampled_from([acts.end, acts.pause]), number=st.integers(0, 5))
    def on_wait(self, act: object, number: int) -> None:
        """End a wait, stop it, or let it go on."""
        waits = self.desk.waits(self.clock.now())
        if waits:
            act(self.desk, waits[number % len(waits)])  # type: ignore[operator]

    @rule(number=st.integers(0, 5), minutes=st.sampled_from([-5.0, 5.0]))
    def extend(self, number: int, minutes: float) -> None:
        """Make a wait longer or shorter."""
        waits = self.desk.waits(self.clock.now())
        if waits:
            acts.extend(self.desk, waits[number % len(waits)], minutes)

    @rule()
    def quiet(self) -> None:
        """Hear every alarm."""
        acts.quiet(self.desk)

    @rule()
    def undo(self) -> None:
        """Take the last act back."""
        take_back(self.desk)

    @rule()
    def remedy(self) -> None:
        """Take what the first notice asks for."""
        for notice in self.desk.sheet.notices:
            if notice.remedies:
                acts.take_remedy(self.desk, notice.remedies[0])
                return

    @rule(more=st.booleans())
    def lots(self, more: bool) -> None:
        """Take a lot in, or out."""
        if more:
            acts.add_lot(self.desk)
        else:
            acts.remove_lot(self.desk, self.desk.state.plan.lots[-1].id)

    @rule(pH=st.floats(2, 13))
    def read(self, pH: float) -> None:
        """Read a pH."""
        care.take_reading(self.desk, Reading(pH=round(pH, 1)))

    @rule(seconds=st.sampled_from([0.25, 3.0, 600.0, 90000.0]), sleeps=st.booleans())
    def later(self, seconds: float, sleeps: bool) -> None:
        """Let time go by, the lid open or shut."""
        if sleeps:
            self.clock.sleep(seconds)
        else:
            self.clock.advance(seconds)
        self.desk.settle_if_paused(self.ticker.beat().now)

    @rule(seconds=st.sampled_from([-3600.0, -5.0, 7200.0]))
    def set_clock(self, seconds: float) -> None:
        """Set the wall clock."""
        self.clock.step_wall(seconds)
        self.ticker.beat()

    @rule()
    def open_again(self) -> None:
        """Close the day and open it again."""
        plan, path = self.desk.plan, self.desk.keeping.path
        wrong = bool(self.desk.wrong)
        self.desk.leave()
        self.desk.keeping.close()
        if path is None or self.desk.keeping.path is None:
            self._take(new_day(self.folder / "sessions", self.clock))
            return
        self._take(open_day(self.desk.keeping.path, self.clock))
        assert wrong or self.desk.plan == plan

    @rule()
    def cut_off(self) -> None:
        """Look at what would be there, were the process killed now: what is shown."""
        path = self.desk.keeping.path
        if path is None:
            return
        self.copies += 1
        copy = self.folder / f"killed-{self.copies}"
        shutil.copytree(path.parent, copy)
        found = open_day(copy / path.name, self.clock)
        assert found.plan == self.desk.plan
        found.keeping.close()

    @invariant()
    def the_log_only_grows(self) -> None:
        """No entry is changed or lost."""
        if hasattr(self, "desk"):
            entries = tuple(self.desk.state.entries)
            assert entries[: len(self.seen)] == self.seen
            self.seen = entries

    @invariant()
    def it_checks(self) -> None:
        """Nothing in the session is found wrong; a clock that was set back shows, rightly."""
        if hasattr(self, "desk"):
            assert [line for line in session_problems(self.desk.keeping.session) if CLOCK not in line] == []

    def teardown(self) -> None:
        """Take the folder away."""
        if hasattr(self, "desk"):
            self.desk.keeping.close()
        shutil.rmtree(self.folder, ignore_errors=True)


TestAnyActs = AnyActs.TestCase
TestAnyActs.settings = settings(max_examples=8, stateful_step_count=25, deadline=None)
