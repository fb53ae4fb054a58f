"""One table a screen gives its keys, its key line and its help; one letter means one thing in the whole app."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from textual.screen import Screen

import vatside.ui
from vatside.ui.base.keymap import (
    AMOUNTS,
    BACK,
    COMMANDS,
    LEAVE,
    SIGNS,
    UNDO,
    WORDS,
    Key,
    Shown,
    Table,
    help_rows,
    help_sections,
    key_row,
    label,
    parts,
)
from vatside.ui.base.screens import FullScreen, Window
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.base.side_screen import SideScreen
from vatside.ui.day.head import Course
from vatside.ui.day.screen import DayScreen
from vatside.ui.past.playback import Playback
from vatside.ui.widgets.entry import ADVICE, ASIDE
from vatside.ui.widgets.form import Form
from vatside.ui.widgets.lines import Lines

BASES = {FullScreen, SessionScreen, SideScreen, Window}
"""What screens are made of, and none by itself."""
MODULES = [importlib.import_module(one.name) for one in pkgutil.walk_packages(vatside.ui.__path__, "vatside.ui.")]
GUIDE = Path(__file__).parents[2] / "DEVELOPERS.md"


def screens() -> list[type[Any]]:
    """Every screen and window that a module of the app defines."""
    found = {one for module in MODULES for one in vars(module).values() if inspect.isclass(one)}
    ours = [one for one in found if issubclass(one, Screen) and one.__module__.startswith("vatside.")]
    return sorted(set(ours) - BASES, key=lambda one: one.__name__)


def of(screen: type[Any], name: str) -> bool:
    """Tell whether a table is a screen's."""
    return name.partition(",")[0] == screen.__name__


def tables() -> dict[str, Table]:
    """The table of every screen and window; a day at work and one that is played back have each their own."""
    found = {one.__name__: one.KEYS for one in screens() if one is not DayScreen}
    return found | {"DayScreen": Course.keys, "DayScreen, played back": Playback.keys}


TABLES = tables()
FULL = {name: TABLES[name] for name in TABLES for one in screens() if issubclass(one, FullScreen) and of(one, name)}


def explained(table: Table) -> list[Key]:
    """The keys of a table that do something; in a replay some only say that nothing is changed."""
    return [key for key in table if key.help]


def names(key: Key) -> list[str]:
    """Every name that Textual has for a key."""
    return key.keys.replace(",", " ").split()


def loose_keys() -> Iterator[Key]:
    """The keys that stand in a module and not on a screen, such as those of the windows that offer a choice."""
    for module in MODULES:
        yield from keys_in(module)


def keys_in(module: ModuleType) -> Iterator[Key]:
    """The keys that stand in a module, alone or in a table."""
    for value in vars(module).values():
        if isinstance(value, Key):
            yield value
        elif isinstance(value, tuple) and value and all(isinstance(one, Key) for one in value):
            yield from value


EVERY_KEY = [*(key for table in TABLES.values() for key in table), *loose_keys()]


@pytest.mark.parametrize("name", TABLES)
def test_every_screen_has_a_table(name: str) -> None:
    """A new screen without one is told here."""
    assert TABLES[name]


@pytest.mark.parametrize("name", TABLES)
def test_no_key_stands_twice(name: str) -> None:
    """What a key does is said in one line of the table."""
    counts = Counter(one for key in TABLES[name] for one in names(key))
    assert [key for key, count in counts.items() if count > 1] == []


@pytest.mark.parametrize("name", TABLES)
def test_every_key_has_words_for_line_and_help(name: str) -> None:
    """A key that does something says so at the bottom and in the help, in both with its name."""
    keys = explained(TABLES[name])
    assert [key for key in keys if not key.words or not label(key)] == []
    for key in set(TABLES[name]) - set(keys):
        assert {action for _, action in parts(key)} == {"course('unchanged')"}


@pytest.mark.parametrize("name", FULL)
def test_every_key_stands_in_the_help(name: str) -> None:
    """The help window has a line for each key of the table, and so it has no key that does nothing."""
    table = TABLES[name]
    listed = [key for _, lines in help_sections(table) for key, _ in lines]
    assert sorted(listed) == sorted(label(key) for key in explained(table))
    text = " ".join(" ".join(row.text for row in help_rows(help_sections(table), 80)).split())
    assert all(key.help in text for key in explained(table))


@pytest.mark.parametrize("name", FULL)
def test_the_help_begins_with_what_a_narrow_key_line_has_no_words_for(name: str) -> None:
    """How to leave, go back, undo and get help stands on its first page, however small the window is."""
    first = [key for key, _ in help_sections(TABLES[name])[0][1]]
    always = [label(key) for key in explained(TABLES[name]) if key.always]
    assert first == always or not always


