"""What a vat's signs mean, as data: sourced, and free of contradictions."""

from __future__ import annotations

import pytest
from attrs import evolve

from vatside.catalogue import findings
from vatside.catalogue.findings import additions, rows
from vatside.catalogue.load import materials, sources


def test_the_data_hang_together() -> None:
    """No row names a look, number, material or source that does not exist."""
    assert findings.problems() == ()


def test_what_a_state_rests_on_is_named() -> None:
    """Those that a text describes name it with what was seen of it; the others say that they have no publication."""
    described = {key for key, row in rows().items() if sources()[row.source].seen != "none"}
    assert {"good", "air-in", "short-of-reducer", "too-alkaline", "specks"} <= described
    assert rows()["too-cold"].source == "practice"
    assert sources()["practice"].text == "common practice among dyers; no publication found"


@pytest.mark.parametrize(
    ("key", "remedy", "low", "high"),
    [
        ("air-in", "dithionite", 0.25, 0.3), ("air-in", "thiourea-dioxide", 0.1, 0.2), ("air-in", "fructose", 2, 3),
        ("sugar-short", "fructose", 2, 3), ("soft", "lime", 1, 2), ("sharp", "copperas", 0.5, 1),
        ("short-of-alkali", "lye", 0.1, 0.1), ("short-of-alkali", "soda", 0.3, 0.3), ("lime-short", "lime", 0.5, 0.5),
        ("sugar-acids", "lime", 1, 1), ("overheated", "reducer-again", 0.3, 0.3), ("specks", "reducer", 0.2, 0.2),
    ],
)  # fmt: skip
def test_amounts_a_litre(key: str, remedy: str, low: float, high: float) -> None:
    """Grams a litre (common practice, no source; dithionite and specks scaled from Mairet 1938)."""
    fact = next(item.per_litre for item in rows()[key].remedies if item.id == remedy)
    assert fact is not None
    assert (fact.low or fact.value, fact.high or fact.value) == (low, high)


@pytest.mark.parametrize(
    "reducer", ["sodium dithionite", "thiourea dioxide", "fructose", "ferrous sulfate heptahydrate"]
)
def test_short_of_reducer_takes_half_of_what_air_takes(reducer: str) -> None:
    """A vat only short of reducer takes about half of what a spent one takes (common practice, no source)."""

    def amount(key: str) -> float:
        found = next(item for item in rows()[key].remedies if reducer in item.reducers)
        assert found.per_litre is not None
        return found.per_litre.value

    assert amount("short-of-reducer") == pytest.approx(amount("air-in") / 2, rel=0.08)


def test_copperas_carries_as_many_electrons_as_thiourea_dioxide() -> None:
    """0.1 to 0.2 g of thiourea dioxide (108.1, two electrons) is 0.51 to 1.03 g of copperas (278.0, one)."""
    found = next(item for item in rows()["air-in"].remedies if item.id == "copperas")
    assert found.per_litre is not None
    assert found.per_litre.low == pytest.approx(0.1 / 108.12 * 2 * 278.01, rel=0.05)
    assert found.per_litre.high == pytest.approx(0.2 / 108.12 * 2 * 278.01, rel=0.05)


def test_every_powder_of_a_remedy_says_how_it_goes_in() -> None:
    """Each alkali, reducer and acid of the catalogue has its words for dissolving it."""
    wanted = {item.species for item in materials().values() if item.role in ("alkali", "reducer", "acid")}
    assert wanted <= set(additions())


@pytest.mark.parametrize(
    ("broken", "said"),
    [
        (lambda row: evolve(row, axis="luck"), "no axis"),
        (lambda row: evolve(row, source="hearsay"), "no source"),
        (lambda row: evolve(row, reducers=("gin",)), "no reducer"),
        (lambda row: evolve(row, signs=(evolve(row.signs[0], seen=("puce",)),)), "nobody can choose"),
        (lambda row: evolve(row, signs=(evolve(row.signs[0], about="mood"),)), "no such look"),
        (lambda row: evolve(row, signs=(evolve(row.signs[0], points=0.0),)), "says nothing"),
        (lambda row: evolve(row, signs=(evolve(row.signs[0], below=3.0),)), "one of a list"),
        (lambda row: evolve(row, remedies=(evolve(row.remedies[0], does="pray"),)), "no deed"),
        (lambda row: evolve(row, remedies=(evolve(row.remedies[0], material="gin"),)), "no material"),
        (lambda row: evolve(row, remedies=(evolve(row.remedies[0], source="hearsay"),)), "no source"),
        (lambda row: evolve(row, remedies=(evolve(row.remedies[0], per_litre=None),)), "belongs to add"),
    ],
)  # fmt: skip
def test_a_broken_row_is_noticed(broken: object, said: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The audit puts each kind of slip in the data into words."""
    assert callable(broken)
    monkeypatch.setattr(findings, "rows", lambda: {"air-in": broken(rows()["air-in"])})
    assert any(said in problem for problem in findings.problems())
