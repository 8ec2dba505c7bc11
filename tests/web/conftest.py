"""The demo publication's site, built once without paper, and one browser to read it in."""

from __future__ import annotations

import fcntl
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from cardsmith.engine.build import Building
from cardsmith.engine.machine.output import held
from cardsmith.engine.machine.pool import InProcess
from cardsmith.engine.products import job
from cardsmith.house.publication import Publication
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # One renderer for the pages of a tab: Chromium tells another one late what a page has stored, and a page
    # that opens there a moment later may find nothing.
    "--renderer-process-limit=1",
]


@pytest.fixture(scope="session")
def publication(tmp_path_factory: pytest.TempPathFactory) -> Publication:
    """A copy of the demo publication, its pages built, which no test alters; no type is set.

    Processes that run tests side by side share the one that the first of them builds.
    """
    if not os.environ.get("PYTEST_XDIST_WORKER"):
        return _built(tmp_path_factory.mktemp("publication"))
    shared = tmp_path_factory.getbasetemp().parent / "web-publication"
    shared.mkdir(exist_ok=True)
    with (shared / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        done, root = shared / "done", shared / "publication"
        if done.exists():
            return Publication(root=root)
        shutil.rmtree(root, ignore_errors=True)
        made = _built(root)
        done.touch()
        return made


def _built(root: Path) -> Publication:
    shutil.copytree(ROOT / "recipes", root / "recipes")
    copy_templates(root / "templates")
    made = Publication(root=root)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(job, "PRODUCTS", tuple(one for one in job.PRODUCTS if one.name != "paper"))
        with held(made.build, lambda: None):
            building = Building(made)
            files = {name: made.file(name) for name in made.names()}
            built = list(building.build(files, lambda _: InProcess(), 1))
            building.finish(built, whole=True)
    assert all(one.files for one in built)
    return made


@pytest.fixture(scope="session")
def site(publication: Publication) -> Path:
    """The folder that a publisher would put live."""
    return publication.build / "site"


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Debian's Chromium, once for all tests."""
    from tests.web.webtools import lack  # noqa: PLC0415 - found by the line above

    try:
        from playwright.sync_api import sync_playwright  # noqa: PLC0415
    except ImportError:
        lack("playwright is missing: pip install -e '.[test]'")
    chromium = shutil.which("chromium")
    if chromium is None:
        lack("chromium is missing: apt-get install chromium")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium, args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def tab(browser: Any) -> Iterator[Any]:
    """A fresh page; a message of the browser's about a fault, or a request to any host, fails the test."""
    context = browser.new_context(viewport={"width": 820, "height": 1000})
    page = context.new_page()
    faults: list[str] = []
    page.on("console", lambda said: faults.append(said.text) if said.type in {"error", "warning"} else None)
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on("request", lambda asked: faults.append(asked.url) if asked.url.startswith("http") else None)
    yield page
    context.close()
    assert not faults
