"""What an author asks about: a check, a kind of recipe, the keys of a file."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Mapping

from cardsmith.bench.file.schema import TRIALS
from cardsmith.bench.pack.schema import FORM
from cardsmith.check.formula.kind_bands import every_kind, one_kind
from cardsmith.check.registry import Check
from cardsmith.check.run import BY_NAME, CHECKS
from cardsmith.facts.kinds import kinds
from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.files import TABLES as TABLES_FOLDER
from cardsmith.house.own.fact_tables import FACTS
from cardsmith.house.own.tables import PRINTING, shape_of
from cardsmith.house.print_tables import COLUMNS, LISTS, rows_told
from cardsmith.house.style import HOUSE
from cardsmith.portion.portion_file import PORTION
from cardsmith.portion.prices import PRICES
from cardsmith.portion.teardown.schema import TEARDOWN
from cardsmith.recipe.schema.key_reference import key_reference
from cardsmith.recipe.schema.kinds import Record
from cardsmith.recipe.schema.recipe import RECIPE
from cardsmith.reference import OURS, Tables, table


@frozen
class Example:
    """A faulty draft and the mended one. Steps are parted by `` / ``, the list from them by `` | ``."""

    name: str
    place: str  # line, step, list, method, or card: shown only
    kind: str  # the kind of recipe it is a fault in
    faulty: str
    mended: str
    source: str  # each is invented


EXAMPLES = {row["name"]: Example(**row) for row in table("check_examples")}
READING = {row["name"]: row for row in table("reading_findings")}  # findings of stages that are no checks
ANSWER_IN_VAIN = "A reason under accepted: does not silence it at error: only a change of the recipe does."


KINDS, TABLES = "kinds", "tables"
OF_TABLES = f"""\
{TABLES}: what the house knows beside our tables, in {TABLES_FOLDER}/ beside house.yaml, or in the folder
that its key tables names. The first line of a file holds its columns, of which those not required may be
left out; a line that begins with # is a remark. A row of the house takes the place of ours with the same
key; all others of ours stand. Each is held to the rules that ours are held to, and all faults are reported
at once. `cardsmith explain larder.csv` shows the columns of a table; `cardsmith larder add` writes rows of
foods."""
# What each file is, and its keys.
FILES: Mapping[str, tuple[str, Record]] = {
    "recipe.yaml": ("one recipe: recipes/NAME/recipe.yaml", RECIPE),
    "trials.yaml": ("the trials and tastings behind a recipe: recipes/NAME/trials.yaml", TRIALS),
    "form.yaml": ("what a cross-test comes back on: `cardsmith bench pack` writes it", FORM),
    "teardown.yaml": ("the label of a bought product: recipes/NAME/teardown.yaml", TEARDOWN),
    "portion.yaml": ("what the kitchen knows of a portion: recipes/NAME/portion.yaml", PORTION),
    "house.yaml": ("the house style: templates/house.yaml", HOUSE),
    "prices.csv": ("the price list: recipes/prices.csv, a row for each pack, with these columns", PRICES),
}


def explained(name: str, known: Callable[[], Tables] = lambda: OURS) -> str:
    """An explanation of a check or another finding, of all kinds or one, or of a file and its keys.

    ``known`` gives the tables, of which only kinds are asked.

    Raises:
        CardsmithError: there is nothing of that name.
    """
    if name in BY_NAME:
        return _check(BY_NAME[name])
    if name in READING:
        row = READING[name]
        return f"{name} (raised while reading or rounding)\n  {row['about']}\n  instead: {row['instead']}"
    if name in FILES:
        about, record = FILES[name]
        return f"{name}: {about}\n\n{key_reference(record)}"
    if name in LISTS:
        return rows_told(name)
    if name == TABLES:
        return "\n\n".join((OF_TABLES, *map(_table, _tables())))
    if name.endswith(".csv") and (called := name.removesuffix(".csv")) in _tables():
        columns = FACTS[called].columns if called in FACTS else COLUMNS[called]
        return f"{_table(called)}\n\n{key_reference(columns)}"
    tables = known()
    if name == KINDS:
        return every_kind(tables)
    if name in kinds(tables):
        return one_kind(name, tables)
    asked = [*BY_NAME, *READING, *FILES, *LISTS, KINDS, TABLES, *kinds(tables)]
    near = difflib.get_close_matches(name, asked, 1)
    hint = f"did you mean {near[0]!r}?" if near else "`cardsmith explain` lists them all"
    raise CardsmithError(f"there is no check, kind or file called {name!r}; {hint}")


def _tables() -> tuple[str, ...]:
    return (*FACTS, *PRINTING)


def _table(name: str) -> str:
    """A table that a house may have rows of: what a row is, its columns, and which of them identify a row."""
    shape = shape_of(name)
    assert shape is not None  # of each in `_tables`
    about = PRINTING[name] if name in PRINTING else FACTS[name].about
    apart = ", or by ".join(" + ".join(key) for key in shape.keys)
    return f"{name}.csv: {about}\n  columns: {', '.join(shape.columns)}\n  told apart by {apart}"


def _check(known: Check) -> str:
    """Why it exists, on what it rests, what to do, and an example."""
    rows = [
        f"{known.name} ({known.severity})",
        f"  {known.about}",
        f"  why:     {known.why}",
        f"  source:  {known.source}",
        f"  instead: {known.remedy}",
    ]
    example = EXAMPLES.get(known.name)
    if example:
        kind = f" (kind: {example.kind})" if example.kind else ""
        rows += [f"  example: {example.faulty}{kind}", f"           → {example.mended}"]
    return "\n".join(rows if known.acceptable else [*rows, f"  {ANSWER_IN_VAIN}"])


def catalogue() -> str:
    """All that can be explained, one a line: every check in its order, other findings, kinds, files."""
    listed = [
        *((check.name, f"{check.severity:<7}  {check.about}") for check in CHECKS),
        ("\nraised while reading, at the bench, about prices or by a build:", ""),
        *((name, row["about"]) for name, row in READING.items()),
        ("\nkinds of recipes, and files with their keys:", ""),
        (KINDS, "every kind of recipe, and what is usual for it"),
        (TABLES, "what a house may know beside our tables: foods, words, kinds, pans, printers"),
        *((name, about) for name, (about, _) in FILES.items()),
        *((name, print_list.about) for name, print_list in LISTS.items()),
    ]
    width = max(len(name) for name, about in listed if about)
    return "\n".join(f"{name:<{width}}  {about}".rstrip() for name, about in listed)
