"""What an author wrote, as immutable values. Nothing here is rounded, converted or judged."""

from __future__ import annotations

from dataclasses import field
from fractions import Fraction
from functools import cached_property

from cardsmith.finding import Where
from cardsmith.frozen import frozen
from cardsmith.language.spans import Share, Span
from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Quantity
from cardsmith.reference import OURS, Tables


@frozen
class Text:
    """A text value and where it stands."""

    text: str
    where: Where

    def __str__(self) -> str:
        return self.text


@frozen
class Container:
    """``2 (400 g) cans``: how many, of what, holding how much each."""

    count: Quantity
    word: str  # can, packet; egg in "3 large egg whites (100 g)" is a count, not a container
    each: Quantity | None  # None where the size of one was left out
    said: tuple[Quantity, ...] = ()  # the same size on the label in other units: 28 oz/796 ml
    as_labelled: bool = False  # whether ounces were taken for fluid ones, as a drink's label has them


@frozen
class Extra:
    """``plus 10 g for the tin``: so much of a line's food with a use of its own."""

    amount: Quantity | None  # the weight where one was written; None for "plus more for dusting"
    use: str  # for the tin
    text: str  # as it stands in the line's ``prep``
    added: bool = True  # beyond the line's amount; else a part of it: "½ cup for the top"


@frozen
class Ingredient:
    """One line of a list.

    ``amount`` is the truth: the weight where both a weight and a volume or a count were written. The
    others stay in ``stated`` and are checked against it. Without any amount (``salt, to taste``) it is None.
    """

    where: Where
    text: str  # the line as written
    item: str  # "whole-grain rye flour", without amount and preparation
    food: Food | None  # the larder's, None where unknown
    form: str = ""  # the larder's form this amount was measured in: chopped, sifted, packed
    sort_unknown: bool = False  # a sort the larder has not weighed: "Japanese" of eggplant
    taken: bool = False  # a part is taken of what is counted: the zest of 2 lemons
    amount: Quantity | None = None
    stated: tuple[Quantity, ...] = ()  # further sizes given for the same amount, of all of it
    stated_shares: tuple[Share, ...] = ()  # how the author gave each of ``stated``: for one, or for all
    amount_share: Share = Share.ALL  # how the author gave ``amount``: "4 fillets (170 g each)" is EACH
    container: Container | None = None
    size: str = ""  # small, medium, large, extra-large, jumbo
    market: str = "us"  # whose size classes those are: us, eu (a US large egg is an EU medium one)
    prep: str = ""  # after the comma: "toasted", "cut into dice"
    key: str = ""  # what a step's link names
    divided: bool = False
    optional: bool = False
    to_taste: bool = False
    for_use: str = ""  # "for the pan", "for dusting", "to serve": an amount no ratio counts
    alternatives: tuple[str, ...] = ()  # "or vegetable stock": texts of what else would do
    extras: tuple[Extra, ...] = ()  # more of it, or parts of it, with uses of their own

    @property
    def own_prep(self) -> str:
        """``prep`` without the words of its extras: what is done to the amount itself."""
        words = self.prep
        for extra in self.extras:
            words = words.replace(extra.text, "", 1)
        return ", ".join(filter(None, (piece.strip() for piece in words.split(","))))

    @property
    def size_sold(self) -> str:
        """The size class as the larder names it: ``large``, ``eu-large``."""
        return f"eu-{self.size}" if self.market == "eu" and self.size else self.size


@frozen
class Step:
    """One step; its spans in order make up its whole text."""

    where: Where
    text: str  # the Markdown as written
    spans: tuple[Span, ...]


@frozen
class Part:
    """A component with its own list and steps; a recipe of one part leaves the name empty."""

    where: Where
    name: str
    ingredients: tuple[Ingredient, ...]
    steps: tuple[Step, ...]


@frozen
class Yield:
    """What comes out: ``makes: 60 crackers``, ``serves: 10``, ``piece: 6 g``."""

    where: Where
    makes: Text | None = None
    makes_count: Fraction | None = None  # the number in ``makes``
    makes_high: Fraction | None = None  # the upper end of a range
    makes_item: str = ""  # crackers
    serves: Text | None = None
    serves_low: Fraction | None = None
    serves_high: Fraction | None = None
    serves_words: str = ""  # as a main
    piece: Quantity | None = None  # mass or size of one
    made: tuple[Span, ...] = ()  # ``makes`` in another size than the author's; empty in hers

    @property
    def serves_pieces(self) -> bool:
        """Whether ``piece`` is the size of a serving: 2 jars of 250 ml have their own."""
        sized = any(map(str.isdigit, self.makes_item))
        return self.serves is not None and (self.makes is None or sized)

    @property
    def size_of_one(self) -> Quantity | None:
        """What one weighs or measures; of a part of one where less is made: half a cake."""
        part = 1 if self.serves_pieces else self.makes_count or 1
        return self.piece.times(Fraction(part)) if self.piece and part < 1 else self.piece


