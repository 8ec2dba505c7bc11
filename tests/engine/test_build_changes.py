"""What a change makes anew: exactly what depends on it, and then all is as a clean build would leave it."""

from __future__ import annotations

import io
import json
import os
import shutil
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from markupsafe import Markup
from PIL import Image

from cardsmith.engine import build as engine
from cardsmith.engine.build import Building, Built
from cardsmith.engine.freshness.fingerprint import fingerprint
from cardsmith.engine.freshness.inputs import SCOPES
from cardsmith.engine.machine.output import OF_PICTURE, held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.engine.products import job
from cardsmith.engine.products.printing import photos_for
from cardsmith.files.reading import digest_of
from cardsmith.house.publication import Publication, named_files
from cardsmith.render.card.view import PhotoView
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
CURD, DRESSING = "lemon-curd", "mustard-dressing"
PRODUCTS = {one.name: one for one in job.PRODUCTS}
PAGE, PAPER = {"page"}, {"paper"}
BOTH = PAGE | PAPER
NONE: dict[str, set[str]] = {}
Changes = Callable[[Publication], object]


def _written(material: job.Material, tools: job.Tools, grounds: str) -> job.Produced:
    """Instead of type, which is slow to set: what it would rest on."""
    said = fingerprint(PRODUCTS["paper"].rests_on(material), grounds).encode()
    return job.Produced(files={f"cards/{material.name}/{material.name}-press.pdf": said})


@pytest.fixture(autouse=True, scope="module")
def quick() -> Iterator[None]:
    """No type is set, and the code's digest stands still, whoever edits it meanwhile."""
    real = engine.grounds
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(engine, "grounds", lambda *given: real(*given) | {"cardsmith": "as it is"})
        patched.setattr(job, "PRODUCTS", (PRODUCTS["page"], replace(PRODUCTS["paper"], make=_written)))
        yield


@pytest.fixture(scope="module")
def before(tmp_path_factory: pytest.TempPathFactory, quick: None) -> Path:
    """A publication of two recipes, built."""
    root = tmp_path_factory.mktemp("before") / "kitchen"
    copy_templates(root / "templates")
    for name in (CURD, DRESSING):
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    build(Publication(root=root))
    return root


@pytest.fixture
def publication(before: Path, tmp_path: Path) -> Publication:
    shutil.copytree(before, tmp_path / "kitchen")
    return Publication(root=tmp_path / "kitchen")


def build(publication: Publication, *names: str) -> dict[str, Built]:
    with held(publication.build, lambda: None):
        building = Building(publication)
        found = list(building.build(named_files(publication, names), lambda jobs: InProcess(), 1))
        building.finish(found, whole=not names)
    return {one.name: one for one in found}


def made(found: dict[str, Built]) -> dict[str, set[str]]:
    return {name: set(one.made) for name, one in found.items() if one.made}


def files(publication: Publication) -> dict[str, bytes]:
    """Everything in build/ but what a machine keeps for itself."""
    found = (file for file in publication.build.rglob("*") if file.is_file())
    return {
        file.relative_to(publication.build).as_posix(): file.read_bytes()
        for file in found
        if ".cache" not in file.parts
    }


def as_clean(publication: Publication) -> bool:
    """Whether build/ holds just what it would if it were built from nothing."""
    now = files(publication)
    shutil.rmtree(publication.build)
    build(publication)
    return now == files(publication)


