"""The live vat in a session: its events, what follows from them, and the questions asked of it."""

from __future__ import annotations

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st
from tests.clocks.virtual_clock import VirtualClock
from tests.log.makers import CREATED, logged, session
from tests.log.strategies import AMOUNTS, NUMBERS, TEXT, UTC_TIMES
from tests.vat.vats import READINGS

from vatside.catalogue.findings import CONFIRM, rows
from vatside.catalogue.looks import Cloth, Colour, Strip
from vatside.log.effects.day import carry_out
from vatside.log.events.day import Event, NoteWritten, PlanChanged, Undone
from vatside.log.events.vat import (
    CorrectionMade,
    LotDipped,
    PHTrusted,
    ReadingTaken,
    VatCarriedOn,
    VatLetGo,
    VatMade,
    VatSpent,
    VolumeMeasured,
)
from vatside.log.fold import State, apply, fold, initial_state
from vatside.log.vat_account import kept_vat, standing_at
from vatside.log.waits import after as later
from vatside.log.words.day import log_lines
from vatside.log.words.vat import care_words
from vatside.outlook import vat_facts
from vatside.outlook.vat import Outlook
from vatside.recipe.compute import compute
from vatside.storage.codec import DAY_LOG
from vatside.units import Amount
from vatside.vat.account import Account, predict
from vatside.vat.account_changes import reducer_between
from vatside.vat.helped import Verdict
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import PHBy, Reading

MAYBE_AMOUNT = st.none() | AMOUNTS
SMALL = st.builds(Amount, st.floats(0, 40), st.sampled_from(["g", "tsp", "L", "mL", "degC"]))
CARE_EVENTS: st.SearchStrategy[Event] = st.one_of(
    st.builds(VatMade, MAYBE_AMOUNT, MAYBE_AMOUNT),
    st.just(VatMade()),
    st.builds(ReadingTaken, READINGS),
    st.builds(PHTrusted, st.floats(-5, 20), MAYBE_AMOUNT),
    st.builds(
        CorrectionMade, st.sampled_from([*rows(), "", "nonsense"]), TEXT, st.none() | SMALL,
        st.sampled_from(["", "lye", "reducer", "alkali", "vinegar", "nonsense"]), st.none() | SMALL, st.none() | SMALL,
        st.none() | SMALL, MAYBE_AMOUNT, st.booleans(),
    ),
    st.builds(LotDipped, st.sampled_from(["a", "b"]), st.integers(-1, 4), st.floats(-1, 2000)),
    st.builds(VatSpent),
    st.builds(VolumeMeasured, st.builds(Amount, st.floats(0.5, 500), st.just("L"))),
    st.builds(VatLetGo, AMOUNTS, st.none() | NUMBERS, TEXT, MAYBE_AMOUNT, st.none() | NUMBERS, TEXT),
)  # fmt: skip


def folded(*events: Event) -> State:
    """Give the state after these events, a minute apart."""
    return fold(session(*events))


def reading(celsius: float = 47, **more: object) -> ReadingTaken:
    """A reading by meter."""
    return ReadingTaken(Reading(temperature=Amount(celsius, "degC"), pH_by=PHBy.METER, **more))  # type: ignore[arg-type]


@given(CARE_EVENTS)
def test_round_trip(event: Event) -> None:
    """Each event of the vat comes back from its line as it went in."""
    entry = logged(event)[0]
    assert DAY_LOG.read_line(DAY_LOG.line(entry).encode()) == entry


@given(st.lists(CARE_EVENTS | st.builds(Undone, st.integers(0, 12)), max_size=10))
def test_live_is_reopening(events: list[Event]) -> None:
    """Whatever happens to a vat, applying and folding agree, nothing crashes, and the log can be told."""
    day = session(*events)
    live = initial_state(day)
    for entry in day.entries:
        live = apply(live, entry)
    assert live == fold(day)
    assert len(log_lines(day)) == len(events)
    sheet = compute(live.plan)
    vat_facts.findings_of(live, sheet)
    _ = Outlook(live, sheet).helped
    vat_facts.cooling_of(live)


