"""One result is kept, for the very same objects only."""

from __future__ import annotations

from cardsmith.last_result import remembered


def test_the_same_objects_are_asked_about_once() -> None:
    calls = []

    @remembered
    def asked(one: list[int], other: list[int]) -> int:
        calls.append((one, other))
        return len(one) + len(other)

    first, second, equal = [1], [2], [1]
    assert asked(first, second) == asked(first, second) == 2
    assert len(calls) == 1
    assert asked(equal, second) == 2
    assert len(calls) == 2
    assert asked(first, second) == 2
    assert len(calls) == 3


def test_what_it_raises_is_not_kept() -> None:
    @remembered
    def asked(one: list[int]) -> int:
        return one[0]

    empty: list[int] = []
    for _ in range(2):
        try:
            asked(empty)
        except IndexError:
            continue
        raise AssertionError("it was to raise")
