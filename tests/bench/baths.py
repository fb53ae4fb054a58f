"""One solve of the charge balance: a buffered vat in hard water, chalk settled, beside a lye vat in plain floats."""

from __future__ import annotations

from itertools import count

from tests.bench.measure import Pairs, cpu_ms, interleaved
from tests.bench.plain_liquor import Liquor
from tests.bench.run import Run

from vatside.chemistry.bath import Bath
from vatside.chemistry.buffer import BufferedVat
from vatside.chemistry.liquor import solve
from vatside.chemistry.tap import CLASSES


def solve_beside_floats(run: Run) -> Pairs:
    """The richest bath of a wool day against the plainest."""
    warm, plain, times = count(), count(), run.rounds(40, 20)
    hard: Bath = BufferedVat(20, 47, 3.24, 5.2, lye_g=3.3).bath(CLASSES["hard"], 12, 16)
    return interleaved(
        run.rounds(15, 7),
        lambda: cpu_ms(lambda: solve(hard, 40 + 0.001 * next(warm), chalk=True), times),
        lambda: cpu_ms(lambda: Liquor(0.01, 0.0006, 0.001, 0.0006, 40 + 0.001 * next(plain)).pH(), times),
    )
