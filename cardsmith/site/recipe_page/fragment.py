"""A card to embed in a page of another system: its markup and a style that affects nothing else, no script.

It inherits type and colours from its surroundings and nothing else: its style undoes whatever rules of theirs
reach into it. That style comes first and names its hash, for a page whose content security policy must allow
it; it may as well be moved into that page's head. Nothing in it is hidden, so nothing can come to light.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path

from markupsafe import Markup, escape

from cardsmith.render.templates import environment
from cardsmith.rewrite.wording import ENGLISH
from cardsmith.site.aloud import named
from cardsmith.site.assets import style
from cardsmith.site.policy import digest
from cardsmith.site.recipe_page.view import PagePhoto, PageView
from cardsmith.words import FixedWords

PREFIX = "recipe-card"  # every class and id begins with it, so that neither side's rules affect the other
_OWN = 'class="'


def render_fragment(
    view: PageView, templates: Path, *, photo: PagePhoto | None = None, page: str = ""
) -> str:
    """The card as a style and an article, both systems side by side.

    ``photo`` is a picture by its whole web address, ``page`` that of the recipe; empty where there is none.
    """
    css = fragment_style(templates)
    title = view.card.plain_title.replace("--", "–")
    head = f"<!-- {escape(title)}. For a content security policy: style-src {digest(css)} -->"
    return f"{head}\n<style>{css}</style>\n{fragment_article(view, templates, photo=photo, page=page)}"


def fragment_style(templates: Path) -> Markup:
    """The style of every fragment."""
    return style(templates, "site/fragment.css")


def fragment_article(
    view: PageView, templates: Path, *, photo: PagePhoto | None = None, page: str = "", level: int = 2
) -> Markup:
    """The article alone; ``level`` is that of its title among the headings of the page around it."""
    template = environment(templates).get_template("site/fragment.html.j2")
    return Markup(
        template.render(
            view=view,
            say=view.card.say,
            photo=photo,
            page=page,
            level=level,
            prefix=PREFIX,
            own=partial(own, say=view.card.say),
        )
    )


def own(markup: Markup, say: FixedWords = ENGLISH) -> Markup:
    """Markup of the card with the fragment's prefix before each class, its fractions named for the ear."""
    # Text can't hold this: its quotes are escaped.
    return named(Markup(str(markup).replace(_OWN, f"{_OWN}{PREFIX}-")), say)
