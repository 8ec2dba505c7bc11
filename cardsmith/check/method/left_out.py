"""Steps left out that a food needs by its nature: to rise, to soak, to set."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from cardsmith.check.method.clock import MINUTE
from cardsmith.check.method.signs import Signs, signs, timed_deed
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.foods.roles import EGGS, YEASTS
from cardsmith.facts.method.clauses import Clause, Deed
from cardsmith.facts.method.dish import UNTOUCHED
from cardsmith.finding import Severity
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.regex import regex

RAISERS = ("role:soda", "role:baking-powder", "key:self-*")
FLOUR = ("role:flour",)
GELATINE = ("role:gelatine",)
REST = 20 * MINUTE  # no dough rises in less; common practice, no source
BENCH = 10 * MINUTE  # what relaxes a dough before it is shaped; common practice, no source
SET_BY_COLD = (  # what is soft when it is mixed, and holds a cut only once it is cold
    "role:gelatine", "role:agar", "key:*cream-cheese", "key:mascarpone", "key:sweetened-condensed-milk",
    "role:cream", "role:chocolate", "key:cornstarch", "key:custard-powder",
)  # fmt: skip
SHARE = Fraction(1, 4)  # of all, from which on it is the body of a dish and no frosting
WAITS = regex(
    r"\b(?:overnight|refrigerat\w*|fridge|chill\w*|freez\w*|cold|cool\w*|iced?|sets?|setting|firm\w*|solid\w*"
    r"|stiff\w*|leave|stand|rest)\b"
)
RISES = regex(
    r"\b(?:ris(?:e|es|en|ing)|prov(?:e|es|en|ing)|proof\w*|doubl\w*|ferment\w*|retard\w*|bulk|overnight|puff\w*"
    r"|bubbl\w*|bread machine|swell\w*|swollen)\b"
)
LIES = regex(r"\b(?:aside|leave|stand|cover\w*)\b")
LASTS = regex(r"\b(?:until|till|while)\b")
SOAKS = regex(
    r"\b(?:soak\w*|bloom\w*|swell\w*|swollen|spong\w*|soften\w*|hydrat\w*|leave|stand|set aside|sit"
    r"|(?<!the )rest|cold|iced?|(?<!hot )(?<!warm )(?<!boiling )(?<!simmering )water)\b"
)
INSTANT = regex(r"\b(?:instant|soaked|bloomed|jelly|jell-o|cubes?)\b")


@check(
    "dough-not-risen",
    Severity.ERROR,
    why="A yeast dough that goes to the heat as soon as it is shaped bakes dense, raw and bitter of yeast.",
    source=PRACTICE,
    remedy="say how long it rises, and until when: let it rise for 1 hour, until doubled",
)
def dough_not_risen(subject: Subject) -> Iterator[Query]:
    """A yeast dough that is baked, fried or steamed and never left to rise; a warning for a short rest."""
    recipe_signs = signs(subject.recipe, subject.larder)
    foods = [identity.food for identity in recipe_signs.dish.foods]
    yeast = next((place for place, food in enumerate(foods) if is_of(food, YEASTS)), None)
    if yeast is None or any(is_of(food, RAISERS) for food in foods):
        return
    flour = next(
        (
            place
            for place, clause in enumerate(recipe_signs.clauses)
            if any(is_of(foods[mention.line], FLOUR) for mention in clause.mentions)
        ),
        None,
    )
    if flour is None:
        return
    baked = next(
        (at for at in range(flour, len(recipe_signs.clauses)) if _bakes(recipe_signs.clauses[at])), None
    )
    between = recipe_signs.clauses[flour:baked]
    if baked is None or any(other.says(RISES) for other in between if other.verb != "heat"):
        return
    rests = [other for other in between if other.deed in (Deed.COOL, Deed.LEAVE) or other.says(LIES)]
    longest = max((rest.seconds for rest in rests), default=Fraction(0))
    if longest >= REST or any(rest.says(LASTS) and not rest.seconds for rest in rests):
        return
    clause = recipe_signs.clauses[baked]
    what = f"step {clause.step + 1} bakes the dough, and no step lets it rise"
    yield query(subject.steps[clause.step], what, severity=Severity.WARNING if longest >= BENCH else None)


def _bakes(clause: Clause) -> bool:
    """Whether a clause puts dough to the heat."""
    deed = timed_deed(clause)
    return (
        deed is not None and deed.sort == "heat" and clause.verb not in {"toast", "simmer", "boil", "reduce"}
    )


@check(
    "gelatine-not-soaked",
    Severity.ERROR,
    why="Dry gelatine that meets something hot lumps: its outside melts and seals the rest.",
    source=PRACTICE,
    remedy="soak it first: sprinkle the gelatine over cold water and leave it for 5 minutes, until swollen",
)
def gelatine_not_soaked(subject: Subject) -> Iterator[Query]:
    """Gelatine that no clause soaks, nor spreads through dry sugar, before it meets the heat."""
    recipe_signs = signs(subject.recipe, subject.larder)
    for line, identity in enumerate(recipe_signs.dish.foods):
        if not is_of(identity.food, GELATINE) or INSTANT.search(
            subject.recipe.ingredients[line].text.lower()
        ):
            continue
        uses = [place for place, clause in enumerate(recipe_signs.clauses) if clause.speaks_of(line)]
        if not uses or any(_soaks(recipe_signs, place) for place in uses):
            continue
        first = recipe_signs.clauses[uses[0]]
        yield query(subject.steps[first.step], f"step {first.step + 1} uses the gelatine dry")


def _soaks(recipe_signs: Signs, place: int) -> bool:
    """Whether gelatine is wetted or spread through sugar by a clause or the two after it."""
    clause = recipe_signs.clauses[place]
    sugared = any(
        is_of(recipe_signs.dish.foods[mention.line].food, ("role:sugar",)) for mention in clause.mentions
    )
    return sugared or any(other.says(SOAKS) for other in recipe_signs.clauses[place : place + 3])


@check(
    "gelatine-not-dissolved",
    Severity.ERROR,
    why="Soaked gelatine melts only when it is warm; stirred into something cold it stays in strings.",
    source=PRACTICE,
    remedy="melt it: warm the soaked gelatine over low heat until clear, or stir it into the hot liquid",
)
def gelatine_not_dissolved(subject: Subject) -> Iterator[Query]:
    """Gelatine that nothing warm is ever near."""
    recipe_signs = signs(subject.recipe, subject.larder)
    for line, identity in enumerate(recipe_signs.dish.foods):
        if not is_of(identity.food, GELATINE) or recipe_signs.dish.heat(line) not in UNTOUCHED:
            continue
        uses = [place for place, clause in enumerate(recipe_signs.clauses) if clause.speaks_of(line)]
        if not uses or any(clause.says(MELTS) for clause in recipe_signs.clauses[uses[0] :]):
            continue
        first = recipe_signs.clauses[uses[0]]
        yield query(subject.steps[first.step], "the gelatine is soaked, and nothing hot dissolves it")


@check(
    "gelatine-boiled",
    Severity.ERROR,
    why="Gelatine that boils for minutes loses its strength, and the dish sets late or not at all.",
    source=PRACTICE,
    remedy="stir the soaked gelatine into the hot liquid off the heat, until it dissolves",
)
def gelatine_boiled(subject: Subject) -> Iterator[Query]:
    """Gelatine that boils for two minutes or more; what sets as a sweet is boiled before it goes in."""
    recipe_signs = signs(subject.recipe, subject.larder)
    roles = subject.formula(subject.recipe.parts).roles
    if roles.get("sugar", 0) > roles["total"] * SWEET:
        return
    for line, identity in enumerate(recipe_signs.dish.foods):
        if not is_of(identity.food, GELATINE):
            continue
        boils = (
            event
            for event in recipe_signs.dish.history(line).events
            if event.boils and event.seconds >= BOILED
        )
        event = next(boils, None)
        if event is not None:
            yield query(subject.steps[event.step], f"step {event.step + 1} boils the gelatine")


BOILED = 2 * MINUTE  # common practice, no source
SWEET = Fraction(35, 100)  # of sugar, as in marshmallows: common practice, no source
MELTS = regex(
    r"\b(?:melt\w*|dissolv\w*|warm\w*|hot|heat\w*|boil\w*|simmer\w*|scald\w*|microwave|bain|steam\w*)\b"
)


@check(
    "not-left-to-set",
    Severity.ERROR,
    why="What the cold sets is a cream until then: it runs as soon as the ring is off or the knife is in.",
    source=PRACTICE,
    remedy="say how long it chills, and until when: refrigerate for 6 hours, until firm to the touch",
)
def not_left_to_set(subject: Subject) -> Iterator[Query]:
    """A jelly, an unbaked cheesecake, a cream pie or an ice that is served with no time in the cold."""
    recipe_signs = signs(subject.recipe, subject.larder)
    if FROZEN.search(subject.recipe.title.lower()) and subject.steps:
        if not any(FREEZES.search(step.text.lower()) for step in subject.steps):
            yield query(subject.steps[-1], "it is called frozen, and no step freezes or churns it")
        return
    setting = [
        line for line, identity in enumerate(recipe_signs.dish.foods) if is_of(identity.food, SET_BY_COLD)
    ]
    jelly = any(is_of(recipe_signs.dish.foods[line].food, GELATINE) for line in setting)
    if (
        not setting
        or not (jelly or _is_body(subject, setting))
        or _is_cake(recipe_signs)
        or _baked(recipe_signs, setting)
    ):
        return
    mixed = next(
        (place for place in range(len(recipe_signs.clauses)) if recipe_signs.lines(place) & set(setting)),
        None,
    )
    if mixed is None or any(_waits(later) for later in recipe_signs.clauses[mixed:]):
        return
    for clause in recipe_signs.clauses[mixed:]:
        if clause.says(RELEASES) or (clause.says(CUTS) and _is_moulded(recipe_signs.clauses[mixed:])):
            step = subject.steps[clause.step]
            yield query(step, f"step {clause.step + 1} turns it out or cuts it, and no step lets it set")
            return
    if jelly:
        last = subject.steps[-1]
        yield query(last, "the gelatine goes in, and no step lets it set in the cold")


FROZEN = regex(
    r"\b(?:ice[- ]?cream|gelato|sorbet|granita|semifreddo|sherbet|ice lolly|ice pops?|popsicles?|kulfi)s?$"
)
FREEZES = regex(r"\b(?:fr[eo]ez\w*|frozen|churn\w*|machine|maker|ice and salt)\b")
RELEASES = regex(
    r"\b(?:unmou?ld|unclip|turn (?:it |them |the \w+ )?out"
    r"|(?:release|remove|lift off|take off|undo|slip off|ease off) the (?:ring|sides?|collar|clip|catch|rim)"
    r"|lift (?:it |the \w+ )?(?:out )?(?:of|from) the (?:tin|pan|mou?ld))\b"
)
CUTS = regex(r"\b(?:cut|slice)\b")
MOULDS = regex(r"\b(?:tin|pan|mou?ld|crust|case|shell|base|plate|ring|dish|springform)\b")


def _waits(clause: Clause) -> bool:
    """Whether a clause gives it time: in the cold, or until it sets."""
    return clause.deed in (Deed.COOL, Deed.LEAVE, Deed.MIX, Deed.NONE) and (
        clause.verb in _COLD or (clause.says(WAITS) and (clause.seconds >= REST or clause.says(COLDS)))
    )


_COLD = frozenset(words("chill refrigerate freeze cool"))
COLDS = regex(
    r"\b(?:overnight|refrigerator|fridge|freezer|(?:until|till)\b.*\b(?:set|firm|cold|cool\w*|solid))\b"
)


def _is_body(subject: Subject, setting: Sequence[int]) -> bool:
    """Whether what the cold sets makes up much of the dish."""
    masses = subject.masses
    total = sum((mass.grams for mass in masses.values()), Fraction(0))
    mine = sum((masses[line].grams for line in setting if line in masses), Fraction(0))
    return mine >= total * SHARE > 0


def _is_cake(recipe_signs: Signs) -> bool:
    """Whether it is a baked batter that is filled or frosted."""
    foods = recipe_signs.dish.foods
    return any(
        is_of(foods[line].food, (*RAISERS, *YEASTS, *EGGS)) and _baked(recipe_signs, [line])
        for line in range(len(foods))
    )


def _baked(recipe_signs: Signs, lines: Sequence[int]) -> bool:
    """Whether any of some lines bakes or steams."""
    return any(
        event.verb in {"bake", "roast", "steam", "grill", "fry"} or "oven" in event.text
        for line in lines
        for event in recipe_signs.dish.history(line).events
    )


def _is_moulded(clauses: Sequence[Clause]) -> bool:
    return any(clause.deed is Deed.MIX and clause.says(MOULDS) for clause in clauses)
