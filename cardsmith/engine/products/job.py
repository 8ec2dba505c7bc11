"""One job: a recipe's folder in, its finished files out, with an account of every file read.

Jobs and what comes of them can be pickled, so that another process can do them; with a reader and tools of
its own (`away`) so can a machine that sees none of these folders. Each *product* says what values it rests
on; where these and its grounds are as they were, it is not made again. So an edit that changes no card sets
no type.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import field, replace
from functools import lru_cache
from pathlib import Path
from typing import Any

from cardsmith.check.formula.handling import handling_risks
from cardsmith.check.subject import Subject
from cardsmith.edition.markets import markets
from cardsmith.engine.freshness.fingerprint import fingerprint
from cardsmith.engine.freshness.manifest import OWED
from cardsmith.engine.machine.clock import Clock
from cardsmith.engine.machine.output import PICTURES, TEMPORARY
from cardsmith.engine.machine.pool import SECONDS, timed
from cardsmith.engine.products.pictures import KeptPictures
from cardsmith.engine.products.printing import does_not_print, papers, photo_of, today, version_of
from cardsmith.files.reading import Reader, Refused, Stamp
from cardsmith.finding import Finding, Severity, Where
from cardsmith.flow import Prepared, prepare
from cardsmith.frozen import frozen
from cardsmith.house.publication import Publication
from cardsmith.house.style import House
from cardsmith.measure.larder import load_larder
from cardsmith.portion.portion import Portion, nutrition_facts, nutrition_line, structured_data
from cardsmith.portion.portion import portion as work_out
from cardsmith.portion.portion_file import NO_FACTS, Facts, read_facts
from cardsmith.proof.issued import latest_proof
from cardsmith.proof.snapshot import Snapshot
from cardsmith.readback.card import faithful
from cardsmith.recipe.model import Accepted, Recipe
from cardsmith.render.card.view import CardView, card_view
from cardsmith.render.press.preflight import Unprintable
from cardsmith.render.press.version import Version
from cardsmith.render.typesetter import LayoutError, PangoMissing, Typesetter
from cardsmith.rewrite.batches.batches import Batches, batches
from cardsmith.rewrite.card.model import Card
from cardsmith.site.addresses import address, recipe_path
from cardsmith.site.collection.card_index import CARDS, card_index
from cardsmith.site.collection.files import collection, tells_of
from cardsmith.site.entry import Entry, entry_from, entry_of, of_edition
from cardsmith.site.recipe_page.data import record
from cardsmith.site.recipe_page.files import overweight, recipe_pages
from cardsmith.site.recipe_page.photo import shown_as
from cardsmith.site.recipe_page.structured import recipe_data
from cardsmith.site.recipe_page.view import PageView, page_view
from cardsmith.words import fixed_words


@frozen
class Job:
    """One recipe to be made."""

    name: str
    file: Path
    root: Path  # the publication's
    house: House
    grounds: Mapping[str, str]  # the digest of what each product rests on for all recipes alike, by its name
    known: Mapping[str, str] = field(default_factory=dict)  # the key each product was last made under
    # Products; empty for all. Others that no longer hold are taken away, and owed.
    wanted: tuple[str, ...] = ()
    day: str = ""  # on which its files are written: 2026-04-02; empty for today


@frozen
class Produced:
    """What came of one product of a recipe."""

    files: Mapping[str, bytes] = field(default_factory=dict)  # by path below build/
    findings: tuple[Finding, ...] = ()


@frozen
class Made:
    """What came of a job."""

    name: str
    reads: Mapping[str, Stamp]  # every file asked for, by its path below the publication
    findings: tuple[Finding, ...]  # of reading, checking and rewriting
    silenced: tuple[tuple[Finding, Accepted], ...] = ()
    keys: Mapping[str, str] = field(default_factory=dict)  # of every product the recipe has; `OWED`: not now
    produced: Mapping[str, Produced] = field(default_factory=dict)  # anew; other products are as they were
    entry: Mapping[str, Any] | None = None  # what the collection knows of it, in JSON's values
    took: Mapping[str, float] = field(
        default_factory=dict, compare=False
    )  # seconds of a processor, by what for


@frozen
class Material:
    """All that is known of one recipe by the time its files are made."""

    name: str
    prepared: Prepared
    view: CardView
    page: PageView
    data: Mapping[str, Any]  # the card's record
    about: Mapping[str, Any]  # what schema.org has words for
    house: House
    photos: Mapping[str, bytes]  # the picture as it stands beside the recipe, by its name; empty for none
    version: Version
    day: str  # on which its files are written; nothing is made anew for it

    def product(self, kind: Product) -> str:
        """What a product of this edition is called: page, and page uk for a further one."""
        return f"{kind.name} {self.prepared.edition}".strip()


@frozen
class Tools:
    """What files are made with; none of it changes what is in them."""

    templates: Path
    pictures: Path  # a folder for pictures made ready
    scratch: Path  # a folder for temporary files

    def typesetter(self, digest: str) -> Typesetter:
        """The one of this process; ``digest`` is that of the templates and fonts it must have read.

        Raises:
            PangoMissing: what to install.
        """
        return _typesetter(self.templates, self.scratch, digest)


@lru_cache(maxsize=1)
def _typesetter(templates: Path, scratch: Path, digest: str) -> Typesetter:
    return Typesetter(templates, scratch)


@frozen
class Product:
    """One kind of file: what of the material it rests on, and how it is made.

    Its name is that of its scope in `freshness.inputs.SCOPES`: the templates and tables it reads.
    """

    name: str
    rests_on: Callable[[Material], object]
    make: Callable[[Material, Tools, str], Produced]  # the last is the digest of its grounds


def _page(material: Material, tools: Tools, grounds: str) -> Produced:
    photo = material.prepared.recipe.photo if material.prepared.recipe else None
    files = recipe_pages(
        material.page,
        material.house,
        tools.templates,
        photo,
        material.photos,
        material.data,
        material.about,
        KeptPictures(tools.pictures),
    )
    where = material.prepared.recipe.where if material.prepared.recipe else Where(file=material.name)
    return Produced(files=files, findings=overweight(files, where))


def _paper(material: Material, tools: Tools, grounds: str) -> Produced:
    card = material.prepared.card
    where = card.recipe.where if card else Where(file=material.name)
    try:
        typesetter = tools.typesetter(grounds)
        printed = papers(
            material.prepared,
            material.view,
            material.house,
            typesetter,
            material.photos,
            replace(material.version, made=material.day),
            tools.pictures,
        )
    except PangoMissing:
        return Produced()  # the command says so, once
    except (LayoutError, Unprintable) as fault:
        return Produced(findings=(does_not_print(where, fault),))
    files = {f"cards/{material.name}/{name}": data for name, data in printed.files.items()}
    return Produced(files=files, findings=printed.findings)


PRODUCTS = (
    Product(
        name="page",
        rests_on=lambda material: (
            material.page,
            material.photos,
            material.house.site,
            material.data,
            material.about,
        ),
        make=_page,
    ),
    Product(
        name="paper",
        rests_on=lambda material: (
            material.view,
            material.photos,
            material.house.card,
            material.version,
            material.prepared.recipe.photo if material.prepared.recipe else None,
        ),
        make=_paper,
    ),
)


def make(job: Job, reader: Reader | None = None, tools: Tools | None = None) -> Made:
    """Make what is not made yet of one recipe. A recipe with errors has no products.

    It is read and made in its publication's own folder where no ``reader`` and ``tools`` are given.
    """
    reader, clock = reader or Reader(job.root), Clock()
    try:
        made = _make(job, reader, tools or _tools(Publication(root=job.root)), clock)
        return replace(made, took=clock.told("reading and checking"))
    except Refused as refused:
        return Made(name=job.name, reads=reader.seen, findings=(refused.finding(),))


def _tools(publication: Publication) -> Tools:
    return Tools(
        templates=publication.templates,
        pictures=publication.output.place(PICTURES),
        scratch=publication.output.place(TEMPORARY),
    )


def _make(job: Job, reader: Reader, tools: Tools, clock: Clock) -> Made:
    publication = Publication(root=job.root)
    text = reader.read(job.file) or b""
    trials = reader.read(job.file.with_name("trials.yaml"))
    bench = (trials, publication.shown(job.file.with_name("trials.yaml"))) if trials is not None else None
    prepared = prepare(
        job.name, text, publication.shown(job.file), load_larder(job.house.reference), job.house, bench
    )
    findings, silenced = prepared.findings, prepared.silenced
    card = prepared.card
    if card is None or not prepared.printable:
        return Made(name=job.name, reads=reader.seen, findings=findings, silenced=silenced)
    photos, about_photo = photo_of(reader, job.file, card.recipe.photo)
    findings = (*findings, *about_photo)
    if _stops(about_photo):
        return Made(name=job.name, reads=reader.seen, findings=findings, silenced=silenced)
    materials: list[Material] = []
    for edition in (prepared, *prepared.editions):
        proof, about_proof = latest_proof(
            reader.read, job.file, publication.shown(job.file.parent), edition.edition
        )
        portion, about_portion = _portion(job, edition, card.recipe, reader, publication)
        about = (*about_proof, *(about_portion if edition is prepared else ()))  # of the same files
        findings = (*findings, *about)
        if _stops(about):
            return Made(name=job.name, reads=reader.seen, findings=findings, silenced=silenced)
        inputs = _Inputs(photos=photos, portion=portion, text=text, proof=proof)
        materials.append(_material(job, edition, inputs))
    keys: dict[str, str] = {}
    produced: dict[str, Produced] = {}
    for material in materials:
        for product in PRODUCTS:
            name, grounds = material.product(product), job.grounds[product.name]
            keys[name] = fingerprint(name, product.rests_on(material), grounds)
            if keys[name] == job.known.get(name):
                continue
            if job.wanted and product.name not in job.wanted:
                keys[name], produced[name] = OWED, Produced()
            else:
                with clock.of(product.name):
                    produced[name] = _of_edition(product.make(material, tools, grounds), material)
    return Made(
        name=job.name,
        reads=reader.seen,
        findings=findings,
        silenced=silenced,
        keys=keys,
        produced=produced,
        entry=_entry(prepared, card, job.house, shown_as(card.recipe.photo, materials[0].page.tile)).record(),
    )


def _of_edition(made: Produced, material: Material) -> Produced:
    """What a product has to say, with the edition that it is said of."""
    if not (key := material.prepared.edition):
        return made
    findings = (
        replace(finding, what=f"in the {markets()[key].name}: {finding.what}") for finding in made.findings
    )
    return replace(made, findings=tuple(findings))


def _entry(prepared: Prepared, card: Card, house: House, picture: str) -> Entry:
    """What the collection knows of a recipe, shown by a picture beside its page, and of its editions."""
    others = (
        of_edition(entry_of(edition.card, house.in_edition(edition.edition), picture), edition.edition)
        for edition in prepared.editions
        if edition.card
    )
    return replace(entry_of(card, house, picture), editions=tuple(others))


@frozen
class _Inputs:
    """What an edition of a recipe rests on beside its card."""

    photos: Mapping[str, bytes]
    portion: Portion | None
    text: bytes
    proof: Snapshot | None


def _material(job: Job, prepared: Prepared, inputs: _Inputs) -> Material:
    """All that is known of one edition of a recipe."""
    card = prepared.card
    assert card
    house = job.house.in_edition(prepared.edition) if prepared.edition else job.house
    sizes = _sizes(prepared, card, house)
    style, law, say = house.portion, house.declares, fixed_words(house.language)
    held = nutrition_facts(inputs.portion, law, say) if inputs.portion and style.on_card else ()
    line = (
        nutrition_line(inputs.portion, law, say, lowered=house.language.startswith("en"))
        if inputs.portion and style.on_page
        else ""
    )
    online = address(house.site, recipe_path(card.recipe.name, prepared.edition))
    view = card_view(card, house, held, online)
    return Material(
        name=job.name,
        prepared=prepared,
        view=view,
        page=page_view(card, house, sizes, line),
        data=record(card, house, sizes),
        about=recipe_data(
            card,
            house,
            address=online,
            nutrition=structured_data(inputs.portion, say) if inputs.portion and style.on_page else None,
        ),
        house=house,
        photos=inputs.photos,
        version=version_of(prepared, view, house, inputs.text, inputs.proof),
        day=job.day or today(),
    )


def _portion(
    job: Job, prepared: Prepared, author: Recipe, reader: Reader, publication: Publication
) -> tuple[Portion | None, tuple[Finding, ...]]:
    """What a portion holds, where the house prints it; a statement that can't be read stops every edition.

    The kitchen states what it knows by the names of its ``author``.
    """
    style = job.house.portion
    if prepared.recipe is None or not (style.on_card or style.on_page):
        return None, ()
    file = job.file.with_name("portion.yaml")
    larder = load_larder(job.house.reference)
    facts: Facts = NO_FACTS
    findings: tuple[Finding, ...] = ()
    if (stated := reader.read(file)) is not None:
        facts, findings = read_facts(stated, publication.shown(file), author.ingredients, larder)
    return work_out(prepared.recipe, larder, facts=facts, trials=prepared.trials), findings


def _sizes(prepared: Prepared, card: Card, house: House) -> Batches:
    """The other batch sizes a page offers, rounded as the card is."""
    larder = load_larder(house.reference)
    risks = handling_risks(Subject(recipe=card.recipe, larder=larder, house=house, trials=prepared.trials))
    made = batches(card.recipe, larder, house, cautions=card.cautions, risks=risks)
    return faithful(made, house, larder)


def make_in_time(job: Job) -> Made:
    """`make`, held to the time that one recipe may take."""
    return timed(SECONDS, make, job)


def collect(
    entries: Mapping[str, Mapping[str, Any]], house: House, templates: Path
) -> tuple[dict[str, bytes], dict[str, frozenset[str]]]:
    """The collection's files by path below build/; for those about some recipes only, the names of these.

    ``entries`` are those of all recipes, by name.
    """
    every = [entry_from(record) for record in entries.values()]
    made = {f"site/{path}": data for path, data in collection(every, house, templates).items()}
    made[CARDS] = card_index(every, house)
    return made, {f"site/{path}": names for path, names in tells_of(every, house, templates).items()}


def _stops(findings: tuple[Finding, ...]) -> bool:
    return any(finding.severity is Severity.ERROR for finding in findings)
