"""A card at the stove: what a reader chose, ticked and timed stays, whatever happens to the page."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from tests.web.test_reading import CRACKERS, amounts

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


def settled(page: Any) -> None:
    """Wait until its type and pictures are in and nothing on it moves any more."""
    page.evaluate("document.fonts.ready.then(() => null)")
    page.wait_for_function("[...document.images].every(one => one.complete || one.loading === 'lazy')")
    heights: list[float] = []
    while len(heights) < 3 or len(set(heights[-3:])) > 1:
        page.wait_for_timeout(40)
        heights.append(page.locator("#s6").bounding_box()["y"])


def test_units_and_batch_stand_in_the_address_and_a_new_visit_starts_at_one(card: Any, site: Path) -> None:
    card.get_by_role("radio", name="US", exact=False).check()
    card.get_by_role("radio", name="2", exact=True).check()
    chosen = amounts(card)
    assert card.evaluate("location.hash") == "#units=us&batch=2"
    card.reload()
    assert amounts(card) == chosen
    assert card.get_by_role("radio", name="2", exact=True).is_checked()
    assert card.locator("td.metric:visible").count() == 0
    card.goto((site / "recipes/buttermilk-soda-bread/index.html").as_uri())
    assert card.locator("td.metric:visible").count() == 0  # a reader's kitchen has one set of cups or scales
    assert card.locator("#batch input[value='1']").is_checked()
    card.goto((site / CRACKERS).as_uri())
    assert card.locator("#batch input[value='1']").is_checked()
    assert not card.locator("#ingredients").inner_text().strip().endswith("batches")


def test_a_batch_is_named_with_its_yield_its_pans_and_its_own_agreement(card: Any) -> None:
    told = [card.locator(f"[data-slot={name}]").inner_text() for name in ("f0", "agreement")]
    card.get_by_role("radio", name="3", exact=True).check()
    assert card.locator("#ingredients").inner_text() == "Ingredients for 3 batches"
    assert card.locator("[data-slot=f0]").inner_text().startswith("180 crackers")
    assert card.locator("[data-slot=f2]").inner_text() == "35\u00a0minutes for one batch"
    assert "Have 6 of the half-sheet pans." in card.locator("#batch-notes").inner_text()
    assert card.locator("[data-slot=agreement]").inner_text() not in {"", told[1]}
    card.emulate_media(media="print")
    assert card.locator("#batch-notes").is_visible()
    card.emulate_media(media="screen")
    card.get_by_role("radio", name="1", exact=True).check()
    assert [card.locator(f"[data-slot={name}]").inner_text() for name in ("f0", "agreement")] == told
    assert card.locator("#batch-notes").is_hidden()


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


def test_timers_run_over_a_reload_and_on_another_page_which_leads_back(card: Any, site: Path) -> None:
    times = card.locator(TIMES)
    card.get_by_role("radio", name="2", exact=True).check()
    times.nth(0).click()
    times.nth(1).click()
    times.nth(1).click()  # the same time twice is one timer
    timers = card.locator("#timers .timer")
    names = timers.locator("b").all_inner_texts()
    assert [name.split(":")[0] for name in names] == ["Seeded rye crackers, step 3"] * 2
    timers.nth(0).get_by_role("button", name="Pause").click()
    before = [seconds_left(timers.nth(place)) for place in (0, 1)]
    card.clock.run_for(1500)
    card.reload()
    card.clock.run_for(1500)
    assert timers.locator("b").all_inner_texts() == names
    assert seconds_left(timers.nth(0)) == before[0]  # still paused
    assert timers.nth(0).get_by_role("button", name="Go on").is_visible()
    assert seconds_left(timers.nth(1)) <= before[1] - 2  # the reload cost it no time
    card.goto((site / "kinds.html").as_uri())
    assert timers.locator("b").all_inner_texts() == names
    timers.nth(1).get_by_role("link").click()
    card.wait_for_url("**/seeded-crackers/index.html#*")
    assert card.get_by_role("radio", name="2", exact=True).is_checked()
    card.wait_for_function("document.activeElement.id === 's3'")


def test_two_equal_times_of_a_step_are_two_timers(card: Any) -> None:
    card.evaluate(
        "(() => { const time = document.querySelector('#s6 .time');"
        "time.after(' and ', time.cloneNode(true)); dispatchEvent(new Event('batchshown')); })()"
    )
    times = card.locator("#s6 .time")
    times.nth(0).click()
    card.clock.run_for(5000)
    times.nth(1).click()
    timers = card.locator("#timers .timer")
    assert [name[-8:] for name in timers.locator("b").all_inner_texts()] == ["(1 of 2)", "(2 of 2)"]
    assert seconds_left(timers.nth(1)) - seconds_left(timers.nth(0)) == pytest.approx(5, abs=1)


SOUND = """
globalThis.played = [];
globalThis.AudioContext = class {
  state = "running"; currentTime = 100; destination = {};
  createGain() { return { gain: {}, connect: () => ({}) }; }
  createOscillator() {
    const tone = { frequency: {}, connect: (to) => to };
    tone.start = (at) => { tone.at = at; played.push(tone); };
    tone.stop = (at) => { if (at === undefined) played.splice(played.indexOf(tone), 1); };
    return tone;
  }
};
"""


def test_the_sound_card_is_told_ahead_and_nothing_rings_that_was_stopped(tab: Any, site: Path) -> None:
    """A browser slows a page in the background, but not what it has been told to play."""
    tab.add_init_script(SOUND)
    tab.clock.install()
    tab.goto((site / CRACKERS).as_uri())
    tab.locator(TIMES).first.click()
    seconds = int(tab.locator(TIMES).first.get_attribute("data-seconds"))
    assert tab.evaluate("Math.min(...played.map(tone => tone.at))") == pytest.approx(100 + seconds, abs=1)
    tab.get_by_role("button", name="Pause").click()
    assert tab.evaluate("played.length") == 0
    tab.get_by_role("button", name="Go on").click()
    assert tab.evaluate("played.length") > 0
    tab.get_by_role("button", name="Stop").click()
    assert tab.evaluate("played.length") == 0


NOTES = """
globalThis.told = [];
globalThis.Notification = class {
  static permission = "granted";
  constructor(title, { body }) { told.push(body); }
};
"""


def test_a_timer_that_is_up_notifies_where_it_may_on_any_page(tab: Any, site: Path) -> None:
    tab.add_init_script(NOTES)
    tab.clock.install()
    tab.goto((site / CRACKERS).as_uri())
    tab.locator(TIMES).first.click()
    tab.goto((site / "recipes/lemon-curd/index.html").as_uri())
    tab.clock.run_for(60_500)
    assert tab.evaluate("told") == ["Seeded rye crackers, step 3: 1\u00a0minute"]
    tab.clock.run_for(5_000)
    assert tab.evaluate("told.length") == 1


def test_a_page_that_may_not_ring_yet_says_so(card: Any, site: Path) -> None:
    card.locator(TIMES).first.click()
    assert "a locked phone may stay silent" in card.locator("#timers .note").inner_text()
    card.goto((site / "index.html").as_uri())
    assert "Press anywhere to let this page ring." in card.locator("#timers .note").inner_text()


def test_a_timer_that_is_up_says_so(card: Any) -> None:
    card.evaluate(f"document.querySelector('{TIMES}').dataset.seconds = '1'")
    card.locator(TIMES).first.click()
    timer = card.locator("#timers .timer.up")
    timer.wait_for(timeout=5000)
    card.clock.run_for(1500)
    assert "time to look" in timer.inner_text()
    assert card.title().startswith("Time to look")
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


def test_a_step_shows_what_it_takes_with_amounts_of_the_batch(card: Any) -> None:
    step = card.locator("#s2")
    uses = step.get_attribute("data-uses").split()
    step.locator("button.number").click()
    assert [row.get_attribute("id") for row in card.locator(".list tr.marked").all()] == uses
    taken = step.locator(".takes li")
    assert taken.count() == len(uses)
    assert re.search(r"all-purpose flour 1⅔ .*cups 200 g", " ".join(taken.first.inner_text().split()))
    assert "40 g) (part)" in " ".join(taken.filter(has_text="sesame").inner_text().split())
    card.get_by_role("radio", name="2", exact=True).check()
    assert re.search(r"all-purpose flour 3¼ .*cups 400 g", " ".join(taken.first.inner_text().split()))
    card.get_by_role("radio", name="Metric").check()
    assert " ".join(taken.first.inner_text().split()) == "all-purpose flour 400 g"


def test_the_list_is_one_press_away_from_any_step_on_a_narrow_screen(card: Any) -> None:
    card.set_viewport_size({"width": 360, "height": 640})
    card.locator(".ingredients.snug").wait_for()
    before = amounts(card)
    for chosen, other in (("US", "metric"), ("Metric", "us")):
        card.get_by_role("radio", name=chosen, exact=True).check()
        assert card.locator(f"td.{other}:visible").count() == 0
    card.get_by_role("radio", name="Both").check()
    card.locator("#s6").evaluate("it => it.scrollIntoView({block: 'center', behavior: 'instant'})")
    settled(card)
    place = card.locator("#s6").bounding_box()["y"]
    card.locator("#show-list").click()
    assert card.locator("#sheet[open] .list").is_visible()
    back = card.locator("#sheet-close")
    assert back.inner_text().startswith("Back to step ")
    back.click()
    assert card.locator("#s6").bounding_box()["y"] == pytest.approx(place, abs=1)
    assert amounts(card) == before
    card.set_viewport_size({"width": 1280, "height": 800})
    card.locator("#s4").evaluate("it => it.scrollIntoView({block: 'center', behavior: 'instant'})")
    settled(card)
    assert card.locator("#ingredients").bounding_box()["y"] >= 0  # it stays beside the steps
    assert card.locator("#show-list").is_hidden()
    card.locator("#s7").evaluate("it => it.scrollIntoView({block: 'center', behavior: 'instant'})")
    card.locator("#show-list").click()  # or is on its way out
    assert card.locator("#sheet[open] .list").is_visible()
    back.click()
    card.locator("#notes").evaluate("it => it.scrollIntoView({block: 'center', behavior: 'instant'})")
    settled(card)
    box = card.locator(".cook > .ingredients").bounding_box()
    assert box["y"] + box["height"] <= card.locator(".notes").bounding_box()["y"]  # and ends where they end


@pytest.mark.parametrize(("width", "box"), [(1280, ".cook > .ingredients"), (360, "#sheet-list")])
def test_a_list_that_is_longer_than_its_box_shows_the_rows_of_the_step(
    tab: Any, site: Path, width: int, box: str
) -> None:
    tab.set_viewport_size({"width": width, "height": 520})
    tab.goto((site / "recipes/apple-blackberry-crumble-pie/index.html").as_uri())
    tab.locator("#s6 button.number").click()
    if width < 1000:
        tab.locator("#show-list").click()
    row = tab.locator(".list tr.marked").first
    list_, line = tab.locator(box).bounding_box(), row.bounding_box()
    assert row.get_attribute("id") == tab.locator("#s6").get_attribute("data-uses").split()[0]
    assert list_["y"] <= line["y"] < line["y"] + line["height"] <= list_["y"] + list_["height"]


def test_on_a_telephone_an_ingredient_and_its_amounts_stand_in_one_row(card: Any) -> None:
    card.set_viewport_size({"width": 360, "height": 640})
    card.locator(".ingredients.snug").wait_for()
    rows = [row.bounding_box()["height"] for row in card.locator(".list tbody tr").all()]
    assert max(rows) < 70
    assert sum(rows) / len(rows) < 58


def test_every_target_is_as_large_as_a_thumb(card: Any) -> None:
    """44 CSS pixels: WCAG 2.2, 2.5.5 Target Size (Enhanced); times and amounts within the text too."""
    card.set_viewport_size({"width": 360, "height": 640})
    card.locator("#s2 button.number").click()
    card.locator(TIMES).first.click()
    low = card.evaluate(
        "[...document.querySelectorAll('button, a[href], summary, label, [role=button]')]"
        ".filter(one => one.checkVisibility())"
        ".map(one => [one.outerHTML.slice(0, 80), ...[...one.getClientRects()].map(box => box.height)])"
        ".filter(([, ...heights]) => Math.min(...heights) < 44)"
    )
    assert low == []


def test_large_text_breaks_no_word_and_needs_no_scrolling_aside(card: Any) -> None:
    """WCAG 2.2, 1.4.4 Resize Text: 200 % at 360 pixels."""
    card.set_viewport_size({"width": 360, "height": 640})
    card.evaluate("document.documentElement.style.fontSize = '200%'")
    card.locator("#s2 button.number").click()
    assert card.evaluate("document.documentElement.scrollWidth") <= 360
    for cell in card.locator(".list tbody tr:first-child td, .takes li:first-child .us").all():
        assert cell.bounding_box()["height"] < 110, cell.inner_text()  # its words in one line


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
