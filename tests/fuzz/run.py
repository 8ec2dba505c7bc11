"""A long search for texts that break a reader: `python -m tests.fuzz.run SECONDS [line|step|file]`.

Needs atheris (`pip install atheris`). It steers by the code it reaches, from the demo's recipes as first
texts. What it finds is written below ``--keep`` (a folder; default: one of the system's for scratch) and told
with its trace.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import atheris

with atheris.instrument_imports(
    include=["cardsmith.recipe", "cardsmith.check", "cardsmith.rewrite", "ruamel"]
):
    from tests.fuzz import properties

TARGETS: dict[str, Callable[[bytes], object]] = {
    "line": lambda data: properties.line(data.decode("utf-8", "ignore")),
    "step": lambda data: properties.step(data.decode("utf-8", "ignore")),
    "file": properties.file,
}
LONGEST = {"line": 400, "step": 800, "file": 6_000}  # bytes


def first_texts(target: str) -> Iterator[bytes]:
    """What the search begins with: the demo's recipes, or their lines."""
    for path in sorted((properties.ROOT / "recipes").glob("*/recipe.yaml")):
        data = path.read_bytes()
        if target == "file":
            yield data
        else:
            yield from (row.strip().removeprefix(b"- ") for row in data.split(b"\n") if row.strip())


def main() -> None:
    """Search until the time is up or something breaks."""
    told = argparse.ArgumentParser(description=__doc__)
    told.add_argument("seconds", type=int)
    told.add_argument("target", choices=TARGETS, nargs="?", default="line")
    told.add_argument("--keep", type=Path)
    given = told.parse_args()
    keep = given.keep or Path(tempfile.mkdtemp(prefix="cardsmith-fuzz-"))
    texts = keep / given.target
    texts.mkdir(parents=True, exist_ok=True)
    for number, data in enumerate(first_texts(given.target)):
        (texts / f"first-{number}").write_bytes(data)
    limits = [f"-max_total_time={given.seconds}", f"-max_len={LONGEST[given.target]}", "-timeout=20"]
    atheris.Setup([sys.argv[0], *limits, f"-artifact_prefix={keep}/", str(texts)], TARGETS[given.target])
    atheris.Fuzz()


if __name__ == "__main__":
    main()
