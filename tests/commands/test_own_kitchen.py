"""A publication of one's own from an empty folder: its facts, trials, a cross-test, the card.

What the bench concludes is worked out again with NumPy and SciPy's tables of t, and by hand.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from scipy import stats

from cardsmith.commands.main import FINE, main

ROOT = Path(__file__).parents[2]

TABLES = {
    "composition.csv": """\
food,water_g,energy_kcal,protein_g,fat_g,carbohydrate_g,sodium_mg,source
fenwick-blue,41,362,22,30,1.5,980,the dairy's own analysis
""",
    "kinds.csv": """\
kind,about,aliases,source
cheese-thin,a thin oat cracker bound with cheese,cheese thins,own trials
""",
    "ratios.csv": """\
kind,ratio,numerator,denominator,told,low,typical,high,unit,source
cheese-thin,hydration,water:1,flour:1,the flour,30,42,55,%,own trials
""",
    "style_words.csv": """\
language,house,instead_of,why,source
,thin,crispbread|crispbreads,our readers know them as thins,house style
""",
    "printer_profiles.csv": """\
name,shown,condition,condition_name,registry,icc,licence,bleed,marks,resolution,ink_limit,source
quayside,Quayside Press,QP 7,Quayside,http://www.color.org,quayside.icc,free to hand on,3 mm,yes,250,280,told
""",
}
# Water in g, the dial in °C, minutes, and what came of it: moisture in per cent, grams in and cooled.
MADE = [
    (70, 155, 22, 4.1, 372, 267), (60, 155, 22, 3.7, 362, 265), (80, 155, 22, 4.4, 381, 267),
    (70, 150, 22, 4.4, 372, 268), (70, 160, 22, 3.6, 372, 265), (70, 155, 20, 4.5, 372, 268),
    (70, 155, 24, 3.4, 372, 265), (60, 150, 24, 3.4, 362, 265), (80, 160, 20, 4.6, 381, 268),
    (80, 150, 22, 4.8, 381, 268), (60, 160, 22, 3.2, 362, 264), (70, 155, 22, 3.9, 372, 266),
]  # fmt: skip
OFFSET = 12
AIM = """\
aim:
  measure: moisture
  target: 4 %
  levers: [60 to 80 g water, {heat: 160 to 175 °C}, {time: 20 to 26 min}]
"""
OURS, BOUGHT = (7, 8, 7, 6, 8, 7, 9, 7), (6, 6, 7, 5, 6, 7, 6, 6)
RECIPE = """\
title: Fenwick blue oat thins
kind: cheese-thin
headnote: >
  Thin, brittle and savoury, with the cheese baked into the dough so that every crispbread tastes of it. Oat
  flour makes them short, and a little wheat flour holds them together. They want a slow, thorough bake.
yield: {makes: 40 pieces}
time: {active: 25 min, total: 1 h}
equipment: [two half-sheet pans, rolling pin, parchment paper]
ingredients:
  - 150 g oat flour
  - 60 g all-purpose flour
  - 50 g Fenwick blue, crumbled
  - 40 g unsalted butter, cold
  - 3 g fine salt
  - 10 g honey
  - 70 g water
steps:
  - Heat the oven to 155 °C with racks in the upper and lower thirds.
  - Rub the butter and the cheese into the flours and the salt until it looks like crumbs.
  - Stir in the honey and the water, and press the dough together.
  - Roll out between two sheets of parchment paper to 2 mm, lift off the upper sheet, and cut into 40 pieces.
  - Bake on the two half-sheet pans for 22 minutes, until dry and gold at the edges. Let cool until crisp.
storage: Keeps one week in an airtight tin at room temperature.
tested: {trial: 12}
"""
# Baked to 4 % of water it weighs 230.27 g. Its label was worked out from SR 28, foods 20038, 01009, 04584,
# 19296 and 02047, and rounded by the laws' rules.
MIXED = {
    "rolled oats": 150,
    "cheddar cheese": 60,
    "sunflower oil": 30,
    "honey": 14,
    "fine salt": 4,
    "water": 80,
}
FINISHED = 230.27
TEARDOWN = """\
product: Oat and cheese thins from a shop
ingredients: [rolled oats, cheddar cheese, sunflower oil, honey, fine salt]
serving: 30 g
per_serving: {calories: 150, total_fat: 8 g, saturated_fat: 2 g, sodium: 250 mg, protein: 5 g}
labels:
  - law: EU
    ingredients: [rolled oats (65 %), cheddar cheese (26 %), sunflower oil, honey, fine salt]
    per_100_g: {fat: 26 g, saturates: 7.0 g, sugars: 5.1 g, fibre: 6.9 g, protein: 17 g, salt: 2.1 g}
