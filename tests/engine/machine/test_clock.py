"""What a piece of work takes is told by what it was for, and adds up."""

from __future__ import annotations

import time

from cardsmith.engine.machine.clock import Clock


def work(seconds: float) -> None:
    until = time.process_time() + seconds
    while time.process_time() < until:
        pass


def test_what_is_noted_under_nothing_is_the_rest() -> None:
    began = time.process_time()
    clock = Clock()
    work(0.02)
    for _ in range(2):
        with clock.of("page"):
            work(0.03)
    told = clock.told("reading")
    assert list(told) == ["reading", "page"]
    assert 0.06 <= told["page"] < 0.2
    assert 0.02 <= told["reading"] < 0.2
    assert sum(told.values()) <= time.process_time() - began


def test_time_asleep_is_none_of_it() -> None:
    clock = Clock()
    time.sleep(0.05)
    assert clock.told("reading")["reading"] < 0.04
