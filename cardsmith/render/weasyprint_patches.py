"""WeasyPrint as cardsmith uses it: imported without needless work, and mended in one place.

Each patch says which behaviour of WeasyPrint it is there for, and what it relies on. Where that has changed,
WeasyPrint is left as it is, with a warning: cards are made more slowly, or some of their lines end early.
"""

from __future__ import annotations

import ctypes.util
import os
import sys
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib import import_module, metadata
from pathlib import Path
from types import ModuleType
from typing import Any

from cardsmith.render.typeset import NO_BREAK
from cardsmith.render.weasyprint_guards import SPLITS, left_out, takes
from cardsmith.render.weasyprint_savings import apply_savings

VERSION = "70.0"  # of WeasyPrint, whose source each patch was written against
_NO_FONTS = Path(__file__).with_name("no-fonts.conf")
_SELDOM = ("fontTools.subset", "fontTools.varLib.instancer")
_NARROW = 0.3  # em: no line of text has letters so narrow, so that a longer text needs no second look


@cache
def load_weasyprint() -> None:
    """Import WeasyPrint and patch it, once a process; its libraries must be there.

    At import it lists the fonts of the machine, which no card may have, and has fontconfig note them down in
    the user's own folders: it is given none to list.
    """
    version = metadata.version("weasyprint")
    known = version == VERSION
    with fonts_by(_NO_FONTS), warnings.catch_warnings():
        warnings.filterwarnings("ignore", "No fonts configured")
        _import_quickly() if known else import_module("weasyprint")
    if not known:
        left_out(f"its version is {version}, and cardsmith's patches are for {VERSION}")
        return
    from weasyprint.layout import inline  # noqa: PLC0415 - 0.4 s that only PDF needs
    from weasyprint.svg import SVG  # noqa: PLC0415

    apply_savings()
    paint_faintly(SVG)
    fill_lines(inline)
    keep_words_whole(inline)


@contextmanager
def fonts_by(file: Path) -> Iterator[None]:
    """Fontconfig takes its fonts by this file, which it reads when a list of fonts is asked for."""
    before = os.environ.get("FONTCONFIG_FILE")
    os.environ["FONTCONFIG_FILE"] = str(file)
    try:
        yield
    finally:
        if before is None:
            del os.environ["FONTCONFIG_FILE"]
        else:
            os.environ["FONTCONFIG_FILE"] = before


# --- at import ----------------------------------------------------------------------------------------


def _import_quickly() -> None:
    """Import WeasyPrint in half the time.

    Behaviour: it tries the names that its libraries have on every system, and for each that is not there
    cffi asks compiler and linker, by running them (0.3 s of 0.9); and it loads what thins out a font where
    HarfBuzz can't (0.2 s).
    Relies on: Linux's loader, which finds each library by one of the names; and that WeasyPrint only calls
    what is loaded late.
    """
    with _no_search(), _loaded_when_called(*_SELDOM):
        import_module("weasyprint")


@contextmanager
def _no_search() -> Iterator[None]:
    """Libraries are opened by name or not at all; on Linux the loader knows where they are."""
    search = ctypes.util.find_library
    if sys.platform == "linux":
        ctypes.util.find_library = lambda name: None
    try:
        yield
    finally:
        ctypes.util.find_library = search


class _Later(ModuleType):
    """Stands for a module whose functions and classes are only ever called, which then loads it."""

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):
            raise AttributeError(name)

        def called(*given: Any, **named: Any) -> Any:
            return getattr(import_module(self.__name__), name)(*given, **named)

        return called


@contextmanager
def _loaded_when_called(*names: str) -> Iterator[None]:
    """Modules imported meanwhile that are loaded when something of them is called; those after, at once."""
    left = {name: _Later(name) for name in names if name not in sys.modules}
    sys.modules.update(left)
    try:
        yield
    finally:
        for name in left:
            del sys.modules[name]


# --- when a drawing is written ------------------------------------------------------------------------