moisture: 3 to 5 %
loss: 25 to 40 %
"""


def trials() -> str:
    """The twelve as she wrote them."""
    lines = ["trials:"]
    for number, (water, dial, minutes, moisture, into, cooled) in enumerate(MADE, 1):
        ways = [f"at {dial} °C"] * (dial != 155) + [f"for {minutes} minutes"] * (minutes != 22)
        method = f', method: ["Bake {" ".join(ways)}."]' if ways else ""
        change = f", change: [{water} g water]" if water != 70 else ""
        formula = (
            f"from: 1{change}{method}"
            if number > 1
            else "ingredients: [150 g oat flour, 60 g all-purpose flour, 50 g Fenwick blue, "
            "40 g unsalted butter, 3 g fine salt, 10 g honey, 70 g water]"
        )
        log = f'["09:00 bake, {dial} °C", "09:{minutes} out", "09:{minutes} cool", "10:30 crisp"]'
        call = "settle" if number == len(MADE) else "keep"
        lines.append(
            f"  - {{trial: {number}, date: 2026-03-{number:02}, cook: H. Tarn, kitchen: test kitchen, "
            f"{formula}, oven: {{name: oven A, set: {dial} °C, offset: +{OFFSET} °C}}, process: {log}, "
            f"measured: {{in: {into} g, cooled: {cooled} g, pieces: 40, moisture: {moisture} %}}, "
            f"verdict: {{call: {call}}}}}"
        )
    return "\n".join((*lines, AIM)) + "\n"


def tasting(codes: tuple[str, ...] = ()) -> str:
    """The tasting beside the bought one; with the samples' codes, its results."""
    scored = [
        f"{{taster: {taster}, code: {code}, liking: {score}}}"
        for taster, scores in enumerate(zip(OURS, BOUGHT, strict=True), 1)
        for code, score in zip(codes, scores, strict=False)
    ]
    told = "name: shop, test: liking, trials: [12, bought], tasters: 8, seed: 605"
    return f"tastings: [{{{told}, results: [{', '.join(scored)}]}}]\n"


def words(pdf: Path) -> str:
    read = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, check=True)
    return " ".join(read.stdout.decode().split())


def line_by_hand(rows: list[tuple[float, ...]]) -> tuple[np.ndarray, np.ndarray, np.ndarray, float, int]:
    """Moisture as a line of water, true heat and minutes: rows, coefficients, inverse, deviation, degrees."""
    x = np.array([(1, water, dial + OFFSET, minutes) for water, dial, minutes, *_ in rows], dtype=float)
    y = np.array([row[3] / 100 for row in rows])
    found = np.linalg.lstsq(x, y, rcond=None)[0]
    degrees = len(rows) - 4
    deviation = float(np.sqrt(((y - x @ found) ** 2).sum() / degrees))
    return x, found, np.linalg.inv(x.T @ x), deviation, degrees


