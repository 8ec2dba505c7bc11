"""A fragment among style sheets that are not its own, and a recipe in a frame."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from cardsmith.house.publication import Publication
from tests.web.test_valid import served

SHEETS = re.findall(r"/\* \d+ (.*?) \*/ (.*)", Path(__file__).with_name("hostile.css").read_text("utf-8"))
NAMES = ("lemon-curd", "seeded-crackers", "apple-blackberry-crumble-pie")
# What decides where and whether words stand; type and colours are the page's affair.
LOOK = """[...document.querySelectorAll('.recipe-card, .recipe-card *')].map((node) => {
  const of = (pseudo) => {
    const style = getComputedStyle(node, pseudo);
    return ['display', 'position', 'float', 'clear', 'visibility', 'opacity', 'overflow', 'columnCount',
      'transform', 'listStyleType', 'listStylePosition', 'textAlign', 'textTransform', 'textIndent',
      'whiteSpace', 'letterSpacing', 'backgroundColor', 'content', 'borderLeftStyle', 'borderTopStyle',
      'borderBottomStyle', 'flexGrow', 'minWidth'].map((name) => style[name]).join(' ');
  };
  const here = getComputedStyle(node), around = getComputedStyle(node.parentElement);
  const em = (name) => (parseFloat(here[name]) / parseFloat(here.fontSize)).toFixed(2);
  const size = (parseFloat(here.fontSize) / parseFloat(around.fontSize)).toFixed(2);
  return [node.tagName, of(null), of('::before'), of('::after'),
    em('marginTop'), em('marginLeft'), em('paddingTop'), em('paddingLeft'), em('lineHeight'),
    node.className === 'recipe-card' ? '' : size].join(' | ');
})"""
SHOW = """([fragment, css]) => {
  document.documentElement.innerHTML = '<head><style></style></head><body><div id="page"></div></body>';
  document.querySelector('#page').innerHTML = '<div class="content"></div>';
  document.querySelector('.content').innerHTML = fragment;
  document.querySelector('style').textContent = css;
}"""


@pytest.mark.parametrize("name", NAMES)
def test_a_fragment_is_set_alike_under_every_style_sheet(
    tab: Any, publication: Publication, name: str
) -> None:
    fragment = (publication.build / f"cards/{name}/{name}-fragment.html").read_text("utf-8")
    fragment = re.sub(r"<img [^>]*>", "", fragment)  # it stands on the web
    assert len(SHEETS) == 20
    tab.evaluate(SHOW, [fragment, ""])
    look, said = tab.evaluate(LOOK), tab.evaluate("document.querySelector('.recipe-card').innerText")
    assert not tab.locator(".recipe-card :is([hidden], [aria-hidden])").count()
    for told, css in SHEETS:
        tab.evaluate(SHOW, [fragment, css])
        assert tab.evaluate(LOOK) == look, told
        assert tab.evaluate("document.querySelector('.recipe-card').innerText") == said, told
        assert tab.evaluate("document.querySelector('.recipe-card').scrollWidth <= innerWidth"), told


def test_a_frame_is_as_high_as_its_recipe(browser: Any, site: Path) -> None:
    answer = json.loads((site / "recipes/seeded-crackers/oembed.json").read_text("utf-8"))
    assert (answer["version"], answer["type"]) == ("1.0", "rich")
    with served(site) as top:
        html = answer["html"].replace(answer["provider_url"], top)
        context = browser.new_context(viewport={"width": 500, "height": 700})
        page = context.new_page()
        page.goto(f"{top}robots.txt")
        page.set_content(f"<!DOCTYPE html><title>A page of others</title>{html}")
        frame = page.frames[-1] if len(page.frames) > 1 else page.wait_for_event("frameattached")
        page.wait_for_function(f"document.querySelector('iframe').height !== '{answer['height']}'")
        asked = "[document.documentElement.scrollHeight, document.documentElement.clientHeight]"
        page.wait_for_function("document.querySelector('iframe').clientHeight > 900")
        full, shown = frame.evaluate(asked)
        context.close()
    assert full == shown
