"""What is kept back and what is left: amounts in the running text held against the list."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from cardsmith.check.amounts.taken_by_steps import Taken, in_line, is_single, taken
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.sentences import Sentence
from cardsmith.check.subject import Subject
from cardsmith.check.wording import number
from cardsmith.facts.method.clauses import nouns as mixtures
from cardsmith.facts.method.heat import MEDIA
from cardsmith.finding import Severity
from cardsmith.frozen import frozen
from cardsmith.language.listing import listed
from cardsmith.language.spans import Draw, Kind
from cardsmith.measure.larder import words
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.mentions.mentions import How, Mention
from cardsmith.recipe.mentions.naming import descriptors
from cardsmith.recipe.model import Ingredient, Text
from cardsmith.regex import regex

NEAR = Fraction(5, 100)  # two figures this close are one; spoons beside grams are rounded
OWN = "the recipe's own figures"

_ASIDE = r"(?:aside|to one side)"
KEEPING = regex(
    rf"\b(?:set|setting|put|leave|push|keep) {_ASIDE}(?P<after>[^.;,]*)"
    rf"|\b(?:set|setting|put|leave|push|keep) (?P<within>[^.;,]{{1,60}}?) {_ASIDE}\b"
    r"|\b(?:keep|keeping|hold|holding) (?P<held>[^.;,]{1,60}?) back\b"
    r"|\b(?:reserve|reserving|hold back|holding back|keep back|keeping back"
    r"|sav(?:e|ing)(?= (?:the|a|an|half|some|about)\b)) (?P<kept>[^.;,]*)",
    re.IGNORECASE,
)
BYSTANDERS = frozenset(words("child children pet cat dog guest face hand arm sleeve hair"))
PASTIME = regex(r"(?:for|until|till|to|while|overnight)\b", re.IGNORECASE)
READYING = regex(  # what leaves a food what it is
    r"\b(?:toast|brown|drain|rinse|chop|slice|peel|grate|crush|fry|cook|roast|boil|halve|pit|dice)\b",
    re.IGNORECASE,
)
FOR_WHAT = regex(r"for (?:(?:the|a|an|your|some) )?(?P<what>[a-z]{3,})\s*[.;]?$", re.IGNORECASE)
GARNISH = regex(r"\b(?:tops?|topping|garnish\w*|finish\w*|serv\w*|decorat\w*|dust\w*|brush\w*|sauce|later)\b")
FOR_LATER = regex(
    r"\b(?:for|to|until) (?:another|something else|other (?:uses?|things)|serving|serve|later|garnish|decorat"
    r"|future|tomorrow|stock|soup|the table|next)",
    re.IGNORECASE,
)
REST = regex(r"\b(?:the )?(?:rest|remainder|remaining|other half|leftovers?)\b", re.IGNORECASE)
TAKEN_UP = regex(
    r"\b(?:reserved?|set[- ]aside|saved|kept back|remaining|(?<!drain )(?<!discard )the rest|remainder"
    r"|left ?over|mixture|everything(?! else)|dry ingredients|wet ingredients|other half|second half"
    r"|all (?:of|the|other|together|this|that|these|but))\b",
    re.IGNORECASE,
)
OF_WHAT = regex(
    r"\b(?:half|third|quarter|some|most|part)(?: of)?(?: the)? (?P<what>[\w -]{3,40}?)"
    r"(?= (?:and|over|into|in|on|with|to|for)\b|[,.;]|$)",
    re.IGNORECASE,
)
MIXES = regex(r"\b(?:mix|whisk|stir|combine|blend|beat|mash|grind|toss)\b", re.IGNORECASE)
LIQUIDS = frozenset(words("liquid water juice broth stock brine syrup milk"))
REMAINING = regex(
    r"\b(?:the )?(?:remaining|rest of(?: the)?|remainder of(?: the)?|leftover|left-over)\s+(?:\w+\s+){0,2}$",
    re.IGNORECASE,
)


def _nouns(text: str) -> set[str]:
    """Words that name something."""
    small = set(
        words("the of a an and or in with for to into from it them half third quarter rest remaining few")
        + words("both all these they each everything")
    )
    return {word for word in words(text) if word.isalpha()} - small - descriptors()


@check(
    "set-aside-never-used",
    Severity.ERROR,
    why="The cook finds a bowl of it on the counter when the dish is on the table.",
    source=PRACTICE,
    remedy="say in a later step where it goes",
)
def set_aside_never_used(subject: Subject) -> Iterator[Query]:
    """Something set aside that no later sentence takes up; a warning where no list knows it by that name."""
    all_sentences = subject.sentences
    for place, sentence in enumerate(all_sentences):
        match = KEEPING.search(sentence.text)
        if match is None or FOR_LATER.search(sentence.text):
            continue
        following = " ".join(other.text for other in all_sentences[place + 1 :])
        later = f"{sentence.text[match.end() :]} {following}"
        kept = _kept(subject, sentence, match)
        if not kept or TAKEN_UP.search(following if kept & LIQUIDS else later):  # drain the rest
            continue
        sought = kept | LIQUIDS if kept & LIQUIDS else kept
        if not sought & set(words(later)) and not _comes_again(subject, sentence, kept):
            saved = _named(sentence, match, kept)
            what = f"step {sentence.number} has {saved} set aside, and no later step uses it"
            mixed = MIXES.search(sentence.text[: match.start()]) and _spoken(subject, sentence)
            sure = REST.search(match.group()) or _listed(subject, kept) or mixed
            yield query(sentence.spot(*match.span()), what, severity=None if sure else Severity.WARNING)


def _listed(subject: Subject, kept: set[str]) -> bool:
    """Whether the lists know what is kept back."""
    return any(kept & set(words(line.item)) for line in subject.recipe.ingredients)


def _thing(match: re.Match[str]) -> str:
    """What is set aside, as the sentence says it; empty in "set aside on a plate"."""
    thing = (match["after"] or match["within"] or match["held"] or match["kept"] or "").strip()
    return "" if re.match(r"(?:in|at|on|and)\b", thing) else thing


def _kept(subject: Subject, sentence: Sentence, match: re.Match[str]) -> set[str]:
    """Words of what is kept back; where the sentence does not say, the one food that it readies."""
    thing = _thing(match)
    if PASTIME.match(thing) or not BYSTANDERS.isdisjoint(words(thing)):
        return set()  # "set aside to rest", "keep children well back"
    nouns = _nouns(thing) - _nouns("bowl plate side dish pan")
    after = sentence.text[match.end() :].strip()
    if PASTIME.match(after) and nouns and nouns <= mixtures("mixture"):
        return set()  # "set the dough aside for an hour"
    if _is_for_another(subject, after):
        return set()
    if nouns and not REST.search(thing):
        return nouns
    before = sentence.text[: match.start()]
    whole = OF_WHAT.search(before)
    if whole:
        return _nouns(whole["what"])
    poured = set(words(before.rstrip(", ").rpartition(" ")[2])) & LIQUIDS
    if poured and thing in ("it", "this"):
        return poured  # scoop out a cup of the water, set it aside
    names = [
        sentence.step.text[mention.start : mention.end]
        for mention in _spoken(subject, sentence)
        if mention.start < sentence.start + match.start()
    ]
    if not before.strip() and not names:  # "Fry the mushrooms. Set aside."
        earlier = [
            other
            for other in subject.sentences
            if other.step is sentence.step and other.end <= sentence.start
        ]
        return _sole(subject, earlier[-1]) if earlier else set()
    sole = len(set(names)) == 1 and READYING.search(sentence.text)
    return _nouns(names[0]) if sole else set()


def _sole(subject: Subject, sentence: Sentence) -> set[str]:
    """The one food that a sentence fries or toasts, in whatever fat; empty where it takes more."""
    lines = subject.recipe.ingredients
    foods = [place for place in _spoken(subject, sentence) if not is_of(lines[place.line].food, MEDIA)]
    names = {sentence.step.text[place.start : place.end] for place in foods}
    returns = any(RETURNS.search(step.text) for step in subject.steps[sentence.number - 1 :])
    return (
        _nouns(names.pop()) if len(names) == 1 and READYING.search(sentence.text) and not returns else set()
    )


RETURNS = regex(r"\b(?:return|back|again)\b", re.IGNORECASE)


def _is_for_another(subject: Subject, after: str) -> bool:
    """Whether it is kept for a dish that the recipe speaks of nowhere else: "aside for meringues"."""
    match = FOR_WHAT.match(after)
    wanted = set(words(match["what"])) if match else set()
    dish_words = words(" ".join([subject.recipe.title, *(step.text for step in subject.steps)]))
    return (
        bool(wanted)
        and sum(word in wanted for word in dish_words) == len(wanted)
        and not GARNISH.search(after)
    )


def _spoken(subject: Subject, sentence: Sentence) -> tuple[Mention, ...]:
    """The foods a sentence speaks of."""
    return tuple(
        mention
        for mention in subject.mentions.by_step.get(sentence.number - 1, ())
        if mention.how is not How.CUE and sentence.start <= mention.start < sentence.end
    )


def _comes_again(subject: Subject, sentence: Sentence, kept: set[str]) -> bool:
    """Whether a later step speaks of the same lines by another word: the fruit, the dry ingredients."""
    text = sentence.step.text
    lines = {
        mention.line
        for mention in _spoken(subject, sentence)
        if kept & set(words(text[mention.start : mention.end]))
    }
    return any(
        mention.line in lines and mention.step >= sentence.number and mention.how is not How.CUE
        for mention in subject.mentions.found
    )


def _named(sentence: Sentence, match: re.Match[str], kept: set[str]) -> str:
    """What a query calls it: the rest of the hot liquid."""
    whole = OF_WHAT.search(sentence.text[: match.start()])
    thing = _thing(match)
    if whole and REST.search(thing):
        return f"{thing} of the {whole['what']}"
    return listed(sorted(kept), "and") if thing in ("", "it", "this") else thing


@frozen
class RestTaken:
    """A step takes what is left of a line, in plain words."""

    line: Ingredient
    taken: Taken
    place: Text
    begins: int  # where its words begin in the step
    before: tuple[Taken, ...]

    @property
    def figure(self) -> bool:
        """Whether the words that take it say how much is left: "the remaining 20 g sugar"."""
        return self.taken.step.says_how_much(self.begins, self.taken.mention.start)

    @property
    def drawn(self) -> tuple[Fraction, Fraction] | None:
        """What the steps before take, and the whole line; None where one of them does not say."""
        pairs = [in_line(self.line, use.amount) if use.amount else None for use in self.before]
        known = [pair for pair in pairs if pair]
        if not known or len(known) < len(pairs):
            return None
        return sum((pair[0] for pair in known), Fraction(0)), known[0][1]


def _rests(subject: Subject) -> Iterator[RestTaken]:
    """The first rest of each line that no link draws from."""
    for place, line in enumerate(subject.recipe.ingredients):
        if line.key or line.for_use or line.amount is None or any(extra.added for extra in line.extras):
            continue  # what it adds for uses of its own may be what remains
        uses = taken(subject, place)
        for position, use in enumerate(uses):
            rest = REMAINING.search(use.before)
            if rest and is_single(subject, use):
                spot = use.step.spot(f"{rest.group().strip()} {use.name}")
                before = tuple(other for other in uses[:position] if other.before != use.before)
                begins = use.begins + rest.start()
                yield RestTaken(line=line, taken=use, place=spot, begins=begins, before=before)
                break


@check(
    "remaining-of-nothing",
    Severity.WARNING,
    why="A rest that no step has left makes the cook wonder what was done wrong.",
    source=PRACTICE,
    remedy="say how much goes in before: give the line a key, draw [50 g](#sugar), then [the rest](#sugar)",
)
def remaining_of_nothing(subject: Subject) -> Iterator[Query]:
    """A step uses the remaining sugar, or reserved water, and no earlier step used a part, or kept any."""
    yield from _never_reserved(subject)
    for rest in _rests(subject):
        what = f"step {rest.taken.number} uses “{rest.place.text}”"
        drawn, item = rest.drawn, rest.line.item
        if not rest.before:
            yield query(rest.place, f"{what}, and no step before uses any {item}")
        elif drawn and drawn[0] >= drawn[1] * (1 - NEAR) and not _comes_out(rest):
            all_of_it = f"{what}, and the steps before take all of “{rest.line.text}”"
            yield query(rest.place, all_of_it, severity=Severity.ERROR)
        elif not rest.line.divided and not any(
            use.is_part or _keeps_some(subject, use) for use in rest.before
        ):
            first = rest.before[0].number
            yield query(rest.place, f"{what}; step {first} uses the {item}, all of it by this text")


def _keeps_some(subject: Subject, use: Taken) -> bool:
    """Whether the words behind one use of a line keep some of it back, in its own step."""
    if KEPT_BACK.search(use.step.text, use.mention.end) is not None:
        return True
    kept = KEEPS.search(use.step.text, use.mention.end)
    return kept is not None and bool(use.step.measures(Kind.AMOUNT, start=kept.end()))


KEPT_BACK = regex(
    r"\b(?:keep(?:ing)? back|hold(?:ing)? back|reserv(?:e|ing)|sav(?:e|ing)|set(?:ting)? aside|leav(?:e|ing))"
    r" (?:a few|some|a little|a handful|a spoonful|about|half|a third|a quarter)\b",
    re.IGNORECASE,
)
RESERVED = regex(r"\b(?:reserved|set-aside|saved|kept-back) (?P<what>[a-z][a-z' -]*)", re.IGNORECASE)
_PHRASE_ENDS = regex(
    r"\s(?:and|or|over|in|into|to|with|on|onto|for|from|until|if|then|at|by|as|back|a|an|the|is|are)\b.*",
    re.IGNORECASE,
)
_KEEPS = r"\b(?:reserv\w*|aside|sav(?:e|ed|ing)|keep\w*|kept|hold(?:ing)? back|put by|spare)\b"
KEEPS = regex(_KEEPS, re.IGNORECASE)
KEEPS_SOME = regex(
    rf"{_KEEPS}|\b(?:drain|strain|squeeze|press)\w*\b[^.;]*\b(?:bowl|jug|saucepan|pan|basin)\b", re.IGNORECASE
)
POURED_AWAY = LIQUIDS | frozenset(words("fat dripping marinade whey oil"))  # gone unless somebody keeps it
PARTS_OFF = regex(
    r"\b(?:scoop|ladle|dip|lift|remove|transfer|take|pour|strain|spoon|tip|cut|pick|separate|divide|squeeze|half"
    r"|third|quarter|some|most|all but|rest|remaining|part|bowl|jug|measur\w+)\b",
    re.I,
)


def _never_reserved(subject: Subject) -> Iterator[Query]:
    """A liquid or fat that a step calls reserved, though no sentence before keeps any, or parts it off."""
    kept = any(KEEPS.search(f"{line.text} {line.prep}") for line in subject.recipe.ingredients)
    before: list[str] = []
    for sentence in subject.sentences:
        match = RESERVED.search(sentence.text)
        named = _PHRASE_ENDS.sub("", match.group()).strip() if match else ""
        what = (words(named) or ("",))[-1]
        if match is not None and what in POURED_AWAY and not kept:
            so_far = [*before, sentence.text[: match.start()]]
            sought = LIQUIDS if what in LIQUIDS else {what}
            parted = any(PARTS_OFF.search(text) and sought & set(words(text)) for text in so_far)
            if not parted and not any(map(KEEPS_SOME.search, so_far)):
                yield query(
                    sentence.spot(*match.span()),
                    f"step {sentence.number} uses “{named}”, and no step before keeps any",
                    f"say in an earlier step to set the {what} aside",
                )
        before.append(sentence.text)


def _comes_out(rest: RestTaken) -> bool:
    """Whether a step says how much is left and is right, however little it is: 20 g of 470 g."""
    quantity = rest.taken.amount if rest.figure else None
    pair = in_line(rest.line, quantity) if quantity else None
    if pair is None or rest.drawn is None:
        return False
    left = rest.drawn[1] - rest.drawn[0]
    return left > 0 and abs(left - pair[0]) <= pair[0] * NEAR


@check(
    "remaining-disagrees",
    Severity.ERROR,
    why="Some of it is left on the bench at the end, or it runs out.",
    source=OWN,
    remedy="mend the amount in the list, or those of the steps",
)
def remaining_disagrees(subject: Subject) -> Iterator[Query]:
    """The remaining 50 g of butter, where the list and the steps before leave 100 g."""
    for rest in _rests(subject):
        drawn, quantity = rest.drawn, rest.taken.amount
        pair = in_line(rest.line, quantity) if quantity and rest.figure else None
        if drawn is None or quantity is None or pair is None or drawn[1] != pair[1]:
            continue
        left = drawn[1] - drawn[0]
        if left > 0 and abs(left - pair[0]) > drawn[1] * NEAR:
            yield query(
                rest.place,
                f"step {rest.taken.number} takes the remaining {quantity.written} of the {rest.line.item}; "
                f"{_left(rest, left)} is left of “{rest.line.text}”",
            )


@check(
    "remaining-unstated",
    Severity.NOTE,
    why="A cook who weighs wants the figure, and a figure shows whether the sums come out.",
    source=OWN,
    remedy="give the line a key and draw from it, so that the card prints the amount",
)
def remaining_unstated(subject: Subject) -> Iterator[Query]:
    """The remaining sugar, where the steps before say how much they take: the sum, as a query."""
    for rest in _rests(subject):
        drawn = rest.drawn
        if rest.figure:
            continue  # stated, and checked against the list elsewhere
        if drawn and drawn[0] < drawn[1] * (1 - NEAR):
            left = _left(rest, drawn[1] - drawn[0])
            what = f"step {rest.taken.number} uses “{rest.place.text}”: {left} by this list; is that right?"
            yield query(rest.place, what)


def _left(rest: RestTaken, left: Fraction) -> str:
    """What is left, in the unit of the first amount taken."""
    unit = next(use.amount.unit for use in rest.before if use.amount)
    return f"{number(unit.from_base(left))} {unit.symbol}"


@check(
    "divided-needless",
    Severity.NOTE,
    why="“Divided” sends the cook looking for the second use.",
    source=PRACTICE,
    remedy="take “divided” out of the line, or say in a step how much goes in",
)
def divided_needless(subject: Subject) -> Iterator[Query]:
    """A line marked divided that the steps use only once."""
    for place, line in enumerate(subject.recipe.ingredients):
        draws = [
            span
            for step in subject.recipe.steps
            for span in step.spans
            if isinstance(span, Draw) and line.key and span.key == line.key
        ]
        uses = taken(subject, place)
        if line.divided and len(draws) < 2 and len({use.mention.start for use in uses}) == 1:
            each = re.search(r"\b(?:each|batches|additions|both|halves)\b", uses[0].before + uses[0].after)
            counted = uses[0].step.told(Kind.COUNT, uses[0].begins, uses[0].ends)
            if not each and not any(figure.high > 1 for _, figure in counted):
                yield query(
                    line,
                    f"the {line.item} is marked divided, and only step {uses[0].number} uses it",
                )
