"""Bytes of a recipe file to a tree of text, with every fault of the file; nothing is guessed in silence."""

from __future__ import annotations

from dataclasses import replace

from cardsmith.finding import Finding, Where, error
from cardsmith.frozen import frozen
from cardsmith.recipe.file import yaml_traps
from cardsmith.recipe.file.tree import MAX_DEPTH, MAX_NODES, UNSEEN, Broken, Node, Tree, tree_of
from cardsmith.regex import regex

MAX_BYTES = 128_000  # a long recipe has 10,000, its trials some 50,000
MAX_LINES = 5_000  # a long recipe has 200
MAX_MENDS = 50
READ_AGAIN = 200_000  # characters read in all while mending, so that a hostile file ends in seconds
_TOLD = 20  # faults of characters reported one by one
LONGEST_RUN = 200  # of one character, or of figures, blanks or marks; a ruler in a comment has 80
_RUN = regex(
    rf"(?P<one>.)(?P=one){{{LONGEST_RUN},}}|[0-9]{{{LONGEST_RUN},}}|\s{{{LONGEST_RUN},}}|[^\w\s]{{{LONGEST_RUN},}}"
)


@frozen
class Source:
    """A file read: its text, its tree as far as one could be made, and its faults."""

    text: str
    root: Node | None
    findings: tuple[Finding, ...]


def read_source(data: bytes, file: str) -> Source:
    """The tree of a YAML file. Faults of the content are findings; nothing raises.

    Where the file breaks YAML's rules, its text is mended in memory, only to read on to the next fault.
    """
    if len(data) > MAX_BYTES:
        what = f"the file is longer than {MAX_BYTES:,} bytes; a long recipe has 10,000"
        return _refused("file-too-large", file, what, "the recipe alone; photos stand beside it")
    if data.count(b"\n") > MAX_LINES:
        what = f"the file has over {MAX_LINES:,} lines; a long recipe has 200"
        return _refused("file-too-large", file, what, "one recipe in a file")
    text, findings = _decoded(data, file)
    text, runs = _without_long_runs(text, file)
    findings += runs
    tree, mended = _mended(text.split("\n"), file)
    findings += mended
    if isinstance(tree, Broken):
        return Source(text=text, root=None, findings=tuple(findings))
    findings += tree.findings
    if tree.root is None and not findings:
        instead = "a recipe; begin with a line such as: title: Caraway rye crackers"
        findings.append(error("empty-file", Where(file=file), "the file is empty", instead))
    return Source(text=text, root=tree.root, findings=tuple(findings))


def _refused(name: str, file: str, what: str, instead: str) -> Source:
    return Source(text="", root=None, findings=(error(name, Where(file=file), what, instead),))


def _decoded(data: bytes, file: str) -> tuple[str, list[Finding]]:
    """Strict UTF-8 with any line ends; a line that isn't is reported, and read as Windows-1252."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        what = "the file is in UTF-16"
        instead = "the same text saved as UTF-8; editors offer it under Save with encoding"
        return "", [error("not-utf-8", Where(file=file, line=1), what, instead)]
    findings: list[Finding] = []
    rows = []
    for number, raw in enumerate(data.removeprefix(b"\xef\xbb\xbf").split(b"\n"), start=1):
        try:
            row = raw.decode("utf-8")
        except UnicodeDecodeError as fault:
            if len(findings) < _TOLD:
                findings.append(_not_utf_8(raw, fault, Where(file=file, line=number)))
            row = raw.decode("cp1252", errors="replace")
        rows.append(row.removesuffix("\r"))
    text = "\n".join(rows).replace("\r", "\n")
    for number, line in enumerate(text.split("\n"), start=1):
        if len(findings) < _TOLD and (unseen := UNSEEN.search(line)):
            where = Where(file=file, line=number, column=unseen.start() + 1)
            what = f"an invisible character (U+{ord(unseen[0]):04X}) stands here"
            instead = "the line without it; it most likely came along when text was pasted"
            findings.append(error("control-character", where, what, instead))
    return UNSEEN.sub(" ", text), findings


def _without_long_runs(text: str, file: str) -> tuple[str, list[Finding]]:
    """The text with what nobody types cut short: patterns try each place of a run of blanks or figures."""
    if not _RUN.search(text):
        return text, []
    findings: list[Finding] = []
    rows = []
    for number, row in enumerate(text.split("\n"), start=1):
        if len(findings) < _TOLD and (run := _RUN.search(row)):
            where = Where(file=file, line=number, column=run.start() + 1)
            what = f"{len(run[0]):,} blanks, figures or marks stand in a row here"
            findings.append(error("long-run", where, what, f"at most {LONGEST_RUN}; the rest is not read"))
        rows.append(_RUN.sub(lambda run: run[0][:LONGEST_RUN], row))
    return "\n".join(rows), findings


def _not_utf_8(raw: bytes, fault: UnicodeDecodeError, line: Where) -> Finding:
    byte = raw[fault.start : fault.start + 1]
    where = replace(line, column=len(raw[: fault.start].decode("utf-8")) + 1)
    likely = byte.decode("cp1252", errors="replace")
    what = f"byte {byte.hex()} is not UTF-8; in Windows-1252 it is “{likely}”"
    return error("not-utf-8", where, what, "the same text saved as UTF-8; then look at this character")


def _mended(lines: list[str], file: str) -> tuple[Tree | Broken, list[Finding]]:
    """The tree, of a text mended where YAML stopped, and what was mended."""
    shown = lines
    findings: list[Finding] = []
    touched: set[int] = set()  # each row is mended once, so that mending ends
    budget = READ_AGAIN
    tree = tree_of(lines, shown, file)
    while isinstance(tree, Broken):
        accepted = None
        for mend in yaml_traps.mends(lines, tree.rows, tree.problem) if len(findings) < MAX_MENDS else ():
            budget -= sum(map(len, lines))
            if budget < 0:
                break
            if not mend.all_at_once and not touched.isdisjoint(mend.changes):
                continue
            trial = [mend.changes.get(row, line) for row, line in enumerate(lines)]
            after = tree_of(trial, shown, file)
            if not isinstance(after, Broken) or _further(after, tree, mend):
                accepted = mend, trial, after
                break
        if accepted is None:
            findings.append(_unmended(tree, lines, file))
            break
        mend, lines, tree = accepted
        touched |= set() if mend.all_at_once else set(mend.changes)
        where = Where(file=file, line=mend.row + 1, column=mend.column + 1)
        findings.append(replace(error(mend.name, where, mend.what, mend.instead), width=mend.width))
    return tree, findings


def _further(after: Broken, before: Broken, mend: yaml_traps.Mend) -> bool:
    """Whether a mend let reading go on, up to some later fault."""
    same = (after.row, after.problem) == (before.row, before.problem)
    return after.row > mend.last_row and not same and (after.row >= before.row or mend.all_at_once)


def _unmended(broken: Broken, lines: list[str], file: str) -> Finding:
    """What is said where no mend helps."""
    where = Where(file=file, line=min(broken.row, len(lines) - 1) + 1, column=broken.column + 1)
    if broken.problem == "depth":
        what = f"lists are nested more than {MAX_DEPTH} deep"
        return error("yaml-depth", where, what, "parts, and in each a list of lines: no more levels")
    if broken.problem == "size":
        what = f"the file has more than {MAX_NODES:,} entries"
        return error("file-too-large", where, what, "one recipe in a file")
    what = f"from here on the file can't be read as YAML ({broken.problem})"
    instead = "the same indentation, dash, colon and quotes as in the lines above"
    return error("yaml-syntax", where, what, instead)
