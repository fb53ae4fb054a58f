"""The checker accepts the plans that CP-SAT made, and refuses each of them once anything in it is spoilt."""

import copy
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import pytest
from tests.dayline.instances import SIXTY, read
from tests.dayline.line_checker import faults

Form = dict[str, Any]
DAYS = read(SIXTY)


def spoilt(form: Form) -> Iterator[tuple[str, Form]]:
    """Plans that cannot be carried out, each with what is wrong with it."""
    yield from spoilt_links(form)
    yield from spoilt_hands(form)
    yield from spoilt_pots(form)
    yield from spoilt_facts(form)
    for k, pause in enumerate(form["breaks"]):
        plan = copy.deepcopy(form["plan"])
        plan["breaks"][k] = pause["to"] + pause["step"]
        yield "a break after its window", plan
        plan = copy.deepcopy(form["plan"])
        plan["breaks"][k] += 1
        yield "a break between its places", plan


def moved(form: Form, name: str, start: int) -> Form:
    """The plan with one task somewhere else."""
    plan: Form = copy.deepcopy(form["plan"])
    plan["starts"][name] = start
    return plan


def spoilt_links(form: Form) -> Iterator[tuple[str, Form]]:
    """Every link to something that is still to come, broken by a minute."""
    for link in form["links"]:
        if link["to"] in form["running"]:
            continue
        start = form["plan"]["starts"][link["from"]]
        yield f"too early after {link['from']}", moved(form, link["to"], start + link["least"] - 1)
        if link.get("most") is not None:
            yield f"too late after {link['from']}", moved(form, link["to"], start + link["most"] + 1)


def spoilt_hands(form: Form) -> Iterator[tuple[str, Form]]:
    """Nudges out of their windows; two steps, or a step and a nudge, of one person at once."""
    tasks = {task["id"]: task for task in form["tasks"]}
    for name, task in tasks.items():
        for k, nudge in enumerate(task.get("nudges", [])):
            plan = copy.deepcopy(form["plan"])
            plan["nudges"][name][k] = plan["starts"][name] + nudge["at"] + nudge["late"] + 1
            yield f"a nudge of {name} too late", plan
    if form["resources"]["hands"]["units"] == 1:
        names = [name for name in tasks if name not in form["running"]]
        for first, second in pairwise(names):
            yield f"{first} and {second} at once", moved(form, second, form["plan"]["starts"][first])


def spoilt_pots(form: Form) -> Iterator[tuple[str, Form]]:
    """A load in no pot, and two loads in one pot at once."""
    for s in form["plan"]["units"]:
        plan = copy.deepcopy(form["plan"])
        plan["units"][s] = len(form["resources"]["pot"]["sizes"])
        yield "a pot that there is not", plan
        plan = copy.deepcopy(form["plan"])
        del plan["units"][s]
        yield "no pot", plan
    sized = [span for span in form["spans"] if "size" in span]
    for s, t in ((s, t) for s in sized for t in sized):
        if s is not t and not {s["from"], t["from"]} & set(form["running"]):
            plan = moved(form, t["from"], form["plan"]["starts"][s["from"]])
            plan["units"] |= {str(form["spans"].index(t)): plan["units"][str(form["spans"].index(s))]}
            yield "two loads in one pot", plan


def spoilt_facts(form: Form) -> Iterator[tuple[str, Form]]:
    """What runs moved by a minute, what comes later begun before, a step forgotten."""
    for name, start in form["running"].items():
        yield f"{name} moved", moved(form, name, start - 1)
    for task in form["tasks"]:
        if task["id"] not in form["running"]:
            yield f"{task['id']} before it can", moved(form, task["id"], task.get("release", 0) - 1)
        plan = copy.deepcopy(form["plan"])
        del plan["starts"][task["id"]]
        yield f"{task['id']} forgotten", plan


@pytest.mark.parametrize("form", DAYS, ids=[form["id"] for form in DAYS])
def test_the_optimal_plan_is_accepted(form: Form) -> None:
    """Sixty plans by CP-SAT keep every rule."""
    assert faults(form, form["plan"]) == []


def test_every_spoilt_plan_is_refused() -> None:
    """Thousands of plans with one thing wrong in each, of ten days."""
    tried = 0
    for form in DAYS[::6]:
        for wrong, plan in spoilt(form):
            tried += 1
            assert faults(form, plan), f"{form['id']}: {wrong}"
    assert tried > 1000
