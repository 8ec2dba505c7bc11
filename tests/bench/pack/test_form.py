"""A cross-test's form: what it asks for, and that all that was typed into it comes back as a trial."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from cardsmith.bench.file.yaml_text import appended, same
from cardsmith.bench.log import in_heat
from cardsmith.bench.model import Trials
from cardsmith.bench.pack.form import form, pack
from cardsmith.bench.pack.read import Returned, read_form
from cardsmith.finding import CardsmithError
from cardsmith.measure.larder import load_larder
from cardsmith.recipe.load import read_recipe
from tests.bench.trial_samples import trials

RECIPE = """\
title: Rye thins
ingredients:
  - 200 g whole-grain rye flour
  - {key: seeds, amount: 30 g, item: "sesame seeds"}
  - 110 g water
steps:
  - Heat the oven to 160 °C.
  - "Mix: the flour, [10 g](#seeds) of the seeds and the water, then let stand 20 minutes. Add the rest."
  - Bake for 25 to 30 minutes, until dry.
tested: {trial: 1}
"""
TRIALS = """\
# The thins.
trials:
  - trial: 1
    date: 2026-03-02
    ingredients: [200 g whole-grain rye flour, 30 g sesame seeds, 110 g water]  # the first
    measured: {out: 240 g}

# What they said.
tastings:
  - {name: salt, test: liking, trials: [1], tasters: 4, seed: 17}
