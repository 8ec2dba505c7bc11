"""What a step mixes or toasts by itself, and no later step ever takes up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from functools import cache
from itertools import takewhile

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.dangers.spoilage import is_animal
from cardsmith.facts.method.clauses import HEATING, Clause, Deed, deeds, nouns
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.facts.method.heat import MEDIA
from cardsmith.facts.method.strands import SPICES, Strand, strands
from cardsmith.finding import Severity
from cardsmith.language.listing import listed
from cardsmith.language.word_classes import vessel_words
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.mentions.naming import CONNECTING, StepWord, descriptors, kitchen
from cardsmith.recipe.model import Part
from cardsmith.reference import Tables
from cardsmith.regex import regex


@check(
    "made-never-used",
    Severity.ERROR,
    why="The cook finds a bowl of it in the refrigerator when the dish is on the table.",
    source=PRACTICE,
    remedy="say in a later step where it goes",
)
def made_never_used(subject: Subject) -> Iterator[Query]:
    """Foods that a step works by themselves, and that nothing joins to the rest or speaks of again.

    A warning where the rest is served without them.
    """
    known = dish(subject.recipe, subject.larder)
    clauses = known.histories.clauses
    yield from _soaked(subject, known, clauses)
    yield from _beaten(subject, known, clauses)
    name = subject.recipe.title
    title = set(words(name)) - descriptors() - CONNECTING - deeds().keys() - _things()
    title -= vessel_words(subject.tables)
    foods = {word for line in subject.recipe.ingredients for word in words(line.item)[-1:]}
    heads = title & set(words(_BEHIND.split(name)[0])[-1:]) - foods
    slight = {place for place, identity in enumerate(known.foods) if is_of(identity.food, _SLIGHT)}
    *apart, last = strands(known) or (None,)
    for strand in apart:
        if last is None or not _is_told(strand, last, clauses, slight):
            continue
        others = _other_words(subject, strand)
        shaped = {word for place in strand.clauses for word in _shaped(clauses[place])} - others
        after = clauses[strand.clauses[-1] + 1 :]
        if clauses[strand.clauses[-1]].step == clauses[-1].step or _goes_on_in_its_pan(
            strand, clauses, after
        ):
            continue  # it is still in hand when the dish is done
        if any(_may_speak(clause, heads, title, others, subject.tables) for clause in after):
            continue
        if any(token.word in shaped for clause in after for token in clause.tokens):
            continue
        named = listed([subject.recipe.ingredients[line].item for line in sorted(strand.lines)][:3])
        step = subject.steps[clauses[strand.clauses[-1]].step]
        if _is_part_of_meal(subject, known, strand, last):
            continue
        is_side = any(clause.deed is Deed.SERVE for clause in after)  # without it there is still a dish
        cooked = any(clauses[place].deed in HEATING for place in strand.clauses)
        if is_side and cooked and any(is_animal(known, line) for line in strand.lines):
            continue  # "grill the skewers; stir the cucumber into the yogurt, and serve"
        what = f"step {step.number} readies the {named}, and no later step uses it"
        yield query(step, what, severity=Severity.WARNING if is_side else None)


def _goes_on_in_its_pan(strand: Strand, clauses: Sequence[Clause], after: Sequence[Clause]) -> bool:
    """Whether something goes "into the pan" later, and that is where it lies."""
    lies = any(clauses[place].says(_IN_PAN) for place in strand.clauses)
    return lies and any(clause.says(_INTO_PAN) for clause in after)


_IN_PAN = regex(r"\b(?:in|into) (?:a|the) (?:[\w-]+ ){0,3}(?:\w*pan|pot|casserole|wok)\b")
_INTO_PAN = regex(
    r"\b(?:in|into|to) (?:the|that) (?:same )?(?:\w*pan|pot|casserole|wok)\b"
    r"|\breturn the\b|\b(?:put|tip|slide|set) back\b|\b(?:put|tip|slide|set) (?:the )?\w+ back\b"
)


def _is_part_of_meal(subject: Subject, known: Dish, strand: Strand, last: Strand) -> bool:
    """Whether cooked meat of one part stands beside what another part makes: fried chicken, and its slaw."""
    named = set(words(_BEHIND.split(subject.recipe.title)[0]))
    places = {
        place: number for number, part in enumerate(subject.recipe.parts) for place in _places(subject, part)
    }
    apart = {places[line] for line in strand.lines}.isdisjoint(places[line] for line in last.lines)
    return apart and any(
        is_animal(known, line) and named & set(words(known.line(line).item)) for line in strand.lines
    )


def _places(subject: Subject, part: Part) -> list[int]:
    """The places of a part's lines in the whole list."""
    mine = {id(line) for line in part.ingredients}
    return [place for place, line in enumerate(subject.recipe.ingredients) if id(line) in mine]


