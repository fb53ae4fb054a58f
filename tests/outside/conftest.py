"""One PHREEQC for all checks against it."""

from __future__ import annotations

import pytest
from phreeqpython import PhreeqPython
from tests.outside.phreeqc_runs import OWN_SPECIES


@pytest.fixture(name="own", scope="session")
def _own() -> PhreeqPython:
    """phreeqc.dat with the species that it lacks."""
    program = PhreeqPython(database="phreeqc.dat")
    program.ip.run_string(OWN_SPECIES)
    return program
