"""The preview: only this machine can ask, an edit changes the page, and no fault ends it."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import pairwise
from pathlib import Path

import pytest
from lxml import html

from cardsmith.commands.main import main
from cardsmith.measure.larder import load_larder
from cardsmith.preview.drafts import shown_besides
from cardsmith.preview.news import News
from cardsmith.preview.page import NEWS, previewed
from cardsmith.preview.server import MOST, Server, State
from cardsmith.preview.watch import build, follow, look
from cardsmith.recipe.load import read_recipe
from cardsmith.site.policy import digest
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
FINDING = {
    "file": "recipes/a/recipe.yaml",
    "line": 7,
    "severity": "error",
    "what": "<b>",
    "instead": "mend it",
}
PAGE = (
    "<!DOCTYPE html><html><head><title>t</title>"
    '<meta http-equiv="Content-Security-Policy" content="default-src &#39;none&#39;; '
    'script-src &#39;none&#39;">'
    "</head><body><p>x</p></body></html>"
)


@contextmanager
def serving(build: Path, top: str = "/") -> Iterator[Server]:
    server = Server(build, top, 0, State())
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.01}, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.state.stop()
        server.shutdown()
        server.server_close()


def ask(server: Server, path: str, host: str = "", method: str = "GET") -> tuple[int, str, str]:
    connection = http.client.HTTPConnection("127.0.0.1", server.server_address[1], timeout=20)
    connection.request(method, path, headers={"Host": host or server.hosts[0]})
    answer = connection.getresponse()
    told = answer.status, answer.headers.get("Content-Type", ""), answer.read().decode("utf-8", "replace")
    connection.close()
    return told


@pytest.fixture
def built(tmp_path: Path) -> Path:
    site = tmp_path / "build/site"
    (site / "recipes/a").mkdir(parents=True)
    (tmp_path / "build/cards/a").mkdir(parents=True)
    for file in ("index.html", "404.html", "recipes/a/index.html", "../cards/a/a.html"):
        (site / file).write_text(PAGE.replace("x", file), "utf-8")
    (site / "feed.atom").write_text("<feed/>", "utf-8")
    (tmp_path / "secret").write_text("secret", "utf-8")
    (site / "way-out").symlink_to(tmp_path)
    return tmp_path / "build"


def test_it_listens_on_this_machine_s_own_address_alone(built: Path) -> None:
    with serving(built) as server:
        assert server.socket.getsockname()[0] == "127.0.0.1"
        others = {one[4][0] for one in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)} - {
            "127.0.0.1"
        }
        for other in others:
            with pytest.raises(OSError, match="refused"):
                socket.create_connection((other, server.server_address[1]), timeout=2).close()


@pytest.mark.parametrize(
    ("path", "status", "told"),
    [
        ("/", 200, "index.html"),
        ("/recipes/a/", 200, "recipes/a/index.html"),
        ("/recipes/a/index.html?q=1", 200, "recipes/a/index.html"),
        ("/cards/a/a.html", 200, "../cards/a/a.html"),
        ("/feed.atom", 200, "<feed/>"),
        ("/nothing", 404, "404.html"),
        ("/../../secret", 404, "404.html"),
        ("/%2e%2e/%2e%2e/secret", 404, "404.html"),
        ("/cards/../../secret", 404, "404.html"),
        ("/way-out/secret", 404, "404.html"),
        ("//etc/passwd", 404, "404.html"),
        ("/%00", 404, "404.html"),
        ("/" + "long" * 1_250, 404, "404.html"),
        ("/" + "a/" * 2_500, 404, "404.html"),
        ("http://[::1", 400, "no address"),
    ],
)
def test_what_is_served(built: Path, path: str, status: int, told: str) -> None:
    with serving(built) as server:
        answer = ask(server, path)
        assert answer[0] == status
        assert told in answer[2]
        assert "secret" not in answer[2]


def test_slow_clients_are_let_go_and_never_many_at_a_time(
    built: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("cardsmith.preview.server._Handler.timeout", 1.0)
    with serving(built) as server:
        before = threading.active_count()
        slow = [socket.create_connection(("127.0.0.1", server.server_address[1])) for _ in range(200)]
        for one in slow:
            one.sendall(b"GET / HTT")
        time.sleep(0.3)
        assert threading.active_count() - before <= MOST
        deadline = time.monotonic() + 20
        while threading.active_count() > before and time.monotonic() < deadline:
            time.sleep(0.1)
        assert threading.active_count() <= before
        assert ask(server, "/")[0] == 200
        for one in slow:
            one.close()


def test_nothing_is_served_from_where_a_link_leads(built: Path) -> None:
    (built / "cards").rename(built.parent / "elsewhere")
    (built / "cards").symlink_to(built.parent / "elsewhere")
    with serving(built) as server:
        assert ask(server, "/cards/a/a.html")[0] == 404


def test_a_name_that_was_made_to_lead_here_is_refused(built: Path) -> None:
    with serving(built) as server:
        assert ask(server, "/", "evil.example")[0] == 403
        assert ask(server, "/", f"evil.example:{server.server_address[1]}")[0] == 403
        assert ask(server, "/", server.hosts[1])[0] == 200


def test_a_site_below_a_path_is_served_there(built: Path) -> None:
    with serving(built, "/kitchen/") as server:
        assert ask(server, "/")[0] == 302
        assert "index.html" in ask(server, "/kitchen/")[2]


def test_the_bar_shows_each_finding_and_keeps_the_policy() -> None:
    page = html.fromstring(previewed(PAGE, News(findings=(FINDING,), version=3)))
    assert page.xpath("//aside[@id='preview']/@data-news") == [f"{NEWS}?after=3"]
    assert page.xpath("//aside//li")[0].text_content() == "error<b>→ mend itrecipes/a/recipe.yaml:7"
    (policy,) = page.xpath("//meta[@http-equiv]/@content")
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == digest(page.xpath("//script")[-1].text)
    assert rules["style-src"] == digest(page.xpath("//style")[-1].text)
    assert rules["connect-src"] == "'self'"


OWN = {**FINDING, "line": 3, "column": 5, "width": 4, "source": "  - 50 g rye", "place": "r0"}
RECIPE_PAGE = PAGE.replace("<p>x</p>", '<table><tr id="r0"><td>50 g</td></tr></table>')


def test_findings_of_the_page_s_recipe_come_first_and_lead_to_place_and_editor() -> None:
    other = {**FINDING, "file": "recipes/b/recipe.yaml", "severity": "note", "what": "elsewhere"}
    told = News(findings=(other, OWN), editor="my-editor://open?file={file}&line={line}&at={column}")
    page = html.fromstring(previewed(RECIPE_PAGE, told, "a", Path("/kitchen")))
    first, second = page.xpath("//aside//li")
    assert "elsewhere" in second.text_content()
    assert second.getparent().getparent().tag == "details"
    assert first.xpath(".//a/@href") == [
        "my-editor://open?file=/kitchen/recipes/a/recipe.yaml&line=3&at=5",
        "#r0",
    ]
    assert first.xpath(".//mark")[0].text == "50 g"
    assert page.xpath("//tr[@id='r0']/@data-query") == ["error"]
    assert page.xpath("//body/*[1]/@id") == ["preview"]


def test_a_recipe_with_an_error_keeps_its_page(built: Path) -> None:
    with serving(built) as server:
        assert "recipes/a/index.html" in ask(server, "/recipes/a/")[2]
        (built / "site/recipes/a/index.html").unlink()
        assert ask(server, "/recipes/a/")[0] == 404
        server.state.tell(News(findings=(FINDING,)))
        status, _, page = ask(server, "/recipes/a/")
        assert (status, "recipes/a/index.html" in page, "mend it" in page) == (200, True, True)
        server.state.tell(News(findings=(FINDING,), drafts={"a": RECIPE_PAGE}))
        assert 'id="r0"' in ask(server, "/recipes/a/")[2]
        assert ask(server, "/recipes/b/")[0] == 404


def test_a_draft_shows_what_the_author_wrote_and_places_every_finding(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "templates", tmp_path / "templates")
    shutil.copytree(ROOT / "recipes/mustard-dressing", tmp_path / "recipes/mustard-dressing")
    file = "recipes/mustard-dressing/recipe.yaml"
    finding = {**FINDING, "file": file, "line": 1, "column": 0, "width": 1, "field": ""}
    read, _ = read_recipe("mustard-dressing", (tmp_path / file).read_bytes(), file, load_larder())
    assert read is not None
    second = read.ingredients[1].where
    told = shown_besides(
        tmp_path, [finding, {**finding, "line": second.line, "field": f"{second.field}.item"}]
    )
    assert "Mustard dressing" in told["drafts"]["mustard-dressing"]
    assert [one["place"] for one in told["findings"]] == ["", "r1"]
    assert read.ingredients[1].item.split()[0] in told["findings"][1]["source"]
    (tmp_path / file).write_text("parts: [oops\n", "utf-8")
    assert shown_besides(tmp_path, [finding])["drafts"] == {}


def test_a_page_that_waits_hears_of_the_next_build(built: Path) -> None:
    with serving(built) as server:
        heard: list[str] = []
        waiting = threading.Thread(target=lambda: heard.append(ask(server, f"{NEWS}?after=0")[2]))
        waiting.start()
        time.sleep(0.2)
        assert heard == []
        server.state.tell(News(findings=(FINDING,)))
        waiting.join(10)
        assert heard == ["data: 1\n\n"]
        assert "recipes/a/recipe.yaml:7" in ask(server, "/")[2]
        assert ask(server, f"{NEWS}?after=0")[2] == "data: 1\n\n"  # what it missed meanwhile


def test_every_change_is_built_pages_first_and_no_fault_ends_it(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    state, stop = State(), threading.Event()
    said: list[str] = []
    asked: list[bool] = []
    fine, wrong, full = News(), News(findings=(FINDING,)), News(fault="the disk is full")
    answers = iter([fine, fine, full, wrong, wrong, None])

    def building(_: Path, pages: bool, is_old: Callable[[], bool], recipe: str) -> News | None:
        asked.append(pages)
        return next(answers)

    following = threading.Thread(target=follow, args=(tmp_path, state, stop, said.append, building))
    following.start()
    for versions, builds in ((1, 2), (3, 4), (4, 6)):
        deadline = time.monotonic() + 10
        while len(asked) < builds and time.monotonic() < deadline:
            time.sleep(0.02)
        time.sleep(0.02)
        assert (state.version, len(asked)) == (versions, builds)
        if builds == 6:
            stop.set()
        (tmp_path / f"recipes/{builds}.yaml").write_text("edit", "utf-8")
    following.join(10)
    assert asked == [True, False] * 3
    assert said[:2] == ["built: 0 findings, 0 at error", "the disk is full"]
    assert said[2].startswith("recipes/a/recipe.yaml:7: error")


def test_the_page_that_is_looked_at_is_built_first_and_reloads_once(tmp_path: Path) -> None:
    (tmp_path / "recipes").mkdir()
    state, stop = State(viewed="a"), threading.Event()
    other = {**FINDING, "file": "recipes/b/recipe.yaml"}
    state.tell(News(findings=(FINDING, other)))  # of the build before
    asked: list[tuple[str, bool, int, int]] = []

    def building(_: Path, pages: bool, is_old: Callable[[], bool], recipe: str) -> News | None:
        asked.append((recipe, pages, state.version_of("a"), state.version_of("b")))
        if len(asked) == 3:
            stop.set()
        return News(drafts={}) if recipe else News(findings=(other,), drafts={})

    follow(tmp_path, state, stop, lambda _: None, building)
    assert asked == [("a", True, 1, 1), ("", True, 2, 1), ("", False, 2, 3)]
    assert state.told.findings == (other,)
    assert state.version_of("a") == 2  # not told again of what it shows


def test_paper_that_is_old_before_it_is_made_is_not_waited_for(tmp_path: Path) -> None:
    """A build that takes long, of a publication that changes meanwhile."""
    copy_templates(tmp_path / "templates")
    shutil.copytree(ROOT / "recipes/mustard-dressing", tmp_path / "recipes/mustard-dressing")
    assert build(main, tmp_path, False, lambda: True) is None
    assert not list(tmp_path.glob("build/cards/*/*.pdf"))


def test_looking_sees_an_edit_a_new_file_and_one_gone(tmp_path: Path) -> None:
    file = tmp_path / "recipes/a/recipe.yaml"
    file.parent.mkdir(parents=True)
    seen = [look((tmp_path,))]
    for change in (lambda: file.write_text("a"), lambda: file.write_text("ab"), file.unlink):
        change()
        seen.append(look((tmp_path,)))
    assert all(one != other for one, other in pairwise(seen))
    assert look((tmp_path / "nowhere",)) == {}


@pytest.mark.parametrize("ending", [signal.SIGTERM, signal.SIGHUP])
def test_whatever_ends_it_leaves_no_folder_and_no_process(ending: signal.Signals, tmp_path: Path) -> None:
    shutil.copytree(ROOT / "recipes/mustard-dressing", tmp_path / "kitchen/recipes/mustard-dressing")
    scratch = Path(
        tempfile.mkdtemp(prefix="scratch-")
    )  # short: a socket's path has room for some 100 letters
    command = [sys.executable, "-m", "cardsmith", "preview", "--port", "0"]
    own = {"PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1", "TMPDIR": str(scratch)}
    running = subprocess.Popen(
        command,
        cwd=tmp_path / "kitchen",
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, **own},
        start_new_session=True,
    )
    assert running.stdout is not None
    running.stdout.readline()
    deadline = time.monotonic() + 20
    while not list(scratch.iterdir()) and time.monotonic() < deadline:
        time.sleep(0.01)
    running.send_signal(ending)
    said, complained = running.communicate(timeout=30)
    assert said.rstrip().endswith("ended")
    assert complained == ""
    deadline = time.monotonic() + 20
    while list(scratch.iterdir()) and time.monotonic() < deadline:
        time.sleep(0.1)
    assert list(scratch.iterdir()) == []
    scratch.rmdir()


def test_ctrl_c_while_it_loads_shows_no_trace(tmp_path: Path) -> None:
    code = (
        "import sys, cardsmith.__main__ as start, builtins\n"
        "real = builtins.__import__\n"
        "def broken_off(name, *given, **named):\n"
        "    if name == 'cardsmith.commands.main': raise KeyboardInterrupt\n"
        "    return real(name, *given, **named)\n"
        "builtins.__import__ = broken_off\n"
        "start.run()\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (130, "stopped\n")


def test_an_edit_and_a_broken_recipe_reach_the_page_and_ctrl_c_ends_it(tmp_path: Path) -> None:
    """The command itself, in a publication of one recipe."""
    copy_templates(tmp_path / "templates")
    shutil.copytree(ROOT / "recipes/mustard-dressing", tmp_path / "recipes/mustard-dressing")
    recipe = tmp_path / "recipes/mustard-dressing/recipe.yaml"
    command = [sys.executable, "-m", "cardsmith", "--publication", str(tmp_path), "preview", "--port", "0"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"}
    running = subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, env=environment, start_new_session=True
    )
    try:
        assert running.stdout is not None
        found = re.match(r"http://127\.0\.0\.1:(\d+)/ ", running.stdout.readline())
        assert found
        port = int(found[1])

        def page(after: int) -> str:
            for path in (f"{NEWS}?after={after}", "/"):
                connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
                connection.request("GET", path)
                told = connection.getresponse().read().decode()
                connection.close()
            return told

        assert "Mustard dressing" in page(0)
        recipe.write_text(recipe.read_text("utf-8").replace("Mustard dressing", "Sharp dressing", 1), "utf-8")
        assert "Sharp dressing" in page(1)
        recipe.write_text("title: Sharp dressing\nparts: [oops\n", "utf-8")
        broken = page(2)
        assert re.search(r"<b>error</b>.*recipes/mustard-dressing/recipe\.yaml:\d+</code>", broken)
        running.send_signal(signal.SIGINT)
        assert running.wait(20) == 0
        assert running.stdout.read().rstrip().endswith("ended")
    finally:
        running.kill()
        running.stdout.close()
        running.wait()
    assert "preview" not in (tmp_path / "build/site/index.html").read_text("utf-8")
