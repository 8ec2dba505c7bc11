"""Markup and template code in the house, trials, prices and a label stay text on every page and paper."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest
from lxml import etree
from lxml.html import document_fromstring

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
NAME = "seeded-crackers"
# HTML, an event, Jinja's expressions and statements.
PAYLOAD = "<script>x</script>{{7*7}}{%x%}<b onclick=y>"
WHOLE = "".join(PAYLOAD.split())
# What is written, and what is put in its place; ~ stands for the payload. Every field whose words are free.
SPOILT: dict[str, dict[str, str]] = {
    "templates/house.yaml": {
        "name: Pellwick Quarterly": 'name: "Pellwick Quarterly ~"',
        "tagline: Plain cooking from a small harbor": 'tagline: "Plain cooking ~"',
        "credit: Pellwick Test Kitchen": 'credit: "Pellwick Test Kitchen ~"',
        "Editor, Art]": 'Editor, "Art ~"]',
    },
    f"recipes/{NAME}/trials.yaml": {
        "cook: H. Tarn": 'cook: "H. Tarn ~"',
        "kitchen: Pellwick test kitchen": 'kitchen: "Pellwick test kitchen ~"',
        "expect: A plain seeded dough, to see how thin it rolls.": 'expect: "How thin it rolls. ~"',
        "name: oven A": 'name: "oven A ~"',
        "10:12 out, brown at the edges and pale in the middle": "10:12 out, brown at the edges ~",
        "colour: brown edges and a pale middle": 'colour: "brown edges ~"',
        "texture: leathery inside": 'texture: "leathery inside ~"',
        "JO: chewy by the third bite": 'JO: "chewy ~"',
        "words: Too wet and too thick to dry through before the edges burn.": 'words: "Too wet. ~"',
        "next: Less water; the dough stuck.": 'next: "Less water. ~"',
        "why: The dough of trial 1 stuck to the parchment.": 'why: "It stuck. ~"',
        "changing the pans over halfway.": "changing the pans over halfway. ~",
        "one has crunch on it": "one has crunch ~",
        "question: Can people tell the crackers with flaky salt (trial 4) from those without (trial 5)?": (
            'question: "Can people tell them apart? ~"'
        ),
    },
    f"recipes/{NAME}/teardown.yaml": {"product: Anchor-tin seed crisps": 'product: "Anchor-tin crisps ~"'},
    f"recipes/{NAME}/recipe.yaml": {
        "title: Seeded rye crackers": 'title: "Seeded rye crackers ~"',
    },
    "recipes/prices.csv": {",dry goods,": ",dry goods ~,"},
}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A publication with markup in every field, and all that the commands write of it, below build/."""
    root = tmp_path_factory.mktemp("markup beside")
    copy_templates(root / "templates")
    shutil.copytree(ROOT / "recipes" / NAME, root / "recipes" / NAME)
    shutil.copy(ROOT / "recipes/prices.csv", root / "recipes")
    for name, fields in SPOILT.items():
        text = (root / name).read_text(encoding="utf-8")
        for written, instead in fields.items():
            assert written in text, written
            text = text.replace(written, instead.replace("~", PAYLOAD))
        (root / name).write_text(text, encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(root)
        for command in (
            "build --serial",
            f"bench report {NAME}",
            f"bench history {NAME}",
            f"bench history {NAME} --page",
            f"bench pack {NAME} --for R.Ayre --column us",
            f"bench levers {NAME}",
            f"bench teardown {NAME}",
            f"bench taste {NAME} --ballots",
            f"portion {NAME} --page",
            f"proof {NAME} --issue --date 2026-09-01",
        ):
            assert main(command.split()) == FINE, command
    return root / "build"


def _told(build: Path, name: str) -> str:
    """The words of a page or a paper, without their blanks."""
    file = build / name
    if name.endswith(".pdf"):
        read = subprocess.run(["pdftotext", "-raw", str(file), "-"], capture_output=True, check=True)
        return "".join(read.stdout.decode().split())
    tree = document_fromstring(file.read_text(encoding="utf-8"))
    for one in tree.xpath("//script|//style"):
        one.drop_tree()
    return "".join(tree.text_content().split())


def test_no_page_has_an_element_or_a_value_of_theirs(made: Path) -> None:
    pages = sorted(made.rglob("*.html"))
    assert len(pages) > 8
    for page in pages:
        text = page.read_text(encoding="utf-8")
        tree = document_fromstring(text)
        assert "onclick" not in {name for one in tree.iter(etree.Element) for name in one.attrib}, page
        assert "x" not in {(one.text or "").strip() for one in tree.iter("script")}, page
        assert "}}49" not in text, page


PAPERS: dict[str, tuple[str, ...]] = {  # with the words before it, as they are set
    f"cards/{NAME}/{NAME}-screen.pdf": ("Seededryecrackers",),
    f"cards/{NAME}/{NAME}-proof.pdf": ("Seededryecrackers", "H.Tarn", "Art"),
    f"cards/{NAME}/{NAME}.html": ("Seededryecrackers",),
    f"bench/{NAME}/report.pdf": ("H.Tarn", "Howthinitrolls."),
    f"bench/{NAME}/report.html": ("H.Tarn", "kitchen"),
    f"bench/{NAME}/history.html": ("Seededryecrackers",),
    f"bench/{NAME}/pack-r-ayre-us/form.pdf": ("Seededryecrackers",),
    f"bench/{NAME}/pack-r-ayre-us/card.pdf": ("Seededryecrackers",),
    f"bench/{NAME}/serving-order-salt-on-top.pdf": ("Canpeopletellthemapart?",),
    f"portion/{NAME}/{NAME}-portion.html": ("Seededryecrackers", "drygoods"),
    f"portion/{NAME}/{NAME}-portion.pdf": ("Seededryecrackers", "drygoods"),
    "site/index.html": ("PellwickQuarterly",),
}


@pytest.mark.parametrize("name", PAPERS)
def test_it_stands_there_as_it_was_written(name: str, made: Path) -> None:
    told = _told(made, name)
    for before in PAPERS[name]:
        assert f"{before}{WHOLE}" in told, before


def test_feed_manifest_and_data_hold_it_as_text(made: Path) -> None:
    feed = etree.fromstring((made / "site/feed.atom").read_bytes())
    assert f"Pellwick Quarterly {PAYLOAD}" in [one.text for one in feed.iter("{*}title", "{*}name")]
    manifest = json.loads((made / "site/site.webmanifest").read_text(encoding="utf-8"))
    assert manifest["name"] == f"Pellwick Quarterly {PAYLOAD}"
    tree = document_fromstring((made / f"cards/{NAME}/{NAME}.html").read_text(encoding="utf-8"))
    (data,) = tree.xpath("//script[@type='application/ld+json']")
    assert "</script" not in data.text
    assert f"Seeded rye crackers {PAYLOAD}" in json.dumps(json.loads(data.text), ensure_ascii=False)
