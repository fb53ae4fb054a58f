"""The end of a vat: which acid, worked out from what, how much of it now, and what is written down."""

from __future__ import annotations

from attrs import evolve, frozen

from vatside.chemistry.bath import Bath
from vatside.chemistry.errors import CannotReach, Dangerous, OutOfRange
from vatside.chemistry.substances import ALKALIS
from vatside.log.effects.vat import NEUTRALISE, grams
from vatside.log.events.vat import CorrectionMade, ReadingTaken, VatSpent
from vatside.log.fold import State
from vatside.log.state import counted, happened
from vatside.outlook.vat_deeds import as_weighed
from vatside.plan.measures import method_of, powder, species_of
from vatside.plan.plan import Plan
from vatside.recipe.baths import named_amount, put_in
from vatside.units import Amount, Kind, to_base
from vatside.vat.account import Account
from vatside.vat.interlocks import Block
from vatside.vat.reading import Reading
from vatside.vat.spent import (
    DRAIN_C,
    LEAST_G,
    Acid,
    AcidDose,
    PHRange,
    dose_by_account,
    in_acid,
    limes,
    next_day_pH,
    no_acid,
    not_yet,
    put_right,
    ready_for_acid,
    soda_by_account,
    spent_pH,
    takes_acid,
)
from vatside.vat.titration import SampleEnd, dose_by_sample, sample_end, sample_steps
from vatside.vat.trust import trust

SAMPLE_ML = 100.0
"""What is titrated: common practice, no source."""
FIRST_SHARE = 0.75
"""Of the dose, given at once; the rest follows little by little: common practice, no source."""
ACID_WAIT_MIN = 10.0
"""Minutes until the pH is read after acid: common practice, no source."""
LEAST_ML = 0.5
"""Less vinegar than this, worked out from the pH read, is not asked for: nobody measures it. Ours."""
BY_ACCOUNT, BY_SAMPLE = "what went in", "a sample"


@frozen
class Choices:
    """What the dyer chose for the end of her vat."""

    acid: Acid = Acid.VINEGAR
    by: str = BY_ACCOUNT
    took: float | None = None
    """What the sample took, mL of vinegar or g of citric acid."""
    portions: int = 0
    """How many portions of acid were in the vat when the sample was taken: it knows of those."""
    aim: PHRange = PHRange()  # noqa: RUF009  (frozen)


def dose_of(state: State, chosen: Choices, acid: Acid | None = None) -> AcidDose | str:
    """Give the acid still needed (of the kind chosen, or of another), or in words why it cannot be told yet."""
    account, plan = state.tending.account, state.plan
    if account is None:
        return "There is no vat here."
    barred = no_acid(plan)
    if barred is not None:
        return barred.why
    acid = acid or chosen.acid
    try:
        if chosen.by == BY_ACCOUNT:
            reading = fresh_reading(state)
            if reading is None:
                return _read_first(state, account, chosen.aim)
            right, given = put_right(account, reading, chosen.aim), bool(acid_given(state))
            dose = _by_account(right, reading, plan, acid, chosen.aim, acid_is_in=given)
            return _begun_low(dose, account, reading, plan, chosen.aim)
        if chosen.took is None:
            return "Say what the sample took, and the dose follows."
        if enough := _enough(state, account, chosen.aim):
            return enough
        end = where_a_sample_ends(state, chosen)
        whole = dose_by_sample(SAMPLE_ML, chosen.took, _sampled_litres(state, account, chosen), plan, acid, end)
        return _less(whole, given_g(state, acid, chosen.portions), plan)
    except (CannotReach, Dangerous, OutOfRange) as error:
        return str(error)


def _sampled_litres(state: State, account: Account, chosen: Choices) -> float:
    """Give the liquor that a sample stood for, L: over lime the clear; without the acid put in since, and its water."""
    whole, since = takes_acid(account).litres, 0.0
    for event in acid_given(state)[chosen.portions :]:
        what = powder(state.plan, event.material)
        grams_in = 0.0 if event.amount is None else grams(what, event.amount, state.plan)
        since += put_in(Bath(1.0), what, grams_in).water_kg - 1.0
        since += 0.0 if event.water is None else to_base(event.water, Kind.VOLUME)
    return max(whole - since, 0.0)


def _enough(state: State, account: Account, aim: PHRange) -> str:
    """Say that no more acid is needed where some is in, and the pH read lies in the range and stays there."""
    reading = fresh_reading(state)
    pH = reading.pH if reading is not None and acid_given(state) else None
    if reading is None or pH is None or not aim.low <= pH <= aim.high:
        return ""
    later = next_day_pH(put_right(account, reading, aim))
    return "" if later is not None and later > aim.high else _no_more(pH, aim)


def _no_more(pH: float, aim: PHRange) -> str:
    return f"pH {pH:.1f} lies within {aim.low:g} to {aim.high:g}: no more acid is needed."


