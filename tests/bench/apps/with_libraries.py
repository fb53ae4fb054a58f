"""A one-label Textual app that does with pint and cattrs what a planner written the usual way does first."""

from __future__ import annotations

from cattrs.preconf.json import make_converter
from pint import UnitRegistry
from textual.app import App, ComposeResult
from textual.widgets import Label

registry: UnitRegistry[float] = UnitRegistry()
converter = make_converter()


class WithLibraries(App[None]):
    """Paints one converted amount."""

    def compose(self) -> ComposeResult:
        """One label."""
        yield Label(f"Painted {registry.Quantity(8, 'ounce').to('gram'):.1f~P}")


WithLibraries().run()
