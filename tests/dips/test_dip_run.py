"""The dips of a day, entry by entry: turns, times and dye."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from attrs import evolve
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.effort import examples

from vatside.catalogue.load import fibres
from vatside.dips.entry_rule import NEVER, Queue, Rests, Turn
from vatside.dips.run import End, Piece, Run, Warmth, run
from vatside.dips.uptake import CLOSE_ENOUGH, MOST_DIPS, Law, Tank, law_of

PLENTY = Tank(1e6, 1.0)
LAWS = {fibre: law_of(fibres()[fibre], 5, "thiourea dioxide") for fibre in ("wool", "silk", "cotton", "linen")}
MODEL = Piece("a.1", 1, LAWS["cotton"], 0.1, 1.0, 5, 15, 10.0)


def like(number: int, **changes: object) -> list[Piece]:
    """Give like pieces, each an entry of its own unless said otherwise."""
    return [evolve(MODEL, id=f"a.{count}", **changes) for count in range(1, number + 1)]  # type: ignore[arg-type]


def played(pieces: Sequence[Piece], tank: Tank = PLENTY, *, handling: float = 1, when: Rests = NEVER) -> Run:
    """Dip them."""
    return run(pieces, tank, handling=handling, when=when)


@pytest.mark.parametrize(
    ("groups", "dips", "minutes"),
    [(1, 4, 69), (2, 4, 75), (3, 4, 81), (4, 4, 96), (5, 4, 120), (1, 5, 90), (2, 5, 96), (3, 5, 102), (4, 5, 120),
     (5, 5, 150)],
)  # fmt: skip
def test_equal_groups_by_hand(groups: int, dips: int, minutes: float) -> None:
    """(n − 1) × the longer of g × (5 + 1) and 5 + 1 + 15, and g × (5 + 1): four dips of two groups 3 × 21 + 12 = 75."""
    assert played(like(groups, exactly=dips)).minutes == minutes


@given(
    st.integers(1, 12), st.integers(1, 10), st.integers(0, 20), st.integers(0, 60), st.integers(0, 3), st.integers(1, 4)
)
def test_equal_groups_take_what_the_formula_says(
    groups: int, dips: int, dip: int, air: int, handling: int, at_once: int
) -> None:
    """Any number of groups that are full: T = (n − 1) max(g (t + h), t + h + a) + g (t + h)."""
    pieces = like(groups * at_once, exactly=dips, share=1 / at_once, dip=dip, air=air)
    made, each = played(pieces, handling=handling), dip + handling
    assert made.minutes == pytest.approx((dips - 1) * max(groups * each, each + air) + groups * each)
    assert (made.groups, made.entries) == (groups, groups * dips)


def test_the_bottleneck_is_named_by_hand() -> None:
    """Four groups of 6 min fill 21 min of dip and air, and the vat is never idle; with two it waits for the air."""
    assert not played(like(4, exactly=3)).waits_for_air
    two = played(like(2, exactly=3))
    assert two.waits_for_air
    assert (two.busy, two.minutes) == (36, 54)


def test_rests_by_hand() -> None:
    """Ten entries without a gap, a rest of 12 min after the sixth: 60 + 12; idle minutes count towards it.

    Three groups, three dips: six entries end at 18 + 21 = 39 min, the air at 42 and the rest at 51; 18 more for three.
    Two groups stand idle for 9 of 12 min after every round: that is rest enough.
    """
    when = Rests(0, 0, 6, 12)
    full = played(like(10, exactly=1), when=when)
    assert (full.minutes, full.rests) == (72, 12)
    three = played(like(3, exactly=3), when=when)
    assert (three.minutes, three.rests) == (69, 9)
    two = played(like(2, exactly=4), when=when)
    assert (two.minutes, two.rests) == (75, 0)


def test_three_hours_of_work_ask_for_an_hour_by_hand() -> None:
    """Thirty-one entries of 6 min: 180 min, an hour, and one more entry."""
    assert played(like(31, exactly=1), when=Rests(180, 60, 0, 0)).minutes == 180 + 60 + 6


def test_the_vat_rests_for_nobody_once_all_are_through() -> None:
    """Six entries and no more."""
    assert played(like(6, exactly=1), when=Rests(0, 0, 6, 12)).minutes == 36


def test_pieces_fill_an_entry_and_no_more() -> None:
    """Five of 0.3 fill three, then two."""
    assert played(like(5, exactly=1, share=0.3)).entries == 2


def test_pieces_of_two_lots_share_an_entry() -> None:
    """Two thirds of one and a third of the other, dipped alike, go in together."""
    pieces = [evolve(MODEL, id="a.1", share=2 / 3, exactly=1), evolve(MODEL, id="b.1", share=1 / 3, exactly=1)]
    assert played(pieces).entries == 1


def test_pieces_that_are_dipped_for_another_time_do_not() -> None:
    """Five minutes and eight: two entries."""
    pieces = [evolve(MODEL, id="a.1", share=0.5, exactly=1), evolve(MODEL, id="b.1", share=0.5, exactly=1, dip=8)]
    assert played(pieces).entries == 2


def test_protein_is_through_before_plant_fibres_by_hand() -> None:
    """Two dips of wool: 6 + 15 + 6 = 27 min; then one of cotton, though the vat was idle in between."""
    made = played([evolve(MODEL, id="c.1", exactly=1), evolve(MODEL, id="w.1", phase=0, exactly=2)])
    assert made.phase_ends == (27, 33)


def test_it_stops_when_the_depth_is_reached() -> None:
    """The dips are the fewest that come within 5 % of the depth."""
    (end,) = played(like(1), Tank(40, 1.0)).ends
    assert end.on >= CLOSE_ENOUGH * 10
    (less,) = played(like(1, exactly=end.dips - 1), Tank(40, 1.0)).ends
    assert less.on < CLOSE_ENOUGH * 10


@pytest.mark.parametrize("strength", [0.0, 0.001])
def test_a_vat_without_dye_is_given_up(strength: float) -> None:
    """Where a dip adds less than a hundredth of what is wanted, no number of dips is promised."""
    made = played(like(2), Tank(20, strength))
    assert (made.dips, made.deep) == (0, False)


def test_what_is_on_it_already_counts() -> None:
    """Half there after two dips: half as much to come, and the two stand."""
    (whole,) = played(like(1)).ends
    (rest,) = played(like(1, has=5.0, had=2)).ends
    assert 2 < rest.dips < 2 + whole.dips
    assert rest.on >= CLOSE_ENOUGH * 10


def test_no_more_dips_than_are_allowed() -> None:
    """Two at most, though the depth asks for more; four at least, though it asks for fewer."""
    (end,) = played(like(1, wants=50.0, most=2)).ends
    assert (end.dips, end.deep) == (2, False)
    (end,) = played(like(1, wants=1.0, least=4)).ends
    assert end.dips == 4


def test_fixed_dips_go_on_past_the_depth_by_hand() -> None:
    """A litre of 1 g/L, a tenth of its dye each dip: 1, 0.905, 0.819 g/L: e^−x with x = 0.1 is left.

    A law that lays on 1 L/kg of 100 g: x = 0.1 × 1 ÷ 1; three dips lose 1 − e^−0.3 = 0.2592 g, a fifth of it rinsed.
    """
    law = evolve(LAWS["cotton"], carried=1.0, pull=0.0, ceiling=1e9, rinsed=0.2)
    made = played(like(1, law=law, exactly=3, wants=1.0), Tank(1.0, 1.0))
    assert made.tank.strength == pytest.approx(0.7408, abs=1e-4)
    assert made.ends[0].on == pytest.approx(0.8 * 2.592, abs=1e-3)
    assert made.ends[0].rinsed == pytest.approx(0.2 * 0.2592, abs=1e-5)


TANKS = st.builds(Tank, st.floats(3, 60), st.floats(0.05, 3))
DAYS = st.lists(
    st.tuples(
        st.sampled_from(sorted(LAWS)), st.integers(1, 6), st.floats(0.02, 0.5), st.floats(0.5, 40),
        st.integers(1, 12), st.integers(5, 30), st.sampled_from((0.2, 0.25, 1 / 3, 0.5, 0.7, 1.0)),
    ),
    min_size=1, max_size=4,
)  # fmt: skip
Drawn = list[tuple[str, int, float, float, int, int, float]]
USUAL = Rests(180, 60, 6, 12)


def day_of(drawn: Drawn) -> list[Piece]:
    """Give the pieces of a day that was drawn: fibre, pieces, kg, g/kg wanted, dip, air, share of an entry."""
    return [
        Piece(f"{lot}.{count}", int(fibre in ("cotton", "linen")), LAWS[fibre], kg, share, dip, air, wants)
        for lot, (fibre, pieces, kg, wants, dip, air, share) in enumerate(drawn)
        for count in range(1, pieces + 1)
    ]


@examples(40)
@given(TANKS, DAYS)
def test_indigotin_in_is_on_the_fibre_rinsed_or_kept(tank: Tank, drawn: Drawn) -> None:
    """Over a whole day of any lots, to nine digits; nobody dips for ever, and nothing exceeds its ceiling."""
    made = played(day_of(drawn), tank, when=USUAL)
    on = sum(end.on * end.piece.kg + end.rinsed for end in made.ends)
    assert on + made.tank.grams == pytest.approx(tank.grams, rel=1e-9)
    assert all(end.dips <= MOST_DIPS and end.on <= end.piece.law.ceiling for end in made.ends)


@examples(40)
@given(TANKS, DAYS)
def test_a_day_is_never_shorter_than_vat_or_air_allow(tank: Tank, drawn: Drawn) -> None:
    """Neither the vat's own time nor one piece's dips and airings can be undercut."""
    made = played(day_of(drawn), tank)
    assert made.minutes >= made.busy - 1e-9
    for end in made.ends:
        assert made.minutes >= end.dips * (end.piece.dip + 1) + (end.dips - 1) * end.piece.air - 1e-9


@examples(40)
@given(st.integers(1, 12), st.floats(0.02, 0.3), st.floats(1, 30), st.sampled_from((0.2, 0.5, 1.0)), TANKS)
def test_lots_of_one_piece_are_one_lot(number: int, kg: float, wants: float, share: float, tank: Tank) -> None:
    """Ten lots of a piece are as one lot of ten, to the minute and to the milligram, whatever they are called."""
    whole = like(number, kg=kg, wants=wants, share=share)
    apart = [evolve(piece, id=f"{name}.1") for piece, name in zip(whole, "ljihgfedcbak", strict=False)]
    one, other = played(whole, tank, when=USUAL), played(apart, tank, when=USUAL)
    assert (one.minutes, one.entries, one.tank) == (other.minutes, other.entries, other.tank)
    assert [end.dips for end in one.ends] == [end.dips for end in other.ends]


LIKE = (st.integers(1, 10), st.floats(0.02, 0.3), st.floats(1, 35), st.sampled_from((0.2, 0.5, 1.0)), TANKS)


@examples(40)
@given(*LIKE, st.floats(1, 2))
def test_deeper_never_takes_fewer_dips(
    number: int, kg: float, wants: float, share: float, tank: Tank, more: float
) -> None:
    """In the same vat; where neither is given up."""
    light, dark = (played(like(number, kg=kg, wants=wants * by, share=share), tank) for by in (1, more))
    if light.deep and dark.deep:
        assert dark.dips >= light.dips


@examples(40)
@given(*LIKE, st.floats(1, 3))
def test_a_stronger_vat_never_takes_more_dips(
    number: int, kg: float, wants: float, share: float, tank: Tank, by: float
) -> None:
    """In the same litres."""
    pieces = like(number, kg=kg, wants=wants, share=share)
    weak, strong = played(pieces, tank), played(pieces, evolve(tank, strength=by * tank.strength))
    if weak.deep:
        assert strong.deep
        assert strong.dips <= weak.dips


@examples(40)
@given(*LIKE)
def test_a_fibre_that_takes_less_never_takes_fewer_dips(
    number: int, kg: float, wants: float, share: float, tank: Tank
) -> None:
    """The range of dips that is shown holds the dips themselves."""
    pieces = like(number, kg=kg, wants=wants, share=share)
    less = [evolve(piece, law=piece.law.times(0.6)) for piece in pieces]
    made, more = played(pieces, tank), played(less, tank)
    assume(made.widest <= 1 / 3)  # an entry that takes most of the dye starves the last piece
    if more.deep:
        assert more.dips >= made.dips


@pytest.mark.parametrize(("on", "deep"), [(9.4, False), (9.6, True)])
def test_a_depth_is_reached_within_what_the_eye_can_tell(on: float, deep: bool) -> None:
    """95 % of 10 g/kg are 9.5: a judgement of our own, less than a just visible difference."""
    assert End(MODEL, 4, on, 0.0, 0.0).deep is deep


def test_of_unlike_pieces_the_longest_aired_goes_in_first() -> None:
    """Two kinds of one phase have aired, one for 10 minutes more than the other."""
    early, late = Turn("b.1", (1, 10, 20), 1.0, ready=5), Turn("a.1", (1, 5, 15), 1.0, ready=15)
    assert Queue.of([late, early]).next_in(20) is early
    assert Queue.of([early, late]).next_in(20) is early


def test_kettle_water_thins_the_vat_by_hand() -> None:
    """From 40.2 to 44 by water of 90 degrees: 3.8 in 49.8, 7.6 % of the liquor, is changed for it."""
    nothing = Law(carried=0, pull=0, half=1, ceiling=10, rinsed=0)
    warmth = Warmth(start=40.2, low=40, high=45, room=20, hob=0, kettle=90)
    made = run(like(1, law=nothing, exactly=2), Tank(10, 1.0), handling=1, when=NEVER, warmth=warmth)
    assert len(made.warmings) == 1
    assert made.tank.strength == pytest.approx(1 - 3.8 / 49.8, abs=1e-3)
