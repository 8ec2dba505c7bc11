"""A publication with facts of its own, a cheese, a kind, words, a pan, a can, a vessel, a dial."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from cardsmith.commands.main import FINE, FOUND, MISUSED, main

ROOT = Path(__file__).parents[2]
TABLES = {
    "larder": """\
# from the dairy next door
key,name,aisle,state,us_print,roles,us_allergens,eu_allergens,origin,source
fenwick-blue,Fenwick blue,dairy,solid,weight,cheese:1|water:0.42|fat:0.29|salt:0.02,milk,milk,milk,label
""",
    "larder_measures": """\
key,form,measure,amount,grams,source
fenwick-blue,crumbled,cup,1,120,"weighed here, n = 5"
canned-chickpea,,can,1,240,label
""",
    "composition": """\
food,water_g,energy_kcal,protein_g,fat_g,saturated_fat_g,carbohydrate_g,sugars_g,sodium_mg,source
fenwick-blue,42,353,21,29,19,2,0.5,1150,label
""",
    "kinds": "kind,about,aliases,source\nharbour-rusk,twice-baked rye bread,rusk,house rule\n",
    "ratios": """\
kind,ratio,numerator,denominator,told,low,typical,high,unit,needed,source
harbour-rusk,hydration,water:1,flour:1,the flour,55,62,70,%,yes,our trials
""",
    "kind_losses": """\
kind,low,typical,high,portion_least,portion_most,source
harbour-rusk,28,33,40,20,90,our trials
""",
    "kind_groups": "kind,heading,course,source\nharbour-rusk,Rusks,Bread,house rule\n",
    "style_words": """\
language,house,instead_of,why,source
,baking tin,baking pan,so our readers say,house rule
""",
    "pans": """\
shape,inches,inches_across,inches_deep,centimetres,centimetres_across,centimetres_deep,source
rectangle,21,4,2,54,10,5,measured here
""",
    "oven_dials": "fahrenheit,celsius,gas_mark,fan_celsius,usual,source\n345,172,,,no,dial of oven A\n",
    "vessels": "word,source\ncazuela,house rule\n",
}
RECIPE = """\
title: Blue rusks
kind: harbour-rusk
headnote: >
  Dark, dry and sharp, with the blue of the next valley crumbled over while they are warm. They keep for weeks
  in a tin, and want nothing beside them but a pear; the second baking is what makes them snap and not bend.
yield: {makes: 12 rusks, serves: 6}
time: {active: 30 min, total: 2 h}
ingredients:
  - 300 g whole-grain rye flour
  - 186 g water
  - 5 g fine salt
  - 1 cup crumbled Fenwick blue
steps:
  - Heat the oven to 345 °F with a rack in the middle. Line a 21 by 4-inch loaf pan.
  - Knead the flour, water and salt, and rest them in a 10-inch cazuela for 20 minutes.
  - Bake for 40 to 45 minutes, until the crust is dry and dark. Crumble the Fenwick blue over.
