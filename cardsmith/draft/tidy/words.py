"""Words of the house: its names for foods, its spelling, its dashes."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.check.words.style import any_of, house_words
from cardsmith.draft.sorting.readings import is_unit
from cardsmith.draft.tidy.change import Change
from cardsmith.language.declension import many
from cardsmith.language.nouns import is_plural
from cardsmith.reference import Tables, table
from cardsmith.regex import regex

_HYPHENS = regex(r"(?<=[^\W_]) +--? +(?=[^\W_])|(?<=[^\W_])--(?=[^\W_])")
INVARIANT = "i"  # the end of a noun that is its own plural: two zucchini
LEAVES = "leaves"  # of what has no plural: coriander leaves are cilantro
AMERICAN = "en-US"


def in_house_words(text: str, language: str, tables: Tables) -> Iterator[Change]:
    """The words for which a house of this language has others; right behind a number, what is no unit."""
    rows = house_words(language, tables)
    for match in any_of(tuple(rows)).finditer(text) if rows else ():
        word = rows[match.group().lower()]["house"]
        if word and not (text[: match.start()].rstrip()[-1:].isnumeric() and is_unit(match.group())):
            yield Change(match.start(), match.end(), _like(word, match.group()), "the house's words")
    wrong, right = ("uk", "us") if language == AMERICAN else ("us", "uk")
    pairs = {row[wrong].lower(): row[right] for row in table("spelling_pairs")}
    for match in any_of(tuple(pairs)).finditer(text):
        yield Change(
            match.start(), match.end(), _like(pairs[match.group().lower()], match.group()), "spelling"
        )


def _like(word: str, written: str) -> str:
    """A word in the number and with the capital of the one that it stands for."""
    *before, last = word.split()
    noun = written.rsplit(maxsplit=1)[-1]
    plural = is_plural(noun) and noun.lower() != LEAVES and not last.endswith(INVARIANT)
    name = " ".join((*before, many(last))) if plural else word
    return name[:1].upper() + name[1:] if written[:1].isupper() else name


def dashes(text: str, language: str) -> Iterator[Change]:
    """A hyphen or two for a dash between words, as the house sets one; common practice, no source.

    >>> [one.of("Fold gently -- it sinks.") for one in dashes("Fold gently -- it sinks.", "en-US")]
    ['Fold gently—it sinks.']
    """
    for match in _HYPHENS.finditer(text):
        if not (text[: match.start()][-1:].isnumeric() or text[match.end() :][:1].isnumeric()):
            yield Change(match.start(), match.end(), "—" if language == AMERICAN else " – ", "dashes")
