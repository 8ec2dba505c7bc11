"""SVG drawings beside a recipe: still, whole in themselves and of bounded size, or refused with a reason.

A drawing is shown by a browser and set by a typesetter. What only one of them draws, what moves, runs or asks
for another file is refused, and so is a small file that would draw millions of shapes (`use` of `use`).
Names of elements and attributes: SVG 2.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from xml.parsers import expat

from cardsmith.house.files import elsewhere
from cardsmith.regex import regex

MOST_BYTES = 2_000_000
MOST_SHAPES = 5_000  # drawn in all, each as often as it is used; the demo's largest has 600
MOST_DEPTH = 60  # groups within groups, and shapes used by shapes
MOST_SIZE = 1_000_000  # of a drawing's own units, across or down
MOST_APART = 100  # times as wide as high, or the other way
_SVG = "http://www.w3.org/2000/svg"
_XLINK, _XML = "http://www.w3.org/1999/xlink", "http://www.w3.org/XML/1998/namespace"
_RDF = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"  # notes on a drawing, which draw nothing
_W3C = "http://www.w3.org/"  # whose other vocabularies draw, run or listen
_PLAIN = frozenset(
    "svg g defs symbol use title desc metadata style path rect circle ellipse line polyline polygon "
    "linearGradient radialGradient stop clipPath pattern".split()
)
_GRADIENTS = ("linearGradient", "radialGradient")
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
_HUGE = regex(r"(?<![\d.])\d{8,}|\d[eE]\+?0*(?:[7-9]|[1-9]\d)")
# Attributes that hold no numbers.
_WORDED = ("id", "class", "style", "href", "title", "fill", "stroke", "color", "stop-color", "version")


class Unfit(Exception):  # noqa: N818 - the name says what is the matter
    """What a drawing has that it may not, and what to do about it."""

    def __init__(self, what: str, instead: str = "save it as a plain drawing") -> None:
        super().__init__(f"{what}; {instead}")
        self.what, self.instead = what, instead


@dataclass(slots=True)
class _Shape:
    """An element, with what it draws besides itself."""

    name: str
    within: list[_Shape] = field(default_factory=list)
    uses: list[str] = field(default_factory=list)  # ids


def inspect_drawing(data: bytes) -> None:
    """See that a drawing may be shown and printed as it is.

    Raises:
        Unfit: what it holds, after the name of its file: "holds a script".
    """
    if len(data) > MOST_BYTES:
        said = f"has {len(data) // 1_000_000} MB, over {MOST_BYTES // 1_000_000}"
        raise Unfit(said, "simplify it, or save it as PNG")
    try:
        data.decode("utf-8")
    except UnicodeDecodeError as fault:
        raise Unfit("is no SVG drawing in UTF-8", "export it once more") from fault
    reader = _Reader()
    try:
        reader.parser.Parse(data, True)
    except (expat.ExpatError, ValueError, LookupError) as fault:
        raise Unfit(f"is no whole SVG drawing ({fault})", "export it once more") from fault
    _count(reader)


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
        self.root: _Shape | None = None
        self.by_id: dict[str, _Shape] = {}
        self.styles: list[str] = []
        self._open: list[_Shape] = []

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
            raise Unfit("is no SVG drawing", "export it once more")
        if space.startswith(_W3C) and space not in (_SVG, _RDF):
            raise Unfit(f"holds <{name}>, which is no drawing")
        if space == _SVG and name not in _PLAIN:
            why = _WHY.get(name, f"<{name}>, which the printed card would not show")
            raise Unfit(f"holds {why}", _INSTEAD.get(why, "save it as a plain drawing"))
        if not space and self._open:
            raise Unfit(f"holds <{name}>, which is no drawing")
        shape = _Shape(name=name if space == _SVG else "")
        for key, value in attributes.items():
            self._attribute(shape, key, value)
        if self.root is None:
            self.root = shape
            _look_at_size(attributes)
        else:
            self._open[-1].within.append(shape)
        self._open.append(shape)
        if len(self._open) > MOST_DEPTH:
            raise _too_deep()

    def _end(self, _name: str) -> None:
        self._open.pop()

    def _words(self, text: str) -> None:
        if self._open[-1].name == "style":
            self.styles.append(text)

    def _attribute(self, shape: _Shape, key: str, value: str) -> None:
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
        shape.uses += _used(value)


def _used(value: str) -> list[str]:
    """The ids that a value refers to; any other address is refused."""
    if "\\" in value or elsewhere(value):
        raise Unfit("asks for another file, or hides what it asks for")
    own = [found["id"] for found in _OWN.finditer(value)]
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
        edges += [tuple(float(one["number"]) for one in given if one)]
    for width, height in edges:
        if not (0 < width <= MOST_SIZE and 0 < height <= MOST_SIZE):
            raise Unfit(f"is {width:g} by {height:g} units large", f"draw it in 1 to {MOST_SIZE:,}")
        if max(width, height) > MOST_APART * min(width, height):
            raise Unfit(f"is {width:g} by {height:g} units large", "draw it in the shape of a photo")


def _count(reader: _Reader) -> None:
    """Count what is drawn, with each shape as often as it is used."""
    style = "".join(reader.styles)
    if "@import" in style.lower():
        raise Unfit("asks for another file")
    for one in _used(style):
        if (shape := reader.by_id.get(one)) and shape.name not in _GRADIENTS:
            raise Unfit(f"has a style that draws with a {shape.name}", "put it on the shapes themselves")
    known: dict[int, tuple[int, int]] = {}
    working: set[int] = set()

    def drawn(shape: _Shape) -> tuple[int, int]:
        """How many shapes it draws, and how deep they lie in each other."""
        if id(shape) in known:
            return known[id(shape)]
        if id(shape) in working:
            raise Unfit("draws itself within itself", "simplify it")
        if len(working) > MOST_DEPTH:
            raise _too_deep()
        working.add(id(shape))
        used = [reader.by_id[one] for one in shape.uses if one in reader.by_id]
        below = [drawn(one) for one in (*shape.within, *used)]
        working.discard(id(shape))
        known[id(shape)] = (
            1 + sum(count for count, _ in below),
            1 + max((deep for _, deep in below), default=0),
        )
        return known[id(shape)]

    if reader.root:
        count, deep = drawn(reader.root)
        if count > MOST_SHAPES:
            raise Unfit(f"draws over {MOST_SHAPES:,} shapes", "simplify it, or save it as PNG")
        if deep > MOST_DEPTH:
            raise _too_deep()


def _too_deep() -> Unfit:
    return Unfit(f"has shapes over {MOST_DEPTH} deep within or used by others", "simplify it")