storage: Keeps two weeks in an airtight tin.
"""
CARD = "build/cards/blue-rusks/blue-rusks.json"


@pytest.fixture
def kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    root = tmp_path / "north-quay"
    root.mkdir()
    monkeypatch.chdir(root)
    assert main(["new", "blue-rusks"]) == FINE
    write(root, RECIPE)
    (root / "templates/tables").mkdir()
    for name, text in TABLES.items():
        (root / f"templates/tables/{name}.csv").write_text(text, encoding="utf-8")
    return root


def write(root: Path, text: str) -> None:
    (root / "recipes/blue-rusks/recipe.yaml").write_text(text, encoding="utf-8")


def card(root: Path) -> dict[str, object]:
    told: dict[str, object] = json.loads((root / CARD).read_text(encoding="utf-8").replace("\u00a0", " "))
    return told


def findings(capsys: pytest.CaptureFixture[str]) -> dict[str, str]:
    capsys.readouterr()
    main(["check", "--json"])
    return {one["name"]: one["what"] for one in json.loads(capsys.readouterr().out)["findings"]}


def test_its_own_facts_make_the_card(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert findings(capsys) == {}
    assert main(["build", "--serial", "--pages"]) == FINE
    made = card(kitchen)
    assert made["allergens"] == {"us": ["milk"], "eu": ["cereals containing gluten", "milk"], "unknown": []}
    (part,) = made["parts"]  # type: ignore[misc]
    cheese = part["ingredients"][3]["amount"]
    assert cheese["metric"]["text"] == "120 g"
    assert cheese["rests_on"] == "120 g per cup, crumbled (weighed here, n = 5)"
    said = " ".join(step["text"] for step in part["steps"])
    assert "345 °F (172 °C)" in said
    assert "21-by-4-inch (54 × 10 cm) loaf pan" in said
    assert "10-inch (25 cm) cazuela" in said
    assert main(["portion", "blue-rusks"]) == FINE
    told = capsys.readouterr().out
    assert "a harbour rusk usually loses 28 to 40 %, mostly 33 % (our trials)" in told
    assert "own figures: crumbled Fenwick blue (label)." in told
    assert "SR 28 has no row for" not in told


CHEESE = "- 1 cup crumbled Fenwick blue"
FAULTY: list[tuple[str, str, str, str]] = [
    ("- 186 g water", "- 90 g water", "low-hydration", "harbour rusk"),
    ("Line a 21 by 4-inch loaf pan", "Line a baking pan", "house-word", "“baking tin” in this house"),
    (
        "- 1 cup crumbled Fenwick blue",
        "- 1 can chickpeas, drained",
        "container-without-size",
        "how much does one",
    ),
    (CHEESE, "- 1 cup crumbled Fenwick blu", "unknown-ingredient", "Fenwick blu"),
]


@pytest.mark.parametrize(("before", "after", "name", "said"), FAULTY, ids=[one[2] for one in FAULTY])
def test_its_own_facts_take_part_in_checks(
    kitchen: Path, before: str, after: str, name: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    write(kitchen, RECIPE.replace(before, after))
    assert said in findings(capsys)[name]


BOUNDS = "kind,energy_least,energy_most,salt_most,source\nharbour-rusk,10,40,9,ours\n"
FILL = "kind,density,least,most,told,source\nharbour-rusk,1,{ends},½ to ⅔,ours\n"
MARK = "mark,generic,source\nQuillpot,slow cooker,ours\n"
MORE: list[tuple[str, str, str, str, str]] = [  # a table more, what the recipe says, and what is found
    ("portion_bounds", BOUNDS, "", "portion-energy-implausible", "has 10 to 40 kcal"),
    ("pan_fills", FILL.format(ends="0.8,0.9"), "", "pan-too-large", "½ to ⅔ is usual"),
    ("pan_fills", FILL.format(ends="0.01,0.05"), "", "pan-too-small", "½ to ⅔ is usual"),
    (
        "trademarks",
        "mark,generic,source\nQuillpot,slow cooker,ours\n",
        "Use a Quillpot.",
        "trademark",
        "Quillpot",
    ),
    (
        "spelling_pairs",
        "us,uk,source\nrusky,rusquey,ours\n",
        "It is rusquey, rusquey and of a fine color.",
        "spelling-mixed",
        "“color” beside “rusquey”",
    ),
]


@pytest.mark.parametrize(("table", "text", "said", "name", "found"), MORE, ids=[one[3] for one in MORE])
def test_more_tables_take_part(
    kitchen: Path,
    table: str,
    text: str,
    said: str,
    name: str,
    found: str,
    capsys: pytest.CaptureFixture[str],
) -> None:
    (kitchen / f"templates/tables/{table}.csv").write_text(text, encoding="utf-8")
    write(kitchen, RECIPE.replace("storage: ", f"notes: [{said}]\nstorage: ") if said else RECIPE)
    assert found in findings(capsys)[name]


def test_what_a_food_of_the_house_is_made_of_is_declared(
    kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (kitchen / "templates/tables/compounds.csv").write_text(
        "food,us,eu,us_allergens,eu_allergens,source\n"
        'fenwick-blue,"milk, salt, walnut oil",,tree nuts,nuts,label\n',
        encoding="utf-8",
    )
    assert main(["portion", "blue-rusks"]) == FINE
    assert "Fenwick blue (milk, salt, walnut oil)" in capsys.readouterr().out
    assert main(["build", "--serial", "--pages"]) == FINE
    assert card(kitchen)["allergens"]["us"] == ["milk", "possibly tree nuts"]  # type: ignore[index]


def test_a_can_of_the_house_is_proposed(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(kitchen, RECIPE.replace(CHEESE, "- 1 can chickpeas, drained"))
    main(["check"])
    assert "such as “1 (240 g) can”" in capsys.readouterr().out


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two recipes of one house, of which one has the cheese, built."""
    root = tmp_path_factory.mktemp("built") / "kitchen"
    with pytest.MonkeyPatch.context() as patched:
        root.mkdir()
        patched.chdir(root)
        assert main(["new", "blue-rusks"]) == FINE
        write(root, RECIPE)
        shutil.copytree(ROOT / "recipes/mustard-dressing", root / "recipes/mustard-dressing")
        (root / "templates/tables").mkdir()
        for name, text in TABLES.items():
            (root / f"templates/tables/{name}.csv").write_text(text, encoding="utf-8")
        main(["build", "--pages", "--serial"])
    return root


