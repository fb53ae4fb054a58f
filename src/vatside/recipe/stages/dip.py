"""The dips of all lots: in which turn, how long it takes, and what becomes of vat, water, heat and indigotin."""

from __future__ import annotations

from vatside.catalogue.dyeing import pauses
from vatside.catalogue.values import GROUPS
from vatside.chemistry import ageing, substances
from vatside.dips.depth import depth_name
from vatside.dips.entry_rule import Rests, entries_had
from vatside.dips.lot import DipLot, dip_lots, light_first, pieces_of
from vatside.dips.run import Piece, Run, Warmth, run, scaled
from vatside.dips.uptake import NOTHING, SoFar, Tank
from vatside.plan.figure_text import plain, two_digits
from vatside.plan.measures import celsius, fibre_of, powder, window_of
from vatside.plan.sheet import Input, Stage, Weight
from vatside.recipe import cooling, cures
from vatside.recipe.need import bundled
from vatside.recipe.stages import dip_lot
from vatside.recipe.stages.dip_lot import Dipped, as_planned, began_with, dipped, each_piece
from vatside.recipe.worksheet import Worksheet


def work_out(sheet: Worksheet, so_far: SoFar = NOTHING) -> None:
    """Put every figure of the dips on the worksheet: from the plan, or on from what was done."""
    sheet.stage = Stage.DIP
    _pauses(sheet)
    tank = so_far.tank or Tank(sheet["vat.liquor"], sheet["vat.strength"])
    lots = dip_lots(sheet.plan, sheet["vat.strength"])
    pieces = bundled([piece for item in lots for piece in pieces_of(item, sheet["vat.entry"], so_far)])
    before, began, planned = pieces, tank, None
    if so_far.pieces:
        before, began = dip_lot.before(lots, sheet["vat.entry"]), began_with(sheet, lots, so_far)
        planned = _run(sheet, before, began, cooling.warmth(sheet))
        pieces = as_planned(pieces, _each(lots, planned), lambda some: _run(sheet, some, tank))
    runs = _runs(sheet, lots, pieces, tank, so_far)
    ends = [made.by_lot() for made in runs]
    dipped_lots = [dipped(item, ends, so_far) for item in lots]
    for lot in dipped_lots:
        sheet.group = lot.item.lot.name if len(lots) > 1 else ""
        dip_lot.work_out(sheet, lot, tank)
    sheet.group = ""
    entries = so_far.entries or entries_had((piece.had, piece.share) for piece in pieces)
    sheet.held_up = cooling.held_up(planned or runs[0])
    to_come = _run(sheet, (), tank) if so_far.pieces and so_far.ended else runs[0]  # no vat is left to dip in
    _in_all(sheet, to_come, entries, begun=bool(so_far.pieces))
    _gentle(sheet, runs[0])
    _water(sheet, dipped_lots)
    cooling.work_out(sheet, planned or runs[0], lambda warm: _run(sheet, before, began, warm), entries)
    _balance(sheet, dipped_lots, runs[0], so_far)
    _raise(sheet)
    cures.work_out(sheet, dipped_lots, tank, so_far)
    _say_order(sheet, lots)


def _each(lots: tuple[DipLot, ...], made: Run) -> dict[str, int]:
    """Give the dips of every piece, by its id."""
    return dict(pair for item in lots for pair in each_piece(item, made.ends))


def _runs(
    sheet: Worksheet, lots: tuple[DipLot, ...], pieces: tuple[Piece, ...], tank: Tank, so_far: SoFar
) -> tuple[Run, Run, Run]:
    """Dip the lots in thought: as worked out, and where all fibre takes as little or as much as one day in ten."""
    warm = None if so_far.pieces else cooling.warmth(sheet)
    made = _run(sheet, pieces, tank, warm)
    low, high = _range(lots)
    return made, _run(sheet, scaled(pieces, low), tank), _run(sheet, scaled(pieces, high), tank)


