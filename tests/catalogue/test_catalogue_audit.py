"""The audit finds every contradiction in the data files, and the files that are shipped have none."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any, TypeVar, cast

import attrs
import pytest
from attrs import evolve

from vatside.catalogue import audit
from vatside.catalogue.load import cautions, fibres, materials, methods, scours, steps_of
from vatside.catalogue.values import Agent, CautionText, Fact, MethodEnd, Window

T = TypeVar("T")


def test_the_shipped_files_hang_together() -> None:
    """Nothing in the data files contradicts anything else."""
    assert audit.problems() == ()


def put(monkeypatch: pytest.MonkeyPatch, name: str, table: dict[str, Any]) -> tuple[str, ...]:
    """Give the problems with one table replaced."""
    monkeypatch.setattr(audit, name, lambda: table)
    return audit.problems()


def broken(table: Callable[[], Mapping[str, T]], key: str, **changes: Any) -> dict[str, Any]:
    """Give a table with one entry changed."""
    changed: Any = evolve(cast(Any, table()[key]), **changes)
    return {**table(), key: changed}


WOOL, COTTON = fibres()["wool"], scours()["cotton"]
TDO = methods()["tdo-lye"]


@pytest.mark.parametrize(
    ("name", "table", "problem"),
    [
        ("fibres", broken(fibres, "wool", scour="wool-boil"), "fibre wool: no scour wool-boil"),
        ("fibres", broken(fibres, "wool", group="hair"), "fibre wool: no group hair"),
        ("fibres", broken(fibres, "wool", greasy_name=""), "fibre wool: a scour of its own"),
        ("fibres", broken(fibres, "cotton", greasy_name="grey cotton"), "fibre cotton: a scour of its own"),
        ("fibres", broken(fibres, "wool", window=evolve(WOOL.window, low=9.5)), "fibre wool: its window"),
        ("fibres", broken(fibres, "wool", window=evolve(WOOL.window, block=9.0)), "fibre wool: its window"),
        ("fibres", broken(fibres, "wool", window=evolve(WOOL.window, source="rumour")), "no source rumour"),
        ("fibres", broken(fibres, "wool", density=Fact(1.31, "hearsay")), "wool, density: no source hearsay"),
        ("fibres", broken(fibres, "wool", held=Fact(150, "practice", 160, 180)), "150 is not between 160 and 180"),
        ("fibres", broken(fibres, "wool", held=Fact(150, "practice", None, 140)), "150 is not between 150 and 140"),
        ("fibres", broken(fibres, "wool", density=Fact(-1.3, "practice")), "-1.3 is less than nothing"),
        ("scours", broken(scours, "cotton", agents=(Agent("bleach", Fact(1, "practice")),)), "no material bleach"),
        ("scours", broken(scours, "cotton", start="cold"), "scour cotton: no start cold"),
        ("scours", broken(scours, "cotton", ceiling=Fact(90, "practice")), "scour cotton: held above its own ceiling"),
        ("scours", broken(scours, "cotton", agents=(Agent("soap"),)), "soap wants one amount"),
        (
            "scours",
            broken(scours, "cotton", agents=(Agent("soap", Fact(1, "practice"), Fact(1, "practice")),)),
            "soap wants one amount",
        ),
        ("materials", broken(materials, "lye", cautions=("fire",)), "material lye: no caution fire"),
        ("materials", broken(materials, "lye", role="base"), "material lye: no role base"),
        ("materials", broken(materials, "lye", species="caustic"), "chemistry knows no alkali caustic"),
        ("materials", broken(materials, "dithionite", species="lye"), "chemistry knows no reducer lye"),
        ("materials", broken(materials, "indigo", species="indican"), "chemistry knows no indigo indican"),
        ("materials", broken(materials, "soap", species="sodium hydroxide"), "chemistry knows no soap"),
        ("methods", broken(methods, "tdo-lye", indigo="lye"), "method tdo-lye: lye is no indigo"),
        ("methods", broken(methods, "tdo-lye", reducer="sugar"), "method tdo-lye: sugar is no reducer"),
        ("methods", broken(methods, "tdo-lye", vat=evolve(TDO.vat, suits=("wool",))), "method tdo-lye: no group wool"),
        (
            "methods",
            broken(methods, "tdo-lye", steps=(evolve(TDO.steps[0], cautions=("smoke",)),)),
            "method tdo-lye, stock.paste: no caution smoke",
        ),
        ("cautions", {key: item for key, item in cautions().items() if key != "lye"}, "material lye: no caution lye"),
        ("cautions", broken(cautions, "lye", source="nobody"), "lye: no source nobody"),
        ("sources", {}, "no source practice"),
    ],
)  # fmt: skip
def test_a_broken_value_is_found(
    monkeypatch: pytest.MonkeyPatch, name: str, table: dict[str, Any], problem: str
) -> None:
    """Each kind of contradiction is named, with where it stands."""
    assert any(problem in line for line in put(monkeypatch, name, table))


@pytest.mark.parametrize(
    ("changes", "problem"),
    [({"when": "sometimes"}, "scour step soak: no moment sometimes"), ({"cautions": ("damp",)}, "no caution damp")],
)
def test_a_broken_scour_step_is_found(monkeypatch: pytest.MonkeyPatch, changes: dict[str, Any], problem: str) -> None:
    """A step that comes at no known moment, or warns of nothing known, is named."""
    first, *others = steps_of("scour")
    monkeypatch.setattr(audit, "steps_of", lambda _: (evolve(first, **changes), *others))
    assert any(problem in line for line in audit.problems())


def test_every_fact_is_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without any source, each fact, window and caution of the files has a problem of its own."""
    tables: list[Mapping[str, Any]] = [fibres(), scours(), materials(), methods(), cautions()]
    keys = {key for table in tables for key in table}
    count = sum(_facts(item) for table in tables for item in table.values())
    lines = [line for line in put(monkeypatch, "sources", {}) if "no source" in line]
    assert sum(re.split("[,:]", line)[0] in keys for line in lines) == count


def _facts(item: object) -> int:
    """Count what carries a source in a value, the value itself included."""
    own = int(isinstance(item, Fact | Window | CautionText | MethodEnd))
    if isinstance(item, tuple):
        return sum(_facts(part) for part in item)
    cls = type(item)
    return own + (sum(_facts(getattr(item, name)) for name in attrs.fields_dict(cls)) if attrs.has(cls) else 0)
