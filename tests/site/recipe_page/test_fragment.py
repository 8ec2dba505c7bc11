from __future__ import annotations

import re

import pytest
from tinyhtml5 import parse

from cardsmith.site.policy import digest
from cardsmith.site.recipe_page.fragment import PREFIX
from tests.site.published import NAMES, published


@pytest.mark.parametrize("name", NAMES)
def test_it_touches_nothing_around_it(name: str) -> None:
    html = published(name).file("-fragment.html")
    assert not re.search(r"<(?:html|head|body|script|link|meta)\b", html)
    page = parse(html, namespace_html_elements=False)
    for node in page.iter():
        if isinstance(node.tag, str):
            assert not [key for key in node.attrib if key == "style" or key.startswith("on")]
            for word in [*(node.get("class") or "").split(), *filter(None, [node.get("id")])]:
                assert word == PREFIX or word.startswith(f"{PREFIX}-")
    assert not [node for node in page.iter() if "hidden" in node.attrib or "aria-hidden" in node.attrib]
    css = next(page.iter("style")).text
    for selectors in re.findall(r"(?:^|[{}])([^{}@]+)\{", css):
        assert all(one.strip().startswith(f".{PREFIX}") for one in selectors.split(",")), selectors
    assert digest(css) in html


@pytest.mark.parametrize("name", NAMES)
def test_every_step_and_line_is_there(name: str) -> None:
    made = published(name)
    page = parse(made.file("-fragment.html"), namespace_html_elements=False)
    text = " ".join("".join(page.itertext()).split())
    steps = [node for node in page.iter("li") if node.get("value")]
    assert [int(node.get("value")) for node in steps] == list(made.view.card.numbers)
    for part in made.card.parts:
        assert all(line.item in text for line in part.ingredients)
