"""The same blue again: everything that made a blue on one card, and what most likely parts two of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from attrs import frozen

from vatside.catalogue.load import materials
from vatside.chemistry.colour import Lab
from vatside.recipe.measures import fibre_of, method_of, powder
from vatside.recipe.sheet import Sheet
from vatside.session.across.dips import dipped
from vatside.session.across.done import added, waited
from vatside.session.across.noted import PARTS, Read, colours, last_of, measured, part_text, readings
from vatside.session.counting import happened
from vatside.session.events import PowderTaken
from vatside.session.loglines import plain
from vatside.session.session import Session
from vatside.session.so_far import sheet_of
from vatside.session.state import State, fold
from vatside.units import (
    show_amount,
    show_concentration,
    show_mass,
    show_minutes,
    show_percent,
    show_temperature,
    show_volume,
)

VAT_STEPS = ("stock.", "vat.", "correction.")
"""Beginnings of the steps whose powders make the blue."""


@frozen
class BlueCard:
    """What made a blue, as numbers for comparing and as lines for reading."""

    title: str
    day: str
    lines: tuple[tuple[str, str], ...]
    """Label and value, in the order of the day."""
    strength: float
    """Indigotin in the vat by the plan, g/L."""
    pH_worked: float | None  # noqa: N815  (chemistry's own symbol)
    """At the plan's vat temperature; None where nobody can work it out."""
    pH_read: float | None  # noqa: N815
    """As read last."""
    celsius: float
    """As read last, else as planned."""
    dips: Dips
    purity: float
    """%."""
    pigment: str
    """Material and lot."""
    vat: str
    """Method and reducer."""
    colours: tuple[tuple[str, Lab], ...]
    """By fibre, where they were measured."""


@frozen
class Dips:
    """Dips and airings of the lot that got most of them."""

    number: float
    dip_min: float
    """One dip."""
    air_min: float
    """All airings together."""
    as_done: bool
    """As they were, not as planned."""

    @property
    def text(self) -> str:
        """All of it in a line; empty if nothing is known."""
        if not self.number:
            return ""
        said = f"{self.number:.0f} of {show_minutes(self.dip_min)}, {show_minutes(self.air_min)} in the air in all"
        return said if self.as_done else f"{said} (planned)"


def blue_card(session: Session, zone: tzinfo | None = None) -> BlueCard:
    """Put on one card what made the blue of a session; the day in `zone`, or in the machine's own."""
    state = fold(session)
    plan = state.plan
    sheet = sheet_of(state)
    taken = readings(state)
    read, warm = last_of(taken, "pH"), last_of(taken, "temperature")
    celsius = warm.celsius if warm and warm.celsius is not None else sheet.value("vat.temperature")
    dips = _dips(state, sheet)
    lines = (
        *_head(state),
        *_vat(session, sheet, taken),
        ("Dips", dips.text),
        *_on_fibre(state, sheet),
        *_tail(session, state),
    )
    return BlueCard(
        title=plan.title,
        day=f"{session.created.astimezone(zone):%Y-%m-%d}",
        lines=tuple((label, plain(value)) for label, value in lines if value),
        strength=sheet.value("vat.strength"),
        pH_worked=_known(sheet, "vat.pH"),
        pH_read=read.pH if read else None,
        celsius=celsius,
        dips=dips,
        purity=100 * powder(plan, "indigo").purity,
        pigment=_pigment(state),
        vat=f"{method_of(plan).name}; {powder(plan, 'reducer').material.name}",
        colours=tuple(_colours(state)),
    )


def _known(sheet: Sheet, figure: str) -> float | None:
    return next((row.value for row in sheet.figures if row.id == figure), None)


Line = tuple[str, str]


def _head(state: State) -> Iterator[Line]:
    plan = state.plan
    for lot in plan.lots:
        what = f"{show_amount(lot.mass)} of {fibre_of(lot).name}, {lot.pieces} × {lot.form.value}"
        yield "Fibre", f"{lot.name}: {what}, depth wanted {show_amount(lot.depth)}"
    yield "Vat", method_of(plan).name
    yield "Pigment", f"{_pigment(state)}, dosed as {100 * powder(plan, 'indigo').purity:.3g} % indigotin"


