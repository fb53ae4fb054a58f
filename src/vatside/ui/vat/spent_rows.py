"""The end of a vat, page by page: oxidise, how much acid, give it, let it go; with the reasons."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen

from vatside.catalogue.load import materials
from vatside.catalogue.values import EndPage, MethodEnd
from vatside.log.events.vat import CorrectionMade
from vatside.outlook.vat_end import BY_SAMPLE, Choices
from vatside.plan.sheet import CARE, DANGER
from vatside.ui.text.rows import BLANK, Row, Signs, Span, row, wrap
from vatside.ui.vat.finding_rows import labelled
from vatside.units import show_amount, show_mass, show_volume
from vatside.vat.interlocks import Block
from vatside.vat.spent import LOCAL_RULES, AcidDose, oxidise_first

PAGES = ("Oxidise", "How much acid", "Give it", "Let it go")
SHORT = ("Oxidise", "Acid", "Give", "Let go")
NOT_BY_PH = (
    "A pH alone cannot give the dose: lye, soda and lime at one pH take very different amounts of acid. "
    "What went in says which it is, the pH how much of it is left."
)


@frozen
class End:
    """All that the pages show."""

    seen_spent: bool
    block: Block | None
    """Why no acid may go in yet."""
    reducer_g: float
    """Left by the account."""
    in_acid: str
    """What acid does to it while it lives, as the end of a sentence."""
    alkali: str
    """The substance of its alkali."""
    own: MethodEnd | None
    """The end of a kind of vat that is handed over."""
    choices: Choices
    dose: AcidDose | str
    other: AcidDose | str
    """The same in the other acid."""
    sampling: Sequence[str]
    """How a sample is titrated; nothing where the dose is worked out from what went in."""
    portion: CorrectionMade | str
    """What goes in now, or why nothing does."""
    given: Sequence[CorrectionMade]
    pH: float | None  # noqa: N815  (chemistry's own symbol)
    """Read since it stayed blue and since the last acid; None if that is still to do."""
    litres: float
    held: Block | None
    """Why it may not be let go yet."""
    gone: str
    """What was written down when it was let go; empty while it is there."""


def page_names(own: MethodEnd | None) -> tuple[str, ...]:
    """Name the four pages."""
    return tuple(page.name for page in own.pages) if own else PAGES


def path_row(page: int, reached: int, width: int, signs: Signs, own: MethodEnd | None = None) -> Row:
    """Print the four pages, the one on the screen standing out."""
    short = tuple(item.short for item in own.pages) if own else SHORT
    names = page_names(own) if width >= 70 else short
    spans = [Span(" ")]
    for number, name in enumerate(names):
        sign = signs.done if number < reached else signs.here if number == page else signs.later
        role = "here" if number == page else "done" if number < reached else ""
        text = name.upper() if number == page else name
        spans += [Span(f" {sign} {number + 1} {text} ", role, f"page({number})"), Span(" ")]
    return Row(tuple(spans))


def page_rows(page: int, end: End, width: int) -> tuple[Row, ...]:
    """Print one page; of a vat that is gone, what was written down of it."""
    if end.gone:
        return (*_words(end.gone, width, "strong"), BLANK, *_words("u takes it back.", width, "faint"))
    if end.own is not None:
        return tuple(_own_page(page, end.own.pages[page], end, width))
    return tuple((_oxidise, _how_much, _give, _let_go)[page](end, width))


def _own_page(number: int, page: EndPage, end: End, width: int) -> list[Row]:
    """Print a page of an end of its own; the first tells what is seen, the last where it goes."""
    rows = _seen(end, width) if number == 0 else []
    if number == LAST and end.held is not None:
        rows += [*_words(f"{DANGER.sign} Not yet. {end.held.why}", width, DANGER.ink), BLANK]
    rows += [*_words(page.text, width, "strong"), BLANK, *labelled("why", page.why, width)]
    if number == 0:
        return [*rows, *_still_there(end, width)]
    if number != LAST:
        return rows
    return [*rows, BLANK, *labelled("space", f"writes down that {show_volume(end.litres)} are gone, and where", width)]


LAST = 3
"""The page that tells where it goes."""


def _words(text: str, width: int, role: str = "") -> list[Row]:
    return [row(Span(f" {line}", role)) for line in wrap(text, width - 2)]


def _oxidise(end: End, width: int) -> list[Row]:
    rows = _seen(end, width)
    rows += [*_words(oxidise_first(end.alkali), width, "" if end.seen_spent else "strong"), BLANK]
    rows += labelled("why", f"Acid into a living vat {end.in_acid}. Air uses up what reduces.", width)
    rows += _still_there(end, width)
    use = "Pale pieces take what indigo is left; a vat that is used up is less to get rid of."
    return [*rows, *labelled("before", use, width)]


def _seen(end: End, width: int) -> list[Row]:
    """Say that it was seen to stay blue, and what speaks against it all the same."""
    rows = []
    if end.seen_spent:
        rows += [*_words("You saw it stay blue.", width, "good"), BLANK]
    if end.seen_spent and end.block is not None:
        rows += [*_words(f"{DANGER.sign} {end.block.why}", width, DANGER.ink), BLANK]
    return rows


def _still_there(end: End, width: int) -> list[Row]:
    if end.reducer_g < 0.05:
        return []
    return labelled("left", f"By the account about {show_mass(end.reducer_g)} of reducer are left.", width)


def _how_much(end: End, width: int) -> list[Row]:
    rows = _dose(end.dose, width, "strong")
    if isinstance(end.other, AcidDose) and end.other.grams:
        much = show_volume(end.other.millilitres / 1000) if end.other.millilitres else show_mass(end.other.grams)
        name = "vinegar" if end.other.millilitres else "citric acid"
        rows += labelled("or", f"{much} of {name}", width)
    rows.append(BLANK)
    if end.choices.by == BY_SAMPLE:
        for number, text in enumerate(end.sampling, start=1):
            rows += labelled(f"{number}", text, width)
    else:
        sentence = "A stirred sample of 100 mL is surer: it knows what air, heat and powder of unknown strength did."
        rows += labelled("surer", sentence, width)
    return [*rows, BLANK, *labelled("why", NOT_BY_PH, width)]


def _dose(dose: AcidDose | str, width: int, role: str) -> list[Row]:
    return _words(dose, width, "care") if isinstance(dose, str) else _words(dose.text, width, role)


def _name(event: CorrectionMade) -> str:
    return materials()[event.material].short.lower()


def _give(end: End, width: int) -> list[Row]:
    if end.block is not None:
        return [
            *_words(f"{DANGER.sign} No acid yet. {end.block.why}", width, DANGER.ink), BLANK,
            *labelled("better", end.block.instead, width, "care"),
        ]  # fmt: skip
    rows = []
    for event in end.given:
        if event.amount is not None:
            rows += labelled("given", f"{show_amount(event.amount)} of {_name(event)}", width, "good")
    if end.given and end.pH is not None:
        rows += labelled("read", f"pH {end.pH:.1f}; you aim at {end.choices.aim.target:g}", width, "number")
    if isinstance(end.portion, str):
        return [*rows, *_words(end.portion, width)]
    amount = show_amount(end.portion.amount) if end.portion.amount else ""
    name = _name(end.portion)
    order = f"Stir in {amount} of {name}." if not end.given else f"The rest is {amount} of {name}: a little at a time."
    rows += [*_words(order, width, "strong"), BLANK]
    rows += labelled("why", _why(end), width)
    rows += labelled("wait", "10 min, stirring now and then; read the pH of a cooled sample (r)", width)
    if end.choices.acid.value == "vinegar":
        return rows
    return [*rows, *labelled("how", "Dissolve it in a jug of water first.", width)]


def _why(end: End) -> str:
    """Say why so much goes in now."""
    begins_low = isinstance(end.dose, AcidDose) and end.dose.begin_g
    if not end.given and not begins_low:
        return "three quarters of the dose: the last of it goes by the pH that you read"
    if isinstance(end.dose, AcidDose) and end.dose.next_day_pH is not None:
        return (
            "carbonic acid that still goes off holds the pH down: the alkali of the soda is not all met, and the vat "
            f"would drift out of the range; with this it comes to about {end.dose.next_day_pH:.1f} the next day"
        )
    if end.given:
        return "near the end a little acid moves the pH far"
    return "what the pH read asks for to the letter: by the account it may be far more; the next reading tells"


def _let_go(end: End, width: int) -> list[Row]:
    rows = []
    limits = end.choices.aim
    if end.held is not None:
        grave = DANGER if end.held.final else CARE
        rows += _words(f"{grave.sign} Not yet. {end.held.why}", width, grave.ink)
        rows += labelled("better", end.held.instead, width, "care")
    elif end.pH is not None:
        sentence = f"pH {end.pH:.1f} lies within {limits.low:g} to {limits.high:g}: only your local rules are left."
        rows += _words(sentence, width, "good")
    rows += [BLANK, *_words(LOCAL_RULES, width, "strong"), BLANK]
    return [*rows, *labelled("space", f"writes down that {show_volume(end.litres)} were let go, and where", width)]
