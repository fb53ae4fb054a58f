"""What the events of a live vat, and of a stock between two days, do to how things stand.

Importing this registers them with `carry_out`.
"""

from __future__ import annotations

from attrs import evolve

from vatside.catalogue.dyeing import ending
from vatside.catalogue.findings import rows
from vatside.catalogue.looks import Strip
from vatside.chemistry.bath import Bath, part
from vatside.forms.fields import check_pins, plan_problems
from vatside.log import waits
from vatside.log.effects.day import carry_out
from vatside.log.events import vat as events
from vatside.log.events.day import Event
from vatside.log.events.vat import VatCarriedOn
from vatside.log.state import MadeCorrection, State, TakenReading, Tending, changes_pH
from vatside.log.waits import Moment
from vatside.plan.measures import Powder, celsius, litres, method_of, powder, species_of
from vatside.plan.plan import Plan
from vatside.recipe.compute import compute
from vatside.units import Amount, Kind, fits, is_spoon, show_amount, show_count, to_base
from vatside.vat import account as vat
from vatside.vat.account import LEAST_PART, Account
from vatside.vat.account_changes import after_dip, seen_blue
from vatside.vat.reading import BLUE, PH_ERROR, REDUCED, Reading


@carry_out.register
def _(event: events.VatMade, state: State, _at: Moment) -> State:
    account = vat.planned_account(state.plan, compute(state.plan))
    if event.temperature is not None:
        account = vat.warmed(account, _celsius(event.temperature))
    if event.volume is not None:
        account = vat.at_volume(account, _litres(state.plan, event.volume))
    return evolve(state, tending=Tending(account, topped_up=state.plan.kept is not None))


@carry_out.register
def _(event: VatCarriedOn, state: State, _at: Moment) -> State:
    if state.plan.kept is not None:
        return evolve(state, tending=Tending(vat.kept_account(state.plan)))
    kept = event.vat
    try:
        account = vat.carried_on(
            kept.litres, celsius(state.plan.water.room), kept.indigotin_g, kept.alkali, kept.alkali_g
        )
        account = vat.with_pure(account, kept.reducer, kept.reducer_g)
    except ValueError:  # a vat of another version: its readings are kept, its account is not known
        return evolve(state, tending=Tending())
    return evolve(state, tending=Tending(account))


@carry_out.register
def _(event: events.ReadingTaken, state: State, at: Moment) -> State:
    from vatside.vat.trust import narrowed

    tending, reading = state.tending, event.reading
    account = tending.account
    if account is not None and reading.celsius is not None:
        account = vat.warmed(account, reading.celsius)
    if account is not None and reading.colour in REDUCED:
        account = evolve(account, asleep=False)
    if account is not None and reading.colour in BLUE and reading.strip in SPENT_STRIP:
        account = seen_blue(account, species_of(state.plan, "reducer"))
    account = narrowed(account, reading) if account is not None else None
    taken = (*tending.readings, TakenReading(at, reading))
    state = evolve(state, tending=evolve(tending, account=account, readings=taken))
    return with_steps_done(state, DOSED, at) if _is_neutral(tending, reading) else state


SPENT_STRIP = (Strip.BLUE, Strip.BLUE_GREY)
"""Looks of a vat whose reducer is spent [Mairet1938]."""
OXIDISED = ("finish.use_up", "finish.oxidise")
DOSED = ("finish.titrate", "finish.neutralise")
GONE = (*OXIDISED, "finish.settle", "finish.clear_off", "finish.decant", *DOSED, "finish.drain")
"""Steps of the finish that the end of the vat has done: who lets the liquor go has parted it from what settled."""
HANDED_OVER = "finish.sludge"
"""The step that is over with the rest where the sludge goes the way of the liquor; else it dries, and stays to do."""
NEUTRALISE = "neutralise"
"""The remedy under which acid into a spent vat is written down."""

RAISED = "raised"
"""The remedy under which the lye of the step between wool and cotton is written down; the shelf counts the step."""


def is_raising(event: Event) -> bool:
    """Tell whether an event is the lye of the step that raises the pH for plant fibres."""
    return isinstance(event, events.CorrectionMade) and event.remedy == RAISED


def with_steps_done(state: State, steps: tuple[str, ...], at: Moment) -> State:
    """Give the state with steps done by what happened to the vat, and the waits of theirs that run ended."""
    for wait in [wait for wait in state.waits if wait.step in steps]:
        past = state.past_waits.and_one(waits.ended(wait, at))
        state = evolve(state, waits=state.waits.without(wait.id), past_waits=past)
    return evolve(state, done={**dict.fromkeys(steps, at), **state.done})


