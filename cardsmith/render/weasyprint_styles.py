"""Styles of WeasyPrint at less cost: each patch as `weasyprint_savings` has them."""

from __future__ import annotations

from math import inf
from typing import Any

from cardsmith.render.weasyprint_guards import left_out, takes


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
