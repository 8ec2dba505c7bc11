"""The preview's server: the built site on this machine's own address, and nothing to anyone else.

It answers only requests for its own address (so that no page elsewhere can read through it by a name that
resolves to this machine), and only for files below the two folders it serves.
"""

from __future__ import annotations

import mimetypes
import sys
import threading
from dataclasses import dataclass, field, replace
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path, PurePosixPath
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

from cardsmith.files.writing import OutputFolder
from cardsmith.preview.news import News
from cardsmith.preview.page import NEWS, previewed, unreadable

ADDRESS = "127.0.0.1"
_KINDS = {
    ".atom": "application/atom+xml",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
    ".js": "text/javascript",
}
INDEX = "/index.html"
MOST = 64  # connections at a time; a browser keeps six, and one for each page that waits for news
_PATIENCE = 15.0  # seconds between keep-alive lines to a page that waits for news


@dataclass(slots=True)
class State:
    """The result of the last build; pages wait on it for the next."""

    told: News = field(default_factory=News)
    changed: threading.Condition = field(default_factory=threading.Condition)
    stopping: bool = False
    viewed: str = ""  # the recipe whose page was asked for last; empty for another page
    _whole: int = 0  # the version that all pages are of
    _own: dict[str, int] = field(default_factory=dict)  # of a recipe whose page is of another

    @property
    def version(self) -> int:
        """How many builds have been reported."""
        return self.told.version

    def version_of(self, recipe: str) -> int:
        """The build that a recipe's page is of; with no recipe, that of any other page."""
        return self._own.get(recipe, self._whole)

    def tell(self, news: News, *, of: str = "", but: str = "") -> None:
        """Tell waiting pages of a build: all of them, those ``of`` one recipe, or all ``but`` that one's."""
        with self.changed:
            self.told = replace(news, version=self.version + 1)
            if of:
                self._own[of] = self.version
            else:
                self._own = {but: self._own[but]} if but in self._own else {}
                self._whole = self.version
            self.changed.notify_all()

    def stop(self) -> None:
        """Release every waiting page."""
        with self.changed:
            self.stopping = True
            self.changed.notify_all()


