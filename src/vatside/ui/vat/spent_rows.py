"""The end of a vat, page by page: oxidise, how much acid, give it, let it go; with the reasons."""

from __future__ import annotations

from vatside.catalogue.load import materials
from vatside.catalogue.values import EndPage, MethodEnd
from vatside.log.events.vat import CorrectionMade
from vatside.log.fold import State
from vatside.log.words.vat import care_words
from vatside.outlook import vat_end
from vatside.outlook.vat import Outlook
from vatside.outlook.vat_end import BY_SAMPLE, Choices
from vatside.plan.measures import method_of, species_of
from vatside.plan.sheet import CARE, DANGER
from vatside.ui.text.rows import BLANK, Row, Signs, Span, paragraph
from vatside.ui.vat.account_rows import LEAST_SHOWN_G
from vatside.ui.vat.finding_rows import labelled
from vatside.units import show_amount, show_mass, show_volume
from vatside.vat.spent import LOCAL_RULES, Acid, AcidDose, in_acid, oxidise_first

PAGES = ("Oxidise", "How much acid", "Give it", "Let it go")
SHORT = ("Oxidise", "Acid", "Give", "Let go")
NOT_BY_PH = (
    "A pH alone cannot give the dose: lye, soda and lime at one pH take very different amounts of acid. "
    "What went in says which it is, the pH how much of it is left."
)


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


def page_rows(page: int, outlook: Outlook, chosen: Choices, width: int) -> tuple[Row, ...]:
    """Print one page; of a vat that is gone, what was written down of it."""
    state = outlook.stands
    own, ended = method_of(state.plan).end, state.tending.let_go
    if ended or not state.tending.account:
        gone = care_words(ended, state.plan) if ended else "There is no vat yet."
        return (*paragraph(gone, width, "strong"), BLANK, *paragraph("u takes it back.", width, "faint"))
    if own is not None:
        return tuple(_own_page(page, own.pages[page], outlook, chosen, width))
    return tuple((_oxidise, _how_much, _give, _let_go)[page](outlook, chosen, width))


def _own_page(number: int, page: EndPage, outlook: Outlook, chosen: Choices, width: int) -> list[Row]:
    """Print a page of an end of its own; the first tells what is seen, the last where it goes."""
    rows = _seen(outlook.stands, width) if number == 0 else []
    held = vat_end.holds_back(outlook.stands, chosen)
    if number == LAST and held is not None:
        rows += [*paragraph(f"{DANGER.sign} Not yet. {held.why}", width, DANGER.ink), BLANK]
    rows += [*paragraph(page.text, width, "strong"), BLANK, *labelled("why", page.why, width)]
    if number == 0:
        return [*rows, *_still_there(outlook, width)]
    return [*rows, BLANK, *_writes_down(outlook.stands, "are gone", width)] if number == LAST else rows


def _writes_down(state: State, how: str, width: int) -> list[Row]:
    return labelled("space", f"writes down that {show_volume(vat_end.goes_l(state))} {how}, and where", width)


LAST = 3
"""The page that tells where it goes."""


def _oxidise(outlook: Outlook, _chosen: Choices, width: int) -> list[Row]:
    state = outlook.stands
    rows, alkali = _seen(state, width), species_of(state.plan, "alkali")
    rows += [*paragraph(oxidise_first(alkali), width, "" if state.tending.seen_spent else "strong"), BLANK]
    rows += labelled("why", f"Acid into a living vat {in_acid(state.plan)}. Air uses up what reduces.", width)
    rows += _still_there(outlook, width)
    use = "Pale pieces take what indigo is left; a vat that is used up is less to get rid of."
    return [*rows, *labelled("before", use, width)]


def _seen(state: State, width: int) -> list[Row]:
    """Say that it was seen to stay blue, and what speaks against it all the same."""
    if not state.tending.seen_spent:
        return []
    rows, block = [*paragraph("You saw it stay blue.", width, "good"), BLANK], vat_end.refusal(state)
    return [*rows, *paragraph(f"{DANGER.sign} {block.why}", width, DANGER.ink), BLANK] if block else rows


def _still_there(outlook: Outlook, width: int) -> list[Row]:
    grams = outlook.kept.reducer_g if outlook.kept else 0.0
    if grams < LEAST_SHOWN_G:
        return []
    return labelled("left", f"By the account about {show_mass(grams)} of reducer are left.", width)


