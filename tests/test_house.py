"""The house file: read exactly, refused clearly."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.house.style import load_house, read_house

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "templates/house.yaml").read_text(encoding="utf-8")


def test_numbers_are_exact() -> None:
    house = load_house(ROOT)
    assert house.ladders.cup[1] == Fraction(1, 3)
    assert house.ladders.tablespoon[1] == Fraction(3, 2)
    assert house.ladders.gram[0].step == Fraction(1, 10)
    assert house.ratio_limit == Fraction(3, 100)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("tagline:", "tagliine:", "unknown key 'tagliine', did you mean 'tagline'?"),
        ("  cup: [", "  cupp: [", "ladders: unknown key 'cupp', did you mean 'cup'?"),
        ("order: [us, metric]", "order: [us]", "order takes"),
        ("ratio_limit: 3 %", "ratio_limit: three", "a number cannot be read"),
        ("ratio_limit: 3 %", "", "'ratio_limit' is missing"),
        ("order: [us, metric]", "order: [us, metric", "house.yaml"),
        ("https://pellwick.example/", "https://pellwick.example", "ends with a slash"),
        ("pellwick.example,2025", "pellwick", "a year in which you held it"),
        ("https://pellwick.example/", "", "where there is no address"),
        ("{paper: letter", "{paper: leter", "'leter' is not in sheet_sizes.csv; did you mean 'letter'?"),
        ("signed_by: [Author, Test kitchen, Copy editor, Editor, Art]", "signed_by: Editor", "takes a list"),
    ],
)
def test_a_faulty_house_says_what_is_wrong(old: str, new: str, told: str) -> None:
    with pytest.raises(CardsmithError, match=r"house\.yaml") as fault:
        read_house(TEXT.replace(old, new))
    assert told in str(fault.value)
