"""The replay: the day's screen on the clock of that day."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from vatside.bench.desk import local
from vatside.bench.replay_desk import ReplayDesk
from vatside.days.replay_jump import HELP, read_jump
from vatside.log.moment import Moment
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage
from vatside.ui.base.host import host_of
from vatside.ui.base.screen import SAID
from vatside.ui.day.screen import DayScreen, Hand
from vatside.ui.past.keys import REPLAY_KEYS, REPLAY_WORDS
from vatside.ui.past.replay_rows import event_rows, own_day_rows, progress_row, replay_spans
from vatside.ui.text.head_rows import head_rows
from vatside.ui.text.rows import Row, Span, row, wrap
from vatside.ui.text.signs import Signs
from vatside.ui.text.stage_line import stage_views
from vatside.units import Problem, show_minutes
from vatside.units.one_line import clean


class ReplayScreen(DayScreen):
    """One past day; nothing on it can be changed."""

    KEYS = REPLAY_KEYS
    WORDS = REPLAY_WORDS
    desk: ReplayDesk

    def __init__(self, desk: ReplayDesk, signs: Signs, begin: Callable[[Plan], None]) -> None:
        super().__init__(desk, signs)
        self._begin_new = begin
        self.said = ("", 0.0)
        self.following = True
        """Whether the stage on the screen goes along with what happens."""

    # The clock of that day

    def tick(self, _now: Moment) -> None:
        """Let time go by on the screen."""
        if self.desk.advance():
            self.follow()
            self.renew()
        else:
            self.look(self.desk.clock.now())
            self.refill("head", "figures", "steps", "banner", "day", "waits", "keys")

    def follow(self) -> None:
        """Show the stage in which something happened, unless another one was turned to by hand."""
        stage = self.desk.stage_of_latest()
        if self.following and stage is not None and stage in self.desk.stages():
            self.go(stage)
            self._settle_on(self.desk.step_of_latest())

    def _settle_on(self, step: str) -> None:
        lines = self.parts["steps"]
        lines.refill()
        if step in lines.keys:
            lines.choose(step)

    def renew(self) -> None:
        """Show everything anew, at the time of that day."""
        self.desk.advance()
        super().renew()

    def say(self, words: str, seconds: float = SAID) -> None:
        """Say a sentence for some real seconds."""
        self.said = (words, self.desk.real + seconds)
        self.refill("keys")

    def said_rows(self, width: int) -> tuple[Row, ...]:
        """Give what was just said; nothing once its time is over."""
        words, until = self.said
        if not words or self.desk.real >= until:
            return ()
        return tuple(row(Span(f" {line}", "said")) for line in wrap(clean(words), width - 2))

    # The regions

    def head(self, width: int) -> Sequence[Row]:
        """Say that this is a replay, and where it is."""
        desk = self.desk
        views = stage_views(desk.stages(), desk.steps, self.glance.progress.done, desk.notices)
        when, player = local(self.glance.now), desk.player
        time = replay_spans(when, player.speed, desk.running, player.at_end(desk.real), width)
        return head_rows(desk.plan.title, views, self.stage, time, width, self.signs, turns=True)

    def day_line(self, width: int) -> Sequence[Row]:
        """Say how far the replay has come."""
        length = self.desk.player.line.length
        return (progress_row(self.desk.position / length if length else 1.0, width, self.signs),)

    def banner(self, width: int) -> Sequence[Row]:
        """What there was to look out for; before it, what rings in the day that is going on now."""
        live = host_of(self).desk
        ringing = [wait.label for wait in live.waits(live.clock.now()) if wait.ringing] if live else []
        return (*own_day_rows(ringing, width), *super().banner(width))

    def running(self, width: int) -> Sequence[Row]:
        """Say what ran then."""
        return super().running(width) if self.glance.waits else (row(Span(" Nothing was running.", "faint")),)

    def key_words(self, width: int) -> Sequence[Row]:
        """What happened last, and the keys."""
        latest = self.desk.latest
        when = local(latest.at) if latest else None
        words = self.desk.latest_words()
        count = len(self.desk.whole.entries)
        rows = event_rows(self.desk.state.seq, count, words, when, width, 2)
        return (*rows, *(self.said_rows(width) or (self.key_row(width),)))

    # The keys

    def take(self, hand: Hand) -> None:
        """Give the keys to a region; the form is only to be looked at."""
        if hand is not Hand.SET:
            super().take(hand)
            return
        self._mark_hand(hand)
        self.set_focus(None)
        self.refill("keys", "next")

    def action_do(self) -> None:
        """Run, or stand still."""
        self.following = True
        self._after(self.desk.play())

    def action_extend(self, sign: int) -> None:
        """Go faster, or slower."""
        self._after(self.desk.faster(sign))

    def action_event(self, by: int) -> None:
        """Go to what happened next, or before."""
        self._after(self.desk.to_event(by))

    def _after(self, words: str) -> None:
        self.desk.advance()
        self.follow()
        self.renew()
        self.say(words)

    def action_jump(self) -> None:
        """Ask for a time of that day."""
        desk = self.desk
        was_running = desk.running

        def means(text: str) -> tuple[bool, str]:
            found = read_jump(text, desk.player.line, desk.position) if text.strip() else Problem(HELP)
            if isinstance(found, Problem):
                return False, found.text
            when = local(desk.player.line.moment_at(found))
            return True, f"{when:%A} {when.day} {when:%B}, {when:%H:%M:%S}; {show_minutes(found / 60)} into the day"

        def answered(text: str | None) -> None:
            found = read_jump(text or "", desk.player.line, desk.position)
            if not isinstance(found, Problem):
                desk.jump(found)
            if was_running and not desk.running:
                desk.play()
            self._after("")

        if was_running:
            desk.play()
        self.ask("Jump to", means, answered)

    def action_turn(self, by: int) -> None:
        """Turn to another stage and stay there."""
        self.following = False
        super().action_turn(by)

    def action_stage(self, name: str) -> None:
        """Go to a stage and stay there."""
        self.following = False
        super().action_stage(name)

    def go(self, stage: Stage) -> None:
        """Show a stage; the hand stays where it is."""
        super().go(stage)
        self.refill("head")

    def action_new_day(self) -> None:
        """Begin a new day with the plan as it stands here."""
        self._begin_new(self.desk.new_plan())

    def action_quiet(self) -> None:
        """Quiet the day that is really going on; the alarms of the replay are silent anyway."""
        from vatside.bench import acts

        live = host_of(self).desk
        self.say(acts.quiet(live) if live else "Nothing rings: the alarms of a replay are silent.")
        self.refill("banner")

    def action_unchanged(self) -> None:
        """Say why a key that changes something does nothing here."""
        self.say("A replay shows the day as it was: nothing is changed. c begins a new day from here.")

    def action_back(self) -> None:
        """Leave the replay."""
        self.dismiss()