def _soaked(subject: Subject, known: Dish, clauses: Sequence[Clause]) -> Iterator[Query]:
    """Gelatine or a dried food that is soaked, and that nothing after it speaks of, nor of all together."""
    for line, identity in enumerate(known.foods):
        uses = [place for place, clause in enumerate(clauses) if clause.speaks_of(line)]
        if not uses or not is_of(identity.food, _SOAKING) or not all(clauses[at].says(_SOAKS) for at in uses):
            continue
        wet = {mention.line for at in uses for mention in clauses[at].mentions}
        after = clauses[uses[-1] + 1 :]
        others = [
            at for at, clause in enumerate(after) if {mention.line for mention in clause.mentions} - wet
        ]
        rest = after[others[0] :] if others else ()
        if not rest or any(
            clause.says(_TAKEN_UP) or wet & {m.line for m in clause.mentions} for clause in rest
        ):
            continue
        step = subject.steps[clauses[uses[-1]].step]
        item = subject.recipe.ingredients[line].item
        yield query(step, f"step {step.number} soaks the {item}, and no later step uses it")


def _beaten(subject: Subject, known: Dish, clauses: Sequence[Clause]) -> Iterator[Query]:
    """Whites or cream beaten to peaks beside another mixture, which nothing after folds in or names."""
    for at, other in enumerate(clauses):
        foams = {mention.line for mention in other.mentions if is_of(known.foods[mention.line].food, _FOAMS)}
        before = {mention.line for clause in clauses[:at] for mention in clause.mentions} - foams
        after = clauses[at + 1 :]
        if not foams or not other.says(_PEAKS) or len(before) < A_MIXTURE or not after or other.says(_TAKEN):
            continue
        in_hand = any(clause.says(_TAKEN) for clause in after[:1])
        if in_hand or any(clause.says(_FOLDED) or foams & _lines_of(clause) for clause in after):
            continue
        step, item = subject.steps[other.step], known.line(min(foams)).item
        yield query(step, f"step {step.number} beats the {item} to peaks, and no later step folds it in")


def _lines_of(clause: Clause) -> set[int]:
    return {mention.line for mention in clause.mentions}


A_MIXTURE = 3  # foods beside it: common practice, no source
_FOAMS = ("role:egg-white", "role:cream", "role:egg")
_PEAKS = regex(r"\bpeaks?\b|\b(?:until|till) (?:very )?(?:stiff|firm)\b")
_TAKEN = regex(r"\b(?:serve\w*|it|them|over|spread|spoon|pipe|fold\w*)\b")
_FOLDED = regex(
    r"\b(?:fold\w*|whites?|meringue|foam|cream|whipped|peaks?|swirl|pipe|layer\w*|alternat\w*|everything|all|both"
    r"|together|(?:stir|mix|beat|whisk|work) (?:\w+ )?(?:into|in|through)|top with|dollop\w*|pile)\b"
)
_SOAKING = ("role:gelatine", "role:agar", "key:dried-*")
_SOAKS = regex(r"\b(?:soak\w*|bloom\w*|steep\w*|soften\w*|rehydrat\w*|hydrat\w*|sprinkle\b.*\bwater)\b")
_TAKEN_UP = regex(
    r"\b(?:it|them|this|these|both|everything|all|mixture|soak\w*|bloomed|dissolved|liquid|ingredients"
    r"|(?:the )?(?:rest|remaining)(?! of)|drain\w*|squeeze\w*)\b"
)


