"""What a reading of vat or stock means, as rows, and what is done about it; taking its pH as the true one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from attrs import frozen

from vatside.bench import vat_acts
from vatside.catalogue.findings import CONFIRM
from vatside.dayline.steps import caution
from vatside.log.words.vat import reading_words
from vatside.outlook.vat import Outlook
from vatside.plan.figure_text import plain, source_text
from vatside.plan.measures import method_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import CARE, DANGER, Sheet
from vatside.ui.base.session_screen import SessionScreen
from vatside.ui.text.rows import BLANK, Row, Signs, Span, clip, hanging, left, paragraph, row, spread
from vatside.units.show import clean
from vatside.vat.corrections import HOW
from vatside.vat.diagnosis import Finding
from vatside.vat.interlocks import Block, Care, Correction
from vatside.vat.reading import Reading
from vatside.vat.stock_look import stock_comparison, stock_words
from vatside.vat.trust import Comparison

PH = "@pH"
"""The key of the row that holds the pH read against the one worked out."""
AXIS = 12
"""Columns of the name of what is put right."""
ROOMY = 70
"""Columns from which that name has a place of its own."""
LABEL = 8
MIND = f"{CARE.sign} mind"
ONE_AT_A_TIME = "Something was done since this reading: let it work, and read again before the next thing."
TRUE_ONE = "takes the pH that you read as the true one, once you are sure of it; the account follows it."
AXIS_WORDS = {"air": "Air", "temperature": "Temperature", "pH": "pH", "reducer": "Reducer", "indigo": "Indigo"}


def labelled(label: str, text: str, width: int, role: str = "", key: str = "") -> list[Row]:
    """Print a text behind a short label, its further lines below its first."""
    return hanging((Span(f" {left(label, LABEL)}", "faint"),), text, width, role, key) if text else []


@frozen
class Meaning:
    """All that the list of findings shows."""

    findings: Sequence[Finding]
    comparison: Comparison | None
    questions: Sequence[str]
    helped: str
    """Whether the last correction helped; empty if there is nothing to say."""
    done: Sequence[str]
    """Findings that something was done about since the reading."""

    @property
    def first(self) -> str:
        """What is put right first: the finding, or the pH that does not fit before any other pH."""
        out = [item for item in self.findings if item.is_out]
        return out[0].id if out else self.findings[0].id if self.findings else PH if self.comparison else ""


def meaning_rows(meaning: Meaning, chosen: str, width: int, signs: Signs, *, all_open: bool = False) -> tuple[Row, ...]:
    """Print the findings, the one to put right first in front; the chosen one (or all) with its signs."""
    rows: list[Row] = []
    if meaning.helped:
        rows += [*paragraph(meaning.helped, width, "strong"), BLANK]
    if not meaning.findings:
        rows += paragraph("What was seen points to no one state of the vat.", width)
    for item in meaning.findings:
        rows += _finding(item, meaning, width, signs, opened=all_open or item.id == chosen)
    if meaning.comparison is not None:
        rows += _comparison(meaning.comparison, width, signs)
    return (*rows, *look_next(meaning.questions, width, signs))


def _finding(item: Finding, meaning: Meaning, width: int, signs: Signs, *, opened: bool) -> list[Row]:
    sign = signs.done if item.id in meaning.done else CARE.sign if item.is_out else signs.later
    role = "care" if item.is_out else "good" if item.axis == "none" else "faint"
    axis = left(AXIS_WORDS.get(item.axis, ""), AXIS) if width >= ROOMY else ""
    near = (Span(f" {sign} ", role), Span(axis, "faint"), Span(item.name, role))
    rows = [spread(near, (Span(f"{item.sure} ", "number" if item.is_out else "faint"),), width, item.id)]
    return [*rows, *_signs(item, width)] if opened else rows


def _signs(item: Finding, width: int) -> Iterator[Row]:
    inset = 3
    for label, words in (("for", item.speaks_for), ("against", item.speaks_against)):
        for line in labelled(label, ", ".join(words), width - inset - 1, key=item.id) if words else ():
            yield Row((Span(" " * inset), *line.spans), item.id)


def _comparison(comparison: Comparison, width: int, signs: Signs) -> list[Row]:
    role, sign = ("faint", signs.later) if comparison.agrees else (CARE.ink, CARE.sign)
    text = f"pH read {comparison.measured:.1f}, worked out {comparison.predicted:.1f}"
    tail = "they agree " if comparison.agrees else "they disagree "
    axis = left("", AXIS) if width >= ROOMY else ""
    return [spread((Span(f" {sign} ", role), Span(axis), Span(text, role)), (Span(tail, role),), width, PH)]


def look_next(questions: Sequence[str], width: int, signs: Signs) -> Iterator[Row]:
    """Print what is to be looked at next; nothing where there is none of it."""
    if questions:
        yield row(Span(" Look next", "head"))
    for text in questions:
        yield from hanging((Span(f" {signs.later} "),), text, width - 1, "faint")


def comparison_rows(comparison: Comparison, width: int, *, settle: bool = True, sure: bool = False) -> tuple[Row, ...]:
    """Say what could lie behind a pH that does not fit, and (`settle`) how to take the measured one as true.

    One that was read twice (`sure`) need not be read again.
    """
    rows = paragraph(comparison.text, width, "strong")
    if settle and not (comparison.agrees or sure):
        rows += labelled("first", f"Read it once more. {HOW[comparison.pH_by]}", width, "care")
    for text in comparison.explanations:
        rows += labelled("perhaps", text, width)
    if settle and not comparison.agrees:
        rows += labelled("m", TRUE_ONE, width, "key")
    return tuple(rows)


def deed_rows(way: Correction, done: str, width: int, *, read_first: bool = False) -> tuple[Row, ...]:
    """Say what to do about a finding, with its amount.

    `done` says what was done about it already, `read_first` that what the reading asked for is in, or something else.
    """
    rows: list[Row] = labelled("done", done, width, "good") if done else []
    if read_first:
        rows += labelled(MIND, ONE_AT_A_TIME, width, CARE.ink)
    if isinstance(way.guard, Block):
        rows += _block(way.guard, width)
    forbidden = isinstance(way.guard, Block) and way.guard.final
    for one in way.along:
        rows += paragraph(one.text, width, "strong")
        rows += labelled("how", one.how, width) if one.how else []
    rows += paragraph(_then(way), width, "faint" if forbidden else "strong")
    if way.first:
        rows += labelled("first", way.first, width, "care")
    for label, text in _parts(way):
        rows += labelled(label, text, width)
    for caution_id in dict.fromkeys(name for one in (*way.along, way) for name in one.cautions):
        rows += labelled(f"{DANGER.sign} mind", caution(caution_id).title, width, DANGER.ink)
    return (*rows, *(labelled("source", source_text(way.source), width, "faint") if way.does != "none" else ()))


def _then(way: Correction) -> str:
    """Give the order itself, which may come after others."""
    return f"Then {way.text[0].lower()}{way.text[1:]}" if way.along else way.text


def _parts(way: Correction) -> Iterator[tuple[str, str]]:
    if way.how:
        yield "how", way.how
    if way.wait_text:
        yield "wait", f"{way.wait_text}, then read it again (r)"
    if way.sample:
        yield "try it", way.sample
    if way.beside:
        yield "also", way.beside
    if isinstance(way.guard, Care):
        yield MIND, way.guard.text


def _block(guard: Block, width: int) -> list[Row]:
    word = "refused" if guard.final else "stop"
    return [
        *labelled(f"{DANGER.sign} {word}", guard.why, width, DANGER.ink),
        *labelled("better", guard.instead, width, "care"),
    ]


def without_vat(words: str) -> str:
    """Take the vat's name off a line of the log, where everything is about the vat."""
    return words.removeprefix("Vat: ").removeprefix("Reading: ")


