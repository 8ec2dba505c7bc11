"""The cautions that a recipe needs: by its foods, what heat reached them, and its words."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cache, lru_cache

from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.dangers.exposure import STATES
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.frozen import frozen
from cardsmith.language.spans import Purpose
from cardsmith.language.stops import stops
from cardsmith.last_result import remembered
from cardsmith.measure.larder import Food, Larder
from cardsmith.measure.patterns import cell, is_of
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from cardsmith.regex import regex

LOCAL = "Follow local rules."
ACTIONS = ("caution", "review", "ask", "warn", "stop")
PLACES = ("list", "method", "dish", "readers", "any")


@frozen
class Hazard:
    """A row of cautions.csv: everything it names must hold; of words and temperature, one."""

    name: str
    group: str  # natural toxin, microbial, burn …
    rank: int  # 1 comes first on the card
    foods: tuple[str, ...]  # key:*-chile, role:nut, origin:honey; any of them
    words: Phrases | None
    read: frozenset[str]  # the kinds of text the words are looked for in, never one field
    purpose: Purpose | None
    least: Fraction  # °C
    state: str
    cancel: Phrases | None
    said: Phrases | None  # words by which an author warns of it
    caution: str
    local: bool
    action: str  # caution; review: not without a licensed one; ask: nor a caution; warn; stop: not at all
    source: str

    @property
    def text(self) -> str:
        """What the card prints."""
        return f"{self.caution} {LOCAL}" if self.local else self.caution


@frozen
class FoundHazard:
    """A hazard that one recipe holds, and what gave it away."""

    hazard: Hazard
    line: int | None  # in recipe.ingredients
    step: int | None  # in recipe.steps
    evidence: str


@frozen
class Caution:
    """One caution that the card prints."""

    text: str
    source: str  # of the rule; "the author" for one of the recipe's own
    rank: int
    found: FoundHazard | None = None


@cache
def hazards() -> tuple[Hazard, ...]:
    """All hazards, the gravest first.

    Raises:
        ValueError: a row has an unknown state, action or kind of text, or names neither foods nor words.
    """
    rows = tuple(
        Hazard(
            name=row["hazard"],
            group=row["group"],
            rank=int(row["rank"]),
            foods=cell(row["foods"]),
            words=phrases(row["words"]),
            read=frozenset(cell(row["read"])),
            purpose=Purpose(row["purpose"]) if row["purpose"] else None,
            least=Fraction(row["least_celsius"] or 0),
            state=row["state"],
            cancel=phrases(row["cancel"]),
            said=phrases(row["said"]),
            caution=row["caution"],
            local=row["local"] == "yes",
            action=row["action"],
            source=row["source"],
        )
        for row in table("cautions")
    )
    for hazard in rows:
        if hazard.state not in STATES or hazard.action not in ACTIONS or not hazard.read <= set(PLACES):
            raise ValueError(f"cautions.csv: {hazard.name!r} has an unknown state, action or kind of text")
        if not (hazard.foods or hazard.words):
            raise ValueError(f"cautions.csv: {hazard.name!r} names neither foods nor words")
    return tuple(sorted(rows, key=lambda hazard: hazard.rank))


@remembered  # card, page, proof and checks ask about the same recipe in turn
def hazardous(recipe: Recipe, larder: Larder) -> tuple[FoundHazard, ...]:
    """Every hazard of the table that ``recipe`` holds, the gravest first."""
    known = dish(recipe, larder)
    texts = _texts(recipe, larder)
    named: dict[str, list[int]] = {}
    for place, food in enumerate(known.foods):
        for name in _naming(food.food):
            named.setdefault(name, []).append(place)
    asked = (hazard for hazard in hazards() if not hazard.foods or hazard.name in named)
    each = (_found(hazard, named.get(hazard.name, []), known, texts) for hazard in asked)
    return tuple(hazard for hazard in each if hazard is not None)


@lru_cache(maxsize=4096)
def _naming(food: Food | None) -> tuple[str, ...]:
    """The hazards that name a food."""
    return tuple(hazard.name for hazard in hazards() if hazard.foods and is_of(food, hazard.foods))


def cautions(recipe: Recipe, larder: Larder) -> tuple[Caution, ...]:
    """The cautions the card prints, all of them, the gravest first and each once; then the author's own.

    Temperatures stand in both systems, rounded away from danger (safety_pairs.csv). An author adds to them
    and never takes one away.
    """
    in_recipe = hazardous(recipe, larder)
    names = {other.hazard.name for other in in_recipe}
    by_name: dict[str, Caution] = {}
    for other in in_recipe:
        hazard = other.hazard
        if not (OUTDONE.get(hazard.name, frozenset()) & names):
            by_name.setdefault(
                hazard.text, Caution(text=hazard.text, source=hazard.source, rank=hazard.rank, found=other)
            )
    for text in recipe.cautions:
        by_name.setdefault(text.text, Caution(text=text.text, source="the author", rank=len(by_name) + 1))
    return tuple(by_name.values())


def is_said(recipe: Recipe, larder: Larder, hazard: Hazard) -> bool:
    """Whether the author's own words warn of a hazard; the card prints its caution all the same."""
    said = hazard.said
    return said is not None and any(map(said.search, _texts(recipe, larder)["any"].together))


