"""The card of a blue, and why two blues came out apart."""

from __future__ import annotations

from datetime import UTC

import pytest
from attrs import evolve
from hypothesis import given
from tests.effort import examples
from tests.log.played import BEGAN, Played
from tests.log.strategies import sessions
from tests.plan.plans import kept_vat, plan_with, wool_plan

from vatside.chemistry.colour import Lab
from vatside.days.blue_card import card_lines, card_text
from vatside.days.blues import Dips, told_together
from vatside.days.day_record import DayRecord, Fact, day_record, quantity
from vatside.days.why_apart import apart_lines, chosen_pair, reasons
from vatside.log.events.day import ColourNoted, NoteWritten, PowderTaken
from vatside.log.events.vat import (
    CorrectionMade,
    DipEnded,
    DipStarted,
    LotDipped,
    PieceDone,
    ReadingTaken,
    SwatchRecorded,
    VatCarriedOn,
    VatMade,
    VatSpent,
)
from vatside.log.state import Session
from vatside.plan.plan import Plan, ShelfEntry
from vatside.recipe.compute import compute
from vatside.units import Amount
from vatside.vat.kept_vat import KeptVat
from vatside.vat.reading import PHBy, Reading

TAKEN = PowderTaken("indigo", "i1", "B", ShelfEntry("indigo", Amount(50, "%"), None))


def card(day: Played | Plan) -> DayRecord:
    """The card of a day."""
    return day_record((day if isinstance(day, Played) else Played(day)).session, UTC)


def line(found: DayRecord, label: str) -> str:
    """One line of a card."""
    return next((value for name, value in card_lines(found) if name == label), "")


def number(found: DayRecord, fact: str) -> float | None:
    """One number of what makes a blue."""
    return found.blue[fact].value


def test_the_pigment_is_named_with_its_lot_and_what_it_was_dosed_as() -> None:
    """Taken from the shelf, it brings the name of its lot."""
    assert line(card(Played().happen(TAKEN)), "Pigment") == "natural indigo powder, batch B, dosed as 50 % indigotin"
    assert line(card(Played()), "Pigment") == "natural indigo powder, dosed as 40 % indigotin"


def test_the_strength_is_that_of_what_was_held() -> None:
    """Half the pigment, half the strength."""
    day = Played().set("stock.pigment", "3.243 g")
    assert number(card(day), "strength") == pytest.approx(compute(wool_plan())["vat.strength"].value / 2, rel=1e-3)


def test_what_went_in_is_summed_over_stock_vat_and_corrections() -> None:
    """Four grams in the stock, three to sharpen and two as a correction are nine of the same reducer."""
    day = Played().set("stock.reducer", "4 g").set("vat.reducer", "3 g").done("stock.reducer_in", "vat.reducer_in")
    day.happen(VatMade()).happen(CorrectionMade(material="reducer", amount=Amount(2, "g")))
    assert line(card(day), "Reducer") == "9.0 g of thiourea dioxide, 0.445 g/L"


def test_before_anything_went_in_the_card_says_what_is_planned() -> None:
    """A card of a plan alone has the same lines, marked as planned."""
    found = card(Played())
    assert line(found, "Indigo") == "6.5 g of natural indigo powder (planned)"
    assert line(found, "Alkali").endswith("(planned)")
    assert line(found, "Came out") == "no colour was noted"


def test_the_finish_is_told_as_it_was_done() -> None:
    """Real times where a wait was sat out, the rinses and the acid that went in; steps not done are left out.

    Pure water has no alkalinity: a few drops of vinegar bring 7 L to pH 5.
    """
    day = Played().done("finish.wool.rinse").waited("finish.wool.sour", 9).done("finish.wool.sour")
    day.waited("finish.wool.wash", 14).done("finish.wool.wash")
    assert line(card(day), "Finish") == (
        "wool: rinsed 3 times, soured 9 min with 0.3 mL of vinegar, washed 14 min at 45 °C"
    )
    assert line(card(Played()), "Finish") == ""


