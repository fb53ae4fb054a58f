"""How late each step may begin: from the last to the first, each is moved as late as the others leave it.

All are then as late as they can be together, so one that begins by its latest start spoils nothing, if the others keep
theirs. Unlike a laying backwards this never gets stuck: every step has at least the place that it came from.
"""

from collections.abc import Callable

from vatside.dayline.line.bits import give_back, narrowed, ones, smeared, stretch, take
from vatside.dayline.line.net import NEVER, Net
from vatside.dayline.line.plans import Laid
from vatside.dayline.line.seats import Seats

Act = Callable[[list[int], int, int, int, int], None]


class PutOff:
    """Moves the steps of one laid day; used once."""

    def __init__(self, net: Net, laid: Laid, until: int) -> None:
        """Book everything as it is laid. All may end by `until`, what is due by when it is due or comes anyway."""
        self.net, self.until = net, until
        self.starts = list(laid.starts)
        self.units = laid.units
        self.rows = net.empty_rows(laid.breaks)
        self.seats = Seats(net, self.rows)
        self.seats.asked = dict(enumerate(laid.seats))
        self.seats.seat_early()
        for i in range(net.size):
            self._needs(i, self.starts[i], take)
            self.seats.seated(i, self.starts[i])
        for s, held in enumerate(net.held):
            begin = self.starts[held.opener] + held.since if held.opener >= 0 else 0
            self._span(s, begin, self.starts[held.closer] + held.until, take)

    def latest(self) -> list[int]:
        """The latest start of each task."""
        self.seats.asked = {}
        for i in sorted(range(self.net.size), key=lambda i: -self.starts[i]):
            self._move(i)
        return self.starts

    def _needs(self, i: int, at: int, act: Act) -> None:
        for need in self.net.needs[i]:
            act(self.rows, need.base, need.size, need.units, need.minutes << (at + need.since))

    def _span(self, s: int, begin: int, end: int, act: Act) -> None:
        held = self.net.held[s]
        if held.opener >= 0 or act is give_back:
            act(self.rows, self.units[s], held.size, held.units, stretch(begin, end))
        else:  # what runs has been held to the end of the day: give back what comes after
            give_back(self.rows, self.units[s], held.size, held.units, stretch(end, self.net.horizon + 1))

    def _move(self, i: int) -> None:
        now, last = self.starts[i], self._last(i)
        if last <= now:
            return
        kept = self.rows[:], self.seats.seat[:]
        self._leave(i)
        at = self._latest(i, now, last)
        if at is None:
            self.rows[:], self.seats.seat[:] = kept
            return
        self._needs(i, at, take)
        self._spans_moved(i, now, at)
        self.starts[i] = at

    def _last(self, i: int) -> int:
        """How late it may begin by links, limits, hours, and by what is held until it ends."""
        net, starts = self.net, self.starts
        last = min(self.until - net.lengths[i], net.horizon - net.lengths[i])
        last = min([last, *(starts[j] - w for j, w in net.out[i])])
        for bound in (net.limit[i], net.due[i] - net.lengths[i]):
            if bound < NEVER - net.lengths[i]:
                last = min(last, max(bound, starts[i]))
        for s in net.closes[i]:
            held = net.held[s]
            end = starts[i] + held.until
            beyond = self.rows[self.units[s] + held.size - held.units] >> end
            if beyond:
                last = min(last, starts[i] + (beyond & -beyond).bit_length() - 1)
        return last

    def _leave(self, i: int) -> None:
        """Give back what it takes, its nudges' seats too."""
        net, rows, at = self.net, self.rows, self.starts[i]
        self._needs(i, at, give_back)
        for need in net.hand_needs[i]:
            give_back(rows, net.totals, net.people, need.units, need.minutes << (at + need.since))
        for call in net.calls[i]:
            if self.seats.seat[call.number] >= 0:
                give_back(rows, net.totals, net.people, 1, 1 << self.seats.seat[call.number])
                self.seats.seat[call.number] = -1

    def _latest(self, i: int, now: int, last: int) -> int | None:
        """The last start up to `last` at which all that it takes is there; None where there is none after `now`."""
        net, rows = self.net, self.rows
        taken = 0
        for need in net.needs[i]:
            taken |= smeared(rows[need.row] >> (now + need.since), need.steps)
        full = rows[net.hands + net.people - 1]
        for call in net.calls[i]:
            taken |= narrowed(full >> (now + call.low), call.steps)
        free = ~taken & ones(last - now + 1)
        while free:
            at = now + free.bit_length() - 1
            if at == now:
                return None
            if self.seats.seated(i, at):
                return at
            free ^= 1 << (at - now)
        return None

    def _spans_moved(self, i: int, before: int, at: int) -> None:
        for s in self.net.opens[i]:
            since = self.net.held[s].since
            self._span(s, before + since, at + since, give_back)
        for s in self.net.closes[i]:
            held = self.net.held[s]
            take(self.rows, self.units[s], held.size, held.units, stretch(before + held.until, at + held.until))
