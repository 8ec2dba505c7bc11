"""Words that point to something: a part, a step, a food by a second name."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardsmith.check.fields import Field
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.sentences import sentences
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind, Told
from cardsmith.language.word_classes import vessel_words
from cardsmith.measure.larder import words
from cardsmith.recipe.mentions.groups import groups
from cardsmith.recipe.mentions.mentions import How
from cardsmith.recipe.mentions.naming import CONNECTING, classes, descriptors
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.reference import table
from cardsmith.regex import regex

STEPS = frozenset({"step", "steps"})
WITH = regex(r"(?i)\s(?:with|in|on|for|from|under|over|and)\b|[,:(]")
ELSEWHERE = regex(r"(?i)\b(?:below|above|later|next|see|recipe|make|made|prepare|ready|meanwhile|for the)\b")
FROM_ELSEWHERE = regex(
    r"(?i)\bthe (?P<what>(?:[a-z-]+ ){1,4}?)(?:from|in|of) the (?:part|section|recipe|list)s? "
    r"(?:above|below|before|opposite|overleaf)\b"
)


@check(
    "one-food-two-names",
    Severity.NOTE,
    why="A cook who reads a second name looks for a second thing.",
    source=PRACTICE,
    remedy="call it in the steps what the list calls it",
)
def one_food_two_names(subject: Subject) -> Iterator[Query]:
    """A step calls a food by another name of the larder than the list does."""
    reported: set[tuple[int, str]] = set()
    for mention in subject.mentions.found:
        line = subject.recipe.ingredients[mention.line]
        step = subject.steps[mention.step]
        if mention.how is not How.NAME:
            continue
        name = step.text[mention.start : mention.end]
        if (mention.line, name.lower()) not in reported and is_second_name(line, name):
            reported.add((mention.line, name.lower()))
            yield query(
                step.spot(name),
                f"the list calls it {line.item}, this step “{name}”",
                f"write “{line.item}” in both, or “{name}” in both",
            )


def is_second_name(line: Ingredient, name: str) -> bool:
    """Whether ``name`` is a full name of the line's food, and not one that the line uses."""
    phrase = words(name)
    if (
        line.food is None
        or line.food.key in ("water", "ice")
        or (len(phrase) == 1 and phrase[0] in classes())
    ):
        return False
    names = {words(known_name) for known_name in (line.food.name, line.food.uk_name, *line.food.aliases)}
    listed = set(words(" ".join((line.text, *line.alternatives))))
    if len(phrase) == 1 and phrase in {words(generic) for generic in line.food.generic}:
        return False  # pasta, for spaghetti
    if phrase not in names or set(phrase) <= listed:
        return False
    extra = set(phrase) - listed
    described = set(phrase) & listed and extra <= descriptors() - {"plain", "strong"}
    return not described


@check(
    "subhead-unused",
    Severity.NOTE,
    why="The method refers to a part by the words of its subhead.",
    source=PRACTICE,
    remedy="use the part's name in the step where it goes in, or name the part as the steps do",
)
def subhead_unused(subject: Subject) -> Iterator[Query]:
    """A part that no step names; the last part, which is the dish, may go unnamed."""
    parts = subject.recipe.parts
    text = words(" ".join(step.text for step in subject.steps))
    place = 0
    for number, part in enumerate(parts):
        mine = range(place, place + len(part.ingredients))
        place += len(part.ingredients)
        telling = set(words(part.name)) - descriptors() - CONNECTING - {"the", "for", "to", "serve"}
        if (
            not telling
            or telling & set(text)
            or (number == len(parts) - 1 and not _is_named_apart(part.name))
        ):
            continue
        later = {step for other in parts[number + 1 :] for step in map(id, other.steps)}
        joined = any(
            mention.line in mine and id(subject.recipe.steps[mention.step]) in later
            for mention in subject.mentions.found
        )
        if not joined or _is_named_apart(part.name):
            yield query(part.where, f"no step speaks of the part “{part.name}”")


def _is_named_apart(name: str) -> bool:
    """Whether a part is of the kind that is made by itself: glaze, filling."""
    return bool(set(words(name)) & _apart())


def _apart() -> frozenset[str]:
    return frozenset(word for row in table("separate_parts") for word in words(row["word"]))


