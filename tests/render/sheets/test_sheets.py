"""Sheets, read back from the finished PDF: where every card stands, and what meets when the paper is turned.

A sheet turned over an upright edge shows at x what was at width - x; turned over its head or foot, at y what
was at height - y. That is all the geometry these tests rest on; nothing of the module's own is used for it.
"""

from __future__ import annotations

import io
import re
import subprocess
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import pikepdf
import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name
from PIL import Image, ImageChops

from cardsmith.finding import CardsmithError
from cardsmith.house.paper import CardSize, card_size, sheet_size
from cardsmith.house.printers import Printer, printer
from cardsmith.reference import table
from cardsmith.render.press.accent import Accent
from cardsmith.render.press.conversion import separation
from cardsmith.render.press.pdf import intend
from cardsmith.render.press.preflight import sheet_faults
from cardsmith.render.press.recolouring import SPOT
from cardsmith.render.press.version import Version
from cardsmith.render.sheets.imposition import FLIPS, ORDERS, arranged, best_grid
from cardsmith.render.sheets.pdf import Imposed, Order, impose, leaves_of
from cardsmith.render.typesetter import Typesetter
from tests.render.press.plates import INKS, inked, needs_ghostscript, plates_of

SHEETS = [row["name"] for row in table("sheet_sizes")]
SIZES = [row["name"] for row in table("card_sizes")]
PRINTERS = [row["name"] for row in table("printer_profiles")]
ROUNDED = 0.002  # points; places are written to four decimals
Box = tuple[float, float, float, float]


def press(
    recipe: str, pages: int, size: CardSize, made_for: Printer, spot: str = "", day: str = "2026-04-02"
) -> bytes:
    """A press file of solid pages, cyan in front and magenta behind, each with a black corner at its head."""
    version = Version(recipe=recipe, mark=f"{len(recipe):08x}", proof=1, date="2026-04-02")
    width, height, bleed = float(size.width), float(size.height), float(made_for.bleed)
    pdf = pikepdf.new()
    for number in range(pages):
        page = pdf.add_blank_page(page_size=(width, height))
        page.mediabox = Array([-bleed - 20, -bleed - 20, width + bleed + 20, height + bleed + 20])
        page.bleedbox = Array([round(v, 4) for v in (-bleed, -bleed, width + bleed, height + bleed)])
        page.trimbox = Array([0, 0, round(width, 4), round(height, 4)])
        if spot:
            plate = separation(pdf, spot, (0.9, 0.45, 0.45, 0.35))
            page.Resources = Dictionary(ColorSpace=Dictionary({str(SPOT): plate}))
        inks = "1 0 0 0 k" if number % 2 == 0 else "0 1 0 0 k"
        page.Contents = pdf.make_stream(
            f"% {recipe} {number}\n{inks} -200 -200 {width + 400} {height + 400} re f\n"
            f"0 0 0 1 k 0 {height - 40} 25 40 re f".encode()
        )
    intend(pdf, made_for)
    with pdf.open_metadata(set_pikepdf_as_editor=False) as metadata:
        metadata["dc:identifier"] = str(version)
        metadata["xmp:CreateDate"] = f"{day}T00:00:00+00:00"
    out = io.BytesIO()
    pdf.save(out, static_id=True)
    return out.getvalue()


@dataclass(frozen=True, slots=True)
class Standing:
    """One card on one page of sheets: which page of a press file, its cut, its bleed, which way is up."""

    what: str
    cut: Box
    bleed: Box
    head: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Side:
    """One page of the sheets' file."""

    width: float
    height: float
    cards: tuple[Standing, ...]
    marks: tuple[Box, ...]
    slug: Box

    @property
    def slug_at_foot(self) -> bool:
        """Whether it is longer than high, and so at the head or foot."""
        return self.slug[2] - self.slug[0] > self.slug[3] - self.slug[1]


