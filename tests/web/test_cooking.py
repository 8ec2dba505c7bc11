"""A card at the stove: what a reader chose, ticked and timed stays, whatever happens to the page."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from test_reading import CRACKERS, amounts

TIMES = ".steps .time[role=button]"


@pytest.fixture
def card(tab: Any, site: Path) -> Any:
    """A card's page, whose clock a test winds on by itself: how busy the machine is changes nothing."""
    tab.clock.install()
    tab.goto((site / CRACKERS).as_uri())
    return tab


def seconds_left(timer: Any) -> int:
    """What a timer's clock shows: 25:00, 1:02:30."""
    total = 0
    for part in timer.locator(".left").inner_text().split(":"):
        total = total * 60 + int(part)
    return total


def test_units_and_batch_are_kept_together_and_the_batch_for_its_own_card(card: Any, site: Path) -> None:
    card.get_by_role("radio", name="US", exact=False).check()
    card.get_by_role("radio", name="2", exact=True).check()
    chosen = amounts(card)
    card.reload()
    assert amounts(card) == chosen
    assert card.get_by_role("radio", name="2", exact=True).is_checked()
    assert card.locator("td.metric:visible").count() == 0
    card.goto((site / "recipes/buttermilk-soda-bread/index.html").as_uri())
    assert card.locator("td.metric:visible").count() == 0  # a reader's kitchen has one set of cups or scales
    assert card.locator("#batch input[value='1']").is_checked()  # but makes each dish in its own size


def test_a_timer_pauses_goes_on_and_stops(card: Any) -> None:
    time = card.locator(TIMES).first
    time.click()
    timer = card.locator("#timers .timer")
    assert seconds_left(timer) == pytest.approx(int(time.get_attribute("data-seconds")), abs=2)
    timer.get_by_role("button", name="Pause").click()
    held = seconds_left(timer)
    card.clock.run_for(1500)
    assert seconds_left(timer) == held
    timer.get_by_role("button", name="Go on").click()
    card.clock.run_for(2500)
    assert held - 30 <= seconds_left(timer) <= held - 2
    timer.get_by_role("button", name="Stop").click()
    assert card.locator("#timers .timer").count() == 0
    assert card.locator("#timers").is_hidden()
    card.reload()
    assert card.locator("#timers .timer").count() == 0


def test_two_timers_run_at_once_and_over_a_reload(card: Any) -> None:
    times = card.locator(TIMES)
    assert times.count() >= 2
    times.nth(0).click()
    times.nth(1).click()
    times.nth(1).click()  # the same time twice is one timer
    timers = card.locator("#timers .timer")
    assert timers.count() == 2
    names = [timers.nth(place).locator("b").inner_text() for place in (0, 1)]
    assert len(set(names)) == 2
    timers.nth(0).get_by_role("button", name="Pause").click()
    before = [seconds_left(timers.nth(place)) for place in (0, 1)]
    card.clock.run_for(1500)
    card.reload()
    card.clock.run_for(1500)
    assert [timers.nth(place).locator("b").inner_text() for place in (0, 1)] == names
    assert seconds_left(timers.nth(0)) == before[0]  # still paused
    assert timers.nth(0).get_by_role("button", name="Go on").is_visible()
    assert seconds_left(timers.nth(1)) <= before[1] - 2  # the reload cost it no time


def test_a_timer_that_is_up_says_so(card: Any) -> None:
    card.evaluate(f"document.querySelector('{TIMES}').dataset.seconds = '1'")
    card.locator(TIMES).first.click()
    timer = card.locator("#timers .timer.up")
    timer.wait_for(timeout=5000)
    assert "time to look" in timer.inner_text()
    assert card.locator("#said").inner_text().endswith("time to look")
    assert timer.get_by_role("button", name="Pause").count() == 0


def test_a_tick_is_kept_through_a_change_of_batch_and_a_reload(card: Any) -> None:
    card.locator(".steps input[type=checkbox]").nth(2).check()
    card.get_by_role("radio", name="2", exact=True).check()
    card.reload()
    boxes = card.locator(".steps input[type=checkbox]")
    assert [boxes.nth(place).is_checked() for place in range(boxes.count())] == [
        place == 2 for place in range(boxes.count())
    ]
    assert "done" in card.locator(".steps li").nth(2).get_attribute("class")


def test_a_step_shows_its_ingredients(card: Any) -> None:
    step = card.locator(".steps li[data-uses]").first
    uses = step.get_attribute("data-uses").split()
    step.locator("button.number").click()
    assert [row.get_attribute("id") for row in card.locator(".list tr.marked").all()] == uses
    assert step.locator(".tie").inner_text().startswith("Uses ")


def test_the_keyboard_alone_is_enough(card: Any) -> None:
    """Every control that can be seen is reached by Tab, and the focus stays in the dialog until Escape."""
    card.evaluate(
        "(() => { const wanted = 'button, summary, a[href], input[type=checkbox], [role=button], [tabindex]';"
        "for (const one of document.querySelectorAll(wanted))"
        "  if (one.checkVisibility() && one.tabIndex >= 0) one.dataset.unreached = ''; })()"
    )
    assert card.locator("[data-unreached]").count() > 30
    card.keyboard.press("Tab")
    for _ in range(200):
        if card.evaluate("document.activeElement === document.body"):
            break
        card.evaluate("delete document.activeElement.dataset.unreached")
        card.keyboard.press("Tab")
    assert [one.evaluate("it => it.outerHTML") for one in card.locator("[data-unreached]").all()] == []
    number = card.locator("td[data-why] button:visible").first
    number.focus()
    card.keyboard.press("Enter")
    card.locator("dialog#why[open]").wait_for()
    for _ in range(3):
        card.keyboard.press("Tab")
        assert card.evaluate("document.activeElement.closest('main') === null")
    card.keyboard.press("Escape")
    assert card.locator("dialog#why[open]").count() == 0
    assert number.evaluate("it => it === document.activeElement")
    time = card.locator(TIMES).first
    time.focus()
    card.keyboard.press("Enter")
    assert card.locator("#timers .timer").count() == 1


def test_without_script_nothing_is_dead(browser: Any, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / CRACKERS).as_uri())
    dead = page.locator(
        "button:visible, input:visible, select:visible, dialog:visible, [role=button]:visible"
    )
    assert dead.count() == 0
    assert page.locator("#timers").is_hidden()
    steps = " ".join(page.locator(".steps").all_inner_texts())
    assert re.search(r"°F[^.]*°C|°C[^.]*°F", steps)
    page.locator("#derivations summary").click()  # the browser's own, so it works
    assert page.locator("#derivations tbody tr").first.is_visible()
    context.close()
