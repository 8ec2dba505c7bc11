from __future__ import annotations

from pathlib import Path

import pytest

from cardsmith.bench.model import Trials
from cardsmith.bench.next.text import text_of
from cardsmith.bench.next.trial import next_trial
from cardsmith.bench.papers.report import Report, report
from cardsmith.house.style import load_house
from cardsmith.measure.larder import load_larder
from tests.bench.lever_trials import LEVERS, Thin, thins
from tests.bench.trial_samples import LEAN, trials

ROOT = Path(__file__).parents[3]


def of(found: Trials, kind: str = "yeast-bread") -> Report:
    return report(found, "A dish", kind, load_house(ROOT), load_larder())


def demo(name: str) -> Trials:
    return trials((ROOT / f"recipes/{name}/trials.yaml").read_text(encoding="utf-8"))


def test_the_demo_says_how_far_each_recipe_has_come() -> None:
    crackers, cake = of(demo("seeded-crackers"), "cracker"), of(demo("ferry-butter-cake"), "butter-cake")
    assert "is tested: made 4 times" in crackers.summary[1]
    assert "settled, not tested; still missing: 1 more make" in cake.summary[1]
    assert "5 dropped" not in crackers.summary[0]
    assert [len(table.heads) for table in crackers.history.tables] == [8]


def test_the_demo_plots_loss_and_the_chosen_measure() -> None:
    assert [plot.title for plot in of(demo("ferry-butter-cake")).plots] == [
        "Liking, day-three",
        "Loss in the oven",
        "Height against baking powder",
    ]


def test_the_report_says_of_the_aim_what_the_next_trial_is_told_by() -> None:
    made = thins(
        *(Thin(water=120 + 5 * at, moisture=3 + at / 4 + at % 2 / 10) for at in range(8)), aim=LEVERS
    )
    told = [(one.heading, [point.text for point in one.points]) for one in of(made).learnt]
    whole = text_of(next_trial(made, load_larder()), "oat-thins")
    assert [heading for heading, _ in told] == [
        "",
        "What moves moisture, all else alike",
        "Expected by the trials before it, 19 times in 20, and got",
    ]
    assert all(line in whole for _, lines in told for line in lines)
    assert "more water: +" in told[1][1][0]
    assert of(trials(LEAN)).learnt == ()


def test_open_work_lists_levers_and_settled_work_none() -> None:
    assert of(trials(LEAN)).levers == ("pale: a hotter oven or longer",)  # it has no sugar
    assert of(trials(LEAN.replace("call: keep", "call: settle"))).levers == ()
    assert of(trials(LEAN)).summary[1] == "No formula is settled yet."


@pytest.mark.parametrize(("count", "widths"), [(1, [1]), (8, [8]), (9, [5, 4]), (17, [6, 6, 5])])
def test_many_trials_stand_in_even_blocks(count: int, widths: list[int]) -> None:
    text = LEAN + "".join(
        f"  - {{trial: {number}, date: 2026-03-03, from: 1}}\n" for number in range(2, count + 1)
    )
    assert [len(table.heads) for table in of(trials(text)).history.tables] == widths
