"""What a designer and a copy editor would circle, looked for on every card of the demo and in every size."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from fontTools.ttLib import TTFont

from cardsmith.flow import prepare
from cardsmith.house.own.tables import NO_TABLES, OwnTables, Row
from cardsmith.house.paper import card_size
from cardsmith.house.publication import Publication
from cardsmith.house.start import start
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.reference import table
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.ruler import text_font
from cardsmith.render.card.view import CardView, card_view
from cardsmith.render.sizes import LEADING, quarter
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import Typesetter
from cardsmith.site.addresses import address, recipe_path

DEMO = Publication(root=Path(__file__).parents[3])
PIE, DRESSING, CHICKEN = "apple-blackberry-crumble-pie", "mustard-dressing", "cider-braised-chicken-thighs"
SIZES = [row["name"] for row in table("card_sizes")]
OWN_LINES = {"house", "opening", "notes", "foot", "h2"}  # titles and small print: not on the grid
SMALL = {"house", "notes", "foot", "small"}  # may be smaller than the text
SAME = 0.05  # points


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """A run of text: what it stands within, and where its baseline is."""

    page: int
    within: tuple[str, ...]  # classes and tags, outermost first
    text: str
    size: float  # points
    left: float
    right: float
    baseline: float  # points from the top of the page
    holder: Any  # the element


def texts(document: Any) -> Iterator[Text]:
    for number, page in enumerate(document.pages, 1):
        yield from _below(page._page_box, number, ())


def _below(box: Any, page: int, within: tuple[str, ...]) -> Iterator[Text]:
    box = getattr(box, "_box", box)
    if type(box).__name__ == "MarginBox":
        return
    if box.element is not None:
        within = (*within, box.element.tag, *(box.element.get("class") or "").split())
    if isinstance(text := getattr(box, "text", None), str) and text.strip():
        yield Text(
            page=page,
            within=within,
            text=text,
            size=box.style["font_size"] * 0.75,
            left=box.position_x * 0.75,
            right=(box.position_x + box.width) * 0.75,
            baseline=(box.position_y + box.baseline) * 0.75,
            holder=box.element,
        )
    for child in getattr(box, "children", ()):
        yield from _below(child, page, within)


def view_of(name: str, house: House) -> CardView:
    file = DEMO.file(name)
    card = prepare(name, file.read_bytes(), "recipe.yaml", load_larder(), house).card
    assert card is not None
    return card_view(card, house, online=address(house.site, recipe_path(name)))


class Looks:
    """Layouts by house, recipe and size, each made once."""

    def __init__(self, folder: Path) -> None:
        plain = Publication(root=folder / "plain")
        start(plain, "first-card")
        newspaper = Publication(root=folder / "newspaper")
        start(newspaper, "first-card", "newspaper")
        self.houses = {"demo": DEMO, "plain": plain, "newspaper": newspaper}
        self.setters = {
            name: Typesetter(one.templates, folder / f"fonts-{name}") for name, one in self.houses.items()
        }
        self._made: dict[tuple[str, str, str], Layout] = {}

    def of(self, house: str, name: str, size: str, own: OwnTables = NO_TABLES) -> Layout:
        key = (house, name, size)
        if key not in self._made:
            style = self.houses[house].house()
            card = replace(style.card, size=card_size(size, own), cards=3)
            self._made[key] = lay_out_card(view_of(name, style), self.setters[house], card, {})
        return self._made[key]


@pytest.fixture(scope="module")
def looks(tmp_path_factory: pytest.TempPathFactory) -> Looks:
    return Looks(tmp_path_factory.mktemp("looks"))


CARDS = [
    *(("demo", name, "5x7") for name in DEMO.names()),
    *(("demo", PIE, size) for size in ("4x6", "6x4")),
    *(("plain", PIE, size) for size in SIZES),
]


@pytest.mark.parametrize(("house", "name", "size"), CARDS)
def test_every_line_of_text_stands_on_the_grid(house: str, name: str, size: str, looks: Looks) -> None:
    """Where a baseline is in its line comes from the font's own measures (OpenType, hhea)."""
    layout = looks.of(house, name, size)
    face = TTFont(text_font(looks.setters[house].templates))
    em, measures = face["head"].unitsPerEm, face["hhea"]
    above, below = measures.ascent / em, -measures.descent / em
    text, step = float(layout.setting.text), float(quarter(layout.setting.text))
    origin = float(card_size(size).top) + text * (above + (float(LEADING) - above - below) / 2)
    own = [one for one in texts(layout.document) if not OWN_LINES & set(one.within)]
    assert len(own) > 20
    for one in own:
        off = (one.baseline - origin) % step
        assert min(off, step - off) < SAME, one


