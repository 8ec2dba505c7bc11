"""Vessels that burst or spill: a pressure cooker too full, a hot blender, cold glass, a sealed ferment."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardsmith.facts.foods.roles import YEASTS
from cardsmith.facts.method.dish import Dish
from cardsmith.language.spans import Kind, Measured
from cardsmith.language.stops import sentences
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.regex import regex


def cooker_misused(dish: Dish, _place: int) -> bool:
    """Whether a pressure cooker is filled beyond two thirds, or its lid opened under pressure.

    Makers' common practice: two thirds at most, half for beans, grain and what else foams.
    """
    return any(_is_overfilled(sentence) or _is_forced(sentence) for sentence in _of_cooker(dish))


def foam_vented(dish: Dish, _place: int) -> bool:
    """Whether the steam over beans, grain or what else foams is let out at once."""
    foams = any(is_of(food.food, _FOAMING) for food in dish.foods)
    return foams and any(_is_vented(sentence) for sentence in _of_cooker(dish))


def _of_cooker(dish: Dish) -> Iterator[str]:
    """The sentences of each text that speaks of the cooker, and of the step after it."""
    recipe = dish.recipe
    steps = [step.text for step in recipe.steps]
    near = [
        text
        for at, text in enumerate(steps)
        if _COOKER.search(text) or any(_COOKER.search(before) for before in steps[max(at - 2, 0) : at])
    ]
    remarks = (recipe.headnote, recipe.storage, *(note.text for note in recipe.notes))
    for text in (*near, *(text for text in remarks if _COOKER.search(text))):
        yield from _clauses(text.lower())


def _clauses(text: str) -> Iterator[str]:
    """Its sentences, and what stands before and behind a colon in one."""
    for sentence in sentences(text):
        yield from sentence.split(": ")


def _is_overfilled(sentence: str) -> bool:
    return (
        _FILLS.search(sentence) is not None
        and _HIGH.search(sentence) is not None
        and not _KEEPS_LOW.search(sentence)
    )


def _is_forced(sentence: str) -> bool:
    return _FORCES.search(sentence) is not None and not _WAITS.search(sentence)


def _is_vented(sentence: str) -> bool:
    """Whether the steam is let out at once, which drives foam into the valve."""
    match = _VENTS_AT_ONCE.search(sentence)
    return match is not None and not _WAITS.search(sentence[: match.end()].replace("releas", ""))


_FOAMING = ("role:legume", "role:grain", "role:rice", "role:pasta")
_VENTS_AT_ONCE = regex(
    r"\bopen\w* the (?:\w+ )?(?:valve|vent)\b[^,]*\b(?:at once|fully|immediately|straight ?away|right away)\b"
    r"|\b(?:let|release|vent)\w* (?:out )?(?:all (?:of )?)?(?:the )?(?:steam|pressure)\b[^,]*"
    r"\b(?:at once|immediately|straight ?away|right away|quickly|fast)\b"
    r"|\bquick[- ]releas\w*\b(?! (?:would|will|may|can)\b)"
)
_COOKER = regex(r"\b(?:pressure[- ]cook\w*|pressure pot|high pressure|low pressure|cooker)\b", re.IGNORECASE)
_FILLS = regex(
    r"\b(?:fill\w*|load\w*|top\w*|pack\w*|add\w*|pour\w*|put|come|comes|reach\w*|full|leav\w+|contents|level)\b"
)
_HIGH = regex(
    r"\b(?:brim\w*|right up|(?:up )?to the (?:very )?(?:rim|top|lip|lid|edge)"
    r"|(?:within|almost|nearly|below|under|short|reach\w*|touch\w*|level)\b[^,]*\b(?:rim|top|lip|lid|edge)"
    r"|(?:\w+[- ](?:quarters|tenths|fifths)|almost|nearly|completely|quite) full"
    r"|leav\w+ (?:only |just |about )?(?:\S+ ){1,3}(?:free|of room|of space|clear|spare|at the top)"
    r"|full(?= to| up|$))\b"
)
_KEEPS_LOW = regex(
    r"\b(?:half|halfway|thirds?|well below|never|not|don['’]t|no more|less than|at most"
    r"|under full|would|jars?|far below|lowest|max\w*)\b"
)
_FORCES = regex(
    r"\b(?:open|unlock|force|wrench|prise|pry|twist|lever|yank|lift|take|turn|unlatch|undo)\w*"
    r"\b[^,]*\b(?:lid|cooker|pot)\b.*"
    r"\b(?:at once|immediately|straight ?away|right away|while it|still (?:hiss\w*|under)|without waiting"
    r"|before the pressure|under pressure|hissing)\b"
    r"|\b(?:force|wrench|prise|pry|lever)\w* (?:\w+ ){0,3}(?:open|lid|off|up)\b"
)
_WAITS = regex(
    r"\b(?:never|not|don['’]t|until|once the|after the|when the pressure|only when|has (?:dropped|fallen)"
    r"|has gone|releas\w*|let the pressure)\b"
)


def blended_hot(dish: Dish, _place: int) -> bool:
    """Whether what was boiling goes into the jug of a blender at once; a stick blender stands in the pot."""
    recipe = dish.recipe
    text = " ".join((*(step.text for step in recipe.steps), *(tool.text for tool in recipe.equipment)))
    if _STICK.search(text):
        return False
    clauses = dish.histories.clauses
    for number, clause in enumerate(clauses):
        if not _JUG.search(clause.text) or _COOLS.search(clause.text):
            continue
        for before in reversed(clauses[max(number - _NEAR, 0) : number + 1]):
            if _COOLS.search(before.text):
                break
            if clause.step - before.step <= 1 and _BOILS.search(before.text):
                return True
    return False


_NEAR = 5  # clauses between the boil and the blender
_STICK = regex(
    r"\b(?:stick|immersion|hand[- ]?held|hand) blender\b"
    r"|\bblend\w* (?:\w+ )?in the (?:pot|pan)\b",
    re.IGNORECASE,
)
_JUG = regex(r"\b(?:blender|liquidi[sz]\w+)\b")
_BOILS = regex(r"\b(?:boil\w*|simmer\w*|piping hot|scalding|while (?:still )?hot)\b")
_COOLS = regex(r"\b(?:cool\w*|lukewarm|tepid|cold|chill\w*)\b")


def glass_shocked(dish: Dish, _place: int) -> bool:
    """Whether a glass dish goes from the freezer into a hot oven, or under a grill or over a flame."""
    recipe = dish.recipe
    texts = [step.text.lower() for step in recipe.steps]
    method = " ".join((*texts, *(tool.text.lower() for tool in recipe.equipment)))
    if not _GLASS.search(method) or _OF_METAL.search(method):
        return False
    froze = False
    for text in texts:
        for sentence in _clauses(text):
            freezes = _FREEZES.search(sentence) is not None
            bakes = _OVEN.search(sentence) is not None
            if (
                bakes
                and (froze or freezes)
                and _STILL_FROZEN.search(sentence)
                and not _THAWS.search(sentence)
            ):
                return True
            under = _BROILER.search(sentence) is not None
            if ((_GLASS.search(sentence) and _FLAME.search(sentence)) or under) and not _THAWS.search(
                sentence
            ):
                return True
            froze = froze or freezes
    return False


_GLASS = regex(r"\bglass (?:\w+ ){0,2}(?:dish|pan|tin|plate|loaf|casserole|bakeware|ovenware)\b")
_BROILER = regex(r"\b(?:under|beneath|below) (?:a|the) (?:very )?(?:hot )?(?:broiler|grill)\b")
_OF_METAL = regex(r"\b(?:metal|foil|steel|enamel\w*|alumini?um) (?:\w+ ){0,2}(?:dish|pan|tin|tray)\b")
_FREEZES = regex(r"\bfreez\w*\b")
_STILL_FROZEN = regex(r"\b(?:frozen|from the freezer|freezer to (?:the )?oven|out of the freezer)\b")
_OVEN = regex(r"\b(?:oven|bake)\b")
_FLAME = regex(
    r"\b(?:under (?:a|the) (?:hot )?(?:broiler|grill)|over (?:a|the) (?:\w+ )?(?:flame|burner|hob)"
    r"|on the (?:stove|stovetop|hob))\b"
)
_THAWS = regex(r"\b(?:thaw\w*|defrost\w*|never|not|don['’]t|transfer\w*|room temperature|cold oven)\b")


def sealed_ferment(dish: Dish, _place: int) -> bool:
    """Whether something that ferments is shut tight in glass for half a day or more and no gas let out."""
    return _is_sealed(dish, _HALF_A_DAY)


def bottle_bomb(dish: Dish, _place: int) -> bool:
    """Whether it is shut so for more days than glass stands."""
    return _is_sealed(dish, _A_WEEK)


def _is_sealed(dish: Dish, least: int) -> bool:
    recipe = dish.recipe
    texts = [step.text.lower() for step in recipe.steps]
    remarks = [recipe.storage.lower(), *(note.text.lower() for note in recipe.notes)]
    method = " ".join((recipe.title.lower(), recipe.headnote.lower(), *texts, *remarks))
    living = any(is_of(food.food, YEASTS) for food in dish.foods) or _LIVING.search(method)
    if not living or any(food.food and food.food.share("flour") for food in dish.foods):
        return False
    clauses = dish.histories.clauses
    for number, clause in enumerate(clauses):
        if not _SHUTS.search(clause.text):
            continue
        after = clauses[number : number + 4]
        waits = any(not _CHILLS.search(later.text) and later.seconds >= least for later in after)
        if waits and not _VENTS.search(_from_step(dish, clause.step)):
            return True
    shut = (text for text in remarks if _SHUTS.search(text))
    warm = (text for text in shut if not (_CHILLS.search(text) or _VENTS.search(text)))
    return any(_is_long(dish, text, least) for text in warm)


def _is_long(dish: Dish, text: str, least: int) -> bool:
    """Whether a remark names so many seconds or more."""
    spans = spans_of(dish.recipe, text, dish.recipe.where)
    times = (span for span in spans if isinstance(span, Measured) and span.kind is Kind.DURATION)
    return any(span.quantity.high >= least for span in times)


def _from_step(dish: Dish, step: int) -> str:
    """The steps from one on, and what the author remarks besides."""
    recipe = dish.recipe
    texts = [other.text for other in recipe.steps][step:]
    return " ".join((*texts, recipe.storage, *(note.text for note in recipe.notes))).lower()


_HALF_A_DAY = 12 * 60 * 60  # s
_A_WEEK = 14 * _HALF_A_DAY  # bottles condition in a few days: common practice of home brewing, no source
_LIVING = regex(
    r"\b(?:ferment\w*|kombucha|scoby|ginger bug|water kefir|wild yeast|lively|fizzy|tepache"
    r"|kvass|ginger beer)\b"
)
_SHUTS = regex(
    r"\b(?:(?:screw|seal|cap|clamp|cork|shut|close|fasten|tighten|stopper|swing|snap|wire|clip|lock|push|press)\w*\b[^.;]*"
    r"\b(?:tight\w*|caps?|lids?|bottles?|jars?|stoppers?|down|shut|airtight)"
    r"|airtight|tightly (?:sealed|closed|capped))"
)
_VENTS = regex(
    r"\b(?:burp\w*|airlock|air lock|vent\w*|plastic|loosen\w*|loosely|loose"
    r"|let (?:out )?(?:the |any |some )?(?:gas|pressure)"
    r"|release\w*|open\w* (?:\w+ ){0,5}(?:daily|every|each|once|twice|morning|evening|night)"
    r"|valve|weight\w*|cloth|muslin|saucer)\b"
)
_CHILLS = regex(r"\b(?:refrigerat\w*|fridge|chill\w*|cold)\b")
