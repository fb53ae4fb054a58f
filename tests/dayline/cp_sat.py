"""The shortest end of a day, proven by CP-SAT (OR-tools).

`python -m tests.dayline.cp_sat COUNT FILE.json` writes so many random days with it.
Takes the form of the instances and nothing of the planner.
"""

import json
import sys
from pathlib import Path
from typing import Any

from ortools.sat.python import cp_model
from tests.dayline.random_days import random_day

Instance = dict[str, Any]


class Model:
    """One day as constraints."""

    def __init__(self, day: Instance, horizon: int) -> None:
        """Every rule of the form, the last end as the goal."""
        self.day, self.horizon = day, horizon
        self.cp = cp_model.CpModel()
        self.length = {task["id"]: task["minutes"] for task in day["tasks"]}
        self.start = {task["id"]: self._start(task) for task in day["tasks"]}
        self.demands: dict[str, list[tuple[Any, Any]]] = {name: [] for name in day["resources"]}
        self._links()
        self._uses()
        self._spans()
        self._absences()
        self._breaks()
        for name, demands in self.demands.items():
            if demands and "units" in day["resources"][name]:
                self.cp.add_cumulative(
                    [d[0] for d in demands], [d[1] for d in demands], day["resources"][name]["units"]
                )
        self.end = self.cp.new_int_var(0, horizon, "end")
        for task in day["tasks"]:
            self.cp.add(self.end >= self.start[task["id"]] + task["minutes"])
        self.cp.minimize(self.end)

    def _start(self, task: dict[str, Any]) -> Any:
        return self.cp.new_int_var(task.get("release", 0), self.horizon - task["minutes"], task["id"])

    def _links(self) -> None:
        for link in self.day["links"]:
            apart = self.start[link["to"]] - self.start[link["from"]]
            self.cp.add(apart >= link["least"])
            if link.get("most") is not None:
                self.cp.add(apart <= link["most"])

    def _uses(self) -> None:
        for task in self.day["tasks"]:
            start = self.start[task["id"]]
            for name, since, until, units in task["uses"]:
                made = self.cp.new_fixed_size_interval_var(start + since, until - since, "use")
                self.demands[name].append((made, units))
            for nudge in task.get("nudges", []):
                minute = self.cp.new_int_var(0, self.horizon, "nudge")
                self.cp.add(minute >= start + nudge["at"] - nudge["early"])
                self.cp.add(minute <= start + nudge["at"] + nudge["late"])
                self.demands["hands"].append((self.cp.new_fixed_size_interval_var(minute, 1, "nudge"), 1))

    def _spans(self) -> None:
        units: dict[tuple[str, int], list[Any]] = {}
        for span in self.day["spans"]:
            begin = self.start[span["from"]]
            end = self.start[span["to"]] + (self.length[span["to"]] if span["until"] == "end" else 0)
            size = self.cp.new_int_var(0, self.horizon, "held")
            self.cp.add(begin + size == end)
            if "size" not in span:
                self.demands[span["resource"]].append(
                    (self.cp.new_interval_var(begin, size, end, "held"), span["units"])
                )
                continue
            chosen = []
            for unit, litres in enumerate(self.day["resources"][span["resource"]]["sizes"]):
                if litres >= span["size"]:
                    here = self.cp.new_bool_var("here")
                    chosen.append(here)
                    made = self.cp.new_optional_interval_var(begin, size, end, here, "held")
                    units.setdefault((span["resource"], unit), []).append(made)
            self.cp.add_exactly_one(chosen)
        for held in units.values():
            self.cp.add_no_overlap(held)

    def _absences(self) -> None:
        for name, resource in self.day["resources"].items():
            for begin, end, gone in resource.get("away", []):
                self.demands[name].append((self.cp.new_fixed_size_interval_var(begin, end - begin, "away"), gone))

    def _breaks(self) -> None:
        """Everybody who is there stops; nobody is away in part of a break's window."""
        hands = self.day["resources"]["hands"]
        for pause in self.day["breaks"]:
            step = self.cp.new_int_var(0, (pause["to"] - pause["from"]) // pause["step"], "break")
            made = self.cp.new_fixed_size_interval_var(pause["from"] + step * pause["step"], pause["minutes"], "break")
            window = (pause["from"], pause["to"] + pause["minutes"])
            gone = sum(n for a, b, n in hands.get("away", []) if a < window[1] and b > window[0])
            self.demands["hands"].append((made, hands["units"] - gone))


def optimum(day: Instance, seconds: float = 60, horizon: int = 1800) -> int | None:
    """The smallest end, None where it was not proven within `seconds`."""
    model = Model(day, horizon)
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    status = solver.solve(model.cp)
    return int(solver.objective_value) if status == cp_model.OPTIMAL else None


def main(count: int, file: Path, first: int = 1) -> None:
    """Write `count` random days whose optimum was proven."""
    days: list[Instance] = []
    seed = first
    while len(days) < count:
        day = random_day(seed)
        seed += 1
        best = optimum(day)
        print(day["id"], len(day["tasks"]), best, flush=True)
        if best is not None:
            days.append({**day, "optimum": best})
        file.write_text(json.dumps({"instances": days}, separators=(",", ":")), encoding="utf-8")


if __name__ == "__main__":
    main(int(sys.argv[1]), Path(sys.argv[2]), *map(int, sys.argv[3:]))
