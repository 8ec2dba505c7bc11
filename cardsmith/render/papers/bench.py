"""Papers of the bench: the sheet on one page, ballots, and the trial report as PDF and as a page."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import quote

from markupsafe import Markup

from cardsmith.bench.history.view import HistoryView
from cardsmith.bench.pack.form import Pack
from cardsmith.bench.papers.plot import Plot
from cardsmith.bench.papers.report import Report
from cardsmith.bench.papers.sheet import Sheet
from cardsmith.bench.tasting.ballots import Ballots
from cardsmith.frozen import frozen
from cardsmith.render.look import look, whole_style
from cardsmith.render.tagging import scoped
from cardsmith.render.templates import data_uri, environment
from cardsmith.render.typesetter import PHOTOS, Typesetter

STYLE = "bench/bench.css"
DRAWING = "image/svg+xml"
_CUTS = ((2, 3), (2, 2), (1, 2), (1, 1))  # ballots across a page and down, the most first
_PAGE_HEIGHT, _CUT = Fraction(792), Fraction(1)  # points: bench.css sets letter; the dots along a cut
_MOST_LINES, _LEAST_LINES = 12, 4  # rows of the log: as many as fit on the page


def sheet_pdf(view: Sheet, typesetter: Typesetter, language: str) -> bytes:
    """The sheet as one page of 11 pt, with as many lines for the log as fit; a long formula takes both sides.

    Raises:
        LayoutError: the typesetter warned.
    """

    @cache
    def laid_out(lines: int) -> Any:
        return typesetter.lay_out(sheet_html(view, typesetter.templates, language, lines), {})

    def too_many(lines: int) -> bool:
        return len(laid_out(lines).pages) > 1

    lines = _MOST_LINES
    if too_many(lines):
        lines = bisect_left(range(lines), True, lo=_LEAST_LINES, key=too_many) - 1
    if lines < _LEAST_LINES:  # measures and verdict stand on the back
        html = sheet_html(view, typesetter.templates, language, both_sides=True)
        return scoped(typesetter.write(typesetter.lay_out(html, {})))
    return scoped(typesetter.write(laid_out(lines)))


def sheet_html(
    view: Sheet, templates: Path, language: str, lines: int = _MOST_LINES, *, both_sides: bool = False
) -> str:
    """The sheet as the typesetter reads it."""
    template = environment(templates).get_template("bench/sheet.html.j2")
    return template.render(view=view, language=language, lines=lines, both_sides=both_sides)


def serving_pdf(view: Ballots, typesetter: Typesetter, language: str) -> bytes:
    """Who is served what, for who serves."""
    template = environment(typesetter.templates).get_template("bench/serving.html.j2")
    document = typesetter.lay_out(template.render(view=view, language=language), {})
    return scoped(typesetter.write(document))


def ballots_pdf(view: Ballots, typesetter: Typesetter, language: str) -> bytes:
    """A ballot for each taster, which doesn't say what is tested: as many to a page as fit it at 11 pt.

    All of a page are of one size, to be cut apart.

    Raises:
        LayoutError: the typesetter warned.
    """
    for across, down in _CUTS:
        document = typesetter.lay_out(ballots_html(view, typesetter.templates, language, across, down), {})
        if len(document.pages) <= -(-len(view.ballots) // (across * down)):
            break
    return scoped(typesetter.write(document))


def ballots_html(view: Ballots, templates: Path, language: str, across: int, down: int) -> str:
    """The ballots as the typesetter reads them, so many across a page and down."""
    template = environment(templates).get_template("bench/ballots.html.j2")
    height = f"{float(_PAGE_HEIGHT / down - _CUT):.6g}pt"
    return template.render(view=view, language=language, across=across, down=down, row_height=height)


def form_pdf(view: Pack, typesetter: Typesetter, language: str) -> bytes:
    """The form of a cross-test, for paper."""
    template = environment(typesetter.templates).get_template("bench/form.html.j2")
    document = typesetter.lay_out(template.render(view=view, language=language), {})
    return scoped(typesetter.write(document))


@frozen
class TrialPicture:
    """A photo of a trial: a JPEG or a drawing, ready to be placed."""

    trial: int
    name: str
    data: bytes
    alt: str


@frozen
class _Placed:
    """A picture as a template places it."""

    source: str
    alt: str


def report_pdf(
    view: Report, typesetter: Typesetter, language: str, pictures: Sequence[TrialPicture] = ()
) -> bytes:
    """The report for print."""
    plots = {f"plot-{place}.svg": _drawn(plot, typesetter.templates) for place, plot in enumerate(view.plots)}
    html = _report(
        view,
        typesetter.templates,
        language,
        [PHOTOS + quote(name) for name in plots],
        _by_trial(pictures, lambda picture: PHOTOS + quote(picture.name)),
    )
    files = {**plots, **{picture.name: picture.data for picture in pictures}}
    return scoped(typesetter.write(typesetter.lay_out(html, files)))


def report_html(view: Report, templates: Path, language: str, pictures: Sequence[TrialPicture] = ()) -> str:
    """The report as one self-contained page."""
    plots = [data_uri(DRAWING, _drawn(plot, templates)) for plot in view.plots]
    return _report(view, templates, language, plots, _by_trial(pictures, _inside), style=_style(templates))


def history_html(
    view: HistoryView, templates: Path, language: str, pictures: Sequence[TrialPicture] = ()
) -> str:
    """The formula history as one self-contained page."""
    template = environment(templates).get_template("bench/history.html.j2")
    placed = _by_trial(pictures, _inside)
    return template.render(history=view, pictures=placed, language=language, style=_style(templates))


def _by_trial(
    pictures: Sequence[TrialPicture], source: Callable[[TrialPicture], str]
) -> dict[int, list[_Placed]]:
    by_trial: dict[int, list[_Placed]] = {}
    for picture in pictures:
        by_trial.setdefault(picture.trial, []).append(_Placed(source=source(picture), alt=picture.alt))
    return by_trial


def _inside(picture: TrialPicture) -> str:
    return data_uri(DRAWING if picture.name.endswith(".svg") else "image/jpeg", picture.data)


def _style(templates: Path) -> Markup:
    return Markup(whole_style(templates, STYLE))  # the house's own file


def _drawn(plot: Plot, templates: Path) -> bytes:
    """A plot with the house's face of type for its labels: no style sheet reaches into a picture."""
    return plot.svg.replace("<svg ", f'<svg font-family="{look(templates).text}, sans-serif" ', 1).encode()


def _report(
    view: Report,
    templates: Path,
    language: str,
    plots: list[str],
    pictures: dict[int, list[_Placed]],
    *,
    style: str = "",
) -> str:
    template = environment(templates).get_template("bench/report.html.j2")
    return template.render(view=view, language=language, plots=plots, pictures=pictures, style=style)