def _is_neutral(tending: Tending, reading: Reading) -> bool:
    """Tell whether acid has brought a spent vat into the range in which it may go."""
    if reading.pH is None or not tending.seen_spent:
        return False
    wanted = ending().end_pH
    return any(made.event.remedy == NEUTRALISE for made in tending.corrections) and (
        (wanted.low or wanted.value) <= reading.pH <= (wanted.high or wanted.value)
    )


@carry_out.register
def _(event: events.PHTrusted, state: State, _at: Moment) -> State:
    from vatside.vat.trust import trust_reading

    account = _there(state)
    t_C = account.celsius if event.temperature is None else _celsius(event.temperature)
    if not 0 <= event.pH <= 14.5:
        raise ValueError(f"there is no pH {event.pH:g}")
    read = state.tending.readings[-1].reading if state.tending.readings else Reading()
    trusted = trust_reading(account, event.pH, t_C, PH_ERROR[read.pH_by])
    return evolve(state, tending=evolve(state.tending, account=trusted))


@carry_out.register
def _(event: events.DyeSeen, state: State, _at: Moment) -> State:
    account, what = _there(state), species_of(state.plan, "reducer")
    if event.reduced:
        least = method_of(state.plan).vat.reducer_per_litre.value * account.litres
        return evolve(state, tending=evolve(state.tending, account=vat.all_reduced(account, what, least)))
    return evolve(state, tending=evolve(state.tending, account=vat.all_blue(account, what)))


@carry_out.register
def _(event: events.CorrectionMade, state: State, at: Moment) -> State:
    tending = state.tending
    account = corrected(_as_found(tending, event), event, state.plan) if tending.account else None
    made = MadeCorrection(at, event, len(tending.readings), tending.account)
    spent = tending.seen_spent and not _revives(event, state.plan)
    return evolve(
        state,
        tending=evolve(tending, account=account, corrections=(*tending.corrections, made), seen_spent=spent),
    )


def _as_found(tending: Tending, event: events.CorrectionMade) -> Account:
    """Give the account before a correction: the pH that it was worked out from is written in.

    One for anything but the pH goes by that too, but writes it in only where the two disagree.
    """
    from vatside.vat.spent import PHRange, limes, put_right
    from vatside.vat.trust import compare, trust_reading

    account, reading = tending.account, _acted_on(tending, event)
    assert account is not None
    if reading is None:
        return account
    try:
        if event.remedy == NEUTRALISE:  # over lime the clear liquor alone, which is another account
            return account if limes(account.alkali) else put_right(account, reading, PHRange())
        compared = compare(account, reading)
        if compared is None or (compared.agrees and rows()[event.finding].axis != "pH"):
            return account
        return trust_reading(account, compared.measured, compared.celsius, PH_ERROR[compared.pH_by])
    except ValueError:
        return account


def _acted_on(tending: Tending, event: events.CorrectionMade) -> Reading | None:
    """Give the reading whose pH a correction was worked out from; None once something else went in since."""
    by_pH = event.remedy == NEUTRALISE or event.finding in rows()
    counts = by_pH and changes_pH(event) and not tending.put_in_since
    return tending.readings[-1].reading if tending.readings and counts else None


@carry_out.register
def _(event: events.VolumeMeasured, state: State, _at: Moment) -> State:
    account = vat.at_volume(_there(state), _litres(state.plan, event.volume))
    return evolve(state, tending=evolve(state.tending, account=account))


@carry_out.register
def _(event: events.LotDipped, state: State, _at: Moment) -> State:
    lot = next((lot for lot in state.plan.lots if lot.id == event.lot), None)
    if lot is None:
        raise KeyError(f"lot {event.lot}")
    if not 1 <= event.pieces <= lot.pieces or not 0 < event.minutes <= LONGEST_DIP_MIN:
        raise ValueError(f"{show_count(event.pieces, 'piece')} for {event.minutes:g} min is no dip of {lot.name}")
    account = after_dip(evolve(_there(state), asleep=False), state.plan, lot, event.pieces, event.minutes)
    return evolve(state, tending=evolve(state.tending, account=account))


LONGEST_DIP_MIN = 24 * 60.0
"""Nothing is left in a vat for longer than a day: ours, no source."""


