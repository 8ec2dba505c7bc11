"""Zip archives of documents, opened only where they are what they say and no larger than a document is."""

from __future__ import annotations

import io
import zipfile
from typing import Any

from cardsmith.finding import CardsmithError

MOST_PARTS = 5_000
LARGEST_UNPACKED = 60_000_000  # bytes of all parts; a Word file with twenty photos has some
LARGEST_XML = 12_000_000  # bytes of one part of text


class Archive:
    """The parts of a document by name; a class only to hold its open archive."""

    def __init__(self, data: bytes, name: str) -> None:
        self.name = name
        try:
            self._zip = zipfile.ZipFile(io.BytesIO(data))
            parts = self._zip.infolist()
        except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError) as fault:
            raise CardsmithError(f"{name} is damaged ({fault}); save it anew, or paste its text") from fault
        unpacked = sum(part.file_size for part in parts)
        if len(parts) > MOST_PARTS or unpacked > LARGEST_UNPACKED:
            size = f"{unpacked // 1_000_000:,} MB in {len(parts):,} parts"
            raise CardsmithError(f"{name} unpacks to {size}, more than a recipe has; save its text alone")
        if any(part.flag_bits & 1 for part in parts):
            raise CardsmithError(f"{name} is protected by a password; save it without one")
        self.parts = {part.filename: part for part in parts}

    def bytes_of(self, part: str) -> bytes:
        """A part, or nothing where there is none.

        Raises:
            CardsmithError: it is larger than it says, or damaged.
        """
        if part not in self.parts:
            return b""
        try:
            with self._zip.open(part) as stream:
                data = stream.read(LARGEST_XML + 1)
        except (
            zipfile.BadZipFile,
            OSError,
            EOFError,
            NotImplementedError,
            RuntimeError,
            ValueError,
        ) as fault:
            raise CardsmithError(
                f"{self.name} is damaged ({fault}); save it anew, or paste its text"
            ) from fault
        if len(data) > LARGEST_XML:
            raise CardsmithError(f"{self.name} holds more text than a recipe has; cut it into several files")
        return data

    def tree_of(self, part: str) -> Any:
        """The XML of a part as an element; None where there is none.

        Raises:
            CardsmithError: it is no XML, or declares what could name other files.
        """
        from lxml import etree  # noqa: PLC0415 - most drafts are text

        data = self.bytes_of(part)
        if not data:
            return None
        parser = etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False)
        try:
            root = etree.fromstring(data, parser)
        except etree.XMLSyntaxError as fault:
            raise CardsmithError(
                f"{self.name} is damaged ({fault}); save it anew, or paste its text"
            ) from fault
        if root.getroottree().docinfo.doctype:
            raise CardsmithError(
                f"{self.name} declares a document type, which no document of a word processor does"
            )
        return root
