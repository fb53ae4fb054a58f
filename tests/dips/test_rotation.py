"""Who goes into the vat next: rules of the board, and whole days played by it."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from attrs import define, evolve, field
from hypothesis import given
from hypothesis import strategies as st
from tests.effort import examples
from tests.plan.plans import plan_with, told

from vatside.catalogue.dyeing import pauses
from vatside.catalogue.load import fibres
from vatside.dips import run
from vatside.dips.entry_rule import NEVER, Rests, Stay, VatUse, rests, vat_use
from vatside.dips.lot import dip_lots, pieces_of
from vatside.dips.rotation import Call, Do, Piece, Place, Standing, board, next_move, next_piece, pieces
from vatside.dips.run import Run
from vatside.dips.uptake import Entry, Law, Tank, enter, law_of
from vatside.plan.paths import add_lot
from vatside.plan.plan import Dosing, Plan
from vatside.plan.starter import new_lot
from vatside.recipe.compute import compute

FRESH = VatUse()
USUAL = Rests(180, 60, 6, 12)


def piece(name: str, **changes: object) -> Piece:
    """Give a piece that dips 5 min and airs 15, alone in the vat."""
    plain = Piece(name, name, name.partition(".")[0], 1, 100, 0.8, 3, 5, 15, 1)
    return evolve(plain, **changes)  # type: ignore[arg-type]


def aired(dips: int, left: float) -> Standing:
    """Give a piece in the air with seconds left."""
    return Standing(Place.AIRING, dips, 0, left)


def test_the_first_piece_goes_in_first() -> None:
    """Before anything happened the first in order is called for."""
    call = next_move([piece("a.1"), piece("a.2")], {}, FRESH, NEVER)
    assert (call.do, call.piece) == (Do.ENTER, "a.1")


def test_lifting_out_comes_before_everything() -> None:
    """A piece whose dip is over is lifted before the next goes in."""
    where = {"a.1": Standing(Place.IN_VAT, 1, 310, -10), "a.2": aired(1, -60)}
    call = next_move([piece("a.1"), piece("a.2")], where, FRESH, NEVER)
    assert (call.do, call.piece) == (Do.LIFT, "a.1")


def test_nobody_goes_in_before_its_time() -> None:
    """With a minute of air to go the board says wait, and for how long."""
    call = next_move([piece("a.1", dips=2)], {"a.1": aired(1, 60)}, FRESH, NEVER)
    assert (call.do, call.piece, call.seconds) == (Do.WAIT, "a.1", 60)


def test_the_one_that_waited_longest_goes_first() -> None:
    """Of two aired pieces the one that is overdue by more."""
    where = {"a.1": aired(1, -30), "a.2": aired(1, -90)}
    found = next_piece([piece("a.1"), piece("a.2")], where)
    assert found is not None
    assert found.id == "a.2"


def test_like_pieces_all_have_their_first_dip_before_one_has_its_second() -> None:
    """So that they stay alike: a new one goes in though another has aired."""
    found = next_piece([piece("a.1"), piece("a.2")], {"a.2": aired(1, 0)})
    assert found is not None
    assert found.id == "a.1"


def test_an_aired_piece_comes_before_a_new_one_of_another_kind() -> None:
    """Turns go on before pieces begin that are dipped for another time."""
    found = next_piece([piece("a.1"), piece("b.1", dip_min=8)], {"a.1": aired(1, 0)})
    assert found is not None
    assert found.id == "a.1"


def test_another_kind_may_fill_an_idle_vat() -> None:
    """While all that have begun still air, a piece that is dipped for another time goes in."""
    found = next_piece([piece("a.1"), piece("b.1", dip_min=8)], {"a.1": aired(1, 30)})
    assert found is not None
    assert found.id == "b.1"


def test_an_idle_vat_waits_for_protein_before_plant() -> None:
    """While wool airs between two dips the cotton stays out, and the board says why."""
    found = [piece("a.1", phase=0), piece("b.1")]
    call = next_move(found, {"a.1": aired(1, 600)}, FRESH, NEVER)
    assert (call.do, call.piece, call.why) == (Do.WAIT, "a.1", "plant fibres go in last")


def test_pieces_of_two_lots_share_an_entry() -> None:
    """Two thirds of an entry in the vat: a third of another lot that is dipped alike joins, a half does not."""
    inside = {"a.1": Standing(Place.IN_VAT, 1, 0, 300)}
    first, small, large = piece("a.1", share=2 / 3), piece("b.1", share=1 / 3), piece("b.1", share=0.5)
    assert next_piece([first, small], inside) == small
    assert next_piece([first, large], inside) is None


def test_one_that_has_aired_just_after_the_others_goes_in_with_them() -> None:
    """Half a minute after: it joins; two minutes after it waits until the vat is empty, and is an entry of its own."""
    lot = [piece(f"a.{number}", share=0.5) for number in (1, 2)]
    inside = {"a.1": Standing(Place.IN_VAT, 2, 30, 270), "a.2": aired(1, 0)}
    assert next_piece(lot, inside) == lot[1]
    assert next_piece(lot, inside | {"a.1": Standing(Place.IN_VAT, 2, 120, 180)}) is None


def test_a_vat_that_is_not_idle_says_only_who_airs() -> None:
    """With a piece in it, or nobody new to put in, what is waited for is the air alone."""
    where = {"a.1": aired(1, 60), "a.2": Standing(Place.IN_VAT, 1, 0, 120)}
    for found in ([piece("a.1"), piece("a.2"), piece("a.3")], [piece("a.1")]):
        assert next_move(found, where, FRESH, NEVER).why == "then it has aired long enough"


def test_a_full_vat_takes_nobody() -> None:
    """Two halves fill an entry; a third half waits."""
    lot = [piece(f"a.{number}", share=0.5) for number in (1, 2, 3)]
    inside = {"a.1": Standing(Place.IN_VAT, 1, 0, 300), "a.2": Standing(Place.IN_VAT, 1, 0, 300)}
    assert next_piece(lot, inside) is None
    found = next_piece(lot, {"a.1": inside["a.1"]})
    assert found is not None
    assert found.id == "a.2"


def test_plant_fibres_wait_for_protein() -> None:
    """Cotton stays out while wool still has dips to come, even if the vat is idle."""
    wool, cotton = piece("w.1", phase=0), piece("c.1", phase=1)
    assert next_piece([wool, cotton], {"w.1": aired(1, 600)}) is None
    found = next_piece([wool, cotton], {"w.1": aired(3, 600)})
    assert found == cotton


def test_a_piece_with_all_its_dips_is_looked_at() -> None:
    """After the planned dips and the air the dyer says whether it is deep enough."""
    call = next_move([piece("a.1")], {"a.1": aired(3, -5)}, FRESH, NEVER)
    assert (call.do, call.piece) == (Do.LOOK, "a.1")


def test_everything_dipped() -> None:
    """When all are done there is nothing to do."""
    call = next_move([piece("a.1")], {"a.1": Standing(Place.DONE, 3, 0)}, FRESH, NEVER)
    assert call.do is Do.DONE


def test_the_vat_rests_when_it_is_due() -> None:
    """After six entries, once it is empty, it rests before the next goes in; not while a piece is in."""
    when, tired = Rests(180, 60, 6, 12), VatUse(worked=60, entries=6, idle=1)
    call = next_move([piece("a.1")], {}, tired, when)
    assert (call.do, call.seconds) == (Do.REST, 11 * 60)
    inside = {"a.2": Standing(Place.IN_VAT, 1, 0, 200)}
    assert next_move([piece("a.1"), piece("a.2")], inside, tired, when).do is Do.WAIT


def test_three_hours_of_work_ask_for_an_hour() -> None:
    """The long rest stands before the short one."""
    call = next_move([piece("a.1")], {}, VatUse(180, 6, 0), USUAL)
    assert (call.do, call.seconds) == (Do.REST, 3600)


def test_the_board_has_a_line_for_each_piece() -> None:
    """In the order in which they first go in, wherever each is: no row moves under the hand."""
    lot = [piece(f"a.{number}") for number in range(1, 6)]
    where = {
        "a.1": Standing(Place.DONE, 3, 10), "a.2": aired(1, 300), "a.3": aired(1, 100),
        "a.4": Standing(Place.IN_VAT, 1, 20, 280),
    }  # fmt: skip
    rows = board(lot, where)
    assert [row.piece for row in rows] == ["a.1", "a.2", "a.3", "a.4", "a.5"]
    assert [row.place for row in rows] == [Place.DONE, Place.AIRING, Place.AIRING, Place.IN_VAT, Place.WAITING]


def mixed() -> Plan:
    """Give a plan with pale wool, dark wool and cotton."""
    plan = plan_with(lots__a__depth="0.2 %", lots__a__pieces="2")
    plan = told(add_lot(plan, new_lot(plan)), "lots.b.depth", "3 %")
    plan = add_lot(plan, new_lot(plan))
    return told(told(plan, "lots.c.fibre", "cotton"), "lots.c.depth", "4 %")


def test_dark_before_light_and_protein_before_plant() -> None:
    """The dark wool first, then the pale, then the cotton though it is the darkest."""
    plan = told(mixed(), "stock.pigment", "80 g")
    assert [item.id for item in pieces(plan, compute(plan))] == ["b.1", "a.1", "a.2", "c.1"]


def test_light_goes_before_dark_where_the_vat_is_right_for_light_only() -> None:
    """A vat of 0.2 g/L suits a pale blue and is weak for a very dark one: pale first, then stock for the dark."""
    plan = told(mixed(), "stock.pigment", "10 g")
    sheet = compute(plan)
    assert 0.1 <= sheet.value("vat.strength") <= 0.4
    assert [item.id for item in pieces(plan, sheet)] == ["a.1", "a.2", "b.1", "c.1"]
    said = [item.text for item in sheet.notices if item.figure == "dip.b.dips"]
    assert any("Bring in stock before the dark" in text for text in said)


def test_pieces_go_by_their_names() -> None:
    """A lot of two gives numbers; a name of its own wins."""
    plan = plan_with()
    names = [item.name for item in pieces(plan, compute(plan), {"a.2": "Grandmother's shawl"})]
    assert names == ["Wool skeins 1", "Grandmother's shawl"]


@define
class Played:
    """A day played by the board, each call obeyed at once; it takes some minutes to lower in and lift out."""

    lot: Sequence[Piece]
    when: Rests = NEVER
    handling: float = 0.0
    now: float = 0.0
    where: dict[str, tuple[Place, int, float, float]] = field(factory=dict)
    """Place, dips, since, until."""
    stays: list[Stay] = field(factory=list)
    """In minutes."""
    aired: list[float] = field(factory=list)
    """Seconds that each piece had aired when it went in again."""
    order: list[str] = field(factory=list)

    def standings(self) -> dict[str, Standing]:
        """Give where everybody is."""
        return {
            key: Standing(place, dips, self.now - since, None if place is Place.DONE else until - self.now)
            for key, (place, dips, since, until) in self.where.items()
        }

    def run(self) -> Played:
        """Obey until all is done."""
        for _ in range(20_000):
            call = next_move(self.lot, self.standings(), vat_use(self.stays, self.now / 60, self.when), self.when)
            if call.do is Do.DONE:
                return self
            self.obey(call)
        raise AssertionError("the board never came to an end")

    def obey(self, call: Call) -> None:
        """Do the one thing."""
        if call.do in (Do.WAIT, Do.REST):
            assert call.seconds > 0
            self.now += call.seconds
            return
        assert call.piece is not None
        item = next(one for one in self.lot if one.id == call.piece)
        place, dips, since, _ = self.where.get(item.id, (Place.WAITING, 0, 0.0, 0.0))
        if call.do is Do.ENTER:
            if place is Place.AIRING:
                self.aired.append(self.now - since)
            self.order.append(item.id)
            out = self.now + 60 * (item.dip_min + self.handling)
            self.where[item.id] = (Place.IN_VAT, dips + 1, self.now, out)
            self.stays.append(Stay(self.now / 60, out / 60, item.share))
        elif call.do is Do.LIFT:
            self.where[item.id] = (Place.AIRING, dips, self.now, self.now + 60 * item.air_min)
        else:
            self.where[item.id] = (Place.DONE, dips, self.now, 0.0)

    @property
    def over(self) -> float:
        """When the last piece came out, minutes."""
        return max((stay.end or 0.0 for stay in self.stays), default=0.0)


def planned(pieces_: Sequence[run.Piece], tank: Tank, handling: float, when: Rests) -> tuple[Run, list[str]]:
    """Run the plan's dips, and note who goes in, entry after entry: each piece is known by its law."""
    order: list[str] = []
    own = [evolve(item, law=evolve(item.law)) for item in pieces_]
    names = {id(item.law): item.id for item in own}

    def noting(vat: Tank, inside: Sequence[tuple[Law, float, float]]) -> Entry:
        order.extend(names[id(law)] for law, _, _ in inside)
        return enter(vat, inside)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(run, "enter", noting)
        return run.run(own, tank, handling=handling, when=when), order


