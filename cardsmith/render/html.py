"""A card as one self-contained web page: style and fonts inside, no script, nothing fetched."""

from __future__ import annotations

import base64
import mimetypes
from collections.abc import Mapping
from functools import cache
from pathlib import Path

from markupsafe import Markup

from cardsmith.render.templates import environment
from cardsmith.render.view import CardView


def render_html(view: CardView, templates: Path, photos: Mapping[str, bytes]) -> str:
    """The card as HTML5; ``templates`` holds ``card.html.j2``, ``card.css`` and ``webfonts/``."""
    return (
        environment(templates)
        .get_template("card.html.j2")
        .render(view=view, style=_style(templates), photo=_photo(view, photos))
    )


@cache
def _style(templates: Path) -> Markup:
    """The style sheet with the web fonts as data, since the page may be read from a folder or a mail."""
    css = (templates / "card.css").read_text(encoding="utf-8")
    for font in sorted((templates / "webfonts").glob("*.woff2")):
        css = css.replace(f"webfonts/{font.name}", data_uri(font.name, font.read_bytes()))
    return Markup(css)  # the house's own file, not a recipe's text


def _photo(view: CardView, photos: Mapping[str, bytes]) -> str:
    if view.photo is None or view.photo.name not in photos:
        return ""
    return data_uri(view.photo.name, photos[view.photo.name])


def data_uri(name: str, data: bytes) -> str:
    """A file as an address that holds its bytes."""
    kind = (
        "font/woff2"
        if name.endswith(".woff2")
        else mimetypes.guess_type(name)[0] or "application/octet-stream"
    )
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"