def _range(lots: tuple[DipLot, ...]) -> tuple[float, float]:
    """Give the factors on what the fibre takes: the widest of the lots."""
    return min((item.range()[0] for item in lots), default=1.0), max((item.range()[1] for item in lots), default=1.0)


def _run(sheet: Worksheet, pieces: tuple[Piece, ...], tank: Tank, warm: Warmth | None = None) -> Run:
    when = Rests(*(sheet[f"dip.{name}"] for name in ("rest_after", "rest", "entries", "short_rest")))
    return run(pieces, tank, handling=pauses().handling.value, when=when, warmth=warm)


def _pauses(sheet: Worksheet) -> None:
    rules = pauses()
    rows = (
        ("rest_after", "Long rest after work of", rules.work, "min"),
        ("rest", "Long rest", rules.rest, "min"),
        ("entries", "Short rest after entries", rules.entries, ""),
        ("short_rest", "Short rest", rules.short_rest, "min"),
    )
    for name, label, fact, unit in rows:
        sheet.fact(f"dip.{name}", label, fact, unit, "for any vat")


def _in_all(sheet: Worksheet, made: Run, over: int, *, begun: bool) -> None:
    """Entries and hours: of the whole day, or once so many entries are over; the hands' share of them apart."""
    rules = pauses()
    held_up = sum(held for before, held in sheet.held_up.items() if over <= before < over + made.entries)
    minutes = made.minutes + (held_up if begun else 0.0)  # how warm it is by then the run does not know
    sheet.put(
        "dip.all_entries", "Entries to come" if begun else "Entries in all", made.entries, "",
        sheet.worked("pieces of all lots that are dipped and aired alike go in together, as many as an entry takes",
                     "vat.entry"),
    )
    sheet.put(
        "dip.minutes", "Dipping still takes" if begun else "Dipping takes", minutes, "min",
        sheet.worked("entry by entry as on the board: dips, handling, airing that the vat waits for, rests",
                     Input("in the vat", made.busy, "min"), Input("rests", made.rests, "min"),
                     Input("waits for air", minutes - made.busy - made.rests - held_up, "min"),
                     *([Input("waits to be warm again", held_up, "min")] if held_up else []),
                     Input("handling of each entry", rules.handling.value, "min"), source=rules.handling.source),
        rough=True,
    )
    sheet.put(
        "dip.hands", "Hands on, of that", rules.hands.value * made.entries, "min",
        sheet.worked("entries × lower in, turn, lift out, press, open the folds; the rest is waiting",
                     "dip.all_entries", Input("an entry", rules.hands.value, "min"), source=rules.hands.source),
        rough=True,
    )


def _gentle(sheet: Worksheet, made: Run) -> None:
    """In a vat for both, when wool, hair and silk are out."""
    if len(made.phase_ends) > 1:
        sheet.put(
            "dip.gentle_minutes", "Wool, hair and silk are out after", made.phase_ends[0], "min",
            sheet.worked("end of the last entry before the plant fibres"), rough=True,
        )


def _water(sheet: Worksheet, lots: list[Dipped]) -> None:
    """Water and oxygen that wet pieces bring in at each entry."""
    room = celsius(sheet.plan.water.room)
    brought = [lot.brings for lot in lots]
    litres = sheet.put(
        "dip.brought", "Liquid the pieces bring back in", sum(brought), "L",
        sheet.worked("fibre × liquor it carries × dips, lot by lot; as much leaves again",
                     *(Input(lot.item.lot.name, brought_l, "L") for lot, brought_l in zip(lots, brought, strict=True))),
        rough=True,
    )
    _oxygen(sheet, litres * ageing.saturation(room) / 1000, ageing.saturation(room))


