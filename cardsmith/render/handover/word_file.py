"""The copy as a DOCX file: a named style to every paragraph and every run that differs, nothing set by hand.

Source for the form: ISO/IEC 29500-1:2016 (Office Open XML); written by python-docx.
"""

from __future__ import annotations

import datetime
import io
import zipfile
from collections.abc import Sequence
from typing import Any

from cardsmith.frozen import frozen
from cardsmith.render.handover.copy import (
    AMOUNTS,
    CAUTION,
    CAUTION_HEADING,
    CHARACTERS,
    CREDIT,
    EMPHASIS,
    EQUIPMENT,
    FACT,
    HEADING,
    HEADNOTE,
    INGREDIENT,
    ITEM,
    LABEL,
    LIST_HEADING,
    MEASURE,
    NOTE,
    NUMBER,
    PARAGRAPHS,
    PART,
    PREPARATION,
    PUBLICATION,
    STEP,
    STRONG,
    TITLE,
    WEIGH,
    Paragraph,
)

_EPOCH = (1980, 1, 1, 0, 0, 0)  # the earliest that a ZIP archive knows: same copy, same bytes
_UNDER = {TITLE: "Heading 1", LIST_HEADING: "Heading 2", HEADING: "Heading 2", PART: "Heading 3"}
_POINTS = {PUBLICATION: 10, TITLE: 22, HEADING: 14, LIST_HEADING: 11, PART: 11, NOTE: 9.5, CREDIT: 9}
_BEFORE = {TITLE: 0, LIST_HEADING: 12, HEADING: 16, PART: 10, CAUTION_HEADING: 8, EQUIPMENT: 8, NOTE: 4}
_HANGING = {STEP: 22}
_BOLD = (PUBLICATION, TITLE, LIST_HEADING, HEADING, CAUTION_HEADING, PART)
_SLANTED = (HEADNOTE,)
_BOLD_WORDS = (LABEL, ITEM, NUMBER, STRONG)
_SLANTED_WORDS = (PREPARATION, WEIGH, EMPHASIS)
_COLUMNS = (210, 340)  # points from the left: where the amounts begin
_TEXT = 11  # points
assert {FACT, INGREDIENT, CAUTION, MEASURE, *AMOUNTS.values()} <= {*PARAGRAPHS, *CHARACTERS}


@frozen
class Imprint:
    """What a file says of itself."""

    title: str
    house: str
    language: str  # BCP 47
    date: str  # 2026-06-02; empty where there is none
    face: str  # of the running text


def word_file(copy: Sequence[Paragraph], imprint: Imprint) -> bytes:
    """The copy as DOCX; same copy, same bytes."""
    from docx import Document  # noqa: PLC0415 - no other command needs it

    document = Document()
    _dress(document, imprint)
    for styled in copy:
        paragraph = document.add_paragraph(style=styled.style)
        for run in styled.runs:
            paragraph.add_run(run.text, style=run.style or None)
    _sign(document, imprint)
    out = io.BytesIO()
    document.save(out)
    return _undated(out.getvalue())


def _dress(document: Any, imprint: Imprint) -> None:
    """The styles, and nothing that a desk would have to take off again."""
    from docx.enum.style import WD_STYLE_TYPE  # noqa: PLC0415
    from docx.oxml.ns import qn  # noqa: PLC0415
    from docx.shared import Pt, RGBColor  # noqa: PLC0415

    styles = document.styles
    styles["Normal"].font.name = imprint.face
    styles["Normal"].font.size = Pt(_TEXT)
    for language in styles.element.iter(qn("w:lang")):
        language.set(qn("w:val"), imprint.language)
    for name in PARAGRAPHS:
        style = styles.add_style(name, WD_STYLE_TYPE.PARAGRAPH)
        style.base_style = styles[_UNDER.get(name, "Normal")]
        style.quick_style = True
        style.font.name = imprint.face
        style.font.size = Pt(_POINTS.get(name, _TEXT))
        style.font.bold, style.font.italic = name in _BOLD, name in _SLANTED
        style.font.color.rgb = RGBColor(0, 0, 0)
        form = style.paragraph_format
        form.space_before, form.space_after = Pt(_BEFORE.get(name, 0)), Pt(3)
        form.keep_with_next = name in _UNDER or name == CAUTION_HEADING
        if name in _HANGING:
            form.left_indent, form.first_line_indent = Pt(_HANGING[name]), Pt(-_HANGING[name])
        if name in (LIST_HEADING, INGREDIENT):
            for column in _COLUMNS:
                form.tab_stops.add_tab_stop(Pt(column))
    for name in CHARACTERS:
        style = styles.add_style(name, WD_STYLE_TYPE.CHARACTER)
        style.font.bold = True if name in _BOLD_WORDS else None
        style.font.italic = True if name in _SLANTED_WORDS else None


def _sign(document: Any, imprint: Imprint) -> None:
    """Title, publication and date; nothing of the machine, and nothing of the template's."""
    properties = document.core_properties
    properties.title, properties.author = imprint.title, imprint.house
    properties.last_modified_by, properties.comments = imprint.house, ""
    properties.language = imprint.language
    if imprint.date:
        day = datetime.datetime.fromisoformat(imprint.date)
        properties.created = properties.modified = day
        return
    for dated in [
        element for element in properties._element if element.tag.endswith(("}created", "}modified"))
    ]:
        properties._element.remove(dated)


def _undated(data: bytes) -> bytes:
    """The archive again with one date for all that is in it."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for entry in old.infolist():
            held = zipfile.ZipInfo(entry.filename, date_time=_EPOCH)
            held.compress_type, held.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
            new.writestr(held, old.read(entry))
    return out.getvalue()
