"""The one door to a folder of output: it follows no link, and nobody ever sees a part of a file.

Whoever sends a publication may lay links below ``build/``. So every folder on the way is opened from the one
above it and refused where it is a link, and so is the file itself (open(2), O_NOFOLLOW; openat(2)).
"""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Set
from contextlib import contextmanager, suppress
from pathlib import Path

from cardsmith.files.reading import Refused, Stamp, digest_of
from cardsmith.frozen import frozen

_FOLDER = os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW | os.O_CLOEXEC
_FILE = os.O_NOFOLLOW | os.O_CLOEXEC | os.O_NONBLOCK  # a pipe is not waited for
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | _FILE
_WRITING = 3600  # seconds: a hidden file so young is one that another command is writing


@frozen(kw_only=False)
class OutputFolder:
    """A folder that is written to. Links may lead to it; it is none itself, and none is followed below it.

    Paths are relative to it, their parts joined by slashes.
    """

    root: Path

    def place(self, path: str = "") -> Path:
        """The whole path, for a library that opens files by itself.

        Raises:
            Refused: it, or a folder on the way to it, is a link.
        """
        place = self.root
        for part in ("", *self._parts(path)):
            place = place / part
            if place.is_symlink():
                raise self._refused(place)
        return place

    def read(self, path: str) -> bytes | None:
        """The bytes of a file; None where there is none, it is no plain one, or a link leads to it."""
        try:
            with os.fdopen(self.open(path, os.O_RDONLY), "rb") as stream:
                return stream.read()
        except (FileNotFoundError, NotADirectoryError, IsADirectoryError, Refused):
            return None

    def open(self, path: str, flags: int) -> int:
        """The descriptor of a plain file, which no other name leads to if it is to be written.

        Raises:
            Refused: it is none such, or a link leads to it.
        """
        writes = flags & os.O_ACCMODE != os.O_RDONLY
        with self._above(path, make=writes) as (folder, name):
            file = self._opened(folder, name, flags | _FILE, self.root / path)
        seen = os.fstat(file)
        if not stat.S_ISREG(seen.st_mode) or (writes and seen.st_nlink > 1):
            os.close(file)
            raise self._refused(self.root / path, "is not a plain file, or has another name elsewhere")
        return file

    def write(self, path: str, data: bytes, through: str = "") -> Stamp:
        """Write a file whole or not at all; as `replace`."""
        return self.replace({path: data}, through)[path]

    def replace(self, files: Mapping[str, bytes], through: str = "") -> dict[str, Stamp]:
        """Put files in the place of older ones; at no moment, however it ends, does new stand beside old.

        Raises:
            Refused: a link stands in the way.
        """
        with self.staged(files, through) as put:
            self.remove(list(files)[1:])
            return put()

    @contextmanager
    def staged(
        self, files: Mapping[str, bytes], through: str = ""
    ) -> Iterator[Callable[[], dict[str, Stamp]]]:
        """Write files under other names, in ``through``, else each beside its own; yield what renames them.

        A full disk is met here. The caller removes what must not stand beside them, then calls what it was
        given: each file gets its name, the first before the others. What has none at the end is removed.

        Raises:
            Refused: a link stands in the way.
        """
        waiting: dict[str, str] = {}  # by the path it is for
        try:
            for path, data in files.items():
                waiting[path] = self._beside(path, through)
                self._put(waiting[path], data)
            yield lambda: {path: self._name(waiting[path], path, data) for path, data in files.items()}
        finally:
            with suppress(OSError):
                self.remove(waiting.values())

    def _beside(self, path: str, through: str) -> str:
        folder, slash, name = path.rpartition("/")
        return f"{through or folder}{'/' if through else slash}.{name}.{os.urandom(4).hex()}"

    def _put(self, path: str, data: bytes) -> None:
        with self._above(path, make=True) as (folder, name):
            file = self._opened(folder, name, _NEW, self.root / path)
        with os.fdopen(file, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
            os.fchmod(stream.fileno(), 0o644)

    def _name(self, waiting: str, path: str, data: bytes) -> Stamp:
        with self._above(waiting) as (before, old), self._above(path, make=True) as (folder, name):
            with _named(self.root / path):
                os.replace(old, name, src_dir_fd=before, dst_dir_fd=folder)
            seen = os.stat(name, dir_fd=folder, follow_symlinks=False)
        return Stamp.of(digest_of(data), seen)

    def remove(self, paths: Iterable[str]) -> None:
        """Remove files; what lies elsewhere by a link is not ours."""
        for path in paths:
            with suppress(Refused):
                self._unlink(path)

    def _unlink(self, path: str) -> None:
        with suppress(FileNotFoundError, NotADirectoryError), self._above(path) as (folder, name):
            os.unlink(name, dir_fd=folder)

    def clear(self, path: str) -> None:
        """Make an empty folder; what was in it is removed."""
        _remove(self.place(path))
        with self._folder(path, make=True):
            pass

    @contextmanager
    def scratch(self) -> Iterator[Path]:
        """A temporary folder for a library that opens files by itself; it is removed at the end."""
        name = os.urandom(8).hex()
        with self._folder(name, make=True):
            pass
        try:
            yield self.root / name
        finally:
            _remove(self.root / name)

    def sweep(self, path: str, wanted: Set[str]) -> list[str]:
        """Remove what is not wanted in a folder and below, and empty folders; the paths of files removed."""
        removed: list[str] = []
        with suppress(FileNotFoundError, NotADirectoryError, Refused), self._above(path) as (above, name):
            self._sweep(above, name, path, wanted, removed)
        return removed

    def _sweep(self, above: int, name: str, path: str, wanted: Set[str], removed: list[str]) -> bool:
        """The same; whether the folder is gone."""
        try:
            folder = self._opened(above, name, _FOLDER, self.root / path)
        except OSError:
            return False
        try:
            with os.scandir(folder) as entries_there:
                entries = list(entries_there)
            left = 0
            for entry in entries:
                below = f"{path}/{entry.name}"
                if entry.is_dir(follow_symlinks=False):
                    left += not self._sweep(folder, entry.name, below, wanted, removed)
                elif below in wanted or _is_being_written(entry):
                    left += 1
                else:
                    os.unlink(entry.name, dir_fd=folder)
                    removed.append(below)
        finally:
            os.close(folder)
        if not left:
            os.rmdir(name, dir_fd=above)
        return not left

    def _parts(self, path: str) -> list[str]:
        parts = [part for part in path.split("/") if part]
        if ".." in parts:  # a manifest may say anything
            raise self._refused(self.root / path, "leads out of its folder")
        return parts

    @contextmanager
    def _above(self, path: str, *, make: bool = False) -> Iterator[tuple[int, str]]:
        """The folder of a file, open, and the file's name in it."""
        *folder, name = self._parts(path)
        with self._folder("/".join(folder), make=make) as descriptor:
            yield descriptor, name

    @contextmanager
    def _folder(self, path: str, *, make: bool = False) -> Iterator[int]:
        """A folder, each part opened from the one above; where there is none, it is made if wanted."""
        place = self.root.parent
        if make and not place.is_dir():
            place.mkdir(parents=True)
        here = os.open(place, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
        try:
            for part in (self.root.name, *self._parts(path)):
                place = place / part
                if make:
                    with suppress(FileExistsError), _named(place):
                        os.mkdir(part, dir_fd=here)
                below = self._opened(here, part, _FOLDER, place)
                os.close(here)
                here = below
            yield here
        finally:
            os.close(here)

    def _opened(self, above: int, name: str, flags: int, place: Path) -> int:
        with _named(place):
            try:
                return os.open(name, flags, 0o644, dir_fd=above)
            except OSError:
                with suppress(FileNotFoundError):
                    if stat.S_ISLNK(os.stat(name, dir_fd=above, follow_symlinks=False).st_mode):
                        raise self._refused(place) from None
                raise

    def _refused(
        self, place: Path, what: str = "is a symbolic link, and nothing is written through one"
    ) -> Refused:
        shown = str(place.relative_to(self.root.parent))
        return Refused(shown, what, "take it away; what belongs there is made anew")


def write_whole(file: Path, data: bytes) -> None:
    """Write a file whole or not at all; links may lead to its folder.

    Raises:
        OSError: it can't be written; what was there is as it was.
    """
    OutputFolder(file.parent.resolve()).write(file.name, data)


@contextmanager
def _named(place: Path) -> Iterator[None]:
    """A refusal of the system names the whole path, not its last part."""
    try:
        yield
    except OSError as fault:
        fault.filename = str(place)
        raise


def _is_being_written(entry: os.DirEntry[str]) -> bool:
    if not entry.name.startswith("."):
        return False
    try:
        return time.time() - entry.stat(follow_symlinks=False).st_mtime < _WRITING
    except FileNotFoundError:
        return True  # just put in its place


def _remove(folder: Path) -> None:
    """A folder with all that is in it, as far as it may be removed."""
    import shutil  # noqa: PLC0415 - its archives are slow to load, and most commands write nothing

    shutil.rmtree(folder, ignore_errors=True)
