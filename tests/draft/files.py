"""Files of drafts, made of rows: # a heading, * a bullet, 1. a number, | a row |, ~ Hal: a comment."""

from __future__ import annotations

import html
import io
import json
import zipfile
from collections.abc import Callable, Iterator, Sequence
from email.message import EmailMessage
from typing import Any

import docx

from cardsmith.language.figures.list_marks import numbered

Rows = Sequence[str]
_NAMES = {
    name: f"urn:oasis:names:tc:opendocument:xmlns:{name}:1.0" for name in ("office", "text", "table", "style")
} | {"dc": "http://purl.org/dc/elements/1.1/"}


def _text(rows: Rows) -> bytes:
    return "\n".join(rows).encode()


def _windows(rows: Rows) -> bytes:
    return "\r\n".join(rows).encode("cp1252")


def _wide(rows: Rows) -> bytes:
    return "\r\n".join(rows).encode("utf-16")


def _kinds(rows: Rows) -> Iterator[tuple[str, int, str]]:
    """Each row but blank ones as heading (with its level), bullet, number, row of a table or paragraph."""
    for row in filter(str.strip, rows):
        if row.startswith("#"):
            yield "heading", len(row) - len(row.lstrip("#")), row.lstrip("# ")
        elif row.startswith("* "):
            yield "bullet", 0, row[2:]
        elif row.startswith("|"):
            yield "cells", 0, row.strip().strip("|")
        elif row.startswith("~ "):
            yield "comment", 0, row[2:]
        elif end := numbered(row):
            yield "number", 0, row[end:]
        else:
            yield "paragraph", 0, row


def _word(rows: Rows) -> bytes:
    document = docx.Document()
    table = None
    for kind, level, text in _kinds(rows):
        if kind == "cells":
            cells = [cell.strip() for cell in text.split("|")]
            table = table or document.add_table(rows=0, cols=len(cells))
            for cell, told in zip(table.add_row().cells, cells, strict=True):
                cell.text = told
            continue
        table = None
        if kind == "heading":
            document.add_heading(text, level)
        else:
            style = {"bullet": "List Bullet", "number": "List Number"}.get(kind)
            document.add_paragraph(text, style=style)
    stream = io.BytesIO()
    document.save(stream)
    return stream.getvalue()


def _open_document(rows: Rows) -> bytes:
    body = []
    for kind, level, text in _kinds(rows):
        told = html.escape(text)
        if kind == "heading":
            body.append(f'<text:h text:outline-level="{level}">{told}</text:h>')
        elif kind == "comment":
            author, _, said = told.partition(": ")
            body[-1] = body[-1].removesuffix("</text:p>") + (
                f"<office:annotation><dc:creator>{author}</dc:creator><text:p>{said}</text:p>"
                "</office:annotation></text:p>"
            )
        elif kind == "paragraph":
            body.append(f"<text:p>{told}</text:p>")
        else:
            name = "L1" if kind == "number" else "L2"
            item = f"<text:list-item><text:p>{told}</text:p></text:list-item>"
            body.append(f'<text:list text:style-name="{name}">{item}</text:list>')
    styles = (
        '<text:list-style style:name="L1"><text:list-level-style-number text:level="1"/></text:list-style>'
        '<text:list-style style:name="L2"><text:list-level-style-bullet text:level="1"/></text:list-style>'
    )
    names = " ".join(f'xmlns:{name}="{address}"' for name, address in _NAMES.items())
    content = (
        f"<office:document-content {names}><office:automatic-styles>{styles}</office:automatic-styles>"
        f"<office:body><office:text>{''.join(body)}</office:text></office:body></office:document-content>"
    )
    return zipped({"mimetype": "application/vnd.oasis.opendocument.text", "content.xml": content})