def _how_much(outlook: Outlook, chosen: Choices, width: int) -> list[Row]:
    state = outlook.stands
    dose = vat_end.dose_of(state, chosen)
    rows = paragraph(dose, width, "care") if isinstance(dose, str) else paragraph(dose.text, width, "strong")
    if chosen.by == BY_SAMPLE:
        rows.append(BLANK)
        for number, text in enumerate(vat_end.how_to_sample(state, chosen), start=1):
            rows += labelled(f"{number}", text, width)
    else:
        rows += [*_in_the_other_acid(state, chosen, width), BLANK]
        sentence = "A stirred sample of 100 mL is surer: it knows what air, heat and powder of unknown strength did."
        rows += labelled("surer", sentence, width)
    return [*rows, BLANK, *labelled("why", NOT_BY_PH, width)]


def _in_the_other_acid(state: State, chosen: Choices, width: int) -> list[Row]:
    dose = vat_end.dose_of(state, chosen, Acid.CITRIC if chosen.acid is Acid.VINEGAR else Acid.VINEGAR)
    if isinstance(dose, str) or not dose.grams:
        return []
    much = show_volume(dose.millilitres / 1000) if dose.millilitres else show_mass(dose.grams)
    return labelled("or", f"{much} of {'vinegar' if dose.millilitres else 'citric acid'}", width)


def _name(event: CorrectionMade) -> str:
    return materials()[event.material].short.lower()


def _give(outlook: Outlook, chosen: Choices, width: int) -> list[Row]:
    state = outlook.stands
    block, given, reading = vat_end.refusal(state), vat_end.acid_given(state), vat_end.fresh_reading(state)
    if block is not None:
        return [
            *paragraph(f"{DANGER.sign} No acid yet. {block.why}", width, DANGER.ink), BLANK,
            *labelled("better", block.instead, width, "care"),
        ]  # fmt: skip
    rows = []
    for event in given:
        if event.amount is not None:
            rows += labelled("given", f"{show_amount(event.amount)} of {_name(event)}", width, "good")
    if given and reading and reading.pH is not None:
        rows += labelled("read", f"pH {reading.pH:.1f}; you aim at {chosen.aim.target:g}", width, "number")
    portion = vat_end.portion(state, chosen)
    if isinstance(portion, str):
        return [*rows, *paragraph(portion, width)]
    what = f"{show_amount(portion.amount) if portion.amount else ''} of {_name(portion)}"
    order = f"The rest is {what}: a little at a time." if given else f"Stir in {what}."
    rows += [*paragraph(order, width, "strong"), BLANK]
    rows += labelled("why", _why(vat_end.dose_of(state, chosen), bool(given)), width)
    rows += labelled("wait", "10 min, stirring now and then; read the pH of a cooled sample (r)", width)
    if chosen.acid is Acid.VINEGAR:
        return rows
    return [*rows, *labelled("how", "Dissolve it in a jug of water first.", width)]


def _why(dose: AcidDose | str, given: bool) -> str:
    """Say why so much goes in now."""
    if not given and not (isinstance(dose, AcidDose) and dose.begin_g):
        return "three quarters of the dose: the last of it goes by the pH that you read"
    if isinstance(dose, AcidDose) and dose.next_day_pH is not None:
        return (
            "carbonic acid that still goes off holds the pH down: the alkali of the soda is not all met, and the vat "
            f"would drift out of the range; with this it comes to about {dose.next_day_pH:.1f} the next day"
        )
    if given:
        return "near the end a little acid moves the pH far"
    return "what the pH read asks for to the letter: by the account it may be far more; the next reading tells"


def _let_go(outlook: Outlook, chosen: Choices, width: int) -> list[Row]:
    rows, limits, state = [], chosen.aim, outlook.stands
    held, reading = vat_end.holds_back(state, chosen), vat_end.fresh_reading(state)
    if held is not None:
        grave = DANGER if held.final else CARE
        rows += paragraph(f"{grave.sign} Not yet. {held.why}", width, grave.ink)
        rows += labelled("better", held.instead, width, "care")
    elif reading and reading.pH is not None:
        sentence = f"pH {reading.pH:.1f} lies within {limits.low:g} to {limits.high:g}: only your local rules are left."
        rows += paragraph(sentence, width, "good")
    rows += [BLANK, *paragraph(LOCAL_RULES, width, "strong"), BLANK]
    return [*rows, *_writes_down(state, "were let go", width)]
