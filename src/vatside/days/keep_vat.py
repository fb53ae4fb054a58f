"""Keeping a vat, and carrying on from it another day: hours, days or weeks later."""

from __future__ import annotations

from attrs import evolve, frozen

from vatside.chemistry.ageing import Standing, Wear, round_surface_m2, wear
from vatside.chemistry.errors import OutOfRange
from vatside.chemistry.rates import Estimate
from vatside.chemistry.reducers import REDUCERS, hydroxide_of
from vatside.chemistry.substances import moles, substance
from vatside.days.done import added
from vatside.days.lots import tidy
from vatside.days.repeat import afresh
from vatside.log.events.day import WaitStarted
from vatside.log.events.vat import LotDipped, VatCarriedOn, VatKept, VatToppedUp
from vatside.log.fold import fold
from vatside.log.state import Session, State, Tending, happened, last_event
from vatside.log.vat_account import kept_vat, standing_at
from vatside.log.waits import Moment, seconds_between
from vatside.plan.measures import celsius, clean_grams, share
from vatside.plan.plan import Kept, Pin, Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.baths import stock_share
from vatside.recipe.compute import compute
from vatside.recipe.cooling import Cooling, TimedReading, usual
from vatside.recipe.kept import BROUGHT, in_jar
from vatside.recipe.sizing import size_of
from vatside.units import Amount, show_concentration, show_mass, show_volume
from vatside.units.show import span
from vatside.vat.account import Account, planned_account
from vatside.vat.account_changes import ALKALINE
from vatside.vat.kept_vat import KeptVat, sourest
from vatside.vat.trust import LYE_MASS

FEED_EVERY_MIN = 7 * 24 * 60.0
"""A kept vat is stirred and fed once a week: common practice, no source."""
READY_STEP = "vat.look"
"""Once it is done, the vat is taken to have been dyed in."""
FOLLOWED = 0.01
"""An account that has lost more than this share of its dye, dips or not, counts. Ours, no source."""


@frozen
class Carried:
    """The beginning of a session that carries on from a kept vat."""

    plan: Plan
    event: VatCarriedOn
    """Its first event."""


def _as_dyed_in(plan: Plan, sheet: Sheet) -> Account:
    """Give the account of a vat as the plan has it when it is dyed in."""
    return evolve(planned_account(plan, sheet), asleep=False)


def keep(session: Session, taken_g: float | None = None, now: Moment | None = None) -> VatKept:
    """Give the event that keeps the vat of a session, with what is in it now (None: at its last entry).

    By the account that the session kept of its vat, or else by the plan. `taken_g` is the indigotin that left on
    fibre and with the rinses (g); left open, it is what the account lost, or if nobody told it of the dips, what the
    plan's dips take. OutOfRange if the plan makes no vat, or it was let go.
    """
    state = fold(session) if now is None else standing_at(fold(session), now)
    if state.tending.let_go is not None:
        raise OutOfRange("The vat was let go: there is nothing to keep of it.")
    sheet = compute(state.plan)
    kept = kept_vat(state) or kept_vat(evolve(state, tending=Tending(_as_dyed_in(state.plan, sheet))))
    if kept is None:
        raise OutOfRange("There is no vat to keep.")
    before, there, on_fibre_g = carried_from(state), kept.indigotin_g, on_pieces(state)
    old = before.vat.indigotin_g if before else 0.0
    brought = there + on_fibre_g if on_fibre_g else max(old + _fresh(session, sheet, before), there)
    if taken_g is None:
        lost = brought - there
        taken_g = lost if _told_of_dips(state) or lost > FOLLOWED * brought else brought * _taken_share(state, sheet)
    taken = min(max(taken_g, 0.0), brought)
    return VatKept(
        evolve(
            kept,
            indigotin_g=brought - taken,
            brought_g=brought - old + (before.vat.brought_g if before else 0.0),
            taken_out_g=taken + (before.vat.taken_out_g if before else 0.0),
        )
    )


def _told_of_dips(state: State) -> bool:
    """Tell whether the log knows of any dip, by the piece or by the lot; however little that took, it counts."""
    return bool(on_pieces(state) or happened(state, LotDipped))


def on_pieces(state: State) -> float:
    """Give the indigotin (g) that left the vat with the pieces, by its account; 0 where nobody told it of the dips."""
    return sum(piece.on.stays + piece.on.goes for piece in state.dipping.pieces.values())


