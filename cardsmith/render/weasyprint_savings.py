"""WeasyPrint at less cost: what it works out again and again is worked out once, and nothing it sets changes.

Each patch says which behaviour of WeasyPrint it is there for, and what it relies on. Where that has changed,
WeasyPrint is left as it is, with a warning.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any

from cardsmith.render.weasyprint_guards import SPLITS, left_out, replace_everywhere, takes
from cardsmith.render.weasyprint_styles import remember_solved, style_marks_late, take_undeclared

_ARRAY = re.compile(r"(\w+)\[\d+\]")


def apply_savings() -> None:
    """Make every patch of this module, once WeasyPrint is imported."""
    from tinyhtml5 import inputstream  # noqa: PLC0415 - as WeasyPrint, which only PDF needs
    from weasyprint import css  # noqa: PLC0415
    from weasyprint.css.tokens import Pending  # noqa: PLC0415
    from weasyprint.formatting_structure import boxes  # noqa: PLC0415
    from weasyprint.html import UA_STYLESHEET  # noqa: PLC0415
    from weasyprint.layout import inline, percent, preferred  # noqa: PLC0415
    from weasyprint.text import ffi, line_break  # noqa: PLC0415

    find_characters_once(inputstream)
    remember_solved(Pending)
    take_undeclared(css)
    style_marks_late(css, UA_STYLESHEET)
    tell_flow_at_once(boxes.Box)
    take_lengths(percent)
    leave_corners_square(percent)
    measure_once(line_break)
    remember_lines(line_break, inline, preferred)
    share_array_types(ffi)


# --- when a page is read ------------------------------------------------------------------------------


def find_characters_once(inputstream: Any) -> None:
    """Have the pattern that finds certain characters in a page made once.

    Behaviour: tinyhtml5 keeps each such pattern under itself, not under the characters, and so never finds it
    again: two fifths of reading a page.
    Relies on: ``characters_until_regex``, a dictionary of patterns by the characters and whether these or all
    others are sought.
    """
    if not isinstance(getattr(inputstream, "characters_until_regex", None), dict):
        left_out("it reads pages in another way")
        return
    inputstream.characters_until_regex = _Patterns()


class _Patterns(dict[tuple[Any, bool], re.Pattern[str]]):
    def __missing__(self, key: tuple[Any, bool]) -> re.Pattern[str]:
        characters, these = key
        listed = re.escape("".join(characters))
        pattern = self[key] = re.compile(f"[{'' if these else '^'}{listed}]+")
        return pattern


# --- when a box is laid out ---------------------------------------------------------------------------


def take_lengths(percent: Any) -> None:
    """Have the lengths of a style that rest on nothing else worked out once, not for each of its boxes.

    Behaviour: of each of 17 measures of each box, each time it is laid out, WeasyPrint asks whether it is a
    percentage or arithmetic, and works out what borders and paddings leave of it: a sixth of a layout.
    Relies on: ``resolve_percentages``, which sets the attributes of a box that ``_LENGTHS`` names, and no
    others, by the properties of the same names; that a computed length has a unit; and that a style is not
    altered once boxes are laid out by it.
    """
    resolve = percent.resolve_percentages
    if not takes(resolve, "box", "containing_block"):
        left_out("it works out lengths in another way")
        return

    def resolved(box: Any, containing_block: Any) -> None:
        of = vars(box.style)
        lengths = of.get("_lengths")
        if lengths:
            _attributes(box).update(lengths)
            return
        resolve(box, containing_block)
        if lengths is None:
            alone = _rests_on_nothing(box.style)
            of["_lengths"] = {name: getattr(box, name) for name in _LENGTHS} if alone else ()

    replace_everywhere(resolve, resolved)
    percent.resolve_percentages = resolved


def _attributes(box: Any) -> dict[str, Any]:
    """Of a box, or of the one that a placeholder stands for, as an absolute one has in its place."""
    own: dict[str, Any] = vars(vars(box).get("_box", box))
    return own


_SIDES = ("left", "right", "top", "bottom")
_LENGTHS = (
    *(f"{kind}_{side}" for kind in ("margin", "padding") for side in _SIDES),
    *(f"{kind}{way}" for kind in ("", "min_", "max_") for way in ("width", "height")),
    *(f"border_{side}_width" for side in _SIDES),
)


def _rests_on_nothing(style: Any) -> bool:
    """Whether no length of a style is a share of another box's, and no border is another's too."""
    values = (style[name] for name in _LENGTHS if not name.startswith("border"))
    plain = all(value == "auto" or getattr(value, "unit", "") == "px" for value in values)
    return plain and style["border_collapse"] != "collapse"


def tell_flow_at_once(box: Any) -> None:
    """Have a box say whether it is in normal flow by two of its properties, each looked at once.

    Behaviour: WeasyPrint asks five questions of the same two properties, a few thousand times a page.
    Relies on: the five methods that answer them, whose values are those of ``_BESIDE`` and ``_ELSEWHERE``.
    """
    asked = ("is_in_normal_flow", "is_floated", "is_footnote", "is_note", "is_absolutely_positioned")
    if not all(takes(getattr(box, name, None), "self") for name in (*asked, "is_running")):
        left_out("it tells what is in normal flow in another way")
        return

    def is_in_normal_flow(self: Any) -> bool:
        style = self.style
        if style["float"] in _BESIDE:
            return False
        position = style["position"]
        return not (position in _ELSEWHERE or position[0] in _ELSEWHERE)

    box.is_in_normal_flow = is_in_normal_flow


_BESIDE = frozenset({"left", "right", "inline-start", "inline-end", "footnote"})
_ELSEWHERE = frozenset({"absolute", "fixed", "running()", "note()"})


def leave_corners_square(percent: Any) -> None:
    """Have the corners of a style without rounded ones looked at once, not for each of its boxes.

    Behaviour: WeasyPrint compares the four radii of each box with none, also on each page anew.
    Relies on: ``resolve_radii_percentages``, which gives a corner with a radius of no length two of 0.
    """
    resolve = percent.resolve_radii_percentages
    if not takes(resolve, "box"):
        left_out("it rounds corners in another way")
        return

    def resolved(box: Any) -> None:
        of_style = vars(box.style)
        square = of_style.get("_square")
        if square is None:
            square = of_style["_square"] = all(_NO_LENGTH in box.style[name] for name in _CORNERS)
        if square:
            _attributes(box).update(_SQUARE)
        else:
            resolve(box)

    replace_everywhere(resolve, resolved)
    percent.resolve_radii_percentages = resolved


_NO_LENGTH = (0, "px")
_CORNERS = tuple(
    f"border_{down}_{across}_radius" for down in ("top", "bottom") for across in ("left", "right")
)
_SQUARE = dict.fromkeys(_CORNERS, (0, 0))


def measure_once(line_break: Any) -> None:
    """Have a style's font, its features and the height of its lines worked out once, not for each text.

    Behaviour: WeasyPrint describes the font to Pango again for each piece of text, and looks up the height of
    an empty line by all properties of its font written out; where a text may first break it asks each time.
    Relies on: ``get_font_description``, ``font_features``, ``strut`` and ``get_next_break_point_from_text``,
    which follow from what they are given; that no answer is altered; and that a style is not altered once
    boxes are laid out by it.
    """
    described, features, strut = line_break.get_font_description, line_break.font_features, line_break.strut
    breaks = line_break.get_next_break_point_from_text
    if not (takes(described, "style") and takes(strut, "style") and takes(breaks, "text", "lang")):
        left_out("it describes fonts in another way")
        return
    line_break.get_font_description = _once_a_style("_font", described)
    line_break.font_features = cache(features)
    line_break.get_next_break_point_from_text = lru_cache(_MOST_LINES)(breaks)
    replace_everywhere(strut, _once_a_style("_strut", strut))


def _once_a_style(name: str, function: Callable[[Any], Any]) -> Callable[[Any], Any]:
    def known(style: Any) -> Any:
        of_style = vars(style)
        if name not in of_style:
            of_style[name] = function(style)
        return of_style[name]

    return known


def remember_lines(line_break: Any, *askers: Any) -> None:
    """Have the first line of a text found once for each width, not anew in each layout that tries it.

    Behaviour: WeasyPrint sets a text again whenever what is around it is laid out again: in another setting
    of the card, in a batch, and for the widths of a table. It is a quarter of a layout.
    Relies on: ``split_first_line``, whose answer follows from the text, the properties of ``_OF_LINES``, the
    room and its other arguments; that the first of six values answered is a ``Layout`` at rest, which a copy
    can stand for: drawing gives it its style and its text anew.
    """
    split = line_break.split_first_line
    if not takes(split, *SPLITS):
        left_out("it splits lines in another way")
        return

    def remembered(
        text: str,
        style: Any,
        context: Any,
        max_width: Any,
        justification_spacing: Any,
        is_line_start: bool = True,
        minimum: bool = False,
    ) -> Any:
        known, of_lines = _known_lines(style.font_config), vars(style).get("_of_lines")
        if of_lines is None:
            of_lines = vars(style)["_of_lines"] = repr([style[name] for name in _OF_LINES])
        of_room = max_width, justification_spacing, is_line_start, minimum
        key = (text, of_lines, *of_room)
        if (measured := known.get(key)) is None:
            if len(known) > _MOST_LINES:
                known.clear()
            measured = known[key] = split(text, style, context, *of_room)
        layout, *measures = measured
        return (_like(layout), *measures)

    for module in askers:
        module.split_first_line = remembered


def _like(layout: Any) -> Any:
    other = object.__new__(type(layout))
    vars(other).update(vars(layout))
    return other


_MOST_LINES = 4096  # of a few cards
_OF_LINES = (
    *("font_family", "font_size", "font_style", "font_stretch", "font_weight", "font_kerning"),
    *("font_variant_ligatures", "font_variant_position", "font_variant_caps", "font_variant_numeric"),
    *("font_variant_alternates", "font_variant_east_asian", "font_feature_settings"),
    *("font_variation_settings", "font_language_override", "lang", "direction", "text_decoration_line"),
    *("letter_spacing", "word_spacing", "tab_size", "white_space", "overflow_wrap", "word_break"),
    *("hyphens", "hyphenate_character", "hyphenate_limit_chars", "hyphenate_limit_zone"),
)


def _known_lines(fonts: Any) -> dict[Any, Any]:
    known: dict[Any, Any] = vars(fonts).setdefault("_known_lines", {})
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
    if not takes(new, "cdecl", "init"):
        left_out("cffi makes arrays in another way")
        return

    def made(cdecl: Any, init: Any = None) -> Any:
        if isinstance(init, list | tuple) and (array := _ARRAY.fullmatch(str(cdecl))):
            return new(f"{array[1]}[]", init)
        return new(cdecl, init)

    ffi.new = made
