"""What a build touches: it writes below build/, reads its publication and its own libraries, asks no network.

Python's own audit events tell (PEP 578). What a C library opens by itself, such as fontconfig, they don't
see: strace of this build with two workers, on Debian 12, showed no socket, no write outside build/, and of
reading beyond only the files of fontconfig, of the linker and of the locale. Of processes there is but
Python's own search for the typesetter's libraries, by `ctypes.util`, which asks the system's linker and
leaves nothing behind.
"""

from __future__ import annotations

import json
import mimetypes
import os
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path
from typing import Any

import pytest

import cardsmith

LINKERS = {"gcc", "cc", "ld", "objdump", "ldconfig"}
ROOT = Path(__file__).parents[2]
WATCH = """\
import json, os, sys
seen = []
CHANGES = {"os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.truncate"}
def hook(event, arguments):
    if event == "open":
        path, mode, flags = arguments
        if isinstance(path, (str, bytes, os.PathLike)):
            wrote = bool(flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND))
            seen.append(["write" if wrote else "read", os.path.realpath(os.fsdecode(path))])
    elif event in CHANGES:
        for path in arguments[: 2 if event in {"os.rename", "os.link", "os.symlink"} else 1]:
            if isinstance(path, (str, bytes, os.PathLike)):
                seen.append(["write", os.path.realpath(os.fsdecode(path))])
    elif event.startswith(("socket.", "urllib.", "http.", "ftplib.")):
        seen.append(["network", event])
    elif event.startswith(("subprocess.", "os.system", "os.exec", "os.posix_spawn", "os.fork", "os.spawn")):
        seen.append(["process", os.path.basename(os.fsdecode(arguments[0])) if arguments else event])
sys.addaudithook(hook)
if sys.argv[1] == "spoil":
    import socket
    open("outside", "w").close(); open("/etc/hostname").close() if os.path.exists("/etc/hostname") else 0
    socket.socket().close(); os.system("true")
    code = 0
else:
    from cardsmith.cli import main
    code = main(["build", "--serial"])
print("\\n" + json.dumps([code, seen]))
"""


def _watched(folder: Path, what: str) -> tuple[int, list[tuple[str, Path]], str]:
    ran = subprocess.run(
        [sys.executable, "-B", "-c", WATCH, what],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "TMPDIR": str(folder.parent / "scratch")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    told: list[Any] = json.loads(ran.stdout.rpartition("\n[")[2].join(["[", ""]))
    return told[0], [(kind, Path(path)) for kind, path in told[1]], ran.stdout


@pytest.fixture(scope="module")
def publication(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two recipes of the demo, one with trials and a picture."""
    root = tmp_path_factory.mktemp("reach").resolve() / "publication"
    for name in ("mustard-dressing", "seeded-crackers"):
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    shutil.copytree(ROOT / "templates", root / "templates")
    (root.parent / "scratch").mkdir()
    return root


def test_a_build_stays_in_its_bounds(publication: Path) -> None:
    code, seen, told = _watched(publication, "build")
    assert code == 0, told
    assert (publication / "build/cards/seeded-crackers/seeded-crackers-press.pdf").is_file()
    build = publication / "build"
    wrote = {path for kind, path in seen if kind == "write"}
    assert build / ".cache/manifest" in wrote
    scratch = publication.parent / "scratch"
    outside = {path for path in wrote if not path.is_relative_to(build) and not path.is_relative_to(scratch)}
    assert outside <= {Path(os.devnull)}
    assert list(scratch.iterdir()) == []
    assert sorted(file.name for file in publication.iterdir()) == ["build", "recipes", "templates"]
    own = [
        publication,
        Path(cardsmith.__file__).parent,
        *(Path(sysconfig.get_path(name)) for name in ("stdlib", "platstdlib", "purelib", "platlib")),
        *map(Path, (sys.prefix, sys.base_prefix)),
        *map(Path, ("/usr/lib", "/lib", "/usr/share/fonts", "/etc/fonts", *mimetypes.knownfiles)),
    ]
    real = [path.resolve() for path in own]
    read = {path for kind, path in seen if kind == "read"}
    assert publication / "recipes/seeded-crackers/crackers.svg" in read
    assert sorted(path for path in read if not any(path.is_relative_to(one) for one in real)) == []
    assert [path for kind, path in seen if kind == "network"] == []
    assert {path.name for kind, path in seen if kind == "process"} <= LINKERS


def test_the_watch_sees_what_it_should(publication: Path) -> None:
    _, seen, _ = _watched(publication, "spoil")
    assert ("write", publication / "outside") in seen
    assert {"network", "process"} <= {kind for kind, _ in seen}
    (publication / "outside").unlink()