def test_a_kept_vat_is_named() -> None:
    """What the blue came out of was not made anew."""
    vat = KeptVat(15, 1, "sodium hydroxide", 4, "thiourea dioxide", 0, 3, 2)
    found = card(Played().happen(VatCarriedOn("s0", "Monday", BEGAN, vat)))
    assert line(found, "Kept vat") == "from “Monday”: 15 L with 1.0 g of indigotin"


def many(count: int) -> Plan:
    """A plan of many lots of four fibres."""
    plan = wool_plan()
    fibres = ("wool", "cotton", "silk", "linen")
    made = (evolve(plan.lots[0], id=f"l{n}", name=f"Lot {n}", fibre=fibres[n % 4], pieces=1) for n in range(count))
    return evolve(plan, lots=tuple(made))


def test_forty_lots_read_as_a_card() -> None:
    """A line for each fibre, not for each lot; a few lots are told one by one."""
    found = card(many(40))
    fibres = [value for label, value in card_lines(found) if label == "Fibre"]
    assert fibres[0] == "10 lots: 2.27 kg of wool, 10 × skeins, depth wanted 0.8 %"
    assert len(fibres) == 4
    assert [value.partition(":")[0] for label, value in card_lines(found) if label == "Dips"] == [
        f"10 lots of {fibre}" for fibre in ("wool", "cotton", "silk", "linen")
    ]
    assert len(card_lines(found)) < 24
    few = card(many(3))
    assert [value.partition(":")[0] for label, value in card_lines(few) if label == "Dips"] == [
        "Lot 0",
        "Lot 1",
        "Lot 2",
    ]


def test_lots_without_a_colour_are_named_once_one_has_one() -> None:
    """Of forty lots one was noted: the others are counted; of three they are named."""
    day = Played(many(40)).happen(ColourNoted("l0", "sky"))
    assert [value for label, value in card_lines(card(day)) if label == "Came out"] == [
        "Lot 0: sky",
        "no colour was noted of 39 lots",
    ]
    few = Played(many(3)).happen(ColourNoted("l0", "sky"))
    assert [value for label, value in card_lines(card(few)) if label == "Came out"][1] == (
        "no colour was noted of Lot 1, Lot 2"
    )


def test_a_lot_that_wants_no_dye_gets_no_dips() -> None:
    """Depth 0 is a lot all the same."""
    assert line(card(plan_with(lots__a__depth="0 %")), "Dips") == "none (planned)"


def test_a_reading_stands_with_its_temperature_beside_the_worked_out_one() -> None:
    """The pH read by meter at 44 °C is told as such; the worked-out one stays."""
    reading = Reading(Amount(44, "degC"), 9.4, pH_by=PHBy.METER)
    found = card(Played().happen(ReadingTaken(Reading(pH=11))).happen(ReadingTaken(reading)))
    assert (number(found, "pH_read"), number(found, "celsius")) == (9.4, 44)
    assert line(found, "pH read") == "9.4 at 44 °C (meter)"
    assert line(found, "pH worked out").endswith("at 47 °C planned")


def test_what_went_in_beyond_the_plan_is_in_the_pH() -> None:
    """Six grams of lye past the plan stand beside its pH as a higher one, and stay there once the vat is spent."""
    day = Played().happen(VatMade()).happen(CorrectionMade(material="lye", amount=Amount(6, "g")))
    said = line(card(day), "pH worked out")
    planned, _, account = said.partition(" planned; ")
    assert float(account.removeprefix("pH ").split()[0]) > float(planned.split()[0])
    assert line(card(day.happen(VatSpent())), "pH worked out") == said


def test_dips_are_the_plans_until_they_are_known() -> None:
    """Without dips in the log the card says that they were planned."""
    assert line(card(Played()), "Dips").endswith("(planned)")


def three_dips() -> Played:
    """The first piece in and out three times: five minutes in, a quarter of an hour in the air."""
    day = Played().happen(VatMade())
    for _ in range(3):
        day.happen(DipStarted("a.1", 5)).happen(DipEnded("a.1", 15), 5).happen(NoteWritten("airs"), 13)
    return day.happen(PieceDone("a.1"))


