"""The session's file as the bench sees it: a day is put on the disk with its first entry."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from uuid import uuid4

from vatside.clocks.clock import Away, ClockSetBack, reopened
from vatside.log.events.day import Entry, Event, SessionReopened
from vatside.log.fold import State, apply, fold
from vatside.log.state import Session
from vatside.log.waits import Moment, is_over
from vatside.plan.plan import Plan
from vatside.storage.codec import DAY_LOG
from vatside.storage.files import Fs
from vatside.storage.flaws import SessionError
from vatside.storage.journal import DraftFile, drafted, forget
from vatside.storage.session_file import Opened, SessionFile
from vatside.units.show import told

WORTH_SAYING = 5.0
"""Seconds for which a day must have been closed to be told of it. Ours, no source."""
CHANGED = "another program changed it; s saves elsewhere"
Begin = Callable[[Session, Moment], SessionFile]
"""Puts a new day on the disk; SessionError if that fails."""


class Keeping:
    """A session with its file, or one that has none yet."""

    def __init__(self, session: Session, file: SessionFile | None, begin: Begin | None = None) -> None:
        self.file = file
        self.state: State = fold(session)
        self._begin = begin
        self._no_file = ""
        self._drafted: Event | None = None
        self._drafts: DraftFile | None = None
        self._unnamed = False
        """The file was begun by a first key: its first entry may give the day, and so the file, another name."""
        self.notices: tuple[str, ...] = ()
        """What opening the file brought to light."""
        self.reopened = False
        """It was begun at another time: this sitting goes on in its file."""
        self.gap: Away | ClockSetBack | None = None
        """How long it was closed while waits were running."""

    @classmethod
    def opened(cls, opened: Opened, now: Moment) -> Keeping:
        """Take over an opened file; its log says that it was opened again."""
        keeping = cls(opened.session, opened.file)
        keeping.notices = opened.notices
        keeping.reopened = True
        if keeping.state.last is not None and keeping.state.waits:
            keeping.gap = reopened(keeping.state.last, now)
        if keeping.readonly is None:
            keeping._take_up(opened, now)
        return keeping

    def _take_up(self, opened: Opened, now: Moment) -> None:
        """Go on in a file: its log says so, and what was being typed when it was cut off is logged."""
        left = drafted(opened.file.path, opened.session.id, len(opened.session.entries))
        if opened.session.entries:
            self.log(SessionReopened(), now)
        if left is not None:
            from vatside.log.words.day import words

            with suppress(ValueError):
                self.log(left, now)
                self.notices = (*self.notices, f"kept from when it was cut off: {words(left, self.state)}")

    @classmethod
    def new(cls, plan: Plan, now: Moment, begin: Begin, *events: Event) -> Keeping:
        """Begin a day, perhaps with events of its beginning; it leaves no trace until something is entered."""
        keeping = cls(Session(uuid4().hex[:16], now.utc, plan), None, begin)
        for event in events:
            keeping.state = apply(keeping.state, Entry(keeping.state.seq + 1, now, event))
        return keeping

    @property
    def session(self) -> Session:
        """The session as it stands."""
        return self.state.whole

    @property
    def path(self) -> Path | None:
        """Where the session is; None if it is nowhere yet."""
        return self.file.path if self.file else None

    @property
    def readonly(self) -> str | None:
        """Why nothing can be added; None if it can."""
        return self.file.readonly if self.file else None

    @property
    def standing(self) -> str:
        """What is wrong for as long as it lasts: not saved, or reading only."""
        if self.readonly is not None:
            return f"reading only: {self.readonly}"
        if self.file is None:
            return self._no_file
        return CHANGED if self.file.foreign else self.file.trouble or ""

    @property
    def mark(self) -> str:
        """What every screen of it says in its head; nothing for a day at work."""
        return ""

    @property
    def unsaved(self) -> bool:
        """Whether there is anything that is not on the disk."""
        return bool(self._no_file) or (self.file is not None and (self.file.foreign or bool(self.file.unsaved)))

    def opening_words(self, now: Moment) -> str:
        """Say what opening brought to light: about the file, and about waits that went on meanwhile."""
        sentences = [f"{told(notice)}." for notice in self.notices]
        if isinstance(self.gap, Away) and self.gap.seconds >= WORTH_SAYING:
            over = [wait.label for wait in self.state.waits if is_over(wait, now)]
            sentences.append(self.gap.sentence + (f" Over: {', '.join(over)}." if over else ""))
        return " ".join(sentences)

    def draft(self, event: Event | None, now: Moment) -> None:
        """Put on the disk what would be logged if nothing more came; a new day gets its file by that."""
        if self.readonly is not None:
            return
        self._drafted = event
        if event is None:
            if self._drafts is not None:
                self._drafts.clear()
            return
        if self.file is None and not self._no_file:
            self._put_on_disk(now)
            self._unnamed = self.file is not None
        if self.file is not None:
            if self._drafts is None:
                self._drafts = DraftFile(Fs(), self.file.path, self.state.began.id)
            self._drafts.write(self.state.seq + 1, event, now)

    def sync(self, now: Moment) -> None:
        """Bring what is being typed down to the disk itself."""
        if self._drafts is not None:
            self._drafts.sync(now)

    def log(self, event: Event, now: Moment) -> None:
        """Add an event; a disk that refuses is told by `standing` and loses nothing.

        ReadOnly if nothing can be added.
        """
        before = self.state.plan.title
        if self.file is None:
            self.state = apply(self.state, DAY_LOG.as_read_back(Entry(self.state.seq + 1, now, event)))
            self._put_on_disk(now)
        else:
            self.state = apply(self.state, self.file.append(event, now))
        if self._unnamed:
            self._unnamed = False
            if self.state.plan.title != before:
                self._name_anew(now)
        self.draft(self._drafted, now)

    def _name_anew(self, now: Moment) -> None:
        """Give the file of a new day the name that the day was given; if that cannot be, it keeps the one it has."""
        old = self.file
        if self._begin is None or old is None or old.unsaved:
            return
        try:
            self.file = self._begin(self.session, now)
        except SessionError:
            return
        self._close_drafts()
        old.close()
        forget(old.path)

    def _close_drafts(self) -> None:
        if self._drafts is not None:
            self._drafts.close()
            self._drafts = None

    def _put_on_disk(self, now: Moment) -> None:
        """Make the file of a new day; until that succeeds its log is in memory."""
        if self._begin is None:
            return
        try:
            self.file = self._begin(self.session, now)
            self._no_file = ""
        except SessionError as error:
            self._no_file = f"not saved: {error}"

    def look(self) -> str:
        """Look whether another program changed the file; say so once."""
        if self.file is None or not self.file.look():
            return ""
        return f"Another program changed {self.file.path.name}: what you enter is kept, and s saves the day elsewhere."

    def retry(self, now: Moment) -> None:
        """Try again to bring everything to the disk."""
        if self.file is None:
            if self._no_file:
                self._put_on_disk(now)
        elif self.file.unsaved:
            self.file.retry()

    def save_elsewhere(self, path: Path) -> str:
        """Write the session to another place and go on there; say how that went."""
        try:
            if self.file is None:
                self.file = SessionFile.write_new(path, self.session)
                self._no_file = ""
            else:
                self.file.save_elsewhere(path)
            self._close_drafts()
        except SessionError as error:
            return f"Not saved: {error}"
        return f"Saved in {self.file.path}; it goes on there."

    def close(self) -> str:
        """Bring everything into the file; give what went wrong."""
        trouble = (self.file.close() or "") if self.file else ""
        if not self.unsaved:
            self._close_drafts()
        return trouble
