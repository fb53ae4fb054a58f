"""Small invented days in the form of the instances: loads to scour, a stock, a vat, rounds of dips, a finish."""

from itertools import pairwise
from random import Random
from typing import Any

Instance = dict[str, Any]
Step = dict[str, Any]


class Writer:
    """Writes one day, step by step."""

    def __init__(self, random: Random, pots: list[int]) -> None:
        """Nothing is written yet."""
        self.random = random
        self.pots = pots
        self.tasks: list[Step] = []
        self.links: list[dict[str, Any]] = []
        self.spans: list[dict[str, Any]] = []

    def step(self, name: str, hands: int, wait: int = 0, *takes: str, every: int = 0) -> str:
        """A step that takes `hands` minutes of hands, then waits, with a nudge `every` so many minutes of its wait."""
        uses: list[list[Any]] = [["hands", 0, hands, 1]]
        uses += [["sink", 0, hands, 1]] * ("sink" in takes)
        uses += [["hob", hands, hands + wait, 1]] * ("hob" in takes and wait > 0)
        calls = range(hands + every, hands + wait - 5, every) if every else ()
        task: Step = {"id": name, "minutes": hands + wait, "uses": uses}
        task["nudges"] = [{"at": at, "early": 4, "late": 4, "minutes": 1} for at in calls]
        self.tasks.append(task)
        return name

    def length(self, name: str) -> int:
        """Minutes of a step."""
        return int(next(task["minutes"] for task in self.tasks if task["id"] == name))

    def link(self, first: str, last: str, play: int | None = None, least: int | None = None) -> None:
        """`last` after `first` has ended, at most `play` minutes later."""
        least = self.length(first) if least is None else least
        self.links.append({"from": first, "to": last, "least": least})
        if play is not None:
            self.links[-1]["most"] = least + play

    def span(self, resource: str, first: str, last: str, until: str = "end", **how: int) -> None:
        """Something is held from the start of one step to the end or start of another."""
        how = how or {"units": 1}
        self.spans.append({"resource": resource, "from": first, "to": last, "until": until, **how})

    def load(self, k: int) -> str:
        """One load through a scour bath; its last step."""
        r, at = self.random, f"load{k}"
        soak = self.step(f"{at}.soak", 3, r.choice([20, 30]))
        fill = self.step(f"{at}.fill", 5, r.choice([0, 0, 4]), "sink", "hob")
        agents = self.step(f"{at}.agents", 2)
        heat = self.step(f"{at}.heat", 2, r.randint(8, 36))
        hold = self.step(f"{at}.hold", 1, r.choice([20, 25, 30, 60]), every=r.choice([12, 15, 0]))
        rinse = self.step(f"{at}.rinse", r.randint(5, 12), 0, "sink")
        self.link(fill, agents, 10)
        self.link(agents, heat, 10)
        self.link(soak, heat)
        self.link(heat, hold, 5)
        self.link(hold, rinse, r.choice([5, 10, 15, 30]))
        self.span("pot", fill, rinse, size=r.choice([size for size in (8, 10, 12, 16) if size <= max(self.pots)]))
        self.span("hob", heat, rinse, "start")
        hang = self.step(f"{at}.hang", 5)
        if r.random() < 0.4:
            cool = self.step(f"{at}.cool", 1, 60)
            self.link(rinse, cool, 0)
            self.span("bowl", cool, cool)
            self.link(cool, hang)
        else:
            self.link(rinse, hang)
        return hang

    def chain(self, *steps: tuple[str, int | None]) -> None:
        """Links between steps in a row, each with the play before the next one."""
        for (first, play), (last, _) in pairwise(steps):
            self.link(first, last, play)

    def stock(self) -> tuple[str, str]:
        """The stock; its step with water and its last look."""
        r = self.random
        paste = self.step("stock.paste", r.choice([10, 15]))
        water = self.step("stock.water", 5, r.choice([0, 4]), "sink", "hob")
        alkali, stir, reducer = (self.step(f"stock.{name}", r.randint(2, 3)) for name in ("alkali", "stir", "reducer"))
        rest = self.step("stock.rest", 3, r.choice([30, 45, 60]), every=15)
        look = self.step("stock.look", 2)
        self.chain((paste, None), (water, 10), (alkali, 10), (stir, 10), (reducer, 10), (rest, None), (look, None))
        return water, look

    def vat(self) -> tuple[str, str]:
        """Stock and vat; the step that fills the tub and the first look."""
        water, look = self.stock()
        fill = self.step("vat.fill", 10, 0, "sink")
        alkali = self.step("vat.alkali", 3)
        reducer = self.step("vat.reducer", 2, 20)
        stock_in = self.step("vat.stock_in", 4)
        rest = self.step("vat.rest", 2, self.random.choice([30, 60]))
        seen = self.step("vat.look", 2)
        self.chain((fill, 20), (alkali, 20), (reducer, 30), (stock_in, 0), (rest, 30), (seen, None))
        self.link(look, stock_in)
        self.span("jar", water, stock_in)
        return fill, seen

    def dips(self, hangs: list[str]) -> list[str]:
        """Rounds of dips, whose first waits for the loads; the rounds."""
        r = self.random
        fill, seen = self.vat()
        rounds: list[str] = []
        before, play = seen, 60
        for k in range(r.randint(2, 6)):
            pieces = r.randint(1, 3)
            long = pieces * r.choice([5, 6])
            changes = [["hands", at, at + 1, 1] for at in range(0, long, long // pieces)]
            name = f"dips.round{k + 1}"
            self.tasks.append(
                {"id": name, "minutes": long + 1, "uses": [*changes, ["hands", long, long + 1, 1]], "nudges": []}
            )
            least = None if not rounds else long + 1 + r.choice([5, 10, 15])
            self.link(before, name, play, least)
            before, play = name, 45
            rounds.append(name)
        for hang in hangs:
            self.link(hang, r.choice(rounds[:2]))
        cover = self.step("dips.cover", 2)
        self.link(rounds[-1], cover)
        self.span("tub", fill, cover)
        return rounds

    def finish(self, k: int, after: str) -> None:
        """Air, rinse, sour, wash and dry one lot."""
        r, at = self.random, f"finish{k}"
        air = self.step(f"{at}.air", 2, r.choice([20, 30]))
        rinse = self.step(f"{at}.rinse", 10, 0, "sink")
        water = self.step(f"{at}.wash_water", 5, 0, "sink")
        heat = self.step(f"{at}.wash_heat", 2, r.randint(8, 16))
        wash = self.step(f"{at}.wash", 3, 12)
        last = self.step(f"{at}.last_rinse", 8, 0, "sink")
        dry = self.step(f"{at}.dry", 5)
        self.link(after, air)
        self.chain((air, None), (rinse, None), (heat, 3), (wash, 5), (last, None), (dry, None))
        self.link(water, heat, 10)
        self.span("pot", water, last, size=8)
        self.span("hob", heat, last, "start")


def random_day(seed: int) -> Instance:
    """A day of some 14 to 60 steps."""
    random = Random(seed)
    pots = sorted(random.choice([8, 10, 12, 16, 20]) for _ in range(random.choice([1, 1, 2, 2, 3])))
    people = random.choice([1, 1, 2])
    writer = Writer(random, pots)
    whole = random.random() < 0.5
    hangs = [writer.load(k) for k in range(1, 1 + random.choice([1, 2, 2, 3] if whole else [2, 3, 4]))]
    if whole:
        rounds = writer.dips(hangs)
        for k in range(random.randint(0, 2)):
            writer.finish(k + 1, random.choice(rounds[-2:]))
    for task in writer.tasks:
        if task["id"].endswith("soak") and random.random() < 0.2:
            task["release"] = random.choice([20, 40, 60])
    breaks = _breaks(random, whole)
    return {
        "id": f"random-{seed}",
        "horizon": 1800,
        "resources": _resources(random, pots, people, may_go=not breaks),
        "tasks": writer.tasks,
        "links": writer.links,
        "spans": writer.spans,
        "breaks": breaks,
        "running": {},
    }


def _resources(random: Random, pots: list[int], people: int, *, may_go: bool) -> dict[str, Any]:
    """`may_go` lets one of two be away for some hours; nobody is away in part of a break's window."""
    goes = may_go and people == 2 and random.random() < 0.4
    away = [[random.choice([0, 180]), random.choice([240, 300, 1800]), 1]] if goes else []
    return {
        "hands": {"units": people, "away": away},
        "hob": {"units": random.choice([1, 1, 2])},
        "sink": {"units": random.choice([1, 1, 1, 2])},
        "pot": {"sizes": pots},
        "bowl": {"units": random.randint(1, 3)},
        "jar": {"units": 1},
        "tub": {"units": 1},
    }


def _breaks(random: Random, whole: bool) -> list[dict[str, Any]]:
    if random.random() < 0.5:
        return []
    begin = random.choice([95, 120, 165, 200])
    return (
        [{"resource": "hands", "minutes": 30, "from": begin, "to": begin + 60, "step": 5}]
        if whole or begin < 130
        else []
    )