def _fresh(session: Session, sheet: Sheet, before: VatCarriedOn | None) -> float:
    """Indigotin that this day's stock brought in, by the plan, g; on a kept vat only once pigment was ground."""
    ground = before is None or any(item.use.figure == "stock.pigment" for item in added(session))
    of_jar = (
        in_jar(fold(session).plan).grams_in(sheet.value(BROUGHT, 0.0))
        if before is None or happened(fold(session), VatToppedUp)
        else 0.0
    )
    return (sheet.value("stock.indigotin") * stock_share(sheet.value) if ground else 0.0) + of_jar


def _taken_share(state: State, sheet: Sheet) -> float:
    """Share of the dye that the plan's dips take; none of it as long as the vat was not even ready."""
    dyed = any(step == READY_STEP or step.startswith(("dip.", "finish.")) for step in state.done)
    brought = sheet.value("vat.indigotin")
    if not dyed or brought <= 0:
        return 0.0
    on_fibre = sum(clean_grams(state.plan, lot) * share(lot.depth) for lot in state.plan.lots)
    left = sheet.value("dip.kept", brought - on_fibre)
    return min(max(1 - left / brought, 0.0), 1.0)


def carried_from(state: State) -> VatCarriedOn | None:
    """Give the event that says which vat a session carries on from; None if it makes its own."""
    return last_event(state, VatCarriedOn)


def kept_by(state: State) -> tuple[VatKept, Moment] | None:
    """Give the latest keeping of a session's vat, and when that was; None if it was not kept."""
    keepings = [(entry.event, entry.at) for entry in happened(state, VatKept) if isinstance(entry.event, VatKept)]
    return keepings[-1] if keepings else None


def carry_on(session: Session, now: Moment, title: str = "") -> Carried:
    """Give the plan of a new session on the vat of this one, and the event that points back to it.

    A kept vat is a working one, whatever its first day was dosed for. A session whose vat was never said to be kept
    counts as kept at its last entry. OutOfRange if there is no vat.
    """
    state = fold(session)
    event, at = kept_by(state) or (keep(session), state.last or now)
    plan = afresh(evolve(state.plan, pins=_its_tub(state.plan), dosing=None), title)
    gone_s = seconds_between(at, now)
    return Carried(
        evolve(plan, kept=in_plan(event.vat, plan, gone_s, _last_warm(state, at, now), own_rate(state))),
        VatCarriedOn(session.id, state.plan.title, at.utc, event.vat),
    )


def _its_tub(plan: Plan) -> tuple[Pin, ...]:
    """Pin the tub that the kept vat stands in, where the dyer has several."""
    return (Pin("vat.tub", Amount(size_of(plan).tub, "L")),) if plan.vessels.others else ()


def in_plan(vat: KeptVat, plan: Plan, gone_s: float, warm: TimedReading | None = None, per_minute: float = 0.0) -> Kept:
    """Give a kept vat as a plan has it after it stood for some seconds, covered.

    It cools from when it was last known to be warm (minutes from now, so below 0; None: cold as the room) at its own
    rate (1/min), or as tubs usually do where that is 0. Its reducer falls apart meanwhile, meets the air, takes its
    alkali along, and leaves its salts [Reactions]. Amounts are kept within what the form takes.
    """
    cooling = _cooling(vat, plan, warm, per_minute)
    worn = _worn(vat, celsius(plan.water.room), gone_s / 3600, cooling)
    vat = _turned_blue(_with_less(vat, worn.left.likely), worn.spare_mg)
    return Kept(
        volume=Amount(min(max(round(vat.litres, 2), LEAST_L), MOST_L), "L"),
        temperature=Amount(float(round(cooling.at(0.0))), "degC") if cooling else plan.water.room,
        indigotin=Amount(min(tidy(vat.indigotin_g), MOST_G), "g"),
        alkali=Amount(min(tidy(vat.alkali_g), MOST_G), "g"),
        reducer=Amount(min(tidy(vat.reducer_g), MOST_G), "g"),
        carbonate=_written(vat.carbonate_g),
        salts=_written(vat.salts_g),
        oxidised=_written(vat.oxidised_g or None),
    )


def _with_less(vat: KeptVat, reducer_g: float) -> KeptVat:
    """Give a vat with less reducer: without the alkali that it took on the way, with the salts that it left."""
    if vat.reducer not in REDUCERS or vat.reducer_g <= reducer_g:
        return evolve(vat, reducer_g=max(reducer_g, 0.0))
    gone = vat.reducer_g - reducer_g
    left = vat.alkali_g - hydroxide_of(vat.reducer, gone) * LYE_MASS
    salts = None if vat.salts_g is None else vat.salts_g + _salts_of(vat.reducer, gone)
    return evolve(vat, reducer_g=reducer_g, alkali_g=max(left, sourest(vat.carbonate_g)), salts_g=salts)


