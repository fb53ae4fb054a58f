"""What a stock or a vat was begun with, and that it takes no powder of another kind of vat."""

from __future__ import annotations

from vatside.chemistry.alkalis import ALKALIS
from vatside.log.fold import State
from vatside.outlook.hand_acts import Act, Doing, Place, Scene
from vatside.plan.measures import method_of, powder
from vatside.plan.plan import Plan
from vatside.vat.interlocks import Block

OF_STOCK = ("stock.alkali_in", "stock.reducer_in")
OF_VAT = ("vat.alkali_in", "vat.soda_in", "vat.buffer_in", "vat.reducer_in", "vat.stock_in")
"""Steps that put powders of the plan's kind of vat in."""


def begun_with(state: State) -> str:
    """Say why another kind of vat cannot be chosen any more; empty while nothing of this one has gone in."""
    if state.plan.kept is not None:
        return _stays(state.plan, "The kept vat in the tub")
    if state.plan.stock_kept is not None:
        return _stays(state.plan, "The kept stock")
    if state.tending.account is not None or any(step in state.done for step in OF_VAT):
        return _stays(state.plan, "The vat")
    return _stays(state.plan, "The stock") if any(step in state.done for step in OF_STOCK) else ""


def _stays(plan: Plan, what: str) -> str:
    return (
        f"{what} holds {_powders(plan)} already and takes no other powders: it stays {method_of(plan).name}. "
        "For another kind of vat use it up or let it go, and begin another day."
    )


def _powders(plan: Plan) -> str:
    return " and ".join(powder(plan, role).material.short.lower() for role in ("alkali", "reducer"))


def other_powder(scene: Scene, doing: Doing) -> Block | None:
    """Ask before an alkali or a reducer of another kind of vat goes into the jar or the tub by hand.

    Sodas and lye go together: soda is what holds a vat of lye for wool and silk. Soda in lime is lye [Reactions].
    """
    if doing.what is None or doing.event is None or doing.place is Place.POT:
        return None
    plan, species = scene.state.plan, doing.what.material.species
    own = powder(plan, "reducer" if doing.act is Act.REDUCER else "alkali").material.species
    if species == own or _go_together(species, own):
        return None
    name = doing.what.material.short.lower()
    return Block(
        f"This vat is {method_of(plan).name}: {name} belongs to another kind.{_what_it_does(species, own)}",
        f"Take {_powders(plan)}, or make another vat with {name}.",
        final=False,
        after="Stir gently, wait, and read the pH and the colour: the account reckons with what went in.",
    )


def _go_together(species: str, own: str) -> bool:
    there = [ALKALIS.get(name) for name in (species, own)]
    return all(kind is not None and not kind.saturates for kind in there)


def _what_it_does(species: str, own: str) -> str:
    """Say what becomes of lime and soda together."""
    limes = [ALKALIS[name] for name in (species, own) if name in ALKALIS]
    if len(limes) == 2 and any(kind.saturates for kind in limes) and any(kind.is_carbonate for kind in limes):
        return " Lime and soda turn to lye, which burns, and to chalk."
    return ""
