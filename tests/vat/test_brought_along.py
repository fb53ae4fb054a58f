"""What a reducer that is fed brings along, and what soda does for a vat of wool or silk."""

from __future__ import annotations

import pytest
from attrs import evolve
from tests.vat.vats import vat_with

from vatside.catalogue.findings import rows
from vatside.catalogue.looks import Colour
from vatside.chemistry.life import SPENT, spend, turned_sour
from vatside.chemistry.liquor import solve
from vatside.units import Amount
from vatside.vat.account import Account, predict, with_powder
from vatside.vat.account_changes import Keeping, aged
from vatside.vat.corrections import as_read, corrections
from vatside.vat.diagnosis import Finding
from vatside.vat.interlocks import Correction, Vat
from vatside.vat.reading import PHBy, Reading

SHORT = ("air-in", "short-of-reducer")
LYE = ("tdo-lye", "dithionite-lye")
FLEECE = ("wool", "silk")


def ways(key: str, vat: Vat) -> dict[str, Correction]:
    """Give what can be done about a row, and what goes in along with it, by the name of each."""
    row = rows()[key]
    found = corrections(Finding(key, row.name, row.axis, 1.0, ("seen",), (), row.means, row.source), vat)
    return {one.remedy: one for item in found for one in (item, *item.along)}


def pure(found: Correction, vat: Vat) -> float:
    """Give the pure grams of a correction; every powder of the starter's shelf but dithionite (88 %) is of 99 %."""
    return found.grams * (0.88 if "dithionite" in (found.remedy, found.material) else 0.99)


@pytest.mark.parametrize("key", SHORT)
@pytest.mark.parametrize(("method", "share"), [("tdo-lye", 0.740), ("dithionite-lye", 0.460)])
def test_reducer_for_a_lye_vat_brings_its_lye(key: str, method: str, share: float) -> None:
    """Two hydroxides a mole: 2 × 39.997 g over 108.12 is 0.740 g a gram of thiourea dioxide, over 174.11 0.460."""
    vat = vat_with(method=method, lots__a__fibre="cotton")
    reducer, lye = ways(key, vat).values()
    assert pure(lye, vat) == pytest.approx(share * pure(reducer, vat), rel=0.002)
    assert lye.material == "lye"
    assert lye.cautions == ("lye",)
    assert "never water onto lye" in lye.how


@pytest.mark.parametrize("key", SHORT)
@pytest.mark.parametrize(
    ("fibre", "method", "soda", "baking"),
    [
        ("wool", "tdo-lye", 2.35, 3.0), ("silk", "tdo-lye", 3.7, 0.4),
        ("wool", "dithionite-lye", 1.4594, 1.863), ("silk", "dithionite-lye", 2.298, 0.2484),
    ],
)  # fmt: skip
def test_reducer_for_wool_or_silk_brings_soda(key: str, fibre: str, method: str, soda: float, baking: float) -> None:
    """A gram of thiourea dioxide goes in with as much soda as holds it; dithionite counts 0.621 of that (molar mass).

    By hand the ends: 18.5 mmol a gram turn 2.35 g of soda ash (22.2 mmol) and 3.0 g of baking soda (35.7) to carbonate
    3.7 and bicarbonate 54.2, pH 9.9 + log 3.7/54.2 = 8.7 by the second pK of 47 degrees in such a liquor; silk's 3.7
    and 0.4 g (34.9 and 4.8 mmol) to 16.4 and 23.3, pH 9.7.
    """
    vat = vat_with(method=method, lots__a__fibre=fibre)
    reducer, ash, other = ways(key, vat).values()
    assert (ash.material, other.material) == ("soda-ash", "baking-soda")
    assert pure(ash, vat) == pytest.approx(soda * pure(reducer, vat), rel=1e-3)
    assert pure(other, vat) == pytest.approx(baking * pure(reducer, vat), rel=1e-3)


@pytest.mark.parametrize("method", ["fructose-lime", "copperas-lime"])
def test_a_lime_vat_is_fed_without(method: str) -> None:
    """Lime lies at the bottom and gives what is taken: nothing goes in with sugar or copperas."""
    assert len(ways("air-in", vat_with(method=method, lots__a__fibre="cotton"))) == 1


def spent(account: Account) -> float:
    """Give the pH once all reducer in a vat has fallen apart, chalk settled."""
    return solve(spend(account.bath, SPENT), chalk=True).pH


