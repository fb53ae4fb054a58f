"""Who goes into the vat next: rules of the board, and whole days played by it."""

from __future__ import annotations

from attrs import define, evolve, field
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.recipe.plans import plan_with, told
from vatside.dayline.resting import Rests, Stay, VatUse, vat_use
from vatside.recipe.turns import in_turn, throughput

from vatside.dayline.pieces import Piece, Place, Standing, pieces
from vatside.dayline.rotation import Call, Do, board, next_move, next_piece
from vatside.recipe.compute import compute
from vatside.recipe.place import add_lot
from vatside.recipe.plan import Plan
from vatside.recipe.starter import new_lot

NO_REST = Rests(0, 0, 0, 0)
FRESH = VatUse()


def piece(name: str, **changes: object) -> Piece:
    """Give a piece that dips 5 min and airs 15, alone in the vat."""
    plain = Piece(name, name, name.partition(".")[0], 1, 100, 0.8, 3, 5, 15, 1, 4)
    return evolve(plain, **changes)  # type: ignore[arg-type]


def aired(dips: int, left: float) -> Standing:
    """Give a piece in the air with seconds left."""
    return Standing(Place.AIRING, dips, 0, left)


def test_the_first_piece_goes_in_first() -> None:
    """Before anything happened the first in order is called for."""
    call = next_move([piece("a.1"), piece("a.2")], {}, FRESH, NO_REST)
    assert (call.do, call.piece) == (Do.ENTER, "a.1")


def test_lifting_out_comes_before_everything() -> None:
    """A piece whose dip is over is lifted before the next goes in."""
    where = {"a.1": Standing(Place.IN_VAT, 1, 310, -10), "a.2": aired(1, -60)}
    call = next_move([piece("a.1"), piece("a.2")], where, FRESH, NO_REST)
    assert (call.do, call.piece) == (Do.LIFT, "a.1")


def test_nobody_goes_in_before_its_time() -> None:
    """With a minute of air to go the board says wait, and for how long."""
    call = next_move([piece("a.1", dips=2)], {"a.1": aired(1, 60)}, FRESH, NO_REST)
    assert (call.do, call.piece, call.seconds) == (Do.WAIT, "a.1", 60)


def test_the_one_that_waited_longest_goes_first() -> None:
    """Of two aired pieces the one that is overdue by more."""
    where = {"a.1": aired(1, -30), "a.2": aired(1, -90)}
    found = next_piece([piece("a.1"), piece("a.2")], where)
    assert found is not None
    assert found.id == "a.2"


def test_an_aired_piece_comes_before_a_new_one() -> None:
    """Turns go on before new pieces begin."""
    found = next_piece([piece("a.1"), piece("a.2")], {"a.2": aired(1, 0)})
    assert found is not None
    assert found.id == "a.2"


def test_no_more_take_turns_than_keep_the_vat_busy() -> None:
    """With four in the turn, all still airing, a fifth stays out unless it is in nobody's way."""
    lot = [piece(f"a.{number}") for number in range(1, 6)]
    busy = {item.id: aired(1, 60 * number) for number, item in enumerate(lot[:4], start=1)}
    assert next_piece(lot, busy) is None


def test_a_new_piece_may_fill_an_idle_vat() -> None:
    """When nobody in the air is ready within a whole dip, a new one goes in."""
    lot = [piece(f"a.{number}") for number in range(1, 6)]
    slow = {item.id: aired(1, 60 * (number + 5)) for number, item in enumerate(lot[:4], start=1)}
    found = next_piece(lot, slow)
    assert found is not None
    assert found.id == "a.5"


def test_an_idle_vat_says_what_it_waits_for() -> None:
    """Ended early, two pieces air; a third would still be in when the first is due: that is why nobody goes in."""
    where = {"a.1": aired(1, 240), "a.2": aired(1, 500)}
    call = next_move([piece(f"a.{number}", in_turn=2) for number in (1, 2, 3)], where, FRESH, NO_REST)
    assert (call.do, call.piece, call.why) == (Do.WAIT, "a.1", "no new dip is over by then")


