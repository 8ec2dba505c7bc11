"""Sheets of a booklet, read back from the finished PDF: where each page stands, how far it moved.

The press file is made by hand: solid pages that run far past their cut, each with its number in its words.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from cardsmith.finding import CardsmithError
from cardsmith.house.paper import CardSize, card_size, sheet_size
from cardsmith.house.printers import Printer, printer
from cardsmith.render.booklet.plan import Binding
from cardsmith.render.booklet.signatures import MILLED, Spread, spreads
from cardsmith.render.booklet.spreads import Leaves, opened_as_book, printer_spreads, reader_spreads
from cardsmith.render.press.preflight import sheet_faults
from cardsmith.render.press.version import Version
from cardsmith.render.typesetter import Typesetter

SIZE, PRESS = card_size("5x7"), printer("offset")
VERSION = Version(recipe="booklet", mark="0000abcd", date="2026-04-02")
THICK = Fraction(3)  # points: far thicker than any paper, so that it shows
ROUNDED = 0.002  # points


def press(pages: int, size: CardSize = SIZE, made_for: Printer = PRESS) -> bytes:
    width, height, bleed = float(size.width), float(size.height), float(made_for.bleed)
    pdf = pikepdf.new()
    for number in range(1, pages + 1):
        page = pdf.add_blank_page(page_size=(width, height))
        page.mediabox = Array([-bleed - 20, -bleed - 20, width + bleed + 20, height + bleed + 20])
        page.trimbox = Array([0, 0, round(width, 4), round(height, 4)])
        page.Contents = pdf.make_stream(f"% {number}\n1 0 0 0 k -200 -200 900 900 re f".encode())
    pdf.docinfo = pdf.make_indirect(Dictionary(Title="A booklet"))
    out = io.BytesIO()
    pdf.save(out, static_id=True)
    return out.getvalue()


@dataclass(frozen=True, slots=True)
class Half:
    """A page on a sheet: its number, where its cut begins, and between which x it is drawn."""

    number: int
    left: float
    foot: float
    shown: tuple[float, float]


def number_of(form: pikepdf.Object) -> int:
    found = re.match(rb"% (\d+)", form.read_bytes())
    assert found is not None
    return int(found[1])


def halves(data: bytes) -> Iterator[tuple[Half, Half]]:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            found, clip = [], (0.0, 0.0)
            matrix: list[float] = []
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) == "re" and not matrix:
                    clip = (float(operands[0]), float(operands[0]) + float(operands[2]))
                elif str(operator) == "cm":
                    matrix = [float(one) for one in operands]
                elif str(operator) == "Do":
                    form = page.Resources.XObject[operands[0]]
                    number = number_of(form)
                    found.append(Half(number=number, left=matrix[4], foot=matrix[5], shown=clip))
                elif str(operator) == "Q":
                    matrix = []
            one, other = found
            yield one, other


@pytest.fixture(scope="module")
def setter(tmp_path_factory: pytest.TempPathFactory) -> Typesetter:
    return Typesetter(Path(__file__).parents[3] / "templates", tmp_path_factory.mktemp("fonts"))


def made(setter: Typesetter, pages: int, binding: Binding, leaves: Leaves) -> tuple[list[Spread], bytes]:
    sides = list(spreads(pages, binding, THICK))
    return sides, printer_spreads(press(pages), sides, leaves, PRESS, VERSION, setter)


def test_inner_pages_move_to_the_fold_by_the_sheets_around_them(setter: Typesetter) -> None:
    """Trimmed at the fore edge, every page then has its own outer margin, and none is cut narrower."""
    leaves = Leaves(size=SIZE, bleed=PRESS.bleed)
    sides, data = made(setter, 12, Binding.SADDLE, leaves)
    fold = float(leaves.left + SIZE.width)
    for side, (left, right) in zip(sides, halves(data), strict=True):
        assert (left.number, right.number) == (side.left, side.right)
        moved = (side.sheet - 1) * float(THICK)
        assert left.left == pytest.approx(fold - float(SIZE.width) + moved, abs=ROUNDED)
        assert right.left == pytest.approx(fold - moved, abs=ROUNDED)
        assert left.foot == right.foot == pytest.approx(float(leaves.foot), abs=ROUNDED)


def test_no_page_runs_over_the_fold_and_each_has_its_bleed_outside(setter: Typesetter) -> None:
    leaves = Leaves(size=SIZE, bleed=PRESS.bleed)
    _, data = made(setter, 12, Binding.SADDLE, leaves)
    fold = float(leaves.left + SIZE.width)
    for left, right in halves(data):
        outside = float(SIZE.width + PRESS.bleed)
        assert left.shown == pytest.approx((fold - outside, fold), abs=ROUNDED)
        assert right.shown == pytest.approx((fold, fold + outside), abs=ROUNDED)


def test_what_is_milled_off_lies_between_the_pages(setter: Typesetter) -> None:
    leaves = Leaves(size=SIZE, bleed=PRESS.bleed, milled=MILLED)
    sides, data = made(setter, 24, Binding.PERFECT, leaves)
    for side, (left, right) in zip(sides, halves(data), strict=True):
        between = right.left - (left.left + float(SIZE.width))
        assert between == pytest.approx(float(2 * MILLED - 2 * side.creep), abs=ROUNDED)
        assert left.shown[1] == right.shown[0]


def test_a_cover_has_its_spine_between_back_and_front(setter: Typesetter) -> None:
    leaves = Leaves(size=SIZE, bleed=PRESS.bleed, spine=Fraction(10))
    wrap = Spread(signature=1, sheet=1, front=True, left=2, right=1, creep=Fraction(0))
    data = printer_spreads(press(2), (wrap,), leaves, PRESS, VERSION, setter)
    ((back, front),) = halves(data)
    assert (back.number, front.number) == (2, 1)
    assert front.left - (back.left + float(SIZE.width)) == pytest.approx(10, abs=ROUNDED)
    assert front.shown[0] - back.shown[1] == pytest.approx(10, abs=ROUNDED)


def test_each_page_of_a_sheet_has_a_bar_of_the_inks_clear_of_all_bleeds(setter: Typesetter) -> None:
    leaves = Leaves(size=SIZE, bleed=PRESS.bleed)
    _, data = made(setter, 4, Binding.SADDLE, leaves)
    fold, over = float(leaves.left + SIZE.width), float(leaves.foot + SIZE.height + PRESS.bleed)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            patches: dict[bool, list[tuple[float, ...]]] = {True: [], False: []}
            inks: tuple[float, ...] = ()
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) == "k":
                    inks = tuple(map(float, operands))
                elif str(operator) == "Q":
                    inks = ()
                elif str(operator) == "re" and inks:
                    left, foot, wide, high = map(float, operands)
                    assert over < foot < foot + high < float(leaves.down)
                    assert left + wide < fold or left > fold
                    patches[left < fold].append(inks)
            assert patches[True] == patches[False]
            assert {(1, 0, 0, 0), (0, 1, 0, 0), (0, 0, 1, 0), (0, 0, 0, 1)} <= set(patches[True])


def test_sheets_pass_the_preflight_and_turn_over_the_upright_edge(
    setter: Typesetter,
) -> None:
    leaves = Leaves(size=SIZE, bleed=PRESS.bleed)
    sides, data = made(setter, 8, Binding.SADDLE, leaves)
    assert sheet_faults(data, leaves.sheet, PRESS) == ()
    assert data == made(setter, 8, Binding.SADDLE, leaves)[1]
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == len(sides) == 4
        assert pdf.Root.ViewerPreferences.Duplex == Name.DuplexFlipShortEdge  # the spread lies on its side
        assert pdf.Root.ViewerPreferences.PrintScaling == Name("/None")
        assert str(pdf.docinfo.CreationDate).startswith("D:20260402")


def test_a_narrow_page_makes_an_upright_sheet_turned_over_its_long_edge(setter: Typesetter) -> None:
    narrow = CardSize(
        name="strip",
        shown="2 × 8 in",
        width=Fraction(144),
        height=Fraction(576),
        columns=1,
        top=Fraction(20),
        side=Fraction(20),
        foot=Fraction(20),
    )
    leaves = Leaves(size=narrow, bleed=PRESS.bleed)
    sides = list(spreads(4, Binding.SADDLE, THICK))
    data = printer_spreads(press(4, narrow), sides, leaves, PRESS, VERSION, setter)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.Root.ViewerPreferences.Duplex == Name.DuplexFlipLongEdge


def test_cuts_and_fold_are_marked_outside_the_bleed(setter: Typesetter) -> None:
    leaves = Leaves(size=SIZE, bleed=PRESS.bleed)
    _, data = made(setter, 4, Binding.SADDLE, leaves)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        page = pdf.pages[0]
        trim = [float(edge) for edge in page.trimbox]
        bleed = float(PRESS.bleed)
        lines = re.findall(
            rb"([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l S",
            b"\n".join(one.read_bytes() for one in page.Contents),
        )
        ends = [tuple(map(float, one)) for one in lines]
        folds = [
            one for one in ends if one[0] == one[2] == pytest.approx((trim[0] + trim[2]) / 2, abs=ROUNDED)
        ]
        assert len(folds) == 2
        assert len(ends) == 10  # two at each corner, one at each end of the fold
        for x1, y1, x2, y2 in ends:
            inside_x = trim[0] - bleed < min(x1, x2) and max(x1, x2) < trim[2] + bleed
            inside_y = trim[1] - bleed < min(y1, y2) and max(y1, y2) < trim[3] + bleed
            assert not (inside_x and inside_y)


def test_a_reader_sees_the_cover_alone_then_two_pages_at_a_time() -> None:
    width = float(SIZE.width)
    with pikepdf.open(io.BytesIO(press(8))) as pdf:
        pdf.Root.Lang = pikepdf.String("en-US")
        for page in pdf.pages:
            page.mediabox = page.trimbox
        out = io.BytesIO()
        pdf.save(out)
    with pikepdf.open(io.BytesIO(reader_spreads(out.getvalue(), "A booklet"))) as pdf:
        assert [round(float(page.mediabox[2]) / width) for page in pdf.pages] == [1, 2, 2, 2, 1]
        told = [[number_of(form) for _, form in sorted(page.Resources.XObject.items())] for page in pdf.pages]
        assert told == [[1], [2, 3], [4, 5], [6, 7], [8]]


def test_a_viewer_opens_the_pages_as_a_book() -> None:
    with pikepdf.open(io.BytesIO(opened_as_book(press(4)))) as pdf:
        assert pdf.Root.PageLayout == Name.TwoPageRight


@pytest.mark.parametrize("paper", ["letter", "a4", "sra3"])
def test_on_given_paper_the_spread_lies_in_its_middle(paper: str, setter: Typesetter) -> None:
    leaves = Leaves(size=SIZE, bleed=PRESS.bleed, paper=sheet_size(paper))
    sides = list(spreads(4, Binding.SADDLE, THICK))
    data = printer_spreads(press(4), sides, leaves, PRESS, VERSION, setter)
    assert sheet_faults(data, sheet_size(paper), PRESS) == ()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        page = [float(edge) for edge in pdf.pages[0].mediabox]
        trim = [float(edge) for edge in pdf.pages[0].trimbox]
    assert page[2] > page[3]
    assert trim[0] == pytest.approx(page[2] - trim[2], abs=ROUNDED)
    assert trim[1] == pytest.approx(page[3] - trim[3], abs=ROUNDED)


def test_paper_too_small_for_two_pages_is_refused() -> None:
    with pytest.raises(CardsmithError, match="do not fit Letter; take larger paper"):
        Leaves(size=card_size("a5"), bleed=PRESS.bleed, paper=sheet_size("letter"))
