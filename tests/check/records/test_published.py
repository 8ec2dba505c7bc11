from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.check.run import judge
from cardsmith.flow import prepare
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.mark import mark
from cardsmith.recipe.model import Correction, Published, Recipe
from tests.check.bench import HERE, found, recipe
from tests.demo import house_of_one_edition

CHANGED = "changed-since-published"
ORDER = "corrections-out-of-order"
LARDER, HOUSE = load_larder(), house_of_one_edition()
SOUND = recipe(["200 g bread flour", "5 g fine salt"], ["Mix for 5 minutes, until smooth."])


def published(one: Recipe, date: str = "2026-06-01") -> Recipe:
    return replace(one, published=Published(where=HERE, date=date, mark=mark(one)))


def corrected(one: Recipe, *dates: str) -> Recipe:
    notes = tuple(
        Correction(where=HERE, date=date, what="The salt is 5 g.", mark=mark(one)) for date in dates
    )
    return replace(one, corrections=notes)


EDITED = recipe(["200 g bread flour", "6 g fine salt"], ["Mix for 5 minutes, until smooth."])


@pytest.mark.parametrize(
    "edited",
    [
        EDITED,
        recipe(["200 g bread flour", "5 g fine salt"], ["Mix for 6 minutes, until smooth."]),
        recipe(["200 g bread flour", "5 g fine salt"], ["Mix for 5 minutes, until smooth."], title="Another"),
        recipe(
            ["200 g bread flour", "5 g fine salt"], ["Mix for 5 minutes, until smooth."], storage="A day."
        ),
    ],
)
def test_an_edit_after_publication_is_questioned(edited: Recipe) -> None:
    (told,) = found(CHANGED, replace(edited, published=published(SOUND).published))
    assert f"mark: {mark(edited)}" in told.instead


def test_a_correction_with_the_new_mark_answers_it() -> None:
    assert (
        found(CHANGED, corrected(replace(EDITED, published=published(SOUND).published), "2026-06-20")) == ()
    )


def test_an_old_correction_does_not_answer_a_new_edit() -> None:
    old = corrected(published(SOUND), "2026-06-20").corrections
    assert found(CHANGED, replace(EDITED, published=published(SOUND).published, corrections=old))


def test_publication_without_a_mark_asks_for_it() -> None:
    (told,) = found(CHANGED, replace(SOUND, published=Published(where=HERE, date="2026-06-01")))
    assert told.instead == f"write mark: {mark(SOUND)}"


@pytest.mark.parametrize(
    "untouched",
    [
        SOUND,
        replace(SOUND, headnote="Polished since."),
        replace(SOUND, credit="Another hand"),
        replace(SOUND, formerly=()),
    ],
)
def test_what_no_cook_goes_by_may_be_polished(untouched: Recipe) -> None:
    assert found(CHANGED, replace(untouched, published=published(SOUND).published)) == ()


def test_a_recipe_never_published_may_change() -> None:
    assert found(CHANGED, EDITED) == ()


@pytest.mark.parametrize("dates", [("2026-05-20",), ("2026-06-20", "2026-06-10")])
def test_corrections_against_the_calendar(dates: tuple[str, ...]) -> None:
    assert len(found(ORDER, corrected(published(SOUND), *dates))) == 1


@pytest.mark.parametrize("dates", [(), ("2026-06-01",), ("2026-06-20", "2026-06-20", "2026-07-01")])
def test_corrections_in_order(dates: tuple[str, ...]) -> None:
    assert found(ORDER, corrected(published(SOUND), *dates)) == ()


def test_a_correction_of_what_was_never_published() -> None:
    (told,) = found(ORDER, corrected(SOUND, "2026-06-20"))
    assert "never published" in told.what


@pytest.mark.parametrize(
    "printed", [("1½ cups", "180 g"), ("1⅔ cups", "200 g", "EU", "mustard"), ("1⅔ cups plus", "200 g")]
)
def test_a_number_or_an_allergen_that_prints_otherwise_is_questioned(printed: tuple[str, ...]) -> None:
    told = ("1⅔ cups", "200 g")
    since = Published(where=HERE, date="2026-06-01", mark=mark(SOUND, told))
    one = replace(SOUND, published=since)
    assert CHANGED not in {finding.name for finding in judge(one, LARDER, HOUSE, printed=told).findings}
    assert CHANGED in {finding.name for finding in judge(one, LARDER, HOUSE, printed=printed).findings}


def test_another_ladder_changes_what_readers_were_told() -> None:
    """The author's file is the same to the letter; the house now prints no thirds of a cup."""
    text = (
        "title: Loaf\nparts:\n- ingredients: [200 g sugar, 200 g bread flour]\n"
        "  steps: ['Mix for 5 minutes, until smooth.']\n"
    )
    told = prepare("loaf", text.encode(), "loaf.yaml", LARDER, HOUSE).card
    assert told is not None
    text += f"published: {{date: 2026-06-01, mark: {mark(told.recipe, told.printed)}}}\n"

    def findings(house: House) -> set[str]:
        return {one.name for one in prepare("loaf", text.encode(), "loaf.yaml", LARDER, house).findings}

    halves = replace(HOUSE.ladders, cup=(Fraction(1, 2),))
    assert CHANGED not in findings(HOUSE)
    assert CHANGED in findings(replace(HOUSE, ladders=halves))
