"""The manifest: what was noted is read back, and damage costs no more than the line it hit."""

from __future__ import annotations

import os
from dataclasses import fields
from pathlib import Path

import pytest

from cardsmith.engine.freshness.manifest import VERSION, Journal, Kept, Manifest, dump, load
from cardsmith.files.reading import Stamp, digest_of
from cardsmith.site.entry import Entry

STAMP = Stamp(digest="a" * 64, changed=5, size=6, inode=7)


def kept(name: str) -> Kept:
    return Kept(name=name, reads={"recipes/x": STAMP}, keys={"page": "k"}, files={"page": {"cards/x": STAMP}})


def test_entries_of_other_fields_are_of_another_version() -> None:
    """A build of one recipe takes the others' entries from the manifest, were it an earlier cardsmith's."""
    told = " ".join(one.name for one in fields(Entry))
    assert (VERSION, digest_of(told.encode())[:8]) == (4, "997698c2"), (
        "raise VERSION, then write the digest here"
    )


def test_what_was_noted_is_read_back() -> None:
    whole = Manifest(
        recipes={"a": kept("a"), "b": kept("b")},
        grounds={"d": {"cardsmith": "1"}},
        stamps={"/f": STAMP},
        collection=kept(""),
        finished=True,
    )
    assert load(dump(whole)) == whole


def test_a_journal_goes_on_behind_a_torn_line(tmp_path: Path) -> None:
    file = tmp_path / "manifest"
    whole = dump(Manifest(recipes={"a": kept("a"), "b": kept("b")}))
    file.write_bytes(whole[:-20])
    journal = Journal(os.open(file, os.O_WRONLY | os.O_APPEND))
    journal.recipe(kept("c"))
    journal.close()
    found = load(file.read_bytes())
    assert set(found.recipes) == {"a", "c"}
    assert not found.finished


@pytest.mark.parametrize("place", range(0, 900, 37))
def test_damage_never_shows_as_a_recipe_that_was_not_noted(place: int) -> None:
    whole = Manifest(recipes={"a": kept("a"), "b": kept("b")})
    data = bytearray(dump(whole))
    data[place % len(data)] ^= 1
    found = load(bytes(data)).recipes
    assert len(found) < 2 or found == whole.recipes
    assert all(one == whole.recipes[name] for name, one in found.items())


def test_another_version_is_no_manifest() -> None:
    assert load(b"not a manifest\n") == Manifest()
    assert load(None) == Manifest()
