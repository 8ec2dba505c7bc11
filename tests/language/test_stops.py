"""Where sentences end."""

from __future__ import annotations

from itertools import pairwise

import pytest

from cardsmith.language.stops import sentences, stops
from cardsmith.language.tokens import ABBREVIATIONS, ENDS, tokenize

CASES = (  # | after each stop and what it closes
    ("Stir. Serve.", "Stir.| Serve.|"),
    ("Stir; serve", "Stir;| serve"),
    ("Is it done? Not yet! Wait.", "Is it done?| Not yet!| Wait.|"),
    ("Say “stop.” Go on (or not.) Then (rest).", "Say “stop.”| Go on (or not.)| Then (rest).|"),
    ("Roll to 2.5 mm: cut.", "Roll to 2.5 mm: cut.|"),
    ("Add ca. 10 g. Stir.", "Add ca. 10 g.| Stir.|"),
    ("Use a No. 10 tip, at most approx. 3 cm.", "Use a No. 10 tip, at most approx. 3 cm.|"),
    ("Cool on the piano. Cut.", "Cool on the piano.| Cut.|"),
    ("It may carry E. coli. Bake to 350 F. Cool.", "It may carry E. coli.| Bake to 350 F.| Cool.|"),
    (
        "Keep up to 2 days. (No tasting.) Add 2 lb. (900 g) more.",
        "Keep up to 2 days.| (No tasting.)| Add 2 lb. (900 g) more.|",
    ),
    ("", ""),
)


@pytest.mark.parametrize(("text", "cut"), CASES)
def test_a_sentence_ends_behind_its_stop_and_what_that_closes(text: str, cut: str) -> None:
    ends = [0, *(end for _, end in stops(text)), len(text)]
    assert "|".join(text[a:b] for a, b in pairwise(ends)) == cut


@pytest.mark.parametrize("word", sorted(ABBREVIATIONS))
def test_an_abbreviation_ends_no_sentence(word: str) -> None:
    assert [start for start, _ in stops(f"Add {word.title()}. 3 of it. Stir")] == [
        len(f"Add {word}. 3 of it")
    ]


def test_a_stop_inside_a_numeral_is_none() -> None:
    text = "Bake 10 min. at 200 °C. Rest."
    assert [text[:end] for _, end in stops(text, range(5, 12).__contains__)] == [
        "Bake 10 min. at 200 °C.",
        text,
    ]


@pytest.mark.parametrize(("text", "cut"), CASES)
def test_sentences_are_cut_at_the_same_stops(text: str, cut: str) -> None:
    assert [*sentences(text)] == [piece for piece in cut.split("|") if piece]


def test_a_semicolon_parts_no_whole_sentence() -> None:
    assert [*sentences("Walk to the wood; pick them. Fry.", whole=True)] == [
        "Walk to the wood; pick them.",
        " Fry.",
    ]


@pytest.mark.parametrize("text", [text for text, _ in CASES])
def test_tokens_end_where_sentences_do(text: str) -> None:
    tokens = tokenize(text)
    ends = [tokens[at].start for at in range(len(tokens)) if tokens[at].text in ENDS and tokens.is_stop(at)]
    assert ends == [start for start, _ in stops(text)]
