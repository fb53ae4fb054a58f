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


def account_region(outlook: Outlook, width: int, signs: Signs) -> Sequence[Row]:
    """Print what is in the vat."""
    ended = outlook.state.tending.let_go
    facts = VatFacts(
        account=outlook.account,
        kept=outlook.kept,
        prediction=outlook.prediction,
        measured=outlook.measured_pH,
        setting=outlook.setting,
        leaving=outlook.leaving,
        warming=outlook.warming,
        disagree=outlook.comparison is not None and not outlook.comparison.agrees,
        end=care_words(ended, outlook.state.plan) if ended and not outlook.is_made else "",
        reducer=outlook.reducer_between,
        pH=outlook.pH_between,
        warm_by=_warm_by(outlook),
    )
    return account_rows(facts, width, signs)


def tub_region(outlook: Outlook, width: int, room: int, signs: Signs) -> Sequence[Row]:
    """Draw how full the tub is, where so many rows are enough; nothing of a vat that is gone."""
    if not isinstance(outlook.account, Account) or outlook.state.tending.let_go is not None:
        return ()
    tub = tub_of(outlook.state.plan, outlook.sheet, outlook.account.litres if outlook.is_made else None)
    return vessel_rows(tub, width, room, signs) if tub else ()


def _warm_by(outlook: Outlook) -> str:
    """Say when the temperature of the account was read, or that it is reckoned; nothing of a planned vat."""
    read = [item for item in outlook.state.tending.readings if item.reading.celsius is not None]
    if not outlook.is_made or not isinstance(outlook.account, Account):
        return ""
    if not read:
        return "as planned, reckoned on"
    celsius, at = read[-1].reading.celsius or 0.0, f"{local(read[-1].at):%H:%M}"
    if abs(outlook.account.celsius - celsius) < SAME_C:
        return f"read {at}"
    return f"reckoned since {show_temperature(celsius)} was read at {at}"


def history_region(outlook: Outlook, width: int, height: int, signs: Signs) -> Sequence[Row]:
    """Print what happened to it, on a screen of so many rows."""
    plan, window, setting = outlook.state.plan, outlook.setting.window, outlook.setting
    lines = [
        Happened(local(at), without_vat(care_words(event, plan)), isinstance(event, CorrectionMade))
        for at, event in outlook.happened
    ]
    wanted = Wanted((setting.coolest, setting.warmest), (window.low, window.high))
    tall = rows_of_a_curve(height)
    picture = picture_rows(outlook.course, wanted, width, tall, signs) if outlook.course else ()
    return history_rows(lines, picture, width, signs)


def ago(then: Moment, now: Moment) -> str:
    """Say when something was, on the wall and by how long it is past."""
    minutes = seconds_between(then, now) / 60
    past = "just now" if minutes < 1 else f"{show_minutes(round(minutes))} ago"
    return f"{local(then):%H:%M}, {past}"
