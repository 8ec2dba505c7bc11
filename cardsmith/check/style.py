"""House style: words, numbers and spelling in running text, title, headnote and picture."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from cardsmith.check.facts import PRACTICE
from cardsmith.check.fields import field, spot
from cardsmith.check.method import cut
from cardsmith.check.registry import Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.check.wording import plural
from cardsmith.finding import Severity
from cardsmith.language.prose import read_prose
from cardsmith.language.spans import Measured, Span
from cardsmith.recipe.mentions import visible
from cardsmith.recipe.model import Text
from cardsmith.reference import table
from cardsmith.regex import regex
from cardsmith.remember import remembered

HEADNOTE = (40, 90)  # words; trade practice of print houses, no source
DASH = regex(r"[0-9½¼¾⅓⅔⅛]\s*[-–—]\s*[0-9½¼¾⅓⅔⅛]")
PICTURE_OF = regex(r"^(?:an? |the )?(?:photo|photograph|picture|image|shot)s? of\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Passage:
    """A text of the recipe as it is read, and how to find words of it in the file."""

    subject: Subject
    name: str  # steps, ingredients, or the field
    text: str
    spans: tuple[Span, ...]
    at: Text  # the step or line; of a field only its text counts

    def spot(self, phrase: str) -> Text:
        """Where a phrase stands."""
        if self.name in ("steps", "ingredients"):
            offset = self.at.text.find(phrase)
            found = offset >= 0 and "\n" not in self.at.text[:offset]
            return Text(text=phrase, where=self.at.where.at(offset)) if found else self.at
        return spot(self.subject.recipe, self.name, phrase)


def passages(subject: Subject, *, lists: bool = False) -> Iterator[Passage]:
    """The running text of a recipe: steps and fields; with ``lists`` the lines of the lists too."""
    yield from _running(subject)
    for line in subject.recipe.ingredients if lists else ():
        at = Text(text=line.text, where=line.where)
        yield Passage(subject=subject, name="ingredients", text=line.text, spans=(), at=at)


@remembered  # every check of this family asks for it
def _running(subject: Subject) -> tuple[Passage, ...]:
    return tuple(_read(subject))


def _read(subject: Subject) -> Iterator[Passage]:
    recipe = subject.recipe
    for step in recipe.steps:
        at = Text(text=step.text, where=step.where)
        yield Passage(subject=subject, name="steps", text=visible(step.spans), spans=step.spans, at=at)
    fields = [("title", recipe.title), ("headnote", recipe.headnote), ("storage", recipe.storage)]
    for name, text in [*fields, *(("notes", note.text) for note in recipe.notes)]:
        at = Text(text=text, where=recipe.where)
        yield Passage(subject=subject, name=name, text=text, spans=read_prose(text, recipe.where), at=at)


@cache
def _any_of(phrases: tuple[str, ...]) -> re.Pattern[str]:
    """Any of the phrases, whole and not after a number, whose unit the card spells by itself."""
    told = "|".join(re.escape(phrase) for phrase in sorted(phrases, key=len, reverse=True))
    return regex(rf"(?<![\w-])(?<!\d )(?:{told})(?![\w-])", re.IGNORECASE)


@cache
def _entries(name: str, column: str) -> tuple[tuple[str, dict[str, str]], ...]:
    """Each phrase of a table in lower case, with its row."""
    return tuple((one.lower(), row) for row in table(name) for one in row[column].split("|"))


@check(
    "house-word",
    Severity.NOTE,
    why="One name for one thing, the one that readers of this market shop by.",
    source="style_words.csv, a reason for each word",
    remedy="use the house's word",
)
def house_word(subject: Subject) -> Iterator[Query]:
    """A word for which the house has another, by the language of house.yaml; each said once."""
    language = subject.house.language
    rows = {
        phrase: row
        for phrase, row in _entries("style_words", "instead_of")
        if language == row["language"] or row["language"] == language.partition("-")[0]
    }
    seen: set[str] = set()
    for passage in passages(subject, lists=True):
        for match in _any_of(tuple(rows)).finditer(passage.text) if rows else ():
            row = rows[match.group().lower()]
            if row["house"] not in seen:
                seen.add(row["house"])
                what = f"“{match.group()}” is “{row['house']}” in this house: {row['why']}"
                yield query(passage.spot(match.group()), what, f"write “{row['house']}”")


@check(
    "spelling-mixed",
    Severity.NOTE,
    why="Two spellings on one card look like two hands.",
    source=PRACTICE,
    remedy="keep to one spelling",
)
def spelling_mixed(subject: Subject) -> Iterator[Query]:
    """American and British spelling in one recipe; said of the one that is rarer."""
    found: dict[str, list[tuple[Passage, str, str]]] = {"us": [], "uk": []}
    for passage in passages(subject):
        for market, other in (("us", "uk"), ("uk", "us")):
            rows = dict(_entries("spelling_pairs", market))
            for match in _any_of(tuple(rows)).finditer(passage.text):
                found[market].append((passage, match.group(), rows[match.group().lower()][other]))
    if found["us"] and found["uk"]:
        rarer, usual = sorted(found.values(), key=len)
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
    rows = dict(_entries("trademarks", "mark"))
    for passage in passages(subject, lists=True):
        for match in re.finditer(r"(?<![\w'’-])[\w'’-]++ ?[®™℠]", passage.text):
            yield query(passage.spot(match.group()), f"“{match.group()}” is a mark")
        for match in _any_of(tuple(rows)).finditer(passage.text):
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
        for one in passage.spans:
            dash = DASH.search(one.text) if isinstance(one, Measured) else None
            if dash and isinstance(one, Measured) and one.quantity.low < one.quantity.high:
                told = re.sub(r"\s*[-–—]\s*", " to ", one.text, count=1)
                yield query(passage.spot(one.text), f"“{one.text}” has a dash", f"write “{told}”")


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
        for start, end in cut(passage.text) if passage.name != "title" else ():
            sentence = passage.text[start:end]
            if re.match(r"[0-9½¼¾⅓⅔⅛]", sentence):
                words = " ".join(sentence.split()[:2])
                yield query(passage.spot(words), f"the sentence begins with a numeral: “{words} …”")


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
            field(subject.recipe, "title", title), "the title is in capitals", f"write “{title.capitalize()}”"
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
        place = field(subject.recipe, "headnote", "headnote")
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
        place = field(subject.recipe, "headnote", "headnote")
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
    rows = dict(_entries("headnote_claims", "claim"))
    for passage in passages(subject):
        for match in (
            _any_of(tuple(rows)).finditer(passage.text) if passage.name in ("title", "headnote") else ()
        ):
            follows = re.match(r"[ -](\w+)", passage.text[match.end() :])
            if follows and subject.larder.find(follows.group(1)):
                continue  # "low-fat yogurt" is what to buy
            why = rows[match.group().lower()]["why"]
            yield query(passage.spot(match.group()), f"“{match.group()}” is {why}")


@check(
    "alt-text-says-little",
    Severity.NOTE,
    why="Who cannot see the picture learns nothing from “photo of” or from the title said again.",
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
