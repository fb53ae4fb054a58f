"""From a key to the last paint it causes: the fullest form of the app beside a bare form of as many widgets.

The amounts follow the key; the hours of the day follow once she rests, and have a row of their own.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager
from statistics import median
from typing import Any

from attrs import evolve
from tests.bench.bare_form import BareForm, Shape
from tests.bench.measure import Pairs
from tests.bench.run import Run, workplace
from tests.clocks.virtual_clock import VirtualClock
from tests.plan.plans import wool_plan
from textual.app import App
from textual.events import Key
from textual.pilot import Pilot
from textual.widgets import Input

from vatside.bench.day_line import RESTED_S
from vatside.plan.paths import set_value
from vatside.plan.plan import Dosing, Plan
from vatside.plan.starter import new_lot, starter_plan
from vatside.storage.session_file import SessionFile
from vatside.ui.app import VatsideApp
from vatside.ui.text.rows import Row
from vatside.ui.widgets.form import Form
from vatside.ui.widgets.lines import Lines
from vatside.units import Amount

SIZE = (80, 24)
LOOK, QUIET_LOOKS = 0.0075, 8
"""Seconds between two looks, and looks in a row without a paint after which the last one has been: Textual paints sixty
times a second. Looks, for a clock would run on while the app works and cannot paint."""
LONGEST_LOOKS = 100
"""Looks for a field that has the keys, before giving up."""
DIGITS = "123456789"
"""Each is put before an amount, timed, and taken away again: everything that follows from the amount changes."""
FIELD = "lots.a.mass"
LOTS, CLASS = 3, 20


class Painting:
    """Notes when an app paints."""

    def __init__(self, app: App[Any]) -> None:
        self.last = time.perf_counter()
        self.count = 0
        shown = app._display

        def display(*arguments: Any) -> None:
            shown(*arguments)
            self.last = time.perf_counter()
            self.count += 1

        app._display = display  # type: ignore[assignment, method-assign]

    async def settled(self) -> None:
        """Wait until nothing has been painted for a while."""
        seen, quiet = self.count, 0
        while quiet < QUIET_LOOKS:
            await asyncio.sleep(LOOK)
            seen, quiet = self.count, quiet + 1 if self.count == seen else 0

    async def after(self, app: App[Any], key: str) -> float:
        """Press a key; milliseconds to the last paint."""
        driver = app._driver
        assert driver is not None
        return await self.after_all(lambda: driver.send_message(Key(key, key if len(key) == 1 else None)))

    async def after_all(self, act: Callable[[], object]) -> float:
        """Do something; milliseconds to the last paint."""
        await self.settled()
        before, start = self.count, time.perf_counter()
        act()
        self.last = start
        await self.settled()
        assert self.count > before, "nothing was painted"
        return (self.last - start) * 1000


def full_plan(grams: float) -> Plan:
    """Give a plan whose forms are long; with another mass for each run, nothing is known from the run before."""
    plan = set_value(wool_plan(), FIELD, Amount(grams, "g"))
    for _ in range(LOTS - 1):
        plan = evolve(plan, lots=(*plan.lots, new_lot(plan)))
    return plan


def class_plan(grams: float) -> Plan:
    """Give a class of twenty, a lot each, whose vat is worked out anew at every key: nothing is held, three tubs."""
    plan = evolve(starter_plan(), dosing=Dosing.SPENT)
    tub = evolve(plan.vessels.tub, volume=Amount(12, "L"))
    plan = evolve(plan, vessels=evolve(plan.vessels, tub=tub, others=(Amount(24, "L"), Amount(60, "L"))))
    for _ in range(CLASS - 1):
        plan = evolve(plan, lots=(*plan.lots, new_lot(plan)))
    lots = tuple(evolve(lot, fibre="cotton", mass=Amount(100, "g"), pieces=1) for lot in plan.lots)
    return set_value(evolve(plan, lots=lots), FIELD, Amount(grams, "g"))


PlanFor = Callable[[float], Plan]


def key_beside_bare(run: Run) -> Pairs:
    """Keys typed into the fullest form, app and bare form turn about in one process."""
    return asyncio.run(_turn_about(full_plan, run.rounds(6, 2), run.rounds(9, 4, 3)))


def class_key_beside_bare(run: Run) -> Pairs:
    """The same in the plan of a class of twenty lots."""
    return asyncio.run(_turn_about(class_plan, run.rounds(6, 2), run.rounds(9, 4, 3)))


def hours_beside_bare(run: Run) -> Pairs:
    """The hours laid and painted once she rests after such a key, beside a key in the bare form."""
    return asyncio.run(_turn_about(full_plan, run.rounds(6, 2), run.rounds(9, 4, 3), _rest))


Then = Callable[[App[Any], "Painting"], Awaitable[float]]
"""What is measured after a key; milliseconds to its last paint."""


async def _rest(app: App[Any], painting: Painting) -> float:
    """Let the time pass after which the hours follow, and the app look at its clock."""
    assert isinstance(app, VatsideApp)
    clock, look = app.clock, app.tick
    assert isinstance(clock, VirtualClock)

    def rest() -> None:
        clock.advance(2 * RESTED_S)
        look()

    return await painting.after_all(rest)


async def _turn_about(plan_for: PlanFor, rounds: int, keys: int, then: Then | None = None) -> Pairs:
    ours: list[float] = []
    bare: list[float] = []
    shape = await _shape(plan_for)
    for number in range(rounds):
        for mine in (True, False) if number % 2 else (False, True):
            if mine:
                with _app(plan_for(200 + number)) as app:
                    ours.append(await _type(app, _into_app, keys, then))
            else:
                bare.append(await _type(BareForm(shape), _into_bare, keys))
    return Pairs(tuple(ours), tuple(bare))


@contextmanager
def _app(plan: Plan) -> Iterator[App[Any]]:
    """Open a day whose first form is the fullest, with a clock that stands still."""
    with workplace() as folder:
        clock, path = VirtualClock(), folder / "day.json"
        SessionFile.create(path, plan, clock.now()).close()
        yield VatsideApp(path, clock, folder)


Ready = Callable[[App[Any]], None]
"""Puts the cursor into a field."""


def _into_app(app: App[Any]) -> None:
    app.screen.query_one(Form).take(FIELD)


def _into_bare(app: App[Any]) -> None:
    app.screen.query(Input).first().focus()


async def _type(app: App[Any], ready: Ready, keys: int, then: Then | None = None) -> float:
    """Type into a field of the form; median milliseconds from key to last paint, or of what comes after it."""
    async with app.run_test(size=SIZE) as pilot:
        painting = await _begin(app, pilot, ready)
        taken = []
        for digit in DIGITS[:keys]:
            typed = await painting.after(app, digit)
            taken.append(await then(app, painting) if then else typed)
            await painting.after(app, "backspace")
            if then:
                await then(app, painting)  # of ten times the fibre the hours are always others, of twenty times not
        return median(taken)


async def _begin(app: App[Any], pilot: Pilot[Any], ready: Ready) -> Painting:
    painting = Painting(app)
    for _ in range(LONGEST_LOOKS):
        await pilot.pause(LOOK * QUIET_LOOKS)
        if isinstance(app.screen.focused, Input):
            break
        if app.screen.query(Form):
            await pilot.press("enter")  # from the steps, where an opened day stands
    else:
        raise RuntimeError(f"no field took the keys on {app.screen}")
    await painting.settled()
    ready(app)
    await painting.settled()
    await pilot.press("home")
    return painting


async def _shape(plan_for: PlanFor) -> Shape:
    """Look at what the app's form is made of, and at what one key changes."""
    with _app(plan_for(100)) as app:
        async with app.run_test(size=SIZE) as pilot:
            painting = await _begin(app, pilot, _into_app)
            before = _blocks(app)
            await painting.after(app, DIGITS[0])
            after = _blocks(app)
            texts = tuple(entry.value for entry in app.screen.query(Input) if entry.display)
    changed = [before[name] != rows for name, rows in after.items()]
    return Shape(texts, tuple(len(rows) for rows in after.values()), sum(changed))


def _blocks(app: App[Any]) -> dict[str, tuple[Row, ...]]:
    """The blocks of words on the screen, but for the two columns of the form."""
    return {
        lines.id or "": lines.rows
        for lines in app.screen.query(Lines)
        if lines.region and lines.id not in ("labels", "notes")
    }
