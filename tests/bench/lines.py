"""A class of twelve lots laid again after a change: beside a plain list schedule of the same day."""

from __future__ import annotations

from collections.abc import Callable

from tests.bench.measure import Pairs, cpu_ms, interleaved
from tests.bench.plain_list import plain_list
from tests.bench.run import Run
from tests.dayline.instances import SIXTY, day_of, plan_of, read

from vatside.dayline.line.model import Day, Plan
from vatside.dayline.line.planning import hold, replan

CLASS = "twelve lots, four fibres"


def held_beside_list(run: Run) -> Pairs:
    """The old plan held."""
    return _beside_list(run, hold)


def searched_beside_list(run: Run) -> Pairs:
    """The old plan held and a shorter one looked for, as after every change under way."""
    return _beside_list(run, replan)


def _beside_list(run: Run, ours: Callable[[Day, Plan], Plan]) -> Pairs:
    form = next(form for form in read(SIXTY) if form["id"] == CLASS)
    longer = {**form, "tasks": [_longer(task) for task in form["tasks"]]}
    day, old = day_of(longer), plan_of(form["plan"], form["optimum"])
    times = run.rounds(4, 2)
    return interleaved(
        run.rounds(15, 5),
        lambda: cpu_ms(lambda: ours(day, old), times),
        lambda: cpu_ms(lambda: plain_list(longer), times),
    )


def _longer(task: dict[str, object]) -> dict[str, object]:
    """The second dipping takes some minutes more, so that half of the day has to move."""
    return {**task, "release": 290} if task["id"] == "dips.round2" else task