def _shaped(clause: Clause) -> Iterator[str]:
    """What a clause shapes food into: "form into 4 patties", "roll 24 balls"."""
    for pattern in (_SHAPES, _THREADED):
        for match in pattern.finditer(clause.text):
            yield from words(match["piece"])


_SHAPES = regex(
    r"\b(?:into|form|make|shape|roll)\s+(?!(?:the|each|these|your)\b)(?:[\w-]+\s+){1,3}?"
    r"(?P<piece>bags?|patt(?:y|ies)|(?:meat|rice )?balls?|dumplings?|burgers?|rolls?|loa(?:f|ves)|buns?"
    r"|parcels?|kebabs?|skewers?|fritters?|croquettes?|fingers?|cakes?|sausages?)\b"
)


_THREADED = regex(r"\bthread\w*\b[^.;]*?\b(?P<piece>skewers?|sticks?)\b")


def _other_words(subject: Subject, strand: Strand) -> set[str]:
    """The words by which the lines outside a strand, and the parts that hold them, are spoken of."""
    all_words: set[str] = set()
    place = 0
    for part in subject.recipe.parts:
        its = range(place, place + len(part.ingredients))
        place += len(part.ingredients)
        all_words |= {
            word
            for it in its
            if it not in strand.lines
            for word in words(part.ingredients[it - its.start].item)
        }
        if its and strand.lines.isdisjoint(its):
            all_words |= set(words(part.name))
    return all_words


def _is_told(strand: Strand, last: Strand, clauses: Sequence[Clause], slight: Set[int]) -> bool:
    """Whether a strand is a thing by itself, and what comes after it is another."""
    worked = {clauses[place].deed for place in strand.clauses}
    readied = bool(worked & (_READIED if len(strand.lines) == 1 else _MIXED))
    foods = len(last.lines - slight)
    return readied and foods > (not any(clauses[place].deed in HEATING for place in last.clauses))


def _may_speak(clause: Clause, heads: Set[str], title: Set[str], others: Set[str], tables: Tables) -> bool:
    """Whether a clause speaks of something that no line accounts for: the rounds, each patty."""
    covered = {at for mention in clause.mentions for at in range(mention.start, mention.end)}
    step_words = clause.tokens
    for at, token in enumerate(step_words):
        is_dish = token.word in heads - others and at and step_words[at - 1].word in _DEFINITE
        if is_dish or (token.word in title - others and token.start not in covered):
            return True
        if token.word in _DEFINITE and token.start not in covered:
            behind = list(takewhile(_is_joined, step_words[at + 1 : at + 1 + _LONGEST]))
            named = {word.word for word in behind}
            if any(word.start in covered for word in behind[:2]) or not named:
                continue
            if not named & (_things() | vessel_words(tables) | others):
                return True
    return _TO_TABLE.search(clause.text) is not None


def _is_joined(token: StepWord) -> bool:
    """Whether a word goes on with a noun phrase."""
    return token.joined and token.word not in CONNECTING and token.word.isalpha()


@cache
def _things() -> frozenset[str]:
    """Nouns of a step that are no food: tools, places, times."""
    return kitchen("tool") | nouns("vessel") | nouns("idle") | nouns("hot place") | _NO_FOOD


_DEFINITE = frozenset(words("the each every these those"))
_BEHIND = regex(r"\s(?:with|in|on|for|from|under|and)\b|[,:(]")
_SLIGHT = (*MEDIA, *SPICES)  # no dish by themselves
_TO_TABLE = regex(r"\b(?:bring|carry|take)\b.*\bto (?:the )?table\b")
_LONGEST = 3  # words of a noun phrase that are looked at
_NO_FOOD = frozenset(
    words("oven heat top bottom side edge middle center centre end time minute hour second toothpick skewer")
    + words("refrigerator fridge freezer counter sink lid stove hob burner rack shelf surface inside outside")
    + words("stage point degree ball crack mark")  # until it reaches the firm-ball stage
    + words(
        "water air day night table room thermometer needle knife foil parchment towel base rim trimming scrap"
    )
)
_READIED = frozenset({Deed.TOAST, Deed.COOK, Deed.SEAR})
_MIXED = frozenset({*_READIED, Deed.MIX, Deed.BOIL, Deed.WARM})
