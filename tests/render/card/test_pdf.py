from __future__ import annotations

import io
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Name

from cardsmith.house.style import House, load_house
from cardsmith.language.spans import Words
from cardsmith.render.card.pdf import lay_out_card, print_html, ruled_in
from cardsmith.render.card.setting import Setting
from cardsmith.render.card.view import CardView, card_view
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import LayoutError, Typesetter
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.wording import short

ROOT = Path(__file__).parents[3]
Cards = dict[str, Callable[[], Card]]


def render_pdf(view: CardView, typesetter: Typesetter, photos: dict[str, bytes]) -> bytes:
    """The card in the house's own size."""
    style = load_house(ROOT).card
    return screened(typesetter.write(lay_out_card(view, typesetter, style, photos).document))


@pytest.fixture(scope="module")
def pdf(any_card: Card, house: House, typesetter: Typesetter, pictures: dict[str, bytes]) -> bytes:
    return render_pdf(card_view(any_card, house), typesetter, pictures)


def letters(text: str) -> str:
    return re.sub(r"\s+", "", text)


def extracted(pdf: bytes) -> str:
    """The text another program reads in the file (poppler's pdftotext)."""
    command = ["pdftotext", "-raw", "-enc", "UTF-8", "-", "-"]
    return subprocess.run(command, input=pdf, capture_output=True, check=True).stdout.decode()


def test_pages_are_five_by_seven_inches(pdf: bytes) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert len(opened.pages) >= 1
        for page in opened.pages:
            assert [float(edge) for edge in page.mediabox] == [0, 0, 360, 504]


def test_every_text_can_be_read_back(any_card: Card, pdf: bytes) -> None:
    text = letters(extracted(pdf))
    for part in any_card.parts:
        assert letters(part.name) in text
        for line in part.ingredients:
            assert letters(line.item) in text
            if line.amount is not None:
                assert all(letters(short(one)) in text for one in (line.amount.us, line.amount.metric))
        for step in part.steps:
            assert f"{step.number}." in text
            # A page may end inside a step, and its foot then stands between the words.
            assert all(letters(span.text)[:40] in text for span in step.spans)
    for caution in any_card.cautions:
        assert letters(caution) in text


def test_only_the_house_fonts_are_embedded(pdf: bytes) -> None:
    names = set()
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        for item in opened.objects:
            if isinstance(item, pikepdf.Dictionary) and item.get(Name.Type) == Name.FontDescriptor:
                assert Name.FontFile2 in item or Name.FontFile3 in item
                names.add(str(item.FontName).partition("+")[2])
    assert names
    assert all(name.startswith(("Fira-Sans", "Spectral")) for name in names)


def test_tags(any_card: Card, pdf: bytes) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert str(opened.Root.Lang) == "en-US"
        assert bool(opened.Root.MarkInfo.Marked)
        assert bool(opened.Root.ViewerPreferences.DisplayDocTitle)
        with opened.open_metadata() as metadata:
            assert metadata["dc:title"] == any_card.recipe.title
            assert metadata["pdfuaid:part"] == "1"
        tags = [item for item in opened.objects if isinstance(item, pikepdf.Dictionary) and Name.S in item]
        assert sum(tag.S == Name.H1 for tag in tags) == 1
        for heading in (tag for tag in tags if tag.S == Name.TH):
            given = heading.A if isinstance(heading.A, pikepdf.Array) else [heading.A]
            assert any(attribute.get(Name.Scope) in (Name.Column, Name.Row) for attribute in given)


def test_same_bytes_every_time(
    any_card: Card, pdf: bytes, house: House, templates: Path, tmp_path: Path, pictures: dict[str, bytes]
) -> None:
    assert render_pdf(card_view(any_card, house), Typesetter(templates, tmp_path), pictures) == pdf


def test_a_short_card_takes_one_side_and_a_longer_one_two_in_the_larger_type(
    cards: Cards, house: House, typesetter: Typesetter
) -> None:
    with pikepdf.open(io.BytesIO(render_pdf(card_view(cards["short"](), house), typesetter, {}))) as opened:
        assert len(opened.pages) == 1
    assert extracted_size(render_pdf(card_view(cards["crackers"](), house), typesetter, {})) == 10.5


