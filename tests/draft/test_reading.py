"""Readers of formats: what stands beside the text is kept, what holds no recipe is refused."""

from __future__ import annotations

import io
import json
import struct
import zipfile

import docx
import pytest

from cardsmith.draft.lines import Draft, ListMark, Sort
from cardsmith.draft.reading.read import LARGEST, read_draft
from cardsmith.draft.reading.recognised import Format, format_of
from cardsmith.finding import CardsmithError
from tests.draft.files import MAKERS, made, zipped

ROWS = ["# Leek broth", "Serves 4", "* 200 g leeks", "* ½ tsp salt", "1. Simmer the leeks at 95 °C."]
_W = 'xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main"'


def _texts(draft: Draft) -> list[str]:
    return [line.text for line in draft.lines]


@pytest.mark.parametrize("kind", sorted(set(MAKERS) - {"html+data", "mail", "mail+docx", "rtf"}))
def test_every_format_gives_the_same_lines(kind: str) -> None:
    ending, data = made(kind, ROWS)
    draft = read_draft(data, f"broth.{ending}")
    plain = ["Leek broth", "Serves 4", "200 g leeks", "½ tsp salt", "Simmer the leeks at 95 °C."]
    assert _texts(draft) == plain
    marks = [line.mark for line in draft.lines]
    assert marks == [ListMark.HEADING, ListMark.NONE, ListMark.BULLET, ListMark.BULLET, ListMark.NUMBER]
    assert [line.number for line in draft.lines] == sorted(line.number for line in draft.lines)


@pytest.mark.parametrize(
    ("encoding", "remark"),
    [("utf-8", ""), ("utf-8-sig", ""), ("utf-16", ""), ("utf-16-le", ""), ("cp1252", "Windows-1252")],
)
def test_an_encoding_is_found(encoding: str, remark: str) -> None:
    text = "Crème brûlée\r\n\r\n½ cup (115 g) sugar – “caster”\r\n5 egg yolks\r\nBake at 150 °C.\r\n"
    draft = read_draft(text.encode(encoding), "brulee.txt")
    assert _texts(draft) == [row for row in text.split("\r\n") if row]
    assert all(remark in told for told in draft.remarks)
    assert bool(draft.remarks) == bool(remark)


def test_characters_that_no_editor_shows_are_taken_out() -> None:
    draft = read_draft("2\u00a0cups all-pur\u00adpose\u200b flour\u2028\ufeff1 egg\x07".encode(), "x.txt")
    assert _texts(draft) == ["2 cups all-purpose flour", "1 egg"]


def test_a_paragraph_of_word_keeps_its_tabs_breaks_and_changes() -> None:
    body = (
        "<w:p><w:r><w:t>200 g</w:t><w:tab/><w:t>flour</w:t></w:r></w:p>"
        "<w:p><w:r><w:t>Mix.</w:t><w:br/><w:t>Bake.</w:t></w:r></w:p>"
        "<w:p><w:ins><w:r><w:t>30 g sugar</w:t></w:r></w:ins>"
        "<w:del><w:r><w:delText>50 g sugar</w:delText></w:r></w:del>"
        '<w:r><w:commentReference w:id="1"/></w:r></w:p>'
    )
    document = f"<w:document {_W}><w:body>{body}</w:body></w:document>"
    remarks = "".join(
        f'<w:comment w:id="{name}" w:author="{author}"><w:p><w:r><w:t>{text}</w:t></w:r></w:p></w:comment>'
        for name, author, text in (("1", "Ines", "Sure?"), ("2", "", "Lost."))
    )
    comments = f"<w:comments {_W}>{remarks}</w:comments>"
    parts: dict[str, str | bytes] = {"word/document.xml": document, "word/comments.xml": comments}
    draft = read_draft(zipped(parts), "x.docx")
    told = ["200 g flour", "Mix.", "Bake.", "30 g sugar", "taken out on line 4: 50 g sugar"]
    told += ["comment by Ines on line 4: Sure?", "comment: Lost."]
    assert _texts(draft) == told
    assert draft.lines[0].cells == ("200 g", "flour")
    assert [line.said for line in draft.lines[-3:]] == [Sort.KEPT] * 3


