"""Several words in a row of a sentence.

>>> listed(["flour"]), listed(["flour", "water"]), listed(["flour", "water", "salt"], "or")
('flour', 'flour and water', 'flour, water or salt')
"""

from __future__ import annotations

from collections.abc import Sequence


def listed(words: Sequence[str], last: str = "and") -> str:
    """``a, b and c``; empty for none."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"
