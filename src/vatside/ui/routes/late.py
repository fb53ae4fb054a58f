"""The ways that a key of a screen may ask for, each family loaded when it is first asked for."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from vatside.ui.base.routes import DipRoutes, EveningRoutes, LineRoutes, VatRoutes


class LateRoutes:
    """The families of ways; a module each."""

    @property
    def vat(self) -> VatRoutes:
        """To the screens about the vat."""
        from vatside.ui.routes import vat

        return vat

    @property
    def dips(self) -> DipRoutes:
        """To the screens about dips and depth."""
        from vatside.ui.routes import dips

        return dips

    @property
    def line(self) -> LineRoutes:
        """To the day line."""
        from vatside.ui.routes import line

        return line

    @property
    def evening(self) -> EveningRoutes:
        """To what reaches beyond the day."""
        from vatside.ui.routes import evening

        return evening
