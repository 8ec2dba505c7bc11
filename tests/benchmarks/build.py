"""What building costs, in processor time, beside the typesetter alone in the same run.

Run ``python tests/benchmarks/build.py [RECIPES]``; it prints a table (40 recipes: minutes). The
recipes are the demo's, each again under other titles, in a folder that is removed at the end.
"""

from __future__ import annotations

import os
import pickle
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cardsmith.build import Building
from cardsmith.output import held
from cardsmith.pool import InProcess
from cardsmith.publication import Publication, named_files
from cardsmith.render.typesetter import Typesetter

ROOT = Path(__file__).parents[2]
FILES = 3  # set by a process each; the rest is taken to cost as much
TIMES = 3  # the least of so many counts: whatever else the machine does only adds
VARIANTS = ("pdf/ua-1", "pdf/x-4")  # for the screen, for the press
ALONE = """
import pickle, sys
from pathlib import Path
from cardsmith.render.typesetter import Typesetter
html, photos, variant, templates, cache = pickle.load(sys.stdin.buffer)
setter = Typesetter(Path(templates), Path(cache))
setter.write(setter.lay_out(html, photos), variant)
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """What a process took."""

    processor: float  # seconds
    wall: float  # seconds


def cost_of(*command: str, given: bytes = b"", root: Path = ROOT) -> Cost:
    """Run a process of Python to its end."""
    with tempfile.TemporaryFile() as asked:
        asked.write(given)
        asked.seek(0)
        began = time.monotonic()
        process = subprocess.Popen(
            [sys.executable, *command],
            cwd=root,
            stdin=asked,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        _, _, used = os.wait4(process.pid, 0)
        wall = time.monotonic() - began
    process.returncode = 0  # awaited above
    return Cost(processor=used.ru_utime + used.ru_stime, wall=wall)


def cardsmith(root: Path, *words: str, times: int = 1) -> Cost:
    """Run the command; the least of several runs."""
    costs = [cost_of("-m", "cardsmith", "--publication", str(root), *words) for _ in range(times)]
    return min(costs, key=lambda one: one.processor)


def copied(root: Path, count: int) -> Publication:
    """A publication of so many recipes, each different."""
    shutil.copytree(ROOT / "templates", root / "templates")
    demo = sorted(ROOT.glob("recipes/*/recipe.yaml"))
    for number in range(count):
        source = demo[number % len(demo)]
        folder = root / "recipes" / f"{source.parent.name}-{number}"
        shutil.copytree(source.parent, folder, ignore=shutil.ignore_patterns("proofs"))
        text = source.read_text("utf-8")
        text = re.sub(r"^(title: .*)$", rf"\1, {number}", text, count=1, flags=re.MULTILINE)
        text = re.sub(r"^(published|formerly|corrections):.*\n(?:[ -].*\n)*", "", text, flags=re.MULTILINE)
        (folder / "recipe.yaml").write_text(text, "utf-8")
    return Publication(root=root)


def pages_of(publication: Publication) -> tuple[list[tuple[str, Mapping[str, bytes]]], Typesetter]:
    """The page each printed card was set from at last, with its pictures, and the typesetter, warm."""
    last: dict[str, tuple[str, Mapping[str, bytes]]] = {}
    setters: list[Typesetter] = []
    lay_out = Typesetter.lay_out

    def noting(self: Typesetter, html: str, photos: Mapping[str, bytes], **given: Any) -> Any:
        setters.append(self)
        title = re.search("<title>.*?</title>", html)
        if given.get("styled", True) and title:
            last[title[0]] = html, photos
        return lay_out(self, html, photos, **given)

    Typesetter.lay_out = noting  # type: ignore[method-assign]
    try:
        with held(publication.build, lambda: None):
            building = Building(publication)
            list(building.build(named_files(publication, ()), lambda jobs: InProcess(), 1))
    finally:
        Typesetter.lay_out = lay_out  # type: ignore[method-assign]
    return list(last.values()), setters[0]


def typesetter_alone(pages: list[tuple[str, Mapping[str, bytes]]], setter: Typesetter) -> float:
    """Seconds to lay every page out and write it once for each variant, as two warm processes would."""
    began = time.process_time()
    for variant in VARIANTS:
        for html, photos in pages:
            setter.write(setter.lay_out(html, photos), variant)
    return time.process_time() - began


def main(count: int) -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "kitchen"
        publication = copied(root, count)
        pages, setter = pages_of(publication)
        alone = typesetter_alone(pages, setter)
        cache = str(publication.build / ".cache/fonts")
        each = [
            cost_of(
                "-c",
                ALONE,
                given=pickle.dumps([html, dict(photos), variant, str(publication.templates), cache]),
            )
            for html, photos in pages[:FILES]
            for variant in VARIANTS
        ]
        apart = sum(one.processor for one in each) / len(each) * 2 * len(pages)
        shutil.rmtree(publication.build)
        cold = cardsmith(root, "build", "--serial")
        cards = len(list(root.glob("build/cards/*/*-press.pdf")))
        idle = cardsmith(root, "build", times=TIMES)
        name = publication.names()[0]
        edits = []
        for number in range(TIMES):
            file = publication.file(name)
            text = file.read_text("utf-8")
            file.write_text(text.replace("title: ", f"title: {number} ", 1), "utf-8")
            edits.append(cardsmith(root, "build"))
        edited = min(edits, key=lambda one: one.processor)
        one, every = cardsmith(root, "check", name, times=TIMES), cardsmith(root, "check")
    rows = (
        ("cold build, one process", cold, f"{cold.processor / alone:.2f} × the typesetter alone", "0.8 ×"),
        ("the typesetter alone, each card twice", alone, "1", ""),
        ("a process for each file", apart, f"{apart / cold.processor:.1f} × the cold build", "10 ×"),
        (
            "a build with nothing to do",
            idle,
            f"{idle.processor / cold.processor:.3f} × the cold build",
            "0.5 s",
        ),
        ("one recipe edited, whole command", edited, "", "1 s"),
        ("check of one file, whole command", one, "", "0.4 s"),
        ("check of all", every, f"{every.processor / count * 1000:.1f} ms a recipe", "6 ms"),
    )
    print(f"{count} recipes, {cards} printed\n")  # noqa: T201
    print("| | processor, s | wall, s | ratio | goal |")  # noqa: T201
    print("| --- | ---: | ---: | --- | --- |")  # noqa: T201
    for what, cost, ratio, goal in rows:
        figures = f"{cost.processor:.2f} | {cost.wall:.2f}" if isinstance(cost, Cost) else f"{cost:.2f} |"
        print(f"| {what} | {figures} | {ratio} | {goal} |")  # noqa: T201


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