def test_made_as_planned() -> None:
    """The vat made from the plan holds what its sheet says."""
    state = folded(VatMade())
    sheet = compute(state.plan)
    assert state.tending.account is not None
    assert state.tending.account.indigotin_g == pytest.approx(sheet.value("vat.indigotin"))


def test_made_as_measured() -> None:
    """A dip-stick and a thermometer go before the plan."""
    account = folded(VatMade(Amount(18, "L"), Amount(113, "degF"))).tending.account
    assert account is not None
    assert account.litres == pytest.approx(18)
    assert account.celsius == pytest.approx(45)


def test_a_reading_sets_the_temperature() -> None:
    """What the thermometer says is how warm the vat is from then on."""
    account = folded(VatMade(), reading(41)).tending.account
    assert account is not None
    assert account.celsius == 41


def test_a_pH_taken_as_true() -> None:
    """From here on the account predicts it."""
    account = folded(VatMade(), PHTrusted(10.4, Amount(47, "degC"))).tending.account
    assert account is not None
    assert predict(account).pH == pytest.approx(10.4, abs=0.01)


@pytest.mark.parametrize(
    "event", [PHTrusted(30.0), PHTrusted(9, Amount(5, "g")), CorrectionMade(stock=Amount(3, "L")),
              CorrectionMade(material="gin", amount=Amount(1, "g")), CorrectionMade(taken_out=Amount(50, "L")),
              CorrectionMade(material="lye", amount=Amount(-2, "g")), CorrectionMade(water=Amount(1, "g"))]
)  # fmt: skip
def test_what_cannot_be_is_a_misfit(event: Event) -> None:
    """An impossible event stays in the log, is told in words, and leaves the account alone."""
    before, after = folded(VatMade()), folded(VatMade(), event)
    assert after.tending.account == before.tending.account
    assert len(after.misfits) == 1
    assert after.misfits[0].text


def test_no_pH_is_trusted_without_a_vat() -> None:
    """Before the vat is made there is nothing to put right."""
    assert folded(PHTrusted(10.0)).misfits[0].text == "there is no vat here"


def test_powder_by_spoon_and_vinegar_by_volume() -> None:
    """A level teaspoon of lye beads is 5.7 g; 100 mL of 5 % vinegar hold 5 g of acetic acid (83 mmol)."""
    plain = folded(VatMade()).tending.account
    after = folded(
        VatMade(), CorrectionMade(material="lye", amount=Amount(1, "tsp")),
        CorrectionMade(material="vinegar", amount=Amount(100, "mL")),
    ).tending.account  # fmt: skip
    assert plain is not None
    assert after is not None
    assert after.bath.sodium - plain.bath.sodium == pytest.approx(5.67 * 0.99 / 39.997, rel=0.01)
    assert after.bath.acetate == pytest.approx(0.0833, rel=0.01)


def test_a_correction_taken_back() -> None:
    """An undo gives the account as it was."""
    lye = CorrectionMade(material="lye", amount=Amount(1, "tsp"))
    assert folded(VatMade(), lye, Undone(2)).tending == folded(VatMade()).tending


def test_a_proposed_correction_does_what_it_says() -> None:
    """Too cold: the event of the proposal warms the account to the temperature proposed, thinner by its water."""
    state = folded(VatMade(), reading(41))
    vat = Outlook(state, compute(state.plan))
    proposed = vat.ways("too-cold")[0]
    assert isinstance(vat.account, Account)
    after = folded(VatMade(), reading(41), vat_facts.made_event(proposed)).tending.account
    assert after is not None
    assert after.celsius == pytest.approx(47, abs=0.3)
    assert after.litres == pytest.approx(vat.account.litres + proposed.litres, rel=0.01)


def test_thinning_as_proposed_in_a_full_tub() -> None:
    """What is taken out and put back leaves the volume; the water comes with its reducer."""
    plan = PlanChanged("lots.a.fibre", "cotton")
    state = folded(plan, VatMade(), reading(45, pH=12.2))
    vat = Outlook(state, compute(state.plan))
    proposed = next(item for item in vat.ways("too-alkaline") if item.does == "dilute")
    assert isinstance(vat.account, Account)
    event = vat_facts.made_event(proposed)
    assert event.taken_out == event.water
    assert event.amount is not None
    after = folded(plan, VatMade(), reading(45, pH=12.2), event).tending.account
    assert after is not None
    assert after.litres == pytest.approx(vat.account.litres, rel=0.01)


