"""What checking costs, in processor time: each stage of every demo recipe, and whole processes.

Run ``python tests/benchmarks/checks.py``; it prints a table (about half a minute). The first row is a fixed
piece of arithmetic in the same run, so that figures of two machines, or of a busy one, can be compared.

``python tests/benchmarks/checks.py OTHER`` runs the command of this tree and that of another checkout in
turn, each on its own demo, and prints the ratios (``git worktree add --detach OTHER VERSION``: an older one).
"""

from __future__ import annotations

import gc
import os
import resource
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from statistics import mean
from time import process_time

from cardsmith.__main__ import NEW_OBJECTS
from cardsmith.check.run import judge
from cardsmith.engine.freshness.checked import CHECKED
from cardsmith.facts.dangers.cautions import cautions
from cardsmith.flow import prepare
from cardsmith.house.publication import Publication
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe

ROOT = Path(__file__).parents[2]
TIMES = 5  # each is done, and the least counts: whatever else the machine does only adds


def least(work: Callable[[], object]) -> float:
    """Milliseconds of processor time, the least of several runs."""
    costs = []
    for _ in range(TIMES):
        start = process_time()
        work()
        costs.append(process_time() - start)
    return min(costs) * 1000


def yardstick() -> Fraction:
    """A fixed piece of work."""
    return sum((Fraction(one, 7) + Fraction(3, one) for one in range(1, 300)), Fraction(0))


def command(root: Path, *names: str, noted: bool = False) -> float:
    """Milliseconds of processor time of ``cardsmith check`` of a tree, ``noted``: with last time's notes."""
    if not noted:
        (root / "build" / CHECKED).unlink(missing_ok=True)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    asked = [sys.executable, "-P", "-m", "cardsmith", "--publication", str(root), "check", *names]
    subprocess.run(asked, env={**os.environ, "PYTHONPATH": str(root)}, capture_output=True, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime) * 1000


def compared(other: Path) -> None:
    """Print what the command costs here and in another tree, and the ratio."""
    print("| processor time, ms | here | there | ratio |\n| --- | ---: | ---: | ---: |")  # noqa: T201
    for asked, names, noted in (
        ("one recipe", ["lemon-curd"], False),
        ("one with trials", ["seeded-crackers"], False),
        ("all", [], False),
        ("all, again", [], True),
    ):
        pairs = [[command(root, *names, noted=noted) for root in (ROOT, other)] for _ in range(2 * TIMES)]
        here, there = map(min, zip(*pairs, strict=True))
        print(f"| {asked} | {here:.0f} | {there:.0f} | {here / there:.2f} |")  # noqa: T201


def main() -> None:
    """Print the table."""
    if len(sys.argv) > 1:
        compared(Path(sys.argv[1]).resolve())
        return
    gc.set_threshold(NEW_OBJECTS)  # as the command does
    larder, house, publication = load_larder(), load_house(ROOT), Publication(root=ROOT)
    read, warned, judged, flow = [], [], [], []
    for name in publication.names():
        file = publication.file(name)
        data, bench = file.read_bytes(), publication.bench(file)
        recipe, _ = read_recipe(name, data, str(file), larder)
        if recipe is None:
            continue
        read.append(least(lambda one=(name, data, str(file)): read_recipe(*one, larder)))
        warned.append(least(lambda one=recipe: cautions(one, larder)))
        judged.append(least(lambda one=recipe: judge(one, larder, house)))
        flow.append(least(lambda one=(name, data, str(file)), of=bench: prepare(*one, larder, house, of)))
    rows = [("a yardstick of arithmetic", [least(yardstick)])]
    rows += [
        ("reading a recipe", read),
        ("its cautions", warned),
        ("all its checks", judged),
        ("the whole flow", flow),
    ]
    rows += [("the command, one recipe", [min(command(ROOT, "seeded-crackers") for _ in range(TIMES))])]
    print("| processor time, ms | mean | longest |\n| --- | ---: | ---: |")  # noqa: T201
    for name, costs in rows:
        print(f"| {name} | {mean(costs):.1f} | {max(costs):.1f} |")  # noqa: T201


if __name__ == "__main__":
    main()
