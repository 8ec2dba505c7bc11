"""The proof on paper: the card's own pages at size, its changes marked, its numbers those of the table."""

from __future__ import annotations

import io
import re
import subprocess
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markupsafe import Markup

from cardsmith.flow import prepare
from cardsmith.house.paper import SheetSize, card_size, sheet_size
from cardsmith.house.style import House, load_house
from cardsmith.measure.larder import load_larder
from cardsmith.proof.account import Account, account
from cardsmith.proof.word_changes import Marks
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import CardView, card_view
from cardsmith.render.proof.card import changed_spots
from cardsmith.render.proof.card_fields import fields, mark, marked, plain
from cardsmith.render.proof.marks import MARGIN
from cardsmith.render.proof.pdf import CardPages, proof_pdf
from cardsmith.render.proof.view import proof_view
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import LayoutError, Typesetter
from cardsmith.rewrite.card.numbers import numbers

ROOT = Path(__file__).parents[3]
RECIPE = (ROOT / "recipes/seeded-crackers/recipe.yaml").read_text(encoding="utf-8")
TRIALS = (ROOT / "recipes/seeded-crackers/trials.yaml").read_bytes()


@pytest.fixture(scope="module")
def house() -> House:
    return load_house(ROOT)


@pytest.fixture(scope="module")
def setter(tmp_path_factory: pytest.TempPathFactory) -> Typesetter:
    return Typesetter(ROOT / "templates", tmp_path_factory.mktemp("fonts"))


def told(text: str, house: House, before: Account | None = None) -> tuple[Account, CardView]:
    prepared = prepare("thins", text.encode(), "recipe.yaml", load_larder(), house, (TRIALS, "trials.yaml"))
    card = prepared.card
    assert card is not None
    view, counted = card_view(card, house), numbers(card, house)
    printed = fields(view, card.recipe, counted)
    kept = (before.snapshot("2026-06-02"),) if before else ()
    return account(prepared, card, text.encode(), printed, counted, house, kept), view


LETTER = sheet_size("letter")


def made(
    found: Account, view: CardView, house: House, setter: Typesetter, paper: SheetSize = LETTER
) -> bytes:
    view = replace(view, photo=None)
    layout = lay_out_card(view, setter, house.card, {})
    spots = changed_spots(layout, marked(view, found.changes.marks), setter, house.card, {})
    pages = CardPages(
        pdf=screened(setter.write(layout.document)),
        pages=layout.pages,
        size=house.card.size,
        spots=spots,
    )
    return proof_pdf(proof_view(found, house), pages, "", paper, found.version, setter)


@pytest.mark.parametrize(
    ("text", "marks", "html"),
    [
        ("bake the dough", Marks(), "bake the dough"),
        ("bake the dough", Marks(new=frozenset({1})), 'bake <ins class="changed">the</ins> dough'),
        ("bake the dough", Marks(gaps=frozenset({1})), 'bake <ins class="gap">the</ins> dough'),
        ("bake it", Marks(gaps=frozenset({2})), 'bake <ins class="gap-end">it</ins>'),
        ("a&amp;b c", Marks(new=frozenset({0})), '<ins class="changed">a&amp;b</ins> c'),
        (
            'at <span title="a b">350\u00a0°F</span>,',
            Marks(new=frozenset({2})),
            'at <span title="a b">350\u00a0<ins class="changed">°F</ins></span><ins class="changed">,</ins>',
        ),
        (
            "<em>wo</em>rd two",
            Marks(new=frozenset({1})),
            '<em>wo</em>rd <ins class="changed">two</ins>',
        ),
    ],
)
def test_only_the_marked_words_are_wrapped(text: str, marks: Marks, html: str) -> None:
    assert mark(Markup(text), marks).replace("-entry-0", "") == html
    assert plain(mark(Markup(text), marks)) == plain(Markup(text))


EDIT = ("25 to 30 minutes", "20 to 30 minutes")


@pytest.fixture(scope="module")
def edited(house: House) -> tuple[Account, CardView]:
    before, _ = told(RECIPE, house)
    text = RECIPE.replace(*EDIT).replace("5 g fine salt", "6 g fine salt")
    assert text.count("20 to 30 minutes") == 1
    return told(text, house, before)


WORD = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</word>')


@pytest.mark.parametrize("size", ["5x7", "6x4", "a6"])
def test_the_marks_stand_under_the_changed_words(
    edited: tuple[Account, CardView], size: str, house: House, setter: Typesetter, tmp_path: Path
) -> None:
    """Checked against where another program (poppler) finds the words of the card's own file."""
    found, view = edited
    style = replace(house.card, size=card_size(size))
    view = replace(view, photo=None)
    layout = lay_out_card(view, setter, style, {})
    spots = changed_spots(layout, marked(view, found.changes.marks), setter, style, {})
    file = tmp_path / "card.pdf"
    file.write_bytes(screened(setter.write(layout.document)))
    done = subprocess.run(["pdftotext", "-bbox", file, "-"], capture_output=True, text=True, check=True)
    under = []
    for spot in spots:
        page = done.stdout.split("<page ")[spot.page]
        left, right, baseline = spot.left * 0.75, spot.right * 0.75, spot.baseline * 0.75
        under += [
            word
            for x, y, end, foot, word in WORD.findall(page)
            if float(y) < baseline < float(foot) and abs(float(x) - left) < 1 and abs(float(end) - right) < 1
        ]
    assert under == ["1", "tsp", "6", "20"]


