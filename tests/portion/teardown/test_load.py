"""What is wrong with a label, and what the larder does not know of it."""

from __future__ import annotations

import pytest

from cardsmith.measure.larder import load_larder
from cardsmith.portion.teardown.load import read_teardown
from cardsmith.portion.teardown.programme import feasible
from tests.portion.teardown.drawn import DEMO


def test_what_the_larder_does_not_know_may_be_anything_and_is_told() -> None:
    text = DEMO.read_text(encoding="utf-8").replace("  - honey", "  - zorblat")
    one, findings = read_teardown(text.encode(), "teardown.yaml", load_larder())
    assert [(finding.name, finding.severity.value) for finding in findings] == [
        ("label-food-unknown", "warning")
    ]
    assert one is not None
    found = feasible(one)
    assert found.clash == ()
    assert any(note.startswith("no table gives the calories, total fat") for note in found.notes)
    assert any("of zorblat: of these no lower end is used" in note for note in found.notes)


@pytest.mark.parametrize(
    ("old", "new", "name"),
    [
        ("total_fat: 7 g", "total_fat: 7.3 g", "label-figure-unlikely"),
        ("total_fat: 7 g", "salt: 0.5 g", "label-figure-unlikely"),
        ("serving: 30 g", "serving: 30 cm", "unreadable-measure"),
        ("serving: 30 g\n", "", "serving-missing"),
        ("moisture: 3 to 4 %", "moisture: dry", "unreadable-measure"),
        ("total_fat: 7 g", "total_fats: 7 g", "unknown-key"),
        ("  - honey\n", "".join(f"  - food {letter}x\n" for letter in "abcdefghijklmnopqrstuvwxyz" * 3),
         "label-too-long"),
    ],
)  # fmt: skip
def test_faults_of_a_label_are_told(old: str, new: str, name: str) -> None:
    text = DEMO.read_text(encoding="utf-8")
    assert old in text
    _, findings = read_teardown(text.replace(old, new).encode(), "teardown.yaml", load_larder())
    assert name in [one.name for one in findings]