@pytest.mark.parametrize("name", FULL)
def test_every_screen_can_be_left_and_explained(name: str) -> None:
    """Leaving the app works from each; all but the far view explain themselves."""
    bound = {one for key in TABLES[name] for one in names(key)}
    assert {one for key in LEAVE for one in names(key)} <= bound
    assert name == "FarScreen" or {"f1", "question_mark"} <= bound


@pytest.mark.parametrize("screen", screens(), ids=lambda one: one.__name__)
def test_every_action_exists(screen: type[Any]) -> None:
    """No key leads nowhere."""
    for name in (one for one in TABLES if of(screen, one)):
        actions = {action.partition("(")[0] for key in TABLES[name] for _, action in parts(key)}
        own = {action for action in actions if not action.startswith("app.")}
        assert {action for action in own if not hasattr(screen, f"action_{action}")} == set()
    course = [action for _, action in (part for key in Playback.keys for part in parts(key)) if "course(" in action]
    assert all(hasattr(Playback, action.split("'")[1]) for action in course)


@pytest.mark.parametrize("screen", screens(), ids=lambda one: one.__name__)
def test_no_screen_binds_a_key_beside_its_table(screen: type[Any]) -> None:
    """What the library binds for a screen is what stands in the table; a window can be left as well."""
    said = {one for name in TABLES if of(screen, name) for key in TABLES[name] for one in names(key)}
    library = set(Screen._merged_bindings.key_to_bindings)  # type: ignore[union-attr]
    leave = {one for key in LEAVE for one in names(key)}
    assert set(screen._merged_bindings.key_to_bindings) - library - leave <= said


def test_the_widgets_of_the_screens_take_arrows_and_the_like_alone() -> None:
    """A letter is never bound by a region or a form."""
    bound = {key for widget in (Lines, Form) for key in widget._merged_bindings.key_to_bindings}  # type: ignore[union-attr]
    assert {key for key in bound if len(key) == 1} == set()
    handed_on = {one for key in EVERY_KEY if not key.action and not key.means for one in names(key)}
    assert handed_on <= bound | {"enter", "left", "right"}, "enter and the turning of choices are the field's"


def test_one_letter_means_one_thing() -> None:
    """In every table of every screen and window, and of every window that offers a choice."""
    meanings: dict[str, set[str]] = {}
    for key in (one for one in EVERY_KEY if one.help):
        for letter in (one for one in names(key) if len(one) == 1 and one.isalpha()):
            meanings.setdefault(letter, set()).add(key.means)
    assert {letter: means for letter, means in meanings.items() if len(means) > 1 or "" in means} == {}
    assert len({next(iter(means)) for means in meanings.values()}) == len(meanings), "one meaning has one letter"
    assert listed_letters() == {letter: next(iter(means)) for letter, means in meanings.items()}


def listed_letters() -> dict[str, str]:
    """The letters as the guide for developers lists them."""
    return dict(re.findall(r"^\| `([a-z])` \| ([^|]+?) \|", GUIDE.read_text("utf-8"), re.MULTILINE))


@pytest.mark.parametrize("sign", [*SIGNS, "a"])
def test_a_letter_in_a_text_is_no_command(sign: str) -> None:
    """Where words are typed a key is named by what is no letter, or not at all."""
    assert label(Key(sign, "do", "do", "does"), typed=WORDS) == ""
    assert label(Key(f"{sign},f1", "do", "do", "does"), typed=WORDS) == "F1"
    assert label(Key(sign, "do", "do", "does"), typed=AMOUNTS) == label(Key(sign, "do", "do", "does"), typed=COMMANDS)


def test_keys_that_fit_have_their_words_however_narrow_the_window() -> None:
    """Those of the window of notices fit on 50 columns; on 20, how to undo is the key alone."""
    keys = tuple(Shown(label(key), str(key.words), "", key.always) for key in (UNDO, BACK))
    assert key_row(keys, 50).text.strip() == "u undo   Esc back"
    assert key_row(keys, 12).text.split()[0] == "u"


def test_the_keys_that_a_field_gives_away_are_those_of_the_tables() -> None:
    """Of all letters and signs, a field takes these for no part of an amount; one key goes before every field."""
    typed = [key for table in TABLES.values() for key in table if key.typed]
    called = {one.partition(",")[0] for key in typed for one in key.keys.split()}
    signs = {one for one in called if len(one) == 1 or one in SIGNS}
    first = {key.keys for key in typed if key.priority}
    assert {SIGNS.get(one, one) for one in signs - first} == {*ASIDE, ADVICE, "space", "+", "-"}
    assert first == {"q"}
