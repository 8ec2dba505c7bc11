"""The picture of a recipe that has none: its list as layers, each as deep as its share by weight.

The layers stand in the order of the list, their names as large as they allow, their edges drawn as tide lines
that no two recipes share. Colours are those of the table ``tile_colours``.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterator
from fractions import Fraction
from html import escape
from pathlib import Path

from cardsmith.frozen import frozen
from cardsmith.measure.larder import Food
from cardsmith.recipe.weighed import weigh
from cardsmith.reference import table
from cardsmith.render.typeset import marks
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.wording import ENGLISH
from cardsmith.site.recipe_page.lettering import Face, face_for
from cardsmith.words import FixedWords, in_a_row

# In shares of a tile's height, but for the last two; common practice, no source
_THINNEST = 0.015  # of a layer that a reader still sees
_READABLE = 0.07  # of a layer that has a name
_LARGEST = 0.3  # of the letters
_SWELL = 0.014  # of an edge, up and down
_MARGIN = 0.04  # of the width, on both sides of a name
_INK, _PAPER = "#16201f", "#fbfaf6"
_TOLD = 3  # layers that the words for the ear name


@frozen
class Layer:
    """One ingredient, from wherever it stands in the list."""

    name: str
    share: Fraction  # of all that the larder can weigh
    colour: str  # #e9d9b4


def layers(card: Card) -> tuple[Layer, ...]:
    """What a card's recipe is by weight; a line that nobody can weigh is none. Empty where none can be."""
    weights: dict[str, Fraction] = {}
    foods: dict[str, Food | None] = {}
    for line in (line for part in card.parts for line in part.ingredients):
        given = (size for size in (line.line.amount, *line.line.stated) if size)
        mass = next((mass for size in given if (mass := weigh(line.line, size))), None)
        if mass and mass.grams:
            name = marks(line.item)
            weights[name] = weights.get(name, Fraction(0)) + mass.grams
            foods[name] = line.line.food
    whole = sum(weights.values(), Fraction(0))
    return tuple(
        Layer(name=name, share=grams / whole, colour=_colour(name, foods[name]))
        for name, grams in weights.items()
    )


def spoken(made: tuple[Layer, ...], say: FixedWords = ENGLISH) -> str:
    """The heaviest layers in words: ``The recipe by weight: water 45 %, carrots 22 % and butter 9 %, …``."""
    heaviest = sorted(made, key=lambda layer: -layer.share)[:_TOLD]
    shares = say.told(in_a_row(*(f"{layer.name} {round(100 * layer.share)} %" for layer in heaviest)))
    more = "The recipe by weight: {layers}, then the rest"
    return say(more if len(made) > _TOLD else "The recipe by weight: {layers}", layers=shares)


def tile(
    made: tuple[Layer, ...], seed: str, templates: Path, size: tuple[int, int], say: FixedWords = ENGLISH
) -> bytes:
    """The layers as an SVG drawing of this size in dots; ``seed`` is what the tide lines follow."""
    wide, high = size
    shapes: list[str] = []
    letters: dict[str, tuple[Face, str]] = {}
    depths = _depths(made, high)
    top, above = 0.0, 0.0
    for at, (layer, depth) in enumerate(zip(made, depths, strict=True)):
        swell = min(_SWELL * high, min(above, depth) * 0.3)  # so that no thin layer is washed over
        edge = _edge(top, swell, f"{seed} {at}", wide) if at else f"M0 0H{wide}"
        shapes.append(f'<path d="{edge}V{high}H0Z" fill="{layer.colour}"/>')
        top, above = top + depth, depth
    top = 0.0
    for layer, depth in zip(made, depths, strict=True):
        face = face_for(templates, layer.name) if depth >= _READABLE * high else None
        if face:
            shapes.append("".join(_named(layer, face, (top, depth), size, letters)))
        top += depth
    outlines = "".join(
        f'<path id="{key}" d="{face.outlines[letter]}"/>' for key, (face, letter) in letters.items()
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}">'
        f"<title>{escape(spoken(made, say))}</title><defs>{outlines}</defs>{''.join(shapes)}</svg>\n"
    ).encode()


def _depths(made: tuple[Layer, ...], high: int) -> list[float]:
    """How deep each layer stands: thin ones are drawn thick enough to be seen, at the cost of deep ones."""
    least = min(_THINNEST, 0.5 / len(made))
    wanted = [max(float(layer.share), least) for layer in made]
    room = sum(height for height in wanted if height > 2 * least)
    over = sum(wanted) - 1
    return [
        high * (height - over * height / room if room and height > 2 * least else height) for height in wanted
    ]


def _edge(top: float, swell: float, seed: str, wide: int) -> str:
    """A line as the tide leaves it: two waves of other lengths, begun where the seed says."""
    start, pace = (byte / 255 for byte in hashlib.sha256(seed.encode()).digest()[:2])
    turn = 2 * math.pi
    points = []
    for x in range(0, wide + 1, wide // 50):
        along = x / wide * turn
        wave = math.sin(turn * start + (1.1 + pace) * along)
        points.append(f"{x} {top + swell * (wave + 0.4 * math.sin(2 * turn * start + 3.1 * along)):.1f}")
    return f"M{'L'.join(points)}"


def _named(
    layer: Layer,
    face: Face,
    place: tuple[float, float],
    size: tuple[int, int],
    letters: dict[str, tuple[Face, str]],
) -> Iterator[str]:
    """The name of a layer as uses of outlines, which are noted in ``letters`` by their keys."""
    (top, depth), (wide, high) = place, size
    type_size = min(depth * 0.8, wide * (1 - 2 * _MARGIN) / face.width(layer.name), high * _LARGEST)
    scale = type_size / face.units
    base = top + depth / 2 + type_size * 0.29
    ink = _INK if _light(layer.colour) > 0.2 else _PAPER
    place_of_it = f"translate({wide * _MARGIN:.1f} {base:.1f}) scale({scale:.5f} -{scale:.5f})"
    yield f'<g fill="{ink}" transform="{place_of_it}">'
    along = 0.0
    for letter in layer.name:
        key = f"l{ord(letter):x}-{face.units}"
        if face.outlines[letter]:
            letters[key] = (face, letter)
            yield f'<use href="#{key}" x="{along:.0f}"/>'
        along += face.widths[letter] * face.units
    yield "</g>"


def _light(colour: str) -> float:
    """Relative luminance. Source: WCAG 2.2, definition of relative luminance."""
    levels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        level / 12.92 if level <= 0.04045 else ((level + 0.055) / 1.055) ** 2.4 for level in levels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _colour(name: str, food: Food | None) -> str:
    """The first row whose words the item or its food has; else that of the food's aisle, else the last."""
    rows = {row["match"]: row["colour"] for row in table("tile_colours")}
    words = f" {name.lower()} {food.name.lower() if food else ''} "
    for match, colour in rows.items():
        if match and any(form in words for form in (f" {match} ", f" {match}s ", f" {match[:-1]}ies ")):
            return colour
    return rows.get(food.aisle if food else "", rows[""])
