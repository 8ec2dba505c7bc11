"""A recipe made by a machine that sees none of its publication's folders: what travels there and back.

There go the bytes of its files, and once for all recipes the house and its templates. Which files a recipe
asks for is known when it has been read; so what is sent is a guess, and where one is lacking, the answer is
which. It is then read here, by the rules of a file read here, and the recipe sent again.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable, Mapping
from concurrent.futures import Executor, Future
from contextlib import suppress
from dataclasses import replace
from functools import lru_cache, partial
from pathlib import Path
from typing import Any

from cardsmith.engine.freshness.inputs import installed, templates_of
from cardsmith.engine.machine.cluster import Cluster, Versions, differences
from cardsmith.engine.machine.pool import Halted
from cardsmith.engine.products.job import Job, Made, Tools, make
from cardsmith.engine.products.printing import today
from cardsmith.files.reading import Reader, Refused, Stamp, digest_of, stamp_of
from cardsmith.files.writing import OutputFolder
from cardsmith.frozen import frozen
from cardsmith.house.publication import BESIDE, Publication
from cardsmith.house.style import House
from cardsmith.proof.issued import latest_proof

Ask = tuple[str, str]  # a file, and the folder that it must truly lie in
Answer = bytes | Refused | None  # as `Reader` gives it


@frozen
class Common:
    """What all recipes of a build have in common."""

    root: Path  # the publication's, where it stands here
    house: House
    grounds: Mapping[str, str]  # of each product, as in `Job`
    day: str
    templates: Mapping[str, bytes]  # by path below their folder
    versions: Versions  # of what is installed here


@frozen
class Parcel:
    """What is sent of one recipe."""

    name: str
    file: Path
    known: Mapping[str, str]
    wanted: tuple[str, ...]
    answers: Mapping[Ask, Answer]


class NotSent(Exception):  # noqa: N818 - the name says what is the matter
    """A recipe asks for a file that did not travel with it."""

    def __init__(self, ask: Ask) -> None:
        super().__init__(ask)
        self.ask = ask


class SentReader(Reader):
    """Reads what was sent, and nothing of the machine it is on."""

    def __init__(self, root: Path, answers: Mapping[Ask, Answer]) -> None:
        super().__init__(root)
        self._answers = answers

    def _read(self, file: Path, folder: Path) -> bytes | None:
        ask = str(file), str(folder)
        if ask not in self._answers:
            raise NotSent(ask)
        answer = self._answers[ask]
        self._seen[self._key(file)] = Stamp(digest=digest_of(answer) if isinstance(answer, bytes) else "")
        if isinstance(answer, Refused):
            raise answer
        return answer


class AskedReader(Reader):
    """Reads on this machine, and remembers what was answered."""

    def __init__(self, root: Path) -> None:
        super().__init__(root)
        self.answers: dict[Ask, Answer] = {}

    def _read(self, file: Path, folder: Path) -> bytes | None:
        ask = str(file), str(folder)
        try:
            self.answers[ask] = answer = super()._read(file, folder)
        except Refused as refused:
            self.answers[ask] = refused
            raise
        return answer

    def answer(self, ask: Ask) -> None:
        """Read what was asked for."""
        file, folder = map(Path, ask)
        try:
            self._read(file, folder)
        except Refused:
            return


def versions() -> Versions:
    """Of what is installed on the machine that is asked."""
    return installed(lambda file: stamp_of(file).digest)


def common_of(publication: Publication, house: House, grounds: Mapping[str, str]) -> bytes:
    """What all recipes have in common, as it travels."""
    templates = {name: file.read_bytes() for name, file in templates_of(publication.templates).items()}
    return pickle.dumps(
        Common(
            root=publication.root,
            house=house,
            grounds=grounds,
            day=today(),
            templates=templates,
            versions=versions(),
        )
    )


def made_away(common: bytes, parcel: bytes, place: Path) -> bytes:
    """In a worker: a recipe made of what was sent alone, or the file that is lacking; pickled.

    ``place`` is a folder of the worker's own; nothing in it changes what is made.
    """
    known, tools = _unpacked(common, place)
    sent: Parcel = pickle.loads(parcel)
    job = Job(
        name=sent.name,
        file=sent.file,
        root=known.root,
        house=known.house,
        grounds=known.grounds,
        known=sent.known,
        wanted=sent.wanted,
        day=known.day,
    )
    try:
        return pickle.dumps(make(job, SentReader(known.root, sent.answers), tools))
    except NotSent as lacking:
        return pickle.dumps(lacking.ask)


@lru_cache(maxsize=1)
def _unpacked(common: bytes, place: Path) -> tuple[Common, Tools]:
    known: Common = pickle.loads(common)
    if faults := differences(known.versions, {"one that came later": versions()}):
        raise Halted("; ".join(faults))
    folder = place / digest_of(common)
    output = OutputFolder(folder)
    for name, data in known.templates.items():
        output.write(f"templates/{name}", data)
    for name in ("pictures", "scratch"):
        output.clear(name)
    return known, Tools(
        templates=folder / "templates", pictures=folder / "pictures", scratch=folder / "scratch"
    )


def _read_ahead(job: Job, reader: AskedReader) -> None:
    """Read what making a recipe will most likely ask for; whatever else it asks for is read when it does."""
    text = b""
    with suppress(Refused):
        text = reader.read(job.file) or b""
    for name in BESIDE:
        with suppress(Refused):
            reader.read(job.file.with_name(name))
    for edition in ("", *job.house.further):
        with suppress(Refused):
            latest_proof(reader.read, job.file, "", edition)
    for name in sorted(beside.name for beside in job.file.parent.iterdir() if beside.name.encode() in text):
        with suppress(Refused):
            reader.read_beside(job.file, name)


class Away(Executor):
    """An executor that has recipes made by a cluster's workers."""

    def __init__(self, cluster: Cluster) -> None:
        self._cluster = cluster

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Have the recipe of a job made; how it is made is known there, and ``fn`` is not asked."""
        (job,) = args
        reader, done = AskedReader(job.root), Future[Made]()
        _read_ahead(job, reader)
        self._send(job, reader, done)
        return done

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Have no more made where that is wanted; the cluster stays as it is."""
        if cancel_futures:
            self._cluster.cancel()

    def _send(self, job: Job, reader: AskedReader, done: Future[Made]) -> None:
        parcel = Parcel(
            name=job.name, file=job.file, known=job.known, wanted=job.wanted, answers=reader.answers
        )
        sent = self._cluster.do(made_away, pickle.dumps(parcel))
        sent.add_done_callback(partial(self._came, job, reader, done))

    def _came(self, job: Job, reader: AskedReader, done: Future[Made], came: Future[bytes]) -> None:
        try:
            made = pickle.loads(came.result())
            if isinstance(made, Made):
                # Its own files were read here: what a build notes of them is how they look here.
                seen = reader.seen
                done.set_result(replace(made, reads={path: seen[path] for path in made.reads}))
            else:
                reader.answer(made)
                self._send(job, reader, done)
        except Exception as fault:
            done.set_exception(fault)
