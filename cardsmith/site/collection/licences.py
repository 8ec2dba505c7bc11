"""Under which terms the site passes on what others made: its typefaces and the library of its search."""

from __future__ import annotations

from pathlib import Path

_RULE = "\n" + "-" * 78 + "\n\n"


def licences(templates: Path) -> bytes:
    """The licences of the fonts, then those of scripts, whole, as each asks to be handed on."""
    fonts = sorted((templates / "fonts").glob("*-OFL.txt"))
    scripts = sorted((templates / "site" / "files").glob("*-LICENSE.txt"))
    licences = (f"{file.stem}\n\n{file.read_text(encoding='utf-8').strip()}\n" for file in (*fonts, *scripts))
    return _RULE.join(licences).encode()
