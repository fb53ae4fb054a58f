"""Questions about the live vat of a session: what its latest reading means, and whether the last deed helped."""

from __future__ import annotations

from functools import lru_cache

from attrs import evolve

from vatside.catalogue.findings import CONFIRM, rows
from vatside.chemistry.substances import ALKALIS
from vatside.dips.rotation import Place
from vatside.log.events.vat import CorrectionMade, DyeSeen
from vatside.log.state import MadeCorrection, State, changes_pH
from vatside.log.vat_account import standing_at
from vatside.log.waits import Moment, seconds_between
from vatside.plan.measures import species_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.cooling import KETTLE_C, Cooling, TimedReading, room_C, usual
from vatside.recipe.vat_needs import Setting, pH_at, setting
from vatside.units import Amount
from vatside.vat.account import Account, predict, reducer_g
from vatside.vat.diagnosis import Finding, judge
from vatside.vat.helped import Helped, helped
from vatside.vat.interlocks import Correction
from vatside.vat.reading import PH_ERROR, Reading
from vatside.vat.trust import trust


def latest_reading(state: State) -> Reading:
    """Give the latest reading; an empty one if none was taken."""
    return state.tending.readings[-1].reading if state.tending.readings else Reading()


def setting_of(state: State, sheet: Sheet) -> Setting:
    """Give what the vat is supposed to be like, and how many corrections in a row brought nothing."""
    plain = _as_made(setting(_to_dip(state), sheet), state.plan, sheet)
    plain = evolve(plain, slope=_slope(state, plain))
    return evolve(plain, tried=_tried(state, plain), holds=_holds(state, plain), lime=_lime(state),
                  awake=state.tending.account is not None and not state.tending.account.asleep)  # fmt: skip


def _slope(state: State, plain: Setting) -> float:
    """Give the pH that the vat loses for each degree as it is by now: carbonate in lye loses less, lye in soda more."""
    account, reading = state.tending.account, latest_reading(state)
    if account is None or plain.unlimed is not None:
        return plain.slope
    try:
        return _slope_of(account, reading.pH, reading.sample_in(account.celsius))
    except ValueError:
        return plain.slope


WARM_C = 45.0
"""From 25 degrees C to here the slope is taken: most vats are about as warm. Ours."""


@lru_cache(maxsize=4)
def _slope_of(account: Account, pH: float | None, t_C: float) -> float:
    found = predict(account if pH is None else trust(account, pH, t_C), WARM_C)
    return max((found.pH_25 - found.pH) / (WARM_C - 25), 0.0)


def _as_made(plain: Setting, plan: Plan, sheet: Sheet) -> Setting:
    """Give it with the lowest pH that suits one of the lots, unless the vat is to be raised for those that come last.

    What dissolves the dye for one fibre does so for the next.
    """
    if sheet.value("dip.raise_pH", 0.0):
        return plain
    low = min(plain.window.low, setting(plan, sheet).window.low)
    return evolve(plain, window=evolve(plain.window, low=low))


def _holds(state: State, plain: Setting) -> float | None:
    """Give how much of its dye the vat still holds by its account, whole %; None without a vat."""
    account = state.tending.account
    return round(100 * account.strength / plain.strength) if account is not None and plain.strength > 0 else None


def _lime(state: State) -> float | None:
    """Give the lime at the bottom by the account, g/L; None without a vat, or in one that is not over lime."""
    account = state.tending.account
    if account is None or not ALKALIS[account.alkali].saturates:
        return None
    try:
        return round(predict(account).undissolved_lime_g / account.litres, 1)
    except ValueError:
        return None


def _to_dip(state: State) -> Plan:
    """Give the plan without the lots whose pieces have all had their last dip; once all have, with the lot dipped last.

    What the vat was brought to for the last fibre is what it should be like until it is put away.
    """
    done = {piece for piece, where in state.dipping.pieces.items() if where.place is Place.DONE}
    lots = tuple(lot for lot in state.plan.lots if any(f"{lot.id}.{n}" not in done for n in range(1, lot.pieces + 1)))
    last = {item.piece.rpartition(".")[0] for item in state.dipping.entered[-1:]}
    lots = lots or tuple(lot for lot in state.plan.lots if lot.id in last)
    return evolve(state.plan, lots=lots) if done and lots else state.plan


def confirmed(state: State, plain: Setting) -> bool:
    """Tell whether the latest pH was read twice with nothing put in between, and both agree.

    They need not where what reads it again was done between them: lime stirred up from the bottom may raise it.
    """
    tending = state.tending
    numbers = [number for number, item in enumerate(tending.readings, 1) if item.reading.pH is not None]
    if len(numbers) < 2:
        return False
    before, last = numbers[-2:]
    between = [made_.event for made_ in tending.corrections if before <= made_.readings < last]
    put_in = any(changes_pH(event) for event in between)
    done_for = [rows().get(event.finding) for event in between if event.remedy != CONFIRM]
    stirred = any(row is not None and row.axis == "pH" for row in done_for)
    first, second = (_pH_25(tending.readings[number - 1].reading, plain) for number in (before, last))
    allowed = max(PH_ERROR[tending.readings[number - 1].reading.pH_by] for number in (before, last))
    return not put_in and (stirred or abs(first - second) <= allowed)


def _pH_25(reading: Reading, plain: Setting) -> float:
    """Give the pH of a reading that has one, at 25 degrees C."""
    vat_C = plain.aim if reading.celsius is None else reading.celsius
    return pH_at(reading.pH or 0.0, reading.sample_in(vat_C), 25.0, plain)


