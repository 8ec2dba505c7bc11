"""``teardown.yaml`` to `Teardown`, with every fault of the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from cardsmith.bench.formula.composition import held
from cardsmith.finding import Finding, Severity, in_order
from cardsmith.language.quantities import read_percent, read_quantity, read_share_behind
from cardsmith.measure.larder import Food, Larder, words
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import Dimension
from cardsmith.portion.label import SMALL, Range, serving_range, share_range, taken_back
from cardsmith.portion.nutrition import per_100_of
from cardsmith.portion.teardown.labels import (
    PRODUCT,
    Label,
    LabelFigure,
    LabelFood,
    LabelShare,
    Teardown,
    told_share,
)
from cardsmith.portion.teardown.schema import ENERGY, LAWS, NUTRIENTS, TEARDOWN
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.texts import text_of, texts_of
from cardsmith.recipe.file.tree import Mapping, Scalar, mappings_of
from cardsmith.recipe.model import Text

MOST_LISTED = 60  # ingredients of one label: each takes a few linear programmes
_ENERGY = "EU energy"
WHOLE = Range(low=Fraction(0), high=Fraction(1))


def read_teardown(data: bytes, file: str, larder: Larder) -> tuple[Teardown | None, tuple[Finding, ...]]:
    """The labels that the bytes of a file hold; None where too little of them could be read."""
    source = read_source(data, file)
    if source.root is None:
        return None, in_order(source.findings)
    root, misshapen = shaped(source.root, source.text.split("\n"), TEARDOWN, "file")
    if root is None:
        return None, in_order((*source.findings, *misshapen))
    reader = _TeardownReader(larder)
    labels = tuple(reader.label(node) for node in (root, *mappings_of(root, "labels")))
    if not any(food.is_water for food in reader.foods):
        reader.add(Text(text="water", where=root.where))
    allowance = reader.percents(text_of(root, "allowance"))
    taken = Teardown(
        product=" ".join(text.text.split()) if (text := text_of(root, "product")) else "A product",
        foods=tuple(reader.foods),
        labels=labels,
        moisture=reader.percents(text_of(root, "moisture")),
        loss=reader.percents(text_of(root, "loss")),
        allowance=min(allowance.high, Fraction(1)) if allowance else Fraction(0),
        pieces=tuple(piece for text in texts_of(root, "pieces") if (piece := reader.grams(text)) is not None),
        sizes=tuple(text.text for text in texts_of(root, "sizes")),
        bought=tuple(text.text for text in texts_of(root, "bought")),
    )
    findings = in_order((*source.findings, *misshapen, *reader.findings))
    return (taken if labels[0].is_list else None), findings


class _TeardownReader:
    """Gathers foods and findings; a class only for that."""

    def __init__(self, larder: Larder) -> None:
        self.larder = larder
        self.foods: list[LabelFood] = []
        self.findings: list[Finding] = []

    def tell(
        self, name: str, text: Text, what: str, instead: str, severity: Severity = Severity.ERROR
    ) -> None:
        self.findings.append(
            Finding(
                name=name,
                severity=severity,
                where=text.where,
                what=what,
                instead=instead,
                width=max(1, len(text.text)),
            )
        )

    def label(self, node: Mapping) -> Label:
        said = text_of(node, "law")
        law = said.text if said and said.text in LAWS else "US"
        small = texts_of(node, "two_percent_or_less")
        below = {text.text for text in small}
        main = tuple(text for text in texts_of(node, "ingredients") if text.text not in below)
        if len(main) + len(small) > MOST_LISTED:
            what = f"{len(main) + len(small)} ingredients are more than a label has"
            self.tell("label-too-long", (*main, *small)[MOST_LISTED], what, f"at most {MOST_LISTED}")
            main, small = main[:MOST_LISTED], ()
        shares: dict[int, LabelShare] = {}
        listed = tuple(dict.fromkeys(self.listed(main, shares, None)))
        last = tuple(dict.fromkeys(self.listed(small, shares, SMALL)))
        return Label(
            law=law,
            listed=listed,
            small=tuple(at for at in last if at not in listed),
            shares=shares,
            figures=tuple(self.figures(node, law)),
        )

    def listed(
        self, texts: Iterable[Text], shares: dict[int, LabelShare], most: Fraction | None
    ) -> Iterator[int]:
        """The places of the foods; what the label says of the share of each goes to ``shares``."""
        for text in texts:
            name, said = read_share_behind(text.text)
            at = self.add(Text(text=name or text.text, where=text.where))
            low, high = None, most
            if said is not None:
                range_ = share_range(said[0], said[1])
                low = None if said[2] is Bound.AT_MOST else range_.low / 100
                high = None if said[2] is Bound.AT_LEAST else range_.high / 100
                if said[2] is Bound.AT_MOST:  # a threshold is not rounded
                    high = said[1] / 100
            if (low, high) != (None, None):
                told_by_label = told_share(*((low, high) if said is None else _printed(said)))
                shares[at] = LabelShare(text=told_by_label, low=low, high=high)
            yield at

    def add(self, text: Text) -> int:
        """The place of a food among all, where it now stands."""
        match = self.larder.find(text.text)
        food = match.food if match else None
        for at, label_food in enumerate(self.foods):
            same = (
                label_food.food == food
                if food or label_food.food
                else set(words(label_food.text)) == set(words(text.text))
            )
            if same:
                return at
        known = held(food)
        if match is None:
            near = ", ".join(self.larder.nearest(text.text)) or "a name that `cardsmith larder` knows"
            what = f"the larder knows no “{text.text}”: it may hold anything"
            self.tell("label-food-unknown", text, what, near, Severity.WARNING)
        elif known is None:
            what = f"USDA SR 28 has no nutrients of {match.food.name}: it may hold anything"
            instead = "the nearest plain food that it has"
            self.tell("label-food-without-nutrients", text, what, instead, Severity.WARNING)
        self.foods.append(_food(text, food))
        return len(self.foods) - 1

    def figures(self, node: Mapping, law: str) -> Iterator[LabelFigure]:
        serving = text_of(node, "serving")
        grams = self.grams(serving)
        if serving and grams is not None and not grams:
            self.tell("unreadable-measure", serving, "a serving of nothing", "grams: 30 g")
            grams = None
        whole = Range(low=Fraction(PRODUCT), high=Fraction(PRODUCT))
        per = {"per_serving": serving_range(grams) if grams else None, "per_100_g": whole}
        for key, amount in per.items():
            panel = node.get(key)
            if not isinstance(panel, Mapping):
                continue
            if amount is None and serving is None:
                place = Text(text=key, where=panel.where)
                self.tell("serving-missing", place, f"{key} without a serving", "add: serving: 30 g")
            for name, value in panel.entries:
                if isinstance(value, Scalar) and amount is not None:
                    yield from self.figure(name.text, Text(text=value.text, where=value.where), law, amount)

    def figure(self, key: str, text: Text, law: str, grams: Range) -> Iterator[LabelFigure]:
        nutrient = NUTRIENTS[law].get(key)
        plain = key.replace("_", " ")
        if nutrient is None:
            keys = ", ".join(NUTRIENTS[law])
            self.tell(
                "label-figure-unlikely", text, f"a label by {law} rules has no {plain}", f"one of {keys}"
            )
            return
        wanted = ENERGY if nutrient == _ENERGY else (nutrient,)
        for figure in map(_plain, text.text.split("/") if nutrient == _ENERGY else [text.text]):
            taken = next(
                ((nutrient, held) for nutrient in wanted if (held := taken_back(nutrient, figure))), None
            )
            if taken is None:
                rule = "21 CFR 101.9(c)" if law == "US" else "EU guidance on rounding"
                what = f"no label declares “{figure}” of {plain} ({rule})"
                self.tell("label-figure-unlikely", text, what, "the figure as it is printed, with its unit")
                continue
            yield LabelFigure(nutrient=taken[0], text=f"{plain} {figure}", held=taken[1], grams=grams)

    def grams(self, text: Text | None) -> Fraction | None:
        if text is None:
            return None
        quantity, _ = read_quantity(text.text, text.where)
        if quantity is None or quantity.dimension is not Dimension.MASS:
            self.tell("unreadable-measure", text, f"“{text.text}” is not a weight", "grams: 30 g")
            return None
        return quantity.middle

    def percents(self, text: Text | None) -> Range | None:
        if text is None:
            return None
        ends = read_percent(text.text)
        if ends is None or ends[1] >= PRODUCT:
            self.tell("unreadable-measure", text, f"“{text.text}” is not a percentage", "such as: 3 to 5 %")
            return None
        return Range(low=ends[0] / 100, high=ends[1] / 100)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _printed(said: tuple[Fraction, Fraction, Bound]) -> tuple[Fraction | None, Fraction | None]:
    low, high, bound = said
    return (
        None if bound is Bound.AT_MOST else low / 100,
        None if bound is Bound.AT_LEAST else high / 100,
    )


def _food(text: Text, food: Food | None) -> LabelFood:
    known = held(food)
    water = known.composition.per_100.get("water") if known else None
    if food is not None and food.share("water") == 1:
        water = Fraction(100)  # SR 28 takes a trace of minerals off
    return LabelFood(
        where=text.where,
        text=text.text,
        food=food,
        holds=per_100_of(food) if food else {},
        water=WHOLE if water is None else Range(low=water / 100, high=water / 100),
    )
