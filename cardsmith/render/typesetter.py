"""The typesetter at work: WeasyPrint with the house's fonts and files alone, where a warning is a fault."""

from __future__ import annotations

import ctypes
import logging
import mimetypes
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit
from xml.sax.saxutils import escape

from cardsmith.files.writing import OutputFolder
from cardsmith.finding import CardsmithError
from cardsmith.render.weasyprint_patches import fonts_by, load_weasyprint

BASE = "http://assets.invalid/"  # a fixed address: picture names in the PDF hash it, and no host can have it
PHOTOS = "photo/"
# What WeasyPrint opens by name at import (its documentation, "First Steps", Debian 11 and later).
_LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}
_FONTS_CONF = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><dir>{fonts}</dir><cachedir>{cache}</cachedir></fontconfig>
"""


class PangoMissing(CardsmithError):  # noqa: N818 - the name says what is the matter
    """The libraries that set type are not on this machine; HTML cards still work."""


class LayoutError(CardsmithError):
    """A card came out of the typesetter incomplete or with a warning, so it must not be printed."""


def need_pango() -> None:
    """Check for the libraries before WeasyPrint stumbles over them with a page of text.

    Raises:
        PangoMissing: what to install.
    """
    missing = [package for library, package in _LIBRARIES.items() if not _opens(library)]
    if missing:
        raise PangoMissing(
            f"PDF cards need {', '.join(missing)}: on Debian or Ubuntu, "
            f"apt-get install --no-install-recommends {' '.join(missing)}; HTML cards work without; "
            "`cardsmith ready` says what else this machine lacks"
        )


def _opens(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


class Typesetter:
    """One long-lived session: fonts found once, the style sheet read once.

    ``templates`` holds the ``style`` sheet and ``fonts/``; ``scratch`` is a folder for temporary files.
    """

    def __init__(self, templates: Path, scratch: Path, style: str = "print.css") -> None:
        need_pango()
        load_weasyprint()
        from weasyprint import CSS  # noqa: PLC0415 - 0.4 s that only PDF needs
        from weasyprint.text.fonts import FontConfiguration  # noqa: PLC0415

        self.templates = templates.resolve()
        with _only_fonts(self.templates / "fonts", scratch):
            self._fonts = FontConfiguration()
        with _no_warnings():
            self._style = CSS(
                string=(self.templates / style).read_text(encoding="utf-8"),
                base_url=BASE,
                url_fetcher=_fetcher(self.templates, {}),
                font_config=self._fonts,
            )

    def lay_out(self, html: str, photos: Mapping[str, bytes], *, styled: bool = True) -> Any:
        """The pages of ``html`` as a WeasyPrint document; ``photos`` are files by name.

        ``styled`` says whether the session's style sheet applies, or only what the page itself brings.

        Raises:
            LayoutError: anything the typesetter warned of.
        """
        from weasyprint import HTML  # noqa: PLC0415

        with _no_warnings():
            page = HTML(string=html, base_url=BASE, url_fetcher=_fetcher(self.templates, photos))
            style = [self._style] if styled else []
            return page.render(stylesheets=style, font_config=self._fonts)

    def write(self, document: Any, variant: str = "pdf/ua-1") -> bytes:
        """The laid-out document as a tagged PDF: PDF/UA-1, or ``pdf/x-4`` to be finished for a press.

        Raises:
            LayoutError: anything the typesetter warned of.
        """
        with _no_warnings():
            return bytes(document.write_pdf(pdf_variant=variant))


def _fetcher(templates: Path, photos: Mapping[str, bytes]) -> Any:
    """Files of the templates and the given photos under `BASE`; nothing else, here or elsewhere."""
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse  # noqa: PLC0415

    def refused(why: str) -> FatalURLFetchingError:
        # Told to the log as well: inside an SVG picture the exception itself goes no further.
        logging.getLogger("weasyprint").error(why)
        return FatalURLFetchingError(why)

    class HouseFiles(URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> Any:
            if not url.startswith(BASE):
                raise refused(f"blocked: {url}")
            path = unquote(urlsplit(url).path).lstrip("/")
            kind = mimetypes.guess_type(path)[0] or "application/octet-stream"
            if path.startswith(PHOTOS):
                name = path.removeprefix(PHOTOS)
                if name not in photos:
                    raise refused(f"no photo of this card: {name}")
                return URLFetcherResponse(url, photos[name], {"Content-Type": kind})
            file = (templates / path).resolve()
            if not file.is_relative_to(templates) or not file.is_file():
                raise refused(f"not a file of the templates: {path}")
            return URLFetcherResponse(url, file.read_bytes(), {"Content-Type": kind})

    return HouseFiles(allowed_protocols=("http",), allow_redirects=False)


@contextmanager
def _only_fonts(fonts: Path, scratch: Path) -> Iterator[None]:
    """Fontconfig reads its file when a FontConfiguration is made; the machine's own fonts stay out.

    The list of fonts that it makes is not kept: it would hold a changed font for the old one as long as the
    folder of fonts has its date, saves no time for a few files, and whoever sends the folder could send it.
    """
    with OutputFolder(scratch.absolute()).scratch() as folder:
        lines = _FONTS_CONF.format(fonts=escape(str(fonts)), cache=escape(str(folder)))
        file = folder / "fonts.conf"
        file.write_text(lines, encoding="utf-8")
        with fonts_by(file):
            yield


class _Collector(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.messages: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.messages.append(record.getMessage())


@contextmanager
def _no_warnings() -> Iterator[None]:
    """Turn the typesetter's warnings into a fault: bad CSS, a missing glyph, a blocked file."""
    from weasyprint.urls import FatalURLFetchingError  # noqa: PLC0415

    logger, collector = logging.getLogger("weasyprint"), _Collector()
    handlers, propagate = logger.handlers[:], logger.propagate
    logger.handlers, logger.propagate = [collector], False
    try:
        yield
    except FatalURLFetchingError:
        pass  # it stands in the log
    finally:
        logger.handlers, logger.propagate = handlers, propagate
    if collector.messages:
        raise LayoutError("the typesetter warns: " + "; ".join(dict.fromkeys(collector.messages)))
