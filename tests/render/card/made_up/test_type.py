from __future__ import annotations

from typing import Any

BODY, NOTES = 9.5, 7.5  # points, the house's floors


def test_no_type_is_below_the_floor(read: Any) -> None:
    sizes = read.sizes()
    assert sizes[0] >= NOTES - 0.01
    assert any(size >= BODY - 0.01 for size in sizes)
