"""A long look at the build: killed, edited at random and fed mutations, each compared with a clean build.

`pytest -m nightly -n auto` runs it, with all else that takes minutes.
"""

from __future__ import annotations

import functools
import gc
import io
import os
import random
import re
import shutil
import signal
import time
import traceback
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PIL import Image

from cardsmith import reference
from cardsmith.engine import build as engine
from cardsmith.engine.build import Building
from cardsmith.engine.freshness import inputs
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.engine.products.job import Job, make
from cardsmith.house.publication import Publication, named_files
from cardsmith.render.weasyprint_patches import load_weasyprint
from tests.demo import copy_templates

pytestmark = pytest.mark.nightly
ROOT = Path(__file__).parents[2]
NAMES = ("mustard-dressing", "seeded-crackers")
KILLS, EDITS, MUTATIONS = 40, 60, 3_000
SEED = 17
# The rooms that read tables; that WeasyPrint is patched is not to be forgotten.
READERS = tuple(
    f"cardsmith.{room}" for room in ("reference", "measure", "language", "recipe", "facts", "check")
)
Files = dict[str, bytes]


@pytest.fixture(autouse=True)
def same_code(monkeypatch: pytest.MonkeyPatch) -> None:
    """The code's digest stands still, whoever edits it meanwhile."""
    real = engine.grounds
    monkeypatch.setattr(engine, "grounds", lambda *given: real(*given) | {"cardsmith": "as it is"})
    load_weasyprint()  # once, for all the processes that build


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Publication:
    """Two recipes, one with trials, a picture that is a photo, a price list, and tables of their own."""
    root = tmp_path / "kitchen"
    shutil.copytree(ROOT / "cardsmith/reference", root / "package/reference")
    monkeypatch.setattr(reference, "_HERE", root / "package/reference")
    monkeypatch.setattr(inputs, "PACKAGE", root / "package")
    copy_templates(root / "templates")
    for name in NAMES:
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    shutil.copy(ROOT / "recipes/prices.csv", root / "recipes/prices.csv")
    file = root / "recipes/mustard-dressing/recipe.yaml"
    file.write_text(file.read_text("utf-8").replace("file: mustard-dressing.svg", "file: bowl.jpg"), "utf-8")
    _photo(root / "recipes/mustard-dressing/bowl.jpg", "red")
    return Publication(root=root)


def _photo(file: Path, colour: str) -> None:
    """A picture whose file has the same size whatever its colour."""
    data = io.BytesIO()
    Image.new("RGB", (1_600, 1_200), colour).save(data, "BMP")
    out = io.BytesIO()
    Image.open(data).save(out, "JPEG", quality=90)
    file.write_bytes(out.getvalue().ljust(40_000, b"\0"))


def build(publication: Publication) -> None:
    """In a process of its own, as a command does, so that nothing is remembered."""
    assert os.waitstatus_to_exitcode(os.waitpid(_building(publication), 0)[1]) == 0


def _building(publication: Publication) -> int:
    child = os.fork()
    if not child:
        code = 1
        try:
            _build(publication)
            code = 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(code)
    return child


def _build(publication: Publication) -> None:
    for one in gc.get_objects():  # tables are read anew
        if isinstance(one, functools._lru_cache_wrapper) and one.__module__.startswith(READERS):
            one.cache_clear()
    with held(publication.build, lambda: None):
        building = Building(publication)
        found = list(building.build(named_files(publication, ()), lambda jobs: InProcess(), 1))
        building.finish(found, whole=True)


def files(publication: Publication) -> Files:
    found = (file for file in publication.build.rglob("*") if file.is_file() and ".cache" not in file.parts)
    return {file.relative_to(publication.build).as_posix(): file.read_bytes() for file in found}


def clean(publication: Publication) -> Files:
    """What a build leaves that has never built before."""
    kept = publication.root / "kept"
    publication.build.rename(kept)
    try:
        build(publication)
        return files(publication)
    finally:
        shutil.rmtree(publication.build)
        kept.rename(publication.build)


def _recipe(publication: Publication, name: str) -> Path:
    return publication.file(name)


def _replace(file: Path, old: str, new: Callable[[re.Match[str]], str]) -> None:
    text = file.read_text("utf-8")
    changed = re.sub(old, new, text, count=1)
    seen = file.stat()
    file.write_text(changed, "utf-8")
    if len(changed) == len(text):  # as a copy by a program that keeps dates would look
        os.utime(file, ns=(seen.st_atime_ns, seen.st_mtime_ns))


