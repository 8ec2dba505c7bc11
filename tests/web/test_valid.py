"""Every page passes the Nu Html Checker, every link resolves, and nothing is asked of another host."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import shutil
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urldefrag, urljoin

from lxml import html

from cardsmith.house.publication import Publication
from tests.web.webtools import lack, tool

# The checker takes no image in the page itself for allowed, whatever the policy says; but a scheme that a
# policy names matches every address of that scheme (Content Security Policy Level 3, 6.7.2.8), and browsers
# show it. The page that is one file by itself has its photo so.
_DATA_IMAGE = re.compile(r"image “data:.* blocked by “img-src” directive")
TOP = "https://pellwick.example/"
ADDRESSES = {"a": "href", "link": "href", "img": "src", "script": "src", "source": "srcset"}


def pages(site: Path) -> dict[str, html.HtmlElement]:
    """Every page by its path, parsed."""
    found = {
        str(file.relative_to(site)): html.parse(str(file)).getroot()
        for file in sorted(site.rglob("*.html"))
        if file.name != "embed.html"  # which stands in a frame of others
    }
    assert {"index.html", "kinds.html", "allergens.html", "times.html", "404.html"} <= set(found)
    return found


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The folder on this machine's own address, since ``'self'`` in a policy means nothing on a disk."""

    class Quiet(SimpleHTTPRequestHandler):
        def log_message(self, format: str, *args: object) -> None:  # noqa: A002
            """Say nothing."""

    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(folder)))
    threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}/"
    server.shutdown()
    server.server_close()


def test_no_page_has_an_error_or_a_warning(publication: Publication) -> None:
    java = shutil.which("java")
    if java is None:
        lack("java is missing: apt-get install default-jre-headless")
    jar = tool("vnu-jar/build/dist/vnu.jar")
    # A fragment is no page: it is checked inside one, by its own tests.
    files = [
        str(file.relative_to(publication.build))
        for file in sorted(publication.build.rglob("*.html"))
        if not file.name.endswith("-fragment.html")
    ]
    with served(publication.build) as top:
        allowed = "-Dnu.validator.servlet.allow-forbidden-hosts=true"
        command = [java, allowed, "-jar", str(jar), "--format", "json", *(top + file for file in files)]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
    messages = json.loads(done.stderr)["messages"]
    told = [
        (one["url"].rpartition("/")[2], one.get("lastLine"), one["message"])
        for one in messages
        if not ("/cards/" in one["url"] and _DATA_IMAGE.search(one["message"]))
    ]
    assert told == []
    assert len(files) > 40


def test_every_recipe_has_its_page_in_the_site(site: Path, publication: Publication) -> None:
    names = {file.parent.name for file in site.glob("recipes/*/index.html")}
    assert names == {*publication.names(), "harbour-crackers"}


def test_every_link_resolves(site: Path) -> None:
    every = pages(site)
    ids = {path: set(root.xpath("//@id")) for path, root in every.items()}
    for path, root in every.items():
        for tag, attribute in ADDRESSES.items():
            for node in root.iter(tag):
                value = node.get(attribute)
                if value is None or value.startswith("data:"):
                    continue
                for one in (
                    (part.split()[0] for part in value.split(",")) if attribute == "srcset" else (value,)
                ):
                    _resolves(one, path, site, ids)


def _resolves(link: str, path: str, site: Path, ids: dict[str, set[str]]) -> None:
    whole, fragment = urldefrag(urljoin(TOP + path, link))
    assert whole.startswith(TOP), f"{path} leads to another host: {link}"
    target = unquote(whole.removeprefix(TOP))
    target += "index.html" if not target or target.endswith("/") else ""
    assert (site / target).is_file(), f"{path} leads nowhere: {link}"
    if fragment and "=" not in fragment:  # a search stands in the address and is no place
        assert fragment in ids[target], f"{path} leads to no such place: {link}"


def test_every_page_is_reached_from_the_first(site: Path) -> None:
    every, seen, waiting = pages(site), set[str](), ["index.html"]
    while waiting:
        path = waiting.pop()
        if path in seen:
            continue
        seen.add(path)
        for node in every[path].iter("a"):
            target = urldefrag(urljoin(TOP + path, node.get("href")))[0].removeprefix(TOP)
            if target.endswith(".html"):
                waiting.append(target)
    assert set(every) - seen == {"404.html", "recipes/harbour-crackers/index.html"}


def test_one_heading_a_language_landmarks_and_a_canonical_address(site: Path) -> None:
    for path, root in pages(site).items():
        assert len(root.xpath("//h1")) == 1, path
        assert root.get("lang") == "en-US", path
        assert (len(root.xpath("//main")), len(root.xpath("/html/body/header"))) == (1, 1), path
        canonical = root.xpath("//link[@rel='canonical']/@href")
        expected = [TOP + path.removesuffix("index.html")]
        if path == "404.html":
            expected = []
        if path == "recipes/harbour-crackers/index.html":
            expected = [f"{TOP}recipes/seeded-crackers/"]
        assert canonical == expected, path


def test_the_policy_names_every_style_and_script_and_nothing_stands_in_attributes(site: Path) -> None:
    for path, root in pages(site).items():
        (policy,) = root.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
        rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
        assert rules["default-src"] == "'none'", path
        assert "unsafe" not in policy, path
        assert rules["connect-src"] == "'self'", path  # robots.txt, for what judges a page from within it
        assert not re.search(r"https?:", policy), path
        for tag in ("style", "script"):
            for node in root.iter(tag):
                if tag == "script" and (node.get("type") or node.get("src")):
                    continue
                assert _digest(node.text or "") in rules[f"{tag}-src"].split(), path
        assert root.xpath("//@style") == [], path
        names = {str(name) for node in root.iter() for name in node.attrib}
        assert not [name for name in names if name.startswith("on")], path


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def test_a_renamed_recipe_leads_on_by_itself(site: Path) -> None:
    root = pages(site)["recipes/harbour-crackers/index.html"]
    (refresh,) = root.xpath("//meta[@http-equiv='refresh']/@content")
    assert refresh == "0; url=../seeded-crackers/index.html"
    assert root.xpath("//main//a/@href") == ["../seeded-crackers/index.html"]
    assert (site / "moved.csv").read_text(
        "utf-8"
    ) == "from,to\nrecipes/harbour-crackers/,recipes/seeded-crackers/\n"


def test_a_correction_stands_on_the_page_with_its_date(site: Path) -> None:
    root = pages(site)["recipes/lemon-curd/index.html"]
    at_the_top, at_its_step = root.xpath("//*[@class='corrected']")
    assert at_its_step.getparent().get("id") == "s4"
    for said in (at_the_top, at_its_step):
        assert said.xpath(".//time/@datetime") == ["2026-05-08"]
        assert "1 hour 45 minutes" in " ".join(said.text_content().split())
