"""HTML: what a page shows, line by line, and what its own data (schema.org) say of it."""

from __future__ import annotations

from typing import Any

from cardsmith.draft.lines import Draft, ListMark, Sort
from cardsmith.draft.reading.gathering import Gathering
from cardsmith.draft.reading.recipe_data import recipes_in
from cardsmith.finding import CardsmithError

_HEADINGS = {f"h{level}": level for level in range(1, 7)}
_BLOCKS = frozenset(
    "address article blockquote body center dd details div dl dt fieldset figcaption figure form hr html "
    "label legend li main ol p pre section summary table tbody tfoot thead tr ul".split()
) | frozenset(_HEADINGS)  # fmt: skip
_FURNITURE = frozenset(
    "nav footer aside script style noscript template button select svg head iframe".split()
)
_PROPERTIES = {
    "recipeingredient": Sort.INGREDIENT,
    "ingredients": Sort.INGREDIENT,
    "recipeinstructions": Sort.STEP,
}
MOST_LEVELS = 200


def read_page(text: str, name: str) -> Draft:
    """The lines of a page: those of its data, then what of its text these don't tell.

    Raises:
        CardsmithError: it holds no text.
    """
    from lxml import etree, html  # noqa: PLC0415 - most drafts are text

    try:
        root = html.document_fromstring(text.partition("?>")[2] if text.startswith("<?xml") else text)
    except (etree.ParserError, ValueError) as fault:
        raise CardsmithError(f"{name} holds no text; paste the recipe from the page") from fault
    gathering = Gathering()
    for script in root.iter("script"):
        if (script.get("type") or "").lower() == "application/ld+json":
            recipes_in(script.text or "", gathering)
    data = len(gathering.lines)
    known = {_plain(line.text) for line in gathering.lines} | {
        _plain(line.text.partition(":")[2]) for line in gathering.lines
    }
    page = _Page()
    page.walk(root, ListMark.NONE, None, 0)
    page.flush(ListMark.NONE, None)
    if not data:
        gathering.take(tuple(page.found.lines))
    for line in page.found.lines if data else ():
        if _plain(line.text) not in known:
            gathering.add(line.written, said=Sort.KEPT)
    remark = "the page's navigation, side notes and foot are left out"
    return Draft(name=name, lines=tuple(gathering.lines), remarks=(remark,) if page.furniture else ())


def _plain(text: str) -> str:
    return "".join(character for character in text.lower() if character.isalnum())


class _Page:
    """The walk over what a page shows; a class only to gather the text between two blocks."""

    def __init__(self) -> None:
        self.found = Gathering()
        self.text = ""
        self.furniture = False

    def walk(self, element: Any, mark: ListMark, said: Sort | None, depth: int) -> None:
        tag = element.tag if isinstance(element.tag, str) else ""
        if not tag or depth > MOST_LEVELS:
            return
        if tag in _FURNITURE:
            self.furniture |= tag in ("nav", "footer", "aside")
            return
        said = _PROPERTIES.get((element.get("itemprop") or "").lower(), said)
        if tag == "br":
            self.text += "\n"
            return
        if tag == "tr":
            self.flush(mark, said)
            self.found.add_row(
                tuple(" ".join(cell.text_content().split()) for cell in element.iter("td", "th"))
            )
            return
        block = tag in _BLOCKS
        if block:
            self.flush(mark, said)
            inner = self._mark(element, tag, mark)
        else:
            inner = mark
        self.text += _shown(element.text)
        for child in element:
            self.walk(child, inner, said, depth + 1)
            if block and isinstance(child.tag, str) and child.tag in _BLOCKS:
                inner = ListMark.NONE if tag != "ol" else inner
            self.text += _shown(child.tail)
        if block:
            self.flush(inner, said, _HEADINGS.get(tag, 0))

    def _mark(self, element: Any, tag: str, mark: ListMark) -> ListMark:
        if tag in _HEADINGS:
            return ListMark.HEADING
        if tag == "li":
            parent = element.getparent()
            return ListMark.NUMBER if parent is not None and parent.tag == "ol" else ListMark.BULLET
        return mark if tag in ("p", "div", "label") else ListMark.NONE

    def flush(self, mark: ListMark, said: Sort | None, level: int = 0) -> None:
        if self.text.strip():
            rows = (" ".join(row.split()) for row in self.text.split("\n"))
            self.found.add("\n".join(filter(None, rows)), mark, level, said)
        self.text = ""


def _shown(text: str | None) -> str:
    return " ".join(f"\0{text}\0".split()).replace("\0", "") if text else ""
