"""The patches change nothing that is set but where a line ends, and leave alone what they don't know."""

from __future__ import annotations

import ast
import ctypes.util
import importlib.util
import inspect
import io
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from math import inf
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pikepdf
import pytest

from cardsmith.render import weasyprint_patches, weasyprint_savings, weasyprint_styles
from cardsmith.render.typesetter import Typesetter

ROOT = Path(__file__).parents[2]
PAGE = (
    "<!DOCTYPE html><html lang=\"en\"><head><title>x</title><style>body { font-family: 'Fira Sans' } "
    ":root { --line: 1px solid; --gap: 3px } b { font-family: Spectral; border: var(--line) red } "
    "p { border: var(--line) teal; margin: var(--gap) 2px var(--none, 4px); padding: calc(2 * var(--gap)) }"
    "i { display: inline-block; width: 40%; min-width: 30px; margin-inline-start: 7px } "
    "u { text-decoration: underline } "
    "ol { border-left-style: solid; box-sizing: border-box; width: 60% } "
    "li::marker { color: red } "
    "small { border-radius: 2px 0 30%; border: 1px solid; position: relative } "
    "em { position: absolute; top: 0; border: 2px solid } "
    "h2 { position: running(head) } @page { @top-left { content: element(head) } }"
    "li { box-sizing: border-box; width: 90px; padding: 0 3px; border-inline-start-style: dotted } "
    "[dir] { direction: rtl; padding-inline-end: 9px; max-height: 90px; border-spacing: inherit }"
    "</style></head><body><h2>Zero</h2><p><em>Half</em>Two letters &amp; <b>three</b></p>"
    '<p dir="rtl">One <i>two</i> <u style="float: right; left: 5%">three</u></p>'
    '<p>Four<small style="float: footnote">five</small> <b style="line-height: 2lh">six</b></p>'
    "<ol><li>Seven<li>seven <u>and <b>eight</b></u><li><div style='width: 40%'>Nine"
    "<ol><li>ten</ol></div></ol></body></html>"
)
PLAINLY = """
import sys
from pathlib import Path
from cardsmith.render import typesetter
typesetter.load_weasyprint = lambda: None
setter = typesetter.Typesetter(Path(sys.argv[1]), Path(sys.argv[2]))
sys.stdout.buffer.write(setter.write(setter.lay_out(sys.argv[3], {}, styled=False)))
"""


