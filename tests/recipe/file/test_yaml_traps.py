"""Each mended line, put in place of the faulty one, takes the fault away and changes no word of the text."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.tree import Scalar, Sequence
from cardsmith.recipe.file.yaml_traps import in_list, mends, quoted

FAULTY = sorted((Path(__file__).parents[1] / "faulty").glob("*.yaml"))

# what an author writes after a dash or a key, and the name of the trap
TEXTS = [
    ("Make the glaze: whisk the sugar", "yaml-colon"),
    ("Rest: 5: then on", "yaml-colon"),
    ("[50 g](#seeds) of sesame goes in", "yaml-bracket"),
    ("{about 5} of them", "yaml-bracket"),
    ("] odd", "yaml-bracket"),
    ("*Fold* gently", "yaml-asterisk"),
    ("**Fold** gently", "yaml-asterisk"),
    ("&c", "yaml-sign"),
    ("@ 5 minutes", "yaml-sign"),
    ("`180` exactly", "yaml-sign"),
    ("%5 salt", "yaml-sign"),
    ("!note", "yaml-sign"),
    ("|Mix| well", "yaml-sign"),
    (">90 % cocoa", "yaml-sign"),
    (", then mix", "yaml-sign"),
    ('"Roll" it out', "yaml-quote"),
    ("'Til golden", "yaml-quote"),
    ('"8" squares"', "yaml-quote"),
]


def written(told: str, before: str) -> str:
    assert told.startswith("write: ")
    return before[: len(before) - len(before.lstrip())] + told.removeprefix("write: ")


@pytest.mark.parametrize("lead", ["title: ", "- ", "    - "], ids=["key", "list", "deep list"])
@pytest.mark.parametrize(("text", "name"), TEXTS, ids=[text for text, _ in TEXTS])
def test_mended_line_is_read_as_the_text(lead: str, text: str, name: str) -> None:
    line = lead + text
    findings = read_source(f"{line}\n".encode(), "x").findings
    if lead.strip() == "-" and not findings:  # only a key's value can't hold a colon: here it made keys
        assert name == "yaml-colon"
        return
    assert [finding.name for finding in findings] == [name]
    mended = read_source(f"{written(findings[0].instead, line)}\n".encode(), "x")
    assert mended.findings == ()
    node = mended.root
    while not isinstance(node, Scalar):
        assert node is not None
        node = node.items[0] if isinstance(node, Sequence) else node.entries[0][1]
    assert node.text in (text, text.strip('"'))


@pytest.mark.parametrize("path", FAULTY, ids=lambda path: path.stem)
def test_mended_line_takes_the_fault_away(path: Path) -> None:
    text = path.read_text("utf-8")
    for finding in read_source(text.encode(), path.name).findings:
        if not finding.instead.startswith("write: ") or "\n" in finding.instead:
            continue
        lines = text.split("\n")
        row = finding.where.line - 1
        mended = written(finding.instead, lines[row])
        if len(mended) > len(lines[row]) + 20 or not mended.startswith(lines[row].split(":")[0][:3]):
            continue  # a text of several lines, mended as one
        lines[row] = mended
        after = read_source("\n".join(lines).encode(), path.name).findings
        assert (finding.name, finding.where) not in [(one.name, one.where) for one in after]


def test_a_file_that_is_sound_is_never_mended() -> None:
    sound = Path(__file__).parents[3] / "recipes"
    files = sorted(sound.glob("*/recipe.yaml"))
    assert files
    for path in files:
        assert read_source(path.read_bytes(), path.name).findings == ()


@pytest.mark.parametrize(
    "line",
    [
        '- Roll to 8" squares, then score.',
        "- It's done when it doesn't wobble.",
        "- 2 (400 g) cans chopped tomatoes, drained",
        "- Use a 4:1 ratio at 10:30.",
        "- 70 % cocoa, 5 & 6, a*b, me@home",
        "- Freeze at\n  -18 °C.",
        "- 5 g salt # flaky is too coarse",
        "- 5 g salt  #",
        "- Whisk — don't fold — 5 minutes",
        "- -5 °C is too cold",
        '- "Note that\n  salt: it matters"',
        "- ~200 g flour",
        "- <b>Mix</b>",
        "- https://example.org/a#b",
    ],
)
def test_what_is_no_trap(line: str) -> None:
    assert read_source(f"steps:\n{line}\n".encode(), "x").findings == ()


@pytest.mark.parametrize(
    ("text", "in_quotes"),
    [
        ("Crackers: seeded", '"Crackers: seeded"'),
        ('8" squares', "'8\" squares'"),
        ("don't use 8\"", "'don''t use 8\"'"),
        ("a \\ b", "'a \\ b'"),
    ],
)
def test_quoted(text: str, in_quotes: str) -> None:
    assert quoted(text) == in_quotes


@given(st.text(alphabet=st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1))
def test_quoted_text_is_read_back(text: str) -> None:
    source = read_source(f"a: {quoted(text)}\nb: [{in_list(text)}]\n".encode(), "x")
    assert source.findings == ()
    assert source.root is not None
    assert not isinstance(source.root, Scalar | Sequence)
    one, other = (value for _, value in source.root.entries)
    assert isinstance(one, Scalar)
    assert one.text == text
    assert isinstance(other, Sequence)
    assert [item.text for item in other.items if isinstance(item, Scalar)] == [text]


def test_no_mend_is_offered_for_what_no_line_can_mend() -> None:
    assert list(mends(["a: [[[["], (0,), "depth")) == []
