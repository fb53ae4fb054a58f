"""The letter that puts things right means nothing else anywhere."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator

from textual.binding import Binding
from textual.dom import DOMNode

import vatside.ui
from vatside.ui.widgets.entry import ADVICE

MEANS = {"advice", "unchanged"}
"""What the letter does; in a replay it says that nothing is changed."""


def bindings() -> Iterator[Binding]:
    """Give every key of every screen, window and widget of the app."""
    for module in pkgutil.walk_packages(vatside.ui.__path__, "vatside.ui."):
        importlib.import_module(module.name)
    classes: list[type] = [DOMNode]
    while classes:
        cls = classes.pop()
        classes += cls.__subclasses__()
        if cls.__module__.startswith("vatside."):
            yield from (item for item in cls.__dict__.get("BINDINGS", ()) if isinstance(item, Binding))


def test_the_letter_has_one_meaning() -> None:
    """No screen, window or widget gives it another one."""
    found = [item.action for item in bindings() if ADVICE in item.key.split(",")]
    assert set(found) == MEANS
