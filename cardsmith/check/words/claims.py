"""Claims (vegan, gluten-free, nut-free) against where every food of the list comes from and what it holds."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator
from functools import cache

from cardsmith.check.fields import Field, fields
from cardsmith.check.registry import PRACTICE, Query, check, query
from cardsmith.check.subject import Subject
from cardsmith.facts.cell_phrases import Phrases, phrases
from cardsmith.facts.foods.claims import Diet, by_name, diet, diets, plain
from cardsmith.facts.foods.diets import ClaimAnswer, Reason, verdict
from cardsmith.finding import Severity
from cardsmith.recipe.model import Text
from cardsmith.reference import table
from cardsmith.regex import regex


def _reasons(subject: Subject) -> Iterator[tuple[Text, Reason]]:
    """What speaks against each claim of the recipe, line by line."""
    for claim in subject.recipe.claims:
        known = diet(claim.text)
        if known is not None:
            claim_verdict = verdict(subject.recipe.ingredients, known, subject.larder)
            yield from ((claim, reason) for reason in claim_verdict.because)


@check(
    "claim-contradicted",
    Severity.ERROR,
    why="Somebody will trust the word and fall ill, or eat what they have sworn off.",
    source="diets.csv, a source for each claim; allergens after Regulation (EU) 1169/2011 and FALCPA",
    remedy="take the claim out, or swap the ingredient",
    acceptable=False,
)
def claim_contradicted(subject: Subject) -> Iterator[Query]:
    """A claim that an ingredient breaks: vegan with honey, gluten-free with barley malt."""
    for claim, reason in _reasons(subject):
        if reason.sure:
            yield query(claim, f"“{claim.text}” is not true of {reason.item} ({reason.why})")


@check(
    "claim-unsure",
    Severity.WARNING,
    why="Brands differ; a claim that only the label can settle does not print until the list settles it.",
    source="diets.csv, a source for each claim; the larder's allergens that depend on the maker",
    remedy="say in the line which sort to buy, such as “gluten-free rolled oats”, or take the claim out",
)
def claim_unsure(subject: Subject) -> Iterator[Query]:
    """A claim that depends on the brand bought, on an alternative offered, or on a food no larder knows."""
    for claim, reason in _reasons(subject):
        if not reason.sure:
            yield query(claim, f"“{claim.text}” cannot be vouched for with {reason.item} ({reason.why})")
    yield from _unsure_of_title(subject)


def _unsure_of_title(subject: Subject) -> Iterator[Query]:
    """A title or headnote that claims what a food may not keep: dairy-free, with dark chocolate."""
    for text in fields(subject.recipe):
        for known_diet, words in _said(subject, text) if text.name in {"title", "headnote"} else ():
            claim_verdict = verdict(subject.recipe.ingredients, known_diet, subject.larder)
            asked = (reason for reason in claim_verdict.because if reason.line.food is not None)
            reason = next((reason for reason in asked if not (reason.sure or reason.line.optional)), None)
            claimed = any(diet(claim.text) == known_diet for claim in subject.recipe.claims)
            if reason is not None and not claimed:
                yield query(
                    text.spot(words), f"“{words}” cannot be vouched for with {reason.item} ({reason.why})"
                )


@check(
    "unknown-claim",
    Severity.ERROR,
    why="A claim that nobody can check is an advertisement, or medical advice.",
    source=PRACTICE,
    remedy="write one of the claims that can be checked: "
    + ", ".join(known_diet.name for known_diet in diets()),
)
def unknown_claim(subject: Subject) -> Iterator[Query]:
    """A claim that no rule is known for: low-carb, healthy, glutenfre."""
    for claim in subject.recipe.claims:
        if diet(claim.text) is None:
            near = difflib.get_close_matches(plain(claim.text), by_name(), 1, 0.7)
            hint = f"did you mean “{by_name()[near[0]].name}”?" if near else ""
            yield query(claim, f"“{claim.text}” is not a claim that can be checked", hint)


@check(
    "claim-untrue-in-text",
    Severity.ERROR,
    why="A reader who is ill, or has sworn something off, trusts a sentence as much as a label.",
    source="diets.csv, a source for each claim; what a sentence claims, diet_words.csv: " + PRACTICE,
    remedy="take the words out, say what the dish holds, or swap the ingredient",
    acceptable=False,
)
def claim_untrue_in_text(subject: Subject) -> Iterator[Query]:
    """A title, headnote or note saying what an ingredient breaks: "suits vegetarian guests"."""
    for text in fields(subject.recipe):
        if text.name not in SAYING:
            continue
        for known_diet, words in _said(subject, text):
            claim_verdict = verdict(subject.recipe.ingredients, known_diet, subject.larder)
            reason = next((reason for reason in claim_verdict.because if reason.sure), None)
            if claim_verdict.answer is ClaimAnswer.NO and reason is not None:
                yield query(text.spot(words), f"“{words}” is not true of {reason.item} ({reason.why})")


@check(
    "medical-claim",
    Severity.ERROR,
    why="Somebody leaves off what a doctor prescribed, and a publisher answers for it.",
    source="Regulation (EU) 1169/2011, article 7(3); 21 CFR 101.93(g), of claims to treat or cure",
    remedy="say how it tastes and when it is good to eat, and leave illness to doctors",
    acceptable=False,
)
def medical_claim(subject: Subject) -> Iterator[Query]:
    """A title, headnote or note that promises to treat an illness, or to stand in for a medicine."""
    for text in fields(subject.recipe):
        for match in _words_of("illness").finditer(text.text) if text.name in SAYING else ():
            sentence = text.sentence(match.start())
            heals = _words_of("healing").search(sentence)
            if heals and not NOT_PROMISED.search(sentence):
                yield query(
                    text.spot(match.group()), f"“{heals.group()} … {match.group()}” is a medical claim"
                )
                break


NOT_PROMISED = regex(r"\b(?:not|n['’]t|never|no (?:cure|substitute|replacement)|ask|doctor)\b", re.IGNORECASE)
SAYING = frozenset({"title", "headnote", "notes", "storage"})


def _said(subject: Subject, text: Field) -> Iterator[tuple[Diet, str]]:
    """What a text claims, with its words; not where it denies it, or says how to change the dish."""
    for known_diet, wanted in _by_words():
        for match in wanted.finditer(text.text):
            sentence = text.sentence(match.start()).replace("’", "'").replace(match.group(), "")
            behind = text.text[match.end() :].split(maxsplit=1)
            is_food = text.name != "title" and bool(behind) and subject.larder.find(behind[0].strip(".,;:"))
            if not is_food and _words_of("denied").search(sentence) is None:
                yield known_diet, match.group()
                break


@cache
def _by_words() -> tuple[tuple[Diet, Phrases], ...]:
    sorts = (row["sort"] for row in table("diet_words") if plain(row["sort"]) in by_name())
    return tuple((by_name()[plain(sort)], _words_of(sort)) for sort in sorts)


@cache
def _words_of(sort: str) -> Phrases:
    known = phrases(next(row["words"] for row in table("diet_words") if row["sort"] == sort))
    if known is None:
        raise ValueError(f"diet_words.csv has no words for {sort}")
    return known
