"""What a build reports about one recipe."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from pathlib import Path

from cardsmith.finding import Finding
from cardsmith.frozen import frozen


@frozen
class Built:
    """What became of one recipe."""

    name: str
    file: Path
    files: tuple[str, ...] = ()  # all it has now, below build/
    made: tuple[str, ...] = ()  # products made anew
    why: tuple[str, ...] = ()  # it was looked at again; empty where all still held
    findings: tuple[Finding, ...] = ()  # of every stage, the layout included
    took: Mapping[str, float] = field(
        default_factory=dict, compare=False
    )  # seconds of a processor, by what for
    fault: Exception | None = None  # why it could not be made, where that is no fault of the recipe's
