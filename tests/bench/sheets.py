"""The whole sheet worked out anew, as at every key: beside plain floats, and for many lots beside few."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from math import isclose

from attrs import evolve
from tests.bench.measure import Pairs, cpu_ms, interleaved
from tests.bench.plain_sheet import Facts, figures
from tests.bench.run import Run

from vatside.plan.plan import Plan, TapKind
from vatside.plan.starter import new_lot, starter_plan
from vatside.recipe.compute import compute
from vatside.units import Amount

FIRST_GRAMS, STEP_GRAMS = 300.0, 0.01
"""Every sheet is for another mass, so that nothing is remembered from the one before."""
NEARLY = {
    "vat.alkali": 1e-3, "vat.alkali_left": 1e-3, "vat.alkali_strength": 1e-3, "finish.vinegar": 1e-3,
    "vat.pH": 2e-5, "vat.pH_25": 2e-5, "vat.pH_spent": 2e-5,
    "finish.linen.sour_pH": 0.05,
}  # fmt: skip
"""How closely the sheet works out what follows from its alkali: that it finds to a part in a thousand."""
CLOSE = 1e-8


def sheet_beside_floats(run: Run) -> Pairs:
    """The starter plan's sheet against its arithmetic in plain floats, both with rain in the taps.

    A water that is not known, as the starter's own, costs the sheet three to four times as much: that is in `class`.
    """
    facts, masses, times = Facts(), count(), run.rounds(20, 10)
    differing = differences(FIRST_GRAMS, facts)
    if differing:
        raise RuntimeError(f"the plain arithmetic is not the sheet's: {', '.join(differing)}")
    return interleaved(
        run.rounds(15, 7),
        lambda: cpu_ms(lambda: compute(plan_of(_grams(masses))), times),
        lambda: cpu_ms(lambda: figures(_grams(masses), facts), times),
    )


def _grams(masses: count[int]) -> float:
    return FIRST_GRAMS + STEP_GRAMS * next(masses)


def plan_of(*grams: float) -> Plan:
    """Give the starter plan with rain in its taps and lots of these masses."""
    plan = starter_plan()
    plan = evolve(plan, water=evolve(plan.water, tap=TapKind.PURE))
    lots = plan.lots
    while len(lots) < len(grams):
        lots = (*lots, new_lot(evolve(plan, lots=lots)))
    return evolve(plan, lots=tuple(evolve(lot, mass=Amount(mass, "g")) for lot, mass in zip(lots, grams, strict=True)))


def differences(grams: float, facts: Facts) -> list[str]:
    """Name the figures that only one of both has, or that differ."""
    ours = {figure.id: figure.value for figure in compute(plan_of(grams)).figures}
    plain = figures(grams, facts)
    apart = {
        name for name in ours.keys() & plain.keys()
        if not isclose(ours[name], plain[name], rel_tol=NEARLY.get(name, CLOSE), abs_tol=CLOSE)
    }  # fmt: skip
    return sorted(apart | (ours.keys() ^ plain.keys()))


def many_beside_few(run: Run) -> Pairs:
    """A sheet for forty lots against one for four."""
    rounds, masses = run.rounds(11, 5), count()

    def sheet_for(lots: int, times: int) -> Callable[[], float]:
        plans = (plan_of(*(_grams(masses) for _ in range(lots))) for _ in count())
        ready = [next(plans) for _ in range((rounds + 1) * times)]
        return lambda: cpu_ms(lambda: compute(ready.pop()), times)

    return interleaved(rounds, sheet_for(40, 1), sheet_for(4, 5))
