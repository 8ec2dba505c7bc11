"""A recipe put together from sorted lines: fields and parts, each with the comments that go with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import field, replace

from cardsmith.draft.lines import ListMark, Sort
from cardsmith.draft.making.fields import Item, items_of, part_name
from cardsmith.draft.sorting.pieces import steps_in
from cardsmith.draft.sorting.sort import Sorted
from cardsmith.draft.sorting.words import without_eaters
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder, words

_MADE = frozenset(("make", "prepare", "assemble", "cook", "bake", "the", "for", "to", "a"))


@frozen
class DraftedPart:
    """A component with its lines; the name is empty for what belongs to none."""

    name: Item | None = None
    ingredients: tuple[Item, ...] = ()
    steps: tuple[Item, ...] = ()
    outer: bool = False  # whether labels stand inside it: Filling, Ingredients, Method

    @property
    def telling(self) -> frozenset[str]:
        """The words of its name by which it is known again."""
        return frozenset(words(self.name.text)) - _MADE if self.name else frozenset()


@frozen
class DraftedRecipe:
    """One recipe of a draft."""

    fields: Mapping[str, tuple[Item, ...]] = field(default_factory=dict)  # by the key of the schema
    parts: tuple[DraftedPart, ...] = ()
    sorted_: tuple[Sorted, ...] = ()
    last: tuple[str, ...] = ()  # comments behind all else
    again: tuple[str, ...] = ()  # names of parts that stand above their steps too

    @property
    def title(self) -> str:
        """Its title; empty where it has none."""
        return self.fields["title"][0].text if "title" in self.fields else ""


def recipes_of(sorted_blocks: tuple[Sorted, ...], larder: Larder) -> tuple[DraftedRecipe, ...]:
    """The recipes of a draft, each with all lines from its title up to the next one's."""
    return tuple(_Making(group, larder).recipe() for group in _groups(sorted_blocks))


def _groups(sorted_blocks: tuple[Sorted, ...]) -> Iterator[tuple[Sorted, ...]]:
    """The lines of each recipe: a title behind a list or a method begins another."""
    group: list[Sorted] = []
    cooked = False
    for block in sorted_blocks:
        if block.sort is Sort.TITLE and cooked:
            yield tuple(group)
            group, cooked = [], False
        group.append(block)
        cooked = cooked or block.sort in (Sort.INGREDIENT, Sort.STEP)
    if group:
        yield tuple(group)


