"""Files at the edge: whole or not at all, and never outside the folder."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from cardsmith.files.writing import write_whole


def test_write_whole_leaves_no_half_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "card.html"
    write_whole(file, b"first")

    def full(descriptor: int) -> None:
        raise OSError("no space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="no space"):
        write_whole(file, b"second")
    assert file.read_bytes() == b"first"
    assert [left.name for left in tmp_path.iterdir()] == ["card.html"]
