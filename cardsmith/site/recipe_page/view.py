"""A card's page as ready strings: its fixed texts, and those that each batch size replaces.

Every text that a batch size may change stands in a *slot*. The same function fills the slots of the author's
batch and of the other sizes, so a size differs from the first only where its own rounding does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from html import unescape

from markupsafe import Markup

from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.measure.units import BASES
from cardsmith.regex import regex
from cardsmith.render.card.view import (
    CardView,
    FactView,
    SystemView,
    card_view,
    decimal,
    error_text,
    systems,
)
from cardsmith.render.typeset import marks
from cardsmith.rewrite.batches.batches import Batches
from cardsmith.rewrite.card.model import Card
from cardsmith.rewrite.card.numbers import CardNumber, filed
from cardsmith.rewrite.wording import fraction_text, short
from cardsmith.site.aloud import aloud, spoken, text
from cardsmith.site.dates import long_date
from cardsmith.site.entry import OTHER, course_of, group_of
from cardsmith.site.recipe_page.running import running
from cardsmith.site.recipe_page.tile import Layer, layers
from cardsmith.words import FixedWords, fixed_words

NO_BATCHES = Batches()
TIMES = frozenset({"prep", "cook", "active", "total"})  # facts that no other size has measured
DECLARED = frozenset({"contains", "unknown"})  # notes that stand with the facts at the head
LINE = 24  # characters of an amount in one line of its column (common practice, no source)
_TAG = regex("<[^>]*>")


@frozen
class PageAmount:
    """One amount of the list, as plain text."""

    number: str
    unit: str
    say: FixedWords  # in whose language its fractions are read

    @property
    def html(self) -> Markup:
        """Number and unit apart, since the numbers of a column are aligned."""
        number = Markup('<span class="number">{}</span>\u00a0').format(text(self.number, self.say))
        return (number if self.number else Markup()) + text(self.unit, self.say)


@frozen
class PageLine:
    """One ingredient; ``place`` names its slots and its derivation."""

    place: str  # r0, r1 … through all parts
    measured: bool  # whether it has an amount, and so a derivation
    systems: tuple[str, ...]
    steps: tuple[int, ...]  # the numbers of the steps that use it
    long: frozenset[str]  # systems whose amount, in a batch of some size, is more than a line of its column


@frozen
class PageStep:
    """One step, and the ingredients it uses by their places."""

    place: str  # s1, s2 …
    number: int
    uses: tuple[str, ...]


@frozen
class PageSection:
    """A component; the name of a recipe's only part may be empty."""

    name: Markup
    lines: tuple[PageLine, ...]
    steps: tuple[PageStep, ...]


@frozen
class Derived:
    """How one printed number follows from the author's."""

    place: str  # r0 for a line, s3-0 for the first measure of step 3
    what: Markup  # the ingredient; Step 3
    author: Markup
    exact: Markup
    printed: tuple[Markup, ...]  # in the order of the house
    errors: tuple[str, ...]
    rests_on: Markup


@frozen
class BatchChoice:
    """A size a reader may choose: what stands in the slots it changes, and how its numbers were derived."""

    key: str  # 1/2
    less: bool  # than the author’s batch
    label: Markup  # ½
    spoken: str  # one half
    figures: dict[str, tuple[str, str]]  # number and unit, by the cell of the list
    slots: dict[str, Markup]  # everything else that changes
    derived: dict[str, tuple[str, ...]]  # by place: exact, two errors, what it rests on where that changes
    notes: tuple[Markup, ...]


@frozen
class RefusedChoice:
    """A size that is not offered."""

    label: Markup
    why: Markup


@frozen
class PageCorrection:
    """What was changed after publication."""

    date: str  # 2026-06-20
    said: str  # June 20, 2026
    what: Markup
    step: int  # 0 for none


@frozen
class PagePhoto:
    """A picture as the page shows it."""

    source: str
    alt: str
    credit: Markup
    width: int = 0  # dots; 0 where a drawing has no size of its own
    height: int = 0
    others: str = ""  # srcset
    sources: tuple[tuple[str, str], ...] = ()  # of formats that not every browser shows: media type, srcset
    upright: bool = False  # shown whole, not cut to a band across the page
    shared: str = ""  # the file that stands for the page where someone links to it
    shared_size: tuple[int, int] = (0, 0)  # its dots across and down


@frozen
class PageView:
    """Everything that ``templates/site/card.html.j2`` places."""

    card: CardView
    name: str
    edition: str  # which of the further editions it is; empty for the house's own
    editions: tuple[
        str, ...
    ]  # all that the recipe is printed in, the house's own first; none where it has one
    systems: tuple[SystemView, ...]
    figures: dict[str, PageAmount]  # by the cell of the list: r0-us
    slots: dict[str, Markup]  # all other texts that a batch size may change: f0, r0-item, s1
    facts: tuple[tuple[str, Markup], ...]  # a slot's name and its label
    sections: tuple[PageSection, ...]
    headnote: Markup
    title: Markup
    equipment: Markup
    cautions: tuple[Markup, ...]
    declared: tuple[FactView, ...]  # its allergens, and the foods that nobody knows them of
    notes: tuple[FactView, ...]
    credit: Markup
    derived: tuple[Derived, ...]
    batches: tuple[BatchChoice, ...]
    refused: tuple[RefusedChoice, ...]
    published: str
    published_said: str
    tile: tuple[Layer, ...]  # what a page shows of a recipe that has no photo
    corrections: tuple[PageCorrection, ...]
    groups: tuple[str, str]  # its part of the meal and its kind, as the collection has them

    def corrected_at(self, step: int) -> tuple[PageCorrection, ...]:
        """What was corrected of one step."""
        return tuple(correction for correction in self.corrections if correction.step == step)


