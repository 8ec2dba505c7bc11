"""House style: words, numbers and spelling in running text, title, headnote and picture."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache, lru_cache

from cardsmith.check.fields import Field, place_of
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import plural
from cardsmith.finding import Severity
from cardsmith.language.spans import Measured
from cardsmith.language.tokens import DASHES, tokenize
from cardsmith.recipe.model import Text
from cardsmith.reference import PLACE, Tables
from cardsmith.regex import regex

HEADNOTE = (40, 90)  # words; trade practice of print houses, no source
PICTURE_OF = regex(r"^(?:an? |the )?(?:photo|photograph|picture|image|shot)s? of\b", re.IGNORECASE)


WORD = regex(r"\w+")
SIGNS = frozenset("®™℠")
MARKED = regex(r"(?<![\w'’-])[\w'’-]++ ?[®™℠]")
RUNNING = frozenset({"steps", "title", "headnote", "storage", "notes"})


def passages(subject: Subject, *, lists: bool = False) -> Iterator[Field]:
    """The running text of a recipe: steps and fields; with ``lists`` the lines of the lists too."""
    yield from (field for field in subject.fields if field.name in RUNNING)
    for line in subject.recipe.ingredients if lists else ():
        where, text = line.where, line.text
        yield Field(recipe=subject.recipe, name="ingredients", where=where, text=text, spans=(), source=text)


def _phrases(passage: Field, phrases: tuple[str, ...]) -> Iterator[re.Match[str]]:
    """Where any of the phrases stands, but right behind a number, whose unit the card spells by itself.

    A table holds hundreds: only those that may begin in the text become a pattern.
    """
    by_first = _by_first_word(phrases)
    begun = tuple(
        phrase for word in sorted(by_first.keys() & _words(passage.text)) for phrase in by_first[word]
    )
    if not begun:
        return
    for match in any_of(begun).finditer(passage.text):
        if not passage.text[: match.start()].rstrip(" ")[-1:].isnumeric():
            yield match


@cache
def any_of(phrases: tuple[str, ...]) -> re.Pattern[str]:
    """Any of the phrases, whole."""
    alternatives = "|".join(re.escape(phrase) for phrase in sorted(phrases, key=len, reverse=True))
    return regex(rf"(?<![\w-])(?:{alternatives})(?![\w-])", re.IGNORECASE)


@cache
def _by_first_word(phrases: tuple[str, ...]) -> Mapping[str, tuple[str, ...]]:
    """The phrases by the first word of each."""
    by_word: dict[str, tuple[str, ...]] = {}
    for phrase in phrases:
        if word := WORD.search(phrase.lower()):
            by_word[word.group()] = (*by_word.get(word.group(), ()), phrase)
    return by_word


@lru_cache(maxsize=1024)  # each table asks about the same texts
def _words(text: str) -> frozenset[str]:
    return frozenset(WORD.findall(text.lower()))


@cache
def _entries(name: str, column: str, tables: Tables) -> tuple[tuple[str, dict[str, str]], ...]:
    """Each phrase of a table in lower case, with its row."""
    return tuple((part.lower(), row) for row in tables.rows(name) for part in row[column].split("|"))


@cache
def house_words(language: str, tables: Tables) -> Mapping[str, dict[str, str]]:
    """The row of each word for which a house of this language has another, or which it never writes.

    What the house says in its own table overrules ours: neither the word it prefers nor what ours prefers to
    it is asked about the other way round.
    """
    by_name: dict[str, dict[str, str]] = {}
    preferred: set[str] = set()
    for phrase, row in _entries("style_words", "instead_of", tables):  # the house's own first
        word = row["house"].lower()
        if row["language"] not in ("", language, language.partition("-")[0]):
            continue
        if PLACE in row:
            preferred.add(word)
        elif phrase in preferred or word in by_name:
            continue
        by_name.setdefault(phrase, row)
    return by_name


@check(
    "house-word",
    Severity.NOTE,
    why="One name for one thing, the one that readers in this market shop by.",
    source="style_words.csv, a reason for each word",
    remedy="use the house's word, or another where it has none",
)
def house_word(subject: Subject) -> Iterator[Query]:
    """A word for which the house has another, by the language of house.yaml; each said once."""
    rows = house_words(subject.house.language, subject.tables)
    seen: set[str] = set()
    for passage in passages(subject, lists=True):
        for match in _phrases(passage, tuple(rows)) if rows else ():
            row = rows[match.group().lower()]
            if row["instead_of"] not in seen:
                seen.add(row["instead_of"])
                is_what = f"“{row['house']}” in" if row["house"] else "no word of"
                what = f"“{match.group()}” is {is_what} this house: {row['why']}"
                yield query(
                    passage.spot(match.group()), what, f"write “{row['house']}”" if row["house"] else ""
                )


@check(
    "spelling-mixed",
    Severity.NOTE,
    why="Two spellings on one card look like two hands.",
    source=PRACTICE,
    remedy="keep to one spelling",
)
def spelling_mixed(subject: Subject) -> Iterator[Query]:
    """American and British spelling in one recipe; said of the one that is rarer."""
    by_spelling: dict[str, list[tuple[Field, str, str]]] = {"us": [], "uk": []}
    for passage in passages(subject):
        for market, other in (("us", "uk"), ("uk", "us")):
            rows = dict(_entries("spelling_pairs", market, subject.tables))
            for match in _phrases(passage, tuple(rows)):
                by_spelling[market].append((passage, match.group(), rows[match.group().lower()][other]))
    if by_spelling["us"] and by_spelling["uk"]:
        rarer, usual = sorted(by_spelling.values(), key=len)
        for passage, word, right in rarer:
            yield query(passage.spot(word), f"“{word}” beside “{usual[0][1]}”", f"write “{right}”")


@check(
    "trademark",
    Severity.NOTE,
    why="A brand is an advertisement, and its owner may write to the publisher.",
    source="trademarks.csv; marks and their generic words from memory",
    remedy="write what the thing is",
)
def trademark(subject: Subject) -> Iterator[Query]:
    """A registered mark, by its sign or by name."""
    rows = dict(_entries("trademarks", "mark", subject.tables))
    for passage in passages(subject, lists=True):
        for match in () if SIGNS.isdisjoint(passage.text) else MARKED.finditer(passage.text):
            yield query(passage.spot(match.group()), f"“{match.group()}” is a mark")
        for match in _phrases(passage, tuple(rows)):
            generic = rows[match.group().lower()]["generic"]
            yield query(passage.spot(match.group()), f"“{match.group()}” is a mark", f"write “{generic}”")


@check(
    "range-with-dash",
    Severity.NOTE,
    why="A dash is read as a minus or lost between fractions; the card prints “to”.",
    source=PRACTICE,
    remedy="write “to” between the two figures",
)
def range_with_dash(subject: Subject) -> Iterator[Query]:
    """A range in running text written with a dash."""
    for passage in passages(subject):
        for at, span in passage.numerals:
            dash = _dash(span.text) if isinstance(span, Measured) and span.quantity.is_range else None
            if dash is not None:
                wanted = f"{span.text[: dash[0]]} to {span.text[dash[1] :]}"
                yield query(passage.spot(span.text, at), f"“{span.text}” has a dash", f"write “{wanted}”")


def _dash(text: str) -> tuple[int, int] | None:
    """Where the number before a dash between two numbers ends, and that behind it begins."""
    tokens = tokenize(text)
    for at, token in enumerate(tokens.all):
        if token.text in DASHES and tokens[at - 1].is_number and tokens[at + 1].is_number:
            return tokens[at - 1].end, tokens[at + 1].start
    return None


@check(
    "number-begins-sentence",
    Severity.NOTE,
    why="A numeral at the head of a sentence runs into the step's own number.",
    source=PRACTICE,
    remedy="turn the sentence, or spell the number out",
)
def number_begins_sentence(subject: Subject) -> Iterator[Query]:
    """A sentence of a step, headnote or note that begins with a numeral."""
    for passage in passages(subject):
        for start, end, _ in passage.cuts if passage.name != "title" else ():
            if passage.text[start].isnumeric():
                words = " ".join(passage.text[start:end].split()[:2])
                yield query(passage.spot(words, start), f"the sentence begins with a numeral: “{words} …”")


@check(
    "title-in-capitals",
    Severity.NOTE,
    why="Capitals are the template's business; typed in, they cannot be taken out again.",
    source=PRACTICE,
    remedy="write the title as a sentence",
)
def title_in_capitals(subject: Subject) -> Iterator[Query]:
    """A title all in capital letters."""
    title = subject.recipe.title
    if title.isupper() and sum(letter.isalpha() for letter in title) > 4:
        yield query(
            Text(text=title, where=place_of(subject.recipe, "title", title)),
            "the title is in capitals",
            f"write “{title.capitalize()}”",
        )


def _length(subject: Subject) -> int:
    """Words of the headnote."""
    return len([word for word in subject.recipe.headnote.split() if any(map(str.isalnum, word))])


@check(
    "headnote-short",
    Severity.NOTE,
    why="In fewer words than forty there is no room for why, what to expect and the one hard word.",
    source="40 to 90 words: " + PRACTICE,
    remedy="say why to cook it, what to expect, and what needs explaining",
)
def headnote_short(subject: Subject) -> Iterator[Query]:
    """A headnote of fewer than 40 words."""
    if 0 < _length(subject) < HEADNOTE[0]:
        place = Text(text="headnote", where=place_of(subject.recipe, "headnote", "headnote"))
        length = plural(_length(subject), "word")
        yield query(place, f"the headnote has {length}; the house wants {HEADNOTE[0]} or more")


@check(
    "headnote-long",
    Severity.NOTE,
    why="A long headnote pushes the method off the card.",
    source="40 to 90 words: " + PRACTICE,
    remedy="cut it, or move what belongs to the method into a step",
)
def headnote_long(subject: Subject) -> Iterator[Query]:
    """A headnote of more than 90 words."""
    if _length(subject) > HEADNOTE[1]:
        place = Text(text="headnote", where=place_of(subject.recipe, "headnote", "headnote"))
        yield query(
            place, f"the headnote has {_length(subject)} words; the house wants {HEADNOTE[1]} at most"
        )


@check(
    "headnote-claim",
    Severity.NOTE,
    why="What a headnote claims of nutrition or health must be shown like a label's claim.",
    source="headnote_claims.csv, a source for each claim",
    remedy="say what is in it, or how it tastes",
)
def headnote_claim(subject: Subject) -> Iterator[Query]:
    """The title or headnote calls the dish healthy, guilt-free and the like."""
    rows = dict(_entries("headnote_claims", "claim", subject.tables))
    for passage in passages(subject):
        for match in _phrases(passage, tuple(rows)) if passage.name in ("title", "headnote") else ():
            follows = re.match(r"[ -](\w+)", passage.text[match.end() :])
            if follows and subject.larder.find(follows.group(1)):
                continue  # "low-fat yogurt" is what to buy
            why = rows[match.group().lower()]["why"]
            yield query(passage.spot(match.group()), f"“{match.group()}” is {why}")


@check(
    "alt-text-says-little",
    Severity.NOTE,
    why="A reader who cannot see the picture learns nothing from “photo of”, or from the title again.",
    source="WCAG 2.2, success criterion 1.1.1 (equivalent purpose); the wording: " + PRACTICE,
    remedy="say what the cook needs to see: the shape, the colour, what is beside it",
)
def alt_text_says_little(subject: Subject) -> Iterator[Query]:
    """A picture's text that begins with “photo of”, repeats the title, or has fewer than three words."""
    photo = subject.recipe.photo
    if photo is None or not photo.alt:
        return
    alt = photo.alt.strip(" .").lower()
    if PICTURE_OF.match(alt) or alt == subject.recipe.title.lower() or len(alt.split()) < 3:
        yield query(photo.where, f"the picture's text says little: “{photo.alt}”")


@check(
    "photo-credit-missing",
    Severity.NOTE,
    why="A picture without a credit cannot be printed again, and its maker goes unnamed.",
    source=PRACTICE,
    remedy="write credit: who took it, or House photo",
)
def photo_credit_missing(subject: Subject) -> Iterator[Query]:
    """A picture without a credit."""
    photo = subject.recipe.photo
    if photo and not photo.credit.strip():
        yield query(photo.where, "who took the picture?")