def test_an_idle_vat_waits_for_protein_before_plant() -> None:
    """While wool airs between two dips the cotton stays out, and the board says why."""
    found = [piece("a.1", phase=0), piece("b.1")]
    call = next_move(found, {"a.1": aired(1, 600)}, FRESH, NO_REST)
    assert (call.do, call.piece, call.why) == (Do.WAIT, "a.1", "plant fibres go in last")


def test_a_vat_that_is_not_idle_says_only_who_airs() -> None:
    """With a piece in it, or nobody new to put in, what is waited for is the air alone."""
    where = {"a.1": aired(1, 60), "a.2": Standing(Place.IN_VAT, 1, 0, 120)}
    for found in ([piece("a.1"), piece("a.2"), piece("a.3")], [piece("a.1")]):
        assert next_move(found, where, FRESH, NO_REST).why == "then it has aired long enough"


def test_a_full_vat_takes_nobody() -> None:
    """Two halves fill an entry; a third half waits."""
    lot = [piece(f"a.{number}", at_once=2) for number in (1, 2, 3)]
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
    call = next_move([piece("a.1")], {"a.1": aired(3, -5)}, FRESH, NO_REST)
    assert (call.do, call.piece) == (Do.LOOK, "a.1")


def test_everything_dipped() -> None:
    """When all are done there is nothing to do."""
    call = next_move([piece("a.1")], {"a.1": Standing(Place.DONE, 3, 0)}, FRESH, NO_REST)
    assert call.do is Do.DONE


def test_the_vat_rests_when_it_is_due() -> None:
    """After six entries, once it is empty, it rests before the next goes in; not while a piece is in."""
    when, tired = Rests(180, 60, 6, 12), VatUse(worked=3600, entries=6, idle=60)
    call = next_move([piece("a.1")], {}, tired, when)
    assert (call.do, call.seconds) == (Do.REST, 11 * 60)
    inside = {"a.2": Standing(Place.IN_VAT, 1, 0, 200)}
    assert next_move([piece("a.1"), piece("a.2")], inside, tired, when).do is Do.WAIT


def test_three_hours_of_work_ask_for_an_hour() -> None:
    """The long rest stands before the short one."""
    call = next_move([piece("a.1")], {}, VatUse(3 * 3600, 6, 0), Rests(180, 60, 6, 12))
    assert (call.do, call.seconds) == (Do.REST, 3600)


def test_the_board_has_a_line_for_each_piece() -> None:
    """In the vat first, then in the air by the time left, then waiting, then done."""
    lot = [piece(f"a.{number}") for number in range(1, 6)]
    where = {
        "a.1": Standing(Place.DONE, 3, 10), "a.2": aired(1, 300), "a.3": aired(1, 100),
        "a.4": Standing(Place.IN_VAT, 1, 20, 280),
    }  # fmt: skip
    rows = board(lot, where)
    assert [row.piece for row in rows] == ["a.4", "a.3", "a.2", "a.5", "a.1"]
    assert [row.place for row in rows] == [Place.IN_VAT, Place.AIRING, Place.AIRING, Place.WAITING, Place.DONE]


def mixed() -> Plan:
    """Give a plan with pale wool, dark wool and cotton."""
    plan = plan_with(lots__a__depth="0.2 %", lots__a__pieces="2")
    plan = told(add_lot(plan, new_lot(plan)), "lots.b.depth", "3 %")
    plan = add_lot(plan, new_lot(plan))
    return told(told(plan, "lots.c.fibre", "cotton"), "lots.c.depth", "4 %")