def edits(publication: Publication, chance: random.Random) -> Iterator[tuple[str, Callable[[], object]]]:
    """Ways to edit a publication, each by its name."""
    root = publication.root
    crackers, dressing = (_recipe(publication, name) for name in ("seeded-crackers", "mustard-dressing"))
    digit = str(chance.randrange(2, 9))
    colour = chance.choice(["red", "blue", "green", "black"])
    font = root / "templates/fonts/FiraSans-Regular.ttf"
    other = chance.choice(["FiraSans-SemiBold.ttf", "FiraSans-Italic.ttf", "FiraSans-Regular.ttf"])
    yield (
        "an amount",
        lambda: _replace(crackers, r"(?m)^(\s+- \d)\d(\d* g )", lambda m: f"{m[1]}{digit}{m[2]}"),
    )
    yield "a title", lambda: _replace(dressing, r"title: \w", lambda m: f"title: {chance.choice('MBTR')}")
    yield (
        "the house",
        lambda: _replace(root / "templates/house.yaml", r"salt: \d", lambda m: f"salt: {digit}"),
    )
    yield "a template", lambda: _replace(root / "templates/site/card.html.j2", r"\n", lambda m: "\n{# a #}")
    yield "the look", lambda: _replace(root / "templates/print.css", r"\n", lambda m: "\n\n")
    yield "a font in its place", lambda: font.write_bytes((ROOT / "templates/fonts" / other).read_bytes())
    yield "a photo of the same size and date", lambda: _same_date(dressing.with_name("bowl.jpg"), colour)
    trials = crackers.with_name("trials.yaml")
    yield "trials", lambda: _replace(trials, r"(date: \d{4}-\d\d-1)\d", lambda m: f"{m[1]}{digit}")
    yield "prices", lambda: _replace(root / "recipes/prices.csv", r"\d(?=\.\d\d)", lambda m: digit)
    flours = root / "package/reference/larder_measures/flour.csv"
    rye = r"(?m)^(whole-rye-flour,,cup,1,1)\d\d,"
    yield "a row of the larder", lambda: _replace(flours, rye, lambda m: f"{m[1]}2{digit},")
    yield "a rename", lambda: _rename(publication)
    yield "a file that is lost", lambda: _lose(publication.build)
    yield "a picture made ready that is damaged", lambda: _damage(publication.build / ".cache/pictures")


def _same_date(file: Path, colour: str) -> None:
    seen = file.stat()
    _photo(file, colour)
    os.utime(file, ns=(seen.st_atime_ns, seen.st_mtime_ns))


def _rename(publication: Publication) -> None:
    old, new = "mustard-dressing", "mustard-sauce"
    folder = publication.recipes / old
    if folder.is_dir() and not (publication.recipes / new).exists():
        shutil.copytree(folder, publication.recipes / new)
    else:
        shutil.rmtree(publication.recipes / new)


def _lose(build: Path) -> None:
    for file in sorted(build.glob("cards/*/*.pdf"))[:1]:
        file.unlink()


def _mended(publication: Publication, sound: Path) -> None:
    """Take back an edit that stops a card: where there are none, there is nothing to compare."""
    for name in NAMES:
        if (
            publication.file(name).is_file()
            and not (publication.build / f"cards/{name}/{name}-press.pdf").is_file()
        ):
            shutil.copytree(sound / name, publication.recipes / name, dirs_exist_ok=True)


def _damage(folder: Path) -> None:
    for file in folder.glob("*"):  # none while no card with a photo stands
        file.write_bytes(file.read_bytes()[:-5] + b"wrong")


def test_after_each_of_many_edits_all_is_as_a_clean_build_leaves_it(publication: Publication) -> None:
    chance, sound, papers = random.Random(SEED), publication.root / "sound", 0
    shutil.copytree(publication.recipes, sound)
    build(publication)
    for number in range(EDITS):
        ways = list(edits(publication, chance))
        name, edit = ways[number % len(ways)] if number < 2 * len(ways) else chance.choice(ways)
        edit()
        build(publication)
        found = files(publication)
        assert found == clean(publication), f"edit {number}: {name}"
        papers += sum(path.endswith("-press.pdf") for path in found)
        _mended(publication, sound)
    assert papers > EDITS


def test_after_each_of_many_kills_all_is_as_a_clean_build_leaves_it(publication: Publication) -> None:
    chance = random.Random(SEED)
    build(publication)
    began = time.monotonic()
    clean(publication)
    took = time.monotonic() - began
    for number in range(KILLS):
        ways = dict(edits(publication, chance))
        ways["an amount"]()
        ways["a title"]()
        child = _building(publication)
        time.sleep(chance.random() * took)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        build(publication)
        assert files(publication) == clean(publication), f"kill {number}"


def _mutated(text: bytes, chance: random.Random) -> bytes:
    data = bytearray(text)
    for _ in range(chance.randrange(1, 4)):
        place = chance.randrange(len(data))
        match chance.randrange(4):
            case 0:
                data[place] = chance.randrange(256)
            case 1:
                del data[place : place + chance.randrange(1, 30)]
            case 2:
                data[place:place] = data[chance.randrange(len(data)) :][: chance.randrange(1, 30)]
            case _:
                data[place:place] = chance.choice(
                    [b"\t", b"- ", b": ", b"{", b"\xc2\xbd", b"0", b"1e9", b"\n"]
                )
    return bytes(data)


@pytest.mark.parametrize("part", range(10))
def test_no_mutation_of_a_recipe_breaks_check_page_or_paper(part: int, publication: Publication) -> None:
    """Whatever stands in a file, there is a finding or a card, and never a fault of our own."""
    chance = random.Random(SEED + part)
    sound = {name: publication.file(name).read_bytes() for name in NAMES}
    house = publication.house()
    digests = dict.fromkeys(("judging", "page", "paper"), "as it is")
    for number in range(MUTATIONS // 10):
        name = chance.choice(NAMES)
        publication.file(name).write_bytes(_mutated(sound[name], chance))
        file = publication.file(name)
        done = make(Job(name=name, file=file, root=publication.root, house=house, grounds=digests))
        assert done.findings or done.produced, (part, number)
        publication.file(name).write_bytes(sound[name])
