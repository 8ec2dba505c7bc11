"""Where recipes were before they were renamed: no address that was ever published goes dead."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping

from cardsmith.recipe.folder import NAME
from cardsmith.site.entry import Entry


def moved(entries: Iterable[Entry]) -> Mapping[str, Entry]:
    """Former names and the recipe that each leads to; a name in use again leads to its new owner.

    Where two recipes claim one former name, it leads to the one published last.
    """
    every = sorted(entries, key=lambda entry: (entry.published, entry.name))
    names = {entry.name for entry in every}
    moved = {
        former: entry
        for entry in every
        for former in entry.formerly
        # No redirect may lead out of the site.
        if former not in names and NAME.fullmatch(former.removesuffix(f"/{entry.edition}"))
    }
    return dict(sorted(moved.items()))


def moved_table(entries: Iterable[Entry]) -> bytes:
    """The same for a server that answers with 301 (RFC 9110, 15.4.2): columns from and to."""
    text = io.StringIO(newline="")
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(("from", "to"))
    for former, entry in moved(entries).items():
        rows.writerow((f"recipes/{former}/", f"recipes/{entry.name}/"))
    return text.getvalue().encode()