def test_a_table_that_only_lays_out_is_read_cell_by_cell() -> None:
    document = docx.Document()
    table = document.add_table(rows=1, cols=2)
    table.rows[0].cells[0].text = "200 g leeks\n1 l water"
    table.rows[0].cells[1].text = "Simmer."
    stream = io.BytesIO()
    document.save(stream)
    assert _texts(read_draft(stream.getvalue(), "x.docx")) == ["200 g leeks", "1 l water", "Simmer."]


@pytest.mark.parametrize("encoding", ["cp1252", "mac_roman", "cp850", "utf-8-sig", "utf-16", "utf-16-le"])
def test_an_encoding_is_told_by_what_letters_are_usual(encoding: str) -> None:
    told = "Crème brûlée\r\n2½ l cream\r\nBake at 160 °C.\r\n"
    rows = told.replace("½", "").splitlines() if encoding == "mac_roman" else told.splitlines()
    assert _texts(read_draft("\r\n".join(rows).encode(encoding), "x.txt")) == rows


def test_thin_blanks_part_thousands_still() -> None:
    draft = read_draft("1\u202f250 g pota\u00adtoes\n2\u00a0eggs\n".encode(), "x.txt")
    assert _texts(draft) == ["1\u202f250 g potatoes", "2 eggs"]


def test_a_page_is_read_without_what_frames_it() -> None:
    page = "<html><body><nav>Home</nav><h1>Broth</h1>200 g leeks<br>1 l water<aside>Ad</aside></body></html>"
    draft = read_draft(page.encode(), "x.html")
    assert _texts(draft) == ["Broth", "200 g leeks", "1 l water"]
    assert "left out" in draft.remarks[0]


def test_what_a_page_shows_beside_its_data_is_kept() -> None:
    data = {"@type": ["Recipe"], "name": "Broth", "recipeIngredient": ["200 g leeks"], "prepTime": "PT1H5M"}
    script = f'<script type="application/ld+json">{json.dumps(data)}</script>'
    draft = read_draft(f"<html>{script}<h1>Broth</h1><p>By the sea.</p></html>".encode(), "x.html")
    assert [(line.text, line.said) for line in draft.lines] == [
        ("Broth", Sort.TITLE),
        ("Active: 1 h 5 min", Sort.TIME),
        ("200 g leeks", Sort.INGREDIENT),
        ("By the sea.", Sort.KEPT),
    ]


@pytest.mark.parametrize(
    "data", ["{", "[" * 5_000, '{"@type": "Recipe", "recipeInstructions": [[["x"]]]}', "7"]
)
def test_data_that_can_not_be_read_leave_the_page(data: str) -> None:
    page = f'<html><script type="application/ld+json">{data}</script><p>2 eggs</p></html>'
    assert "2 eggs" in _texts(read_draft(page.encode(), "x.html"))


def test_a_picture_that_comes_with_a_mail_is_named() -> None:
    from email.message import EmailMessage  # noqa: PLC0415

    message = EmailMessage()
    message["Subject"], message["From"] = "Broth", "i@pellwick.example"
    message.set_content("2 eggs\n")
    message.add_attachment(b"\x89PNG....", maintype="image", subtype="png", filename="page.png")
    draft = read_draft(message.as_bytes(), "x.eml")
    assert any("page.png is a picture" in one for one in draft.remarks)


def _bomb() -> bytes:
    return zipped({"word/document.xml": b"<w:document>" + b" " * 100_000_000, "word/x": b""})


def _lying_bomb() -> bytes:
    """A part that says that it is small."""
    data = zipped({"word/document.xml": b" " * 30_000_000})
    return data.replace(struct.pack("<I", 30_000_000), struct.pack("<I", 1_000))


def _compound(inside: bytes) -> bytes:
    return b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 500 + inside


def _entities() -> bytes:
    document = '<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><x>&b;</x>'
    return zipped({"word/document.xml": document})


def _hidden() -> bytes:
    data = bytearray(zipped({"word/document.xml": b"<x/>"}))
    for sign, offset in ((b"PK\3\4", 6), (b"PK\1\2", 8)):
        data[data.index(sign) + offset] |= 1
    return bytes(data)


