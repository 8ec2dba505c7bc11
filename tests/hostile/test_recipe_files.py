"""Files meant to choke the reader: each ends inside a second, with a message that says what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.flow import prepare
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from tests.pace import within

LARDER, HOUSE = load_larder(), load_house(Path(__file__).parents[2])
LINES = "title: x\ningredients:\n"
FILES: dict[str, tuple[bytes, str]] = {
    "aliases": (b"a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n", "yaml-sign"),
    "deep": (b"[" * 90_000, "yaml-depth"),
    "deep blocks": (b"".join(b" " * row + b"a:\n" for row in range(300)), "yaml-depth"),
    "50 MB": (b"a" * 50_000_000, "file-too-large"),
    "no UTF-8": (b"\xff\n" * 4_000, "not-utf-8"),
    "NUL": (b"title: a\0b\n", "control-character"),
    "twice": (b"title: a\ntitle: b\n", "duplicate-key"),
    "merge": (b"title: x\n<<: {kind: bread}\n", "yaml-merge"),
    "digits": (f"{LINES}  - {'9' * 2_900} g flour\n".encode(), "number-too-long"),
    "a paragraph": (f"{LINES}  - {'much ' * 1_000} flour\n".encode(), "text-too-long"),
    "digits beyond all": (f"{LINES}  - {'9' * 10_000} g flour\n".encode(), "long-run"),
    "by nothing": (f"{LINES}  - 1/0 cup flour\n".encode(), "unreadable-amount"),
    "direction": ("title: a\u202eb\n".encode(), "control-character"),
    "lines": ((LINES + "  - 200 g rye flour\n" * 150).encode(), "too-many"),
    "lines beyond all": ((LINES + "  - 200 g rye flour\n" * 4_000).encode(), "too-many"),
    "steps": (("title: x\nsteps:\n" + "  - Bake.\n" * 100).encode(), "too-many"),
    "dashes": (b"-a\n" * 40_000, "file-too-large"),
    "fewer dashes": (b"-a\n" * 4_900, "yaml-dash"),
    "flow": (b"{" + b"a: b, " * 19_000 + b"}", "file-too-large"),
    "quotes": (b"'" * 100_000, "long-run"),
    "blanks": (b"title: a" + b" " * 100_000 + b"b\n", "long-run"),
    "digits in a title": (b"title: " + b"9" * 10_000 + b"\n", "long-run"),
    "digits in a yield": (b"title: x\nyield: {makes: " + b"9" * 10_000 + b" crackers}\n", "long-run"),
    "colons": (b"a: " * 40_000, "yaml-colon"),
    "dashes in a headnote": (b"title: x\nheadnote: a" + b"-" * 40_000 + b"\n", "long-run"),
    "marks on one letter": (f"title: a{chr(0x301) * 5_000}\n".encode(), "long-run"),
}
# What a careless pattern tries in every way, as often as a recipe may hold it.
FRAGMENTS = [
    "1 ", "a, ", "1-", "1\u00a0", "\u00a0a", "1 to ", "1 cup ", "350 °F ", "to 350 ", "a-", "for the ",
    "(a) ", "½ ", "a b ",
]  # fmt: skip
FIELDS = {"ingredients": (250, 79), "steps": (1_900, 10), "equipment": (1_900, 10)}


@pytest.mark.parametrize("name", FILES)
def test_a_hostile_file_is_told_inside_a_second(name: str) -> None:
    data, wanted = FILES[name]
    with within(2):
        prepared = prepare("x", data, "x", LARDER, HOUSE)
    assert wanted in {one.name for one in prepared.findings}
    assert not prepared.printable


@pytest.mark.parametrize("fragment", FRAGMENTS)
@pytest.mark.parametrize("field", FIELDS)
def test_as_much_as_may_be_is_checked_soon(field: str, fragment: str) -> None:
    length, times = FIELDS[field]
    one = (fragment * length)[:length]
    rows = f'  - "{one}"\n' * times
    with within(3):  # the slowest took 0.8 s
        prepare("x", f"title: x\n{field}:\n{rows}".encode(), "x", LARDER, HOUSE)


def test_text_in_other_scripts_stays_as_it_is() -> None:
    prepared = prepare("x", "title: \u05dc\u05d7\u05dd e\u0301\n".encode(), "x", LARDER, HOUSE)
    assert prepared.recipe is not None
    assert prepared.recipe.title == "\u05dc\u05d7\u05dd e\u0301"
    assert "control-character" not in {one.name for one in prepared.findings}