TO_COOL = CorrectionMade(remedy=CONFIRM)
COTTON = PlanChanged("lots.a.fibre", "cotton")
"""Its vat stands on lye; that of wool on soda."""


@pytest.mark.parametrize(
    ("happened", "sure"),
    [
        ((reading(pH=11.5),), False),
        ((reading(pH=11.5), reading()), False),
        ((reading(pH=11.5), reading(pH=11.45)), True),
        ((reading(pH=11.5), TO_COOL, reading(pH=12.1, pH_temperature=Amount(25, "degC"))), True),
        ((reading(pH=11.5), CorrectionMade(remedy="warm", warmed_to=Amount(47, "degC")), reading(pH=11.5)), True),
        ((reading(pH=11.5), reading(pH=9.5)), False),
        ((reading(pH=11.5), CorrectionMade(water=Amount(5, "L")), reading(pH=11.5)), False),
        ((CorrectionMade(water=Amount(5, "L")), reading(pH=11.5), reading(pH=11.5)), True),
    ],
)
def test_a_pH_read_twice_is_confirmed(happened: tuple[Event, ...], sure: bool) -> None:
    """Two readings agree, brought to one temperature, and nothing went in between them."""
    state = folded(COTTON, VatMade(), *happened)
    sheet = compute(state.plan)
    assert vat_facts.confirmed(state, vat_facts.setting_of(state, sheet)) is sure


def test_a_sample_put_to_cool_changes_nothing() -> None:
    """Reading once more leaves the account as it is, is no try that failed, and is told in the log."""
    read, note = reading(pH=11.5), NoteWritten("nothing done")
    before, after = folded(VatMade(), read, note, read), folded(VatMade(), read, TO_COOL, read)
    assert before.tending.account is not None
    assert after.tending.account is not None
    assert after.tending.account.bath.sodium == before.tending.account.bath.sodium
    assert after.tending.account.litres == before.tending.account.litres
    assert vat_facts.setting_of(after, compute(after.plan)).tried == 0
    assert "read the pH once more" in "".join(log_lines(session(VatMade(), TO_COOL)))


def test_did_it_help() -> None:
    """Blue, reducer, yellow-green: it helped; blue again: nothing changed."""
    blue = ReadingTaken(Reading(colour=Colour.BLUE, strip=Strip.BLUE))
    fed = CorrectionMade("air-in", "thiourea-dioxide", material="reducer", amount=Amount(3, "g"))
    good = ReadingTaken(Reading(colour=Colour.YELLOW_GREEN, strip=Strip.GREEN_YELLOW, seconds=60))
    for after, verdict in ((good, Verdict.YES), (blue, Verdict.NO)):
        state = folded(VatMade(), blue, fed, after)
        found = Outlook(state, compute(state.plan)).helped
        assert found is not None
        assert found.verdict is verdict


def test_nothing_to_tell_before_a_correction() -> None:
    """No correction, or none after a reading: no verdict."""
    for state in (folded(VatMade()), folded(VatMade(), CorrectionMade("air-in"))):
        assert Outlook(state, compute(state.plan)).helped is None


def test_two_in_vain_point_to_a_dead_vat() -> None:
    """Fed twice and still blue: dead is among the findings; once is not enough."""
    blue = ReadingTaken(Reading(colour=Colour.BLUE, strip=Strip.BLUE))
    fed = CorrectionMade("air-in", material="reducer", amount=Amount(3, "g"))
    for events, dead in (((blue, fed, blue), False), ((blue, fed, blue, fed, blue), True)):
        state = folded(VatMade(), *events)
        assert any(item.id == "dead" for item in vat_facts.findings_of(state, compute(state.plan))) is dead


def test_cooling_by_its_own_readings() -> None:
    """47 and 44 degrees an hour apart in a room at 20: ln(27/24)/60 a minute."""
    clock = VirtualClock(CREATED)
    entries = logged(VatMade(), reading(47), reading(44), clock=clock, every=3600)
    state = fold(evolve(session(), entries=entries))
    found = vat_facts.cooling_of(state)
    assert found is not None
    assert found.per_minute == pytest.approx(0.001963, rel=0.001)