LAW = law_of(fibres()["cotton"], 5, "thiourea dioxide")
LOTS = st.lists(
    st.tuples(
        st.integers(0, 1), st.integers(1, 6), st.integers(0, 5), st.integers(1, 12), st.integers(1, 25),
        st.sampled_from((0.2, 0.25, 0.3, 1 / 3, 0.5, 0.7, 1.0)),
    ),
    min_size=1, max_size=4,
)  # fmt: skip
Drawn = list[tuple[int, int, int, int, int, float]]


def both(drawn: Drawn) -> tuple[list[Piece], list[run.Piece]]:
    """Give the pieces of some lots, for board and plan: phase, pieces, dips, dip, air, share of an entry."""
    board_, plan = [], []
    for lot, (phase, count, dips, dip, air, share) in zip("abcd", drawn, strict=False):
        for number in range(1, count + 1):
            name = f"{lot}.{number}"
            board_.append(piece(name, phase=phase, dips=dips, dip_min=dip, air_min=air, share=share))
            plan.append(run.Piece(name, phase, LAW, 0.1, share, dip, air, 10.0, exactly=dips))
    return board_, plan


@examples(60)
@given(LOTS, st.sampled_from((NEVER, USUAL)), st.integers(0, 2))
def test_plan_and_board_are_one(drawn: Drawn, when: Rests, handling: int) -> None:
    """A whole day of any lots, played by the board: the same pieces in the same order, over at the same minute."""
    lot, plan = both(drawn)
    made, order = planned(plan, Tank(1e6, 1.0), handling, when)
    day = Played(lot, when, handling).run()
    assert day.order == order
    assert day.over == pytest.approx(made.minutes)