OUTDONE = {  # a caution that another of the same card says already
    "honey for infants": frozenset({"honey in food for babies"}),
    "lightly cooked egg": frozenset({"raw egg"}),
    "choking on hard candy": frozenset({"choking on whole nuts"}),
    "choking on whole nuts": frozenset({"nuts or whole grapes for babies"}),
    "choking on round food": frozenset({"nuts or whole grapes for babies"}),
    "deep frying": frozenset({"whole bird in oil"}),
    "raw dough tasted": frozenset({"raw dough eaten"}),
    "raw flour": frozenset({"flour heated at home", "raw flour eaten"}),
    "wild mushrooms": frozenset({"raw wild mushrooms", "mushrooms picked by the reader"}),
    "elderberries": frozenset({"raw elderberries"}),
    "cassava": frozenset({"raw cassava"}),
    "dry ice": frozenset({"dry ice in food or a closed vessel"}),
    "ferment sealed in glass": frozenset({"ferment sealed in glass for days"}),
    "siphon": frozenset({"siphon overfilled or opened charged"}),
    "slow cooker from frozen": frozenset(
        {"slow cooker with frozen meat", "frozen meat of the list in a slow cooker"}
    ),
    "fish bones for children": frozenset({"fish bones"}),
    "meat bones for children": frozenset(
        {"meat picked from its bones", "fish bones", "fish bones for children"}
    ),
    "raw fish by name": frozenset({"raw fish"}),
    "meat dried slowly": frozenset({"jerky"}),
    "raw or pink meat": frozenset({"dry-cured and fermented sausage"}),
    "foraged plants": frozenset({"wild mushrooms"}),
    "meat picked from its bones": frozenset({"fish bones"}),
}


Passage = tuple[str, int | None, int | None]  # a text, with the line or the step it stands in


@frozen
class Passages:
    """What people wrote about one thing, wherever it stands."""

    each: tuple[Passage, ...]
    together: tuple[str, ...]  # asked first, since most words stand nowhere


@remembered  # each hazard asks whether its words are said
def _texts(recipe: Recipe, larder: Larder) -> Mapping[str, Passages]:
    """The texts by what they are about: the list, the method, the dish's name, its readers."""
    makes = recipe.yields.makes_item if recipe.yields else ""
    steps: dict[int, list[str]] = {}
    for clause in dish(recipe, larder).histories.clauses:
        steps.setdefault(clause.step, []).append(clause.text)
    notes = [note.text for note in (*recipe.notes, *recipe.cautions)]
    method = [
        (text, None, None) for text in (recipe.storage, *notes, *(item.text for item in recipe.equipment))
    ]
    names = (recipe.title, makes, *(part.name for part in recipe.parts))
    readers = (recipe.title, recipe.headnote, *notes, *(keyword.text for keyword in recipe.keywords))
    passages: dict[str, list[Passage]] = {
        "list": [(line.text, place, None) for place, line in enumerate(recipe.ingredients)],
        "method": [*(("".join(words), None, place) for place, words in steps.items()), *method],
        "dish": [(text, None, None) for text in names],
        "readers": [(text, None, None) for text in readers],
    }
    texts = {
        sort: Passages(each=tuple(pieces), together=("\n".join(text for text, _, _ in pieces),))
        for sort, pieces in passages.items()
    }
    every = tuple(dict.fromkeys(piece for pieces in passages.values() for piece in pieces))
    texts["any"] = Passages(
        each=every, together=tuple(whole for sort in texts.values() for whole in sort.together)
    )
    return texts


def _found(
    hazard: Hazard, places: Sequence[int], known: Dish, texts: Mapping[str, Passages]
) -> FoundHazard | None:
    """A hazard, where all that it names holds; ``places`` are the lines of the foods that it names."""
    occasion = _occasion(hazard, known, texts)
    if occasion is None:
        return None
    words, line, step = occasion
    if not hazard.foods:  # a state of the whole recipe
        holds = STATES[hazard.state](known, -1)
        return FoundHazard(hazard=hazard, line=line, step=step, evidence=words) if holds else None
    for place in places:
        mine = known.line(place)
        if STATES[hazard.state](known, place) and not (hazard.cancel and hazard.cancel.search(mine.text)):
            evidence = f"{mine.item}, {words}" if words else mine.item
            return FoundHazard(hazard=hazard, line=place, step=step, evidence=evidence)
    return None


def _occasion(
    hazard: Hazard, known: Dish, texts: Mapping[str, Passages]
) -> tuple[str, int | None, int | None] | None:
    """What calls for the caution: a word, or a temperature; nothing but its foods where it names neither."""
    if not (hazard.words or hazard.purpose):
        return "", None, None
    for sort in PLACES if hazard.words else ():
        if sort not in hazard.read or not (
            hazard.words and any(map(hazard.words.search, texts[sort].together))
        ):
            continue
        for text, line, step in texts[sort].each:
            match = _said(hazard, text, is_method=step is not None or line is not None)
            if match:
                return f"“{match}”", line, step
    for clause in known.histories.clauses if hazard.purpose else ():
        for span in clause.temperatures:
            if span.purpose is hazard.purpose and span.quantity.low >= hazard.least:
                return f"“{span.text}”", None, clause.step
    return None


_UNSAID = regex(
    r"\b(?:not|never|no|don['’]t|without|instead of|rather than|unlike|nor)\b(?:\s+[\w'’-]+){0,3}\s*$",
    re.IGNORECASE,
)
_FORBIDS = regex(
    r"\s*(?:never|do not|don['’]t|no|avoid)\b", re.IGNORECASE
)  # all that a remark goes on to say


def _said(hazard: Hazard, text: str, *, is_method: bool) -> str:
    """The words of a hazard that a text has, unless the sentence forbids them or cancels it."""
    for match in hazard.words.finditer(text) if hazard.words else ():
        ends = [end for _, end in stops(text)]
        begins = max((end for end in ends if end <= match.start()), default=0)
        sentence = text[begins : min((end for end in ends if end >= match.end()), default=len(text))]
        if _UNSAID.search(text[begins : match.start()]):
            continue
        if not is_method and _FORBIDS.match(sentence):
            continue
        if hazard.cancel is None or not hazard.cancel.search(sentence):
            return match.group()
    return ""
