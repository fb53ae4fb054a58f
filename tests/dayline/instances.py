"""Days as files: `python -m tests.dayline.instances FILE.json` prints the length of each as laid, beside its optimum.

The form is that of `line_instances.json`, which explains every field in its `about`.
"""

import json
import sys
from pathlib import Path
from typing import Any

from tests.dayline.line_checker import faults, last_minute

from vatside.dayline.line.model import HANDS, Break, Day, Link, Nudge, Plan, Resource, Span, Task, Use
from vatside.dayline.line.planning import EVALUATIONS, plan

Instance = dict[str, Any]
#: Sixty days with the optimum that CP-SAT (OR-tools 9.15) proved, and a plan that reaches it.
SIXTY = Path(__file__).with_name("line_instances.json")


def read(file: Path) -> list[Instance]:
    """The days of a file."""
    return list(json.loads(file.read_text(encoding="utf-8"))["instances"])


def day_of(form: Instance) -> Day:
    """A day of a file as the planner takes it."""
    return Day(
        {name: _resource(resource) for name, resource in form["resources"].items()},
        tuple(_task(task) for task in form["tasks"]),
        tuple(Link(link["from"], link["to"], link["least"], link.get("most")) for link in form["links"]),
        tuple(_span(span) for span in form["spans"]),
        tuple(Break(pause["minutes"], pause["from"], pause["to"], pause["step"]) for pause in form["breaks"]),
        form["running"],
        form["horizon"],
    )


def _resource(form: dict[str, Any]) -> Resource:
    sizes = tuple(form.get("sizes", ()))
    return Resource(form.get("units", len(sizes)), tuple((a, b, n) for a, b, n in form.get("away", ())), sizes)


def _task(form: dict[str, Any]) -> Task:
    nudges = tuple(Nudge(nudge["at"], nudge["early"], nudge["late"]) for nudge in form.get("nudges", ()))
    uses = tuple(Use(*use) for use in form["uses"])
    return Task(form["id"], form["minutes"], uses, nudges, form.get("release", 0), None, form.get("counts", True))


def _span(form: dict[str, Any]) -> Span:
    to_end = form["until"] == "end"
    return Span(form["resource"], form["from"], form["to"], to_end, form.get("units", 1), form.get("size"))


def form_of_day(day: Day) -> Instance:
    """A day of the planner in the form of the files, for the checker."""
    return {
        "horizon": day.horizon,
        "resources": {name: _form_of_resource(resource) for name, resource in day.resources.items()},
        "tasks": [_form_of_task(task) for task in day.tasks],
        "links": [{"from": a.first, "to": a.last, "least": a.least, "most": a.most} for a in day.links],
        "spans": [_form_of_span(span) for span in day.spans],
        "breaks": [
            {"resource": HANDS, "minutes": p.minutes, "from": p.earliest, "to": p.latest, "step": p.step}
            for p in day.breaks
        ],
        "running": dict(day.running),
    }


def _form_of_resource(resource: Resource) -> dict[str, Any]:
    if resource.sizes:
        return {"sizes": list(resource.sizes)}
    return {"units": resource.units, "away": [list(each) for each in resource.away]}


def _form_of_task(task: Task) -> dict[str, Any]:
    return {
        "id": task.id,
        "minutes": task.minutes,
        "uses": [[use.resource, use.since, use.until, use.units] for use in task.uses],
        "nudges": [{"at": call.at, "early": call.early, "late": call.late, "minutes": 1} for call in task.nudges],
        "release": task.release,
        "counts": task.counts,
    }


def _form_of_span(span: Span) -> dict[str, Any]:
    until = "end" if span.to_end else "start"
    how = {"units": span.units} if span.size is None else {"size": span.size}
    return {"resource": span.resource, "from": span.first, "to": span.last, "until": until, **how}


def form_of(laid: Plan) -> dict[str, Any]:
    """A plan in the form of the files."""
    return {
        "starts": dict(laid.starts),
        "nudges": {name: list(minutes) for name, minutes in laid.nudges.items()},
        "breaks": list(laid.breaks),
        "units": {str(span): unit for span, unit in laid.units.items()},
    }


def plan_of(form: dict[str, Any], end: int) -> Plan:
    """A plan of a file as the planner takes it."""
    nudges = {name: tuple(minutes) for name, minutes in form["nudges"].items()}
    units = {int(span): unit for span, unit in form["units"].items()}
    return Plan(form["starts"], nudges, tuple(form["breaks"]), units, 0, 0, end)


def main(file: Path, evaluations: int = EVALUATIONS) -> int:
    """Print a line for each day and a last one for all; 1 if a rule is broken anywhere."""
    gaps, broken = [], 0
    for form in read(file):
        laid = form_of(plan(day_of(form), evaluations))
        wrong, end, best = faults(form, laid), last_minute(form, laid), form.get("optimum")
        broken += bool(wrong)
        gap = f"{100 * (end / best - 1):5.1f} %" if best else "      ?"
        gaps += [end / best - 1] if best else []
        print(f"{form['id']:<50} {end:5} min   optimum {best or '?':>5}   {gap}  {'; '.join(wrong[:2])}", flush=True)
    if gaps:
        within = sum(gap <= 0.05 for gap in gaps)
        mean, worst = 100 * sum(gaps) / len(gaps), 100 * max(gaps)
        print(f"mean {mean:.2f} %, {within} of {len(gaps)} within 5 %, worst {worst:.1f} %")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]) if len(sys.argv) > 1 else SIXTY, *map(int, sys.argv[2:])))
