"""Sequences and maps that share what they have in common."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from vatside.log.persistent import AppendOnly, Heap, Shared, melded

KEYS = st.integers(0, 400).map(str)


@given(st.lists(st.tuples(st.integers(0, 20), st.integers())))
def test_a_grown_sequence_is_a_tuple_with_one_more(acts: list[tuple[int, int]]) -> None:
    """Whichever earlier one goes on, each stays what it was."""
    made: list[tuple[AppendOnly[int], tuple[int, ...]]] = [(AppendOnly(), ())]
    for which, item in acts:
        grown, plain = made[which % len(made)]
        made.append((grown.and_one(item), (*plain, item)))
    for grown, plain in made:
        assert grown == plain
        assert (len(grown), tuple(grown), tuple(reversed(grown)), grown[-2:]) == (
            len(plain), plain, plain[::-1], plain[-2:]
        )  # fmt: skip
        assert hash(grown) == hash(plain)


@given(st.lists(st.tuples(st.booleans(), KEYS), max_size=300))
def test_a_shared_map_is_a_dict(acts: list[tuple[bool, str]]) -> None:
    """After any puts and drops; an earlier one stays what it was."""
    shared, plain = Shared[str](), dict[str, str]()
    early, then = shared, dict(plain)
    for number, (puts, key) in enumerate(acts):
        if puts:
            shared, plain = shared.put(key, f"{key}!"), {**plain, key: f"{key}!"}
        elif key in plain:
            shared = shared.drop(key)
            del plain[key]
        if number == len(acts) // 2:
            early, then = shared, dict(plain)
    for found, wanted in ((shared, plain), (early, then)):
        assert len(found) == len(wanted)
        assert sorted(found.values()) == sorted(wanted.values())
        assert all(found.get(str(key)) == wanted.get(str(key)) for key in range(401))


@given(st.lists(st.integers()))
def test_a_heap_gives_numbers_in_their_order(numbers: list[int]) -> None:
    """Taken out one by one they come sorted."""
    heap: Heap = None
    for number in numbers:
        heap = melded(heap, (1, number, None, None))
    out = []
    while heap is not None:
        out.append(heap[1])
        heap = melded(heap[2], heap[3])
    assert out == sorted(numbers)