def _pigment(state: State) -> str:
    """Name the pigment and its lot, if it was taken from the shelf."""
    used = powder(state.plan, "indigo")
    taken = [entry.event for entry in happened(state, PowderTaken) if isinstance(entry.event, PowderTaken)]
    lots = [event.lot for event in taken if event.entry.material == used.id and event.lot]
    return f"{used.material.name}, lot {lots[-1]}" if lots else used.material.name


def _vat(session: Session, sheet: Sheet, taken: tuple[Read, ...]) -> Iterator[Line]:
    for name, grams in _went_in(session).items():
        yield "Went in", f"{show_mass(grams)} of {name}"
    volume = show_volume(sheet.value("vat.liquor"))
    yield "Strength", f"{show_concentration(sheet.value('vat.strength'))} of indigotin in {volume}"
    yield "Temperature", f"{show_temperature(sheet.value('vat.temperature'))} planned"
    yield "Temperature read", _last(taken, "temperature")
    worked = _known(sheet, "vat.pH")
    warm = show_temperature(sheet.value("vat.temperature"))
    yield "pH worked out", "" if worked is None else f"{worked:.1f} at {warm}"
    yield "pH read", _last(taken, "pH")
    for part in ("redox", "colour", "surface", "strip", "seconds"):
        yield PARTS[part], _last(taken, part)


def _last(taken: tuple[Read, ...], part: str) -> str:
    found = last_of(taken, part)
    return part_text(found, part) if found else ""


def _went_in(session: Session) -> dict[str, float]:
    """Grams of each powder that went into stock and vat."""
    sums: dict[str, float] = {}
    for item in added(session):
        if item.use.step.startswith(VAT_STEPS):
            name = materials()[item.use.material].name
            sums[name] = sums.get(name, 0.0) + item.use.grams
    return sums


def _on_fibre(state: State, sheet: Sheet) -> Iterator[Line]:
    """What is on each lot: by the account of the vat once it was dipped, and by the scale once it was weighed."""
    dipped_lots = {piece.rpartition(".")[0] for piece in state.dipping.pieces}
    weighed = {pin.figure for pin in state.plan.pins}
    for lot in state.plan.lots:
        if lot.id in dipped_lots:
            reaches = show_percent(float(f"{sheet.value(f'dip.{lot.id}.reaches'):.2g}"))
            yield "Indigo on it", f"{lot.name}: about {reaches} by the account of the vat"
        if f"finish.after.{lot.id}" in weighed:
            gain, before = sheet.value(f"finish.gain.{lot.id}"), show_mass(sheet.value(f"finish.before.{lot.id}"))
            yield "Gained", f"{lot.name}: {show_percent(float(f'{gain:.2g}'))} of {before}, weighed dry"


def _tail(session: Session, state: State) -> Iterator[Line]:
    for wait in waited(session):
        if (wait.step or "").startswith("finish."):
            yield "Finish", f"{wait.label}, {show_minutes(round(wait.real))}"
    names = {lot.id: lot.name for lot in state.plan.lots}
    for lot, said in colours(state).items():
        yield "Came out", f"{names[lot]}: {'; '.join(said)}"


def _colours(state: State) -> Iterator[tuple[str, Lab]]:
    fibres = {lot.id: lot.fibre for lot in state.plan.lots}
    return ((fibres[lot], lab) for lot, lab in measured(state).items())


def _dips(state: State, sheet: Sheet) -> Dips:
    """As they were, for the piece that got most of them; else as the plan has them for its darkest lot."""
    most = max(dipped(state), key=lambda item: item.dips, default=None)
    if most is not None:
        return Dips(most.dips, most.dip_min, most.air_min, as_done=True)
    lot = max((lot.id for lot in state.plan.lots), key=lambda lot: sheet.value(f"dip.{lot}.dips"), default="")
    number = sheet.value(f"dip.{lot}.dips")
    air = number * sheet.value(f"dip.{lot}.air")
    return Dips(number, sheet.value(f"dip.{lot}.dip"), air, as_done=False)


def card_text(card: BlueCard) -> str:
    """Print a card."""
    head = f"{plain(card.title)}, {card.day}"
    return "\n".join((head, *(f"  {label:<17} {value}" for label, value in card.lines)))
