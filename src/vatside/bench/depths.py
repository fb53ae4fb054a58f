"""Depth for the screens: the ladder of a lot, the colours that its pieces came out with, and what is typed of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from attrs import frozen

from vatside.bench import commands
from vatside.bench.desk import Desk
from vatside.catalogue.dyeing import ladder
from vatside.chemistry.shade import Fit
from vatside.days.lots import learned_in
from vatside.dips.depth import Picked, Seen, Swatch, compare, depth_name, rests_on, seen_depth, swatch, swatches
from vatside.dips.lot import dips_number, dips_text
from vatside.forms.fields import LONGEST_TEXT
from vatside.log.colours import own_fits, swatches_of
from vatside.log.effects.pieces import lot_of, seen_of
from vatside.log.events.day import ColourNoted
from vatside.log.events.vat import SwatchRecorded, UptakeLearned
from vatside.log.words.day import words
from vatside.outlook import dip_board
from vatside.plan.measures import fibre_of, share
from vatside.plan.plan import Learned, Lot, Plan
from vatside.units import Amount, Kind, Problem, parse_amount
from vatside.units.show import capital

HOW = (
    "write L* a* b*, such as 35.2 -2.1 -20; or a step, such as medium or 0.8 %; or a step and a grade: medium 4 darker"
)
"""How a swatch is written down."""
WORDS = "words of your own go beside it after a comma, or alone after a semicolon"
"""Where they go."""
_NUMBER = r"[-+−]?[0-9]+(?:[.,][0-9]+)?"
_LAB = re.compile(
    rf"(?:L\*?\s*=?\s*)?({_NUMBER})[\s;/]+(?:a\*?\s*=?\s*)?({_NUMBER})[\s;/]+(?:b\*?\s*=?\s*)?({_NUMBER})"
)
_GRADED = re.compile(r"(.+?)\s+(?:grade\s+)?([1-5](?:[.,]5|-[1-5])?)\s+(darker|paler|lighter)", re.ASCII)


def record_colour(lot: str, piece: str, text: str) -> tuple[SwatchRecorded | ColourNoted, ...] | Problem:
    """Read the colour that a piece of a lot, or the lot itself, came out with; words beside it are kept for the lot.

    The swatch counts for depth and uptake; the words stand on the card. A comma divides the two, so that a number
    inside the words ("10 % too pale") is none; words alone follow a semicolon.
    """
    typed = " ".join(text.split())[:LONGEST_TEXT]
    first, semicolon, after = (part.strip() for part in typed.partition(";"))
    swatch_event, words = _apart(piece, first)
    notes = tuple(ColourNoted(lot, part) for part in [", ".join(filter(None, (words, after)))] if part)
    if isinstance(swatch_event, Problem):
        return notes if semicolon and not first and notes else Problem(f"{swatch_event.text}; {WORDS}")
    return (swatch_event, *notes)


def _apart(piece: str, typed: str) -> tuple[SwatchRecorded | Problem, str]:
    """Find the swatch that stands before the first or after the last commas, and the words on their other side."""
    parts = typed.split(", ")
    for many in range(len(parts), 0, -1):
        for shade, rest in ((parts[:many], parts[many:]), (parts[-many:], parts[:-many])):
            swatch_event = record_swatch(piece, ", ".join(shade))
            if isinstance(swatch_event, SwatchRecorded):
                return swatch_event, ", ".join(rest)
    return record_swatch(piece, typed), ""


def record_swatch(piece: str, text: str) -> SwatchRecorded | Problem:
    """Read a swatch of a piece (or lot): measured, picked from the ladder, or graded against a step of it."""
    typed = " ".join(text.split())
    event = _read(piece, typed)
    if event is None:
        return Problem(HOW)
    try:
        seen_of(event)
    except ValueError as error:
        return Problem(f"{error}; {HOW}")
    return event


def _read(piece: str, typed: str) -> SwatchRecorded | None:
    measured = _LAB.fullmatch(typed)
    if measured:
        return SwatchRecorded(piece, lab=tuple(_number(part) for part in measured.groups()))
    graded = _GRADED.fullmatch(typed)
    step = _step(graded[1] if graded else typed)
    if step is None:
        return None
    if graded is None:
        return SwatchRecorded(piece, step=step)
    return SwatchRecorded(piece, step=step, grade=_grade(graded[2]), darker=graded[3] == "darker")


def _number(text: str) -> float:
    return float(text.replace("−", "-").replace(",", "."))


def _grade(text: str) -> float:
    """Read 4, 4.5 or, as grey scales print it, 4-5."""
    low, dash, high = text.partition("-")
    return (float(low) + float(high)) / 2 if dash else _number(text)


def _step(text: str) -> Amount | None:
    """Read a step by its name or by its depth."""
    named = [rung for rung in ladder() if rung.name == text.casefold()]
    if named:
        return Amount(named[0].depth, "%")
    amount = parse_amount(text, Kind.PERCENT, unit="%")
    return None if isinstance(amount, Problem) else amount


def depth_path(lot: str) -> str:
    """Give the place of a lot's depth in the plan."""
    return f"lots.{lot}.depth"


