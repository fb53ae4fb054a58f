"""The rows of the table: what is held against what, the goal, and the ratio past which something is wrong."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module

from tests.bench.measure import Pairs, Row
from tests.bench.run import Run


def _late(module: str, name: str) -> Callable[[Run], Pairs]:
    """Import what a row measures with when it is measured: one row alone then starts at once."""

    def measure(run: Run) -> Pairs:
        found: Pairs = getattr(import_module(f"tests.bench.{module}"), name)(run)
        return found

    return measure


def _row(name: str, title: str, unit: str, goal: float, alarm: float, where: str) -> Row:
    module, _, function = where.partition(".")
    return Row(name, title, unit, goal, alarm, _late(module, function))


ROWS = (
    # One and the same start read 1.4 on one day and 2.1 on another on the same kind of machine.
    _row("paint", "first paint / a one-label app", "ms", 1.5, 2.5, "starting.paint_beside_label"),
    _row("paint-libs", "first paint / the same with pint and cattrs", "ms", 0.75, 1.0,
         "starting.paint_beside_libraries"),
    _row("day", "the day's own screen / the same", "ms", 1.5, 2.5, "starting.day_beside_libraries"),
    _row("memory", "memory at the day's screen / the same", "MiB", 1.1, 1.3, "starting.memory_beside_libraries"),
    # A bare form works nothing out; here every key does, before anything is painted: for `key` the sheet takes a
    # quarter of the processor time, for `class` half (about thirty liquors, as three waters may be in the tap, and a
    # score of runs of the dips to find a shorter day). The last paint is waited for by looks without one: by the clock,
    # the time in which the app works and cannot paint would pass for quiet. A busy machine doubles both ratios.
    _row("key", "key to last paint / a bare form", "ms", 1.1, 2.5, "keys.key_beside_bare"),
    _row("class", "key in the plan of a class of twenty lots / the same", "ms", 2, 4, "keys.class_key_beside_bare"),
    _row("hours", "the hours once she rests / a key in a bare form", "ms", 2, 4, "keys.hours_beside_bare"),
    _row("sheet", "whole sheet / its arithmetic in plain floats", "ms", 15, 30, "sheets.sheet_beside_floats"),
    _row("lots", "sheet for 40 lots / for 4", "ms", 8, 12, "sheets.many_beside_few"),
    # Held 10 ms at most and searched 60 ms at most, where a plain list schedule takes three quarters of one.
    _row("line", "twelve lots held after a change / a plain list schedule", "ms", 5, 13, "lines.held_beside_list"),
    _row("line-search", "the same, a shorter day looked for / the same", "ms", 60, 78, "lines.searched_beside_list"),
    _row("solve", "a vat in hard water / a lye vat in plain floats", "ms", 25, 40, "baths.solve_beside_floats"),
    _row("load", "load 10,000 events / json.loads", "ms", 4, 6, "logs.load_beside_json"),
    _row("durable", "one event durable / bare write and fsync", "ms", 2, 4, "disk.durable_beside_bare"),
    _row("event", "an event at 10,000 / at 10", "ms", 1.3, 2, "logs.late_beside_early"),
    _row("waits", "six waits, CPU a second / one Digits × 6", "ms", 1.5, 3, "waits.waits_beside_digits"),
    _row("replay", "replay 10,000 events / load them", "ms", 2, 4, "logs.replay_beside_load"),
    _row("shelf", "list 2,000 sessions / read 2,000 files", "ms", 2, 4, "disk.shelf_beside_reading"),
    _row("do-waits", "each command on 10,000 open waits / 1,000", "ms", 13, 20, "large_commands.on_waits"),
    _row("do-lots", "each command on 3,000 lots / 300", "ms", 13, 20, "large_commands.on_lots"),
    _row("do-events", "each command on 50,000 events / 5,000", "ms", 13, 20, "large_commands.on_events"),
    _row("do-tell", "log, replay of 4,000 events with steps / 400", "ms", 13, 20, "large_commands.told"),
    _row("do-bags", "each command with 2,000 bags / 200", "ms", 13, 20, "large_commands.on_bags"),
    _row("look-waits", "a look at 10,000 waits on the screen / at 1,000", "ms", 13, 20, "large_screens.look_at_waits"),
    _row("key-waits", "a key above 10,000 waits / above 1,000", "ms", 13, 20, "large_screens.key_above_waits"),
    _row("key-lots", "a key in the form of 3,000 lots / of 300", "ms", 13, 20, "large_screens.key_in_lots"),
    _row("see-waits", "each screen with 10,000 waits / 1,000", "ms", 13, 20, "large_screens.seen_with_waits"),
    _row("see-lots", "each screen of 3,000 lots / 300", "ms", 13, 20, "large_screens.seen_with_lots"),
    _row("see-events", "each screen of 10,000 events / 1,000", "ms", 13, 20, "large_screens.seen_with_events"),
    _row("events", "read and fold 50,000 events / 5,000", "ms", 13, 20, "large.fold_of_events"),
    _row("log-events", "log of 50,000 events / of 5,000", "ms", 13, 20, "large.log_of_events"),
    _row("bags", "a shelf of 2,000 bags / of 200", "ms", 13, 20, "large.bags"),
    _row("days", "list 5,000 days / 500, never read", "ms", 13, 20, "large.list_of_days"),
    _row("see-days", "the list of 5,000 days on the screen / of 500", "ms", 13, 20, "large_screens.list_on_the_screen"),
    _row("page", "first page of 5,000 days / list of 500", "ms", 1, 2, "large.first_page"),
    _row("steady", "memory after 30 hours of looks / after 2", "MiB", 1.01, 1.03, "large.steady"),
)  # fmt: skip