def test_what_is_written_is_the_same(typesetter: Typesetter, templates: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-c", PLAINLY, str(templates), str(tmp_path), PAGE]
    plainly = subprocess.run(command, capture_output=True, check=True, cwd=ROOT).stdout
    assert plainly.startswith(b"%PDF")
    assert typesetter.write(typesetter.lay_out(PAGE, {}, styled=False)) == plainly


LINES = (
    *(
        "",
        "font-family: Spectral",
        "font-size: 9pt",
        "font-style: italic",
        "font-weight: bold",
        "direction: rtl",
    ),
    *("font-kerning: none", "font-variant-ligatures: none", "font-variant-caps: small-caps", "hyphens: auto"),
    *("font-variant-numeric: oldstyle-nums", "font-feature-settings: 'liga' 0", "letter-spacing: 1px"),
    *(
        "word-spacing: 4px",
        "white-space: nowrap",
        "white-space: pre",
        "overflow-wrap: anywhere",
        "tab-size: 2",
    ),
    *(
        "word-break: break-all",
        "hyphens: auto; hyphenate-character: '='",
        "width: 41px",
        "text-align: justify",
    ),
    *("hyphens: auto; hyphenate-limit-chars: 9 5 4", "hyphens: auto; hyphenate-limit-zone: 30px"),
    *("text-decoration: underline", 'hyphens: auto" lang="de', "display: table", "display: inline-block"),
)


def test_a_line_that_is_remembered_is_the_same(
    typesetter: Typesetter, templates: Path, tmp_path: Path
) -> None:
    """One text in every style that could end its first line elsewhere, or draw it in another way."""
    text = "an office\tconfectionery of 1230 flour"
    page = (
        "<html lang=en><head><title>x</title><style>p { font: 11pt 'Fira Sans'; width: 60px }</style></head>"
    )
    page += "".join(f'<p style="{line}">{text}</p>' for line in LINES * 2)
    command = [sys.executable, "-c", PLAINLY, str(templates), str(tmp_path), page]
    plainly = subprocess.run(command, capture_output=True, check=True, cwd=ROOT).stdout
    for _ in range(2):
        assert typesetter.write(typesetter.lay_out(page, {}, styled=False)) == plainly


def test_a_line_is_remembered_by_all_that_it_rests_on(typesetter: Typesetter) -> None:
    """What drawing works out anew, and the height of a line, are no part of where it ends."""
    from weasyprint.text import fonts, line_break  # noqa: PLC0415 - only where Pango is

    source = inspect.getsource(line_break) + inspect.getsource(fonts.get_font_description)
    asked = set(re.findall(r"style\['(\w+)'\]", source))
    assert asked - set(weasyprint_savings._OF_LINES) == {"line_height"}


WITHOUT_HARFBUZZ = """
import sys
from pathlib import Path
from cardsmith.render import typesetter
setter = typesetter.Typesetter(Path(sys.argv[1]), Path(sys.argv[2]))
setter.write(setter.lay_out(sys.argv[3], {}, styled=False))
unneeded = ("fontTools.subset", "fontTools.varLib.instancer")
assert not set(unneeded) & set(sys.modules), "they were loaded"
from weasyprint.pdf import fonts
options = fonts.subset.Options(notdef_outline=True)
thinner = fonts.subset.Subsetter(options)
import fontTools.subset, fontTools.varLib.instancer
assert type(options) is fontTools.subset.Options and type(thinner) is fontTools.subset.Subsetter
file = sorted(Path(sys.argv[1]).glob("fonts/**/*.?tf"))[0]
font = fonts.TTFont(file)
thinner.populate(glyphs=["A"])
thinner.subset(font)
assert "A" in font.getGlyphOrder() and len(font.getGlyphOrder()) < 9
try:
    fonts.instantiateVariableFont(fonts.TTFont(file), {})
except ValueError as refused:
    print(refused)
"""


def test_what_only_another_way_needs_is_loaded_when_it_is_called(
    typesetter: Typesetter, templates: Path, tmp_path: Path
) -> None:
    """A font without axes is refused by the very function that makes one of a font with some."""
    command = [sys.executable, "-c", WITHOUT_HARFBUZZ, str(templates), str(tmp_path), PAGE]
    done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=False)
    assert done.stderr == ""
    assert "fvar" in done.stdout


def test_other_libraries_are_still_looked_for(typesetter: Typesetter) -> None:
    """The search is off only while the typesetter is imported."""
    assert ctypes.util.find_library.__module__ == "ctypes.util"


def test_an_array_takes_its_length_from_its_values(typesetter: Typesetter) -> None:
    from weasyprint.text.ffi import ffi  # noqa: PLC0415 - only where Pango is

    assert list(ffi.new("int[3]", (1, 2, 3))) == [1, 2, 3]
    assert list(ffi.new("int[]", [4, 5])) == [4, 5]
    assert len(ffi.new("int[7]")) == 7
    assert ffi.typeof(ffi.new("int[2]", (1, 2))) is ffi.typeof(ffi.new("int[3]", (1, 2, 3)))


ANOTHER_VERSION = """
import sys
from importlib import metadata
from pathlib import Path
metadata.version = lambda name: "71.0"
from cardsmith.render import typesetter
setter = typesetter.Typesetter(Path(sys.argv[1]), Path(sys.argv[2]))
from weasyprint.layout import inline
from weasyprint.text import line_break
assert inline.split_first_line is line_break.split_first_line
sys.stdout.buffer.write(setter.write(setter.lay_out(sys.argv[3], {}, styled=False)))
"""


