"""The ways by keys to every screen there is, from a day at work, a finished one, a new one, and the list of days."""

from __future__ import annotations

from tests.random_hand.acts import ARROWS, ESC, KEYS, REST, Act, acts_of

KEY = {"Esc": ESC, "Enter": "\r", "Space": " ", "Home": f"{ESC}[H"} | dict(
    zip(("Up", "Down", "Right", "Left"), ARROWS, strict=True)
)
LIST, STOVE, FINISHED = "", "at-the-stove", "finished-day"
"""Where a trial starts: in the list of days, or on a sample."""
DAY = {
    "DayScreen": "Esc", "FarScreen": "Esc f", "VatScreen": "Esc v", "SpentScreen": "Esc v x", "LineScreen": "Esc o z",
    "ShelfScreen": "Esc o o", "BagScreen": "Esc o o a", "ColourWindow": "Esc g", "WorkingWindow": "Esc =",
    "NoticesWindow": "Esc i", "ReadingWindow": "Esc ?", "ChooseWindow": "Esc o", "AskWindow": "Esc n",
}  # fmt: skip
"""What any day has."""
OTHERS = {
    "log": "Esc l", "form": "Esc Enter", "own wait": "Esc w", "save elsewhere": "Esc s", "break": "Esc 0",
    "class card": "Esc o s", "day card": "Esc o g",
}  # fmt: skip
"""More of the same kinds of screen."""
PLAYED = "DayScreen, played back"
FROM_LIST = {
    "OpeningScreen": "Home", "CompareScreen": "Home Down Down m Down m", "RepeatScreen": "Home Down Down c",
    PLAYED: "Home Down Down p", "guide": "Home Down Down Down Down Down Down Enter", "shelf alone": "o",
}  # fmt: skip
WAYS: dict[str, dict[str, str]] = {
    LIST: FROM_LIST
    | {f"{name}, new": f"a {keys}" for name, keys in (DAY | OTHERS).items()}
    | {"LadderWindow": "a Esc d"},
    STOVE: DAY
    | OTHERS
    | {
        PLAYED: "Esc o p", "ReadingScreen": "Esc r", "MeaningScreen": "Esc v Enter", "DipScreen": "Esc d",
        "CautionWindow": "Esc Space Space Space", "InsistWindow": "Esc Right Right Space",
        "TubWindow": "Esc Space Space Space Enter Space Space",
        "TroubleWindow": "Esc o v Enter Esc b Home Down Down Enter",
    },
    FINISHED: DAY | OTHERS | {PLAYED: "Esc o p", "DipScreen": "Esc d"},
}  # fmt: skip
"""The keys to a screen, by where they start and by the name of its table of keys, or another where it has none."""
PLACES: tuple[tuple[str, str], ...] = tuple((start, keys) for start, ways in WAYS.items() for keys in ways.values())


def keys_of(way: str) -> tuple[str, ...]:
    """Give what the terminal sends for the keys of a way."""
    return tuple(KEY.get(name, name) for name in way.split())


def acts_of_way(way: str) -> tuple[Act, ...]:
    """Give the acts of a hand that goes a way."""
    return tuple(act for key in keys_of(way) for act in (Act(KEYS, key), Act(REST)))


def hand(seed: int, inputs: int) -> tuple[str, tuple[Act, ...]]:
    """Give where the hand of a seed starts, and what it does: first it goes the way to one of all screens."""
    start, way = PLACES[seed % len(PLACES)]
    return start, (*acts_of_way(way), *acts_of(seed, inputs))
