"""Cautions of the catalogue, ready for the screen."""

from __future__ import annotations

from vatside.catalogue.load import cautions
from vatside.dayline.steps import Caution

DEFER = "Read the supplier's safety sheet; local rules and licensed practice come first."
"""The last line of every caution."""


def caution(caution_id: str) -> Caution:
    """Give one caution of the catalogue, ready for the screen."""
    found = cautions()[caution_id]
    return Caution(caution_id, found.title, (*found.lines, DEFER), found.acknowledge)
