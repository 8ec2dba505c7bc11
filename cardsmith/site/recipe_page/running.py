"""Running text in which a reader may have one system or both: ``325 °F (160 °C)``, ``325 °F``, ``160 °C``.

Without script, and without style, both stand as they do on the printed card. What only one system alone
shows is hidden in the markup itself; the style sheet shows it where the reader asked for that system.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from markupsafe import Markup, escape

from cardsmith.language.spans import Protected, Words
from cardsmith.render.typeset import marks
from cardsmith.rewrite.card.model import Rewritten, Timed
from cardsmith.rewrite.card.prose import ARTICLE, with_article
from cardsmith.site.aloud import aloud, text
from cardsmith.words import FIRST, FixedWords, around_english, fixed_words

SHORTEST_TIMER = 10  # seconds; nobody sets a timer for less
LONGEST_TIMER = 24 * 3600
NO_ROWS: Mapping[str, str] = MappingProxyType({})
_NOTHING = Markup()


def running(
    pieces: Iterable[Words | Protected | Rewritten],
    order: tuple[str, ...],
    place: str = "",
    rows: Mapping[str, str] = NO_ROWS,
    language: str = FIRST,
) -> Markup:
    """The text as HTML, both systems in the order of the house.

    The author's sentence is English; its numbers are written, and its fractions read, in ``language``.

    ``place`` names a step: its measures then carry what their derivation is filed under, and by ``rows`` the
    line of the list that they are drawn from, its times what a timer needs.
    """
    made: list[Markup] = []
    measures = 0
    article = ""
    every = tuple(pieces)
    voice = fixed_words(language)
    for number, piece in enumerate(every):
        after = every[number + 1] if number + 1 < len(every) else None
        if isinstance(piece, Rewritten):
            key = f"{place}-{measures}" if place else ""
            made.append(_measure(piece, article, key, rows.get(piece.ingredient, ""), voice))
            measures += 1
            article = ""
        elif isinstance(piece, Words):
            before = piece.text
            match = ARTICLE.search(before) if isinstance(after, Rewritten) and not piece.emphasis else None
            article = before[match.start() :] if match else ""
            said = before.removesuffix(article) if article else before
            made.append(_words(piece, said, voice, timed=bool(place)))
        else:
            made.append(aloud(escape(piece.text), voice))
    return _NOTHING.join(made)


def _words(piece: Words, said: str, voice: FixedWords, *, timed: bool) -> Markup:
    if piece.emphasis in {"em", "strong"}:
        return Markup("<{0}>{1}</{0}>").format(piece.emphasis, text(said, voice))
    if timed and isinstance(piece, Timed) and SHORTEST_TIMER <= piece.quantity.low <= LONGEST_TIMER:
        high = (
            Markup(' data-most="{}"').format(int(piece.quantity.high))
            if piece.quantity.is_range
            else _NOTHING
        )
        return Markup('<span class="time" data-seconds="{}"{}>{}</span>').format(
            int(piece.quantity.low), high, text(said, voice)
        )
    return text(said, voice)


def _measure(piece: Rewritten, article: str, key: str, row: str, voice: FixedWords) -> Markup:
    """One measure; ``article`` is the *a* or *an* before it, which follows the number that is shown."""
    say = around_english(voice.language)
    first, *others = (marks(piece.said(system, say)) for system in piece.order)
    why = Markup(' data-why="{}"').format(key) if key else _NOTHING
    why += Markup(' data-of="{}"').format(row) if row else _NOTHING
    if not set(others) - {first}:
        return Markup('{}<span class="measure"{}>{}</span>').format(
            article, why, text(marks(piece.in_words(say)), voice)
        )
    (second,) = others
    before = marks(f"{piece.lead}{piece.bound}")
    if before:  # about 8 inches: the article stays with the word
        before, article = article + before, ""
    alone = with_article(article, piece.amount.of(piece.order[1])) if article else ""
    between, after = piece.marks
    return Markup(
        '<span class="measure"{why}>{before}<span class="{one}">{first}</span>'
        '<span class="{other}-only" hidden>{second}</span><span class="both">{joint}</span>'
        "{after}</span>"
    ).format(
        why=why,
        before=text(before, voice),
        one=piece.order[0],
        other=piece.order[1],
        first=text(article + first, voice),
        second=text(alone + second, voice),
        joint=text(f"{between}{second}{after}", voice),
        after=text(marks(piece.tail), voice),
    )
