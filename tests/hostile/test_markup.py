"""Markup and template code in every text field of a recipe file stay text in all that is published."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from lxml import etree
from lxml.html import HtmlElement, document_fromstring, fragment_fromstring

from cardsmith.commands.main import main
from cardsmith.engine.products import job
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
PAYLOAD = "<script>x</script>{{x*x}}<b onclick=y>"
# Every field whose words are the author's own; amounts, times, marks and names of files have a form to keep.
FIELDS = (
    "title", "headnote", "item", "prep", "part", "step", "storage", "equipment", "alt", "photo credit",
    "credit", "cross test", "correction", "cuisine", "course",
)  # fmt: skip
RECIPE = """\
title: "Thins [title]"
kind: cracker
course: "snack [course]"
cuisine: "coastal [cuisine]"
headnote: "Thin, dark and brittle. [headnote]"
yield: {makes: 30 crackers}
time: {active: 20 min, total: 1 h}
equipment: ["rolling pin [equipment]"]
parts:
  - name: "Dough [part]"
    ingredients:
      - 200 g whole-grain rye flour
      - "40 g sesame seeds, toasted [prep]"
      - {item: "edible flowers [item]"}
      - 4 g fine salt
      - 110 g water
      - 30 g olive oil
    steps:
      - Heat the oven to 160 °C with a rack in the middle.
      - "Mix the flour, seeds, flowers, salt, water and oil to a firm dough, and roll it to 2 mm. [step]"
      - Bake for 25 to 30 minutes, until dry and crisp.
storage: "Keeps two weeks in an airtight tin. [storage]"
photo: {file: thins.svg, alt: "A pile of thins [alt]", credit: "House [photo credit]"}
tested: {trial: 1, cross_test: "2026-04-02 [cross test]", cooked_from: [metric]}
credit: "Kitchen [credit]"
published: {date: 2026-04-17}
corrections:
  - {date: 2026-06-20, what: "More salt. [correction]"}
"""


def _built(root: Path, text: str, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = root / "recipes" / "thins"
    folder.mkdir(parents=True)
    (folder / "recipe.yaml").write_text(text, encoding="utf-8")
    (folder / "thins.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3" width="4" height="3"/>', encoding="utf-8"
    )
    copy_templates(root / "templates")
    monkeypatch.chdir(root)
    monkeypatch.setattr(job, "PRODUCTS", tuple(one for one in job.PRODUCTS if one.name != "paper"))
    main(["build", "--serial"])
    return root / "build"


def _with(word: str) -> str:
    text = RECIPE
    for field in FIELDS:
        assert f"[{field}]" in text
        text = text.replace(f"[{field}]", word)
    return text


@pytest.fixture(scope="module")
def builds(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The same recipe published twice: with markup in every field, and with a plain word there."""
    with pytest.MonkeyPatch.context() as patch:
        root = tmp_path_factory.mktemp("markup")
        return _built(root / "hostile", _with(PAYLOAD), patch), _built(root / "plain", _with("word"), patch)


def _shape(root: HtmlElement) -> list[tuple[str, tuple[str, ...]]]:
    return [(one.tag, tuple(sorted(one.attrib))) for one in root.iter(etree.Element)]


def _strings(value: object) -> list[str]:
    if isinstance(value, dict):
        return [text for one in value.values() for text in _strings(one)]
    if isinstance(value, list):
        return [text for one in value for text in _strings(one)]
    return [value] if isinstance(value, str) else []


def test_every_page_has_the_elements_it_has_for_plain_words(builds: tuple[Path, Path]) -> None:
    hostile, plain = builds
    pages = sorted(file.relative_to(hostile) for file in hostile.rglob("*.html"))
    assert Path("cards/thins/thins.html") in pages
    assert Path("site/recipes/thins/index.html") in pages
    for page in pages:
        text = (hostile / page).read_text(encoding="utf-8")
        whole = "<html" in text
        parse = document_fromstring if whole else lambda one: fragment_fromstring(one, create_parent=True)
        tree = parse(text)
        assert _shape(tree) == _shape(parse((plain / page).read_text(encoding="utf-8"))), page
        assert "onclick" not in {name for one in tree.iter(etree.Element) for name in one.attrib}
        assert "x" not in {(one.text or "").strip() for one in tree.iter("script")}


def test_page_and_fragment_hold_the_words_as_they_were_written(builds: tuple[Path, Path]) -> None:
    hostile, _ = builds
    for name in ("thins.html", "thins-fragment.html"):
        text = (hostile / "cards/thins" / name).read_text(encoding="utf-8")
        tree = document_fromstring(text)
        words = " ".join(tree.text_content().split())
        for before in (
            "Thins",
            "brittle.",
            "edible flowers",
            "toasted",
            "Dough",
            "tin.",
            "More salt.",
        ):
            assert f"{before} {PAYLOAD}" in words, (name, before)
        assert re.search(rf"2 mm\. {re.escape(PAYLOAD)}", words)
        attributes = {text for one in tree.iter(etree.Element) for text in one.attrib.values()}
        assert f"A pile of thins {PAYLOAD}" in attributes


def test_structured_data_and_the_card_s_record_hold_it_as_text(builds: tuple[Path, Path]) -> None:
    hostile, _ = builds
    tree = document_fromstring((hostile / "cards/thins/thins.html").read_text(encoding="utf-8"))
    (data,) = tree.xpath("//script[@type='application/ld+json']")
    assert not re.search(r"</?script", data.text, re.IGNORECASE)
    told = json.loads(data.text)
    assert sum(PAYLOAD in text for text in _strings(told)) >= 6
    assert f"Thins {PAYLOAD}" in _strings(told)
    record = json.loads((hostile / "cards/thins/thins.json").read_text(encoding="utf-8"))
    assert f"Thins {PAYLOAD}" in _strings(record)


def test_the_feed_holds_it_as_text(builds: tuple[Path, Path]) -> None:
    hostile, plain = builds
    feeds = [etree.fromstring((one / "site/feed.atom").read_bytes()) for one in (hostile, plain)]
    shapes = [[(one.tag, tuple(sorted(one.attrib))) for one in feed.iter(etree.Element)] for feed in feeds]
    assert shapes[0] == shapes[1]
    assert f"Thins {PAYLOAD}" in {(one.text or "") for one in feeds[0].iter("{*}title")}
    for one in feeds[0].iter("{*}content", "{*}summary"):
        if one.get("type") == "html":
            inner = fragment_fromstring(one.text or "", create_parent=True)
            assert not list(inner.iter("script", "b"))
    assert PAYLOAD in etree.tostring(feeds[0], method="text", encoding="unicode")