def lot_at(plan: Plan, path: str) -> Lot | None:
    """Give the lot whose depth a path is; None for any other place."""
    return next((lot for lot in plan.lots if depth_path(lot.id) == path), None)


def lot_of_any(plan: Plan, ident: str) -> Lot | None:
    """Give the lot of a piece, or the lot itself."""
    whole = next((lot for lot in plan.lots if lot.id == ident), None)
    try:
        return whole or lot_of(plan, ident)[0]
    except KeyError:
        return None


def own_colour(desk: Desk, lot: Lot) -> Fit | None:
    """Give the colour yield by the dyer's own swatches on such fibre; None without any."""
    if not swatches_of(desk.state):
        return None
    fits = own_fits(desk.state)
    return fits.colour.get(fibre_of(lot).group)


def ladder_of(lot: Lot, fit: Fit | None, *, painted: bool, picked: float | None = None) -> Ladder:
    """Give the ladder of a lot with its depth marked; with another depth (%) picked, that one, and the wanted one."""
    fibre = fibre_of(lot)
    wanted = 100 * share(lot.depth)
    depth = wanted if picked is None else picked
    return Ladder(
        fibre=fibre.name.lower(),
        steps=swatches(fibre, fit),
        here=swatch(depth, fibre, fit) if depth > 0 else None,
        rests_on=rests_on(fit),
        painted=painted,
        wanted=0.0 if picked is None else wanted,
    )


# The depth of a lot


def depth_means(desk: Desk, lot: Lot, text: str) -> tuple[bool, str, float]:
    """Say what a typed depth would be: whether it can be, in words, and in %."""
    event = commands.change(desk.plan, depth_path(lot.id), text)
    if isinstance(event, Problem):
        return False, event.text, 0.0
    depth = 100 * share(getattr(event, "value", None) or lot.depth)
    return True, f"{depth_name(depth)}, {depth:.2g} % indigo on the weight of fibre", depth


def set_depth(desk: Desk, lot: Lot, text: str) -> str:
    """Set the depth of a lot."""
    path = depth_path(lot.id)
    event = commands.change(desk.plan, path, text)
    if isinstance(event, Problem):
        return event.text
    desk.log(event)
    desk.wrong.pop(path, None)
    return f"{lot.name}: {depth_means(desk, lot, text)[1]}; u takes it back."


# The colour that came out


def colour_owners(desk: Desk) -> tuple[tuple[str, str], ...]:
    """Give whose colour can be recorded, by id and name: each lot as a whole, then its pieces."""
    state = desk.state
    pieces = dip_board.pieces_of(state, desk.sheet)
    named: list[tuple[str, str]] = []
    for lot in state.plan.lots:
        named.append((lot.id, f"all of {lot.name}" if lot.pieces > 1 else lot.name))
        named += [(piece.id, piece.name) for piece in pieces if piece.lot == lot.id and lot.pieces > 1]
    return tuple(named)


