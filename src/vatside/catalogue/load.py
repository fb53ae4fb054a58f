"""Read the data files, once, through cattrs."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from cattrs import Converter
from cattrs.gen import make_dict_structure_fn, override

from vatside.catalogue.values import (
    CautionText,
    Fibre,
    Material,
    Method,
    Scour,
    Source,
    StepText,
    VatRules,
)

T = TypeVar("T")

DATA = Path(__file__).with_name("data")
"""Found beside this module, as every style sheet of the screen is: the standard search for it costs 0.4 MB."""


@cache
def converter() -> Converter:
    """Build what reads every data file; tests audit our own data, so an error need not say where it stands."""
    made = Converter(forbid_extra_keys=True, detailed_validation=False)
    made.register_structure_hook(VatRules, make_dict_structure_fn(VatRules, made, yield_=override(rename="yield")))
    return made


def table(name: str) -> dict[str, Any]:
    """Read one data file, as it stands."""
    return tomllib.loads((DATA / name).read_text("utf-8"))


def _load(name: str, cls: type[T]) -> dict[str, T]:
    return {key: converter().structure(row, cls) for key, row in table(name).items()}


@cache
def sources() -> dict[str, Source]:
    """Citations by source key."""
    return _load("sources.toml", Source)


@cache
def fibres() -> dict[str, Fibre]:
    """Fibres by id."""
    return _load("fibres.toml", Fibre)


@cache
def scours() -> dict[str, Scour]:
    """Scouring recipes by id."""
    return _load("scours.toml", Scour)


@cache
def materials() -> dict[str, Material]:
    """Powders and liquids by id."""
    return _load("materials.toml", Material)


@cache
def cautions() -> dict[str, CautionText]:
    """Cautions by id."""
    return _load("cautions.toml", CautionText)


@cache
def scour_steps() -> tuple[StepText, ...]:
    """The steps of one scour bath."""
    return converter().structure(table("scour_steps.toml")["steps"], tuple[StepText, ...])


@cache
def jar_steps() -> dict[str, StepText]:
    """The steps that bring the stock of another vat in, by id."""
    rows = converter().structure(table("jar_steps.toml")["steps"], tuple[StepText, ...])
    return {row.id: row for row in rows}


@cache
def methods() -> dict[str, Method]:
    """Kinds of vat by id, which is the name of the data file."""
    folder = DATA / "methods"
    names = sorted(item.name for item in folder.iterdir() if item.name.endswith(".toml"))
    tables = {name.removesuffix(".toml"): table(f"methods/{name}") for name in names}
    return {key: converter().structure(table, Method) for key, table in tables.items()}
