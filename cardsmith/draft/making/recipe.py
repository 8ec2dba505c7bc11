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


def recipes_of(found: tuple[Sorted, ...], larder: Larder) -> tuple[DraftedRecipe, ...]:
    """The recipes of a draft, each with all lines from its title up to the next one's."""
    return tuple(_Making(group, larder).recipe() for group in _groups(found))


def _groups(found: tuple[Sorted, ...]) -> Iterator[tuple[Sorted, ...]]:
    """The lines of each recipe: a title behind a list or a method begins another."""
    group: list[Sorted] = []
    cooked = False
    for one in found:
        if one.sort is Sort.TITLE and cooked:
            yield tuple(group)
            group, cooked = [], False
        group.append(one)
        cooked = cooked or one.sort in (Sort.INGREDIENT, Sort.STEP)
    if group:
        yield tuple(group)


class _Making:
    """The walk over the lines of one recipe; a class only to gather what belongs together."""

    def __init__(self, found: tuple[Sorted, ...], larder: Larder) -> None:
        self.found = found
        self.larder = larder
        self.fields: dict[str, list[Item]] = {}
        self.parts: list[DraftedPart] = [DraftedPart()]
        self.current = 0
        self.above: list[str] = []
        self.again: list[str] = []
        self.in_method = False
        alone = [one for one in found if one.sort is Sort.STEP]
        self.one_block = len(alone) == 1 and alone[0].block.mark is ListMark.NONE

    def recipe(self) -> DraftedRecipe:
        for one in self.found:
            self.take(one)
        return DraftedRecipe(
            fields={key: tuple(items) for key, items in self.fields.items()},
            parts=_arranged(self.parts),
            sorted_=self.found,
            last=tuple(self.above),
            again=tuple(self.again),
        )

    def take(self, one: Sorted) -> None:
        """Puts a line where it belongs; what of it finds no place stays as a comment above the next."""
        items = items_of(one, self.larder)
        if one.sort is Sort.STEP and self.one_block:
            items = tuple(replace(items[0], text=text) for text in steps_in(items[0].text))
        items = tuple(self._with_place(items))
        if missing_words(_whole(one), (*_told(items), _of_label(one))):
            self.above += _comments(one)
        match one.sort:
            case Sort.LABEL:
                self._label(one)
            case Sort.PART:
                self._part(items[0], one)
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

    def _label(self, one: Sorted) -> None:
        part = self.parts[self.current]
        if one.opens == "steps" and self.in_method and part.steps and not part.ingredients and part.name:
            self._part(part_name(one.block.text), one)  # behind "Before you start", "Cooking" is another
        elif one.opens == "ingredients" and part.name is not None and not part.ingredients:
            self.parts[self.current] = replace(part, outer=True)
        elif one.opens in ("ingredients", "steps") and not part.outer:
            self.current = 0
        self.in_method = one.opens == "steps"

    def _part(self, name: Item, one: Sorted) -> None:
        told = DraftedPart(name=name).telling
        again = next(
            (
                at
                for at, part in enumerate(self.parts)
                if at
                and (part.telling == told or (self.in_method and not part.steps and part.telling & told))
            ),
            None,
        )
        if again is None:
            self.parts.append(DraftedPart(name=self._commented(name)))
            again = len(self.parts) - 1
        elif (known := self.parts[again].name) is not None:
            self.again.append(f"{known.text} {name.dropped}")
            if missing_words(name.text, [known.text]):
                self.above += _comments(one)
        self.current = again

    def _add(self, kind: str, items: tuple[Item, ...]) -> None:
        part = self.parts[self.current]
        told = tuple(self._commented(item) for item in items)
        if kind == "ingredients":
            self.parts[self.current] = replace(part, ingredients=(*part.ingredients, *told))
        else:
            self.parts[self.current] = replace(part, steps=(*part.steps, *told))


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


def _whole(one: Sorted) -> str:
    """All that a line says: of a row its cells that no list has, of a title the number it is found by."""
    if one.sort is Sort.TITLE and one.block.mark is ListMark.NUMBER:
        return one.block.first.written
    return one.block.first.text if one.block.mark is ListMark.ROW else one.block.text


def _of_label(one: Sorted) -> str:
    """The words of a label, which the key of its list says; for how many it is, no key says."""
    if one.sort is not Sort.LABEL:
        return ""
    return one.block.text if one.block.mark is ListMark.ROW else without_eaters(one.block.text)


def missing_words(text: str, found: Iterable[str]) -> list[str]:
    """The words and figures of a text that the others don't hold, each counted."""
    have: dict[str, int] = {}
    for other in found:
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


def _comments(one: Sorted) -> list[str]:
    """The rows of a block as comments, with their numbers; a rule of dashes has nothing to say."""
    if one.block.mark is ListMark.RULE:
        return []
    return [f"line {line.number}: {line.written}" for line in one.block.lines]
