"""A small house that speaks German, built whole: beside its authors' text no word of any output is English.

The authors' own words are few: what they say is German, but for foods and what is done with them, which the
reader of a recipe knows in English. So every other word must be one of the table's German column, of a
calendar, or a sign of a unit. Sources are quoted as they are, and so are data for programs (`MACHINES`). The
line that names a press file to its printer, outside the trim, is English in every house.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from babel.dates import get_month_names
from lxml import etree, html

from cardsmith.engine.build import Building
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.house.publication import Publication
from cardsmith.reference import table
from tests.demo import copy_templates

HOUSE = {
    "name": "Küstenblatt",
    "tagline": "Kochen am Hafen",
    "credit": "Versuchsküche",
    "language": "de",
    "oven": "[fan, gas]",
    "portion": "{food_cost: 30 %, on_card: yes, on_page: yes}",
    "issue": "{name: Heft 31, date: Sommer 2026}",
    "site": '{address: "https://kuestenblatt.example/", tag: "kuestenblatt.example,2026"}',
}
RECIPES = {
    "salbeitaler": """
title: Salbeitaler
kind: cracker
headnote: Dünn, dunkel, spröde. Der Teig ruht.
yield: {makes: 60 talers, serves: 10, piece: 6.5 g}
time: {active: 35 min, total: 1 h 45 min, prep: 20 min, cook: 25 min}
equipment: [two half-sheet pans]
parts:
  - name: Teig
    ingredients:
      - 400 g whole-grain rye flour
      - 7 g fine salt
      - 70 g sesame seeds, toasted
      - 200 g water
      - 3 large eggs (150 g)
      - 10 g honey
      - fine salt, to taste
      - 2 g turmeric, optional
    steps:
      - Knead rye flour, fine salt, sesame, water, eggs, honey, turmeric.
      - Bake, 160 °C.
storage: Trocken.
claims: [vegetarian]
credit: Versuchsküche
published: {date: 2026-04-17, mark: 552c2a9b}
corrections: [{date: 2026-05-20, what: Salz., mark: 552c2a9b, step: 1}]
""",
    "senfsauce": """
title: Senfsauce
kind: vinaigrette
headnote: Scharf, sauer.
yield: {makes: 200 ml, serves: 4 to 6}
time: {active: 5 min, total: 12 min}
ingredients:
  - 120 g olive oil
  - 40 g cider vinegar
  - 15 g Dijon mustard
  - 2 to 3 g fine salt
  - 1 egg yolk (18 g)
  - 1 clove garlic, minced
  - black pepper, to taste
steps:
  - Whisk olive oil, cider vinegar, mustard, fine salt, egg yolk, garlic, black pepper.
storage: Kalt.
""",
}
WORD = re.compile(r"[^\W\d_]{2,}")
SIGNS = {"kg", "ml", "oz", "lb", "kuestenblatt", "example", "recipes"}  # of units, and the site's address
# Quoted beside a weight, in the words of its publisher.
SOURCE = re.compile(
    r"\((?:USDA|memory)(?:[^()]|\([^()]*\))*\)|;\s\d+\s%\s[^;:]*: USDA\sSR\s28,\sfood\s\d+|https://\S+"
)
DIVIDED = re.compile(r"[-\u2010\u00ad]\n")
DECIMAL = re.compile(r"\d\.\d")
SAID_IN = ("aria-label", "alt", "title", "placeholder")  # attributes
METAS = {"description", "og:title", "og:description", "og:site_name", "og:image:alt", "article:section"}
# Keys of JSON whose values name things to programs.
MACHINES = {
    *("@context", "@type", "file", "kind", "format", "language", "unit", "version", "type"),
    *("prepTime", "cookTime", "totalTime", "src", "sizes", "start_url", "scope", "display", "html", "id"),
    *("suitableForDiet", "purpose", "factor", "picture"),
}


@pytest.fixture(scope="module")
def build(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of what was built: every card, with its paper, and the site."""
    root = tmp_path_factory.mktemp("german")
    copy_templates(root / "templates")
    file = root / "templates" / "house.yaml"
    lines = file.read_text("utf-8").split("\n")
    kept = (line for line in lines if line.partition(":")[0] not in {*HOUSE, "allergens"})
    file.write_text("\n".join((*kept, *(f"{key}: {value}" for key, value in HOUSE.items()))), "utf-8")
    for name, text in RECIPES.items():
        (root / "recipes" / name).mkdir(parents=True)
        (root / "recipes" / name / "recipe.yaml").write_text(text, "utf-8")
    made = Publication(root=root)
    with held(made.build, lambda: None):
        building = Building(made)
        built = list(building.build({name: made.file(name) for name in RECIPES}, lambda _: InProcess(), 1))
        building.finish(built, whole=True)
    assert all(one.files for one in built), [one.findings for one in built]
    return made.build


