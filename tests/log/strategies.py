"""Random plans, events and sessions."""

from __future__ import annotations

from datetime import UTC, datetime

from attrs import evolve
from hypothesis import strategies as st
from tests.plan.plans import kept_vat, wool_plan

from vatside.forms.fields import Field, FieldValue, rows, set_value
from vatside.log.events.day import (
    AdviceTaken,
    AlarmQuieted,
    CautionAcknowledged,
    ClockCorrected,
    ClockSlept,
    ClockStepped,
    ColourNoted,
    DayLaid,
    DoneAllTheSame,
    Entry,
    Event,
    LotAdded,
    LotRemoved,
    NoteWritten,
    PiecesWeighed,
    PinCleared,
    PinSet,
    PlanChanged,
    PowderTaken,
    Put,
    ReducerFound,
    SessionReopened,
    StepDone,
    StepReopened,
    Undone,
    Unknown,
    WaitEnded,
    WaitExtended,
    WaitPaused,
    WaitResumed,
    WaitStarted,
)
from vatside.log.events.vat import (
    DipEnded,
    DipsPlanned,
    DipStarted,
    DryMassTaken,
    PieceBack,
    PieceDone,
    PieceNamed,
    PieceTurned,
    StockCarriedOn,
    StockTaken,
    SwatchRecorded,
    VatCarriedOn,
    VatKept,
    VatToppedUp,
)
from vatside.log.state import Session
from vatside.log.waits import Moment
from vatside.plan.paths import AWAY, OTHERS, POTS
from vatside.plan.plan import Condition, Form, Lot, Plan, ShelfEntry, StockKept
from vatside.storage.codec import DAY_LOG
from vatside.units import BASE_UNITS, UNITS, Amount
from vatside.vat.kept_vat import KeptVat

NUMBERS = st.floats(-1e9, 1e9, allow_nan=False) | st.integers(-1000, 1000).map(float)
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
"""Any text that UTF-8 can hold."""
IDS = st.sampled_from(["w1", "w2", "w3", "a", "b", "scour.hold", "stock.lye", "x"])
AMOUNTS = st.builds(Amount, NUMBERS, st.sampled_from(sorted(UNITS)))
UTC_TIMES = st.datetimes(datetime(1970, 1, 2), datetime(2999, 1, 1), timezones=st.just(UTC))
MOMENTS = st.builds(Moment, UTC_TIMES, st.floats(0, 1e9), st.sampled_from(["boot1", "boot2"]))
VALUES = AMOUNTS | TEXT | st.integers(-(10**9), 10**9) | st.none()
PATHS = st.sampled_from(sorted(rows(wool_plan()))) | TEXT
LOTS = st.builds(
    Lot,
    id=IDS,
    name=TEXT,
    fibre=st.sampled_from(["wool", "cotton", "silk", "nonsense"]),
    mass=AMOUNTS,
    pieces=st.integers(-5, 5000),
    form=st.sampled_from(Form),
    condition=st.sampled_from(Condition),
    depth=AMOUNTS,
    second=st.sampled_from(["", "linen", "nonsense"]),
    second_share=AMOUNTS,
    names=st.lists(TEXT, max_size=3).map(tuple),
)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | TEXT,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXT, inner, max_size=4),
    max_leaves=10,
)
SHELF_ENTRIES = st.builds(
    ShelfEntry, st.sampled_from(["indigo", "lye", "soap", "nonsense"]), AMOUNTS, AMOUNTS | st.none()
)  # fmt: skip
STOCKS = st.builds(StockKept, AMOUNTS, AMOUNTS, AMOUNTS, AMOUNTS, TEXT | st.none(), TEXT | st.none())
VATS = st.builds(KeptVat, NUMBERS, NUMBERS, TEXT, NUMBERS, TEXT, NUMBERS, NUMBERS, NUMBERS)
PIECES = st.sampled_from(["a.1", "a.2", "a.3", "b.1", "a", "a.x", "."])
DIPS: st.SearchStrategy[Event] = st.one_of(
    st.builds(DipStarted, PIECES, NUMBERS),
    st.builds(DipEnded, PIECES, NUMBERS),
    st.builds(PieceTurned, PIECES),
    st.builds(PieceDone, PIECES),
    st.builds(PieceBack, PIECES),
    st.builds(DipsPlanned, PIECES, st.integers(-1, 101)),
    st.builds(PieceNamed, PIECES, TEXT),
    st.builds(
        SwatchRecorded, PIECES, st.lists(NUMBERS, max_size=4).map(tuple), AMOUNTS | st.none(), NUMBERS | st.none(),
        st.booleans(),
    ),
    st.builds(DryMassTaken, IDS, AMOUNTS, st.booleans()),
)  # fmt: skip
"""Events of the pieces."""
UNKNOWN = st.builds(
    Unknown,
    name=st.sampled_from(["unknown", "reading", "finding_made"]),
    body=st.dictionaries(TEXT.filter(lambda name: name not in DAY_LOG.head), JSON, max_size=4),
)  # fmt: skip

