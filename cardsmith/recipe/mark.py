"""The mark of a recipe: eight signs that change when anything changes that a cook goes by.

It stands in the recipe beside the date of publication, so that no later change passes unseen: neither the
author's edit, nor another number in print because the house's ladders or the larder's weights changed.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence

from cardsmith.recipe.model import Recipe

LENGTH = 8  # hexadecimal digits: one edit in four thousand million goes unseen


def mark(recipe: Recipe, printed: Sequence[str] = ()) -> str:
    """The mark of the author's words and of the numbers and allergens ``printed`` from them, in order.

    The words are title, yield, times, equipment, lists, steps, storage, notes, cautions and claims. The
    headnote, the picture and the credits may be polished freely; so may spaces and line breaks.
    """
    yields, time = recipe.yields, recipe.time
    marked = [
        recipe.title,
        [
            str(yields.makes or ""),
            str(yields.serves or ""),
            yields.piece.written if yields.piece else "",
        ]
        if yields
        else [],
        [quantity.written if quantity else "" for quantity in (time.active, time.total)] if time else [],
        [item.text for item in recipe.equipment],
        [
            [part.name, [_line(line.text) for line in part.ingredients], [step.text for step in part.steps]]
            for part in recipe.parts
        ],
        recipe.storage,
        [note.text for note in recipe.notes],
        [claim.text for claim in recipe.claims],
        recipe.measures,
        [_line(text) for text in printed],
        *([caution.text] for caution in recipe.cautions),
        *([quantity.written] for quantity in ((time.prep, time.cook) if time else ()) if quantity),
    ]
    text = " ".join(json.dumps(marked, ensure_ascii=False).split())
    return hashlib.sha256(text.encode()).hexdigest()[:LENGTH]


def _line(text: str) -> str:
    return " ".join(text.split())
