"""WeasyPrint as cardsmith uses it: imported without needless work, and mended in one place.

Each patch says which behaviour of WeasyPrint it is there for, and what it relies on. Where that has changed,
WeasyPrint is left as it is, with a warning: cards are made more slowly, or some of their lines end early.
"""

from __future__ import annotations

import ctypes.util
import inspect
import os
import re
import sys
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from importlib import import_module, metadata
from pathlib import Path
from types import ModuleType
from typing import Any

from cardsmith.render.typeset import NO_BREAK

VERSION = "70.0"  # of WeasyPrint, whose source each patch was written against
_NO_FONTS = Path(__file__).with_name("no-fonts.conf")
_SELDOM = ("fontTools.subset", "fontTools.varLib.instancer")
_ARRAY = re.compile(r"(\w+)\[\d+\]")
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
        _left_out(f"its version is {version}, and cardsmith's patches are for {VERSION}")
        return
    from weasyprint import css  # noqa: PLC0415 - 0.4 s that only PDF needs
    from weasyprint.css.tokens import Pending  # noqa: PLC0415
    from weasyprint.layout import inline, percent  # noqa: PLC0415
    from weasyprint.svg import SVG  # noqa: PLC0415
    from weasyprint.text import ffi, line_break  # noqa: PLC0415

    remember_solved(Pending)
    take_undeclared(css)
    style_notes_late(css)
    take_lengths(percent)
    measure_once(line_break)
    share_array_types(ffi)
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


def _left_out(why: str) -> None:
    warnings.warn(f"WeasyPrint is used as it is: {why}", RuntimeWarning, stacklevel=3)


def _takes(function: Callable[..., Any], *names: str) -> bool:
    """Whether a function has these parameters, in this order, and no others."""
    try:
        return tuple(inspect.signature(function).parameters) == names
    except (TypeError, ValueError):  # no function, or one that does not say
        return False


def _replace(function: Callable[..., Any], by: Callable[..., Any]) -> None:
    """In every module of WeasyPrint that imported it by its name."""
    for module in [one for name, one in sys.modules.items() if name.startswith("weasyprint.")]:
        if vars(module).get(function.__name__) is function:
            vars(module)[function.__name__] = by


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


# --- when a style is worked out -----------------------------------------------------------------------


def remember_solved(pending: Any) -> None:
    """Have a declaration with custom properties read once for each of the values that they have.

    Behaviour: WeasyPrint reads such a declaration anew for each element and each property that it sets, a
    shorthand such as ``border`` twelve times an element: a tenth of a layout.
    Relies on: ``Pending.solve``, whose answer follows from the declaration, the tokens put in, the property
    asked for and the address of its sheet; answers are shared, as those of other declarations are.
    """
    solve = pending.solve
    if not _takes(solve, "self", "tokens", "wanted_key", "base_url"):
        _left_out("it reads declarations in another way")
        return

    def remembered(self: Any, tokens: Any, wanted_key: str, base_url: str) -> Any:
        solved = vars(self).setdefault("_solved", {})
        key = (wanted_key, base_url, *(token.serialize() for token in tokens))
        if key not in solved:
            solved[key] = solve(self, tokens, wanted_key, base_url)
        return solved[key]

    pending.solve = remembered


def take_undeclared(css: Any) -> None:
    """Have a property that no sheet declares for an element taken at once: its parent's, or the initial.

    Behaviour: WeasyPrint asks of each property of each element whether it is a side's (``margin-left``),
    pending, or arithmetic, also where nothing is declared: a sixth of a layout.
    Relies on: ``__missing__`` of the two kinds of style, which answers for a property not asked for before;
    that an inherited property is its parent's as computed; that an initial value not in
    ``INITIAL_NOT_COMPUTED`` is as computed; and that ``PHYSICAL_FUNCTIONS`` name what else declares a side.
    """
    computed, anonymous = css.ComputedStyle.__missing__, css.AnonymousStyle.__missing__
    if not (_takes(computed, "self", "key") and _takes(anonymous, "self", "key")):
        _left_out("it works out styles in another way")
        return
    plain = _plain_properties(css)

    def of_element(self: Any, key: str) -> Any:
        if (known := plain.get(key)) is not None:
            names, initial = known
            if self.cascaded.keys().isdisjoint(names):
                if initial is not _INHERITED:
                    self[key] = initial
                    return initial
                if self.parent_style is not None:
                    value = self[key] = self.parent_style[key]
                    return value
        return computed(self, key)

    def of_no_element(self: Any, key: str) -> Any:
        if (known := plain.get(key)) is None:
            return anonymous(self, key)
        value = self[key] = self.parent_style[key] if known[1] is _INHERITED else known[1]
        return value

    css.ComputedStyle.__missing__ = of_element
    css.AnonymousStyle.__missing__ = of_no_element


_INHERITED = object()
_DEPENDENT = ("display", "float", "page", "position")  # on each other, or on more than their parent


def _plain_properties(css: Any) -> dict[str, tuple[tuple[str, ...], Any]]:
    """Each property whose value without declaration is its parent's or the initial one.

    It comes with the names of all properties that declare it, and the initial value.
    """
    plain = {}
    for key in css.INITIAL_VALUES.keys() - css.INITIAL_NOT_COMPUTED:
        if key in _DEPENDENT or key.startswith("text_decoration_"):
            continue
        names = {key}
        if side := css.PHYSICAL_FUNCTIONS.get(key):
            names |= {side(block="ttb", inline=direction) for direction in ("ltr", "rtl")}
        plain[key] = (tuple(names), _INHERITED if key in css.INHERITED else css.INITIAL_VALUES[key])
    return plain


