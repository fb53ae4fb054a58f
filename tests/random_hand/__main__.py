"""`python -m tests.random_hand`: let random hands at the app, 200 of them with 500 inputs each."""

from __future__ import annotations

import argparse
import os
import sys
import time
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial

from tests.random_hand import in_process, in_pty
from tests.random_hand.acts import Act, acts_of, read, written
from tests.random_hand.shrink import shrunk


def tried(seed: int, inputs: int, pty: bool) -> tuple[int, int, str, float]:
    """Let the hand of one seed at the app; give the seed, its inputs, what went wrong and the seconds it took."""
    acts, begun = acts_of(seed, inputs), time.monotonic()
    found = _trial(acts, seed, pty)
    return seed, sum(act.inputs for act in acts), found, time.monotonic() - begun


def _trial(acts: Sequence[Act], seed: int, pty: bool) -> str:
    start = in_process.STARTS[seed % len(in_process.STARTS)]
    return in_pty.trial(acts, start) if pty else in_process.trial(acts, start)


def _alike(acts: Sequence[Act], seed: int, pty: bool, kind: str) -> bool:
    return _trial(acts, seed, pty).partition(":")[0] == kind


def main(words: Sequence[str] | None = None) -> int:
    """Run; 1 if any hand found something."""
    wish = _wish(words)
    if wish.play:
        print(_trial(read(wish.play), wish.first, wish.pty) or "well")
        return 0
    seeds = range(wish.first, wish.first + wish.seeds)
    inputs, wrong = 0, dict[int, str]()
    with ProcessPoolExecutor(wish.hands) as pool:
        for seed, count, found, seconds in pool.map(partial(tried, inputs=wish.inputs, pty=wish.pty), seeds):
            inputs += count
            if (seed - wish.first) % 10 == 9:
                print(f"{seed - wish.first + 1} hands, {inputs} inputs", file=sys.stderr, flush=True)
            if found:
                wrong[seed] = found
                print(f"seed {seed}, after {seconds:.0f} s: {found}", flush=True)
    print(f"{len(seeds)} hands, {inputs} inputs, {len(wrong)} of the hands found something")
    for kind, count in Counter(found.partition(":")[0] for found in wrong.values()).most_common():
        print(f"  {count} × {kind}")
    for seed in [] if wish.whole else list(wrong)[:3]:
        _tell_shortest(seed, wish.inputs, wish.pty, wrong[seed])
    return 1 if wrong else 0


def _tell_shortest(seed: int, inputs: int, pty: bool, found: str) -> None:
    """Print the shortest acts that still go wrong the same way."""
    kind = found.partition(":")[0]
    acts = shrunk(acts_of(seed, inputs), partial(_alike, seed=seed, pty=pty, kind=kind))
    print(f"seed {seed}, shortest: --first {seed}{' --pty' if pty else ''} --play '{written(acts)}'")


def _wish(words: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.random_hand")
    parser.add_argument("--first", type=int, default=0, help="the first seed")
    parser.add_argument("--seeds", type=int, default=200, help="how many seeds")
    parser.add_argument("--inputs", type=int, default=500, help="inputs of each")
    parser.add_argument("--hands", type=int, default=os.cpu_count() or 1, help="how many at a time")
    parser.add_argument("--pty", action="store_true", help="in a real terminal, as a process of its own")
    parser.add_argument("--whole", action="store_true", help="do not look for the shortest acts that fail")
    parser.add_argument("--play", default="", help="acts as they were printed, for the seed given by --first")
    return parser.parse_args(words)


if __name__ == "__main__":
    sys.exit(main())