@pytest.mark.parametrize("tap", ["soft", "medium", "hard"])
@pytest.mark.parametrize("fibre", ["wool", "silk", "cotton"])
@pytest.mark.parametrize("method", LYE)
def test_a_fed_vat_does_not_turn_sour(method: str, fibre: str, tap: str) -> None:
    """Fed once and up to four times with what goes with it, a vat ends no more than 0.16 lower than unfed."""
    vat = vat_with(method=method, lots__a__fibre=fibre, water__tap=tap)
    account = vat.account
    for _ in range(4):
        for item in ways("air-in", vat).values():
            account = with_powder(account, vat.plan, item.material, item.grams)
        assert spent(account) >= spent(vat.account) - 0.16
        assert predict(account).pH <= vat.setting.window.block


@pytest.mark.parametrize("fibre", FLEECE)
@pytest.mark.parametrize("method", LYE)
@pytest.mark.parametrize("pH", [10.6, 11.0])
def test_baking_soda_brings_a_vat_down_to_its_window(fibre: str, method: str, pH: float) -> None:
    """As the worked-out amount says, at the vat's own temperature; the dye stays as strong."""
    high = Reading(temperature=Amount(45, "degC"), pH=pH, pH_by=PHBy.METER)
    vat = vat_with(high, method=method, lots__a__fibre=fibre)
    found = ways("too-alkaline", vat)["baking-soda"]
    after = with_powder(as_read(vat), vat.plan, found.material, found.grams)
    assert predict(after).pH == pytest.approx(vat.setting.window.target, abs=0.02)
    assert after.indigotin_g == vat.account.indigotin_g
    assert found.guard is None


@pytest.mark.parametrize("pH", [11.8, 12.2])
@pytest.mark.parametrize("method", [*LYE, "tdo-soda", "dithionite-soda"])
def test_baking_soda_spares_a_cotton_vat_its_dye(method: str, pH: float) -> None:
    """Thinned, a cotton vat at pH 12.2 loses half its dye and more; baking soda stops where it is dosed to."""
    high = Reading(temperature=Amount(45, "degC"), pH=pH, pH_by=PHBy.METER)
    vat = vat_with(high, method=method, lots__a__fibre="cotton")
    found = ways("too-alkaline", vat)["baking-soda"]
    after = with_powder(as_read(vat), vat.plan, found.material, found.grams)
    assert predict(after).pH == pytest.approx(vat.setting.window.target, abs=0.02)
    assert after.indigotin_g == vat.account.indigotin_g


def test_where_baking_soda_does_not_do_it_another_way_is_left() -> None:
    """A vat of 30 g/L of lye takes more than 12 g/L: thinning, or cotton."""
    high = Reading(temperature=Amount(45, "degC"), pH=13.2, pH_by=PHBy.METER)
    found = ways("too-alkaline", vat_with(high))
    assert "for-cotton" in found
    assert found.get("baking-soda") is None or found["baking-soda"].does == "nothing"


@pytest.mark.parametrize("pH", [9.0, 10.5])
@pytest.mark.parametrize("method", ["fructose-lime", "copperas-lime", "plant-lime", "zinc-lime"])
def test_no_lime_goes_in_for_a_pH_that_is_doubted(method: str, pH: float) -> None:
    """The account has its lime, and one strip says otherwise: read twice, lime goes in with the reducer."""
    vat = vat_with(
        Reading(pH=pH, pH_by=PHBy.STRIP, pH_temperature=Amount(25, "degC")), method=method, lots__a__fibre="cotton"
    )
    assert not any(name.endswith("-with-it") for name in ways("air-in", vat))
    assert any(name.endswith("-with-it") for name in ways("air-in", evolve(vat, confirmed=True)))


@pytest.mark.parametrize("tap", ["soft", "medium", "hard"])
@pytest.mark.parametrize(("fibre", "low", "high"), [("linen", 9.5, 10.4), ("wool", 8.5, 9.7)])
def test_bran_fed_near_the_low_end_brings_soda_for_its_acid(fibre: str, low: float, high: float, tap: str) -> None:
    """Two lactic acids for each hexose leave the vat within its window until it is read the next day.

    Near the top that of plants needs none.
    """
    for pH in (low + 0.1, high):
        read = Reading(temperature=Amount(35, "degC"), pH=pH, pH_by=PHBy.METER, colour=Colour.YELLOW_GREEN)
        vat = vat_with(read, method="fermentation", lots__a__fibre=fibre, water__tap=tap)
        fed = ways("short-of-reducer", vat)
        assert fibre == "wool" or ("soda-ash-with-it" in fed) is (pH < high)
        account = as_read(vat)
        for item in fed.values():
            account = with_powder(account, vat.plan, item.material, item.grams) if item.material else account
        left = 1 - as_read(vat).bath.starch / account.bath.starch
        next_day = aged(account, 24, Keeping("fermentable starch", 0.0, 35))
        for bath in (turned_sour(account.bath, left), next_day.bath):
            assert low <= solve(bath).pH <= vat.setting.window.high
