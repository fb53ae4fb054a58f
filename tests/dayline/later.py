"""A laid day looked at later: what has begun is a fact, what is past is gone, one wait may have been made longer."""

import copy
from typing import Any

Instance = dict[str, Any]
PlanForm = dict[str, Any]


def later(day: Instance, plan: PlanForm, now: int) -> tuple[Instance, PlanForm]:
    """Day and plan with `now` as minute 0."""
    day, plan = copy.deepcopy(day), copy.deepcopy(plan)
    plan["starts"] = {name: start - now for name, start in plan["starts"].items()}
    day["running"] = {name: start for name, start in plan["starts"].items() if start < 0}
    for task in day["tasks"]:
        task["release"] = max(0, task.get("release", 0) - now)
        _nudges_to_come(day, plan, task, now)
    _breaks_to_come(day, plan, now)
    for resource in day["resources"].values():
        resource["away"] = [[max(0, a - now), b - now, n] for a, b, n in resource.get("away", []) if b > now]
    return day, plan


def _nudges_to_come(day: Instance, plan: PlanForm, task: dict[str, Any], now: int) -> None:
    minutes = [minute - now for minute in plan["nudges"].get(task["id"], [])]
    kept = [(nudge, at) for nudge, at in zip(task.get("nudges", []), minutes, strict=True) if at >= 0]
    task["nudges"] = [nudge for nudge, _ in kept]
    plan["nudges"][task["id"]] = [at for _, at in kept]


def _breaks_to_come(day: Instance, plan: PlanForm, now: int) -> None:
    coming = []
    hands = day["resources"]["hands"]
    for pause, begin in zip(day["breaks"], plan["breaks"], strict=True):
        if begin >= now:
            first = pause["from"] + max(0, -(-(now - pause["from"]) // pause["step"])) * pause["step"]
            coming.append(({**pause, "from": first - now, "to": pause["to"] - now}, begin - now))
        elif begin + pause["minutes"] > now:
            hands["away"] = [*hands.get("away", []), [begin, begin + pause["minutes"], hands["units"]]]
    day["breaks"] = [pause for pause, _ in coming]
    plan["breaks"] = [begin for _, begin in coming]


def with_longer_wait(day: Instance, minutes: int) -> str | None:
    """Lengthen the wait of a running task that others wait for; its name, None where nothing such runs.

    Nothing is lengthened while another fact is still to take a hob or sink: two facts may then want the same one.
    """
    if any(_still_to_take(day, task) for task in day["tasks"]):
        return None
    for task in day["tasks"]:
        began = day["running"].get(task["id"], 1)
        if began <= 0 < began + task["minutes"] and task["id"].endswith((".hold", ".rest", ".reducer", ".soak")):
            _lengthen(day, task, minutes)
            return str(task["id"])
    return None


def _still_to_take(day: Instance, task: dict[str, Any]) -> bool:
    began = day["running"].get(task["id"])
    return began is not None and any(name != "hands" and began + until > 0 for name, _, until, _ in task["uses"])


def _lengthen(day: Instance, task: dict[str, Any], minutes: int) -> None:
    task["minutes"] += minutes
    for link in day["links"]:
        if link["from"] == task["id"]:
            link["least"] += minutes
            if link.get("most") is not None:
                link["most"] += minutes
