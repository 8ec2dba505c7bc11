"""What a drawing makes a renderer do: shapes as often as they are used, tiles of patterns, dashes of lines.

A file of 300 bytes can ask for millions of tiles or dashes, which hang a browser, the typesetter and the
workstation of a printer alike.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

from cardsmith.frozen import frozen
from cardsmith.regex import regex
from cardsmith.render.pictures.shapes import INHERITED, Shape, Unfit, length, lengths, outline, scales

MOST_SHAPES = 5_000  # drawn in all, each as often as it is used; the demo's largest has 600
MOST_DEPTH = 60  # groups within groups, and shapes used by shapes
MOST_PIECES = 50_000  # shapes in all tiles of all patterns, or dashes in all; common practice, no source
_PAINT = regex(r"""url\(\s*["']?\s*#(?P<id>[^"')\s]+)""")
_DRAWN = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")
_SOLID = ("", "none")
_AS_ABOVE = ("inherit", "unset", "revert", "revert-layer")
_INDIRECT = 8  # patterns that take their measures each from the next


@frozen
class _Work:
    shapes: int = 0
    depth: int = 0
    tiles: float = 0.0  # shapes in tiles
    dashes: float = 0.0


def weigh(every: Sequence[Shape], by_id: Mapping[str, Shape], style: Iterable[tuple[str, str]]) -> None:
    """Pass where a drawing, whose first shape holds all others, makes no more work than one has reason to.

    ``style`` are the declarations of its style sheets, each of which may hold for any shape.

    Raises:
        Unfit: it does, or draws itself within itself.
    """
    edge = max(map(_edge, every))
    done = _Weighing(by_id, tuple(style), edge).drawn(every[0], {})
    if done.shapes > MOST_SHAPES:
        raise Unfit(f"draws over {MOST_SHAPES:,} shapes", "simplify it, or save it as PNG")
    if done.depth > MOST_DEPTH:
        raise too_deep()
    if done.tiles > MOST_PIECES:
        said = f"has patterns of over {MOST_PIECES:,} pieces"
        raise Unfit(said, "make their tiles larger, or save it as PNG")
    if done.dashes > MOST_PIECES:
        raise Unfit(f"has lines of over {MOST_PIECES:,} dashes", "make them longer, or save it as PNG")


def too_deep() -> Unfit:
    """What to say of a drawing whose shapes lie too deep."""
    return Unfit(f"has shapes over {MOST_DEPTH} deep within or used by others", "simplify it")


class _Weighing:
    def __init__(self, by_id: Mapping[str, Shape], style: Sequence[tuple[str, str]], edge: float) -> None:
        self._by_id, self._edge = by_id, edge
        self._known: dict[tuple[object, ...], _Work] = {}
        self._working: set[int] = set()
        self._dashes = [value for name, value in style if name == "stroke-dasharray"]
        self._widths = [value for name, value in style if name == "stroke-width"]

    def drawn(self, shape: Shape, above: Mapping[str, str]) -> _Work:
        """The work of a shape with all in it; ``above`` is how those around it are painted."""
        said = {name: value for name, value in shape.paints().items() if value not in _AS_ABOVE}
        paints = {name: said.get(name, above.get(name, "")) for name in INHERITED}
        key = (id(shape), *paints.values())
        if key in self._known:
            return self._known[key]
        if id(shape) in self._working:
            raise Unfit("draws itself within itself", "simplify it")
        if len(self._working) > MOST_DEPTH:
            raise too_deep()
        self._working.add(id(shape))
        used = [self._by_id[name] for name in shape.uses if name in self._by_id]
        below = [self.drawn(inner, paints) for inner in shape.within]
        below += [self.drawn(referred, paints if shape.name == "use" else {}) for referred in used]
        own = self._own(shape, paints) if shape.name in _DRAWN else _Work()
        self._working.discard(id(shape))
        self._known[key] = _Work(
            shapes=1 + sum(work.shapes for work in below),
            depth=1 + max((work.depth for work in below), default=0),
            tiles=own.tiles + sum(work.tiles for work in below),
            dashes=own.dashes + sum(work.dashes for work in below),
        )
        return self._known[key]

    def _own(self, shape: Shape, paints: Mapping[str, str]) -> _Work:
        """The tiles and dashes of one shape that is drawn."""
        lists = [*self._dashes, *([paints["stroke-dasharray"]] if paints["stroke"] else [])]
        rows = [
            row
            for row in (lengths(dashes, self._edge) for dashes in lists if dashes not in _SOLID)
            if sum(row)
        ]
        patterns = [
            (kind, pattern) for kind in ("fill", "stroke") if (pattern := self._pattern(paints[kind]))
        ]
        if not rows and not patterns:
            return _Work()
        long, across, down = outline(shape, self._edge)
        widths = [length(width, self._edge) for width in (*self._widths, paints["stroke-width"])]
        return _Work(
            tiles=sum(
                self._tiles(pattern, across + wider, down + wider)
                for kind, pattern in patterns
                for wider in [max(widths) if kind == "stroke" else 0.0]
            ),
            dashes=max((long * len(row) / sum(map(abs, row)) for row in rows), default=0.0),
        )

    def _pattern(self, paint: str) -> Shape | None:
        reference = _PAINT.match(paint)
        shape = self._by_id.get(reference["id"]) if reference else None
        return shape if shape and shape.name == "pattern" else None

    def _tiles(self, pattern: Shape, across: float, down: float) -> float:
        """How many shapes a pattern draws to cover so much, each as often as it is drawn."""
        at = self._measures(pattern)
        in_units = at.get("patternUnits") == "userSpaceOnUse"  # else in shares of the shape itself
        reach = math.hypot(across, down) if in_units else math.sqrt(2)  # however the tiles are turned
        sizes = (length(at.get(name), self._edge if in_units else 1.0) for name in ("width", "height"))
        each = [
            size * scale for size, scale in zip(sizes, scales(at.get("patternTransform", "")), strict=True)
        ]
        if any(edge <= 0 for edge in each):
            return 0.0  # such a pattern draws nothing
        content = self.drawn(pattern, {})
        return math.prod(reach / edge + 2 for edge in each) * (content.shapes + content.tiles)

    def _measures(self, pattern: Shape) -> Mapping[str, str]:
        """The attributes of a pattern, with those of the patterns that it refers to."""
        said: dict[str, str] = {}
        referred: Shape | None = pattern
        for _ in range(_INDIRECT):
            if referred is None:
                break
            said = dict(referred.attributes) | said
            referred = self._by_id.get(referred.attributes.get("href", "").strip().removeprefix("#"))
        return said


def _edge(shape: Shape) -> float:
    """The longer edge of what a shape's lengths may be shares of; 0 where it is no such shape."""
    if shape.name not in ("svg", "symbol"):
        return 0.0
    box = lengths(shape.attributes.get("viewBox", ""))[2:]
    sizes = (shape.attributes.get(name, "") for name in ("width", "height"))
    return max((*box, *(length(size) for size in sizes if not size.strip().endswith("%"))), default=0.0)
