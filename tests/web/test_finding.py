"""Search and filters in a real browser, from a folder on a disk."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest


def titles(tab: Any) -> list[str]:
    """What a reader sees listed."""
    return [one.inner_text() for one in tab.locator("[data-name] a:visible").all()]


@pytest.fixture
def home(tab: Any, site: Path) -> Any:
    tab.goto((site / "index.html").as_uri())
    return tab


@pytest.mark.parametrize(
    ("asked", "first"),
    [
        ("sorbet", "Raspberry sorbet"),
        ("raspbery", "Raspberry sorbet"),  # a slip
        ("merin", "Low-oven meringue shells"),  # the beginning of a word
        ("bicarbonate", "Buttermilk soda bread"),  # as others call an ingredient
        ("LEMON curd", "Sharp lemon curd"),
        ("hadock potato", "Haddock baked over fennel and potatoes"),
    ],
)
def test_a_search_finds(home: Any, asked: str, first: str) -> None:
    home.get_by_label("Search recipes and ingredients").fill(asked)
    assert first in titles(home)[:2]
    assert (
        home.get_by_role("status").inner_text()
        == f"{len(titles(home))} recipe{'s' if len(titles(home)) > 1 else ''}"
    )


def test_an_example_is_a_search_to_press(home: Any) -> None:
    home.get_by_role("link", name="soup under 1 hour").click()
    assert home.get_by_label("Search recipes and ingredients").input_value() == "soup under 1 hour"
    assert "1 hour" in home.locator("#understood").inner_text()
    home.go_back()
    assert home.locator("#groups").is_visible()


def test_a_recipe_leads_on_to_three_others_and_says_why(tab: Any, site: Path) -> None:
    tab.goto((site / "recipes/lemon-curd/index.html").as_uri())
    tab.locator("#next-list li").first.scroll_into_view_if_needed()
    told = [one.inner_text().split("\n")[:2] for one in tab.locator("#next-list a").all()]
    assert len(told) == 3
    assert told[0] == ["Takes the egg whites left over", "Low-oven meringue shells"]
    tab.locator("#next-list img").first.click(force=True)  # the picture leads there too
    tab.wait_for_url("**/meringue-shells/index.html")


def test_results_stand_in_view_with_the_keyboard_up(home: Any) -> None:
    home.set_viewport_size({"width": 360, "height": 330})  # what a telephone's keyboard leaves
    home.get_by_label("Search recipes and ingredients").press_sequentially("lemon curd")
    box = home.locator("[data-name] a:visible").first.bounding_box()
    assert box["y"] + box["height"] <= 330


def test_what_was_typed_ticks_a_box_only_as_long_as_it_stands(home: Any) -> None:
    box = home.get_by_label("milk", exact=True)
    words = home.get_by_label("Search recipes and ingredients")
    words.fill("dessert without milk")
    assert box.is_checked()
    assert home.evaluate("location.hash") == "#words=dessert+without+milk"
    words.fill("dessert")
    assert not box.is_checked()
    home.get_by_text("Choose by part of the meal").click()
    box.check()
    words.fill("dessert without milk")
    words.fill("dessert")
    assert not box.is_checked()  # the words had it, and let it go


def test_a_search_in_vain_says_so(home: Any) -> None:
    home.get_by_label("Search recipes and ingredients").fill("durian")
    assert titles(home) == []
    assert home.get_by_role("status").inner_text().startswith("No recipe fits")
    home.get_by_role("button", name="Clear all").click()
    home.locator("[data-name] a:visible").nth(17).wait_for()  # the form is empty a moment after the press
    assert len(titles(home)) == 18
    assert home.get_by_label("Search recipes and ingredients").evaluate("it => it === document.activeElement")


def test_filters_narrow_what_is_shown(home: Any) -> None:
    home.get_by_text("Choose by part of the meal").click()
    home.get_by_label("Part of the meal").select_option("Dessert")
    assert len(titles(home)) == 5
    home.get_by_label("milk", exact=True).check()
    assert titles(home) == ["Low-oven meringue shells", "Raspberry sorbet"]
    home.get_by_label("egg", exact=True).check()
    assert titles(home) == ["Raspberry sorbet"]
    home.get_by_label("Start to finish").select_option("30 minutes or less")
    assert titles(home) == []


def test_what_only_a_label_can_settle_is_left_out_too(home: Any) -> None:
    home.get_by_text("Choose by part of the meal").click()
    home.get_by_label("sulphites").check()
    assert "Mustard dressing" not in titles(home)
    assert len(titles(home)) == 16


def test_a_search_can_be_kept_as_an_address(home: Any) -> None:
    home.get_by_text("Choose by part of the meal").click()
    home.get_by_label("Kind", exact=True).select_option("Soups")
    home.get_by_label("Search recipes and ingredients").fill("carrot")
    assert home.evaluate("location.hash") == "#words=carrot&kind=Soups"
    home.reload()
    assert titles(home) == ["Carrot and red lentil soup with brown-butter seeds"]
    assert home.get_by_label("Kind", exact=True).input_value() == "Soups"
    home.locator("[data-name] a:visible").click()
    home.wait_for_url("**/recipes/carrot-lentil-soup/index.html")
    home.go_back()
    assert titles(home) == ["Carrot and red lentil soup with brown-butter seeds"]


@pytest.mark.parametrize("page", ["recipes/lemon-curd/index.html", "kinds.html"])
def test_a_search_begins_on_any_page(tab: Any, site: Path, page: str) -> None:
    tab.goto((site / page).as_uri())
    tab.get_by_role("search").get_by_label("Search recipes and ingredients").fill("bread without milk")
    tab.keyboard.press("Enter")
    tab.wait_for_url("**/index.html?words=bread+without+milk")
    assert titles(tab)[0] == "Overnight country loaf"
    assert tab.get_by_label("milk", exact=True).is_checked()
    tab.get_by_label("Search recipes and ingredients").fill("curd")
    assert tab.evaluate("location.search + location.hash") == "#words=curd"  # one search in the address


def test_the_keyboard_alone_is_enough(home: Any) -> None:
    home.keyboard.press("Tab")
    assert home.evaluate("document.activeElement.textContent") == "Skip to the recipes"
    assert home.evaluate("getComputedStyle(document.activeElement).outlineStyle") != "none"
    home.keyboard.press("Enter")
    home.keyboard.press("Tab")
    assert home.evaluate("document.activeElement.id") == "words"
    home.keyboard.type("soda bread")
    for _ in range(3):  # the choices, clear all, the first recipe found
        home.keyboard.press("Tab")
    assert home.evaluate("document.activeElement.textContent") == "Buttermilk soda bread"
    home.keyboard.press("Enter")
    home.wait_for_url("**/recipes/buttermilk-soda-bread/index.html")


def test_without_script_every_recipe_is_listed_and_no_control_that_does_nothing(
    browser: Any, site: Path
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "index.html").as_uri())
    assert page.locator("[data-name] a:visible").count() == 18
    assert page.locator("form:visible").count() == 0
    page.get_by_role("link", name="By allergen").click()
    page.locator("#milk summary").click()  # each allergen is folded
    assert page.get_by_role("heading", name="Contains milk").is_visible()
    context.close()


def test_a_renamed_recipe_is_found_at_its_old_address(tab: Any, site: Path) -> None:
    tab.goto((site / "recipes/harbour-crackers/index.html").as_uri())
    tab.wait_for_url("**/recipes/seeded-crackers/index.html")
    assert tab.locator("h1").inner_text() == "Seeded rye crackers"


@pytest.mark.parametrize("name", ["index", "kinds", "times", "allergens", "404"])
@pytest.mark.parametrize("enlarged", [False, True])
def test_nothing_runs_off_a_narrow_screen(browser: Any, site: Path, name: str, *, enlarged: bool) -> None:
    context = browser.new_context(viewport={"width": 320, "height": 640})
    page = context.new_page()
    page.goto((site / f"{name}.html").as_uri())
    if enlarged:
        page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    context.close()
