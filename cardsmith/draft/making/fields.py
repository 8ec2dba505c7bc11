"""What a sorted line becomes: texts for keys of a recipe, in the author's words."""

from __future__ import annotations

from collections.abc import Iterator

from cardsmith.draft.lines import ListMark, Sort
from cardsmith.draft.sorting.facts import facts_of
from cardsmith.draft.sorting.pieces import ingredients_in
from cardsmith.draft.sorting.sort import Sorted
from cardsmith.draft.sorting.words import label_of, named_part, words_in
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder
from cardsmith.regex import regex

_PLAIN_NOTES = frozenset({"note", "notes", "remarks"})
_KEYED = regex(r"(?P<line>.*\S)\s*\{#(?P<key>[^{}#\s]+)\}")
_LISTED = frozenset({"claims", "keywords"})


@frozen
class Item:
    """A text for one key; ``dropped`` is what of its line the key itself says: "Makes", "For the"."""

    key: str
    text: str
    dropped: str = ""
    several: bool = False  # whether the key takes more than one
    above: tuple[str, ...] = ()  # comments
    key_name: str = ""  # of an ingredient, by which steps draw on it


def items_of(block: Sorted, larder: Larder) -> tuple[Item, ...]:
    """The items that a line becomes; none for a label, or for what is kept as a comment."""
    return tuple(_items(block, larder))


def _items(block: Sorted, larder: Larder) -> Iterator[Item]:
    text, key = block.block.text, block.sort.value
    match block.sort:
        case Sort.KEPT | Sort.LABEL:
            return
        case Sort.TITLE:
            yield _behind_label(Item(key=key, text=_without_quotes(text)), key)
        case Sort.HEADNOTE | Sort.STORAGE:
            yield _behind_label(Item(key=key, text=text, several=True), key)
        case Sort.CREDIT | Sort.YIELD | Sort.TIME:
            yield from _facts(text)
        case Sort.EQUIPMENT:
            yield from _equipment(text)
        case Sort.NOTE:
            yield _note(text)
        case Sort.LABELLED:
            yield from _labelled(text)
        case Sort.PART:
            yield part_name(text)
        case Sort.INGREDIENT:
            whole = block.block.mark in (ListMark.BULLET, ListMark.ROW) and "•" not in text
            for piece in (text,) if whole else ingredients_in(text, larder):
                yield _ingredient(piece)
        case Sort.STEP:
            yield Item(key="steps", text=text, several=True)


def _without_quotes(title: str) -> str:
    """A title without the quotes around all of it, and without the stop or the colon behind it."""
    text = title.rstrip(" .:") or title
    return text[1:-1] if text[:1] + text[-1:] in ("“”", '""', "‘’", "''") else text


def _ingredient(text: str) -> Item:
    """A line of the list; what steps draw on has its key behind it: 70 g sesame seeds {#seeds}."""
    keyed = _KEYED.fullmatch(text)
    line, name = (keyed["line"], keyed["key"]) if keyed else (text, "")
    return Item(key="ingredients", text=line, dropped=f"and {name}", several=True, key_name=name)


def _note(text: str) -> Item:
    """A remark; the label of a plain note is its key, that of a tip belongs to it."""
    label = label_of(text)
    item = Item(key="notes", text=text, several=True)
    plain = label is not None and label.label.lower() in _PLAIN_NOTES
    return _behind_label(item, "notes") if plain else item


def _behind_label(item: Item, opens: str) -> Item:
    """An item without the label that its key is."""
    label = label_of(item.text)
    if label is None or label.opens != opens or not label.rest or not label.colon:
        return item
    return Item(key=item.key, text=label.rest, dropped=label.label, several=item.several)


def _facts(text: str) -> Iterator[Item]:
    facts = facts_of(text)
    for fact in facts:
        if fact.key:
            yield Item(key=fact.key, text=fact.text, dropped=f"{fact.lead} and")
    if not facts and (label := label_of(text)) is not None:
        yield Item(key="credit", text=label.rest, dropped=label.label)


def _equipment(text: str) -> Iterator[Item]:
    label = label_of(text)
    rest, dropped = (text, "") if label is None or not label.rest else (label.rest, label.label)
    pieces = _between_commas(rest.rstrip(".")) if dropped or len(words_in(rest)) <= 12 else [rest]
    for piece in pieces:
        yield Item(key="equipment", text=piece, dropped=dropped, several=True)
        dropped = ""


def _labelled(text: str) -> Iterator[Item]:
    label = label_of(text)
    if label is None:
        return
    several = label.opens in _LISTED or label.opens == "cautions"
    pieces = _between_commas(label.rest) if label.opens in _LISTED else [label.rest]
    dropped = label.label
    for piece in pieces:
        yield Item(key=label.opens, text=piece, dropped=dropped, several=several)
        dropped = ""


def _between_commas(text: str) -> list[str]:
    """The pieces of a text between commas that stand in no bracket."""
    pieces, depth = [""], 0
    for character in text:
        depth += (character == "(") - (character == ")")
        if character in ",;" and depth <= 0:
            pieces.append("")
        else:
            pieces[-1] += character
    return [piece.strip() for piece in pieces if piece.strip()]


def part_name(text: str) -> Item:
    """The name of a component as an item; what its place says is dropped."""
    name, dropped = named_part(text)
    return Item(key="name", text=name, dropped=dropped)
