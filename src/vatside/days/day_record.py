"""The record of a day: what went in, what was read, how long it took and what came of it, worked out once.

Whatever is told of a day prints its facts: the card of its blue, two days side by side, why two blues came out apart.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import tzinfo

from attrs import evolve, frozen

from vatside.dayline.day_steps import STOCK_IN
from vatside.dayline.step_uses import Use, all_uses
from vatside.days.blues import Dipped, LotBlue, blues, dipped
from vatside.days.done import Added, Read, Waited, added, colours, finishes_done, last_of, readings, waited
from vatside.log.events.day import PowderTaken
from vatside.log.fold import State, fold, sheet_of
from vatside.log.state import Session, events_of
from vatside.plan.figure_text import two_digits
from vatside.plan.measures import method_of, powder, total_grams
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.recipe.kept import in_tub
from vatside.units import show_concentration, show_minutes, show_percent, show_temperature

LEAST_L = 0.1
"""A vat holds at least this much. Ours, no source."""
VAT_STEPS = ("stock.", "vat.", "correction.")
"""Beginnings of the steps whose powders make the blue."""


@frozen
class DayRecord:
    """One day."""

    session: Session
    state: State
    sheet: Sheet
    day: str
    """On which it was dyed, else is to be, else was begun, as ISO 8601 has it."""
    zone: tzinfo | None
    """In which its times are told; None for the machine's own."""
    added: tuple[Added, ...]
    waited: tuple[Waited, ...]
    read: tuple[Read, ...]
    dipped: tuple[Dipped, ...]
    lots: tuple[LotBlue, ...]
    colours: Mapping[str, tuple[str, ...]]
    """What was noted of each lot's colour, by the lot's id."""
    finishes: Mapping[str, str]
    """How the fibre was finished, by the fibre's name."""
    blue: Mapping[str, Fact]
    """What makes the blue, by the fact's id; what nobody knows is not here."""

    @property
    def plan(self) -> Plan:
        """The plan as it stands at the end."""
        return self.state.plan

    @property
    def dyed(self) -> bool:
        """A piece was dipped, or a colour was noted."""
        return bool(self.colours) or any(blue.dips.as_done for blue in self.lots)

    @property
    def went_in(self) -> dict[str, float]:
        """Grams of each powder that went into stock and vat, by material."""
        return _for_vat(item.use for item in self.added)

    @property
    def planned(self) -> dict[str, float]:
        """Grams of each powder that stock and vat want, by material."""
        return _for_vat(all_uses(self.plan))


def day_record(session: Session, zone: tzinfo | None = None) -> DayRecord:
    """Work out what there is to tell of a day; its times in `zone`, or in the machine's own."""
    state = fold(session)
    sheet = sheet_of(state)
    went_in, sat_out = added(session), waited(session)
    record = DayRecord(
        session=session,
        state=state,
        sheet=sheet,
        day=_day(session, state, zone),
        zone=zone,
        added=went_in,
        waited=sat_out,
        read=readings(state),
        dipped=dipped(state),
        lots=blues(state, sheet),
        colours=colours(state),
        finishes=finishes_done(state, sheet, went_in, sat_out),
        blue={},
    )
    return evolve(record, blue={fact.id: fact for fact in _blue(record) if fact.text})


def _day(session: Session, state: State, zone: tzinfo | None) -> str:
    """Give the day of the first dip; of one that is only planned the day it is planned for: it can be begun before."""
    wanted, _, hour = (state.plan.ready_by or "").partition("T")
    if hour and not state.dipping.entered:
        return wanted
    first = next((item.start.utc for item in state.dipping.entered), session.created)
    return f"{first.astimezone(zone):%Y-%m-%d}"


def summed(uses: Iterable[Use], key: Callable[[Use], str]) -> dict[str, float]:
    """Sum grams by what `key` gives of each use, in the order in which they come."""
    sums: dict[str, float] = {}
    for use in uses:
        sums[key(use)] = sums.get(key(use), 0.0) + use.grams
    return sums


def _for_vat(uses: Iterable[Use]) -> dict[str, float]:
    return summed((use for use in uses if use.step.startswith(VAT_STEPS)), lambda use: use.material)


def _blue(record: DayRecord) -> Iterator[Fact]:
    """Numbers and words by which one blue differs from another."""
    plan, sheet = record.plan, record.sheet
    fibre = total_grams(plan)
    yield quantity("strength", "Indigotin", sheet.value("vat.strength"), "g/L")
    for_fibre = 100 * sheet.value("vat.indigotin") / fibre if fibre else 0.0
    yield quantity("for_fibre", "Indigotin for the fibre", for_fibre, "%")
    yield from _measured(record)
    yield quantity("reducer", "Reducer", _reducer(record), "g/L")
    purity = 100 * powder(plan, "indigo").purity
    yield Fact("purity", "Purity", f"{purity:.3g} %", purity)
    yield Fact("pigment", "Pigment", _pigment(record.state))
    yield Fact("vat", "Kind of vat", f"{method_of(plan).name}; {powder(plan, 'reducer').material.name}")
    yield Fact("finish", "Finish", "; ".join(record.finishes.values()))


def _measured(record: DayRecord) -> Iterator[Fact]:
    """PH as read last and as worked out; the temperature as read last, else as planned."""
    read, warm = last_of(record.read, "pH"), last_of(record.read, "temperature")
    if read and read.pH is not None:
        yield quantity("pH_read", "pH read", read.pH, "pH")
    if "vat.pH" in record.sheet:
        yield quantity("pH_worked", "pH worked out", record.sheet.value("vat.pH"), "pH")
    celsius = warm.celsius if warm and warm.celsius is not None else record.sheet.value("vat.temperature")
    yield quantity("celsius", "Temperature", celsius, "degC")


def _reducer(record: DayRecord) -> float:
    """Pure, g/L: what stood in the tub and what went in once there is a vat; before, what the plan would put in."""
    state, sheet = record.state, record.sheet
    what = powder(state.plan, "reducer")
    there = STOCK_IN in state.done or state.tending.account is not None
    sums = record.went_in if there else record.planned
    tub, poured = in_tub(state.plan), sheet.value("vat.surplus", 0.0)
    stood = tub.reducer_g * (1 - poured / tub.litres) if tub.litres else 0.0
    return (stood + sums.get(what.id, 0.0) * what.purity) / max(sheet.value("vat.liquor"), LEAST_L)


def _pigment(state: State) -> str:
    """Name the pigment and its lot, if it was taken from the shelf."""
    used = powder(state.plan, "indigo")
    lots = [event.lot for event in events_of(state, PowderTaken) if event.entry.material == used.id and event.lot]
    return f"{used.material.name}, batch {lots[-1]}" if lots else used.material.name


SHOW: Mapping[str, Callable[[float], str]] = {
    "g/L": show_concentration,
    "%": lambda percent: show_percent(two_digits(percent)),
    "degC": show_temperature,
    "min": show_minutes,
    "pH": lambda acidity: f"{acidity:.1f}",
    "": lambda number: f"{number:.0f}",
}
"""How a quantity of each unit is printed."""


@frozen
class Fact:
    """One thing of a day."""

    id: str
    """By which its like is found; of a lot, `PLACE.LOT`."""
    label: str
    text: str
    """Printed, with its unit; empty where there is nothing to say."""
    value: float | None = None
    """In the unit of its text; None for what is told in words only."""


def quantity(fact_id: str, label: str, value: float, unit: str) -> Fact:
    """Make a fact of a number; KeyError for a unit that has no way of being printed."""
    return Fact(fact_id, label, SHOW[unit](value), value)
