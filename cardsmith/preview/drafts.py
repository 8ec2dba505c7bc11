"""What only the preview shows: pages of recipes with errors, and where their findings stand.

Only a preview has such a page: a card with an error is never in ``build/``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from cardsmith.finding import CardsmithError
from cardsmith.flow import prepare
from cardsmith.house.publication import Publication
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Photo, Recipe
from cardsmith.render.pictures.prepare import PictureRefused
from cardsmith.site import addresses
from cardsmith.site.recipe_page.page import Links, render_page
from cardsmith.site.recipe_page.photo import alone, tile_alone
from cardsmith.site.recipe_page.view import PagePhoto, page_view

Record = Mapping[str, Any]  # a finding, as `cardsmith build --json` gives it


def shown_besides(root: Path, findings: Iterable[Record]) -> dict[str, Any]:
    """What a preview shows beside the site, as JSON values.

    ``editor`` is the house's address that opens a file, ``drafts`` a page of each recipe with an error, by
    its name, ``findings`` the records given, each with its ``source`` (its line) and ``place`` (its element).
    """
    publication = Publication(root=root)
    listed = list(findings)
    try:
        house = publication.house()
    except CardsmithError:
        return {"editor": "", "drafts": {}, "findings": listed}
    files = {publication.shown(publication.file(name)): name for name in publication.names()}
    faulty = {
        files[finding["file"]]
        for finding in listed
        if finding["severity"] == "error" and finding["file"] in files
    }
    drafts = {name: page for name in sorted(faulty) if (page := _draft(publication, name))}
    within = {finding["file"] for finding in listed}
    placed = [
        placed_finding
        for file in sorted(within)
        for placed_finding in _placed(publication, files, file, listed)
    ]
    return {"editor": house.editor, "drafts": drafts, "findings": placed}


def _placed(
    publication: Publication, files: Mapping[str, str], file: str, findings: Iterable[Record]
) -> Iterator[dict[str, Any]]:
    text = publication.text(publication.root / file)
    lines = text.splitlines()
    recipe = None
    if name := files.get(file):
        recipe, _ = read_recipe(name, text.encode(), file, load_larder())
    places = dict(_places(recipe)) if recipe else {}
    for finding in findings:
        if finding["file"] == file:
            source = lines[finding["line"] - 1] if 0 < finding["line"] <= len(lines) else ""
            place = next((place for field, place in places.items() if _lies_in(finding["field"], field)), "")
            yield {**finding, "source": source, "place": place}


def _places(recipe: Recipe) -> Iterator[tuple[str, str]]:
    """The element of the page that each field of the recipe's file stands in."""
    for number, line in enumerate(recipe.ingredients):
        yield line.where.field, f"r{number}"
    for number, step in enumerate(recipe.steps, start=1):
        yield step.where.field, f"s{number}"


def _lies_in(field: str, within: str) -> bool:
    return bool(within) and (field == within or field.startswith((f"{within}.", f"{within}[")))


def _draft(publication: Publication, name: str) -> str:
    """The page of a recipe as it stands, errors and all; empty where it can't be read so far."""
    file = publication.file(name)
    house = publication.house()
    larder = load_larder(house.reference)
    prepared = prepare(name, publication.read(file), publication.shown(file), larder, house)
    if prepared.card is None or not (prepared.card.recipe.ingredients and prepared.card.recipe.steps):
        return ""  # what was there before says more
    view = page_view(prepared.card, house)
    path = addresses.recipe_path(name)
    top = addresses.link(path, ".") + "/"
    links = Links(top=top, home=top)
    photo = prepared.card.recipe.photo
    picture = _picture(publication, file, photo) if photo else None
    if view.tile:
        picture = tile_alone(view, publication.templates)
    return render_page(view, publication.templates, photo=picture, links=links)


def _picture(publication: Publication, file: Path, photo: Photo) -> PagePhoto | None:
    try:
        return alone(photo, publication.read(file.with_name(photo.file)))
    except (CardsmithError, PictureRefused):
        return None