def test_a_declaration_is_read_once_for_each_of_the_values_put_in(typesetter: Typesetter) -> None:
    from weasyprint.css.tokens import Pending  # noqa: PLC0415 - only where Pango is

    read = []

    class Declared(Pending):  # type: ignore[misc]
        def validate(self, tokens: Any, wanted_key: str, base_url: str) -> object:
            read.append((*(token.text for token in tokens), wanted_key, base_url))
            return object()

    one, other = Declared([], "border"), Declared([], "border")
    asked = [
        ("red", "border-top", "a"),
        ("red", "border-left", "a"),
        ("red", "border-top", "b"),
        ("blue", "border-top", "a"),
    ]
    told = [
        declared.solve([SimpleNamespace(text=word, serialize=lambda word=word: word)], *of)
        for _ in range(2)
        for declared in (one, other)
        for word, *of in asked
    ]
    assert len(read) == len(set(told)) == 2 * len(asked)
    assert told[: len(told) // 2] == told[len(told) // 2 :]


def test_another_version_is_used_as_it_is(typesetter: Typesetter, templates: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-c", ANOTHER_VERSION, str(templates), str(tmp_path), PAGE]
    done = subprocess.run(command, capture_output=True, check=True, cwd=ROOT)
    assert done.stdout == typesetter.write(typesetter.lay_out(PAGE, {}, styled=False))
    note = b"WeasyPrint is used as it is: its version is 71.0, and cardsmith's patches are for 70.0"
    assert done.stderr.count(note) == 1


def _split_by_another_name(text: str, style: Any, room: float) -> None: ...


def _new_by_another_name(kind: str, values: Any) -> None: ...


class _Style:
    def __missing__(self, name: str) -> None: ...

    def set_computed_styles(self, element: Any) -> None: ...

    def __call__(self, element: Any) -> None: ...


@pytest.mark.parametrize(
    ("patch", "module", "note"),
    [
        (
            weasyprint_patches.fill_lines,
            SimpleNamespace(split_first_line=_split_by_another_name),
            "it splits lines in another way",
        ),
        (weasyprint_patches.fill_lines, SimpleNamespace(split_first_line=None), "it splits lines"),
        (
            weasyprint_patches.keep_words_whole,
            SimpleNamespace(split_inline_box=None, split_text_box=_split_by_another_name),
            "it divides words in another way",
        ),
        (
            weasyprint_savings.share_array_types,
            SimpleNamespace(ffi=SimpleNamespace(new=_new_by_another_name)),
            "cffi makes arrays in another way",
        ),
        (
            weasyprint_styles.take_undeclared,
            SimpleNamespace(ComputedStyle=_Style, AnonymousStyle=_Style),
            "it works out styles in another way",
        ),
        (
            lambda css: weasyprint_styles.style_marks_late(css, None),
            SimpleNamespace(StyleFor=_Style),
            "it works out styles of pseudo-elements in another way",
        ),
        (
            weasyprint_savings.measure_once,
            SimpleNamespace(
                get_font_description=_new_by_another_name,
                font_features=None,
                strut=None,
                get_next_break_point_from_text=None,
            ),
            "it describes fonts in another way",
        ),
        (
            weasyprint_patches.paint_faintly,
            SimpleNamespace(draw_node=_split_by_another_name),
            "it draws shapes in another way",
        ),
        (
            weasyprint_savings.take_lengths,
            SimpleNamespace(resolve_percentages=_split_by_another_name),
            "it works out lengths in another way",
        ),
        (
            weasyprint_savings.tell_flow_at_once,
            SimpleNamespace(is_in_normal_flow=_split_by_another_name),
            "it tells what is in normal flow in another way",
        ),
        (
            weasyprint_savings.leave_corners_square,
            SimpleNamespace(resolve_radii_percentages=_split_by_another_name),
            "it rounds corners in another way",
        ),
        (
            weasyprint_savings.remember_lines,
            SimpleNamespace(split_first_line=_split_by_another_name),
            "it splits lines in another way",
        ),
        (
            weasyprint_savings.find_characters_once,
            SimpleNamespace(characters_until_regex=[]),
            "it reads pages in another way",
        ),
    ],
)
def test_what_has_another_shape_is_left_alone(
    patch: Callable[[Any], None], module: SimpleNamespace, note: str
) -> None:
    before = repr(module)
    with pytest.warns(RuntimeWarning, match=f"WeasyPrint is used as it is: {note}"):
        patch(module)
    assert repr(module) == before


# --- when a drawing is written ------------------------------------------------------------------------

SHAPES = {
    '<circle cx="9" cy="9" r="5" fill="#c00" opacity="0.5"/>': (0, 0.5),
    '<path d="M1 1L9 9" fill="none" stroke="teal" stroke-width="2" opacity=".25"/>': (0, 0.25),
    '<rect width="9" height="9" style="opacity: 50%"/>': (0, 0.5),
    # Painted twice, by a gradient, in a group, or faint already: a drawing of its own.
    '<circle cx="9" cy="9" r="5" fill="#c00" stroke="#000" opacity="0.5"/>': (1, 0.5),
    '<rect width="9" height="9" fill="url(#fade)" opacity="0.5"/>': (2, 0.5),
    '<g opacity="0.5"><circle cx="9" cy="9" r="5"/></g>': (1, 0.5),
    '<g fill-opacity="0.5"><circle cx="9" cy="9" r="5" opacity="0.5"/></g>': (1, 0.5),
}
FADE = (
    '<defs><linearGradient id="fade"><stop offset="0" stop-color="#c00"/><stop offset="1" stop-color="#00c"/>'
    "</linearGradient></defs>"
)


@pytest.mark.parametrize(("shape", "wanted"), SHAPES.items())
def test_a_shape_that_is_painted_once_is_painted_faintly(
    shape: str, wanted: tuple[int, float], typesetter: Typesetter
) -> None:
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 20">{FADE}{shape}</svg>'
    page = '<html lang="en"><head><title>x</title></head><body><img src="photo/a.svg" alt="x"></body></html>'
    written = typesetter.write(typesetter.lay_out(page, {"a.svg": drawing.encode()}, styled=False))
    with pikepdf.open(io.BytesIO(written)) as pdf:
        forms = [one for one in pdf.objects if isinstance(one, pikepdf.Stream) and "/Group" in one]
        states = [
            float(state["/ca" if "/ca" in state else "/CA"])
            for one in pdf.objects
            if isinstance(one, pikepdf.Dictionary | pikepdf.Stream)
            for state in dict(one.get("/Resources", one).get("/ExtGState", {})).values()
            if "/ca" in state or "/CA" in state
        ]
    assert (len(forms), min(states)) == wanted


# --- where a line ends --------------------------------------------------------------------------------

QUARTERS = [quarter / 4 for quarter in range(640, 840)]  # points: by the space before the measure, and less


def lines(box: Any) -> Iterator[str]:
    if type(box).__name__ == "LineBox":
        yield words(box)
        return
    for child in getattr(box, "children", ()):
        yield from lines(child)


def words(box: Any) -> str:
    return getattr(box, "text", "") + "".join(map(words, getattr(box, "children", ())))


@pytest.mark.parametrize(
    ("text", "first"),
    [
        # Its space is dropped at the end of a line.
        (
            "enough to coat the spatula and reads <b>170&nbsp;°F</b> in the middle",
            "enough to coat the spatula",
        ),
        # A space that holds goes to the next line, with its word.
        ("temperature with parchment between. Do&nbsp;<b>not freeze</b>", "temperature with parchment"),
        (" Keep at room temperature, or in&nbsp;<b>a cold place</b>", "Keep at room temperature,"),
    ],
)
def test_no_line_ends_at_its_first_word(text: str, first: str, typesetter: Typesetter) -> None:
    paragraphs = "".join(f'<p style="width: {width}pt">{text}</p>' for width in QUARTERS)
    style = (
        '@page { size: 4in 400in; margin: 0 } body { font: 11pt "Fira Sans" } p { margin: 0; hyphens: auto }'
    )
    head = f'<html lang="en"><head><title>x</title><style>{style}</style></head>'
    document = typesetter.lay_out(f"{head}<body>{paragraphs}</body></html>", {}, styled=False)
    found = list(lines(document.pages[0]._page_box))
    assert len(found) == 2 * len(QUARTERS)
    assert all(line.startswith(first) for line in found[::2])


ITALIC = (
    "<i>From the moment the soda goes in you have about "
    '<span style="white-space: nowrap">a minute</span>&nbsp;to&nbsp;pour.</i>'
)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (ITALIC, "From the moment the soda goes in you have about a minute\u00a0to\u00a0pour."),
        ("<i>in a <b>pan</b>&nbsp;of&nbsp;sugar</i>", "in a pan\u00a0of\u00a0sugar"),
    ],
)
def test_no_word_is_divided_behind_what_a_line_holds_already(
    text: str, said: str, typesetter: Typesetter
) -> None:
    widths = [quarter / 4 for quarter in range(400, 840, 3)]
    broken = {piece for width in widths for piece in set_in(width, text, typesetter)} - set(_runs(said))
    assert broken == set()


