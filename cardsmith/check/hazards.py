"""Hazards a card must warn of: which they are by the list and the method, and the words it prints."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fnmatch import fnmatchcase
from fractions import Fraction
from functools import cache

from cardsmith.check.heat import after_use, durations, is_cooked, sentence_at, temperatures
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.finding import Severity
from cardsmith.measure.larder import Food, Larder
from cardsmith.recipe.mentions import Mentions, read_mentions, visible
from cardsmith.recipe.model import Ingredient, Purpose, Recipe
from cardsmith.reference import table

MOST = 4  # cautions on one card; more are not read: common practice, no source
LOCAL = "Follow local rules."


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard:
    """A row of hazards.csv: everything it names must hold; of its occasions, one."""

    name: str
    rank: int  # 1 comes first on the card
    foods: tuple[str, ...]  # key:*-chile, role:nut, origin:honey; any of them
    kinds: frozenset[str]
    words: re.Pattern[str] | None
    read: frozenset[str]  # where the words are looked for
    purpose: str
    least: Fraction  # °C
    state: str
    cancel: re.Pattern[str] | None
    caution: str
    local: bool
    action: str  # caution; review: not without a licensed review; ask: nor a caution; stop: not at all
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazardous:
    """A hazard that one recipe holds, and what gave it away."""

    hazard: Hazard
    line: Ingredient | None
    evidence: str

    @property
    def text(self) -> str:
        """What the card prints."""
        return f"{self.hazard.caution} {LOCAL}" if self.hazard.local else self.hazard.caution


@cache
def pattern(cell: str) -> re.Pattern[str] | None:
    """Words of a cell as a pattern, ``pickle*|taste ... dough``: a star ends a word, dots are words."""
    told = [
        re.sub(r"\\?[ -]", r"[\\s-]+", re.escape(one.strip()))
        .replace(r"\.\.\.[\s-]+", r"(?:[\w'’-]+[\s-]+){0,5}")
        .replace(r"\*", r"[\w'’-]*")
        for one in cell.split("|")
        if one.strip()
    ]
    return re.compile(rf"\b(?:{'|'.join(told)})(?!\w)", re.IGNORECASE) if told else None


@cache
def hazards() -> tuple[Hazard, ...]:
    """All hazards, the gravest first."""
    rows = table("hazards")
    found = tuple(
        Hazard(
            name=row["hazard"],
            rank=int(row["rank"]),
            foods=tuple(filter(None, row["foods"].split("|"))),
            kinds=frozenset(filter(None, row["kinds"].split("|"))),
            words=pattern(row["words"]),
            read=frozenset(filter(None, row["read"].split("|"))),
            purpose=row["purpose"],
            least=Fraction(row["least_celsius"] or 0),
            state=row["state"],
            cancel=pattern(row["cancel"]),
            caution=row["caution"],
            local=row["local"] == "yes",
            action=row["action"],
            source=row["source"],
        )
        for row in rows
    )
    for one in found:
        if one.state not in STATES:
            raise ValueError(f"hazards.csv: {one.name!r} has the unknown state {one.state!r}")
        if not (one.foods or one.words):
            raise ValueError(f"hazards.csv: {one.name!r} names neither foods nor words")
    return tuple(sorted(found, key=lambda one: one.rank))


@cache
def _sorted(patterns: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """The names of ``patterns`` by their sort: key, role, origin."""
    pairs = [one.partition(":")[::2] for one in patterns]
    return {sort: tuple(name for mine, name in pairs if mine == sort) for sort in ("key", "role", "origin")}


def is_of(food: Food | None, patterns: tuple[str, ...]) -> bool:
    """Whether a food is one of ``patterns``: by key, by what it mainly acts as, or by where it comes from."""
    if food is None:
        return False
    wanted = _sorted(patterns)
    return (
        any(food.share(name) >= Fraction(1, 3) for name in wanted["role"] if name in food.roles)
        or any(name in food.origin for name in wanted["origin"])
        or any(food.key == name or ("*" in name and fnmatchcase(food.key, name)) for name in wanted["key"])
    )


def texts(recipe: Recipe) -> dict[str, str]:
    """What the author wrote, by place, for words to be looked up in."""
    makes = recipe.yields.makes_item if recipe.yields else ""
    return {
        "title": recipe.title,
        "headnote": recipe.headnote,
        "kind": recipe.kind.text if recipe.kind else "",
        "makes": makes,
        "equipment": "; ".join(one.text for one in recipe.equipment),
        "list": "; ".join(line.text for line in recipe.ingredients),
        "steps": "\n".join(visible(step.spans) for step in recipe.steps),
        "storage": recipe.storage,
        "notes": "\n".join(one.text for one in recipe.notes),
    }


def hazardous(recipe: Recipe, mentions: Mentions) -> tuple[Hazardous, ...]:
    """Every hazard of the table that ``recipe`` holds, the gravest first."""
    if not _last or _last[0][0] is not recipe or _last[0][1] is not mentions:
        told = texts(recipe)
        found = filter(None, (_found(one, recipe, mentions, told) for one in hazards()))
        _last[:] = [(recipe, mentions, tuple(found))]
    return _last[0][2]


_last: list[
    tuple[Recipe, Mentions, tuple[Hazardous, ...]]
] = []  # three checks ask about the same recipe in turn


def _found(one: Hazard, recipe: Recipe, mentions: Mentions, told: dict[str, str]) -> Hazardous | None:
    places = [place for place, line in enumerate(recipe.ingredients) if is_of(line.food, one.foods)]
    if one.foods and not places:
        return None
    occasion = _occasion(one, recipe, told)
    if occasion is None or (one.cancel and any(one.cancel.search(text) for text in told.values())):
        return None
    if not one.foods:
        return Hazardous(hazard=one, line=None, evidence=occasion)
    for place in places:
        line = recipe.ingredients[place]
        if STATES[one.state](recipe, mentions, place):
            evidence = f"{line.item}, {occasion}" if occasion else line.item
            return Hazardous(hazard=one, line=line, evidence=evidence)
    return None


def _occasion(one: Hazard, recipe: Recipe, told: dict[str, str]) -> str | None:
    """What calls for the caution: the kind, a word, or a temperature; empty where foods alone do."""
    if not (one.kinds or one.words or one.purpose):
        return ""
    if recipe.kind and recipe.kind.text in one.kinds:
        return f"kind: {recipe.kind.text}"
    if one.words:
        for where in told if "all" in one.read else [name for name in told if name in one.read]:
            found = one.words.search(told[where])
            if found:
                return f"“{found.group()}”"
    for step in recipe.steps:
        for _, span in temperatures(step):
            if span.purpose is not None and span.purpose == one.purpose and span.quantity.low >= one.least:
                return f"“{span.text}”"
    return None


def _any(_recipe: Recipe, _mentions: Mentions, _place: int) -> bool:
    return True


def _raw(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Goes into the dish and is never cooked."""
    line = recipe.ingredients[place]
    ready = re.compile(r"\b(?:cooked|boiled|pasteuri[sz]ed|dried|canned|powder)\b", re.IGNORECASE)
    name = line.food.name if line.food else ""
    if ready.search(f"{line.text} {name}") or line.for_use:
        return False
    return any(True for _ in after_use(recipe, mentions, place)) and not is_cooked(recipe, mentions, place)


