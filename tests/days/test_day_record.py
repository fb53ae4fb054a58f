"""The record of a day: its facts, worked out once for everything that is told of it."""

from __future__ import annotations

from datetime import UTC

import pytest
from hypothesis import given
from tests.effort import examples
from tests.log.played import Played
from tests.log.strategies import sessions

from vatside.days.blue_card import card_lines
from vatside.days.compare import GROUPS, PLAN, facts_of
from vatside.days.day_record import day_record, quantity
from vatside.log.events.vat import DipStarted, ReadingTaken, VatMade
from vatside.log.state import Session
from vatside.units import Amount
from vatside.vat.reading import Reading


@examples(40)
@given(sessions())
def test_each_fact_of_any_day_goes_by_a_name_of_its_own(session: Session) -> None:
    """Within its group no other fact has its name, and each has a label."""
    day = day_record(session, UTC)
    for group in (PLAN, *GROUPS):
        facts = list(facts_of(day, group))
        assert len({fact.id for fact in facts}) == len(facts)
        assert all(fact.label for fact in facts)


def test_card_and_comparison_tell_a_reading_in_the_same_words() -> None:
    """Both print what the record holds."""
    read = ReadingTaken(Reading(Amount(47, "degC"), pH=9.6))
    day = day_record(Played().happen(read).session, UTC)
    compared = {fact.id: fact.text for fact in facts_of(day, "Readings")}
    card = dict(card_lines(day))
    assert compared["pH"] == card["pH read"] == "9.6 at 47 °C (strip)"
    assert compared["temperature"] == card["Temperature read"]


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [(1.25, "g/L", "1.25 g/L"), (0.8, "%", "0.8 %"), (47.2, "degC", "47 °C"), (90, "min", "1 h 30 min"),
     (9.55, "pH", "9.6"), (4, "", "4")],
)  # fmt: skip
def test_a_quantity_prints_with_its_unit(value: float, unit: str, text: str) -> None:
    """As it stands on the card; half of a tenth of a pH goes up or down as binary numbers have it."""
    assert quantity("x", "X", value, unit).text == text


def test_what_nobody_knows_is_no_fact_of_the_blue() -> None:
    """Without a reading there is no pH that was read; a day that is not finished has no finish."""
    blue = day_record(Played().session, UTC).blue
    assert "pH_worked" in blue
    assert not {"pH_read", "finish"} & blue.keys()


def test_a_day_goes_by_when_it_is_dyed_and_not_by_when_it_was_planned() -> None:
    """Planned the evening before: the labels bear the day it is wanted for, and once a piece went in, that day."""
    played = Played().set("ready_by", "2026-12-24T10:00")
    assert day_record(played.session, UTC).day == "2026-12-24"
    dipped = played.happen(VatMade()).happen(DipStarted("a.1", 5))
    assert dipped.session.entries[-1].at.utc.astimezone(UTC).date().isoformat() == day_record(dipped.session, UTC).day
