from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Name
from PIL import Image, ImageChops

from cardsmith.finding import CardsmithError
from cardsmith.house.paper import card_size
from cardsmith.house.printers import printer
from cardsmith.house.style import House
from cardsmith.reference import table
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.press.content import painted
from cardsmith.render.press.pdf import cut_marks, press_pdf
from cardsmith.render.press.preflight import examined
from cardsmith.render.press.version import Version
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card
from tests.render.press.plates import INKS, inked, needs_ghostscript, plates_of

PRINTERS = [row["name"] for row in table("printer_profiles")]
VERSION = Version(recipe="caraway-rye-crackers", mark="3f9a1c22", proof=2, date="2026-04-02")
SIZE = card_size("5x7")


@pytest.fixture(scope="module")
def layout(
    cards: dict[str, Callable[[], Card]], house: House, typesetter: Typesetter, pictures: dict[str, bytes]
) -> Layout:
    view = card_view(cards["photo"](), house)
    assert view.photo is not None
    view = replace(view, photo=replace(view.photo, place="head"))
    return lay_out_card(view, typesetter, house.card, pictures)


@pytest.fixture(scope="module")
def press(layout: Layout, typesetter: Typesetter) -> bytes:
    return press_pdf(typesetter.write(layout.document), typesetter, SIZE, printer("offset"), VERSION)


def shot(width: int, height: int) -> bytes:
    """A photo of so many dots."""
    out = io.BytesIO()
    Image.radial_gradient("L").resize((width, height)).convert("RGB").save(out, "JPEG")
    return out.getvalue()


@pytest.mark.parametrize("name", PRINTERS)
def test_every_printer_gets_a_file_that_passes(name: str, layout: Layout, typesetter: Typesetter) -> None:
    made_for = printer(name)
    data = press_pdf(typesetter.write(layout.document), typesetter, SIZE, made_for, VERSION)
    assert examined(data, SIZE, made_for).faults == ()


@pytest.mark.parametrize(
    ("name", "bleed", "outside"),
    [
        ("offset", 3 / 25.4 * 72, 17.0),
        ("offset-inch", 9.0, 17.0),
        ("digital", 3 / 25.4 * 72, 0.0),
    ],
)
def test_boxes_as_another_program_reads_them(
    name: str, bleed: float, outside: float, layout: Layout, typesetter: Typesetter
) -> None:
    """poppler's pdfinfo; below the card there is always room for the slug."""
    data = press_pdf(typesetter.write(layout.document), typesetter, SIZE, printer(name), VERSION)
    told = subprocess.run(
        ["pdfinfo", "-box", "-"], input=data, capture_output=True, check=True
    ).stdout.decode()
    boxes = {
        found[1]: [float(edge) for edge in found[2].split()]
        for found in re.finditer(r"(\w+)Box: +([-\d. ]+)", told)
    }
    assert boxes["Trim"] == [0, 0, 360, 504]
    assert boxes["Bleed"] == pytest.approx([-bleed, -bleed, 360 + bleed, 504 + bleed], abs=0.01)
    far = bleed + outside
    below = bleed + max(outside, 14)
    assert boxes["Media"] == pytest.approx([-far, -below, 360 + far, 504 + far], abs=0.01)


def test_text_is_black_ink_alone(layout: Layout, typesetter: Typesetter) -> None:
    """Registration blurs small type: without a second ink even what has the house's colour is black."""
    data = press_pdf(typesetter.write(layout.document), typesetter, SIZE, printer("digital"), VERSION)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        things = [one for page in pdf.pages for one in painted(page)]
    text = [one for one in things if one.what == "text"]
    assert len(text) > 50
    assert {one.inks for one in text} == {(0.0, 0.0, 0.0, 1.0)}
    assert {one.space for one in things} <= {"DeviceCMYK", "DeviceGray"}


