from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

import cardsmith
from cardsmith.check.explain import EXAMPLES, FILES, READING, Example, catalogue, explained
from cardsmith.check.formula.ratios import ratios
from cardsmith.check.run import BY_NAME, CHECKS, judge
from cardsmith.finding import CardsmithError, Severity
from cardsmith.house.print_tables import LISTS
from cardsmith.measure.larder import load_larder
from cardsmith.portion.label import taken_back
from cardsmith.portion.prices import COLUMNS, PRICES, read_prices
from cardsmith.portion.teardown.schema import ENERGY, FIGURES, NUTRIENTS, PANEL
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.model import Recipe
from cardsmith.recipe.schema.kinds import Key, Lines, Record
from tests.check.bench import found, house, recipe

PLACES = {"line", "step", "list", "method", "card"}


def draft(one: Example, text: str) -> Recipe:
    """A recipe with nothing but the example in it."""
    if one.place == "step":
        return recipe([], text.split(" / "), kind=one.kind, time=None)
    lines, _, steps = text.partition(" | ")
    method = steps.split(" / ") if steps else ["Stir everything together."]
    return recipe(lines.split("; "), method, kind=one.kind, time=None)


def grave(one: Recipe) -> Counter[str]:
    """The errors and warnings of all checks, by name."""
    found = judge(one, load_larder(), house()).findings
    return Counter(finding.name for finding in found if finding.severity is not Severity.NOTE)


# What a program can cook from: all but those that show a field of the card.
READABLE = [one for one in EXAMPLES.values() if one.place != "card"]


def test_every_check_has_one_example() -> None:
    """A new check adds its row to cardsmith/reference/check_examples.csv."""
    assert sorted(EXAMPLES) == sorted(one.name for one in CHECKS)


@pytest.mark.parametrize("one", list(EXAMPLES.values()), ids=lambda one: one.name)
def test_example_shows_a_change(one: Example) -> None:
    assert one.place in PLACES
    assert one.faulty
    assert one.mended
    assert one.faulty != one.mended


@pytest.mark.parametrize("one", READABLE, ids=lambda one: one.name)
def test_faulty_example_is_questioned_and_the_mended_one_is_not(one: Example) -> None:
    assert {finding.name for finding in found(one.name, draft(one, one.faulty))} == {one.name}
    assert found(one.name, draft(one, one.mended)) == ()
    assert grave(draft(one, one.mended)) - grave(draft(one, one.faulty)) == Counter()


def test_explaining_gives_why_source_remedy_and_example() -> None:
    assert explained("scale-missing") == (
        "scale-missing (error)\n"
        "  A temperature without its scale; the likely one is offered, never assumed.\n"
        "  why:     350 in one scale burns what 350 in the other bakes.\n"
        "  source:  common practice, no source\n"
        "  instead: write °C or °F\n"
        "  example: Heat the oven to 350.\n"
        "           → Heat the oven to 350 °F.\n"
        "  A reason under accepted: does not silence it at error: only a change of the recipe does."
    )


def test_explaining_an_example_of_a_kind_names_the_kind() -> None:
    assert "  example: 500 g bread flour; 50 g instant yeast (kind: yeast-bread)" in explained("high-yeast")


def test_explaining_an_unknown_check_offers_the_nearest() -> None:
    with pytest.raises(
        CardsmithError,
        match="there is no check, kind or file called 'scale-mising'; did you mean 'scale-missing'",
    ):
        explained("scale-mising")
    with pytest.raises(CardsmithError, match="`cardsmith explain` lists them all"):
        explained("qqqq")


def _fields(record: Record, outer: tuple[Key, ...] = ()) -> Iterator[tuple[Key, ...]]:
    """Every key of a file, with those it stands under."""
    for field in record.fields:
        yield (*outer, field)
        inner = field.kind.record if isinstance(field.kind, Lines) else field.kind
        if isinstance(inner, Record):
            yield from _fields(inner, (*outer, field))


KEYS = [(file, path) for file, (_, record) in FILES.items() for path in _fields(record)]


@pytest.mark.parametrize(
    ("file", "path"), KEYS, ids=[".".join((file, *(one.name for one in path))) for file, path in KEYS]
)
def test_every_key_of_a_file_is_told_with_its_example(file: str, path: tuple[Key, ...]) -> None:
    lines = [line.strip() for line in explained(file).splitlines()]
    at = [number for number, line in enumerate(lines) if line.startswith(f"{path[-1].name} (")]
    assert any(f"example: {path[-1].example}" in lines[number + 2 : number + 5] for number in at)
    assert path[-1].help.endswith(".")


