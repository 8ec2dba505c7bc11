"""The house schema of the form that a cross-test comes back on: a trial's own keys, with times by step."""

from __future__ import annotations

from cardsmith.bench.file.schema import COLUMNS, TRIAL
from cardsmith.recipe.schema.kinds import Key, Lines, Record, TextKind, entry

FORMULA = ("parts", "ingredients", "steps")  # the keys that hold it
_TEXT = TextKind()
# What the form itself settles, or asks for by step.
_NOT_ASKED = {"trial", "expect", "from", "why", "process", "cooked_from", "card"}
_TIMED = Record(
    fields=(
        entry("printed", _TEXT, "What the card says.", "rest for 20 minutes", required=True),
        entry("took", _TEXT, "How long it truly took.", "25 minutes"),
    )
)
_STEP = Record(
    fields=(
        entry("step", _TEXT, "The number of the step on the card.", "3", required=True),
        entry("began", _TEXT, "When it was begun, by the clock.", "14:05"),
        entry("ended", _TEXT, "When it was done.", "14:40"),
        entry(
            "timed",
            Lines(noun="time", text=None, record=_TIMED),
            "Each time that the step prints, and how long it took.",
            "[{printed: rest for 20 minutes, took: 25 minutes}]",
        ),
        entry("unclear", _TEXT, "What had to be read twice.", "how firm is firm?"),
    )
)
PACK = Record(
    fields=(
        entry("recipe", _TEXT, "Whose card was cooked.", "rye-crackers", required=True),
        entry("card", _TEXT, "The mark of the card.", "7f3c21d0", required=True),
        entry("column", TextKind(choices=COLUMNS), "The column it shows.", "us", required=True),
        entry("from", _TEXT, "The trial that has its formula.", "6"),
    )
)


def _asked() -> tuple[Key, ...]:
    """The keys of a trial that a form asks for; a date is asked for like the rest."""
    return tuple(field for field in TRIAL.fields if field.name not in _NOT_ASKED)


FORM = Record(
    fields=(
        *_asked(),
        entry(
            "times",
            Lines(noun="step", text=None, record=_STEP),
            "When each step was begun and done.",
            "[{step: 1, began: 14:05, ended: 14:10}]",
        ),
        entry(
            "pack",
            PACK,
            "What was cooked; as the form was written.",
            "{recipe: rye-crackers, card: 7f3c21d0, column: us, from: 6}",
            required=True,
        ),
    )
)
