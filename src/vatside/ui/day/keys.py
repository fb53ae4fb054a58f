"""The keys of the day's screen, region by region."""

from __future__ import annotations

from textual.binding import Binding, BindingType

from vatside.bench.wait_view import WaitView
from vatside.forms.fields import Field
from vatside.plan.sheet import Stage
from vatside.ui.text.form_rows import LOT, takes_words
from vatside.ui.text.key_line import Key

DAY_BINDINGS: list[BindingType] = [
    Binding("escape", "hand('doing')", show=False),
    Binding("enter", "hand('setting')", show=False),
    Binding("tab", "next_hand(1)", show=False),
    Binding("shift+tab", "next_hand(-1)", show=False),
    Binding("left", "turn(-1)", show=False),
    Binding("right", "turn(1)", show=False),
    Binding("f", "far", show=False),
    Binding("equals_sign", "working", show=False),
    Binding("l", "log", show=False),
    Binding("i", "notices", show=False),
    Binding("j", "advice", show=False),
    Binding("z", "all_figures", show=False),
    Binding("r", "reading", show=False),
    Binding("v", "vat", show=False),
    Binding("a", "add_lot", show=False),
    Binding("x", "remove_lot", show=False),
    Binding("o", "others", show=False),
    Binding("d", "dips", show=False),
    Binding("g", "colour", show=False),
    Binding("question_mark", "help", show=False),
]
"""What every key of the day's screen does, beside those of every screen of a session."""
PUT_RIGHT = Key("j", "put right", "advice")
"""Takes what a notice offers."""


def form_keys(field: Field | None, *, offers: bool = False) -> tuple[Key, ...]:
    """Give the keys that count in a field of the form."""
    keys = [Key("Enter", "next"), Key("Esc", "to the steps", "hand('doing')")]
    if field is None or takes_words(field):
        return (*keys, Key("F1", "help", "help"))
    if field.choices:
        keys.append(Key("← →", "choose"))
    if field.path == LOT and field.stage is Stage.PLAN:
        keys.append(Key("+ -", "add a lot, take it out"))
    if field.path.endswith(".depth"):
        keys.append(Key("=", "depths"))
    if field.pin:
        keys.append(Key("=", "working"))
    if offers:
        keys.append(PUT_RIGHT)
    return (*keys, Key("?", "help", "help"))


def day_keys(hand: str, stage: Stage, wait: WaitView | None, ringing: bool, *, offers: bool = False) -> tuple[Key, ...]:
    """Give the keys of the day's screen outside the form, the most needed first.

    `offers`: a notice that stands there can be put right.
    """
    keys: list[Key] = []
    if ringing:
        keys.append(Key("q", "quiet", "quiet"))
    if hand == "doing":
        keys.append(Key("space", "go there" if stage is Stage.PLAN else "do, start", "do"))
    else:
        keys.append(Key("=", "working", "working"))
    keys += [PUT_RIGHT] if offers else []
    if wait is not None:
        keys += [Key("+ -", "5 min", "extend(1)"), Key("p", "pause", "pause"), Key("e", "end", "end")]
    if stage is Stage.DIP:
        keys.append(Key("d", "dip board", "dips"))
    keys += [Key("Enter", "set", "hand('setting')")]
    if stage is Stage.PLAN:
        keys += [Key("a", "add a lot", "add_lot"), Key("d", "depths", "dips")]
    if stage is Stage.FINISH:
        keys += [Key("g", "the colour", "colour"), Key("v", "vat", "vat")]
    if stage in (Stage.STOCK, Stage.VAT, Stage.DIP):
        keys += [Key("r", "reading", "reading"), Key("v", "vat", "vat")]
    keys.append(Key("Tab", "figures", "hand('reading')") if hand == "doing" else Key("Esc", "steps", "hand('doing')"))
    if hand == "reading":
        keys.append(Key("z", "all figures", "all_figures"))
    keys += [Key("u", "undo", "undo"), Key("f", "far", "far")]
    keys += [Key("=", "working", "working")] if hand == "doing" else []
    keys += [Key("w", "wait", "own_wait"), Key("n", "note", "note"), Key("l", "log", "log")]
    keys.append(Key("o", "beyond", "others"))
    return (*keys, Key("?", "help", "help"))