def test_dips_are_those_of_the_piece_that_got_most() -> None:
    """Three dips of five minutes, and a quarter of an hour in the air after each but the last minute."""
    day = three_dips().happen(DipStarted("a.2", 5)).happen(DipEnded("a.2", 15), 7)
    dips = card(day).lots[0].dips
    assert (dips.number, dips.as_done) == (3, True)
    assert dips.dip_min == pytest.approx(5)
    assert dips.air_min == pytest.approx(3 * 14)


def under_way() -> Played:
    """A vat is there; the first of two skeins was in for six minutes, the other for one of them."""
    day = Played().happen(VatMade()).happen(DipStarted("a.1", 5)).happen(DipStarted("a.2", 5))
    return day.happen(DipEnded("a.2", 15)).happen(DipEnded("a.1", 15), 4)


def test_while_pieces_are_still_to_dip_both_are_told() -> None:
    """What they had, as a span, and what is planned; the same of what is on them."""
    dips, on = line(card(under_way()), "Dips"), line(card(under_way()), "Indigo on it")
    assert dips.startswith("so far 1 of 1 min to 6 min, air not timed, on 2 of 2 pieces; ")
    assert dips.endswith("(planned)")
    assert on.startswith("so far about ")
    assert on.endswith("% planned")


def test_once_all_pieces_are_done_nothing_is_planned() -> None:
    """Both had their last dip: what they had is all there is."""
    day = under_way().happen(PieceDone("a.1")).happen(PieceDone("a.2"))
    assert line(card(day), "Dips").startswith("1 of 1 min to 6 min, ")
    assert "planned" not in line(card(day), "Dips") + line(card(day), "Indigo on it")


def test_the_longest_of_equal_dips_stands_for_the_lot() -> None:
    """One dip each, of one and of six minutes: the longer one is compared."""
    dips = card(under_way()).lots[0].dips
    assert (dips.number, dips.dip_min, dips.so_far) == (1, 6, True)


def test_dips_written_down_for_a_whole_lot_count_as_well() -> None:
    """Nobody timed the air."""
    day = Played().happen(VatMade()).happen(LotDipped("a", 2, 4)).happen(LotDipped("a", 2, 6))
    assert card(day).lots[0].dips == Dips(2, 5, 0, as_done=True)


def test_swatches_of_pieces_are_named_by_their_piece() -> None:
    """A picked step and a graded one, beside the words for the lot."""
    day = Played().happen(ColourNoted("a", "fine")).happen(SwatchRecorded("a.1", step=Amount(0.8, "%")))
    day.happen(SwatchRecorded("a.2", step=Amount(0.8, "%"), grade=4, darker=True))
    assert line(card(day), "Came out") == (
        "Wool skeins: fine; Wool skeins 1: as the step of 0.8 %; Wool skeins 2: darker than the step of 0.8 %, grade 4"
    )


def test_the_colour_that_was_noted_last_counts() -> None:
    """The first look was wet."""
    day = (
        Played().happen(ColourNoted("a", "black?")).happen(ColourNoted("a", "mid blue", Amount(0.7, "%"), (35, 1, -28)))
    )
    found = card(day)
    assert line(found, "Came out") == "Wool skeins: mid blue, 0.7 %, L* a* b* 35, 1, -28"
    assert found.lots[0].lab == Lab(35, 1, -28)


def test_a_colour_of_nothing_is_a_misfit() -> None:
    """A lot that is not there, a depth that is none and half a measured colour change nothing."""
    day = Played().happen(ColourNoted("zz", "blue")).happen(ColourNoted("a", "", Amount(3, "g")))
    day.happen(ColourNoted("a", "", None, (1.0,)))
    assert len(day.state.misfits) == 3
    assert (card(day).lots[0].lab, card(day).lots[0].depth) == (None, None)


