"""House schema to `Recipe`: every fault of a file in one run, and a recipe whenever one can be made."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace

from cardsmith.finding import Finding, Severity, Where, error, in_order
from cardsmith.language.prose.fields import stray_links, unread_in
from cardsmith.language.spans import Draw
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import System
from cardsmith.recipe.fields.lines import read_ingredient_fields, read_lines
from cardsmith.recipe.fields.records import accepted_of, editions_of, history_of, reviewed_of, tested_of
from cardsmith.recipe.fields.steps import read_step
from cardsmith.recipe.fields.yields import is_count, read_time, read_yield
from cardsmith.recipe.file.relocate import relocated
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.size_limits import beyond_bounds
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.texts import text_of, texts_of, word_of
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence
from cardsmith.recipe.folder import NAME
from cardsmith.recipe.model import (
    Ingredient,
    Part,
    Photo,
    Recipe,
    Step,
    Text,
    Time,
    Yield,
)
from cardsmith.recipe.schema.recipe import INGREDIENTS, RECIPE, STEPS
from cardsmith.reference import Tables
from cardsmith.regex import regex

UNTITLED = "Untitled"  # stands in where the title is missing, which is an error
# Of a picture's file: an address, a path from the root or from home, one that leads up, one of Windows.
_OUTSIDE = regex(r"^[A-Za-z][A-Za-z0-9+.-]+:(?=\S)|^[/~]|\\|(?:^|/)\.\.(?:/|$)")

_READ_FIELDS = (
    ("headnote", Severity.WARNING),
    ("notes", Severity.WARNING),
    ("cautions", Severity.ERROR),
    ("storage", Severity.ERROR),
    ("equipment", Severity.ERROR),
)

Findings = tuple[Finding, ...]


def read_recipe(name: str, text: bytes, file: str, larder: Larder) -> tuple[Recipe | None, Findings]:
    """The recipe that the bytes of a file hold, and all that is wrong with them.

    None where the file holds no keys at all, or more than any recipe does. A recipe that comes with
    findings of severity error is there to be checked further, not to be printed.
    """
    source = read_source(text, file)
    if source.root is None:
        return None, in_order(source.findings)
    root, misshapen = shaped(source.root, source.text.split("\n"))
    if root is None:
        return None, in_order((*source.findings, *misshapen))
    if beyond := beyond_bounds(root):
        return None, in_order((*source.findings, *misshapen, *beyond))
    top = Where(file=file, line=root.where.line, column=root.where.column)
    measures = System(word_of(root, "measures") or System.US)
    title = word_of(root, "title")
    parts, of_parts = read_parts(root, larder, measures)
    yields, of_yield = _yield(root, measures)
    time, of_time = _time(root, measures)
    published, corrections, of_dates = history_of(root, sum(len(part.steps) for part in parts))
    reviewed, of_review = reviewed_of(root)
    recipe = Recipe(
        where=top,
        name=name,
        title=title or UNTITLED,
        parts=parts,
        kind=text_of(root, "kind"),
        headnote=word_of(root, "headnote"),
        yields=yields,
        time=time,
        equipment=texts_of(root, "equipment"),
        storage=word_of(root, "storage"),
        notes=texts_of(root, "notes"),
        cautions=texts_of(root, "cautions"),
        claims=texts_of(root, "claims"),
        photo=_photo(root),
        credit=word_of(root, "credit"),
        course=word_of(root, "course"),
        cuisine=word_of(root, "cuisine"),
        keywords=texts_of(root, "keywords"),
        issue=word_of(root, "issue"),
        published=published,
        corrections=corrections,
        formerly=texts_of(root, "formerly"),
        reviewed=reviewed,
        tested=tested_of(root),
        accepted=accepted_of(root),
        editions=editions_of(root),
        measures=measures.value,
        source=source.text,
        tables=larder.tables,
    )
    findings = [
        *source.findings,
        *misshapen,
        *of_parts,
        *of_yield,
        *of_time,
        *of_dates,
        *of_review,
        *_links(recipe),
    ]
    findings += _unread(root, measures, larder.tables)
    findings += _missing(recipe, misshapen)
    for key in ("headnote", "storage"):
        if value := text_of(root, key):
            findings += stray_links(" ".join(value.text.split()), value.where)
    findings += [*_elsewhere(recipe.photo), *_no_folders(recipe.formerly)]
    if not title and not any(finding.where.field == "title" for finding in misshapen):
        instead = f"add: {RECIPE.fields[0].example}"
        findings.append(error("missing-title", top, "the recipe has no title", instead))
    return recipe, in_order(findings)


def _unread(root: Mapping, measures: System, tables: Tables) -> Iterator[Finding]:
    """Numbers whose meaning is unclear, in every field beside the lists and the steps.

    What readers cook by must be read; a remark of a headnote or a note is asked about.
    """
    for key, severity in _READ_FIELDS:
        for scalar in _scalars(root.get(key)):
            yield from _unread_of(scalar, measures, severity, tables)
    yields = root.get("yield")
    makes = yields.get("makes") if isinstance(yields, Mapping) else None
    for scalar in _scalars(makes):
        if not is_count(scalar.text, measures):  # "makes: about 24"
            findings = _unread_of(scalar, measures, Severity.ERROR, tables)
            # "makes: 24 crackers" counts.
            yield from (finding for finding in findings if finding.where != scalar.where)


def _scalars(node: Node | None) -> tuple[Scalar, ...]:
    """The texts of a field: its own, or those of its list."""
    items = node.items if isinstance(node, Sequence) else (node,)
    return tuple(item for item in items if isinstance(item, Scalar))


def _unread_of(scalar: Scalar, measures: System, severity: Severity, tables: Tables) -> Findings:
    text = scalar.on_one_line()
    return relocated((None, unread_in(text.text, text.where, measures, severity, tables)), text)[1]


def read_parts(root: Mapping, larder: Larder, measures: System) -> tuple[tuple[Part, ...], Findings]:
    """The parts; a recipe without any is one part of its own lists.

    Beside parts may stand what belongs to none: ingredients before them, and one method after lists that
    have no steps of their own. Each is a part without a name.
    """
    written = root.get("parts")
    nodes = (
        [item for item in written.items if isinstance(item, Mapping)] if isinstance(written, Sequence) else []
    )
    if not nodes:
        part, of_part = _part(root, "", larder, measures)
        return (part,), of_part
    parts = []
    findings: list[Finding] = []
    for node in nodes:
        part, of_part = _part(node, word_of(node, "name"), larder, measures)
        parts.append(part)
        findings += of_part
        if not part.name and len(nodes) > 1:
            findings.append(error("missing-name", node.where, "this part has no name", "add: name: Dough"))
    beside, of_beside = _part(root, "", larder, measures)
    findings += of_beside
    if beside.ingredients:
        parts.insert(0, replace(beside, steps=()))
    if beside.steps:
        if any(part.steps for part in parts):
            where = next(key.where for key, _ in root.entries if key.text == "steps")
            what = "steps stand both beside the parts and in them"
            findings.append(error("beside-parts", where, what, "move them into a part", "steps"))
        parts.append(replace(beside, ingredients=()))
    return tuple(parts), tuple(findings)


def _missing(recipe: Recipe, misshapen: Findings) -> Iterator[Finding]:
    """Lists that no part has; silent where one was written and reported as misshapen."""
    reported = {
        re.split(r"[.[]", finding.where.field)[0] for finding in misshapen if finding.name == "wrong-type"
    }
    for field, present in ((INGREDIENTS, bool(recipe.ingredients)), (STEPS, bool(recipe.steps))):
        if not present and reported.isdisjoint({field.name, "parts"}):
            what = f"the recipe has no {field.name}"
            yield error(f"missing-{field.name}", recipe.where, what, f"add: {field.example}")


def _part(node: Mapping, name: str, larder: Larder, measures: System) -> tuple[Part, Findings]:
    """One part and the faults of its lines and steps."""
    ingredients: list[Ingredient] = []
    steps: list[Step] = []
    findings: list[Finding] = []
    lists = {
        key: value.items for key in ("ingredients", "steps") if isinstance(value := node.get(key), Sequence)
    }
    for item in lists.get("ingredients", ()):
        listed, of_line = _ingredients(item, larder, measures)
        ingredients += listed
        findings += of_line
    for item in lists.get("steps", ()):
        if isinstance(item, Scalar):
            text = item.on_one_line()
            step, of_step = relocated(read_step(text.text, text.where, measures, larder.tables), text)
            steps.append(step)
            findings += of_step
    part = Part(where=node.where, name=name, ingredients=tuple(ingredients), steps=tuple(steps))
    return part, tuple(findings)


def _ingredients(item: Node, larder: Larder, measures: System) -> tuple[tuple[Ingredient, ...], Findings]:
    """The ingredients of a line, mostly one, or that of the fields of one."""
    if isinstance(item, Mapping):
        fields = {
            key.text: Text(text=value.text, where=value.where)
            for key, value in item.entries
            if isinstance(value, Scalar)
        }
        line, findings = read_ingredient_fields(fields, item.where, larder, measures)
        lacking = "item" not in fields  # reported already, as a missing key
        return (line,), tuple(
            finding for finding in findings if not (lacking and finding.name == "food-missing")
        )
    assert isinstance(item, Scalar)  # the shape lets nothing else through
    text = item.on_one_line()
    return relocated(read_lines(text.text, text.where, larder, measures), text)


def _links(recipe: Recipe) -> Iterator[Finding]:
    """Keys given twice, and links to keys that no ingredient has."""
    keys: dict[str, Ingredient] = {}
    for line in recipe.ingredients:
        if not line.key:
            continue
        if line.key in keys:
            what = f"the key “{line.key}” is that of line {keys[line.key].where.line} already"
            yield error("duplicate-key-name", line.where, what, "give each ingredient a key of its own")
        keys.setdefault(line.key, line)
    for step in recipe.steps:
        for span in step.spans:
            if isinstance(span, Draw) and span.key not in keys:
                what = f"no ingredient has the key “{span.key}”"
                link = f"[{span.text}]"
                yield error("unknown-ingredient-key", span.where, what, _key_hint(span, keys), link)


def _key_hint(draw: Draw, keys: Iterable[str]) -> str:
    near = difflib.get_close_matches(draw.key, tuple(keys), n=1, cutoff=0.6)
    if near:
        return f"write: [{draw.text}](#{near[0]})"
    if keys:
        return f"the keys of this recipe are {', '.join(keys)}"
    return f"give the ingredient its key: - {{key: {draw.key}, amount: …, item: …}}"


def _yield(root: Mapping, measures: System) -> tuple[Yield | None, Findings]:
    node = root.get("yield")
    return read_yield(node, measures) if isinstance(node, Mapping) else (None, ())


def _time(root: Mapping, measures: System) -> tuple[Time | None, Findings]:
    node = root.get("time")
    return read_time(node, measures) if isinstance(node, Mapping) else (None, ())


def _photo(root: Mapping) -> Photo | None:
    node = root.get("photo")
    if not isinstance(node, Mapping) or not word_of(node, "file"):
        return None
    return Photo(
        where=node.where,
        file=word_of(node, "file"),
        alt=word_of(node, "alt"),
        credit=word_of(node, "credit"),
        focus=word_of(node, "focus"),
        place=word_of(node, "place"),
    )


def _elsewhere(photo: Photo | None) -> Findings:
    """A picture's file that is no path to one beside the recipe: on another host, or out of the folder."""
    if photo is None or not _OUTSIDE.search(photo.file):
        return ()
    what = f"the picture “{photo.file}” is none beside the recipe"
    instead = "put the picture into the recipe's folder and write its name alone: bowl.jpg"
    return (error("photo-refused", photo.where, what, instead),)


def _no_folders(names: tuple[Text, ...]) -> Findings:
    """Former names that no folder of a recipe can have had: an address leads on from each."""
    what = "“{}” is not a name that a recipe's folder can have had"
    instead = "its name then, in small letters, digits and hyphens: harbour-crackers"
    return tuple(
        error("former-name", text.where, what.format(text.text[:100]), instead, text.text)
        for text in names
        if not NAME.fullmatch(text.text)
    )
