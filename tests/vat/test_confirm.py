"""A pH that much hangs on is read once more before anything goes in."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.vat.vats import vat_with

from vatside.catalogue.findings import CONFIRM, rows
from vatside.units import Amount
from vatside.vat.account import predict
from vatside.vat.corrections import Correction, Vat, corrections
from vatside.vat.diagnosis import Finding
from vatside.vat.reading import PHBy, Reading


def ways(key: str, vat: Vat) -> tuple[Correction, ...]:
    """Give the ways to put a row right, as if it had been found for sure."""
    row = rows()[key]
    return corrections(Finding(key, row.name, row.axis, 1.0, ("seen",), (), row.means, row.source), vat)


def read(pH: float | None, by: PHBy = PHBy.METER, **changes: str) -> Vat:
    """Give the starter plan's vat with a pH read at 45 degrees C."""
    return vat_with(Reading(temperature=Amount(45, "degC"), pH=pH, pH_by=by), **changes)


@pytest.mark.parametrize(("key", "pH"), [("short-of-alkali", 8.0), ("too-alkaline", 12.4)])
def test_a_pH_that_the_account_does_not_know_is_read_again_first(key: str, pH: float) -> None:
    """The first way is to read once more, and says both numbers; the others stand beside it."""
    found = ways(key, read(pH, lots__a__fibre="cotton"))
    assert found[0].does == CONFIRM
    assert f"Read pH {pH}" in found[0].beside
    assert len(found) > 1


def test_what_costs_most_of_the_vat_is_read_again_first() -> None:
    """A cotton vat far too alkaline, just as the account says: be sure before most of it goes down the drain."""
    vat = vat_with(lots__a__fibre="cotton", vat__alkali="150 g")
    as_told = evolve(vat, reading=Reading(temperature=Amount(45, "degC"), pH=round(predict(vat.account).pH, 1)))
    found = ways("too-alkaline", as_told)
    assert found[0].does == CONFIRM
    assert "more than half" in found[0].beside


def test_read_twice_is_enough() -> None:
    """Once two readings agree, the correction itself comes first."""
    cotton = read(12.4, lots__a__fibre="cotton")
    assert ways("too-alkaline", evolve(cotton, confirmed=True))[0].remedy == "baking-soda"


def test_what_baking_soda_brings_down_costs_no_dye() -> None:
    """A wool vat somewhat above its window, as the account says: nothing is read again, baking soda comes first."""
    vat = vat_with(vat__alkali="5 g")
    as_told = evolve(vat, reading=Reading(temperature=Amount(47, "degC"), pH=round(predict(vat.account).pH, 1)))
    assert ways("too-alkaline", as_told)[0].remedy == "baking-soda"


def test_no_doubt_no_question() -> None:
    """A cotton vat slightly out, as the account has it, is put right at once."""
    vat = vat_with(lots__a__fibre="cotton")
    low = evolve(vat.setting, window=evolve(vat.setting.window, low=predict(vat.account).pH + 0.1))
    as_told = Reading(temperature=Amount(vat.account.celsius, "degC"), pH=predict(vat.account).pH, pH_by=PHBy.METER)
    assert ways("short-of-alkali", evolve(vat, setting=low, reading=as_told))[0].does != CONFIRM


@pytest.mark.parametrize(("key", "pH"), [("too-alkaline", None), ("short-of-reducer", 8.0)])
def test_only_a_pH_that_was_read_is_read_again(key: str, pH: float | None) -> None:
    """Without a pH, or where the pH is not what is put right, nothing is asked."""
    assert all(item.does != CONFIRM for item in ways(key, read(pH)))


@pytest.mark.parametrize(("by", "word"), [(PHBy.METER, "fresh buffer"), (PHBy.STRIP, "second, fresh strip")])
def test_how_to_read_again_goes_by_the_instrument(by: PHBy, word: str) -> None:
    """A meter wants its buffer, a strip a second strip; both a cooled sample."""
    found = ways("too-alkaline", read(12.9, by))[0]
    assert word in found.how
    assert "Cool a small sample" in found.how
