"""Cards from made-up recipes of 3 to 60 ingredients, read back word by word out of their PDFs.

Another program (poppler's pdftotext) says which words stand where; what ought to stand there comes from the
recipe that was made up, not from the layout.
"""

from __future__ import annotations

import html
import io
import random
import re
import subprocess
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

import pikepdf
import pytest

from cardsmith.finding import Where
from cardsmith.house.paper import CardSize, card_size
from cardsmith.house.style import House
from cardsmith.language.figures.amounts import ONE
from cardsmith.language.figures.numbers import number_in
from cardsmith.language.spans import Words
from cardsmith.measure.quantity import quantity
from cardsmith.measure.units import units
from cardsmith.recipe.model import Ingredient, Recipe
from cardsmith.render.card.fit import Layout
from cardsmith.render.card.pdf import in_one_column, lay_out_card
from cardsmith.render.card.view import card_view
from cardsmith.render.tagging import screened
from cardsmith.render.typesetter import Typesetter
from cardsmith.rewrite.card.model import Card, CardIngredient, CardPart, CardStep
from cardsmith.rewrite.printed import Dual, Printed, Term, single
from cardsmith.rewrite.wording import short

HERE = Where(file="recipe.yaml")
SYLLABLES = "ba ce di fo gu ha ki la mo ne pa ro sa te vi wo ya zu".split()
UNITS = (
    ("cup", "g"),
    ("tbsp", "ml"),
    ("tsp plus a little", "g"),
    ("cups (one whole jar)", "kg"),
    ("lb", "g (net)"),
)
NUMBER = re.compile(r"\d+\.")

# ingredients, parts, size of card, printed sides, seed
CASES = [
    (3, 1, "5x7", 2, 1),
    (5, 2, "a6", 2, 2),
    (8, 1, "7x5", 2, 3),
    (11, 3, "5x7", 2, 4),
    (14, 2, "4x6", 1, 5),
    (17, 4, "a5-landscape", 2, 6),
    (21, 3, "half-letter", 2, 7),
    (26, 2, "6x4", 2, 8),
    (33, 5, "5x7", 1, 9),
    (41, 4, "a6-landscape", 2, 10),
    (50, 3, "a5", 2, 11),
    (60, 6, "half-letter-landscape", 2, 12),
    (60, 1, "5x7", 2, 13),
]


