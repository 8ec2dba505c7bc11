"""WeasyPrint at less cost: what it works out again and again is worked out once, and nothing it sets changes.

Each patch says which behaviour of WeasyPrint it is there for, and what it relies on. Where that has changed,
WeasyPrint is left as it is, with a warning.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from copy import copy
from functools import cache
from math import inf
from typing import Any

from cardsmith.render.weasyprint_guards import SPLITS, left_out, replace_everywhere, takes

_ARRAY = re.compile(r"(\w+)\[\d+\]")


def apply_savings() -> None:
    """Make every patch of this module, once WeasyPrint is imported."""
    from tinyhtml5 import inputstream  # noqa: PLC0415 - as WeasyPrint, which only PDF needs
    from weasyprint import css  # noqa: PLC0415
    from weasyprint.css.tokens import Pending  # noqa: PLC0415
    from weasyprint.html import UA_STYLESHEET  # noqa: PLC0415
    from weasyprint.layout import inline, percent, preferred  # noqa: PLC0415
    from weasyprint.text import ffi, line_break  # noqa: PLC0415

    find_characters_once(inputstream)
    remember_solved(Pending)
    take_undeclared(css)
    style_marks_late(css, UA_STYLESHEET)
    take_lengths(percent)
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


# --- when a style is worked out -----------------------------------------------------------------------


def remember_solved(pending: Any) -> None:
    """Have a declaration with custom properties read once for each of the values that they have.

    Behaviour: WeasyPrint reads such a declaration anew for each element and each property that it sets, a
    shorthand such as ``border`` twelve times an element: a tenth of a layout.
    Relies on: ``Pending.solve``, whose answer follows from the declaration, the tokens put in, the property
    asked for and the address of its sheet; answers are shared, as those of other declarations are.
    """
    solve = pending.solve
    if not takes(solve, "self", "tokens", "wanted_key", "base_url"):
        left_out("it reads declarations in another way")
        return

    def remembered(self: Any, tokens: Any, wanted_key: str, base_url: str) -> Any:
        solved = vars(self).setdefault("_solved", {})
        key = (wanted_key, base_url, *(token.serialize() for token in tokens))
        if key not in solved:
            solved[key] = solve(self, tokens, wanted_key, base_url)
        return solved[key]

    pending.solve = remembered


def take_undeclared(css: Any) -> None:
    """Have all properties that no sheet declares for an element taken at once: its parent's, or the initial.

    Behaviour: WeasyPrint works out each property of each element by itself, some forty each, and asks of
    each whether it is a side's (``margin-left``), pending, or arithmetic, also where nothing is declared: a
    quarter of a layout.
    Relies on: ``__missing__`` of the two kinds of style, which answers for a property not asked for before;
    that an inherited property is its parent's as computed; that an initial value not in
    ``INITIAL_NOT_COMPUTED`` is as computed; and that ``PHYSICAL_FUNCTIONS`` name what else declares a side.
    """
    computed, anonymous = css.ComputedStyle.__missing__, css.AnonymousStyle.__missing__
    if not (takes(computed, "self", "key") and takes(anonymous, "self", "key")):
        left_out("it works out styles in another way")
        return
    declares = _declared_by(css)
    inherited = declares.keys() & css.INHERITED | _HANDED_DOWN
    initial = {key: 0 if key in _BORDERS else css.INITIAL_VALUES[key] for key in declares.keys() - inherited}
    affected: dict[str, tuple[str, ...]] = {}
    for key, names in declares.items():
        for name in names:
            affected[name] = (*affected.get(name, ()), key)

    def of_children(style: Any) -> dict[str, Any]:
        """What a child of a style has where nothing is declared for it."""
        of = vars(style)
        if "_of_children" not in of:
            of["_of_children"] = initial | {key: style[key] for key in inherited}
        children: dict[str, Any] = of["_of_children"]
        return children

    def of_element(self: Any, key: str) -> Any:
        of = vars(self)
        if "_taken" not in of and self.parent_style is not None:
            of["_taken"] = True
            known = dict(self)
            self.update(of_children(self.parent_style))
            for name in self.cascaded:
                for dependent in affected.get(name, ()):
                    self.pop(dependent, None)
            self.update(known)
            if key in self:
                return self[key]
        return computed(self, key)

    def of_no_element(self: Any, key: str) -> Any:
        of = vars(self)
        if "_taken" not in of:
            of["_taken"] = True
            known = dict(self)
            self.update(of_children(self.parent_style))
            self.update(known)
            if key in self:
                return self[key]
        return anonymous(self, key)

    css.ComputedStyle.__missing__ = of_element
    css.AnonymousStyle.__missing__ = of_no_element


_DEPENDENT = frozenset({"display", "float", "position"})  # on each other
_HANDED_DOWN = frozenset(  # not inherited by the standard, but a parent's where nothing else is declared
    {"page", *(f"text_decoration_{kind}" for kind in ("color", "line", "style", "thickness"))}
)
_BORDERS = frozenset(f"border_{side}_width" for side in ("top", "right", "bottom", "left"))  # 0 without style


def _declared_by(css: Any) -> dict[str, set[str]]:
    """Each property that is its parent's or the initial one unless declared, by the names that declare it."""
    declared = {}
    for key in css.INITIAL_VALUES.keys() - _DEPENDENT - (css.INITIAL_NOT_COMPUTED - _BORDERS - _HANDED_DOWN):
        declared[key] = {key}
        for name in {key, key.replace("_width", "_style")} if key in _BORDERS else {key}:
            declared[key].add(name)
            if side := css.PHYSICAL_FUNCTIONS.get(name):
                declared[key] |= {side(block="ttb", inline=direction) for direction in ("ltr", "rtl")}
    return declared


