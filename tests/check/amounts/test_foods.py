"""How grave it is that a food, its density, its kind or the size of its can is not known."""

from __future__ import annotations

import pytest

from tests.check.bench import found, recipe

BREAD = ("500 g bread flour", "350 g water", "4 g instant yeast")
BATTER = ("200 g all-purpose flour", "8 g baking powder", "250 g whole milk", "2 large eggs")
STEW = ("1 kg beef stew meat", "400 g carrots", "500 ml beef stock")
LEFT = ("Stir everything together.",)

# One line among others, the steps, and the severity of the one finding on it; silence where it is empty.
CASES = [
    # spoonfuls of an unknown food print as they are; cups of it lack a weight
    ("unknown-ingredient", "2 tsp squelmroot", STEW, LEFT, "", "note"),
    ("unknown-ingredient", "3 tbsp squelm paste", STEW, LEFT, "", "note"),
    ("unknown-ingredient", "2 cups squelmroot", STEW, LEFT, "", "warning"),
    ("unknown-ingredient", "200 g squelmroot", STEW, LEFT, "", "warning"),
    ("unknown-ingredient", "1 tsp cinamon", STEW, LEFT, "", "warning"),  # a slip of the pen
    ("unknown-ingredient", "#s 2 cups squelmroot", STEW, ("Stir in [50 g](#s).",), "", "error"),
    ("unknown-ingredient", "#s 200 g squelmroot", STEW, ("Stir in [half](#s).",), "", "warning"),
    # a known food without a density
    ("missing-density", "1 tsp fresh thyme", STEW, LEFT, "", ""),
    ("missing-density", "1 tbsp beef brisket", STEW, LEFT, "", "note"),
    ("missing-density", "1 cup beef brisket", STEW, LEFT, "", "warning"),
    ("missing-density", "#b 1 cup beef brisket", STEW, ("Stir in [50 g](#b).",), "", "error"),
    ("missing-density", "4 cups shredded cooked chicken", STEW, LEFT, "", "note"),
    ("missing-density", "3 cups small broccoli florets", STEW, LEFT, "", ""),
    ("missing-density", "2 cups torn kale", STEW, LEFT, "", "note"),
    ("generic-ingredient", "2 cups milk", STEW, LEFT, "", "note"),
    ("unknown-ingredient", "½ cup toasted sliced almonds", STEW, LEFT, "", ""),
    ("missing-density", "0.3 tsp pink curing salt no. 1", STEW, LEFT, "", "error"),
    # salt seasons a dish, and governs a dough, a batter, a sausage, a brine
    ("salt-by-volume-untyped", "1 tsp kosher salt", STEW, LEFT, "braise", "note"),
    ("salt-by-volume-untyped", "1 tsp kosher salt", STEW, LEFT, "", "note"),
    ("salt-by-volume-untyped", "2 tsp salt", BREAD, LEFT, "yeast-bread", "warning"),
    ("salt-by-volume-untyped", "2 tsp salt", BREAD, LEFT, "", "warning"),
    ("salt-by-volume-untyped", "1 tsp salt", BATTER, LEFT, "pancake", "warning"),
    ("salt-by-volume-untyped", "¼ tsp salt", BATTER, LEFT, "pancake", "note"),
    ("salt-by-volume-untyped", "3 tsp kosher salt", ("1 kg pork shoulder",), LEFT, "sausage", "warning"),
    ("salt-by-volume-untyped", "¼ cup kosher salt", ("1 kg water",), LEFT, "brine", "warning"),
    ("salt-by-volume-untyped", "¼ cup kosher salt", ("1 kg salmon",), LEFT, "", "warning"),  # a cure
    # eggs and brown sugar as part of a batter's proportions, and where they only fill or season
    ("egg-size-missing", "3 eggs", BATTER[:3], LEFT, "pancake", "warning"),
    ("egg-size-missing", "3 eggs", BATTER[:3], LEFT, "", "warning"),
    ("egg-size-missing", "3 egg whites (from 59 g eggs)", BATTER[:3], LEFT, "pancake", ""),
    ("vague-measure", "1 small bunch chives", STEW, LEFT, "", "note"),
    ("egg-size-missing", "3 eggs, beaten", ("600 g cooked white rice",), LEFT, "", "note"),
    ("brown-sugar-unpacked", "½ cup light brown sugar", BATTER, LEFT, "pancake", "warning"),
    ("brown-sugar-unpacked", "⅓ cup light brown sugar", STEW, LEFT, "", "note"),
    # a can that is bought, and one of which a step takes a part
    ("container-without-size", "1 can coconut milk", STEW, LEFT, "", "warning"),
    ("container-without-size", "#c 1 can coconut milk", STEW, ("Add [100 ml](#c).",), "", "error"),
]


@pytest.mark.parametrize(("name", "line", "others", "steps", "kind", "severity"), CASES)
def test_severity(
    name: str, line: str, others: tuple[str, ...], steps: tuple[str, ...], kind: str, severity: str
) -> None:
    findings = found(name, recipe([line, *others], list(steps), kind=kind))
    assert [one.severity.value for one in findings] == [severity][: bool(severity)]
