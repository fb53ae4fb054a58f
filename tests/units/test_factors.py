"""The exact factors that spare an ordinary day pint's start-up."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction
from itertools import product

import pytest

from vatside.units import BASE_UNITS, KIND_OF_UNIT, Spoons, convert
from vatside.units.conversion import FACTORS, known
from vatside.units.registry import registry, registry_name


@pytest.mark.parametrize(("unit", "spoons"), [pytest.param(*key, id=f"{key[0]}-{key[1]}") for key in FACTORS])
def test_factors_are_those_of_the_registry(unit: str, spoons: Spoons | None) -> None:
    """Pint turns one, and none, of every unit into exactly what our own table says."""
    whose = spoons or Spoons.AUSTRALIAN
    found, base = known(unit, whose), registry().Unit(registry_name(BASE_UNITS[KIND_OF_UNIT[unit]], whose))
    assert found is not None
    for count in (0, 1):
        amount = registry().Quantity(Fraction(count), registry().Unit(registry_name(unit, whose)))
        assert count * found[0] + found[1] == amount.to(base).magnitude


@pytest.mark.parametrize("spoons", [Spoons.IMPERIAL, Spoons.AUSTRALIAN])
@pytest.mark.parametrize("unit", ["tsp", "tbsp", "cup", "fl_oz", "pint", "quart", "gal"])
def test_other_kitchens_go_through_pint(unit: str, spoons: Spoons) -> None:
    """British and Australian measures are not in the table, and still come out as the registry has them."""
    assert known(unit, spoons) is None
    exact = registry().Quantity(Fraction(1), registry_name(unit, spoons)).to("millilitre").magnitude
    assert convert(1, unit, "mL", spoons) == float(exact)


@pytest.mark.parametrize(("unit", "to"), [("degF", "degC"), ("degC", "degF")])
def test_temperatures_do_not_begin_together(unit: str, to: str) -> None:
    """40 below zero is the same on both scales, and water boils at 100 °C, 212 °F."""
    boiling = {"degC": 100.0, "degF": 212.0}
    assert convert(-40, unit, to) == pytest.approx(-40, abs=1e-12)
    assert convert(boiling[unit], unit, to) == pytest.approx(boiling[to], abs=1e-12)


@pytest.mark.parametrize("spoons", [Spoons.US, Spoons.METRIC])
def test_an_ordinary_plan_never_imports_pint(spoons: Spoons) -> None:
    """A whole sheet comes without pint where the spoons are American or metric."""
    code = (
        "import sys\nfrom attrs import evolve\nfrom vatside.plan.starter import starter_plan\n"
        "from vatside.recipe.compute import compute\nfrom vatside.units import Spoons\n"
        f"compute(evolve(starter_plan(), spoons=Spoons({spoons.value!r})))\nprint('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_every_pair_of_one_kind_converts_there_and_back() -> None:
    """Any unit into any other of its kind and back gives what one began with."""
    for unit, to in product(KIND_OF_UNIT, repeat=2):
        if KIND_OF_UNIT[unit] is KIND_OF_UNIT[to]:
            assert convert(convert(3.0, unit, to), to, unit) == pytest.approx(3.0, rel=1e-12)
