"""The keys of the day's screen, the most needed first, and of the windows that belong to it."""

from __future__ import annotations

from typing import Any

from vatside.plan.sheet import Stage
from vatside.ui.base import keymap as common
from vatside.ui.base.keymap import ANYWHERE, FIRST, IN_TURN, NO, Key, Sections, Table, only, typing
from vatside.ui.text.form_rows import LOT

STEPS, HANDS, FORM, FIGURES, DIPS = "At the steps", "Two hands", "The form", "Figures", "Vat and dips"


def _at_steps(screen: Any) -> bool:
    return bool(screen.hand == "doing")


def _plans(screen: Any) -> bool:
    return screen.stage is Stage.PLAN


def _on(*stages: Stage) -> Any:
    return only(lambda screen: screen.stage in stages)


def _is_depth(screen: Any) -> bool:
    field = screen.field_in_hand
    return bool(typing(screen) and field is not None and field.path.endswith(".depth"))


def _is_method(screen: Any) -> bool:
    field = screen.field_in_hand
    return bool(typing(screen) and field is not None and field.path == "method")


def _behind(screen: Any) -> str:
    return "depths" if _is_depth(screen) else "its page" if _is_method(screen) else "working"


def _working(screen: Any) -> int:
    field = screen.field_in_hand
    if typing(screen):
        has_more = field is not None and (field.pin or _is_depth(screen) or _is_method(screen))
        return IN_TURN if has_more else NO
    return FIRST if screen.hand == "reading" else IN_TURN


def _at_lot(screen: Any) -> bool:
    field = screen.field_in_hand
    return bool(typing(screen) and field is not None and field.path == LOT and _plans(screen))


def _more(screen: Any) -> int:
    counts = _at_lot(screen) if typing(screen) else screen.wait_in_hand is not None
    return IN_TURN if counts else NO


def _turns(screen: Any) -> int:
    field = screen.field_in_hand
    return IN_TURN if not typing(screen) or (field is not None and field.choices) else NO


DAY_KEYS: Table = (
    common.QUIET,
    Key(
        "space", "do", lambda screen: "go there" if _plans(screen) else "do, start",
        "do the step; start its wait; finish a wait that is over", STEPS,
        when=only(_at_steps, FIRST),
    ),
    Key(
        "y", "open_again", "open it again", "after space on a step that is done: open it again", STEPS, "yes",
        only(lambda screen: screen.may_open_again, FIRST),
    ),
    Key("a", "add_lot", "add a lot", "one more lot", FORM, "add", _on(Stage.PLAN)),
    Key(
        "plus minus", common.RUNNING[0].action, lambda screen: "add a lot, take it out" if _at_lot(screen) else "5 min",
        "five minutes more, or less, for the wait; on the lot's row of the form: one more lot, take this one out",
        common.RUNNING[0].group, when=_more, typed=True,
    ),
    common.PUT_RIGHT._replace(action="window('advice')", group=FIGURES),
    *common.RUNNING[1:], common.END,
    Key(
        "d", "dips", lambda screen: "depths" if _plans(screen) else "dip board",
        "the dip board: which piece goes in next; on the plan, the ladder of depths", DIPS, "dips",
        _on(Stage.PLAN, Stage.DIP),
    ),
    Key(
        "enter", "hand('setting')", lambda screen: "next" if typing(screen) else "set",
        "to the form: type amounts as you would write them, 1 1/2 tsp or 8,5 g; there the next field", HANDS,
        typed=True,
    ),
    Key("x", "remove_lot", "take it out", "take the lot out that the form shows", FORM, "take out", _on(Stage.PLAN)),
    Key("g", "colour", "its blue", "record the colour that came out, dry", DIPS, "blue", _on(Stage.FINISH)),
    Key(
        "r", "reading", "reading", "a reading of the stock or the vat, and what it means", DIPS, "read",
        _on(Stage.STOCK, Stage.VAT, Stage.DIP),
    ),
    Key(
        "v", "vat", "vat", "what is in the vat, how it went, and the way to its end", DIPS, "vat",
        _on(Stage.STOCK, Stage.VAT, Stage.DIP, Stage.FINISH),
    ),
    Key(
        "escape", "hand('doing')", lambda screen: "to the steps" if typing(screen) else "steps",
        "to the steps, where single keys count", HANDS, when=only(lambda screen: not _at_steps(screen)), typed=True,
    ),
    Key(
        "tab shift+tab", "next_hand(1) next_hand(-1)", lambda screen: "figures" if _at_steps(screen) else "form",
        "from the steps to the figures (↑ ↓ scroll them), to the form; in the form the next field", HANDS,
    ),
    Key(
        "z", "all_figures", "all figures", "every figure of the stage, or only what is weighed and drawn", FIGURES,
        "all", only(lambda screen: screen.hand == "reading"),
    ),
    Key(
        "left right", "turn(-1) turn(1)", lambda screen: "choose" if typing(screen) else "stage",
        "the stage before, the stage after; in the form turn a choice, or type its first letter", HANDS,
        when=_turns, typed=True,
    ),
    common.UNDO, common.REDO,
    Key("f", "window('far')", "far", "far view: the waits in large digits", common.RUNNING[0].group, "far"),
    Key(
        "equals_sign", "working", _behind,
        "how a figure came about, to be set by hand there; on a depth the ladder, on a kind of vat its page", FIGURES,
        when=_working, typed=True,
    ),
    common.OWN_WAIT, common.BREAK, common.NOTE,
    Key("l", "window('log')", "log", "the log", STEPS, "log"),
    Key(
        "o", "others", "beyond", "the shelf, keep the vat, class card, what made its blue, play it back", ANYWHERE,
        "beyond",
    ),
    Key("i", "window('notices')", "look out", "everything to look out for", FIGURES, "look out"),
    common.NUMBERS,
    Key("up down", "", "another row", "another step, another field", HANDS, typed=True),
    common.SAVE, common.LOOK,
    Key("b", "app.days", "days", "back to the list of days", ANYWHERE, "back", always=True),
    *common.LEAVE, common.HELP,
)  # fmt: skip

DAY_WORDS: Sections = (
    (
        "What figures say",
        (
            ("set", "fixed by you; empty its field to let it follow the plan"),
            ("±30 %", "how sure a spoon of it is"),
            ("least", "what the reaction alone uses up"),
        ),
    ),
)


FAR_KEYS: Table = (
    Key("q", "quiet", "any key quiets", "quiet every alarm", means="quiet", when=common.QUIET.when),
    *common.LEAVE,
    Key("f escape,enter,space", "leave", "back", "back to the day", means="far"),
)

WORKING_KEYS: Table = (
    Key("up down", "other(-1) other(1)", "other figures", "log what was set, and go to another figure", typed=True),
    Key("pageup pagedown", "scroll(-5) scroll(5)", "scroll", "more of a long working", typed=True),
    common.PUT_RIGHT,
    Key("enter", "", "set it", "log what was set, and close", when=only(typing), typed=True),
    Key("escape,equals_sign", "leave", "back", "log what was set, and close", typed=True),
)
