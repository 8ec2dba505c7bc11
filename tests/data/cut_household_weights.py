"""Cut USDA SR 28's household weights to the foods whose numbers the larder cites."""

from __future__ import annotations

import csv
import re
import sys
from pathlib import Path

from cardsmith.reference import folder, table

SOURCE = "USDA National Nutrient Database for Standard Reference, Release 28, table WEIGHT"


def cut(published: Path, here: Path) -> None:
    """Write the rows of ``published`` for the cited foods to ``here``."""
    cited = {
        number
        for name in folder("larder_measures")
        for row in table(name)
        for number in re.findall(r"food (\d{5})", row["source"])
    }
    with published.open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["ndb_no"] in cited]
    with here.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, [*rows[0], "source"], lineterminator="\n")
        writer.writeheader()
        writer.writerows({**row, "source": SOURCE} for row in rows)


if __name__ == "__main__":
    cut(Path(sys.argv[1]), Path(__file__).with_name("household_weights.csv"))
