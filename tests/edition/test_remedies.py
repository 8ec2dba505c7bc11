"""The remedy of each finding of an edition carried out: afterwards it is gone, and no other has come."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from cardsmith.finding import Finding, Severity
from cardsmith.flow import prepare
from cardsmith.frozen import frozen
from cardsmith.house.style import House, read_house
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.reference import table

ROOT = Path(__file__).parents[2]
SOUND = """
title: Oat traybake
kind: cookie
headnote: Plain, and good with coffee.
yield: {makes: 12 cookies}
time: {active: 10 min, total: 45 min}
equipment: [8-inch square baking pan]
ingredients:
  - 200 g rolled oats
  - 100 g granulated sugar
  - 150 g unsalted butter
  - 2 large eggs
steps:
  - Heat the oven to 350 °F with a rack in the middle. Melt the butter.
  - Stir in the sugar, eggs and oats. Scrape into an 8-inch square baking pan.
  - Bake for 25 minutes, until golden. Cool for 10 minutes, until firm, and cut.
storage: Keeps three days in a tin.
"""
BIRD = """
title: Roast thighs
kind: roast
headnote: For a Sunday.
yield: {makes: 8 thighs, serves: 4}
time: {active: 10 min, total: 55 min}
ingredients:
  - 8 chicken thighs (1.4 kg), bone-in
  - 8 g fine salt
steps:
  - Heat the oven to 400 °F with a rack in the middle. Rub the thighs with the salt.
  - Roast for 45 minutes, until the thickest part of every thigh reads 74 °C.
"""
SWAPS = "editions: {uk: {heavy cream: %s}, au: {heavy cream: whipping cream}}"
CREAM = ("150 g unsalted butter", "150 g heavy cream")


@frozen
class Remedy:
    """What makes an edition ask, what it says to write, and what an author writes who follows that."""

    name: str
    change: tuple[tuple[str, str], ...]
    instead: str
    mend: tuple[tuple[str, str], ...]
    base: str = SOUND


def _answered(change: tuple[str, str], uk: str, au: str) -> tuple[tuple[str, str], ...]:
    return ((change[1], f"{change[1]}"), ("storage:", f"editions: {{uk: {{{uk}}}, au: {{{au}}}}}\nstorage:"))


SUGAR = ("100 g granulated sugar", "100 g light brown sugar")
WINTER = ("Plain, and", "Plain, for February, and")
SCONE, FLAME = ("Plain, and", "Like a biscuit, and"), ("Plain, and", "Flambized, and")
CASES = (
    Remedy(
        name="edition-asks",
        change=(SUGAR,),
        instead="editions: {uk: {light brown sugar: …}}",
        mend=_answered(SUGAR, "light brown sugar: soft light brown sugar", "light brown sugar: brown sugar"),
    ),
    Remedy(
        name="edition-asks",
        change=(SCONE,),
        instead="editions: {uk: {biscuit: …}}",
        mend=_answered(SCONE, "biscuit: scone", "biscuit: scone"),
    ),
    Remedy(
        name="edition-asks",
        change=(FLAME,),
        instead="editions: {uk: {flambized: …}}",
        mend=_answered(FLAME, "flambized: flambéed", "flambized: flambéed"),
    ),
    Remedy(
        name="edition-asks",
        change=(WINTER,),
        instead="editions: {au: {february: …}}",
        mend=_answered(WINTER, "", "February: August"),
    ),
    Remedy(
        name="edition-swap-differs",
        change=(CREAM, ("storage:", f"{SWAPS % '150 g double cream'}\nstorage:")),
        instead="amounts that bring the same",
        mend=((SWAPS % "150 g double cream", SWAPS % "112 g double cream let down with 38 g whole milk"),),
    ),
    Remedy(
        name="edition-claim-unlawful",
        change=(
            ("200 g rolled", "200 g gluten-free rolled"),
            ("storage:", "claims: [gluten-free]\nstorage:"),
        ),
        instead="editions: {au: {gluten-free: …}}",
        mend=(("storage:", "editions: {au: {gluten-free: low gluten}}\nstorage:"),),
    ),
    Remedy(
        name="edition-pan-unsold",
        change=(("into an 8-inch", "into a 12-inch"), ("[8-inch", "[12-inch")),
        instead="a size that both have",
        mend=(("into a 12-inch", "into a 9-inch"), ("[12-inch", "[9-inch")),
    ),
    Remedy(
        name="edition-answer-unused",
        change=(("storage:", "editions: {uk: {nutmeg: mace}}\nstorage:"),),
        instead="the words as the recipe has them, or take it out",
        mend=(("editions: {uk: {nutmeg: mace}}\n", ""),),
    ),
    Remedy(
        name="edition-heat-too-mild",
        change=(),
        instead="the stricter of the two, 75 °C, if the dish bears it",
        mend=(("74 °C", "75 °C"),),
        base=BIRD,
    ),
)


@cache
def _larder() -> Larder:
    return load_larder()


@cache
def _house() -> House:
    text = (ROOT / "templates/house.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.split("\n") if not line.startswith("editions:")]
    return read_house("\n".join((*lines, "editions: {us: {}, uk: {}, au: {}}")))


def _changed(text: str, changes: tuple[tuple[str, str], ...]) -> str:
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


@cache
def _found(text: str) -> tuple[Finding, ...]:
    return prepare("traybake", text.encode(), "recipe.yaml", _larder(), _house()).findings


def _loud(findings: tuple[Finding, ...]) -> Counter[str]:
    return Counter(one.name for one in findings if one.severity is not Severity.NOTE)


def test_every_finding_of_an_edition_has_its_remedy_here() -> None:
    told = {row["name"] for row in table("reading_findings") if row["name"].startswith("edition-")}
    assert {one.name for one in CASES} == told


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.name}-{case.instead[:24]}")
def test_a_remedy_mends_and_brings_nothing_new(case: Remedy) -> None:
    faulty = _changed(case.base, case.change)
    found = [one for one in _found(faulty) if one.name == case.name]
    assert any(case.instead in one.instead for one in found), found
    mended = _found(_changed(faulty, case.mend))
    assert not [one for one in mended if one.name == case.name], mended
    assert _loud(mended) <= _loud(_found(faulty))
