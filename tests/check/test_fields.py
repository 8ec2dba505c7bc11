"""What stands in any field is read and judged as in a step, in whatever words and figures."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as some

from cardsmith.check.fields import fields
from cardsmith.finding import Finding, Severity
from cardsmith.flow import prepare
from cardsmith.language.spans import Kind
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.model import Recipe, Text
from tests.check.bench import HERE, field, found, house, recipe
from tests.check.safety_cases import dish

BRAISE = ["1 kg lamb shoulder", "400 g carrots", "6 g fine salt"]
METHOD = ["Brown the lamb, carrots and salt in a 5-quart pot for 10 minutes, until deep brown.",
          "Cover and braise over low heat for 3 hours, until the lamb reads 93 °C."]  # fmt: skip


def braise(**fields: object) -> Recipe:
    """A dish that spoils, sound but for what is changed."""
    return recipe(BRAISE, METHOD, kind="braise", **fields)


def with_text(name: str, text: str) -> Recipe:
    """The braise with a text in one of its fields."""
    placed = (Text(text=text, where=HERE),)
    match name:
        case "steps":
            return recipe(BRAISE, [*METHOD, text], kind="braise")
        case "ingredients":
            return recipe([*BRAISE[:2], f"6 g fine salt, {text}"], METHOD, kind="braise")
        case "notes" | "equipment":
            return braise(**{name: placed})
    return braise(**{name: text})


PLACES = ("steps", "headnote", "storage", "notes", "equipment", "ingredients")


@pytest.mark.parametrize("name", PLACES)
@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("warm in an oven at 180", "180"),
        ("at 20 degrees", "20 degrees"),
        ("turn the oven down to 120 for the last hour", "120"),
        ("until it reads 165 inside", "165"),
        ("lower the oven by 20 degrees", "20 degrees"),
    ],
)
def test_a_heat_without_its_scale_is_asked_for_in_every_field(name: str, text: str, written: str) -> None:
    (told,) = found("scale-missing", with_text(name, text))
    assert told.what == f"“{written}” has no scale"
    assert told.severity is (Severity.WARNING if name in {"headnote", "notes"} else Severity.ERROR)


@pytest.mark.parametrize("name", PLACES)
@pytest.mark.parametrize(
    "text", ["warm in an oven at 180 °C", "wait 20 minutes", "turn it 90 degrees", "for 6 people"]
)
def test_a_heat_with_its_scale_and_what_is_no_heat_are_not(name: str, text: str) -> None:
    assert found("scale-missing", with_text(name, text)) == ()


@pytest.mark.parametrize(
    "time",
    ["5 hours", "5 1/2 hours", "5½ hours", "twenty-four hours", "one and a half days", "1½ days",
     "three to four hours", "a day", "a week", "up to 6 h", "300 minutes", "two days", "half a day"],
)  # fmt: skip
def test_what_spoils_is_not_kept_warm_however_long_is_written(time: str) -> None:
    (told,) = found("perishable-kept-warm", braise(storage=f"Keeps {time} at room temperature."))
    assert told.severity is Severity.ERROR


@pytest.mark.parametrize(
    "time",
    [
        "2 hours",
        "two hours",
        "1 1/2 hours",
        "1½ hours",
        "ninety minutes",
        "an hour and a half",
        "half an hour",
    ],
)
def test_two_hours_at_the_table_are_no_storage(time: str) -> None:
    text = f"Keeps {time} at room temperature, or twenty-four hours in the refrigerator."
    assert found("perishable-kept-warm", braise(storage=text)) == ()


LEFT = [
    "Leave it in the pot until tomorrow.",
    "Cool it in the pot until morning, then refrigerate.",
    "Stand it at the back of the stove overnight so that it comes down slowly, then refrigerate it.",
    "Leave to cool completely for 6 hours before chilling.",
    "Put the lid on and forget about it until Sunday.",
    "Let it sit from lunch to supper.",
]
PUT_AWAY = [
    "Refrigerate it. Leave it there until morning.",
    "Let it cool for an hour, then refrigerate overnight.",
    "Leave it to cool in a bath of ice water, then chill it for 5 hours.",
    "Rest for 20 minutes. Keeps 3 days in the refrigerator.",
    "Don't leave it until morning.",
]


@pytest.mark.parametrize("text", LEFT)
def test_what_is_left_with_no_place_named_is_left_in_the_kitchen(text: str) -> None:
    assert found("perishable-kept-warm", braise(storage=text))


@pytest.mark.parametrize("text", PUT_AWAY)
def test_what_is_left_in_the_cold_is_not(text: str) -> None:
    assert found("perishable-kept-warm", braise(storage=text)) == ()


@pytest.mark.parametrize("name", ["storage", "notes", "headnote"])
@pytest.mark.parametrize(
    "heat", ["60 °C", "60 degrees C", "60 ℃", "60˚C", "140 °F", "140 degrees Fahrenheit", "60 C"]
)
def test_leftovers_are_reheated_hot_however_it_is_written(name: str, heat: str) -> None:
    (told,) = found("doneness-too-low", with_text(name, f"Reheat to {heat} before serving."))
    assert f"leftovers reheated to “{heat}”" in told.what


@pytest.mark.parametrize(
    "heat", ["74 °C", "165 degrees F", "70 °C for 2 minutes", "70 °C for two minutes", "80 ℃"]
)
def test_leftovers_that_are_reheated_enough(heat: str) -> None:
    assert found("doneness-too-low", braise(storage=f"Reheat to {heat}.")) == ()


@pytest.mark.parametrize("name", ["storage", "notes"])
@pytest.mark.parametrize(
    "text",
    ["Keeps three days in the refrigerator at 8 °C.", "Store at 46 degrees F.", "Refrigerate at 6 to 8 °C.",
     "Keep it hot at 120 °F until served.", "Once cooled, keep it in the fridge at 46 °F.",
     "Keep chilled at 46 °F."],
)  # fmt: skip
def test_what_spoils_is_not_held_in_the_danger_zone(name: str, text: str) -> None:
    assert [one.name for one in found("held-in-danger", with_text(name, text))] == ["held-in-danger"]


@pytest.mark.parametrize(
    "text", ["Keeps at 4 °C.", "Hold at 60 °C.", "Chill to 8 °C, then to 4 °C.", "Serve at 20 °C."]
)
def test_what_is_held_cold_or_hot_enough(text: str) -> None:
    assert found("held-in-danger", braise(storage=text)) == ()


@pytest.mark.parametrize("name", ["steps", "headnote", "storage", "notes"])
@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("as in step 9", 1),
        ("see steps 7 and 8", 2),
        ("repeat steps 1 to 9", 1),
        ("as in steps 1 and 2", 0),
        ("in 9 steps", 0),
    ],
)
def test_a_step_that_is_not_there(name: str, text: str, wrong: int) -> None:
    assert len(found("step-reference-wrong", with_text(name, text))) == wrong


DRAFT = """title: Braised lamb
kind: braise
headnote: {headnote}
yield: {{makes: 6 plates, serves: 6}}
time: {{active: 40 min, total: 3 h 30 min}}
equipment: ["{equipment}"]
ingredients:
  - 1 kg lamb shoulder
  - 400 g carrots
