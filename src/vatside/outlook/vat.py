"""What follows for the live vat from the log: worked out when it is first asked for, once for each state."""

from __future__ import annotations

from functools import cached_property
from math import inf

from attrs import evolve

from vatside.catalogue.dyeing import ending
from vatside.catalogue.values import Window
from vatside.log.effects.vat import grams
from vatside.log.events.vat import CareEvent, CorrectionMade, VatCarriedOn, VatMade
from vatside.log.fold import State
from vatside.log.state import MadeCorrection, TakenReading
from vatside.log.vat_account import SHOWN_EVERY_S, account_of, kept_vat, standing_at
from vatside.log.waits import Moment, seconds_between
from vatside.outlook.vat_course import Course, course_of
from vatside.outlook.vat_facts import confirmed, cooling_of, findings_of, setting_of
from vatside.outlook.vat_order import GAP_MIN
from vatside.plan.measures import powder, species_of
from vatside.plan.sheet import Sheet
from vatside.recipe.cooling import Cooling, says_when
from vatside.recipe.vat_needs import Setting, at_warmth, pH_at
from vatside.vat.account import Account, Prediction, predict
from vatside.vat.account_changes import pH_between, reducer_between
from vatside.vat.corrections import Correction, Vat, corrections
from vatside.vat.diagnosis import QUESTIONS, Finding, ask
from vatside.vat.dosing import Warming, warming
from vatside.vat.helped import Helped, Verdict, helped
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import Reading
from vatside.vat.trust import Comparison, compare
from vatside.vat.warmth import warm_to

IN_A_BATH = "in a hot bath"
POWDERS = ("add", "to window")
"""What a correction does that brings a powder or a liquid in."""


def minute_of(now: Moment) -> float:
    """Give the minute that a moment lies in: what follows from the clock stands so long."""
    return now.elapsed // SHOWN_EVERY_S


