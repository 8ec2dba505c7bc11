"""A recipe with every number in both systems. Renderers read this and compute nothing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.spans import Protected, Purpose, Words
from cardsmith.measure.quantity import Quantity
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.rewrite.printed import Dual
from cardsmith.rewrite.wording import (
    ENGLISH,
    Style,
    bound_text,
    in_a_line,
    long,
    settings_text,
    short,
    unbound,
)
from cardsmith.words import FixedWords, Said

TO_TASTE, OPTIONAL, DIVIDED = Said("to taste"), Said("optional"), Said("divided")
AS_NEEDED = Said("as needed")


@frozen
class CardIngredient:
    """A line of the list as printed."""

    line: Ingredient
    amount: Dual | None
    item: str  # words after the amount, "large egg whites"
    remark: str  # "toasted", "plus extra for the pan"
    flags: tuple[Said, ...] = ()  # what the list says of it in our words: divided, to taste
    weigh: str = ""  # why this one should be weighed, when its cup is too uncertain

    @property
    def words(self) -> str:
        """All that stands behind the amount: ``large egg whites, lightly beaten``."""
        return self.in_words(())

    def in_words(self, systems: Iterable[str], say: FixedWords = ENGLISH) -> str:
        """The line in running text, its amount in each of ``systems``: ``1⅔ cups (200 g) flour, sifted``."""
        columns = [self.amount.of(system) for system in systems] if self.amount else []
        item = in_a_line(self.item, *columns, sized=bool(self.line.size), say=say) if columns else self.item
        return ", ".join(filter(None, (item, self.preparation(say))))

    @property
    def prep(self) -> str:
        """`preparation` in English."""
        return self.preparation()

    def preparation(self, say: FixedWords = ENGLISH) -> str:
        """All that follows the item: ``toasted, divided, for dusting``."""
        return self._behind(map(say.told, self.flags))

    @property
    def in_place(self) -> str:
        """What stands in a cell without an amount: a cook who reads one column finds each of them filled."""
        return "" if self.amount else TO_TASTE if self.line.to_taste else AS_NEEDED

    def remarks(self, say: FixedWords = ENGLISH) -> str:
        """What follows the item in a row of cells, less what stands in place of an amount."""
        flags = (flag for flag in self.flags if flag != self.in_place)
        return self._behind(map(say.told, flags))

    def _behind(self, flags: Iterable[str]) -> str:
        return ", ".join(filter(None, (self.remark, *flags, self.line.for_use)))


@frozen
class Rewritten:
    """A measure in running text, in both systems: ``160 °C (325 °F)``, or inside brackets ``¼ oz / 7 g``."""

    amount: Dual
    order: tuple[str, ...]  # us, metric: which stands first
    where: Where
    style: Style = Style.SENTENCE
    lead: str = ""  # the author's words before the numbers: "half of the butter ("
    tail: str = ""  # and after them
    in_brackets: bool = False  # whether brackets stand around both already
    purpose: Purpose | None = None
    ingredient: str = ""  # key of the ingredient this is drawn from

    def said(self, system: str, say: FixedWords = ENGLISH) -> str:
        """One system's measure, without a bound said before both; its oven's settings in brackets, alone."""
        printed = self.amount.of(system)
        if bound_text(printed) == self.bound:
            printed = unbound(printed)
        if not printed.settings or self.in_brackets or len(self.order) > 1:
            return long(printed, self.style, say)
        return f"{long(replace(printed, settings=()), self.style, say)} ({settings_text(printed, say)})"

    @property
    def bound(self) -> str:
        """``about``, before both systems once."""
        return bound_text(self.amount.of(self.order[0]))

    @property
    def text(self) -> str:
        """`in_words` of English, which the author writes."""
        return self.in_words(ENGLISH)

    def in_words(self, say: FixedWords, systems: tuple[str, ...] = ()) -> str:
        """The systems of the card, or those asked for, joined the house way; one stands alone."""
        first, *others = dict.fromkeys(self.said(system, say) for system in systems or self.order)
        between, after = self.marks
        both = "".join((first, *(f"{between}{other}{after}" for other in others)))
        return f"{self.lead}{self.bound}{both}{self.tail}"

    @property
    def marks(self) -> tuple[str, str]:
        """What stands between the two systems, and after the second."""
        return (" / ", "") if self.in_brackets else (" (", ")")

    @property
    def author(self) -> str:
        """As the author wrote it."""
        return self.amount.author


@frozen
class Timed(Words):
    """A time in running text, the same in both systems: words, and how long a timer would run."""

    quantity: Quantity


Spans = tuple[Words | Protected | Rewritten, ...]


@frozen
class CardStep:
    """A numbered step; the number runs through all parts."""

    number: int
    where: Where
    spans: Spans
    uses: tuple[int, ...] = ()  # positions, in the lists of all parts, of the ingredients this step uses


@frozen
class CardPart:
    """A component: its list and its steps."""

    name: str
    ingredients: tuple[CardIngredient, ...]
    steps: tuple[CardStep, ...]


@frozen
class Card:
    """Everything that is printed, in reading order."""

    recipe: Recipe
    headnote: Spans
    makes: str  # "60 crackers (about 6 g / ¼ oz each)"; empty where the author says nothing
    serves: str  # "10"
    active: str  # "35 minutes"
    total: str  # "1 hour 40 minutes"
    prep: str
    cook: str
    equipment: tuple[str, ...]
    parts: tuple[CardPart, ...]
    cautions: tuple[str, ...]
    us_allergens: tuple[str, ...]
    eu_allergens: tuple[str, ...]
    au_allergens: tuple[str, ...] = ()  # of a house that declares by Australian law; else empty
    notes: tuple[Spans, ...]
    storage: Spans
    claims: tuple[str, ...]
    credit: str
    household: str = ""  # what the cups and spoons of an edition hold; empty where it has none of its own
    agreement: str = ""  # how closely the two columns agree, in one sentence (readback/column_agreement.py)
    shared_allergens: frozenset[str] = frozenset()  # names of either list whose foods the other has as well
    sure_allergens: tuple[str, ...] = ()  # of both laws, a word each, for what readers filter by
    possible_allergens: tuple[str, ...] = ()
    unknown_foods: tuple[str, ...] = ()  # items of which nobody can say what allergens they hold
    piece_in: str = ""  # makes or serves: which of them gives the size of one
    tested: str = ""  # "made 3 times with the same result …"; empty until the house's rule is met

    @property
    def yields(self) -> tuple[str, str]:
        """What it makes and how many it serves as sentences, ``Serves 10``; empty where none was given."""
        makes, serves = self.makes, self.serves
        return f"Makes {makes}" if makes else "", f"Serves {serves}" if serves else ""

    @property
    def printed(self) -> tuple[str, ...]:
        """Every amount, measure and allergen as printed, in reading order; the headnote's stand apart."""
        texts = [*self.yields, *self.equipment]
        for part in self.parts:
            for line in part.ingredients:
                if line.amount:
                    texts += [short(line.amount.us), short(line.amount.metric)]
            texts += [text for step in part.steps for text in _measures(step.spans)]
        texts += [text for spans in (*self.notes, self.storage) for text in _measures(spans)]
        return (*texts, "US", *self.us_allergens, "EU", *self.eu_allergens)


def _measures(spans: Spans) -> list[str]:
    measures = [span for span in spans if isinstance(span, Rewritten)]
    return [
        f"{rewritten.bound}{rewritten.said(system)}" for rewritten in measures for system in ("us", "metric")
    ]


def plain(spans: Spans, say: FixedWords = ENGLISH) -> str:
    """Running text without its emphasis, its measures as ``say`` has them."""
    return "".join(span.in_words(say) if isinstance(span, Rewritten) else span.text for span in spans)