@pytest.mark.parametrize(("house", "name", "size"), CARDS)
def test_a_hyphen_divides_long_words_of_running_text_alone(
    house: str, name: str, size: str, looks: Looks
) -> None:
    """No measure and no name in the list; and no half of a word is all that stands on the last line."""
    lines = list(texts(looks.of(house, name, size).document))
    for one, following in pairwise(lines):
        if not one.text.endswith("\u2010"):
            continue
        assert {"headnote", "steps", "notes"} & set(one.within)
        assert not {"measure", "end"} & set(one.within)
        half = one.text.split()[-1].rstrip("\u2010")
        other = following.text.split()[0].rstrip(".,;:")
        assert min(len(half), len(other)) >= 4
        assert len(half + other) >= 11
        assert len(following.text.split()) > 1


@pytest.mark.parametrize(("house", "name", "size"), CARDS)
def test_no_type_is_below_the_floors_of_the_house(house: str, name: str, size: str, looks: Looks) -> None:
    style = looks.houses[house].house().card
    assert (style.text[-1], style.notes) == (Fraction(19, 2), Fraction(15, 2))
    for one in texts(looks.of(house, name, size).document):
        floor = style.notes if SMALL & set(one.within) else style.text[-1]
        floor = 9 if "notes" in one.within else floor  # allergens, and how it keeps
        assert one.size >= float(floor) - 0.001, one


@pytest.mark.parametrize("house", ["demo", "plain"])
def test_no_amount_is_broken_within_a_word(house: str, looks: Looks) -> None:
    """8 thighs (1.35 kg) in the narrowest column: each word of a cell stands whole on a line."""
    for name in (PIE, CHICKEN):
        layout = looks.of(house, name, "6x4")
        view = view_of(name, looks.houses[house].house())
        amounts = [amount for part in view.parts for row in part.rows for amount in row.amounts]
        known = {word for one in amounts for word in f"{one.number} {one.unit.striptags()}".split()}
        told = [one for one in texts(layout.document) if "tbody" in one.within and "amount" in one.within]
        assert len(told) > len(amounts)
        assert {word for one in told for word in one.text.split()} <= known


@pytest.mark.parametrize(("house", "name", "size"), [*CARDS, ("demo", CHICKEN, "6x4")])
def test_amounts_hang_from_one_line_and_the_systems_stand_apart(
    house: str, name: str, size: str, looks: Looks
) -> None:
    """Each column has one line on which figures end and units begin; what wraps hangs there too."""
    layout = looks.of(house, name, size)
    middle = float(card_size(size).width) / (2 if card_size(size).columns > 1 else 1)
    lists: dict[tuple[int, bool], dict[str, list[Text]]] = {}
    for one in texts(layout.document):
        if "tbody" in one.within and "amount" in one.within:
            system = "us" if "us" in one.within else "metric"
            lists.setdefault((one.page, one.left > middle), {}).setdefault(system, []).append(one)
    assert lists
    for systems in lists.values():
        for told in systems.values():
            figures = [one for one in told if "number" in one.within]
            axis = max(one.right for one in figures)
            ends = {one.right for one in figures}
            begins = {one.left for one in told if "number" not in one.within and one.text.strip()}
            assert max(ends) - min(ends) < SAME, ends
            assert min(begins) >= axis - SAME, (axis, begins)
        right = max(one.right for one in systems["us"])
        left = min(one.left for one in systems["metric"])
        assert left - right >= 14, (right, left)


