"""A plain list schedule of a day: no limits, no nudges, no breaks, one counter a minute for each resource."""

from __future__ import annotations

from typing import Any

Instance = dict[str, Any]


def plain_list(day: Instance) -> int:
    """Lay each task as early as its predecessors and its uses allow, in the order of the file; the end in minutes."""
    horizon = day["horizon"]
    before: dict[str, list[tuple[str, int]]] = {task["id"]: [] for task in day["tasks"]}
    for link in day["links"]:
        before[link["to"]].append((link["from"], link["least"]))
    free = {name: [resource.get("units", 1)] * horizon for name, resource in day["resources"].items()}
    starts: dict[str, int] = {}
    ends = [0]
    todo = list(day["tasks"])
    while todo:
        task = next(task for task in todo if all(first in starts for first, _ in before[task["id"]]))
        todo.remove(task)
        start = max([0, task.get("release", 0), *(starts[first] + least for first, least in before[task["id"]])])
        while not _fits(free, task, start):
            start += 1
        starts[task["id"]] = start
        ends.append(start + task["minutes"])
        for name, since, until, units in task["uses"]:
            for minute in range(start + since, start + until):
                free[name][minute] -= units
    return max(ends)


def _fits(free: dict[str, list[int]], task: dict[str, Any], start: int) -> bool:
    return all(
        free[name][minute] >= units
        for name, since, until, units in task["uses"]
        for minute in range(start + since, start + until)
    )
