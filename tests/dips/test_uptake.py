"""How much a dip lays on, and how the vat weakens."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vatside.catalogue.dyeing import uptakes
from vatside.catalogue.load import fibres
from vatside.dips.uptake import Law, Tank, enter, law_of, pull_share

TDO = "thiourea dioxide"
COTTON = law_of(fibres()["cotton"], 5, TDO)
FIBRES = st.sampled_from(sorted(fibres()))
STRENGTHS = st.floats(0.01, 5)
MINUTES = st.floats(0.1, 120)
LAWS = st.builds(
    Law, st.floats(0, 2.5), st.floats(0, 4), st.floats(0.1, 0.5), st.floats(40, 72), st.floats(0, 0.3),
    st.floats(0.4, 2.5),
)  # fmt: skip
PIECES = st.lists(st.tuples(LAWS, st.floats(0.005, 2), st.floats(0, 39)), min_size=1, max_size=8)


def test_a_first_dip_by_hand() -> None:
    """Cotton, 5 min at 1 g/L: 1 − e^−√5 = 0.893; 2.3 × 1 ÷ 1.25 × 0.893 = 1.643 by itself, 1.4 × 1 carried.

    Together 3.043 g/kg; 85 % of it stays: 2.587 g/kg.
    """
    assert pull_share(5, 1.0) == pytest.approx(0.893, abs=5e-4)
    assert COTTON.laid(1.0) == pytest.approx(3.043, abs=1e-3)
    assert COTTON.stays(1.0) == pytest.approx(2.587, abs=1e-3)


def test_four_dips_in_a_vat_that_is_kept_up_by_hand() -> None:
    """Depth = Q (1 − (1 − g/Q)^n): four dips of 2.587 g/kg below a ceiling of 55 are 55 × (1 − 0.9530⁴) = 9.6 g/kg."""
    on = 0.0
    for _ in range(4):
        on += COTTON.stays(1.0, on)
    assert on == pytest.approx(55 * (1 - (1 - 2.587 / 55) ** 4), rel=1e-3)
    assert on == pytest.approx(9.6, abs=0.05)


def test_an_entry_weakens_the_vat_by_hand() -> None:
    """Half a kilogram of cotton in 15 L at 0.953 g/L: laid 1.4 × 0.953 + 2.3 × 0.792 × 0.893 = 2.961 g/kg.

    x = 0.5 × 2.961 ÷ 14.295 = 0.1036; 0.953 e^−x = 0.859 g/L; 15 × 0.0937 ÷ 0.5 × 0.85 = 2.39 g/kg stay.
    """
    done = enter(Tank(15, 0.953), [(COTTON, 0.1, 0.0)] * 5)
    assert COTTON.laid(0.953) == pytest.approx(2.961, abs=2e-3)
    assert done.share == pytest.approx(0.1036, abs=1e-4)
    assert done.tank.strength == pytest.approx(0.859, abs=1e-3)
    assert 0.85 * done.laid[0] == pytest.approx(2.39, abs=0.01)


@given(st.floats(1, 200), STRENGTHS, PIECES)
def test_what_the_vat_loses_is_on_the_pieces(
    litres: float, strength: float, pieces: list[tuple[Law, float, float]]
) -> None:
    """Indigotin is neither made nor lost in an entry, and the vat never holds less than none."""
    tank = Tank(litres, strength)
    done = enter(tank, pieces)
    on = sum(laid * kg for laid, (_, kg, _) in zip(done.laid, pieces, strict=True))
    assert 0 <= done.tank.grams <= tank.grams
    assert done.tank.grams + on == pytest.approx(tank.grams, rel=1e-9)


@given(FIBRES, STRENGTHS, STRENGTHS, MINUTES)
def test_a_stronger_vat_lays_on_more_and_fewer_litres(fibre: str, one: float, other: float, minutes: float) -> None:
    """Grams grow with the strength; the litres of liquor that they are the dye of fall."""
    law, (weak, strong) = law_of(fibres()[fibre], minutes, TDO), sorted((one, other))
    assert law.laid(weak) <= law.laid(strong)
    assert law.laid(weak) / weak >= law.laid(strong) / strong - 1e-12


@given(FIBRES, STRENGTHS, MINUTES, MINUTES)
def test_a_longer_dip_lays_on_more(fibre: str, strength: float, one: float, other: float) -> None:
    """And never less."""
    short, long = (law_of(fibres()[fibre], minutes, TDO) for minutes in sorted((one, other)))
    assert short.laid(strength) <= long.laid(strength)


@given(LAWS, STRENGTHS, st.floats(0, 80), st.floats(0, 80))
def test_what_is_on_it_hinders(law: Law, strength: float, one: float, other: float) -> None:
    """The more dye on the fibre, the less a dip adds; nothing at the ceiling."""
    less, more = sorted((one, other))
    assert law.laid(strength, more) <= law.laid(strength, less)
    assert law.laid(strength, law.ceiling) == 0


@given(FIBRES, st.floats(0.05, 3), st.floats(0.5, 60), st.integers(1, 300))
def test_nothing_exceeds_its_ceiling(fibre: str, strength: float, minutes: float, dips: int) -> None:
    """However strong, long and often: 5.5 to 6 % and no more."""
    law, on = law_of(fibres()[fibre], minutes, TDO), 0.0
    for _ in range(dips):
        on += law.stays(strength, on)
    assert on <= law.ceiling == uptakes()[fibres()[fibre].group].ceiling.value


@pytest.mark.parametrize(("dips", "cotton", "wool"), [(1, 0.53, 0.61), (10, 3.52, 3.96), (40, 5.41, 5.92)])
def test_many_strong_dips_by_hand(dips: int, cotton: float, wool: float) -> None:
    """15 min at 3 g/L; f = 1 − e^−√15 = 0.979.

    Cotton: 0.85 × (4.2 + 2.3 × 0.923 × 0.979) = 5.34 g/kg, ceiling 55; wool: 0.85 × (4.5 + 2.712) = 6.13, ceiling 60.
    """
    for fibre, ceiling, first, wanted in (("cotton", 55, 5.337, cotton), ("wool", 60, 6.130, wool)):
        law, on = law_of(fibres()[fibre], 15, TDO), 0.0
        for _ in range(dips):
            on += law.stays(3.0, on)
        assert on / 10 == pytest.approx(ceiling / 10 * (1 - (1 - first / ceiling) ** dips), rel=2e-3)
        assert on / 10 == pytest.approx(wanted, abs=0.01)


def test_each_dip_lays_on_less() -> None:
    """The vat weakens and the fibre fills, so every further dip adds less than the one before."""
    tank, on, gains = Tank(15, 1.0), 0.0, []
    for _ in range(8):
        done = enter(tank, [(COTTON, 0.5, on)])
        gains.append(done.laid[0])
        tank, on = done.tank, on + 0.85 * done.laid[0]
    assert all(first > second for first, second in pairwise(gains))


@pytest.mark.parametrize("strength", [0.0, -1.0])
def test_a_vat_without_dye_lays_on_nothing(strength: float) -> None:
    """Nor does it lose any."""
    done = enter(Tank(20, strength), [(COTTON, 0.5, 0.0)])
    assert (done.laid, done.share) == ((0.0,), 0.0)


def test_a_fibre_that_takes_more_takes_so_much_more() -> None:
    """A factor of 1.2 on all that is laid on: what the liquor carries out included."""
    assert COTTON.times(1.2).laid(1.0) == pytest.approx(1.2 * 3.043, abs=1e-3)


def test_spun_out_it_carries_less() -> None:
    """0.6 L/kg in place of 1.4: 0.6 + 1.643 = 2.243 g/kg."""
    assert law_of(fibres()["cotton"], 5, TDO, carried=0.6).laid(1.0) == pytest.approx(2.243, abs=1e-3)


def test_sugar_vats_take_less() -> None:
    """Colourage 52(6) (2005): sugar and lime give 25 to 30 % less uptake than dithionite."""
    sugar, dithionite = (law_of(fibres()["cotton"], 5, reducer) for reducer in ("fructose", "sodium dithionite"))
    assert 0.70 <= sugar.laid(1.0) / dithionite.laid(1.0) <= 0.75


@pytest.mark.parametrize("group", uptakes())
def test_fitted_values_say_so(group: str) -> None:
    """What a fibre takes by itself is fitted to the practice table, or a judgement inside its bands, with a range."""
    facts = uptakes()[group]
    for fact in (facts.pull, facts.half, facts.time, facts.ceiling):
        assert fact.source in ("fit", "guess")
        assert fact.low is not None
        assert fact.high is not None
        assert fact.low < fact.value < fact.high
