"""What the dyer should hear of the dips: that a lot comes out pale or takes far too many, and what would spare it.

Each cure is worked out whole: the dips and hours are those of the same vat with it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from attrs import evolve

from vatside.catalogue.dyeing import ending, ladder, usual_for
from vatside.dips.depth import WHAT_HELPS, WHAT_IS_LEFT, depth_name, is_pale
from vatside.dips.lot import DipLot, span
from vatside.dips.run import End, Run
from vatside.dips.uptake import MOST_DIPS, SoFar, Tank
from vatside.plan.figure_text import plain, two_digits
from vatside.plan.measures import powder
from vatside.plan.plan import Dosing
from vatside.plan.sheet import Remedy, Weight
from vatside.recipe.baths import Dose, as_measured, named_amount
from vatside.recipe.kept import others_g
from vatside.recipe.need import Need, need_of, tub_for
from vatside.recipe.sizing import HELD, STEPS, Size, enough_for, following, size_of, small_enough, there_g
from vatside.recipe.stages.dip_lot import Dipped
from vatside.recipe.worksheet import Worksheet
from vatside.units import Amount, show_count

UNLIKE = 1 / 3
"""Pieces that come out unlike: each entry takes more than this share of the dye. Ours."""
A_LARGER = 1.2
"""A tub larger by less than this is not worth speaking of: ours."""
LONG = 2.0
"""Dips that take so many times as long as there is room for want more than a note: ours."""


def say_cures(sheet: Worksheet, lots: Sequence[Dipped], tank: Tank | None = None) -> None:
    """Say what the dips of a plan cost, and what would spare it; of a vat that stands in its tank, what helps now."""
    if not any(lot.item.depth > 0 and lot.item.grams > 0 for lot in lots):
        return
    weak = [lot for lot in lots if is_weak(lot)]
    if weak:
        _weak(sheet, max(weak, key=lambda lot: lot.dips - lot.item.usual.accepted_dips), tank)
    _pale_by_hand(sheet, lots)
    need, size = need_of(sheet.plan), size_of(sheet.plan)
    if two_digits(sheet["dip.minutes"]) > 60 * need.hours:
        _long(sheet, need, size)
    if size.run.widest > UNLIKE and size.run.groups > 1:
        text = "Each entry takes a third of the dye or more: pieces of one round come out unlike in so small a vat."
        sheet.say(Weight.NOTE, text, "vat.entry")
    if size.dosing is Dosing.WORKING:
        _what_else(sheet)


def is_weak(lot: Dipped) -> bool:
    """Tell whether a lot takes more dips than are accepted, or never comes to its depth; not where dips are held."""
    held = any(end.piece.exactly is not None for end in lot.ends)
    many = lot.dips > lot.item.usual.accepted_dips or not all(end.deep for end in lot.ends)
    return many and not held and lot.item.depth > 0


def dips_in_words(ends: Sequence[End]) -> str:
    """Say how many dips pieces get, where the count stops at the most that anybody dips."""
    counts = [end.dips for end in ends] or [0]
    number = f"more than {MOST_DIPS}" if max(counts) >= MOST_DIPS else span(min(counts), max(counts))
    return f"{number} {'dip' if number == '1' else 'dips'}"


def up_to(item: DipLot) -> str:
    """Say how many dips its depth is planned with at most: what more is called too many by."""
    return f"{item.usual.accepted_dips} at most are usual for {depth_name(item.depth)}"


def _weak(sheet: Worksheet, lot: Dipped, tank: Tank | None) -> None:
    """Say that the vat is weak for a lot, and what it would take."""
    item = lot.item
    pale = is_pale(lot.depth, item.depth)
    dips = "stays pale however often it is dipped" if pale else dips_in_words(lot.ends)
    litres, strength = (tank.litres, tank.strength) if tank else (sheet["vat.fill"], sheet["vat.strength"])
    vat = f"{plain(litres, 'L')} at {plain(two_digits(strength), 'g/L')}"
    words = f"{item.lot.name}: {dips} in {vat}{'' if pale else f'; {up_to(item)}'}."
    if tank:
        sheet.say(Weight.CARE, f"{words} {WHAT_HELPS}", item.id("dips"))
        return
    remedies = tuple(_remedies(sheet, item))
    larger = tub_for(need_of(sheet.plan))
    if larger > A_LARGER * sheet["vat.tub"]:
        otherwise = f"It wants a tub of about {plain(two_digits(larger), 'L')}, or the lots in several vats."
    else:
        otherwise = "More indigo or a smaller vat alone does not mend that: want a paler blue, or fewer pieces."
    sheet.say(Weight.CARE, words, item.id("dips"), remedies, otherwise)


def _remedies(sheet: Worksheet, item: DipLot) -> Iterator[Remedy]:
    """What spares dips: more indigo in this vat, or the same indigo in a smaller one."""
    need, size = need_of(sheet.plan), size_of(sheet.plan)
    more = enough_for(need, size.fill, size.strength, usual=True)
    if more is not None:
        yield _more_indigo(sheet, need, size, more, item)
    held = tuple(pin.figure for pin in sheet.plan.pins if pin.figure in HELD)
    if held:
        free = size_of(following(sheet.plan, *held))
        if free.accepted:
            label = f"let litres and powder follow the fibre: {plain(free.fill, 'L')}, {_dips(free.run, item)}"
            yield Remedy(label, tuple((figure, None) for figure in held))
            return
    less = small_enough(need, size)
    if less is not None:
        litres = _down(less)
        made_ = need.dips(litres, size.indigotin / need.liquor(litres))
        yield Remedy(
            f"fill {plain(litres, 'L')}: {_dips(made_, item)}, same indigo", (("vat.fill", Amount(litres, "L")),)
        )


def _more_indigo(sheet: Worksheet, need: Need, size: Size, strength: float, item: DipLot) -> Remedy:
    pigment, there, more = powder(sheet.plan, "indigo"), there_g(sheet.plan), others_g(sheet.plan)
    wanted = max(strength * size.liquor - there, 0.0) / pigment.purity + more
    amount = as_measured(sheet.plan, pigment, _up(wanted), wanted)
    grams = pigment.grams(amount, sheet.plan.spoons)
    run = need.dips(size.fill, (max(grams - more, 0.0) * pigment.purity + there) / size.liquor)
    label = (
        f"{named_amount(sheet.plan, Dose(pigment, grams))}: {_dips(run, item)}, "
        f"{plain(run.tank.grams, 'g')} of indigotin stay in the vat"
    )
    return Remedy(label, (("stock.pigment", amount),))


def _dips(run: Run, item: DipLot) -> str:
    """Say how many dips the pieces of a lot get then: the number that its figure shows."""
    return dips_in_words([end for end in run.ends if end.piece.id.rpartition(".")[0] == item.lot.id])


def _up(grams: float) -> float:
    """Round up to what a kitchen scale shows."""
    step = 0.1 if grams < 10 else 1.0
    return round(step * -(-grams // step), 1)


def _down(litres: float) -> float:
    """Round down to a tenth of a litre."""
    return round(int(litres * 10 + 1e-9) / 10, 1)


def _pale_by_hand(sheet: Worksheet, lots: Sequence[Dipped]) -> None:
    """Say which lots come out pale by the dips that she holds."""
    for lot in lots:
        held = all(end.piece.exactly is not None for end in lot.ends)
        if held and is_pale(lot.depth, lot.item.depth):
            text = f"{lot.item.lot.name} will come out {instead_of(lot)} after {show_count(lot.dips, 'dip')}."
            remedy = Remedy("let the dips follow the depth", ((lot.item.id("dips"), None),))
            sheet.say(Weight.CARE, text, lot.item.id("reaches"), remedies=(remedy,))


def _long(sheet: Worksheet, need: Need, size: Size) -> None:
    """Say that the dips take longer than there is room for, what they wait for, and what would shorten them.

    Minutes have two digits, as the figure has.
    """
    minutes, room = two_digits(sheet["dip.minutes"]), 60 * need.hours
    waits = "the air: pieces hang longer than they are dipped" if size.run.waits_for_air else "the vat: pieces queue"
    ways = [] if sheet.trial else [way for way in (*_shorter(need, size, room), _two_days(size, room)) if way]
    *first, last = ways or [""]
    shorter = f"{', '.join(first)}, or {last}" if first else last
    took, has = plain(two_digits(minutes), "min"), plain(room, "min")
    text = f"The dips take {took}, {has} are a good day's; they wait for {waits}."
    weight = Weight.CARE if minutes > LONG * room else Weight.NOTE
    sheet.say(weight, f"{text} To shorten them: {shorter}." if shorter else text, "dip.minutes")


def _shorter(need: Need, size: Size, room: float) -> Iterator[str]:
    """What shortens the dips: a stronger vat, a larger one, fewer pieces; each with what it comes to."""
    pigment = powder(need.plan, "indigo")
    strong = _strength_in(need, size, room)
    if strong is not None:
        grams = _up(strong * size.liquor / pigment.purity)
        took = need.dips(size.fill, grams * pigment.purity / size.liquor).minutes
        yield f"{plain(grams, 'g')} of {pigment.material.short.lower()} ({plain(two_digits(took), 'min')})"
    if not size.run.waits_for_air:
        larger = size.fill * min(size.run.groups, 2)
        took = need.dips(larger, size.strength).minutes
        yield f"a vat of {plain(larger, 'L')} as strong, for more at once ({plain(two_digits(took), 'min')})"
    few = _fewer(need, size, room)
    if few:
        yield f"{few} of the {need.count} pieces today"


def _strength_in(need: Need, size: Size, room: float) -> float | None:
    """Give the least strength in which the dips are done in time; None if not even the strongest does it."""
    low, high = size.strength, need.strongest
    if low >= high or need.dips(size.fill, high).minutes > room:
        return None
    for _ in range(STEPS):
        middle = sqrt(low * high)
        low, high = (low, middle) if need.dips(size.fill, middle).minutes <= room else (middle, high)
    return high


def _fewer(need: Need, size: Size, room: float) -> int:
    """Give how many pieces of all lots, in the same vat, are done in time."""
    low, high = 0, need.count
    while high - low > 1:
        middle = (low + high) // 2
        in_time = _first(need, middle).dips(size.fill, size.strength).minutes <= room
        low, high = (middle, high) if in_time else (low, middle)
    return low


def _first(need: Need, pieces: int) -> Need:
    """Give the same for the first so many pieces of all lots."""
    lots = []
    for item in need.lots:
        take = min(pieces, item.lot.pieces)
        pieces -= take
        if take:
            grams = item.grams * take / item.lot.pieces
            lots.append(evolve(item, lot=evolve(item.lot, pieces=take), grams=grams))
    return evolve(need, lots=tuple(lots))


def _two_days(size: Size, room: float) -> str:
    """Say after which dip to stop, air and rinse, and go on another day."""
    stop = int(size.run.dips * room / size.run.minutes) if size.run.minutes else 0
    return f"stop after dip {stop}, air and rinse the pieces, and go on another day" if stop else ""


def _what_else(sheet: Worksheet) -> None:
    """Say what the rest of a working vat could still dye: the deepest blue it is strong enough for, and a paler one."""
    strength, litres = sheet["dip.left_strength"], sheet["vat.liquor"]
    if strength < ending().worth_keeping.value:
        return
    rinsed = max((item.law.rinsed for item in need_of(sheet.plan).lots), default=0.0)
    able = [rung.depth for rung in ladder() if strength >= usual_for(rung.depth).weakest][-2:]
    parts = (_kilograms(depth, strength, litres, rinsed) for depth in reversed(able))
    if able:
        rest = f"{plain(two_digits(sheet['dip.kept']), 'g')} of indigotin at {plain(two_digits(strength), 'g/L')}"
        sheet.say(Weight.NOTE, f"The rest, {rest}, could still dye about {' or '.join(parts)}.", "dip.kept")


def _kilograms(depth: float, strength: float, litres: float, rinsed: float) -> str:
    """Fibre that a vat dyes to a depth before it is half as strong as the weakest that is usual for it."""
    grams = (strength - usual_for(depth).weakest / 2) * litres * (1 - rinsed) * 100 / depth
    return f"{plain(two_digits(grams), 'g')} {depth_name(depth)}"


def instead_of(lot: Dipped) -> str:
    """Say what comes in place of what is wanted."""
    item: DipLot = lot.item
    come, wanted = plain(float(f"{lot.depth:.2g}"), "%"), plain(item.depth, "%")
    names = depth_name(lot.depth), depth_name(item.depth)
    return f"{names[0]} ({come}), not {names[1]} ({wanted})" if names[0] != names[1] else f"{come}, not {wanted}"


def work_out(sheet: Worksheet, lots: Sequence[Dipped], tank: Tank, so_far: SoFar) -> None:
    """Say what is to be said of the dips: of the plan as a whole, or of each lot that is under way."""
    if not so_far.pieces:
        say_cures(sheet, lots, so_far.tank)
        return
    for lot in lots:
        if is_pale(lot.depth, lot.item.depth):
            _pale(sheet, lot, tank)
        elif lot.brings and lot.dips > lot.item.usual.accepted_dips:
            takes = f"{lot.item.lot.name} takes {dips_in_words(lot.ends)}"
            words = f"{takes}, {up_to(lot.item)}: the vat is weak for it. {WHAT_HELPS}"
            sheet.say(Weight.CARE, words, lot.item.id("dips"))


def _pale(sheet: Worksheet, lot: Dipped, tank: Tank) -> None:
    """Say that a lot will come out pale, or that it did."""
    item, instead = lot.item, instead_of(lot)
    if lot.done:
        sheet.say(Weight.NOTE, f"{item.lot.name} came out {instead} by the account of the vat.", item.id("reaches"))
        return
    left = f"{plain(two_digits(tank.strength), 'g/L')} is left. {WHAT_HELPS if lot.brings else WHAT_IS_LEFT}"
    sheet.say(Weight.CARE, f"{item.lot.name} will come out {instead}: {left}", item.id("reaches"))
