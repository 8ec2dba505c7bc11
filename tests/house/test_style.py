"""The house file: read exactly, refused clearly."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.house.own.tables import MAX_TOLD
from cardsmith.house.settings import SiteStyle
from cardsmith.house.style import HOUSE, load_house, read_house
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.values import values
from cardsmith.recipe.schema.kinds import Record
from cardsmith.recipe.schema.recipe import places

ROOT = Path(__file__).parents[2]
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
        ("tagline:", "tagliine:", "3:1: there is no key “tagliine”; write: tagline:"),
        ("  cup: [", "  cupp: [", "46:3: there is no key “cupp” in ladders; write: cup:"),
        (
            "order: [us, metric]",
            "order: [us, us]",
            "7:8: order: it takes each system once at most, and one at least; "
            "write order: [us, metric], or order: [metric]",
        ),
        (
            "allergens: [US, EU]",
            "allergens: []",
            "6:12: allergens: it takes each law once at most, and one at least; "
            "write allergens: [US, EU], or leave the line out",
        ),
        ("allergens: [US, EU]", "allergens: [US, UK]", "“UK” is not a choice for allergens"),
        (
            "ratio_limit: 3 %",
            "ratio_limit: three",
            "31:14: ratio_limit: “three” is not a number such as 5, 0.5",
        ),
        ("ratio_limit: 3 %", "", "2:1: the house lacks its ratio_limit; add: ratio_limit: 3 %"),
        ("sides: 2", "sides: ''", "13:7: card lacks its sides; add: sides: 2"),
        ("https://pellwick.example/", "https://pellwick.example", "one that ends with a slash"),
        ("pellwick.example,2025", "pellwick", "a year in which you held it"),
        ("https://pellwick.example/", "", "25:7: site: the address is empty"),
        (
            "{paper: letter",
            "{paper: leter",
            "“leter” is not a choice for paper; write letter; it takes letter, a4",
        ),
        (
            "signed_by: [Author, Test kitchen, Copy editor, Editor, Art]",
            "signed_by: Editor",
            "28:35: signed_by takes a list of names, not one text; write: signed_by: [Editor]",
        ),
        ("language: en-US", "language: fr", "5:11: “fr” is not a choice for language; it takes en, en-US"),
        ("language: en-US", "language: en-us", "“en-us” is not a choice for language; write en-US"),
        ("notes: 7.5", "notes: 10", "notes are larger than the smallest text; write notes: 9.5, or less"),
    ],
)
def test_a_faulty_house_says_where_what_and_what_instead(old: str, new: str, told: str) -> None:
    assert TEXT.count(old) == 1
    with pytest.raises(CardsmithError, match=r"^house\.yaml:") as fault:
        read_house(TEXT.replace(old, new))
    assert told in str(fault.value)
    assert str(fault.value).count("\n") == 0


def test_a_house_that_is_no_yaml_says_where() -> None:
    with pytest.raises(CardsmithError, match=r"^house\.yaml:7:\d+: .+; ."):
        read_house(TEXT.replace("order: [us, metric]", "order: [us, metric"))


def test_every_fault_is_told_in_one_run() -> None:
    faults = {
        5: ("language: en-US", "language: fr"),
        13: ("sides: 2, cards: 2", "sides: 3, cards: 0"),
        17: ("each_column: true", "each_column: perhaps"),
        34: ("leavener: 7 %", "leavener: much"),
        54: ("step: 0.1}", "step: 0}"),
    }
    text = TEXT
    for old, new in faults.values():
        assert old in text
        text = text.replace(old, new)
    with pytest.raises(CardsmithError) as fault:
        read_house(text)
    rows = [int(line.split(":")[1]) for line in str(fault.value).split("\n")]
    assert rows == sorted([*faults, 13])


def test_a_list_of_faults_ends() -> None:
    keys = "".join(f"key_{number}: x\n" for number in range(80))
    with pytest.raises(CardsmithError) as fault:
        read_house(keys + TEXT)
    lines = str(fault.value).split("\n")
    assert len(lines) == MAX_TOLD + 1
    assert lines[-1] == "and 30 more"


@pytest.mark.parametrize("text", ["", "# a remark\n"])
def test_an_empty_house_says_how_one_begins(text: str) -> None:
    with pytest.raises(CardsmithError, match=r"^house\.yaml: the file is empty; `cardsmith new`"):
        read_house(text)


@pytest.mark.parametrize("key", ["tagline", "credit", "site"])
def test_what_a_new_publication_has_not_yet_may_be_empty(key: str) -> None:
    empty = '{address: "", tag: ""}' if key == "site" else '""'
    rows = [f"{key}: {empty}" if row.startswith(f"{key}:") else row for row in TEXT.split("\n")]
    house = read_house("\n".join(rows))
    assert getattr(house, key) == (SiteStyle() if key == "site" else "")


def test_each_key_has_an_example_that_is_read() -> None:
    """An example stands for the value in a file; those of records are shortened, and stand for none."""
    for path in places(HOUSE):
        if not isinstance(path[-1].kind, Record):
            assert path[-1].help.endswith(".")
            source = read_source(path[-1].example.encode(), "house.yaml")
            assert source.root
            root, misshapen = shaped(source.root, [path[-1].example], Record(fields=(path[-1],)), "house")
            assert not misshapen
            assert root
            value, unfit = values(root, Record(fields=(path[-1],)))
            assert not unfit
            assert value[path[-1].name] is not None


@pytest.mark.parametrize(
    ("language", "law"), [("en-US", "US"), ("en-GB", "EU"), ("en-IE", "EU"), ("en-AU", ""), ("en", "")]
)
def test_the_language_tells_whose_law_a_card_declares_by(language: str, law: str) -> None:
    assert read_house(TEXT.replace("language: en-US", f"language: {language}")).declares == law