@pytest.mark.parametrize("name", ["bay-custard-pots", DRESSING])
def test_no_word_of_a_name_is_divided_where_a_smaller_size_holds_it(name: str, looks: Looks) -> None:
    """Granulated sugar in the narrowest column, beside ⅛ tsp + 1⁄32 tsp."""
    layout = looks.of("demo", name, "6x4")
    told = [one for one in texts(layout.document) if "tbody" in one.within and "item" in one.within]
    words = {
        word.strip(",")
        for part in view_of(name, looks.houses["demo"].house()).parts
        for row in part.rows
        for word in f"{row.item} {row.prep}".split()
    }
    assert {word.strip(",") for one in told for word in one.text.split()} - {""} == words


def test_a_few_lines_too_many_close_the_steps_up_and_need_no_second_card(looks: Looks) -> None:
    layout = looks.of("newspaper", "overnight-loaf", "5x7")
    assert (layout.pages, layout.setting.air) == (2, -1)
    lines = [one for one in texts(layout.document) if one.page == 2 and "li" in one.within]
    places = sorted({round(one.baseline, 2) for one in lines if "marker" not in str(one.holder.tag)})
    usual = float(LEADING * layout.setting.text)
    assert len([gap for gap in pairwise(places) if gap[1] - gap[0] > usual + SAME]) == 1  # a part's name
    assert not looks.of("demo", "overnight-loaf", "5x7").setting.air


@pytest.mark.parametrize("name", DEMO.names())
def test_no_side_is_more_than_a_third_empty(name: str, looks: Looks) -> None:
    """Without its picture, on the last side of a second card as well."""
    layout, size = looks.of("demo", name, "5x7"), card_size("5x7")
    top, foot = float(size.top), float(size.height - size.foot)
    for page in range(1, layout.pages + 1):
        lines = sorted(one.baseline for one in texts(layout.document) if one.page == page)
        gaps = [low - high for high, low in pairwise([top, *lines, foot])]
        assert max(gaps) <= (foot - top) / 3, (page, gaps)


def test_a_collection_has_two_sizes_of_body_type(looks: Looks) -> None:
    """And one size each of small print and of what warns, whatever the body's."""
    found: dict[str, set[float]] = {"steps": set(), "notes": set(), "foot": set()}
    for name in DEMO.names():
        for one in texts(looks.of("demo", name, "5x7").document):
            for kind in found.keys() & set(one.within):
                found[kind].add(round(one.size, 3))
    assert found == {"steps": {9.5, 10.5}, "notes": {9}, "foot": {7.6}}


def lines_of(layout: Layout, tag: str) -> Iterator[list[str]]:
    """The lines of each element of a tag or class."""
    blocks: dict[int, dict[tuple[int, float], str]] = {}
    for one in texts(layout.document):
        if tag in one.within and "marker" not in str(one.holder.tag):
            place = next(
                number for number, holder in enumerate(_holders(layout, tag)) if one.holder in holder.iter()
            )
            lines = blocks.setdefault(place, {})
            key = (one.page, round(one.baseline, 1))
            lines[key] = lines.get(key, "") + one.text
    for lines in blocks.values():
        yield [line.strip() for line in lines.values()]


def _holders(layout: Layout, tag: str) -> list[Any]:
    found: list[Any] = []
    for page in layout.document.pages:
        for box in page._page_box.descendants():
            element = box.element
            if (
                element is not None
                and tag in (element.tag, element.get("class"))
                and not any(element is one for one in found)
            ):
                found.append(element)
    return found


@pytest.mark.parametrize("name", DEMO.names())
def test_no_paragraph_ends_in_a_lone_word(name: str, looks: Looks) -> None:
    layout = looks.of("demo", name, "5x7")
    for tag in ("headnote", "li"):
        for lines in lines_of(layout, tag):
            last = re.sub(r"^\d+\. ", "", lines[-1])
            assert len(last.split()) > 1 or len(lines) == 1, lines
            assert not any(re.search(r"[\d½⅓⅔¼¾⅛⅜⅝⅞]-$", line) for line in lines), lines


