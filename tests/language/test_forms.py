"""Lines and sentences of every form that cooks write, each with its meaning written down before it was read.

`cases/forms_of_lines.txt` holds a line, and indented under it its statements, as `shown` says them, and its
foods; one that leaves its meaning open is asked. `cases/forms_of_sentences.txt` holds a sentence and its
readings, as `told` says them.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.finding import Severity
from cardsmith.language.line.read import read_text, shown
from cardsmith.language.prose.sentences import readings
from cardsmith.measure.larder import load_larder
from cardsmith.measure.quantity import Bound
from tests.language.prose.test_sentences import told

CASES = Path(__file__).parent / "cases"


def cases(name: str) -> list[tuple[str, list[str]]]:
    """Each text of a file with the lines indented under it."""
    found: list[tuple[str, list[str]]] = []
    for line in (CASES / name).read_text(encoding="utf-8").splitlines():
        if line.startswith(" "):
            found[-1][1].append(line.strip())
        else:
            found.append((line, []))
    return found


def meaning(text: str) -> str:
    """A line's statements and foods in short; ``asked`` where it stops."""
    line = read_text(text, load_larder())
    if any(fault.severity is not Severity.NOTE for fault in line.faults):
        return "asked"
    stated = "; ".join(
        ("" if one.quantity.bound is Bound.EXACTLY else f"{one.quantity.bound.value} ") + shown(one)
        for one in line.statements
    )
    return f"{stated or 'nothing'}: {' + '.join(line.foods or (line.item,))}"


@pytest.mark.parametrize(("text", "meant"), cases("forms_of_lines.txt"))
def test_line(text: str, meant: list[str]) -> None:
    assert [meaning(text)] == meant


@pytest.mark.parametrize(("text", "meant"), cases("forms_of_sentences.txt"))
def test_sentence(text: str, meant: list[str]) -> None:
    assert [told(one) for one in readings(text)] == meant
