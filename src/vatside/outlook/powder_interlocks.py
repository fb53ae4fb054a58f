"""What is dangerous about a powder: lye, or one of another kind of vat than stock or vat was begun with.

Of lye: water too warm for it, its vessel, its order, a second bath of it. Of any: the same dose twice.
"""

from __future__ import annotations

from attrs import evolve

from vatside.chemistry.substances import ALKALIS, heats
from vatside.dayline.rounds import BETWEEN
from vatside.log.events.vat import CorrectionMade
from vatside.log.fold import State
from vatside.log.waits import Moment, seconds_between
from vatside.outlook.hand_acts import ALKALI_IN, FILL, Act, Doing, Place, Scene, stands_now
from vatside.plan.measures import by_jug, celsius, method_of, powder, species_of
from vatside.plan.plan import Plan, Stuff
from vatside.recipe.baths import Dose
from vatside.recipe.stages.stock import LEAST_JUG_L, jug_litres
from vatside.units import show_minutes, show_temperature
from vatside.vat import interlocks
from vatside.vat.dosing import dissolving_litres
from vatside.vat.interlocks import LYE_CEILING_C, WARM_C, Block


def warm_lye(scene: Scene, doing: Doing) -> Block | None:
    """Lye into water too warm: its jug, and what that is poured into, as read last or by the plan."""
    if not doing.is_lye or not doing.grams:
        return None
    by_jug = interlocks.lye(_pure(doing), _jug(scene, doing), celsius(scene.state.plan.water.cold))
    if isinstance(by_jug, Block) and _has_jug(scene, doing):
        return by_jug
    return _into_jar(scene) if doing.place is Place.JAR else _into_tub(scene)


def _pure(doing: Doing) -> float:
    return doing.grams * (doing.what.purity if doing.what else 1.0)


def _has_jug(scene: Scene, doing: Doing) -> bool:
    return doing.place is not Place.JAR or scene.sheet.value("stock.jug", 0.0) > 0


def _jug(scene: Scene, doing: Doing) -> float:
    if doing.place is Place.JAR:
        return max(scene.sheet.value("stock.jug", 0.0), LEAST_JUG_L / 10)
    if doing.event is None or doing.what is None:
        return jug_litres(doing.grams)
    return max(dissolving_litres(Dose(doing.what, doing.grams)), LEAST_JUG_L)


def _into_jar(scene: Scene) -> Block | None:
    sheet, read = scene.sheet, read_C(scene, Place.JAR)
    there = sheet.value("stock.start") if read is None else read
    warmest = sheet.value("stock.warmest", LYE_CEILING_C)
    if there <= warmest + TOLERANCE_K:
        return None
    return _too_warm("jar", there, f"{show_temperature(warmest)} is the most for so much lye", read is not None)


def _into_tub(scene: Scene) -> Block | None:
    stands = stands_now(scene.state, scene.sheet, scene.at) if scene.state.tending.account else None
    read = read_C(scene, Place.TUB)
    there = stands.celsius if stands else scene.sheet.value("vat.temperature") if read is None else read
    if there <= LYE_CEILING_C + TOLERANCE_K:
        return None
    limit = f"{show_temperature(LYE_CEILING_C)} is the most"
    return _too_warm("tub", there, limit, stands is not None or read is not None)


TOLERANCE_K = 0.05
"""A limit that is met to what a thermometer prints is kept."""


def _too_warm(where: str, there_C: float, limit: str, read: bool) -> Block:
    source = "as read last" if read else "by the plan"
    return Block(
        f"Lye goes into water that is too warm: the {where} is at {show_temperature(there_C)} {source}, {limit}. "
        "It spits and burns.",
        "Let it cool, or draw it afresh; read it (r), then the lye.",
        after=interlocks.AFTER_LYE,
    )


def read_C(scene: Scene, place: Place) -> float | None:
    """Give the temperature last read of the jar, or of the tub before its vat is made; None without one.

    A reading is of the tub once its water was begun, else of the jar.
    """
    filled = scene.begun(FILL[Place.TUB])
    if scene.state.tending.account is not None and place is Place.TUB:
        return None
    for taken in reversed(scene.state.tending.readings):
        of_tub = filled is not None and seconds_between(filled, taken.at) >= 0
        if taken.reading.celsius is not None and of_tub is (place is Place.TUB):
            return taken.reading.celsius
    return None


def hot_in_glass(scene: Scene, doing: Doing) -> Block | None:
    """Lye dissolved in a warm glass jar, where the dyer wants it so."""
    if not doing.is_lye or doing.place is not Place.JAR or _has_jug(scene, doing) or not doing.grams:
        return None
    read = read_C(scene, Place.JAR)
    reaches = (scene.sheet.value("stock.start") if read is None else read) + scene.sheet.value("stock.rise", 0.0)
    if scene.state.plan.vessels.jar_stuff is not Stuff.GLASS or reaches <= WARM_C:
        return None
    return Block(
        f"Lye dissolved in a glass jar at {show_temperature(reaches)}: glass can crack, and hot lye runs out.",
        "Dissolve it in cold water in a plastic jug, then pour it in.",
        after="Stand the jar in a plastic bowl; if it cracks, nobody near it. " + interlocks.AFTER_LYE,
    )