def _oxygen(sheet: Worksheet, grams: float, holds_mg_L: float) -> None:
    """The oxygen in what the pieces bring, and the reducer that takes it up."""
    reducer = powder(sheet.plan, "reducer")
    sheet.put(
        "dip.oxygen", "Oxygen in it", grams, "g",
        sheet.worked("liquid × saturation at room temperature", "dip.brought", Input("holds, mg/L", holds_mg_L, ""),
                     source="BensonKrause1984"),
        rough=True,
    )
    sheet.put(
        "dip.reducer", f"{reducer.material.short} lost to air",
        grams * substances.reducer_per_gram_oxygen(reducer.material.species) / reducer.purity, "g",
        sheet.worked("oxygen × reducer a gram of it ÷ purity; air at the surface comes on top", "dip.oxygen",
                     Input("purity", 100 * reducer.purity, "%"), source="stoichiometry"),
        rough=True,
    )


def _raise(sheet: Worksheet) -> None:
    """In a vat for both, the pH to go up to once protein and silk are out."""
    fibres = {fibre_of(lot).group: fibre_of(lot) for lot in sheet.plan.lots}
    plant = fibres.pop("cellulose", None)
    if plant is None or not fibres:
        return
    window = window_of(sheet.plan, plant)
    sheet.put(
        "dip.raise_pH", "Then raise the pH to", window.target, "",
        sheet.worked("what suits the plant fibre, at the temperature of the vat", source=window.source),
    )


def _say_order(sheet: Worksheet, lots: tuple[DipLot, ...]) -> None:
    """Say where light goes before dark, and what the dark still wants."""
    for group in GROUPS:
        of_group = [item for item in lots if item.fibre.group == group]
        if light_first((item.lot for item in of_group), sheet["vat.strength"]):
            first, last = of_group[0], of_group[-1]
            if two_digits(last.usual.weakest) <= two_digits(sheet["vat.strength"]):
                continue  # as strong as that, to the digits that are told
            sheet.say(
                Weight.NOTE,
                f"{first.lot.name} goes in before {last.lot.name}: the vat is right for {depth_name(first.depth)} and "
                f"weak for {depth_name(last.depth)}. Bring in stock before the dark, up to "
                f"{plain(last.usual.weakest, 'g/L')}.",
                last.id("dips"),
            )


def _balance(sheet: Worksheet, lots: list[Dipped], made: Run, so_far: SoFar) -> None:
    """Indigotin in = on the fibre + rinsed off + kept in the vat."""
    sheet.put(
        "dip.on_fibre", "Indigotin on the fibre", sum(lot.item.grams * lot.depth / 100 for lot in lots), "g",
        sheet.worked("fibre × what it comes to, lot by lot", *(lot.item.id("reaches") for lot in lots)),
        rough=True,
    )
    rinsed = [lot.rinsed_g + _rinsed_before(lot.item, so_far) for lot in lots]
    sheet.put(
        "dip.rinsed", "Goes with the rinses", sum(rinsed), "g",
        sheet.worked("laid on × share that the rinses take off",
                     *(Input(lot.item.lot.name, grams, "g") for lot, grams in zip(lots, rinsed, strict=True))),
        rough=True,
    )
    if so_far.tank is not None:
        sheet.put(
            "dip.now", "Strength now", so_far.tank.strength, "g/L",
            sheet.worked("reduced indigotin ÷ liquor, by the account of the vat",
                         Input("reduced", so_far.tank.grams, "g"), Input("liquor", so_far.tank.litres, "L")),
            rough=True,
        )
    before = Input("in the vat now", so_far.tank.grams, "g") if so_far.tank else "vat.indigotin"
    sheet.put(
        "dip.kept", "Indigotin left in the vat", made.tank.grams, "g",
        sheet.worked("indigotin in the vat − what the dips to come lay on and the rinses take off", before,
                     "dip.on_fibre", "dip.rinsed"),
        rough=True,
    )
    sheet.put(
        "dip.left_strength", "Strength then", made.tank.strength, "g/L",
        sheet.worked("left ÷ liquor", "dip.kept", Input("liquor", made.tank.litres, "L")),
        rough=True,
    )


def _rinsed_before(item: DipLot, so_far: SoFar) -> float:
    return sum(so_far.of(item.lot.id, number).rinsed_g for number in range(1, item.lot.pieces + 1))
