from __future__ import annotations

import pytest

from cardsmith.check.run import Verdict, judge
from cardsmith.finding import Finding, Severity, Where
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.model import Accepted, Recipe
from tests.check.bench import HERE, house, recipe


def draft(**answers: str) -> Recipe:
    """Crackers that are too dry, and an oven without its scale; answered by check name."""
    return recipe(
        ["200 g all-purpose flour", "70 g water", "4 g fine salt"],
        [
            "Heat the oven to 350 with a rack in the middle.",
            "Mix the flour, water and salt. Bake until crisp, 20 minutes.",
        ],
        kind="cracker",
        accepted=tuple(
            Accepted(where=HERE, check=name.replace("_", "-"), reason=reason)
            for name, reason in answers.items()
        ),
    )


def verdict(one: Recipe, *read: Finding) -> Verdict:
    return judge(one, load_larder(), house(), read)


def names(one: Verdict) -> list[str]:
    return sorted(finding.name for finding in one.findings)


def test_findings_come_by_place() -> None:
    found = verdict(draft()).findings
    assert [(one.name, one.where.line) for one in found] == [("low-hydration", 2), ("scale-missing", 101)]


def test_reason_silences_a_warning_and_is_kept_for_the_proof() -> None:
    told = verdict(draft(low_hydration="Rye rolls best dry."))
    assert names(told) == ["scale-missing"]
    assert [(f.name, a.reason) for f, a in told.silenced] == [("low-hydration", "Rye rolls best dry.")]


@pytest.mark.parametrize(
    ("answer", "reason", "name", "severity", "told"),
    [
        (
            "high-salt",
            "Salty on purpose.",
            "accepted-without-cause",
            Severity.NOTE,
            "take it out of accepted",
        ),
        ("low-hydratoin", "Dry.", "accepted-unknown", Severity.ERROR, "did you mean 'low-hydration'?"),
        ("qqqq", "Dry.", "accepted-unknown", Severity.ERROR, "`cardsmith explain` lists the checks"),
        ("scale-missing", "Everybody knows.", "accepted-in-vain", Severity.ERROR, "write °C or °F"),
        ("low-hydration", " ", "accepted-without-reason", Severity.ERROR, "say in a sentence why"),
    ],
)
def test_faulty_answers_are_findings(
    answer: str, reason: str, name: str, severity: Severity, told: str
) -> None:
    found = [one for one in verdict(draft(**{answer: reason})).findings if one.name == name]
    assert [one.severity for one in found] == [severity]
    assert told in found[0].instead


def test_error_that_no_reason_makes_right_stays() -> None:
    assert "scale-missing" in names(verdict(draft(scale_missing="Everybody knows.")))


def test_what_reading_said_is_judged_too() -> None:
    def said(severity: Severity) -> Finding:
        return Finding(name="doubtful-unit", severity=severity, where=HERE, what="T", instead="tbsp")

    answered = draft(doubtful_unit="All T are tablespoons here.")
    assert "doubtful-unit" in names(verdict(draft(), said(Severity.WARNING)))
    assert "doubtful-unit" not in names(verdict(answered, said(Severity.WARNING)))
    assert "doubtful-unit" in names(verdict(answered, said(Severity.ERROR)))


def test_same_recipe_gives_same_findings() -> None:
    assert verdict(draft()) == verdict(draft())
    assert verdict(draft()).findings[0].where == Where(file="recipe.yaml", line=2, column=5)
