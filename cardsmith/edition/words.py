"""Words of one edition in place of another's: by table, in the number and with the article that stand there.

    >>> british = Wording.of((("zucchini", "courgette"), ("eggplant", "aubergine"), ("shrimp", "prawns")))
    >>> british.told("Slice a zucchini. Zucchini and eggplants go with the shrimp.")[0]
    'Slice a courgette. Courgette and aubergines go with the prawns.'
    >>> british.told("Fry an eggplant, then `eggplant` as it stands.")
    ('Fry an aubergine, then `eggplant` as it stands.', (('eggplant', 'aubergine'),))
    >>> Wording.of((("colored", "coloured"),)).told("a lemon-colored cream")[0]
    'a lemon-coloured cream'
    >>> Wording.of((("Dutch oven", "casserole"),)).told("Dutch oven lids. Use a Dutch oven.")[0]
    'Casserole lids. Use a casserole.'

The longest phrase wins. What stands between backticks and the target of a link are left alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field
from itertools import pairwise

from cardsmith.frozen import frozen
from cardsmith.language.declension import many
from cardsmith.language.declension import one as one_of
from cardsmith.regex import regex

Change = tuple[str, str]  # what stood there, and what stands there now
VOWELS = "aeiou"
# Words that a title leaves without a capital (common practice, no source).
LITTLE = frozenset("a an and as at by for from in of on or over the to under with without".split())
_WORD = regex(r"\w+(?:[’'-]\w+)*(?:(?<=s)[’'](?=\s\w))?")
_ARTICLE = regex(r"\b(a|an)(?=\s$)", re.IGNORECASE)
_LONGEST_ARTICLE = len("an \n")
_SENTENCE_END = regex(r"[.!?][”’\"']?\s+$")
_KEPT = regex(r"(`[^`]*`|\]\(#[^)]*\))")


@frozen
class Edit:
    """What stands in place of the characters from ``start`` to ``end`` of a text."""

    start: int
    end: int
    told: str
    change: Change


@frozen
class Wording:
    """Phrases with what stands in their place, by the first word of each."""

    phrases: Mapping[str, tuple[tuple[tuple[str, ...], str], ...]] = field(default_factory=dict)
    proper: frozenset[tuple[str, ...]] = frozenset()  # those that have a capital wherever they stand
    parts: Mapping[str, str] = field(default_factory=dict)  # what stands for a word within a compound

    @classmethod
    def of(cls, pairs: Iterable[Change], *, in_compounds: bool = True) -> Wording:
        """Of pairs of phrases in the singular; the first pair of a phrase wins.

        What a phrase becomes stays as it is where the text has it already: baking parchment.
        """
        by_first_word: dict[str, dict[tuple[str, ...], str]] = {}
        proper: set[tuple[str, ...]] = set()
        parts: dict[str, str] = {}
        told_of = tuple(pairs)
        grown = ((instead, instead) for said, instead in told_of if _holds(instead, said))
        for said, instead in (*told_of, *grown):
            several = _plural(instead)  # two zucchini, or two zucchinis
            if in_compounds and " " not in said:
                parts.setdefault(said.lower(), said if said == instead else _single(instead))
            for phrase, other in ((said, instead), (_plural(said), several), (f"{said}s", several)):
                phrase_words = tuple(phrase.lower().replace("’", "'").split())
                by_first_word.setdefault(phrase_words[0], {}).setdefault(phrase_words, other)
                proper |= {phrase_words} if phrase[:1].isupper() else set()
        return cls(
            phrases={
                first: tuple(sorted(few.items(), key=lambda pair: -len(pair[0])))
                for first, few in by_first_word.items()
            },
            proper=frozenset(proper),
            parts=parts,
        )

    def before(self, other: Wording) -> Wording:
        """Both together; of a phrase that both have, this one's word."""
        joined = {**other.phrases, **self.phrases}
        for first in self.phrases.keys() & other.phrases.keys():
            few = {**dict(other.phrases[first]), **dict(self.phrases[first])}
            joined[first] = tuple(sorted(few.items(), key=lambda pair: -len(pair[0])))
        parts = {**other.parts, **self.parts}
        return Wording(phrases=joined, proper=self.proper | other.proper, parts=parts)

    def told(self, text: str, *, begins: bool = True) -> tuple[str, tuple[Change, ...]]:
        """``text`` in the words of the edition, and each change; it ``begins`` a sentence or goes on."""
        edits = self.edits(text, begins=begins)
        return applied(text, edits), tuple(edit.change for edit in edits)

    def edits(self, text: str, *, begins: bool = True) -> tuple[Edit, ...]:
        """What changes in ``text``, from its beginning on."""
        words = list(_WORD.finditer(text))
        low = tuple(match.group().lower().replace("’", "'") for match in words)
        compound = any("-" in word for word in low)
        if not compound and self.phrases.keys().isdisjoint(low):
            return ()
        kept = [match.span() for match in _KEPT.finditer(text)]
        in_title = _is_title(text)
        edits: list[Edit] = []
        place = 0
        while place < len(words):
            phrase, instead = self._here(text, words, low, place)
            if phrase:
                start, end = words[place].start(), words[place + len(phrase) - 1].end()
                said = text[start:end]
                first = _SENTENCE_END.search(text[:start]) if start else begins
                if said[:1].isupper() and (first or phrase not in self.proper):
                    instead = titled(instead) if in_title else instead[:1].upper() + instead[1:]
                if said != instead:
                    edits.append(_edit(text, start, end, instead))
            elif compound:
                edits += self._within(text, words[place], in_title=in_title)
            place += len(phrase) or 1
        return tuple(edit for edit in edits if not any(first <= edit.start < after for first, after in kept))

    def _within(self, text: str, word: re.Match[str], *, in_title: bool) -> Iterator[Edit]:
        """What changes of a compound: lemon-colored, cilantro-lime."""
        at = word.start()
        for part in word.group().split("-") if "-" in word.group() else ():
            instead = self.parts.get(part.lower(), part)
            if instead.lower() != part.lower():
                if part[:1].isupper():
                    instead = titled(instead) if in_title else instead[:1].upper() + instead[1:]
                yield _edit(text, at, at + len(part), instead)
            at += len(part) + 1

    def _here(
        self, text: str, words: list[re.Match[str]], low: tuple[str, ...], place: int
    ) -> tuple[tuple[str, ...], str]:
        """The phrase that begins at ``place``, and what stands in its place; no words for none."""
        for phrase, instead in self.phrases.get(low[place], ()):
            end = place + len(phrase)
            if low[place:end] == phrase and all(
                text[match.end() : other.start()].isspace() for match, other in pairwise(words[place:end])
            ):
                return phrase, instead
        return (), ""


