"""The house schema of ``trials.yaml`` and ``teardown.yaml``, in the words of the recipe's own schema."""

from __future__ import annotations

from cardsmith.recipe.schema import INGREDIENTS, RECIPE, STEPS, Answers, Field, Kind, Lines, Record, Text
from cardsmith.reference import table

CALLS = ("drop", "keep", "settle")
TESTS = ("liking", "preference", "triangle", "duo-trio")
COLUMNS = ("metric", "us")


def _field(
    name: str, kind: Kind, about: str, example: str, *other_words: str, required: bool = False
) -> Field:
    return Field(
        name=name,
        kind=kind,
        help=about,
        example=f"{name}: {example}",
        required=required,
        other_words=other_words,
    )


def _of_recipe(name: str) -> Field:
    field = RECIPE.get(name)
    if field is None:
        raise AssertionError(f"the recipe's schema has no {name}")
    return field


_TEXT = Text()
_WORDS = Answers(
    holds="who said it and what was said", empty="there without words", instead="write what was said"
)
_CHANGE = Record(
    fields=(
        _field("line", _TEXT, "What is changed, as in a list of changes.", "90 g granulated sugar", "item"),
        _field("part", _TEXT, "The part whose line is meant, where two have it.", "Crumble", "in"),
    ),
    short="line",
)
_ROOM = Record(
    fields=(
        _field("temperature", _TEXT, "Of the air at the bench.", "21 °C", "temp", "warmth"),
        _field("humidity", _TEXT, "Relative humidity of the air.", "48 %", "rh"),
    ),
    short="temperature",
)
_OVEN = Record(
    fields=(
        _field("name", _TEXT, "Which oven, fryer or dryer.", "deck oven", "id", "oven"),
        _field("set", _TEXT, "What its dial was set to.", "160 °C", "temperature", "dial"),
        _field(
            "offset",
            _TEXT,
            "How much hotter (+) or cooler (−) it is than its dial, by a thermometer inside.",
            "+6 °C",
            "error",
        ),
        _field("fan", Text(choices=("yes", "no")), "Whether its fan ran.", "no", "convection"),
    ),
    short="name",
)
_MEASURED = Record(
    fields=(
        *(_field(row["name"], _TEXT, row["about"], row["example"]) for row in table("bench_measures")),
        _field("colour", _TEXT, "Its colour in words.", "gold at the edges", "color"),
        _field("texture", _TEXT, "Its texture in words.", "brittle, clean snap", "crumb"),
    )
)
_VERDICT = Record(
    fields=(
        _field(
            "call",
            Text(choices=CALLS),
            "drop it, keep it to work on, or settle on it: good enough to print.",
            "keep",
            "decision",
        ),
        _field("faults", Lines(noun="fault"), "What is wrong, each in a word.", "[tough, pale]", "fault"),
        _field("words", _TEXT, "What is to be said of it.", "Crisp at the edge, leathery inside.", "notes"),
    ),
    short="words",
)
TRIAL = Record(
    fields=(
        _field("trial", _TEXT, "Its number, never used again.", "4", "number", "no", required=True),
        _field("date", _TEXT, "The day: year, month, day.", "2026-03-02", "day", required=True),
        _field("cook", _TEXT, "Who made it: a name or initials.", "T. Wren", "by", "baker"),
        _field("kitchen", _TEXT, "Where.", "test kitchen", "place", "where"),
        _field("expect", _TEXT, "What it should show, written before.", "Less rise, no crack.", "purpose"),
        _field("room", _ROOM, "The air at the bench.", "{temperature: 21 °C, humidity: 48 %}"),
        _field("oven", _OVEN, "The oven and what it is worth.", "{name: deck oven, set: 160 °C}"),
        _field("from", _TEXT, "The trial this one changes or repeats.", "3", "parent", "based_on"),
        _field(
            "change",
            Lines(noun="change", record=_CHANGE),
            "What differs from it: a new amount, add …, without …, … instead of ….",
            "[130 g water, without honey]",
            "changes",
        ),
        _field(
            "method",
            Lines(noun="change"),
            "What is done otherwise than in the trial it comes from.",
            "[Rest the dough for 1 hour.]",
            "change_method",
        ),
        _field("why", _TEXT, "Why this change, or why several at once.", "Trial 3 stuck.", "because"),
        _of_recipe("parts"),
        INGREDIENTS,
        STEPS,
        _field(
            "process",
            Lines(noun="entry"),
            "As done, each entry with its clock time.",
            '["09:40 bake, 160 °C", "10:07 out, gold at the edges"]',
            "log",
            "done",
        ),
        _field("measured", _MEASURED, "What was weighed and measured.", "{in: 486 g, out: 338 g}"),
        _field("photos", Lines(noun="photo"), "Picture files in the recipe's folder.", "[trial-4.jpg]"),
        _field("panel", _WORDS, "What each taster said, by initials.", "{P: dry and toasty}", "tasters"),
        _field("verdict", _VERDICT, "The judgement.", "{call: keep, faults: [tough]}", "result"),
        _field("next", _TEXT, "The next change, written at the bench.", "Roll thinner.", "next_change"),
        _field(
            "cooked_from",
            Text(choices=COLUMNS),
            "The column of the card it was made from, where it was.",
            "metric",
            "column",
        ),
    )
)
_RESULT = Record(
    fields=(
        _field("taster", _TEXT, "The taster's number on the serving sheet.", "1", "who", required=True),
        _field("code", _TEXT, "The sample's three digits.", "417", "sample"),
        _field("picked", _TEXT, "The code picked; none for no preference.", "862", "odd", "preferred"),
        _field("liking", _TEXT, "1 dislike extremely to 9 like extremely.", "7", "score", "overall"),
        _field(
            "just_right",
            Answers(holds="an attribute and 1 to 5", empty="not answered", instead="1 to 5, 3 is just right"),
            "1 much too weak, 3 just about right, 5 much too strong.",
            "{salt: 3}",
            "jar",
        ),
        _field("words", _TEXT, "The taster's own words.", "dry, toasty", "comment", "said"),
    )
)
TASTING = Record(
    fields=(
        _field("name", _TEXT, "What it is called.", "salt", "title", required=True),
        _field("date", _TEXT, "The day.", "2026-03-14"),
        _field("test", Text(choices=TESTS), "Which test.", "triangle", "kind", "method", required=True),
        _field("trials", Lines(noun="trial"), "The trials tasted.", "[4, 6]", "samples", required=True),
        _field("tasters", _TEXT, "How many taste.", "12", "panel", required=True),
        _field("seed", _TEXT, "A number from which codes and orders follow.", "417", required=True),
        _field("question", _TEXT, "What it should settle.", "Is less salt noticed?", "why"),
        _field(
            "attributes", Lines(noun="attribute"), "Asked on the just-about-right scale.", "[salt, crispness]"
        ),
        _field("results", Lines(noun="result", text=None, record=_RESULT), "As typed from ballots.", "[…]"),
    )
)
_AIM = Record(
    fields=(
        _field("moisture", _TEXT, "The water a finished piece may hold.", "4 %", "water"),
        _field("measure", _TEXT, "The measure the report plots.", "height", "measurement"),
        _field("lever", _TEXT, "The ingredient it is plotted against.", "baking powder", "against"),
    )
)
TRIALS = Record(
    fields=(
        _field(
            "trials",
            Lines(noun="trial", text=None, record=TRIAL),
            "Every trial in the order made, failures included.",
            "[{trial: 1, date: 2026-03-02, ingredients: [200 g rye flour]}]",
            "trial",
        ),
        _field("aim", _AIM, "What is aimed at.", "{moisture: 4 %}", "target"),
        _field("tastings", Lines(noun="tasting", text=None, record=TASTING), "The tastings.", "[…]"),
    )
)
_NUTRIENTS = (
    "calories",
    "total fat",
    "saturated fat",
    "cholesterol",
    "sodium",
    "total carbohydrate",
    "dietary fiber",
    "total sugars",
    "protein",
)
PANEL_NUTRIENTS = {name.replace(" ", "_"): name for name in _NUTRIENTS}
TEARDOWN = Record(
    fields=(
        _field("product", _TEXT, "What is taken apart.", "A bought rye crisp", "name", required=True),
        _field("bought", Lines(noun="lot"), "When and what was bought.", "[2026-02-20 lot 14]", "lots"),
        _field(
            "ingredients",
            Lines(noun="ingredient", block=True),
            "In the order of the label.",
            "[rye flour, sesame seeds, salt]",
            "label",
            required=True,
        ),
        _field(
            "two_percent_or_less",
            Lines(noun="ingredient"),
            "Those the label says make up 2 % or less each.",
            "[salt]",
            "less_than_two_percent",
        ),
        _field("serving", _TEXT, "The serving in grams as declared.", "30 g", "serving_size", required=True),
        _field(
            "per_serving",
            Record(
                fields=tuple(
                    _field(key, _TEXT, f"Declared {name}.", "6 g", name)
                    for key, name in PANEL_NUTRIENTS.items()
                )
            ),
            "The nutrition panel as declared.",
            "{calories: 130, total_fat: 6 g, sodium: 230 mg}",
            "nutrition",
            required=True,
        ),
        _field("pieces", Lines(noun="piece"), "Masses of at least five pieces.", "[6.1 g, 5.9 g]", "units"),
        _field("sizes", Lines(noun="size"), "What was measured, in words and numbers.", "[80 by 50 mm]"),
        _field("moisture", _TEXT, "Water by drying, where it was measured.", "3 to 5 %", "water"),
        _field(
            "allowance",
            _TEXT,
            "How far the maker's foods may differ from the table's, in per cent; 0 where not said.",
            "5 %",
        ),
    )
)
