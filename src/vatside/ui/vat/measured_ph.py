"""Taking the pH that was read as the true one, where the account says another."""

from __future__ import annotations

from vatside.bench.vat import acts
from vatside.outlook.vat import Outlook
from vatside.ui.base.session_screen import SessionScreen


def take_as_true(screen: SessionScreen) -> None:
    """Let the account go by the pH that was read, or say why there is nothing to take."""
    found = screen.outlook
    said = _why_not(found)
    if said:
        screen.say(said)
    elif found.comparison is not None:
        comparison = found.comparison
        screen.perform(lambda: acts.trust(screen.desk, comparison))


def _why_not(found: Outlook) -> str:
    """Say why the pH that was read changes nothing; empty where it does."""
    if found.put_in_since:
        return "Something went in since that reading: r reads it again."
    if found.is_old and found.reading.pH is not None:
        return "That reading is too long past to count: r reads it again."
    if found.comparison is None:
        return "No pH was read: r adds it."
    if found.comparison.agrees:
        return f"The two agree: the account stands as it was read. {_stands(found)}"
    return ""


def _stands(found: Outlook) -> str:
    """Say what the pH that was read and agreed with means for the fibre, not only for the account."""
    out = next((item for item in found.findings if item.axis == "pH" and item.is_out), None)
    return f"It is still {out.name}: put that right." if out else "There is nothing to put right."