@check(
    "part-made-later",
    Severity.ERROR,
    why="A cook who follows the steps in order stands before an empty bowl.",
    source="the recipe's own order",
    remedy="put the part that makes it before the step, or name the part that is meant",
)
def part_made_later(subject: Subject) -> Iterator[Query]:
    """A step spreads the glaze, which only a later part makes."""
    recipe, spoken = subject.recipe, subject.mentions
    known = {word for text in (recipe.title, *_makes(recipe)) for word in words(WITH.split(text)[0])[-1:]}
    known.update(vessel_words(subject.tables))  # "put it in a bowl", of a part named "Bowls"
    for passage in spoken.steps:
        part = recipe.parts[passage.part]
        known.update(words(" ".join((part.name, *(line.text for line in part.ingredients)))))
        for at, token in enumerate(passage.told):
            for group in groups(recipe):
                later = group.part > passage.part and recipe.parts[group.part].steps
                if token.word != group.head or token.word in known or not later:
                    continue
                begun = any(
                    mention.line in group.lines and mention.step <= passage.step for mention in spoken.found
                )
                sentence = subject.steps[passage.step].sentence_at(token.start)
                if not begun and passage.is_added(at) and not ELSEWHERE.search(passage.text, *sentence):
                    name = recipe.parts[group.part].name
                    use = (
                        f"step {passage.step + 1} uses the {token.word}, which the part “{name}” makes later"
                    )
                    yield query(subject.steps[passage.step].spot(passage.text[token.start : token.end]), use)
        known.update(token.word for token in passage.told)


def _makes(recipe: Recipe) -> tuple[str, ...]:
    return (recipe.yields.makes_item,) if recipe.yields else ()


@check(
    "part-missing",
    Severity.NOTE,
    why="A step that spreads a glaze nobody has made is the trace of a cut part, or of an old name.",
    source=PRACTICE,
    remedy="name the part as the step does, or the other way round",
)
def part_missing(subject: Subject) -> Iterator[Query]:
    """A step speaks of the glaze, and nothing makes or names one; an error for "the onions from above"."""
    yield from _sent_to(subject)
    recipe = subject.recipe
    if len(recipe.parts) < 2:
        return
    makes = recipe.yields.makes_item if recipe.yields else ""
    names = [part.name for part in recipe.parts] + [line.text for line in recipe.ingredients]
    known = set(words(" ".join([recipe.title, makes, recipe.kind.text if recipe.kind else "", *names])))
    for sentence in sentences(recipe):
        for match in re.finditer(
            r"\b(?P<article>the|a|an) (?:\w+ )?(?P<thing>[a-z]+)", sentence.text, re.IGNORECASE
        ):
            (thing, *_) = words(match["thing"]) or ("",)
            if thing in _apart() and thing not in known:
                known.add(thing)
                if match["article"].lower() == "the":
                    yield query(
                        sentence.spot(*match.span()),
                        f"step {sentence.number} speaks of “{match.group()}”, and no part has that name",
                    )


def _sent_to(subject: Subject) -> Iterator[Query]:
    """What a step takes "from the part above", where no part, list or earlier step has such a thing."""
    recipe = subject.recipe
    named = [part.name for part in recipe.parts] + [line.text for line in recipe.ingredients]
    known = set(words(" ".join((recipe.title, *named)))) | descriptors()
    for sentence in subject.sentences:
        for match in FROM_ELSEWHERE.finditer(sentence.text):
            said = [
                word for word in words(match["what"]) if word == "red" or not word.endswith("ed")
            ]  # "the candied nuts"
            if missing := [word for word in said if word not in known]:
                sending = f"step {sentence.number} sends the cook to “{match.group()}”, and nothing is called"
                what = f"{sending} {' '.join(missing)}"
                yield query(sentence.spot(*match.span()), what, severity=Severity.ERROR)
        known.update(words(sentence.text))


@check(
    "step-reference-wrong",
    Severity.WARNING,
    why="Steps are renumbered in every edit; a reference left behind sends the cook to the wrong place.",
    source=PRACTICE,
    remedy="give the number that the card prints, or say what was done",
)
def step_reference_wrong(subject: Subject) -> Iterator[Query]:
    """A step that sends the cook to itself, or to one the recipe does not have; parts are numbered on."""
    last = len(subject.recipe.steps)
    for text in subject.fields:
        for at, figure in text.told(Kind.REFERENCE):
            if not _is_step(text, at, figure):
                continue
            phrase = f"step {figure.text}"
            if not 1 <= figure.low <= figure.high <= last:
                yield query(text.spot(figure.text, at), f"“{phrase}”: the recipe has {last} steps")
            elif text.number in (figure.low, figure.high):
                yield query(text.spot(figure.text, at), f"{phrase} refers to itself")


def _is_step(text: Field, at: int, figure: Told) -> bool:
    """Whether a reference is one to a step; in "steps 2 and 3" the second has the first one's noun."""
    if figure.noun:
        return figure.noun in STEPS
    before = [(place, other) for place, other in text.told(Kind.REFERENCE, 0, at) if other.noun]
    return bool(before) and before[-1][1].noun in STEPS
