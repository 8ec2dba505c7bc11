"""Bombs, torn files, drawings that run or ask: a build says which picture, what is wrong and what to do."""

from __future__ import annotations

import io
import json
import os
import re
import struct
import subprocess
import sys
import warnings
import zlib
from fractions import Fraction
from pathlib import Path

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from cardsmith.commands.terminal import FOUND
from cardsmith.render.pictures.prepare import Box, PictureRefused, inspect, ready
from cardsmith.render.typesetter import Typesetter
from tests.demo import copy_templates
from tests.pace import within

ROOT = Path(__file__).parents[2]
SQUARE = Box(width=Fraction(72), height=Fraction(72))  # one inch: 300 dots
SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 4 3">'
USES = "".join(
    f'<g id="a{one}"><use href="#a{one - 1}"/><use href="#a{one - 1}"/></g>' for one in range(1, 40)
)
FILLS = "".join(
    f'<pattern id="p{one}"><path fill="url(#p{one - 1})"/><path style="fill:url(#p{one - 1})"/></pattern>'
    for one in range(1, 40)
)


def chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width: int, height: int, *more: bytes) -> bytes:
    """A PNG that claims a size; its few bytes unpack to nothing like it. W3C, PNG, 5.3 and 11.2."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = (chunk(b"IHDR", head), *more, chunk(b"IDAT", zlib.compress(b"\0" * 1_000)), chunk(b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


def jpeg(width: int = 40, height: int = 30) -> bytes:
    out = io.BytesIO()
    Image.linear_gradient("L").resize((40, 30)).convert("RGB").save(out, "JPEG")
    data, at = out.getvalue(), out.getvalue().index(b"\xff\xc0")  # its frame: ITU-T T.81, B.2.2
    return data[: at + 5] + struct.pack(">HH", height, width) + data[at + 9 :]


def saved(kind: str, mode: str = "RGB") -> bytes:
    out = io.BytesIO()
    Image.new(mode, (40, 30)).save(out, kind)
    return out.getvalue()


BOMB = zlib.compress(b"\0" * 50_000_000)
PHOTOS: dict[str, tuple[bytes, str, str]] = {
    "huge.png": (png(60_000, 60_000), "has far more dots than a photo", "scale it down"),
    "large.png": (png(12_000, 10_000), "has 12000 × 10000 dots, over 100 million", "scale it down"),
    "largest.png": (png(2**31 - 1, 2**31 - 1), "dots than a photo", "scale it down"),
    "none.png": (png(0, 0), "", "export it"),
    "huge.jpg": (jpeg(65_500, 65_500), "has far more dots", "scale it down"),
    "claims.png": (png(4_000, 3_000), "is broken", "export it once more"),
    "profile.png": (png(40, 30, chunk(b"iCCP", b"a\0\0" + BOMB)), "", "export it once more"),
    "notes.png": (png(40, 30, *[chunk(b"zTXt", b"a\0\0" + BOMB)] * 3), "", "export it once more"),
    "torn.jpg": (jpeg()[:-60], "is broken", "export it once more"),
    "torn.png": (saved("PNG")[:-40], "is broken", "export it once more"),
    "head.jpg": (saved("JPEG")[:20], "", "export it"),
    "empty.jpg": (b"", "is not a JPEG, PNG or SVG", "export it as one of these"),
    "other.jpg": (saved("PNG"), "is a PNG", "name it other.png"),
    "other.png": (saved("JPEG"), "is a JPEG", "name it other.jpg"),
    "gif.png": (saved("GIF"), "is not a JPEG, PNG or SVG", "export it as one of these"),
    "tiff.jpg": (saved("TIFF"), "is not a JPEG, PNG or SVG", "export it as one of these"),
    "page.jpg": (b"<html><script>1</script>", "is not a JPEG, PNG or SVG", "export it as one of these"),
    "ink.jpg": (saved("JPEG", "CMYK"), "is in CMYK without a profile", "save it as sRGB"),
    "grey.png": (saved("PNG", "I;16"), "has 16 or more bits of grey", "8 bits a channel"),
    "heavy.jpg": (saved("JPEG") + b"\0" * 40_000_000, "has 40 MB, over 40", "save it as JPEG"),
    "photo.svg": (saved("PNG"), "is not an SVG drawing in UTF-8", "export it once more"),
    "page.svg": (b"<html><body/></html>", "is not an SVG drawing", "export it once more"),
    "torn.svg": (SVG.encode(), "is not a complete SVG drawing", "export it once more"),
    "wide.svg": (SVG.encode("utf-16"), "is not an SVG drawing in UTF-8", "export it once more"),
    "latin.svg": (f'<?xml version="1.0" encoding="latin1"?>{SVG}</svg>'.encode(), "is in latin1", "in UTF-8"),
    "heavy.svg": (SVG.encode() + b" " * 2_100_000, "has 2 MB, over 2", "simplify it"),
    "entities.svg": (
        f'<!DOCTYPE svg [<!ENTITY a "{"x" * 99}"><!ENTITY b "&a;&a;&a;&a;">]>{SVG}&b;</svg>'.encode(),
        "holds entities",
        "save it as a plain drawing",
    ),
    "entity.svg": (
        f'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>{SVG}&a;</svg>'.encode(),
        "holds entities",
        "save it as a plain drawing",
    ),
}  # fmt: skip
DASH = "stroke:red;stroke-dasharray:0.0005"
FINE = 'stroke="red" stroke-dasharray="0.0005"'
TILES = '<pattern id="e" {}><path d="M0 0H1"/></pattern>'
TILED = TILES + '<rect width="900000" height="900000" fill="url(#e)"/>'
DRAWN: dict[str, tuple[str, str]] = {
    "uses": (f'<path id="a0"/>{USES}', "draws over 5,000 shapes"),
    "fills": (f'<pattern id="p0"/>{FILLS}<path fill="url(#p39)"/>', "draws over 5,000 shapes"),
    "itself": ('<g id="a"><use href="#a"/></g>', "draws itself within itself"),
    "deep": ("<g>" * 20_000 + "</g>" * 20_000, "over 60 deep within"),
    "chain": ("".join(f'<use id="a{n}" href="#a{n - 1}"/>' for n in range(80)), "over 60 deep"),
    "script": ("<script>1</script>", "holds a script"),
    "script-by-another-name": ('<s:script xmlns:s="http://www.w3.org/2000/svg"/>', "holds a script"),
    "page-script": ('<h:script xmlns:h="http://www.w3.org/1999/xhtml">1</h:script>', "holds <script>"),
    "load": ('<rect onload="x()"/>', "holds a script"),
    "moving": ('<animate attributeName="x"/>', "holds what moves"),
    "foreign": ("<foreignObject/>", "holds foreign objects"),
    "link": ('<a href="javascript:x()"><rect/></a>', "holds a link"),
    "words": ("<text>Rye</text>", "holds words as type"),
    "inner": ('<image href="data:image/png;base64,AAAA"/>', "holds a picture within"),
    "inner-file": ('<image xlink:href="file:///etc/hostname"/>', "holds a picture within"),
    "remote-use": ('<use href="http://h.invalid/a.svg#a"/>', "asks for another file (http://h.invalid/a.svg#a)"),
    "file-use": ('<use xlink:href="other.svg#a"/>', "asks for another file (other.svg#a)"),
    "remote-fill": ('<rect fill="url(http://h.invalid/a#b)"/>', "asks for another file"),
    "hidden-fill": ('<rect style="fill:u\\72l(http://h.invalid)"/>', "hides what it asks for"),
    "base": ('<g xml:base="http://h.invalid/"/>', "asks for another file"),
    "import": ('<style>@import "a.css";</style>', "asks for another file"),
    "style": ("<style>a{fill:url(http://h.invalid)}</style>", "asks for another file"),
    "style-of-fills": ('<style>a{fill:url(#p)}</style><pattern id="p"/>', "style that draws with a pattern"),
    "filter": ('<filter id="f"/>', "holds <filter>, which the printed card would not show"),
    "dashes": (f'<path {FINE} d="M0 0H900000"/>', "has lines of over 50,000 dashes"),
    "dashes-of-a-group": (f'<g {FINE}><circle r="400000"/></g>', "has lines of over 50,000 dashes"),
    "dashes-of-a-style": (f'<line style="{DASH}" x2="900000"/>', "has lines of over 50,000 dashes"),
    "dashes-of-a-sheet": (
        f"<style>.a{{{DASH}}} .b{{stroke-dasharray:9000}}</style><rect width=\"9e5\" height=\"1\"/>",
        "has lines of over 50,000 dashes",
    ),
    "dashes-as-often-as-used": (
        '<path id="a" stroke="red" stroke-dasharray="1 1" d="M0 0h20000"/>' + '<use href="#a"/>' * 4,
        "has lines of over 50,000 dashes",
    ),
    "tiles": (TILED.format('width="0.0005" height="0.0005"'), "has patterns of over 50,000 pieces"),
    "tiles-in-units": (
        TILED.format('patternUnits="userSpaceOnUse" width="9" height="9"'), "patterns of over 50,000"
    ),
    "tiles-made-small": (
        TILED.format('width="1" height="1" patternTransform="rotate(9)scale(.001)"'), "of over 50,000"
    ),
    "tiles-by-another": (
        '<pattern id="o" width=".001" height=".001"/>' + TILED.format('href="#o"'), "of over 50,000"
    ),
    "tiles-inherited": (
        TILES.format('width=".001" height=".001"') + '<g fill="url(#e)"><rect width="9" height="9"/></g>',
        "of over 50,000",
    ),
    "stripes": (
        '<linearGradient id="g" x2=".000001" spreadMethod="repeat"/><rect fill="url(#g)"/>', "repeats itself"
    ),
    "vast": ('<rect width="1e300" height="1"/>', "has a number too large (width)"),
    "far": ('<path d="M0 0L123456789 1"/>', "has a number too large (d)"),
}  # fmt: skip
PHOTOS |= {f"{name}.svg": (f"{SVG}{body}</svg>".encode(), what, "") for name, (body, what) in DRAWN.items()}
SIZES = {"0 0 4": "four numbers", "0 0 nan 3": "four numbers", "0 0 -4 3": "-4 by 3", "0 0 4 0": "4 by 0",
         "0 0 9999999 9999999": "1e+07 by 1e+07", "0 0 4000 3": "4000 by 3"}  # fmt: skip
PHOTOS |= {
    f"size-{number}.svg": (f"{SVG.replace('0 0 4 3', box)}</svg>".encode(), what, "")
    for number, (box, what) in enumerate(SIZES.items())
}
STYLED = '<?xml-stylesheet href="http://h.invalid/a.css"?>'
PHOTOS["instructed.svg"] = (
    f"{STYLED}{SVG}</svg>".encode(),
    "holds an instruction",
    "save it as a plain drawing",
)


@pytest.fixture(scope="module")
def typesetter(tmp_path_factory: pytest.TempPathFactory) -> Typesetter:
    return Typesetter(ROOT / "templates", tmp_path_factory.mktemp("scratch"))


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, str]]:
    """What one build says of the picture of each recipe, by the picture's name."""
    root = tmp_path_factory.mktemp("pictures")
    copy_templates(root / "templates")
    text = (ROOT / "recipes/mustard-dressing/recipe.yaml").read_text(encoding="utf-8")
    for number, (name, (data, _, _)) in enumerate(PHOTOS.items()):
        folder = root / "recipes" / f"dressing-{number}"
        folder.mkdir(parents=True)
        (folder / name).write_bytes(data)
        named = text.replace("file: mustard-dressing.svg", f"file: {name}")
        (folder / "recipe.yaml").write_text(named, encoding="utf-8")
    command = [sys.executable, "-W", "error", "-m", "cardsmith", "build", "--serial", "--json"]
    ran = subprocess.run(
        command,
        cwd=root,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == FOUND, ran.stderr
    assert "Traceback" not in ran.stderr
    assert not list(root.glob("build/cards/*/*"))
    found = [one for one in json.loads(ran.stdout)["findings"] if one["name"] == "photo-refused"]
    return {one["what"].partition(" ")[0]: one for one in found}


@pytest.mark.parametrize("name", PHOTOS)
def test_a_build_refuses_it_with_what_to_do(name: str, told: dict[str, dict[str, str]]) -> None:
    _, what, instead = PHOTOS[name]
    assert what in told[name]["what"]
    assert instead in told[name]["instead"]
    assert told[name]["instead"]
    assert told[name]["severity"] == "error"
    assert len(told[name]["what"]) < 200


@pytest.mark.parametrize("name", PHOTOS)
def test_it_is_refused_inside_a_second(name: str) -> None:
    with within(1), pytest.raises(PictureRefused, match=re.escape(name)):
        inspect(name, PHOTOS[name][0])


def test_notes_that_are_damaged_are_no_concern_of_a_card() -> None:
    notes = b"Exif\0\0II*\0\x08\0\0\0\xff\xff\x12\x01\x03\0\x01\0"
    torn = b"\xff\xd8\xff\xe1" + struct.pack(">H", len(notes) + 2) + notes + saved("JPEG")[2:]
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert ready("a.jpg", torn, "", SQUARE)


def test_a_photo_far_larger_than_its_place_keeps_its_colours() -> None:
    """It is brought nearer before its colours are worked on; what is transparent must not stain the rest."""
    picture = Image.new("RGBA", (2_400, 2_400), (255, 0, 0, 0))
    picture.paste((0, 0, 255, 255), (0, 0, 1_200, 2_400))
    out = io.BytesIO()
    picture.save(out, "PNG")
    made = Image.open(io.BytesIO(ready("a.png", out.getvalue(), "", SQUARE)))
    assert made.size == (300, 300)
    colours = [made.getpixel((across, 150)) for across in (10, 145, 155, 290)]
    wanted = [(0, 0, 255), (0, 0, 255), (255, 255, 255), (255, 255, 255)]
    for colour, one in zip(colours, wanted, strict=True):
        assert isinstance(colour, tuple)
        assert all(abs(a - b) < 12 for a, b in zip(colour, one, strict=True)), (colours, wanted)


def test_a_photo_of_nothing_but_grain_is_made_ready() -> None:
    grain = Image.effect_noise((600, 600), 200)
    out = io.BytesIO()
    Image.merge("RGB", (grain, grain.rotate(90), grain.rotate(180))).save(out, "PNG")
    made = ready("a.png", out.getvalue(), "", SQUARE)
    assert Image.open(io.BytesIO(made)).size == (300, 300)


@pytest.mark.parametrize("file", sorted(ROOT.glob("recipes/*/*.svg")), ids=lambda file: file.name)
def test_drawings_of_the_demo_pass(file: Path) -> None:
    inspect(file.name, file.read_bytes())


@pytest.mark.parametrize(
    "drawn",
    [
        '<defs><linearGradient id="g"/></defs><style>.a{fill:url(#g)}</style><path class="a" d="M0 0L4 3"/>',
        '<symbol id="s"><circle r="1"/></symbol><use xlink:href="#s"/><use href="#s" x="2"/>',
        '<metadata><r:RDF xmlns:r="http://www.w3.org/1999/02/22-rdf-syntax-ns#"/></metadata>',
        '<n:notes xmlns:n="urn:notes" n:file="C:\\a.svg" n:onward="1"/>',
        '<path fill="#12345678" stroke="#1e9" d="M0 0L.00000000001 3"/>',
        '<path stroke="red" stroke-dasharray=".1 .1" d="M0 0L4 3a1 1 0 011 1z"/>',
        '<g stroke-dasharray="none"><path stroke="red" d="M0 0H900000"/></g>',
        '<pattern id="p" width="10%" height="10%"><path d="M0 0H1"/></pattern>'
        '<g fill="url(#p)"><rect width="100%" height="100%"/></g>',
        '<pattern id="p" patternUnits="userSpaceOnUse" width=".2" height=".2" patternTransform="rotate(45)">'
        '<path d="M0 0H1" stroke="red"/></pattern><rect fill="url(#p)" width="100%" height="100%"/>',
    ],
)
def test_a_plain_drawing_passes(drawn: str) -> None:
    inspect("a.svg", f"{SVG}{drawn}</svg>".encode())


def test_only_shapes_go_out() -> None:
    """What an editor leaves in a drawing may name a person, a machine, a client."""
    drawn = (
        f'<?xml version="1.0"?><!-- SECRET -->{SVG[:-1]} xmlns:n="urn:SECRET" n:doc="SECRET" '
        'data-name="SECRET" id="SECRET"><title>SECRET</title><desc>SECRET</desc><metadata><r:RDF '
        'xmlns:r="http://www.w3.org/1999/02/22-rdf-syntax-ns#" r:about="SECRET">SECRET</r:RDF></metadata>'
        "<style>/* SECRET */ .a{fill:red;-n-font:SECRET} @media SECRET{.a{fill:blue}}</style>"
        "<n:view>SECRET</n:view>"
        '<g id="kept" aria-label="SECRET" style="stroke:blue;-n-specification:SECRET/* SECRET */">'
        '<path class="a" d="M0 0L1 1" sodipodi="SECRET"/>SECRET</g><use href="#kept" x="1"/></svg>'
    )
    assert inspect("a.svg", drawn.encode()).decode() == (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 3"><style>.a{fill:red}</style>'
        '<g id="kept" style="stroke:blue"><path class="a" d="M0 0L1 1"></path></g>'
        '<use href="#kept" x="1"></use></svg>'
    )


@pytest.mark.parametrize("file", sorted(ROOT.glob("recipes/*/*.svg")), ids=lambda file: file.name)
def test_what_goes_out_is_drawn_as_the_drawing_is(file: Path, typesetter: Typesetter) -> None:
    body = '<img alt="x" src="photo/a.svg">'
    page = f'<!DOCTYPE html><html lang="en"><head><title>x</title></head><body>{body}</body></html>'
    whole = file.read_bytes()
    first, second = (
        typesetter.write(typesetter.lay_out(page, {"a.svg": data}, styled=False))
        for data in (whole, inspect(file.name, whole))
    )
    assert first == second


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_of_a_photo_only_its_dots_go_out(kind: str) -> None:
    out = io.BytesIO()
    notes = PngInfo()
    notes.add_text("Comment", "SECRET")
    exif = Image.Exif()
    exif[0x013B] = "SECRET"  # the artist: Exif 2.32, 4.6.4
    given = {"comment": b"SECRET", "exif": exif, "xmp": b"SECRET"} if kind == "JPEG" else {"pnginfo": notes}
    Image.new("RGB", (400, 300)).save(out, kind, **given)
    assert b"SECRET" in out.getvalue()
    made = ready("a.jpg" if kind == "JPEG" else "a.png", out.getvalue(), "", SQUARE)
    assert b"SECRET" not in made
    assert not {"comment", "exif", "xmp"} & set(Image.open(io.BytesIO(made)).info)