class Outlook:
    """The vat as the log leaves it, and as it stands now."""

    def __init__(self, state: State, sheet: Sheet, now: Moment | None = None) -> None:
        self.state = state
        self.sheet = sheet
        self.stands = standing_at(state, now) if now else state
        """The state with the vat as it stands now."""
        self.minute = minute_of(now) if now else 0.0
        self._now = now
        self._ways: dict[str, tuple[Correction, ...]] = {}

    @property
    def is_made(self) -> bool:
        """The stock went in, and the vat is still there."""
        return self.state.tending.account is not None

    @cached_property
    def setting(self) -> Setting:
        """What the vat is supposed to be like, as warm as it is now."""
        account = self.account
        return at_warmth(setting_of(self.state, self.sheet), account.celsius if isinstance(account, Account) else None)

    @cached_property
    def account(self) -> Account | str:
        """What is in it (before it is made: what the plan would put in), or why that cannot be told."""
        try:
            return account_of(self.stands, self.sheet)
        except ValueError as error:
            return str(error)

    @cached_property
    def prediction(self) -> Prediction | None:
        """The pH worked out from the account; None where that cannot be done."""
        try:
            return predict(self.account) if isinstance(self.account, Account) else None
        except ValueError:
            return None

    @property
    def taken(self) -> TakenReading | None:
        """The latest reading and its time."""
        readings = self.state.tending.readings
        return readings[-1] if readings else None

    @property
    def reading(self) -> Reading:
        """The latest reading; an empty one if none was taken."""
        return self.taken.reading if self.taken else Reading()

    @cached_property
    def comparison(self) -> Comparison | None:
        """The pH that was read beside the one worked out for the same sample; None once something went in since."""
        then = self.state.tending.account
        if then is None or self.put_in_since or self.is_old:
            return None
        try:
            return compare(then, self.reading)
        except ValueError:
            return None

    @property
    def put_in_since(self) -> bool:
        """Something went in since the latest reading: its pH is not that of the account any more."""
        return self.state.tending.put_in_since

    @property
    def is_old(self) -> bool:
        """The latest reading is so long past that the vat is no longer as it was read."""
        known = self.stands.tending.clocked
        return self.taken is not None and known is not None and seconds_between(self.taken.at, known.at) > 60 * GAP_MIN

    @cached_property
    def sure(self) -> bool:
        """The latest pH was read twice."""
        return confirmed(self.state, self.setting)

    @cached_property
    def measured_pH(self) -> float | None:
        """The pH that was read, as it would be at the temperature of the vat; None once something went in since."""
        reading = self.reading
        if reading.pH is None or self.put_in_since or self.is_old or not isinstance(self.account, Account):
            return None
        then = self.state.tending.account or self.account
        return pH_at(reading.pH, reading.sample_in(then.celsius), self.account.celsius, self.setting)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What the latest reading means."""
        return findings_of(self.state, self.sheet)

    @cached_property
    def questions(self) -> tuple[str, ...]:
        """What to look at next; of a spent vat its pH alone."""
        if self.state.tending.seen_spent:
            return () if self.reading.pH is not None else (QUESTIONS["pH"],)
        return ask(self.reading, self.setting)

    @property
    def window(self) -> Window:
        """The pH that it should have: what its fibre likes, or of a spent vat that at which it may be let go."""
        if not self.state.tending.seen_spent:
            return self.setting.window
        ends = ending().end_pH
        return Window(ends.value, ends.low or ends.value, ends.high or ends.value, inf, ends.source)

    @cached_property
    def helped(self) -> Helped | None:
        """Whether the latest correction helped, by the latest reading; None once that was said."""
        tending = self.state.tending
        made = next((correction for correction in reversed(tending.corrections) if correction.event.finding), None)
        if made is None or not made.readings:
            return None
        before, since = tending.readings[made.readings - 1], tending.readings[made.readings :]
        verdicts = [helped(made.event.finding, before.reading, item.reading, self.setting) for item in since]
        if not verdicts or any(item.verdict in (Verdict.YES, Verdict.PARTLY) for item in verdicts[:-1]):
            return None
        return verdicts[-1]

    @cached_property
    def cooling(self) -> Cooling | None:
        """How fast it cools, by its readings or as is usual."""
        return cooling_of(self.stands)

    @cached_property
    def leaving(self) -> str:
        """When it leaves its window, in a sentence; what it takes to tell, if two readings do not."""
        if self.cooling is None:
            return "Two readings, 3 °C or half an hour apart, tell how fast it cools."
        return says_when(self.cooling, self.setting.coolest, "the vat")

    @cached_property
    def warming(self) -> Warming | None:
        """What brings it back to the temperature of the plan, or as its remedy has it; None if it is there."""
        if not isinstance(self.account, Account):
            return None
        plan, aim = self.state.plan, self.setting.aim
        if self.account.celsius < self.setting.coolest:
            aim = warm_to(Vat(plan, self.account, self.setting, cooling=self.cooling))
        try:
            return warming(self.account, plan, aim)
        except ValueError:
            return None

    def ways(self, finding_id: str) -> tuple[Correction, ...]:
        """What can be done about a finding, the first choice in front."""
        finding = next((item for item in self.findings if item.id == finding_id), None)
        if finding is None or not isinstance(self.account, Account):
            return ()
        if finding_id not in self._ways:
            now = self._corrections(finding, self.account)
            self._ways[finding_id] = tuple(part for way in self._under_way(finding, now) for part in _split(way))
        return self._ways[finding_id]

    def _corrections(self, finding: Finding, account: Account, *, knows_of_all: bool = False) -> tuple[Correction, ...]:
        """`knows_of_all`: the pH was read of this account; after something went in, it is not its pH any more."""
        reading = self._seen if knows_of_all or not self.put_in_since else evolve(self._seen, pH=None)
        return corrections(finding, Vat(self.state.plan, account, self.setting, reading, self.cooling, self.sure))

    def _under_way(self, finding: Finding, now: tuple[Correction, ...]) -> tuple[Correction, ...]:
        """Hold the powders of an advice of which a part went in as advised to what they were before that part."""
        done = self.done_since(finding.id)
        if not done or done[0].before is None:
            return now
        first = {
            way.remedy: way
            for way in self._corrections(finding, done[0].before, knows_of_all=True)
            if way.does in POWDERS
        }
        parts = {one.remedy: one for way in first.values() for one in (way, *way.along)}
        if not all(self._as_advised(made.event, parts.get(made.event.remedy)) for made in done):
            return now
        held = [first.pop(way.remedy, way) if way.does in POWDERS else way for way in now]
        return (*held, *first.values())

    def _as_advised(self, event: CorrectionMade, way: Correction | None) -> bool:
        if way is None or event.amount is None or event.material != way.material:
            return False
        try:
            much = grams(powder(self.state.plan, way.material), event.amount, self.state.plan)
        except ValueError:
            return False
        return abs(much - way.grams) <= AS_SAID * way.grams

    @property
    def _seen(self) -> Reading:
        """The latest reading without its temperature, which the account has and has gone on from."""
        reading = self.reading
        return evolve(reading, temperature=None, pH_temperature=reading.pH_temperature or reading.temperature)

    @cached_property
    def kept(self) -> KeptVat | None:
        """What is left in it in plain grams; None before it is made."""
        return kept_vat(self.stands)

    @cached_property
    def reducer_between(self) -> tuple[float, float, float] | None:
        """The least, the likely and the most reducer that is left, pure g; None before it is made."""
        account = self.stands.tending.account
        if account is None:
            return None
        return reducer_between(account, species_of(self.state.plan, "reducer"))

    @cached_property
    def pH_between(self) -> tuple[float, float] | None:
        """The lowest and the highest pH by the reducer that may be left; None where that cannot be worked out."""
        if not self.is_made or not isinstance(self.account, Account):
            return None
        try:
            band = pH_between(self.account, species_of(self.state.plan, "reducer"))
        except ValueError:
            return None
        return band.low, band.high

    @cached_property
    def happened(self) -> tuple[tuple[Moment, CareEvent], ...]:
        """Everything read and done since this vat was begun."""
        counting = [entry for entry in self.state.entries if entry.seq not in self.state.undone]
        begins = [at for at, entry in enumerate(counting) if isinstance(entry.event, VatMade | VatCarriedOn)]
        since = counting[begins[-1] :] if begins else counting
        return tuple((entry.at, entry.event) for entry in since if isinstance(entry.event, CareEvent))

    def minutes(self, at: Moment) -> float:
        """Minutes from the first reading to a moment."""
        readings = self.state.tending.readings
        return seconds_between(readings[0].at, at) / 60 if readings else 0.0

    @cached_property
    def course(self) -> Course | None:
        """The vat over the day, as expected and as read; None where nothing is known of one."""
        return course_of(self.state, self.sheet, self.setting, self._now) if self._now else None

    def done_since(self, finding_id: str) -> tuple[MadeCorrection, ...]:
        """The corrections for a finding made since the latest reading."""
        return tuple(made for made in self.state.tending.made_since if made.event.finding == finding_id)


AS_SAID = 0.1
"""Of the amount that was said, by which what went in may differ and still be that amount: a scale's step. Ours."""


def _split(way: Correction) -> tuple[Correction, ...]:
    """Warming goes two ways: kettle water, or a hot bath that adds nothing."""
    if way.does != "heat" or not way.litres:
        return (way,)
    return way, evolve(way, litres=0.0, exchanges=False, how=f"{IN_A_BATH.capitalize()}. {way.beside}", beside="")
