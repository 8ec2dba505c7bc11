"""Printers: how each press wants its files, by ``reference/printer_profiles.csv``."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.reference import table
from cardsmith.render.sizes import length


@frozen
class Printer:
    """How one press wants its files."""

    name: str
    shown: str
    condition: str  # identifier of the printing condition in the registry
    condition_name: str
    registry: str
    icc: str  # a file of reference/icc/
    bleed: Fraction  # points
    marks: bool
    resolution: int  # dots per inch of a photo at size, at least
    ink_limit: Fraction  # sum of all inks of one colour, 3.3 for 330 %


@cache
def printer(name: str) -> Printer:
    """The profile of a name in ``reference/printer_profiles.csv``.

    Raises:
        CardsmithError: no such profile.
    """
    for row in table("printer_profiles"):
        if row["name"] == name:
            return Printer(
                **{
                    key: row[key]
                    for key in ("name", "shown", "condition", "condition_name", "registry", "icc")
                },
                bleed=length(row["bleed"]),
                marks=row["marks"] == "yes",
                resolution=int(row["resolution"]),
                ink_limit=Fraction(row["ink_limit"]) / 100,
            )
    known = ", ".join(row["name"] for row in table("printer_profiles"))
    raise CardsmithError(f"there is no printer {name!r}; printers: {known}")
