"""Nothing moves while a page comes in: the score of Cumulative Layout Shift (web.dev/cls)."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest

from tests.web.test_valid import served

MOST = 0.02
WATCH = """window.moved = [];
new PerformanceObserver((list) => {
  for (const one of list.getEntries()) {
    const named = one.sources.map(({ node }) => node && (node.id || node.className || node.nodeName));
    if (!one.hadRecentInput) moved.push([one.value, named.join(' ')]);
  }
}).observe({ type: 'layout-shift', buffered: true });"""


@pytest.mark.parametrize("path", ["index.html", "recipes/lemon-curd/", "recipes/seeded-crackers/"])
@pytest.mark.parametrize("width", [412, 1280])
def test_nothing_moves_when_pictures_and_type_come_late(
    browser: Any, site: Path, path: str, width: int
) -> None:
    with served(site) as top:
        context = browser.new_context(viewport={"width": width, "height": 820})
        page = context.new_page()
        page.add_init_script(WATCH)
        for late in ("**/*.woff2", "**/*.svg"):
            page.route(late, lambda route: (time.sleep(0.1), route.continue_()))
        page.goto(top + path)
        page.evaluate("document.fonts.ready")
        page.wait_for_load_state("networkidle")
        moved = page.evaluate("moved")
        context.close()
    assert sum(score for score, _ in moved) <= MOST, moved
