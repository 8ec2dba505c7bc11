"""What an author wrote, by place, for words to be looked up in."""

from __future__ import annotations

from cardsmith.check.fields import fields
from cardsmith.last_result import remembered
from cardsmith.recipe.model import Recipe


@remembered
def texts(recipe: Recipe) -> dict[str, str]:
    """What the author wrote, by place, for words to be looked up in."""
    own = {
        "kind": recipe.kind.text if recipe.kind else "",
        "makes": recipe.yields.makes_item if recipe.yields else "",
        "list": "; ".join(line.text for line in recipe.ingredients),
    }
    return {
        name: own.get(name) or "\n".join(field.text for field in fields(recipe) if field.name == name)
        for name in TEXTS
    }


TEXTS = ("title", "headnote", "kind", "makes", "equipment", "list", "steps", "storage", "notes")
