"""How the fibre was finished, as it was done, a line for each fibre."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from vatside.catalogue.load import materials
from vatside.days.done import Added, Waited
from vatside.log.fold import State
from vatside.plan.batches import Batch, batches
from vatside.plan.measures import BY_VOLUME
from vatside.plan.sheet import Sheet
from vatside.units import show_mass, show_minutes, show_temperature, show_volume


def finishes_done(state: State, sheet: Sheet, added: Iterable[Added], waited: Iterable[Waited]) -> dict[str, str]:
    """Say what was done to each fibre after the vat, by the fibre's name; a fibre to which nothing was is not here."""
    real = {wait.step: round(wait.real) for wait in waited if wait.step}
    acids = dict(_acids(added))
    found = {}
    for batch in batches(state.plan):
        parts = [words for step, words in _parts(batch, sheet, real, acids) if batch.id(step) in state.done]
        if parts:
            found[batch.name] = ", ".join(parts)
    return found


def _acids(added: Iterable[Added]) -> Iterator[tuple[str, str]]:
    """What a sour was made of, by its step."""
    for item in added:
        material = materials()[item.use.material]
        if item.use.step.endswith(".sour") and material.role == "acid":
            litres = item.use.grams / material.bulk.value / 1000
            much = show_volume(litres) if item.use.material in BY_VOLUME else show_mass(item.use.grams)
            yield item.use.step, f" with {much} of {material.short.lower()}"


def _parts(batch: Batch, sheet: Sheet, real: dict[str, int], acids: dict[str, str]) -> Iterator[tuple[str, str]]:
    """What each step of the finish amounts to, by the step: its real time where one was taken."""

    def time(step: str, figure: str) -> str:
        return show_minutes(real.get(batch.id(step), sheet.value(batch.id(figure))))

    def times(figure: str) -> str:
        count = round(sheet.value(batch.id(figure)))
        return "once" if count == 1 else f"{count} times"

    wash = show_temperature(sheet.value(batch.id("wash")))
    yield "air", f"last air {time('air', 'last_air')}"
    yield "rinse", f"rinsed {times('rinses')}"
    yield "sour", f"soured {time('sour', 'sour')}{acids.get(batch.id('sour'), '')}"
    yield "sour_rinse", "rinsed"
    yield "wash", f"washed {time('wash', 'wash_minutes')} at {wash}"
    yield "last_rinse", f"rinsed {times('last_rinses')}"
    yield "dry", f"dried {time('dry', 'dry')}"
