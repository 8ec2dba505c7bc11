from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.house.settings import IssueStyle
from cardsmith.house.style import House
from cardsmith.render.card.view import card_view, decimal, percent
from cardsmith.rewrite.card.model import Card


def cell(view_row: object, place: int) -> str:
    amount = view_row.amounts[place]  # type: ignore[attr-defined]
    return f"{amount.number} {amount.unit}".replace("\u00a0", " ").strip()


def test_columns_follow_the_house(cards: dict[str, Callable[[], Card]], house: House) -> None:
    us_first = card_view(cards["crackers"](), replace(house, order=("us", "metric")))
    metric_first = card_view(cards["crackers"](), replace(house, order=("metric", "us")))
    assert [system.name for system in us_first.systems] == ["US", "Metric"]
    assert [system.name for system in metric_first.systems] == ["Metric", "US"]
    row, turned = us_first.parts[0].rows[3], metric_first.parts[0].rows[3]
    assert [cell(row, 0), cell(row, 1)] == ["½ cup plus 1 tablespoon", "140 g"]
    assert row.amounts == turned.amounts[::-1]


def test_no_cell_is_empty(any_card: Card, house: House) -> None:
    view = card_view(any_card, house)
    for part in view.parts:
        for row in part.rows:
            assert all(cell(row, place) for place in range(2)), row.item


def test_a_column_without_its_own_number_shows_the_other(
    cards: dict[str, Callable[[], Card]], house: House
) -> None:
    eggs, _, _, pepper, salt = card_view(cards["short"](), house).parts[0].rows
    assert [cell(eggs, 0), cell(eggs, 1)] == ["3", "150 g"]
    assert [cell(pepper, 0), cell(pepper, 1)] == ["1 pinch", "1 pinch"]
    assert [cell(salt, 0), cell(salt, 1)] == ["to taste", "to taste"]


def test_title_says_where_a_number_comes_from(cards: dict[str, Callable[[], Card]], house: House) -> None:
    us, metric = card_view(cards["crackers"](), house).parts[0].rows[0].amounts
    assert us.title == (
        "Measured: 200\u00a0g. Printed 0.8\u00a0% over. 102\u00a0g per cup, spooned (USDA SR 28, food 20063)"
    )
    assert "Printed exact" in metric.title


def test_allergen_lists_join_when_equal(cards: dict[str, Callable[[], Card]], house: House) -> None:
    short = [fact.label for fact in card_view(cards["short"](), house).notes]
    crackers = [fact.label for fact in card_view(cards["crackers"](), house).notes]
    assert short == ["Contains", "Storage", "Suits"]
    assert crackers == ["Contains", "Storage", "Suits"]


@pytest.mark.parametrize(
    ("language", "named", "laws"),
    [
        ("en-US", (), ["US"]),
        ("en-GB", (), ["EU"]),
        ("en-AU", (), ["US", "EU"]),
        ("en-US", ("EU", "US"), ["EU", "US"]),
        ("en-GB", ("US",), ["US"]),
    ],
)
def test_the_language_says_whose_list_is_printed_unless_the_house_does(
    language: str, named: tuple[str, ...], laws: list[str], cards: dict[str, Callable[[], Card]], house: House
) -> None:
    card = cards["crackers"]()
    alone = {"US": "wheat", "EU": "cereals containing gluten (rye)"}
    notes = card_view(card, replace(house, language=language, allergens=named)).notes
    (told,) = (str(one.text) for one in notes if one.label == "Contains")
    also = "; ".join(f"{law} list: also {alone[law]}" for law in laws)
    assert told == (f"sesame; {also}" if len(laws) > 1 else f"sesame, {alone[laws[0]]}")


@pytest.mark.parametrize("language", ["en-GB", "en-IE"])
def test_a_house_under_the_law_of_the_eu_has_its_list_alone(
    language: str, cards: dict[str, Callable[[], Card]], house: House
) -> None:
    card = cards["crackers"]()
    contains, *others = card_view(card, replace(house, language=language, allergens=())).notes
    assert (contains.label, str(contains.text)) == ("Contains", "sesame, cereals containing gluten (rye)")
    assert not [one.label for one in others if one.label.startswith("Contains")]


def test_focus_is_two_percentages_or_the_middle(cards: dict[str, Callable[[], Card]], house: House) -> None:
    card = cards["photo"]()
    assert card.recipe.photo is not None
    for focus, used in (("40% 30%", "40% 30%"), ("0; content: url(x)", "50% 50%"), ("", "50% 50%")):
        photo = replace(card.recipe.photo, focus=focus)
        view = card_view(replace(card, recipe=replace(card.recipe, photo=photo)), house)
        assert view.photo is not None
        assert view.photo.focus == used


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (Fraction(0), "exact"),
        (Fraction(8, 1000), "0.8 % over"),
        (Fraction(-31, 1000), "3.1 % under"),
        (Fraction(1, 100000), "less than 0.1 % over"),
        (Fraction(-1, 100000), "less than 0.1 % under"),
    ],
)
def test_percent(error: Fraction, words: str) -> None:
    assert percent(error).replace("\u00a0", " ") == words


@given(st.fractions(min_value=-10000, max_value=10000))
def test_decimal_is_within_half_a_hundredth(value: Fraction) -> None:
    assert abs(Fraction(decimal(value)) - value) <= Fraction(1, 200)
    assert decimal(value) != "-0"


def test_nutrition_is_a_line_and_cells_behind_the_notes(
    cards: dict[str, Callable[[], Card]], house: House
) -> None:
    told = [("Nutrition", "per serving (39 g), an estimate from tables"), ("Calories", "120 kcal")]
    *others, line, cell = card_view(cards["crackers"](), house, told).notes
    shown = [(note.label, note.text.replace("\u00a0", " "), note.cell) for note in (line, cell)]
    assert shown == [(*told[0], False), (*told[1], True)]
    assert tuple(others) == card_view(cards["crackers"](), house).notes


@pytest.mark.parametrize(
    ("online", "shown"),
    [
        ("", ""),
        ("https://pellwick.example/recipes/lemon-curd/", "pellwick.example/recipes/lemon-curd"),
        ("https://a.example/kitchen/recipes/b/", "a.example/kitchen/recipes/b"),
        (f"https://a.example/recipes/{'long-' * 9}name/", f"a.example/recipes/{'long-' * 9}name"),
    ],
)
def test_an_address_is_told_as_it_is_typed(
    online: str, shown: str, cards: dict[str, Callable[[], Card]], house: House
) -> None:
    view = card_view(cards["short"](), house, online=online)
    assert (view.online, view.address.striptags()) == (online, shown)


@pytest.mark.parametrize(
    ("issue", "feet"),
    [
        (IssueStyle(), ("Plain cooking from a small harbor", "Pellwick Quarterly")),
        (
            IssueStyle(name="Issue 31", date="Summer 2026"),
            ("Pellwick Quarterly · Issue 31 · Summer 2026",) * 2,
        ),
        (IssueStyle(date="June 2026"), ("Pellwick Quarterly · June 2026",) * 2),
    ],
)
def test_the_folio_tells_the_issue(
    issue: IssueStyle, feet: tuple[str, str], cards: dict[str, Callable[[], Card]], house: House
) -> None:
    assert card_view(cards["short"](), replace(house, issue=issue)).feet == feet


def test_no_remark_on_rounding_stands_on_the_card(cards: dict[str, Callable[[], Card]], house: House) -> None:
    card = cards["crackers"]()
    assert card.agreement
    assert not any(card.agreement in text.striptags() for text in card_view(card, house).texts())
