"""What cards, pages and the site say themselves, beside the author's text, in the language of the house.

The table ``fixed_words`` has a row a phrase, which goes by its American English, and a column a language; an
empty cell is as in American English. None of it is an author's text, which is read as English.

A sentence of ours that is made before its language is known is `Said`: a string in American English that
still knows its phrase and what fills its gaps, so that `FixedWords.told` says it in any language.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Protocol, runtime_checkable

from markupsafe import Markup, escape

from cardsmith.frozen import frozen
from cardsmith.reference import table

FIRST = "en-US"  # of which every other column is a translation
_LIKE = {"en": FIRST}  # whose words a language without a column takes; other English goes by Britain's
_ENGLISH = "en-GB"
_DECIMAL, _THOUSANDS = "{whole}.{part}", "{thousands},{rest}"  # how a number is parted


@runtime_checkable
class Sayable(Protocol):
    """What becomes words only where a language is known."""

    def in_words(self, say: FixedWords) -> str:
        """Its words in that language."""


@frozen
class FixedWords:
    """The phrases of one language, by their American English; ``say("Yield")`` gives its word for that."""

    language: str  # BCP 47
    phrases: Mapping[str, str]

    def __call__(self, phrase: str, **values: object) -> str:
        """A phrase as plain text, with ``values`` in its braces.

        Raises:
            KeyError: the table has no such phrase, or no such value was given.
        """
        return self.phrases[phrase].format(**values)

    def heading(self, heading: str) -> str:
        """A heading that may be of the house's own making: then it stays as it is."""
        return self.phrases.get(heading, heading)

    def html(self, phrase: str, **values: object) -> Markup:
        """A phrase as HTML; a value that is markup stays what it is."""
        return escape(self.phrases[phrase]).format(**values)

    def told(self, text: object) -> str:
        """A sentence of ours in this language; any other text, which is an author's, stays as it is."""
        return text.in_words(self) if isinstance(text, Sayable) else str(text)

    def number(self, number: str) -> str:
        """A number of an English text, ``1,250`` or ``2.5``, with the marks of this language."""
        whole, point, part = number.partition(".")
        if "," in whole:
            thousands, _, rest = whole.partition(",")
            whole = self.phrases[_THOUSANDS].format(thousands=thousands, rest=rest)
        return self.phrases[_DECIMAL].format(whole=whole, part=part) if point else whole


class Said(str):
    """A sentence of ours: itself in American English, and in any other language by `FixedWords.told`.

    ``values`` fill the gaps of ``phrase``: texts, numbers (`Figure`), and further sentences. A phrase that
    the table lacks is said in American English in every language.
    """

    __slots__ = ("phrase", "values")
    phrase: str
    values: Mapping[str, object]

    def __new__(cls, phrase: str, **values: object) -> Said:
        """The sentence of a phrase, ``Said("{count} recipes", count=Figure("3"))``."""
        made = super().__new__(cls, phrase.format(**values) if values else phrase)
        made.phrase, made.values = phrase, values
        return made

    def __reduce__(self) -> tuple[object, ...]:
        """How another process has it whole."""
        return _said, (self.phrase, self.values)

    def in_words(self, say: FixedWords) -> str:
        """See `Sayable`."""
        worded = {gap: say.told(value) for gap, value in self.values.items()}
        phrase = say.phrases.get(self.phrase, self.phrase)
        return phrase.format(**worded) if worded else phrase


class Joined(str):
    """Texts of which some are sentences of ours, with a mark between each two."""

    __slots__ = ("last", "mark", "pieces")
    mark: str
    pieces: tuple[object, ...]
    last: str

    def __new__(cls, mark: str, pieces: tuple[object, ...], last: str = "") -> Joined:
        """``last`` is the word that joins the last, where it is a row of words."""
        made = super().__new__(cls, _in_a_row(tuple(map(str, pieces)), mark, last))
        made.mark, made.pieces, made.last = mark, pieces, last
        return made

    def __reduce__(self) -> tuple[object, ...]:
        """How another process has it whole."""
        return Joined, (self.mark, self.pieces, self.last)

    def in_words(self, say: FixedWords) -> str:
        """See `Sayable`."""
        return _in_a_row(tuple(map(say.told, self.pieces)), self.mark, self.last and say(self.last))


def _in_a_row(pieces: tuple[str, ...], mark: str, last: str) -> str:
    if not last or len(pieces) < 2:
        return mark.join(pieces)
    return f"{mark.join(pieces[:-1])} {last} {pieces[-1]}"


def joined(mark: str, *pieces: object) -> Joined:
    """``milk; egg``."""
    return Joined(mark, pieces)


def in_a_row(*pieces: object) -> Joined:
    """``a, b and c``."""
    return Joined(", ", pieces, "and")


def _said(phrase: str, values: Mapping[str, object]) -> Said:
    return Said(phrase, **values)


class Figure(str):
    """A number in a sentence of ours, as English writes it."""

    __slots__ = ()

    def in_words(self, say: FixedWords) -> str:
        """See `Sayable`."""
        return say.number(self)


@cache
def fixed_words(language: str) -> FixedWords:
    """Those of the language of a house (BCP 47), or of the nearest that has a column."""
    rows = table("fixed_words")
    column = _column(language)
    return FixedWords(language=language, phrases={row[FIRST]: row[column] or row[FIRST] for row in rows})


@cache
def around_english(language: str) -> FixedWords:
    """For a measure in an author's sentence: its words in English as that is, its numbers by ``language``."""
    own, english = fixed_words(language), fixed_words(FIRST)
    if language.startswith("en"):
        return english
    marks = {phrase: own.phrases[phrase] for phrase in (_DECIMAL, _THOUSANDS)}
    return FixedWords(language=language, phrases={**english.phrases, **marks})


@cache
def said_by_scripts(language: str) -> Mapping[str, str]:
    """Those phrases that a page's scripts say and that are not the American ones."""
    said, rows = fixed_words(language), table("fixed_words")
    phrases = {row[FIRST]: said.phrases[row[FIRST]] for row in rows if row["script"]}
    return {phrase: other for phrase, other in phrases.items() if other != phrase}


def _column(language: str) -> str:
    columns = table("fixed_words")[0]
    alike = (language, _LIKE.get(language, ""), _ENGLISH if language.startswith("en-") else "")
    return next((language for language in alike if language in columns), FIRST)