def _begun_low(dose: AcidDose | str, account: Account, reading: Reading, plan: Plan, aim: PHRange) -> AcidDose | str:
    """Give how much acid goes in at first over lime: half a pH by a strip there is a factor of three in acid."""
    if isinstance(dose, str) or not dose.clear_l or dose.grams < LEAST_G or reading.pH is None:
        return dose
    letter = trust(takes_acid(account), reading.pH, reading.sample_in(account.celsius))
    least = dose_by_account(letter, plan, dose.acid, aim).grams
    return evolve(dose, begin_g=least) if LEAST_G <= least < FIRST_SHARE * dose.grams else dose


def where_a_sample_ends(state: State, chosen: Choices) -> SampleEnd:
    """Give the pH at which a titrated sample ends, by the account as it was read; the pH aimed at without a vat.

    Raises as `dose_by_account`.
    """
    account, reading = state.tending.account, fresh_reading(state)
    if account is None:
        return SampleEnd(chosen.aim.target)
    read = account if reading is None else put_right(account, reading, chosen.aim)
    return sample_end(read, chosen.acid, chosen.aim)


def how_to_sample(state: State, chosen: Choices) -> tuple[str, ...]:
    """Say how a sample is titrated, and where it ends; to the pH aimed at where that cannot be told."""
    try:
        end = where_a_sample_ends(state, chosen)
    except (CannotReach, OutOfRange):
        end = SampleEnd(chosen.aim.target)
    return sample_steps(end, chosen.aim.target, limed=limes(species_of(state.plan, "alkali")))


def fresh_reading(state: State) -> Reading | None:
    """Give the latest reading with a pH since the vat was seen to stay blue and since anything went in; None without.

    What was read before counts no more: spent reducer and acid both take alkali.
    """
    last = -1
    for entry in counted(state):
        if isinstance(entry.event, VatSpent | CorrectionMade):
            last = entry.seq
    if not state.tending.seen_spent:
        return None
    taken = [entry for entry in happened(state, ReadingTaken) if entry.seq > last]
    readings = [entry.event.reading for entry in taken if isinstance(entry.event, ReadingTaken)]
    return next((reading for reading in reversed(readings) if reading.pH is not None), None)


def _by_account(
    account: Account, reading: Reading, plan: Plan, acid: Acid, aim: PHRange, *, acid_is_in: bool
) -> AcidDose | str:
    """Give the acid for a spent account as it was read; of one that is too low, what brings it up."""
    dose, pH = dose_by_account(account, plan, acid, aim), reading.pH
    little = dose.grams < (LEAST_ML if dose.millilitres else LEAST_G)
    drifts = dose.next_day_pH is not None and not little
    needs_none = acid_is_in or little or not ALKALIS[account.alkali].is_carbonate  # of soda the pH alone does not tell
    if needs_none and pH is not None and aim.low <= pH <= aim.high and not drifts:
        return _no_more(pH, aim) if acid_is_in else _no_more(pH, aim).replace("more ", "")
    if little and pH is not None and pH > aim.high:
        return f"Next to nothing holds it at pH {pH:.1f}: no acid. Carbonic acid from the air is enough. {AIR_IT}"
    if dose.grams >= LEAST_G or pH is None or pH >= aim.low:
        return dose
    later = next_day_pH(account)
    if later is not None and later >= aim.low:
        return f"{_for_now(pH, later, aim)}: no more acid, and no soda. {AIR_IT}"
    soda = named_amount(plan, soda_by_account(account, plan, aim))
    return (
        f"pH {pH:.1f} is below {aim.low:g}: no acid. About {soda}, a pinch at a time, for it foams, brings it "
        f"to pH {aim.target:g}. Write it down as what went in (v, then a), and read the pH again."
    )


AIR_IT = "Stir it in the air now and then, and read the pH the next day."


def _for_now(pH: float, later: float, aim: PHRange) -> str:
    """Say to what a pH drifts that carbonic acid holds down."""
    where = f"is below {aim.low:g}" if pH < aim.low else f"lies within {aim.low:g} to {aim.high:g}"
    return f"pH {pH:.1f} {where} only while its carbonic acid goes off, then it drifts up to about {later:.1f}"


def _drifting(state: State, aim: PHRange) -> Block | None:
    """Hold a soda vat back whose pH carbonic acid still holds down: too low for now, or too high tomorrow."""
    account, reading = state.tending.account, fresh_reading(state)
    if account is None or reading is None or reading.pH is None or reading.pH > aim.high:
        return None
    later = next_day_pH(put_right(account, reading, aim))
    if later is None or later < aim.low or (later <= aim.high and reading.pH >= aim.low):
        return None
    instead = "A little more acid, as page 3 has it." if later > aim.high else AIR_IT
    return Block(f"{_for_now(reading.pH, later, aim)}.", instead, final=False)


def needs_no_acid(state: State, aim: PHRange) -> bool:
    """Tell whether no acid is expected to be needed once air has spent the reducer, by what went in."""
    account = state.tending.account
    try:
        return account is not None and spent_pH(account) <= aim.high
    except OutOfRange:
        return False