def test_every_word_of_a_card_can_be_marked(
    edited: tuple[Account, CardView], house: House, setter: Typesetter
) -> None:
    """Words that run over a line's end, or stand last in a paragraph, are found like all others."""
    found, view = edited
    view = replace(view, photo=None)
    every = {
        one.spot: {cell: Marks(new=frozenset(range(len(words.split())))) for cell, words in one.words.items()}
        for one in found.fields
    }
    for size in ("5x7", "4x6", "a5-landscape"):
        style = replace(house.card, size=card_size(size))
        layout = lay_out_card(view, setter, style, {})
        spots = changed_spots(layout, marked(view, every), setter, style, {})
        words = sum(
            len(text.split()) for one in found.fields if one.kind != "photo" for text in one.words.values()
        )
        assert len(spots) >= words
        assert all(spot.right > spot.left for spot in spots)


def test_words_that_are_not_those_of_the_card_are_not_marked(
    edited: tuple[Account, CardView], house: House, setter: Typesetter
) -> None:
    found, view = edited
    view = replace(view, photo=None)
    layout = lay_out_card(view, setter, house.card, {})
    other = replace(marked(view, found.changes.marks), headnote=Markup("Another headnote"))
    with pytest.raises(LayoutError, match="can't be found again"):
        changed_spots(layout, other, setter, house.card, {})


@pytest.fixture(scope="module")
def paper(
    edited: tuple[Account, CardView],
    house: House,
    setter: Typesetter,
    tmp_path_factory: pytest.TempPathFactory,
) -> Path:
    file = tmp_path_factory.mktemp("proof") / "proof.pdf"
    file.write_bytes(made(*edited, house, setter))
    return file


