"""Plans and the entries of logs to JSON and back, by the one configured converter.

It is strict, quick, and slow only to say what is wrong.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime
from functools import cache, partial
from math import isfinite
from types import GenericAlias
from typing import Any, Generic, Protocol, TypeVar, get_args, get_origin

import attrs
from attrs import frozen
from cattrs import Converter
from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn, override

from vatside.log.events.day import Entry, Event, Unknown
from vatside.log.waits import Moment
from vatside.plan.plan import FieldValue, Kept, Lot, Plan, Vessels, Workplace
from vatside.storage import file_format
from vatside.storage.file_format import (
    encodable,
    read_number,
    read_text,
    read_text_or_choice,
    read_truth,
    read_unit,
    read_utc,
    read_whole,
    show_utc,
)
from vatside.storage.flaws import Flaw, SessionError, sentences, shown
from vatside.units import Amount
from vatside.vat.kept_vat import KeptVat

SPARED = frozenset(
    {"second", "second_share", "names", "others", "kept", "stock_kept", "dosing",
     "carbonate", "salts", "oxidised", "carbonate_g", "salts_g", "oxidised_g", "place", "comes", "named"}
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
    made.register_unstructure_hook_factory(_is_sparing, lambda cls: _sparing_writer(made, cls))
    made.register_structure_hook_factory(_is_tuple, lambda cls: _list_hook(made, cls))
    made.register_structure_hook_factory(attrs.has, lambda cls: _class_hook(made, cls))
    made.register_structure_hook(FieldValue, _field_hook(made))
    return made


def _is_sparing(cls: Any) -> bool:
    return cls in (Lot, Vessels, Kept, KeptVat, Workplace, Plan)


def _sparing_writer(made: Converter, cls: Any) -> Any:
    """Name places that came later, and a kept vat, only where something stands in them."""
    spared: Any = {name: override(omit_if_default=True) for name in SPARED & attrs.fields_dict(cls).keys()}
    return make_dict_unstructure_fn(cls, made, **spared)


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


LONGEST_ENTRY = 1_000_000
"""Bytes of one entry; a note of that length is a file pasted by mistake. Ours, no source."""


def plan_to_json(plan: Plan) -> dict[str, Any]:
    """Give the plan as JSON values."""
    result: dict[str, Any] = converter().unstructure(plan)
    return result


def plan_from_json(raw: object) -> Plan:
    """Read a plan from JSON values; raises what `flaws.sentences` puts into words."""
    return converter().structure(raw, Plan)


class Logged(Protocol):
    """An entry of any log."""

    @property
    def seq(self) -> int:
        """Its number, from 1."""

    @property
    def event(self) -> Any:
        """What happened."""


E = TypeVar("E", bound=Logged)


@frozen(eq=False)
class Log(Generic[E]):
    """How the entries of one log are written: what stands at their head, and the kinds of their events."""

    entry: Callable[..., E]
    """Makes an entry of the values of its head and its event."""
    head: Mapping[str, Callable[[Any, Any], object]]
    """The names in an entry that are not its event's own, with what reads each; `seq` and `kind` are among them."""
    read: Callable[[dict[str, Any]], tuple[Any, ...]]
    """Gives the values of the head, `seq` first, without the kind."""
    write: Callable[[E], dict[str, Any]]
    """Gives the head as JSON values, without the kind."""
    kinds: Mapping[str, type]
    """Every kind of event that this version knows, by the name written in the file."""

    def to_json(self, entry: E) -> dict[str, Any]:
        """Give an entry as one flat JSON object; an event of an unknown kind comes out as it came in."""
        event = entry.event
        if isinstance(event, Unknown):
            return {**self.write(entry), "kind": event.name, **event.body}
        return {**self.write(entry), "kind": event.kind, **converter().unstructure(event)}

    def from_json(self, raw: object) -> E:
        """Read an entry from JSON values; raises what `flaws.sentences` puts into words."""
        if type(raw) is not dict:
            raise Flaw("an event must be an object with named values")
        try:
            values, kind = self.read(raw), read_text(raw["kind"], str)
        except (Flaw, KeyError):
            raise self._head_flaw(raw) from None
        if values[0] < 1:
            raise Flaw(f"seq must be 1 or more, not {values[0]}")
        return self.entry(*values, self._event(kind, raw))

    def all_from_json(self, raw: object, problems: list[str]) -> Iterator[tuple[int, E]]:
        """Read every entry with its place from 1; what is wrong with one goes on the list.

        What an entry was read from is let go of at once: reading then needs half the memory.
        """
        if type(raw) is not list:
            problems.append("events: must be a list")
            return
        raw.reverse()
        for number in range(1, len(raw) + 1):
            try:
                entry = self.from_json(raw.pop())
            except Exception as error:
                problems.extend(sentences(error, ("event", number)))
            else:
                yield number, entry

    def document(self, head: Mapping[str, object], entries: Iterable[E]) -> bytes:
        """Write a whole file: its head, each name on a line, then one event a line."""
        lines = [f"{file_format.dump_json(name)}: {file_format.dump_json(value)}," for name, value in head.items()]
        events = ",\n".join(self.line(entry) for entry in entries)
        return "\n".join(["{", *lines, '"events": [', *([events] if events else []), "]}", ""]).encode("utf-8")

    def line(self, entry: E) -> str:
        """Write one entry on one line."""
        return file_format.dump_json(self.to_json(entry))

    def read_line(self, data: bytes) -> E:
        """Read one entry; SessionError in words if it is none."""
        raw = file_format.parse_json(data)
        try:
            return self.from_json(raw)
        except Exception as error:
            raise SessionError(*sentences(error, ("event",))) from None

    def as_read_back(self, entry: E) -> E:
        """Give an entry as a file will give it back; half characters become question marks.

        ValueError if it could not be read back at all.
        """
        line = self.line(entry).encode("utf-8", "replace")
        if len(line) > LONGEST_ENTRY:
            raise ValueError(f"an entry of {len(line) // 1000} kB is too long for the log")
        try:
            return self.read_line(line)
        except SessionError as error:
            raise ValueError(str(error)) from None

    def _head_flaw(self, raw: dict[str, Any]) -> Flaw:
        """Say what is wrong with an entry's own values; looked for only once something is."""
        for name, read in self.head.items():
            if name not in raw:
                return Flaw(f"{name} is missing")
            try:
                read(raw[name], None)
            except Flaw as error:
                return Flaw(f"{name} {error}")
        raise AssertionError("an entry was refused whose own values are sound")

    def _event(self, kind: str, raw: dict[str, object]) -> Any:
        if kind not in self.kinds:
            return _unknown(kind, self._own(raw))
        try:
            return _event_reader(self, kind)(raw)
        except Exception:
            # Slower, and tells every value that is wrong, each with its place.
            return converter().structure(self._own(raw), self.kinds[kind])

    def _own(self, raw: dict[str, object]) -> dict[str, object]:
        """Give the values of an entry that are its event's own."""
        return {name: value for name, value in raw.items() if name not in self.head}


