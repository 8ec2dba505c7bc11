"""CommonMark's inline marks: the visible stretches of a text, and where each character stands in it.

>>> [(run.text, run.kind or run.emphasis) for run in runs_of("*Add* [50 g](#flour).")]
[('Add', 'text'), (' ', 'text'), ('50 g', 'link'), ('.', 'text')]
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING
from urllib.parse import unquote

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.tokens import flat
from cardsmith.regex import regex

_MARKED = regex(r"[\\`*_\[&]")  # what begins any mark that is read; most steps have none

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token


@frozen
class Run:
    """Visible text of one kind; ``places`` says where each character stands in the source."""

    text: str
    places: tuple[int, ...]
    kind: str = "text"  # text, code, link
    emphasis: str = ""
    target: str = ""


@cache
def _markdown() -> MarkdownIt:
    """Emphasis, code spans, links, escapes and entities of CommonMark 0.31; no HTML, no images."""
    from markdown_it import MarkdownIt  # noqa: PLC0415 - a text without any mark is read without it

    rules = ["emphasis", "backticks", "link", "entity", "escape"]
    markdown = MarkdownIt("zero").enable(rules).disable("text_join")
    markdown.validateLink = lambda url: True  # type: ignore[method-assign]  # javascript: links are reported too
    return markdown


def visible(text: str) -> str:
    """What a reader sees of ``text``, without its marks."""
    return "".join(run.text for run in runs_of(text))


def runs_of(text: str) -> list[Run]:
    """The visible stretches of ``text`` in order."""
    plain = flat(text)
    if not _MARKED.search(plain):
        return [Run(text=plain, places=tuple(range(len(plain))))] if plain else []
    tokens = _markdown().parseInline(plain)[0].children or []
    runs: list[Run] = []
    emphasis: list[str] = []
    link: list[Run] | None = None
    target = ""
    cursor = 0
    for token in tokens:
        if token.type in {"em_open", "strong_open"}:
            emphasis.append(token.type.removesuffix("_open"))
        elif token.type in {"em_close", "strong_close"}:
            emphasis.pop()
        elif token.type == "link_open":
            link, target = [], unquote(str(token.attrs["href"]))
        elif token.type == "link_close" and link is not None:
            runs.append(
                Run(
                    text="".join(run.text for run in link),
                    places=tuple(place for run in link for place in run.places),
                    kind="link",
                    target=target,
                )
            )
            link = None
        else:
            start = plain.find(token.markup if token.type == "text_special" else token.content, cursor)
            run = _run(token, max(start, cursor), emphasis)
            cursor = max(start, cursor) + len(token.markup if token.type == "text_special" else token.content)
            (runs if link is None else link).append(run)
    return [run for run in runs if run.text]


def _run(token: Token, start: int, emphasis: list[str]) -> Run:
    special = token.type == "text_special"
    places = tuple(start + (0 if special else offset) for offset in range(len(token.content)))
    if token.type == "code_inline":
        return Run(text=token.content, places=places, kind="code")
    strongest = "strong" if "strong" in emphasis else "em" if emphasis else ""
    return Run(text=token.content, places=places, emphasis=strongest)


def place_of(where: Where, text: str, offset: int) -> Where:
    """Where ``offset`` of a text that begins at ``where`` stands, over line breaks too."""
    before = text[:offset]
    if "\n" not in before:
        return where.at(offset)
    column = offset - before.rindex("\n")
    return Where(file=where.file, line=where.line + before.count("\n"), column=column, field=where.field)
