"""The command on a clone of code and recipes: a table's row, a font, what is read, Ctrl-C, other places."""

from __future__ import annotations

import json
import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from cardsmith.engine.freshness.inputs import COLLECTION, SCOPES
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
NAMES = ("lemon-curd", "mustard-dressing", "white-bean-salad")
MINUTE = 60  # seconds; a build of these takes a few
KINDS = {".html", "-fragment.html", ".json", ".jsonld", "-screen.pdf", "-press.pdf"}  # of a card's files


def cloned(root: Path, names: tuple[str, ...] = NAMES) -> Path:
    """Code, templates and a few recipes of the demo in a folder of their own."""
    shutil.copytree(ROOT / "cardsmith", root / "cardsmith")
    copy_templates(root / "templates")
    for name in names:
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    return root


def command(*words: str) -> list[str]:
    """``cardsmith`` as the code of the folder it is called in has it."""
    return [sys.executable, "-m", "cardsmith", *words]


def build(root: Path, *words: str, seed: str = "0") -> str:
    """Build; what was said."""
    environment = os.environ | {"PYTHONHASHSEED": seed}
    done = subprocess.run(
        command("build", *words), cwd=root, env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr + done.stdout
    return done.stdout


def files(root: Path) -> dict[str, bytes]:
    """Everything in build/ but what a machine keeps for itself."""
    found = ((file.relative_to(root / "build"), file) for file in (root / "build").rglob("*"))
    return {
        path.as_posix(): file.read_bytes()
        for path, file in found
        if file.is_file() and ".cache" not in path.parts
    }


def dated(root: Path) -> dict[str, int]:
    """The inode of each card's file: another where it was written anew."""
    return {file.name: file.stat().st_ino for file in (root / "build/cards").glob("*/*")}


def test_a_row_of_the_larder_or_a_font_makes_what_rests_on_it_and_no_more(tmp_path: Path) -> None:
    root = cloned(tmp_path)
    build(root)
    before, was = files(root), dated(root)
    assert was.keys() == {name + kind for name in NAMES for kind in KINDS}

    table = root / "cardsmith/reference/larder_measures/nut.csv"  # only the salad has roasted almonds
    text = table.read_text("utf-8")
    assert text.count("roasted-almond,whole,cup,1,138,") == 1
    table.write_text(
        text.replace("roasted-almond,whole,cup,1,138,", "roasted-almond,whole,cup,1,116,"), "utf-8"
    )
    said = build(root, "--why")
    assert "white-bean-salad: reference/larder_measures/nut.csv changed → page, paper" in said
    assert "lemon-curd: reference/larder_measures/nut.csv changed → nothing" in said
    now = dated(root)
    assert {name for name in now if now[name] != was[name]} == {f"white-bean-salad{kind}" for kind in KINDS}
    after = files(root)
    assert all(
        before[f"cards/white-bean-salad/{name}"] != after[f"cards/white-bean-salad/{name}"]
        for name in now
        if name.startswith("white-bean-salad")
    )

    from fontTools.ttLib import TTFont  # noqa: PLC0415

    file = next((root / "templates/fonts").glob("*-Regular.ttf"))
    with TTFont(file) as font:
        font["hmtx"].metrics["e"] = (font["hmtx"].metrics["e"][0] + 40, font["hmtx"].metrics["e"][1])
        font.save(file.with_suffix(".new"))
    file.with_suffix(".new").replace(file)
    was = now
    assert f"lemon-curd: templates/fonts/{file.name} changed → paper" in build(root, "--why")
    now = dated(root)
    assert {name for name in now if now[name] != was[name]} == {name for name in now if name.endswith(".pdf")}
    last = files(root)
    assert all(after[path] != last[path] for path in last if path.endswith(".pdf"))


READS = """
import functools, gc, json, sys
from dataclasses import replace
from pathlib import Path
from cardsmith.engine import build
from cardsmith.engine.build import Building
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.engine.products import job
from cardsmith.house.publication import Publication, named_files

root, step, opened = Path.cwd(), "judging", {}

def note(event, given):
    if event == "open" and isinstance(given[0], str) and given[0].startswith(str(root)):
        opened.setdefault(step, set()).add(given[0][len(str(root)) + 1:])

def afresh():
    # What is remembered from another step is asked for again, so that each shows all that it reads.
    for one in gc.get_objects():
        if isinstance(one, functools._lru_cache_wrapper) and one.__module__.startswith("cardsmith"):
            one.cache_clear()

def watched(product):
    def make(*given):
        global step
        step = product.name
        afresh()
        try:
            return product.make(*given)
        finally:
            step = "judging"
            afresh()
    return replace(product, make=make)

job.PRODUCTS = tuple(map(watched, job.PRODUCTS))
publication = Publication(root=root)
with held(publication.build, lambda: None):
    building = Building(publication)
    build.report = lambda *given: {}  # written wherever anything changed
    building._grounds, building._house  # the house looks over all its styles, and rests on none
    sys.addaudithook(note)
    found = list(building.build(named_files(publication, ()), lambda jobs: InProcess(), 1))
    step = "collection"
    afresh()
    building.finish(found, whole=True)
assert all(one.made for one in found), found
print(json.dumps({step: sorted(paths) for step, paths in opened.items()}))
"""


def test_each_step_reads_only_what_the_build_takes_it_to_rest_on(tmp_path: Path) -> None:
    """Fonts on paper are opened by fontconfig, out of sight here; the test above holds them."""
    root = cloned(tmp_path, (*NAMES, "seeded-crackers"))
    done = subprocess.run(
        [sys.executable, "-c", READS], cwd=root, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    opened = json.loads(done.stdout)
    assert opened.keys() == {*SCOPES, "collection"}
    beyond = {}
    for step, paths in opened.items():
        scope = SCOPES.get(step, COLLECTION)
        grounds = {
            path.removeprefix("cardsmith/")
            for path in paths
            if path.startswith(("templates/", "cardsmith/reference/"))
        }
        beyond[step] = {name for name in grounds if not scope.holds(name)}
    assert not any(beyond.values()), beyond
    assert "templates/print.html.j2" in opened["paper"]
    assert "templates/site/card.html.j2" in opened["page"]


def made_with_sheet(root: Path, place: Path, *words: str, **environment: str) -> dict[str, bytes]:
    """All that a build and a sheet of its cards leave, asked for from another folder."""
    for line in (("build", *words), ("sheets", "--on", "a4")):
        done = subprocess.run(
            command("--publication", str(root), *line),
            cwd=place,
            env=os.environ | {"PYTHONPATH": str(root)} | environment,
            capture_output=True,
            text=True,
            check=False,
            umask=0o077 if "TZ" in environment else 0o022,
        )
        assert done.returncode == 0, done.stderr + done.stdout
    return files(root)


def test_clones_give_the_same_bytes_wherever_and_whenever_and_however_they_are_made(tmp_path: Path) -> None:
    """In other folders, languages, time zones, in an order of its own, by one process and by several."""
    from PIL import Image  # noqa: PLC0415

    one, other = (cloned(tmp_path / name) for name in ("here", "a folder elsewhere"))
    for number, root in enumerate((one, other)):
        recipe = root / "recipes/mustard-dressing/recipe.yaml"
        Image.linear_gradient("L").resize((1200, 900)).convert("RGB").save(
            recipe.with_name("jar.jpg"), "JPEG"
        )
        text = recipe.read_text("utf-8")
        recipe.write_text(text.replace("file: mustard-dressing.svg", "file: jar.jpg"), "utf-8")
        for file in root.rglob("*"):
            os.utime(file, (10**9 * number + 5,) * 2)
    found = made_with_sheet(one, one, "--serial", PYTHONHASHSEED="1", LANG="C.UTF-8")
    made = {f"cards/{name}/{name}{kind}" for name in NAMES for kind in KINDS}
    assert made | {"sheets/all-on-a4.pdf", "site/index.html", "site/feed.atom"} < found.keys()
    assert any(path.startswith("site/recipes/mustard-dressing/") and path.endswith(".jpg") for path in found)
    again = made_with_sheet(
        other, tmp_path, "--jobs", "2", PYTHONHASHSEED="4242", TZ="Pacific/Auckland", LC_ALL="tr_TR.UTF-8"
    )
    assert [path for path in found.keys() | again.keys() if found.get(path) != again.get(path)] == []


def at_work(session: int) -> set[int]:
    """The processes of a session that have not ended."""
    found = set()
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            state, _, _, of = stat.read_text().rpartition(") ")[2].split()[:4]
        except (OSError, ValueError):
            continue
        if int(of) == session and state not in "ZX":
            found.add(int(stat.parent.name))
    return found


@pytest.mark.parametrize(
    ("to_all", "told"),
    [(True, signal.SIGINT), (False, signal.SIGINT), (False, signal.SIGKILL)],
    ids=["Ctrl-C, as a terminal tells all", "the command alone", "killed"],
)
def test_stopped_it_ends_its_workers_and_leaves_whole_files(
    tmp_path: Path, *, to_all: bool, told: signal.Signals
) -> None:
    names = (*NAMES, "peanut-brittle", "raspberry-sorbet")
    root = cloned(tmp_path, names)
    running = subprocess.Popen(
        command("build", "--jobs", "2"),
        cwd=root,
        start_new_session=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )
    until = time.monotonic() + MINUTE
    while not list(root.glob("build/cards/*/*-press.pdf")) and time.monotonic() < until:
        assert running.poll() is None
        time.sleep(0.005)
    assert len(at_work(running.pid)) > 3  # with two workers, and the process they start from
    (os.killpg if to_all else os.kill)(running.pid, told)
    said, _ = running.communicate(timeout=MINUTE)
    assert running.returncode != 0
    assert b"Traceback" not in said
    while at_work(running.pid) and time.monotonic() < until:
        time.sleep(0.02)
    assert not at_work(running.pid)
    left = files(root)
    assert 0 < sum(path.endswith("-press.pdf") for path in left) < len(names)
    build(root, "--serial")
    whole = files(root)
    assert {path: data for path, data in left.items() if whole.get(path) != data} == {}
    assert not list((root / "build/.cache/tmp").iterdir())