class Maker:
    """A deterministic source of recipes; no word comes twice or stands inside another."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)
        self.used: set[str] = set()

    def word(self, longest: int = 4) -> str:
        while True:
            made = "".join(("q", *self.random.choices(SYLLABLES, k=self.random.randint(2, longest)), "x"))
            if made not in self.used:
                self.used.add(made)
                return made

    def words(self, count: int, longest: int = 4) -> str:
        return " ".join(self.word(longest) for _ in range(count))

    def sentence(self, count: int) -> str:
        """Now and then with a word too long for a line of a narrow card."""
        long = [self.word(22)] if self.random.random() < 0.15 else []
        return " ".join([self.word().capitalize(), *(self.word() for _ in range(count - 1)), *long]) + "."

    def ingredient(self) -> CardIngredient:
        us, metric = self.random.choice(UNITS)
        number = self.random.choice(("1", "½", "1⅓", "12", "2¾", "350"))
        prep = self.words(self.random.randint(1, 5)) if self.random.random() < 0.4 else ""
        item = self.words(self.random.randint(1, 3), 6)
        return CardIngredient(
            line=Ingredient(where=HERE, text=item, item=item, food=None),
            amount=Dual(
                author="200 g",
                exact=(quantity(200, units()["gram"]),),
                metric=printed(f"{number.rstrip('½⅓¾') or '5'} {metric}"),
                us=printed(f"{number} {us}"),
                metric_error=Fraction(0),
                us_error=Fraction(0),
            ),
            item=item,
            remark=prep,
            weigh="",
        )

    def card(self, ingredients: int, parts: int) -> Card:
        shares = [ingredients // parts + (number < ingredients % parts) for number in range(parts)]
        made, first = [], 1
        for share in shares:
            steps = tuple(
                CardStep(
                    number=number,
                    where=HERE,
                    spans=(Words(text=self.sentence(self.random.randint(4, 34))),),
                )
                for number in range(first, first + max(1, share // 2))
            )
            first += len(steps)
            made.append(
                CardPart(
                    name=self.words(2).capitalize() if parts > 1 else "",
                    ingredients=tuple(self.ingredient() for _ in range(share)),
                    steps=steps,
                )
            )
        return Card(
            recipe=Recipe(where=HERE, name="made-up", title=self.words(3).capitalize(), parts=(), photo=None),
            headnote=(Words(text=self.sentence(self.random.randint(0, 45) or 1)),),
            makes=f"60 {self.word()}",
            serves="",
            active="",
            prep="",
            cook="",
            total="",
            equipment=(self.words(2), self.words(3)),
            parts=tuple(made),
            cautions=tuple(self.sentence(9) for _ in range(self.random.randint(0, 2))),
            us_allergens=(self.word(),),
            eu_allergens=(self.word(),),
            notes=(),
            storage=(Words(text=self.sentence(12)),),
            claims=(),
            credit=self.sentence(4),
            agreement=self.sentence(12),
        )


def printed(text: str) -> Printed:
    """So many of whatever the words name."""
    number, _, word = text.partition(" ")
    return single(Term(number=number_in(number).value or Fraction(0), unit=ONE, word=word))


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    """A word on a page; points from the top left of what is cut."""

    page: int
    text: str
    left: float
    right: float
    top: float  # of the small letters, so that close lines don't touch
    foot: float


def words_of(pdf: bytes) -> list[Word]:
    """In the order in which they stand in the file."""
    told = subprocess.run(
        ["pdftotext", "-raw", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True
    )
    found = []
    for number, page in enumerate(told.stdout.decode().split("<page ")[1:], 1):
        for left, top, right, foot, text in re.findall(
            r'<word xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" yMax="(.+?)">(.*?)</word>', page
        ):
            quarter = (float(foot) - float(top)) / 4
            found.append(
                Word(
                    page=number,
                    text=html.unescape(text),
                    left=float(left),
                    right=float(right),
                    top=float(top) + quarter,
                    foot=float(foot) - quarter,
                )
            )
    return found


def column_of(word: Word, size: CardSize) -> tuple[int, int]:
    """The page, and the column on it."""
    return word.page, int(size.columns > 1 and word.left > float(size.width) / 2)


def split_furniture(words: list[Word], size: CardSize) -> tuple[list[Word], list[Word]]:
    """The card's own words, and those of heads and feet of pages."""
    own, furniture = [], []
    for word in words:
        high = word.page > 1 and word.foot < float(size.top)
        low = word.top > float(size.height - size.foot)
        (furniture if high or low else own).append(word)
    return own, furniture


def without_repeated_heads(words: list[Word], heads: list[str], size: CardSize) -> list[Word]:
    """Without the head of a list that comes again where the list runs on to another page or column."""
    kept: list[Word] = []
    seen: set[str] = set()
    place = 0
    while place < len(words):
        head = next((head for head in heads if starts(words, place, head)), "")
        count = starts(words, place, head) if head else 1
        new_column = place > 0 and column_of(words[place], size) != column_of(words[place - 1], size)
        if not (head and head in seen and new_column):
            kept += words[place : place + count]
        seen |= {head}
        place += count
    return kept


def starts(words: list[Word], place: int, head: str) -> int:
    """How many words from ``place`` on make up ``head``; 0 when they don't."""
    text = ""
    for count, word in enumerate(words[place:], 1):
        text += letters(word.text)
        if text == head:
            return count
        if not head.startswith(text):
            return 0
    return 0


def letters(text: str) -> str:
    """Without spaces, the hyphens of broken words, and the difference of small capitals."""
    return re.sub(r"[\s\u2010]", "", text).casefold()


def heads_of(card: Card) -> list[str]:
    return [letters(f"{part.name or 'Ingredients'} US Metric") for part in card.parts]


