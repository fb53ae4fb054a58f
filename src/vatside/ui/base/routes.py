"""The ways from one screen to another, as screens ask for them; the modules of `ui/routes` hold to it."""

from __future__ import annotations

from typing import Protocol

from vatside.plan.sheet import Stage
from vatside.ui.base.session_screen import SessionScreen


class VatRoutes(Protocol):
    """The ways to the screens about the vat."""

    def read_on(self, screen: SessionScreen, stage: Stage) -> None:
        """Open the form of a reading for what stands on the stove at a stage of the day."""

    def read_here(self, screen: SessionScreen) -> None:
        """Take a reading of the vat and stay on the screen that asked for it."""

    def add_to(self, screen: SessionScreen) -> None:
        """Go on with the latest reading, if it was taken just now; else take a new one."""

    def meaning(self, screen: SessionScreen) -> None:
        """Show what the latest reading means."""

    def vat(self, screen: SessionScreen) -> None:
        """Show the vat's account and its history."""

    def spent(self, screen: SessionScreen) -> None:
        """Show the way to the end of the vat."""


class DipRoutes(Protocol):
    """The ways to the screens about dips and depth."""

    def board(self, screen: SessionScreen) -> None:
        """Show the dip board."""

    def ladder(self, screen: SessionScreen, lot: str) -> None:
        """Show the ladder of depths for a lot, or else for the first one."""

    def colour(self, screen: SessionScreen, ident: str) -> None:
        """Record the colour that a piece, or a lot, came out with."""


class LineRoutes(Protocol):
    """The way to the day line."""

    def line(self, screen: SessionScreen) -> None:
        """Show when what is done, and where hands and things are needed."""


class EveningRoutes(Protocol):
    """The ways to what reaches beyond the day."""

    def others(self, screen: SessionScreen) -> None:
        """Offer what reaches beyond the day."""


class Routes(Protocol):
    """Every family of ways, loaded when a key first asks for it."""

    @property
    def vat(self) -> VatRoutes:
        """To the screens about the vat."""

    @property
    def dips(self) -> DipRoutes:
        """To the screens about dips and depth."""

    @property
    def line(self) -> LineRoutes:
        """To the day line."""

    @property
    def evening(self) -> EveningRoutes:
        """To what reaches beyond the day."""
