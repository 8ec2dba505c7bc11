"""One amount of one food as there is to print, with what its author wrote beside it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from cardsmith.facts.foods.roles import role_class
from cardsmith.frozen import frozen
from cardsmith.language.spans import Share
from cardsmith.measure.larder import Food
from cardsmith.measure.quantity import Quantity
from cardsmith.measure.units import WEIGHED, Dimension, System, units
from cardsmith.measure.weighing import SPREAD, Density, density, weight_of_one
from cardsmith.recipe.cup_and_weight import agrees
from cardsmith.recipe.model import Container, Ingredient
from cardsmith.recipe.weighed import is_ready, measured_form
from cardsmith.words import Said, joined


@frozen
class FoodAmount:
    """One amount to print, and of what.

    ``ready`` says that a count is of what is eaten (2 peeled oranges); else it is of what is bought. No piece
    of a ``sort_unknown`` has a known weight, nor has what a part is ``taken`` of. ``count`` and ``container``
    are the author’s where pieces or cans were written beside the amount; ``share`` says whether it was given
    of each; ``said`` holds its other weights and volumes, of all of it.
    """

    amount: Quantity
    food: Food | None = None
    form: str = ""
    size: str = ""
    ready: bool = False
    sort_unknown: bool = False
    taken: bool = False
    count: Quantity | None = None
    container: Container | None = None
    share: Share = Share.ALL
    said: tuple[Quantity, ...] = ()
    own_density: Density | None = None  # the author's, who weighed it and filled a cup

    def times(self, factor: Fraction) -> FoodAmount:
        """The amount scaled, exactly. A can is not cut in two: its weight takes over."""
        return replace(
            self,
            amount=self.amount.times(factor),
            count=self.count.times(factor) if self.count else None,
            container=None,
            said=tuple(quantity.times(factor) for quantity in self.said),
        )

    def alone(self, amount: Quantity) -> FoodAmount:
        """So much of the same food, without what was written beside the whole."""
        return replace(self, amount=amount, count=None, container=None, said=())

    def ends(self) -> tuple[FoodAmount, FoodAmount]:
        """The low and the high end of a range, each with the ends of other ranges that were said."""
        ranges = [quantity.ends() for quantity in self.said if quantity.is_range]
        low, high = (
            replace(self, amount=end, said=tuple(range_[at] for range_ in ranges))
            for at, end in enumerate(self.amount.ends())
        )
        return low, high

    @property
    def exact(self) -> Fraction:
        """The amount in base units; of a range, its low end."""
        return self.amount.low

    @property
    def dimension(self) -> Dimension:
        """What was measured."""
        return self.amount.dimension

    @property
    def density(self) -> Density | None:
        """What a millilitre weighs, where its author says it or the larder knows it."""
        return self.own_density or (_density(self.food, self.form) if self.food else None)

    @property
    def one(self) -> Density | None:
        """What one weighs as the line counts it: bought, with peel and core, or ready to eat."""
        measure = self.amount.unit.name if self.amount.dimension is Dimension.COUNT else "one"
        weighed = self.food is not None and not self.sort_unknown
        return _one(self.food, measure, self.size, self.ready) if weighed else None

    @property
    def role_class(self) -> str:
        """The class of tolerance: governing, leavener, salt, seasoning …"""
        return role_class(self.food)

    @property
    def in_us_units(self) -> bool:
        """Whether the author measured in ounces, cups or spoons."""
        return self.amount.unit.system is System.US

    @property
    def is_poured(self) -> bool:
        """Whether it is measured by volume in both systems: a liquid, or a food that nobody knows."""
        return self.food is None or self.food.state == "liquid"

    @property
    def pieces(self) -> Quantity | None:
        """How many pieces or containers the author wrote beside the amount."""
        return self.container.count if self.container else self.count


@lru_cache(maxsize=4096)
def _density(food: Food, form: str) -> Density | None:
    weighing = density(food, form)
    if weighing is None:
        return None
    return Density(per=Dimension.VOLUME, grams=weighing.grams, form=weighing.form, basis=weighing.basis)


@lru_cache(maxsize=4096)
def _one(food: Food, measure: str, size: str, ready: bool) -> Density | None:
    weighing = weight_of_one(food, measure, size)
    if weighing is None:
        return None
    basis = (
        weighing.basis
        if ready or not weighing.bought_basis
        else joined("; ", weighing.basis, weighing.bought_basis)
    )
    grams = weighing.grams if ready else weighing.bought
    return Density(per=Dimension.COUNT, grams=grams, form=weighing.form, basis=basis)


def food_amount_of(amount: Quantity, line: Ingredient) -> FoodAmount:
    """What there is to print for ``amount`` of the ingredient on ``line``."""
    form = measured_form(line)
    if amount is not line.amount and amount != line.amount:
        return FoodAmount(
            amount=amount,
            food=line.food,
            form=form,
            size=line.size_sold,
            ready=is_ready(line),
            sort_unknown=line.sort_unknown,
            taken=line.taken,
        )
    counts = [
        quantity
        for quantity in line.stated
        if quantity.dimension is Dimension.COUNT and not _is_stick(quantity, amount)
    ]
    box = line.container
    sized = box is not None and box.each is not None
    if box and not (sized and _is_held(box)) and not counts and amount.dimension is not Dimension.COUNT:
        counts = [box.count]
    beside = tuple(
        quantity for quantity in line.stated if quantity.dimension in WEIGHED and not quantity.is_vague
    )
    return FoodAmount(
        amount=amount,
        food=line.food,
        form=form,
        size=line.size_sold,
        ready=is_ready(line),
        sort_unknown=line.sort_unknown,
        taken=line.taken,
        count=counts[0] if counts and amount.dimension is not Dimension.COUNT else None,
        container=box if box and sized and _is_held(box) else None,
        share=Share.EACH if box and sized and not _is_held(box) else line.amount_share,
        said=beside,
        own_density=_by_author(line, amount, beside, form),
    )


def _by_author(line: Ingredient, amount: Quantity, beside: tuple[Quantity, ...], form: str) -> Density | None:
    """What a millilitre weighs by the volume beside a weight, where that tells more than the larder does.

    Within a tenth two weighings of one food can't be told apart; what no way of filling a cup brings together
    is a slip, about which a check asks.
    """
    volume = next((quantity for quantity in beside if quantity.dimension is Dimension.VOLUME), None)
    if amount.dimension is not Dimension.MASS or volume is None:
        return None
    larder = _density(line.food, form) if line.food else None
    grams = amount.middle / volume.middle
    if larder and (abs(grams / larder.grams - 1) <= SPREAD or not agrees(line, amount, volume)):
        return None
    basis = Said("{weight} for {volume}, as measured", weight=amount.written, volume=volume.written)
    return Density(per=Dimension.VOLUME, grams=grams, form="", basis=basis)


def _is_held(box: Container) -> bool:
    """Whether the food comes in it (a can, a jar) and it has a size; a fillet or a breast has a weight."""
    known = units().get(box.word)
    return bool(box.word) and (known is None or known.system is System.CONTAINER)


def _is_stick(count: Quantity, amount: Quantity) -> bool:
    """Whether a count says a volume again: a stick of butter is half a cup, and no piece."""
    return count.unit.name == "stick" and amount.dimension is Dimension.VOLUME
