"""What is in a vat that was kept, in plain grams, so that another session can carry on from it."""

from __future__ import annotations

from attrs import frozen

from vatside.chemistry.substances import BAKING_SODA, LYE, moles, substance


@frozen
class KeptVat:
    """The account of a vat that was not thrown away."""

    litres: float
    """Liquor, L."""
    indigotin_g: float
    """Indigotin still in it, reduced or not, g."""
    alkali: str
    """The substance its alkali is, as the chemistry names it."""
    alkali_g: float
    """Alkali that nothing has used up yet, as grams of lye; below zero where a buffer turned to carbonic acid."""
    reducer: str
    """The substance its reducer is."""
    reducer_g: float
    """Reducer left, pure, g; what falls apart by itself is not taken off."""
    brought_g: float = 0.0
    """Indigotin that was ever put in, g."""
    taken_out_g: float = 0.0
    """Indigotin that ever left on fibre, g."""
    carbonate_g: float | None = None
    """Carbonate in it, bicarbonate and all, as baking soda, g; None: nobody wrote it down."""
    salts_g: float | None = None
    """What spent reducer left in it, as sodium sulfate, g; None: nobody wrote it down."""
    oxidised_g: float = 0.0
    """Of its indigotin what air has turned blue again, g."""

    @property
    def strength(self) -> float:
        """Indigotin, g/L; 0 for an empty vat."""
        return self.indigotin_g / self.litres if self.litres else 0.0


def sourest(carbonate_g: float | None) -> float:
    """Give the alkali, as grams of lye, of a vat whose bicarbonate has all turned to carbonic acid: not above zero."""
    return -moles(BAKING_SODA, carbonate_g or 0.0) * substance(LYE).molar_mass
