"""A card to embed in a page of another system: its markup and a style that affects nothing else, no script.

It inherits type and colours from its surroundings. Its style comes first and names its hash, for a page whose
content security policy must allow it; it may as well be moved into that page's head.
"""

from __future__ import annotations

from pathlib import Path

from markupsafe import Markup

from cardsmith.render.templates import environment
from cardsmith.site.assets import style
from cardsmith.site.policy import digest
from cardsmith.site.recipe_page.view import PageView

PREFIX = "recipe-card"  # every class and id begins with it, so that neither side's rules affect the other
_OWN = 'class="'


def render_fragment(view: PageView, templates: Path) -> str:
    """The card as a style and an article, both systems side by side."""
    css = style(templates, "site/fragment.css")
    template = environment(templates).get_template("site/fragment.html.j2")
    return template.render(
        view=view, say=view.card.say, style=css, digest=Markup(digest(css)), prefix=PREFIX, own=own
    )


def own(markup: Markup) -> Markup:
    """Markup of the page with the fragment's prefix before each class."""
    # Text can't hold this: its quotes are escaped.
    return Markup(str(markup).replace(_OWN, f"{_OWN}{PREFIX}-"))