def water_onto_lye(scene: Scene, doing: Doing) -> Block | None:
    """Lye before its water, or water after the lye."""
    if not by_jug(scene.state.plan) or doing.event is not None:
        return None
    if doing.place not in FILL or (doing.place is Place.TUB and scene.state.tending.account is not None):
        return None
    fill, lye = FILL[doing.place], ALKALI_IN[doing.place]
    dry = scene.step(fill) is not None and scene.begun(fill) is None
    if doing.subject == lye and doing.is_lye and dry:
        block = interlocks.water_onto_lye()
        return evolve(block, why=f"There is no water in the {doing.place.value} yet. {block.why}")
    return interlocks.water_onto_lye() if doing.subject == fill and lye in scene.state.done and dry else None


def eaten_vessel(scene: Scene, doing: Doing) -> Block | None:
    """Alkali in aluminium, zinc or tin [SDSLye]."""
    vessels = scene.state.plan.vessels
    stuff = {Place.POT: vessels.scour_stuff, Place.JAR: vessels.jar_stuff, Place.TUB: vessels.tub.stuff}[doing.place]
    if stuff not in EATEN:
        return None
    return Block(
        f"The {doing.place.value} is {stuff.value}: alkali eats it and gives off hydrogen, which burns.",
        "Take stainless steel, sound enamel or heat-proof plastic, and say so in the form.",
        after="No flame near it, windows open; pour it over into stainless steel or plastic, slowly, gloves on.",
    )


EATEN = (Stuff.ALUMINIUM, Stuff.GALVANISED, Stuff.TINNED)
"""What alkali eats."""


def second_lye(scene: Scene, doing: Doing) -> Block | None:
    """More lye while the last was not stirred in: nobody read the vat since, and its wait is not over."""
    if not doing.is_lye or doing.place is not Place.TUB:
        return None
    last = _last_lye(scene)
    minutes = seconds_between(last, scene.at) / 60 if last else STIRRED_IN_MIN
    if last is None or not 0 <= minutes < STIRRED_IN_MIN:
        return None
    readings = scene.state.tending.readings
    if readings and seconds_between(last, readings[-1].at) > 0:
        return None
    return Block(
        f"Lye went in {_ago(minutes)}, and nobody read the vat since: is it stirred in? "
        "Unmixed lye lies on the bottom, and a second one comes on top of it.",
        f"Stir gently from the bottom, wait {show_minutes(STIRRED_IN_MIN)}, read the pH (r), then the rest.",
        final=False,
        after="Stir from the bottom, wait, and read the pH before any piece goes in.",
    )


STIRRED_IN_MIN = 15.0
"""Minutes until alkali stirred into a vat can be read, as the wait after it: common practice, no source."""


def given_again(scene: Scene, doing: Doing) -> Block | None:
    """The same once more for the same finding, before anybody read the vat: a key that was pressed twice."""
    tending, event = scene.state.tending, doing.event
    if not isinstance(event, CorrectionMade) or not event.finding or event.amount is None or second_lye(scene, doing):
        return None
    same = (event.finding, event.remedy, event.material)
    for made in reversed(tending.corrections):
        before = (made.event.finding, made.event.remedy, made.event.material)
        if before == same and made.readings == len(tending.readings):
            minutes = seconds_between(made.at, scene.at) / 60
            return Block(
                f"That went in {_ago(minutes)}, and nobody read the vat since: now it would go in twice.",
                "Let it work, then read the vat (r). If as much went in once more, y writes it down.",
                final=False,
                once=True,
            )
    return None


def _ago(minutes: float) -> str:
    return f"{show_minutes(minutes) if minutes >= 1 else 'a moment'} ago"


def _last_lye(scene: Scene) -> Moment | None:
    """Say when lye last went into the tub."""
    plan, moments = scene.state.plan, []
    if by_jug(plan):
        moments = [scene.state.done[step] for step in (ALKALI_IN[Place.TUB], BETWEEN) if step in scene.state.done]
    for made in scene.state.tending.corrections:
        if made.event.amount is not None and heats(_species(scene, made.event.material)):
            moments.append(made.at)
    return min(moments, key=lambda at: abs(seconds_between(at, scene.at)), default=None)


def _species(scene: Scene, material: str) -> str:
    try:
        return species_of(scene.state.plan, material)
    except KeyError:
        return ""


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
    own = species_of(plan, "reducer" if doing.act is Act.REDUCER else "alkali")
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
