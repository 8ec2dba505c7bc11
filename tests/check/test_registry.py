from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardsmith.check.registry import Check, Query, check, query
from cardsmith.check.run import BY_NAME, CHECKS
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.model import Recipe
from tests.check.bench import house, recipe
from tests.check.cases import CASES

HERE = Path(__file__).parent


def subject(one: Recipe) -> Subject:
    return Subject(recipe=one, larder=load_larder(), house=house())


FIRING = [(name, one) for name, (fire, _) in CASES.items() for one in fire]
SILENT = [(name, one) for name, (_, hush) in CASES.items() for one in hush]


def label(value: object) -> str:
    if isinstance(value, Recipe):
        texts = [line.text for line in value.ingredients] + [step.text for step in value.steps]
        return "; ".join(texts)[:70]
    return str(value)


@pytest.mark.parametrize(("name", "one"), FIRING, ids=label)
def test_check_questions_a_spoiled_recipe(name: str, one: Recipe) -> None:
    told = list(BY_NAME[name](subject(one)))
    assert {finding.name for finding in told} == {name}
    assert all(finding.what and finding.instead for finding in told)


@pytest.mark.parametrize(("name", "one"), SILENT, ids=label)
def test_check_is_silent_on_a_near_miss(name: str, one: Recipe) -> None:
    assert [finding.what for finding in BY_NAME[name](subject(one))] == []


def test_every_check_has_a_firing_case_and_two_near_misses() -> None:
    assert [name for name, (fire, hush) in CASES.items() if not fire or len(hush) < 2] == []
    tests = "".join(file.read_text(encoding="utf-8") for file in HERE.rglob("*.py"))
    assert [one.name for one in CHECKS if one.name not in CASES and f'"{one.name}"' not in tests] == []


@pytest.mark.parametrize("one", CHECKS, ids=lambda one: one.name)
def test_check_says_why_and_what_to_do(one: Check) -> None:
    assert one.about.endswith(".")
    assert one.why.endswith(".")
    assert one.source
    assert one.remedy
    assert not one.remedy.endswith(".")


def test_names_and_order_never_change() -> None:
    """A new check adds its name to names.txt, where its family stands; no name is ever changed."""
    assert [one.name for one in CHECKS] == (HERE / "names.txt").read_text(encoding="utf-8").split()


def test_the_remedy_of_every_check_is_carried_out() -> None:
    """A new check has a case in remedies.yaml: the finding, and the recipe mended as its ``instead`` asks."""
    text = (HERE / "remedies.yaml").read_text(encoding="utf-8")
    carried_out = re.findall("^- check: (.*)$", text, re.MULTILINE)
    assert sorted(set(carried_out)) == sorted(BY_NAME)


def quiet(subject: Subject) -> Iterator[Query]:
    """Finds nothing."""
    yield from ()


@pytest.mark.parametrize(
    ("changed", "complaint"),
    [
        ({"name": "scale-missing"}, "two checks are named 'scale-missing'"),
        ({"name": "Scale Missing"}, "lower-case words joined by hyphens"),
        ({"name": "without-why", "why": " "}, "'without-why' has no why"),
        ({"name": "without-source", "source": ""}, "'without-source' has no source"),
        ({"name": "without-remedy", "remedy": ""}, "'without-remedy' has no remedy"),
    ],
)
def test_registering_refuses(changed: dict[str, str], complaint: str) -> None:
    whole = {"name": "for-a-test", "why": "Because.", "source": "a test", "remedy": "nothing", **changed}
    name = whole.pop("name")
    with pytest.raises(ValueError, match=complaint):
        check(name, Severity.NOTE, **whole)(quiet)


def test_registering_refuses_a_function_without_docstring() -> None:
    def mute(subject: Subject) -> Iterator[Query]:
        yield from ()

    with pytest.raises(ValueError, match="'mute-test' has no docstring"):
        check("mute-test", Severity.NOTE, why="Because.", source="a test", remedy="nothing")(mute)


def test_crash_of_a_check_is_our_defect_and_names_the_check() -> None:
    def broken(subject: Subject) -> Iterator[Query]:
        """Breaks."""
        yield query(subject.recipe.where, "before the fault")
        raise ZeroDivisionError("a defect")

    one = check("broken-test", Severity.NOTE, why="Because.", source="a test", remedy="nothing")(broken)
    with pytest.raises(ZeroDivisionError) as raised:
        list(one(subject(recipe())))
    assert raised.value.__notes__ == ["in the check 'broken-test', on 'a-dish'"]
