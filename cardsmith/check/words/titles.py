"""What the title and the picture promise, held against the list."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cache

from cardsmith.check.fields import place_of
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.foods.foods import identities
from cardsmith.finding import Severity
from cardsmith.language.figures.numbers import number_at
from cardsmith.language.tokens import DASHES, tokenize
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.recipe.mentions.groups import is_heading
from cardsmith.recipe.mentions.kinship import acts
from cardsmith.recipe.mentions.made_foods import is_made
from cardsmith.recipe.mentions.mentions import grouped
from cardsmith.recipe.mentions.naming import CONNECTING, classes, descriptors, family, kitchen, tokens
from cardsmith.recipe.model import Ingredient, Text
from cardsmith.reference import table
from cardsmith.regex import regex

LONGEST = 5  # words of one food's name
NEGATED = regex(r"\b(?:no|not|without|free of|instead of|less|sans)\s+(?:\w+[ -])?$", re.IGNORECASE)
PHRASE = regex(r"\s(?:with|in|on|for|from|under|of)\b|[,:]", re.IGNORECASE)
SERVED_WITH = regex(r"(?i)\bfor (?:\w+ )?$")  # a sauce for pasta
FREE = regex(r"^[ -](?:free|less)\b", re.IGNORECASE)
GARNISH = regex(
    r"\b(?:(?:topped|scattered|sprinkled|garnished|filled|dusted|strewn|decorated|finished|studded|drizzled|dotted"
    r"|crowned|covered|stuffed|layered) with|(?:swirl|drizzle|dollop|spoonful|sprigs?|scattering|sprinkling"
    r"|dusting|pool|knob|shavings|curls?) of) "
    r"(?P<what>[^.;]*?)(?=\s+(?:on|beside|next to|behind|and a|in a)\b|[.;]|$)"
    r"|\b(?:with|and|,) (?P<over>[^.,;]{3,40}?) (?:on top|over the top|on the rim|scattered over)\b",
    re.IGNORECASE,
)
SUBSTITUTES = {"chocolate": ("cocoa", "chocolate"), "coffee": ("espresso",)}  # by role or word
PLAIN = ("fruit", "vegetable", "nut", "meat", "poultry", "fish", "shellfish")  # never what a recipe makes
# Foods of which the larder knows kinds only; common practice, no source.
SEVERAL = frozenset(words("olive mushroom bean lentil pea cheese fish nut berry sausage seafood"))


@cache
def _idioms() -> Mapping[str, tuple[tuple[str, ...], ...]]:
    """Names of dishes with a food in them that the dish need not hold, by their first word."""
    return grouped((idiom[0], idiom) for idiom in (words(row["phrase"]) for row in table("title_idioms")))


def _listed(subject: Subject) -> frozenset[str]:
    """Every word by which the lists and the parts know their foods."""
    recipe = subject.recipe
    names: list[str] = [part.name for part in recipe.parts]
    for line in recipe.ingredients:
        if line.food and line.food.is_mainly("oil") and "sesame" not in line.item:
            names += ["oil"]  # olive oil is no olive; sesame oil does taste of sesame
            continue
        names += [line.text, line.item, line.prep, *line.alternatives]
        if line.food:
            names += [line.food.name, line.food.uk_name, *line.food.aliases, *family(line)]
    return frozenset(word for name in names for word in words(name))


def _results(subject: Subject) -> frozenset[str]:
    """Words for the dish itself: curd, of lemon curd."""
    recipe = subject.recipe
    makes = recipe.yields.makes_item if recipe.yields else ""
    dish = " ".join(words(PHRASE.split(recipe.title)[0])[-1:])
    match = subject.larder.find(dish)
    bought = match is not None and _is_bought(match.food)
    return frozenset(words(f"{recipe.kind.text if recipe.kind else ''} {makes} {'' if bought else dish}"))


def _is_of_own(
    larder: Larder, name: str, dish: str, listed: Sequence[Food], dish_words: Collection[str]
) -> bool:
    """Whether a name is that of the dish, or of what is made for it; its other foods must be of the list.

    Soft dinner rolls and a mustard mayonnaise of oil and yolks are; the raspberry of a plum jam is not.
    """
    match = larder.find(name)
    if match is None or not (is_made(match.food, listed) or (dish and not _is_bought(match.food))):
        return False
    others = (larder.find(word) for word in words(name)[:-1] if word not in dish_words)
    return all(other is None or is_made(other.food, listed) for other in others)


def _is_made_so(larder: Larder, name: Sequence[str], listed: Collection[str]) -> bool:
    """Whether a name is that of a listed food and what the cook makes of it: brown butter, pulled pork."""
    *before, noun = name
    whole = larder.find(" ".join(name))
    if noun not in listed:
        return False
    if whole is not None and whole.food.is_mainly("meat", "poultry", "fish"):
        return True
    return larder.find(noun) is not None and all(larder.find(word) is None for word in before)


def _is_bought(food: Food) -> bool:
    return food.is_mainly(*PLAIN)


def unlisted(subject: Subject, text: str) -> Iterator[str]:
    """The foods that ``text`` names and no list holds, as it names them."""
    title_words = tokens(text)
    listed, results = _listed(subject), _results(subject)
    roles = {role for line in subject.recipe.ingredients if line.food for role in line.food.roles}
    known = identities(subject.recipe, subject.larder)
    foods = tuple(identity.food for identity in known if identity.food is not None)
    at = 0
    while at < len(title_words):
        ahead = tuple(token.word for token in title_words[at:])
        length = _named(subject.larder, ahead[:LONGEST])
        idiom = next((phrase for phrase in _idioms().get(ahead[0], ()) if _is_called(ahead, phrase)), ())
        if idiom or not length:
            at += max(len(idiom), 1)
            continue
        run = title_words[at : at + length]
        name = [token.word for token in run]
        at += length
        start, end = run[0].start, run[-1].end
        if length == 1 and name[0] in words_of("adjective") and text[start:end].lower() == name[0]:
            continue  # a crisp salad, not crisps
        telling = set(name) - results - descriptors() - CONNECTING
        nouns = telling - (kitchen("form") - {"oil"}) or telling  # poppy seeds are no sesame seeds
        held = not telling or nouns & listed or any(classes().get(word, set()) & roles for word in nouns)
        dish = text[start:end] if PHRASE.search(text[:start]) is None and name[-1] in results else ""
        held = held or _is_made_so(subject.larder, name, listed)
        if SERVED_WITH.search(text[:start]) or _is_of_own(
            subject.larder, text[start:end], dish, foods, nouns & listed
        ):
            continue
        stands_in = any(set(SUBSTITUTES.get(word, ())) & (roles | listed) for word in telling)
        if not (held or stands_in or NEGATED.search(text[:start]) or FREE.search(text[end:])):
            yield text[start:end]


def _is_called(ahead: tuple[str, ...], idiom: tuple[str, ...]) -> bool:
    """Whether words begin with the name of a dish; bread-and-butter icebox pickles too."""
    *before, noun = idiom
    begins = ahead[: len(before)] == tuple(before)
    return begins and noun in ahead[len(before) : len(idiom) + (len(before) > 1)]


def _named(larder: Larder, run: tuple[str, ...]) -> int:
    """How many words from the first on are a larder name; 0 for none."""
    for length in range(len(run), 0, -1):
        if frozenset(run[:length]) not in larder.names:
            continue
        match = larder.find(" ".join(run[:length]))
        if match is not None and set(words(match.name)) == set(run[:length]):
            return length
    return 1 if run[0] in SEVERAL else 0


@check(
    "title-food-missing",
    Severity.WARNING,
    why="A reader who buys the card for its walnuts finds none in the list.",
    source=PRACTICE,
    remedy="list it, or change the title",
)
def title_food_missing(subject: Subject) -> Iterator[Query]:
    """A food in the title that no list holds; what the dish is called by its kind does not count."""
    recipe = subject.recipe
    title = Text(text=recipe.title, where=place_of(recipe, "title", recipe.title))
    for name in unlisted(subject, title.text):
        at = title.text.find(name)
        where = title.where.at(at) if at >= 0 and title.where.column else title.where
        yield query(Text(text=name, where=where), f"the title promises “{name}”, and no list has it")


@check(
    "photo-shows-unlisted-food",
    Severity.WARNING,
    why="A garnish that is in the picture and not in the list makes every reader's dish look wrong.",
    source=PRACTICE,
    remedy="list the garnish, or describe the picture as it is",
)
def photo_shows_unlisted_food(subject: Subject) -> Iterator[Query]:
    """The picture's text says that the dish is topped or filled with a food that no list holds."""
    photo = subject.recipe.photo
    for match in GARNISH.finditer(photo.alt) if photo else ():
        for name in unlisted(subject, match["what"] or match["over"]):
            yield query(
                photo.where if photo else subject.recipe.where,
                f"the picture shows “{name}”, and no list has it",
            )


