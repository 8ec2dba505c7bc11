from __future__ import annotations

from dataclasses import replace

import pytest
from bench import HERE, found, recipe

from cardsmith.recipe.mark import mark
from cardsmith.recipe.model import Correction, Published, Recipe

CHANGED = "changed-since-published"
ORDER = "corrections-out-of-order"
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