def test_the_card_prints_on_lines_of_its_own() -> None:
    """Title and day first, then a line for each thing; nothing that a terminal would act on."""
    text = card_text(card(Played(evolve(wool_plan(), title="x\x1b[31m\ny"))))
    assert text.splitlines()[0] == "x [31m y, 2026-05-02"
    assert all(part.isprintable() for part in text.splitlines())


def test_the_same_day_has_nothing_that_parts_it() -> None:
    """A card laid beside itself shows no reason."""
    same = card(Played().happen(VatMade()).happen(LotDipped("a", 2, 4)))
    assert reasons(same, same) == ()
    assert list(apart_lines(same, same)) == ["Nothing differs by enough to be seen."]


def test_a_day_that_was_never_dyed_has_no_blue_to_explain() -> None:
    """No dips and no colour on one side: what differs is listed, and no cause is made of it."""
    dyed = card(Played().happen(VatMade()).happen(LotDipped("a", 2, 4)).set("stock.pigment", "3 g"))
    said = list(apart_lines(dyed, card(Played())))
    assert said[0] == "“A new day” has no dips and no colour written down: there is no blue to explain."
    assert any(line.startswith("  Indigotin: ") for line in said)
    assert not any("Most likely" in line or "darker" in line for line in said)
    assert next(apart_lines(card(Played()), card(Played()))).startswith("Neither day has dips or a colour")


def on_kept(reducer_g: float) -> Played:
    """A day on a vat that stands in the tub with some reducer and wants none."""
    kept = evolve(kept_vat(litres=15, indigotin_g=3), reducer=Amount(reducer_g, "g"))
    vat = KeptVat(15, 3, "sodium hydroxide", 4, "thiourea dioxide", reducer_g, 3, 0)
    return Played(evolve(wool_plan(), kept=kept)).happen(VatCarriedOn("s0", "Monday", BEGAN, vat))


def test_what_stood_in_the_kept_vat_counts() -> None:
    """19.5 g of reducer in 15 L of kept vat are 19.5 g in this one, of which nothing was put in."""
    found = card(on_kept(19.5))
    liquor = compute(on_kept(19.5).plan).value("vat.liquor")
    assert number(found, "reducer") == pytest.approx(19.5 / liquor, rel=1e-3)
    assert line(found, "Kept vat").endswith("of alkali, as lye, and 19.5 g of reducer, pure")


UNITS = {"pH_worked": "pH", "pH_read": "pH", "celsius": "degC", "purity": "%", "for_fibre": "%"}
LABELS = {"pH_read": "pH read", "finish": "Finish"}


def changed(day: DayRecord, **facts: object) -> DayRecord:
    """A day with some facts of its blue changed."""
    blue = dict(day.blue)
    for name, value in facts.items():
        label = blue[name].label if name in blue else LABELS[name]
        if isinstance(value, float):
            blue[name] = quantity(name, label, value, UNITS.get(name, "g/L"))
        else:
            blue[name] = Fact(name, label, str(value))
    return evolve(day, blue=blue)


def of(dips: Dips = Dips(4, 5, 60, as_done=True), **facts: object) -> DayRecord:  # noqa: B008  (a frozen value)
    """A day of four dips with some facts of its blue changed."""
    day = card(Played())
    day = evolve(day, lots=(evolve(day.lots[0], dips=dips),))
    return changed(day, **{"strength": 1.0, "pH_worked": 10.0, "celsius": 45.0, **facts})


@pytest.mark.parametrize(
    ("changes", "first"),
    [
        ({"strength": 0.5}, "Indigotin"),
        ({"pH_worked": 11.0}, "pH worked out"),
        ({"celsius": 30.0}, "Temperature"),
        ({"dips": Dips(9, 5, 60, as_done=True)}, "Dips"),
        ({"dips": Dips(4, 5, 20, as_done=True)}, "Time in the air"),
        ({"purity": 20.0}, "Purity"),
        ({"pigment": "natural indigo powder, lot A"}, "Pigment"),
        ({"vat": "fructose and lime; fructose"}, "Kind of vat"),
    ],
)
def test_what_alone_differs_is_the_reason(changes: dict[str, object], first: str) -> None:
    """One thing apart, and large enough to be seen."""
    (reason,) = reasons(of(), of(**changes))  # type: ignore[arg-type]
    assert reason.label == first
    assert reason.likely


