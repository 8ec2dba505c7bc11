"""The demo's recipes, made into the web's files once for all tests of a page."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from xml.etree.ElementTree import Element

from tinyhtml5 import parse

from cardsmith.check.formula.handling import handling_risks
from cardsmith.check.subject import Subject
from cardsmith.flow import prepare
from cardsmith.house.publication import Publication
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.rewrite.batches.batches import Batches, batches
from cardsmith.rewrite.card.model import Card
from cardsmith.site.addresses import address, recipe_path
from cardsmith.site.recipe_page.data import record
from cardsmith.site.recipe_page.files import recipe_pages
from cardsmith.site.recipe_page.structured import recipe_data
from cardsmith.site.recipe_page.view import PageView, page_view

PUBLICATION = Publication(root=Path(__file__).parents[2])
NAMES = PUBLICATION.names()


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """One recipe and what the web gets of it."""

    name: str
    card: Card
    house: House
    sizes: Batches
    view: PageView
    files: dict[str, bytes]

    def file(self, ending: str) -> str:
        return self.files[f"cards/{self.name}/{self.name}{ending}"].decode()

    @property
    def in_site(self) -> str:
        return self.files[f"site/recipes/{self.name}/index.html"].decode()


@cache
def published(name: str, *order: str, pictured: bool = True) -> Published:
    """The recipe as the demo's house has it, or with the systems of ``order`` alone, or without its photo."""
    house, larder = PUBLICATION.house(), load_larder()
    house = replace(house, order=order or house.order)
    file = PUBLICATION.file(name)
    card = prepare(name, file.read_bytes(), "recipe.yaml", larder, house, PUBLICATION.bench(file)).card
    assert card is not None
    if not pictured:
        card = replace(card, recipe=replace(card.recipe, photo=None))
    risks = handling_risks(Subject(recipe=card.recipe, larder=larder, house=house))
    sizes = batches(card.recipe, larder, house, cautions=card.cautions, risks=risks)
    view = page_view(card, house, sizes)
    photo = card.recipe.photo
    photos = {photo.file: (file.parent / photo.file).read_bytes()} if photo else {}
    about = recipe_data(card, house, address=address(house.site, recipe_path(name)))
    data = record(card, house, sizes)
    files = recipe_pages(view, house, PUBLICATION.templates, photo, photos, data, about)
    return Published(name=name, card=card, house=house, sizes=sizes, view=view, files=files)


def tree(html: str) -> Element:
    return parse(html, namespace_html_elements=False)


def seen(node: Element) -> str:
    """What the eye reads: words for the ear alone and what is hidden left out."""
    if node.get("hidden") is not None or node.get("class") == "aloud" or node.tag in {"template", "script"}:
        return ""
    inside = "".join(seen(child) + (child.tail or "") for child in node if isinstance(child.tag, str))
    return (node.text or "") + inside