def test_marks_stay_off_the_bleed_and_on_every_plate(press: bytes) -> None:
    with pikepdf.open(io.BytesIO(press)) as pdf:
        for page in pdf.pages:
            (name,) = (key for key in page.Resources.ColorSpace if "Registration" in key)
            separation = page.Resources.ColorSpace[name]
            assert [separation[0], separation[1]] == [Name.Separation, Name.All]
            assert [float(value) for value in separation[3].C1] == [1, 1, 1, 1]
            text = bytes(
                page.Contents.read_bytes() if isinstance(page.Contents, pikepdf.Stream) else b""
            ).decode()
            if not text:
                text = b"\n".join(part.read_bytes() for part in page.Contents).decode()
            lines = re.findall(r"([-\d.]+) ([-\d.]+) m ([-\d.]+) ([-\d.]+) l S", text.rpartition(" SCN")[2])
            assert len(lines) == 8
            bleed = [float(edge) for edge in page.bleedbox]
            for line in lines:
                x0, y0, x1, y1 = (float(value) for value in line)
                beside = max(x0, x1) < bleed[0] or min(x0, x1) > bleed[2]
                above = max(y0, y1) < bleed[1] or min(y0, y1) > bleed[3]
                assert beside or above


def test_the_slug_names_recipe_version_and_date(press: bytes) -> None:
    for page in (1, 2):
        command = ["pdftotext", "-f", str(page), "-l", str(page), "-", "-"]
        text = subprocess.run(command, input=press, capture_output=True, check=True).stdout.decode()
        assert "caraway-rye-crackers · version 3f9a1c22 · proof 2 · 2026-04-02" in text
        assert f"page {page} of 2" in text


def test_same_bytes_every_time(layout: Layout, press: bytes, typesetter: Typesetter) -> None:
    assert press_pdf(typesetter.write(layout.document), typesetter, SIZE, printer("offset"), VERSION) == press


@pytest.mark.parametrize(
    ("date", "made", "day"),
    [("2026-04-02", "2026-11-30", "2026-04-02"), ("", "2026-11-30", "2026-11-30")],
    ids=["of its proof", "of its making"],
)
def test_the_document_is_dated(
    date: str, made: str, day: str, layout: Layout, typesetter: Typesetter
) -> None:
    version = Version(recipe="x", mark="0", date=date, made=made)
    data = press_pdf(typesetter.write(layout.document), typesetter, SIZE, printer("digital"), version)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert str(pdf.docinfo.CreationDate) == f"D:{day.replace('-', '')}000000+00'00'"
        with pdf.open_metadata() as metadata:
            for key in ("xmp:CreateDate", "xmp:ModifyDate", "xmp:MetadataDate"):
                assert str(metadata[key]).startswith(day)


def test_no_date_is_made_up(layout: Layout, typesetter: Typesetter) -> None:
    nameless = Version(recipe="x", mark="0")
    with pytest.raises(ValueError, match="must have a date"):
        press_pdf(typesetter.write(layout.document), typesetter, SIZE, printer("digital"), nameless)


@pytest.mark.parametrize(
    ("width", "height", "resolution"), [(1600, 800, None), (378, 160, 72)], ids=["fine", "coarse"]
)
def test_photos_are_measured_at_size(
    width: int,
    height: int,
    resolution: int | None,
    cards: dict[str, Callable[[], Card]],
    house: House,
    typesetter: Typesetter,
) -> None:
    """378 points are 5.25 in: as many dots across print at 72 dots per inch."""
    card = cards["photo"]()
    assert card.recipe.photo
    photo = replace(card.recipe.photo, file="crackers.jpg", place="head")
    card = replace(card, recipe=replace(card.recipe, photo=photo))
    laid_out = lay_out_card(card_view(card, house), typesetter, house.card, {photo.file: shot(width, height)})
    data = press_pdf(typesetter.write(laid_out.document), typesetter, SIZE, printer("offset"), VERSION)
    seen = examined(data, SIZE, printer("offset"))
    assert seen.faults == ()
    assert [one.resolution for one in seen.coarse] == (
        [] if resolution is None else [pytest.approx(resolution, abs=3)]
    )