def test_the_larger_difference_is_the_likelier_reason() -> None:
    """Twice the dips outweigh a tenth more dye; a tenth of a pH nobody sees."""
    found = reasons(of(), of(strength=1.11, pH_worked=10.1, dips=Dips(8, 5, 60, as_done=True)))
    assert [reason.label for reason in found] == ["Dips", "Indigotin", "pH worked out"]
    assert [reason.likely for reason in found] == [True, True, False]


def test_equal_differences_keep_the_trades_order() -> None:
    """Three degrees and another lot weigh the same; the temperature comes first."""
    found = reasons(of(), of(celsius=48.0, pigment="natural indigo powder, lot A"))
    assert [(reason.label, reason.weight) for reason in found] == [("Temperature", 1), ("Pigment", 1)]


def test_a_vat_without_dye_is_as_far_apart_as_can_be() -> None:
    """Nothing beside something; nothing beside nothing is the same."""
    (reason,) = reasons(of(), of(strength=0.0))
    assert reason.weight >= 10
    assert reasons(of(strength=0.0), of(strength=0.0)) == ()


def test_air_that_nobody_timed_is_no_reason() -> None:
    """One of the two is not known."""
    assert reasons(of(), of(dips=Dips(4, 5, 0, as_done=True))) == ()


def test_a_read_pH_is_never_held_against_a_worked_out_one() -> None:
    """One of the two vats was read: only the worked-out values are of one kind."""
    (reason,) = reasons(of(pH_read=9.0), of(pH_worked=10.5))
    assert (reason.label, reason.left, reason.right) == ("pH worked out", "10.0", "10.5")


def test_reasons_say_which_way_they_go() -> None:
    """Less dye is paler, seen from the right card."""
    assert reasons(of(), of(strength=0.5))[0].says == "less dye in the vat: paler"
    assert reasons(of(strength=0.5), of())[0].says == "more dye in the vat: darker"


def test_measured_colours_of_one_fibre_are_held_against_each_other() -> None:
    """Wool beside wool; three more of L* is paler."""
    left = Played().happen(ColourNoted("a", "", None, (35, 0, -28)))
    right = Played().happen(ColourNoted("a", "", None, (38, 4, -28)))
    said = next(apart_lines(card(left), card(right)))
    assert said.startswith("Wool skeins: colour distance 5.0 (up to 3 is the same blue)")
    assert said.endswith("the second is paler")


def came(depth: float, *, strength: str = "", dips: str = "") -> DayRecord:
    """A day that came out at a depth, with its pigment and its dips held."""
    day = Played().happen(ColourNoted("a", "", Amount(depth, "%")))
    for path, text in (("stock.pigment", strength), ("dip.a.dips", dips)):
        if text:
            day.set(path, text)
    return card(day)


def test_what_pulls_the_other_way_explains_nothing() -> None:
    """It came out darker from less dye but more dips: the dips are why, the dye would have made it paler."""
    said = list(apart_lines(came(0.4, dips="4"), came(0.8, strength="3 g", dips="12")))
    assert said[0] == "Wool skeins: 0.4 % → 0.8 % on the ladder; the second is darker"
    why, rather = said.index("Most likely because of:"), said.index("What would rather have made it paler:")
    assert "Dips" in said[why + 1]
    assert any(line.startswith("  - Indigotin: ") for line in said[rather:])
    assert not any("Indigotin:" in line for line in said[why:rather])


def test_a_difference_that_nothing_explains_is_said() -> None:
    """Darker, from the same vat and the same dips."""
    said = list(apart_lines(came(0.4), came(0.8)))
    assert said[1].startswith("Nothing that was written down explains it")


