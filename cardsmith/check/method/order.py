"""Steps in an order that cannot be cooked: what is used, lifted out or saved before it is there."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardsmith.check.registry import Query, query
from cardsmith.check.subject import Subject
from cardsmith.facts.method.clauses import HEATING, Clause, Deed
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.mentions.mentions import How
from cardsmith.recipe.model import Text
from cardsmith.regex import regex


def out_of_order(subject: Subject) -> Iterator[Query]:
    """Every step that presupposes a later one, the first of each sort."""
    known = dish(subject.recipe, subject.larder)
    for sort in (_mixed_later, _baked_case, _shaped_later, _taken_out_first, _water_gone, _after_the_oven):
        misplaced = next(sort(subject, known), None)
        if misplaced is not None:
            yield misplaced


def _first(known: Dish, line: int) -> int:
    """The place of the first clause that speaks of a line; beyond the last where none does."""
    clauses = known.histories.clauses
    return next((at for at, clause in enumerate(clauses) if clause.speaks_of(line)), len(clauses))


def _mixed_later(subject: Subject, known: Dish) -> Iterator[Query]:
    """ "Stir in the flour mixture", where a later step is the first to take the flour."""
    clauses = known.histories.clauses
    for at, clause in enumerate(clauses):
        for match in _MIXTURE.finditer(clause.text):
            word_set = set(words(match["of"]))
            lines = [
                place for place in range(len(known.foods)) if word_set & set(words(known.line(place).item))
            ]
            first = min((_first(known, place) for place in lines), default=at)
            if at < first < len(clauses) and clauses[first].step > clause.step:
                spot, later = _spot(subject, clause), clauses[first].step + 1
                yield query(
                    spot,
                    f"step {clause.step + 1} uses {match.group()}, and step {later} is the first to mix it",
                )


_MIXTURE = regex(r"\bthe (?P<of>[\w-]+) (?:mixture|mix|paste|batter|foam)\b")


def _baked_case(subject: Subject, known: Dish) -> Iterator[Query]:
    """ "Spread the leeks in the baked case", which no step before has baked."""
    listed = " ".join(line.text for line in subject.recipe.ingredients).lower()
    for at, clause in enumerate(known.histories.clauses):
        match = _BAKED.search(clause.text)
        earlier = any(_BAKES_IT.search(before.text) for before in known.histories.clauses[:at])
        if match is not None and not earlier and match["what"] not in listed:
            what = f"step {clause.step + 1} uses {match.group()}, and no step before bakes it"
            yield query(_spot(subject, clause), what)


_BAKED = regex(
    r"\bthe (?:(?:\w+-)?baked|cooked|cooled|crisp|golden) (?:\w+ )?"
    r"(?P<what>case|shell|crust|base|pastry|sponge|layers?)\b"
)
_BAKES_IT = regex(
    r"\b(?:bak\w+|blind|in(?:to)? the oven|roast\w*)\b(?! (?:paper|sheet|tray|beans|powder|soda|dish|tin))"
)


def _shaped_later(subject: Subject, known: Dish) -> Iterator[Query]:
    """ "Fry the patties", where a later step is the first to shape any."""
    listed = {word for line in subject.recipe.ingredients for word in words(line.text)}
    listed |= {word for text in subject.recipe.equipment for word in words(text.text)}
    said: set[str] = set()
    for step in subject.steps:
        for match in _THE_PIECES.finditer(step.text):
            (piece, *_) = words(match["piece"])
            if piece in said | listed or piece in words(step.text[: match.start()]):
                continue
            shapes = (field for field in subject.steps[step.number :] if _is_shaped(field.text, piece))
            later = next(shapes, None)
            if later is not None:
                what = (
                    f"step {step.number} uses {match.group().lower()}, step {later.number} shapes the first"
                )
                yield query(step.spot(match.group(), match.start()), what)
        said.update(words(step.text))


def _is_shaped(text: str, piece: str) -> bool:
    pieces = (match["piece"] or match["other"] for match in _SHAPES.finditer(text))
    return any(words(name)[:1] == (piece,) for name in pieces)


_PIECES = (
    r"(?P<piece>bags?|pouch(?:es)?|patt(?:y|ies)|balls?|dumplings?|meatballs?|burgers?|rolls?|loa(?:f|ves)|buns?|pretzels?"
    r"|ropes?|logs?|rounds?|parcels?|kebabs?|skewers?|fritters?|croquettes?|fingers?|triangles?|discs?|scones?|cookies?)"
)
_THE_PIECES = regex(rf"\b(?:the|each|these) {_PIECES}\b(?! of\b)", re.IGNORECASE)
_SHAPES = regex(
    r"\b(?:into|form|make|shape|cut|roll)\s+(?!(?:the|each|these|your)\b)(?:(?!the\b|each\b)[\w-]+\s+){0,4}?"
    rf"{_PIECES}\b"
    rf"|\b(?:seal|thread|pack)\b[^.;]*\b(?:in|on|onto|into)\s+{_PIECES.replace('<piece>', '<other>')}\b",
    re.IGNORECASE,
)


def _taken_out_first(subject: Subject, known: Dish) -> Iterator[Query]:
    """Food that is returned, lifted out or drained before a later step puts it in."""
    clauses = known.histories.clauses
    for at, clause in enumerate(clauses):
        for mention in clause.mentions:
            line = known.line(mention.line)
            if (
                mention.how in {How.CUE, How.CLASS, How.PART}
                or line.for_use
                or _first(known, mention.line) < at
            ):
                continue
            back = clause.verb == "return" and not _BOILS_AGAIN.search(clause.text)
            out = (
                clause.verb in _OUT
                or _LIFTS.match(clause.text[max(clause.at - clause.start - 8, 0) :]) is not None
            )
            later = next(
                (after for after in clauses[at + 1 :] if _puts_in(after, mention.line, clause)), None
            )
            soaked = known.foods[mention.line].ready or line.container or _WET.search(line.text)
            if later is not None and not soaked and (back or out) and later.step > clause.step:
                what = f"step {clause.step + 1} takes out the {line.item}, and step {later.step + 1}"
                yield query(_spot(subject, clause), f"{what} is the first to put it in")


_OUT = frozenset({"drain", "strain", "unmold", "unmould", "carve"})
_LIFTS = regex(r".{0,8}\b(?:lift|take|fish|scoop) (?:out|(?:the |them |it )(?:\w+ ){0,2}out)\b")
_BOILS_AGAIN = regex(r"\bto (?:a|the) (?:\w+ )?(?:boil|simmer)\b")
_WET = regex(
    r"\b(?:soaked|drained|canned|tinned|jarred|frozen|thawed|in (?:oil|brine|water|syrup)|bottled)\b"
)


def _puts_in(later: Clause, line: int, out: Clause) -> bool:
    """Whether a clause boils, marinates or cooks a line that was taken out of something before."""
    wet = later.deed in {Deed.BOIL, Deed.COOK} and out.verb != "carve"
    wet = wet or (out.verb == "return" and later.deed in HEATING)
    wet = wet or later.verb in {"soak", "marinate", "brine", "roast", "cover", "submerge", "rinse"}
    return (
        wet
        and later.speaks_of(line)
        and any(mention.line == line and mention.how is How.NAME for mention in later.mentions)
    )


def _water_gone(subject: Subject, known: Dish) -> Iterator[Query]:
    """Cooking water that is to be saved once it has been poured away."""
    drained: Clause | None = None
    saved = False
    for clause in known.histories.clauses:
        saves = _SAVES.search(clause.text) is not None
        apart = drained is not None and (
            clause.step > drained.step or _POURED_AWAY.search(drained.text) is not None
        )
        if saves and drained is not None and not saved and apart:
            what = f"step {drained.step + 1} drains it, and step {clause.step + 1} saves its water"
            yield query(_spot(subject, clause), what)
        saved = saved or saves or _SAVED.search(clause.text) is not None
        if clause.verb == "drain" and _WATERY.search(clause.text) and not saved:
            drained = clause


_POURED_AWAY = regex(r"\b(?:sink|away)\b")
_SAVES = regex(
    r"\b(?:save|reserve|keep(?: back)?|set aside|scoop(?: out)?|dip(?: out)?|ladle out)\b[^,;]*"
    r"\b(?:cooking|pasta|noodle|potato|starchy|its|their|the) (?:cooking )?(?:water|liquid|liquor)\b"
    r"|\b(?:cooking|pasta|noodle|potato) water,? (?:saved|reserved|kept|held) (?:back )?from\b"
)
_SAVED = regex(r"\b(?:over a (?:bowl|jug|pan)|into a (?:bowl|jug|pan)|saving|reserving|keeping|catch\w*)\b")
_WATERY = regex(r"\b(?:sink|colander|pasta|noodles?|potatoes|spaghetti|penne|macaroni|bigoli|well|drain)\b")


def _after_the_oven(subject: Subject, known: Dish) -> Iterator[Query]:
    """Flour, or egg beside it, that goes in after the last heat of its part, which baked the rest."""
    clauses = known.histories.clauses
    for place, food in enumerate(known.foods):
        line = known.line(place)
        first = _first(known, place)
        if (
            not is_of(food.food, _BATTER)
            or food.ready
            or line.for_use
            or line.optional
            or first >= len(clauses)
        ):
            continue
        mine = clauses[first]
        baked = [
            clause
            for clause in clauses[:first]
            if clause.verb in _BAKES and clause.part == mine.part and clause.step < mine.step
        ]
        cooked = any(
            clause.deed in HEATING
            for clause in clauses[first:]
            if clause.part == mine.part or clause.part > mine.part
        )
        if baked and not cooked and mine.deed is Deed.MIX and not _DUSTS.search(mine.text):
            what = f"step {baked[0].step + 1} bakes, and step {mine.step + 1} only then adds the {line.item}"
            yield query(_spot(subject, mine), what)


_BATTER = ("role:flour", "role:starch", "role:baking-powder", "role:soda", "key:egg")
_BAKES = frozenset({"bake", "steam"})
_DUSTS = regex(r"\b(?:dust|sprinkle|toss|roll|for (?:the )?(?:sauce|gravy|icing|mayonnaise|dressing))\b")


def _spot(subject: Subject, clause: Clause) -> Text:
    step = subject.steps[clause.step]
    excerpt = step.text[clause.start : clause.end].strip(" ,;.")
    return step.spot(excerpt, clause.start)
