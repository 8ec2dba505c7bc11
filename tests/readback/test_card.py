"""A printed card read again: silent where it says what its author wrote, and only there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.finding import Finding, Severity
from cardsmith.flow import prepare
from cardsmith.house.style import House, load_house
from cardsmith.language.spans import Share
from cardsmith.measure.larder import load_larder
from cardsmith.measure.quantity import Bound
from cardsmith.measure.units import units
from cardsmith.readback.card import faithful, read_again, read_back
from cardsmith.readback.column_agreement import agreement
from cardsmith.rewrite.batches.batches import batches
from cardsmith.rewrite.batches.resize import resize
from cardsmith.rewrite.card.model import Card, CardIngredient, Rewritten, plain
from cardsmith.rewrite.printed import Dual, Printed, Term

ROOT = Path(__file__).parents[2]
LARDER, HOUSE = load_larder(), load_house(ROOT)
RECIPE = """\
title: Tarn loaf
yield: {makes: 2 loaves, serves: 8 to 10, piece: 800 g}
time: {active: 20 min, total: 3 h}
headnote: Baked at 220 °C, as it was at the harbour.
ingredients:
  - 500 g bread flour
  - 2 to 3 tbsp honey
  - up to 350 g water
  - 9 g fine salt
  - 2 (400 g) cans chickpeas
  - 4 salmon fillets (170 g each)
  - 3 large eggs
  - 2 tbsp fresh thyme leaves, cut in 2 cm lengths, or 2 tsp dried thyme
  - 50 g 70 % chocolate
  - {amount: 120 g, item: unsalted butter, key: butter}
