"""A card as ready strings: the view decides, the template places. Markup is already escaped and typeset."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction

from markupsafe import Markup, escape

from cardsmith.frozen import frozen
from cardsmith.house.style import House
from cardsmith.recipe.model import Photo
from cardsmith.render.typeset import NO_BREAK, marks, pieces, shortened, spans, typeset
from cardsmith.rewrite.card.model import Card, CardIngredient, CardPart, Spans, plain
from cardsmith.rewrite.card.numbers import CardNumber
from cardsmith.rewrite.card.summary import outline
from cardsmith.rewrite.printed import Dual
from cardsmith.rewrite.wording import ENGLISH, figure, figures
from cardsmith.words import FixedWords, around_english, fixed_words

SYSTEM_NAMES = {"us": "US", "metric": "Metric"}
_OUTLINE = (
    ("makes", "Yield"),
    ("serves", "Serves"),
    ("prep", "Preparation"),
    ("cook", "Cooking"),
    ("active", "Hands-on"),
    ("total", "Start to finish"),
)
_FOCUS = re.compile(r"\d{1,3}% \d{1,3}%")
_TITLES = ((20, "short"), (28, "middle"), (44, "long"))  # characters of one line large, one small, two lines
_RUNNING_TITLE = 56  # that fit one line of a page's head
_RUNNING_PART = 24  # of these, for the part that goes on
_ADDRESS = 36  # letters of small print that the narrowest column holds
_FOOT = 48  # that fit beside the page number


@frozen
class FactView:
    """A label and its value: Hands-on, 35 minutes; ``kind`` tells what it is in every language."""

    kind: str  # makes, serves, active, total; contains, unknown, storage, claims, tested, nutrition, note
    label: str
    text: Markup
    cell: bool = False  # of the small table of what a portion holds


@frozen
class SystemView:
    """A column of amounts."""

    key: str  # us, metric
    name: str


@frozen
class TermView:
    """A number and what follows it: ``4`` and ``cloves``, ``(14`` and ``g in all)``."""

    number: Markup
    pieces: tuple[Markup, ...]

    @property
    def figure(self) -> Markup:
        """What ends where its column's units begin; empty for a number with words before it: about 120."""
        return Markup() if self._worded else self.number

    @property
    def rest(self) -> tuple[Markup, ...]:
        """What begins there."""
        if not self._worded:
            return self.pieces
        first, *others = self.pieces or (Markup(),)
        return (Markup(NO_BREAK).join(filter(None, (self.number, first))), *others)

    @property
    def _worded(self) -> bool:
        return " " in self.number.striptags()


@frozen
class AmountView:
    """One cell of the list; ``number`` ends where ``pieces`` begin, on one line for a whole column."""

    system: str  # us, metric
    number: Markup  # empty for what has none: a pinch, to taste
    pieces: tuple[Markup, ...]  # what follows it; no line divides one
    title: str  # where the number comes from
    stacked: tuple[TermView, ...] = ()  # the same in two lines, where the last piece is a size in brackets

    @property
    def whole(self) -> TermView:
        """All of it, for one line."""
        return TermView(number=self.number, pieces=self.pieces)

    @property
    def unit(self) -> Markup:
        """All that follows the number."""
        return Markup(" ").join(self.pieces)


@frozen
class RowView:
    """One ingredient: its amounts in the order of the house."""

    item: Markup
    prep: Markup
    note: Markup  # why this ingredient should be weighed
    amounts: tuple[AmountView, ...]


@frozen
class StepView:
    """A numbered step."""

    number: int
    text: Markup


@frozen
class PartView:
    """A component; the name of a recipe's only part may be empty."""

    name: Markup
    running: str  # the head of a page on which it goes on: Plum tart · Filling, continued
    rows: tuple[RowView, ...]
    steps: tuple[StepView, ...]


@frozen
class PhotoView:
    """The picture; ``name`` is what the caller's bytes are filed under."""

    name: str
    alt: str
    credit: Markup
    focus: str  # CSS object-position
    place: str  # where the recipe wants it; empty for wherever suits its shape


