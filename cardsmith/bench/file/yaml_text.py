"""Keys and texts written as YAML that reads back as they are, and a trial put behind those of a file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace

from cardsmith.bench.file.load import read_trials
from cardsmith.bench.model import Trial, Trials
from cardsmith.finding import CardsmithError, Where
from cardsmith.measure.larder import Larder
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.tree import Mapping, Node, Scalar, Sequence
from cardsmith.recipe.file.yaml_traps import in_list, quoted
from cardsmith.regex import regex

_PLAIN = regex(r"[^\s\[\]{}>|*&!%#`@\"'?:,-][^#]*")
_SHORT = 100  # characters of a line that holds a list or keys in brackets


def plain_text(text: str) -> str:
    """A text as YAML takes it: in quotes where it would read another thing."""
    on_one_line = " ".join(text.split())
    fits = _PLAIN.fullmatch(on_one_line) and ": " not in on_one_line and not on_one_line.endswith(":")
    return on_one_line if fits else quoted(on_one_line)


def inline(node: Node) -> str:
    """A node on one line, in brackets or braces."""
    if isinstance(node, Scalar):
        return in_list(" ".join(node.text.split()))
    if isinstance(node, Sequence):
        return f"[{', '.join(map(inline, node.items))}]"
    return f"{{{', '.join(f'{inline(key)}: {inline(value)}' for key, value in node.entries)}}}"


def block(node: Node, indent: int) -> Iterator[str]:
    """A list or keys as lines, each behind so many spaces."""
    lead = " " * indent
    if isinstance(node, Scalar):
        yield f"{lead}{plain_text(node.text)}"
    elif isinstance(node, Sequence):
        for item in node.items:
            first, *others = block(item, indent + 2)
            yield f"{lead}- {first.lstrip()}"
            yield from others
    else:
        for key, value in node.entries:
            name = f"{lead}{plain_text(key.text)}:"
            if isinstance(value, Scalar):
                yield f"{name} {plain_text(value.text)}"
            elif _is_short(value) and len(name) + len(inline(value)) < _SHORT:
                yield f"{name} {inline(value)}"
            else:
                yield name
                yield from block(value, indent + 2)


def _is_short(node: Node) -> bool:
    """Whether a node holds texts alone, and so may stand on one line."""
    values = node.items if isinstance(node, Sequence) else [value for _, value in node.entries]  # type: ignore[union-attr]
    return all(isinstance(value, Scalar) for value in values)


def appended(old: Trials | None, source: str, file: str, node: Mapping, larder: Larder) -> str:
    """The text of ``trials.yaml`` with one trial more behind its last; nothing else in it changes.

    Raises:
        CardsmithError: its list stands in brackets, so that no line can be put behind it.
    """
    text = _with(source, file, node)
    trials, _ = read_trials(old.name if old else "", text.encode(), file, larder)
    before = old.trials if old else ()
    if trials is None or trials.trials[:-1] != before:
        written = "\n".join(block(Sequence(items=(node,), where=node.where), 2))
        what = f"{file}: the trial can't be put behind the others here; write it there by hand"
        raise CardsmithError(f"{what}:\n{written}")
    return text


def _with(source: str, file: str, node: Mapping) -> str:
    root = read_source(source.encode(), file).root if source.strip() else None
    listed = root.get("trials") if isinstance(root, Mapping) else None
    if not isinstance(root, Mapping) or not isinstance(listed, Sequence) or not listed.items:
        item = "\n".join(block(Sequence(items=(node,), where=node.where), 2))
        return f"{source.rstrip()}\ntrials:\n{item}\n".lstrip("\n")
    rows = source.split("\n")
    row = rows[listed.items[-1].where.line - 1]
    dash = len(row) - len(row.lstrip())
    later = [key.where.line - 1 for key, _ in root.entries if key.where.line > listed.items[-1].where.line]
    end = min(later, default=len(rows))
    while end and (not rows[end - 1].strip() or rows[end - 1].startswith("#")):
        end -= 1  # blank lines, and comments on what follows, stay with it
    made = block(Sequence(items=(node,), where=node.where), dash)
    return "\n".join((*rows[:end], "", *made, *rows[end:])).rstrip("\n") + "\n"


def same(trial: Trial, other: Trial) -> bool:
    """Whether two trials say the same, wherever they stand and whatever their numbers."""
    return _placeless(replace(trial, number=1)) == _placeless(replace(other, number=1))


def _placeless(value: object) -> object:
    """A value without its places."""
    if isinstance(value, Where):
        return None
    if isinstance(value, tuple):
        return tuple(map(_placeless, value))
    if isinstance(value, dict):
        return {name: _placeless(inner) for name, inner in value.items()}
    if is_dataclass(value):
        return tuple(_placeless(getattr(value, field.name)) for field in fields(value))
    return value
