from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pikepdf
import pytest
from markupsafe import Markup

from cardsmith.bench.file.load import read_trials
from cardsmith.bench.model import Trials
from cardsmith.bench.papers.report import Report, report
from cardsmith.bench.papers.sheet import plan
from cardsmith.bench.tasting.ballots import Ballots, ballots
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from cardsmith.render.papers.bench import STYLE, ballots_pdf, report_html, report_pdf, serving_pdf, sheet_pdf
from cardsmith.render.typesetter import Typesetter

ROOT = Path(__file__).parents[3]
TRIED = ("seeded-crackers", "ferry-butter-cake")
FULLEST = sorted(
    (file.parent.name for file in (ROOT / "recipes").glob("*/recipe.yaml")),
    key=lambda name: (ROOT / f"recipes/{name}/recipe.yaml").read_bytes().count(b"\n"),
)[-3:]


@pytest.fixture(scope="module")
def typesetter(tmp_path_factory: pytest.TempPathFactory) -> Typesetter:
    return Typesetter(ROOT / "templates", tmp_path_factory.mktemp("fonts"), STYLE)


@pytest.fixture(scope="module")
def paper_of(typesetter: Typesetter) -> Callable[[str], bytes]:
    """The ballots of the first tasting of a dish."""
    return cache(lambda name: ballots_pdf(_ballots(name), typesetter, "en-US"))


def _ballots(name: str) -> Ballots:
    found = demo(name)
    assert found is not None
    return ballots(found.tastings[0])


@cache
def demo(name: str) -> Trials | None:
    file = ROOT / f"recipes/{name}/trials.yaml"
    return read_trials(name, file.read_bytes(), file.name, load_larder())[0] if file.is_file() else None


def pages(pdf: bytes) -> int:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return len(document.pages)


@pytest.mark.parametrize("name", sorted({*FULLEST, *TRIED}))
def test_the_fullest_recipes_of_the_demo_have_a_sheet_of_one_page(name: str, typesetter: Typesetter) -> None:
    file = ROOT / f"recipes/{name}/recipe.yaml"
    recipe, _ = read_recipe(name, file.read_bytes(), str(file), load_larder())
    pdf = sheet_pdf(plan(recipe, demo(name), load_larder()), typesetter, "en-US")
    assert pages(pdf) == 1


def test_the_style_of_the_bench_is_never_below_11_points() -> None:
    css = (ROOT / "templates" / STYLE).read_text(encoding="utf-8")
    sizes = [part.split("pt")[0] for part in css.replace("font: ", "font-size: ").split("font-size: ")[1:]]
    points = [float(size) for size in sizes if size.replace(".", "").isdigit()]
    assert points.count(9.0) == 1  # the foot of the page, with its number
    assert min(size for size in points if size != 9) >= 11


def test_a_list_longer_than_a_page_takes_more(typesetter: Typesetter) -> None:
    lines = ", ".join(f"{number} g zorblat {'x' * number}" for number in range(1, 60))
    text = f"trials: [{{trial: 1, date: 2026-03-02, ingredients: [{lines}]}}]"
    found, _ = read_trials("a", text.encode(), "trials.yaml", load_larder())
    *front, back = _pages(sheet_pdf(plan(None, found, load_larder()), typesetter, "en-US"))[:-1]
    assert "process" in front[-1]
    assert back.startswith("measured")


@pytest.mark.parametrize(
    ("name", "to_a_page"),
    [("seeded-crackers", 6), ("ferry-butter-cake", 2)],  # three codes to tick; two samples on three scales
)
def test_as_many_ballots_as_fit_stand_on_a_page(
    name: str, to_a_page: int, paper_of: Callable[[str], bytes]
) -> None:
    assert pages(paper_of(name)) == _ballots(name).tasters / to_a_page


def test_ballots_are_the_same_twice(typesetter: Typesetter, paper_of: Callable[[str], bytes]) -> None:
    name = "seeded-crackers"
    assert ballots_pdf(_ballots(name), typesetter, "en-US") == paper_of(name)


def test_ballots_of_a_page_are_cut_to_one_size_and_hold_all_of_each(paper_of: Callable[[str], bytes]) -> None:
    """Cut in half across, each half holds one taster from head to last line."""
    paper = paper_of("ferry-butter-cake")
    for foot in (0, 396):
        command = f"pdftotext -layout -x 0 -y {foot} -W 612 -H 396 -r 72 -f 2 -l 2 - -"
        half = subprocess.run(command.split(), input=paper, capture_output=True, check=True).stdout.decode()
        words = " ".join(half.split())
        assert words.count("Taster") == words.count("session") == 1
        assert words.count("9 like extremely") == words.count("In your own words") == 2
        assert words.count("5 much too strong") == 4