def test_a_degree_in_two_minutes_tells_nothing() -> None:
    """47 then 46 two minutes later is no 25 °C an hour: the usual rate of such a tub stands, and says so."""
    entries = logged(VatMade(), reading(47), reading(46), clock=VirtualClock(CREATED), every=120)
    found = vat_facts.cooling_of(fold(evolve(session(), entries=entries)))
    assert found is not None
    assert found.per_hour < 10
    assert "usually loses" in found.text


def test_dips_take_what_the_plan_says() -> None:
    """Two skeins dipped as often as the plan has it take about what its dips take, and leave a cooler vat.

    A dip written down for a lot knows nothing of what its pieces have on them, and takes a little more.
    """
    state = folded(VatMade())
    sheet = compute(state.plan)
    dips = [LotDipped("a", 2, sheet.value("dip.a.dip"))] * round(sheet.value("dip.a.dips"))
    after = folded(VatMade(), *dips)
    assert after.misfits == ()
    assert after.tending.account is not None
    there = sheet.value("vat.indigotin")
    taken = there - after.tending.account.indigotin_g
    assert taken == pytest.approx(there - sheet.value("dip.kept"), rel=0.05)
    assert after.tending.account.celsius < 47


@pytest.mark.parametrize("event", [LotDipped("z", 1, 5), LotDipped("a", 3, 5), LotDipped("a", 1, 0)])
def test_what_is_no_dip(event: Event) -> None:
    """A lot that is not there, more pieces than there are, or no time: a misfit."""
    assert len(folded(VatMade(), event).misfits) == 1


def test_spent_and_let_go() -> None:
    """Stirred until blue its reducer is gone; reducer put in takes that back; let go, there is no account."""
    spent = folded(VatMade(), VatSpent()).tending
    assert spent.seen_spent
    assert spent.account is not None
    assert not spent.account.is_alive
    fed = folded(VatMade(), VatSpent(), CorrectionMade(material="reducer", amount=Amount(1, "g"))).tending
    assert not fed.seen_spent
    soured = folded(VatMade(), VatSpent(), CorrectionMade(material="vinegar", amount=Amount(100, "mL"))).tending
    assert soured.seen_spent
    gone = VatLetGo(Amount(20, "L"), 11.9, "vinegar", Amount(400, "mL"), 7.9, "kitchen drain, after asking")
    assert folded(VatMade(), VatSpent(), gone).tending.account is None
    assert folded(VatMade(), VatSpent(), gone).tending.let_go == gone


def test_when_it_leaves_its_window() -> None:
    """At 47, two degrees cooler than an hour before, wool's 45 are left soon; without readings a usual tub's rate."""
    clock = VirtualClock(CREATED)
    entries = logged(VatMade(), reading(49), reading(47), clock=clock, every=3600)
    state = fold(evolve(session(), entries=entries))
    assert "It falls below the 45 °C that the vat wants" in Outlook(state, compute(state.plan)).leaving
    assert "usually loses" in Outlook(folded(VatMade()), compute(folded().plan)).leaving
    assert Outlook(folded(), compute(folded().plan)).leaving.startswith("Two readings")


def test_it_cools_on_from_what_went_in() -> None:
    """Two litres of cold water into a vat at 47: from then on it cools from where it was mixed to."""
    cold = CorrectionMade(water=Amount(2, "L"), water_temperature=Amount(15, "degC"))
    state = folded(VatMade(), reading(47), cold)
    found, account = vat_facts.cooling_of(state), state.tending.account
    assert found is not None
    assert account is not None
    assert found.now.celsius == account.celsius < 45
    assert found.now.minute == pytest.approx(1)


def test_kept_and_carried_on() -> None:
    """A vat of lye kept one day and carried on the next has its dye, volume and nearly its pH."""
    state = folded(COTTON, VatMade())
    kept = kept_vat(state)
    assert kept is not None
    assert state.tending.account is not None
    again = folded(COTTON, VatCarriedOn("s0", "yesterday", CREATED, kept)).tending.account
    assert again is not None
    assert again.indigotin_g == pytest.approx(state.tending.account.indigotin_g)
    assert predict(again, 47).pH == pytest.approx(predict(state.tending.account, 47).pH, abs=0.1)


