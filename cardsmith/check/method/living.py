"""What lives in a dough or a culture, and dies in what has just boiled."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.foods.roles import YEASTS
from cardsmith.facts.method.clauses import Clause, Deed
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.finding import Severity
from cardsmith.language.spans import Kind, Measured, Purpose
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.fields.steps import spans_of
from cardsmith.regex import regex

CULTURES = ("key:*yogurt*", "key:*kefir*", "key:*buttermilk*", "key:*rennet*", "key:*culture*")
CULTURED = regex(r"\b(?:yogh?urt|kefir|crème fraîche|creme fraiche|sour cream|cultured \w+|skyr)\s*$")
POURED = ("role:milk", "role:cream", "key:water", "role:liquid", "role:alcohol", "role:buttermilk")
CRUMB = ("role:flour", "role:grain")
BOILED = regex(r"\b(?:boil\w*|simmer\w*|scald\w*|steaming|bubbl\w*|kettle)\b")
BOILING = regex(r"\b(?:(?:just[- ])?boil(?:ing|ed)|simmering|scalding|steaming(?:[- ]hot)?|piping hot)\b")
COOLED = regex(
    r"\b(?:cool\w*|lukewarm|luke-warm|tepid|warm\w*|blood|body|hand|finger|cold|chill\w*|iced?"
    r"|room temperature|stands?(?! mixer)|standing|leave|left|rest\w*|wait\w*|drops?|falls?|comes? down)\b"
)
DENIES = regex(r"\b(?:not|never|don['’]t|avoid|kills?|or (?:it|the yeast) will)\b")
OURS = regex(r"\b(?:it|at once|straight|immediately|milk|water|liquid|cream|mixture|pan|in|into)\b")
# "Mash the yeast with the sugar in a bowl", while the milk cools.
APART = regex(r"\b(?:bowl|jug|basin|separate\w*|another|meanwhile|together|flour|sugar)\b")
INTO_IT = regex(
    r"\b(?:stir|whisk|beat|mix|tip) in\b|\b(?:into|on|onto|over) it\b"
)  # "stir in the yeast and sugar"
LISTED_HOT = regex(r"\b(?:just[- ])?boil(?:ing|ed)(?: hot)? (?:water|milk|liquid)\b|\bfrom the kettle\b")
HOT = Fraction(60)  # °C, in which yeast is dead within minutes
KIND = Fraction(50)  # °C; so cool it has become


@check(
    "culture-killed",
    Severity.ERROR,
    why="Yeast and the cultures of yogurt die above 55 to 60 °C (130 to 140 °F), and nothing rises or sets.",
    source=PRACTICE,
    remedy="let the liquid cool to lukewarm, 35 to 43 °C (95 to 110 °F), and say so before it goes in",
)
def culture_killed(subject: Subject) -> Iterator[Query]:
    """Yeast, or the starter of a yogurt, stirred into milk or water that was boiling just before."""
    known = dish(subject.recipe, subject.larder)
    kinds = (*YEASTS, *(CULTURES if CULTURED.search(subject.recipe.title.lower()) else ()))
    alive = {place for place, identity in enumerate(known.foods) if is_of(identity.food, kinds)}
    if not alive:
        return
    clauses = known.histories.clauses
    yield from _listed_boiling(subject, known, alive)
    for number, clause in enumerate(clauses):
        mine = next((mention.line for mention in clause.mentions if mention.line in alive), None)
        if mine is None or COOLED.search(clause.text) or _is_cool(clause) or clause.says(DENIES):
            continue
        hot = _hot_before(known, clauses, number, alive)
        if hot is not None:
            step = subject.steps[clause.step]
            what = f"the {known.line(mine).item} goes into what has just boiled"
            yield query(step, f"{what}: “{' '.join(hot.text.split())[:60]}”")
            return


def _listed_boiling(subject: Subject, known: Dish, alive: set[int]) -> Iterator[Query]:
    """Water that the list has too hot, and that goes in uncooled where the yeast lies by then."""
    taken = False
    part = -1
    used: set[int] = set()  # the oats' boiling water is lukewarm when the flour comes
    for clause in known.histories.clauses:
        taken = taken and clause.part == part
        part = clause.part
        if clause.says(COOLED) or _is_cool(clause):
            taken = False
        lines = {mention.line for mention in clause.mentions}
        taken = taken or bool(lines & alive)
        hot = next((line for line in sorted(lines - used) if _is_listed_hot(known, line)), None)
        used |= lines
        if taken and hot is not None:
            yield query(subject.steps[clause.step], f"the {known.line(hot).item} goes to the yeast as it is")
            return


def _is_listed_hot(known: Dish, place: int) -> bool:
    """Whether the list has a liquid so hot that yeast dies in it: boiling, or at 80 °C."""
    line = known.line(place)
    if not is_of(known.foods[place].food, POURED):
        return False
    spans = spans_of(known.recipe, line.text, line.where)
    heats = (span for span in spans if isinstance(span, Measured) and span.kind is Kind.TEMPERATURE)
    return LISTED_HOT.search(line.text.lower()) is not None or any(
        measured.quantity.low >= HOT for measured in heats
    )


def _hot_before(known: Dish, clauses: tuple[Clause, ...], number: int, alive: set[int]) -> Clause | None:
    """The clause that left boiling what the yeast goes into; None where that is cool, dry or another."""
    clause = clauses[number]
    others = {mention.line for mention in clause.mentions} - alive
    if any(is_of(known.foods[other].food, CRUMB) for other in others):
        return None
    if clause.says(BOILING):
        return clause
    poured = {other for other in others if is_of(known.foods[other].food, POURED)}
    at = min(mention.start for mention in clause.mentions if mention.line in alive) - clause.start
    if poured and BOILED.search(clause.text, 0, at):
        return clause  # "bring the milk to the boil and whisk in the yeast"
    for before in reversed(clauses[:number]):
        if before.part != clause.part or clause.step - before.step > 1:
            return None
        if (before.says(COOLED) and not _is_hot(before)) or _is_cool(before):
            return None
        lines = {mention.line for mention in before.mentions}
        if any(is_of(known.foods[line].food, CRUMB) for line in lines):
            return None
        boils = before.deed is Deed.BOIL or before.says(BOILED) or _is_hot(before)
        if boils and any(is_of(known.foods[line].food, POURED) for line in lines):
            apart = not poured and clause.says(APART) and not clause.says(INTO_IT)
            return before if poured <= lines and clause.says(OURS) and not apart else None
    return None


def _is_hot(clause: Clause) -> bool:
    return any(
        measured.quantity.low >= HOT and measured.purpose is not Purpose.OVEN
        for measured in clause.temperatures
    )


def _is_cool(clause: Clause) -> bool:
    return any(measured.quantity.high <= KIND for measured in clause.temperatures)
