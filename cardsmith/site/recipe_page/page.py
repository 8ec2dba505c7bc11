"""A card's page: one file that holds its style and script, and loads nothing from another host."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.render.templates import environment
from cardsmith.site.addresses import FONTS
from cardsmith.site.aloud import fractions_in, spoken
from cardsmith.site.assets import CARD, SCRIPTS, script, style
from cardsmith.site.edition_links import EditionLink
from cardsmith.site.policy import policy
from cardsmith.site.recipe_page.view import PagePhoto, PageView
from cardsmith.site.script_data import json_in_html
from cardsmith.site.ways import PageLink
from cardsmith.words import said_by_scripts


@frozen
class Links:
    """What a page within the site links to, relative to itself; empty for none."""

    top: str  # what leads to the top of the site: ../../
    home: str  # what leads to the top of its edition: ../../, or ../../../uk/
    ways: tuple[PageLink, ...] = ()
    filed: tuple[PageLink, ...] = ()  # where else in the site it stands: its part of the meal, its kind
    feed: str = ""
    canonical: str = ""  # the one web address of this recipe
    editions: tuple[EditionLink, ...] = ()  # of the recipe; none where it has but one
    oembed: str = ""  # what pages of others ask to show it, a whole address


def render_page(
    view: PageView,
    templates: Path,
    *,
    photo: PagePhoto | None = None,
    links: Links | None = None,
    data: Mapping[str, Any] | None = None,
) -> str:
    """The card as HTML5: a file by itself with its fonts inside, or with ``links`` a page of the site.

    ``data`` is what the page says to machines (structured.py).
    """
    css = style(templates, *CARD, fonts=f"{links.top}{FONTS}/" if links else "")
    code = script(templates, *SCRIPTS)
    sizes = {batch.key: {"figures": batch.figures, "derived": batch.derived} for batch in view.batches}
    about = json_in_html(data) if data else Markup()
    other = json_in_html(sizes | {"words": words_for(view)}) if sizes else Markup()
    phrases = said_by_scripts(view.card.language)
    own = json_in_html(phrases) if phrases else Markup()
    # Data in a script element is not run, but some checkers want it in the policy all the same.
    scripts = [script for script in (code, about, other, own) if script]
    return (
        environment(templates)
        .get_template("site/card.html.j2")
        .render(
            view=view,
            say=view.card.say,
            phrases=own,
            photo=photo,
            links=links,
            style=css,
            script=code,
            policy=policy([css], scripts, own_files=links is not None),
            sizes=other,
            data=about,
        )
    )


def words_for(view: PageView) -> dict[str, str]:
    """Each fraction that another batch size shows in the list, in words."""
    figures = (text for batch in view.batches for pair in batch.figures.values() for text in pair)
    signs = sorted({sign for text in figures for sign in fractions_in(text)})
    return {sign: spoken(sign, view.card.say) for sign in signs}