REFUSED = [
    ("page.jpg", b"\xff\xd8\xff\xe0" + b"\0" * 100, "is a picture"),
    ("page.png", b"\x89PNG\r\n\x1a\n", "is a picture"),
    ("page.heic", b"\0\0\0\x18ftypheic\0\0", "is a picture"),
    ("page.pdf", b"%PDF-1.7\n", "is a PDF"),
    ("old.doc", _compound(b""), "Word before 2007"),
    ("secret.docx", _compound("EncryptedPackage".encode("utf-16-le")), "protected by a password"),
    ("secret.docx", _hidden(), "protected by a password"),
    ("old.xls", _compound(b""), "is a spreadsheet"),
    ("costs.xlsx", zipped({"xl/workbook.xml": "<x/>"}), "is a spreadsheet"),
    ("costs.csv", b"a,b\n1,2\n", "is a spreadsheet"),
    ("talk.pptx", zipped({"ppt/presentation.xml": "<x/>"}), "is a set of slides"),
    ("all.zip", zipped({"a.txt": "x"}), "is an archive"),
    ("cut.docx", zipped({"word/document.xml": "<w:document>"})[:60], "is damaged"),
    ("bad.docx", zipped({"word/document.xml": "<w:document>"}), "is damaged"),
    ("none.docx", zipped({"word/document.xml": f"<w:document {_W}/>"}), "holds no text"),
    ("bomb.docx", _bomb(), "more than a recipe has"),
    ("lies.docx", _lying_bomb(), "is damaged|holds more text"),
    ("laughs.docx", _entities(), "document type"),
    ("large.txt", b"x" * (LARGEST + 1), "20 MB, over 20"),
    ("long.txt", b"x " * 300_000, "characters, over"),
    ("lines.txt", b"x\n" * 6_000, "lines, over"),
    ("empty.txt", b" \r\n", "is empty"),
    ("mail.msg", _compound(b""), "mail program"),
    ("soup.yaml", b"title: Soup\n", "YAML already"),
    ("noise.txt", bytes(range(256)) * 20, "not text that can be read"),
]


# Named by place: an archive's bytes hold the time of day, and two processes would name two tests.
@pytest.mark.parametrize(
    ("name", "data", "what"), REFUSED, ids=[f"{at} {name}" for at, (name, *_) in enumerate(REFUSED)]
)
def test_what_holds_no_recipe_is_refused_with_what_to_do(name: str, data: bytes, what: str) -> None:
    with pytest.raises(CardsmithError, match=what) as refused:
        read_draft(data, name)
    assert str(refused.value).startswith(name)
    assert ";" in str(refused.value) or what in ("is empty",) or "document type" in what


def test_an_open_document_with_a_password_is_refused() -> None:
    parts: dict[str, str | bytes] = {
        "mimetype": "application/vnd.oasis.opendocument.text",
        "content.xml": b"\1\2\3",
        "META-INF/manifest.xml": "<manifest:encryption-data/>",
    }
    with pytest.raises(CardsmithError, match="password"):
        read_draft(zipped(parts), "secret.odt")


def test_a_format_is_known_by_its_bytes_not_its_name() -> None:
    assert format_of(made("docx", ROWS)[1], "recipe.txt") is Format.WORD
    assert format_of(made("rtf", ROWS)[1], "recipe") is Format.RICH_TEXT
    assert format_of(b"From the harbour: a soup\n\n2 leeks\n", "soup") is Format.TEXT
    assert zipfile.is_zipfile(io.BytesIO(made("odt", ROWS)[1]))


def test_a_table_with_bars_inside_and_titles_behind_stars_are_read() -> None:
    table = "FOOD | AMOUNT | COST\n-----+----+---\nSugar | 2 c. | \nEggs | 5 |\n"
    rows = f"**PUDDING\n\n{table}\nPrep: 5 min | Bake: 1 h | Serves 4\n"
    lines = read_draft(rows.encode(), "x.txt").lines
    assert [line.text for line in lines][::2] == ["PUDDING", "-----+----+---", "Eggs 5"]
    assert lines[3].cells == ("Sugar", "2 c.", "")
    assert lines[-1].cells == ()
