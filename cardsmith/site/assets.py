"""What a page holds inside itself: its style sheets, its script, and its fonts where it stands alone."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from markupsafe import Markup
from rjsmin import jsmin

from cardsmith.regex import regex
from cardsmith.render.templates import data_uri
from cardsmith.site.near_faces import with_near_faces

_SPACE = regex(r'("[^"]*")|\s*([{};,])\s*|: +')  # none of a text in quotes
_COMMENT = regex(r"/\*.*?\*/", re.DOTALL)
CARD = ("look.css", "look-web.css", "site/card.css", "site/timers.css")  # below templates/
SCRIPTS = (
    "site/files/phrases.js",
    "site/files/timers.js",
    "site/dom.js",
    "site/card.js",
    "site/stove.js",
)  # of a card's page, in order


@cache
def style(templates: Path, *names: str, fonts: str = "") -> Markup:
    """Style sheets joined into one, with the web fonts of the folder that ``fonts`` leads to.

    Without it they are in the style as data, since a page may be read from a folder or a mail.
    """
    css = "\n".join((templates / name).read_text(encoding="utf-8") for name in names)
    if fonts:
        css = with_near_faces(css, templates)
    css = "\n".join(line.strip() for line in _COMMENT.sub("", css).splitlines() if line.strip())
    css = _SPACE.sub(lambda match: match[1] or match[2] or ":", css).replace(";}", "}")
    if fonts:
        return Markup(css.replace('"webfonts/', f'"{fonts}'))  # the house's own file, not a recipe's text
    for font in sorted((templates / "webfonts").glob("*.woff2")):
        css = css.replace(f"webfonts/{font.name}", data_uri("font/woff2", font.read_bytes()))
    return Markup(css)


@cache
def script(templates: Path, *names: str) -> Markup:
    """Scripts below ``templates/`` joined into one, without their indents and comments."""
    code = "\n".join((templates / name).read_text(encoding="utf-8") for name in names)
    return Markup(jsmin(code))
