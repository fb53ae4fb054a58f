"""Two strips side by side: how strongly one lot of a dye colours beside another."""

from __future__ import annotations

from attrs import field, frozen

from vatside.chemistry.colour import Lab, k_over_s, xyz_of_lab
from vatside.chemistry.errors import require_positive, require_within

NEARLY_ALIKE = 1.25
"""Strips whose colours are farther apart than this ratio say it less surely, as K/S flattens with depth. Ours."""


def k_over_s_of(colour: Lab) -> float:
    """Give the K/S of a dyed strip, from the light that its L* throws back [KubelkaMunk] [CIE15].

    R = Y / 100, with Y = 100 ((L* + 16) / 116)^3 from L* 8 on. In proportion to the dye for strips that are nearly
    alike; between strips of 0.4 and 0.5 % on cotton about 2 % off, of 1.6 and 2 % about 5 % off [IndigoShade].
    Raises `OutOfRange` for an L* outside 0..100.
    """
    require_within("L*", colour.L, 0, 100, "")
    return k_over_s(min(xyz_of_lab(colour)[1] / 100, 1.0))


@frozen
class Strip:
    """A strip dyed with one lot of a dye."""

    bath: float = field()
    """Pure dye in its bath, by what the lot is taken to hold, g/L."""
    colour: float = field()
    """On one scale that grows in proportion to the dye: K/S, or depth in %."""

    @bath.validator
    def _check_bath(self, _attribute: object, value: float) -> None:
        require_positive("dye in the bath of a strip", value, "g/L")

    @colour.validator
    def _check_colour(self, _attribute: object, value: float) -> None:
        require_positive("colour of a strip", value, "")

    @property
    def each(self) -> float:
        """Colour for each g/L."""
        return self.colour / self.bath


def strength_beside(old: Strip, new: Strip) -> float:
    """Give how a new lot colours beside the old one: 1.1 is a tenth more colour from what should be as much dye.

    Both dyed alike: same fibre, same dips, same vat but for the lot. Ratio of K/S for each g/L [KubelkaMunk].
    """
    return new.each / old.each


def nearly_alike(old: Strip, new: Strip) -> bool:
    """Tell whether two strips are close enough for their ratio to be trusted."""
    return 1 / NEARLY_ALIKE <= new.colour / old.colour <= NEARLY_ALIKE
