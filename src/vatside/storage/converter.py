"""The one configured converter between our values and JSON: strict, quick, and slow only to say what is wrong."""

from __future__ import annotations

from datetime import datetime
from functools import cache, partial
from types import GenericAlias
from typing import Any, get_args, get_origin

import attrs
from cattrs import Converter
from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn, override

from vatside.log.events.day import FieldValue
from vatside.plan.plan import Kept, Lot, Plan, Vessels, Workplace
from vatside.storage.flaws import Flaw, shown
from vatside.storage.scalars import (
    read_number,
    read_text,
    read_text_or_choice,
    read_truth,
    read_unit,
    read_whole,
)
from vatside.storage.utc import read_utc, show_utc
from vatside.units import Amount
from vatside.vat.kept_vat import KeptVat

SPARED = frozenset(
    {"second", "second_share", "names", "others", "kept", "stock_kept", "dosing",
     "carbonate", "salts", "oxidised", "carbonate_g", "salts_g", "oxidised_g", "place", "comes"}
    | attrs.fields_dict(Workplace).keys()
)  # fmt: skip
"""Places of a plan that a file leaves out while nothing stands in them."""


@cache
def converter() -> Converter:
    """Build the converter at first use."""
    made = Converter(forbid_extra_keys=True, detailed_validation=True)
    made.register_structure_hook(str, read_text_or_choice)
    made.register_structure_hook(int, read_whole)
    made.register_structure_hook(float, read_number)
    made.register_structure_hook(bool, read_truth)
    made.register_structure_hook(datetime, read_utc)
    made.register_unstructure_hook(datetime, show_utc)
    for cls in (Lot, Vessels, Kept, KeptVat, Workplace, Plan):
        # Places that came later, and a kept vat, are named only where something stands in them.
        spared: Any = {name: override(omit_if_default=True) for name in SPARED & attrs.fields_dict(cls).keys()}
        made.register_unstructure_hook(cls, make_dict_unstructure_fn(cls, made, **spared))
    made.register_structure_hook_factory(_is_tuple, lambda cls: _list_hook(made, cls))
    made.register_structure_hook_factory(attrs.has, lambda cls: _class_hook(made, cls))
    made.register_structure_hook(FieldValue, _field_hook(made))
    return made


def _is_tuple(cls: Any) -> bool:
    return get_origin(cls) is tuple


def _list_hook(made: Converter, cls: Any) -> Any:
    """Structure a `tuple[X, ...]` from a real list."""
    item = get_args(cls)[0]
    as_list = GenericAlias(list, (item,))
    one, in_words = made.get_structure_hook(item), made.get_structure_hook(as_list)

    def structure(raw: object, _type: object) -> tuple[Any, ...]:
        if type(raw) is not list:
            raise Flaw(f"must be a list, not {shown(raw)}")
        try:
            return tuple([one(value, item) for value in raw])
        except Exception:
            # Slower, and tells every value that is wrong, each with its place.
            return tuple(in_words(raw, as_list))

    return structure


def _class_hook(made: Converter, cls: Any) -> Any:
    """Structure a frozen class from a real object."""
    quick, in_words = reader(made, cls), cache(partial(reader, made, cls, detailed=True))

    def structure(raw: object, _type: object) -> Any:
        if type(raw) is not dict:
            raise Flaw(f"must be an object with named values, not {shown(raw)}")
        try:
            return quick(raw, cls)
        except Exception:
            return in_words()(raw, cls)

    return structure


def reader(made: Converter, cls: Any, *, detailed: bool = False, entry: bool = False) -> Any:
    """Make what reads a class from a dict.

    `detailed` tells every value that is wrong, and is slower; `entry` lets the dict hold more than the class does.
    """
    texts = (field.name for field in attrs.fields(cls) if field.type in (str, "str"))
    own: dict[str, Any] = {name: override(struct_hook=read_text) for name in texts}
    if cls is Amount:
        own["unit"] = override(struct_hook=read_unit)
    return make_dict_structure_fn(
        cls, made, _cattrs_detailed_validation=detailed, _cattrs_forbid_extra_keys=not entry, **own
    )


def _field_hook(made: Converter) -> Any:
    """Structure what one field of a plan can hold."""
    amount = made.get_structure_hook(Amount)

    def structure(raw: object, _type: object) -> FieldValue:
        if type(raw) is str:
            return read_text(raw, str)
        if raw is None or type(raw) is int:
            return None if raw is None else read_whole(raw, int)
        value: Amount = amount(raw, Amount)
        return value

    return structure
