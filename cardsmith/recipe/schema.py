"""The house schema of a recipe, declared once: the loader and the JSON Schema for editors both follow it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

DIALECT = "https://json-schema.org/draft/2020-12/schema"


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One text; with ``choices``, one of them."""

    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """A list of texts, or of keys where ``record`` allows; as ``block``, also one text cut into lines."""

    noun: str  # what one item is: line, step
    text: Text | None = Text()  # None where only keys will do
    record: Record | None = None
    block: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """Known keys, each with its field."""

    fields: tuple[Field, ...]
    short: str = ""  # the key a bare text is most likely meant for

    def get(self, name: str) -> Field | None:
        """The field called ``name``."""
        return next((field for field in self.fields if field.name == name), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """Free keys, each with a text: a check's name and the reason it is accepted."""

    holds: str = "a check's name and a reason"
    empty: str = "accepted without a reason"
    instead: str = "say why; the proof prints it"


Kind = Text | Lines | Record | Answers


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One key: what it holds, what it is for, and how it is written."""

    name: str
    kind: Kind
    help: str
    example: str  # as YAML, key and value
    required: bool = False
    other_words: tuple[str, ...] = ()  # what authors call it elsewhere


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


_TEXT = Text()

INGREDIENT = Record(
    fields=(
        _field(
            "key",
            _TEXT,
            "A short name, unique in the recipe, that a step's link draws on.",
            "seeds",
            "id",
            "label",
        ),
        _field("amount", _TEXT, "The amount as measured at the bench.", "70 g", "quantity", "qty", "weight"),
        _field(
            "item",
            _TEXT,
            "The food, without amount and preparation.",
            "sesame seeds",
            "ingredient",
            "food",
            "name",
            required=True,
        ),
        _field(
            "prep",
            _TEXT,
            "What is done to it before it is used.",
            "toasted",
            "preparation",
            "note",
            "comment",
        ),
    )
)

INGREDIENTS = _field(
    "ingredients",
    Lines(noun="line", record=INGREDIENT, block=True),
    "One line for each ingredient, in order of use; as a list or as a block of text.",
    "[200 g whole-grain rye flour, 5 g fine salt]",
    "ingredient",
    "formula",
)
STEPS = _field(
    "steps",
    Lines(noun="step", block=True),
    "The method in order, in CommonMark; as a list or as a numbered list in a block of text.",
    "[Heat the oven to 160 °C., Bake until crisp.]",
    "method",
    "methods",
    "directions",
    "instructions",
    "procedure",
    "step",
    "preparation",
)

_PART = Record(
    fields=(
        _field("name", _TEXT, "What the component is called on the card.", "Dough", "title", "part"),
        INGREDIENTS,
        STEPS,
    ),
    short="name",
)
_YIELD = Record(
    fields=(
        _field(
            "makes",
            _TEXT,
            "How many pieces, or how much, comes out.",
            "60 crackers",
            "make",
            "pieces",
            "quantity",
        ),
        _field(
            "serves",
            _TEXT,
            "How many people it feeds; one number or a range.",
            "4 to 6",
            "servings",
            "portions",
        ),
        _field("piece", _TEXT, "The mass or size of one piece.", "6 g", "each", "portion"),
    ),
    short="makes",
)
_TIME = Record(
    fields=(
        _field("active", _TEXT, "Time with hands on.", "35 min", "hands_on", "hands-on", "prep_time", "prep"),
        _field("total", _TEXT, "Time from start to table.", "1 h 40 min", "total_time", "whole", "ready_in"),
    ),
    short="total",
)
_PHOTO = Record(
    fields=(
        _field(
            "file",
            _TEXT,
            "The picture's file, in the recipe's folder.",
            "crackers.jpg",
            "path",
            "image",
            "url",
            required=True,
        ),
        _field(
            "alt",
            _TEXT,
            "What the picture shows, for those who can't see it.",
            "A stack of dark square crackers",
            "caption",
            "description",
            required=True,
        ),
        _field("credit", _TEXT, "Who took it.", "House photo", "photographer", "by"),
        _field("focus", _TEXT, "The point that stays in when it is cropped: from left, from top.", "40% 30%"),
    ),
    short="file",
)
_TESTED = Record(
    fields=(
        _field("trial", _TEXT, "The bench trial on which the printed formula rests.", "4"),
        _field(
            "cross_test",
            _TEXT,
            "When and where another cook made it from the card.",
            "2026-04-02 in a home kitchen",
        ),
        _field(
            "cooked_from",
            Lines(noun="column", text=Text(choices=("metric", "us"))),
            "Which columns of the card were cooked from.",
            "[metric, us]",
        ),
    ),
    short="trial",
)

_PUBLISHED = Record(
    fields=(
        _field("date", _TEXT, "The day readers first saw it.", "2026-06-01", "on", "day", required=True),
        _field("mark", _TEXT, "Of what they were told; `cardsmith check` says it.", "7f3c21d0", "hash"),
    ),
    short="date",
)
_CORRECTION = Record(
    fields=(
        _field("date", _TEXT, "The day of the correction.", "2026-06-20", "on", "day", required=True),
        _field(
            "what",
            _TEXT,
            "What was wrong and what is right now, for readers.",
            "The soda was 2 teaspoons; it is ½ teaspoon.",
            "text",
            "note",
            "correction",
            required=True,
        ),
        _field("mark", _TEXT, "Of the recipe as corrected; `cardsmith check` says it.", "9a1b04c7", "hash"),
    ),
)

RECIPE = Record(
    fields=(
        _field(
            "title",
            _TEXT,
            "The name of the dish, as it heads the card.",
            "Caraway rye crackers",
            "name",
            "dish",
            "heading",
            required=True,
        ),
        _field(
            "kind",
            _TEXT,
            "What sort of recipe it is; selects the checks of its proportions.",
            "cracker",
            "type",
            "category",
        ),
        _field(
            "headnote",
            _TEXT,
            "A short paragraph under the title.",
            "Thin, dark and brittle.",
            "description",
            "intro",
            "introduction",
            "summary",
        ),
        _field("yield", _YIELD, "What comes out.", "{makes: 60 crackers, serves: 10, piece: 6 g}", "yields"),
        _field(
            "time", _TIME, "How long it takes.", "{active: 35 min, total: 1 h 40 min}", "times", "duration"
        ),
        _field(
            "equipment",
            Lines(noun="line"),
            "What is needed beyond a usual kitchen.",
            "[two half-sheet pans, rolling pin]",
            "tools",
            "utensils",
            "gear",
        ),
        _field(
            "parts",
            Lines(noun="part", text=None, record=_PART),
            "The components of a recipe that has several, each with its own ingredients and steps.",
            "[{name: Dough, ingredients: [200 g rye flour], steps: [Knead.]}]",
            "part",
            "components",
            "sections",
        ),
        INGREDIENTS,
        STEPS,
        _field(
            "storage",
            _TEXT,
            "How and how long it keeps.",
            "Keeps two weeks in an airtight tin.",
            "keeping",
            "keeps",
            "store",
        ),
        _field(
            "notes",
            Lines(noun="note"),
            "Further remarks, one each.",
            "[Rye of a new harvest takes more water.]",
            "note",
            "remarks",
            "tips",
        ),
        _field(
            "claims",
            Lines(noun="claim"),
            "What the card says of the dish; checked against the ingredients.",
            "[vegetarian]",
            "claim",
            "diet",
            "diets",
        ),
        _field(
            "photo",
            _PHOTO,
            "A picture of the dish.",
            "{file: crackers.jpg, alt: A stack of dark square crackers}",
            "image",
            "picture",
            "photograph",
        ),
        _field("credit", _TEXT, "Whose recipe it is.", "The test kitchen", "author", "by", "source"),
        _field(
            "course",
            _TEXT,
            "The part of a meal it is, where that is not the usual one of its kind.",
            "Desserts",
            "meal",
            "meal_part",
        ),
        _field("cuisine", _TEXT, "The kitchen it comes from, for search.", "Scottish", "region"),
        _field(
            "keywords", Lines(noun="word"), "Further words to find it by.", "[picnic, travels well]", "tags"
        ),
        _field(
            "published",
            _PUBLISHED,
            "When readers first saw it, and the mark of what they were told.",
            "{date: 2026-06-01, mark: 7f3c21d0}",
            "publication",
        ),
        _field(
            "corrections",
            Lines(noun="correction", text=None, record=_CORRECTION),
            "What was corrected after publication, the newest last.",
            "[{date: 2026-06-20, what: The soda is ½ teaspoon, mark: 9a1b04c7}]",
            "correction",
            "errata",
        ),
        _field(
            "formerly",
            Lines(noun="name"),
            "Names of its folder that it was published under, the oldest first; they lead here.",
            "[rye-crispbread]",
            "was",
            "redirects",
        ),
        _field(
            "tested",
            _TESTED,
            "How the recipe was tested.",
            "{trial: 4, cooked_from: [metric, us]}",
            "test",
            "testing",
        ),
        _field(
            "accepted",
            Answers(),
            "Queries answered: a check's name and the reason, which the proof prints.",
            "{low-hydration: Rye at this thickness rolls best dry.}",
            "accept",
            "ignore",
            "exceptions",
        ),
        _field(
            "measures",
            Text(choices=("us", "imperial", "australian")),
            "Whose cups, spoons and pints the recipe is written in; us where nothing is said.",
            "us",
            "units",
            "measure",
        ),
    )
)


def places(record: Record = RECIPE, path: tuple[Field, ...] = ()) -> Iterator[tuple[Field, ...]]:
    """Every field of the schema, each as the path of fields that leads to it."""
    for field in record.fields:
        here = (*path, field)
        yield here
        inner = field.kind.record if isinstance(field.kind, Lines) else field.kind
        if isinstance(inner, Record):
            yield from places(inner, here)


KEYS = frozenset(field.name for path in places() for field in path)


def json_schema() -> dict[str, Any]:
    """The schema for editors, as JSON Schema draft 2020-12. A key left empty (null) is not written yet."""
    listed = {"type": "array", "minItems": 1}
    return {
        "$schema": DIALECT,
        "title": "A recipe in the house schema",
        **_of(RECIPE),
        "if": {"properties": {"parts": listed}, "required": ["parts"]},
        "then": {"properties": {"ingredients": {"type": "null"}, "steps": {"type": "null"}}},
    }


def _of(kind: Kind, *, needed: bool = False) -> dict[str, Any]:
    """One kind of value; a text that is ``needed`` must not be blank."""
    match kind:
        case Text(choices=choices) if choices:
            return {"enum": list(choices)}
        case Text():  # an unquoted number is as good as text
            words = {"type": ["string", "number", "boolean"]}
            return words | {"pattern": r"\S"} if needed else words
        case Answers():
            return {"type": "object", "additionalProperties": _of(_TEXT, needed=True)}
        case Lines(text=text, record=record, block=block):
            items = [_of(one, needed=True) for one in (text, record) if one is not None]
            listed = {"type": "array", "items": items[0] if len(items) == 1 else {"anyOf": items}}
            return {"anyOf": [_of(_TEXT), listed]} if block else listed
        case Record(fields=fields):
            return {
                "type": "object",
                "properties": {field.name: _property(field) for field in fields},
                "required": [field.name for field in fields if field.required],
                "additionalProperties": False,
            }


def _property(field: Field) -> dict[str, Any]:
    about = {"description": field.help, "examples": [field.example]}
    if field.required:
        return about | _of(field.kind, needed=True)
    return about | {"anyOf": [_of(field.kind), {"type": "null"}]}
