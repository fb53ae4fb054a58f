"""The four kitchens' measures against their published sizes, and the one registry."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from vatside.units import UNITS, Spoons, spoon_millilitres
from vatside.units.registry import registry, registry_name

SRC = Path(__file__).parents[2] / "src"

# US: NIST SP 811 B.8 (from memory) and NIST Handbook 44 Appendix C, to the digits printed there.
US = {
    "tsp": 4.928922,
    "tbsp": 14.78676,
    "cup": 236.5882,
    "fl_oz": 29.57353,
    "pint": 473.1765,
    "quart": 946.3529,
    "gal": 3785.412,
}
# Imperial measures: UK Weights and Measures Act 1985, as tabulated in NIST SP 811 B.8 (both from memory).
IMPERIAL_MEASURES = {"fl_oz": 28.41306, "pint": 568.26125, "quart": 1136.5225, "gal": 4546.09}
# Old British kitchen practice: 5/8 and 5/24 of a fluid ounce, half a pint; GNU Units gives about 17.7 mL.
IMPERIAL = {"tsp": 5.919388, "tbsp": 17.75816, "cup": 284.1306} | IMPERIAL_MEASURES
# Metric kitchen practice, no source.
METRIC = {"tsp": 5.0, "tbsp": 15.0, "cup": 250.0} | IMPERIAL_MEASURES
# The measuring set of the Standards Association of Australia, as quoted in a health office's chart.
AUSTRALIAN = {"tsp": 5.0, "tbsp": 20.0, "cup": 250.0} | IMPERIAL_MEASURES

PUBLISHED = {
    Spoons.US: US,
    Spoons.METRIC: METRIC,
    Spoons.IMPERIAL: IMPERIAL,
    Spoons.AUSTRALIAN: AUSTRALIAN,
}


@pytest.mark.parametrize(
    ("spoons", "unit", "millilitres"),
    [(spoons, unit, size) for spoons, sizes in PUBLISHED.items() for unit, size in sizes.items()],
)
def test_measures_have_their_published_size(spoons: Spoons, unit: str, millilitres: float) -> None:
    """Each spoon, cup and liquid measure of each kitchen holds what is published for it."""
    assert spoon_millilitres(unit, spoons) == pytest.approx(millilitres, rel=5e-7)


@pytest.mark.parametrize("spoons", Spoons)
@pytest.mark.parametrize("unit", UNITS)
def test_every_unit_is_defined(unit: str, spoons: Spoons) -> None:
    """Every unit of the whitelist stands in the registry for every kitchen."""
    assert registry().Unit(registry_name(unit, spoons)) is not None


@pytest.mark.parametrize("name", ["coulomb", "tesla", "picohenry", "femtolitre", "molar"])
def test_the_registry_knows_nothing_else(name: str) -> None:
    """Units in which pint would misread a dyer's text are not defined at all."""
    assert name not in registry()


def test_one_registry() -> None:
    """No other module builds a registry of its own."""
    builders = [path.name for path in SRC.rglob("*.py") if re.search(r"UnitRegistry\(", path.read_text("utf-8"))]
    assert builders == ["registry.py"]


def test_the_registry_is_built_once() -> None:
    """Every call gives the same registry, so that quantities always mix."""
    assert registry() is registry()


def test_reading_and_printing_leave_pint_alone() -> None:
    """Typing and showing amounts in base units does not cost pint's start-up."""
    code = (
        "import sys; from vatside.units import *\n"
        "parse_amount('1 1/2 tsp', Kind.POWDER); show_value(12.5, 'g'); convert(5, 'g', 'g')\n"
        "print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
