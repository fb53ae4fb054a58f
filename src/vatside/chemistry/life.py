"""A vat's life: the bath when its reducer is fresh, half spent and spent, and the pH on the way.

The dye stays reduced: what is worked out is the acid that the reducer itself brings, the lowest the pH comes to before
air turns the dye blue and gives a little alkali back. Thiourea dioxide brings its acid when it falls apart, not when
the vat looks spent: a warm stock may have most of it behind it while it still reduces.
"""

from __future__ import annotations

from collections.abc import Iterable

from attrs import evolve, frozen

from vatside.chemistry.bath import Bath, changed
from vatside.chemistry.errors import require_not_negative, require_within
from vatside.chemistry.liquor import Liquor, open_to_air, solve, sulfur_dioxide_ppm
from vatside.chemistry.reducers import REDUCERS, End, hydroxide_of
from vatside.chemistry.substances import LYE, alkali, moles, naoh_equivalent, substance

FRESH, HALF, SPENT = 0.0, 0.5, 1.0
"""Shares of the reducer that are gone."""

ALL_SULFITE = 9.0
"""Above it sulfite holds no hydrogen, and takes as much hydroxide as sulfate: its pK is 7.2 [Goldberg2002]."""

SOUR = 7.0
"""Below it sulfur dioxide is worth looking for: two parts in a million stand over pH 6.3 at the most [Sander2023]."""
AIRED = (0.25, 0.5, 0.75)
"""Shares of the sulfite that air has taken on to sulfate: about a half is the worst, by trial."""


@frozen
class Band:
    """From the lowest to the highest that a value may be."""

    low: float
    high: float

    @classmethod
    def of(cls, values: Iterable[float]) -> Band:
        """Give the band that holds all the values."""
        found = tuple(values)
        return cls(min(found), max(found))


@frozen
class Course:
    """The pH of a bath from fresh to spent, between nothing settling and chalk settled, and the gas over it."""

    fresh: Band
    half: Band | None
    """None where nobody asked for it."""
    spent: Band
    sulfur_dioxide_ppm: float
    """In still, closed air over the bath at its worst: an upper bound, no forecast."""

    @property
    def low(self) -> float:
        """The lowest pH on the way."""
        return min(band.low for band in (self.fresh, self.half, self.spent) if band)

    @property
    def high(self) -> float:
        """The highest pH on the way."""
        return max(band.high for band in (self.fresh, self.half, self.spent) if band)


def holds_reducer(bath: Bath) -> bool:
    """Say whether anything in a bath still reduces."""
    return any(getattr(bath, kind.total) > 0 for kind in REDUCERS.values())


def spend(bath: Bath, share: float, end: End = "sulfate") -> Bath:
    """Let a share (0..1) of every reducer in a bath be gone, without indigo or leuco-indigo changing [Reactions].

    `end` says how far its sulfur goes: `sulfate` with all the air it wants, which takes the same share of the sulfite
    already there along; `sulfite` with just enough; `closed` falling apart by itself. Raises `OutOfRange` for a share
    outside 0..1.
    """
    require_within("share that is spent", share, 0, 1, "")
    if end == "sulfate":
        bath = evolve(bath, sulfite=(1 - share) * bath.sulfite, sulfate=bath.sulfate + share * bath.sulfite)
    for kind in REDUCERS.values():
        there = getattr(bath, kind.total)
        if not there:
            continue
        gone = share * there
        bath = changed(bath, ((kind.total, -gone), *((total, count * gone) for total, count in kind.becomes(end))))
    return bath


def makes_acid(bath: Bath) -> bool:
    """Say whether sugar or starch is in a bath, which turn to acid by themselves."""
    return any(kind.sours and getattr(bath, kind.total) > 0 for kind in REDUCERS.values())


def turned_sour(bath: Bath, share: float) -> Bath:
    """Let a share (0..1) of the sugar and starch in a bath turn to acid, and leave other reducers [Reactions].

    Raises `OutOfRange` for a share outside 0..1.
    """
    require_within("share that turned to acid", share, 0, 1, "")
    for kind in REDUCERS.values():
        gone = share * getattr(bath, kind.total) if kind.sours else 0.0
        if gone:
            bath = changed(bath, ((kind.total, -gone), *((total, count * gone) for total, count in kind.closed)))
    return bath