MINUTES = st.integers(-600, 3000)
MINUTES_BY_TASK = st.dictionaries(IDS, MINUTES, max_size=4)

EVENTS: st.SearchStrategy[Event] = st.one_of(
    st.builds(PlanChanged, PATHS, VALUES),
    st.builds(PiecesWeighed, PATHS, VALUES, st.integers(-1, 20)),
    st.builds(LotAdded, LOTS),
    st.builds(LotRemoved, IDS),
    st.builds(PinSet, PATHS, AMOUNTS),
    st.builds(PinCleared, PATHS),
    st.builds(AdviceTaken, TEXT, st.lists(st.builds(Put, PATHS, AMOUNTS | st.none()), max_size=3).map(tuple)),
    st.builds(StepDone, IDS),
    st.builds(StepReopened, IDS),
    st.builds(
        CautionAcknowledged, IDS, st.lists(IDS, max_size=3).map(tuple), st.lists(TEXT, max_size=3).map(tuple)
    ),
    st.builds(ReducerFound, TEXT),
    st.builds(DoneAllTheSame, IDS, IDS, TEXT),
    st.builds(
        WaitStarted, IDS, IDS | st.none(), TEXT, NUMBERS,
        st.lists(NUMBERS, max_size=4).map(tuple), st.lists(TEXT, max_size=4).map(tuple),
    ),
    st.builds(WaitPaused, IDS),
    st.builds(WaitResumed, IDS),
    st.builds(WaitExtended, IDS, NUMBERS),
    st.builds(WaitEnded, IDS),
    st.builds(AlarmQuieted, IDS),
    st.builds(NoteWritten, TEXT),
    st.builds(Undone, st.integers(-1, 25)),
    st.builds(ClockSlept, NUMBERS),
    st.builds(ClockStepped, NUMBERS),
    st.builds(ClockCorrected, NUMBERS),
    st.builds(SessionReopened),
    st.builds(
        DayLaid, UTC_TIMES, MINUTES_BY_TASK, st.lists(IDS, max_size=3).map(tuple),
        st.dictionaries(IDS, st.lists(MINUTES, max_size=3).map(tuple), max_size=3),
        st.lists(st.tuples(MINUTES, MINUTES), max_size=2).map(tuple), MINUTES_BY_TASK,
    ),
    st.builds(PowderTaken, IDS, IDS, TEXT, SHELF_ENTRIES),
    st.builds(ColourNoted, IDS, TEXT, AMOUNTS | st.none(), st.lists(NUMBERS, max_size=4).map(tuple)),
    st.builds(VatKept, VATS),
    st.builds(VatCarriedOn, IDS, TEXT, UTC_TIMES, VATS),
    st.builds(VatToppedUp),
    st.builds(StockTaken, IDS, TEXT, STOCKS),
    st.builds(StockCarriedOn, IDS, TEXT, UTC_TIMES, STOCKS),
    DIPS,
    UNKNOWN,
)  # fmt: skip
"""Events of every kind; most do not fit the session they come into."""


@st.composite
def fitting_plans(draw: st.DrawFn) -> Plan:
    """Plans that the form lets through: the starter with some fields set."""
    plan = wool_plan(draw(st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=20)))
    if draw(st.booleans()):
        plan = evolve(plan, kept=kept_vat())
    if draw(st.booleans()):
        grams = Amount(1, "g")
        plan = evolve(plan, stock_kept=StockKept(Amount(0.5, "L"), grams, grams, grams))
    for path in draw(st.lists(st.sampled_from(sorted(rows(plan))), max_size=6)):
        row = rows(plan).get(path)
        if row is not None:
            plan = set_value(plan, path, draw(_fitting(row)))
    return plan


def _fitting(row: Field) -> st.SearchStrategy[FieldValue]:
    if row.choices:
        return st.sampled_from([key for key, _ in row.choices])
    if row.whole:
        return st.integers(int(row.low), int(row.high))
    if row.path in (OTHERS, POTS):
        return st.sampled_from([None, "5 L", "10 L, 24 L"])
    if row.path == AWAY:
        return st.sampled_from([None, "1 until 10:00", "1 from 13:00 to 15:00, 2 from 16:00"])
    if row.clock:
        return st.sampled_from([*([None] if row.optional else []), "10:00", "2026-05-02T10:00"])
    if row.kind is None:
        return st.text(st.characters(categories=["L", "N"]), min_size=1, max_size=80)
    unit = BASE_UNITS[row.kind]
    return st.floats(row.low, row.high).map(lambda value: Amount(value, unit))


@st.composite
def sessions(draw: st.DrawFn, events: st.SearchStrategy[Event] = EVENTS, most: int = 20) -> Session:
    """Sessions with a fitting plan and any events at any moments."""
    logged = [
        Entry(seq, draw(MOMENTS), event) for seq, event in enumerate(draw(st.lists(events, max_size=most)), start=1)
    ]
    return Session("s-1", draw(UTC_TIMES), draw(fitting_plans()), tuple(logged))
