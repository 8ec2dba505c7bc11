"""SVG drawings beside a recipe: still, whole in themselves and of bounded size, or refused with a reason.

A drawing is shown by a browser and set by a typesetter. What only one of them draws, what moves, runs or asks
for another file is refused, and so is a small file that would make much work (`drawing_work`). Of the others
their shapes alone go out: no notes, names or paths that an editor left. Names of elements: SVG 2.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from fractions import Fraction
from functools import lru_cache
from xml.parsers import expat
from xml.sax.saxutils import escape, quoteattr

from cardsmith.house.files import elsewhere
from cardsmith.regex import regex
from cardsmith.render.pictures.drawing_work import MOST_DEPTH, too_deep, weigh
from cardsmith.render.pictures.shapes import PAINTS, PLACES, Shape, Unfit, declared, length

MOST_BYTES = 2_000_000
MOST_SIZE = 1_000_000  # of a drawing's own units, across or down
MOST_APART = 100  # times as wide as high, or the other way
_UNSIZED = (Fraction(300), Fraction(150))  # what CSS 2.2, 10.3.2 takes for a picture without any size
_SVG = "http://www.w3.org/2000/svg"
_XLINK, _XML = "http://www.w3.org/1999/xlink", "http://www.w3.org/XML/1998/namespace"
_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"  # notes on a drawing, which draw nothing
_W3C = "http://www.w3.org/"  # whose other vocabularies draw, run or listen
_PLAIN = frozenset(
    "svg g defs symbol use title desc metadata style path rect circle ellipse line polyline polygon "
    "linearGradient radialGradient stop clipPath pattern".split()
)
_GRADIENTS = ("linearGradient", "radialGradient")
_NOTES = ("title", "desc", "metadata")  # for readers of the file; a recipe says in words what a picture shows
_WHY = {
    "script": "a script",
    "foreignObject": "foreign objects",
    "image": "a picture within",
    "feImage": "a picture within",
    "text": "words as type",
    "a": "a link",
} | dict.fromkeys(("animate", "animateMotion", "animateTransform", "set"), "what moves")
_INSTEAD = {
    "words as type": "turn its words into outlines",
    "a picture within": "save the whole as PNG or JPEG",
}
_URL = regex(r"(?i)url\(")
_OWN = regex(r"""(?i)url\(\s*["']?\s*#(?P<id>[^"')\s]+)\s*["']?\s*\)""")
_NUMBER = regex(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?")
_SIZE = regex(r"(?P<number>\+?(?:\d+\.?\d*|\.\d+))(?:px|pt|pc|mm|cm|in|em|ex|%)?")
_NAMED = regex(r"#([\w-]+)")
_HUGE = regex(r"(?<![\d.])\d{8,}|\d[eE]\+?0*(?:[7-9]|[1-9]\d)")
# Attributes that hold no numbers.
_WORDED = ("id", "class", "style", "href", "title", "fill", "stroke", "color", "stop-color", "version")


def inspect_drawing(data: bytes) -> bytes:
    """A drawing as it may be shown and printed: its shapes and nothing else.

    Raises:
        Unfit: what it holds, after the name of its file: "holds a script".
    """
    if len(data) > MOST_BYTES:
        said = f"has {len(data) // 1_000_000} MB, over {MOST_BYTES // 1_000_000}"
        raise Unfit(said, "simplify it, or save it as PNG")
    try:
        data.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise Unfit("is not an SVG drawing in UTF-8", "export it once more") from fault
    reader = _Reader()
    try:
        reader.parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as fault:
        raise Unfit(f"is not a complete SVG drawing ({fault})", "export it once more") from fault
    assert reader.root is not None
    style = _style(reader)
    weigh(reader.every, reader.by_id, declared(style.replace("{", ";").replace("}", ";")))
    wanted = {name for shape in reader.every for name in shape.uses} | set(_NAMED.findall(style))
    return "".join(_written(reader.root, style, wanted)).encode()


@lru_cache(maxsize=8)  # each place of a recipe's picture asks, on every card, page and edition
def drawn_size(data: bytes) -> tuple[Fraction, Fraction]:
    """The width and height of an inspected drawing, else those of its view; both in its own units."""
    reader = _Reader()
    reader.parser.Parse(data, True)
    said = reader.root.attributes if reader.root else {}
    sides = [said.get(name, "") for name in ("width", "height")]
    if all(sides) and not any("%" in side for side in sides):
        wide, high = (Fraction(length(side)) for side in sides)
        return wide, high
    box = said.get("viewBox", "").replace(",", " ").split()
    return (Fraction(box[2]), Fraction(box[3])) if box else _UNSIZED


class _Reader:
    """The elements of a drawing as they come; whatever may not be in it ends the reading."""

    def __init__(self) -> None:
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._words
        self.parser.StartDoctypeDeclHandler = self._doctype
        self.parser.EntityDeclHandler = self._entity
        self.parser.ProcessingInstructionHandler = self._instruction
        self.parser.XmlDeclHandler = self._declared
        self.root: Shape | None = None
        self.every: list[Shape] = []
        self.by_id: dict[str, Shape] = {}
        self.styles: list[str] = []
        self._open: list[Shape] = []

    def _declared(self, _version: str, encoding: str | None, _alone: int) -> None:
        if (encoding or "utf-8").lower() != "utf-8":
            raise Unfit(f"is in {encoding}", "save it in UTF-8")

    def _doctype(self, _name: str, _system: str | None, _public: str | None, has_more: int) -> None:
        if has_more:
            raise Unfit("holds entities")

    def _entity(self, *_entity: object) -> None:
        raise Unfit("holds entities")

    def _instruction(self, _target: str, _data: str) -> None:
        raise Unfit("holds an instruction that asks for a style")

    def _start(self, whole: str, attributes: dict[str, str]) -> None:
        space, _, name = whole.rpartition(" ")
        if self.root is None and (space, name) != (_SVG, "svg"):
            raise Unfit("is not an SVG drawing", "export it once more")
        if space.startswith(_W3C) and space not in (_SVG, _RDF):
            raise Unfit(f"holds <{name}>, which is not part of a drawing")
        if space == _SVG and name not in _PLAIN:
            why = _WHY.get(name, f"<{name}>, which the printed card would not show")
            raise Unfit(f"holds {why}", _INSTEAD.get(why, "save it as a plain drawing"))
        if not space and self._open:
            raise Unfit(f"holds <{name}>, which is not part of a drawing")
        shape = Shape(name=name if space == _SVG else "")
        for key, value in attributes.items():
            self._attribute(shape, key, value)
        self.every.append(shape)
        if self.root is None:
            self.root = shape
            _look_at_size(attributes)
        else:
            self._open[-1].within.append(shape)
        self._open.append(shape)
        if len(self._open) > MOST_DEPTH:
            raise too_deep()

    def _end(self, _name: str) -> None:
        self._open.pop()

    def _words(self, text: str) -> None:
        if self._open[-1].name == "style":
            self.styles.append(text)

    def _attribute(self, shape: Shape, key: str, value: str) -> None:
        space, _, name = key.rpartition(" ")
        if space not in ("", _XLINK, _XML):
            return  # notes of the program that drew it
        if name.lower().startswith("on"):
            raise Unfit("holds a script")
        if space == _XML and name == "base":
            raise Unfit("asks for another file")
        if name == "id":
            self.by_id.setdefault(value, shape)
        if name == "href":
            if not value.strip().startswith("#"):
                raise Unfit(f"asks for another file ({value.strip()[:40]})")
            shape.uses.append(value.strip()[1:])
        if name not in _WORDED and _HUGE.search(value):
            raise Unfit(f"has a number too large ({name})", "draw it in smaller units")
        if name == "spreadMethod" and value.strip() != "pad":
            raise Unfit("has a gradient that repeats itself", "draw it out, or save it as PNG")
        shape.uses += _used(value)
        if space in ("", _XLINK) and name in PLACES | PAINTS:
            shape.attributes[name] = value


def _used(value: str) -> list[str]:
    """The ids that a value refers to; any other address is refused."""
    if "\\" in value or elsewhere(value):
        raise Unfit("asks for another file, or hides what it asks for")
    own = [match["id"] for match in _OWN.finditer(value)]
    if len(own) != len(_URL.findall(value)):
        raise Unfit("asks for another file")
    return own


def _look_at_size(attributes: dict[str, str]) -> None:
    edges = []
    if (box := attributes.get("viewBox")) is not None:
        parts = box.replace(",", " ").split()
        if len(parts) != 4 or not all(_NUMBER.fullmatch(part) for part in parts):
            raise Unfit("has a viewBox that is not four numbers", "export it once more")
        edges += [tuple(float(part) for part in parts[2:])]
    given = [_SIZE.fullmatch(attributes.get(name, "1").strip()) for name in ("width", "height")]
    if not all(given):
        raise Unfit("has a width or height that is none", "export it once more")
    if "width" in attributes and "height" in attributes:
        edges += [tuple(float(match["number"]) for match in given if match)]
    for width, height in edges:
        if not (0 < width <= MOST_SIZE and 0 < height <= MOST_SIZE):
            raise Unfit(f"is {width:g} by {height:g} units large", f"draw it in 1 to {MOST_SIZE:,}")
        if max(width, height) > MOST_APART * min(width, height):
            raise Unfit(f"is {width:g} by {height:g} units large", "draw it in the shape of a photo")


def _style(reader: _Reader) -> str:
    """The rules of the drawing's style sheets, with what paints alone."""
    whole = "".join(reader.styles)
    if "@import" in whole.lower():
        raise Unfit("asks for another file")
    for name in _used(whole):
        if (shape := reader.by_id.get(name)) and shape.name not in _GRADIENTS:
            raise Unfit(f"has a style that draws with a {shape.name}", "put it on the shapes themselves")
    if not whole.strip():
        return ""
    import tinycss2  # noqa: PLC0415 - few drawings have a style sheet

    rules = []
    for rule in tinycss2.parse_stylesheet(whole, skip_comments=True, skip_whitespace=True):
        if rule.type == "qualified-rule":
            named = tinycss2.serialize([token for token in rule.prelude if token.type != "comment"]).strip()
            rules.append(f"{named}{{{_painting(tinycss2.serialize(rule.content))}}}")
    return "".join(rules)


def _painting(style: str) -> str:
    return ";".join(f"{name}:{value}" for name, value in declared(style))


def _written(shape: Shape, style: str, wanted: Set[str]) -> Iterator[str]:
    """The text of a shape and all in it; ``wanted`` are the ids that something refers to."""
    said = dict(shape.attributes)
    if said.get("id") not in wanted:
        said.pop("id", None)
    if not style:
        said.pop("class", None)
    if "style" in said:
        said["style"] = _painting(said["style"])
    space = f' xmlns="{_SVG}"' if shape.name == "svg" else ""
    attributes = "".join(f" {name}={quoteattr(value)}" for name, value in said.items())
    yield f"<{shape.name}{space}{attributes}>"
    if shape.name == "style":
        yield escape(style)
    for inner in shape.within:
        if inner.name and inner.name not in _NOTES:
            yield from _written(inner, style, wanted)
    yield f"</{shape.name}>"