def test_a_kitchen_of_one_s_own_from_an_empty_folder_to_the_card(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    root = tmp_path / "fenwick kitchen"
    root.mkdir()
    monkeypatch.chdir(root)

    def told(*command: str, code: int = FINE) -> str:
        assert main(list(command)) == code, capsys.readouterr()
        return capsys.readouterr().out

    # Its facts: a cheese that it weighed itself, a kind, a word, a printer.
    told("new", "oat-thins")
    weighed = "1 cup = 118 g, 121 g, 120 g, 123 g, 119 g"
    added = ["--role", "cheese", "--allergens", "milk", "--weighs", weighed, "--source", "weighed here"]
    assert "120.2 g (n = 5, 118 to 123 g, standard deviation 1.9 g)" in told(
        "larder", "add", "Fenwick blue", *added
    )
    tables, folder = root / "templates/tables", root / "recipes/oat-thins"
    for name, text in TABLES.items():
        (tables / name).write_text(text, "utf-8")
    shutil.copy(ROOT / "cardsmith/reference/icc/TR006_coated.icc", tables / "quayside.icc")
    house = root / "templates/house.yaml"
    house.write_text(house.read_text("utf-8").replace("printers: [offset]", "printers: [quayside]"), "utf-8")
    (folder / "recipe.yaml").write_text(RECIPE, "utf-8")
    (folder / "trials.yaml").write_text(trials(), "utf-8")
    (folder / "teardown.yaml").write_text(TEARDOWN, "utf-8")

    # The oven is 12 degrees hotter than its dial, and a word is not the house's.
    asked = told("check")
    assert "the food met 167 °C (dial 155 °C, offset +12 °C) in trials 1 and 12" in asked
    assert "“crispbread” is “thin” in this house" in asked
    mended = RECIPE.replace("every crispbread", "every thin").replace("oven to 155", "oven to 165")
    (folder / "recipe.yaml").write_text(mended, "utf-8")
    asked = told("check")
    assert "warning" not in asked
    assert "house-word" not in asked

    # Twelve trials: the line through them, and what each was expected to give.
    known = json.loads(told("bench", "next", "oat-thins", "--json"))
    x, line, inverse, deviation, degrees = line_by_hand(MADE)
    reach = stats.t.ppf(1 - 0.05 / 2 / 3, degrees)
    assert known["degrees_of_freedom"] == degrees
    assert known["deviation"] == pytest.approx(deviation)
    assert [one["factor"] for one in known["effects"]] == ["water", "true heat", "bake time"]
    for at, effect in enumerate(known["effects"], 1):
        assert effect["each"] == pytest.approx(line[at])
        assert effect["half_interval"] == pytest.approx(reach * deviation * np.sqrt(inverse[at, at]))
    assert [one["trial"] for one in known["checked"]] == [7, 8, 9, 10, 11, 12]
    for one in known["checked"]:
        before, row = MADE[: one["trial"] - 1], x[one["trial"] - 1]
        _, line, inverse, deviation, degrees = line_by_hand(before)
        half = stats.t.ppf(0.975, degrees) * deviation * np.sqrt(1 + row @ inverse @ row)
        assert (one["expected"], one["half_interval"]) == pytest.approx((row @ line, half))

    # The balance by hand, water by SR 28 and the dairy: of 383 g of dough 119.37 g are water.
    water = 150 * 0.0855 + 60 * 0.1192 + 50 * 0.41 + 40 * 0.1794 + 3 * 0.002 + 10 * 0.171 + 70
    left = 1 - 372 * (1 - water / 383) / 267
    made_under = told("bench", "history", "oat-thins").partition("Made under")[2]
    row = next(line for line in made_under.split("\n") if line.startswith("T1 "))
    assert row.split("  ")[-1].strip() == f"{left * 100:.1f} %"
    assert "167 °C" in row

    # The bought one: its formula lies inside every bound, and eight tasters like it less.
    bounds = json.loads(told("bench", "teardown", "oat-thins", "--json"))["ingredients"]
    assert {one["item"] for one in bounds} == set(MIXED)
    for one in bounds:
        assert one["least"] <= MIXED[one["item"]] / FINISHED * 100 <= one["most"], one
    (folder / "trials.yaml").write_text(trials() + tasting().replace(", results: []", ""), "utf-8")
    told("bench", "taste", "oat-thins", "shop", "--ballots")
    ballots, order = (
        words(root / f"build/bench/oat-thins/{one}-shop.pdf") for one in ("ballots", "serving-order")
    )
    assert not re.search(r"shop|bought|trial|thins", ballots)
    codes = tuple(re.findall(rf"(\d{{3}}) = {one}", order)[0] for one in ("trial 12", "the bought one"))
    (folder / "trials.yaml").write_text(trials() + tasting(codes), "utf-8")
    apart = np.subtract(OURS, BOUGHT)
    low, high = stats.t.interval(0.95, 7, apart.mean(), stats.sem(apart))
    said = told("bench", "taste", "oat-thins", "shop")
    assert f"+{apart.mean() + 1e-9:.1f} (95 % interval +{low:.1f} to +{high:.1f})" in said

    # A cross-test from one column, read back as a trial of another oven; the next one starts from the bench.
    told("bench", "pack", "oat-thins", "--for", "R. Ayre", "--column", "us")
    form = root / "build/bench/oat-thins/pack-r-ayre-us/form.yaml"
    answers = {
        "date": "2026-03-24", "kitchen": "home kitchen", "set": "330 °F", "offset": "+5 °F", "in": "13 oz",
        "cooled": "9.35 oz", "pieces": "38", "call": "keep",
    }  # fmt: skip
    text = form.read_text("utf-8")
    for key, answer in answers.items():
        text = re.sub(rf"(?m)^( *{key}:) .*$", rf"\1 {answer}", text, count=1)
    form.write_text(text.replace("22 minutes, took: }", "22 minutes, took: 23 min}"), "utf-8")
    assert "The form is trial 13" in told("bench", "pack", "oat-thins", "--read", str(form))
    assert "168.3 °C" in told("bench", "history", "oat-thins")
    assert "starts from trial 12" in told("bench", "next", "oat-thins")
    assert "not yet tested by the house's rule: a make from the metric column" in told("check")

    # The report and the card.
    told("bench", "report", "oat-thins")
    paper = words(root / "build/bench/oat-thins/report.pdf")
    assert "5 g more water: +0.196 points (interval +0.149 to +0.242; tried from 60 to 80 g)" in paper
    assert "trial 12: expected 4.01 % (3.86 to 4.16), got 3.9 %" in paper
    told("build")
    card = words(root / "build/cards/oat-thins/oat-thins-screen.pdf")
    for printed in ("50 g Fenwick blue", "330 °F (165 °C)", "Contains milk, wheat"):
        assert printed in card
    assert "EU list" not in card
    with pikepdf.open(root / "build/cards/oat-thins/oat-thins-press.pdf") as press:
        (intent,) = press.Root.OutputIntents
        assert str(intent.OutputConditionIdentifier) == "QP 7"
