"""What a dyer does at a live vat, for the tests of its screens."""

from __future__ import annotations

from tests.ui.hands import Hands, of_wool

from vatside.bench.desk import Desk
from vatside.log.events.day import StepDone
from vatside.log.events.vat import VatMade
from vatside.ui.widgets.form import Form
from vatside.vat.account import Account


async def begin_vat(hands: Hands, **fields: str) -> None:
    """Begin a day of wool whose stock is in the tub, with some fields of its plan set; stand at the vat's steps."""

    def log(desk: Desk) -> None:
        of_wool(desk)
        for path, text in fields.items():
            desk.type(path.replace("__", "."), text)
        desk.record(StepDone("vat.stock_in"), VatMade())

    await hands.begin(log, "vat")


async def cotton_vat(hands: Hands) -> None:
    """Begin a vat for cotton, whose window the usual recipe meets."""
    await begin_vat(hands, lots__a__fibre="cotton")


async def open_form(hands: Hands) -> None:
    """Open the form of a reading."""
    await hands.press("r")
    await at(hands, "ReadingScreen")


async def at(hands: Hands, screen: str) -> None:
    """Wait until a screen is in front."""
    await hands.until(lambda: type(hands.app.screen).__name__ == screen)
    await hands.settle()


async def fill(hands: Hands, **rows: str) -> None:
    """Write into rows of the form letter by letter."""
    form = hands.app.screen.query_one(Form)
    for path, text in rows.items():
        form.take(path)
        await hands.settle()
        assert form.at == path
        await hands.write(text)


async def take(hands: Hands, **rows: str) -> None:
    """Take a reading and see what it means."""
    await open_form(hands)
    await fill(hands, **rows)
    await hands.press("escape")
    await at(hands, "MeaningScreen")


def account(hands: Hands) -> Account:
    """Give the account of the vat, which must be there."""
    found = hands.desk.state.tending.account
    assert found is not None
    return found


def said(hands: Hands) -> str:
    """Everything on the screen as one line of words, without the edges of windows."""
    return " ".join(hands.screen.translate(str.maketrans("┃│", "  ")).split())


SHORT_OF_REDUCER = {"temperature": "46", "colour": "gr", "clarity": "cl", "strip": "bluish", "seconds": "15"}
"""A reading that speaks for too little reducer, and for nothing else in a vat for cotton."""