def paint_faintly(drawing: Any) -> None:
    """Have a shape that is painted once, filled or lined, painted as faintly as its ``opacity`` says.

    Behaviour: WeasyPrint draws each shape with an opacity as a drawing of its own, which is then placed: a
    hundred in a picture of a card, each to be written, converted for a press and examined. Where only one
    thing is painted, an opacity is that of the paint (SVG 2, 13.1 and CSS Color 4, 2, from memory).
    Relies on: ``draw_node``, which asks a node for these attributes when it draws it. A gradient or a pattern
    stays as it is: it has no paint of one opacity.
    """
    draw_node = drawing.draw_node
    if not takes(draw_node, "self", "node", "font_size", "fill_stroke", "context"):
        left_out("it draws shapes in another way")
        return

    def drawn(self: Any, node: Any, font_size: Any, fill_stroke: bool = True, context: Any = None) -> None:
        if fill_stroke and "opacity" in node.attrib and node.tag in _SHAPES:
            paints = {kind: node.get(kind, first) for kind, first in _PAINTS.items()}
            seen = [kind for kind, paint in paints.items() if paint != "none"]
            alone = len(seen) == 1 and "(" not in paints[seen[0]] and not _MORE & node.attrib.keys()
            if alone and f"{seen[0]}-opacity" not in node.attrib:
                node.attrib[f"{seen[0]}-opacity"] = node.attrib.pop("opacity")
        draw_node(self, node, font_size, fill_stroke, context)

    drawing.draw_node = drawn


_SHAPES = frozenset({"circle", "ellipse", "line", "path", "polyline", "polygon", "rect"})
_PAINTS = {"fill": "black", "stroke": "none"}
_MORE = frozenset({"mask", "filter", "marker", "marker-start", "marker-mid", "marker-end"})


# --- where a line ends --------------------------------------------------------------------------------


def fill_lines(inline: Any) -> None:
    """Have a line filled whose text fits but for the space at its end.

    Behaviour: where a text ends on a space and goes on in another element (a measure), and all of it fits on
    a line but for that space, ``split_first_line`` takes it for one that can't be broken: it ends the line
    after the first word, or within the first that is long enough for a hyphen.
    Relies on: the parameters of ``split_first_line``, and that it answers with six values, the third of which
    says where the next line begins. ``layout/inline.py`` alone asks it what fits in some width; the widths of
    tables and floats (``layout/preferred.py``) and the text of drawings (``svg/text.py``) ask with no room at
    all or with endless room, where this patch changes nothing.
    """
    split = inline.split_first_line
    if not takes(split, *SPLITS):
        left_out("it splits lines in another way")
        return

    def filled(text: str, style: Any, context: Any, room: float | None, *given: Any, **named: Any) -> Any:
        line = split(text, style, context, room, *given, **named)
        seen = text.rstrip(f" {NO_BREAK}")
        if line[2] is None or text == seen or len(seen) * _NARROW * style["font_size"] > room:
            return line
        if split(seen, style, context, room, *given, **named)[2] is not None:
            return line
        if text.endswith(" "):  # it hangs over the edge, where the caller looks for it and drops it
            return split(text, style, context, None, *given, **named)
        head, space, _ = text.rpartition(" ")
        layout, length, _, *sizes = split(head.rstrip(" "), style, context, None, *given, **named)
        return (layout, length, len((head + space).encode()), *sizes) if head.strip() else line

    inline.split_first_line = filled


def keep_words_whole(inline: Any) -> None:
    """Have a word divided between any letters only where no line could hold it: at the start of one.

    Behaviour: where ``overflow-wrap`` is ``anywhere``, a text is taken to start a line if nothing stands
    before it but an element that it is in, whatever that element holds already: in italics behind a measure
    a line ends "about a minute t", and the next begins "o pour."
    Relies on: ``split_inline_box``, given a line and where it starts; and ``split_text_box``, given a text
    that knows where it starts, and whether that is the start of the line.
    """
    split_box, split_text = inline.split_inline_box, inline.split_text_box
    if not takes(split_text, "context", "box", "available_width", "skip", "is_line_start"):
        left_out("it divides words in another way")
        return
    starts: list[float] = []

    def of_line(context: Any, box: Any, position_x: float, *given: Any, **named: Any) -> Any:
        if not isinstance(box, inline.boxes.LineBox):
            return split_box(context, box, position_x, *given, **named)
        starts.append(position_x)
        try:
            return split_box(context, box, position_x, *given, **named)
        finally:
            starts.pop()

    def of_text(context: Any, box: Any, width: Any, skip: Any, is_line_start: bool = True) -> Any:
        first = is_line_start and not (starts and box.position_x > starts[-1])
        return split_text(context, box, width, skip, first)

    inline.split_inline_box, inline.split_text_box = of_line, of_text