steps:
  - Heat the oven to 220 °C. Line a 23 by 33 cm tin and stir the flour, salt and honey for 5 minutes.
  - Add the water, eggs, chickpeas and salmon and bake for 25 to 30 minutes, until the middle reads 94 °C.
  - Brush with [30 g](#butter), then with [half of it](#butter) and the [rest](#butter). Cut in 16 slices.
equipment: [a 23 by 33 cm tin]
storage: Keeps 3 days at 4 °C or below.
cautions: [Hold the syrup for 5 minutes at 120 °C.]
"""


def _card() -> Card:
    card = prepare("tarn-loaf", RECIPE.encode(), "recipe.yaml", LARDER, HOUSE).card
    assert card is not None
    return card


CARD = _card()


def _lines(card: Card) -> tuple[CardIngredient, ...]:
    return tuple(line for part in card.parts for line in part.ingredients)


def _with_line(
    place: int, change: Callable[[Printed], Printed], column: str = "us", of: Card | None = None
) -> Card:
    card = of or CARD
    part = card.parts[0]
    line = part.ingredients[place]
    assert line.amount is not None
    dual = replace(line.amount, **{column: change(line.amount.of(column))})
    lines = (*part.ingredients[:place], replace(line, amount=dual), *part.ingredients[place + 1 :])
    return replace(card, parts=(replace(part, ingredients=lines),))


def _with_step(step: int, number: int, change: Callable[[Dual], Dual]) -> Card:
    part = CARD.parts[0]
    spans = list(part.steps[step].spans)
    places = [at for at, span in enumerate(spans) if isinstance(span, Rewritten)]
    found = spans[places[number]]
    assert isinstance(found, Rewritten)
    spans[places[number]] = replace(found, amount=change(found.amount))
    steps = tuple(
        replace(one, spans=tuple(spans)) if at == step else one for at, one in enumerate(part.steps)
    )
    return replace(CARD, parts=(replace(part, steps=steps),))


def _field(**changed: object) -> Card:
    """Other words in a field of the card that is one text."""
    return replace(CARD, **changed)  # type: ignore[arg-type]


def _worded(cell: str, old: str, new: str) -> Card:
    """Other words in the ``item`` or the ``remark`` of the line that has the old ones."""
    part = CARD.parts[0]
    lines = tuple(
        replace(line, **{cell: getattr(line, cell).replace(old, new)})  # type: ignore[arg-type]
        for line in part.ingredients
    )
    assert lines != part.ingredients
    return replace(CARD, parts=(replace(part, ingredients=lines),))


def _stored_at(fahrenheit: Fraction) -> Card:
    """One degree warmer is as near as 39 °F is, and no longer safe."""
    spans = tuple(
        replace(one, amount=replace(one.amount, us=replace(one.amount.us, low=(term,), high=(term,))))
        if isinstance(one, Rewritten)
        else one
        for term in (Term(number=fahrenheit, unit=units()["degree Fahrenheit"]),)
        for one in CARD.storage
    )
    return replace(CARD, storage=spans)


def _said(texts: tuple[str, ...], old: str, new: str) -> tuple[str, ...]:
    assert any(old in text for text in texts)
    return tuple(text.replace(old, new) for text in texts)


def _column(name: str, change: Callable[[Printed], Printed]) -> Callable[[Dual], Dual]:
    return lambda dual: replace(dual, **{name: change(dual.of(name))})  # type: ignore[arg-type]


def _times(factor: Fraction, upper: Fraction | None = None) -> Callable[[Printed], Printed]:
    def change(one: Printed) -> Printed:
        low, high = (
            tuple(replace(term, number=term.number * by) for term in end)
            for end, by in ((one.low, factor), (one.high, upper or factor))
        )
        return replace(one, low=low, high=high)

    return change


def _unit(name: str) -> Callable[[Printed], Printed]:
    def change(one: Printed) -> Printed:
        low, high = (
            tuple(Term(number=term.number, unit=units()[name]) for term in end) for end in (one.low, one.high)
        )
        return replace(one, low=low, high=high)

    return change


def _beside(change: Callable[[Printed], Printed]) -> Callable[[Printed], Printed]:
    return lambda one: replace(one, beside=tuple(change(other) for other in one.beside))


SPOILED = {
    "twice the flour": _with_line(0, _times(Fraction(2))),
    "a tenth more flour": _with_line(0, _times(Fraction(11, 10)), "metric"),
    "spoons for cups": _with_line(0, _unit("tablespoon")),
    "grams in the US column": _with_line(0, _unit("gram")),
    "ounces in the metric column": _with_line(0, _unit("ounce"), "metric"),
    "millilitres for grams": _with_line(0, _unit("millilitre"), "metric"),
    "the upper end lost": _with_line(1, lambda one: replace(one, high=one.low)),
    "the lower end lost": _with_line(1, lambda one: replace(one, low=one.high)),
    "the bound lost": _with_line(2, lambda one: replace(one, bound=Bound.EXACTLY)),
    "another bound": _with_line(2, lambda one: replace(one, bound=Bound.AT_LEAST), "metric"),
    "half the salt": _with_line(3, _times(Fraction(1, 2))),
    "one can more": _with_line(4, _times(Fraction(3, 2))),
    "a larger can": _with_line(4, _beside(_times(Fraction(2)))),
    "each said as all": _with_line(5, _beside(lambda one: replace(one, share=Share.ALL))),
    "one egg less": _with_line(6, _times(Fraction(2, 3))),
    "a hotter oven": _with_step(
        0, 0, lambda dual: replace(dual, metric=_times(Fraction(12, 11))(dual.metric))
    ),
    "Celsius as Fahrenheit": _with_step(
        0, 0, lambda dual: replace(dual, us=_unit("degree Fahrenheit")(dual.metric))
    ),
    "a wider tin": _with_step(0, 1, lambda dual: replace(dual, us=_times(Fraction(5, 4))(dual.us))),
    "a loaf more": _field(makes=CARD.makes.replace("2 loaves", "3 loaves")),
    "a larger loaf": _field(makes=CARD.makes.replace("800", "1,000")),
    "a larger loaf by half its scales": _field(makes=CARD.makes.replace("1¾\xa0lb", "2¼\xa0lb")),
    "an exact loaf": _field(makes=CARD.makes.replace("about ", "")),
    "no size of a loaf": _field(makes=CARD.makes.partition(" (")[0]),
    "fewer to serve": _field(serves="8 to 9"),
    "one number to serve": _field(serves="8"),
    "less work": _field(active="10 minutes"),
    "a shorter day": _field(total="2 hours"),
    "no time at all": _field(total=""),
    "longer stalks": _worded("remark", "2\xa0cm", "3\xa0cm"),
    "shorter stalks for one reader": _worded("remark", "¾-inch", "¼-inch"),
    "dried thyme by the spoon": _worded("remark", "2\xa0teaspoons", "2\xa0tablespoons"),
    "another dried thyme": _worded("remark", "2\xa0teaspoons (10\xa0ml)", "3\xa0teaspoons (15\xa0ml)"),
    "a sweeter chocolate": _worded("item", "70", "50"),
    "a smaller tin on the list of things": _field(equipment=_said(CARD.equipment, "9-by-13", "8-by-11")),
    "one scale of the tin": _field(equipment=_said(CARD.equipment, " (23 × 33\xa0cm)", "")),
    "a cooler syrup": _field(cautions=_said(CARD.cautions, "248", "212")),
    "a longer wait": _field(cautions=_said(CARD.cautions, "5 minutes", "15 minutes")),
    "a caution left out": _field(cautions=CARD.cautions[:-1]),
    "a caution of the table changed": _field(cautions=_said(CARD.cautions, "1 year", "1 month")),
    "more butter to brush with": _with_step(2, 0, _column("metric", _times(Fraction(2)))),
    "more butter in spoons": _with_step(2, 0, _column("us", _times(Fraction(3, 2)))),
    "more than half of the butter": _with_step(2, 1, _column("us", _times(Fraction(3, 2)))),
    "more than the rest of the butter": _with_step(2, 2, _column("metric", _times(Fraction(3, 2)))),
    "columns of a length that have changed places": _with_step(
        0, 1, lambda dual: replace(dual, us=dual.metric, metric=dual.us)
    ),
    "heavier fish than were weighed": _with_line(5, _beside(_times(Fraction(5, 4)))),
    "a refrigerator less cold": _stored_at(Fraction(41)),
    "a cooler middle": _with_step(1, 0, lambda dual: replace(dual, us=_times(Fraction(19, 20))(dual.us))),
}


def test_the_card_as_it_is_reads_as_it_was_written() -> None:
    assert read_back(CARD, HOUSE, LARDER) == ()


@pytest.mark.parametrize("card", SPOILED.values(), ids=SPOILED.keys())
def test_a_changed_number_is_noticed(card: Card) -> None:
    found = read_back(card, HOUSE, LARDER)
    assert {one.name for one in found} == {"reads-otherwise"}


@pytest.mark.parametrize(
    "path", sorted((ROOT / "recipes").glob("*/recipe.yaml")), ids=lambda path: path.parent.name
)
def test_the_demo_cards_read_as_they_were_written_at_every_size(path: Path) -> None:
    card = prepare(path.parent.name, path.read_bytes(), str(path), LARDER, HOUSE).card
    assert card is not None
    assert read_back(card, HOUSE, LARDER) == ()
    made = batches(card.recipe, LARDER, HOUSE)
    assert faithful(made, HOUSE, LARDER).refused == made.refused


def _printed(house: House = HOUSE, **changed: str) -> tuple[Card, set[str]]:
    """A plain recipe with other words in it, and the names of what stops its card."""
    told = {
        "total": "3 h",
        "piece": "60 g",
        "oil": "50 ml",
        "step": "Stir the flour and the [oil](#oil).",
    } | changed
    text = (
        f"title: Tarn rolls\nyield: {{makes: 24 rolls, piece: {told['piece']}}}\n"
        f"time: {{active: 20 min, total: {told['total']}}}\n"
        f"ingredients:\n  - 500 g bread flour\n  - {{amount: {told['oil']}, item: olive oil, key: oil}}\n"
        f"  - {{amount: 4, item: large eggs, key: eggs}}\nsteps:\n  - {told['step']}\n"
    )
    done = prepare("tarn-rolls", text.encode(), "recipe.yaml", LARDER, house)
    assert done.card is not None
    return done.card, {one.name for one in done.findings if one.severity is Severity.ERROR}


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"total": "about 3 h"}, "about 3 hours"),
        ({"total": "at least 12 h"}, "at least 12 hours"),
        ({"total": "up to 2 days"}, "up to 2 days"),
        ({"piece": "up to 60 g"}, "24 rolls (up to 2 oz / 60 g each)"),
        ({"piece": "about 60 g"}, "24 rolls (about 2 oz / 60 g each)"),
        ({"step": "Add [1 to 2 tbsp](#oil) to the flour."},
         "Add 1 to 2 tablespoons (15 to 30 ml) to the flour."),
        ({"oil": "2 to 3 tbsp", "step": "Add [1 tbsp](#oil), then [the rest](#oil) to the flour."},
         "Add 1 tablespoon (15 ml), then the rest (1 to 2 tablespoons / 15 to 30 ml) to the flour."),
        ({"oil": "2 to 4 tbsp", "step": "Add [half](#oil) to the flour."},
         "Add half (1 to 2 tablespoons / 15 to 30 ml) to the flour."),
        ({"step": "Add [1 to 2 tbsp](#oil) to the flour, later [the rest](#oil)."},
         "the rest (1 tablespoon plus 1 teaspoon to 2½ tablespoons / 20 to 35 ml)"),
        ({"step": "Beat [2](#eggs) of the eggs with the flour, later the [other 2 eggs](#eggs)."},
         "Beat 2 of the eggs with the flour, later the other 2 eggs."),
    ],
)  # fmt: skip
def test_bounds_and_ranges_of_times_of_sizes_and_of_draws_print(changed: dict[str, str], said: str) -> None:
    card, stopped = _printed(**changed)
    told = " · ".join((card.makes, card.total, *(plain(step.spans) for step in card.parts[0].steps)))
    assert said in told.replace("\xa0", " ")
    assert "reads-otherwise" not in stopped


@pytest.mark.parametrize(
    "line",
    [
        "½ (400 g) can coconut milk",
        "half a 14-oz can of coconut milk",
        "½ a medium onion",
        "½ (200 g) cauliflower",
        "2 x 5 cm pieces fresh ginger",
        "1 (3 by 4 inch) piece kombu",
        "4 cod fillets, about 115 g/4 oz each",
        "2 cups minus 1 tsp whole milk",
        "500 g to 1 kg carrots",
        "1 cup (about 4 oz) walnuts, chopped",
        "about 1 lb (450 g) carrots",
        "2-inch knob of fresh ginger",
    ],
)
def test_a_line_is_printed_as_it_was_written(line: str) -> None:
    text = RECIPE.replace("9 g fine salt", f"9 g fine salt\n  - {line}")
    done = prepare("tarn-loaf", text.encode(), "recipe.yaml", LARDER, HOUSE)
    assert [str(one) for one in done.findings if one.name == "reads-otherwise"] == []


@pytest.mark.parametrize("heat", ["180 °C", "350 °F", "gas mark 4", "200 °C fan", "180 to 200 °C"])
def test_an_oven_is_the_same_with_its_fan_or_by_its_gas_mark(heat: str) -> None:
    house = replace(HOUSE, oven=frozenset({"fan", "gas"}))
    card, stopped = _printed(house, step=f"Heat the oven to {heat}. Stir the flour and the [oil](#oil).")
    assert "reads-otherwise" not in stopped
    ((place, dual),) = (
        (place, one.amount)
        for place, one in enumerate(card.parts[0].steps[0].spans)
        if isinstance(one, Rewritten)
    )
    hotter = replace(dual, us=_times(Fraction(11, 10))(dual.us))
    marked = dual.metric.settings
    wrong = [
        hotter,
        *(
            replace(dual, metric=replace(dual.metric, settings=(_times(Fraction(5, 4))(one),)))
            for one in marked
        ),
    ]
    for spoiled in wrong:
        assert read_back(_in_step(card, place, spoiled), house, LARDER)


def _in_step(card: Card, place: int, dual: Dual) -> Card:
    part = card.parts[0]
    spans = tuple(replace(one, amount=dual) if at == place and isinstance(one, Rewritten) else one
                  for at, one in enumerate(part.steps[0].spans))  # fmt: skip
    return replace(card, parts=(replace(part, steps=(replace(part.steps[0], spans=spans), *part.steps[1:])),))


def test_a_size_that_reads_otherwise_is_refused() -> None:
    made = batches(CARD.recipe, LARDER, HOUSE)
    spoiled = replace(
        made, offered=tuple(replace(one, card=SPOILED["twice the flour"]) for one in made.offered)
    )
    kept = faithful(spoiled, HOUSE, LARDER)
    assert not kept.offered
    assert len(kept.refused) == len(made.offered) + len(made.refused)


def test_a_card_at_another_size_tells_its_own_agreement_and_what_reads_otherwise() -> None:
    made = resize(CARD.recipe, LARDER, HOUSE, times="2", makes=None, pans=(None, None))
    read = read_again(made, HOUSE, LARDER)
    assert read.findings == made.findings
    assert read.card.agreement == agreement(made.card, LARDER) != ""
    assert read.record()["agreement"] in read.text(HOUSE)
    assert read_again(replace(made, card=SPOILED["twice the flour"]), HOUSE, LARDER).findings


def test_agreement_counts_every_line_and_is_never_stated_better_than_it_is() -> None:
    assert "within 0.0 %" not in agreement(CARD, LARDER)
    off = agreement(_with_line(3, _times(Fraction(11, 10))), LARDER)
    told = float(off.partition("more than ")[2].partition(" %")[0])
    assert told >= 10


def _apart(card: Card) -> float:
    return float(agreement(card, LARDER).partition("within ")[2].partition(" %")[0])


def test_the_ends_of_a_range_are_compared_end_by_end() -> None:
    """Both lower ends stand 5 % over, the upper 4 % under in one column and 4 % over in the other."""
    over, under, more = (Fraction(percent, 100) for percent in (105, 96, 104))
    card = _with_line(1, _times(over, under))
    assert _apart(_with_line(1, _times(over, more), "metric", card)) >= 100 * float(1 - under / more)


def test_what_stands_in_brackets_is_compared_too() -> None:
    assert _apart(_with_line(5, _beside(_times(Fraction(11, 10))))) >= 10


def test_what_is_optional_or_for_the_pan_or_to_taste_moves_no_ratio() -> None:
    """Butter prints a tenth over its weight: a ratio is moved, unless the formula does without it."""
    card = _with_line(9, _times(Fraction(11, 10)))
    part = card.parts[0]
    butter = part.ingredients[9]

    def stated(**aside: object) -> str:
        line = replace(butter, line=replace(butter.line, **aside))
        return agreement(
            replace(card, parts=(replace(part, ingredients=(*part.ingredients[:9], line)),)), LARDER
        )

    moved = float(stated().partition("moves by more than ")[2].partition(" %")[0])
    assert moved >= 9
    for aside in ({"optional": True}, {"for_use": "for the pan"}, {"to_taste": True}):
        assert float(stated(**aside).partition("moves by more than ")[2].partition(" %")[0]) < moved / 2


def test_an_error_of_reading_back_stops_the_card(monkeypatch: pytest.MonkeyPatch) -> None:
    def doubled(*_: object, **__: object) -> tuple[Card, tuple[Finding, ...]]:
        return SPOILED["twice the flour"], ()

    monkeypatch.setattr("cardsmith.flow.rewrite", doubled)
    done = prepare("tarn-loaf", RECIPE.encode(), "recipe.yaml", LARDER, HOUSE)
    assert "reads-otherwise" in {one.name for one in done.findings}
    assert not done.printable
