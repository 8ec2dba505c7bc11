"""Open findings as an editor's queries: which text of the recipe, what is asked, what is suggested.

An editor reads no YAML: a query names the place as the card does, and quotes the author's own words. The file
and the line stand beside it in small type, for the author who mends it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from markupsafe import Markup

from cardsmith.bench.model import Trials
from cardsmith.finding import Finding, Severity, Where
from cardsmith.frozen import frozen
from cardsmith.recipe.model import Recipe, Text
from cardsmith.regex import regex
from cardsmith.render.proof.card_fields import plain
from cardsmith.render.typeset import typeset

_NAME = regex(r"[\w-]+\.\w")  # crackers.jpg
# How a remedy writes what goes into the file, and how an editor reads it.
_AS_SAID = (
    (regex(r"\[([^\]]+)\]\(#[^)]*\)"), r"“\1”"),  # [the rest](#salt)
    (
        regex(
            r"give the line a key(?:,| and) draw(?: each amount)?(?: from it)?(?:, as in)?(?=,? “)"
            r"|write the line as \{[^{}]*\}, and in the step"
        ),
        "say in each step how much of the line it takes:",
    ),
    (regex(r"give the line a key and draw from it"), "say in each step how much of the line it takes"),
    (regex(r"editions: \{\w+: (\{[^{}]*\})\}"), r"\1"),  # {uk: {heavy cream: …}}
    (regex(r"say under accepted:? "), "say in answer "),
    (regex(r"(?<=[{ ])([a-z_]+): (?=[^{}]*\})"), r"\1 "),  # {date: …, mark: …}
    (regex(r"\{([^{}]*)\}"), r"\1"),
)
_SEVERITY = {Severity.ERROR: "Error", Severity.WARNING: "Query", Severity.NOTE: "Note"}
_KEYS = {  # what a key of the recipe is called on paper; others are called as they are written
    "yield": "Yield",
    "time": "Times",
    "kind": "Kind of recipe",
    "photo": "Picture",
    "tested": "Record of tests",
    "published": "Publication",
    "reviewed": "Review",
    "accepted": "An answered query",
}
_FILES = {
    "recipe.yaml": "The recipe as a whole",
    "trials.yaml": "The trials",
    "portion.yaml": "The portion",
    "teardown.yaml": "The bought product’s labels",
}

Places = Mapping[str, tuple[str, str]]  # by path inside a file: what it is called, and its author's words


@frozen
class QueryView:
    """One open finding, with room for an answer."""

    number: int
    severity: str  # error, warning, note
    word: str
    place: str  # Step 4, Filling
    quoted: Markup  # the author's words; empty where there are none
    what: Markup
    suggested: Markup
    name: str  # of the check
    where: str  # recipe.yaml, line 21


def queries(findings: Sequence[Finding], recipe: Recipe, trials: Trials | None = None) -> Iterator[QueryView]:
    """The most serious first, then by place."""
    known = {recipe.where.file: places_of_recipe(recipe)}
    if trials:
        known[trials.where.file] = places_of_trials(trials)
    for number, finding in enumerate(
        sorted(findings, key=lambda finding: (finding.severity.rank, finding.where)), 1
    ):
        place, quoted = place_of(finding.where, known.get(finding.where.file, {}))
        yield QueryView(
            number=number,
            severity=finding.severity.value,
            word=_SEVERITY[finding.severity],
            place=place,
            quoted=typeset(quoted),
            what=typeset(sentence(in_words(finding.what))),
            suggested=typeset(sentence(in_words(finding.instead))),
            name=finding.name,
            where=line_of(finding.where),
        )


def place_of(where: Where, known: Places) -> tuple[str, str]:
    """What a place is called, and what stands there: of its nearest key that has a name."""
    path = where.field
    while path:
        if path in known:
            return known[path]
        path = path.rpartition(".")[0]
    file = where.file.rpartition("/")[2]
    key = where.field.partition(".")[0].partition("[")[0]
    if file == "recipe.yaml" and key:
        return _KEYS.get(key, key.capitalize()), ""
    return _FILES.get(file, file), ""


def places_of_recipe(recipe: Recipe) -> Places:
    """Every text of a recipe that a finding may be about, by its path in the file."""
    places: dict[str, tuple[str, str]] = {
        "title": ("Title", recipe.title),
        "headnote": ("Headnote", recipe.headnote),
        "storage": ("Storage", recipe.storage),
    }
    if recipe.photo:
        places["photo"] = ("Picture", recipe.photo.alt)
    listed: Sequence[tuple[str, str, Sequence[Text]]] = (
        ("equipment", "Equipment", recipe.equipment),
        ("notes", "Note", recipe.notes),
        ("cautions", "Caution", recipe.cautions),
        ("claims", "Claim", recipe.claims),
    )
    for key, name, texts in listed:
        places |= {f"{key}[{at}]": (name, text.text) for at, text in enumerate(texts)}
    steps = 0
    for number, part in enumerate(recipe.parts):
        of = f", {part.name}" if part.name else ""
        own = {
            f"ingredients[{at}]": (f"Line {at + 1} of the list{of}", line.text)
            for at, line in enumerate(part.ingredients)
        }
        own |= {
            f"steps[{at}]": (f"Step {steps + at + 1}{of}", "".join(span.text for span in step.spans))
            for at, step in enumerate(part.steps)
        }
        steps += len(part.steps)
        places[f"parts[{number}]"] = (part.name or "The recipe as a whole", "")
        places |= {f"parts[{number}].{path}": text_there for path, text_there in own.items()}
        places |= own if len(recipe.parts) == 1 else {}
    return places


def places_of_trials(trials: Trials) -> Places:
    """Every trial and tasting, by its path in the file."""
    places = {f"trials[{at}]": (f"Trial {trial.number}", "") for at, trial in enumerate(trials.trials)}
    return places | {
        f"tastings[{at}]": (f"Tasting {tasting.name}", tasting.question)
        for at, tasting in enumerate(trials.tastings)
    }


def line_of(where: Where) -> str:
    """``recipe.yaml, line 21``."""
    file = where.file.rpartition("/")[2]
    return f"{file}, line {where.line}" if where.line else file


def in_words(text: str) -> str:
    """What a finding says without the marks of the file that its author writes."""
    for pattern, said in _AS_SAID:
        text = pattern.sub(said, text)
    return text


def sentence(text: str) -> str:
    """Capitalised, unless it begins with a file name."""
    return text if _NAME.match(text) else f"{text[:1].upper()}{text[1:]}"


def as_text(asked: Sequence[QueryView]) -> str:
    """Queries as plain text, with room for no answer; ``No query is open.`` for none."""
    if not asked:
        return "No query is open.\n"
    blocks = []
    for query in asked:
        lines = [f"{query.number}. {query.word}: {query.place}"]
        lines += [f"   “{plain(query.quoted)}”"] if query.quoted else []
        lines += [f"   {plain(query.what)}", f"   Suggested: {plain(query.suggested)}"]
        lines += [f"   ({query.name}; {query.where})"]
        blocks.append("\n".join(lines))
    return "\n\n".join(blocks) + "\n"
