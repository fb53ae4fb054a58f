"""The vat's account in words: what is in it, where its pH stands, how warm it stays."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import frozen

from vatside.chemistry.life import holds_reducer
from vatside.plan.sheet import CARE
from vatside.recipe.vat_needs import Setting
from vatside.ui.text.rows import BLANK, Row, Signs, Span, column, left, row, wrap
from vatside.ui.vat.ph_scale import Stand, scale_rows
from vatside.units import show_concentration, show_mass, show_temperature, show_volume
from vatside.vat.account import Account, Prediction
from vatside.vat.dosing import Warming
from vatside.vat.kept_vat import KeptVat

LEAST_SHOWN_G = 0.05
"""Less than this prints as nothing."""
TWO_DIGITS_G = 9.95
"""From here on a range is printed in whole grams: its column is narrow."""
LABEL = 20
DISAGREE = "They disagree: Enter says why that may be, m takes the one read as true."


@frozen
class VatFacts:
    """All that the account's region shows."""

    account: Account | str
    """Or why it cannot be told."""
    kept: KeptVat | None
    """What is left of alkali and reducer; None before the vat is made."""
    prediction: Prediction | None
    measured: float | None
    """The pH last read, at the vat's temperature."""
    setting: Setting
    leaving: str
    warming: Warming | None
    disagree: bool
    """The pH read and the one worked out are too far apart for both to be right."""
    end: str
    """How it was let go; empty while it is there."""
    reducer: tuple[float, float, float] | None = None
    """The least, the likely and the most reducer that is left, pure g."""
    pH: tuple[float, float] | None = None  # noqa: N815  (chemistry's own symbol)
    """Between which values the pH lies by that."""
    warm_by: str = ""
    """When its temperature was read, or what it is reckoned from."""


def account_rows(facts: VatFacts, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print the account, the pH in its window, and the warmth."""
    if facts.end:
        return tuple(_words(facts.end, width, "strong"))
    if isinstance(facts.account, str):
        return tuple(_words(facts.account, width, "care"))
    rows: list[Row] = []
    if facts.kept is None:
        sentence = "As planned: the account begins with the step that brings the stock in."
        rows += [*_words(sentence, width, "care"), BLANK]
    rows += [*_table(facts, facts.account, width), BLANK, *_liquor(facts, facts.account, width, signs)]
    return (*rows, BLANK, *_warmth(facts, facts.account, width))


def _table(facts: VatFacts, account: Account, width: int) -> list[Row]:
    """One figure a line, the numbers in a column."""
    lines = list(_figures(account, facts.kept, facts.reducer))
    main = column(text for _, text, _ in lines)
    room = max(width - LABEL - main.width - 2, 0)
    return [
        row(Span(" " + left(label, LABEL), "faint"), *main.spans(text, "number"), Span(" " + left(beside, room)))
        for label, text, beside in lines
    ]


def _reducer_words(account: Account, reducer: tuple[float, float, float] | None) -> str:
    """Say between which amounts the reducer lies: how fast it goes is an estimate."""
    low, _, high = reducer or (0.0, 0.0, 0.0)
    if high < LEAST_SHOWN_G and not holds_reducer(account.bath):
        return "spent"
    digits = 1 if high < TWO_DIGITS_G else 0
    return f"{low:.{digits}f}–{high:.{digits}f} g" if high - low >= LEAST_SHOWN_G else ""


def _figures(
    account: Account, kept: KeptVat | None, reducer: tuple[float, float, float] | None
) -> Iterator[tuple[str, str, str]]:
    yield "Liquor", show_volume(account.litres), f"at {show_temperature(account.celsius)}"
    yield "Indigotin", show_mass(account.indigotin_g), show_concentration(account.strength)
    if account.unreduced_g >= LEAST_SHOWN_G:
        yield "of it still blue", show_mass(account.unreduced_g), ""
    if kept is not None:
        yield "Alkali free, as lye", show_mass(kept.alkali_g), show_concentration(kept.alkali_g / kept.litres)
        yield "Reducer left, pure", show_mass(kept.reducer_g), _reducer_words(account, reducer)
    if abs(account.trusted_g) >= LEAST_SHOWN_G:
        sign = "+" if account.trusted_g > 0 else "−"
        yield "Put right by a pH", show_mass(abs(account.trusted_g)), f"{sign} as lye"
    if account.stock is not None:
        yield "Stock left in the jar", show_volume(account.stock_litres), show_concentration(account.stock_strength)


def _liquor(facts: VatFacts, account: Account, width: int, signs: Signs) -> Iterator[Row]:
    """Both pH with their temperatures, how the dye stands, and the picture of the window."""
    model = facts.prediction
    yield row(Span(" pH, worked out", "head"))
    if model is not None:
        yield row(
            Span(f" {_between(facts.pH) or f'{model.pH:.1f}'}", "number"), Span(f" at {model.celsius:.0f} °C", "unit"),
            Span(f"    {model.pH_25:.1f}", "number"), Span(" at 25 °C", "unit"),
        )  # fmt: skip
        ions = f"{model.mono} % single ion, which goes on best; {model.di} % double ion"
        shares = f"Dye: {model.acid} % white, undissolved; {ions}"
        yield from _words(shares, width, "faint")
        if model.undissolved_lime_g >= LEAST_SHOWN_G:
            yield from _words(f"{show_mass(model.undissolved_lime_g)} of lime lie at the bottom.", width, "faint")
    yield from scale_rows(stand_of(facts.setting, account.celsius, model, facts.measured), width, signs)
    if facts.disagree:
        yield from _words(f"{CARE.opening}{DISAGREE}", width, CARE.ink)


def _between(pH: tuple[float, float] | None) -> str:
    """Say between which values the pH lies, where they differ as printed."""
    low, high = (f"{value:.1f}" for value in pH or (0.0, 0.0))
    return f"{low}–{high}" if low != high else ""


def stand_of(setting: Setting, celsius: float, prediction: Prediction | None, measured: float | None) -> Stand:
    """Give what the picture of the window shows."""
    return Stand(setting.fibre, setting.window, celsius, prediction.pH if prediction else None, measured)


def _warmth(facts: VatFacts, account: Account, width: int) -> Iterator[Row]:
    setting, now = facts.setting, account.celsius
    yield row(Span(" Warmth", "head"))
    span = f"the {setting.coolest:.0f} to {show_temperature(setting.warmest)} at which it works"
    inside = setting.coolest - 0.5 <= now <= setting.warmest + 0.5
    where = "within" if inside else "below" if now < setting.coolest else "above"
    by = f", {facts.warm_by}," if facts.warm_by else ""
    yield from _words(f"{show_temperature(now)}{by} is {where} {span}.", width, "good" if inside else "care")
    if inside or now > setting.coolest:  # else it has been said
        yield from _words(facts.leaving, width)
    if facts.warming is not None:
        sentence = f"Back to {show_temperature(facts.warming.celsius)}: {facts.warming.text}"
        yield from _words(sentence, width)


def _words(text: str, width: int, role: str = "") -> list[Row]:
    return [row(Span(f" {line}", role)) for line in wrap(text, width - 2)]
