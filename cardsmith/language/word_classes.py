"""Words of sentences by what they do there: those that end a noun phrase, name a vessel, use heat …"""

from __future__ import annotations

from functools import cache

from cardsmith.language.spans import Purpose
from cardsmith.reference import Tables, table


@cache
def words_of(name: str) -> frozenset[str]:
    """The words of one class of the table: ``stop``, ``vessel``, ``reference`` …"""
    words = frozenset(row["word"] for row in table("sentence_words") if row["class"] == name)
    if not words:
        raise ValueError(f"sentence_words.csv has no class {name!r}")
    return words


@cache
def vessel_words(tables: Tables) -> frozenset[str]:
    """What a vessel is called, the house's own words among them."""
    return words_of("vessel") | {row["word"] for row in tables.own.get("vessels", ())}


@cache
def purposes_of(name: str) -> dict[str, Purpose]:
    """What the temperature beside a word is for, by the word; ``name`` is a class of words that use heat."""
    return {row["word"]: Purpose(row["purpose"]) for row in table("sentence_words") if row["class"] == name}
