"""The house schema of a recipe, declared once: the loader and the JSON Schema for editors both follow it."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.recipe.schema.kinds import Answers, Key, Lines, Record, TextKind, entry

_TEXT = TextKind()

INGREDIENT = Record(
    fields=(
        entry(
            "key",
            _TEXT,
            "A short name, unique in the recipe, that a step's link draws on.",
            "seeds",
            "id",
            "label",
        ),
        entry("amount", _TEXT, "The amount as measured at the bench.", "70 g", "quantity", "qty", "weight"),
        entry(
            "item",
            _TEXT,
            "The food, without amount and preparation.",
            "sesame seeds",
            "ingredient",
            "food",
            "name",
            required=True,
        ),
        entry(
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

INGREDIENTS = entry(
    "ingredients",
    Lines(noun="line", record=INGREDIENT, block=True),
    "One line for each ingredient, in order of use; as a list or as a block of text.",
    "[200 g whole-grain rye flour, 5 g fine salt]",
    "ingredient",
    "formula",
)
STEPS = entry(
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
        entry("name", _TEXT, "What the component is called on the card.", "Dough", "title", "part"),
        INGREDIENTS,
        STEPS,
    ),
    short="name",
)
_YIELD = Record(
    fields=(
        entry(
            "makes",
            _TEXT,
            "How many pieces, or how much, comes out.",
            "60 crackers",
            "make",
            "pieces",
            "quantity",
        ),
        entry(
            "serves",
            _TEXT,
            "How many people it feeds; one number or a range.",
            "4 to 6",
            "servings",
            "portions",
        ),
        entry("piece", _TEXT, "The mass or size of one piece.", "6 g", "each", "portion"),
    ),
    short="makes",
)
_TIME = Record(
    fields=(
        entry("active", _TEXT, "Time with hands on.", "35 min", "hands_on", "hands-on"),
        entry("total", _TEXT, "Time from start to table.", "1 h 40 min", "total_time", "whole", "ready_in"),
        entry("prep", _TEXT, "Time to make all ready that is then cooked.", "20 min", "prep_time"),
        entry("cook", _TEXT, "Time on the stove or in the oven.", "1 h", "cook_time", "bake", "bake_time"),
    ),
    short="total",
)
_PHOTO = Record(
    fields=(
        entry(
            "file",
            _TEXT,
            "The picture's file, in the recipe's folder.",
            "crackers.jpg",
            "path",
            "image",
            "url",
            required=True,
        ),
        entry(
            "alt",
            _TEXT,
            "What the picture shows, for those who can't see it.",
            "A stack of dark square crackers",
            "caption",
            "description",
            required=True,
        ),
        entry("credit", _TEXT, "Who took it.", "House photo", "photographer", "by"),
        entry("focus", _TEXT, "The point that stays in when it is cropped: from left, from top.", "40% 30%"),
        entry(
            "place",
            TextKind(choices=("head", "beside", "square", "method", "back", "notes", "none")),
            "Where it stands on the printed card, if not where its shape suits: across the head, upright "
            "beside the text, small and square, above the method, over the back, beside the notes, or none.",
            "beside",
            "position",
        ),
    ),
    short="file",
)
_TESTED = Record(
    fields=(
        entry("trial", _TEXT, "The bench trial on which the printed formula rests.", "4"),
        entry(
            "cross_test",
            _TEXT,
            "When and where another cook made it from the card.",
            "2026-04-02 in a home kitchen",
        ),
        entry(
            "cooked_from",
            Lines(noun="column", text=TextKind(choices=("metric", "us"))),
            "Which columns of the card were cooked from.",
            "[metric, us]",
        ),
    ),
    short="trial",
)

MARKETS = (
    ("us", "In the US edition."),
    ("uk", "In the UK edition."),
    ("eu", "In the edition for Europe in English."),
    ("au", "In the Australian edition."),
)
_EDITION_MARKS = tuple(
    entry(key, _TEXT, f"The mark of what readers were told {where[:1].lower()}{where[1:]}", "3b90d1aa")
    for key, where in MARKETS
)
_PUBLISHED = Record(
    fields=(
        entry("date", _TEXT, "The day readers first saw it.", "2026-06-01", "on", "day", required=True),
        entry("mark", _TEXT, "Of what they were told; `cardsmith check` says it.", "7f3c21d0", "hash"),
        *_EDITION_MARKS,
    ),
    short="date",
)
_REVIEWED = Record(
    fields=(
        entry("by", _TEXT, "Who reviewed it.", "food technologist L. Marsh", "name", required=True),
        entry("date", _TEXT, "The day of the review.", "2026-05-04", "on", "day", required=True),
    ),
)
_CORRECTION = Record(
    fields=(
        entry("date", _TEXT, "The day of the correction.", "2026-06-20", "on", "day", required=True),
        entry(
            "what",
            _TEXT,
            "What was wrong and what is right now, for readers.",
            "The soda was 2 teaspoons; it is ½ teaspoon.",
            "text",
            "note",
            "correction",
            required=True,
        ),
        entry("step", _TEXT, "The number of the step that it is about, if of one.", "4", "at"),
        entry("mark", _TEXT, "Of the recipe as corrected; `cardsmith check` says it.", "9a1b04c7", "hash"),
        *_EDITION_MARKS,
    ),
)

_ANSWERS = Answers(
    holds="words of the recipe and what stands for them",
    empty="there without what stands for it",
    instead="what to buy or to write: double cream, or 250 g double cream",
)

RECIPE = Record(
    fields=(
        entry(
            "title",
            _TEXT,
            "The name of the dish, as it heads the card.",
            "Caraway rye crackers",
            "name",
            "dish",
            "heading",
            required=True,
        ),
        entry(
            "kind",
            _TEXT,
            "What it is, of `cardsmith explain kinds`; selects the checks of its proportions.",
            "cracker",
            "type",
            "category",
        ),
        entry(
            "headnote",
            _TEXT,
            "A short paragraph under the title.",
            "Thin, dark and brittle.",
            "description",
            "intro",
            "introduction",
            "summary",
        ),
        entry("yield", _YIELD, "What comes out.", "{makes: 60 crackers, serves: 10, piece: 6 g}", "yields"),
        entry(
            "time", _TIME, "How long it takes.", "{active: 35 min, total: 1 h 40 min}", "times", "duration"
        ),
        entry(
            "equipment",
            Lines(noun="line"),
            "What is needed beyond a usual kitchen.",
            "[two half-sheet pans, rolling pin]",
            "tools",
            "utensils",
            "gear",
        ),
        entry(
            "parts",
            Lines(noun="part", text=None, record=_PART),
            "The components of a recipe that has several, each with its own ingredients and steps;"
            " one method for all may stand beside lists without steps.",
            "[{name: Dough, ingredients: [200 g rye flour], steps: [Knead.]}]",
            "part",
            "components",
            "sections",
        ),
        INGREDIENTS,
        STEPS,
        entry(
            "storage",
            _TEXT,
            "How and how long it keeps.",
            "Keeps two weeks in an airtight tin.",
            "keeping",
            "keeps",
            "store",
        ),
        entry(
            "notes",
            Lines(noun="note"),
            "Further remarks, one each.",
            "[Rye of a new harvest takes more water.]",
            "note",
            "remarks",
            "tips",
        ),
        entry(
            "cautions",
            Lines(noun="caution"),
            "Warnings beside those that the card prints of itself; none takes one of those away.",
            "[The steam of the sealed parcel burns.]",
            "caution",
            "warning",
            "warnings",
        ),
        entry(
            "claims",
            Lines(noun="claim"),
            "What the card says of the dish; checked against the ingredients.",
            "[vegetarian]",
            "claim",
            "diet",
            "diets",
        ),
        entry(
            "photo",
            _PHOTO,
            "A picture of the dish.",
            "{file: crackers.jpg, alt: A stack of dark square crackers}",
            "image",
            "picture",
            "photograph",
        ),
        entry("credit", _TEXT, "Whose recipe it is.", "The test kitchen", "author", "by", "source"),
        entry(
            "course",
            _TEXT,
            "The part of a meal it is, where that is not the usual one of its kind.",
            "Desserts",
            "meal",
            "meal_part",
        ),
        entry("cuisine", _TEXT, "The kitchen it comes from, for search.", "Scottish", "region"),
        entry(
            "keywords", Lines(noun="word"), "Further words to find it by.", "[picnic, travels well]", "tags"
        ),
        entry(
            "issue",
            _TEXT,
            "The issue or the book it is printed in, to choose cards by.",
            "Summer 2026",
            "edition",
        ),
        entry(
            "published",
            _PUBLISHED,
            "When readers first saw it, and the mark of what they were told.",
            "{date: 2026-06-01, mark: 7f3c21d0}",
            "publication",
        ),
        entry(
            "corrections",
            Lines(noun="correction", text=None, record=_CORRECTION),
            "What was corrected after publication, the newest last.",
            "[{date: 2026-06-20, what: The soda is ½ teaspoon, step: 2, mark: 9a1b04c7}]",
            "correction",
            "errata",
        ),
        entry(
            "formerly",
            Lines(noun="name"),
            "Names of its folder that it was published under, the oldest first; they lead here.",
            "[rye-crispbread]",
            "was",
            "redirects",
        ),
        entry(
            "tested",
            _TESTED,
            "How the recipe was tested.",
            "{trial: 4, cooked_from: [metric, us]}",
            "test",
            "testing",
        ),
        entry(
            "reviewed",
            _REVIEWED,
            "Who passed a method that is safe only as tested, and when; the proof prints it.",
            "{by: food technologist L. Marsh, date: 2026-05-04}",
            "review",
        ),
        entry(
            "accepted",
            Answers(),
            "Queries answered: a check's name and the reason, which the proof prints.",
            "{low-hydration: Rye at this thickness rolls best dry.}",
            "accept",
            "ignore",
            "exceptions",
        ),
        entry(
            "editions",
            Record(fields=tuple(entry(key, _ANSWERS, about, "{}") for key, about in MARKETS)),
            "What to write in an edition of the house for a food or a word that has no plain swap there; an "
            "edition that is printed for named recipes alone is named here.",
            "{uk: {heavy cream: 250 g double cream let down with 50 g milk}, au: {}}",
        ),
        entry(
            "measures",
            TextKind(choices=("us", "imperial", "australian")),
            "Whose cups, spoons and pints the recipe is written in; us where nothing is said.",
            "us",
            "units",
            "measure",
        ),
    )
)


def places(record: Record = RECIPE, path: tuple[Key, ...] = ()) -> Iterator[tuple[Key, ...]]:
    """Every field of the schema, each as the path of fields that leads to it."""
    for key in record.fields:
        here = (*path, key)
        yield here
        inner = key.kind.record if isinstance(key.kind, Lines) else key.kind
        if isinstance(inner, Record):
            yield from places(inner, here)


KEYS = frozenset(key.name for path in places() for key in path)
