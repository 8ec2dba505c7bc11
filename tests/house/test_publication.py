"""Which files a command means."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication, named_files


def test_two_files_of_one_name_are_told_apart(tmp_path: Path) -> None:
    """Both would be the card ``thins``, and one of them would be left out unsaid."""
    for name in ("a", "b"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "thins.yaml").write_text("title: Thins\n", encoding="utf-8")
    one, other = str(tmp_path / "a/thins.yaml"), str(tmp_path / "b/thins.yaml")
    with pytest.raises(CardsmithError, match="would both be the card 'thins'"):
        named_files(Publication(root=tmp_path), (one, other))
    assert named_files(Publication(root=tmp_path), (one, one)) == {"thins": Path(one)}