def _edit(name: str, before: str, after: str) -> Callable[[Path], None]:
    def change(root: Path) -> None:
        file = root / f"templates/tables/{name}.csv"
        text = file.read_text(encoding="utf-8")
        assert before in text
        file.write_text(text.replace(before, after), encoding="utf-8")

    return change


CHANGES: list[tuple[str, Callable[[Path], None], bool]] = [
    ("a weight", _edit("larder_measures", "1,120,", "1,128,"), True),
    ("a dial", _edit("oven_dials", "345,172", "345,174"), True),
    ("a remark", _edit("larder", "# from the dairy", "# bought from the dairy"), False),
    ("another food's weight", _edit("larder_measures", "1,240,", "1,250,"), False),
]


@pytest.mark.parametrize(("change", "is_made"), [one[1:] for one in CHANGES], ids=[one[0] for one in CHANGES])
def test_a_changed_row_makes_the_cards_on_which_it_shows(
    built: Path,
    tmp_path: Path,
    change: Callable[[Path], None],
    is_made: bool,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    root = tmp_path / "kitchen"
    shutil.copytree(built, root, symlinks=True)
    monkeypatch.chdir(root)
    pages = {name: root / f"build/cards/{name}/{name}.json" for name in ("blue-rusks", "mustard-dressing")}
    before = {name: page.stat().st_mtime_ns for name, page in pages.items()}
    change(root)
    main(["build", "--pages", "--jobs", "2"])
    anew = {name for name, page in pages.items() if page.stat().st_mtime_ns != before[name]}
    assert anew == ({"blue-rusks"} if is_made else set())


def test_a_row_that_is_wrong_stops_every_command_with_its_line(
    kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _edit("larder", ",milk,milk,milk,", ",,milk,milk,")(kitchen)
    _edit("oven_dials", "345,172", "345,190")(kitchen)
    capsys.readouterr()
    for command in (["check"], ["build"], ["larder", "rye"], ["portion", "blue-rusks"]):
        assert main(command) == MISUSED
        told = capsys.readouterr().err
        assert "larder.csv:3: fenwick-blue: its us_allergens is empty; write such as milk" in told
        assert "oven_dials.csv:2: a setting: 345 °F is 174 °C, not 190" in told
    assert main(["explain", "tables"]) == FINE


def test_its_own_kind_is_explained(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    capsys.readouterr()
    assert main(["explain", "rusk"]) == FINE
    told = capsys.readouterr().out
    assert "harbour-rusk: twice-baked rye bread" in told
    assert "water: 55 to 70 % of the flour [our trials]" in told
    assert "weight lost in cooking: 28 to 40 %" in told
    assert main(["explain", "larder.csv"]) == FINE
    assert "us_allergens (text, required)" in capsys.readouterr().out


def test_two_houses_in_one_process_do_not_meet(
    kitchen: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    other = kitchen.with_name("south-quay")
    shutil.copytree(kitchen, other, symlinks=True)
    shutil.rmtree(other / "templates/tables")
    found = []
    for root in (kitchen, other, kitchen, other):
        monkeypatch.chdir(root)
        found.append(findings(capsys))
    assert found[0] == found[2] == {}
    assert found[1] == found[3]
    assert "unknown-ingredient" in found[1]


def test_without_its_tables_the_cheese_is_strange(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.rmtree(kitchen / "templates/tables")
    assert {"unknown-ingredient", "unknown-kind"} <= findings(capsys).keys()
    assert main(["check"]) in (FINE, FOUND)