def edit(path: str, old: str, new: str) -> Changes:
    def change(publication: Publication) -> None:
        file = publication.root / path
        text = file.read_text("utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), "utf-8")

    return change


def write(path: str, text: str) -> Changes:
    return lambda publication: (publication.root / path).write_text(text, "utf-8")


def lose(path: str) -> Changes:
    return lambda publication: (publication.root / path).unlink()


def rename(old: str, new: str) -> Changes:
    return lambda publication: (publication.root / old).rename(publication.root / new)


def again(old: str, new: str) -> Changes:
    return lambda publication: shutil.copy(publication.root / old, publication.root / new)


def every(what: set[str]) -> dict[str, set[str]]:
    return {CURD: what, DRESSING: what}


RECIPE = f"recipes/{CURD}/recipe.yaml"
TRIALS = """\
trials:
  - {trial: 1, date: 2026-02-01, cook: H. Tarn, ingredients: [30 g white wine vinegar, 10 g Dijon mustard]}
"""


# What each change makes anew and what the build says of it. Changes that make the same follow one another in
# one publication: what none of them makes is as it was before them all, when it is held to a clean build.
CHANGES: dict[str, tuple[dict[str, set[str]], list[tuple[Changes, str]]]] = {
    "nothing": (
        NONE,
        [
            (
                edit(f"recipes/{CURD}/lemon-curd.svg", "</svg>", "<!-- anew --></svg>"),
                "lemon-curd.svg changed",
            ),
            (write("recipes/prices.csv", "ingredient,price\n"), ""),
            (write(f"build/cards/{CURD}/stray.txt", ""), ""),
            (edit("templates/house.yaml", "name: ", "# a remark\nname: "), "house.yaml"),
            (edit("templates/site/home.html.j2", "\n", "\n\n"), ""),
            (edit("templates/proof/proof.css", "\n", "\n\n"), ""),
        ],
    ),
    "both of one": (
        {CURD: BOTH},
        [
            (
                edit(f"recipes/{CURD}/lemon-curd.svg", "</svg>", '<path d="M0 0"/></svg>'),
                "lemon-curd.svg changed",
            ),
            (edit(RECIPE, "title: ", "title: Sharp "), RECIPE),
            (lose(f"recipes/{CURD}/lemon-curd.svg"), "lemon-curd.svg is gone"),
        ],
    ),
    "the paper of one": (
        {CURD: PAPER},
        [
            (lose(f"recipes/{CURD}/proofs/02.json"), "proofs/02.json is gone"),
            # The press file says which version of the recipe it shows.
            (edit(RECIPE, "title: ", "# a remark\ntitle: "), RECIPE),
            (write(f"build/cards/{CURD}/{CURD}-press.pdf", "%PDF"), "was altered"),
        ],
    ),
    "the paper of another": (
        {DRESSING: PAPER},
        [(write(f"recipes/{DRESSING}/trials.yaml", TRIALS), "trials.yaml is new")],
    ),
    "the page of one": (
        {CURD: PAGE},
        [(lose(f"build/cards/{CURD}/{CURD}.html"), "lemon-curd.html is missing")],
    ),
    "the page of another": (
        {DRESSING: PAGE},
        [(write(f"recipes/{DRESSING}/portion.yaml", "eaten: {olive oil: 50 %}\n"), "portion.yaml is new")],
    ),
    "no card of one": (
        {},
        # The third proof says that it is the second.
        [
            (
                again(f"recipes/{CURD}/proofs/02.json", f"recipes/{CURD}/proofs/03.json"),
                "proofs/03.json is new",
            )
        ],
    ),
    "every page": (
        every(PAGE),
        [(edit("templates/site/card.html.j2", "\n", "\n\n"), "card.html.j2 changed")],
    ),
    "all paper": (
        every(PAPER),
        [
            (edit("templates/house.yaml", "text: [10.5, 9.5]", "text: [10, 9.5]"), "house.yaml"),
            (edit("templates/house.yaml", "on_card: no", "on_card: yes"), "house.yaml"),
            (edit("templates/print.css", "\n", "\n\n"), "print.css changed"),
            (
                rename("templates/fonts/Spectral-Italic.ttf", "templates/fonts/Italic.ttf"),
                "fonts/Italic.ttf is new",
            ),
        ],
    ),
    "all": (
        every(BOTH),
        [
            (write("templates/motto.j2", "{# new #}"), "motto.j2 is new"),
            (edit("templates/look.css", "\n", "\n\n"), "look.css changed"),
            (edit("templates/house.yaml", "name: ", "name: Old "), "house.yaml"),
        ],
    ),
}


@pytest.mark.parametrize("anew", CHANGES)
def test_a_change_makes_what_depends_on_it_and_no_more(publication: Publication, anew: str) -> None:
    wanted, changes = CHANGES[anew]
    for change, said in changes:
        change(publication)
        found = build(publication)
        assert made(found) == wanted, said
        whys = [why for one in found.values() for why in one.why]
        assert any(said in why for why in whys) if said else not whys
        assert not any(one.why for one in build(publication).values()), said
    assert as_clean(publication)


def test_a_font_that_stands_there_by_a_link_counts_as_well(publication: Publication) -> None:
    fonts, elsewhere = publication.templates / "fonts", publication.root / "type"
    fonts.rename(elsewhere)
    fonts.symlink_to(elsewhere)
    (elsewhere / "again").symlink_to(elsewhere)  # in a circle
    assert made(build(publication)) == NONE
    (elsewhere / "Italic.ttf").write_bytes(b"")
    assert made(build(publication)) == every(PAPER)


def test_a_house_that_is_edited_while_its_recipes_are_made_is_used_by_the_next_build(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.rmtree(publication.build)
    house = Publication.house

    def edited_then(self: Publication) -> object:
        found = house(self)
        edit("templates/house.yaml", "name: ", "name: Old ")(self)
        return found

    with monkeypatch.context() as patched:
        patched.setattr(Publication, "house", edited_then)
        build(publication)
    assert made(build(publication)) == every(BOTH)
    assert as_clean(publication)


@pytest.mark.parametrize("named", [(), ("curd",), (DRESSING,)], ids=["all", "the new name", "another"])
def test_nothing_of_a_renamed_recipe_stays(publication: Publication, named: tuple[str, ...]) -> None:
    for path in (f"cards/{CURD}/{CURD}-proof.pdf", f"bench/{CURD}/sheet.pdf", f"portion/{CURD}/{CURD}.html"):
        (publication.build / path).parent.mkdir(parents=True, exist_ok=True)
        (publication.build / path).write_text("of another command", "utf-8")
    build(publication)
    assert f"cards/{CURD}/{CURD}-proof.pdf" in files(publication)
    (publication.recipes / CURD).rename(publication.recipes / "curd")
    build(publication, *named)
    left = [path for path in files(publication) if CURD in Path(path).parts]
    assert left == [] if not named else all(path.startswith(("bench", "portion")) for path in left)
    assert "/lemon-curd/" not in (publication.build / "site/index.html").read_text("utf-8")


def test_a_dish_still_on_the_bench_keeps_its_sheets(publication: Publication) -> None:
    (publication.recipes / "ideas").mkdir()
    sheet = publication.build / "bench/ideas/sheet.pdf"
    sheet.parent.mkdir(parents=True)
    sheet.write_bytes(b"%PDF")
    build(publication)
    assert sheet.is_file()


def test_a_former_address_becomes_a_recipe_s_own_and_its_page_stays(publication: Publication) -> None:
    edit(f"recipes/{DRESSING}/recipe.yaml", "published:", "formerly: [aioli]\npublished:")(publication)
    build(publication)
    page = publication.build / "site/recipes/aioli/index.html"
    assert "has a new address" in page.read_text("utf-8")
    shutil.copytree(publication.recipes / CURD, publication.recipes / "aioli")
    build(publication, "aioli")
    assert "has a new address" not in page.read_text("utf-8")
    assert not any(one.why for one in build(publication).values())
    shutil.rmtree(publication.recipes / "aioli")
    build(publication)
    assert "has a new address" in page.read_text("utf-8")
    assert as_clean(publication)


def test_the_report_of_a_build_that_was_killed_before_it_is_written_by_the_next(
    publication: Publication,
) -> None:
    edit(RECIPE, "title: ", "no_such_key: 1\ntitle: ")(publication)
    with held(publication.build, lambda: None):
        list(Building(publication).build(named_files(publication, ()), lambda jobs: InProcess(), 1))
    build(publication)
    assert any(
        one["file"] == RECIPE and "no_such_key" in one["what"]
        for one in json.loads(files(publication)["report.json"])["findings"]
    )
    assert as_clean(publication)


def test_a_card_that_could_not_be_made_is_told_until_it_is(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = job.make

    def faulty(one: job.Job) -> job.Made:
        if one.name == CURD:
            raise OSError(28, "No space left on device")
        return real(one)

    edit(RECIPE, "title: ", "title: Sharp ")(publication)
    with monkeypatch.context() as patched:
        patched.setattr(job, "make", faulty)
        found = build(publication)[CURD]
        assert isinstance(found.fault, OSError)
        assert "make room on the disk" in found.findings[0].what
        build(publication, DRESSING)
    told = json.loads(files(publication)["report.json"])["findings"]
    assert [one["file"] for one in told if "could not be made" in one["what"]] == [RECIPE]
    found = build(publication)[CURD]
    assert found.why == ("it could not be made before",)
    assert as_clean(publication)


def test_a_recipe_that_may_no_longer_be_read_stops_no_other(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As root may read anything, the system's refusal is played."""
    edit(RECIPE, "title: ", "title: Sharp ")(publication)
    edit(f"recipes/{DRESSING}/recipe.yaml", "title: ", "title: Mild ")(publication)
    real = os.open

    def refusing(path: str, *given: int, **named: int) -> int:
        if str(path).endswith(RECIPE):
            raise PermissionError(13, "Permission denied", str(path))
        return real(path, *given, **named)

    with monkeypatch.context() as patched:
        patched.setattr("cardsmith.files.reading.os.open", refusing)
        found = build(publication)
    assert [one.name for one in found[CURD].findings] == ["file-refused"]
    assert made(found) == {DRESSING: BOTH}
    assert made(build(publication)) == {CURD: BOTH}


def test_a_manifest_leads_to_no_file_outside(publication: Publication) -> None:
    """One that came with somebody else's folder may say anything."""
    precious = publication.root / "precious"
    precious.write_text("mine", "utf-8")
    kept = engine.Kept(name="gone", files={"page": {"../precious": engine.Stamp(digest="0")}})
    recipes = {**Building(publication)._before.recipes, "gone": kept}
    file = publication.build / ".cache/manifest"
    file.write_bytes(engine.dump(engine.Manifest(recipes=recipes)))
    build(publication)
    assert precious.read_text("utf-8") == "mine"


def test_a_file_that_another_command_is_writing_is_let_be_and_one_it_left_is_not(
    publication: Publication,
) -> None:
    folder = publication.build / "cards" / CURD
    young, old = folder / f".{CURD}-proof.pdf.abc", folder / f".{CURD}-proof.pdf.def"
    for file in (young, old):
        file.write_bytes(b"%P")
    os.utime(old, (time.time() - 7200,) * 2)
    build(publication)
    assert young.is_file()
    assert not old.is_file()


SAME_SIZE = {
    RECIPE: ("title: Sharp", "title: Harsh"),
    "templates/site/card.html.j2": ("<", " "),
    "recipes/lemon-curd/lemon-curd.svg": ('stop-color="#c', 'stop-color="#d'),
}


@pytest.mark.parametrize("path", SAME_SIZE)
def test_an_edit_that_keeps_size_and_date_is_seen(path: str, publication: Publication) -> None:
    build(publication)
    file = publication.root / path
    seen, text = file.stat(), file.read_text("utf-8")
    time.sleep(0.06)  # until a stamp of the file may be trusted
    build(publication)
    old, new = SAME_SIZE[path]
    assert old in text
    file.write_text(text.replace(old, new, 1), "utf-8")
    os.utime(file, ns=(seen.st_atime_ns, seen.st_mtime_ns))
    assert file.stat().st_size == seen.st_size
    assert build(publication)[CURD].why


def test_a_picture_made_ready_is_used_only_as_it_was_made(publication: Publication) -> None:
    image = io.BytesIO()
    Image.new("RGB", (60, 40), "red").save(image, "JPEG")
    photo = PhotoView(name="new.jpg", alt="", credit=Markup(), focus="50% 50%", place="")
    folder = publication.build / ".cache/pictures"

    def placed() -> dict[str, bytes]:
        there = {photo.name: image.getvalue()}
        return dict(photos_for(photo, publication.house().card, there, folder))

    ours = f"{digest_of(image.getvalue())[:OF_PICTURE]}-*"
    sound, names = placed(), sorted(folder.glob(ours))
    for file in names:
        file.write_bytes(file.read_bytes()[:-9] + b"otherwise")
    assert placed() == sound
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("PIL.__version__", "0.1")
        placed()
    assert len(list(folder.glob(ours))) == 2 * len(names) > 0


def test_another_imaging_library_makes_pages_and_paper_anew() -> None:
    assert all(SCOPES[name].holds("library/pillow") for name in BOTH)
    assert all(SCOPES["page"].holds(f"library/{name}") for name in ("resvg_py", "fonttools"))


def test_pictures_made_ready_go_with_the_picture_they_were_made_from(publication: Publication) -> None:
    image = io.BytesIO()
    Image.new("RGB", (60, 40), "red").save(image, "JPEG")
    folder = publication.build / ".cache/pictures"
    photo = PhotoView(name="new.jpg", alt="", credit=Markup(), focus="50% 50%", place="")
    dict(photos_for(photo, publication.house().card, {photo.name: image.getvalue()}, folder))
    ours = f"{digest_of(image.getvalue())[:OF_PICTURE]}-*"
    left = len(list(folder.glob(ours)))
    (publication.recipes / CURD / "lemon-curd.svg").write_bytes(image.getvalue())  # read, and refused
    build(publication)
    assert len(list(folder.glob(ours))) == left > 0
    (publication.recipes / CURD / "lemon-curd.svg").write_bytes(b"<svg/>")
    build(publication)
    assert not list(folder.glob(ours))


def test_paper_left_for_later_is_taken_away_and_made_by_the_next_build(publication: Publication) -> None:
    """No card of yesterday stands beside the page of today."""
    edit(RECIPE, "title: ", "title: Sharp ")(publication)
    with held(publication.build, lambda: None):
        building = Building(publication)
        found = list(building.build(named_files(publication, ()), lambda jobs: InProcess(), 1, ("page",)))
        building.finish(found, whole=True)
    assert made({one.name: one for one in found}) == {CURD: PAGE}
    assert f"cards/{CURD}/{CURD}-press.pdf" not in files(publication)
    assert f"cards/{DRESSING}/{DRESSING}-press.pdf" in files(publication)
    found = build(publication)
    assert found[CURD].why == ("its paper was left for later",)
    assert made(found) == {CURD: PAPER}
    assert as_clean(publication)


def test_an_edit_of_words_makes_no_picture_of_a_page_anew(
    publication: Publication, monkeypatch: pytest.MonkeyPatch
) -> None:
    dots = {one: one.read_bytes() for one in publication.build.rglob(f"{CURD}/*.jpg")}
    assert len(dots) == 3
    monkeypatch.setattr("cardsmith.site.recipe_page.photo._drawn", lambda *_: pytest.fail("drawn anew"))
    edit(RECIPE, "Do not let it boil", "Never let it boil")(publication)
    assert "page" in build(publication)[CURD].made
    assert {one: one.read_bytes() for one in dots} == dots
