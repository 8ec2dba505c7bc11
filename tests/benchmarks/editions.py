"""What a second edition costs to check, in processor time, beside one alone.

Run ``python tests/benchmarks/editions.py``; it prints, of every demo recipe together, what the flow costs a
house of one edition and of two.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from time import process_time

from cardsmith.flow import prepare
from cardsmith.house.editions import EditionStyle
from cardsmith.house.publication import Publication
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder

PUBLICATION = Publication(root=Path(__file__).parents[2])
TIMES = 5  # each is done, and the least counts: whatever else the machine does only adds


def least(work: Callable[[], object]) -> float:
    """Milliseconds of processor time, the least of several runs."""
    costs = []
    for _ in range(TIMES):
        gc.collect()
        start = process_time()
        work()
        costs.append((process_time() - start) * 1000)
    return min(costs)


def checking(house: House) -> float:
    """Of all demo recipes, read, checked, rewritten and read back."""
    larder, files = load_larder(house.reference), [PUBLICATION.file(name) for name in PUBLICATION.names()]
    texts = [(file.parent.name, PUBLICATION.read(file), PUBLICATION.bench(file)) for file in files]

    def all_of_them() -> None:
        for name, text, bench in texts:
            prepare(name, text, "recipe.yaml", larder, house, bench)

    return least(all_of_them)


def main() -> None:
    """Print the table."""
    house = PUBLICATION.house()
    one = replace(house, editions=())
    two = replace(house, editions=(("us", EditionStyle()), ("uk", EditionStyle())))
    first, second = checking(one), checking(two)
    sys.stdout.write(f"check, one edition   {first:8.0f} ms\n")
    sys.stdout.write(f"check, two editions  {second:8.0f} ms   {second / first:.2f}\n")


if __name__ == "__main__":
    main()
