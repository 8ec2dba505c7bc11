"""A preview's builds: each is a process that starts with everything loaded that making a page needs.

Importing this module is the loading (`multiprocessing`'s fork server does it once); nothing of a publication
is kept, so an edited template is read afresh. Where cardsmith itself was edited, a build starts without it.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

from cardsmith.check import sarif
from cardsmith.engine import build, reporting
from cardsmith.engine.products import job
from cardsmith.flow import prepare
from cardsmith.house.files import house_folder
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.preview.drafts import shown_besides
from cardsmith.render.card.view import card_view
from cardsmith.render.templates import environment
from cardsmith.rewrite.batches.batches import batches
from cardsmith.site.recipe_page import files as recipe_page

LOADED = (build, job, reporting, sarif, recipe_page)
_PACKAGE = Path(__file__).parents[1]
_NOWHERE = Path(os.devnull)
CommandLine = Callable[[tuple[str, ...]], int]  # gives its exit code


def looks() -> tuple[tuple[str, int, int, int], ...]:
    """Every file of cardsmith with its date and size."""
    stamp = (
        (str(file), file.stat()) for file in sorted(_PACKAGE.rglob("*")) if file.suffix in {".py", ".csv"}
    )
    return tuple((name, seen.st_mtime_ns, seen.st_ctime_ns, seen.st_size) for name, seen in stamp)


def run(command: CommandLine, arguments: tuple[str, ...], said: Path, complained: Path, root: Path) -> None:
    """Run the command line in this process, with what it prints in two files, and end.

    Its findings are joined by drafts of the recipes with errors in the publication in ``root``.
    """
    for number, file in ((1, said), (2, complained)):
        os.dup2(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), number)
    if looks() != _WAS:
        os.execv(sys.executable, [sys.executable, "-m", "cardsmith", *arguments])
    code = command(arguments)
    sys.stdout.flush()
    try:
        findings = json.loads(said.read_text("utf-8"))["findings"]
    except (ValueError, KeyError):
        sys.exit(code)
    said.write_text(json.dumps(shown_besides(root, findings)), "utf-8")
    sys.exit(code)


def _rehearse() -> None:
    """Check and rewrite the starter recipe, so that whatever is loaded or compiled at first use is ready.

    So are our templates of its page: a publication's with the same text need not be compiled again.
    """
    house, larder = load_house(_NOWHERE), load_larder()
    text = (house_folder(_NOWHERE) / "recipe.yaml").read_bytes()
    card = prepare("recipe", text, "recipe.yaml", larder, house).card
    if card:
        batches(card.recipe, larder, house, cautions=card.cautions)
        card_view(card, house)
    ours = environment(house_folder(_NOWHERE))
    for name in ("card", "_search", "fragment", "embed"):
        ours.get_template(f"site/{name}.html.j2")


_WAS = looks()
_rehearse()