def _words(text: str) -> set[str]:
    return {word.lower() for word in WORD.findall(text)}


_KEY = re.compile(r"\b\w+:|- ")
KNOWN = (
    SIGNS
    | _words(_KEY.sub(" ", " ".join((*RECIPES.values(), *HOUSE.values()))))
    | _words(" ".join(re.sub(r"\{\w+\}", " ", row["de"]) for row in table("fixed_words")))
    | _words(" ".join(get_month_names(locale="de").values()))
)


def foreign(text: str) -> set[str]:
    """The words that are neither German nor an author's, and numbers with a decimal point."""
    told = SOURCE.sub(" ", DIVIDED.sub("", text))
    return (_words(told) - KNOWN) | set(DECIMAL.findall(told))


def _of_page(data: bytes) -> str:
    root = html.fromstring(data.decode())
    for node in root.xpath("//script|//style"):
        node.drop_tree()
    metas = (node for node in root.iter("meta") if (node.get("name") or node.get("property")) in METAS)
    said = (node.get(name, "") for node in root.iter() for name in SAID_IN)
    return " ".join((*root.itertext(), *said, *(meta.get("content") for meta in metas)))


def _of_json(value: Any, key: str = "") -> Iterator[str]:
    if isinstance(value, Mapping):
        for name, one in value.items():
            yield from _of_json(one, name)
    elif isinstance(value, list):
        for one in value:
            yield from _of_json(one, key)
    elif isinstance(value, str) and key not in MACHINES:
        yield re.sub(r"<[^>]*>", " ", value)


def _of_pdf(file: Path) -> str:
    return subprocess.run(["pdftotext", file, "-"], capture_output=True, text=True, check=True).stdout


def _structured(data: bytes) -> str:
    root = html.fromstring(data.decode())
    found = root.xpath("//script[@type='application/ld+json']")
    return " ".join(told for node in found for told in _of_json(json.loads(node.text)))


def _told(build: Path) -> Iterator[tuple[str, str]]:
    """Every output by its path, and what it tells a reader."""
    for file in sorted(build.rglob("*")):
        path, data = str(file.relative_to(build)), file.read_bytes() if file.is_file() else b""
        if path.startswith(".cache/") or file.name == "icon.svg" or not data:
            continue
        if file.suffix == ".html":
            yield path, _of_page(data)
            yield f"{path} for machines", _structured(data)
        elif file.suffix in {".json", ".jsonld", ".webmanifest"} and not path.startswith("report"):
            yield path, " ".join(_of_json(json.loads(data)))
        elif file.suffix in {".atom", ".svg"}:
            yield path, " ".join(etree.fromstring(data).itertext())
        elif path.endswith("-screen.pdf"):
            yield path, _of_pdf(file)
        elif file.name == "neighbours.js":
            yield path, " ".join(_of_json(json.loads(data.decode().partition("=")[2].rstrip(";\n"))))


def test_no_output_has_an_english_word_of_ours(build: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is missing: apt-get install poppler-utils")
    told = dict(_told(build))
    assert {path: found for path, text in told.items() if (found := foreign(text))} == {}
    assert {Path(path.split(" ")[0]).suffix for path in told} == {
        *(".html", ".json", ".jsonld", ".webmanifest", ".atom", ".svg", ".pdf", ".js")
    }
    for ending in ("-fragment.html", "-screen.pdf", "/index.html", "embed.html"):
        found = [text for path, text in told.items() if path.endswith(ending) and "salbeitaler" in path]
        assert found
        assert all("Zubereitung" in text and "Tassen" in text for text in found)
    assert "4 bis 6" in told["cards/senfsauce/senfsauce-screen.pdf"]
    assert "6,5\u00a0g" in told["cards/salbeitaler/salbeitaler.json"]


def test_a_word_of_ours_in_english_would_be_found() -> None:
    assert foreign("Portionen: 10. Serves 10") == {"serves"}
    assert foreign("1.5 cups rye flour") == {"1.5", "cups"}
    assert foreign("125 g je Tasse (USDA SR 28, food 20081, weight 1)") == set()
