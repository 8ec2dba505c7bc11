"""What a build touches: it writes below build/, reads its publication and its own libraries, asks no network.

The system itself tells (strace), so that C libraries are seen too. The search for the typesetter's libraries,
by `ctypes.util`, asks the system's linker where a system is none of Linux.
"""

from __future__ import annotations

import mimetypes
import os
import re
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

import cardsmith
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
# Calls of the system that change something by a path: man 2, each with its *at form.
CHANGES = (
    "creat mkdir mkdirat mknod mknodat rename renameat renameat2 unlink unlinkat rmdir link linkat symlink "
    "symlinkat truncate chmod fchmodat fchmodat2 chown lchown fchownat utimensat utime utimes futimesat "
    "setxattr lsetxattr removexattr mount umount2"
).split()
_CALL = re.compile(r"\d+ +(?P<name>\w+)\((?P<said>.*)\) += (?P<result>.*)")
_OPENED = re.compile(r"\d+<(?P<path>[^>]*)>")
_PATH = re.compile(r'(?:(?:AT_FDCWD|\d+)<(?P<folder>[^>]*)>, )?"(?P<path>(?:[^"\\]|\\.)*)"')
_TO_WRITE = re.compile(r"O_(?:WRONLY|RDWR|CREAT|TRUNC|APPEND)")
KEPT = "kept"  # the user's cache: what follows from the package alone
Seen = list[tuple[str, Path]]


def traced(folder: Path, *command: str) -> tuple[int, Seen, str]:
    """The exit code of a command, what it and its processes wrote, read and ran, and what it printed."""
    log = folder.parent / "trace"
    calls = ",".join((*CHANGES, "open", "openat", "openat2", "execve", "socket", "connect", "bind"))
    strace = ["strace", "-f", "-y", "-z", "-o", str(log), "-e", f"trace={_known(calls)}", "--", *command]
    own = {"TMPDIR": str(folder.parent / "scratch"), "XDG_CACHE_HOME": str(folder.parent / KEPT)}
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **own}
    ran = subprocess.run(strace, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    lines = map(_CALL.match, _whole(log.read_text("utf-8", "replace").splitlines()))
    seen = [told for call in lines if call for told in _told(folder, call)]
    return ran.returncode, seen, ran.stdout + ran.stderr


def _known(calls: str) -> str:
    """Names that this machine's strace may not know are passed over (strace(1), a question mark)."""
    return ",".join(f"?{name}" for name in calls.split(","))


def _whole(lines: list[str]) -> list[str]:
    """Lines of calls, each that another process's stood between put together."""
    begun: dict[str, str] = {}
    found = []
    for line in lines:
        process, _, rest = line.partition(" ")
        rest = rest.strip()
        if rest.endswith("<unfinished ...>"):
            begun[process] = rest.removesuffix("<unfinished ...>")
            continue
        if resumed := re.match(r"<\.\.\. \w+ resumed>(.*)", rest):
            rest = begun.pop(process, "") + resumed[1]
        found.append(f"{process} {rest}")
    return found


def _told(folder: Path, call: re.Match[str]) -> Seen:
    name, said = call["name"], call["said"]
    if name in ("socket", "connect", "bind"):
        return [("local" if "AF_UNIX" in said or "AF_NETLINK" in said else "network", Path(name))]
    paths = [Path(found["folder"] or folder, found["path"]) for found in _PATH.finditer(said)]
    if name == "execve":
        return [("process", paths[0])]
    if "O_DIRECTORY" in said:  # a folder is listed, and no file in it read
        return []
    if name.startswith("open"):
        opened = _OPENED.match(call["result"])
        return [("write" if _TO_WRITE.search(said) else "read", Path(opened["path"]) if opened else paths[0])]
    return [("write", Path(os.path.normpath(path))) for path in paths]


@pytest.fixture(scope="module")
def publication(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three recipes of the demo, one with trials and a picture."""
    if not shutil.which("strace"):
        pytest.skip("strace is not on this machine")
    root = tmp_path_factory.mktemp("reach").resolve() / "publication"
    for name in ("lemon-curd", "mustard-dressing", "seeded-crackers"):
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    copy_templates(root / "templates")
    (root.parent / "scratch").mkdir()
    return root


def test_a_build_stays_in_its_bounds(publication: Path) -> None:
    code, seen, told = traced(publication, sys.executable, "-B", "-m", "cardsmith", "build", "--jobs", "2")
    assert code == 0, told
    assert (publication / "build/cards/seeded-crackers/seeded-crackers-press.pdf").is_file()
    build, scratch = publication / "build", publication.parent / "scratch"
    wrote = {path for kind, path in seen if kind == "write"}
    assert build / ".cache/manifest" in wrote
    # Two processes of Python talk by a lock in memory and a socket, which bear names while they live.
    kept = publication.parent / KEPT / "cardsmith"
    own = (build, scratch, kept, kept.parent, Path("/dev/shm"), Path("/dev/null"))
    assert sorted(path for path in wrote if not any(path.is_relative_to(one) for one in own)) == []
    assert list(scratch.iterdir()) == []
    assert not [path for path in Path("/dev/shm").iterdir() if path in wrote]
    assert sorted(file.name for file in publication.iterdir()) == ["build", "recipes", "templates"]
    libraries = [
        publication,
        Path(cardsmith.__file__).parent,
        kept,
        *(Path(sysconfig.get_path(name)) for name in ("stdlib", "platstdlib", "purelib", "platlib")),
        *map(Path, (sys.prefix, sys.base_prefix)),
        *map(Path, ("/usr/lib", "/lib", "/lib64", "/usr/share", "/etc/fonts")),
        *map(
            Path,
            (
                "/etc/ld.so.cache",
                "/etc/locale.alias",
                "/etc/ssl",
                "/dev",
                "/proc",
                "/sys",
                scratch,
                *mimetypes.knownfiles,
            ),
        ),
    ]
    real = [path.resolve() for path in libraries]
    read = {path for kind, path in seen if kind == "read"}
    assert publication / "recipes/seeded-crackers/crackers.svg" in read
    beyond = sorted(path for path in read if not any(path.is_relative_to(one) for one in real))
    assert beyond == [], beyond
    assert [path for kind, path in seen if kind == "network"] == []
    ran = {path.resolve() for kind, path in seen if kind == "process"}
    assert ran <= {Path(sys.executable).resolve()}


def test_the_watch_sees_what_it_should(publication: Path) -> None:
    spoil = (
        'import os, socket, subprocess; open("outside", "w").close(); os.rename("outside", "other"); '
        'socket.socket().close(); folder = os.open(".", 0); os.unlink("other", dir_fd=folder); '
        'open("/etc/passwd").close(); subprocess.run(["true"])'
    )
    _, seen, _ = traced(publication, sys.executable, "-c", spoil)
    assert [path.name for kind, path in seen if kind == "write" and path.parent == publication] == [
        "outside", "outside", "other", "other",
    ]  # fmt: skip
    assert ("read", Path("/etc/passwd")) in seen
    assert {"network", "process"} <= {kind for kind, _ in seen}