def test_a_word_that_no_line_can_hold_is_divided(typesetter: Typesetter) -> None:
    """However deep in other elements it stands, and where the first line is indented."""
    for text in ("<i><b>Donaudampfschifffahrt</b></i>", "in <i><b>Donaudampfschifffahrt</b></i>"):
        for indent in ("0", "6pt"):
            found = set_in(60, f'<span style="text-indent: {indent}">{text}</span>', typesetter)
            assert len(found) > len(text.split("<")[0].split()) + 1
            assert "".join(found).replace(" ", "").endswith("Donaudampfschifffahrt")


def set_in(width: float, text: str, typesetter: Typesetter) -> list[str]:
    """The lines of a paragraph of so many points."""
    style = (
        '@page { size: 4in 40in; margin: 0 } p { margin: 0; font: 11pt "Fira Sans"; overflow-wrap: anywhere }'
    )
    head = f'<html lang="en"><head><title>x</title><style>{style}</style></head>'
    html = f'{head}<body><p style="width: {width}pt">{text}</p></body></html>'
    document = typesetter.lay_out(html, {}, styled=False)
    return [line.strip() for line in lines(document.pages[0]._page_box)]


def _runs(said: str) -> Iterator[str]:
    """Every run of whole words that a line may hold."""
    held = said.split(" ")
    for start in range(len(held)):
        for end in range(start, len(held)):
            yield " ".join(held[start : end + 1])


