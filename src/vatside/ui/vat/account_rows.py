"""The vat's account in words: what is in it, where its pH stands, how warm it stays."""

from __future__ import annotations

from collections.abc import Iterator

from vatside.bench.desk import local
from vatside.chemistry.life import holds_reducer
from vatside.log.words.vat import care_words
from vatside.outlook.vat import Outlook
from vatside.plan.sheet import CARE
from vatside.ui.text.rows import BLANK, Row, Signs, Span, column, left, paragraph, row
from vatside.ui.vat.pictures import Stand, scale_rows
from vatside.units import show_concentration, show_mass, show_temperature, show_volume
from vatside.vat.account import Account, Prediction
from vatside.vat.kept_vat import KeptVat
from vatside.vat.trust import trusted_words

LEAST_SHOWN_G = 0.05
"""Less than this prints as nothing."""
TWO_DIGITS_G = 9.95
"""From here on a range is printed in whole grams: its column is narrow."""
LABEL = 20
DISAGREE = "They disagree: Enter says why that may be, m takes the one read as true."


def account_rows(outlook: Outlook, width: int, signs: Signs) -> tuple[Row, ...]:
    """Print the account, the pH in its window, and the warmth."""
    ended, account = outlook.state.tending.let_go, outlook.account
    if ended and not outlook.is_made:
        return tuple(paragraph(care_words(ended, outlook.state.plan), width, "strong"))
    if isinstance(account, str):
        return tuple(paragraph(account, width, "care"))
    rows: list[Row] = []
    if outlook.kept is None:
        sentence = "As planned: the account begins with the step that brings the stock in."
        rows += [*paragraph(sentence, width, "care"), BLANK]
    rows += [*_table(outlook, account, width), BLANK, *_liquor(outlook, account, width, signs)]
    return (*rows, BLANK, *_warmth(outlook, account, width))


def _table(outlook: Outlook, account: Account, width: int) -> list[Row]:
    """One figure a line, the numbers in a column."""
    lines = list(_figures(account, outlook.kept, outlook.reducer_between))
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
    words, grams = trusted_words(account)
    if grams >= LEAST_SHOWN_G:
        yield words, show_mass(grams), "by a pH"
    if account.stock is not None:
        yield "Stock left in the jar", show_volume(account.stock_litres), show_concentration(account.stock_strength)


def _liquor(outlook: Outlook, account: Account, width: int, signs: Signs) -> Iterator[Row]:
    """Both pH with their temperatures, how the dye stands, and the picture of the window."""
    model = outlook.prediction
    yield row(Span(" pH, worked out", "head"))
    if model is not None:
        yield row(
            Span(f" {_between(outlook.pH_between) or f'{model.pH:.1f}'}", "number"),
            Span(f" at {model.celsius:.0f} °C", "unit"),
            Span(f"    {model.pH_25:.1f}", "number"), Span(" at 25 °C", "unit"),
        )  # fmt: skip
        yield from paragraph(_dye(model, account), width, "faint")
        if model.undissolved_lime_g >= LEAST_SHOWN_G:
            yield from paragraph(f"{show_mass(model.undissolved_lime_g)} of lime lie at the bottom.", width, "faint")
    yield from scale_rows(stand_of(outlook, account.celsius), width, signs)
    if outlook.comparison is not None and not outlook.comparison.agrees:
        yield from paragraph(f"{CARE.opening}{DISAGREE}", width, CARE.ink)


def _dye(model: Prediction, account: Account) -> str:
    """Say how the dye stands."""
    if account.asleep:
        return "Dye: blue, not dissolved; nothing lives in it yet."
    if account.indigotin_g - account.unreduced_g < LEAST_SHOWN_G:
        return "Dye: all of it blue, none dissolved; it does not dye."
    dissolved = f"{model.mono} % dissolved as it goes on best; {model.di} % as it goes on little"
    return f"Dye: {model.acid} % white, undissolved; {dissolved}"


def _between(pH: tuple[float, float] | None) -> str:
    """Say between which values the pH lies, where they differ as printed."""
    low, high = (f"{value:.1f}" for value in pH or (0.0, 0.0))
    return f"{low}–{high}" if low != high else ""


def stand_of(outlook: Outlook, celsius: float) -> Stand:
    """Give what the picture of the window shows."""
    setting, worked = outlook.setting, outlook.prediction.pH if outlook.prediction else None
    return Stand(setting.fibre, outlook.window, celsius, worked, outlook.measured_pH, outlook.state.tending.seen_spent)


def _warmth(outlook: Outlook, account: Account, width: int) -> Iterator[Row]:
    setting, now = outlook.setting, account.celsius
    yield row(Span(" Warmth", "head"))
    span = f"the {setting.coolest:.0f} to {show_temperature(setting.warmest)} at which it works"
    inside = setting.coolest - 0.5 <= now <= setting.warmest + 0.5
    where = "within" if inside else "below" if now < setting.coolest else "above"
    warm_by = _warm_by(outlook, account)
    by = f", {warm_by}," if warm_by else ""
    yield from paragraph(f"{show_temperature(now)}{by} is {where} {span}.", width, "good" if inside else "care")
    if inside or now > setting.coolest:  # else it has been said
        yield from paragraph(outlook.leaving, width)
    if outlook.warming is not None:
        sentence = f"Back to {show_temperature(outlook.warming.celsius)}: {outlook.warming.text}"
        yield from paragraph(sentence, width)


def _warm_by(outlook: Outlook, account: Account) -> str:
    """Say when the temperature of the account was read, or that it is reckoned; nothing of a planned vat."""
    read = [item for item in outlook.state.tending.readings if item.reading.celsius is not None]
    if not outlook.is_made:
        return ""
    if not read:
        return "reckoned on from the plan"
    celsius, at = read[-1].reading.celsius or 0.0, f"{local(read[-1].at):%H:%M}"
    if show_temperature(account.celsius) == show_temperature(celsius):
        return f"read {at}"
    return f"reckoned since {show_temperature(celsius)} was read at {at}"
