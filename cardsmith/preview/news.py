"""What a preview's last build told, for the pages that show it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
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

    def with_recipe(self, recipe: str, news: News) -> News:
        """This news, with that of one recipe replaced by what a build of it alone said."""
        others = [finding for finding in self.findings if self.recipe_of(finding) != recipe]
        own = [finding for finding in news.findings if self.recipe_of(finding) == recipe]
        drafts = {name: page for name, page in (self.drafts or {}).items() if name != recipe}
        return replace(
            news,
            findings=tuple(sorted((*others, *own), key=lambda finding: str(finding["file"]))),
            drafts=drafts | {name: page for name, page in (news.drafts or {}).items() if name == recipe},
        )

    def is_wrong(self, recipe: str) -> bool:
        """Whether a recipe has an error, and so no page in the site."""
        return any(
            finding["severity"] == "error" and self.recipe_of(finding) == recipe for finding in self.findings
        )
