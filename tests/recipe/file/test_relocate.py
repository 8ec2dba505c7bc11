"""Places found in a text that was read as one line, put back on its true lines."""

from __future__ import annotations

from cardsmith.finding import Finding, Severity, Where
from cardsmith.language.spans import Words
from cardsmith.recipe.file.relocate import relocated
from cardsmith.recipe.file.tree import Scalar
from cardsmith.recipe.model import Step

START = Where(file="x", line=3, column=5, field="steps[0]")
TEXT = Scalar(text="Heat the oven and bake.", where=START, spots=((0, 3, 5), (14, 4, 7)))


def at(column: int, line: int = 3) -> Where:
    return Where(file="x", line=line, column=column, field="steps[0]")


def test_places_move_to_their_lines() -> None:
    finding = Finding(name="a", severity=Severity.NOTE, where=at(5 + 18), what="", instead="")
    step = Step(where=START, text=TEXT.text, spans=(Words(text="Heat"),))
    moved, (told,) = relocated((step, (finding,)), TEXT)
    assert moved == step
    assert told.where == at(11, line=4)
    assert relocated(at(5 + 13), TEXT) == at(18)


def test_other_places_stay() -> None:
    assert relocated(at(4), TEXT) == at(4)
    assert relocated(at(30, line=9), TEXT) == at(30, line=9)


def test_a_text_of_one_line_is_left_alone() -> None:
    value = (at(90),)
    assert relocated(value, Scalar(text="Bake.", where=START, spots=((0, 3, 5),))) is value