def way_name(way: Correction) -> str:
    """Name one of several ways to put the same thing right, in a word or two."""
    if way.does == "heat":
        return "kettle water" if way.litres else "a hot bath"
    names = {"dilute": "thinning", "stock": "stock", "cool": "cooling", "nothing": "nothing", CONFIRM: "read again"}
    return names.get(way.does, way.remedy.replace("-", " "))


def means_short(findings: Sequence[Finding], width: int) -> Row:
    """Say in one line what the signs speak for so far."""
    out = [item for item in findings if item.is_out or item.axis == "none"]
    words = ", ".join(f"{item.name.replace(': ', ', ')} ({item.sure})" for item in out)
    if not words:
        return row(Span(" So far: too little to say how the vat is", "faint"))
    return row(Span(clip(f" So far: {words}", width), "next"))


def stock_rows(reading: Reading, plan: Plan, sheet: Sheet, width: int) -> tuple[Row, ...]:
    """Print a reading of the stock, what it means, and when a stock is ready."""
    rows = paragraph(clean(" · ".join(reading_words(reading))), width, "strong")
    for text in stock_words(reading, plan, sheet):
        rows += [BLANK, *paragraph(clean(text), width)]
    comparison = stock_comparison(reading, plan, sheet)
    if comparison is not None:
        rows += [BLANK, *comparison_rows(comparison, width, settle=False)]
    rows += [BLANK, *paragraph(_predicted(sheet), width, "faint")]
    return (*rows, BLANK, *paragraph(clean(_ready(plan)), width, "faint"))


def _predicted(sheet: Sheet) -> str:
    if "stock.pH" not in sheet:
        return "The pH of the stock as planned cannot be worked out."
    warm = plain(sheet.value("stock.start", 25.0), "degC")
    both = f"pH {sheet.value('stock.pH'):.1f} at {warm}, pH {sheet.value('stock.pH_25'):.1f} at 25 °C"
    return f"Worked out for the stock as planned: {both}."


def _ready(plan: Plan) -> str:
    looks = [step.text for step in method_of(plan).steps if step.id == "stock.look"]
    return looks[0].replace("Look:", "Ready:") if looks else ""


def take_as_true(screen: SessionScreen) -> None:
    """Let the account go by the pH that was read, or say why there is nothing to take."""
    outlook = screen.outlook
    refusal = _why_not(outlook)
    if refusal:
        screen.say(refusal)
    elif outlook.comparison is not None:
        comparison = outlook.comparison
        screen.perform(lambda: vat_acts.trust(screen.desk, comparison))


def _why_not(outlook: Outlook) -> str:
    """Say why the pH that was read changes nothing; empty where it does."""
    if outlook.put_in_since:
        return "Something went in since that reading: r reads it again."
    if outlook.is_old and outlook.reading.pH is not None:
        return "That reading is too long past to count: r reads it again."
    if outlook.comparison is None:
        return "No pH was read: r adds it."
    if outlook.comparison.agrees:
        return f"The two agree: the account stands as it was read. {_stands(outlook)}"
    return ""


def _stands(outlook: Outlook) -> str:
    """Say what the pH that was read and agreed with means for the fibre, not only for the account."""
    out = next((item for item in outlook.findings if item.axis == "pH" and item.is_out), None)
    return f"It is still {out.name}: put that right." if out else "There is nothing to put right."
