"""``teardown.yaml`` to `Teardown`, with every fault of the file."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.bench.composition import composition
from cardsmith.bench.label import Range, serving_range, taken_back
from cardsmith.bench.schema import PANEL_NUTRIENTS, TEARDOWN
from cardsmith.bench.teardown import LabelFood, Teardown
from cardsmith.finding import Finding, Severity, in_order
from cardsmith.language.quantities import read_percent, read_quantity
from cardsmith.measure.larder import Larder
from cardsmith.measure.units import Dimension
from cardsmith.recipe.model import Text
from cardsmith.recipe.shape import shaped
from cardsmith.recipe.source import read_source
from cardsmith.recipe.tree import Mapping, Scalar, Sequence
from cardsmith.recipe.yields import text_of


def read_teardown(data: bytes, file: str, larder: Larder) -> tuple[Teardown | None, tuple[Finding, ...]]:
    """The label that the bytes of a file hold; None where too little of it could be read."""
    source = read_source(data, file)
    if source.root is None:
        return None, in_order(source.findings)
    root, misshapen = shaped(source.root, source.text.split("\n"), TEARDOWN, "file")
    if root is None:
        return None, in_order((*source.findings, *misshapen))
    reader = _TeardownReader(larder)
    traces = _texts(root, "two_percent_or_less")
    main = [text for text in _texts(root, "ingredients") if text.text not in {one.text for one in traces}]
    foods = [reader.food(text) for text in main] + [reader.food(text, trace=True) for text in traces]
    serving = reader.grams(text_of(root, "serving"))
    panel, declared = reader.panel(root.get("per_serving"))
    moisture = reader.percents(text_of(root, "moisture"))
    allowance = reader.percents(text_of(root, "allowance"))
    pieces = [reader.grams(text) for text in _texts(root, "pieces")]
    found = in_order((*source.findings, *misshapen, *reader.findings))
    known = tuple(one for one in foods if one is not None)
    if serving is None or len(known) < len(foods) or not known or not panel:
        return None, found
    taken = Teardown(
        product=" ".join(text.text.split()) if (text := text_of(root, "product")) else "A product",
        foods=known,
        serving=serving_range(serving),
        panel=panel,
        declared=declared,
        moisture=moisture,
        allowance=allowance.high if allowance else Fraction(0),
        pieces=tuple(piece for piece in pieces if piece is not None),
        sizes=tuple(text.text for text in _texts(root, "sizes")),
        bought=tuple(text.text for text in _texts(root, "bought")),
    )
    return taken, found


def _texts(node: Mapping, key: str) -> tuple[Text, ...]:
    value = node.get(key)
    items = value.items if isinstance(value, Sequence) else ()
    return tuple(
        Text(text=" ".join(item.text.split()), where=item.where) for item in items if isinstance(item, Scalar)
    )


class _TeardownReader:
    """Gathers findings; a class only for that."""

    def __init__(self, larder: Larder) -> None:
        self.larder = larder
        self.findings: list[Finding] = []

    def tell(self, name: str, text: Text, what: str, instead: str) -> None:
        self.findings.append(
            Finding(
                name=name,
                severity=Severity.ERROR,
                where=text.where,
                what=what,
                instead=instead,
                width=max(1, len(text.text)),
            )
        )

    def food(self, text: Text, *, trace: bool = False) -> LabelFood | None:
        match = self.larder.find(text.text)
        known = composition(match.food) if match else None
        if match is None:
            near = ", ".join(self.larder.nearest(text.text)) or "a name that `cardsmith larder` knows"
            self.tell("label-food-unknown", text, f"the larder knows no “{text.text}”", near)
            return None
        if known is None:
            what = f"USDA SR 28 has no nutrients of {match.food.name}"
            self.tell("label-food-without-nutrients", text, what, "the nearest plain food that it has")
            return None
        return LabelFood(where=text.where, text=text.text, food=match.food, composition=known, trace=trace)

    def panel(self, node: object) -> tuple[dict[str, Range], dict[str, str]]:
        ranges: dict[str, Range] = {}
        declared: dict[str, str] = {}
        for key, nutrient in PANEL_NUTRIENTS.items():
            text = text_of(node, key) if isinstance(node, Mapping) else None
            if text is None:
                continue
            held = taken_back(nutrient, text.text)
            if held is None:
                what = f"no label declares “{text.text}” of {nutrient} (21 CFR 101.9(c))"
                self.tell("label-figure-unlikely", text, what, "the figure as it is printed, with its unit")
                continue
            ranges[nutrient], declared[nutrient] = held, text.text
        return ranges, declared

    def grams(self, text: Text | None) -> Fraction | None:
        if text is None:
            return None
        quantity, _ = read_quantity(text.text, text.where)
        if quantity is None or quantity.dimension is not Dimension.MASS:
            self.tell("unreadable-measure", text, f"“{text.text}” is no weight", "grams: 30 g")
            return None
        return quantity.middle

    def percents(self, text: Text | None) -> Range | None:
        if text is None:
            return None
        ends = read_percent(text.text)
        if ends is None:
            self.tell("unreadable-measure", text, f"“{text.text}” is no per cent", "such as: 3 to 5 %")
            return None
        return Range(low=ends[0] / 100, high=ends[1] / 100)