def extracted_size(pdf: bytes) -> float:
    """The size of most of the type, in points."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        sizes: dict[float, int] = {}
        for page in opened.pages:
            scale = 1.0
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) == "Tf":
                    size = float(operands[1])
                elif str(operator) == "Tm":
                    scale = abs(float(operands[3]))
                elif str(operator) in ("TJ", "Tj"):
                    shown = round(size * scale * 0.75, 1)
                    sizes[shown] = sizes.get(shown, 0) + len(bytes(str(operands[0]), "utf-8"))
    return max(sizes, key=lambda size: sizes[size])


@pytest.mark.parametrize("text", [Fraction(21, 2), Fraction(19, 2)])
def test_no_type_is_below_the_floor(
    text: Fraction, cards: Cards, house: House, typesetter: Typesetter
) -> None:
    """Body 9.5 pt, notes 7.5 pt (house floor)."""
    html = print_html(card_view(cards["pie"](), house), typesetter, house.card, Setting(text=text))
    rulers = dict.fromkeys(
        ("ruler-right.svg", "ruler-left.svg"), b"<svg xmlns='http://www.w3.org/2000/svg'/>"
    )
    document = typesetter.lay_out(html, rulers)

    def sizes(box: object) -> list[float]:
        box = getattr(box, "_box", box)
        own = [float(box.style["font_size"]) * 0.75] if getattr(box, "text", None) else []  # type: ignore[attr-defined]
        return own + [one for child in getattr(box, "children", ()) for one in sizes(child)]

    assert min(one for page in document.pages for one in sizes(page._page_box)) >= 7.499


def test_photo_prints_with_its_alternative_text(
    cards: Cards, house: House, typesetter: Typesetter, pictures: dict[str, bytes]
) -> None:
    view = card_view(cards["photo"](), house)
    with pikepdf.open(io.BytesIO(render_pdf(view, typesetter, pictures))) as opened:
        alternatives = [
            str(item.Alt)
            for item in opened.objects
            if isinstance(item, pikepdf.Dictionary) and Name.Alt in item
        ]
    assert alternatives == ["A stack of dark square crackers"]


@pytest.mark.parametrize("lines", [1, 25, 60])
def test_many_lines_run_on(lines: int, cards: Cards, house: House, typesetter: Typesetter) -> None:
    card = cards["crackers"]()
    part = card.parts[0]
    many = tuple(replace(part.ingredients[5], item=f"honey number {number}") for number in range(lines))
    pdf = render_pdf(
        card_view(replace(card, parts=(replace(part, ingredients=many),)), house), typesetter, {}
    )
    text = letters(extracted(pdf))
    assert all(f"honeynumber{number}" in text for number in range(lines))


@pytest.mark.parametrize("field", ["title", "item", "step", "caution", "makes"])
@pytest.mark.parametrize("long", ["honey" * 40, "a good deal of honey " * 40], ids=["word", "text"])
def test_long_words_break_rather_than_clip(
    field: str, long: str, cards: Cards, house: House, typesetter: Typesetter
) -> None:
    card = cards["crackers"]()
    part = card.parts[0]
    spoilt = {
        "title": replace(card, recipe=replace(card.recipe, title=long.strip())),
        "item": replace(card, parts=(replace(part, ingredients=(replace(part.ingredients[0], item=long),)),)),
        "step": replace(
            card, parts=(replace(part, steps=(replace(part.steps[0], spans=(Words(text=long * 4),)),)),)
        ),
        "caution": replace(card, cautions=(long,)),
        "makes": replace(card, makes=long),
    }[field]
    assert letters(extracted(render_pdf(card_view(spoilt, house), typesetter, {}))).count("honey") >= 40


def test_lost_words_stop_the_card(
    cards: Cards, house: House, typesetter: Typesetter, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A box of fixed height that hides what passes it: the loss no typesetter reports."""
    crippled = print_html

    def hiding(*given: object) -> str:
        html = crippled(*given)  # type: ignore[arg-type]
        return html.replace('<ol class="steps"', '<ol class="steps" style="position: absolute; top: 6.5in"')

    monkeypatch.setattr("cardsmith.render.card.pdf.print_html", hiding)
    with pytest.raises(LayoutError, match="Caraway rye crackers: "):
        render_pdf(card_view(cards["crackers"](), house), typesetter, {})


@pytest.mark.parametrize(
    ("page", "spacing", "ticks"),
    [(1, Fraction(72, 8), 33), (2, Fraction(72 * 10, 254), 101)],
    ids=["in", "mm"],
)
def test_ruler_is_true(
    page: int, spacing: Fraction, ticks: int, cards: Cards, house: House, typesetter: Typesetter
) -> None:
    """Eighths of an inch on the front, millimetres on the back, as another program draws them.

    An inch is 72 points (ISO 32000-1, 8.3.2.3) and exactly 25.4 mm (NIST Handbook 44, appendix C).
    """
    dots = 720
    command = f"pdftoppm -r {dots} -gray -f {page} -l {page} -x 0 -y {int(472.3 * dots / 72)} -W 3600 -H 1 -"
    pdf = render_pdf(card_view(cards["crackers"](), house), typesetter, {})
    drawn = subprocess.run(command.split(), input=pdf, capture_output=True, check=True).stdout[-3600:]
    dark = [place for place, grey in enumerate(drawn) if grey < 128]
    starts = [place for place in dark if place - 1 not in dark]
    assert len(starts) == ticks
    for number, start in enumerate(starts):
        assert abs((start - starts[0]) - number * spacing * dots / 72) <= 1


def test_long_names_of_the_house_fit_the_foot(cards: Cards, house: House, typesetter: Typesetter) -> None:
    named = replace(house, name="A publication " * 9, tagline="With a great deal to say " * 9)
    assert render_pdf(card_view(cards["crackers"](), named), typesetter, {})


def test_importing_needs_no_pango() -> None:
    """HTML works on a machine without the libraries of print."""
    modules = "cardsmith.site.recipe_page.files, cardsmith.render.card.pdf"
    program = f"import sys, {modules}; sys.exit('weasyprint' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


@pytest.mark.parametrize(
    ("order", "units"),
    [(("us", "metric"), ("in", "cm")), (("metric",), ("cm", "cm")), (("us",), ("in", "in"))],
)
def test_a_card_of_one_system_has_rulers_of_no_other(
    order: tuple[str, ...], units: tuple[str, str], cards: Cards, house: House
) -> None:
    assert ruled_in(card_view(cards["crackers"](), replace(house, order=order))) == units