@frozen
class CardView:
    """Everything a template needs to print one card."""

    language: str
    title: Markup
    plain_title: str
    length: str  # short, middle, long, longest: how the title is set
    running_title: str
    feet: tuple[str, str]  # what stands at the foot of the front and of all other pages
    summary: str  # for the page's description
    house: Markup
    tagline: Markup
    headnote: Markup
    facts: tuple[FactView, ...]
    systems: tuple[SystemView, ...]
    parts: tuple[PartView, ...]
    equipment: Markup
    photo: PhotoView | None
    cautions: tuple[Markup, ...]
    notes: tuple[FactView, ...]  # allergens, storage, claims
    credit: Markup
    online: str  # the web address of the recipe; empty where the house has no site
    address: Markup  # the same without its scheme, as a reader types it

    @property
    def say(self) -> FixedWords:
        """What the card says itself."""
        return fixed_words(self.language)

    @property
    def numbers(self) -> tuple[int, ...]:
        """The steps' numbers, as they must stand on the card."""
        return tuple(step.number for part in self.parts for step in part.steps)

    def texts(self) -> Iterator[Markup]:
        """Every text that must stand on the printed card, in reading order."""
        yield from (self.title, self.headnote)
        yield from (text for fact in self.facts for text in (typeset(fact.label), fact.text))
        yield from self.cautions
        for part in self.parts:
            yield part.name
            for row in part.rows:
                yield from (row.item, row.prep, row.note)
                yield from (text for amount in row.amounts for text in (amount.number, amount.unit))
            yield from (step.text for step in part.steps)
        yield self.equipment
        yield from (text for fact in self.notes for text in (typeset(fact.label), fact.text))
        yield from (self.credit, self.address)


def card_view(
    card: Card, house: House, nutrition: Sequence[tuple[str, str]] = (), online: str = ""
) -> CardView:
    """The card in the style of the house, ready for the templates.

    ``nutrition`` says what a portion holds: a line, then a label and a value for each cell of a small table;
    empty where the house doesn't want it here. ``online`` is the recipe's web address, of which a printed
    card tells.
    """
    recipe = card.recipe
    photo = recipe.photo
    name = marks(recipe.title)
    say = fixed_words(house.language)
    outlined = outline(card, house, say)
    from_house = say("{title} from {house}", title=name, house=marks(house.name))
    return CardView(
        language=house.language,
        title=typeset(recipe.title),
        plain_title=name,
        length=next((word for limit, word in _TITLES if len(name) <= limit), "longest"),
        running_title=shortened(name, _RUNNING_TITLE),
        feet=_feet(house),
        summary=shortened(marks(plain(card.headnote, around_english(house.language))) or from_house, 160),
        house=typeset(house.name),
        tagline=typeset(house.tagline),
        headnote=_running(card.headnote, say),
        facts=_facts(*((kind, say(label), outlined[kind]) for kind, label in _OUTLINE)),
        systems=systems(house),
        parts=tuple(_part(part, name, house.order, say) for part in card.parts),
        equipment=typeset(", ".join(card.equipment)),
        photo=_photo(photo) if photo else None,
        cautions=tuple(typeset(say.heading(caution)) for caution in card.cautions),
        notes=_notes(card, nutrition, house.allergen_lists, say),
        credit=typeset(card.credit),
        online=online,
        address=_typed(online),
    )


def _running(text: Spans, say: FixedWords) -> Markup:
    """An author's text, which is English whatever the card speaks; its numbers are the card's."""
    return spans(text, around_english(say.language))


def _feet(house: House) -> tuple[str, str]:
    """The folio, which issue of what; without an issue the front has the line under the name."""
    issue = house.issue
    named = " · ".join(marks(part) for part in (house.name, issue.name, issue.date) if part)
    folio = shortened(named, _FOOT)
    return (folio if issue.name or issue.date else shortened(marks(house.tagline), _FOOT), folio)


def _typed(online: str) -> Markup:
    """A web address without its scheme; its last part is one word, if the narrowest column can hold it."""
    place, slash, name = online.partition("://")[2].rstrip("/").rpartition("/")
    last = '<span class="held">{}</span>' if len(name) <= _ADDRESS else "{}"
    return escape(place + slash) + Markup(last).format(name) if online else Markup()


def _photo(photo: Photo) -> PhotoView:
    return PhotoView(
        name=photo.file,
        alt=marks(photo.alt),
        credit=typeset(photo.credit),
        focus=photo.focus if _FOCUS.fullmatch(photo.focus) else "50% 50%",
        place=photo.place,
    )


def systems(house: House) -> tuple[SystemView, ...]:
    """The columns of amounts in the order of the house."""
    say = fixed_words(house.language)
    return tuple(SystemView(key=system, name=say(SYSTEM_NAMES[system])) for system in house.order)


def _facts(*facts: tuple[str, str, str]) -> tuple[FactView, ...]:
    return tuple(FactView(kind=kind, label=label, text=typeset(text)) for kind, label, text in facts if text)


def _notes(
    card: Card, nutrition: Sequence[tuple[str, str]], laws: tuple[str, ...], say: FixedWords
) -> tuple[FactView, ...]:
    """``laws`` are those whose lists of allergens the house prints."""
    storage = FactView(kind="storage", label=say("Storage"), text=_running(card.storage, say))
    return (
        *_facts(
            ("contains", say("Contains"), _contains(card, laws, say)),
            ("unknown", say("Allergens not known of"), ", ".join(card.unknown_foods)),
        ),
        *((storage,) if card.storage else ()),
        *_facts(
            ("claims", say("Suits"), ", ".join(map(say.heading, card.claims))),
            ("measures", say("Measures"), say.told(card.household)),
            ("tested", say("Tested"), say.told(card.tested)),
        ),
        *(FactView(kind="note", label=say("Note"), text=_running(note, say)) for note in card.notes),
        *_facts(*(("nutrition", label, text) for label, text in nutrition[:1])),
        *(
            FactView(kind="nutrition", label=label, text=typeset(text), cell=True)
            for label, text in nutrition[1:]
        ),
    )


