"""Ingredient lines drawn from their meaning: the statements come first, the words are written from them.

The truth of a drawn line is therefore known without reading it, and a reader of ingredient lines can be held
against as many lines as one likes. `line_scorer.md` says how to compare a reading with a drawn line.
"""

from random import Random

from tests.language.meaning import (
    lines_of_containers,
    lines_of_counts,
    lines_of_one_amount,
    lines_of_several_amounts,
    lines_to_ask,
)
from tests.language.meaning.line_constructions import CONSTRUCTIONS
from tests.language.meaning.line_pen import Pen
from tests.language.meaning.statements import Drawn, Statement

__all__ = ["CONSTRUCTIONS", "Drawn", "Statement", "draw_lines"]

WRITERS = (lines_of_containers, lines_of_counts, lines_of_one_amount, lines_of_several_amounts, lines_to_ask)
BULLETS = ("• ", "- ", "– ", "* ", "□ ", "▢ ", "·  ", "☐ ")
NO_BREAK, THIN, NARROW = "\u00a0", "\u2009", "\u202f"


def draw_lines(seed: int, number: int) -> list[Drawn]:
    """Draw a number of lines; the same seed gives the same lines."""
    random = Random(seed)
    weights = [entry.weight for entry in CONSTRUCTIONS]
    return [
        _typed(random, entry.draw(Pen(random))) for entry in random.choices(CONSTRUCTIONS, weights, k=number)
    ]


def _typed(random: Random, drawn: Drawn) -> Drawn:
    """Let the keyboard and the page leave their marks: bullets, odd spaces, a stop at the end."""
    text, kind = drawn.text, drawn.kind
    if random.random() < 0.08:
        space = random.choice((NO_BREAK, THIN, NARROW, "  "))
        spots = [place for place, sign in enumerate(text) if sign == " "]
        chosen = spots if random.random() < 0.3 else random.choices(spots, k=min(1, len(spots)))
        text = "".join(space if place in chosen else sign for place, sign in enumerate(text))
        kind += " + odd spaces"
    if random.random() < 0.05:
        text = random.choice(BULLETS) + text
        kind += " + bulleted"
    if random.random() < 0.03:
        text = (
            random.choice((f"{text}.", f"{text};", f"  {text} ", f"{text} "))
            if text[-1] not in ".)"
            else f"{text} "
        )
        kind += " + ragged"
    return Drawn(text=text, kind=kind, statements=drawn.statements, food=drawn.food, asked=drawn.asked)
