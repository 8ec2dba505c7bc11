"""What a preview's last build told, for the pages that show it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import PurePath
from typing import Any

from cardsmith.frozen import frozen


@frozen
class News:
    """What one build told; ``version`` counts them."""

    findings: tuple[Mapping[str, Any], ...] = ()  # with their source lines and places
    fault: str = ""  # why it failed
    drafts: Mapping[str, str] | None = None  # pages of recipes with errors, by name
    editor: str = ""  # the address that opens a file
    version: int = 0

    @staticmethod
    def recipe_of(finding: Mapping[str, Any]) -> str:
        """The recipe whose file a finding is about; empty for a file of the house."""
        folders = PurePath(finding["file"]).parts[:-1]
        return folders[-1] if folders[:-1] == ("recipes",) else ""

    def is_wrong(self, recipe: str) -> bool:
        """Whether a recipe has an error, and so no page in the site."""
        return any(one["severity"] == "error" and self.recipe_of(one) == recipe for one in self.findings)