@carry_out.register
def _(_event: events.VatSpent, state: State, at: Moment) -> State:
    tending = state.tending
    account = vat.spent(tending.account) if tending.account else None
    return with_steps_done(evolve(state, tending=evolve(tending, account=account, seen_spent=True)), OXIDISED, at)


@carry_out.register
def _(event: events.VatLetGo, state: State, at: Moment) -> State:
    tending = state.tending
    jar = tending.account.stock if tending.account else tending.jar
    gone = evolve(state, tending=evolve(tending, account=None, gone=tending.account, jar=jar, let_go=event))
    return with_steps_done(gone, (*GONE, HANDED_OVER) if method_of(state.plan).end else GONE, at)


def _there(state: State) -> Account:
    if state.tending.account is None:
        raise KeyError("vat")
    return state.tending.account


def corrected(account: Account, event: events.CorrectionMade, plan: Plan) -> Account:
    """Give the account after something was done to the vat; KeyError or ValueError, in words, for what cannot be."""
    if event.warmed_to is not None:
        account = vat.warmed(account, _celsius(event.warmed_to))
    if event.taken_out is not None:
        account = vat.without(account, _litres(plan, event.taken_out))
    if event.amount is not None:
        what = _material(plan, event.material)
        account = vat.with_powder(account, plan, event.material, grams(what, event.amount, plan))
    if event.stock is not None:
        account = vat.with_stock(account, _litres(plan, event.stock))
    if event.water is not None:
        warm = account.celsius if event.water_temperature is None else _celsius(event.water_temperature)
        account = vat.with_water(account, _litres(plan, event.water), warm)
    return account


def _revives(event: events.CorrectionMade, plan: Plan) -> bool:
    """Tell whether reducer or stock went in: then the vat lives again, whatever was seen before."""
    if event.stock is not None:
        return True
    return event.amount is not None and _material(plan, event.material).material.role == "reducer"


def _material(plan: Plan, name: str) -> Powder:
    try:
        return powder(plan, name)
    except KeyError:
        raise KeyError(f"material {name}") from None


def grams(what: Powder, amount: Amount, plan: Plan) -> float:
    """Give the grams of a material in a mass, in spoons, or in a volume of a liquid; ValueError for anything else."""
    if fits(amount.unit, Kind.MASS) or is_spoon(amount):
        return what.grams(amount, plan.spoons)
    return _litres(plan, amount) * 1000 * what.material.bulk.value


def _litres(plan: Plan, amount: Amount) -> float:
    if not fits(amount.unit, Kind.VOLUME):
        raise ValueError(f"{amount.unit} is no volume")
    litres = to_base(amount, Kind.VOLUME, plan.spoons)
    if litres < 0:
        raise ValueError("a volume cannot be below zero")
    return litres


def _celsius(amount: Amount) -> float:
    if not fits(amount.unit, Kind.TEMPERATURE):
        raise ValueError(f"{amount.unit} is no temperature")
    return celsius(amount)


MORE = 1.001
"""More by this share than there is, is more: litres are measured no finer. Ours."""


@carry_out.register
def _(event: events.StockTaken, state: State, _at: Moment) -> State:
    jar = jar_of(state.tending)
    there = Account(jar, "", jar).stock_litres if jar else 0.0
    if jar is None or not there:
        raise KeyError("stock")
    volume = event.stock.volume
    taken = litres(state.plan, volume) if fits(volume.unit, Kind.VOLUME) else 0.0
    if not 0 < taken <= there * MORE:
        raise ValueError(f"There are {there:.2f} L of stock left, not {show_amount(volume)}.")
    left = 1 - min(taken / there, 1.0)
    return evolve(state, tending=with_jar(state.tending, part(jar, left) if left > LEAST_PART else None))


@carry_out.register
def _(event: events.StockCarriedOn, state: State, _at: Moment) -> State:
    plan = evolve(state.plan, stock_kept=event.stock)
    problems = plan_problems(plan)
    if problems:
        raise ValueError(problems[0])
    check_pins(plan)
    return evolve(state, plan=plan)


def jar_of(tending: Tending) -> Bath | None:
    """Give what is left of the stock, also once its vat is gone; None if there is nothing, or no stock was made yet."""
    return tending.account.stock if tending.account is not None else tending.jar


def with_jar(tending: Tending, jar: Bath | None) -> Tending:
    """Give the vat's tending with another jar beside it."""
    if tending.account is None:
        return evolve(tending, jar=jar)
    return evolve(tending, account=evolve(tending.account, stock=jar))
