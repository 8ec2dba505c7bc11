"""What the kitchen knows of a portion beyond the recipe: ``portion.yaml`` beside it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from fractions import Fraction

from cardsmith.bench.file.readings import read_reading, read_share
from cardsmith.finding import Finding, Where, error, in_order
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder
from cardsmith.recipe.file import tree
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.texts import text_of
from cardsmith.recipe.model import Ingredient, Text
from cardsmith.recipe.schema.kinds import Answers, Record, TextKind, entry


@frozen
class Facts:
    """Stated by the kitchen; shares of one, by the place of a line, which it keeps in every edition."""

    trim: Mapping[Where, Fraction] = field(default_factory=dict, hash=False)  # of what the list weighs
    eaten: Mapping[Where, Fraction] = field(
        default_factory=dict, hash=False
    )  # of what is left after trimming
    finished: Fraction | None = None  # g, the batch as it is served
    rejects: Fraction | None = None  # share of the pieces that can't be served


NO_FACTS = Facts()
_SHARES = Answers(holds="an ingredient and a share", empty="there without a share", instead="per cent: 12 %")


PORTION = Record(
    fields=(
        entry("trim", _SHARES, "The share cut away of what the list weighs.", "{carrots: 12 %}", "waste"),
        entry(
            "eaten",
            _SHARES,
            "The share eaten of oil for frying, a marinade, a brine, or pulp that is strained off.",
            "{frying oil: 9 %}",
            "uptake",
            "kept",
        ),
        entry("finished", TextKind(), "What the batch weighs as it is served.", "840 g", "weight"),
        entry("rejects", TextKind(), "The share of pieces that can't be served.", "3 %", "waste_pieces"),
    )
)


def key_of(line: Ingredient) -> str:
    """What a line goes by in tables: the larder's key, else its item in lower case."""
    return line.food.key if line.food else line.item.lower()


def read_facts(
    data: bytes, file: str, lines: tuple[Ingredient, ...], larder: Larder
) -> tuple[Facts, tuple[Finding, ...]]:
    """The facts that the bytes of a file hold, and all that is wrong with them; nothing raises.

    A share for an ingredient that no list has is a finding.
    """
    source = read_source(data, file)
    if source.root is None:
        return NO_FACTS, in_order(source.findings)
    root, misshapen = shaped(source.root, source.text.split("\n"), PORTION, "file")
    findings: list[Finding] = [*source.findings, *misshapen]
    if root is None:
        return NO_FACTS, in_order(findings)
    finished = text_of(root, "finished")
    rejects = text_of(root, "rejects")
    mass, faults = read_reading(finished, "mass", "840 g") if finished else (None, ())
    if finished and mass and not mass.value:
        mass, faults = None, (_unusable(finished, "the weight of the batch: 840 g"),)
    share, of_rejects = read_share(rejects) if rejects else (None, ())
    if rejects and share == 1:
        share, of_rejects = None, (_unusable(rejects, "less than all of it: 3 %"),)
    facts = Facts(
        trim=_shares(root, "trim", lines, larder, findings),
        eaten=_shares(root, "eaten", lines, larder, findings),
        finished=mass.value if mass else None,
        rejects=share,
    )
    return facts, in_order([*findings, *faults, *of_rejects])


def _shares(
    root: tree.Mapping, key: str, lines: tuple[Ingredient, ...], larder: Larder, findings: list[Finding]
) -> dict[Where, Fraction]:
    """What is stated of each line: by its own key before all lines of its food."""
    node = root.get(key)
    own: dict[Where, Fraction] = {}
    shares: dict[Where, Fraction] = {}
    for name, value in node.entries if isinstance(node, tree.Mapping) else ():
        if not isinstance(value, tree.Scalar):
            continue
        text = Text(text=value.text, where=value.where)
        share, faults = read_share(text)
        if key == "trim" and share == 1:
            share, faults = None, (_unusable(text, "less than all of it: 12 %"),)
        findings += faults
        named = [line.where for line in lines if line.key and line.key.lower() == name.text.strip().lower()]
        wanted = named or _of_food(name.text, lines, larder)
        if not wanted:
            findings.append(_unlisted(Text(text=name.text, where=name.where), lines))
        if share is not None:
            (own if named else shares).update(dict.fromkeys(wanted, share))
    return shares | own


def _of_food(text: str, lines: tuple[Ingredient, ...], larder: Larder) -> list[Where]:
    """The lines of an item or a food."""
    match = larder.find(text)
    item = text.strip().lower()
    return [line.where for line in lines if item == line.item.lower() or (match and line.food == match.food)]


def _unusable(text: Text, instead: str) -> Finding:
    return error(
        "unreadable-measure", text.where, f"“{text.text}” leaves nothing to serve", instead, text.text
    )


def _unlisted(text: Text, lines: tuple[Ingredient, ...]) -> Finding:
    items = ", ".join(dict.fromkeys(line.item for line in lines))
    what = f"no list has “{text.text}”"
    return error("portion-ingredient-unlisted", text.where, what, f"one of: {items}", text.text)
