from __future__ import annotations

import pytest

from cardsmith.bench.model import Trials
from cardsmith.bench.papers.sheet import LONG, Sheet, plan
from cardsmith.finding import CardsmithError
from cardsmith.measure.larder import load_larder
from tests.bench.trial_samples import LEAN, trials


def sheet(found: Trials, parent: int | None = None, *changes: str, method: tuple[str, ...] = ()) -> Sheet:
    return plan(None, found, load_larder(), parent=parent, changes=changes, method=method)


def test_the_next_sheet_takes_the_next_number_and_the_changed_amount() -> None:
    view = sheet(trials(LEAN), 1, "300 g water")
    assert (view.number, view.start, view.changes, view.flag) == (2, "trial 1", ("water −14 %",), "")
    rows = {row.item: (row.target, row.changed) for row in view.blocks[0]}
    assert rows["water"] == ("300 g", True)
    assert rows["bread flour"] == ("500 g", False)
    assert view.total == "815 g"


def test_a_second_change_raises_a_flag() -> None:
    assert sheet(trials(LEAN), 1, "300 g water", "8 g fine salt").flag.startswith("2 things change")
    assert sheet(trials(LEAN), 1, "300 g water", method=("Fold twice.",)).flag.startswith("2 things change")


@pytest.mark.parametrize(
    ("parent", "change", "told"),
    [(7, "300 g water", "there is no trial 7; trials here: 1"), (1, "300 g milk", "has no “milk” to change")],
)
def test_what_fits_nothing_is_said(parent: int, change: str, told: str) -> None:
    with pytest.raises(CardsmithError, match=told):
        sheet(trials(LEAN), parent, change)


def test_without_trials_or_recipe_there_is_no_sheet() -> None:
    with pytest.raises(CardsmithError, match="neither a recipe nor a trial"):
        plan(None, None, load_larder())


def test_a_dropped_trial_is_not_started_from() -> None:
    text = LEAN + "  - {trial: 2, date: 2026-03-03, from: 1, change: [300 g water], verdict: {call: drop}}\n"
    assert sheet(trials(text)).start == "trial 1"


def test_a_dried_piece_has_its_target() -> None:
    # 100 g flour (11.92 g water, SR 28 food 20081) and 50 g water: 88.08 g solids in 150 g, 58.72 in 100 g.
    lines = "ingredients: [100 g all-purpose flour, 50 g water]"
    text = f"aim: {{moisture: 4 %}}\ntrials: [{{trial: 1, date: 2026-03-02, {lines}}}]"
    assert sheet(trials(text)).dry.endswith("weigh 61.2 g or less.")


def test_a_long_list_stands_in_two_blocks() -> None:
    names = ["bread flour", "water", "fine salt", "honey", "olive oil", "eggs", "whole milk", "raisins",
             "almonds", "granulated sugar", "unsalted butter"]  # fmt: skip
    lines = ", ".join(f"{place} g {name}" for place, name in enumerate(names, 10))
    view = sheet(trials(f"trials: [{{trial: 1, date: 2026-03-02, ingredients: [{lines}]}}]"))
    assert len(names) > LONG
    assert [row.item for block in view.blocks for row in block] == names
    assert len(view.blocks) == 2


def test_what_is_expected_stands_in_its_place() -> None:
    view = plan(None, trials(LEAN), load_larder(), changes=("300 g water",), expect="height 80 mm (76 to 84)")
    assert view.expect == "height 80 mm (76 to 84)"
    assert plan(None, trials(LEAN), load_larder()).expect == ""


def test_a_make_from_the_card_is_no_start_while_one_of_the_bench_is_kept() -> None:
    """Its dial is another oven's, and no trial is like it."""
    made = "  - {trial: 2, date: 2026-03-03, from: 1, verdict: {call: keep}, cooked_from: us}\n"
    assert sheet(trials(LEAN + made)).start == "trial 1"
    assert sheet(trials(LEAN + made), 2).start == "trial 2"
    assert sheet(trials(LEAN.replace("call: keep", "call: drop") + made)).start == "trial 2"