@examples(30)
@given(LOTS, st.sampled_from((NEVER, USUAL)))
def test_everybody_gets_every_dip_and_all_its_air(drawn: Drawn, when: Rests) -> None:
    """Played to its end, each piece has had its dips, and nobody went in before it had aired."""
    lot, _ = both(drawn)
    day = Played(lot, when).run()
    assert all(day.order.count(item.id) == item.dips for item in lot)
    assert all(seconds >= 60 * min(item.air_min for item in lot) - 1e-6 for seconds in day.aired)


@examples(30)
@given(LOTS)
def test_the_vat_never_holds_more_than_an_entry(drawn: Drawn) -> None:
    """At no time do more pieces lie in the vat than it takes at once."""
    lot, _ = both(drawn)
    day = Played(lot).run()
    for stay in day.stays:
        inside = sum(other.share for other in day.stays if other.start <= stay.start < (other.end or 0.0))
        assert inside <= 1 + 1e-6


def several_lots() -> Plan:
    """Give wool in four pieces, silk in two, and cotton in six and in two that are heavier, in a tub of 20 L."""
    plan = plan_with(lots__a__pieces="4", lots__a__mass="200 g", vessels__tub__volume="20 L", water__room="45 C")
    plan = evolve(plan, pins=(), dosing=Dosing.WORKING)
    for fibre, mass, number in (("silk", "40 g", "2"), ("cotton", "240 g", "6"), ("cotton", "90 g", "2")):
        plan = add_lot(plan, new_lot(plan))
        ident = plan.lots[-1].id
        for name, text in (("fibre", fibre), ("mass", mass), ("pieces", number)):
            plan = told(plan, f"lots.{ident}.{name}", text)
    return plan