def colour_means(desk: Desk, ident: str, text: str, fit: Fit | None) -> tuple[bool, str, float]:
    """Say what a typed colour would be: whether it can be read, in words, and its depth in %."""
    lot = lot_of_any(desk.state.plan, ident)
    if lot is None:
        return False, "It has left the plan.", 0.0
    events = record_colour(lot.id, ident, text)
    if isinstance(events, Problem):
        return False, f"{capital(events.text)}.", 0.0
    meanings = [_means(event, lot, fit) for event in events]
    return True, "; ".join(words for words, _ in meanings), max(depth for _, depth in meanings)


def _means(event: SwatchRecorded | ColourNoted, lot: Lot, fit: Fit | None) -> tuple[str, float]:
    if isinstance(event, ColourNoted):
        return f"“{event.words}” goes on its card", 0.0
    seen = seen_of(event)
    depth = seen_depth(seen, fibre_of(lot), fit).depth
    return f"{depth:.2g} %: {_verdict(seen, lot, fit)}", depth


def _verdict(seen: Seen, lot: Lot, fit: Fit | None) -> str:
    wanted = 100 * share(lot.depth)
    if wanted <= 0:
        return depth_name(seen.depth) if isinstance(seen, Picked) else "a blue"
    return compare(seen, wanted, fibre_of(lot), fit).words(wanted)


def recorded(desk: Desk, ident: str, fit: Fit | None) -> str:
    """Say what colour was recorded last; empty if none was."""
    seen, lot = swatches_of(desk.state).get(ident), lot_of_any(desk.state.plan, ident)
    if seen is None or lot is None:
        return ""
    return f"Recorded: {seen_depth(seen, fibre_of(lot), fit).depth:.2g} %, {_verdict(seen, lot, fit)}."


def record(desk: Desk, ident: str, text: str) -> str:
    """Write down the colour that a piece, or a lot, came out with."""
    lot = lot_of_any(desk.state.plan, ident)
    events = record_colour(lot.id if lot else "", ident, text)
    if isinstance(events, Problem):
        return events.text
    sentence = "; ".join(words(event, desk.state) for event in events)
    desk.log(*events)
    tells = lot is not None and fibre_of(lot).group in own_fits(desk.state).uptake
    return f"{sentence}; u takes it back.{' m on the board lets the dips go by it.' if tells else ''}"


def go_by_own(desk: Desk, folder: Path) -> str:
    """Let the dips go by what the dyer's own colours, of this day and of a folder, say that each fibre takes."""
    learned = learned_in(folder, desk.keeping.path, desk.state)
    groups = {fibre_of(lot).group for lot in desk.state.plan.lots}
    if not any(item.group in groups for item in learned):
        return "No result tells what the fibre takes yet: dip, then g records the colour of a piece, dry."
    if learned == desk.plan.learned:
        return "The dips go by your own results already; nothing is new."
    before = {lot.id: dips_number(desk.sheet, lot) for lot in desk.state.plan.lots}
    desk.log(UptakeLearned(learned))
    changes = (_own(desk, lot, item, before[lot.id]) for lot in desk.state.plan.lots for item in learned
            if fibre_of(lot).group == item.group)  # fmt: skip
    past = " What is on the pieces already stays as worked out before." if desk.state.dipping.pieces else ""
    return f"By your own results: {'; '.join(changes)}; u takes it back.{past}"


def _own(desk: Desk, lot: Lot, learned: Learned, before: str) -> str:
    """Say of a lot what it goes by now, and what that changes."""
    changes = dips_number(desk.sheet, lot) != before
    change = f", {dips_text(desk.sheet, lot)} instead of {before}" if changes else ""
    own = f"{learned.results} of your own results" if learned.results > 1 else "one result of your own"
    return (
        f"{lot.name} takes up {100 * learned.factor:.0f} % of the table ({own}, ±{100 * learned.spread:.0f} %){change}"
    )


@frozen
class Ladder:
    """What the ladder shows."""

    fibre: str
    steps: Sequence[Swatch]
    here: Swatch | None
    """The depth that is set, or picked."""
    rests_on: str
    """What the colours rest on."""
    painted: bool
    """The terminal has the colours."""
    wanted: float = 0.0
    """Another depth to mark, %: the one that was wanted; 0 for none."""
