"""The trade's one-day class, whole: common practice, no source; the numbers are derived in the tests.

Ten people, 100 g of cotton each, a medium blue of 1 % on weight of fibre; powder of 40 %, 70 % of the dye on the fibre;
15 L, five pieces at an entry, four dips, about 90 minutes with the airing. The four dips are those of a vat that is
kept at 1 g/L or begun at 1.2 to 1.5 g/L; by the law that the practice table gives, 36 g of powder in all cannot bring
both four dips and 70 % of its dye on the fibre, and the sheet says what it takes.
"""

import pytest
from attrs import evolve
from tests.plan.plans import plan_of_lots, told, wool_plan

from vatside.dips.entry_rule import NEVER
from vatside.dips.lot import dip_lots, pieces_of
from vatside.dips.run import COOLS, Warmth, hob_minutes, run
from vatside.dips.uptake import Tank
from vatside.plan.plan import Dosing, Plan
from vatside.recipe.compute import compute
from vatside.recipe.cooling import KETTLE_C
from vatside.recipe.sizing import size_of


def class_plan(*lots: tuple[str, str], **changes: str) -> Plan:
    """Give the class, ten lots of 100 g cotton that come ready, in a tub of 17.65 L to the brim, spent at the end."""
    plan = plan_of_lots(*(lots or [("cotton", "100 g")] * 10), plan=evolve(wool_plan(), pins=(), dosing=Dosing.SPENT),
                        vessels__tub__volume="17.65 L")  # fmt: skip
    for lot in plan.lots:
        for name, text in (("depth", "1 %"), ("condition", "ready"), ("pieces", "1")):
            plan = told(plan, f"lots.{lot.id}.{name}", text)
    for name, text in changes.items():
        plan = told(plan, name.replace("__", "."), text)
    return plan


def class_of_ten(**changes: str) -> dict[str, float]:
    """Give the figures of the class."""
    return {figure.id: figure.value for figure in compute(class_plan(**changes)).figures}


def test_indigotin() -> None:
    """1000 g x 1 % / 0.70 = 14.3 g."""
    assert class_of_ten()["stock.wanted"] == pytest.approx(14.3, abs=0.05)


def test_powder() -> None:
    """14.3 g / 0.40 = 36 g."""
    assert class_of_ten()["stock.pigment"] == pytest.approx(36, abs=0.5)


def test_it_fits_one_jar() -> None:
    """36 g is within the 25 to 60 g a litre of stock holds."""
    assert class_of_ten()["stock.jars"] == 1


def test_strength_of_the_vat() -> None:
    """14.3 g in 15 L is 0.95 g/L, a medium vat."""
    figures = class_of_ten()
    assert figures["vat.fill"] == pytest.approx(15, abs=0.01)
    assert figures["vat.strength"] == pytest.approx(0.95, rel=0.04)


def test_five_pieces_an_entry() -> None:
    """15 L at 30 L/kg take 500 g, five pieces of a hundred: two groups."""
    figures = class_of_ten()
    assert figures["vat.entry"] == pytest.approx(500, rel=0.001)
    assert figures["vat.entries"] == 2


def test_the_dye_is_enough_for_everyone() -> None:
    """Each of the ten can dye all of the hundred grams: the indigo is not the bottleneck."""
    figures = class_of_ten()
    assert [figures[f"vat.dyes.{letter}"] for letter in "abcdefghij"] == pytest.approx([100] * 10)


def one_lot(pieces: str = "10") -> dict[str, float]:
    """Give the figures of a kilogram of cotton as one lot."""
    plan = told(class_plan(("cotton", "1 kg")), "lots.a.pieces", pieces)
    return {figure.id: figure.value for figure in compute(plan).figures}


@pytest.mark.parametrize(
    "figure", ["stock.pigment", "vat.fill", "dip.minutes", "dip.all_entries", "dip.hands", "dip.kept", "dip.on_fibre"]
)
def test_ten_lots_are_one_lot_of_ten(figure: str) -> None:
    """The same powder, the same litres, and the same time to the minute."""
    assert class_of_ten()[figure] == pytest.approx(one_lot()[figure])


def test_the_order_of_the_lots_does_not_matter() -> None:
    """Light and dark named the other way round: the same vat, the same dips for each depth, the same minutes."""
    deep = {"lots__c__depth": "2 %", "lots__f__depth": "0.4 %"}
    plan = class_plan(**deep)
    one, other = (compute(evolve(plan, lots=lots)) for lots in (plan.lots, tuple(reversed(plan.lots))))
    dips = (sorted((lot.depth.value, sheet[f"dip.{lot.id}.dips"].value) for lot in plan.lots) for sheet in (one, other))
    assert next(dips) == next(dips)
    for figure in ("vat.fill", "stock.pigment", "dip.minutes", "dip.all_entries"):
        assert one[figure].value == pytest.approx(other[figure].value)