def style_notes_late(css: Any) -> None:
    """Have the marks of a note styled when they are asked for: of elements that are notes.

    Behaviour: WeasyPrint's own sheet has a rule each for the five marks of a footnote or a note, of every
    element, and so works out five styles beside the one that is used.
    Relies on: ``StyleFor.set_computed_styles``, which makes the style of one pseudo-element, from what its
    element's ``_cascaded_styles`` has; that calling a ``StyleFor`` is how a style is asked for; and that no
    mark of a note is an anchor.
    """
    made, asked = css.StyleFor.set_computed_styles, css.StyleFor.__call__
    parameters = ("self", "element", "parent", "root", "pseudo_type", "base_url", "target_collector")
    if not (_takes(made, *parameters) and _takes(asked, "self", "element", "pseudo_type")):
        _left_out("it works out styles of pseudo-elements in another way")
        return

    def make(
        self: Any,
        element: Any,
        parent: Any,
        root: Any = None,
        pseudo_type: Any = None,
        *given: Any,
        **named: Any,
    ) -> None:
        if pseudo_type in _OF_NOTE:
            cascaded = self.get_cascaded_styles()[element, pseudo_type]
            later = vars(self).setdefault("_later", {})
            later[element, pseudo_type] = cascaded, parent, root, given, named
        else:
            made(self, element, parent, root, pseudo_type, *given, **named)

    def ask(self: Any, element: Any, pseudo_type: Any = None) -> Any:
        if pseudo_type in _OF_NOTE and (
            left := vars(self).get("_later", {}).pop((element, pseudo_type), None)
        ):
            cascaded, parent, root, given, named = left
            self.get_cascaded_styles()[element, pseudo_type] = cascaded
            made(self, element, parent, root, pseudo_type, *given, **named)
        return asked(self, element, pseudo_type)

    css.StyleFor.set_computed_styles, css.StyleFor.__call__ = make, ask


_OF_NOTE = frozenset({"footnote-call", "footnote-marker", "note-call", "note-marker", "note-callback"})


# --- when a box is laid out ---------------------------------------------------------------------------


def take_lengths(percent: Any) -> None:
    """Have a length in pixels, and ``auto``, taken as they are.

    Behaviour: of each of 17 measures of each box WeasyPrint asks whether it is a percentage or arithmetic: a
    tenth of a layout.
    Relies on: ``resolve_one_percentage``, which sets the attribute of a box by the name of the property; and
    that a computed length has ``value`` and ``unit``, in this order.
    """
    resolve = percent.resolve_one_percentage
    if not _takes(resolve, "box", "property_name", "refer_to"):
        _left_out("it works out lengths in another way")
        return

    def resolved(box: Any, property_name: str, refer_to: Any) -> None:
        length = box.style[property_name]
        if length == "auto" and not property_name.startswith("min_"):
            setattr(box, property_name, length)
        elif getattr(length, "unit", "") == "px":
            setattr(box, property_name, length.value)
        else:
            resolve(box, property_name, refer_to)

    percent.resolve_one_percentage = resolved


def measure_once(line_break: Any) -> None:
    """Have a style's font, its features and the height of its lines worked out once, not for each text.

    Behaviour: WeasyPrint describes the font to Pango again for each piece of text, and looks up the height of
    an empty line by all properties of its font written out.
    Relies on: ``get_font_description``, ``font_features`` and ``strut``, which follow from what they are
    given; that no answer is altered; and that a style is not altered once boxes are laid out by it.
    """
    described, features, strut = line_break.get_font_description, line_break.font_features, line_break.strut
    if not (_takes(described, "style") and _takes(strut, "style")):
        _left_out("it describes fonts in another way")
        return
    line_break.get_font_description = _once_a_style("_font", described)
    line_break.font_features = cache(features)
    _replace(strut, _once_a_style("_strut", strut))


def _once_a_style(name: str, function: Callable[[Any], Any]) -> Callable[[Any], Any]:
    def known(style: Any) -> Any:
        of_style = vars(style)
        if name not in of_style:
            of_style[name] = function(style)
        return of_style[name]

    return known


# --- when a font is written ---------------------------------------------------------------------------


def share_array_types(module: Any) -> None:
    """Have arrays made of given values be of one C type whatever their number: that of open length.

    Behaviour: WeasyPrint asks for the type ``hb_codepoint_t[37]`` of each array of glyphs, and cffi parses
    each new type with all declarations: 8 ms a card, 0.1 s for the first.
    Relies on: ``ffi.new`` of cffi, given a type and the values.
    """
    ffi = module.ffi
    new = ffi.new
    if not _takes(new, "cdecl", "init"):
        _left_out("cffi makes arrays in another way")
        return

    def made(cdecl: Any, init: Any = None) -> Any:
        if isinstance(init, list | tuple) and (array := _ARRAY.fullmatch(str(cdecl))):
            return new(f"{array[1]}[]", init)
        return new(cdecl, init)

    ffi.new = made


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
    if not _takes(draw_node, "self", "node", "font_size", "fill_stroke", "context"):
        _left_out("it draws shapes in another way")
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
    parameters = (
        "text",
        "style",
        "context",
        "max_width",
        "justification_spacing",
        "is_line_start",
        "minimum",
    )
    if not _takes(split, *parameters):
        _left_out("it splits lines in another way")
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
    if not _takes(split_text, "context", "box", "available_width", "skip", "is_line_start"):
        _left_out("it divides words in another way")
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
