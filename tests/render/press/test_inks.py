"""Inks as the plates of a press show them, drawn by Ghostscript."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from pikepdf import Dictionary, Name
from PIL import Image

from cardsmith.house.printers import printer
from cardsmith.render.press.content import painted
from cardsmith.render.press.conversion import into_inks
from cardsmith.render.press.inks import BLACK, inked, inks_of
from cardsmith.render.typesetter import Typesetter
from tests.render.press.plates import levels, needs_ghostscript, plates_of

OFFSET = printer("offset")


def on_a_page(typesetter: Typesetter, body: str) -> bytes:
    """A page of one inch with a box of the house's colour all over, and ``body`` on it, in inks."""
    html = (
        '<!DOCTYPE html><html lang="en"><head><title>x</title><style>@page { size: 72pt; margin: 0 } '
        "body { margin: 0; font: 30pt/72pt 'Fira Sans'; text-align: center; color: #111111 } "
        "div { height: 72pt; background: #17525c }</style></head><body><div>" + body + "</div></body></html>"
    )
    laid_out = typesetter.lay_out(html, {}, styled=False)
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(typesetter.write(laid_out, "pdf/x-4"))) as pdf:
        into_inks(pdf, OFFSET)
        pdf.save(out)
    return out.getvalue()


@needs_ghostscript
def test_black_text_prints_over_its_tint(typesetter: Typesetter, tmp_path: Path) -> None:
    """The plates below it are as if it were not there; with overprint off, they show its letters in white."""
    data = on_a_page(typesetter, "noon")
    drawn = plates_of(data, tmp_path)
    assert all(len(levels(drawn[ink])) == 1 for ink in ("Cyan", "Magenta", "Yellow"))
    assert min(levels(drawn["Black"])) < 3
    knocked_out = plates_of(data, tmp_path, overprint="disable")
    assert all(max(levels(knocked_out[ink])) > 250 for ink in ("Cyan", "Magenta", "Yellow"))


@needs_ghostscript
def test_white_text_is_left_out_of_every_plate(typesetter: Typesetter, tmp_path: Path) -> None:
    drawn = plates_of(on_a_page(typesetter, '<span style="color: white">noon</span>'), tmp_path)
    assert all(max(levels(plate)) > 250 for plate in drawn.values())


@pytest.mark.parametrize(
    "body",
    [
        "noon",
        '<span style="color: white">a</span>b<span style="color: white">c</span>',
        'a<span style="background: white; color: white">b</span>c',
        'a<svg width="9" height="9"><rect width="9" height="9" fill="#ffffff"/></svg>b',
        '<span style="opacity: 0.5">a</span>b',
        'a<span style="border: 1pt solid white">b</span>',
        'a<span style="background: linear-gradient(90deg, #ffffff, #17525c)">b</span>c',
    ],
)
def test_only_black_text_overprints(body: str, typesetter: Typesetter) -> None:
    """Whatever stands beside it, before it or after."""
    with pikepdf.open(io.BytesIO(on_a_page(typesetter, body))) as pdf:
        things = list(painted(pdf.pages[0]))
    assert any(one.what == "text" for one in things)
    for one in things:
        assert one.overprints is (one.what == "text" and one.inks == BLACK)


@pytest.mark.parametrize(
    ("colour", "inks"),
    [
        ((0.0, 0.0, 0.0), (0, 0, 0, 1)),
        ((1.0, 1.0, 1.0), (0, 0, 0, 0)),
        ((0.5,), (0, 0, 0, 0.5)),
        ((0.1, 0.2, 0.3, 0.4), (0.1, 0.2, 0.3, 0.4)),
    ],
)
def test_greys_are_black_ink_and_inks_stay(colour: tuple[float, ...], inks: tuple[float, ...]) -> None:
    assert inks_of(colour, OFFSET) == pytest.approx(inks, abs=0.005)


def test_a_colour_without_a_row_goes_through_the_profile() -> None:
    """Red is magenta and yellow, on any press."""
    cyan, magenta, yellow, black = inks_of((1.0, 0.0, 0.0), OFFSET)
    assert (cyan, black) == pytest.approx((0, 0), abs=0.03)
    assert min(magenta, yellow) > 0.9


def test_the_highest_level_of_an_ink_is_all_of_it() -> None:
    """The profile answers in levels from 0 to 255, and the press file states shares to a thousandth."""
    levels = inked(Image.new("RGB", (1, 1), (255, 0, 0)), OFFSET).getpixel((0, 0))
    assert [share * 255 for share in inks_of((1.0, 0.0, 0.0), OFFSET)] == pytest.approx(levels, abs=0.13)


def test_a_photo_gives_up_just_the_ink_that_the_press_cannot_take() -> None:
    """Of cyan, magenta and yellow alike; black stays, and a photo within the limit stays as it is."""
    dark = Image.new("RGB", (4, 4), (20, 12, 8))
    full = inked(dark, replace(OFFSET, ink_limit=Fraction(4))).getpixel((0, 0))
    limit = Fraction(5, 2)
    assert sum(full) > limit * 255
    thin = inked(dark, replace(OFFSET, ink_limit=limit)).getpixel((0, 0))
    assert thin[3] == full[3]
    assert limit * 255 - 3 < sum(thin) <= limit * 255
    shares = [some / all_of_it for some, all_of_it in zip(thin[:3], full[:3], strict=True)]
    assert max(shares) - min(shares) < 0.02
    light = Image.new("RGB", (4, 4), (200, 180, 160))
    pale = [inked(light, printer).getpixel((0, 0)) for printer in (OFFSET, replace(OFFSET, ink_limit=limit))]
    assert pale[0] == pale[1]


def test_a_gradient_runs_from_inks_to_inks(typesetter: Typesetter) -> None:
    body = '<span style="background: linear-gradient(90deg, #ffffff, #17525c, #b5472a)">b</span>'
    with pikepdf.open(io.BytesIO(on_a_page(typesetter, body))) as pdf:
        shadings = [
            item
            for item in pdf.objects
            if isinstance(item, Dictionary) and item.get(Name.ShadingType) is not None
        ]
        assert shadings
        for shading in shadings:
            ends = [end for part in _parts(shading.Function) for end in (part.C0, part.C1)]
            assert shading.ColorSpace == Name.DeviceCMYK
            assert {len(end) for end in ends} == {4}
            assert {tuple(map(float, end)) for end in ends} >= {(0, 0, 0, 0)}


def _parts(function: Any) -> Iterator[Any]:
    """The functions of two ends that a gradient is put together from."""
    inner = list(function.get(Name.Functions, ()))
    for part in inner:
        yield from _parts(part)
    if not inner:
        yield function