@pytest.mark.parametrize(
    ("file", "path"),
    [(file, path) for file, path in KEYS if file.endswith(".yaml")],
    ids=[".".join((file, *(one.name for one in path))) for file, path in KEYS if file.endswith(".yaml")],
)
def test_the_example_of_a_key_fits_its_file(file: str, path: tuple[Key, ...]) -> None:
    """Wrapped in the keys it stands under, each with what else is required there."""
    record = FILES[file][1]
    records = [record, *(one.kind.record if isinstance(one.kind, Lines) else one.kind for one in path[:-1])]
    example = path[-1].example
    for at in range(len(path) - 1, -1, -1):
        within = records[at]
        assert isinstance(within, Record)
        others = [one.example for one in within.fields if one.required and one is not path[at]]
        if at == 0:
            example = "\n".join([example, *others])
        else:
            inside = f"{{{', '.join([example, *others])}}}"
            listed = isinstance(path[at - 1].kind, Lines)
            example = f"{path[at - 1].name}: {f'[{inside}]' if listed else inside}"
    source = read_source(example.encode(), file)
    assert source.root is not None
    _, findings = shaped(source.root, source.text.split("\n"), record, "file")
    found = (*source.findings, *findings)
    assert [str(one) for one in found if one.name != "missing-key"] == []


def test_the_example_of_a_label_is_a_figure_that_a_label_prints() -> None:
    panel = {field.name: field.example.partition(": ")[2] for field in PANEL.fields}
    assert list(panel) == list({key: None for keys in NUTRIENTS.values() for key in keys})
    for law, keys in NUTRIENTS.items():
        for key, nutrient in keys.items():
            figure = FIGURES[law][nutrient]
            parts = figure.split(" / ") if key == "energy" else [figure]
            names = ENERGY if key == "energy" else (nutrient,)
            assert all(taken_back(name, part) for name, part in zip(names, parts, strict=True)), figure
            assert panel[key] == figure or key == "protein"


def test_the_examples_of_the_price_list_are_a_row_that_can_be_used() -> None:
    cells = [one.example.partition(": ")[2] for one in PRICES.fields]
    table = f"{','.join(COLUMNS)}\n{','.join(cells)}\n"
    prices, findings = read_prices(table.encode(), "prices.csv", load_larder())
    assert findings == ()
    assert len(prices.prices) == 1


def test_every_kind_is_explained_with_its_limits() -> None:
    told = explained("kinds").split("\n\n")
    assert [one.partition(":")[0] for one in told] == list(ratios())
    for kind, one in zip(ratios(), told, strict=True):
        assert one.count("\n") >= len(ratios()[kind])
    assert "  sugar: 1.5 to 2.3 times the egg white [common practice, no source]" in told[1]
    assert explained("crispbread") == explained("cracker") == told[0]
    assert "  a portion holds: 40 to 600 kcal, at most 3 g of salt" in told[0]


def test_the_catalogue_lists_all_that_can_be_explained() -> None:
    names = [line.split("  ")[0] for line in catalogue().splitlines() if line and not line.endswith(":")]
    assert names == [*(one.name for one in CHECKS), *READING, "kinds", "tables", *FILES, *LISTS]
    assert all(explained(name) for name in names)


# Functions of the package that make a finding, and take its name among their arguments.
MAKERS = {
    "Finding",
    "error",
    "tell",
    "_told",
    "_error",
    "_finding",
    "_fault",
    "_refused",
    "fault",
    "Fault",
    "_no_unit",
}


def _finding_names() -> Iterator[str]:
    for path in sorted(Path(cardsmith.__file__).parent.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            for given in (*node.args, *(one.value for one in node.keywords)) if called in MAKERS else ():
                if isinstance(given, ast.Constant) and re.fullmatch("[a-z]+(-[a-z]+)+", str(given.value)):
                    yield str(given.value)


def test_the_name_of_every_finding_is_explained() -> None:
    names = set(_finding_names())
    assert len(names) > 80
    assert sorted(name for name in names if name not in READING and name not in BY_NAME) == []
