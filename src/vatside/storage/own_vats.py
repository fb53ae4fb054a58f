"""The folder of a dyer's own kinds of vat: good files are taken in, bad ones named with line and reason."""

from __future__ import annotations

from pathlib import Path

from attrs import evolve

from vatside.catalogue.audit import method_added, problems_of_own, take_in
from vatside.dayline.day_steps import steps
from vatside.plan.starter import starter_plan
from vatside.recipe.compute import compute
from vatside.storage.files import plain_text
from vatside.storage.flaws import reason


def take_folder_in(folder: Path) -> tuple[str, ...]:
    """Take every good file of a folder in as a kind of vat; give a sentence for each that is left out."""
    good: dict[str, str] = {}
    sentences: list[str] = []
    for path in _files(folder):
        try:
            text = plain_text(path)
        except (OSError, UnicodeDecodeError) as error:
            why = reason(error, reading=True) if isinstance(error, OSError) else "it is no text in UTF-8"
            sentences.append(f"vats/{path.name} is left out: {why}.")
            continue
        flaws = file_problems(path.stem, text)
        if flaws:
            sentences.append(f"vats/{path.name} is left out: {flaws[0].removesuffix('.')}.")
        else:
            good[path.stem] = text
    if good:
        take_in(good)
    return tuple(sentences)


def _files(folder: Path) -> tuple[Path, ...]:
    try:
        return tuple(sorted(folder.glob("*.toml"))) if folder.is_dir() else ()
    except OSError:  # a folder that cannot be looked into holds no vat
        return ()


def file_problems(name: str, text: str) -> tuple[str, ...]:
    """Say what is wrong with a file, down to a day worked out with it; the catalogue stays as it is."""
    flaws = problems_of_own(name, text)
    return flaws or _problems_of_a_day(name, text)


def _problems_of_a_day(name: str, text: str) -> tuple[str, ...]:
    """Work a newcomer's day out with it: amounts that are no vat show there."""
    with method_added(name, text):
        try:
            plan = evolve(starter_plan(f"{name} {hash(text)}"), method=name)
            steps(plan, compute(plan))
        except ArithmeticError:
            return ("no day can be worked out with it: an amount is nothing, or beyond all measure.",)
        except (LookupError, ValueError) as error:
            return (f"no day can be worked out with it: {error}",)
    return ()