def test_a_long_ballot_has_a_page_of_its_own(typesetter: Typesetter) -> None:
    view = _ballots("ferry-butter-cake")
    long = replace(view, attributes=("moistness", "sweetness", "saltiness", "crumb"))
    assert pages(ballots_pdf(long, typesetter, "en-US")) == view.tasters


@pytest.mark.parametrize("name", ["seeded-crackers", "ferry-butter-cake"])
def test_no_line_of_a_ballot_tells_what_is_tested(
    name: str, typesetter: Typesetter, paper_of: Callable[[str], bytes]
) -> None:
    view, paper = _ballots(name), paper_of(name)
    words = _words(paper)
    hidden = (view.name, view.name.replace("-", " "), view.test, view.question, f"seed {view.seed}", "seed")
    for hint in (*hidden, "trial"):
        assert hint.lower() not in words.lower(), hint
    assert words.count(f"session {view.session}") == view.tasters
    with pikepdf.open(io.BytesIO(paper)) as pdf:
        assert str(pdf.docinfo["/Title"]) == "Ballots"
        assert view.seed not in str(pdf.docinfo)
    order = _words(serving_pdf(view, typesetter, "en-US"))
    assert all(hint in order for hint in (view.name, view.test.capitalize(), view.seed, view.session))


def _words(paper: bytes) -> str:
    read = subprocess.run(["pdftotext", "-layout", "-", "-"], input=paper, capture_output=True, check=True)
    return " ".join(read.stdout.decode().split())


@cache
def _report(name: str) -> Report:
    found = demo(name)
    assert found is not None
    return report(found, "A dish", "cracker", load_house(ROOT), load_larder())


def test_the_report_is_the_same_twice(typesetter: Typesetter) -> None:
    view = _report("ferry-butter-cake")
    assert report_pdf(view, typesetter, "en-US") == report_pdf(view, typesetter, "en-US")


@pytest.mark.parametrize("name", ["seeded-crackers", "ferry-butter-cake"])
def test_the_report_fetches_nothing(name: str, typesetter: Typesetter) -> None:
    view = _report(name)
    page = report_html(view, ROOT / "templates", "en-US")
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "")
    assert page.count("<img") == len(view.plots)
    assert 'alt=""' not in page
    read = Markup(page).striptags().replace("\u00a0", " ")
    for line in view.summary:
        assert line in read


def _trials(count: int, foods: int) -> Report:
    lines = ", ".join(f"{10 + number} g zorblat {'x' * number}" for number in range(foods))
    rows = [f"{{trial: 1, date: 2026-03-02, ingredients: [{lines}]}}"]
    rows += [f"{{trial: {at}, date: 2026-03-0{at}, from: {at - 1}}}" for at in range(2, count + 1)]
    found, _ = read_trials("a", f"trials: [{', '.join(rows)}]".encode(), "trials.yaml", load_larder())
    assert found is not None
    return report(found, "A dish", "cracker", load_house(ROOT), load_larder())


def test_the_report_of_one_trial_has_no_empty_head() -> None:
    page = report_html(_trials(1, 3), ROOT / "templates", "en-US")
    assert "1 trial on 2026-03-02." in Markup(page).striptags()
    assert "What each change did" not in page
    assert "What each change did" in report_html(_trials(2, 3), ROOT / "templates", "en-US")


@pytest.mark.parametrize("foods", range(34, 40))  # as many as a page holds, and a few more
def test_a_long_formula_begins_beside_the_title_and_leaves_no_row_alone(
    foods: int, typesetter: Typesetter
) -> None:
    first, second, *_ = _pages(report_pdf(_trials(4, foods), typesetter, "en-US"), "-layout")
    assert "A dish: trials" in first
    assert "zorblat xxxx" in first
    rows = second.split("Made under")[0].strip().splitlines()
    assert len(rows) != 2, "its head and one row"


def test_no_line_of_a_report_divides_a_measure(typesetter: Typesetter) -> None:
    paper = report_pdf(_report("seeded-crackers"), typesetter, "en-US")
    lines = [line.rstrip() for line in "\n".join(_pages(paper, "-raw")).split("\n")]
    divided = [
        (one, other)
        for one, other in pairwise(lines)
        if re.search(r"[a-z].*\d$", one) and re.match(r"(g|%|°C|min|minutes|\(±\S+)( |$|[,;.)])", other)
    ]
    assert divided == []


def _pages(paper: bytes, *more: str) -> list[str]:
    command = ["pdftotext", *more, "-", "-"]
    read = subprocess.run(command, input=paper, capture_output=True, check=True)
    return read.stdout.decode().split("\f")
