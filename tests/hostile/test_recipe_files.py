"""Files meant to choke the reader: each ends in seconds, with a message that says what is wrong."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from cardsmith.flow import prepare
from cardsmith.house import load_house
from cardsmith.measure.larder import load_larder

LARDER, HOUSE = load_larder(), load_house(Path(__file__).parents[2])
LINES = "title: x\ningredients:\n"
FILES: dict[str, tuple[bytes, str]] = {
    "aliases": (b"a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n", "yaml-sign"),
    "deep": (b"[" * 90_000, "yaml-depth"),
    "deep blocks": (b"".join(b" " * row + b"a:\n" for row in range(300)), "yaml-depth"),
    "50 MB": (b"a" * 50_000_000, "file-too-large"),
    "no UTF-8": (b"\xff\n" * 60_000, "not-utf-8"),
    "NUL": (b"title: a\0b\n", "control-character"),
    "twice": (b"title: a\ntitle: b\n", "duplicate-key"),
    "merge": (b"title: x\n<<: {kind: bread}\n", "yaml-merge"),
    "digits": (f"{LINES}  - {'9' * 2_900} g flour\n".encode(), "number-too-long"),
    "digits beyond all": (f"{LINES}  - {'9' * 10_000} g flour\n".encode(), "text-too-long"),
    "by nothing": (f"{LINES}  - 1/0 cup flour\n".encode(), "unreadable-amount"),
    "direction": ("title: a\u202eb\n".encode(), "control-character"),
    "lines": ((LINES + "  - 200 g rye flour\n" * 150).encode(), "too-many"),
    "lines beyond all": ((LINES + "  - 200 g rye flour\n" * 5_000).encode(), "too-many"),
    "steps": (("title: x\nsteps:\n" + "  - Bake.\n" * 100).encode(), "too-many"),
    "dashes": (b"-a\n" * 40_000, "yaml-syntax"),
    "flow": (b"{" + b"a: b, " * 19_000 + b"}", "file-too-large"),
}


@pytest.mark.parametrize("name", FILES)
def test_a_hostile_file_is_told_soon(name: str) -> None:
    data, wanted = FILES[name]
    start = time.process_time()
    prepared = prepare("x", data, "x", LARDER, HOUSE)
    assert time.process_time() - start < 4  # seconds; 40,000 dashes take 1.9, most take under one
    assert wanted in {one.name for one in prepared.findings}
    assert not prepared.printable


def test_text_in_other_scripts_stays_as_it_is() -> None:
    prepared = prepare("x", "title: \u05dc\u05d7\u05dd e\u0301\n".encode(), "x", LARDER, HOUSE)
    assert prepared.recipe is not None
    assert prepared.recipe.title == "\u05dc\u05d7\u05dd e\u0301"
    assert "control-character" not in {one.name for one in prepared.findings}
