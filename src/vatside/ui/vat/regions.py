"""Regions that more than one screen about the vat shows: its account and its history."""

from __future__ import annotations

from collections.abc import Sequence

from vatside.bench.desk import local
from vatside.log.events.vat import CorrectionMade
from vatside.log.waits import Moment, seconds_between
from vatside.log.words.vat import care_words
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_facts import SAME_C
from vatside.ui.text.rows import Row, Signs
from vatside.ui.vat.account_rows import VatFacts, account_rows
from vatside.ui.vat.finding_rows import without_vat
from vatside.ui.vat.history_rows import Happened, Wanted, history_rows, picture_rows, rows_of_a_curve
from vatside.ui.vat.vessel_rows import tub_of, vessel_rows
from vatside.units import show_minutes, show_temperature
from vatside.vat.account import Account


def account_region(found: Outlook, width: int, signs: Signs) -> Sequence[Row]:
    """Print what is in the vat."""
    ended = found.state.tending.let_go
    facts = VatFacts(
        account=found.account,
        kept=found.kept,
        prediction=found.prediction,
        measured=found.measured_pH,
        setting=found.setting,
        leaving=found.leaving,
        warming=found.warming,
        disagree=found.comparison is not None and not found.comparison.agrees,
        end=care_words(ended, found.state.plan) if ended and not found.is_made else "",
        reducer=found.reducer_between,
        pH=found.pH_between,
        warm_by=_warm_by(found),
    )
    return account_rows(facts, width, signs)


def tub_region(found: Outlook, width: int, room: int, signs: Signs) -> Sequence[Row]:
    """Draw how full the tub is, where so many rows are enough; nothing of a vat that is gone."""
    if not isinstance(found.account, Account) or found.state.tending.let_go is not None:
        return ()
    tub = tub_of(found.state.plan, found.sheet, found.account.litres if found.is_made else None)
    return vessel_rows(tub, width, room, signs) if tub else ()


def _warm_by(found: Outlook) -> str:
    """Say when the temperature of the account was read, or that it is reckoned; nothing of a planned vat."""
    read = [item for item in found.state.tending.readings if item.reading.celsius is not None]
    if not found.is_made or not isinstance(found.account, Account):
        return ""
    if not read:
        return "as planned, reckoned on"
    celsius, at = read[-1].reading.celsius or 0.0, f"{local(read[-1].at):%H:%M}"
    if abs(found.account.celsius - celsius) < SAME_C:
        return f"read {at}"
    return f"reckoned since {show_temperature(celsius)} was read at {at}"


def history_region(found: Outlook, width: int, height: int, signs: Signs) -> Sequence[Row]:
    """Print what happened to it, on a screen of so many rows."""
    plan, window, setting = found.state.plan, found.setting.window, found.setting
    lines = [
        Happened(local(at), without_vat(care_words(event, plan)), isinstance(event, CorrectionMade))
        for at, event in found.happened
    ]
    wanted = Wanted((setting.coolest, setting.warmest), (window.low, window.high))
    tall = rows_of_a_curve(height)
    picture = picture_rows(found.course, wanted, width, tall, signs) if found.course else ()
    return history_rows(lines, picture, width, signs)


def ago(then: Moment, now: Moment) -> str:
    """Say when something was, on the wall and by how long it is past."""
    minutes = seconds_between(then, now) / 60
    past = "just now" if minutes < 1 else f"{show_minutes(round(minutes))} ago"
    return f"{local(then):%H:%M}, {past}"
