"""A lot of fibre written in one line: `linen, 320 g, 4 pieces, medium`, its parts in any order.

Fibre (or a blend with its shares), mass, pieces, depth, how it comes, how it is made up, what it is called; the names
of persons stand last, as they have commas of their own.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from attrs import evolve

from vatside.catalogue.load import fibres
from vatside.forms.fields import depths, read, set_value
from vatside.plan.paths import add_lot, free_name
from vatside.plan.plan import Condition, Form, Plan
from vatside.plan.starter import new_lot
from vatside.units import Kind, Problem, parse_amount, times

EXAMPLE = "linen, 320 g, 4 pieces, medium"
BLEND = "cotton-linen 55/45"
NEEDED = {"fibre": "the fibre", "mass": "a mass with its unit"}
"""What a lot cannot do without."""
WHAT = {
    "fibre": "fibres", "mass": "masses", "pieces": "numbers of pieces", "depth": "depths", "form": "forms",
    "condition": "ways in which it comes", "name": "names of the lot",
}  # fmt: skip
"""What is told of a place that is filled twice."""
EVENLY = 0.5
"""How far the shares of a blend may be from 100 % in all, %."""

_APART = re.compile(r"(?<!\d),|,(?!\d)|;")
"""Between two parts; a comma between two digits belongs to the number."""
_NAMES = re.compile(r"(?:^|[,;])\s*names?\b:?(.*)$", re.IGNORECASE | re.DOTALL)
_PIECES = re.compile(r"(\d+)\s*(?:(pieces?|pcs?)|(skeins?|cloths?|garments?))?", re.IGNORECASE | re.ASCII)
_CALLED = re.compile(r"called\b:?\s*(.+)", re.IGNORECASE)
_SHARES = re.compile(r"(.*?)\s+(\d+(?:[.,]\d+)?)\s*%?\s*/\s*(\d+(?:[.,]\d+)?)\s*%?", re.ASCII)
_JOINED = re.compile(r"\s*[-–/+&]\s*|\s+(?:and|with)\s+", re.IGNORECASE)
_DEPTH = re.compile(r"(?:depth\b:?\s*)?(.+?)(?:\s+(?:blue|depth))?", re.IGNORECASE)

Places = dict[str, str]
"""Texts by place of the lot, as the form takes them."""


def with_lot(plan: Plan, text: str) -> Plan | Problem:
    """Give the plan with one more lot as it is written, or say in a sentence what is wrong with it and what is right.

    Depth, pieces and form that are not written are those of a new lot; it is clean. `10 x 100 g` are ten pieces.
    """
    by_place = places(text)
    if isinstance(by_place, Problem):
        return by_place
    lot = evolve(new_lot(plan), condition=Condition.CLEAN)
    plan = set_value(add_lot(plan, lot), f"lots.{lot.id}.name", _free_name(plan, by_place))
    for name, typed in by_place.items():
        value = read(plan, f"lots.{lot.id}.{name}", typed)
        if isinstance(value, Problem):
            return value
        plan = set_value(plan, f"lots.{lot.id}.{name}", value)
    return plan


def _free_name(plan: Plan, by_place: Mapping[str, str]) -> str:
    """Call a lot by its fibre, with a number where another lot is called so."""
    keys = [key for key in (by_place["fibre"], by_place.get("second", "")) if key]
    return free_name(plan, "-".join(keys).capitalize())


def places(text: str) -> Places | Problem:
    """Sort the parts of a text into places of a lot, or say which of them is not understood, missing or there twice."""
    by_place: Places = {}
    names = _NAMES.search(text)
    rest = text[: names.start()] if names else text
    for part in (part.strip() for part in _APART.split(rest)):
        new_places = _place(part) if part else {}
        if isinstance(new_places, Problem):
            return new_places
        twice = next((name for name in new_places if name in by_place and by_place[name] != new_places[name]), "")
        if twice:
            return Problem(f"“{text.strip()}” has two {WHAT.get(twice, twice)}; write one, as in {EXAMPLE}")
        by_place |= new_places
    missing = [words for name, words in NEEDED.items() if name not in by_place]
    if missing:
        return Problem(f"“{text.strip()}” lacks {' and '.join(missing)}; write for example {EXAMPLE}")
    counted = times(by_place["mass"])
    if counted and "pieces" not in by_place:
        by_place["pieces"] = str(counted)
    return {**by_place, "names": names[1].strip()} if names and names[1].strip() else by_place


def _place(part: str) -> Places | Problem:
    """Say what one part is."""
    by_place = _called(part) or _pieces(part) or _mass(part) or _depth(part) or _choice(part)
    if by_place:
        return by_place
    blend = _blend(part)
    if blend is not None:
        return blend
    return Problem(
        f"“{part}” is no fibre, mass, number of pieces, depth, condition or form; write for example {EXAMPLE}, "
        f"or {BLEND}; fibres are {', '.join(fibres())}, depths {', '.join(depths())}"
    )


def _called(part: str) -> Places:
    match = _CALLED.fullmatch(part)
    return {"name": match[1].strip()} if match else {}


def _pieces(part: str) -> Places:
    """Read `4 pieces`, or `4 skeins`, which says the form as well."""
    match = _PIECES.fullmatch(part)
    if match is None or not (match[2] or match[3]):
        return {}
    form = next((form for form in Form if match[3] and form.startswith(match[3].casefold().rstrip("s"))), None)
    return {"pieces": match[1]} | ({"form": form.value} if form else {})


def _mass(part: str) -> Places:
    """Read a mass that has its unit: a bare number could be anything."""
    bare = not any(letter.isalpha() for letter in part)
    return {} if bare or isinstance(parse_amount(part, Kind.MASS), Problem) else {"mass": part}


def _depth(part: str) -> Places:
    """Read `0.8 %`, `medium`, `medium blue`."""
    match = _DEPTH.fullmatch(part)
    typed = match[1] if match else part
    if typed.casefold() in depths() or ("%" in typed and not isinstance(parse_amount(typed, Kind.PERCENT), Problem)):
        return {"depth": typed}
    return {}


def _choice(part: str) -> Places:
    low = part.casefold()
    for name, values in (("condition", Condition), ("form", Form)):
        for value in values:
            if low in (value, *value.split()):
                return {name: value.value}
    return {}


def _fibre_words() -> Iterator[tuple[str, Places]]:
    """Give every word for a fibre, and for one with its grease or gum on."""
    for key, fibre in fibres().items():
        yield from ((word.strip(), {"fibre": key}) for word in (key, fibre.name, *fibre.name.split(" or ")))
        if fibre.greasy_name:
            greasy = {"fibre": key, "condition": Condition.GREASY.value}
            yield fibre.greasy_name, greasy
            yield fibre.greasy_name.partition(" ")[0] + " " + key, greasy


def _blend(part: str) -> Places | Problem | None:
    """Read a fibre or a blend of two; None if it names no fibre."""
    known = dict(_fibre_words())
    if part.casefold() in known:
        return known[part.casefold()]
    shares = _SHARES.fullmatch(part)
    words = [word.casefold() for word in _JOINED.split(shares[1] if shares else part)]
    if not all(word in known for word in words):
        return None
    if len(words) != 2:
        return Problem(f"“{part}” is no blend of two fibres; write it as {BLEND}")
    first, second = (known[word] for word in words)
    both = {**second, **first, "second": second["fibre"]}
    if shares is None:
        return both
    whole = sum(float(share.replace(",", ".")) for share in shares.group(2, 3))
    if abs(whole - 100) > EVENLY:
        return Problem(f"the shares of “{part}” come to {whole:g} %; they make 100 %, as in {BLEND}")
    return {**both, "second_share": f"{shares[3]} %"}