"""
PRINTED = ("Heat the oven to 325 °F.", "Mix: the flour, then let stand 20 minutes.", "Bake for 25 minutes.")
ANSWERS = {
    "date": "2026-05-02",
    "kitchen": "a flat in Quay Row",
    "  temperature": "70 °F",
    "  name": "gas oven",
    "  set": "325 °F",
    "  offset": "+20 °F",
    "  fan": "no",
    "change": "[20 g molasses instead of sesame seeds]",
    "method": "[Baked on one pan]",
    "  in": "12 oz",
    "  out": "8½ oz",
    "  cooled": "240 g",
    "  pieces": "58",
    "  piece": "4 g",
    "  height": "2.4 mm",
    "  diameter": "60 mm",
    "  core": "200 °F",
    "  colour": "gold at the rim",
    "  texture": "brittle",
    "photos": "[whole.jpg]",
    "unclear": '["which rack: top, or middle?"]',
    "panel": "{RA: crisp and sweet}",
    "  call": "keep",
    "  faults": "[pale]",
    "  words": "Good, and sooner done.",
    "next": "Say which rack.",
}
TIMES = {  # step: began, ended, what was unclear
    1: ("14:00", "14:02", ""),
    2: ("14:05", "14:40", "all of the rest?"),
    3: ("2:45 pm", "3:09 pm", ""),
}


def of(recipe: str = RECIPE, known: str = TRIALS) -> str:
    read, _ = read_recipe("thins", recipe.encode(), "recipe.yaml", load_larder())
    assert read is not None
    view = pack(read, trials(known), PRINTED, tester="R. Ayre", column="us", mark="7f3c21d0")
    return form(view)


def filled(text: str) -> str:
    """Every blank of a form filled."""
    for key, answer in ANSWERS.items():
        text, found = re.subn(rf"(?m)^({key}:)[ ]*(#.*)?$", rf"\1 {answer}", text, count=1)
        assert found or key in {"change", "method"}, key
    for step, (began, ended, unclear) in TIMES.items():
        head, mark, tail = text.partition(f"- step: {step}\n")
        tail = tail.replace("began:\n", f"began: {began}\n", 1).replace("ended:\n", f"ended: {ended}\n", 1)
        tail = tail.replace("unclear:\n", f'unclear: "{unclear}"\n', 1)
        text = head + mark + tail
    return text.replace("20 minutes, took: }", "20 minutes, took: 25 min}")


def returned(text: str, known: Trials | None = None) -> Returned:
    return read_form(text.encode(), "form.yaml", "thins", known or trials(TRIALS), load_larder())


def test_nothing_typed_into_a_form_is_lost() -> None:
    text = filled(of())
    assert not re.search(r"(?m)^ *(?!room|oven|times|timed|measured|verdict)[a-z]+:( *#.*)?$", text), text
    found = returned(text)
    assert [str(one) for one in found.findings] == []
    trial = found.trial
    assert trial is not None
    assert (trial.number, trial.parent, trial.date, trial.cook) == (2, 1, "2026-05-02", "R. Ayre")
    assert (trial.kitchen, trial.cooked_from, trial.card) == ("a flat in Quay Row", "us", "7f3c21d0")
    assert trial.oven.heat == (Fraction(325 - 32) + 20) * 5 / 9
    assert trial.oven.fan is False
    assert [entry.text for entry in trial.process] == [
        "begin step 1",
        "step 1 done",
        "begin step 2",
        "let stand 25 min",
        "step 2 done",
        "Bake, step 3",
        "step 3 done",
    ]
    assert in_heat(trial) == 24 * 60
    assert [change.text for change in trial.changes] == [
        "20 g molasses instead of sesame seeds",
        "Baked on one pan",
    ]
    assert [one.text for one in trial.unclear] == ["step 2: all of the rest?", "which rack: top, or middle?"]
    assert set(trial.measured) == {"in", "out", "cooled", "pieces", "piece", "height", "diameter", "core"}
    assert (trial.colour, trial.texture, trial.call) == ("gold at the rim", "brittle", "keep")
    assert (trial.panel, trial.next) == ((("RA", "crisp and sweet"),), "Say which rack.")
    assert trial.verdict == "Good, and sooner done."
    assert [one.text for one in (*trial.photos, *trial.faults)] == ["whole.jpg", "pale"]


def test_a_time_stands_with_the_words_before_it_and_not_with_the_marks_of_the_file() -> None:
    text = of(RECIPE.replace("then let stand", "then let [the rest](#seeds) stand"))
    assert "printed: let the rest stand 20 minutes" in text


def test_it_stands_behind_the_other_trials_and_changes_nothing_else() -> None:
    known, found = trials(TRIALS), returned(filled(of()))
    assert found.node is not None
    assert found.trial is not None
    text = appended(known, TRIALS, "trials.yaml", found.node, load_larder())
    before, _, after = TRIALS.partition("\n# What they said.")
    assert text.startswith(f"{before}\n  - trial: 2\n")
    assert text.endswith(f"\n\n# What they said.{after}")
    now = trials(text)
    assert now.trials[0] == known.trials[0]
    assert same(now.trials[1], found.trial)
    assert now.tastings[0].name == "salt"


def test_a_form_with_nothing_typed_says_what_a_trial_needs() -> None:
    (finding,) = returned(of()).findings
    assert (finding.name, finding.what) == ("missing-key", "the form lacks its date")
    trial = returned(re.sub(r"(?m)^date:.*$", "date: 2026-05-02", of())).trial
    assert trial is not None
    assert (trial.process, dict(trial.measured), trial.parent) == ((), {}, 1)


@pytest.mark.parametrize(
    "recipe", [RECIPE.replace("110 g water", "120 g water"), RECIPE.replace("tested: {trial: 1}\n", "")]
)
def test_a_formula_that_no_trial_has_travels_with_the_form(recipe: str) -> None:
    text = of(recipe)
    assert "from:" not in text
    assert "write that into the lists at the end" in text
    found = returned(filled(text.replace("110 g", "100 g").replace("120 g", "100 g")))
    assert [str(one) for one in found.findings] == []
    assert found.trial is not None
    assert found.node is not None
    assert found.trial.parent is None
    assert [line.text for line in found.trial.ingredients][-1] == "100 g water"
    assert found.trial.ingredients[1].key == "seeds"
    known = trials(TRIALS)
    text = appended(known, TRIALS, "trials.yaml", found.node, load_larder())
    assert same(trials(text).trials[1], found.trial)


BLOCKS = """\
title: Rye thins
ingredients: |
  200 g whole-grain rye flour
  110 g water
steps: |
  Mix the flour and water.

  Bake for 25 minutes, until dry.
