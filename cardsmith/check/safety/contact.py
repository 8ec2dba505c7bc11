"""Raw meat, poultry and fish kept from what is ready to eat: plates, boards, knives, and the sink."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardsmith.check.fields import Field
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.foods.roles import ANIMAL
from cardsmith.facts.method.dish import Dish, dish
from cardsmith.facts.method.events import Event, Heat
from cardsmith.finding import Severity
from cardsmith.measure.patterns import is_of
from cardsmith.regex import regex

THING = (
    r"(?:plates?|platters?|trays?|dish|dishes|boards?|knife|knives|bowls?|tongs|brush|spoons?|forks?|spatulas?"
    r"|utensils?|cutting board|chopping board|bag|container|basin|worktop|counter|tools)"
)
FLESH = (
    r"(?:meat|chicken|turkey|duck|poultry|birds?|pork|beef|lamb|veal|fish|salmon|prawns?|shrimps?|burgers?)"
)
ATE = r"(?:\w+ ){0,3}"
# "the platter that carried them out raw", "the board you used for the chicken", "the marinating dish"
HELD_RAW = regex(
    rf"\b{THING},? (?:still )?(?:that|which|you|where|they|it|used|[io]n which|from)"
    r"(?: [\w'’]+){0,6}?"
    rf" (?:raw|uncooked|marinat\w+|marinade"
    rf"|(?:for|held|carried|cut|touched|turned|under|sliced) (?:the )?(?:\w+ )?{FLESH})\b"
    rf"|\b(?:raw[- ]{FLESH}|marinating|marinade) {THING}\b"
    rf"|\b{THING},? (?:that |which )?(?:they|it|the \w+) (?:\w+ )?(?:came (?:from|off|out of)"
    rf"|lay (?:on|in)|lain (?:on|in)"
    r"|was (?:on|in)|were (?:on|in)|been (?:on|in)|sat (?:on|in)|waited (?:on|in)|marinated (?:on|in))"
)
UNWASHED = regex(
    rf"\b(?:un(?:washed|rinsed|wiped|cleaned|scrubbed)|dirty|soiled) {ATE}{THING}\b"
    rf"|\b{THING}\b[^.;]*\bun(?:washed|rinsed|wiped|cleaned)\b"
    rf"|\b(?:without|no need (?:to|for)|not bother(?: with| to)?|skip|(?:do not|don['’]t) (?:need|have) to)"
    rf" (?:wash|rins|clean|scrub|wip)\w* (?:or \w+ )?{ATE}(?:{THING}|hands)\b"
)
SAME = regex(
    rf"\b(?:the|that) same {ATE}(?P<same>{THING})\b"
    rf"|\bback {ATE}?(?:on|onto|in|into|to|over) (?:to )?(?:the|its|their|that) {ATE}?(?P<back>{THING})\b"
    rf"|\breturn {ATE}{ATE}to (?:the|its|their|that) {ATE}?(?P<to>{THING})\b"
)
JUICES = regex(rf"\b(?:raw|uncooked|{FLESH} juices|juices (?:of|from) the)\b")
CLEANS = regex(
    r"\b(?:clean(?:ed)?|wash\w*|rins\w*|scrub\w*|wip\w*|fresh|new|another|different|second|separate|discard\w*"
    r"|throw|bin|lin(?:e|ed|ing))\b"
)
DENIES = regex(r"\b(?:never|not|don['’]t|avoid|rather than|instead of|must n[o']t|no)\b")
USES = regex(
    r"\b(?:back|cooked|grilled|go|goes|put|use|used|using|reuse|slice|serve|carry|pile|return|stir|toss|between)\b"
)
HOT = frozenset({"bake", "roast", "broil", "smoke", "braise"})  # the tray or dish goes in with its food


@check(
    "raw-meets-ready",
    Severity.ERROR,
    why="What raw meat or fish leaves on a plate, a board or a knife is eaten with what is not cooked again.",
    source="FoodSafety.gov, four steps to food safety: separate; FDA Food Code 3-302.11 (memory)",
    remedy="put cooked food on a clean plate, and wash board, knife and hands after raw meat or fish",
    acceptable=False,
)
def raw_meets_ready(subject: Subject) -> Iterator[Query]:
    """Cooked food or salad on a plate, board or tool that touched raw meat, poultry or fish."""
    known = dish(subject.recipe, subject.larder)
    raw = [place for place in range(len(known.foods)) if _comes_raw(known, place)]
    if not raw:
        return
    for text in subject.fields:
        if text.name in {"title", "equipment", "yield", "ingredients"}:
            continue
        for begins, ends, _ in text.cuts:
            sentence = text.text[begins:ends]
            match = _found(subject, known, raw, text, begins, sentence.lower())
            if match is not None:
                words = sentence[slice(*match.span())]
                yield query(text.spot(words, begins), f"“{words}”: raw meat or fish was on it")
                return


def _comes_raw(known: Dish, place: int) -> bool:
    food = known.foods[place]
    return is_of(food.food, ANIMAL) and not food.ready and not known.line(place).for_use


def _found(
    subject: Subject, known: Dish, raw: list[int], text: Field, begins: int, sentence: str
) -> re.Match[str] | None:
    """The words by which one sentence has ready food touch what raw food touched."""
    unwashed = UNWASHED.search(sentence)
    if unwashed is not None and not DENIES.search(sentence, 0, unwashed.start()):
        return unwashed
    held = HELD_RAW.search(sentence)
    if held is not None and not _is_mended(sentence, held):
        if text.name == "steps":
            return held if _is_ready(subject, known, raw, text, begins + held.start()) else None
        return held if USES.search(sentence) else None
    same = SAME.search(sentence) if text.name == "steps" else None
    if same is None or _is_mended(sentence, same):
        return None
    at = begins + same.start()
    if not _is_ready(subject, known, raw, text, at):
        return None
    thing = next(filter(None, same.groups()))
    touched = JUICES.search(sentence) is not None or _lay_raw(subject, known, raw, text, at, thing)
    return same if touched else None


def _is_mended(sentence: str, match: re.Match[str]) -> bool:
    return CLEANS.search(sentence) is not None or DENIES.search(sentence, 0, match.end()) is not None


def _is_ready(subject: Subject, known: Dish, raw: list[int], text: Field, at: int) -> bool:
    """Whether what a sentence handles is eaten without being cooked again: cooked by now, or a salad."""
    step = text.number - 1
    cooked = [(event.step, event.end) for place in raw for event in _cooking(known, place)]
    if cooked and min(cooked) <= (step, at):
        return not any((step, at) < where for where in cooked)
    mine = (mention for mention in subject.mentions.by_step.get(step, ()) if mention.line not in raw)
    begins, ends = text.sentence_at(at)
    return any(begins <= mention.start < ends and known.is_raw(mention.line) for mention in mine)


def _cooking(known: Dish, place: int) -> Iterator[Event]:
    return (event for event in known.history(place).events if event.heat in (Heat.COOKED, Heat.PASTEURISED))


def _lay_raw(subject: Subject, known: Dish, raw: list[int], text: Field, at: int, thing: str) -> bool:
    """Whether raw food lay on such a thing, did not cook on it, and nobody washed it since."""
    events = [event for place in raw for event in _cooking(known, place)]
    first = min(((event.step, event.start) for event in events), default=None)
    if first is None or any(event.verb in HOT for event in events):
        return False
    word = re.compile(rf"\b{thing.rstrip('s')}")
    before = [
        clause for clause in known.histories.clauses if (clause.step, clause.start) < (text.number - 1, at)
    ]
    lay = [
        clause
        for clause in before
        if (clause.step, clause.start) < first
        and word.search(clause.text)
        and any(mention.line in raw for mention in subject.mentions.by_step.get(clause.step, ()))
    ]
    return bool(lay) and not any(
        CLEANS.search(clause.text) for clause in before if clause.start >= lay[0].start
    )


@check(
    "raw-poultry-washed",
    Severity.WARNING,
    why="Washing spreads what is on raw poultry over sink and salad; cooking kills it anyway.",
    source="FoodSafety.gov chart and CDC: do not wash raw meat or poultry",
    remedy="pat it dry with paper towels instead",
)
def raw_poultry_washed(subject: Subject) -> Iterator[Query]:
    """A step that rinses or washes raw poultry."""
    if not any(is_of(line.food, ("role:poultry",)) for line in subject.recipe.ingredients):
        return
    for step in subject.steps:
        for begins, ends, _ in step.cuts:
            match = WASHES.search(step.text, begins, ends)
            if match is not None and not UNDONE.search(step.text, begins, match.start()):
                yield query(step.spot(match.group()), f"“{match.group()}”")


BIRD = (
    r"(?:chickens?|birds?|turkeys?|ducks?|goose|geese|quails?|poussins?|hens?|thighs|breasts|wings|drumsticks"
    r"|legs|pieces|joints|cavity|giblets|carcass)"
)
WASHES = regex(
    rf"\b(?:rinse|wash) (?:and dry )?(?:(?:the|each|all|your|out) )?(?:\w+ ){{0,2}}?{BIRD}\b"
    rf"|\b(?:give|hold|run|put) (?:\w+ ){{0,3}}?{BIRD} (?:\w+ ){{0,3}}?(?:rinse|wash|running water|tap)\b",
    re.IGNORECASE,
)
UNDONE = regex(r"\b(?:not|never|don['’]t|without|no need to)\b[^,]*$", re.IGNORECASE)
