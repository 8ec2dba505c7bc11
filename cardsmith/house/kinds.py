"""How a value of a house file is written, and refused where unfit."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from typing import Annotated, Any

from cardsmith.house.files import FOLDER
from cardsmith.recipe.schema.kinds import Lines, TextKind, UnfitError
from cardsmith.reference import table
from cardsmith.regex import regex

# What a recipe says is English: of one country, or of none in particular (BCP 47).
LANGUAGES = ("en", "en-US", "en-GB", "en-AU", "en-CA", "en-IE", "en-IN", "en-NZ", "en-ZA")
CARD_LANGUAGES = (*LANGUAGES, "de")  # that a card may speak beside its recipe (`cardsmith.words`)
MAX_WORDS = 200  # characters of a name, a credit or whoever signs
MAX_LIST = 60  # numbers of a ladder, sizes of type, those who sign
_YES = ("yes", "true")
MAX_CARDS = 20  # of one recipe; two are usual
_NUMBER = regex(r"(?:(?P<whole>\d{1,6}) )?(?P<part>\d{1,6}(?:\.\d{1,6}|/0*[1-9]\d{0,5})?)", re.ASCII)
_COUNT = regex(r"\d{1,3}", re.ASCII)
_ADDRESS = regex(r"https?://[a-z0-9.-]+(?::\d+)?/(?:[A-Za-z0-9._~-]+/)*")
_FOLDER = regex(FOLDER)
_SCHEME = regex(r"[a-z][a-z0-9+.-]*")
_NO_EDITOR = frozenset({"http", "https", "javascript", "data", "blob", "file", "vbscript"})
_TAG = regex(r"[a-z0-9-]+(?:\.[a-z0-9-]+)+,\d{4}(?:-\d\d){0,2}")


def as_editor(text: str) -> str:
    """An address with a scheme of its own and ``{file}`` in it; no script, and nothing of another host's."""
    scheme, colon, _ = text.partition(":")
    fits = colon and _SCHEME.fullmatch(scheme) and scheme not in _NO_EDITOR and "{file}" in text
    if not fits or any(sign.isspace() or sign in "\"'<>" for sign in text):
        raise UnfitError(f"“{text}” is no address such as my-editor://open?file={{file}}&line={{line}}")
    return text


def as_number(text: str) -> Fraction:
    """An exact number as a house writes it: 5, 0.5, 1/2, 1 1/2."""
    match = _NUMBER.fullmatch(text.strip())
    if match is None:
        raise UnfitError(f"“{text}” is not a number such as 5, 0.5 or 1 1/2")
    return Fraction(match["whole"] or 0) + Fraction(match["part"])


def as_positive(text: str) -> Fraction:
    """A number above 0."""
    if not (number := as_number(text)):
        raise UnfitError("this must be more than 0")
    return number


def as_share(text: str) -> Fraction:
    """Per cent, as a fraction of one."""
    return as_number(text.rstrip("% ")) / 100


def as_part(text: str) -> Fraction:
    """A share of a price, above 0 %."""
    if not 0 < (share := as_share(text)) <= 1:
        raise UnfitError(f"“{text}” is not a share of the selling price")
    return share


def as_tolerance(role: str, text: str) -> Fraction:
    """A share that no house may set where a card would be wrong or unsafe (tolerance_ceilings.csv)."""
    if (share := as_share(text)) > Fraction((ceiling := _ceilings()[role])["most"]) / 100:
        what = f"{role} at {text} is over {ceiling['most']} %: {ceiling['why']}"
        raise UnfitError(what, f"{role}: {ceiling['most']} %, or less")
    return share


@cache
def _ceilings() -> Mapping[str, Mapping[str, str]]:
    return {row["role"]: row for row in table("tolerance_ceilings")}


def as_count(text: str, least: int = 0, most: int = 999) -> int:
    """A whole number."""
    if not _COUNT.fullmatch(text) or not least <= int(text) <= most:
        raise UnfitError(f"“{text}” is not a whole number from {least} to {most}")
    return int(text)


def as_cards(text: str) -> int:
    """How many cards."""
    return as_count(text, 1, MAX_CARDS)


def as_words(text: str) -> str:
    """A text of at most MAX_WORDS."""
    if len(text) > MAX_WORDS:
        raise UnfitError(f"{len(text):,} characters are too many", f"at most {MAX_WORDS}")
    return text


def as_address(text: str) -> str:
    """A web site's address, with its slash."""
    if not _ADDRESS.fullmatch(as_words(text)):
        instead = 'one that ends with a slash, such as https://name.example/; "" where there is none'
        raise UnfitError(f"“{text}” is not an address of a site", instead)
    return text


def as_tag(text: str) -> str:
    """A domain and a year (RFC 4151)."""
    if not _TAG.fullmatch(as_words(text)):
        instead = 'a domain you hold and a year in which you held it, such as name.example,2025; or ""'
        raise UnfitError(f"“{text}” is not a tag", instead)
    return text


def as_folder(text: str) -> str:
    """A folder below the publication's."""
    if not _FOLDER.fullmatch(as_words(text)):
        instead = "a folder below the publication's, such as kitchen/tables"
        raise UnfitError(f"“{text}” is not a folder of the publication", instead)
    return text


def as_some(items: tuple[Any, ...]) -> tuple[Any, ...]:
    """A list with at least one entry, and not too many."""
    if not 0 < len(items) <= MAX_LIST:
        raise UnfitError(f"this list has {len(items)} entries; 1 to {MAX_LIST} will do")
    return items


def as_once(names: tuple[str, ...]) -> tuple[str, ...]:
    """The same, each entry once."""
    return as_some(tuple(dict.fromkeys(names)))


LEAST_TEXT = Fraction(19, 2)  # points of what is cooked from, at arm's length; common practice, no source
_SIZES = 2  # of body type in one collection


def as_sizes(points: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    """Sizes of body type, the larger first: two at most, none below what a cook reads from the bench."""
    sizes = tuple(sorted(set(as_some(points)), reverse=True))
    if sizes[-1] < LEAST_TEXT:
        raise UnfitError(
            f"{float(sizes[-1]):g} pt is too small to cook from", f"text: [10.5, {float(LEAST_TEXT):g}]"
        )
    if len(sizes) > _SIZES:
        raise UnfitError(
            f"{len(sizes)} sizes of body type are too many for one collection",
            f"two: text: [{float(sizes[0]):g}, {float(sizes[-1]):g}]",
        )
    return sizes


def as_laws(laws: tuple[str, ...]) -> tuple[str, ...]:
    """Laws that list allergens, each once."""
    if not laws or len(set(laws)) < len(laws):
        raise UnfitError(
            "it takes each law once at most, and one at least", "allergens: [US, EU], or leave the line out"
        )
    return laws


def as_order(systems: tuple[str, ...]) -> tuple[str, ...]:
    """Systems of measures, each once."""
    if not systems or len(set(systems)) < len(systems):
        raise UnfitError(
            "it takes each system once at most, and one at least", "order: [us, metric], or order: [metric]"
        )
    return systems


# How a value is written, beside its type; a style adds what its key is for, and an example.
WordsValue = Annotated[str, TextKind(made=as_words)]
ShareValue = Annotated[Fraction, TextKind(made=as_share)]
Count = Annotated[int, TextKind(made=as_count)]
Points = Annotated[Fraction, TextKind(made=as_positive)]
YesNo = Annotated[bool, TextKind(choices=("yes", "no", "true", "false"), made=lambda text: text in _YES)]
Numbers = Annotated[tuple[Fraction, ...], Lines(noun="number", text=TextKind(made=as_positive), made=as_some)]
