"""What holds of every text a reader is given, however odd; the tests and the long runs ask the same."""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from fractions import Fraction
from pathlib import Path

from cardsmith.bench.file.load import read_trials
from cardsmith.bench.next.text import text_of as next_text
from cardsmith.bench.next.trial import next_trial
from cardsmith.bench.papers.report import report
from cardsmith.finding import CardsmithError, Finding, Severity, Where
from cardsmith.flow import prepare
from cardsmith.house.own.tables import MAX_TOLD
from cardsmith.house.style import load_house, read_house
from cardsmith.language.commonmark import visible
from cardsmith.language.prose.fields import LONGEST_TEXT, read_prose
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Draw, Measured
from cardsmith.measure.larder import load_larder
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import System, Unit
from cardsmith.portion.portion import portion
from cardsmith.portion.portion_file import read_facts
from cardsmith.portion.prices import read_prices
from cardsmith.portion.report import text as as_text
from cardsmith.portion.teardown.load import read_teardown
from cardsmith.portion.teardown.programme import feasible
from cardsmith.portion.teardown.text import in_words
from cardsmith.recipe.fields.lines import read_line
from cardsmith.recipe.fields.steps import read_step
from cardsmith.recipe.load import read_recipe
from cardsmith.recipe.model import Ingredient

ROOT = Path(__file__).parents[2]
WHERE, LARDER, HOUSE = Where(file="x", line=1, column=1), load_larder(), load_house(ROOT)
RECIPE = read_recipe("x", (ROOT / "recipes/bay-custard-pots/recipe.yaml").read_bytes(), "x", LARDER)[0]
assert RECIPE is not None
# Words that say how the rest is meant and have a field of their own, or join what is read apart.
SAID = frozenset(
    "a an and or of the plus minus less to for your taste optional if desired you like liked wish using "
    "divided use each apiece per total weight altogether in all about between one needed required half "
    "quarter as".split()
)
_WORD = re.compile(r"[^\W\d_¼-¾⅐-⅞]{2,}")


def _is_exact(quantity: Quantity | None) -> None:
    if quantity is not None:
        assert type(quantity.low) is Fraction
        assert type(quantity.high) is Fraction
        assert quantity.low <= quantity.high


def _names(unit: Unit) -> tuple[str, ...]:
    return unit.name, unit.plural


def _places(findings: Iterable[Finding], rows: int) -> None:
    for one in findings:
        assert 0 <= one.where.line <= rows, one
        assert one.where.column >= 0, one
        assert one.what, one
        assert one.instead, one


def line(text: str) -> Ingredient:
    """An ingredient line: amounts are exact, and every word is somewhere unless an error says why not."""
    read, findings = read_line(text, WHERE, LARDER)
    assert read.text == text
    box = read.container
    quantities = (read.amount, *read.stated, *((box.count, box.each) if box else ()))
    for quantity in quantities:
        _is_exact(quantity)
    _places(findings, 1)
    if all(one.severity is not Severity.ERROR for one in findings):
        kept = (
            read.item, read.prep, read.for_use, read.form, read.size, *read.alternatives,
            *(word for one in quantities if one for word in (one.written, one.bound, *_names(one.unit))),
            box.word if box else "", read.food.name if read.food else "", *(one.what for one in findings),
        )  # fmt: skip
        there = " ".join(kept).casefold()
        lost = [word for word in _WORD.findall(text.casefold()) if word not in SAID and word not in there]
        assert not lost, (text, lost, read)
    return read


def step(text: str) -> None:
    """Running text: spans make up all a reader sees, measures lie in it in order, amounts are exact."""
    read, findings = read_step(text, WHERE)
    if len(text) <= LONGEST_TEXT:
        assert "".join(span.text for span in read.spans) == visible(text)
    for span in (*read.spans, *read_prose(text, WHERE)):
        match span:
            case Measured(sides=sides, stated=stated):
                for quantity in (*sides, *stated):
                    _is_exact(quantity)
            case Draw(amount=amount, share=share):
                _is_exact(amount)
                assert share is None or type(share) is Fraction
    _places(findings, text.count("\n") + 1)
    for measures in (System.US, System.METRIC) if len(text) <= LONGEST_TEXT else ():
        end = 0
        for one in readings(text, measures):
            assert end <= one.start < one.end <= len(text)
            end = one.end


def house(data: bytes) -> None:
    """A house file: read, or refused in lines that name it."""
    said = "house.yaml"
    try:
        read_house(data)
    except CardsmithError as refused:
        said = str(refused)
    told = said.split("\n")
    assert all(line.startswith(("house.yaml", "and ")) for line in told)
    assert len(told) <= MAX_TOLD + 1
    assert all(len(line) < 1_000 for line in told)


def beside(name: str, data: bytes) -> None:
    """A file beside a recipe: its faults have places in it, and what it says can be worked with."""
    rows = data.count(b"\n") + data.count(b"\r") + 1
    match name:
        case "trials.yaml":
            trials, findings = read_trials("x", data, name, LARDER)
            if trials and trials.trials and not _stopped(findings):
                report(trials, "A dish", "cracker", HOUSE, LARDER)
                with suppress(CardsmithError):  # nothing is aimed at
                    next_text(next_trial(trials, LARDER), "a-dish")
        case "teardown.yaml":
            label, findings = read_teardown(data, name, LARDER)
            if label and not _stopped(findings):
                in_words(label, feasible(label))
        case "portion.yaml":
            facts, findings = read_facts(data, name, RECIPE.ingredients, LARDER)
            if not _stopped(findings):
                as_text(portion(RECIPE, load_larder(), facts=facts))
        case _:
            prices, findings = read_prices(data, name, LARDER)
            as_text(portion(RECIPE, load_larder(), prices=prices, food_cost=HOUSE.portion.food_cost))
    _places(findings, rows)


def _stopped(findings: Iterable[Finding]) -> bool:
    return any(one.severity is Severity.ERROR for one in findings)


def file(data: bytes) -> None:
    """A recipe file: read, checked and rewritten with findings, never with an exception."""
    prepared = prepare("x", data, "x.yaml", LARDER, HOUSE)
    _places(prepared.findings, data.count(b"\n") + data.count(b"\r") + 1)
    if prepared.recipe is not None:
        for part in prepared.recipe.parts:
            for ingredient in part.ingredients:
                _is_exact(ingredient.amount)
    else:
        assert prepared.findings
