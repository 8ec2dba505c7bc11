"""What is kept between commands is passed over where it may not hold, and never missed."""

from __future__ import annotations

import os
import pickle
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from cardsmith import regex as patterns
from cardsmith.edition import spelling
from cardsmith.edition.markets import markets
from cardsmith.edition.words import Wording
from cardsmith.files import user_cache
from cardsmith.measure import larder
from cardsmith.reference import OURS


@pytest.fixture(autouse=True)
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache"


def file_in(cache: Path) -> Path:
    (file,) = (one for one in cache.rglob("*") if one.is_file())
    return file


def test_it_is_worked_out_once(cache: Path) -> None:
    answers = iter((["first"], ["second"]))
    assert user_cache.kept("words", lambda: next(answers)) == ["first"]
    assert user_cache.kept("words", lambda: next(answers)) == ["first"]
    file = file_in(cache)
    assert file.stat().st_mode & 0o777 == 0o600
    assert file.parent.stat().st_mode & 0o777 == 0o700


def torn(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:-1])


def turned(file: Path) -> None:
    file.write_bytes(file.read_bytes().replace(b"first", b"third"))


def empty(file: Path) -> None:
    file.write_bytes(b"")


def open_to_others(file: Path) -> None:
    file.chmod(0o666)


def gone(file: Path) -> None:
    file.unlink()


@pytest.mark.parametrize("meddle", [torn, turned, empty, open_to_others, gone])
def test_what_may_be_false_is_worked_out_anew(cache: Path, meddle: Callable[[Path], None]) -> None:
    user_cache.keep("words", ["first"])
    meddle(file_in(cache))
    assert user_cache.recall("words") is None
    assert user_cache.kept("words", lambda: ["second"]) == ["second"]


def test_nothing_of_another_version_is_met(monkeypatch: pytest.MonkeyPatch) -> None:
    user_cache.keep("words", ["first"])
    monkeypatch.setattr(user_cache, "_state", lambda: b"another")
    assert user_cache.recall("words") is None


def test_an_edit_of_code_or_table_is_another_version(tmp_path: Path) -> None:
    (tmp_path / "__pycache__").mkdir()
    for name in ("__pycache__/code.pyc", "code.py", "table.csv"):
        (tmp_path / name).write_text("1")
    seen = sorted(user_cache._looks(str(tmp_path)))
    assert [Path(path).name for path, *_ in seen] == ["code.py", "table.csv"]
    (tmp_path / "table.csv").write_text("2")
    os.utime(tmp_path / "table.csv", ns=(seen[1][2], seen[1][2]))  # its date put back
    assert sorted(user_cache._looks(str(tmp_path))) != seen


def test_where_nothing_can_be_written_it_is_worked_out_each_time(cache: Path) -> None:
    cache.write_text("a file where the folder belongs")
    assert user_cache.kept("words", lambda: 1) == 1
    assert user_cache.kept("words", lambda: 2) == 2


def test_a_user_without_a_home_keeps_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", "beside")  # no whole path, so passed over
    monkeypatch.setattr(os.path, "expanduser", lambda path: path)
    user_cache.keep("words", ["first"])
    assert user_cache.recall("words") is None
    assert list(tmp_path.iterdir()) == []


def test_the_larder_kept_is_the_larder() -> None:
    stocked = larder._stocked(OURS)
    assert pickle.loads(pickle.dumps(stocked)) == stocked


def test_a_pattern_made_of_its_parts_is_the_one_that_re_compiles() -> None:
    for source, flags in (
        (r"(?P<whole>\d+)(?: (?P<part>[½⅓]))?", 0),
        (r"(?i)\bsalt|(a)\1", re.ASCII),
        ("", 0),
    ):
        lazy = patterns.regex(source, flags)
        assert lazy.pattern == source
        assert patterns._compiled(source, int(flags)) == re.compile(source, flags)
        assert patterns._compiled(source, int(flags)).groupindex == re.compile(source, flags).groupindex


def test_a_command_keeps_the_patterns_it_compiled_for_the_next(cache: Path) -> None:
    ask = [sys.executable, "-m", "cardsmith", "convert", "2 cups rye flour"]
    first = subprocess.run(ask, capture_output=True, text=True, check=True).stdout
    known = user_cache.recall("patterns")
    assert len(known) > 20
    for (source, flags), parts in known.items():
        assert parts == patterns._parts(source, flags)
    assert subprocess.run(ask, capture_output=True, text=True, check=True).stdout == first
    assert user_cache.recall("patterns") == known


def test_a_wording_kept_is_that_of_its_two_editions_alone() -> None:
    american, british = markets()["us"], markets()["uk"]
    oxford = replace(british, endings="ize")
    told = [
        spelling.kept_wording(
            "spelling", american, market, OURS, lambda of=market: spelling.spellings(american, of, OURS)
        )
        for market in (british, british, oxford, british)
    ]
    assert told[0] == told[1] == told[3] == Wording.of(spelling.spellings(american, british, OURS))
    assert told[2] == Wording.of(spelling.spellings(american, oxford, OURS)) != told[0]