def _is_title(text: str) -> bool:
    """Whether every word of a text has a capital, but for the little ones: Hot Apple Cider with Cream."""
    words = [word for word in text.split() if word not in LITTLE]
    return len(words) > 1 and all(not word[:1].islower() for word in words)


def titled(phrase: str) -> str:
    """A phrase as it stands in such a title."""
    return " ".join(part if part in LITTLE else part[:1].upper() + part[1:] for part in phrase.split(" "))


def _holds(phrase: str, part: str) -> bool:
    """Whether a phrase has another in it, and more."""
    return phrase != part and f" {part.lower()} " in f" {phrase.lower()} "


def _plural(phrase: str) -> str:
    *before, last = phrase.split()
    return " ".join((*before, many(last)))


def _single(phrase: str) -> str:
    *before, last = phrase.split()
    return " ".join((*before, one_of(last)))


def _edit(text: str, start: int, end: int, instead: str) -> Edit:
    """A phrase in place of what stands there, its article with it where that changes."""
    change = (text[start:end], instead)
    article = _ARTICLE.search(text, max(start - _LONGEST_ARTICLE, 0), start)
    if article and (text[start].lower() in VOWELS) != (instead[0].lower() in VOWELS):
        right = "an" if instead[0].lower() in VOWELS else "a"
        right = right.capitalize() if article[1][0].isupper() else right
        start, instead = article.start(), f"{right}{text[article.end() : start]}{instead}"
    return Edit(start=start, end=end, told=instead, change=change)


def applied(text: str, edits: Iterable[Edit]) -> str:
    """``text`` with its edits made."""
    made: list[str] = []
    at = 0
    for edit in edits:
        made += (text[at : edit.start], edit.told)
        at = edit.end
    return "".join((*made, text[at:]))


def listed(changes: Iterable[Change]) -> Iterator[Change]:
    """Each change once, whatever its capital."""
    yield from dict.fromkeys((said.lower(), instead.lower()) for said, instead in changes)
