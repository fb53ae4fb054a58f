"""`python -m tests.random_hand`: let 200 random hands with 500 inputs each at the app; or do ends of all kinds."""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from itertools import repeat

from attrs import frozen
from tests.random_hand import in_process, in_pty
from tests.random_hand.acts import Act, read, written
from tests.random_hand.shrink import shrunk
from tests.random_hand.ways import hand
from tests.ui.test_keymaps import TABLES


@frozen
class Tried:
    """What came of one hand."""

    seed: int
    inputs: int
    found: str
    """What went wrong; empty: nothing."""
    seconds: float
    seen: frozenset[str]
    """The screens that were in front."""


def tried(seed: int, inputs: int, pty: bool) -> Tried:
    """Let the hand of one seed at the app."""
    start, acts = hand(seed, inputs)
    begun, seen = time.monotonic(), set[str]()
    found = _trial(acts, start, pty, seen)
    return Tried(seed, sum(act.inputs for act in acts), found, time.monotonic() - begun, frozenset(seen))


def _trial(acts: Sequence[Act], start: str, pty: bool, seen: set[str] | None = None) -> str:
    return in_pty.trial(acts, start) if pty else in_process.trial(acts, start, seen)


def _alike(acts: Sequence[Act], start: str, pty: bool, kind: str) -> bool:
    return _trial(acts, start, pty).partition(":")[0] == kind


def main(words: Sequence[str] | None = None) -> int:
    """Run; 1 if anything was found."""
    wish = _wish(words)
    if wish.play:
        print(_trial(read(wish.play), hand(wish.first, 0)[0], wish.pty) or "well")
        return 0
    return _ends(wish) if wish.ends else _hands(wish)


def _hands(wish: argparse.Namespace) -> int:
    """Let the hands of all seeds at the app, and tell what they found and which screens none of them saw."""
    inputs, seen, wrong = 0, set[str](), dict[int, str]()
    with ProcessPoolExecutor(wish.hands) as pool:
        seeds = range(wish.first, wish.first + wish.seeds)
        for count, one in enumerate(pool.map(partial(tried, inputs=wish.inputs, pty=wish.pty), seeds), start=1):
            inputs += one.inputs
            seen |= one.seen
            if count % 10 == 0:
                print(f"{count} hands, {inputs} inputs", file=sys.stderr, flush=True)
            if one.found:
                wrong[one.seed] = one.found
                print(f"seed {one.seed}, after {one.seconds:.0f} s: {one.found}", flush=True)
    print(f"{wish.seeds} hands, {inputs} inputs, {len(wrong)} of the hands found something")
    for kind, count in Counter(found.partition(":")[0] for found in wrong.values()).most_common():
        print(f"  {count} × {kind}")
    if not wish.pty:
        never = [name for name in TABLES if name not in seen]
        print(f"on {len(TABLES) - len(never)} of {len(TABLES)} screens; never on {', '.join(never) or 'none'}")
    for seed in [] if wish.whole else list(wrong)[:3]:
        _tell_shortest(seed, wish.inputs, wish.pty, wrong[seed])
    return 1 if wrong else 0


def _tell_shortest(seed: int, inputs: int, pty: bool, found: str) -> None:
    """Print the shortest acts that still go wrong the same way."""
    kind, (start, acts) = found.partition(":")[0], hand(seed, inputs)
    acts = shrunk(acts, partial(_alike, start=start, pty=pty, kind=kind))
    print(f"seed {seed}, shortest: --first {seed}{' --pty' if pty else ''} --play '{written(acts)}'")


def _ends(wish: argparse.Namespace) -> int:
    """Do so many trials of each kind of end; tell how many were well, and what was wrong with the others."""
    from tests.random_hand.ends import KINDS, trial  # late: real terminals are a thing of POSIX

    wrong = 0
    seeds = range(wish.first, wish.first + wish.ends)
    with ProcessPoolExecutor(wish.hands) as pool:
        for kind in KINDS:
            well = 0
            for seed, found in zip(seeds, pool.map(trial, repeat(kind), seeds), strict=False):
                well += not found
                if found:
                    print(f"{kind}, seed {seed}: {found}", flush=True)
            print(f"{kind}: {well} of {len(seeds)} trials well", flush=True)
            wrong += len(seeds) - well
    return 1 if wrong else 0


def _wish(words: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.random_hand")
    parser.add_argument("--first", type=int, default=0, help="the first seed")
    parser.add_argument("--seeds", type=int, default=200, help="how many seeds")
    parser.add_argument("--inputs", type=int, default=500, help="inputs of each")
    parser.add_argument("--hands", type=int, default=os.cpu_count() or 1, help="how many at a time")
    parser.add_argument("--pty", action="store_true", help="in a real terminal, as a process of its own")
    parser.add_argument("--whole", action="store_true", help="do not look for the shortest acts that fail")
    parser.add_argument("--play", default="", help="acts as they were printed, for the seed given by --first")
    parser.add_argument("--ends", type=int, default=0, help="instead, so many trials of each kind of end")
    return parser.parse_args(words)


if __name__ == "__main__":
    sys.exit(main())