steps:
  - Heat the oven to 160 °C with a rack in the middle.
  - Brown the lamb and carrots in a 5-quart pot over medium heat for 10 minutes, until deep brown.
  - {steps}
storage: {storage}
notes: ["{notes}"]
credit: Pellwick Test Kitchen
"""
SOUND = {
    "headnote": "A dish for Sunday.",
    "equipment": "5-quart pot",
    "steps": "Cover and braise in the oven for 2 hours 30 minutes, until the lamb reads 93 °C.",
    "storage": "Keeps three days in the refrigerator.",
    "notes": "Good with bread.",
}


def findings(**texts: str) -> tuple[Finding, ...]:
    """Errors and warnings on the draft."""
    text = DRAFT.format(**{**SOUND, **texts})
    found_ = prepare("braise", text.encode(), "braise.yaml", load_larder(), house()).findings
    return tuple(one for one in found_ if one.severity is not Severity.NOTE)


def test_the_draft_is_sound() -> None:
    assert findings() == ()


@pytest.mark.parametrize(
    ("name", "text", "asked"),
    [
        ("steps", "Cover and braise at 150 for 2 hours, until the lamb reads 93 °C.", "scale-missing"),
        ("steps", "Cover and braise for 2 hours, until it reads 200 inside.", "scale-missing"),
        ("steps", "Cover and braise for 120 to 150, until the lamb reads 93 °C.", "number-unread"),
        (
            "steps",
            "Cover, stir in 200 carrots and braise for 2 hours, until the lamb reads 93 °C.",
            "number-unread",
        ),
        ("steps", "Braise at 163 °C (350 °F) for 2 hours, until the lamb reads 93 °C.", "own-conversion-off"),
        ("steps", "Braise at 163 °C for 2 hours, until the lamb reads 93 °C.", "oven-off-dial"),
        ("storage", "Keep it hot at 120 °F until served.", "held-in-danger"),
        ("storage", "Keeps three days at 4.", "scale-missing"),
        ("storage", "Reheat at 180 for 20 minutes.", "scale-missing"),
        ("equipment", "an oven that holds 90", "number-unread"),
        ("notes", "Turn the oven to 220 for the last ten minutes.", "scale-missing"),
        ("headnote", "We used 200 flour.", "number-unread"),
    ],
)
def test_a_numeral_is_asked_about_once(name: str, text: str, asked: str) -> None:
    told = findings(**{name: text})
    assert [one.name for one in told] == [asked]


def test_a_heat_without_its_scale_is_not_missed_as_well() -> None:
    chicken = recipe(
        ["1 whole chicken (1.6 kg)"], ["Roast the chicken for 70 minutes, until it reads 165 inside."]
    )
    assert [len(found(name, chicken)) for name in ("scale-missing", "doneness-missing")] == [1, 0]


def test_an_unread_size_is_not_missed_as_well() -> None:
    one = recipe(["220 g all-purpose flour"], ["Scrape it into a 9x13 baking pan."], kind="butter-cake")
    assert found("pan-missing", one) == ()


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        ("Bake. Cool for 1.5 hours; turn out.", ["Bake", "Cool for 1.5 hours", "turn out"]),
        ("Add 1 tsp. salt and 2 oz. butter. Stir.", ["Add 1 tsp. salt and 2 oz. butter", "Stir"]),
        ("Add 5 oz. Stir.", ["Add 5 oz", "Stir"]),
        ("Leave approx. a day (“overnight.”) Bake!", ["Leave approx. a day (“overnight", "Bake"]),
        ("", []),
    ],
)
def test_sentences_end_at_their_stops(text: str, sentences: list[str]) -> None:
    one = field(text)
    assert [one.text[begins:ends] for begins, ends, _ in one.cuts] == sentences


@given(some.text(alphabet="ab1½ .;!°CF()\n", max_size=60))
def test_every_place_has_its_sentence(text: str) -> None:
    one = field(text)
    for at in range(len(one.text) + 1):
        begins, ends = one.sentence_at(at)
        assert 0 <= begins <= ends <= len(one.text)
        assert one.text[begins:ends].strip() == one.text[begins:ends]
    assert all(begins < ends for begins, ends, _ in one.cuts)


def test_every_text_that_people_write_is_a_field() -> None:
    words = {name: f"words of the {name}" for name in PLACES}
    one = braise(
        title="words of the title",
        headnote=words["headnote"],
        storage=words["storage"],
        notes=(Text(text=words["notes"], where=HERE),),
        equipment=(Text(text=words["equipment"], where=HERE),),
    )
    names = Counter(text.name for text in fields(one))
    assert names == {
        "steps": 2,
        "title": 1,
        "headnote": 1,
        "storage": 1,
        "notes": 1,
        "equipment": 1,
        "yield": 1,
    }


@pytest.mark.parametrize(
    ("text", "longest", "surely"),
    [
        ("for 2 to 3 hours, or 20 minutes", 10_800, 7200),
        ("twenty-five minutes", 1500, 1500),
        ("4 pears", 0, 0),
    ],
)
def test_the_times_of_a_field(text: str, longest: int, surely: int) -> None:
    assert (field(text).longest(), field(text).surely()) == (longest, surely)


def test_numerals_stand_where_they_say() -> None:
    one = field("Keep 3 pears at 4 °C for 2 days.")
    assert [one.text[at : at + len(span.text)] for at, span in one.numerals] == ["3", "4 °C", "2 days"]
    assert [span.text for _, span in one.told(Kind.COUNT)] == ["3"]


def test_a_custard_cooked_by_itself_spoils_in_whatever_shell() -> None:
    choux = "100 g butter; 150 g plain flour; 4 large eggs; 240 g water"
    custard = "500 g whole milk; 5 large egg yolks; 100 g sugar; 40 g cornstarch"
    made = dish(
        f"{choux}; {custard}",
        "Boil the water and butter, beat in the flour and the eggs and pipe 12 buns. Bake for 30 minutes.",
        "Whisk the milk, yolks, sugar and cornstarch and boil for 2 minutes. Chill, and fill the buns.",
        storage="Keep the filled buns in a cake tin in the larder for three days.",
    )
    assert found("perishable-kept-warm", made)