def sides_of(data: bytes, bleed: float) -> list[Side]:
    """What stands on each page, from its operators."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return [side_of(page, bleed) for page in pdf.pages]


def side_of(page: pikepdf.Page, bleed: float) -> Side:
    matrix = pikepdf.Matrix()
    stack, cards, marks, start, slug = [], [], [], (0.0, 0.0), None
    for operands, operator in pikepdf.parse_content_stream(page):
        values = [float(one) for one in operands] if operands and not isinstance(operands[0], Name) else []
        match str(operator):
            case "q":
                stack.append(matrix)
            case "Q":
                matrix = stack.pop()
            case "cm":
                matrix = pikepdf.Matrix(*values) @ matrix
            case "m":
                start = matrix.transform(values)
            case "l":
                end = matrix.transform(values)
                marks.append((*map(min, start, end), *map(max, start, end)))
            case "Do":
                form = page.Resources.XObject[operands[0]]
                named = re.match(rb"% (\S+ \d+)", form.read_bytes())
                box = [float(edge) for edge in form.BBox]
                placed = transformed(matrix, box)
                if named is None:
                    slug = placed
                    continue
                cut = [box[0] + bleed, box[1] + bleed, box[2] - bleed, box[3] - bleed]
                head = (matrix.c, matrix.d)
                cards.append(Standing(named[1].decode(), transformed(matrix, cut), placed, head))
    assert slug is not None
    _, _, width, height = (float(edge) for edge in page.mediabox)
    return Side(width, height, tuple(cards), tuple(marks), slug)


def transformed(matrix: pikepdf.Matrix, box: Sequence[float]) -> Box:
    corners = [matrix.transform((box[i], box[j])) for i in (0, 2) for j in (1, 3)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return (min(xs), min(ys), max(xs), max(ys))


def turned(box: Box, side: Side, flip: str) -> Box:
    """Where a box of the back lies, seen through the paper from the front."""
    if over_upright_edge(side, flip):
        return (side.width - box[2], box[1], side.width - box[0], box[3])
    return (box[0], side.height - box[3], box[2], side.height - box[1])


def over_upright_edge(side: Side, flip: str) -> bool:
    longer = "upright" if side.height > side.width else "lying"
    return (longer == "upright") == (flip == "long")


def apart(one: Box, other: Box, slack: float = 0.0) -> bool:
    gaps = (other[0] - one[2], one[0] - other[2], other[1] - one[3], one[1] - other[3])
    return max(gaps) >= -slack


def near(one: Box, other: Box) -> bool:
    return all(abs(a - b) < ROUNDED for a, b in zip(one, other, strict=True))


def imposed(
    typesetter: Typesetter,
    sheet: str,
    flip: str,
    size: str,
    pages: Sequence[int],
    made_for: str = "offset",
    sides: int = 2,
    copies: int = 1,
    order: str = "reading",
) -> Imposed:
    card, press_of = card_size(size), printer(made_for)
    presses = [press(f"card-{number}", many, card, press_of) for number, many in enumerate(pages)]
    wanted = Order(sheet=sheet_size(sheet), flip=flip, copies=copies, order=order)
    return impose(presses, card, press_of, sides, wanted, typesetter)


def hold(data: bytes, flip: str, size: CardSize, made_for: Printer, duplex: bool) -> list[Side]:
    """Everything that must be true of any sheets."""
    bleed = float(made_for.bleed)
    sides = sides_of(data, bleed)
    for side in sides:
        assert all(
            apart(one.bleed, other.bleed, ROUNDED)
            for one in side.cards
            for other in side.cards
            if one != other
        )
        paper = (0.0, 0.0, side.width, side.height)
        for card in side.cards:
            assert near(
                (0, 0, card.cut[2] - card.cut[0], card.cut[3] - card.cut[1]),
                (0, 0, float(size.width), float(size.height)),
            )
            assert not any(
                inside < 0
                for inside in (
                    card.bleed[0],
                    card.bleed[1],
                    paper[2] - card.bleed[2],
                    paper[3] - card.bleed[3],
                )
            )
            assert apart(side.slug, card.bleed)
        for mark in side.marks:
            assert all(apart(mark, card.bleed) for card in side.cards)
            assert apart(mark, side.slug)
        for card in side.cards:
            for upright, edges in ((True, card.cut[0::2]), (False, card.cut[1::2])):
                for edge in edges:
                    meant = [
                        m
                        for m in side.marks
                        if (m[0] == m[2]) is upright and abs(m[0 if upright else 1] - edge) < ROUNDED
                    ]
                    assert len(meant) == 2, "a mark at each end of the cut"
    if duplex:
        for front, back in zip(sides[0::2], sides[1::2], strict=True):
            register(front, back, flip)
    return sides


def register(front: Side, back: Side, flip: str) -> None:
    """Every back lies on its own front, head on head, so that a card turns like the page of a book."""
    through = {}
    for card in back.cards:
        x, y = card.head
        head = (-x, y) if over_upright_edge(back, flip) else (x, -y)
        through.setdefault(card.what, []).append((turned(card.cut, back, flip), head))
    backs = 0
    for card in front.cards:
        recipe, number = card.what.split()
        for cut, head in through.get(f"{recipe} {int(number) + 1}", ()):
            if near(cut, card.cut):
                assert head == pytest.approx(card.head)
                backs += 1
    assert backs == len(back.cards), "each back on its front, and none anywhere else"
    for mark in back.marks:
        assert any(near(turned(mark, back, flip), other) for other in front.marks)


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("flip", FLIPS)
@pytest.mark.parametrize("size", SIZES)
def test_backs_fall_on_their_fronts(sheet: str, flip: str, size: str, typesetter: Typesetter) -> None:
    done = imposed(typesetter, sheet, flip, size, [2, 3, 1, 4, 2])
    sides = hold(done.data, flip, card_size(size), printer("offset"), duplex=True)
    shown = Counter(card.what for side in sides for card in side.cards)
    assert shown == Counter(
        f"card-{number} {page}" for number, pages in enumerate([2, 3, 1, 4, 2]) for page in range(pages)
    )
    assert sheet_faults(done.data, sheet_size(sheet), printer("offset")) == ()


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    sheet=st.sampled_from(SHEETS),
    flip=st.sampled_from(FLIPS),
    size=st.sampled_from(SIZES),
    made_for=st.sampled_from(PRINTERS),
    pages=st.lists(st.integers(1, 4), min_size=1, max_size=6),
    sides=st.integers(1, 2),
    copies=st.integers(1, 5),
    order=st.sampled_from(ORDERS),
)
@example(  # the longest words on a narrow slug
    sheet="sra3",
    flip="long",
    size="a5",
    made_for="offset-inch",
    pages=[3],
    sides=2,
    copies=5,
    order="repeat",
)
def test_any_order_of_any_cards(
    typesetter: Typesetter,
    sheet: str,
    flip: str,
    size: str,
    made_for: str,
    pages: list[int],
    sides: int,
    copies: int,
    order: str,
) -> None:
    done = imposed(typesetter, sheet, flip, size, pages, made_for, sides, copies, order)
    assert done.duplex is (sides == 2 and max(pages) > 1)
    found = hold(done.data, flip, card_size(size), printer(made_for), done.duplex)
    shown = Counter(card.what for side in found for card in side.cards)
    for number, many in enumerate(pages):
        for page in range(many):
            printed = shown[f"card-{number} {page}"] * done.run.times
            if order == "repeat":
                assert copies <= printed < copies + done.grid.count
            else:
                assert printed == copies
    assert sheet_faults(done.data, sheet_size(sheet), printer(made_for)) == ()


@pytest.mark.parametrize(("sheet", "flip"), [("letter", "long"), ("letter", "short"), ("sra3", "short")])
def test_the_picture_of_the_back_covers_that_of_the_front(
    sheet: str, flip: str, typesetter: Typesetter
) -> None:
    """Drawn by poppler: what is inked in front is inked behind once the paper is turned, corner on corner."""
    data = imposed(typesetter, sheet, flip, "5x7", [2, 2, 2, 2]).data
    drawn = []
    for number in (1, 2):
        command = f"pdftoppm -r 72 -f {number} -l {number} -png -"
        png = subprocess.run(command.split(), input=data, capture_output=True, check=True).stdout
        drawn.append(Image.open(io.BytesIO(png)).convert("RGB"))
    front, back = drawn
    upright = (front.height > front.width) == (flip == "long")
    across = Image.Transpose.FLIP_LEFT_RIGHT if upright else Image.Transpose.FLIP_TOP_BOTTOM
    back = back.transpose(across)
    cyan = front.getchannel("R").point(lambda level: 255 * (level < 128))  # black too
    magenta = back.getchannel("G").point(lambda level: 255 * (level < 128))
    differ = ImageChops.difference(cyan, magenta)
    for card in sides_of(data, float(printer("offset").bleed))[0].cards:
        left, foot, right, top = card.bleed
        box = (round(left), round(front.height - top), round(right), round(front.height - foot))
        # An edge between two dots may differ; a card out of place by a point would add five hundred.
        assert sum(differ.crop(box).histogram()[128:]) < 150
        assert sum(cyan.crop(box).histogram()[128:]) > 0.98 * (box[2] - box[0]) * (box[3] - box[1])
    # The corner at the head left of a front lies over the head right of its back, as in a book.
    for card in sides_of(data, float(printer("offset").bleed))[0].cards:
        top = front.height - card.cut[3] + 15
        assert max(front.getpixel((round(card.cut[0] + 10), round(top)))) < 60
        assert max(back.getpixel((round(card.cut[2] - 10), round(top)))) < 60


def test_bleed_is_kept_and_no_more(typesetter: Typesetter) -> None:
    """The solid pages run 200 pt past their cut; on the sheet they end with the bleed."""
    made_for, size = printer("offset"), card_size("5x7")
    (front, _) = sides_of(imposed(typesetter, "letter", "long", "5x7", [2]).data, float(made_for.bleed))
    (card,) = front.cards
    assert card.bleed[2] - card.bleed[0] == pytest.approx(float(size.width + 2 * made_for.bleed), abs=0.001)


@needs_ghostscript
@pytest.mark.parametrize(
    ("sheet", "flip", "size"), [("letter", "long", "5x7"), ("letter", "short", "5x7"), ("sra3", "long", "a5")]
)
def test_every_ink_has_its_patches_and_every_plate_its_targets(
    sheet: str, flip: str, size: str, typesetter: Typesetter, tmp_path: Path
) -> None:
    """Outside the bleeds: one set of marks on all plates, and on each its own patches beside every card."""
    card, offset = card_size(size), printer("offset")
    presses = [press(f"card-{number}", 2, card, offset, spot="Harbour") for number in range(2)]
    done = impose(presses, card, offset, 2, Order(sheet=sheet_size(sheet), flip=flip), typesetter)
    accent = Accent(screen=(23, 82, 92), inks=(0.9, 0.45, 0.45, 0.35), spot="Harbour", fine=True)
    assert sheet_faults(done.data, sheet_size(sheet), offset, accent) == ()
    for number, side in enumerate(sides_of(done.data, float(offset.bleed)), 1):
        found = plates_of(done.data, tmp_path, page=number, dots=144)
        assert set(found) == {*INKS, "Harbour"}
        for plate in found.values():
            for bleed in (card.bleed for card in side.cards):
                left, foot, right, top = (2 * edge for edge in bleed)
                head, low = int(plate.height - top), int(plate.height - foot) + 1
                plate.paste(255, (int(left), head, int(right) + 1, low))
        # What all plates have in common are marks.
        common = found["Cyan"]
        for plate in found.values():
            common = ImageChops.lighter(common, plate)
        for x, y in targets(side):
            dot = (round(2 * x), round(plate.height - 2 * y))
            box = (dot[0] - 9, dot[1] - 9, dot[0] + 9, dot[1] + 9)
            cross = common.crop(box).point(lambda level: 255 * (level < 128))
            assert cross.getbbox() is not None
            assert sum(cross.histogram()[128:]) > 40, "a circle and a cross"
        left, foot, right, top = (round(2 * edge) for edge in side.slug)
        slug = (left, found["Cyan"].height - top, right, found["Cyan"].height - foot)
        assert inked(found["Cyan"].crop(slug)) == 0, "black alone, and no patch over it"
        assert inked(found["Black"].crop(slug)) > 500
        beside = {round(card.bleed[0 if side.slug_at_foot else 1]) for card in side.cards}
        patches = {name: ImageChops.subtract(common, plate) for name, plate in found.items()}
        for name, plate in patches.items():
            solid = sum(plate.histogram()[250:])
            half = sum(plate.histogram()[100:155])
            assert solid >= 300 * len(beside), name
            assert half >= 300 * len(beside), name


def targets(side: Side) -> list[tuple[float, float]]:
    """The middles of the four crosses: where two lines of eight points meet."""
    arms = [mark for mark in side.marks if max(mark[2] - mark[0], mark[3] - mark[1]) == pytest.approx(8)]
    middles = [((one[0] + one[2]) / 2, (one[1] + one[3]) / 2) for one in arms]
    found = [middle for middle in dict.fromkeys(middles) if sum(met(middle, other) for other in middles) == 2]
    assert len(found) == 4
    for x, y in found:
        assert any(met((side.width - x, y), other) for other in found)
        assert any(met((x, side.height - y), other) for other in found)
    return found


def met(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return max(abs(one[0] - other[0]), abs(one[1] - other[1])) < ROUNDED


def test_cards_of_two_second_inks_are_not_mixed(typesetter: Typesetter) -> None:
    card, offset = card_size("5x7"), printer("offset")
    presses = [press(ink, 2, card, offset, spot=ink) for ink in ("Harbour", "Rust")]
    with pytest.raises(CardsmithError, match="different second inks; build them again"):
        impose(presses, card, offset, 2, Order(sheet=sheet_size("letter")), typesetter)


def test_marks_print_on_every_plate(typesetter: Typesetter) -> None:
    data = imposed(typesetter, "a4", "long", "a6", [2]).data
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            separation = page.Resources.ColorSpace.Registration
            assert [separation[0], separation[1]] == [Name.Separation, Name.All]
            assert page.Contents[0].read_bytes().startswith(b"q /Registration CS 1 SCN")


def test_the_slug_names_cards_versions_sheet_and_side(typesetter: Typesetter) -> None:
    data = imposed(typesetter, "letter", "short", "5x7", [2, 4]).data
    command = "pdftotext -layout - -"
    pages = (
        subprocess.run(command.split(), input=data, capture_output=True, check=True)
        .stdout.decode()
        .split("\f")
    )
    said = [" ".join(page.split()) for page in pages]
    assert said[0].startswith("Sheet 1 of 2, front · Letter, turned over its short edge · Sheet-fed offset")
    assert "card-0 00000006 proof 1 · card-1 card 1 of 2 00000006 proof 1" in said[0]
    assert said[1].startswith("Sheet 1 of 2, back")
    assert "card-1 card 2 of 2" in said[3]


def test_a_print_dialogue_is_told_size_and_edge(typesetter: Typesetter) -> None:
    """ISO 32000-1, table 150; a sheet scaled to fit would cut cards too small."""
    for flip, edge in (("long", Name.DuplexFlipLongEdge), ("short", Name.DuplexFlipShortEdge)):
        with pikepdf.open(io.BytesIO(imposed(typesetter, "a4", flip, "a6", [2]).data)) as pdf:
            assert pdf.Root.ViewerPreferences.Duplex == edge
            assert pdf.Root.ViewerPreferences.PrintScaling == Name("/None")
    with pikepdf.open(io.BytesIO(imposed(typesetter, "a4", "long", "a6", [1]).data)) as pdf:
        assert pdf.Root.ViewerPreferences.Duplex == Name.Simplex
        assert len(pdf.pages) == 1


def test_sheets_are_dated_as_their_newest_card(typesetter: Typesetter) -> None:
    card, offset = card_size("5x7"), printer("offset")
    presses = [press(f"card-{day}", 2, card, offset, day=day) for day in ("2026-04-02", "2026-05-06")]
    done = impose(presses, card, offset, 2, Order(sheet=sheet_size("letter")), typesetter)
    with pikepdf.open(io.BytesIO(done.data)) as pdf, pdf.open_metadata() as metadata:
        assert str(pdf.docinfo.CreationDate) == "D:20260506000000+00'00'"
        assert str(metadata["xmp:CreateDate"]) == "2026-05-06T00:00:00+00:00"


def test_same_bytes_every_time(typesetter: Typesetter) -> None:
    assert (
        imposed(typesetter, "a4", "long", "5x7", [2, 3]).data
        == imposed(typesetter, "a4", "long", "5x7", [2, 3]).data
    )


def test_a_card_that_stands_often_is_held_once(typesetter: Typesetter) -> None:
    one = imposed(typesetter, "sra3", "long", "a6", [2])
    six = imposed(typesetter, "sra3", "long", "a6", [2], copies=6)
    assert len(six.data) < len(one.data) + 1000


def test_the_grid_takes_as_many_as_the_sheet_can() -> None:
    """Counted by hand: 5 × 7 in with 0.125 in of bleed, two across letter on its side, four to SRA3."""
    bleed = printer("offset-inch").bleed
    counted = {
        ("letter", "5x7"): 2,
        ("letter", "7x5"): 2,
        ("a4", "a6"): 2,
        ("sra3", "a5"): 4,
        ("sra3", "a6"): 6,
    }
    for (sheet, size), count in counted.items():
        assert best_grid(sheet_size(sheet), card_size(size), bleed).count == count


def test_a_card_too_large_says_which_sheet_would_do() -> None:
    large = CardSize(
        name="a4",
        shown="A4",
        width=Fraction(595),
        height=Fraction(842),
        columns=1,
        top=Fraction(20),
        side=Fraction(20),
        foot=Fraction(20),
    )
    with pytest.raises(CardsmithError, match=r"A4 .* does not fit Letter; it fits sra3, 12x18"):
        best_grid(sheet_size("letter"), large, Fraction(9))


def test_an_unknown_sheet_lists_the_known() -> None:
    with pytest.raises(CardsmithError, match="sheets: letter, a4, sra3, 12x18"):
        sheet_size("a0")


@pytest.mark.parametrize(("made_for", "size"), [("offset-inch", "5x7"), ("offset", "a6")])
def test_a_press_file_of_another_job_is_refused(made_for: str, size: str, typesetter: Typesetter) -> None:
    """Built before the house changed its size or its printer."""
    old = press("card", 2, card_size("5x7"), printer("offset"))
    wanted = Order(sheet=sheet_size("letter"))
    with pytest.raises(CardsmithError, match="build it again"):
        impose([old], card_size(size), printer(made_for), 2, wanted, typesetter)


def test_stacks_laid_on_each_other_are_in_order() -> None:
    """Five cards, four places: two sheets, cut into piles of two, two and one."""
    run = arranged(range(5), 4, order="stack")
    assert run.sheets == ((0, 2, 4, None), (1, 3, None, None))
    piles = [[sheet[place] for sheet in run.sheets if sheet[place] is not None] for place in range(4)]
    assert [leaf for pile in piles for leaf in pile] == [0, 1, 2, 3, 4]


@given(leaves=st.integers(1, 30), places=st.integers(1, 12), copies=st.integers(1, 6))
def test_stacks_hold_whole_sets(leaves: int, places: int, copies: int) -> None:
    run = arranged(range(leaves), places, copies=copies, order="stack")
    piles = [[sheet[place] for sheet in run.sheets if sheet[place] is not None] for place in range(places)]
    assert [leaf for pile in piles for leaf in pile] == list(range(leaves)) * copies


def test_twenty_of_one_are_ten_prints_of_one_sheet() -> None:
    assert arranged([0], 2, copies=20, order="repeat").times == 10
    assert arranged([0], 2, copies=20, order="repeat").sheets == ((0, 0),)
    assert arranged([0], 6, copies=20, order="repeat").times == 4  # 24, four to spare


def test_continuations_are_leaves_of_their_own() -> None:
    version = Version(recipe="pie", mark="0")
    assert [(leaf.front, leaf.back) for leaf in leaves_of(0, version, 3, 2)] == [(0, 1), (2, None)]
    assert [(leaf.front, leaf.back) for leaf in leaves_of(0, version, 2, 1)] == [(0, None), (1, None)]
