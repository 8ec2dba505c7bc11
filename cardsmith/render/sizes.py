"""Lengths of a card in the terms of its templates: lines, quarters of a line, what CSS takes."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.house.paper import GUTTER, CardSize

LEADING = Fraction(132, 100)  # em, from line to line of text
_QUARTERS_OF_HEAD = 2  # quarters of a line more at the top of a page that carries the title again
_MEASURE = Fraction(305)  # points of text width for which the titles are drawn
_LARGEST_TITLE = Fraction(6, 5)


def other_height(size: CardSize, text: Fraction) -> Fraction:
    """Of the text area of every page but the front, whose top carries the title again, at points of type."""
    return size.first_height - _QUARTERS_OF_HEAD * quarter(text)


def measures(size: CardSize, bleed: Fraction, text: Fraction) -> dict[str, str | float]:
    """Lengths for the templates at points of type, in CSS.

    ``title`` is a factor, ``quarter`` points.
    """
    lengths = {
        "width": size.width,
        "height": size.height,
        "top": size.top,
        "top_running": size.top + _QUARTERS_OF_HEAD * quarter(text),
        "side": size.side,
        "foot": size.foot,
        "bleed": bleed,
        "text_width": size.text_width,
        "first_height": size.first_height,
        "other_height": other_height(size, text),
        "gutter": GUTTER,
        "widened": size.widened,
    }
    title = min(size.column_width / _MEASURE, _LARGEST_TITLE)
    return {name: f"{float(value):.8g}pt" for name, value in lengths.items()} | {
        "title": round(float(title), 3),
        "quarter": round(float(quarter(text)), 6),
    }


def quarter(text: Fraction) -> Fraction:
    """A quarter of a line, in points: lines of text begin on multiples of it from the top of the page."""
    return LEADING * text / 4