def findings_of(state: State, sheet: Sheet) -> tuple[Finding, ...]:
    """Give what the latest reading means; of a vat that was seen to stay blue nothing is put right any more."""
    return () if state.tending.seen_spent else _judged(latest_reading(state), setting_of(state, sheet))


SURE = 0.9
"""A state is taken for what the vat is in from here on: almost surely, and nothing else out. A guess, no source."""
DIFFERS_G = 0.05
"""Less dye or reducer than this makes no other account. Ours."""
ALIVE, SPENT = "good", "air-in"
"""The states that leave no doubt how the dye stands."""


def is_good(state: State, sheet: Sheet, reading: Reading) -> bool:
    """Tell a reading by which the vat may surely be dyed in, and nothing is out of order."""
    findings = judge(reading, setting_of(state, sheet))
    return any(item.id == ALIVE and item.share >= SURE for item in findings) and not any(one.is_out for one in findings)


def dye_seen(state: State, sheet: Sheet, reading: Reading, now: Moment) -> tuple[DyeSeen, ...]:
    """Give that the account follows a reading which leaves no doubt how the dye stands; nothing where it does not.

    All reduced where the vat is good and nothing is out; all blue where air got in, for sure, into a vat as warm as it
    works.
    """
    account = standing_at(state, now).tending.account
    if account is None or state.tending.seen_spent:
        return ()
    if is_good(state, sheet, reading):
        return (DyeSeen(reduced=True),) if account.unreduced_g >= DIFFERS_G else ()
    findings = judge(reading, setting_of(state, sheet))
    sure, out = {item.id for item in findings if item.share >= SURE}, {item.axis for item in findings if item.is_out}
    if SPENT not in sure or out & {"temperature", "none"}:
        return ()
    left = reducer_g(account, species_of(state.plan, "reducer"))
    return (DyeSeen(reduced=False),) if left >= DIFFERS_G or account.bath.leuco else ()


@lru_cache(maxsize=4)
def _judged(reading: Reading, plain: Setting) -> tuple[Finding, ...]:
    """Remembered: head and board ask every second."""
    return judge(reading, plain)


def cooling_of(state: State) -> Cooling | None:
    """Give how fast the vat cools from where its account has it: at its own rate, or the usual one until that is known.

    None without a vat, or for one no warmer than its room. The minutes count from the first reading.
    """
    tending, room = state.tending, room_C(state.plan)
    account, known = tending.account, tending.clocked
    if account is None or known is None:
        return None
    begin = tending.readings[0].at if tending.readings else known.at
    now = TimedReading(seconds_between(begin, known.at) / 60, account.celsius)
    cooling = usual(now, account.litres, room)
    if cooling is None:
        return None
    cooling = evolve(cooling, colder=known.colder, warmer=known.warmer)
    if not known.per_minute:
        return cooling
    return evolve(cooling, per_minute=known.per_minute, error=known.error, usual_l=0.0)


def _helped(state: State, made_: MadeCorrection, plain: Setting) -> Helped | None:
    readings = state.tending.readings
    if not made_.readings:
        return None
    before = readings[made_.readings - 1].reading
    after = readings[made_.readings].reading if made_.readings < len(readings) else Reading()
    return helped(made_.event.finding, before, after, plain)


def _tried(state: State, plain: Setting) -> int:
    """Count the corrections, from the latest back, that brought nothing; one that helped ends the count."""
    count, seen = 0, -1
    for made_ in reversed(state.tending.corrections):
        if made_.readings == seen:
            continue  # went in together with the one after it
        seen = made_.readings
        effect = _helped(state, made_, plain) if made_.event.finding else None
        if effect is None:
            continue
        if not effect.counts_as_tried:
            break
        count += 1
    return count


def made_event(correction: Correction) -> CorrectionMade:
    """Give the event of a correction done as it was proposed, weighed on a kitchen scale.

    Change its amounts for what really went in.
    """
    liquor, dilutes = Amount(correction.litres, "L"), correction.does == "dilute"
    watered = dilutes or correction.does == "heat"
    return CorrectionMade(
        finding=correction.finding,
        remedy=correction.remedy,
        taken_out=liquor if watered and correction.exchanges else _some(correction.out_l),
        material=correction.material,
        amount=Amount(weighable(correction.grams), "g") if correction.grams else None,
        stock=liquor if correction.does == "stock" and correction.litres else None,
        water=liquor if watered and correction.litres else _some(correction.water_l),
        water_temperature=_water_at(correction),
        warmed_to=_warmed(correction),
    )


def _some(litres: float) -> Amount | None:
    return Amount(litres, "L") if litres else None


def weighable(grams: float) -> float:
    """Round grams to what a kitchen scale shows: 0.01 g below 1 g, 0.1 g below 100 g, else whole grams."""
    return round(grams, 2 if grams < 1 else 1 if grams < 100 else 0)


def _warmed(correction: Correction) -> Amount | None:
    """Give how warm a hot bath or the hob makes it: as a way of its own, or before something else."""
    in_a_bath = correction.does == "heat" and not correction.litres
    if correction.celsius is None or not (in_a_bath or correction.first):
        return None
    return Amount(correction.celsius, "degC")


def _water_at(correction: Correction) -> Amount | None:
    """Kettle water when it warms the vat; as warm as the vat when it thins it."""
    hot = correction.does == "heat" and correction.litres
    return Amount(KETTLE_C, "degC") if hot else None
