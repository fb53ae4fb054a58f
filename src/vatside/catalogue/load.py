"""Read the data files, once, through cattrs."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from cattrs import Converter
from cattrs.gen import make_dict_structure_fn, override

from vatside.catalogue import values

T = TypeVar("T")

DATA = Path(__file__).with_name("data")
"""Found beside this module, as every style sheet of the screen is: the standard search for it costs 0.4 MB."""


@cache
def converter() -> Converter:
    """Build what reads every data file; tests audit our own data, so an error need not say where it stands."""
    made = Converter(forbid_extra_keys=True, detailed_validation=False)
    made.register_structure_hook(
        values.VatRules, make_dict_structure_fn(values.VatRules, made, yield_=override(rename="yield"))
    )
    return made


def table(name: str) -> dict[str, Any]:
    """Read one data file, as it stands."""
    return tomllib.loads((DATA / name).read_text("utf-8"))


@cache
def kept_table(name: str) -> dict[str, Any]:
    """Read one data file of which more than one thing is made, and keep it as it stands."""
    return table(name)


def with_vats(name: str) -> dict[str, Any]:
    """Give one file as it stands, and what the files of methods bring of the same."""
    rows = dict(table(f"{name}.toml")) if (DATA / f"{name}.toml").is_file() else {}
    for file in method_files().values():
        rows |= file.get(name, {})
    return rows


def _load(name: str, cls: type[T]) -> dict[str, T]:
    return {key: converter().structure(row, cls) for key, row in with_vats(name).items()}


@cache
def method_files() -> dict[str, dict[str, Any]]:
    """The files of all kinds of vat, by id, which is the name of the file; the dyer's own come last."""
    return {**{name: table(f"methods/{name}.toml") for name in shipped_methods()}, **_own}


_own: dict[str, dict[str, Any]] = {}
"""The dyer's own kinds of vat; read once, as the program starts."""


@cache
def shipped_methods() -> tuple[str, ...]:
    """The ids of the kinds of vat that the program brings."""
    names = sorted(item.name for item in (DATA / "methods").iterdir())
    return tuple(name.removesuffix(".toml") for name in names if name.endswith(".toml"))


def own_files() -> dict[str, dict[str, Any]]:
    """Give the dyer's own kinds of vat, as their files stand."""
    return dict(_own)


def take_in(own: dict[str, dict[str, Any]]) -> None:
    """Put these kinds of vat into the place of the dyer's own, and read what methods bring along anew."""
    _own.clear()
    _own.update(own)
    for read in (method_files, sources, materials, cautions, _method):
        read.cache_clear()


@cache
def sources() -> dict[str, values.Source]:
    """Citations by source key."""
    return _load("sources", values.Source)


@cache
def fibres() -> dict[str, values.Fibre]:
    """Fibres by id."""
    return _load("fibres", values.Fibre)


@cache
def scours() -> dict[str, values.Scour]:
    """Scouring recipes by id."""
    return _load("scours", values.Scour)


@cache
def materials() -> dict[str, values.Material]:
    """Powders and liquids by id."""
    return _load("materials", values.Material)


@cache
def cautions() -> dict[str, values.CautionText]:
    """Cautions by id."""
    return _load("cautions", values.CautionText)


@cache
def steps_of(name: str) -> tuple[values.StepTemplate, ...]:
    """The steps of one file: `scour`, `jar`, `vat`, `dip` or `finish`."""
    return converter().structure(kept_table(f"{name}_steps.toml")["steps"], tuple[values.StepTemplate, ...])


class Methods(Mapping[str, values.Method]):
    """Kinds of vat by id, each made when it is first asked for: a day has one, and each is a hundred values."""

    def __getitem__(self, key: str) -> values.Method:
        """Give one; KeyError for what is none."""
        return _method(key)

    def __iter__(self) -> Iterator[str]:
        """Go through the ids."""
        return iter(method_files())

    def __len__(self) -> int:
        """Count them."""
        return len(method_files())

    def __contains__(self, key: object) -> bool:
        """Tell whether there is such a kind, without making it."""
        return key in method_files()


def methods() -> Methods:
    """Kinds of vat by id."""
    return Methods()


@cache
def _method(key: str) -> values.Method:
    return method(method_files()[key])


BESIDE = ("materials", "cautions", "sources", "findings", "remedies")
"""What a method's file may bring besides the method."""


def method(rows: dict[str, Any], reader: Converter | None = None) -> values.Method:
    """Make a kind of vat of what its file says: it has the steps of all vats, with its own words where it has any."""
    own = {row["id"]: row for row in rows.get("steps", ())}
    shared = [row for row in kept_table("vat_steps.toml")["steps"] if _is_for(row, rows["alkali"])]
    last = [row for row in kept_table("finish_steps.toml")["steps"] if not row.get("each")]
    steps, ending = ([row | own.pop(row["id"], {}) for row in part if row["id"] not in rows.get("without", ())]
                     for part in (shared, last))  # fmt: skip
    plain = {key: value for key, value in rows.items() if key not in BESIDE}
    filled = {"steps": _in_order([*steps, *own.values()]), "ending": ending}
    made: values.Method = (reader or converter()).structure(plain | filled, values.Method)
    return made


def _in_order(steps: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Give the steps with all of the stock before those of the vat; else as they stand."""
    return sorted(steps, key=lambda row: not row["id"].startswith("stock."))


def usual_method() -> str:
    """Give the id of the kind of vat that a new plan begins with."""
    return next(key for key, rows in method_files().items() if rows.get("usual"))


def method_choices() -> tuple[tuple[str, str, str], ...]:
    """Give the id of each kind of vat, its name, and what it is for."""
    return tuple((key, rows["name"], rows["about"]) for key, rows in method_files().items())


def _is_for(row: dict[str, Any], alkali: str) -> bool:
    """Tell whether a step is for vats of an alkali (a material)."""
    wanted = row.get("alkalis", ())
    return not wanted or alkali not in materials() or materials()[alkali].species in wanted


KITCHEN = ("sink", "hob", "pot", "bowl", "jar", "tub")
"""What a step can take or hold besides hands."""


HOLDS = re.compile(rf"({'|'.join(KITCHEN)}) until ([a-z_.]+)( begins)?")
"""A thing, the step until whose end it is held, and whether that is its beginning instead."""