@needs_ghostscript
def test_a_picture_prints_to_the_end_of_the_bleed_and_no_further(press: bytes, tmp_path: Path) -> None:
    """Where the cut may fall there is ink; outside there are the same marks on every plate, and the slug."""
    found = plates_of(press, tmp_path)
    with pikepdf.open(io.BytesIO(press)) as pdf:
        page = pdf.pages[0]
        media, bleed, trim = (
            [2 * float(edge) for edge in box] for box in (page.mediabox, page.bleedbox, page.trimbox)
        )
    high = found["Cyan"].height

    def share(left: float, foot: float, right: float, top: float) -> float:
        """Of the dots in a box, as its page has it: how many have some ink of a picture."""
        box = (round(left - media[0]), round(high - top + media[1]))
        box += (round(right - media[0]), round(high - foot + media[1]))
        part = ImageChops.darker(found["Cyan"], found["Yellow"]).crop(box)
        return inked(part) / (part.width * part.height)

    assert share(bleed[0] + 1, trim[3], bleed[2] - 1, bleed[3] - 1) > 0.99
    assert share(bleed[0] + 1, trim[3] - 40, trim[0], bleed[3]) > 0.99
    assert share(trim[2], trim[3] - 40, bleed[2] - 1, bleed[3]) > 0.99
    for plate in INKS:
        left, head = round(bleed[0] - media[0]) - 1, round(high - bleed[3] + media[1]) - 1
        right, foot = round(bleed[2] - media[0]) + 1, round(high - bleed[1] + media[1]) + 1
        found[plate].paste(255, (left, head, right, foot))
    assert found["Cyan"] == found["Magenta"] == found["Yellow"]
    assert 0 < inked(found["Cyan"]) < 1_500
    assert inked(ImageChops.difference(found["Black"], found["Cyan"]).point(lambda level: 255 - level)) > 500


def test_an_unknown_printer_lists_the_known() -> None:
    with pytest.raises(CardsmithError, match="printers: offset"):
        printer("letterpress")


def test_bleeds_are_exact() -> None:
    assert printer("offset").bleed == Fraction(3) * 720 / 254
    assert printer("offset-inch").bleed == 9


@pytest.mark.parametrize("name", PRINTERS)
def test_the_whole_bleed_is_drawn_and_nothing_past_it(
    name: str, layout: Layout, typesetter: Typesetter
) -> None:
    data = press_pdf(typesetter.write(layout.document), typesetter, SIZE, printer(name), VERSION)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            operators = [(str(one.operator), one.operands) for one in pikepdf.parse_content_stream(page)]
            at = next(place for place, (operator, _) in enumerate(operators) if operator == "re")
            assert [operator for operator, _ in operators[at + 1 : at + 3]] == ["W", "n"]
            left, foot, wide, high = (float(edge) for edge in operators[at][1])
            bleed = [float(edge) for edge in page.bleedbox]
            assert [left, foot, left + wide, foot + high] == pytest.approx(bleed, abs=0.001)


def test_a_cut_has_two_marks_at_each_corner_and_all_lead_away_from_it() -> None:
    lines = [
        tuple(float(number) for number in re.findall(r"-?[\d.]+", line))
        for line in cut_marks((0, 0, 100, 200), 9, 10).splitlines()
    ]
    beside = {(x0, x1, y0) for x0, y0, x1, y1 in lines if y0 == y1}
    above = {(x0, y0, y1) for x0, y0, x1, y1 in lines if x0 == x1}
    near, far = min(abs(x) for x, _, _ in beside), max(-x for _, x, _ in beside)
    assert near > 9
    assert far == near + 10
    assert beside == {
        (-near, -far, 0), (100 + near, 100 + far, 0), (-near, -far, 200), (100 + near, 100 + far, 200)
    }  # fmt: skip
    assert above == {
        (0, -near, -far), (100, -near, -far), (0, 200 + near, 200 + far), (100, 200 + near, 200 + far)
    }  # fmt: skip
