"""A publication on disk: where its recipes, house style and output are."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from cardsmith.files.reading import Refused, read_plain
from cardsmith.files.writing import OutputFolder
from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.house.files import house_folder, tables_folder
from cardsmith.recipe.folder import NAME
from cardsmith.regex import regex

if TYPE_CHECKING:
    from cardsmith.house.style import House
    from cardsmith.measure.larder import Larder


@frozen
class Publication:
    """One publication's folder."""

    root: Path

    @property
    def recipes(self) -> Path:
        """One folder a recipe."""
        return self.root / "recipes"

    @property
    def build(self) -> Path:
        """All output, and nothing else; a build writes nowhere else in the publication."""
        return self.root / "build"

    @property
    def output(self) -> OutputFolder:
        """The door to `build`: whatever is read, written or taken away there goes through it."""
        return OutputFolder(self.build)

    @property
    def templates(self) -> Path:
        """The house style in use."""
        return house_folder(self.root)

    @property
    def tables(self) -> Path:
        """The folder of the house's own rows of our tables, which need not be there."""
        return tables_folder(self.root)

    def house(self) -> House:
        """The house in use."""
        from cardsmith.house.style import load_house  # noqa: PLC0415 - where a house is read at all

        return load_house(self.root)

    def larder(self) -> Larder:
        """What the kitchen knows: our larder, the house's own rows joined to it."""
        from cardsmith.measure.larder import load_larder  # noqa: PLC0415

        return load_larder(self.house().reference)

    def unknown(self, name: str) -> CardsmithError:
        """What to say of a name that no recipe here has."""
        return CardsmithError(
            f"there is no recipe {name!r}; recipes here: {', '.join(self.names()) or 'none'}"
        )

    def names(self) -> tuple[str, ...]:
        """The recipes there are, in alphabetical order."""
        return tuple(name for name in self._folders() if NAME.fullmatch(name))

    def _folders(self) -> list[str]:
        return sorted(file.parent.name for file in self.recipes.glob("*/recipe.yaml"))

    def file(self, name: str) -> Path:
        """The recipe file of ``name``."""
        return self.recipes / name / "recipe.yaml"

    def read(self, file: Path) -> bytes:
        """The bytes of a recipe file, or of one beside it.

        Raises:
            Refused: it is gone, is not a regular file, or is a link to a place outside the recipes.
        """
        if (data := self._read(file)) is None:
            raise Refused(self.shown(file), "is not there", "put it back, or ask for another")
        return data

    def text(self, file: Path) -> str:
        """The text of a recipe file, to show lines of it in messages; empty where it may not be read."""
        try:
            return self.read(file).decode("utf-8", errors="replace")
        except Refused:
            return ""

    def _read(self, file: Path) -> bytes | None:
        whole = file.absolute()
        folder = self.recipes if whole.is_relative_to(self.recipes) else whole.parent
        return read_plain(whole, folder, self.shown(file))

    def _beside(self, file: Path) -> tuple[bytes, str] | None:
        data = self._read(file)
        return None if data is None else (data, self.shown(file))

    def bench(self, recipe_file: Path) -> tuple[bytes, str] | None:
        """The trials beside a recipe file: their bytes, and their path for messages; None if none are."""
        return self._beside(recipe_file.with_name("trials.yaml"))

    def facts(self, recipe_file: Path) -> tuple[bytes, str] | None:
        """What the kitchen states of a portion, beside a recipe file; None where nothing is."""
        return self._beside(recipe_file.with_name("portion.yaml"))

    def labels(self, recipe_file: Path) -> tuple[bytes, str] | None:
        """The labels of a bought product, beside a recipe file; None where there are none."""
        return self._beside(recipe_file.with_name("teardown.yaml"))

    def prices(self) -> tuple[bytes, str] | None:
        """The publication's price list; None where there is none."""
        return self._beside(self.recipes / "prices.csv")

    def shown(self, file: Path) -> str:
        """A path for messages: relative to the publication's folder."""
        return str(file.relative_to(self.root)) if file.is_relative_to(self.root) else str(file)


BESIDE = ("trials.yaml", "portion.yaml", "teardown.yaml")  # what belongs to the recipe in its folder
OF_ALL = ("house.yaml", "prices.csv")  # what every recipe rests on, beside the house's own tables


def means_all(wanted: tuple[str, ...]) -> bool:
    """Whether all recipes are meant: none is named, or a file on which they all rest."""
    return not wanted or any(map(_is_of_all, wanted))


def _is_of_all(word: str) -> bool:
    file = Path(word)
    from cardsmith.house.own.tables import shape_of  # noqa: PLC0415

    is_table = file.suffix == ".csv" and shape_of(file.stem) is not None
    return (file.name in OF_ALL or is_table) and file.is_file()


def named_files(publication: Publication, wanted: tuple[str, ...]) -> dict[str, Path]:
    """The recipe files meant by names, folders or files in them; all there are where `means_all`.

    Raises:
        CardsmithError: there is no such recipe, or no recipe at all, or two files have one name.
    """
    if means_all(wanted):
        files = {name: publication.file(name) for name in publication.names()}
        if not files:
            raise CardsmithError(
                f"no recipes in {publication.recipes}; `cardsmith new NAME` starts one, "
                "or go to the folder that holds recipes/"
            )
        return files
    files = {}
    for word in wanted:
        file = publication.file(word) if NAME.fullmatch(word) else Path(word)
        if file.is_dir():
            file = file / "recipe.yaml"
        if file.name in BESIDE and file.is_file():
            file = file.with_name("recipe.yaml")
        elif not file.is_file():
            if file.parent.is_dir() and file.name == "recipe.yaml":
                raise CardsmithError(f"{publication.shown(file.parent)} holds no recipe.yaml")
            raise publication.unknown(word)
        name = file.resolve().parent.name if file.name == "recipe.yaml" else file.stem
        if files.setdefault(name, file).resolve() != file.resolve():
            raise CardsmithError(
                f"{files[name]} and {file} would both be the card {name!r}; name one of them otherwise"
            )
    return files


def card_files(publication: Publication, wanted: tuple[str, ...]) -> dict[str, Path]:
    """As `named_files`, for a command that writes files of these names.

    Raises:
        CardsmithError: as there, or a draft's name can't be a card's.
    """
    files = named_files(publication, wanted)
    for name, file in files.items():
        if not NAME.fullmatch(name):
            raise _misnamed(name, printable(publication.shown(file)))
    return files


def _misnamed(name: str, what: str) -> CardsmithError:
    plain = plain_name(name)
    return CardsmithError(
        f"{what} names no recipe: a name is small letters, digits and hyphens, at most 100; "
        f"rename it, such as {plain}"
    )


def plain_name(name: str, else_: str = "rye-crackers") -> str:
    """An allowed name like this one; ``else_`` where no letter of it is allowed."""
    return "-".join(regex("[a-z0-9]+").findall(name.lower()))[:100].strip("-") or else_


def printable(name: str) -> str:
    """A name for a message, without characters that would confuse a terminal."""
    return "".join(letter if letter.isprintable() else "?" for letter in name)[:120]