@frozen
class Time:
    """Hands-on and whole time, and that of making ready and of cooking, in seconds inside the quantities."""

    where: Where
    active: Quantity | None = None
    total: Quantity | None = None
    prep: Quantity | None = None
    cook: Quantity | None = None


@frozen
class Photo:
    """A picture beside the recipe file."""

    where: Where
    file: str
    alt: str
    credit: str = ""
    focus: str = ""  # "40% 30%": what must stay in when cropped
    place: str = ""  # of `PLACES`; empty for whatever suits its shape


@frozen
class Tested:
    """On which trial the printed formula rests, and who cooked it again from which column."""

    where: Where
    trial: str = ""
    cross_test: str = ""
    cooked_from: tuple[str, ...] = ()


@frozen
class Published:
    """When readers first saw the recipe, and the mark of what they were told (recipe/mark.py)."""

    where: Where
    date: str = ""  # 2026-06-01; empty where it can't be read
    mark: str = ""
    editions: tuple[tuple[str, str], ...] = ()  # the marks of what readers of further editions were told


@frozen
class Reviewed:
    """Who passed a method that is safe only as tested, and when."""

    where: Where
    by: str
    date: str = ""  # 2026-05-04; empty where it can't be read


@frozen
class Correction:
    """What was changed after publication, for readers; the mark is that of the recipe as corrected."""

    where: Where
    date: str = ""  # 2026-06-20; empty where it can't be read
    what: str = ""
    mark: str = ""
    editions: tuple[tuple[str, str], ...] = ()  # those of further editions as corrected
    step: int = 0  # the number of the step that it is about; 0 for the whole


@frozen
class Accepted:
    """An answer to a check's query: the check's name and the reason that the proof prints."""

    where: Where
    check: str
    reason: str


@frozen
class EditionAnswer:
    """What stands in an edition in place of a food or a word: ``heavy cream: 250 g double cream``."""

    where: Where
    name: str  # as the recipe has it
    instead: str


@frozen
class RecipeEdition:
    """What a recipe says of one edition of the house."""

    where: Where
    key: str
    answers: tuple[EditionAnswer, ...] = ()


@frozen(slots=False)
class Recipe:
    """One recipe as its author wrote it; a draft may lack anything but a title."""

    where: Where
    name: str  # the folder's name
    title: str
    parts: tuple[Part, ...]
    kind: Text | None = None
    headnote: str = ""
    yields: Yield | None = None
    time: Time | None = None
    equipment: tuple[Text, ...] = ()
    storage: str = ""
    notes: tuple[Text, ...] = ()
    cautions: tuple[Text, ...] = ()  # the author's own, beside those that the rules ask for
    claims: tuple[Text, ...] = ()
    photo: Photo | None = None
    credit: str = ""
    course: str = ""  # part of the meal; empty: the usual one of its kind
    cuisine: str = ""
    keywords: tuple[Text, ...] = ()
    issue: str = ""  # of the publication, or the book, that it is printed in
    published: Published | None = None  # None: never yet
    corrections: tuple[Correction, ...] = ()
    formerly: tuple[Text, ...] = ()  # folder names it was published under, the oldest first
    reviewed: Reviewed | None = None  # None: by nobody
    tested: Tested | None = None
    accepted: tuple[Accepted, ...] = ()
    editions: tuple[RecipeEdition, ...] = ()  # of those it says anything of
    measures: str = "us"  # the measuring set of the author: us, imperial, australian
    source: str = field(default="", repr=False, compare=False)  # the file's text, for messages
    tables: Tables = field(default=OURS, repr=False)  # what the kitchen that reads it knows

    @cached_property
    def ingredients(self) -> tuple[Ingredient, ...]:
        """All lines of all parts, in order."""
        return tuple(line for part in self.parts for line in part.ingredients)

    @cached_property
    def steps(self) -> tuple[Step, ...]:
        """All steps of all parts, in order."""
        return tuple(step for part in self.parts for step in part.steps)
