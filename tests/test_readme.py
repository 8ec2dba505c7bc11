"""What README.md says is so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardsmith.check.explain import explained

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
TOPICS = sorted(set(re.findall(r"`(?:\S+/)?cardsmith explain ([^`]+)`", README)))


@pytest.mark.parametrize("topic", TOPICS)
def test_what_readers_are_sent_to_is_explained(topic: str) -> None:
    assert explained(topic)