def page_view(card: Card, house: House, batches: Batches = NO_BATCHES, nutrition: str = "") -> PageView:
    """The card as a page of the house, with the other sizes it is offered in and what a portion holds."""
    printed = card_view(card, house, [(fixed_words(house.language)("Nutrition"), nutrition)])
    say = printed.say
    base, figures = _slots(card, house), _figures(card, house)
    choices = tuple(_choices(card, base, figures, batches, house))
    notes = _notes(card, printed, house)
    published = card.recipe.published.date if card.recipe.published else ""
    return PageView(
        card=printed,
        name=card.recipe.name,
        edition=house.edition,
        editions=(house.home, *further) if (further := house.prints(card.recipe)) else (),
        systems=systems(house),
        figures=figures,
        slots=base,
        facts=tuple((f"f{number}", text(fact.label, say)) for number, fact in enumerate(printed.facts)),
        sections=_sections(card, house, _long(figures, choices)),
        headnote=running(card.headnote, house.order, language=house.language),
        title=text(card.recipe.title, say),
        equipment=text(", ".join(card.equipment), say),
        cautions=tuple(text(say.heading(caution), say) for caution in card.cautions),
        declared=tuple(note for note in notes if note.kind in DECLARED),
        notes=tuple(note for note in notes if note.kind not in DECLARED),
        credit=aloud(printed.credit, say),
        derived=tuple(_derived(card, house)),
        batches=choices,
        refused=tuple(
            RefusedChoice(label=text(fraction_text(size.factor), say), why=text(say.told(size.why), say))
            for size in batches.refused
        ),
        published=published,
        published_said=long_date(published, house.dated_in),
        tile=() if card.recipe.photo else layers(card),
        corrections=tuple(
            PageCorrection(
                date=correction.date,
                said=long_date(correction.date, house.dated_in),
                what=text(correction.what, say),
                step=correction.step,
            )
            for correction in card.recipe.corrections
        ),
        groups=(course_of(card.recipe), group_of(card.recipe)),
    )


def _long(figures: Mapping[str, PageAmount], choices: Iterable[BatchChoice]) -> frozenset[str]:
    """The cells of the list that one line can't hold, in any size of batch."""
    every = [(place, figure.number, figure.unit) for place, figure in figures.items()]
    every += [(place, *figure) for choice in choices for place, figure in choice.figures.items()]
    return frozenset(place for place, number, unit in every if len(f"{number} {unit}") > LINE)


def _sections(card: Card, house: House, long: frozenset[str]) -> tuple[PageSection, ...]:
    order, say = house.order, fixed_words(house.language)
    users: dict[int, list[int]] = {}
    for part in card.parts:
        for step in part.steps:
            for line in step.uses:
                users.setdefault(line, []).append(step.number)
    made: list[PageSection] = []
    first = 0
    for part in card.parts:
        lines = tuple(
            PageLine(
                place=f"r{first + number}",
                measured=line.amount is not None,
                systems=order,
                steps=tuple(users.get(first + number, ())),
                long=frozenset(system for system in order if f"r{first + number}-{system}" in long),
            )
            for number, line in enumerate(part.ingredients)
        )
        steps = tuple(
            PageStep(
                place=f"s{step.number}", number=step.number, uses=tuple(f"r{line}" for line in step.uses)
            )
            for step in part.steps
        )
        made.append(PageSection(name=text(part.name, say), lines=lines, steps=steps))
        first += len(lines)
    return tuple(made)


def _slots(card: Card, house: House) -> dict[str, Markup]:
    """Every text that the size of a batch may change, by its place."""
    view = card_view(card, house)
    say = view.say
    made = {f"f{number}": aloud(fact.text, say) for number, fact in enumerate(view.facts)}
    made |= {
        "agreement": text(say.told(card.agreement), say),
        "size": Markup(),
        "need": text(say("You need"), say),
    }
    rows = [row for part in view.parts for row in part.rows]
    for number, row in enumerate(rows):
        prep = Markup('<span class="prep">, {}</span>').format(aloud(row.prep, say)) if row.prep else ""
        note = Markup(' <small class="weigh">{}</small>').format(aloud(row.note, say)) if row.note else ""
        made[f"r{number}-item"] = aloud(row.item, say) + prep + note
    lines = enumerate(line.line for part in card.parts for line in part.ingredients)
    drawn = {line.key: f"r{number}" for number, line in lines if line.key}
    for part in card.parts:
        for step in part.steps:
            made[f"s{step.number}"] = running(
                step.spans, house.order, f"s{step.number}", drawn, house.language
            )
    return made


