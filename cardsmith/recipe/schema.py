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

    def get(self, name: str) -> Field | None:
        """The field called ``name``."""
        return next((field for field in self.fields if field.name == name), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """Free keys, each with a text: a check's name and the reason it is accepted."""


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


INGREDIENT = Record(
    fields=(
        Field(
            name="key",
            kind=Text(),
            help="A short name, unique in the recipe, that a step's link draws on.",
            example="key: seeds",
            other_words=("id", "ref", "label"),
        ),
        Field(
            name="amount",
            kind=Text(),
            help="The amount as measured at the bench.",
            example="amount: 70 g",
            other_words=("quantity", "qty", "weight"),
        ),
        Field(
            name="item",
            kind=Text(),
            help="The food, without amount and preparation.",
            example="item: sesame seeds",
            required=True,
            other_words=("ingredient", "food", "name"),
        ),
        Field(
            name="prep",
            kind=Text(),
            help="What is done to it before it is used.",
            example="prep: toasted",
            other_words=("preparation", "note", "comment"),
        ),
    )
)

INGREDIENTS = Field(
    name="ingredients",
    kind=Lines(noun="line", record=INGREDIENT, block=True),
    help="One line for each ingredient, in order of use; as a list or as a block of text.",
    example="ingredients: [200 g whole-grain rye flour, 5 g fine salt]",
    other_words=("ingredient", "formula"),
)
STEPS = Field(
    name="steps",
    kind=Lines(noun="step", block=True),
    help="The method in order, in CommonMark; as a list or as a numbered list in a block of text.",
    example="steps: [Heat the oven to 160 °C., Bake until crisp.]",
    other_words=("method", "directions", "instructions", "procedure", "step", "preparation"),
)
PART = Record(
    fields=(
        Field(
            name="name",
            kind=Text(),
            help="What the component is called on the card.",
            example="name: Dough",
            other_words=("title", "part"),
        ),
        INGREDIENTS,
        STEPS,
    )
)

RECIPE = Record(
    fields=(
        Field(
            name="title",
            kind=Text(),
            help="The name of the dish, as it heads the card.",
            example="title: Caraway rye crackers",
            required=True,
            other_words=("name", "dish", "heading"),
        ),
        Field(
            name="kind",
            kind=Text(),
            help="What sort of recipe it is; selects the checks of its proportions.",
            example="kind: cracker",
            other_words=("type", "category"),
        ),
        Field(
            name="headnote",
            kind=Text(),
            help="A short paragraph under the title.",
            example="headnote: Thin, dark and brittle.",
            other_words=("description", "intro", "introduction", "summary"),
        ),
        Field(
            name="yield",
            kind=Record(
                fields=(
                    Field(
                        name="makes",
                        kind=Text(),
                        help="How many pieces, or how much, comes out.",
                        example="makes: 60 crackers",
                        other_words=("make", "pieces", "quantity"),
                    ),
                    Field(
                        name="serves",
                        kind=Text(),
                        help="How many people it feeds; one number or a range.",
                        example="serves: 4 to 6",
                        other_words=("servings", "portions", "serving", "serve"),
                    ),
                    Field(
                        name="piece",
                        kind=Text(),
                        help="The mass or size of one piece.",
                        example="piece: 6 g",
                        other_words=("each", "portion"),
                    ),
                )
            ),
            help="What comes out of the recipe.",
            example="yield: {makes: 60 crackers, serves: 10, piece: 6 g}",
            other_words=("yields",),
        ),
        Field(
            name="time",
            kind=Record(
                fields=(
                    Field(
                        name="active",
                        kind=Text(),
                        help="Time with hands on.",
                        example="active: 35 min",
                        other_words=("hands_on", "hands-on", "prep_time", "prep"),
                    ),
                    Field(
                        name="total",
                        kind=Text(),
                        help="Time from start to table.",
                        example="total: 1 h 40 min",
                        other_words=("total_time", "whole", "ready_in"),
                    ),
                )
            ),
            help="How long it takes.",
            example="time: {active: 35 min, total: 1 h 40 min}",
            other_words=("times", "duration"),
        ),
        Field(
            name="equipment",
            kind=Lines(noun="line"),
            help="What is needed beyond a usual kitchen.",
            example="equipment: [two half-sheet pans, rolling pin]",
            other_words=("tools", "utensils", "gear"),
        ),
        Field(
            name="parts",
            kind=Lines(noun="part", text=None, record=PART),
            help="The components of a recipe that has several, each with its own ingredients and steps.",
            example="parts: [{name: Dough, ingredients: [200 g rye flour], steps: [Knead.]}]",
            other_words=("part", "components", "sections"),
        ),
        INGREDIENTS,
        STEPS,
        Field(
            name="storage",
            kind=Text(),
            help="How and how long it keeps.",
            example="storage: Keeps two weeks in an airtight tin.",
            other_words=("keeping", "keeps", "store"),
        ),
        Field(
            name="notes",
            kind=Lines(noun="note"),
            help="Further remarks, one each.",
            example="notes: [Rye from a new harvest takes more water.]",
            other_words=("note", "remarks", "tips"),
        ),
        Field(
            name="claims",
            kind=Lines(noun="claim"),
            help="What the card says of the dish; checked against the ingredients.",
            example="claims: [vegetarian]",
            other_words=("claim", "diet", "diets"),
        ),
        Field(
            name="photo",
            kind=Record(
                fields=(
                    Field(
                        name="file",
                        kind=Text(),
                        help="The picture's file, in the recipe's folder.",
                        example="file: crackers.jpg",
                        required=True,
                        other_words=("path", "src", "image", "url"),
                    ),
                    Field(
                        name="alt",
                        kind=Text(),
                        help="What the picture shows, for those who can't see it.",
                        example="alt: A stack of dark square crackers",
                        required=True,
                        other_words=("caption", "description", "text"),
                    ),
                    Field(
                        name="credit",
                        kind=Text(),
                        help="Who took it.",
                        example="credit: House photo",
                        other_words=("photographer", "by"),
                    ),
                    Field(
                        name="focus",
                        kind=Text(),
                        help="The point that stays in when the picture is cropped: from left, from top.",
                        example="focus: 40% 30%",
                    ),
                )
            ),
            help="A picture of the dish.",
            example="photo: {file: crackers.jpg, alt: A stack of dark square crackers}",
            other_words=("image", "picture", "photograph"),
        ),
        Field(
            name="credit",
            kind=Text(),
            help="Whose recipe it is.",
            example="credit: The test kitchen",
            other_words=("author", "by", "source"),
        ),
        Field(
            name="tested",
            kind=Record(
                fields=(
                    Field(
                        name="trial",
                        kind=Text(),
                        help="The bench trial on which the printed formula rests.",
                        example="trial: 4",
                    ),
                    Field(
                        name="cross_test",
                        kind=Text(),
                        help="When and where someone else cooked it from the card.",
                        example="cross_test: 2026-04-02 in a home kitchen",
                    ),
                    Field(
                        name="cooked_from",
                        kind=Lines(noun="column", text=Text(choices=("metric", "us"))),
                        help="Which columns of the card were cooked from.",
                        example="cooked_from: [metric, us]",
                    ),
                )
            ),
            help="How the recipe was tested.",
            example="tested: {trial: 4, cooked_from: [metric, us]}",
            other_words=("test", "testing"),
        ),
        Field(
            name="accepted",
            kind=Answers(),
            help="Queries answered: a check's name and the reason, which the proof prints.",
            example="accepted: {low-hydration: Rye at this thickness rolls best dry.}",
            other_words=("accept", "ignore", "exceptions"),
        ),
        Field(
            name="measures",
            kind=Text(choices=("us", "imperial", "australian")),
            help="Whose cups, spoons and pints the recipe is written in; us where nothing is said.",
            example="measures: us",
            other_words=("units", "measure"),
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


def json_schema() -> dict[str, Any]:
    """The schema for editors, as JSON Schema draft 2020-12. A key left empty (null) is one not yet written."""
    listed = {"type": "array", "minItems": 1}
    return {
        "$schema": DIALECT,
        "title": "A recipe in the house schema",
        **_of(RECIPE),
        "if": {"properties": {"parts": listed}, "required": ["parts"]},
        "then": {"properties": {"ingredients": {"type": "null"}, "steps": {"type": "null"}}},
    }


def _of(kind: Kind) -> dict[str, Any]:
    match kind:
        case Text(choices=choices) if choices:
            return {"enum": list(choices)}
        case Text():  # an unquoted number or date is as good as text
            return {"type": ["string", "number", "boolean"]}
        case Answers():
            return {"type": "object", "additionalProperties": _of(Text())}
        case Lines(text=text, record=record, block=block):
            items = [_of(one) for one in (text, record) if one is not None]
            listed = {"type": "array", "items": items[0] if len(items) == 1 else {"anyOf": items}}
            return {"anyOf": [{"type": "string"}, listed]} if block else listed
        case Record(fields=fields):
            return {
                "type": "object",
                "properties": {field.name: _field(field) for field in fields},
                "required": [field.name for field in fields if field.required],
                "additionalProperties": False,
            }


def _field(field: Field) -> dict[str, Any]:
    about = {"description": field.help, "examples": [field.example]}
    if field.required:
        return about | _of(field.kind)
    return about | {"anyOf": [_of(field.kind), {"type": "null"}]}
