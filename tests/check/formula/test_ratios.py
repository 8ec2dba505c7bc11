from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.check.formula.ratios import ratios
from cardsmith.check.run import BY_NAME
from cardsmith.facts.kinds import kinds
from cardsmith.finding import Severity
from cardsmith.recipe.model import Recipe
from cardsmith.reference import table
from tests.check.bench import found, part, recipe
from tests.check.cases import GLAZED, of
from tests.check.formula_cases import TRADE


def test_message_gives_the_evidence() -> None:
    (told,) = found("low-hydration", of("200 g all-purpose flour", "76 g water", kind="cracker"))
    assert told.what == ("the water is 38 % of the flour (76 g to 200 g); a cracker usually has 40 to 65 %")
    assert told.instead.startswith("about 100 g of water would be usual")
    assert told.where.line == 2


def test_slip_of_a_digit_is_an_error() -> None:
    (told,) = found("high-salt", of("200 g all-purpose flour", "38 g fine salt", kind="cracker"))
    assert told.severity is Severity.ERROR
    assert told.what.startswith("the salt is 19 % of the flour (38 g to 200 g)")
    assert told.instead.startswith("about 4 g of fine salt would be usual")


def test_part_without_the_denominator_is_not_judged() -> None:
    assert found("high-hydration", GLAZED) == ()
    assert found("low-hydration", GLAZED) == ()


def test_dough_in_two_parts_is_judged_as_one() -> None:
    poolish = part("Poolish", ["200 g bread flour", "200 g water"], ["Stir the flour and water."])
    dough = part("Dough", ["350 g bread flour", "190 g water", "11 g fine salt"], ["Mix everything."])
    for name in ("low-hydration", "high-hydration", "low-salt", "high-salt"):
        assert found(name, recipe(parts=(poolish, dough), kind="yeast-bread")) == ()


def test_pie_is_judged_by_its_pastry() -> None:
    pastry = part("Pastry", ["165 g all-purpose flour", "113 g unsalted butter"], ["Mix everything."])
    crumble = part("Oat crumble", ["95 g all-purpose flour", "10 g unsalted butter"], ["Mix everything."])
    assert found("low-fat", recipe(parts=(pastry, crumble), kind="pie")) == ()
    told = found("low-fat", recipe(parts=(crumble, pastry), kind="cookie"))
    assert told == ()  # a trimming does not count for any kind


@pytest.mark.parametrize("missing", ["a splash of water", "1 glass water", "fine salt, to taste"])
def test_line_without_a_weight_leaves_its_ratio_unjudged(missing: str) -> None:
    one = of("500 g bread flour", missing, kind="yeast-bread")
    name = "low-salt" if "salt" in missing else "low-hydration"
    assert found(name, one) == ()


def test_forgotten_salt_is_asked_about() -> None:
    (told,) = found("low-salt", of("500 g bread flour", "325 g water", kind="yeast-bread"))
    assert told.what.startswith("the salt is 0 % of the flour (0 g to 500 g)")
    assert told.severity is Severity.WARNING


@pytest.mark.parametrize("aside", ["20 g water, for the pan", "20 g water (optional)"])
def test_what_is_for_use_or_optional_does_not_count(aside: str) -> None:
    (told,) = found("low-hydration", of("200 g all-purpose flour", "76 g water", aside, kind="cracker"))
    assert "76 g to 200 g" in told.what


@pytest.mark.parametrize("written", ["cracker", "Cracker", "crackers", "soda bread", "panna-cotta"])
def test_kind_is_known_by_its_names(written: str) -> None:
    assert found("unknown-kind", of("100 g water", kind=written)) == ()


def test_unknown_kind_offers_the_nearest() -> None:
    (told,) = found("unknown-kind", of("100 g water", kind="craker"))
    assert told.instead.startswith("did you mean cracker")


def test_tables_are_whole() -> None:
    assert len([kind for kind, rows in ratios().items() if rows]) >= 30
    assert set(kinds().values()) == set(ratios())
    for name in ("kinds", "ratios", "ratio_names", "part_words", "temperature_bounds", "class_words"):
        assert all(row["source"] for row in table(name)), name
    assert {row["ratio"] for row in table("ratios")} == {row["ratio"] for row in table("ratio_names")}


