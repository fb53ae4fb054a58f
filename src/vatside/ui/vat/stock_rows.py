"""What a reading of the stock means, as words to read."""

from __future__ import annotations

from vatside.log.words.vat import reading_words
from vatside.plan.figure_text import plain
from vatside.plan.measures import method_of
from vatside.plan.plan import Plan
from vatside.plan.sheet import Sheet
from vatside.ui.text.rows import BLANK, Row, Span, row, wrap
from vatside.ui.vat.finding_rows import comparison_rows
from vatside.units.one_line import clean
from vatside.vat.reading import Reading
from vatside.vat.stock_look import stock_comparison, stock_words


def stock_rows(reading: Reading, plan: Plan, sheet: Sheet, width: int) -> tuple[Row, ...]:
    """Print a reading of the stock, what it means, and when a stock is ready."""
    rows = _paragraph(" · ".join(reading_words(reading)), width, "strong")
    for text in stock_words(reading, plan, sheet):
        rows += [BLANK, *_paragraph(text, width)]
    found = stock_comparison(reading, plan, sheet)
    if found is not None:
        rows += [BLANK, *comparison_rows(found, width, settle=False)]
    rows += [BLANK, *_paragraph(_predicted(sheet), width, "faint")]
    return (*rows, BLANK, *_paragraph(_ready(plan), width, "faint"))


def _predicted(sheet: Sheet) -> str:
    if "stock.pH" not in sheet:
        return "The pH of the stock as planned cannot be worked out."
    warm = plain(sheet.value("stock.start", 25.0), "degC")
    both = f"pH {sheet.value('stock.pH'):.1f} at {warm}, pH {sheet.value('stock.pH_25'):.1f} at 25 °C"
    return f"Worked out for the stock as planned: {both}."


def _ready(plan: Plan) -> str:
    looks = [step.text for step in method_of(plan).steps if step.id == "stock.look"]
    return looks[0].replace("Look:", "Ready:") if looks else ""


def _paragraph(text: str, width: int, role: str = "") -> list[Row]:
    return [row(Span(f" {line}", role)) for line in wrap(clean(text), width - 2)]
