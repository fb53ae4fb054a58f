"""The places of a plan that `--set` takes: all of them, and those near a word that is none."""

from __future__ import annotations

from difflib import get_close_matches

from vatside.forms.field import Field, show
from vatside.forms.fields import fields, get_value
from vatside.plain.say import Refusal
from vatside.plan.plan import Plan
from vatside.plan.sheet import Stage

NEAR = 4
"""How many paths are named for one that is not there."""


def names(plan: Plan) -> dict[str, str]:
    """Give every path that can be set, with its label, in the order of the forms."""
    return {item.path: item.label for stage in Stage for item in fields(plan, stage, hidden=True)}


def near(plan: Plan, typed: str) -> tuple[str, ...]:
    """Give the paths that a wrong one may have meant: with its last word in path or label, or much like it."""
    known, word = names(plan), typed.rpartition(".")[2].casefold()
    within = [path for path, label in known.items() if word and word in f"{path} {label}".casefold()]
    same_stage = sorted(within, key=lambda path: path.partition(".")[0] != typed.partition(".")[0])
    alike = get_close_matches(typed.casefold(), known, n=NEAR, cutoff=0.5)
    return tuple(dict.fromkeys((*same_stage, *alike)))[:NEAR]


def unknown(plan: Plan, typed: str) -> Refusal:
    """Give the sentence for a path that the plan does not have."""
    found = near(plan, typed)
    instead = f"near it are {', '.join(found)}; --paths lists all" if found else "--paths lists those there are"
    return Refusal(f"--set {typed!r}: the plan has no such place; {instead}.")


def listed(plan: Plan) -> str:
    """Print every path with what it is called and what stands there, stage by stage."""
    lines: list[str] = []
    for stage in Stage:
        rows = fields(plan, stage, hidden=True)
        if rows:
            lines += [*([""] if lines else []), stage.value.capitalize()]
            lines += [_line(item, show(item, get_value(plan, item.path))) for item in rows]
    return "\n".join(lines)


def _line(row: Field, text: str) -> str:
    return f"  {row.path:<30} {row.label:<24} {text}".rstrip()