def spent_to(bath: Bath, share: float) -> Bath:
    """Give the bath in which a share (0..1) of the reducer is gone, as it likely stands [Reactions].

    As long as reducer is left it takes the oxygen before sulfite does, so it ends as sulfite; the air that spends the
    last of it takes all sulfite on to sulfate. Raises `OutOfRange` for a share outside 0..1.
    """
    return spend(bath, share, "sulfate" if share == SPENT else "sulfite")


def course(*baths: Bath, open_air: bool = False, halfway: bool = True) -> Course:
    """Work out the pH of a bath from fresh to spent at its own temperature, as bands; also `halfway`, if wanted.

    Several baths stand for one of which something is not known, such as its water: the bands take all of them in. With
    `open_air` each has come into balance with the air's carbon dioxide.
    Each band runs over chalk settled or not and, once reducer is gone, over sulfate or sulfite. Buffered vats come
    within 0.02 of PHREEQC, and their bands are 0.1 to 0.4 wide; a vat of lye alone may fall from pH 9 to 3 on the way.
    Raises as `vatside.chemistry.liquor.solve`.
    """
    shares = (FRESH, HALF, SPENT) if halfway else (FRESH, SPENT)
    stands = {share: [liquor for bath in baths for liquor in _liquors(bath, share, open_air)] for share in shares}
    fresh, half, spent = stands[FRESH], stands.get(HALF, []), stands[SPENT]
    airing = _airing(baths, open_air) if min(liquor.pH for liquor in spent) < SOUR else ()
    gas = max(sulfur_dioxide_ppm(liquor) for liquor in (*fresh, *half, *spent, *airing))
    return Course(_band(fresh), _band(half) if half else None, _band(spent), gas)


def _airing(baths: Iterable[Bath], open_air: bool) -> Iterable[Liquor]:
    """Solve what stands between the two ends of spent: sulfite left that the acid of new sulfate drives out."""
    for bath in baths:
        gone = spend(bath, SPENT, "sulfite")
        for share in AIRED:
            yield liquor_of(spend(gone, share), open_air, chalk=False)


def _band(liquors: Iterable[Liquor]) -> Band:
    return Band.of(liquor.pH for liquor in liquors)


def _liquors(bath: Bath, share: float, open_air: bool) -> Iterable[Liquor]:
    """Solve every way in which a bath may stand with a share of its reducer gone."""
    ends: tuple[End, ...] = ("sulfate", "sulfite")
    for end in ends:
        gone = spend(bath, share, end)
        found = [liquor_of(gone, open_air, chalk) for chalk in ((False, True) if _may_settle(gone) else (False,))]
        yield from found
        if share == 0 or not holds_reducer(bath) or min(liquor.pH for liquor in found) > ALL_SULFITE:
            return


def liquor_of(bath: Bath, open_air: bool, chalk: bool) -> Liquor:
    """Solve a bath shut off from the air, or in balance with it; chalk settled or not."""
    return solve(open_to_air(bath, chalk=chalk) if open_air else bath, chalk=chalk)


def _may_settle(bath: Bath) -> bool:
    """Say whether anything slow could come down."""
    return bool(bath.magnesium or (bath.calcium and (bath.carbonate or bath.citrate)))


def least_alkali(
    name: str, indigotin_g: float, reducers: Iterable[tuple[str, float]], litres: float, *, double: bool = False
) -> float:
    """Give the grams of a pure alkali that see a stock through to the end of all its reducer [Reactions].

    `reducers` names every pure reducer in the jar with its grams, for all of it falls apart; the dye counts up to the
    single leuco ion, or the double; lye leaves 0.4 g/L free, which is pH 11.9 at 25 degrees C. Other alkalis are given
    by what the reactions take alone: lime saturates the water besides. Raises `OutOfRange` for unknown names or amounts
    below zero.
    """
    require_not_negative("amount of indigotin", indigotin_g, "g")
    require_not_negative("volume", litres, "L")
    taken = moles("indigotin", indigotin_g) * (2 if double else 1)
    taken += sum(hydroxide_of(reducer, grams) for reducer, grams in reducers)
    return taken * substance(LYE).molar_mass / naoh_equivalent(name) + alkali(name).free * litres
