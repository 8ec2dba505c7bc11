"""Two recipes under one title: each is told of the other, unless one of them says why."""

from __future__ import annotations

from cardsmith.check.shared_titles import MOST, Titled, titles_shared
from cardsmith.finding import Severity


def titled(title: str, name: str, *, answered: bool = False) -> Titled:
    return Titled(title=title, file=f"recipes/{name}/recipe.yaml", answered=answered)


def test_each_of_two_is_told_of_the_other_capitals_aside() -> None:
    found = titles_shared([titled("Oat Bars", "a"), titled("Lemon curd", "b"), titled("Oat  bars", "c")])
    assert [one.where.file for one in found] == ["recipes/a/recipe.yaml", "recipes/c/recipe.yaml"]
    assert found[0].what == "“Oat Bars” is the title of recipes/c/recipe.yaml too"
    assert {one.severity for one in found} == {Severity.WARNING}


def test_titles_of_their_own_and_an_answer_are_quiet() -> None:
    assert not titles_shared([titled("Oat bars", "a"), titled("Oat bars with honey", "b")])
    assert not titles_shared([titled("Oat bars", "a", answered=True), titled("Oat bars", "b")])


def test_a_few_are_named_and_the_rest_counted() -> None:
    found = titles_shared([titled("Oat bars", str(number)) for number in range(MOST + 3)])
    assert found[0].what.endswith(f"recipes/{MOST}/recipe.yaml and 2 more too")
    assert found[-1].what.endswith(f"recipes/{MOST - 1}/recipe.yaml and 2 more too")
