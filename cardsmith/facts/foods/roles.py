"""What a food mainly does in a dish: it salts, raises, sets, seasons, or governs what the rest becomes."""

from __future__ import annotations

from functools import lru_cache

from cardsmith.measure.larder import Food

# The first class one of whose roles a food mostly acts in; what has none is "other".
CLASSES = (
    ("cure", ("curing-salt",)),
    ("salt", ("salt",)),
    ("leavener", ("soda", "baking-powder", "leavener")),
    ("yeast", ("yeast-instant", "yeast-active-dry", "yeast-fresh")),
    ("setting", ("gelatine", "agar", "pectin")),
    ("seasoning", ("spice", "herb", "flavouring")),
    (
        "other",
        (
            "vegetable",
            "fruit",
            "meat",
            "poultry",
            "fish",
            "shellfish",
            "allium",
            "nut",
            "cheese",
            "condiment",
        ),
    ),
    (
        "governing",
        ("flour", "starch", "sugar", "fat", "butter", "oil", "milk", "cream", "buttermilk", "liquid"),
    ),
    ("governing", ("egg", "egg-white", "egg-yolk", "water", "cocoa", "chocolate", "levain")),
    ("acid", ("acid",)),
)

# Foods by what they do, as a table's cell names them.
ANIMAL = ("role:meat", "role:poultry", "role:fish", "role:shellfish")
EGGS = ("role:egg", "role:egg-white", "role:egg-yolk")
YOLKS = ("role:egg", "role:egg-yolk")
YEASTS = ("role:yeast-instant", "role:yeast-active-dry", "role:yeast-fresh")
FRYING_FATS = ("role:oil", "key:lard", "key:beef-tallow", "key:vegetable-shortening")


@lru_cache(maxsize=4096)
def role_class(food: Food | None) -> str:
    """The class of a food by what it mainly does; each has its tolerance in house.yaml."""
    if food is None:
        return "other"
    return next((name for name, roles in CLASSES if food.is_mainly(*roles)), "other")