def _turned_blue(vat: KeptVat, spare_mg: float) -> KeptVat:
    """Give a vat of whose dye air that met no reducer (oxygen, mg) turned two moles for each of its own [Reactions].

    The dye gives its alkali back.
    """
    left = max(vat.indigotin_g - vat.oxidised_g, 0.0)
    blue = min(2 * moles("oxygen", spare_mg / 1000) * substance("indigotin").molar_mass, left)
    if not blue:
        return vat
    alkali = vat.alkali_g + moles("indigotin", blue) * LYE_MASS
    return evolve(vat, oxidised_g=vat.oxidised_g + blue, alkali_g=alkali)


def _salts_of(reducer: str, grams: float) -> float:
    """Give the sodium sulfate that so much reducer leaves, g [Reactions]."""
    sulfate = dict(REDUCERS[reducer].in_air).get("sulfate", 0.0)
    return sulfate * moles(reducer, grams) * substance("sodium sulfate").molar_mass


def _written(grams: float | None) -> Amount | None:
    return None if grams is None else Amount(min(tidy(grams), MOST_G), "g")


def _cooling(vat: KeptVat, plan: Plan, warm: TimedReading | None, per_minute: float) -> Cooling | None:
    cooling = usual(warm, vat.litres, celsius(plan.water.room)) if warm and vat.litres > 0 else None
    return evolve(cooling, per_minute=per_minute) if cooling and per_minute else cooling


def _worn(vat: KeptVat, room_C: float, hours: float, cooling: Cooling | None) -> Wear:
    """Give what is likely left of the reducer, and the air beyond it; a clock that was set back takes none."""
    there = Estimate(vat.reducer_g, vat.reducer_g, vat.reducer_g)
    if vat.reducer not in REDUCERS or vat.litres < LEAST_L or hours <= 0:
        return Wear(there, 0.0)
    begins = cooling.at(-60 * hours) if cooling else room_C
    rate = cooling.per_minute if cooling else 0.0
    tub = Standing(vat.litres, ALKALINE, begins, room_C, rate, round_surface_m2(vat.litres), lid=True)
    return wear(vat.reducer, there, hours, tub)


def own_rate(state: State) -> float:
    """Give the rate at which the vat of a session cools by its own readings, 1/min; 0 while none tell."""
    return state.tending.clocked.per_minute if state.tending.clocked else 0.0


def _last_warm(state: State, at: Moment, now: Moment) -> TimedReading | None:
    """Give how warm the vat was by its latest reading, or by its account when it was kept."""
    for item in reversed(state.tending.readings):
        if item.reading.celsius is not None:
            return TimedReading(-seconds_between(item.at, now) / 60, item.reading.celsius)
    account = state.tending.account
    return TimedReading(-seconds_between(at, now) / 60, account.celsius) if account else None


LEAST_L, MOST_L, MOST_G = 0.1, 1000.0, 1e6
"""What the form takes of a kept vat."""


def kept_lines(event: VatCarriedOn, now: Moment) -> tuple[str, ...]:
    """Say what a session carries on from."""
    vat, ago = event.vat, (now.utc - event.kept).total_seconds()
    since = f", kept {span(ago)} ago" if ago >= 0 else ""
    gone = "" if ago < 3600 else ", less by now: time and air take it"
    return (
        f"Carries on from “{event.title}”{since}",
        f"It held {show_volume(vat.litres)} with {show_mass(vat.indigotin_g)} of indigotin "
        f"({show_concentration(vat.strength)})",
        f"Alkali left, as lye: {show_mass(vat.alkali_g)}; reducer left: {show_mass(vat.reducer_g)}{gone}",
        f"So far {show_mass(vat.brought_g)} of indigotin went in and {show_mass(vat.taken_out_g)} came out on fibre",
        "Skim it, warm it, read pH and colour before anything goes in",
    )


FEEDING = "Stir and feed the kept vat"
"""The wait of a vat that is kept."""


def feeding_wait(seq: int) -> WaitStarted:
    """Start the week until a kept vat wants to be stirred and fed; `seq` is that of the event to come."""
    return WaitStarted(wait=f"w{seq}", step=None, label=FEEDING, minutes=FEED_EVERY_MIN)
