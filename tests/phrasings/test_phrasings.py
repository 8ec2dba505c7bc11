"""Each fault is named at its severity however it is put, and its sound counterparts are left alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.phrasings.measure import Case, cases, false_alarms, named

# What is not yet right, by the words of its change; it may only shrink.
PENDING = frozenset(
    line
    for line in (Path(__file__).parent / "pending.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
)


def label(case: Case) -> str:
    return f"{case.rule}: {case.change}"


def marked(case: Case) -> object:
    marks = [pytest.mark.xfail(strict=True)] if label(case) in PENDING else []
    return pytest.param(case, id=label(case), marks=marks)


@pytest.mark.parametrize("case", [marked(one) for one in cases() if one.faulty])
def test_fault_is_named(case: Case) -> None:
    assert named(case)


@pytest.mark.parametrize("case", [marked(one) for one in cases() if not one.faulty])
def test_sound_counterpart_is_left_alone(case: Case) -> None:
    assert false_alarms(case) == ()


def test_what_is_pending_is_a_case() -> None:
    assert {label(one) for one in cases()} >= PENDING
