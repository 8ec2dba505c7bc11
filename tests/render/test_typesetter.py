from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from cardsmith.finding import CardsmithError
from cardsmith.render import typesetter as module
from cardsmith.render.typesetter import LayoutError, PangoMissing, Typesetter, need_pango

PAGE = '<!DOCTYPE html><html lang="en"><head><title>x</title></head><body>{}</body></html>'


def test_missing_libraries_are_named_by_their_packages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_LIBRARIES", {"libnowhere-1.so.0": "libnowhere-1-0"})
    with pytest.raises(PangoMissing, match="apt-get install --no-install-recommends libnowhere-1-0") as told:
        need_pango()
    assert isinstance(told.value, CardsmithError)


@pytest.mark.parametrize(
    "address",
    [
        "file:///etc/hostname",
        "FILE:///etc/hostname",
        "http://example.org/x.png",
        "https://example.org/x.png",
        "../pyproject.toml",
        "%2e%2e/pyproject.toml",
        "/etc/hostname",
        "photo/other.png",
        "data:text/plain,x",
    ],
)
def test_nothing_but_the_house_and_the_photos_is_read(address: str, typesetter: Typesetter) -> None:
    with pytest.raises(LayoutError):
        typesetter.lay_out(PAGE.format(f'<img alt="x" src="{address}">'), {"mine.png": b""})


@pytest.mark.parametrize("address", ["file:///etc/hostname", "http://example.org/x.png", "x.png"])
def test_a_picture_inside_a_picture_is_not_read(address: str, typesetter: Typesetter) -> None:
    picture = f"""<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="9"
        height="9"><image width="9" height="9" xlink:href="{address}" href="{address}"/></svg>""".encode()
    with pytest.raises(LayoutError):
        typesetter.write(
            typesetter.lay_out(PAGE.format('<img alt="x" src="photo/m.svg">'), {"m.svg": picture})
        )


def test_a_link_out_of_the_templates_is_not_followed(templates: Path, tmp_path: Path) -> None:
    house = tmp_path / "templates"
    house.mkdir()
    (house / "print.css").write_text("", encoding="utf-8")
    (house / "fonts").symlink_to(templates / "fonts")
    (tmp_path / "secret.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>", encoding="utf-8")
    (house / "way-out.svg").symlink_to(tmp_path / "secret.svg")
    with pytest.raises(LayoutError, match="not a file of the templates"):
        Typesetter(house, tmp_path / "cache").lay_out(PAGE.format('<img alt="x" src="way-out.svg">'), {})


@pytest.mark.parametrize(
    "body",
    ["<p style='colour: red'>x</p>", "<p>\u2603</p>", "<img src='photo/mine.svg'>"],
    ids=["bad style", "a glyph no font has", "no alternative text"],
)
def test_a_warning_is_a_fault(body: str, typesetter: Typesetter) -> None:
    photos = {"mine.svg": b"<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>"}
    with pytest.raises(LayoutError, match="the typesetter warns"):
        typesetter.write(typesetter.lay_out(PAGE.format(body), photos))


def test_the_environment_is_left_as_it_was(
    templates: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("FONTCONFIG_FILE", raising=False)
    Typesetter(templates, tmp_path)
    assert "FONTCONFIG_FILE" not in os.environ
    monkeypatch.setenv("FONTCONFIG_FILE", "mine")
    Typesetter(templates, tmp_path)
    assert os.environ["FONTCONFIG_FILE"] == "mine"


def test_a_font_replaced_in_its_place_is_the_one_that_sets(templates: Path, tmp_path: Path) -> None:
    """Writing into a file leaves the date of its folder, by which fontconfig knows its own list."""
    house, page = tmp_path / "house", PAGE.format("<p style=\"font-family: 'Fira Sans'\">Type</p>")

    def written(scratch: str) -> bytes:
        setter = Typesetter(house, tmp_path / scratch)
        return setter.write(setter.lay_out(page, {}))

    shutil.copytree(templates, house)
    before, folder = written("one"), (house / "fonts").stat()
    regular, bold = (house / f"fonts/FiraSans-{name}.ttf" for name in ("Regular", "SemiBold"))
    faces = regular.read_bytes(), bold.read_bytes()
    bold.write_bytes(faces[0])
    regular.write_bytes(faces[1])
    os.utime(house / "fonts", ns=(folder.st_atime_ns, folder.st_mtime_ns))
    assert written("one") == written("another") == before


def test_nothing_is_left_of_the_list_of_fonts(templates: Path, tmp_path: Path) -> None:
    Typesetter(templates, tmp_path / "scratch")
    assert list((tmp_path / "scratch").iterdir()) == []
