"""A draft as its readers give it: lines with what their file says of each, and what each turns out to be."""

from __future__ import annotations

import enum

from cardsmith.frozen import frozen

LOW = 3  # the level of a heading that is set off by marks, which no title below a line of text has


@enum.unique
class ListMark(enum.StrEnum):
    """What stands before a line, or makes it another thing than text."""

    NONE = ""
    BULLET = "bullet"
    NUMBER = "number"
    HEADING = "heading"
    ROW = "row"  # of a table, in cells
    RULE = "rule"  # a line of dashes or stars, without a word


@enum.unique
class Sort(enum.StrEnum):
    """What a line of a draft is."""

    TITLE = "title"
    HEADNOTE = "headnote"
    YIELD = "yield"
    TIME = "time"
    EQUIPMENT = "equipment"
    LABEL = "label"  # it says what follows: Ingredients, Method
    PART = "part"  # the name of a component
    INGREDIENT = "ingredient"
    STEP = "step"
    STORAGE = "storage"
    NOTE = "note"
    CREDIT = "credit"
    LABELLED = "labelled"  # another key of a recipe by its name: kind, claims, keywords
    KEPT = "kept"  # a letter around the recipe, a note to the editor, or nobody knows: stays as a comment


@frozen
class DraftLine:
    """One line that is not blank, in the author's words."""

    number: int  # its place in the draft, from 1
    text: str  # without its mark
    written: str  # with it
    mark: ListMark = ListMark.NONE
    level: int = 0  # of a heading, 1 the highest
    gap: bool = False  # whether a blank line stands before it
    indent: int = 0
    cells: tuple[str, ...] = ()  # of a row of a table
    quoted: bool = False  # of another's mail
    source: str = ""  # the document that came with a mail and holds it
    said: Sort | None = None  # what the file's own data say it is
    wrapped: bool = False  # whether it may end only because its row was full


@frozen
class Draft:
    """All lines of a draft."""

    name: str
    lines: tuple[DraftLine, ...]
    remarks: tuple[str, ...] = ()  # on how it was read: its encoding, what was left out