def _raw_egg(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Raw, and no boiling syrup is poured over it (USDA FSIS, Shell Eggs from Farm to Table: memory)."""
    syrup = any(
        span.purpose is Purpose.SUGAR and span.quantity.low >= 110
        for step in recipe.steps
        for _, span in temperatures(step)
    )
    poured = any(
        re.search(r"\bsyrup\b", visible(step.spans)[start:], re.IGNORECASE)
        for step, start in after_use(recipe, mentions, place)
    )
    return _raw(recipe, mentions, place) and not (syrup and poured)


def _pink(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Taken off below 145 °F, by every temperature of its inside that the steps give."""
    inside = [
        span.quantity.low
        for step, start in after_use(recipe, mentions, place)
        for _, span in temperatures(step, start)
        if span.purpose is Purpose.DONENESS
    ]
    return bool(inside) and max(inside) < Fraction(313, 5) and _raw_meat(recipe, mentions, place)


def _raw_flour(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    """Stays raw in a dish that never sees an oven; an unfinished draft of bread is no raw dough."""
    told = texts(recipe)
    oven = re.search(r"\b(?:oven|bak(?:e|ed|ing))\b", f"{told['title']} {told['steps']}", re.IGNORECASE)
    return not oven and _raw(recipe, mentions, place)


def _raw_fish(recipe: Recipe, mentions: Mentions, place: int) -> bool:
    line = recipe.ingredients[place]
    ready = re.compile(r"\b(?:canned|smoked|anchovy|bonito|surimi|stock)\b", re.IGNORECASE)
    return not (line.food and ready.search(line.food.name)) and _raw(recipe, mentions, place)


def _raw_meat(recipe: Recipe, _mentions: Mentions, place: int) -> bool:
    food = recipe.ingredients[place].food
    return food is not None and not food.share("bone") and food.share("salt") < Fraction(1, 100)


def _raw_after(recipe: Recipe, _mentions: Mentions, _place: int) -> bool:
    """Nothing is baked, but for the flour itself."""
    return not any(
        re.search(r"\bbake (?:for|until)\b", visible(step.spans), re.I) for step in recipe.steps[-2:]
    )


def _not_boiled(recipe: Recipe, _mentions: Mentions, _place: int) -> bool:
    """No step boils for ten minutes or more."""
    return boiled_for(recipe) < 600


def boiled_for(recipe: Recipe) -> Fraction:
    """The longest time, in seconds, for which a step boils; 0 where none says."""
    longest = Fraction(0)
    for step in recipe.steps:
        text = visible(step.spans)
        for match in re.finditer(r"\bboil\b", text, re.IGNORECASE):
            _, ends = sentence_at(text, match.start())
            turn = re.search(r"\b(?:simmer|then|lower|reduce)\b", text[match.end() : ends], re.IGNORECASE)
            stop = match.end() + turn.start() if turn else ends
            longest = max([longest, *(one.low for one in durations(step, match.start(), stop))])
    return longest


def _whole(recipe: Recipe, _mentions: Mentions, place: int) -> bool:
    """Neither cut nor ground, nor a paste or flour."""
    line = recipe.ingredients[place]
    cut = (
        r"\b(?:chopped|sliced|slivered|ground|flaked|crushed|quartered|butter|flour|paste|shredded|finely)\b"
    )
    told = f"{line.text} {line.food.name if line.food else ''}"
    return not re.search(cut, told, re.IGNORECASE) and "coconut" not in told


def _fresh(recipe: Recipe, _mentions: Mentions, place: int) -> bool:
    """Moist, not dried."""
    line = recipe.ingredients[place]
    dried = re.compile(r"\b(?:dried|powder|flakes)\b|^bay leaf", re.IGNORECASE)
    return not dried.search(line.food.name if line.food else "") and "dried" not in line.text


def _strength_untold(recipe: Recipe, _mentions: Mentions, _place: int) -> bool:
    """The recipe does not yet say both 5 % and refrigerate by itself."""
    told = " ".join(texts(recipe).values())
    return not (re.search(r"\b5 ?(?:%|percent)", told) and re.search(r"\brefrigerat", told, re.IGNORECASE))


STATES = {
    "": _any,
    "raw": _raw,
    "raw egg": _raw_egg,
    "raw fish": _raw_fish,
    "raw flour": _raw_flour,
    "raw meat": _raw_meat,
    "pink": _pink,
    "raw after": _raw_after,
    "not boiled": _not_boiled,
    "fresh": _fresh,
    "strength untold": _strength_untold,
    "whole": _whole,
}


def cautions(recipe: Recipe, larder: Larder) -> tuple[str, ...]:
    """The cautions the card must print, at most four, the gravest first, each once.

    Temperatures stand in both systems, rounded away from danger (safety_pairs.csv).
    """
    return _printed(hazardous(recipe, read_mentions(recipe, larder)))


def _printed(found: tuple[Hazardous, ...]) -> tuple[str, ...]:
    names = {one.hazard.name for one in found}
    kept = [
        one
        for one in found
        if one.hazard.action != "stop" and not (OUTDONE.get(one.hazard.name, frozenset()) & names)
    ]
    return tuple(dict.fromkeys(one.text for one in kept))[:MOST]


OUTDONE = {  # a caution that another of the same card says already
    "raw egg": frozenset({"lightly cooked egg"}),
    "choking on hard candy": frozenset({"choking on whole nuts"}),
    "deep frying": frozenset({"whole bird in oil"}),
    "raw flour": frozenset({"flour heated at home"}),
}


@check(
    "hazard-caution",
    Severity.NOTE,
    why="A cook cannot see the danger in the list; the card says it before the first step.",
    source="hazards.csv, a source for each row",
    remedy="nothing to write: the card prints the caution by itself",
)
def hazard_caution(subject: Subject) -> Iterator[Query]:
    """A hazard of the table that the recipe holds, with the caution that the card prints for it."""
    found = hazardous(subject.recipe, subject.mentions)
    printed = _printed(found)
    for one in found:
        if one.text in printed and one.hazard.action == "caution":
            yield query(
                one.line or subject.recipe.where,
                f"{one.hazard.name} ({one.evidence}): the card prints “{one.text}”",
            )


@check(
    "review-needed",
    Severity.WARNING,
    why="Some methods are safe only as tested; a test kitchen's palate cannot tell.",
    source="hazards.csv, a source for each row",
    remedy="have someone licensed review it, and say in accepted: who and when",
)
def review_needed(subject: Subject) -> Iterator[Query]:
    """Home canning, curing, fermented sausage, foraged and poisonous plants: not without a review."""
    for one in hazardous(subject.recipe, subject.mentions):
        if one.hazard.action in ("review", "ask"):
            yield query(one.line or subject.recipe.where, f"{one.hazard.name} ({one.evidence})")