"""


def test_lists_in_one_block_of_text_travel_line_by_line() -> None:
    read, _ = read_recipe("thins", BLOCKS.encode(), "recipe.yaml", load_larder())
    assert read is not None
    text = form(pack(read, None, PRINTED[:2], tester="R. Ayre", column="us", mark="7f3c21d0"))
    assert text.endswith(
        "ingredients: [200 g whole-grain rye flour, 110 g water]\n"
        'steps: [Mix the flour and water., "Bake for 25 minutes, until dry."]\n'
    )


def test_a_second_cross_test_of_one_card_is_another_make_of_the_first() -> None:
    text = filled(of(RECIPE.replace("tested: {trial: 1}\n", "")))
    first = returned(text)
    assert first.node is not None
    known = trials(appended(trials(TRIALS), TRIALS, "trials.yaml", first.node, load_larder()))
    second = returned(text.replace("cook: R. Ayre", "cook: I. Quist"), known)
    assert second.trial is not None
    assert (second.trial.number, second.trial.parent) == (3, 2)
    assert second.trial.is_repeat


def test_the_first_trial_of_a_recipe_may_be_a_cross_test() -> None:
    read, _ = read_recipe("thins", RECIPE.encode(), "recipe.yaml", load_larder())
    assert read is not None
    text = form(pack(read, None, PRINTED, tester="R. Ayre", column="us", mark="7f3c21d0"))
    found = read_form(filled(text).encode(), "form.yaml", "thins", None, load_larder())
    assert found.node is not None
    assert found.trial is not None
    written = appended(None, "", "trials.yaml", found.node, load_larder())
    assert same(trials(written).trials[0], found.trial)


# What is typed, in place of what; the name of what is said, where it stands, and what it says.
WRONG = [
    ("  set: 325 °F", "  set: hot", "unreadable-temperature", "“hot” is not a temperature"),
    ("  offset: +20 °F", "  offset: 20 °F", "unreadable-temperature", "“20 °F” doesn't say how much hotter"),
    ("    began: 14:05", "    began: after lunch", "unreadable-clock", "“after lunch” is not a time of day"),
    ("    ended: 14:40", "    ended: 14:75", "unreadable-clock", "“14:75” is not a time of day"),
    ("took: 25 min", "took: ages", "unreadable-measure", "“ages” can't be read as a time"),
    ("  out: 8½ oz", "  out: 8½", "unreadable-measure", "“8½” can't be read"),
    ("date: 2026-05-02", "date: May 2nd", "unreadable-date", "“May 2nd” is not a date"),
    ("change: [20 g molasses", "change: [20 g molases", "", ""),
    ("instead of sesame seeds]", "instead of poppy seeds]", "change-of-nothing", "has no “poppy seeds”"),
    ("  call: keep", "  call: fine", "unknown-choice", "fine"),
    ("recipe: thins", "recipe: oat-thins", "pack-of-another", "this is the form of oat-thins, not of thins"),
    ("column: us,", "colum: us,", "unknown-key", "colum"),
]


@pytest.mark.parametrize(("typed", "instead", "name", "said"), WRONG)
def test_what_is_wrong_is_told_where_it_stands_in_the_form(
    typed: str, instead: str, name: str, said: str
) -> None:
    text = filled(of())
    assert typed in text
    text = text.replace(typed, instead, 1)
    found = returned(text)
    if not name:  # an unknown food is the cook's own word
        assert found.trial is not None
        return
    assert found.node is None
    (first,) = [one for one in found.findings if one.name == name][:1]
    assert said in first.what
    row = next(number for number, line in enumerate(text.split("\n"), 1) if instead in line)
    assert (first.where.file, first.where.line) == ("form.yaml", row)
    assert first.where.column > 1 or name == "unknown-key"


def test_trials_in_brackets_are_left_alone_and_the_text_is_told() -> None:
    known = "trials: [{trial: 1, date: 2026-03-02, ingredients: [200 g rye flour]}]\n"
    found = returned(filled(of(RECIPE.replace("tested: {trial: 1}\n", ""), known)), trials(known))
    assert found.node is not None
    with pytest.raises(CardsmithError, match=r"write it there by hand:\n  - trial: 2\n"):
        appended(trials(known), known, "trials.yaml", found.node, load_larder())
