"""Asks from which bag something came."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.app import App

from vatside.bench.shelf.shelf_desk import Powders, question_words
from vatside.shelf.booking import Question
from vatside.shelf.item_fields import show_weighed
from vatside.shelf.shelf import Owned
from vatside.ui.windows.choose import ChooseWindow, Other
from vatside.units import show_percent
from vatside.units.one_line import clean

ELSEWHERE = "0"
"""The key of what stands on no shelf."""


def ask_which(app: App[Any], powders: Powders, done: Callable[[str], None]) -> None:
    """Ask about what was used today, and note the answer; `done` is given what there is to say."""
    questions = powders.which()
    if not questions:
        done("Nothing that stands on the shelf was used today.")
    elif len(questions) == 1 or powders.questions:
        _ask_bag(app, powders, questions[0], done)
    else:
        _ask_use(app, powders, questions, done)


def _ask_use(app: App[Any], powders: Powders, questions: tuple[Question, ...], done: Callable[[str], None]) -> None:
    """Ask which booking is to be put right."""

    def answered(key: str | None) -> None:
        if key:
            _ask_bag(app, powders, questions[int(key) - 1], done)

    app.push_screen(ChooseWindow("Booked today: which is to be put right?", _bookings(powders, questions)), answered)


def _bookings(powders: Powders, questions: tuple[Question, ...]) -> tuple[Other, ...]:
    return tuple(
        (
            str(number),
            f"{show_weighed(asked.material, asked.grams)} of {clean(powders.shelf[asked.uses[0].item].name)}",
            "",
        )
        for number, asked in enumerate(questions, start=1)
    )


def _ask_bag(app: App[Any], powders: Powders, question: Question, done: Callable[[str], None]) -> None:
    bags = question.bags(powders.shelf)

    def answered(key: str | None) -> None:
        if key:
            done(powders.answer(question, "" if key == ELSEWHERE else bags[int(key) - 1].item.id))

    rows = [
        (
            str(number),
            clean(owned.name),
            f"{_left(owned)}, {show_percent(100 * owned.purity)}{_booked(owned, question)}",
        )
        for number, owned in enumerate(bags, start=1)
    ]
    rows.append((ELSEWHERE, "none of these", "it stood on no shelf"))
    app.push_screen(ChooseWindow(f"{question_words(question)}: from which bag?", tuple(rows)), answered)


def _left(owned: Owned) -> str:
    return "finished" if owned.finished else f"{show_weighed(owned.item.material, owned.left)} left"


def _booked(owned: Owned, question: Question) -> str:
    return "; booked from this one" if question.uses[0].item == owned.item.id else ""
