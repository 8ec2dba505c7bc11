"""A draft from its bytes to recipe files: read, sorted, put together, written, accounted for."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterator

from cardsmith.draft.lines import Draft, ListMark, Sort
from cardsmith.draft.making.recipe import DraftedRecipe, missing_words, recipes_of
from cardsmith.draft.making.yaml_file import as_yaml
from cardsmith.draft.reading.quoted import unquoted
from cardsmith.draft.reading.read import read_draft
from cardsmith.draft.sorting.counting import as_numbered
from cardsmith.draft.sorting.sort import Sorted, is_of_recipe, is_recipe, sort_lines
from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.publication import plain_name
from cardsmith.measure.larder import Larder

_MANY = {  # how a count names what it counts
    Sort.LABELLED: "other keys",
    Sort.STORAGE: "of storage",
    Sort.EQUIPMENT: "of equipment",
    Sort.KEPT: "kept as comments",
}
LONGEST_NAME = 60


@frozen
class DraftedFile:
    """A recipe file that was made of a draft."""

    name: str  # of its folder
    text: str
    recipe: DraftedRecipe


@frozen
class Drafted:
    """All that became of one draft."""

    draft: Draft
    sorted_: tuple[Sorted, ...]
    files: tuple[DraftedFile, ...]

    @property
    def count(self) -> str:
        """How many lines became what: "12 lines: 1 title, 5 ingredients, 4 steps, 2 kept as comments"."""
        return counted(self.draft, self.sorted_)

    @property
    def unsure(self) -> tuple[Sorted, ...]:
        """The lines that may be something else."""
        return tuple(block for block in self.sorted_ if block.else_ is not None)


def draft_of(data: bytes, name: str, larder: Larder) -> Drafted:
    """The recipe files that a draft's bytes become; ``name`` is that of its file.

    Raises:
        CardsmithError: it can't be read, or nothing in it is a recipe.
    """
    draft = as_numbered(read_draft(data, name))
    sorted_blocks = sort_lines(draft, larder)
    if not is_recipe(sorted_blocks) and any(line.quoted for line in draft.lines):
        draft = as_numbered(unquoted(draft))
        sorted_blocks = sort_lines(draft, larder)
    if not any(map(is_of_recipe, sorted_blocks)):
        raise CardsmithError(
            f"{name} holds no line that reads as an ingredient or a step; nothing was written"
        )
    files: list[DraftedFile] = []
    taken: set[str] = set()
    for recipe in recipes_of(sorted_blocks, larder):
        named = _free(folder_name(recipe.title or name.rpartition(".")[0] or name), taken)
        taken.add(named)
        files.append(DraftedFile(name=named, text=as_yaml(recipe, name), recipe=recipe))
    _hold_to_it(draft, files, sorted_blocks)
    return Drafted(draft=draft, sorted_=sorted_blocks, files=tuple(files))


def _hold_to_it(draft: Draft, files: list[DraftedFile], sorted_blocks: tuple[Sorted, ...]) -> None:
    """Nothing is lost: each word and figure of the draft stands in a file, or its key says it."""
    said = [file.text for file in files]
    said += [part for file in files for part in _dropped(file.recipe)]
    said += [block.block.text for block in sorted_blocks if block.sort is Sort.LABEL]
    said += [block.block.dropped for block in sorted_blocks]
    missing = missing_words(" ".join(line.text for line in draft.lines), said)
    if missing:
        raise AssertionError(f"lost of {draft.name}: {' '.join(missing[:12])}")


def _dropped(recipe: DraftedRecipe) -> Iterator[str]:
    """What the keys of a recipe say in place of words of its lines."""
    for items in recipe.fields.values():
        yield from (item.dropped for item in items)
    yield from recipe.again
    for part in recipe.parts:
        yield part.name.dropped if part.name else ""
        yield from (item.dropped for item in (*part.ingredients, *part.steps))


def counted(draft: Draft, sorted_blocks: tuple[Sorted, ...]) -> str:
    """How many of a draft's lines became what, each line counted once."""
    sorts: dict[int, Sort] = {}
    for block in sorted_blocks:
        for line in block.block.lines:
            if sorts.get(line.number, Sort.LABEL) is Sort.LABEL:
                sorts[line.number] = block.sort
    ruled = {line.number for line in draft.lines if line.mark is ListMark.RULE}
    number = Counter(sort for line, sort in sorts.items() if line not in ruled)
    counts = [f"{number[sort]} {_named(sort, number[sort])}" for sort in Sort if number[sort]]
    counts += [f"{len(ruled)} without words"] if ruled else []
    lines = len(draft.lines)
    return f"{lines} line{'s' * (lines != 1)}: {', '.join(counts)}"


def _named(sort: Sort, number: int) -> str:
    return _MANY.get(sort) or f"{sort}{'s' * (number != 1)}"


def folder_name(title: str) -> str:
    """The name of a recipe's folder by its title: "Crème brûlée" is creme-brulee."""
    plain = unicodedata.normalize("NFKD", title.replace("’", "").replace("'", ""))
    letters = "".join(character for character in plain if not unicodedata.combining(character))
    name = plain_name(letters, "untitled")
    return name if len(name) <= LONGEST_NAME else name[: LONGEST_NAME + 1].rpartition("-")[0]


def _free(name: str, taken: set[str]) -> str:
    if name not in taken:
        return name
    return next(free for number in range(2, len(taken) + 3) if (free := f"{name}-{number}") not in taken)