class _Making:
    """The walk over the lines of one recipe; a class only to gather what belongs together."""

    def __init__(self, sorted_blocks: tuple[Sorted, ...], larder: Larder) -> None:
        self.found = sorted_blocks
        self.larder = larder
        self.fields: dict[str, list[Item]] = {}
        self.parts: list[DraftedPart] = [DraftedPart()]
        self.current = 0
        self.above: list[str] = []
        self.again: list[str] = []
        self.in_method = False
        alone = [block for block in sorted_blocks if block.sort is Sort.STEP]
        self.one_block = len(alone) == 1 and alone[0].block.mark is ListMark.NONE

    def recipe(self) -> DraftedRecipe:
        for block in self.found:
            self.take(block)
        return DraftedRecipe(
            fields={key: tuple(items) for key, items in self.fields.items()},
            parts=_arranged(self.parts),
            sorted_=self.found,
            last=tuple(self.above),
            again=tuple(self.again),
        )

    def take(self, block: Sorted) -> None:
        """Puts a line where it belongs; what of it finds no place stays as a comment above the next."""
        items = items_of(block, self.larder)
        if block.sort is Sort.STEP and self.one_block:
            items = tuple(replace(items[0], text=text) for text in steps_in(items[0].text))
        items = tuple(self._with_place(items))
        if missing_words(_whole(block), (*_told(items), _of_label(block))):
            self.above += _comments(block)
        match block.sort:
            case Sort.LABEL:
                self._label(block)
            case Sort.PART:
                self._part(items[0], block)
            case Sort.INGREDIENT:
                self.in_method = False
                self._add("ingredients", items)
            case Sort.STEP:
                self.in_method = True
                self._add("steps", items)
            case _:
                for item in items:
                    self.fields.setdefault(item.key, []).append(self._commented(item))

    def _with_place(self, items: tuple[Item, ...]) -> Iterator[Item]:
        """The items that a field has room for: a recipe has one title, one credit, one yield."""
        taken = set(self.fields)
        for item in items:
            if item.several or item.key not in taken:
                taken.add(item.key)
                yield item

    def _commented(self, item: Item) -> Item:
        commented = replace(item, above=tuple(self.above))
        self.above.clear()
        return commented

    def _label(self, block: Sorted) -> None:
        part = self.parts[self.current]
        if block.opens == "steps" and self.in_method and part.steps and not part.ingredients and part.name:
            self._part(part_name(block.block.text), block)  # behind "Before you start", "Cooking" is another
        elif block.opens == "ingredients" and part.name is not None and not part.ingredients:
            self.parts[self.current] = replace(part, outer=True)
        elif block.opens in ("ingredients", "steps") and not part.outer:
            self.current = 0
        self.in_method = block.opens == "steps"

    def _part(self, name: Item, block: Sorted) -> None:
        telling = DraftedPart(name=name).telling
        again = next(
            (
                at
                for at, part in enumerate(self.parts)
                if at
                and (
                    part.telling == telling or (self.in_method and not part.steps and part.telling & telling)
                )
            ),
            None,
        )
        if again is None:
            self.parts.append(DraftedPart(name=self._commented(name)))
            again = len(self.parts) - 1
        elif (known := self.parts[again].name) is not None:
            self.again.append(f"{known.text} {name.dropped}")
            if missing_words(name.text, [known.text]):
                self.above += _comments(block)
        self.current = again

    def _add(self, kind: str, items: tuple[Item, ...]) -> None:
        part = self.parts[self.current]
        commented = tuple(self._commented(item) for item in items)
        if kind == "ingredients":
            self.parts[self.current] = replace(part, ingredients=(*part.ingredients, *commented))
        else:
            self.parts[self.current] = replace(part, steps=(*part.steps, *commented))


def _arranged(parts: list[DraftedPart]) -> tuple[DraftedPart, ...]:
    """The parts with a method for all by itself, where only the last has one, written below all lists."""
    beside, *named = parts
    listed = [part for part in (beside, *named) if part.ingredients]
    with_steps = [part for part in (beside, *named) if part.steps]
    last = named[-1] if named else None
    if last in listed and len(listed) > 1 and with_steps == [last] and last and not last.outer:
        beside = replace(beside, steps=last.steps)
        named[-1] = replace(last, steps=())
    kept = [part for part in named if part.name is not None]
    return (beside, *kept)


# --- nothing is lost ----------------------------------------------------------------------------------


def _told(items: Iterable[Item]) -> Iterator[str]:
    """What items say, and what their keys say for them."""
    for item in items:
        yield from (item.text, item.dropped)


def _whole(block: Sorted) -> str:
    """All that a line says: of a row its cells that no list has, of a title the number it is found by."""
    if block.sort is Sort.TITLE and block.block.mark is ListMark.NUMBER:
        return block.block.first.written
    return block.block.first.text if block.block.mark is ListMark.ROW else block.block.text


def _of_label(block: Sorted) -> str:
    """The words of a label, which the key of its list says; for how many it is, no key says."""
    if block.sort is not Sort.LABEL:
        return ""
    return block.block.text if block.block.mark is ListMark.ROW else without_eaters(block.block.text)


def missing_words(text: str, written: Iterable[str]) -> list[str]:
    """The words and figures of a text that the others don't hold, each counted."""
    have: dict[str, int] = {}
    for other in written:
        for word in _tokens(other):
            have[word] = have.get(word, 0) + 1
    missing = []
    for word in _tokens(text):
        if have.get(word, 0) > 0:
            have[word] -= 1
        else:
            missing.append(word)
    return missing


def _tokens(text: str) -> Iterator[str]:
    run = ""
    for character in f"{text} ":
        if character.isalnum() or character in "%°":
            run += character
        elif run:
            yield run.lower()
            run = ""


def _comments(block: Sorted) -> list[str]:
    """The rows of a block as comments, with their numbers; a rule of dashes has nothing to say."""
    if block.block.mark is ListMark.RULE:
        return []
    return [f"line {line.number}: {line.written}" for line in block.block.lines]
