"""Every other file of an author or a house has a recipe's bounds: told inside a second, without a trace."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from cardsmith.bench.file.load import read_trials
from cardsmith.commands.main import main
from cardsmith.commands.terminal import MISUSED
from cardsmith.finding import CardsmithError, Finding, Severity
from cardsmith.house.files import elsewhere
from cardsmith.house.style import load_house, read_house
from cardsmith.measure.larder import load_larder
from cardsmith.portion.portion_file import read_facts
from cardsmith.portion.prices import read_prices
from cardsmith.portion.teardown.load import read_teardown
from cardsmith.proof.snapshot import DamagedProof, read_snapshot
from tests.demo import copy_templates
from tests.pace import within

ROOT = Path(__file__).parents[2]
LARDER = load_larder()
HOUSE = (ROOT / "templates/house.yaml").read_text(encoding="utf-8")
BYTES: dict[str, bytes] = {
    "aliases": b"a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n",
    "a chain of aliases": b"a: &a0 x\n"
    + b"".join(b"b%d: &a%d [*a%d, *a%d]\n" % (n + 1, n + 1, n, n) for n in range(40)),
    "a tag": b"!!python/object/apply:os.system ['true']\n",
    "deep": b"[" * 90_000,
    "50 MB": b"a" * 50_000_000,
    "no UTF-8": b"\xff\n" * 400,
    "UTF-16": "name: x\n".encode("utf-16"),
    "NUL": b"name: a\0b\n",
    "twice": b"name: a\nname: b\n",
    "merge": b"name: x\n<<: {credit: y}\n",
    "digits": b"name: " + b"9" * 10_000 + b"\n",
    "direction": "name: a\u202eb\n".encode(),
    "a direction by its code": b'name: "a\\u202Eb"\n',
}  # fmt: skip


def _of_house(data: bytes) -> str:
    with pytest.raises(CardsmithError) as told:
        read_house(data)
    return str(told.value)


def _errors(findings: tuple[Finding, ...]) -> str:
    return "\n".join(str(one) for one in findings if one.severity is Severity.ERROR)


READERS: dict[str, Callable[[bytes], str]] = {
    "house.yaml": _of_house,
    "trials.yaml": lambda data: _errors(read_trials("x", data, "trials.yaml", LARDER)[1]),
    "teardown.yaml": lambda data: _errors(read_teardown(data, "teardown.yaml", LARDER)[1]),
    "portion.yaml": lambda data: _errors(read_facts(data, "portion.yaml", (), LARDER)[1]),
    "prices.csv": lambda data: _errors(read_prices(data, "prices.csv", LARDER)[1]),
}


@pytest.mark.parametrize("name", BYTES)
@pytest.mark.parametrize("file", READERS)
def test_hostile_bytes_are_told_inside_a_second(file: str, name: str) -> None:
    with within(1):
        said = READERS[file](BYTES[name])
    assert said.startswith(file)


@pytest.mark.parametrize(
    "data", [*BYTES.values(), b"[]", b'{"number": 1e999}', b'{"format": NaN}', b"9" * 10_000]
)
def test_a_kept_proof_that_is_none_is_told(data: bytes) -> None:
    with within(1), pytest.raises(DamagedProof, match=r"01\.json"):
        read_snapshot(data, "01.json", 1)


PRICES = "ingredient,price,pack,currency,supplier,date,trim\n"


@pytest.mark.parametrize(
    "row",
    [
        f"carrots,{'9' * 10_000},2 lb,USD,market,2026-09-28,",
        f"carrots,1.80,{'9' * 10_000} lb,USD,market,2026-09-28,",
        f"carrots,1.80,2 lb,USD,market,2026-09-28,{'9' * 10_000} %",
        "carrots,1.80,1/0 lb,USD,market,2026-09-28,",
        f"carrots,1.80,2 lb,USD,market,{'9' * 10_000}-01-01,",
        "carrots,1.80,2 lb,USD,\u202emarket,2026-09-28,",
        '"carrots,1.80',
        "carrots,1.80,2 lb,USD,market,2026-09-28," + ",x" * 40_000,
    ],
    ids=["price", "pack", "trim", "by nothing", "date", "direction", "a quote left open", "cells"],
)
def test_a_hostile_row_of_prices_is_told(row: str) -> None:
    with within(1):
        prices, findings = read_prices(f"{PRICES}{row}\n".encode(), "prices.csv", LARDER)
    assert findings
    assert not prices.prices


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("ratio_limit: 3 %", "ratio_limit: 1e999999999 %", "is not a number such as"),
        ("ratio_limit: 3 %", f"ratio_limit: 1/{'9' * 150} %", "is not a number such as"),
        ("ratio_limit: 3 %", "ratio_limit: 1/0 %", "“1/0” is not a number"),
        ("ratio_limit: 3 %", "ratio_limit: -3 %", "“-3” is not a number"),
        ("ratio_limit: 3 %", "ratio_limit: {a: 3}", "ratio_limit takes a text, not keys"),
        ("step: 0.1}", "step: 0}", "step: this must be more than 0"),
        ("{to: 10, step: 1/4}", "{to: 100000, step: 0.00001}", "write larger steps"),
        ("{to: 10, step: 1/4}", "10", "a rung has the keys to, step"),
        ("cup: [1/4,", f"cup: [{'1, ' * 100} 1/4,", "cup: this list has 105 entries; 1 to 60 will do"),
        ("cards: 2", "cards: 999", "not a whole number from 1 to 20"),
        ("cards: 2", f"cards: {'9' * 190}", "write cards: 2"),
        ("sides: 2", "sides: two", "“two” is not a choice for sides; it takes 1 or 2"),
        ("text: [10.5, 9.5]", "text: 11", "text takes a list of sizes"),
        ("text: [10.5, 9.5]", "text: [10.5, 9]", "9 pt is too small to cook from"),
        ("text: [10.5, 9.5]", "text: [12, 10.5, 9.5]", "3 sizes of body type are too many"),
        ("printers: [offset]", "printers: []", "printers: this list has 0 entries"),
        ("printers: [offset]", "printers: [{offset: 1}]", "this printer takes a text, not keys"),
        ("on_card: no", "on_card: perhaps", "not a choice for on_card; it takes yes, no"),
        ("tolerances:", "tolerances: []\nx:", "there is no key “x”"),
        ("  cure: 2 %", "  cure: 200 %", "cure at 200 % is over 5 %"),
        ("  salt: 7 %", "  salt: 10.01 %", "salt at 10.01 % is over 10 %"),
        ("  setting: 5 %", "  setting: 90 %", "setting: 10 %, or less"),
        ("  leavener: 7 %", "  leavner: 7 %", "there is no key “leavner” in tolerances; write: leavener:"),
        ("language: en-US", "language: '\"><script>'", "is not a choice for language; it takes en, en-US"),
        ("name: Pellwick Quarterly", "name: [a]", "write: name: \"[a]\""),
        ("name: Pellwick Quarterly", f"name: {'much ' * 100}", "characters are too many"),
        ("name: Pellwick Quarterly", "name: &a Pellwick", "house.yaml:2:7"),
        ("signed_by: [Author,", "signed_by: [[Author],", "this name takes one text, not a list"),
        ("order: [us, metric]", "order: {us: 1, metric: 2}", "order takes a list of systems, not keys"),
        ("oven: []", "oven: [{fan: 1}]", "this setting takes a text, not keys"),
    ],
)  # fmt: skip
def test_a_house_that_would_break_a_card_is_refused(old: str, new: str, told: str) -> None:
    assert old in HOUSE
    with within(1):
        assert told in _of_house(HOUSE.replace(old, new).encode())


@pytest.fixture
def publication(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    root = tmp_path / "publication"
    copy_templates(root / "templates")
    shutil.copytree(ROOT / "recipes/mustard-dressing", root / "recipes/mustard-dressing")
    (tmp_path / "secret").write_text("nobody-may-read-this", encoding="utf-8")
    monkeypatch.chdir(root)
    return root


def _link(name: str) -> Callable[[Path], None]:
    def spoil(root: Path) -> None:
        file = root / "templates" / name
        file.unlink(missing_ok=True)
        file.symlink_to(root.parent / "secret")

    return spoil


def _link_folder(root: Path) -> None:
    shutil.rmtree(root / "templates/webfonts")
    (root / "templates/webfonts").symlink_to(root.parent)


def _pipe(root: Path) -> None:
    (root / "templates/look.css").unlink()
    os.mkfifo(root / "templates/look.css")


def _folder(root: Path) -> None:
    (root / "templates/house.yaml").unlink()
    (root / "templates/house.yaml").mkdir()


def _holes(root: Path) -> None:
    with (root / "templates/print.css").open("wb") as stream:
        stream.truncate(50_000_001)


def _with(name: str, data: bytes) -> Callable[[Path], None]:
    def spoil(root: Path) -> None:
        file = root / "templates" / name
        file.write_bytes(file.read_bytes() + data)

    return spoil


SPOILS: dict[str, tuple[Callable[[Path], None], str]] = {
    "house linked": (_link("house.yaml"), "house.yaml leads by a symbolic link out of the templates"),
    "style linked": (_link("print-more.css"), "print-more.css leads by a symbolic link out"),
    "new file linked": (_link("site/files/secret.txt"), "secret.txt leads by a symbolic link out"),
    "folder linked": (_link_folder, "webfonts leads by a symbolic link out of the templates"),
    "pipe": (_pipe, "look.css is a pipe or a device; put a file there"),
    "folder for the house": (_folder, "house.yaml is a folder; put a file there"),
    "50 MB of style": (_holes, "print.css has 50 MB"),
    "style not UTF-8": (_with("look.css", b"\xff"), "look.css is not UTF-8 at byte"),
    "style with NUL": (_with("look.css", b"\0"), "look.css holds a NUL character"),
    "remote import": (_with("look.css", b'@import "https://fonts.invalid/a.css";'), "a style may not ask"),
    "remote font": (_with("look-web.css", b"a{b:url(//fonts.invalid/a)}"), "place: //fonts.invalid/a;"),
    "file": (_with("print.css", b'body{background:url("file:///etc/hostname")}'), "file:///etc/hostname"),
    "in a page's style": (_with("_page.css.j2", b"a{b:url('http://h.invalid')}"), "http://h.invalid"),
}  # fmt: skip


@pytest.mark.parametrize("name", SPOILS)
def test_a_template_that_leads_elsewhere_is_refused(
    name: str, publication: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spoil, wanted = SPOILS[name]
    spoil(publication)
    assert main(["build", "--serial"]) == MISUSED
    told = capsys.readouterr()
    assert wanted in told.err
    assert told.err.count("\n") == 1
    assert "nobody-may-read-this" not in told.out + told.err
    assert not list(publication.glob("build/cards/*/*"))


def test_type_may_stand_elsewhere(publication: Path) -> None:
    (publication / "templates/fonts").rename(publication.parent / "type")
    (publication / "templates/fonts").symlink_to(publication.parent / "type")
    (publication / "templates/again.css").symlink_to("look.css")
    assert load_house(publication).name == "Pellwick Quarterly"


@pytest.mark.parametrize(
    "style",
    [
        '@import "http://h/a.css"',
        "@import 'HTTPS://h/a.css'",
        "a{b:url(//h/p.png)}",
        "a{b:url( \\\\\\\\h/p.png)}",
        'a{b:url( "h\\74tp://x")}',
        "a{b:url(\\68 ttp://x)}",
        "a{b:url(ht\ntp://x)}",
        "a{b:url(http:/*x*///h)}",
        'a{b:url("file:///etc/passwd")}',
        "a{b:url(javascript:x)}",
        'a{b:image-set("https://x" 1x)}',
    ],
)
def test_an_address_elsewhere_is_found_however_it_is_written(style: str) -> None:
    assert elsewhere(f"p {{ margin: 0 }}\n{style}\n")


@pytest.mark.parametrize(
    "style",
    [
        '@import url("look.css");',
        'a{b:url("webfonts/A.woff2")}',
        "a{b:url(#here)}",
        "a{b:url(data:font/woff2;base64,AAAA)}",
        "a{b:url(\"data:image/svg+xml,<svg xmlns='http://www.w3.org/2000/svg'/>\")}",
        "/* Source: https://example.invalid/type */ a{b:c}",
        'a::after{content:" // \\201C"}',
    ],
)
def test_what_stays_in_the_house_is_let_pass(style: str) -> None:
    assert not elsewhere(style)