@cache
def _event_reader(log: Log[Any], kind: str) -> Callable[[dict[str, object]], Any]:
    """Give what reads a kind of event straight from its entry.

    Made when the first one comes, as a day holds a third of all kinds.
    """
    cls = log.kinds[kind]
    quick, names = reader(converter(), cls, entry=True), frozenset((*log.head, *attrs.fields_dict(cls)))

    def read(raw: dict[str, object]) -> Any:
        if not raw.keys() <= names:
            raise Flaw("holds a name that is none of its kind")
        return quick(raw, cls)

    return read


def kinds_of(events: Any) -> dict[str, Any]:
    """Give every kind in a union of events by its name."""
    return {cls.kind: cls for cls in get_args(events) if cls is not Unknown}


def _of_a_day(raw: dict[str, Any]) -> tuple[int, Moment]:
    at = Moment(read_utc(raw["at"], None), read_number(raw["elapsed"], float), read_text(raw["boot"], str))
    return read_whole(raw["seq"], int), at


DAY_LOG = Log(
    entry=Entry,
    head={"seq": read_whole, "at": read_utc, "elapsed": read_number, "boot": read_text, "kind": read_text},
    read=_of_a_day,
    write=lambda entry: {
        "seq": entry.seq, "at": show_utc(entry.at.utc), "elapsed": entry.at.elapsed, "boot": entry.at.boot,
    },
    kinds=kinds_of(Event),
)  # fmt: skip
"""The log of a session."""


def _unknown(kind: str, body: dict[str, object]) -> Unknown:
    if file_format.too_deep(body) or not _plain(body):
        raise Flaw(f"the unknown kind {shown(kind)} holds something that cannot be kept")
    return Unknown(kind, body)


def _plain(value: object) -> bool:
    """Tell whether an unknown value can be written out again just as it is."""
    if isinstance(value, dict):
        return all(_plain(key) and _plain(item) for key, item in value.items())
    if isinstance(value, list):
        return all(_plain(item) for item in value)
    if isinstance(value, float):
        return isfinite(value)
    return not isinstance(value, str) or encodable(value)
