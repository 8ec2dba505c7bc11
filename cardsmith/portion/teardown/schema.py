"""The house schema of ``teardown.yaml``: what a bought product's labels say, and what was measured of it."""

from __future__ import annotations

from cardsmith.recipe.schema.kinds import Key, Lines, Record, TextKind, entry

LAWS = ("US", "EU")
_TEXT = TextKind()
# A figure of each nutrient as a label prints it, by the names of nutrition_label.csv but for energy.
_US = {
    "calories": "130",
    "total fat": "6 g",
    "saturated fat": "1 g",
    "cholesterol": "5 mg",
    "sodium": "230 mg",
    "total carbohydrate": "16 g",
    "dietary fiber": "3 g",
    "total sugars": "1 g",
    "protein": "4 g",
}
_EU = {
    "EU energy": "2010 kJ / 481 kcal",
    "EU fat": "22 g",
    "EU saturates": "2.4 g",
    "EU carbohydrate": "57 g",
    "EU sugars": "3.1 g",
    "EU fibre": "6.2 g",
    "EU protein": "11 g",
    "EU salt": "1.9 g",
}
FIGURES = {"US": _US, "EU": _EU}


# What an EU label says of one key in two units.
ENERGY = ("EU energy in kJ", "EU energy in kcal")


def _key(nutrient: str) -> str:
    return nutrient.removeprefix("EU ").replace(" ", "_")


# The nutrient of each key, by law: ``protein`` is one by both, ``energy`` two (`ENERGY`).
NUTRIENTS = {law: {_key(name): name for name in names} for law, names in FIGURES.items()}


def _panel_fields() -> tuple[Key, ...]:
    keys: dict[str, Key] = {}
    for names in FIGURES.values():
        for name, figure in names.items():
            key, plain = _key(name), name.removeprefix("EU ")
            by = " or ".join(other for other in LAWS if key in NUTRIENTS[other])
            about = f"Declared {plain}, on a label by {by} rules."
            keys.setdefault(key, entry(key, _TEXT, about, figure, plain, f"of which {plain}"))
    return tuple(keys.values())


PANEL = Record(fields=_panel_fields())


def _of_label(*, alone: bool) -> tuple[Key, ...]:
    """The keys of one label; ``alone`` for the first, which needs a list of ingredients."""
    return (
        entry(
            "law",
            TextKind(choices=LAWS),
            "Whose rules it follows: US (21 CFR 101) where not said; EU and UK: Regulation (EU) 1169/2011.",
            "EU",
            "rules",
        ),
        entry(
            "ingredients",
            Lines(noun="ingredient", block=True),
            "In the order of the label, with the percentages it prints: of the finished food, rounded, also "
            "“at least 14 %” or “14 to 16 %”; “made with 120 g per 100 g” is 120 %. What the larder doesn't "
            "know may be anything.",
            "[rolled oats (14 %), sesame seeds, salt]",
            "label",
            required=alone,
        ),
        entry(
            "two_percent_or_less",
            Lines(noun="ingredient"),
            "Those the label says make up 2 % or less each: by US rules of all that is mixed, by EU rules of "
            "the finished food. Another threshold stands behind each: “salt (1 % or less)”.",
            "[salt, caraway seeds]",
            "less_than_two_percent",
        ),
        entry("serving", _TEXT, "The serving in grams as declared.", "30 g", "serving_size", "portion"),
        entry(
            "per_serving",
            PANEL,
            "The figures per serving as printed.",
            "{calories: 130, total_fat: 6 g, sodium: 230 mg}",
            "nutrition",
        ),
        entry(
            "per_100_g",
            PANEL,
            "The figures per 100 g as printed; a label may give both.",
            "{fat: 22 g, salt: 1.9 g}",
            "per_100g",
        ),
    )


TEARDOWN = Record(
    fields=(
        entry("product", _TEXT, "What is taken apart.", "A bought rye crisp", "name", required=True),
        entry("bought", Lines(noun="lot"), "When and what was bought.", "[2026-02-20 lot 14]", "lots"),
        *_of_label(alone=True),
        entry(
            "labels",
            Lines(noun="label", text=None, record=Record(fields=_of_label(alone=False))),
            "Further labels of the same product, with the keys of the first: each narrows the ranges.",
            "[{law: EU, per_100_g: {fat: 22 g}}]",
            "other_labels",
        ),
        entry("pieces", Lines(noun="piece"), "Masses of at least five pieces.", "[6.1 g, 5.9 g]", "units"),
        entry("sizes", Lines(noun="size"), "What was measured, in words and numbers.", "[80 by 50 mm]"),
        entry(
            "moisture", _TEXT, "Water in the finished food by drying, where measured.", "3 to 5 %", "water"
        ),
        entry(
            "loss",
            _TEXT,
            "How much lighter it is than what was mixed, known or assumed: no label tells how much water "
            "baked out.",
            "20 to 30 %",
            "bake_loss",
        ),
        entry(
            "allowance",
            _TEXT,
            "How far the maker's foods may differ from the table's, in per cent; else 0. EU protein "
            "is nitrogen times 6.25, which for wheat is a tenth more than in the table.",
            "5 %",
        ),
    )
)
