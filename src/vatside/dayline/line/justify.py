"""Justification: lay the day from its end backwards, then forwards again by the starts that came out."""

from vatside.dayline.line.net import Net, ended, mirrored
from vatside.dayline.line.orders import ordered
from vatside.dayline.line.plans import Laid, lay


class Backwards:
    """The mirrored day of a net, made once."""

    def __init__(self, net: Net) -> None:
        """The mirror itself is made when it is first wanted."""
        self.net = net
        self.mirror: Net | None = None

    def latest(self, laid: Laid) -> list[int] | None:
        """Starts as late as the same end allows, in the order of the plan's ends; None where that order is stuck."""
        net = self.net
        if self.mirror is None:
            self.mirror = mirrored(net)
        end = laid.value[2]
        turned = ended(self.mirror, net, end)
        key = [end - start - length for start, length in zip(laid.starts, net.lengths, strict=True)]
        pauses = [end - begin - minutes for begin, minutes in zip(laid.breaks, net.break_minutes, strict=True)]
        late = lay(turned, ordered(turned, key), pauses)
        if late is None:
            return None
        return [end - start - length for start, length in zip(late.starts, net.lengths, strict=True)]


def by_starts(net: Net, starts: list[int], breaks: tuple[int, ...]) -> Laid | None:
    """Lay forwards in the order of some starts."""
    return lay(net, ordered(net, starts), breaks)
