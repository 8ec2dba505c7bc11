"""What cards, pages and the site say themselves, beside the author's text, in the language of the house.

The table ``fixed_words`` has a row a phrase, which goes by its American English, and a column a language; an
empty cell is as in American English. None of it is an author's text, which is read as English.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from markupsafe import Markup, escape

from cardsmith.frozen import frozen
from cardsmith.reference import table

FIRST = "en-US"  # of which every other column is a translation
_LIKE = {"en": FIRST}  # whose words a language without a column takes; other English goes by Britain's
_ENGLISH = "en-GB"


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


@cache
def fixed_words(language: str) -> FixedWords:
    """Those of the language of a house (BCP 47), or of the nearest that has a column."""
    rows = table("fixed_words")
    column = _column(language)
    return FixedWords(language=language, phrases={row[FIRST]: row[column] or row[FIRST] for row in rows})


@cache
def said_by_scripts(language: str) -> Mapping[str, str]:
    """Those phrases that a page's scripts say and that are not the American ones."""
    said, rows = fixed_words(language), table("fixed_words")
    told = {row[FIRST]: said.phrases[row[FIRST]] for row in rows if row["script"]}
    return {phrase: other for phrase, other in told.items() if other != phrase}


def _column(language: str) -> str:
    columns = table("fixed_words")[0]
    alike = (language, _LIKE.get(language, ""), _ENGLISH if language.startswith("en-") else "")
    return next((one for one in alike if one in columns), FIRST)
