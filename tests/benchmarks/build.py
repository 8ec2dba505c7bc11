"""What building costs, in processor time, beside the typesetter alone in the same run.

Run ``python tests/benchmarks/build.py [RECIPES] [--profile]``; it prints a table (40 recipes: minutes) and,
if asked, where the time of a cold build and of an edit goes. The recipes are the demo's, each again under
other titles, in a folder that is removed at the end. Every process finds its modules compiled, as an
installed command does. Times by the clock mean something on an idle machine alone.
"""

from __future__ import annotations

import gc
import os
import pickle
import pstats
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

from cardsmith.__main__ import NEW_OBJECTS
from cardsmith.engine.build import Building
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.house.publication import Publication, named_files
from cardsmith.render.typesetter import Typesetter
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
FILES = 3  # set by a process each; the rest is taken to cost as much
TIMES = 3  # the least of so many counts: whatever else the machine does only adds
MANY = 20  # cards after which a process should take no more memory
TOP = 12  # functions shown of a profile
VARIANTS = ("pdf/ua-1", "pdf/x-4")  # for the screen, for the press
ALONE = """
import pickle, sys
from pathlib import Path
from cardsmith.render.typesetter import Typesetter
html, photos, variant, templates, cache = pickle.load(sys.stdin.buffer)
setter = Typesetter(Path(templates), Path(cache))
setter.write(setter.lay_out(html, photos), variant)
"""
# Modules are compiled once and kept outside the checkout, whatever the shell says.
COMPILED = Path(tempfile.gettempdir()) / f"cardsmith-benchmark-{os.getpid()}"
ENVIRONMENT = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"} | {
    "PYTHONPYCACHEPREFIX": str(COMPILED)
}
MEMORY = """
import resource, sys
from pathlib import Path
from cardsmith.engine.build import Building
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.house.publication import Publication, named_files
publication = Publication(root=Path(sys.argv[1]))
with held(publication.build, lambda: None):
    building = Building(publication)
    for _ in building.build(named_files(publication, ()), lambda jobs: InProcess(), 1):
        print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""
# What a build consists of: the function that begins each part, and the end of its file's name.
PARTS = {
    "imports": ("<frozen importlib._bootstrap>", "_find_and_load"),
    "flow: reading, checks, both columns": ("flow.py", "prepare"),
    "other batch sizes": ("job.py", "_sizes"),
    "page": ("job.py", "_page"),
    "page: what it shows": ("recipe_page/view.py", "page_view"),
    "paper": ("job.py", "_paper"),
    "paper: the typesetter made ready": ("typesetter.py", "__init__"),
    "paper: layout": ("typesetter.py", "lay_out"),
    "paper: words counted": ("audit.py", "faults"),
    "paper: writing": ("typesetter.py", "write"),
    "paper: screen file": ("tagging.py", "screened"),
    "paper: press file": ("press/pdf.py", "press_pdf"),
    "paper: preflight, screen": ("preflight.py", "screen_faults"),
    "paper: preflight, press": ("preflight.py", "examined"),
    "collection": ("build.py", "finish"),
}


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
            env=ENVIRONMENT,
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
    copy_templates(root / "templates")
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


def memory_of(root: Path) -> list[tuple[int, float]]:
    """Peak memory of a process that sets one card after another, in MB, after so many cards."""
    done = subprocess.run(
        [sys.executable, "-c", MEMORY, str(root)],
        cwd=ROOT,
        env=ENVIRONMENT,
        capture_output=True,
        text=True,
        check=True,
    )
    peaks = [int(line) / 1024 for line in done.stdout.split()]
    marks = sorted({1, min(MANY, len(peaks)), len(peaks)})
    return [(mark, peaks[mark - 1]) for mark in marks]


def profile_of(root: Path, *words: str) -> list[str]:
    """A build under the profiler, by part, each with what it calls; then the functions that took most."""
    with tempfile.TemporaryDirectory() as folder:
        file = str(Path(folder) / "profile")
        cost_of("-m", "cProfile", "-o", file, "-m", "cardsmith", "--publication", str(root), "build", *words)
        told = pstats.Stats(file)
    stats: dict[tuple[str, int, str], tuple[int, int, float, float, Any]] = told.stats  # type: ignore[attr-defined]
    whole: float = told.total_tt  # type: ignore[attr-defined]
    lines = [f"{whole:.1f} s under the profiler, which slows small functions more than large ones", ""]
    lines += ["| part, with what it calls | calls | share |", "| --- | ---: | ---: |"]
    for part, (module, name) in PARTS.items():
        found = [row for (file, _, named), row in stats.items() if named == name and file.endswith(module)]
        if found:
            calls, took = sum(row[1] for row in found), sum(row[3] for row in found)
            lines.append(f"| {part} | {calls} | {took / whole:.1%} |")
    lines += ["", "| function alone | calls | share |", "| --- | ---: | ---: |"]
    for (file, number, name), row in sorted(stats.items(), key=lambda one: -one[1][2])[:TOP]:
        where = f"{'/'.join(Path(file).parts[-2:])}:{number} " if number else ""
        lines.append(f"| {where}{name} | {row[1]} | {row[2] / whole:.1%} |")
    return lines


def edit(publication: Publication, mark: str) -> None:
    """Another title for the first recipe."""
    file = publication.file(publication.names()[0])
    file.write_text(file.read_text("utf-8").replace("title: ", f"title: {mark} ", 1), "utf-8")


def main(count: int, *, profiled: bool) -> None:
    """Print the tables."""
    gc.set_threshold(NEW_OBJECTS)  # as the command has it: the typesetter alone looks for cycles as seldom
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "kitchen"
        publication = copied(root, count)
        cardsmith(root, "build", publication.names()[0])  # compiles every module
        shutil.rmtree(publication.build)
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
        edits = []
        for number in range(TIMES):
            edit(publication, str(number))
            edits.append(cardsmith(root, "build"))
        edited = min(edits, key=lambda one: one.processor)
        name = publication.names()[0]
        one, every = cardsmith(root, "check", name, times=TIMES), cardsmith(root, "check")
        shutil.rmtree(publication.build)
        both = cardsmith(root, "build", "--jobs", "2")
        shutil.rmtree(publication.build)
        peaks = memory_of(root)
        profiles = {}
        if profiled:
            shutil.rmtree(publication.build)
            profiles["A cold build"] = profile_of(root, "--serial")
            edit(publication, "profiled")
            profiles["One recipe edited"] = profile_of(root)
    rows = (
        ("cold build, one process", cold, f"{cold.processor / alone:.2f} × the typesetter alone", "0.8 ×"),
        ("the typesetter alone, each card twice", alone, "1", ""),
        ("cold build, two workers", both, f"{both.wall / cold.processor:.2f} × one by the clock", "0.6 ×"),
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
    told = ", ".join(f"{peak:.0f} MB after {mark}" for mark, peak in peaks)
    print(f"\nPeak memory of a process, by cards set: {told}")  # noqa: T201
    for title, lines in profiles.items():
        print(f"\n{title}: " + "\n".join(lines))  # noqa: T201


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:] if word.isdigit()]
    try:
        main(numbers[0] if numbers else 40, profiled="--profile" in sys.argv)
    finally:
        shutil.rmtree(COMPILED, ignore_errors=True)
