"""The keys of the shelf and of its forms."""

from __future__ import annotations

from vatside.plan.sheet import CARE
from vatside.ui.base.keymap import ANYWHERE, BACK, HELP, LEAVE, LOOK, QUIET, Key, Sections, Table, chooses, only

SHELF, DAY, WRITE = "On the shelf", "For a day", "Write down"

SHELF_KEYS: Table = (
    QUIET,
    Key(
        "enter", "edit", lambda screen: "prices" if screen.at_needs else "write down",
        "write down what is known of a bag: batch, purity, spoon, price, days; at the day's needs: currency, and the "
        "prices of energy, water and work", SHELF,
    ),
    Key("a", "add", "add", "something new on the shelf", SHELF, "add"),
    Key("r", "weigh", "weigh", "read the scale: what is left", SHELF, "read"),
    Key(
        "space", "take", "take into plan", "take it into the plan of the open day, with its purity and its spoon",
        SHELF,
    ),
    Key("m", "match", "match plan", "take every bag into the plan that it reckons otherwise with", SHELF, "match"),
    Key("j", "which", "from which bag", "say from which bag it was used, or put that right", SHELF, "put right"),
    Key(
        "equals_sign", "strips", "two strips",
        "how strong it is: two strips, one of the batch you know, for the bag in hand", SHELF,
    ),
    Key("x", "finish", "finished", "it is finished; once more brings it back", SHELF, "take out"),
    Key("plus minus", "days(1) days(-1)", "days to buy for", "buy for more days, or fewer", DAY),
    Key(
        "u", "take_back", "take back",
        "take back what was written down last, a wrong bag too; once more what was before that", SHELF, "undo",
    ),
    Key("tab,shift+tab", "other", "other side", "to what a day needs and costs, and back", DAY),
    BACK,
    Key("up down", "", "another bag", "another bag", SHELF),
    LOOK, *LEAVE, HELP,
)  # fmt: skip

WORDS: Sections = (
    ("Signs", ((CARE.sign, "there is too little of it"),)),
    (
        "A spoon of it",
        (
            ("1 tsp", "weigh ten level spoons once and write them down: spoons are then grams that can be trusted"),
            (
                "strength",
                "dip two strips alike, one from the old batch (=): 90 % is a tenth less colour than that",
            ),
        ),
    ),
    ("Used", (("", "what a day really put in is booked when its shelf is opened, and when the day is left"),)),
)

BAG_KEYS: Table = (
    Key("enter", "", "next", "the next row; after the last one, back", WRITE, typed=True),
    Key("up,shift+tab down,tab", "", "another row", "the row before, the row after; Tab as well", WRITE, typed=True),
    Key(
        "left right", "", "choose", "turn a choice, or type its first letter", WRITE,
        when=only(chooses), typed=True,
    ),
    Key(
        "equals_sign", "strips", "two strips", "how strong it is, worked out from two strips", WRITE,
        when=only(lambda screen: screen.can_strike), typed=True,
    ),
    Key("escape", "back", lambda screen: screen.draft.backwards, "back; what was typed counts", ANYWHERE, typed=True),
    *LEAVE, HELP,
)  # fmt: skip
