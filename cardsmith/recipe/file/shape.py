"""The tree of a file held against the house schema: unknown keys, wrong types, lists written as text.

What comes out fits the schema; what did not is a finding, read as it was most likely meant, so that the
faults further in are told in the same run.
"""

from __future__ import annotations

import difflib
from dataclasses import replace

from cardsmith.finding import Finding, Severity, Where
from cardsmith.recipe.file import blocks, yaml_traps
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence
from cardsmith.recipe.schema.kinds import Answers, Key, Lines, Record, TextKind, ValueKind
from cardsmith.recipe.schema.recipe import RECIPE, places
from cardsmith.regex import regex

MAX_ITEMS = 200  # of a list or of keys; the longest recipes have some forty lines
MAX_TEXT = 3_000  # characters of one text; a long step has five hundred
_GLUED = regex(r"(?P<key>[a-z_]+):(?=\S)")
_ONE_KEY = regex(r"[a-z_-]+")


def shaped(
    root: Node, lines: list[str], schema: Record = RECIPE, noun: str = "recipe", *, complete: bool = False
) -> tuple[Mapping | None, tuple[Finding, ...]]:
    """The tree of a recipe (or of what ``schema`` describes) with nothing in it but what the schema knows.

    With what was wrong. ``lines`` are those of the file, to show a line as it stands. With ``complete`` a
    required key that the whole file lacks is wrong here; elsewhere a check asks for it. None where the file
    holds no keys.
    """
    shape = _Shape(lines, schema, noun, complete=complete)
    if isinstance(root, Sequence) and len(root.items) == 1 and isinstance(root.items[0], Mapping):
        shape.tell(
            "wrong-type", root.where, f"the {noun} begins with a dash", "the keys alone, without the dash"
        )
        root = root.items[0]
    if isinstance(root, Scalar):
        root = shape.glued(root, schema) or root
    if not isinstance(root, Mapping):
        instead = f"begin with a line such as: {schema.fields[0].example}"
        shape.tell("wrong-type", root.where, "the file holds no keys", instead)
        return None, tuple(shape.findings)
    return shape.record(root, schema, ""), tuple(shape.findings)


def is_empty(node: Node | None) -> bool:
    """Whether a key was left without a value: not yet written."""
    return isinstance(node, Scalar) and not node.text.strip()