@check(
    "title-count-off",
    Severity.WARNING,
    why="A reader counts two cheeses in the list of a three-cheese gratin, and wonders which was left out.",
    source=PRACTICE,
    remedy="list what is missing, or change the number in the title",
)
def title_count_off(subject: Subject) -> Iterator[Query]:
    """A title that promises more kinds of a food than the list has: three cheeses, four beans."""
    title = subject.recipe.title
    title_tokens = tokenize(title)
    for at in range(len(title_tokens)):
        number = number_at(title_tokens, at)
        if number is None or number.value is None or number.end >= len(title_tokens):
            continue
        noun = number.end + (title_tokens[number.end].text in DASHES)
        word = next(iter(words(title_tokens[noun].text)), "") if noun < len(title_tokens) else ""
        lines = _of_class(subject, word) if word in KINDS else []
        if any(line.food is None or line.alternatives or MIXED.search(line.text) for line in lines):
            continue
        several = len({line.item.lower() for line in lines})
        if several and several < number.value:
            promised = title[title_tokens[at].start : title_tokens[noun].end]
            what = f"the title promises “{promised}”, and the list has {several}"
            yield query(Text(text=title, where=place_of(subject.recipe, "title", title)), what)
            return


def _of_class(subject: Subject, word: str) -> list[Ingredient]:
    """The lines that are of a class, by what they do or by their name (green beans); unknown foods too."""
    roles = classes().get(word, frozenset()) | frozenset(SUBSTITUTES.get(word, ()))
    return [
        line
        for line in subject.recipe.ingredients
        if line.item
        and not is_heading(line)
        and (
            line.food is None
            or acts(line.food, roles)
            or (word in MUSHROOM and "fungus" in line.food.origin)
            or any(line_word.endswith(word) for line_word in words(f"{line.item} {line.food.name}"))
        )
    ]


MUSHROOM = frozenset(words("mushroom"))
KINDS = frozenset(words("cheese bean nut seed berry chocolate herb mushroom"))
MIXED = regex(r"\b(?:mix\w*|assorted|blend\w*|medley)\b", re.IGNORECASE)