# Trade formulas, from outside the tables: baker's percentages of Wikipedia's article "Baker percentage"
# (flour 100, water 60, yeast 1, salt 2, oil 1), and the 3-2-1, 1-2-3 and equal-mass rules of common practice.
SOUND = [
    of(
        "500 g bread flour",
        "300 g water",
        "5 g instant yeast",
        "10 g fine salt",
        "5 g olive oil",
        kind="yeast-bread",
    ),
    of("300 g all-purpose flour", "200 g unsalted butter", "100 g water", kind="pie"),
    of("300 g all-purpose flour", "200 g unsalted butter", "100 g granulated sugar", kind="shortbread"),
    of(
        "200 g all-purpose flour",
        "200 g unsalted butter",
        "200 g granulated sugar",
        "4 large eggs",
        kind="pound-cake",
    ),
    of("200 g water", "100 g unsalted butter", "100 g all-purpose flour", "200 g egg", kind="choux"),
    of("250 g all-purpose flour", "250 g whole milk", "2 large eggs", "60 g unsalted butter", kind="pancake"),
    of("100 g all-purpose flour", "200 g whole milk", "100 g egg", kind="crepe"),
    of("240 g all-purpose flour", "80 g unsalted butter", "160 g whole milk", kind="scone"),
    of("240 g all-purpose flour", "240 g whole milk", "2 large eggs", "120 g unsalted butter", kind="muffin"),
    of("90 g olive oil", "30 g red wine vinegar", kind="vinaigrette"),
    of("500 g whole milk", "100 g granulated sugar", "5 large egg yolks", kind="custard"),
    of("200 g bittersweet chocolate", "200 g heavy cream", kind="ganache"),
    of("1 kg cabbage", "24 g fine salt", kind="sauerkraut"),
]


@pytest.mark.parametrize("one", [*SOUND, *TRADE], ids=lambda one: one.kind.text)
def test_formulas_of_the_trade_pass(one: Recipe) -> None:
    names = [f"{side}-{row['ratio']}" for row in table("ratio_names") for side in ("low", "high")]
    assert [told.what for name in names if name in BY_NAME for told in found(name, one)] == []


# Every figure of the trade's table, each with its source: what uses it, or why nothing can.
with (Path(__file__).parents[2] / "data/trade_ratios.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
JUDGED = [(row, pair) for row in ROWS for pair in row["used_by"].split("|") if pair]


def test_every_row_of_the_trade_is_used_or_left_out_with_a_reason() -> None:
    assert [row["preparation"] for row in ROWS if bool(row["used_by"]) == bool(row["left_out"])] == []
    assert all(row["source"] for row in ROWS)


@pytest.mark.parametrize(("row", "pair"), JUDGED, ids=lambda one: one if isinstance(one, str) else "")
def test_limits_hold_what_the_trade_finds_usual(row: dict[str, str], pair: str) -> None:
    """What the trade calls usual is never questioned; ``differs`` says where the counting is another."""
    kind, _, name = pair.partition(":")
    mine = [one for one in ratios()[kind] if one.ratio == name]
    assert mine, "no such ratio"
    if row["differs"] or row["unit"] == "parts":
        return
    scale = 1 if row["unit"] == "times" else 100
    (one,) = (one for one in mine if (one.unit == "times") == (row["unit"] == "times"))
    for end in ("low", "typical", "high"):
        if row[end]:
            usual = Fraction(row[end]) / scale
            assert (one.low or 0) <= usual <= (usual if one.high is None else one.high), end


def test_what_would_be_usual_is_an_amount_of_the_line() -> None:
    """Cream is a third fat, and more of it makes the whole heavier too."""
    lines = ["80 g heavy cream", "300 g whole milk", "145 g granulated sugar", "90 g egg yolks"]
    (told,) = found("low-milk-fat", of(*lines, kind="ice-cream"))
    amount = told.instead.partition(" would")[0]
    lines[0] = amount.removeprefix("about ").replace(" of ", " ")
    assert found("low-milk-fat", of(*lines, kind="ice-cream")) == ()
    assert found("high-milk-fat", of(*lines, kind="ice-cream")) == ()


def test_what_a_line_only_dilutes_is_told_in_all() -> None:
    (told,) = found("low-solids", of("1 kg whole milk", "100 g granulated sugar", kind="ice-cream"))
    assert told.instead.startswith("about 418 g of solids in all would be usual")
