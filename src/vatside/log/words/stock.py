"""The words of the log for a stock that goes from one day to another."""

from __future__ import annotations

from attrs import evolve

from vatside.log.events.stock import StockEvent, StockTaken
from vatside.plan.figure_text import plain
from vatside.plan.plan import Plan, StockKept
from vatside.recipe.kept_stock import in_jar


def stock_words(event: StockEvent, plan: Plan) -> str:
    """Say where a stock went, or whose it was."""
    if isinstance(event, StockTaken):
        return f"The stock in the jar went to “{event.title}”: {held_words(event.stock, plan)}"
    return f"From the jar of “{event.title}”: {held_words(event.stock, plan)}"


def held_words(stock: StockKept, plan: Plan) -> str:
    """Say how much of it there is, and how strong; a log from elsewhere can hold amounts of something else."""
    try:
        jar = in_jar(evolve(plan, stock_kept=stock))
    except ValueError:
        return "an amount that is none"
    return f"{plain(jar.litres, 'L')} of stock at {plain(jar.strength, 'g/L')}"