def test_no_vat_no_keeping() -> None:
    """Without a vat there is nothing to keep."""
    assert kept_vat(folded()) is None


@given(st.builds(KeptVat, NUMBERS, NUMBERS, TEXT, NUMBERS, TEXT, NUMBERS, NUMBERS, NUMBERS), UTC_TIMES)
def test_any_kept_vat_is_carried_on(kept: KeptVat, when: object) -> None:
    """A vat that this version cannot reckon with still lets the day go on."""
    state = folded(VatCarriedOn("s0", "", when, kept))  # type: ignore[arg-type]
    assert state.misfits == ()


def test_the_log_in_words() -> None:
    """Each event in the dyer's words."""
    lines = log_lines(
        session(
            VatMade(Amount(20, "L")),
            reading(46, pH=10.9, colour=Colour.GREEN, cloth=(Cloth.SPECKS, Cloth.RUBS), seconds=20.0),
            PHTrusted(10.9),
            CorrectionMade("short-of-reducer", "dithionite", material="reducer", amount=Amount(1, "tsp")),
            CorrectionMade("too-alkaline", material="vinegar", amount=Amount(50, "mL"), insisted=True),
            LotDipped("a", 2, 5),
            VatSpent(),
            VatLetGo(Amount(20, "L"), 11.5, "vinegar", Amount(400, "mL"), 8.1, "drain"),
        )
    )
    told = [line.split("  ", 1)[1] for line in lines]
    assert told == [
        "Vat made: 20 L",
        "Reading: 46 °C, pH 10.9 by meter, colour green, cloth blue specks and colour rubs off, strip turns in 20 s",
        "pH 10.9 taken as true",
        "Vat: 1 tsp of reducer (short of reducer)",
        "Vat: 50 mL of vinegar (too alkaline), although the tool refused",
        "Wool skeins: 2 pieces dipped for 5 min",
        "Vat stirred in the air until it stayed blue",
        "Vat let go, 20 L, pH 11.5 before, 400 mL of vinegar, pH 8.1 after: drain",
    ]


def test_a_measured_volume_keeps_what_is_dissolved() -> None:
    """The liquor measured as 15 L holds the indigo that it held before."""
    before = folded(VatMade()).tending.account
    after = folded(VatMade(), VolumeMeasured(Amount(15, "L"))).tending.account
    assert before is not None
    assert after is not None
    assert after.litres == pytest.approx(15)
    assert after.indigotin_g == pytest.approx(before.indigotin_g)


def test_a_vat_read_blue_has_no_more_reducer_than_the_least() -> None:
    """Blue below and a strip that comes out blue: the account does not go on telling of grams that reduce nothing."""
    state = fold(session(PlanChanged("lots.a.fibre", "cotton"), VatMade()))
    known = state.tending.clocked
    assert known is not None
    night = standing_at(state, later(known.at, 8 * 3600))
    assert night.tending.account is not None
    least, likely, most = reducer_between(night.tending.account, "thiourea dioxide")
    assert least < likely < most
    blue = ReadingTaken(Reading(Amount(42, "degC"), colour=Colour.BLUE, strip=Strip.BLUE))
    read = carry_out(blue, night, later(known.at, 8 * 3600))
    assert read.tending.account is not None
    assert reducer_between(read.tending.account, "thiourea dioxide") == pytest.approx((0, least, least), abs=1e-6)
    assert read.tending.account.is_alive


@pytest.mark.parametrize(
    ("finding", "remedy", "words"),
    [
        ("dust", "settle", "Vat: let it settle (lime or sediment stirred up)"),
        ("foam", "skim", "Vat: skim the foam aside and keep it (air whipped in, or soap in the fibre)"),
        ("too-warm", "cold-bath", "Vat: vat cooling (warmer than the fibre or the reducer likes)"),
        ("", "", "Vat: by hand"),
    ],
)
def test_what_brought_nothing_in_is_named_by_its_order(finding: str, remedy: str, words: str) -> None:
    """Let settle, skimmed, cooled: the log says what was done, not only what it was for."""
    assert care_words(CorrectionMade(finding=finding, remedy=remedy), folded().plan) == words