def _text(file: Path) -> str:
    done = subprocess.run(["pdftotext", "-layout", file, "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def test_every_number_of_the_table_is_on_paper(edited: tuple[Account, CardView], paper: Path) -> None:
    text = re.sub(r"\s", "", _text(paper))
    for one in edited[0].numbers:
        for words in (one.us, one.metric):
            assert "".join(words.split()) in text, one


def test_the_changes_are_listed_with_what_the_bench_says(paper: Path) -> None:
    text = _text(paper)
    assert "Working proof after proof 1, not issued" in text
    assert "25 → 20" in text
    assert "5 g → 6 g: no trial behind it" in text
    assert "2 texts changed since proof 1 of 2026-06-02" in text


def test_the_card_stands_at_size_with_its_own_content(
    edited: tuple[Account, CardView], house: House, setter: Typesetter, paper: Path
) -> None:
    """Each page of the card is drawn at 1:1, operator for operator that of the screen file."""
    size = house.card.size
    layout = lay_out_card(replace(edited[1], photo=None), setter, house.card, {})
    with (
        pikepdf.open(paper) as pdf,
        pikepdf.open(io.BytesIO(screened(setter.write(layout.document)))) as card,
    ):
        found = 0
        for page in pdf.pages:
            matrix = pikepdf.Matrix()
            stack = []
            for one in pikepdf.parse_content_stream(page):
                name = str(one.operator)
                if name == "q":
                    stack.append(matrix)
                elif name == "Q":
                    matrix = stack.pop()
                elif name == "cm":
                    matrix = pikepdf.Matrix(*(float(value) for value in one.operands)) @ matrix
                elif name == "Do":
                    form = page.Resources.XObject[one.operands[0]]
                    if form.get("/Subtype") == "/Form" and "/Card" in form.Resources.get("/XObject", {}):
                        whole = pikepdf.Matrix(*(float(value) for value in form.Matrix)) @ matrix
                        # To a tenth of a point over the whole card: the typesetter rounds a picture.
                        assert abs(whole.a - 1) * float(size.width) < 0.1
                        assert abs(whole.d - 1) * float(size.height) < 0.1
                        assert (whole.b, whole.c) == pytest.approx((0, 0), abs=1e-6)
                        width = float(form.BBox[2]) - float(form.BBox[0])
                        assert width == pytest.approx(float(size.width + 2 * MARGIN), abs=1e-3)
                        shown = _shown(form.Resources.XObject.Card)
                        assert shown == _shown(card.pages[found])
                        found += 1
        assert found == layout.pages


def _shown(holder: object) -> list[tuple[str, str]]:
    return [
        (str(one.operator), str([str(operand) for operand in one.operands]))
        for one in pikepdf.parse_content_stream(holder)
        if str(one.operator) not in {"BDC", "BMC", "EMC"}
    ]


def test_the_same_proof_gives_the_same_bytes_and_says_what_it_is(
    edited: tuple[Account, CardView], house: House, setter: Typesetter, paper: Path
) -> None:
    assert made(*edited, house, setter) == paper.read_bytes()
    with pikepdf.open(paper) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == house.language
        assert [float(edge) for edge in pdf.pages[0].mediabox] == [0, 0, 612, 792]


def test_the_sign_off_is_never_alone_on_its_page(paper: Path) -> None:
    command = ["pdftotext", "-layout", "-raw", paper, "-"]
    last = subprocess.run(command, capture_output=True, text=True, check=True).stdout.split("\f")[-2]
    before, _, after = last.partition("Sign-off")
    assert "Signature" in after
    assert len(before.split()) > 30  # a head of the page has a dozen


def test_the_paper_is_the_houses(edited: tuple[Account, CardView], house: House, setter: Typesetter) -> None:
    with pikepdf.open(io.BytesIO(made(*edited, house, setter, sheet_size("a4")))) as pdf:
        assert [float(edge) for edge in pdf.pages[0].mediabox] == pytest.approx(
            [0, 0, 595.276, 841.89], abs=0.01
        )


def test_a_wide_card_turns_the_paper(
    edited: tuple[Account, CardView], house: House, setter: Typesetter
) -> None:
    wide = replace(house, card=replace(house.card, size=card_size("half-letter-landscape")))
    with pikepdf.open(io.BytesIO(made(*edited, wide, setter))) as pdf:
        sizes = [tuple(float(edge) for edge in page.mediabox[2:]) for page in pdf.pages]
    assert sizes[0] == (612, 792)
    assert (792, 612) in sizes


def test_a_draft_says_so_on_every_page(house: House, setter: Typesetter) -> None:
    text = RECIPE.replace("5 g fine salt", "5 g fine salt\n      - 2 xyz of salt")
    found, view = told(text.replace("Heat the oven to 160 °C (325 °F)", "Heat the oven to 160"), house)
    assert found.is_draft
    shown = proof_view(found, house)
    assert shown.queries[0].severity == "error"
    assert "not for press" in shown.draft
    with pikepdf.open(io.BytesIO(made(found, view, house, setter))) as pdf:
        assert len(pdf.pages) > 3


def test_a_card_that_cannot_be_set_still_has_a_proof(
    edited: tuple[Account, CardView], house: House, setter: Typesetter
) -> None:
    data = proof_pdf(proof_view(edited[0], house), None, "2 lines too many", LETTER, "ab", setter)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.pages


@pytest.mark.parametrize("name", sorted(file.parent.name for file in ROOT.glob("recipes/*/recipe.yaml")))
def test_each_text_of_a_card_has_a_place_of_its_own(name: str, house: House) -> None:
    """Else the marks of one text would stand on another; and every number belongs to some text."""
    source = (ROOT / "recipes" / name / "recipe.yaml").read_bytes()
    card = prepare(name, source, "recipe.yaml", load_larder(), house).card
    assert card is not None
    counted = numbers(card, house)
    printed = fields(card_view(card, house), card.recipe, counted)
    assert len({one.spot for one in printed}) == len(printed)
    assert sum(len(one.figures) for one in printed) == len(counted)


@pytest.mark.parametrize(
    ("old", "new", "place", "words"),
    [
        ("Keeps three weeks", "Keeps two weeks", "storage", ["two"]),
        ("makes: 60 crackers", "makes: 50 crackers", "yield", ["50"]),
        ("total: 1 h 45 min", "total: 1 h 50 min", "start to finish", ["50"]),
        ("rolling pin", "long rolling pin", "equipment", ["long"]),
    ],
)
def test_one_edit_marks_one_text(old: str, new: str, place: str, words: list[str], house: House) -> None:
    before, _ = told(RECIPE, house)
    assert old in RECIPE
    after, view = told(RECIPE.replace(old, new), house, before)
    assert [one.place for one in after.changes.listed] == [place]
    again = "".join(str(text) for text in marked(view, after.changes.marks).texts())
    assert re.findall(r"<ins[^>]*>(.*?)</ins>", again) == words


STEPS = RECIPE[RECIPE.index("steps:") : RECIPE.index("storage:")]
EDITABLE = [match.span() for match in re.finditer(r"(?<=[a-z] )[a-z]{4,}(?= [a-z])", STEPS)]


@settings(max_examples=15)
@given(places=st.sets(st.integers(0, len(EDITABLE) - 1), min_size=1, max_size=6))
def test_after_any_edit_of_the_method_every_new_word_is_marked(places: set[int], house: House) -> None:
    """From the author's file to the card: no new word stands there without its mark."""
    text = STEPS
    for number, place in enumerate(sorted(places, reverse=True)):
        start, end = EDITABLE[place]
        text = f"{text[:start]}qqq{number}{text[end:]}"
    before, _ = told(RECIPE, house)
    after, view = told(RECIPE.replace(STEPS, text), house, before)
    shown = "".join(f"{one}\n" for one in marked(view, after.changes.marks).texts())
    assert shown.count("qqq") == len(places)
    assert len(re.findall(r'<ins class="changed-entry-\d+">[^<]*qqq', shown)) == len(places)