def test_two_days_of_the_same_blue_have_no_cause_to_name() -> None:
    """Both came to the same step of the ladder, from less dye and more dips: what differs is told, not blamed."""
    said = list(apart_lines(came(0.8, dips="4"), came(0.8, strength="3 g", dips="12")))
    assert said[:2] == ["Wool skeins: 0.8 % → 0.8 % on the ladder", "The same blue, though these differ:"]


def test_without_a_colour_every_reason_counts() -> None:
    """Nobody noted what came out: no reason is known to pull the other way."""
    dyed = [Played().happen(VatMade()).happen(LotDipped("a", 2, 4)) for _ in range(2)]
    said = list(apart_lines(card(dyed[0]), card(dyed[1].set("stock.pigment", "3 g"))))
    assert said[0] == "Most likely because of:"
    assert not any("rather" in line for line in said)


def test_lots_are_held_against_those_of_their_name() -> None:
    """Wool and cotton in another order: the dips of the wool, the heavier, stand beside those of the wool."""
    plan = wool_plan()
    wool, cotton = plan.lots[0], evolve(plan.lots[0], id="b", name="Towels", fibre="cotton", mass=Amount(200, "g"))
    one = Played(evolve(plan, lots=(wool, cotton))).happen(VatMade())
    other = Played(evolve(plan, lots=(evolve(cotton, id="a"), evolve(wool, id="b")))).happen(VatMade())
    for day, times in ((one, {"a.1": 2, "b.1": 5}), (other, {"b.1": 2, "a.1": 7})):
        for piece, count in times.items():
            for _ in range(count):
                day.happen(DipStarted(piece, 5)).happen(DipEnded(piece, 15), 5)
    left, right = chosen_pair(card(one), card(other))
    assert (left.lot.fibre, left.dips.number) == (right.lot.fibre, right.dips.number) == ("wool", 2)


@pytest.mark.parametrize(
    ("changes", "label"),
    [
        ({"for_fibre": 0.5}, "Indigotin for the fibre"),
        ({"reducer": 4.0}, "Reducer"),
        ({"finish": "wool: rinsed once"}, "Finish"),
    ],
)
def test_the_rest_of_the_card_can_be_the_reason(changes: dict[str, object], label: str) -> None:
    """Dye for each gram, reducer and finish as well."""
    plain = changed(of(), for_fibre=1.0, reducer=0.4, finish="wool: rinsed 3 times")
    (reason,) = reasons(plain, changed(plain, **changes))
    assert reason.label == label


def test_another_fibre_is_a_reason() -> None:
    """Cotton beside wool."""
    found = reasons(card(Played()), card(plan_with(lots__a__fibre="cotton")))
    assert ("Fibre", "wool", "cotton") in [(reason.label, reason.left, reason.right) for reason in found]


def test_twice_the_purity_on_the_label_is_half_the_powder() -> None:
    """The card of a stronger lot shows the same strength from less powder, and names the purity as what differs."""
    left, right = card(Played()), card(plan_with(shelf__indigo__purity="80 %"))
    assert number(left, "strength") == pytest.approx(number(right, "strength"))
    assert "Purity" in [reason.label for reason in reasons(left, right)]


@examples(20)
@given(sessions(), sessions())
def test_any_two_cards_can_be_held_against_each_other(one: Session, other: Session) -> None:
    """Either way round the same things differ by the same weight."""
    left, right = day_record(one, UTC), day_record(other, UTC)
    there = {reason.label: reason.weight for reason in reasons(left, right)}
    back = {reason.label: reason.weight for reason in reasons(right, left)}
    assert there.keys() == back.keys()
    assert all(back[label] == pytest.approx(weight) for label, weight in there.items())


def test_a_single_lot_that_is_left_out_is_counted_as_one() -> None:
    """Of seven lots that are told apart six are named; the last is 1 lot, not lots."""
    assert told_together((f"Lot {number}", f"dip {number}") for number in range(7))[-1] == "and 1 lot more"
