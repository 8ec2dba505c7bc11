"""What a clause presupposes: that food is hot before it cools, and there before it is served."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache

from cardsmith.check.registry import Query, query
from cardsmith.check.subject import Subject
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.dangers.spoilage import is_animal
from cardsmith.facts.method.clauses import HEATING, Clause, Deed
from cardsmith.facts.method.dish import Dish
from cardsmith.frozen import frozen
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import cell, is_of
from cardsmith.recipe.mentions.mentions import How
from cardsmith.recipe.mentions.naming import CONNECTING
from cardsmith.recipe.model import Text
from cardsmith.reference import table
from cardsmith.regex import regex


def presupposed(subject: Subject, known: Dish) -> Iterator[Query]:
    """Every clause that presupposes what only a later one does, the first of each sort."""
    for sort in (
        _cooled_first,
        _served_first,
        _shaped_last,
        _begins_in_hand,
        _returned_first,
        _by_table,
        _shared_out_first,
    ):
        presupposing = next(sort(subject, known), None)
        if presupposing is not None:
            yield presupposing


def _heats(clause: Clause) -> bool:
    """Whether a clause heats food, or speaks of what is hot already."""
    return (
        clause.deed in HEATING and not (clause.deed is Deed.WARM and _OVEN.search(clause.text))
    ) or clause.says(_HOT)


def _cooks(clause: Clause) -> bool:
    return clause.verb in _COOKS and not clause.says(_OVEN)


def _spot(subject: Subject, clause: Clause) -> Text:
    step = subject.steps[clause.step]
    excerpt = step.text[clause.start : clause.end].strip(" ,;.")
    return step.spot(excerpt, clause.start)


def _cooled_first(subject: Subject, known: Dish) -> Iterator[Query]:
    """ "Cool in the tin", "pour over the hot cake", where nothing is hot yet and a later step bakes."""
    clauses = known.histories.clauses
    bought = any(_COOKED_LINE.search(line.text.lower()) for line in subject.recipe.ingredients)
    if bought:
        return
    for at, clause in enumerate(clauses):
        if not (clause.says(_OF_HOT) or (clause.verb == "cool" and clause.says(_COOLS))):
            continue
        before = clauses[:at]
        if any(_heats(earlier) for earlier in before):
            return
        later = next((after for after in clauses[at:] if _cooks(after) and after.step > clause.step), None)
        if later is not None:
            what = f"step {clause.step + 1} cools or turns out what only step {later.step + 1} heats"
            yield query(_spot(subject, clause), what)
            return


def _served_first(subject: Subject, known: Dish) -> Iterator[Query]:
    """ "Serve at once" in a step before the last, where a later one still cooks or adds what is listed."""
    clauses = known.histories.clauses
    for at, clause in enumerate(clauses):
        if not clause.says(_SERVES) or clause.says(_NOT_YET):
            continue
        rest = [
            after for after in clauses[at + 1 :] if after.step > clause.step and after.part == clause.part
        ]
        if any(after.deed is Deed.SERVE or after.says(_AGAIN) for after in rest):
            return
        before = {mention.line for earlier in clauses[: at + 1] for mention in earlier.mentions}
        for after in rest:
            new = [
                mention.line
                for mention in after.mentions
                if mention.how is How.NAME
                and mention.line not in before
                and not known.line(mention.line).optional
            ]
            if _cooks(after) or new:
                what = f"step {clause.step + 1} serves it, and step {after.step + 1} still "
                what += "cooks" if _cooks(after) else f"adds the {known.line(new[0]).item}"
                yield query(_spot(subject, clause), what)
                return


def _shaped_last(subject: Subject, known: Dish) -> Iterator[Query]:
    """Raw meat that is rolled into balls, or a batter that goes into its tin, once all heat is over."""
    clauses = known.histories.clauses
    cooked = [at for at, clause in enumerate(clauses) if _cooks(clause)]
    if any(clause.mentions and not any(is_animal(known, mention.line) for mention in clause.mentions)
           for clause in (clauses[at] for at in cooked)):  # fmt: skip
        return  # "bake the flour on a sheet", which makes it safe to eat raw
    raw = any(is_animal(known, place) or is_of(food.food, FLOUR) for place, food in enumerate(known.foods))
    if not cooked or not raw:
        return
    for clause in clauses[cooked[-1] + 1 :]:
        first = clauses[cooked[0]]
        flesh = clause.says(_ROLLS) and first.verb in _DRY_HEAT
        if (flesh or clause.says(_FILLS_TIN)) and clause.step > clauses[cooked[-1]].step:
            if any(earlier.says(_ROLLS) or earlier.says(_FILLS_TIN) for earlier in clauses[: cooked[-1]]):
                return
            what = f"step {first.step + 1} cooks, and step {clause.step + 1} is the first to shape it"
            yield query(_spot(subject, clause), what)
            return


def _begins_in_hand(subject: Subject, known: Dish) -> Iterator[Query]:
    """ "Shape into two logs", "beat in the eggs", before any step has taken a thing from the list."""
    clauses = known.histories.clauses
    strange = {stranger.step for stranger in subject.mentions.strangers}
    for clause in clauses:
        begins = clause.says(_OF_WHAT) and (clause.says(_ADDS_IN) or not clause.mentions)
        if begins and clause.step not in strange and not _named_parts(subject, clause):
            later = next((after for after in clauses if after.step > clause.step and after.mentions), None)
            if later is not None:
                yield query(_spot(subject, clause), f"step {clause.step + 1} begins with nothing in hand")
            return
        if clause.mentions or clause.says(_TAKES):
            return


def _named_parts(subject: Subject, clause: Clause) -> bool:
    """Whether a clause speaks of another part, or of what the title promises."""
    named = {word for part in subject.recipe.parts for word in words(part.name)}
    named |= set(words(subject.recipe.title))
    return any(token.word in named - CONNECTING for token in clause.tokens)


def _returned_first(subject: Subject, known: Dish) -> Iterator[Query]:
    """ "Return the beef to the pot", where only a later step takes it out."""
    clauses = known.histories.clauses
    for at, clause in enumerate(clauses):
        if clause.verb != "return" or clause.says(_TO_BOIL):
            continue
        lines = {mention.line for mention in clause.mentions}
        if any(earlier.says(_ASIDE) for earlier in clauses[:at]):
            return
        for after in clauses[at + 1 :]:
            mine = [earlier for earlier in clauses if earlier.step == after.step]
            if after.step > clause.step and after.says(_ASIDE) and any(_speaks(mine, line) for line in lines):
                what = f"step {clause.step + 1} puts back what only step {after.step + 1} takes out"
                yield query(_spot(subject, clause), what)
                return


def _speaks(clauses: Sequence[Clause], line: int) -> bool:
    return any(clause.speaks_of(line) for clause in clauses)


def _by_table(subject: Subject, known: Dish) -> Iterator[Query]:
    """What ``presuppositions.csv`` knows: no step takes the pan off the heat before one has heated it."""
    clauses = known.histories.clauses
    for rule in presuppositions():
        if rule.foods and not any(is_of(food.food, rule.foods) for food in known.foods):
            continue
        at = next((at for at, clause in enumerate(clauses) if rule.says.search(clause.text)), None)
        if at is None or any(rule.needs.search(clause.text) for clause in clauses[: at + 1]):
            continue
        clause = clauses[at]
        later = (
            after
            for after in clauses[at + 1 :]
            if after.part == clause.part and (after.step > clause.step or rule.foods)
        )
        needed = next((after for after in later if rule.needs.search(after.text)), None)
        if needed is not None:
            what = (
                f"step {clause.step + 1} {rule.told_first}, and only step {needed.step + 1} {rule.told_later}"
            )
            yield query(_spot(subject, clause), what)
            return


@frozen
class Presupposition:
    """What a clause says that an earlier one must have made so."""

    says: Phrases
    needs: Phrases
    foods: tuple[
        str, ...
    ]  # the list has one of them, and the order within a step counts too; empty: any list
    told_first: str
    told_later: str


@cache
def presuppositions() -> tuple[Presupposition, ...]:
    """Every row of ``presuppositions.csv``.

    Raises:
        ValueError: a row says nothing, or needs nothing.
    """
    rows = []
    for row in table("presuppositions"):
        says, needs = phrases(row["says"]), phrases(row["needs"])
        if says is None or needs is None:
            raise ValueError(f"presuppositions.csv: {row['told_first']}: says or needs is empty")
        rows.append(
            Presupposition(
                says=says,
                needs=needs,
                foods=cell(row["foods"]),
                told_first=row["told_first"],
                told_later=row["told_later"],
            )
        )
    return tuple(rows)


def _shared_out_first(subject: Subject, known: Dish) -> Iterator[Query]:
    """Gelatine or agar stirred in once the rest is in its moulds, which a later step chills."""
    clauses = known.histories.clauses
    for at, clause in enumerate(clauses):
        if not clause.says(_INTO_MOULDS):
            continue
        for after in clauses[at + 1 :]:
            lines = {mention.line for mention in after.mentions}
            binds = [line for line in lines if is_of(known.foods[line].food, BINDING)]
            stirred = after.step > clause.step and after.part == clause.part and after.deed is Deed.MIX
            if binds and stirred and after.says(_STIRS_IN):
                item = known.line(min(binds)).item
                stirring = f"step {after.step + 1} stirs in the {item}"
                what = f"step {clause.step + 1} shares it out, and only {stirring}"
                yield query(_spot(subject, clause), what)
                return
        return


BINDING = ("role:gelatine", "role:agar")
_INTO_MOULDS = regex(
    r"\b(?:divide|pour|ladle|spoon|strain|share|scrape)\b.*"
    r"\b(?:mou?lds|ramekins|glasses|darioles)\b"
)
_STIRS_IN = regex(r"\b(?:stir|whisk|beat|fold|mix)\b")
FLOUR = ("role:flour",)
_COOKS = frozenset(
    words("bake roast fry grill broil steam boil simmer braise stew poach griddle cook barbecue")
)
_DRY_HEAT = frozenset(words("bake roast fry grill broil griddle barbecue"))
_OVEN = regex(
    r"\b(?:heat|preheat|turn|reduce|lower|raise) (?:the |an |your )?(?:\w+ )?(?:oven|grill|broiler)\b"
)
_HOT = regex(
    r"\b(?:over (?:a |the )?(?:[\w-]+ ){0,2}heat|hot|boil\w*|simmer\w*|melt\w*|steam\w*"
    r"|warm\w*|toast\w*|microwave\w*|baked|cooked|scald\w*)\b"
)
_COOKED_LINE = regex(r"\b(?:hot|boiling|boiled|cooked|melted|baked|toasted|warm|roasted|browned|cooled)\b")
_OF_HOT = regex(
    r"\bover the (?:still[- ])?(?:hot|warm) (?:cakes?|loaf|loaves|bread|buns?|scones?|puddings?|bars?)\b"
    r"|\b(?:turn|lift|cool|slide)\b[^.;]{0,30}\b(?:on|onto|to) (?:a|the) (?:wire |cooling )?rack\b"
)
_COOLS = regex(r"\bcool\b(?! (?:water|place|cupboard|room))")
_SERVES = regex(
    r"\b(?:serve|eat) (?:it |them )?(?:at once|immediately|right away|hot|warm|straight away|cold)\b"
    r"|(?:^|\band )\W*serve\W*$"
)
_NOT_YET = regex(r"\b(?:to serve|before serving|for serving|until|or serve|if)\b")
_AGAIN = regex(r"\b(?:repeat|second batch|leftovers?|another batch|next day|to serve|for serving)\b")
_ROLLS = regex(
    r"\b(?:roll|shape|form|mould|mold|divide|pat)\s+(?:(?!the\b|each\b|them\b|these\b)[\w-]+\s+){1,6}?"
    r"(?:balls?|patties|fingers?|logs?|burgers?|sausages?|meatballs?|koftas?)\b"
)
_FILLS_TIN = regex(
    r"\b(?:spread|pour|scrape|spoon|press|divide|turn|tip)\b[^.;]{0,20}?\b(?:batter|dough)\b[^.;]{0,20}?"
    r"\b(?:in|into|among|between|over)\b[^.;]{0,25}?\b(?:tins?|pans?|cases|moulds?|molds?|dish|basin)\b"
)
_OF_WHAT = regex(
    r"^\W*(?:shape|knead|divide|bake|roll|cut) (?:it |them )?(?:in|into|for|out|on)\b"
    r"|^\W*(?:beat|stir|fold|whisk|mix|add|work|rub) in the\b"
)
_ADDS_IN = regex(r"^\W*(?:beat|stir|fold|whisk|mix|add|work|rub) in the\b")
_TAKES = regex(r"\b(?:put|place|mix|stir|whisk|beat|combine|pour|tip|add|toss|rinse|wash|peel|cut|chop)\b")
_TO_BOIL = regex(r"\bto (?:a|the) (?:\w+ )?(?:boil|simmer|heat)\b")
_ASIDE = regex(
    r"\b(?:set (?:it |them |the \w+ )?aside|lift (?:it |them )?out|take (?:it |them )?out|remove|transfer"
    r"|(?:on|to|onto) (?:a|the) (?:\w+ ){0,2}(?:plate|bowl|board)|reserve)\b"
)