WIDTHS = {
    "layout/inline.py": {"available_width"},
    "layout/preferred.py": {"max_width", "None"},
    "svg/text.py": {"inf"},
}


def test_only_one_module_asks_what_fits_in_a_width() -> None:
    """It is enough to mend the search for a line's end there: the others ask with no room or endless room."""
    found = importlib.util.find_spec("weasyprint")
    assert found
    assert found.origin
    package = Path(found.origin).parent
    asked: dict[str, set[str]] = {}
    for file in package.rglob("*.py"):
        for call in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(call, ast.Call) and getattr(call.func, "id", "") == "split_first_line":
                name = file.relative_to(package).as_posix()
                asked.setdefault(name, set()).add(ast.unparse(call.args[3]))
    assert asked == WIDTHS
    preferred = (package / "layout/preferred.py").read_text(encoding="utf-8")
    given = {ast.unparse(node.value) for node in ast.walk(ast.parse(preferred)) if _sets_width(node)}
    assert "0 if minimum else None" in given


def _sets_width(node: ast.AST) -> bool:
    return isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "max_width"


@pytest.mark.parametrize("room", [0, None, inf])
def test_no_room_and_endless_room_are_left_alone(room: float | None) -> None:
    """As other modules ask: with no room a line ends at its first word, with endless room a text fits."""

    def split(
        text: str,
        style: Any,
        context: Any,
        max_width: float | None,
        justification_spacing: float,
        is_line_start: bool = True,
        minimum: bool = False,
    ) -> Any:
        return (max_width, len(text), 4 if max_width == 0 and text.endswith(" ") else None)

    module = SimpleNamespace(split_first_line=split)
    weasyprint_patches.fill_lines(module)
    given = ("two words ", {"font_size": 11}, None, room, 0)
    assert module.split_first_line is not split
    assert module.split_first_line(*given) == split(*given)
