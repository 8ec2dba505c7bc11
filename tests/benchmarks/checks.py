"""What checking costs, in processor time: each stage of every demo recipe, and whole processes.

Run ``python tests/benchmarks/checks.py``; it prints a table (about half a minute). The first row is a fixed
piece of arithmetic in the same run, so that figures of two machines, or of a busy one, can be compared.
"""

from __future__ import annotations

import resource
import subprocess
import sys
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from statistics import mean
from time import process_time

from cardsmith.check.run import judge
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


def whole_process(*names: str) -> float:
    """Milliseconds of processor time of ``cardsmith check`` as a command."""
    costs = []
    for _ in range(TIMES):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        command = [sys.executable, "-m", "cardsmith", "--publication", str(ROOT), "check", *names]
        subprocess.run(command, capture_output=True, check=False)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        costs.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(costs) * 1000


def main() -> None:
    """Print the table."""
    larder, house, publication = load_larder(), load_house(ROOT), Publication(root=ROOT)
    read, judged, flow = [], [], []
    for name in publication.names():
        file = publication.file(name)
        data, bench = file.read_bytes(), publication.bench(file)
        recipe, _ = read_recipe(name, data, str(file), larder)
        if recipe is None:
            continue
        read.append(least(lambda one=(name, data, str(file)): read_recipe(*one, larder)))
        judged.append(least(lambda one=recipe: judge(one, larder, house)))
        flow.append(least(lambda one=(name, data, str(file)), of=bench: prepare(*one, larder, house, of)))
    rows = [("a yardstick of arithmetic", [least(yardstick)])]
    rows += [("reading a recipe", read), ("all its checks", judged), ("the whole flow", flow)]
    rows += [("the command, one recipe", [whole_process("seeded-crackers")])]
    print("| processor time, ms | mean | longest |\n| --- | ---: | ---: |")  # noqa: T201
    for name, costs in rows:
        print(f"| {name} | {mean(costs):.1f} | {max(costs):.1f} |")  # noqa: T201


if __name__ == "__main__":
    main()