def test_dark_before_light_and_protein_before_plant() -> None:
    """The dark wool first, then the pale, then the cotton though it is the darkest."""
    plan = mixed()
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
    """A day played by the board, each call obeyed at once."""

    lot: list[Piece]
    when: Rests = NO_REST
    now: float = 0.0
    where: dict[str, tuple[Place, int, float, float]] = field(factory=dict)
    """Place, dips, since, until."""
    stays: list[Stay] = field(factory=list)
    aired: list[float] = field(factory=list)
    """Seconds that each piece had aired when it went in again."""
    order: list[str] = field(factory=list)
    idle_with_somebody_ready: float = 0.0

    def standings(self) -> dict[str, Standing]:
        """Give where everybody is."""
        return {
            key: Standing(place, dips, self.now - since, None if place is Place.DONE else until - self.now)
            for key, (place, dips, since, until) in self.where.items()
        }

    def run(self) -> Played:
        """Obey until all is done."""
        for _ in range(20_000):
            call = next_move(self.lot, self.standings(), vat_use(self.stays, self.now, self.when), self.when)
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
            self.where[item.id] = (Place.IN_VAT, dips + 1, self.now, self.now + 60 * item.dip_min)
            self.stays.append(Stay(self.now, self.now + 60 * item.dip_min, 1 / item.at_once))
        elif call.do is Do.LIFT:
            self.where[item.id] = (Place.AIRING, dips, self.now, self.now + 60 * item.air_min)
        else:
            self.where[item.id] = (Place.DONE, dips, self.now, 0.0)

    @property
    def over(self) -> float:
        """When the last piece came out, minutes."""
        return max(stay.end or 0.0 for stay in self.stays) / 60


def like_pieces(number: int, dips: int, dip: float, air: float, at_once: int = 1) -> list[Piece]:
    """Give a lot of like pieces."""
    turn = in_turn(air, dip) * at_once
    return [
        piece(f"a.{count}", dips=dips, dip_min=dip, air_min=air, at_once=at_once, in_turn=turn)
        for count in range(1, number + 1)
    ]


DAYS = st.tuples(
    st.integers(1, 12), st.integers(1, 6), st.integers(1, 12).map(float), st.integers(1, 25).map(float),
    st.integers(1, 4),
)  # fmt: skip


@settings(max_examples=60)
@given(DAYS)
def test_everybody_gets_every_dip_and_all_its_air(day: tuple[int, int, float, float, int]) -> None:
    """Played to its end, each piece has had its dips, and nobody went in before it had aired."""
    number, dips, dip, air, at_once = day
    played = Played(like_pieces(number, dips, dip, air, at_once)).run()
    assert all(played.order.count(item.id) == dips for item in played.lot)
    assert all(seconds >= 60 * air - 1e-6 for seconds in played.aired)


@settings(max_examples=60)
@given(DAYS)
def test_the_vat_never_holds_more_than_an_entry(day: tuple[int, int, float, float, int]) -> None:
    """At no time do more pieces lie in the vat than it takes at once."""
    number, dips, dip, air, at_once = day
    played = Played(like_pieces(number, dips, dip, air, at_once)).run()
    for stay in played.stays:
        inside = sum(1 for other in played.stays if other.start <= stay.start < (other.end or 0.0))
        assert inside <= at_once


@settings(max_examples=60)
@given(DAYS)
def test_a_day_by_the_board_takes_what_was_worked_out(day: tuple[int, int, float, float, int]) -> None:
    """The board needs no longer than the figure says, and no less than the vat's own time."""
    groups, dips, dip, air, at_once = day
    lot = like_pieces(groups * at_once, dips, dip, air, at_once)
    run = throughput([dips] * (groups * at_once), at_once, dip, air, 0)
    played = Played(lot).run()
    assert run.busy - 1e-6 <= played.over <= run.minutes + 1e-6


def test_four_pieces_keep_the_vat_always_busy() -> None:
    """15 min air, 5 min dip, four pieces, three dips: 60 min in which the vat is never idle."""
    played = Played(like_pieces(4, 3, 5, 15)).run()
    assert played.over == 60


def test_rests_are_kept() -> None:
    """Twelve entries of one piece with a rest after six: the gap after the sixth is the rest, longer than the air."""
    lot = like_pieces(1, 12, 2, 3)
    played = Played(lot, Rests(0, 0, 6, 12)).run()
    sixth, seventh = played.stays[5], played.stays[6]
    assert sixth.end is not None
    assert seventh.start - sixth.end == 12 * 60