def _read_first(state: State, account: Account, aim: PHRange) -> str:
    """Ask for a pH before any amount, and name the one to expect."""
    read = [item.reading.pH for item in state.tending.readings if item.reading.pH is not None]
    old = f" The pH {read[-1]:.1f} was read before that and does not count." if read else ""
    if acid_given(state):
        return f"Acid went in: wait, read the pH of a cooled sample (r), and the rest follows.{old}"
    return (
        f"First read the pH of a cooled sample, once it stays blue (r); the amount follows from that.{old} "
        f"Expect pH {spent_pH(account):.1f} at 25 °C by what went in: reducer that air has spent is acid and eats "
        f"alkali. That is worked out, not read.{_expected(spent_pH(account), aim)}"
    )


def _expected(pH: float, aim: PHRange) -> str:
    """Say what follows if the pH to expect is the one that is read."""
    if pH > aim.high:
        return ""
    low = f" If it is below {aim.low:g}, a little soda ash brings it up; how much follows from the reading."
    return f" It should need no acid.{low if pH < aim.low else ''}"


def _less(dose: AcidDose, there_g: float, plan: Plan) -> AcidDose:
    """Take off what has gone in since the sample was taken."""
    left = max(dose.grams - there_g, 0.0)
    millilitres = left / powder(plan, dose.acid.value).material.bulk.value if dose.millilitres else 0.0
    return evolve(dose, grams=left, millilitres=millilitres)


def acid_given(state: State) -> tuple[CorrectionMade, ...]:
    """Give the acid that went into the spent vat, in order: as it was asked for, or of her own."""
    events = [made.event for made in state.tending.corrections if made.event.amount is not None]
    own = state.tending.seen_spent
    return tuple(event for event in events if event.remedy == NEUTRALISE or (own and _is_acid(state.plan, event)))


def _is_acid(plan: Plan, event: CorrectionMade) -> bool:
    return powder(plan, event.material).material.role == "acid"


def given_g(state: State, acid: Acid, portions: int = 0) -> float:
    """Give the grams of an acid that have gone in after so many portions."""
    what = powder(state.plan, acid.value)
    amounts = (event.amount for event in acid_given(state)[portions:] if event.material == what.id)
    return sum(grams(what, amount, state.plan) for amount in amounts if amount is not None)


def portion(state: State, chosen: Choices) -> CorrectionMade | str:
    """Give the acid to put in now: three quarters at first, then what is left; or why there is none."""
    dose = dose_of(state, chosen)
    if isinstance(dose, str):
        return dose
    if dose.grams < LEAST_G:
        return dose.text
    share = 1.0 if acid_given(state) else FIRST_SHARE
    what, now = powder(state.plan, chosen.acid.value), dose.begin_g or share * dose.grams
    return CorrectionMade(remedy=NEUTRALISE, material=what.id, amount=as_weighed(what, now))


def refusal(state: State) -> Block | None:
    """Refuse acid while the vat may be alive."""
    readings = state.tending.readings
    latest = readings[-1].reading if readings else None
    smelt = [item.reading.smell for item in readings if item.reading.smell is not None]
    if latest is not None and smelt:  # a smell counts until another is written down
        latest = evolve(latest, smell=smelt[-1])
    block = ready_for_acid(
        latest, in_acid(state.plan), seen_spent=state.tending.seen_spent,
        alkali=species_of(state.plan, "alkali"),
    )  # fmt: skip
    end = method_of(state.plan).end
    if block is None or end is None:
        return block
    return Block("It was not seen to stay blue, or it lives again.", end.pages[0].text)


def holds_back(state: State, chosen: Choices) -> Block | None:
    """Refuse to let go a vat that may be alive, or whose pH or warmth is not what the dyer's rules want."""
    block, account = refusal(state), state.tending.account
    if block is not None or account is None:
        return block
    if method_of(state.plan).end is not None:  # handed over, at any pH
        return None
    reading = fresh_reading(state)
    held = not_yet(reading.pH if reading else None, account.celsius, chosen.aim)
    return held if account.celsius > DRAIN_C else _drifting(state, chosen.aim) or held


def goes_l(state: State) -> float:
    """Give the liquor that is let go, L: over lime the clear alone, for what lies at the bottom stays to dry."""
    account = state.tending.account
    if account is None:
        return 0.0
    try:
        return account.litres if method_of(state.plan).end else takes_acid(account).litres
    except OutOfRange:
        return account.litres


def pHs_round_acid(state: State) -> tuple[float | None, float | None]:
    """Give the pH last read before the first acid, and the one read after the last."""
    tending = state.tending
    marks = [made.readings for made in tending.corrections if made.event.remedy == NEUTRALISE]
    first, last = (marks[0], marks[-1]) if marks else (len(tending.readings), len(tending.readings))
    read = [item.reading.pH for item in tending.readings]
    before = [pH for pH in read[:first] if pH is not None]
    after = [pH for pH in read[last:] if pH is not None]
    return (before[-1] if before else None), (after[-1] if after else None)


def total_given(state: State) -> tuple[str, Amount | None]:
    """Give the acid that went in, by its id, and how much of it; of two kinds, the one given last."""
    events = acid_given(state)
    if not events:
        return "", None
    what = powder(state.plan, events[-1].material)
    mine = [event.amount for event in events if event.material == events[-1].material and event.amount]
    return what.id, as_weighed(what, sum(grams(what, amount, state.plan) for amount in mine))
