"""What a build says at its end: of a few cards everything, of a great many what helps to begin."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.commands.build import SLOWEST, TOLD, slowest, tell
from cardsmith.engine.built import Built
from cardsmith.finding import Finding, Severity, Where
from cardsmith.house.publication import Publication


def built(number: int, *severities: Severity) -> Built:
    name = f"loaf-{number}"
    found = (
        Finding(
            name=f"some-{one}",
            severity=one,
            where=Where(file=name),
            what=f"what of {name}",
            instead="mend it",
        )
        for one in severities
    )
    return Built(name=name, file=Path(name), why=("it is new",), findings=tuple(found))


def told(capsys: pytest.CaptureFixture[str], *every: Built, as_json: bool = False) -> str:
    tell(Publication(root=Path("nowhere")), list(every), why=False, as_json=as_json)
    return capsys.readouterr().out


def test_a_few_findings_are_told_one_by_one(capsys: pytest.CaptureFixture[str]) -> None:
    said = told(capsys, *(built(number, Severity.NOTE) for number in range(TOLD)))
    assert said.count("mend it") == TOLD
    assert "By check" not in said


def test_of_a_great_many_the_errors_are_told_and_the_rest_is_counted(
    capsys: pytest.CaptureFixture[str],
) -> None:
    many = [built(number, Severity.WARNING) for number in range(TOLD)]
    said = told(capsys, *many, built(TOLD, Severity.ERROR, Severity.NOTE))
    assert said.count("mend it") == 1
    assert f"what of loaf-{TOLD}" in said
    assert f"  {TOLD}  some-warning (warning)\n" in said
    assert "    1  some-note (note)\n" in said
    assert f"  loaf-{TOLD}: 1 error, 1 note\n" in said


def test_a_program_gets_every_one(capsys: pytest.CaptureFixture[str]) -> None:
    many = [built(number, Severity.WARNING) for number in range(TOLD + 1)]
    assert told(capsys, *many, as_json=True).count("mend it") == TOLD + 1


def test_the_slowest_cards_are_named_first_with_what_they_took() -> None:
    cards = [
        Built(name=f"loaf-{number}", file=Path(), took={"page": 0.25, "paper": float(number)})
        for number in range(SLOWEST + 2)
    ]
    head, *lines = slowest([*cards, Built(name="as-it-was", file=Path())]).splitlines()
    assert head == "69.0 s of a processor for 12 cards, 5.75 s each; the slowest:"
    assert [line.split()[2] for line in lines] == [f"loaf-{number}" for number in range(SLOWEST + 1, 1, -1)]
    assert lines[0] == "   11.25 s  loaf-11 (page 0.25, paper 11.00)"
    assert slowest([]) == ""
