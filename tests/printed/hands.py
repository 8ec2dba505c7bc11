"""Lines and sentences of other hands, with what may print of each: their labels against the printed page.

    python -m tests.printed.hands lines

A row holds what each column may show, alternatives between bars, and of a sentence all of several with `&`
between. `print` may be asked nothing about its numbers; `ask` must be asked, `stop` must not print. A label
that was wrong is mended where it stands.
"""

# ruff: noqa: T201 - a script that prints for its reader

from __future__ import annotations

import csv
import re
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.printed.adapter import Shown, line_as_printed, sentence_as_printed
from tests.printed.measure import ABOUT_NUMBERS

FOLDER = Path(__file__).parent / "hands"
SPELLED = {
    "tablespoons": "tbsp", "tablespoon": "tbsp", "teaspoons": "tsp", "teaspoon": "tsp", "ounces": "oz",
    "ounce": "oz", "pounds": "lb", "pound": "lb", "inches": "inch", "feet": "foot", "ft": "foot",
    "cups": "cup", "quarts": "quart", "liters": "l", "liter": "l", "litres": "l", "litre": "l", "one": "1",
    "two": "2", "half": "½", "plus": "", "in": "", "all": "", "each": "", "and": "", "of": "", "a": "",
    "heaped": "heaping", "by": "×", "x": "×", "meters": "m", "metres": "m", "psi": "pound",
}  # fmt: skip


def rows(name: str) -> list[dict[str, str]]:
    with (FOLDER / name).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


def plain(text: str) -> str:
    """``text`` as words and figures, units by their symbols: "1 (9-inch) crust" is "1 9 inch crust"."""
    text = re.sub(r"(?<=\d),(?=\d{3})", "", text.lower().replace("−", "-"))
    text = re.sub(r"(?<=[\d⅛¼⅓½⅔¾])(?=[a-z°])", " ", text)
    words = re.findall(r"(?<![^\W\d_])-\d+|\d*[⅛¼⅓⅜½⅝⅔¾⅞]|[\d.]*\d|[^\W\d_]+|[°×%#:µ]", text)
    return " ".join(word for word in (SPELLED.get(one, one) for one in words) if word)


def shows(label: str, printed: str) -> bool:
    """Whether ``printed`` shows each of the parts of a label, in one of the ways that it allows."""
    text = f" {plain(printed)} "
    return all(any(f" {plain(way)} " in text for way in part.split("|")) for part in label.split("&"))


def faults_of(row: dict[str, str]) -> Iterator[str]:
    """What speaks against the way in which a row of a table comes out."""
    line = row.get("line", "")
    shown = line_as_printed(line) if line else sentence_as_printed(row["text"], row["field"])
    if row["expect"] != "print":
        if line and not (shown.stops or shown.asks):
            yield "is not asked about"
        return
    asked = sorted(ABOUT_NUMBERS & {*shown.stops, *shown.asks})
    if asked:
        yield f"is asked about needlessly: {', '.join(asked)}"
    for column in ("us", "metric"):
        printed = _column(shown, column)
        if row[column] and not shows(row[column], printed):
            yield f"shows {printed!r} for {row[column]!r}"


def _column(shown: Shown, column: str) -> str:
    amount = shown.us if column == "us" else shown.metric
    return f"{amount} {shown.item}" if shown.item else amount


def cases(name: str) -> Iterator[tuple[str, str]]:
    """Each text of a table that comes out wrong, and why."""
    for row in rows(name):
        for fault in faults_of(row):
            yield row.get("line") or row["text"], fault


if __name__ == "__main__":
    for text, fault in cases(f"{sys.argv[1]}.csv"):
        print(f"{text}\n    {fault}")
