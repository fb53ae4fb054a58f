"""What is wrong with a laid day, found minute by minute; knows the form of the instances and nothing of the planner."""

from collections import Counter
from collections.abc import Iterator
from typing import Any

Instance = dict[str, Any]
PlanForm = dict[str, Any]
HANDS = "hands"


def faults(day: Instance, plan: PlanForm) -> list[str]:
    """Every rule that a plan breaks, in words; empty for a plan that can be carried out."""
    tasks = {task["id"]: task for task in day["tasks"]}
    missing = [f"{name} has no start" for name in tasks if not isinstance(plan["starts"].get(name), int)]
    if missing:
        return missing
    return [
        *_starts(day, plan, tasks),
        *_links(day, plan),
        *_nudges(day, plan, tasks),
        *_breaks(day, plan),
        *_counted(day, plan, tasks),
        *_sized(day, plan, tasks),
    ]


def last_minute(day: Instance, plan: PlanForm) -> int:
    """When the last task that counts has ended."""
    counted = [task for task in day["tasks"] if task.get("counts", True)]
    return max(int(plan["starts"][task["id"]]) + int(task["minutes"]) for task in counted)


def _starts(day: Instance, plan: PlanForm, tasks: dict[str, Any]) -> Iterator[str]:
    for name, task in tasks.items():
        start = plan["starts"][name]
        if name in day["running"]:
            if start != day["running"][name]:
                yield f"{name} runs since {day['running'][name]} and is moved to {start}"
        elif start < max(0, task.get("release", 0)):
            yield f"{name} begins at {start}, before it can"
        if start + task["minutes"] > day["horizon"]:
            yield f"{name} ends after the horizon"


def _links(day: Instance, plan: PlanForm) -> Iterator[str]:
    for link in day["links"]:
        if link["from"] in day["running"] and link["to"] in day["running"]:
            continue
        apart = plan["starts"][link["to"]] - plan["starts"][link["from"]]
        if apart < link["least"]:
            yield f"{link['to']} begins {apart} after {link['from']}, {link['least']} is the least"
        if link.get("most") is not None and apart > link["most"]:
            yield f"{link['to']} begins {apart} after {link['from']}, {link['most']} is the most"


def _nudges(day: Instance, plan: PlanForm, tasks: dict[str, Any]) -> Iterator[str]:
    for name, task in tasks.items():
        wanted = task.get("nudges", [])
        given = plan["nudges"].get(name, [])
        if len(wanted) != len(given):
            yield f"{name} has {len(given)} of {len(wanted)} nudges"
            continue
        for nudge, minute in zip(wanted, given, strict=True):
            at = plan["starts"][name] + nudge["at"]
            if at + nudge["late"] < 0:
                continue
            if not max(0, at - nudge["early"]) <= minute <= at + nudge["late"]:
                yield f"a nudge of {name} is due at {at} and planned at {minute}"


def _breaks(day: Instance, plan: PlanForm) -> Iterator[str]:
    if len(plan["breaks"]) != len(day["breaks"]):
        yield "a break is missing"
        return
    for pause, begin in zip(day["breaks"], plan["breaks"], strict=True):
        if not pause["from"] <= begin <= pause["to"] or (begin - pause["from"]) % pause["step"]:
            yield f"a break begins at {begin}, which is no place for it"


def _taken(day: Instance, plan: PlanForm, tasks: dict[str, Any]) -> dict[str, Counter[int]]:
    """Units of each counted resource in use, for each minute from 0."""
    taken: dict[str, Counter[int]] = {name: Counter() for name in day["resources"]}

    def use(name: str, begin: int, end: int, units: int) -> None:
        for minute in range(max(0, begin), end):
            taken[name][minute] += units

    for name, task in tasks.items():
        start = plan["starts"][name]
        for resource, since, until, units in task["uses"]:
            use(resource, start + since, start + until, units)
    for name, minutes in plan["nudges"].items():
        for nudge, minute in zip(tasks[name].get("nudges", []), minutes, strict=False):
            if plan["starts"][name] + nudge["at"] + nudge["late"] >= 0:
                use(HANDS, minute, minute + 1, 1)
    for span in day["spans"]:
        if "size" not in span:
            use(span["resource"], *_held(span, plan, tasks), span["units"])
    return taken


def _held(span: dict[str, Any], plan: PlanForm, tasks: dict[str, Any]) -> tuple[int, int]:
    end = plan["starts"][span["to"]] + (tasks[span["to"]]["minutes"] if span["until"] == "end" else 0)
    return plan["starts"][span["from"]], end


def _counted(day: Instance, plan: PlanForm, tasks: dict[str, Any]) -> Iterator[str]:
    taken = _taken(day, plan, tasks)
    for name, resource in day["resources"].items():
        if "sizes" in resource:
            continue
        for minute, used in sorted(taken[name].items()):
            there = resource["units"] - _away(day, plan, name, minute)
            if used > there:
                yield f"{used} of {name} are taken in minute {minute}, {there} are there"


def _away(day: Instance, plan: PlanForm, name: str, minute: int) -> int:
    resource = day["resources"][name]
    for pause, begin in zip(day["breaks"], plan["breaks"], strict=False):
        if pause["resource"] == name and begin <= minute < begin + pause["minutes"]:
            return int(resource["units"])
    return sum(units for begin, end, units in resource.get("away", []) if begin <= minute < end)


def _sized(day: Instance, plan: PlanForm, tasks: dict[str, Any]) -> Iterator[str]:
    holders: dict[tuple[str, int, int], str] = {}
    for s, span in enumerate(day["spans"]):
        if "size" not in span:
            continue
        begin, end = _held(span, plan, tasks)
        if end <= 0:
            continue
        sizes = day["resources"][span["resource"]]["sizes"]
        unit = plan["units"].get(str(s), -1)
        if not 0 <= unit < len(sizes) or sizes[unit] < span["size"]:
            yield f"{span['from']} has no {span['resource']} that is large enough"
            continue
        for minute in range(max(0, begin), end):
            other = holders.setdefault((span["resource"], unit, minute), span["from"])
            if other != span["from"]:
                yield f"{span['from']} and {other} have the same {span['resource']} in minute {minute}"
                break
