"""The house style applied to a file: what changes, what must not, and that all else stays to the byte."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.draft.tidy.change import Change, harmless
from cardsmith.draft.tidy.figures import figures
from cardsmith.draft.tidy.tidied import tidied
from cardsmith.draft.tidy.words import dashes, in_house_words
from cardsmith.finding import CardsmithError
from cardsmith.house.publication import Publication
from cardsmith.measure.larder import Larder, load_larder
from cardsmith.recipe.load import read_recipe
from tests.draft.layouts import Writer
from tests.draft.placed import drafted_of

DEMO = Publication(root=Path(__file__).parents[2])
MESSY = """\
# a comment that stays
title:   Ginger oat squares
headnote: >
  Chewy, with the flavour of
  treacle.
yield: {makes: 16 squares}
ingredients:
  - 1 1/2 Cups plain flour   # sifted twice
  # on the oats
  - 225g rolled oats
  - 3 Tablespoons golden syrup
  - "100 grams butter, plus 1/4 oz for the tin"
steps:
  - Melt the butter and syrup in a pan for 3-4 mins.
  - Stir in the oats and flour. Bake at 180 °C for 20 min.
"""
TIDY = """\
# a comment that stays
title:   Ginger oat squares
headnote: >
  Chewy, with the flavor of
  treacle.
yield: {makes: 16 squares}
ingredients:
  - 3 tbsp golden syrup
  - "100 g butter, plus ¼ oz for the tin"
  - 1½ cups all-purpose flour   # sifted twice
  # on the oats
  - 225 g rolled oats
steps:
  - Melt the butter and syrup in a pan for 3 to 4 minutes.
  - Stir in the oats and flour. Bake at 180 °C for 20 minutes.
