"""Settings that every test shares."""

from __future__ import annotations

import gc
import os
import sys
import time
from collections.abc import Iterator

# Every worker would compile all tests anew, and the apps that tests start all their modules, every time.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

import pytest  # noqa: E402
from hypothesis import HealthCheck, settings  # noqa: E402
from hypothesis.internal.conjecture import providers  # noqa: E402
from hypothesis.internal.constants_ast import Constants  # noqa: E402
from tests.effort import EFFORT, tries  # noqa: E402
from tests.memory import make_room, remember_plans  # noqa: E402

make_room()

# The usual run sees the same examples every time, so that a failure comes from a change; a long one draws others.
settings.register_profile(
    "usual",
    max_examples=tries(50),
    deadline=None,
    derandomize=EFFORT <= 1,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("usual")
if EFFORT <= 1:
    # Constants of the modules loaded so far would come in among them: others with each order of the tests.
    providers._get_local_constants = Constants

# Every app that a test closes leaves cycles; to look for some at each seven hundred objects takes a fifth of the time.
gc.set_threshold(100_000, 20, 10)

os.environ["TEXTUAL_ANIMATIONS"] = "none"
os.environ.pop("NO_COLOR", None)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the types of the whole tree, then with storms: at the end the long ones would leave a core idle."""
    items.sort(key=lambda item: (item.path.name != "test_quality.py", item.get_closest_marker("long") is None))


@pytest.fixture(scope="session", autouse=True)
def _remember_plans() -> None:
    remember_plans()


@pytest.fixture(name="machine_in_berlin")
def _machine_in_berlin(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Set the machine's own zone to one that changes its clocks, by the rule of POSIX that needs no database."""
    if not hasattr(time, "tzset"):
        pytest.skip("this system's zone cannot be set for one program")
    with monkeypatch.context() as setting:
        setting.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
        time.tzset()
        yield
    time.tzset()