def zipped(parts: dict[str, str | bytes]) -> bytes:
    """A zip archive of parts by their names."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return stream.getvalue()


def _rich_text(rows: Rows) -> bytes:
    told = "".join(f"{{\\pard {_escaped(row)}\\par}}\n" for row in rows)
    return f"{{\\rtf1\\ansi\\ansicpg1252\\deff0 {{\\fonttbl{{\\f0 Serif;}}}}\n{told}}}".encode("ascii")


def _escaped(text: str) -> str:
    """Letters beyond ASCII by their byte in Windows-1252, as old word processors wrote them, or by number."""
    return "".join("\\tab " if one == "\t" else one if ord(one) < 128 else _by_byte(one) for one in text)


def _by_byte(letter: str) -> str:
    byte = letter.encode("cp1252", errors="ignore").hex()
    return f"\\'{byte}" if byte else f"\\u{ord(letter)}?"


def _page(rows: Rows) -> bytes:
    body: list[str] = []
    open_ = ""
    for kind, level, text in _kinds(rows):
        wanted = {"bullet": "ul", "number": "ol", "cells": "table"}.get(kind, "")
        if open_ != wanted:
            body += [f"</{open_}>"] if open_ else []
            body += [f"<{wanted}>"] if wanted else []
            open_ = wanted
        if kind == "cells":
            cells = "".join(f"<td>{html.escape(cell.strip())}</td>" for cell in text.split("|"))
            body.append(f"<tr>{cells}</tr>")
            continue
        tag = f"h{level}" if kind == "heading" else "li" if wanted else "p"
        body.append(f"<{tag}>{html.escape(text)}</{tag}>")
    body += [f"</{open_}>"] if open_ else []
    furniture = "<nav><a href='/'>Home</a></nav>", "<footer>Pellwick Quarterly</footer>"
    main = "\n".join(body)
    return (
        f"<!doctype html><html><head><meta charset=utf-8><title>A page</title></head>"
        f"<body>{furniture[0]}<main>{main}</main>{furniture[1]}</body></html>"
    ).encode()


def _page_with_data(rows: Rows) -> bytes:
    told = list(_kinds(rows))
    plain = [text for kind, _, text in told if kind == "paragraph"]
    data = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": told[0][2],
        "description": plain[0],
        "recipeYield": plain[1],
        "totalTime": plain[2].partition(": ")[2],
        "recipeIngredient": [text for kind, _, text in told if kind == "bullet"],
        "recipeInstructions": list(_instructions(told[1:])),
    }
    script = f'<script type="application/ld+json">{json.dumps({"@graph": [data]})}</script>'
    return f"<!doctype html><html><head>{script}</head><body><h1>{told[0][2]}</h1></body></html>".encode()


def _instructions(told: list[tuple[str, int, str]]) -> Iterator[dict[str, Any]]:
    """Steps, those behind a heading in a section of its name."""
    section: list[dict[str, Any]] = []
    for kind, _, text in told:
        if kind == "heading":
            section = []
            yield {"@type": "HowToSection", "name": text, "itemListElement": section}
        elif kind == "number":
            step = {"@type": "HowToStep", "text": text}
            if not any(kind == "heading" for kind, _, _ in told):
                yield step
            section.append(step)


def _mail(rows: Rows) -> bytes:
    return _posted(rows).as_bytes()


def _mail_with_word(rows: Rows) -> bytes:
    start = next(at for at, row in enumerate(rows) if row.startswith("#"))
    message = _posted(rows[:start])
    message.add_attachment(
        _word(rows[start:]), maintype="application", subtype="octet-stream", filename="recipe.docx"
    )
    return message.as_bytes()


def _posted(rows: Rows) -> EmailMessage:
    message = EmailMessage()
    heading = [row for row in rows[:3] if row.startswith(("Subject: ", "From: "))]
    for row in heading:
        key, _, value = row.partition(": ")
        message[key] = value
    message.set_content("\n".join(rows[len(heading) :]))
    return message


MAKERS: dict[str, tuple[str, Callable[[Rows], bytes]]] = {
    "text": ("txt", _text),
    "markdown": ("md", _text),
    "windows": ("txt", _windows),
    "wide": ("txt", _wide),
    "docx": ("docx", _word),
    "odt": ("odt", _open_document),
    "rtf": ("rtf", _rich_text),
    "html": ("html", _page),
    "html+data": ("html", _page_with_data),
    "mail": ("eml", _mail),
    "mail+docx": ("eml", _mail_with_word),
}


def made(kind: str, rows: Rows) -> tuple[str, bytes]:
    """The ending and the bytes of a file of a kind."""
    ending, maker = MAKERS[kind]
    return ending, maker(rows)