class _Shape:
    """The walk; a class only to gather its findings."""

    def __init__(self, lines: list[str], schema: Record, noun: str, *, complete: bool) -> None:
        self.lines = lines
        self.schema = schema
        self.noun = noun
        self.complete = complete
        self.findings: list[Finding] = []

    def tell(self, name: str, where: Where, what: str, instead: str, width: int = 1) -> None:
        self.findings.append(
            Finding(name=name, severity=Severity.ERROR, where=where, what=what, instead=instead, width=width)
        )

    def many(self, node: Node, count: int, what: str, noun: str) -> None:
        """Tells of a list beyond all bounds, of which the rest is not read."""
        if count > MAX_ITEMS:
            self.tell("too-many", node.where, f"{what} {count} {noun}", f"at most {MAX_ITEMS}")

    def value(self, node: Node, kind: ValueKind, field: Key) -> Node | None:
        """``node`` as ``kind``; None where nothing can be made of it."""
        if is_empty(node):
            return None
        match kind:
            case TextKind():
                return self.text(node, kind, field)
            case Lines():
                return self.list(node, kind, field)
            case Answers():
                return self.answers(node, kind, field)
            case Record():
                return self.keys(node, kind, field)

    def keys(self, node: Node, kind: Record, field: Key) -> Mapping | None:
        """Known keys, also where their colons lack a space or a bare text stands for one of them.

        The bare text is told, and read all the same, so that nothing else is missed for want of it.
        """
        if isinstance(node, Mapping):
            return self.record(node, kind, field.name)
        if isinstance(node, Scalar) and (glued := self.glued(node, kind)):
            return self.record(glued, kind, field.name)
        what = f"takes the keys {_listed(kind)}"
        if not isinstance(node, Scalar) or not kind.short or "\n" in node.text:
            self.wrong(node, field, what, f"write: {field.example}")
            return None
        others = [key.example for key in kind.fields if key.required and key.name != kind.short]
        entries = ", ".join([f"{kind.short}: {yaml_traps.in_list(node.text)}", *others])
        self.wrong(node, field, what, f"write: {field.name}: {{{entries}}}")
        short = replace(node, text=kind.short)
        return None if others else Mapping(entries=((short, node),), where=node.where)

    def glued(self, node: Scalar, kind: Record) -> Mapping | None:
        """The keys of lines such as ``makes:60 crackers``, read by YAML as text; None if they are."""
        entries = []
        for line in node.lines():
            match = _GLUED.match(line.text)
            if match is None or kind.get(match["key"]) is None:
                return None
            instead = f"write: {match['key']}: {line.text[match.end() :]}"
            what = f"{match['key']}: needs a space after its colon"
            self.tell("yaml-colon", line.where, what, instead, len(line.text))
            key = line.piece(0, match.end("key"))
            entries.append((key, line.piece(match.end(), len(line.text))))
        return Mapping(entries=tuple(entries), where=node.where)

    def record(self, node: Mapping, kind: Record, name: str) -> Mapping:
        """The known entries; a key in other words is reported, and read as the one that was meant."""
        entries: dict[str, tuple[Scalar, Node]] = {}
        given: set[str] = set()  # also where the value is unreadable, which is reported
        self.many(node, len(node.entries), f"{name or f'the {self.noun}'} has", "keys")
        for key, inner in node.entries[:MAX_ITEMS]:
            field = kind.get(key.text)
            if field is None:
                field = self.unknown(key, inner, node, kind, name)
                if field is None or node.get(field.name) is not None:
                    continue
            given |= set() if is_empty(inner) else {field.name}
            if (value := self.value(inner, field.kind, field)) is not None and field.name not in entries:
                key = key if key.text == field.name else replace(key, text=field.name)  # noqa: PLW2901
                entries[field.name] = (key, value)
        for field in kind.fields:
            asked = field.required and (self.complete or kind is not self.schema)
            if asked and field.name not in given:
                what = f"{name or f'the {self.noun}'} lacks its {field.name}"
                self.tell("missing-key", node.where, what, f"add: {field.example}")
        return replace(node, entries=tuple(entries.values()))

    def unknown(self, key: Scalar, value: Node, node: Mapping, kind: Record, name: str) -> Key | None:
        """Tells of an unknown key; the field that was meant, where that is plain."""
        field = meant(key.text, kind)
        if node.flow and is_empty(value):
            before = [entry for entry in node.entries if entry[0].where < key.where]
            if before and isinstance(before[-1][1], Scalar):
                text = f"{before[-1][1].text}, {key.text}"
                self.tell(
                    "yaml-comma",
                    key.where,
                    "inside braces a comma begins a new key",
                    f"write: {before[-1][0].text}: {yaml_traps.quoted(text)}",
                    len(key.text),
                )
                return None
        elsewhere = None if field else _elsewhere(key.text, kind, self.schema)
        if field is not None:
            instead = f"write: {field.name}:"
        elif elsewhere is not None:
            instead = f"it belongs further in: {elsewhere}"
        else:
            instead = f"the keys here are {_listed(kind)}"
        of = f" in {name}" if name else ""
        self.tell(
            "unknown-key", key.where, f"there is no key “{key.text}”{of}", instead, max(1, len(key.text))
        )
        return field

    def text(self, node: Node, kind: TextKind, field: Key, noun: str = "") -> Scalar | None:
        """One text, also where a colon or a bracket made YAML read another thing."""
        scalar = node if isinstance(node, Scalar) else self.mistaken(node, field, noun)
        return self.fitting(scalar, kind, field, noun) if scalar is not None else None

    def mistaken(self, node: Mapping | Sequence, field: Key, noun: str) -> Scalar | None:
        """The text that YAML took for something else; None where there is none."""
        return self.colon(node, field, noun) if isinstance(node, Mapping) else self.bracket(node, field, noun)

    def fitting(self, node: Scalar, kind: TextKind, field: Key, noun: str) -> Scalar | None:
        """A text of a fitting length and choice."""
        if len(node.text) > MAX_TEXT:
            what = f"{noun or field.name} has {len(node.text):,} characters"
            self.tell("text-too-long", node.where, what, f"at most {MAX_TEXT:,}")
            return None
        if kind.choices and node.text.strip() not in kind.choices:
            choices = {choice.lower(): choice for choice in kind.choices}
            near = difflib.get_close_matches(node.text.strip().lower(), choices, n=1, cutoff=0.7)
            hint = f"write {choices[near[0]]}; " if near else ""
            what = f"“{node.text}” is not a choice for {field.name}"
            self.tell(
                "unknown-choice", node.where, what, f"{hint}it takes {_or(kind.choices)}", len(node.text)
            )
            return None
        return node

    def colon(self, node: Mapping, field: Key, noun: str) -> Scalar | None:
        """A text with a colon and a space in it, which YAML read as a key and its value."""
        if any(isinstance(value, Sequence) for _, value in node.entries):
            what = f"“{node.entries[0][0].text}” heads a list of its own"
            instead = "for components, write parts, each with a name, ingredients and steps"
            self.tell("wrong-type", node.where, what, instead, len(node.entries[0][0].text))
            return None
        texts = [(key, value) for key, value in node.entries if isinstance(value, Scalar)]
        if node.flow or not texts or len(texts) < len(node.entries):
            self.wrong(node, field, "takes a text, not keys", f"write: {field.example}", noun)
            return None
        first, last = texts[0][0], texts[-1][1]
        joined = " ".join(f"{key.text}: {value.text}".strip() for key, value in texts)
        line = self.lines[first.where.line - 1]
        lead = line[: first.where.column - 1 - (first.style in ("'", '"'))]
        what = "a colon and a space inside a text begin a new key for YAML"
        instead = f"write: {lead.strip() or f'{field.name}:'} {yaml_traps.quoted(joined)}"
        place = first.where.at(len(first.text))
        self.tell("yaml-colon", place, what, instead)
        spots = [(0, first.where.line, first.where.column)]
        spots.append((len(first.text) + 2, texts[0][1].where.line, texts[0][1].where.column))
        if last.where.line != first.where.line and len(texts) > 1:
            spots = spots[:1]
        return Scalar(text=joined, where=node.where, spots=tuple(spots))

    def bracket(self, node: Sequence, field: Key, noun: str) -> Scalar | None:
        """A text in square brackets, which YAML read as a list."""
        line = self.lines[node.where.line - 1]
        text = line[node.where.column - 1 :].strip()
        if not node.flow or not text.endswith("]"):
            self.wrong(node, field, "takes one text, not a list", f"write: {field.example}", noun)
            return None
        what = "this text begins with [, which YAML takes for a list"
        lead = line[: node.where.column - 1].strip() or f"{field.name}:"
        instead = f"write: {lead} {yaml_traps.quoted(text)}"
        self.tell("yaml-bracket", node.where, what, instead, len(text))
        return Scalar(text=text, where=node.where)

    def list(self, node: Node, kind: Lines, field: Key) -> Sequence | None:
        """A list, each item of it held against the schema."""
        if isinstance(node, Scalar):
            cut, findings = blocks.cut(node, kind, field)
            self.findings += findings
            node = Sequence(items=cut, where=node.where)
        if isinstance(node, Mapping):
            if named := self.named(node, kind, field):
                return named
            inner = kind.record and any(kind.record.get(key.text) for key, _ in node.entries)
            instead = f"write: {field.example}"
            if inner:
                instead = f"begin each {kind.noun} with a dash and a space"
            lists = [value for _, value in node.entries if isinstance(value, Sequence)]
            if not inner and kind.noun == "line" and lists:
                instead = "for components, write parts, each with a name, ingredients and steps"
            self.wrong(node, field, f"takes a list of {kind.noun}s, not keys", instead)
            if not inner and not lists:
                return None
            items_of = (node,) if inner else tuple(item for sequence in lists for item in sequence.items)
            node = Sequence(items=items_of, where=node.where)
        items: list[Node] = []
        self.many(node, len(node.items), f"{field.name} has", f"{kind.noun}s")
        for item in node.items[:MAX_ITEMS]:
            if is_empty(item):
                self.tell(
                    "empty-line", item.where, f"this {kind.noun} is empty", "write it, or delete the dash"
                )
            elif (value := self.item(item, kind, field)) is not None:
                items.append(value)
        return Sequence(items=tuple(items), where=node.where)

    def named(self, node: Mapping, kind: Lines, field: Key) -> Sequence | None:
        """Parts written as keys: each key is the name of one. None where that isn't what was meant."""
        record = kind.record
        if kind.text is not None or record is None or not node.entries:
            return None
        if record.get(node.entries[0][0].text):
            return None
        parts = []
        for key, value in node.entries:
            if not isinstance(value, Mapping):
                return None
            name = (replace(key, text=record.short), key)
            parts.append(
                self.record(replace(value, entries=(name, *value.entries)), record, f"this {kind.noun}")
            )
        what = f"{field.name} takes a list of {kind.noun}s, not keys"
        instead = f"write: - {record.short}: {node.entries[0][0].text}"
        self.tell("wrong-type", node.where, what, instead, len(node.entries[0][0].text))
        return Sequence(items=tuple(parts), where=node.where)

    def item(self, node: Node, kind: Lines, field: Key) -> Node | None:
        """One item: a text, or keys where the list allows them and these look like its keys."""
        record = kind.record
        if isinstance(node, Mapping) and record is not None:
            known = [key for key, _ in node.entries if record.get(key.text)]
            likely = [key for key, _ in node.entries if meant(key.text, record)]
            if known or len(likely) > 1 or node.flow or kind.text is None:
                return self.record(node, record, f"this {kind.noun}")
        if kind.text is None:
            assert record is not None  # a list takes texts, keys or both
            if isinstance(node, Scalar) and (glued := self.glued(node, record)):
                return self.record(glued, record, f"this {kind.noun}")
            what = f"a {kind.noun} has the keys {_listed(record)}"
            instead = f"write: - {record.fields[0].example}"
            self.tell("wrong-type", node.where, what, instead)
            return None
        return self.text(node, kind.text, field, f"this {kind.noun}")

    def answers(self, node: Node, kind: Answers, field: Key) -> Mapping | None:
        """Free keys with texts."""
        if not isinstance(node, Mapping):
            self.wrong(node, field, f"takes {kind.holds}", f"write: {field.example}")
            return None
        entries = []
        self.many(node, len(node.entries), f"{field.name} has", "entries")
        for key, value in node.entries[:MAX_ITEMS]:
            if is_empty(value):
                what = f"“{key.text}” is {kind.empty}"
                self.tell("missing-reason", key.where, what, kind.instead, len(key.text))
            elif (text := self.text(value, TextKind(), field)) is not None:
                entries.append((key, text))
        return replace(node, entries=tuple(entries))

    def wrong(self, node: Node, field: Key, what: str, instead: str, noun: str = "") -> None:
        instead = "one text after the dash" if noun else instead
        self.tell("wrong-type", node.where, f"{noun or field.name} {what}", instead)


def meant(word: str, kind: Record) -> Key | None:
    """The field that ``word`` stands for: in other words, or misspelled by a letter or two."""
    plain = word.strip().lower().replace(" ", "_")
    for field in kind.fields:
        if plain in (field.name, *field.other_words):
            return field
    names = [field.name for field in kind.fields]
    near = difflib.get_close_matches(plain, names, n=1, cutoff=0.75)
    return kind.get(near[0]) if near and _ONE_KEY.fullmatch(plain) else None


def _elsewhere(word: str, kind: Record, schema: Record) -> str | None:
    """Where in the schema a key of this name or meaning belongs, as an example; None if nowhere."""
    plain = word.strip().lower().replace(" ", "_")
    here = {field.name for field in kind.fields}
    for *outer, field in places(schema):
        inside = bool(outer) and outer[-1].name in here and isinstance(outer[-1].kind, Record)
        if inside and plain in (field.name, *field.other_words):
            return f"{outer[-1].name}: {{{field.example}}}"
    return None


def _listed(kind: Record) -> str:
    return ", ".join(field.name for field in kind.fields)


def _or(words: tuple[str, ...]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]
