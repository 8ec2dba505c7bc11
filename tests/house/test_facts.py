"""A house's own facts: what each bad row is told, and that good ones join our tables in place of ours."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cardsmith.check.formula.ratios import ratios
from cardsmith.facts.kinds import kinds
from cardsmith.house.own.cells import roles
from cardsmith.house.own.fact_tables import FACTS
from cardsmith.house.own.facts import BOTH_LAWS, SCALES, with_facts
from cardsmith.house.own.tables import OwnTables, read_tables
from cardsmith.measure.larder import load_larder, parts
from cardsmith.measure.oven import dials
from cardsmith.measure.pans import INCH, edges
from cardsmith.measure.units import units
from cardsmith.measure.weighing import density, refuse
from cardsmith.portion.shares import uptakes
from cardsmith.reference import OURS, folder, table

FOOD = "key,name,aisle,state,us_print,roles,us_allergens,eu_allergens,origin,source"
BLUE = "fenwick-blue,Fenwick blue,dairy,solid,weight,cheese:1|water:0.42,milk,milk,milk,label"
WEIGHT = "key,form,measure,amount,grams,source"
KIND, RUSK = "kind,about,aliases,source", "harbour-rusk,twice-baked bread,rusk,ours"
BAND = "kind,ratio,numerator,denominator,told,low,typical,high,unit,source"
CONTENT = "food,water_g,energy_kcal,protein_g,fat_g,carbohydrate_g,sodium_mg,source"
LOSS = "kind,low,typical,high,portion_least,portion_most,source"
PAN = "shape,inches,inches_across,inches_deep,centimetres,centimetres_across,centimetres_deep,source"
DIAL = "fahrenheit,celsius,usual,source"
WORDS = "language,house,instead_of,why,source"
TRIM = "food,unless,percent,why,source"
WET = "cracker,hydration,water:1,flour:1,the flour"


def read(folder: Path, **tables: tuple[str, ...]) -> OwnTables:
    folder.mkdir(exist_ok=True)
    for name, lines in tables.items():
        (folder / f"{name}.csv").write_text("\n".join((*lines, "")), encoding="utf-8")
    return with_facts(read_tables(folder))


def food(**changed: str) -> str:
    cells = dict(zip(FOOD.split(","), BLUE.split(","), strict=True)) | changed
    return ",".join(cells.values())


BAD = [  # table, its lines, the line at fault, what is said of it
    (
        "larder",
        (FOOD, food(key="Fenwick blue")),
        2,
        "its key: “Fenwick blue” is not a key; write small letters",
    ),
    ("larder", (FOOD, food(source="")), 2, "fenwick-blue: its source is empty; write such as"),
    ("larder", (FOOD, food(us_allergens="")), 2, "its us_allergens is empty; write such as milk"),
    ("larder", (FOOD, food(us_allergens="milkk")), 2, "its us_allergens: “milkk” is not known; write milk"),
    ("larder", (FOOD, food(eu_allergens="none")), 2, "us_allergens have milk, eu_allergens lack milk"),
    (
        "larder",
        (FOOD, food(us_allergens="none", eu_allergens="none")),
        2,
        "it comes from milk",
    ),
    ("larder", (FOOD, food(roles="cheeze:1")), 2, "its roles: “cheeze” is not known; write cheese"),
    (
        "larder",
        (FOOD, food(roles="cheese:1.2")),
        2,
        "“cheese:1.2” is not a share; write cheese:",
    ),
    ("larder", (FOOD, food(aisle="cheese")), 2, "its aisle: “cheese” is not known"),
    ("larder", (FOOD, food(state="hard")), 2, "its state: “hard” is not known; write one of powder"),
    ("larder", (FOOD, food(name="blue cheese")), 2, "“blue cheese” is a name of blue-cheese; write another"),
    (
        "larder",
        (FOOD, food(key="cheddar", name="cheddar", roles="condiment:1")),
        2,
        "cheddar: ours of this key is mainly cheese, and this row is not",
    ),
    (
        "larder",
        (FOOD, food(key="walnut", name="walnut", roles="nut:1")),
        2,
        "walnut: ours of this key has tree nuts for us_allergens, and this row has not",
    ),
    ("larder", (FOOD, BLUE, BLUE), 3, "“fenwick-blue” stands in line 2 already"),
    ("larder", (FOOD, BLUE, food(key="other")), 2, "“Fenwick blue” is a name of other"),
    (
        "larder_measures",
        (WEIGHT, "honeyy,,cup,1,300,here"),
        2,
        "no table has a key of this name; write honey",
    ),
    (
        "larder_measures",
        (WEIGHT, "honey,,cup,1,900,here"),
        2,
        "not a weight of a paste; write 47.3",
    ),
    ("larder", (FOOD, food(name="..")), 2, "its name: “..” has no word in it"),
    ("larder_measures", (WEIGHT, "honey,,cup,one,340,here"), 2, "its amount: “one” is not a number"),
    ("larder_measures", (WEIGHT, "honey,,cup,0,340,here"), 2, "its amount: it is nothing; write more than 0"),
    ("larder_measures", (WEIGHT, "honey,,cups,1,340,here"), 2, "its measure: “cups” is not known; write cup"),
    ("larder_measures", (WEIGHT, "honey,heaped,cup,1,340,here"), 2, "its form: “heaped” is not known"),
    (
        "larder_measures",
        (f"{WEIGHT},grams_low", "honey,,cup,1,339,here,350"),
        2,
        "honey: grams_low is 350, and grams 339",
    ),
    ("composition", (CONTENT, "honey,60,300,0,0,82,4,label"), 2, "honey: 100 g hold 142 g of water, protein"),
    (
        "trims",
        (TRIM, "role:fisch,,40,bones,here"),
        2,
        "“fisch” is not known",
    ),
    (
        "trims",
        (TRIM, "cod,,140,bones,here"),
        2,
        "“140” is more than 99",
    ),
    (
        "uptakes",
        ("way,of,low,likely,high,about,source", "brine,line,20,14,22,ours,here"),
        2,
        "brine: low is 20, and likely 14",
    ),
    ("kinds", (KIND, "rusk,bread,cracker,ours"), 2, "a kind: 'cracker' stands for two kinds"),
    ("ratios", (BAND, "rusks,hydration,water:1,flour:1,the flour,55,62,70,%,ours"), 2, "no table has a kind"),
    (
        "ratios",
        (BAND, f"{WET},72,62,70,%,ours"),
        2,
        "low is 72, and typical 62",
    ),
    (
        "ratios",
        (BAND, "cracker,wetness,water:1,flour:1,the flour,5,6,7,%,ours"),
        2,
        "its ratio: “wetness”",
    ),
    (
        "ratios",
        (BAND, f"{WET},,62,,%,ours"),
        2,
        "has no low and no high",
    ),
    (
        "kind_losses",
        (LOSS, "cracker,20,30,140,10,90,ours"),
        2,
        "“140” is more than 99; write 0 to 99",
    ),
    ("kind_losses", (LOSS, "cracker,20,30,40,90,10,ours"), 2, "portion_least is 90, and portion_most 10"),
    ("pans", (PAN, "round,9,,2,30,,5,here"), 2, "a pan: 228.6 mm and 300 mm are not one edge"),
    ("pans", (PAN, "round,14,,2,35,,5,here"), 2, "an edge is 14 in and 36 cm, another 14 in and 35 cm"),
    ("oven_dials", (DIAL, "345,190,no,oven A"), 2, "a setting: 345 °F is 174 °C, not 190"),
    ("oven_dials", (DIAL, "345,174.5,no,oven A"), 2, "its celsius: “174.5” is not a whole number"),
    (
        "style_words",
        (WORDS, "en-US,moist,tender,ours,ours", ",,moist,ours,ours"),
        2,
        "“moist” is written",
    ),
    ("style_words", (WORDS, "fr,courgette,zucchini,ours,ours"), 2, "its language: “fr” is not known"),
]


@pytest.mark.parametrize(("name", "lines", "line", "said"), BAD, ids=[f"{one[0]}: {one[3]}" for one in BAD])
def test_a_bad_row_is_told_with_its_line(
    tmp_path: Path, name: str, lines: tuple[str, ...], line: int, said: str
) -> None:
    own = read(tmp_path / "tables", **{name: lines})
    told = [f"{one.what}; {one.instead}" for one in own.faults if one.where.line == line]
    assert any(said in one for one in told), [str(one) for one in own.faults]
    assert all(one.where.file.endswith(f"{name}.csv") for one in own.faults)


def test_all_that_is_wrong_is_told_at_once(tmp_path: Path) -> None:
    own = read(
        tmp_path / "tables",
        larder=(FOOD, food(state="hard", source=""), food(key="other", name="Other", roles="x:1")),
        larder_measures=(WEIGHT, "fenwick-blue,,cup,1,120,here", "nothing,,cup,1,120,here"),
        oven_dials=(DIAL, "345,190,no,oven A"),
    )
    assert [(Path(one.where.file).stem, one.where.line) for one in own.faults] == [
        *(("larder", 2), ("larder", 2), ("larder", 3)),
        ("larder_measures", 3),  # of the cheese itself nothing more: its own row is told
        ("oven_dials", 2),
    ]


def test_no_table_leaves_ours_as_they_are(tmp_path: Path) -> None:
    own = read(tmp_path / "tables")
    assert own.reference == OURS
    assert own.reference.rows("kinds") is table("kinds")


def test_a_food_joins_the_larder_and_a_weight_takes_the_place_of_ours(tmp_path: Path) -> None:
    own = read(
        tmp_path / "tables",
        larder=("# the dairy next door", FOOD, BLUE),
        larder_measures=(WEIGHT, "fenwick-blue,crumbled,cup,1,120,here", "honey,,cup,1,330,here"),
        trims=(TRIM, "role:cheese,rindless,6,rind,here"),
    )
    assert own.faults == ()
    larder = load_larder(own.reference)
    match = larder.find("crumbled Fenwick blue")
    assert match is not None
    assert (match.food.key, match.form, match.food.us_allergens) == ("fenwick-blue", "crumbled", ("milk",))
    assert match.food.place.endswith("larder.csv:3")
    assert refuse(match.food, "fenwick blue") == (Fraction(6, 100), "rind: here")
    assert refuse(match.food, "rindless fenwick blue")[0] == 0
    honey = density(larder.foods["honey"])
    assert honey is not None
    assert honey.basis == "330 g per cup (here)"
    assert len(larder.foods) == len(load_larder().foods) + 1
    assert load_larder().find("Fenwick blue") is None


def test_a_row_with_our_key_takes_the_place_of_ours(tmp_path: Path) -> None:
    ours = load_larder().foods["blue-cheese"]
    own = read(tmp_path / "tables", larder=(FOOD, food(key="blue-cheese", name="blue cheese")))
    assert own.faults == ()
    theirs = load_larder(own.reference).foods["blue-cheese"]
    assert (theirs.source, theirs.measures) == ("label", ours.measures)
    assert len(load_larder(own.reference).foods) == len(load_larder().foods)


def test_kinds_pans_and_dials_join_ours(tmp_path: Path) -> None:
    own = read(
        tmp_path / "tables",
        kinds=(KIND, RUSK),
        ratios=(BAND, "harbour-rusk,hydration,water:1,flour:1,the flour,55,62,70,%,ours"),
        pans=(PAN, "rectangle,21,4,2,53,10,5,here"),
        oven_dials=(DIAL, "345,174,no,oven A", "350,176,yes,oven A"),
    )
    assert own.faults == ()
    tables = own.reference
    assert kinds(tables)["rusk"] == "harbour-rusk"
    assert [one.typical for one in ratios(tables)["harbour-rusk"]] == [Fraction(62, 100)]
    assert ratios(tables)["cracker"] == ratios()["cracker"]
    assert edges(tables)["us"][21 * INCH] == 530
    found = {one.fahrenheit: one.celsius for one in dials(tables)}
    assert (found[345], found[350]) == (174, 176)
    assert list(found.values()) == sorted(found.values())


def test_what_is_thrown_away_joins_ours(tmp_path: Path) -> None:
    head, brine = "way,of,low,likely,high,about,source", "brine,line,8,14,22,what ours leaves,weighed here"
    own = read(tmp_path / "tables", uptakes=(head, brine))
    assert own.faults == ()
    found = uptakes(own.reference)
    assert (found["brine"].share.likely, found["brine"].source) == (Fraction(14, 100), "weighed here")
    assert found["marinade"] == uptakes()["marinade"]


@pytest.mark.parametrize("name", [name for name in FACTS if name not in ("composition", "vessels")])
def test_the_columns_are_those_of_our_own_table(name: str) -> None:
    ours = table(folder(name)[0] if folder(name) else name)
    added = {"larder": {"aisle"}}.get(name, set())
    assert {field.name for field in FACTS[name].columns.fields} == set(ours[0]) | added


def test_contents_have_the_columns_of_usda_sr_28() -> None:
    ours = set(table("usda_sr28/foods")[0]) - {"ndb_no", "food_group", "description"}
    assert {field.name for field in FACTS["composition"].columns.fields} == ours | {"food", "source"}


@pytest.mark.parametrize("name", FACTS)
def test_every_example_is_a_sound_cell(name: str) -> None:
    for field in FACTS[name].columns.fields:
        example = field.example.partition(": ")[2]
        if example:
            assert field.kind.made(example) is not None, field.name  # type: ignore[union-attr]


def test_our_own_tables_keep_these_rules() -> None:
    rows = [row for name in folder("larder") for row in table(name)]
    for row in rows:
        us, eu = ({one.removeprefix("?") for one in parts(row[f"{law}_allergens"])} for law in ("us", "eu"))
        grains = {"wheat"} if "cereals containing gluten" in eu else set()
        assert all(BOTH_LAWS[one] in eu for one in us - grains if one in BOTH_LAWS), row["key"]
        assert {role.partition(":")[0] for role in parts(row["roles"])} <= set(roles())
    for one in dials():
        fahrenheit = units()["degree Fahrenheit"].to_base(Fraction(one.fahrenheit))
        assert abs(fahrenheit - one.celsius) <= SCALES, one