class Server(ThreadingHTTPServer):
    """Serves ``build/site/`` at ``top`` and ``build/cards/`` below ``/cards/``."""

    daemon_threads = True
    block_on_close = False

    def __init__(self, build: Path, top: str, port: int, state: State) -> None:
        self.root = build.parent
        self._seen: dict[str, bytes] = {}  # of recipes, as they were last there
        self._output = OutputFolder(build)
        self._folders = (("/cards/", "cards"), (top, "site"))
        self._room = threading.Semaphore(MOST)
        self.top = top
        self.state = state
        super().__init__((ADDRESS, port), _Handler)

    @property
    def hosts(self) -> tuple[str, str]:
        """The host names it answers to."""
        port = self.server_address[1]
        return f"{ADDRESS}:{port}", f"localhost:{port}"

    @property
    def address(self) -> str:
        """The address of the first page."""
        return f"http://{self.hosts[0]}{self.top}"

    def handle_error(self, request: object, client_address: object) -> None:
        """Report an error, unless it is a browser that hung up."""
        if not isinstance(sys.exc_info()[1], OSError):
            super().handle_error(request, client_address)  # type: ignore[arg-type]

    def process_request(self, request: Any, client_address: Any) -> None:
        """Take it in, unless too many are at hand already."""
        if self._room.acquire(blocking=False):
            super().process_request(request, client_address)
        else:
            self.shutdown_request(request)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        """Answer it, and make room for another."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._room.release()

    def found(self, path: str) -> tuple[bytes, str] | None:
        """The file asked for, and how its name ends; None where there is none, or it would lie outside."""
        for prefix, folder in self._folders:
            if path.startswith(prefix):
                wanted = f"{folder}/{path.removeprefix(prefix)}"
                for candidate in (wanted, f"{wanted}/index.html"):
                    try:
                        data = self._output.read(candidate)
                    except (OSError, ValueError):  # a name too long, or of signs that no name has
                        return None
                    if data is None:
                        data = self._instead(candidate)
                    elif recipe_at(candidate):
                        self._seen[plain(candidate)] = data
                    if data is not None:
                        return data, PurePosixPath(candidate).suffix
                return None
        return None

    def _instead(self, path: str) -> bytes | None:
        """What stands for a file of a recipe that has an error: its draft, else what was last there."""
        recipe, news = recipe_at(path), self.state.told
        if not recipe or not news.is_wrong(recipe):
            return None
        if not path.endswith(INDEX):
            return self._seen.get(plain(path))
        draft = (news.drafts or {}).get(recipe)
        return draft.encode() if draft else self._seen.get(plain(path)) or unreadable(recipe).encode()


def plain(path: str) -> str:
    """A path below build/ without doubled slashes."""
    return str(PurePosixPath(path))


def recipe_at(path: str) -> str:
    """The recipe whose folder of the site a file below build/ is in; empty for any other."""
    parts = PurePosixPath(path).parts
    return parts[2] if len(parts) > 3 and parts[:2] == ("site", "recipes") else ""


class _Handler(BaseHTTPRequestHandler):
    server: Server
    protocol_version = "HTTP/1.1"
    server_version, sys_version = "preview", ""
    timeout = 20.0  # seconds that a client may say nothing, or take nothing

    def do_GET(self) -> None:
        """Answer with a file, or with news."""
        if self.headers.get("Host") not in self.server.hosts:
            self._send(HTTPStatus.FORBIDDEN, "text/plain", b"ask by the address that preview printed\n")
            return
        try:
            asked = urlsplit(self.path)
        except ValueError:
            self._send(HTTPStatus.BAD_REQUEST, "text/plain", b"that is no address\n")
            return
        path = unquote(asked.path)
        if path == NEWS:
            query = parse_qs(asked.query)
            self._news(query.get("after", [""])[0], query.get("of", [""])[0])
        elif path == "/" and self.server.top != "/":
            self.send_response(HTTPStatus.FOUND)
            self.send_header("Location", self.server.top)
            self.send_header("Content-Length", "0")
            self.end_headers()
        else:
            self._file(path)

    do_HEAD = do_GET  # noqa: N815

    def _file(self, path: str) -> None:
        content, status = self.server.found(path), HTTPStatus.OK
        if content is None:
            content, status = self.server.found(f"{self.server.top}404.html"), HTTPStatus.NOT_FOUND
        data, ending = content or (b"<!DOCTYPE html><head></head><body>Nothing is built yet.</body>", ".html")
        kind = _kind(ending)
        if kind == "text/html":
            within = path.removeprefix(self.server.top).strip("/").removesuffix(INDEX)
            recipe = recipe_at(f"site/{within}{INDEX}")
            text = data.decode("utf-8", "replace")
            state = self.server.state
            state.viewed = recipe
            news = replace(state.told, version=state.version_of(recipe))
            data = previewed(text, news, recipe, self.server.root).encode()
        self._send(status, kind, data)

    def _send(self, status: HTTPStatus, kind: str, data: bytes) -> None:
        self.send_response(status)
        text = kind.startswith("text/") or kind.endswith(("xml", "json"))
        self.send_header("Content-Type", f"{kind}; charset=utf-8" if text else kind)
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)

    def _news(self, after: str, of: str) -> None:
        """One message when a page ``of`` a recipe is newer than ``after`` (HTML Living Standard, 9.2)."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Cache-Control", "no-store")
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        state = self.server.state
        try:
            while not state.stopping:
                with state.changed:
                    if str(state.version_of(of)) == after:
                        state.changed.wait(_PATIENCE)
                    version = state.version_of(of)
                if state.stopping:
                    return
                new = str(version) != after
                self.wfile.write(f"data: {version}\n\n".encode() if new else b":\n\n")
                self.wfile.flush()
                if new:
                    return
        except OSError:
            return  # the reader has gone

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the library's name
        """Log no requests."""


def _kind(suffix: str) -> str:
    return _KINDS.get(suffix) or mimetypes.guess_type(f"x{suffix}")[0] or "application/octet-stream"
