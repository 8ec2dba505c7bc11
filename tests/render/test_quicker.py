"""The shortcuts change nothing of what is written, and leave the interpreter as it was."""

from __future__ import annotations

import ctypes.util
import subprocess
import sys
from pathlib import Path

from cardsmith.render.typesetter import Typesetter

ROOT = Path(__file__).parents[2]
PAGE = (
    "<!DOCTYPE html><html lang=\"en\"><head><title>x</title><style>body { font-family: 'Fira Sans' } "
    "b { font-family: Spectral }</style></head><body><p>Two letters &amp; <b>three</b></p></body></html>"
)
PLAINLY = """
import sys
from pathlib import Path
from cardsmith.render import typesetter
typesetter.quicken = lambda: None
setter = typesetter.Typesetter(Path(sys.argv[1]), Path(sys.argv[2]))
sys.stdout.buffer.write(setter.write(setter.lay_out(sys.argv[3], {}, styled=False)))
"""


def test_what_is_written_is_the_same(typesetter: Typesetter, templates: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-c", PLAINLY, str(templates), str(tmp_path), PAGE]
    plainly = subprocess.run(command, capture_output=True, check=True, cwd=ROOT).stdout
    assert plainly.startswith(b"%PDF")
    assert typesetter.write(typesetter.lay_out(PAGE, {}, styled=False)) == plainly


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
