"""Texts made at random, from what recipes are made of: no reader fails, and `properties` hold."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzz import properties

DEMO = sorted(file.read_bytes() for file in (properties.ROOT / "recipes").glob("*/recipe.yaml"))
ROWS = sorted({row for data in DEMO for row in data.decode("utf-8").split("\n") if row.strip()})
PIECES = (
    "1|½|1½|1 1/2|2/0|1/16|200|0|1,000|1,5|.5|a|two|half a|-|–|/|x|×|(|)|[|](#a)|`|*|,|;|.|:|#|°|°C|°F|350|"
    "gas mark|g|kg|oz|lb|cup|cups|tbsp|tsp|ml|cm|inch|in|minutes|h|can|cans|cloves|large|packed|heaping|"
    "about|to|or|and|plus|minus|between|of|each|total|flour|rye flour|butter|eggs|salt|water|garlic|to taste|"
    "divided|optional|chopped|for the pan|oven|bake|until|the rest|\u00a0|\u2009|\u0301|\u05d0|\u202e|\t|\n"
).split("|")
words = st.lists(st.sampled_from(PIECES) | st.text(max_size=5), max_size=14)
lines = st.builds(lambda gap, told: gap.join(told), st.sampled_from([" ", "", " "]), words) | st.sampled_from(
    ROWS
)


@st.composite
def files(draw: st.DrawFn, first: list[bytes] = DEMO) -> bytes:
    """A file of the demo with rows lost, doubled, moved and put in from elsewhere."""
    rows = draw(st.sampled_from(first)).decode("utf-8").split("\n")
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(rows)))
        match draw(st.sampled_from(["lose", "double", "put", "cut", "indent"])):
            case "lose":
                del rows[at : at + draw(st.integers(1, 3))]
            case "double":
                rows[at:at] = rows[max(0, at - 2) : at]
            case "put":
                rows.insert(at, draw(st.sampled_from(ROWS) | lines))
            case "cut":
                rows[at : at + 1] = [row[: draw(st.integers(0, 30))] for row in rows[at : at + 1]]
            case _:
                rows[at : at + 1] = [" " * draw(st.integers(0, 4)) + row for row in rows[at : at + 1]]
    return "\n".join(rows).encode("utf-8", "surrogatepass")


def bounded(examples: int) -> settings:
    return settings(max_examples=examples, derandomize=True, suppress_health_check=list(HealthCheck))


@bounded(250)
@given(lines)
def test_a_line(text: str) -> None:
    properties.line(text)


@bounded(200)
@given(lines)
def test_a_step(text: str) -> None:
    properties.step(text)


@bounded(25)
@given(files())
def test_a_file(data: bytes) -> None:
    properties.file(data)


@bounded(40)
@given(files([(properties.ROOT / "templates/house.yaml").read_bytes()]))
def test_a_house(data: bytes) -> None:
    properties.house(data)


@pytest.mark.parametrize(
    "path",
    [
        "seeded-crackers/trials.yaml",
        "seeded-crackers/teardown.yaml",
        "bay-custard-pots/portion.yaml",
        "prices.csv",
    ],
)
def test_a_file_beside_a_recipe(path: str) -> None:
    first = (properties.ROOT / "recipes" / path).read_bytes()

    @bounded(15)
    @given(files([first[:2_500]]))
    def holds(data: bytes) -> None:
        properties.beside(path.rpartition("/")[2], data)

    holds()


@pytest.mark.parametrize("data", DEMO)
def test_the_demo_itself_keeps_the_rules(data: bytes) -> None:
    properties.file(data)
