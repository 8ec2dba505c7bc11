"""What a line says of yield, times and maker: "Makes 12 dumplings, serves 4", "Active: 30 min"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import accumulate, groupby

from cardsmith.draft.lines import Sort
from cardsmith.draft.sorting.readings import has_figure, is_unit
from cardsmith.draft.sorting.words import deed_of, kind_words, label_of, said_by, says, words_in
from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.figures.bounds import bound_before
from cardsmith.language.figures.list_marks import sentence_starts
from cardsmith.language.figures.numbers import NUMBER_WORDS, Form, number_at
from cardsmith.language.quantities import read_quantity
from cardsmith.language.tokens import DASHES, tokenize
from cardsmith.measure.units import Dimension
from cardsmith.regex import regex

_BETWEEN = regex(r"\s*[|·•;]\s*|\s+/\s+|\t+|\s{3,}")
_BEHIND_TITLE = regex(r"\s*[,:|]\s+|\s+(?:[-–—]+|/|\|)\s+|\s+\(|\s{3,}")
_COMMA = regex(r",\s*(?:and\s+)?|\.\s+|\s+-\s+")
LONGEST = 200  # characters of a line of facts
MOST_EATERS = 10  # words of "serves 4 as a main dish with bread, 6 as a side"
MOST_PIECES = 12
SHORT = 4
LONGEST_LABEL = 4  # words of a label without a colon
RANGES = DASHES | {"to", "or"}
_LINKS = frozenset(("and", "&", "of", "the", "for"))
_SIZES = frozenset("small medium large big generous hungry".split())
_TIMES = ("active", "total", "prep", "cook", "other time")
_OF_FACTS = frozenset({*_TIMES, "makes", "serves", "piece", "other yield"})
_PLUS = regex(r"\s+(?:plus|and)\s+|\s*\+\s*")
_WITH = regex(r",?\s+(?:with|including|incl\.?|if|depending|mostly)\s+")  # it says more of the same time
MASS, VOLUME = Dimension.MASS, Dimension.VOLUME
NOWHERE = Where(file="")


@frozen
class Fact:
    """One thing that a line says, for a key of the recipe."""

    sort: Sort
    key: str  # makes, serves, piece, active, total, prep, cook, credit; empty where a recipe has none for it
    text: str  # its value, in the author's words
    lead: str  # the words that say what it is


@lru_cache(maxsize=1 << 11)
def facts_of(text: str) -> tuple[Fact, ...]:
    """The facts of a line that says nothing else; none of any other line.

    >>> [(fact.key, fact.text) for fact in facts_of("Makes 12 dumplings, serves 4")]
    [('makes', '12 dumplings'), ('serves', '4')]
    >>> [(fact.key, fact.text) for fact in facts_of("Prep: 20 mins | Cook: 1 hr")]
    [('active', '20 mins'), ('cook', '1 hr')]
    >>> facts_of("Makes: 1 cake (about 31 oz / 880 g)")[0].text
    '1 cake (about 31 oz / 880 g)'
    >>> [(fact.key, fact.text) for fact in facts_of("16 dumplings, for 4 hungry people")]
    [('makes', '16 dumplings'), ('serves', '4 hungry people')]
    >>> facts_of("Serve 4 slices each."), facts_of("4 chicken portions"), facts_of("For two")[0].text
    ((), (), 'two')
    """
    if len(text) > LONGEST:
        return ()
    text = text.replace("**", "").replace("__", "")
    if text.startswith("(") and text.find(")") == len(text) - 1 and (inner := facts_of(text[1:-1])):
        return inner
    label = label_of(text)
    total = label is not None and label.opens == "total" and label.colon
    if label and total and len(several := facts_of(label.rest)) > 1:  # "How long: 20 min prep, 1 h in all"
        return (replace(several[0], lead=f"{label.label} {several[0].lead}"), *several[1:])
    for pieces in (_cut_at_commas(text), _pieces_between(text)):
        texts = [piece.strip() for piece in pieces if piece.strip()]
        facts = [fact for piece in texts if (fact := _fact(piece))]
        if len(facts) == 1 and len(texts) == 2 and (size := _size_of_batch(texts[0])):
            return (size, *facts)
        if facts and len(facts) == len(texts) and not all(map(_is_done, texts, facts)):
            return tuple(_as_one(facts))
    return _dish_and_pieces(text)


def _size_of_batch(text: str) -> Fact | None:
    """How much it makes by its size, where a time follows: "About 2 cups. 10 min."."""
    value = _without_stop(text)
    tokens = tokenize(value)
    place = bound_before(tokens, 0)[1]
    quantity = read_quantity(value[tokens[place].start :], NOWHERE)[0] if place < len(tokens) else None
    if quantity is None or quantity.dimension not in (MASS, VOLUME):
        return None
    return Fact(sort=Sort.YIELD, key="makes", text=value, lead="")


def _is_done(piece: str, fact: Fact) -> bool:
    """Whether a time may be that of a step: "Bake 20 minutes" among times is one of them, alone a step."""
    return fact.lead.isalpha() and ":" not in piece and bool(deed_of(piece))


def _as_one(read: Sequence[Fact]) -> Iterator[Fact]:
    """Facts with what two of them say of one yield or time together: "Makes a 20 cm tart, 8 slices"."""
    for key, facts in groupby(read, lambda fact: fact.key):
        first, *others = facts
        joined = ", ".join((first.text, *(fact.text for fact in others)))
        is_one = key == "makes" or not any(fact.lead for fact in others)  # "Time: 1 h, 30 min"
        yield from (replace(first, text=joined),) if is_one else (first, *others)


def _dish_and_pieces(text: str) -> tuple[Fact, ...]:
    """ "16 dumplings, for 4 people"; "One 20 cm cake, 10 slices" and "1 loaf, 900 g", which are one yield."""
    cut = _COMMA.search(text)
    if cut is None:
        return ()
    head, rest = text[: cut.start()], text[cut.end() :].strip()
    tail, weight = _fact(rest), read_quantity(_without_stop(rest), NOWHERE)[0]
    noun = _noun_counted(head)
    dish = noun in kind_words() | said_by("pieces of a dish") and head.endswith(noun)
    if dish and weight and weight.dimension is MASS:
        return (Fact(sort=Sort.YIELD, key="makes", text=_without_stop(text), lead=""),)
    if tail is None or tail.sort is not Sort.YIELD:
        return ()
    quantity, _ = read_quantity(head, NOWHERE)
    if number_at(tokenize(head), 0) is None or (quantity and quantity.dimension in (MASS, VOLUME)):
        return ()
    if tail.key == "serves" and len(words_in(head)) <= SHORT:
        return Fact(sort=Sort.YIELD, key="makes", text=head, lead=""), tail
    dish = words_in(head)[-1] in kind_words() and len(words_in(head)) <= SHORT + 1
    return (Fact(sort=Sort.YIELD, key="makes", text=_without_stop(text), lead=""),) if dish else ()


def dish_and_yield(text: str) -> tuple[str, str] | None:
    """A title and how much the dish makes or feeds, which stand in one line.

    >>> dish_and_yield("HONEY TART -- makes 1 tart, 8 slices"), dish_and_yield("Bread (serves 4)")
    (('HONEY TART', 'makes 1 tart, 8 slices'), ('Bread', 'serves 4'))
    >>> dish_and_yield("Serves 4 (or 6)"), dish_and_yield("Toast, for 4 minutes")
    (None, None)
    """
    for cut in _outside(_BEHIND_TITLE, text):
        head, rest = text[: cut.start()].strip(), text[cut.end() :].strip()
        if cut[0].strip() == "(":
            rest = rest.removesuffix(")") if rest.count(")") == 1 and rest.endswith(")") else ""
        facts = facts_of(rest) if rest and _may_be_dish(head) else ()
        yields = (fact for fact in facts if fact.sort is Sort.YIELD)
        if any(fact.lead or fact.key == "serves" for fact in yields) and not head.endswith("."):
            return head, rest
    return None


def _may_be_dish(text: str) -> bool:
    """Whether a text may be a title: it begins with no figure and is no label and no fact."""
    label = label_of(text)
    other = label is not None and not (label.opens == "title" and label.rest)
    return bool(text) and not text[0].isnumeric() and not other and not facts_of(text)


def _cut_at_commas(text: str) -> tuple[str, ...]:
    """The pieces of a text between commas, each of which begins with what it is about."""
    cuts = [cut for cut in _outside(_COMMA, text) if _fact(text[cut.end() :].strip()) is not None]
    return tuple(piece for outer in _cut(text, cuts) for piece in _pieces_between(outer))


def _pieces_between(text: str) -> tuple[str, ...]:
    pieces = _cut(text, _outside(_BETWEEN, text))
    return tuple(fact_text for piece in pieces for fact_text in _at_labels(piece))


def _at_labels(text: str) -> Iterator[str]:
    """The pieces of a text that each begin with a label: "Makes: 24 Prep time: 15 minutes"."""
    *heads, last = text.split(":")
    piece = ""
    for head in heads:
        words = head.split()
        counts = range(min(LONGEST_LABEL, len(words)), 0, -1)
        labels = ((count, label_of(" ".join(words[-count:]))) for count in counts)
        count = next((count for count, label in labels if label and label.opens in _OF_FACTS), 0)
        if piece and 0 < count < len(words):
            yield f"{piece}:{' '.join(words[:-count])}"
            piece = " ".join(words[-count:])
        else:
            piece = f"{piece}:{head}" if piece else head
    yield f"{piece}:{last}" if heads else last


def _outside(pattern: re.Pattern[str], text: str) -> list[re.Match[str]]:
    """Where a pattern matches outside brackets."""
    depths = accumulate((character == "(") - (character == ")") for character in text)
    inside = {at for at, depth in enumerate(depths) if depth > 0}
    return [match for match in pattern.finditer(text) if match.start() not in inside]


def _cut(text: str, cuts: Sequence[re.Match[str]]) -> tuple[str, ...]:
    starts, ends = [0, *(cut.end() for cut in cuts)], [*(cut.start() for cut in cuts), len(text)]
    return tuple(text[start:end] for start, end in zip(starts, ends, strict=True))


def _fact(text: str) -> Fact | None:
    label = label_of(text)
    if label is not None and label.rest and label.colon:
        return _labelled(label.opens, label.label, label.rest)
    if says(text, "grade"):
        return Fact(sort=Sort.YIELD, key="", text=text, lead="")  # easy; no card says so
    return _told_by_label(text) or _eaters(text) or _pieces(text) or _bare(text) or _source(text)


def _labelled(opens: str, label: str, rest: str) -> Fact | None:
    value = _without_stop(rest)
    if opens in _TIMES:
        return _timed("" if opens == "other time" else opens, value, label)
    if opens in ("makes", "serves"):
        if lead := says(value, "eaters"):
            return _counted("serves", value, lead, MOST_EATERS)
        key = "serves" if opens == "makes" and _are_eaters(value) else opens
        return _counted(key, value, "", MOST_PIECES, label)
    if opens in ("piece", "other yield"):
        return Fact(sort=Sort.YIELD, key="piece" if opens == "piece" else "", text=value, lead=label)
    return None


def _are_eaters(text: str) -> bool:
    """Whether a yield is told in people: "6 servings"."""
    return bool(set(words_in(text)[1:4]) & said_by("people"))


def _eaters(text: str) -> Fact | None:
    lead = says(text, "eaters")
    if lead in ("serve", "serving") and not text.lower().startswith("serving "):
        return None
    fact = _counted("serves", text, lead, MOST_EATERS) if lead else None
    if fact is not None and lead.endswith("for") and _unit_behind(fact.text.partition(",")[0]):
        pieces = _bare(fact.text)  # "for 6 slices"
        return replace(pieces, lead=lead) if pieces is not None and pieces.key == "makes" else None
    return fact


def _unit_behind(text: str) -> bool:
    """Whether a number measures something: "for 20 minutes" feeds nobody, nor does "for 1 loaf"."""
    quantity, _ = read_quantity(text, NOWHERE)
    text_words = set(words_in(text)[1:])
    return (quantity is not None and quantity.dimension is not Dimension.COUNT) or bool(
        text_words - said_by("people") - NUMBER_WORDS - set("to or hungry as a main side starter".split())
    )


def _pieces(text: str) -> Fact | None:
    lead = says(text, "pieces")
    if not lead or lead in ("approx", "about", "make"):
        return None
    fact = _counted("makes", text, lead, MOST_PIECES)
    return replace(fact, key="serves") if fact is not None and _are_eaters(fact.text) else fact


def _counted(key: str, text: str, lead: str, most: int, label: str = "") -> Fact | None:
    """A yield: the words that lead, a number, and little else."""
    value = _without_stop(text[len(lead) :].lstrip(" :"))
    tokens = tokenize(value)
    place = bound_before(tokens, 0)[1]
    number = number_at(tokens, place) or number_at(tokens, 0)
    if number is None or (number.form is Form.ARTICLE and key == "serves") or len(words_in(value)) > most:
        return None
    if len(sentence_starts(value)) > 1:
        return None
    return Fact(sort=Sort.YIELD, key=key, text=value, lead=label or text[: len(lead)].strip())


def _told_by_label(text: str) -> Fact | None:
    """ "Takes 2 h 30 min", "Amount in one serving 2 fritters": a label without a colon."""
    text_words = text.split()
    for count in range(min(LONGEST_LABEL, len(text_words) - 1), 0, -1):
        label = label_of(" ".join(text_words[:count]))
        value = " ".join(text_words[count:])
        if label is None:
            continue
        if label.opens in _TIMES or (label.opens == "other yield" and any(map(str.isnumeric, value))):
            return _labelled(label.opens, label.label, value)
    for count in range(min(LONGEST_LABEL, len(text_words) - 1), 0, -1):
        label = label_of(" ".join(text_words[-count:]))
        value = " ".join(text_words[:-count]).rstrip("'’")
        if label is not None and label.opens in _TIMES and _is_time(value):  # "20 mins' work", "1 h in all"
            return _labelled(label.opens, label.label, value)
    return None


def _bare(text: str) -> Fact | None:
    """ "4 portions as a main", "(2 hungry people)", "about 5 jars", "30 mins plus baking"."""
    bare = text.removeprefix("(").removesuffix(")") if text.startswith("(") and text.endswith(")") else text
    noun = _noun_counted(bare)
    if noun in said_by("people"):
        return _counted("serves", bare, "", MOST_EATERS)
    text_words = bare.rstrip(".").split()
    if (
        len(text_words) > 2
        and text_words[-1] in said_by("pieces of a dish")
        and all(map(is_unit, text_words[1:-1]))
    ):
        noun = text_words[-1]  # "one quart jar"
    if noun in said_by("pieces of a dish") and bare.rstrip(".").endswith(noun):
        return _counted("makes", bare, "", SHORT)
    return _timed("total", bare, "")


def _noun_counted(text: str) -> str:
    """What a number at the head of a text counts: "4 hungry people" people, "4 chicken pieces" chicken."""
    tokens = tokenize(text)
    number = number_at(tokens, bound_before(tokens, 0)[1])
    while number and tokens[number.end].low in RANGES and (higher := number_at(tokens, number.end + 1)):
        number = higher
    behind = words_in(text[tokens[number.end].start :]) if number and number.end < len(tokens) else ()
    return next((word for word in behind if word not in _SIZES), "")


def _timed(key: str, text: str, lead: str) -> Fact | None:
    """A time; one with more behind it, "20 min plus chilling", is no total but what is worked."""
    value = _without_stop(text)
    whole, _, remark = _WITH.split(value)[0].partition(", ")  # "Time: 1 h 30, most of it waiting"
    whole = value if remark and (has_figure(remark) or not lead) else whole
    if _is_time(whole):
        return Fact(sort=Sort.TIME, key=key, text=whole, lead=lead)
    head = _PLUS.split(value)[0]
    if head == value or not _is_time(head):
        return None
    worked = "" if lead else "active"
    return Fact(sort=Sort.TIME, key=worked if key == "total" else key, text=head, lead=lead)


def _is_time(text: str) -> bool:
    """Whether all of a text is a time, with a word such as "about" or not."""
    quantity, _ = read_quantity(text, NOWHERE)
    if quantity is None:
        tokens = tokenize(text)
        place = bound_before(tokens, 0)[1]
        quantity, _ = read_quantity(text[tokens[place].start :] if place < len(tokens) else "", NOWHERE)
    return quantity is not None and quantity.dimension is Dimension.DURATION


def _source(text: str) -> Fact | None:
    """Whose it is, and nothing else: "By H. Tarn", "Adapted from the notebook of Y. Corre"."""
    for what in ("maker", "source"):
        lead = says(text, what)
        name = text if what == "source" else text[len(lead) :].strip()
        words = text[len(lead) :].split()
        named = (word[:1].isupper() or word in _LINKS for word in words)
        whole = all(named) and len(words) <= 5 if what == "maker" else any(named) and len(words) <= 10
        if lead and words and whole and not any(map(str.isdigit, name)):
            return Fact(sort=Sort.CREDIT, key="credit", text=_name(name), lead=text[: len(lead)])
    return None


def _name(text: str) -> str:
    return text if text.endswith(".") and len(text.rsplit(maxsplit=1)[-1]) <= 3 else text.rstrip(".")


def _without_stop(text: str) -> str:
    """A value without the stop of its sentence; that of an abbreviation stays."""
    bare = text.strip()
    if not bare.endswith("."):
        return bare
    last = bare.split()[-1]
    whole, _ = read_quantity(bare, NOWHERE)
    return bare if whole is not None and len(last) <= 5 else bare[:-1].rstrip()
