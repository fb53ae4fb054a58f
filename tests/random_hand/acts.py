"""What a random hand does, all from a seed: keys in chunks, escape sequences, cut pastes, the mouse, sizes, clocks."""

from __future__ import annotations

import json
from collections.abc import Sequence
from random import Random

from attrs import frozen

KEYS, SIZE, LATER, SLEEP, STEP, REST = "keys", "size", "later", "sleep", "step", "rest"
"""Keys in one chunk; a new size; time that goes by; a lid that was shut; a wall clock that was set; a pause."""


@frozen
class Act:
    """One thing that the hand does."""

    kind: str
    text: str = ""
    """What the terminal sends, for keys."""
    one: float = 0
    two: float = 0

    @property
    def inputs(self) -> int:
        """How many inputs it stands for: every key of a chunk is one."""
        return max(len(self.text), 1) if self.kind == KEYS else 1


def written(acts: Sequence[Act]) -> str:
    """Write acts on one line, to be played again."""
    return json.dumps([[act.kind, act.text] if act.kind == KEYS else [act.kind, act.one, act.two] for act in acts])


def read(text: str) -> tuple[Act, ...]:
    """Read what `written` wrote."""
    rows = json.loads(text)
    return tuple(Act(KEYS, row[1]) if row[0] == KEYS else Act(row[0], "", row[1], row[2]) for row in rows)


ESC = "\x1b"
ARROWS = [f"{ESC}[A", f"{ESC}[B", f"{ESC}[C", f"{ESC}[D"]
SEQUENCES = [
    *ARROWS, f"{ESC}[H", f"{ESC}[F", f"{ESC}[5~", f"{ESC}[6~", f"{ESC}[3~", f"{ESC}[2~", f"{ESC}[Z", f"{ESC}OP",
    f"{ESC}[1;5C", f"{ESC}[1;2D", f"{ESC}[97u", f"{ESC}[13u", f"{ESC}[27u", f"{ESC}[I", f"{ESC}[O", f"{ESC}[?2026;1$y",
    f"{ESC}[", f"{ESC}O", f"{ESC}a", f"{ESC}{ESC}", f"{ESC}[999999999;1u", f"{ESC}[<", f"{ESC}]0;x\x07", f"{ESC}[12;5R",
]  # fmt: skip
COMMANDS = "abcdefghijklmnopqrsuvwxyzABZ0123456789=?+-.,[]/ \r\r\r\t\t"
CONTROLS = "\x01\x03\x04\x05\x06\x0b\x0e\x10\x12\x15\x17\x18\x7f\x08\x00\n"
WORDS = [
    "5 min\r", "10 min rinse\r", "120 g", "1 1/2 tsp", "1,5", "9.3", "35 C", "2 h", "-3", "1e9 kg", "yesterday",
    "medium\r", "0.8 %\r", "Ünï çøde", "[bold]x[/]", "日本", "3 x 100 g", "half", "20 L", "pH", "", "0", "14:00",
    "a" * 60, "e\u0301", "\u202e", "(" * 30,
]  # fmt: skip
ROUTES = [
    "a", "n", "\r", ESC, ESC * 2, "d", "v", "r", "o", "oo", "oc", "ov", "og", "os", "ol", "op", "f", "=", "l", "i", "?",
    "w", "g", "s", "b", "h", "u", "x", "vx", "va", "v=", "vh", "vm", "v\r", "d\r", "dg", "dx", "dm", "m", "p",
    "c\r", "c\rc", "t", "  ", " \r", "\r\r", "===", "oo\t\r", ARROWS[2] + " ", ARROWS[2] * 3 + " ", ESC * 3 + "b",
]  # fmt: skip
"""First keys of the ways to every screen there is."""


def acts_of(seed: int, inputs: int) -> tuple[Act, ...]:
    """Give what the hand of a seed does, until it has given so many inputs."""
    random, found, count = Random(seed), [], 0
    while count < inputs:
        act = _act(random)
        count += act.inputs
        found.append(act)
    return tuple(found)


def _act(random: Random) -> Act:
    kind = random.random()
    if kind < 0.80:
        return Act(KEYS, _chunk(random))
    if kind < 0.88:
        return Act(LATER, "", random.choice([0.3, 0.5, 1.5, 4, 30, 600, 7200]))
    if kind < 0.92:
        return Act(REST)
    if kind < 0.96:
        width = random.choice([1, 2, 10, 40, 59, 60, 79, 80, 81, 120, 200])
        return Act(SIZE, "", width, random.choice([1, 2, 5, 19, 20, 23, 24, 40, 60]))
    if kind < 0.98:
        return Act(SLEEP, "", random.choice([20, 1800, 40000]))
    return Act(STEP, "", random.choice([-86400, -3600, -90, 45, 3600, 86400 * 30]))


def _chunk(random: Random) -> str:
    kind = random.random()
    if kind < 0.30:
        return random.choice(ROUTES)
    if kind < 0.45:
        return random.choice(COMMANDS) * random.choice([1, 1, 2, 3, 5, 12])
    if kind < 0.60:
        return "".join(_key(random) for _ in range(random.randint(1, 50)))
    if kind < 0.75:
        return "".join(_key(random) for _ in range(random.randint(1, 4)))
    if kind < 0.83:
        return random.choice(WORDS)
    if kind < 0.91:
        return _mouse(random)
    return _paste(random)


def _key(random: Random) -> str:
    kind = random.random()
    if kind < 0.62:
        return random.choice(COMMANDS)
    if kind < 0.80:
        return random.choice(ARROWS)
    if kind < 0.88:
        return random.choice(SEQUENCES)
    return ESC if kind < 0.95 else random.choice(CONTROLS)


def _mouse(random: Random) -> str:
    x, y = random.randint(1, 130), random.randint(1, 45)
    button = random.choice([0, 0, 0, 1, 2, 35, 32, 64, 65])
    press = f"{ESC}[<{button};{x};{y}M"
    return press + (f"{ESC}[<{button};{x};{y}m" if random.random() < 0.8 else "")


def _paste(random: Random) -> str:
    text = random.choice([*WORDS, "one\ntwo\nthree", "x" * 300, f"{ESC}[A", "\x00\x07"])
    whole = f"{ESC}[200~{text}{ESC}[201~"
    return whole if random.random() < 0.5 else whole[: random.randint(1, len(whole))]