def test_it_is_done_in_a_class() -> None:
    """Six or seven dips in 2.3 h from 36 g of powder: more than the trade's four, as the vat weakens to a fifth."""
    size = size_of(class_plan())
    assert {end.dips for end in size.run.ends} <= {6, 7}
    assert size.run.minutes / 60 == pytest.approx(2.3, abs=0.1)
    assert size.run.deep
    assert size.run.waits_for_air


@pytest.mark.parametrize(("powder", "dips", "minutes"), [("45 g", 5, 96), ("56 g", 4, 75)])
def test_a_vat_that_is_begun_stronger(powder: str, dips: int, minutes: float) -> None:
    """1.2 g/L (45 g) does it in five dips and 96 min, 1.5 g/L (56 g) in the trade's four and 75 min.

    By hand: (n - 1) x (5 + 1 + 15) + 2 x (5 + 1); about 90 with a minute more for each of the entries.
    """
    size = size_of(class_plan(stock__pigment=powder))
    assert size.run.dips == dips
    assert size.run.minutes == minutes == (dips - 1) * 21 + 12


def test_a_vat_that_is_kept_up_does_it_in_four() -> None:
    """At 1 g/L throughout: four dips come to 0.96 %, within 5 % of what is wanted; 75 min, 90 with a rest."""
    plan = class_plan()
    pieces = [piece for item in dip_lots(plan) for piece in pieces_of(item, 500)]
    kept_up = run(pieces, Tank(1e6, 1.0), handling=1, when=NEVER)
    assert {end.dips for end in kept_up.ends} == {4}
    assert kept_up.deep
    assert 75 <= kept_up.minutes <= 90


def test_it_cools_by_hand() -> None:
    """15 L at 49 in a room of 20: half a kilogram brings 0.5 x (1.4 + 0.3) = 0.85 L as cold as the room.

    49 - 29 x 0.85 / 15.85 = 47.44; the tub loses 0.17 / h x (20/15)^(1/3), a minute 0.31 %. The second group goes in
    after the first, then the vat stands idle for its air: 46.9, 44.3, 42.6, 40.4; below 40.5 it is warmed again.
    """
    assert COOLS == 0.17
    plan = class_plan(stock__pigment="45 g")
    pieces = [piece for item in dip_lots(plan) for piece in pieces_of(item, 500)]
    warm = Warmth(49, 40, 50, 20, 1.5)
    made = run(pieces, Tank(15, 1.2), handling=1, when=NEVER, warmth=warm)
    first = made.warmings[0]
    by_hand, entries = [], 49.0
    for minutes in (6, 15, 6, 15):
        entries = 20 + (entries - 20) * (1 - 0.85 / 15.85)
        entries = 20 + (entries - 20) * 2.718281828 ** (-0.17 / 60 * (20 / 15) ** (1 / 3) * minutes)
        by_hand.append(round(entries, 1))
    assert by_hand == [46.9, 44.3, 42.6, 40.4]
    assert [item.after for item in made.warmings] == [4, 8]
    assert first.cold == pytest.approx(40.4, abs=0.05)
    assert first.warm == 49


def test_warming_it_again_by_hand() -> None:
    """15 L by 8.6 K on 1.5 kW, of which 80 % stay: 4.19 x 15 x 8.6 / (60 x 1.5 x 0.8) = 7.5 min.

    Or 15 x 8.6 / (95 - 40.4) = 2.4 L of kettle water in place of as much liquor.
    """
    assert hob_minutes(15, 8.6, 1.5) == pytest.approx(7.5, abs=0.05)
    assert pytest.approx(2.4, abs=0.05) == 15 * 8.6 / (KETTLE_C - 40.4)


def test_fifty_grams_of_powder() -> None:
    """50 g at 40 % hold 20 g of indigotin: about 700 g of cotton at 2 % with 70 % on the fibre."""
    plan = class_plan(("cotton", "1 kg"), lots__a__depth="2 %", stock__pigment="50 g")
    sheet = compute(plan)
    assert sheet["stock.indigotin"].value == pytest.approx(20)
    assert sheet["vat.dyes.a"].value == pytest.approx(700)