def style_marks_late(css: Any, own: Any) -> None:
    """Have the marks of a note and of a list styled when they are asked for: of what has such a mark.

    Behaviour: WeasyPrint's own sheet has a rule each for the six marks of a footnote, a note or an item, of
    every element, and so finds and works out six styles beside the one that is used: a tenth of a layout.
    Relies on: ``StyleFor.set_computed_styles``, which makes the style of one pseudo-element, from what its
    element's ``_cascaded_styles`` has; that calling a ``StyleFor`` is how a style is asked for; that no mark
    is an anchor; and that the rules of the ``own`` sheet for marks stand among the ``other_selectors`` of its
    matcher, are for every element, and yield to any other sheet.
    """
    made, asked = css.StyleFor.set_computed_styles, css.StyleFor.__call__
    parameters = ("self", "element", "parent", "root", "pseudo_type", "base_url", "target_collector")
    selectors = getattr(getattr(own, "matcher", None), "other_selectors", None)
    if not (takes(made, *parameters) and takes(asked, "self", "element", "pseudo_type") and selectors):
        left_out("it works out styles of pseudo-elements in another way")
        return
    rules: dict[str, dict[str, Any]] = {}
    for _, specificity, _, pseudo, (declarations, _) in selectors:
        if pseudo in _MARKS:
            for name, values, importance in declarations:
                weight = (css.declaration_precedence("user agent", importance), inf, specificity)
                rules.setdefault(pseudo, {})[name] = values, weight
    selectors[:] = [selector for selector in selectors if selector[3] not in rules]

    def make(
        self: Any,
        element: Any,
        parent: Any,
        root: Any = None,
        pseudo_type: Any = None,
        *given: Any,
        **named: Any,
    ) -> None:
        vars(self)["_as_others"] = root, given, named
        if of_mark := rules.get(pseudo_type):
            cascaded = self.get_cascaded_styles()
            cascaded[element, pseudo_type] = of_mark | cascaded.get((element, pseudo_type), {})
        made(self, element, parent, root, pseudo_type, *given, **named)

    def ask(self: Any, element: Any, pseudo_type: Any = None) -> Any:
        if pseudo_type in rules and (element, pseudo_type) not in self.get_computed_styles():
            root, given, named = vars(self)["_as_others"]
            make(self, element, element, root, pseudo_type, *given, **named)
        return asked(self, element, pseudo_type)

    css.StyleFor.set_computed_styles, css.StyleFor.__call__ = make, ask


_MARKS = frozenset(
    {"marker", "footnote-call", "footnote-marker", "note-call", "note-marker", "note-callback"}
)


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
            vars(box).update(lengths)
            return
        resolve(box, containing_block)
        if lengths is None:
            alone = _rests_on_nothing(box.style)
            of["_lengths"] = {name: getattr(box, name) for name in _LENGTHS} if alone else ()

    replace_everywhere(resolve, resolved)
    percent.resolve_percentages = resolved


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


def measure_once(line_break: Any) -> None:
    """Have a style's font, its features and the height of its lines worked out once, not for each text.

    Behaviour: WeasyPrint describes the font to Pango again for each piece of text, and looks up the height of
    an empty line by all properties of its font written out.
    Relies on: ``get_font_description``, ``font_features`` and ``strut``, which follow from what they are
    given; that no answer is altered; and that a style is not altered once boxes are laid out by it.
    """
    described, features, strut = line_break.get_font_description, line_break.font_features, line_break.strut
    if not (takes(described, "style") and takes(strut, "style")):
        left_out("it describes fonts in another way")
        return
    line_break.get_font_description = _once_a_style("_font", described)
    line_break.font_features = cache(features)
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
        return (copy(layout), *measures)

    for module in askers:
        module.split_first_line = remembered


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