def _contains(card: Card, laws: tuple[str, ...], say: FixedWords) -> str:
    """What both lists name is said once, and then what one alone has: ``milk, wheat; EU list: also oat``."""
    lists = {"US": card.us_allergens, "EU": card.eu_allergens, "AU": card.au_allergens}
    first, *others = laws
    if not others:
        return ", ".join(map(say.told, lists[first]))
    shared = card.shared_allergens | (set(lists["US"]) & set(lists["EU"]))
    alone = {law: [name for name in lists[law] if name not in shared] for law in laws}
    both = ", ".join(say.told(name) for name in lists[first] if name not in alone[first])
    also = "{law} list: also {names}" if both else "{law} list: {names}"
    further = (say(also, law=law, names=", ".join(map(say.told, alone[law]))) for law in laws if alone[law])
    return "; ".join(filter(None, (both, *further)))


def _part(part: CardPart, title: str, order: tuple[str, ...], say: FixedWords) -> PartView:
    goes_on = f" · {say('{part}, continued', part=shortened(marks(part.name), _RUNNING_PART))}"
    return PartView(
        name=typeset(part.name),
        running=shortened(title, _RUNNING_TITLE - len(goes_on)) + goes_on,
        rows=tuple(_row(line, order, say) for line in part.ingredients),
        steps=tuple(StepView(number=step.number, text=_running(step.spans, say)) for step in part.steps),
    )


def _row(line: CardIngredient, order: tuple[str, ...], say: FixedWords) -> RowView:
    return RowView(
        item=typeset(line.item),
        prep=typeset(line.remarks(say)),
        note=typeset(say("weigh this")) if line.weigh else Markup(),
        amounts=tuple(_amount(line, system, say) for system in order),
    )


def _amount(line: CardIngredient, system: str, say: FixedWords) -> AmountView:
    dual = line.amount
    if dual is None:
        return _amount_view(system, ("", say.told(line.in_place)), (), "")
    printed = dual.of(system)
    first, *others = figures(printed, say)
    return _amount_view(
        system, figure(printed, say), (first, *others) if others else (), _origin(dual, system, say)
    )


def _amount_view(
    system: str, shown: tuple[str, str], stacked: tuple[tuple[str, str], ...], title: str
) -> AmountView:
    number, unit = shown
    return AmountView(
        system=system,
        number=typeset(number),
        pieces=pieces(unit),
        title=title,
        stacked=tuple(TermView(number=typeset(number), pieces=pieces(rest)) for number, rest in stacked),
    )


def _origin(dual: Dual, system: str, say: FixedWords) -> str:
    """``Measured: 200 g. Printed 0.8 % over. 120 g per cup``."""
    error = dual.error(system)
    sentences = (
        say("Measured: {amount}", amount=dual.author),
        say("Printed {error}", error=percent(error, say)) if error is not None else "",
        say.told(dual.basis),
    )
    return ". ".join(marks(part) for part in sentences if part)


def percent(error: Fraction, say: FixedWords = ENGLISH) -> str:
    """An error in words: ``exact``, ``0.8 % over``; a difference never shows as nothing."""
    if error == 0:
        return say("exact")
    tenths = round(abs(error) * 1000)
    size = say.number(f"{max(tenths, 1) // 10}.{max(tenths, 1) % 10}") + "\u00a0%"
    return _over(size if tenths else say("less than {size}", size=size), error, say)


def _over(size: str, error: Fraction, say: FixedWords) -> str:
    return say("{size} over" if error > 0 else "{size} under", size=size)


def error_text(number: CardNumber, error: Fraction | None, say: FixedWords = ENGLISH) -> str:
    """``exact``, ``0.8 % over``, ``2.8 °C over``; a dash where nothing can be compared."""
    if error is None:
        return "–"
    if number.in_degrees and error:
        tenths = max(round(abs(error) * 10), 1)
        return _over(say.number(f"{tenths // 10}.{tenths % 10}") + " °C", error, say)
    return percent(error, say)


def decimal(value: Fraction) -> str:
    """A value to two decimals without trailing zeros; ``≈``-free, since the exact one stands in the proof."""
    hundredths = round(abs(value) * 100)
    text = f"{hundredths // 100}.{hundredths % 100:02d}".rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 and hundredths else text