def heads(layout: Layout) -> list[str]:
    """What stands at the head of each page."""
    return [
        "".join(
            getattr(box, "text", "") for one in _margins(page._page_box) for box in one.descendants()
        ).partition("Ruler")[0]
        for page in layout.document.pages
    ]


def _margins(box: Any) -> Iterator[Any]:
    for child in box.children:
        if type(child).__name__ == "MarginBox" and child.at_keyword == "@top-left":
            yield child


@pytest.mark.parametrize("house", ["demo", "plain"])
def test_the_head_of_a_page_says_which_part_goes_on(house: str, looks: Looks) -> None:
    layout = looks.of(house, PIE, "5x7")
    whole = "Apple and blackberry crumble pie"  # a part of the list ends where its page does
    last = {"demo": "Apple and blackberry crumble… · Oat crumble, continued", "plain": whole}[house]
    assert heads(layout)[1:] == [whole, whole, last]
    assert heads(looks.of(house, "raspberry-sorbet", "5x7"))[1:] == ["Raspberry sorbet"]


@pytest.mark.parametrize(
    ("house", "size"), [("demo", "a5-landscape"), ("demo", "6x4"), ("plain", "a5-landscape")]
)
def test_two_columns_are_even(house: str, size: str, looks: Looks) -> None:
    """A short recipe fills neither side's left column while its right one is empty."""
    layout = looks.of(house, DRESSING, size)
    middle = float(card_size(size).width) / 2
    for page in range(1, layout.pages + 1):
        feet = [
            max((one.baseline for one in texts(layout.document) if one.page == page and side(one)), default=0)
            for side in (lambda one: one.left < middle, lambda one: one.left > middle)
        ]
        assert 0.25 < feet[1] / feet[0] < 1.6, (page, feet)


@pytest.mark.parametrize("size", ["4x6", "5x7"])
def test_facts_that_no_line_has_room_for_in_cells_have_a_line_each(size: str, looks: Looks) -> None:
    """Six facts in the plain look, which ran off the card."""
    soup = "carrot-lentil-soup"
    layout = looks.of("plain", soup, size)
    lines = {
        round(one.baseline, 1) for one in texts(layout.document) if one.page == 1 and "facts" in one.within
    }
    assert layout.fits
    assert len(lines) == len(view_of(soup, looks.houses["plain"].house()).facts) == 6


def test_a_card_tells_and_links_its_address(looks: Looks) -> None:
    layout = looks.of("demo", DRESSING, "5x7")
    told = "".join(one.text for one in texts(layout.document) if "foot" in one.within)
    assert told.endswith("Online: pellwick.example/recipes/mustard-dressing")
    with pikepdf.open(io.BytesIO(screened(looks.setters["demo"].write(layout.document)))) as pdf:
        found = {str(note.A.URI) for page in pdf.pages for note in page.get("/Annots", [])}
    assert found == {"https://pellwick.example/recipes/mustard-dressing/"}


def test_a_house_without_a_site_tells_no_address(looks: Looks) -> None:
    layout = looks.of("plain", DRESSING, "5x7")
    assert "Online" not in "".join(one.text for one in texts(layout.document))
    with pikepdf.open(io.BytesIO(screened(looks.setters["plain"].write(layout.document)))) as pdf:
        assert not any("/Annots" in page for page in pdf.pages)


@pytest.mark.parametrize("columns", ["1", "2"])
def test_a_size_is_a_row(columns: str, looks: Looks) -> None:
    """No code and no style sheet knows the sizes by name: a new row prints a card of that size."""
    row = {"name": f"square-{columns}", "shown": "15 cm square", "width": "150 mm", "height": "150 mm"}
    row |= {"columns": columns, "top": "9 mm", "side": "9 mm", "foot": "14 mm", "source": "made up"}
    layout = looks.of("demo", DRESSING, row["name"], OwnTables(rows={"card_sizes": (Row(cells=row),)}))
    assert layout.fits
    assert {
        (round(page.width * 0.75, 2), round(page.height * 0.75, 2)) for page in layout.document.pages
    } == {(425.2, 425.2)}