"""


@pytest.fixture(scope="module")
def larder() -> Larder:
    return load_larder()


def _tidy(text: str, larder: Larder, language: str = "en-US") -> str:
    return tidied(text.encode(), "recipe.yaml", larder, language).text


def test_a_messy_file_is_tidied_and_its_comments_stay(larder: Larder) -> None:
    assert _tidy(MESSY, larder) == TIDY


def test_each_change_is_told_with_its_line(larder: Larder) -> None:
    changes = tidied(MESSY.encode(), "recipe.yaml", larder, "en-US").changes
    told = [str(one) for one in changes]
    assert "line 4: “the flavour of” → “the flavor of” (spelling)" in told
    assert "line 8: “1 1/2 Cups” → “1½ Cups” (fractions)" in told
    assert "line 14: “3-4” → “3 to 4” (ranges)" in told
    assert any("(order of use)" in one for one in told)
    assert [one.line for one in changes] == sorted(one.line for one in changes)


def test_a_subhead_in_a_list_becomes_a_part(larder: Larder) -> None:
    text = (
        "title: Buns\ningredients:\n  - 200 g flour\n  # on top\n  - For the glaze:\n  - 50 g sugar  # fine\n"
        '  - "To serve:"\n  - 20 g butter\n\n# the method\nsteps: [Mix the flour and sugar.]\n'
    )
    done = tidied(text.encode(), "recipe.yaml", larder, "en-US")
    recipe, found = read_recipe("buns", done.text.encode(), "recipe.yaml", larder)
    assert recipe is not None
    assert [(part.name, [line.text for line in part.ingredients]) for part in recipe.parts] == [
        ("", ["200 g flour"]),
        ("Glaze", ["50 g sugar"]),
        ("To serve", ["20 g butter"]),
        ("", []),
    ]
    assert [one.name for one in found if one.severity == "error"] == []
    assert all(comment in done.text for comment in ("# on top", "# fine", "\n\n# the method\nsteps:"))
    assert str(done.changes[0]) == "line 5: “For the glaze:” → the part Glaze (a subhead is a part)"


def test_a_tidy_file_stays_as_it_is(larder: Larder) -> None:
    done = tidied(TIDY.encode(), "recipe.yaml", larder, "en-US")
    assert (done.text, done.changes) == (TIDY, ())


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_line_ends_stay(ends: str, larder: Larder) -> None:
    assert _tidy(MESSY.replace("\n", ends), larder) == TIDY.replace("\n", ends)


def test_spelling_follows_the_language_of_the_house(larder: Larder) -> None:
    text = "title: A\ningredients: [200 g rye flour]\nsteps: [Cool the color in the center.]\n"
    assert "Cool the colour in the centre." in _tidy(text, larder, "en-GB")
    assert _tidy(text, larder) == text


@pytest.mark.parametrize("name", DEMO.names())
def test_no_number_of_the_demo_changes(name: str, larder: Larder) -> None:
    data = DEMO.read(DEMO.file(name))
    before, _ = read_recipe(name, data, "recipe.yaml", larder)
    after, _ = read_recipe(name, _tidy(data.decode(), larder).encode(), "recipe.yaml", larder)
    assert before is not None
    assert after is not None
    sizes = [[(line.amount, line.stated, line.food) for line in one.ingredients] for one in (before, after)]
    assert sizes[0] == sizes[1]
    assert _tidy(_tidy(data.decode(), larder), larder) == _tidy(data.decode(), larder)


@pytest.mark.parametrize(
    ("line", "listed", "tidy"),
    [
        ("1/2 cup flour", True, "½ cup flour"),
        ("11/2 cups flour", True, "11/2 cups flour"),  # 1 1/2, or 5½? a finding asks
        ("1 1/3 cups flour", True, "1⅓ cups flour"),
        ("3 3/16 cups flour", True, "3 3/16 cups flour"),  # no such character
        ("2-3 Tbsp. oil", True, "2 to 3 tbsp oil"),
        ("2 x 400g cans beans", True, "2 x 400 g cans beans"),
        ("1 (3- to 4-lb.) chicken", True, "1 (3- to 4-lb.) chicken"),
        ("1 Tbsp sugar", True, "1 tbsp sugar"),
        ("Bake 25-30 mins.", False, "Bake 25 to 30 minutes."),
        ("Use a 9-inch pan.", False, "Use a 9-inch pan."),
        ("Cut into 3-4-inch strips.", False, "Cut into 3-4-inch strips."),
        ("Add 1 T. oil, 2 t. salt.", False, "Add 1 tbsp oil, 2 tsp salt."),
        ("Bake at 180C/160C fan.", False, "Bake at 180 °C/160 °C fan."),
        ("Heat to 350 F.", False, "Heat to 350 °F."),
        ("1 C flour", True, "1 cup flour"),
    ],
)
def test_figures_in_the_style_of_the_house(line: str, listed: bool, tidy: str, larder: Larder) -> None:
    for one in reversed(list(harmless(line, figures(line, listed=listed), larder, listed=listed))):
        line = one.of(line)
    assert line == tidy


@pytest.mark.parametrize(
    ("text", "tidy"),
    [
        ("Slice the courgettes.", "Slice the zucchini."),
        ("Aubergines, halved", "Eggplants, halved"),
        ("2 courgettes, 1 aubergine", "2 zucchini, 1 eggplant"),
        ("Add 200 gms plain flour.", "Add 200 gms all-purpose flour."),  # units are told by their number
    ],
)
def test_words_of_the_house(text: str, tidy: str, larder: Larder) -> None:
    for one in reversed(list(in_house_words(text, "en-US", larder.tables))):
        text = one.of(text)
    assert text == tidy


def test_a_change_that_would_touch_a_number_or_a_food_is_left_out(larder: Larder) -> None:
    line = "2 cups flour"
    assert list(harmless(line, [Change(0, 1, "3", "test")], larder, listed=True)) == []
    assert list(harmless(line, [Change(7, 12, "sugar", "test")], larder, listed=True)) == []
    assert len(list(harmless(line, [Change(2, 6, "cup", "test")], larder, listed=True))) == 1


def test_a_file_that_is_no_recipe_is_refused(larder: Larder) -> None:
    with pytest.raises(CardsmithError, match="can't be read"):
        tidied(b"- just\n- a list\n", "recipe.yaml", larder, "en-US")


@pytest.mark.parametrize(
    ("lines", "step", "tidy"),
    [
        (["200 g shrimp", "2 eggs"], "Fry the prawns.", "Fry the shrimp."),  # weighed: its name as it stands
        (["3 shallots", "2 eggs"], "Chop a shallot.", "Chop a shallot."),
        (["100 ml canola oil"], "Warm the rapeseed oil.", "Warm the canola oil."),
        (["1 tbsp coriander leaves"], "Add the coriander leaves.", "Add the cilantro."),
        (["50 g powdered sugar"], "Sift the icing sugar.", "Sift the powdered sugar."),
    ],
)
def test_a_step_calls_a_food_what_its_line_does(
    lines: list[str], step: str, tidy: str, larder: Larder
) -> None:
    listed = "".join(f"  - {line}\n" for line in lines)
    text = f"title: Plate\ningredients:\n{listed}steps:\n  - {step}\n"
    assert _tidy(text, larder).splitlines()[-1] == f"  - {tidy}"


def test_a_later_line_and_its_step_take_the_first_name(larder: Larder) -> None:
    text = (
        "title: Two\nparts:\n  - name: Stew\n    ingredients:\n      - 400 g chickpeas\n    steps:\n"
        "      - Rinse the chickpeas.\n  - name: Top\n    ingredients:\n      - 100 g garbanzo beans\n"
        "    steps:\n      - Mash the garbanzo beans.\n"
    )
    told = _tidy(text, larder)
    assert "- 100 g chickpeas" in told
    assert "- Mash the chickpeas." in told


def test_one_thing_has_one_name_in_lists_and_steps(larder: Larder) -> None:
    text = (
        "title: Squares\ningredients:\n  - 2 courgettes, grated\n  - 3 green onions\n"
        "  - 20 g scallions, sliced\n  - 50 g icing sugar\nsteps:\n"
        "  - Stir the zucchini with powdered sugar and the spring onions.\n"
    )
    assert _tidy(text, larder).splitlines()[2:] == [
        "  - 2 zucchini, grated",
        "  - 3 green onions",
        "  - 20 g green onions, sliced",
        "  - 50 g confectioners' sugar",
        "steps:",
        "  - Stir the zucchini with confectioners' sugar and the green onions.",
    ]


@pytest.mark.parametrize(
    ("text", "language", "tidy"),
    [
        ("Fold gently -- it sinks.", "en-US", "Fold gently—it sinks."),
        ("Fold gently - it sinks.", "en-GB", "Fold gently – it sinks."),
        ("Roll to 2 - 3 mm, skin-on.", "en-US", "Roll to 2 - 3 mm, skin-on."),  # a range, a hyphen
    ],
)
def test_dashes_of_the_house(text: str, language: str, tidy: str) -> None:
    for one in reversed(list(dashes(text, language))):
        text = one.of(text)
    assert text == tidy


@pytest.mark.parametrize("seed", range(12))
def test_what_is_tidied_is_tidy_and_other_rows_stay(seed: int, larder: Larder) -> None:
    (file, *_) = drafted_of(Writer(seed).layout(), larder).files
    done = tidied(file.text.encode(), "recipe.yaml", larder, "en-US")
    assert _tidy(done.text, larder) == done.text
    changed = {one.line for one in done.changes}
    stay = [row for at, row in enumerate(file.text.split("\n"), start=1) if at not in changed]
    assert set(stay) <= set(done.text.split("\n"))