def _figures(card: Card, house: House) -> dict[str, PageAmount]:
    """Every amount of the list, by its cell."""
    view = card_view(card, house)
    rows = [row for part in view.parts for row in part.rows]
    return {
        f"r{number}-{amount.system}": PageAmount(
            number=_plain(amount.number), unit=_plain(amount.unit), say=view.say
        )
        for number, row in enumerate(rows)
        for amount in row.amounts
    }


def _plain(markup: Markup) -> str:
    return unescape(_TAG.sub("", str(markup)))


def _notes(card: Card, printed: CardView, house: House) -> tuple[FactView, ...]:
    """Allergens, storage, claims and notes; running text follows the system a reader chooses."""
    texts = iter([card.storage] if card.storage else [])
    notes = iter(card.notes)
    sources = {"storage": texts, "note": notes}
    say = printed.say
    filed = _filed_under(card, say)
    facts = tuple(
        FactView(
            kind=fact.kind,
            label=fact.label,
            text=running(next(sources[fact.kind]), house.order, language=house.language)
            if fact.kind in sources
            else aloud(fact.text, say),
        )
        for fact in printed.notes
    )
    return (
        (*facts, FactView(kind="filed", label=say("Filed under"), text=text(filed, say))) if filed else facts
    )


def _filed_under(card: Card, say: FixedWords) -> str:
    """Part of the meal, cuisine and keywords, as the data for machines has them."""
    course = course_of(card.recipe)
    words = (
        say.heading(course) if course != OTHER else "",
        card.recipe.cuisine,
        *(keyword.text for keyword in card.recipe.keywords),
    )
    return ", ".join(dict.fromkeys(word for word in words if word))


def _derived(card: Card, house: House) -> Iterator[Derived]:
    say = fixed_words(house.language)
    weigh = {
        f"r{at}": line.weigh
        for at, line in enumerate(line for part in card.parts for line in part.ingredients)
    }
    for number in filed(card, house):
        exact, *errors, basis = derivation(number, house)
        yield Derived(
            place=number.key,
            what=text(
                number.what if number.key in weigh else say("Step {number}", number=number.spot[1] + 1), say
            ),
            author=text(number.author, say),
            exact=text(exact, say),
            printed=tuple(text(_again(number, system, say) or "–", say) for system in house.order),
            errors=tuple(errors),
            rests_on=text("; ".join(filter(None, (basis, say.told(weigh.get(number.key, ""))))), say),
        )


def _again(number: CardNumber, system: str, say: FixedWords) -> str:
    """What a column prints, in the words of the list."""
    return (
        short(number.amount.of(system), say)
        if number.amount and number.key.startswith("r")
        else number.said(system)
    )


def derivation(number: CardNumber, house: House) -> tuple[str, ...]:
    """A number's exact value, the error of each system in the order of the house, and what it rests on."""
    exact, say = "", fixed_words(house.language)
    if number.exact:
        exact = f"{say.number(decimal(number.exact[0].middle))} {BASES[number.exact[0].dimension]}".strip()
    errors = (number.error(system) for system in house.order)
    errors_told = ("" if off is None else error_text(number, off, say) for off in errors)
    return (marks(exact), *errors_told, marks(say.told(number.basis)))


def _told(card: Card, house: House) -> dict[str, tuple[str, ...]]:
    """How each number of a card was derived, by its place."""
    return {number.key: derivation(number, house) for number in filed(card, house)}


def _choices(
    card: Card, base: dict[str, Markup], here: dict[str, PageAmount], batches: Batches, house: House
) -> Iterator[BatchChoice]:
    first = _told(card, house)
    say = fixed_words(house.language)
    facts = enumerate(card_view(card, house).facts)
    timed = [f"f{number}" for number, fact in facts if fact.kind in TIMES]
    for batch in batches.offered:
        slots, figures = _slots(batch.card, house), _figures(batch.card, house)
        if (slots.keys(), figures.keys()) != (base.keys(), here.keys()):
            raise AssertionError("a batch of another size has the lines and steps of the first")
        label = fraction_text(batch.factor)
        slots |= {
            "size": text(
                say("for {size} batch" if batch.factor <= 1 else "for {size} batches", size=label), say
            ),
            "need": text(say("You need for one batch"), say),
        }
        slots |= {place: say.html("{time} for one batch", time=base[place]) for place in timed}
        yield BatchChoice(
            key=str(batch.factor),
            less=batch.factor < 1,
            label=text(label, say),
            spoken=spoken(label, say),
            figures={
                place: (figure.number, figure.unit)
                for place, figure in figures.items()
                if figure != here[place]
            },
            slots={place: html for place, html in slots.items() if html != base[place]},
            derived={
                place: figure if figure[-1] != first[place][-1] else figure[:-1]
                for place, figure in _told(batch.card, house).items()
                if figure != first[place]
            },
            notes=tuple(text(say.told(note), say) for note in batch.notes),
        )