def expected(card: Card, house: House) -> str:
    """All a card says, in the order a cook reads it."""
    said = [house.name, card.recipe.title, card.headnote[0].text, "Yield", card.makes]
    for part, head in zip(card.parts, heads_of(card), strict=True):
        said.append(head)
        for line in part.ingredients:
            assert line.amount is not None
            said += [line.item, f", {line.prep}" if line.prep else ""]
            said += [short(line.amount.us), short(line.amount.metric)]
    said += ["You need", ", ".join(card.equipment), "Method"]
    if card.cautions:
        said += ["Caution", *card.cautions]
    for part in card.parts:
        said.append(part.name)
        for step in part.steps:
            said += [span.text for span in step.spans]
    said += ["Contains", "US list:", *card.us_allergens, "; EU list:", *card.eu_allergens]
    said += ["Storage", card.storage[0].text, card.credit]
    return letters("".join(said))


def found_of(text: str, words: list[Word]) -> list[Word]:
    """The words of a text that comes once."""
    stream, places = "", []
    for word in words:
        places += [word] * len(letters(word.text))
        stream += letters(word.text)
    start = stream.index(letters(text))
    found: list[Word] = []
    for word in places[start : start + len(letters(text))]:
        if not found or word is not found[-1]:
            found.append(word)
    return found


def sizes_of(pdf: bytes) -> list[float]:
    """Of all type that is shown, in points."""
    found = set()
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        for page in opened.pages:
            scale, outer, stack = 1.0, 1.0, []
            for operands, operator in pikepdf.parse_content_stream(page):
                match str(operator):
                    case "q":
                        stack.append(outer)
                    case "Q":
                        outer = stack.pop()
                    case "cm":
                        outer *= abs(float(operands[3]))
                    case "Tf":
                        size = float(operands[1])
                    case "Tm":
                        scale = abs(float(operands[3]))
                    case "TJ" | "Tj":
                        found.add(round(size * scale * outer, 2))
    return sorted(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """A made-up card and what was read out of its PDF."""

    card: Card
    size: CardSize
    pdf: bytes
    words: list[Word]  # its own
    numbers: list[Word]  # before the steps, which a file may draw at any time
    furniture: list[Word]

    def column(self, word: Word) -> tuple[int, int]:
        """The page, and the column on it."""
        return column_of(word, self.size)

    def found(self, text: str, start: int = 0) -> list[Word]:
        """The words of a text that comes once from ``start`` on."""
        return found_of(text, self.words[start:])

    def letters(self) -> str:
        """All its words, without spaces."""
        return "".join(letters(word.text) for word in self.words)

    def sizes(self) -> list[float]:
        """Of all its type, in points."""
        return sizes_of(self.pdf)


@pytest.fixture(scope="session", params=CASES, ids=lambda case: f"{case[0]}-on-{case[2]}")
def read(request: pytest.FixtureRequest, house: House, typesetter: Typesetter) -> Read:
    ingredients, parts, size, sides, seed = request.param
    card = Maker(seed).card(ingredients, parts)
    style = replace(house.card, size=card_size(size), sides=sides, cards=12)
    view = card_view(card, house)
    layout = lay_out_card(view, typesetter, style, {})
    set_in = style.size if "columns-2" in layout.html else in_one_column(style).size
    pdf = screened(typesetter.write(layout.document))
    own, furniture = split_furniture(words_of(pdf), set_in)
    return Read(
        card=card,
        size=set_in,
        pdf=pdf,
        words=without_repeated_heads(
            [word for word in own if not NUMBER.fullmatch(word.text)], heads_of(card), set_in
        ),
        numbers=[word for word in own if NUMBER.fullmatch(word.text)],
        furniture=furniture,
    )


@pytest.fixture(scope="session")
def maker() -> Callable[[int], Maker]:
    return Maker


@pytest.fixture(scope="session")
def expected_of() -> Callable[[Card, House], str]:
    return expected


@pytest.fixture(scope="session")
def shown(typesetter: Typesetter) -> Callable[[Layout], str]:
    """What a layout shows, as letters alone."""

    def of(layout: Layout) -> str:
        return letters("".join(word.text for word in words_of(screened(typesetter.write(layout.document)))))

    return of
