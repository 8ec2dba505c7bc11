"""The house schema of ``trials.yaml``, in the words of the recipe's own schema."""

from __future__ import annotations

from cardsmith.recipe.schema.kinds import Answers, Key, Lines, Record, TextKind, entry
from cardsmith.recipe.schema.recipe import INGREDIENTS, RECIPE, STEPS
from cardsmith.reference import table

CALLS = ("drop", "keep", "settle")
TESTS = ("liking", "preference", "triangle", "duo-trio")
COLUMNS = ("metric", "us")


def _of_recipe(name: str) -> Key:
    field = RECIPE.get(name)
    if field is None:
        raise AssertionError(f"the recipe's schema has no {name}")
    return field


_TEXT = TextKind()
_WORDS = Answers(
    holds="who said it and what was said", empty="there without words", instead="write what was said"
)
_CHANGE = Record(
    fields=(
        entry("line", _TEXT, "What is changed, as in a list of changes.", "90 g granulated sugar", "item"),
        entry("part", _TEXT, "The part whose line is meant, where two have it.", "Crumble", "in"),
    ),
    short="line",
)
_ROOM = Record(
    fields=(
        entry("temperature", _TEXT, "Of the air at the bench.", "21 °C", "temp", "warmth"),
        entry("humidity", _TEXT, "Relative humidity of the air.", "48 %", "rh"),
    ),
    short="temperature",
)
_OVEN = Record(
    fields=(
        entry("name", _TEXT, "Which oven, fryer or dryer.", "deck oven", "id", "oven"),
        entry("set", _TEXT, "What its dial was set to.", "160 °C", "temperature", "dial"),
        entry(
            "offset",
            _TEXT,
            "By a thermometer inside: + hotter, − cooler than its dial. True heat is dial and offset.",
            "+6 °C",
            "error",
        ),
        entry("fan", TextKind(choices=("yes", "no")), "Whether its fan ran.", "no", "convection"),
    ),
    short="name",
)
_MEASURED = Record(
    fields=(
        *(entry(row["name"], _TEXT, row["about"], row["example"]) for row in table("bench_measures")),
        entry("colour", _TEXT, "Its colour in words.", "gold at the edges", "color"),
        entry("texture", _TEXT, "Its texture in words.", "brittle with a clean snap", "crumb"),
    )
)
_VERDICT = Record(
    fields=(
        entry(
            "call",
            TextKind(choices=CALLS),
            "drop it, keep it to work on, or settle on it: good enough to print.",
            "keep",
            "decision",
        ),
        entry("faults", Lines(noun="fault"), "What is wrong, each in a word.", "[tough, pale]", "fault"),
        entry("words", _TEXT, "What is to be said of it.", "Crisp at the edge and leathery inside.", "notes"),
    ),
    short="words",
)
TRIAL = Record(
    fields=(
        entry("trial", _TEXT, "Its number, never used again.", "4", "number", "no", required=True),
        entry("date", _TEXT, "The day: year, month, day.", "2026-03-02", "day", required=True),
        entry("cook", _TEXT, "Who made it: a name or initials.", "T. Wren", "by", "baker"),
        entry("kitchen", _TEXT, "Where.", "test kitchen", "place", "where"),
        entry("expect", _TEXT, "What it should show, written before.", "Less rise and no crack.", "purpose"),
        entry("room", _ROOM, "The air at the bench.", "{temperature: 21 °C, humidity: 48 %}"),
        entry("oven", _OVEN, "The oven and what it is worth.", "{name: deck oven, set: 160 °C}"),
        entry("from", _TEXT, "The trial this one changes or repeats.", "3", "parent", "based_on"),
        entry(
            "change",
            Lines(noun="change", record=_CHANGE),
            "What differs from it: a new amount, add …, without …, … instead of ….",
            "[130 g water, without honey]",
            "changes",
        ),
        entry(
            "method",
            Lines(noun="change"),
            "What is done otherwise than in the trial it comes from.",
            "[Rest the dough for 1 hour.]",
            "change_method",
        ),
        entry("why", _TEXT, "Why this change, or why several at once.", "Trial 3 stuck.", "because"),
        _of_recipe("parts"),
        INGREDIENTS,
        STEPS,
        entry(
            "process",
            Lines(noun="entry"),
            "As done, each with its clock time, its verb first; an oven's heat as dialled.",
            '["09:40 bake, 160 °C", "10:07 out, gold at the edges"]',
            "log",
            "done",
        ),
        entry("measured", _MEASURED, "What was weighed and measured.", "{in: 486 g, out: 338 g}"),
        entry("photos", Lines(noun="photo"), "Picture files in the recipe's folder.", "[trial-4.jpg]"),
        entry(
            "unclear",
            Lines(noun="remark"),
            "What whoever cooked it from the card stumbled over.",
            '["step 3: how firm is firm?"]',
            "confusions",
        ),
        entry("panel", _WORDS, "What each taster said, by initials.", "{P: dry and toasty}", "tasters"),
        entry("verdict", _VERDICT, "The judgement.", "{call: keep, faults: [tough]}", "result"),
        entry("next", _TEXT, "The next change, written at the bench.", "Roll thinner.", "next_change"),
        entry(
            "cooked_from",
            TextKind(choices=COLUMNS),
            "The column of the card it was made from, where it was.",
            "metric",
            "column",
        ),
        entry("card", _TEXT, "The mark of the card it was made from, where it was.", "7f3c21d0", "mark"),
    )
)
_RESULT = Record(
    fields=(
        entry("taster", _TEXT, "The taster's number on the serving sheet.", "1", "who", required=True),
        entry("code", _TEXT, "The sample's three digits.", "417", "sample"),
        entry("picked", _TEXT, "The code picked; none for no preference.", "862", "odd", "preferred"),
        entry("liking", _TEXT, "1 dislike extremely to 9 like extremely.", "7", "score", "overall"),
        entry(
            "just_right",
            Answers(holds="an attribute and 1 to 5", empty="not answered", instead="1 to 5, 3 is just right"),
            "1 much too weak, 3 just about right, 5 much too strong.",
            "{salt: 3}",
            "jar",
        ),
        entry("words", _TEXT, "The taster's own words.", "dry and toasty", "comment", "said"),
    )
)
TASTING = Record(
    fields=(
        entry("name", _TEXT, "What it is called.", "salt", "title", required=True),
        entry("date", _TEXT, "The day.", "2026-03-14"),
        entry("test", TextKind(choices=TESTS), "Which test.", "triangle", "kind", "method", required=True),
        entry(
            "trials",
            Lines(noun="trial"),
            "The trials tasted; bought is the product of teardown.yaml.",
            "[4, bought]",
            "samples",
            required=True,
        ),
        entry("tasters", _TEXT, "How many taste.", "12", "panel", required=True),
        entry("seed", _TEXT, "A number from which codes and orders follow.", "417", required=True),
        entry("question", _TEXT, "What it should settle.", "Is less salt noticed?", "why"),
        entry(
            "attributes", Lines(noun="attribute"), "Asked on the just-about-right scale.", "[salt, crispness]"
        ),
        entry(
            "results",
            Lines(noun="result", text=None, record=_RESULT),
            "As typed from ballots.",
            "[{taster: 1, picked: 862}]",
        ),
    )
)
_LEVER = Record(
    fields=(
        entry(
            "line",
            _TEXT,
            "An ingredient with the least and the most of it; also “up to 20 g honey”, and “20 to 60 g rye "
            "flour instead of bread flour”.",
            "100 to 140 g water",
            "item",
        ),
        entry("heat", _TEXT, "True heat, dial and offset together.", "150 to 170 °C", "oven", "temperature"),
        entry("time", _TEXT, "Time in the heat.", "24 to 30 min", "bake", "minutes"),
    ),
    short="line",
)
_AIM = Record(
    fields=(
        entry("moisture", _TEXT, "The water a finished piece may hold.", "4 %", "water"),
        entry(
            "measure",
            _TEXT,
            "The measure that is aimed at: the report plots it, the next trial is chosen for it.",
            "height",
            "measurement",
        ),
        entry("target", _TEXT, "What that measure should be.", "45 mm"),
        entry(
            "lever",
            _TEXT,
            "The ingredient it is plotted against, else the first of levers.",
            "baking powder",
            "against",
        ),
        entry(
            "levers",
            Lines(noun="lever", record=_LEVER),
            "What you would change for it, and how far: `cardsmith bench next` says which trials tell most.",
            "[100 to 140 g water, {heat: 150 to 170 °C}]",
            "may_change",
        ),
    )
)
TRIALS = Record(
    fields=(
        entry(
            "trials",
            Lines(noun="trial", text=None, record=TRIAL),
            "Every trial in the order made, failures included.",
            "[{trial: 1, date: 2026-03-02, ingredients: [200 g rye flour]}]",
            "trial",
        ),
        entry("aim", _AIM, "What is aimed at.", "{moisture: 4 %}", "target"),
        entry(
            "tastings",
            Lines(noun="tasting", text=None, record=TASTING),
            "The tastings.",
            "[{name: salt, test: triangle, trials: [4, 6], tasters: 12, seed: 417}]",
        ),
    )
)