def test_the_minutes_on_the_sheet_are_those_of_the_board() -> None:
    """A plan of four lots, worked out whole and then played by the board from its sheet, with a minute of handling.

    The room is as warm as the vat: what warming takes beyond the rests the board leaves to the dyer.
    """
    plan = several_lots()
    sheet = compute(plan)
    lot = pieces(plan, sheet)
    day = Played(lot, rests(sheet), pauses().handling.value).run()
    assert day.over == pytest.approx(sheet["dip.minutes"].value)
    tank = Tank(sheet["vat.liquor"].value, sheet["vat.strength"].value)
    found = [one for item in dip_lots(plan, tank.strength) for one in pieces_of(item, sheet["vat.entry"].value)]
    assert day.order == planned(found, tank, pauses().handling.value, rests(sheet))[1]


def test_four_pieces_keep_the_vat_always_busy() -> None:
    """15 min air, 5 min dip, four pieces, three dips: 60 min in which the vat is never idle."""
    assert Played([piece(f"a.{number}") for number in range(1, 5)]).run().over == 60


def test_rests_are_kept() -> None:
    """Twelve entries of one piece with a rest after six: the gap after the sixth is the rest, longer than the air."""
    day = Played([piece("a.1", dips=12, dip_min=2, air_min=3)], Rests(0, 0, 6, 12)).run()
    sixth, seventh = day.stays[5], day.stays[6]
    assert sixth.end is not None
    assert seventh.start - sixth.end == 12
