"""The README's generated block is what the registry says today."""

from __future__ import annotations

import re
from pathlib import Path

from cardsmith.check.explain import READING, explained, markdown_catalogue

README = Path(__file__).parents[1] / "README.md"
BLOCK = re.compile(r"<!-- checks -->\n(.*)\n?<!-- /checks -->", re.DOTALL)


def test_the_catalogue_in_the_readme_is_fresh() -> None:
    """To refresh: python tests/test_readme.py."""
    match = BLOCK.search(README.read_text(encoding="utf-8"))
    assert match
    assert match[1].strip() == markdown_catalogue()


def test_findings_of_the_reader_are_explained_too() -> None:
    for name in READING:
        assert "instead:" in explained(name)


if __name__ == "__main__":
    text = README.read_text(encoding="utf-8")
    fresh = f"<!-- checks -->\n{markdown_catalogue()}\n<!-- /checks -->"
    README.write_text(BLOCK.sub(lambda _: fresh, text), encoding="utf-8")
