"""The tables of facts that a house may have rows of, column by column; printers and paper stand elsewhere."""

from __future__ import annotations

from collections.abc import Mapping

from cardsmith.frozen import frozen
from cardsmith.house.kinds import LANGUAGES
from cardsmith.house.own.cells import (
    AISLE,
    EU_CLASSES,
    FILED,
    FOOD_OR_ROLE,
    FOODS,
    FORM,
    KEY,
    LESS_THAN_ALL,
    MEASURE,
    NAME,
    NAMES,
    NAMES_THERE,
    NUMBER,
    ORIGINS,
    PERCENT,
    POSITIVE,
    RATIO,
    ROLES,
    SHARE,
    TERMS,
    TEXT,
    US_CLASSES,
    WHOLE,
    choice,
)
from cardsmith.recipe.schema.kinds import Key, Record, ValueKind, entry


@frozen
class FactTable:
    """A table that a house may have rows of.

    Each of ``keys`` tells a row from all others; the house's takes the place of ours with the same one.
    """

    about: str
    keys: tuple[tuple[str, ...], ...]
    columns: Record
    ascending: tuple[tuple[str, ...], ...] = ()  # columns whose figures don't fall from one to the next


def _need(name: str, kind: ValueKind, about: str, example: str) -> Key:
    return entry(name, kind, about, example, required=True)


def _may(name: str, kind: ValueKind, about: str, example: str = "") -> Key:
    return entry(name, kind, about, example)


def _of(*fields: Key) -> Record:
    return Record(fields=(*fields, _need("source", TEXT, "Who says so, and where.", "weighed here, n = 5")))


FACTS: Mapping[str, FactTable] = {
    "larder": FactTable(
        about="a food: its names, what it does in a formula, its allergens",
        keys=(("key",),),
        columns=_of(
            _need(
                "key",
                KEY,
                "Its own name in other tables: small letters, digits, hyphens; one of ours takes its place.",
                "fenwick-blue",
            ),
            _need("name", NAME, "As a list prints it, in the singular.", "Fenwick blue"),
            _may("uk_name", NAME, "Its name in Britain, where that is another."),
            _may(
                "aliases", NAMES, "Other names, none of them another food's.", "Fenwick blue cheese|Fenwick"
            ),
            _may("generic", NAMES, "Names too vague for print."),
            _need("aisle", AISLE, "Where a shop keeps it, as our tables are called.", "dairy"),
            _need(
                "state",
                choice("powder", "granule", "liquid", "paste", "solid", "piece", "leaf"),
                "How it fills a cup.",
                "solid",
            ),
            _need(
                "us_print",
                choice("volume", "weight", "count"),
                "What the US column measures it by.",
                "weight",
            ),
            _may(
                "roles",
                ROLES,
                "What it does in a formula, with its share of the mass, first what it mainly is.",
                "cheese:1|water:0.42|fat:0.29",
            ),
            _may(
                "ndb_no",
                FILED,
                "Its number in USDA SR 28, for its nutrients; empty where it has none.",
                "01004",
            ),
            _need(
                "us_allergens",
                US_CLASSES,
                "What every pack holds by US law; ?milk where it depends on the maker, none for none.",
                "milk",
            ),
            _need("eu_allergens", EU_CLASSES, "The same by Regulation (EU) 1169/2011.", "milk"),
            _need("origin", ORIGINS, "Where it comes from.", "milk"),
            _may("how_known", TEXT, "How the source was seen.", "label"),
        ),
    ),
    "larder_measures": FactTable(
        about="what a cup, a spoon, a piece or a can of a food weighs, by its form",
        keys=(("key", "form", "measure"),),
        columns=_of(
            _need("key", KEY, "Whose weight it is.", "fenwick-blue"),
            _may("form", FORM, "How it is cut or filled; empty for plain.", "crumbled"),
            _need("measure", MEASURE, "Cup, tablespoon, one, large, slice, can.", "cup"),
            _need("amount", POSITIVE, "How many of it.", "1"),
            _need("grams", POSITIVE, "What they weigh.", "120"),
            _may("grams_low", POSITIVE, "The least that was weighed.", "112"),
            _may("grams_high", POSITIVE, "The most that was weighed.", "126"),
            _may("how_known", TEXT, "How the source was seen.", "own scale"),
        ),
        ascending=(("grams_low", "grams", "grams_high"),),
    ),
    "composition": FactTable(
        about="what 100 g of a food hold, in place of USDA SR 28",
        keys=(("food",),),
        columns=_of(
            _need("food", KEY, "Whose content it is.", "fenwick-blue"),
            _may("water_g", NUMBER, "Water in 100 g, g; empty where nobody knows.", "42"),
            _need("energy_kcal", NUMBER, "Energy in 100 g, kcal.", "353"),
            _need("protein_g", NUMBER, "Protein in 100 g, g.", "21.4"),
            _need("fat_g", NUMBER, "Fat in 100 g, g.", "28.7"),
            _may("saturated_fat_g", NUMBER, "Saturated fat in 100 g, g; empty where nobody knows.", "18.7"),
            _may(
                "monounsaturated_fat_g", NUMBER, "Monounsaturated fat in 100 g, g; empty where nobody knows."
            ),
            _may(
                "polyunsaturated_fat_g", NUMBER, "Polyunsaturated fat in 100 g, g; empty where nobody knows."
            ),
            _may("cholesterol_mg", NUMBER, "Cholesterol in 100 g, mg; empty where nobody knows.", "75"),
            _need("carbohydrate_g", NUMBER, "Carbohydrate in 100 g, g.", "2.3"),
            _may("fibre_g", NUMBER, "Fibre in 100 g, g; empty where nobody knows.", "0"),
            _may("sugars_g", NUMBER, "Sugars in 100 g, g; empty where nobody knows.", "0.5"),
            _may("ash_g", NUMBER, "Ash in 100 g, g; empty where nobody knows."),
            _may("calcium_mg", NUMBER, "Calcium in 100 g, mg; empty where nobody knows.", "528"),
            _may("iron_mg", NUMBER, "Iron in 100 g, mg; empty where nobody knows."),
            _may("potassium_mg", NUMBER, "Potassium in 100 g, mg; empty where nobody knows."),
            _need("sodium_mg", NUMBER, "Sodium in 100 g, mg.", "1150"),
            _may("vitamin_d_ug", NUMBER, "Vitamin d in 100 g, µg; empty where nobody knows."),
            _may("refuse_percent", LESS_THAN_ALL, "What is thrown away of it, in per cent."),
            _may("refuse_description", TEXT, "What that is."),
        ),
    ),
    "compounds": FactTable(
        about="what a bought food is made of, as its label says",
        keys=(("food",),),
        columns=_of(
            _need("food", KEY, "What is made of these.", "fenwick-mustard"),
            _may("us", TEXT, "Its ingredients as a US label lists them.", "mustard seed, vinegar, salt"),
            _may("eu", TEXT, "As an EU label lists them.", "mustard seed, vinegar, salt"),
            _need(
                "us_allergens",
                US_CLASSES,
                "Allergens of these that the food itself does not name; none where there are none.",
                "none",
            ),
            _need("eu_allergens", EU_CLASSES, "The same by Regulation (EU) 1169/2011.", "mustard"),
        ),
    ),
    "trims": FactTable(
        about="what is cut away of a food, in per cent of its weight as bought",
        keys=(("food", "unless"),),
        columns=_of(
            _need(
                "food", FOOD_OR_ROLE, "A food, or all that mainly do one thing: role:fish.", "fenwick-blue"
            ),
            _may("unless", NAMES, "Words in the line that say it is not cut away.", "rindless"),
            _need("percent", LESS_THAN_ALL, "How much of its weight as bought.", "6"),
            _need("why", TEXT, "What is cut away.", "rind"),
        ),
    ),
    "uptakes": FactTable(
        about="how much is eaten of oil, a brine, a marinade or a can, in per cent",
        keys=(("way",),),
        columns=_of(
            _need(
                "way",
                choice("drained can", "frying oil", "marinade", "brine", "pan"),
                "What is thrown away otherwise.",
                "brine",
            ),
            _need(
                "of", choice("line", "food"), "Of its own line, or of the weight of the food in it.", "line"
            ),
            _need("low", PERCENT, "The least of it that is eaten.", "8"),
            _need("likely", PERCENT, "The likeliest.", "14"),
            _need("high", PERCENT, "The most.", "22"),
            _need("about", TEXT, "What it says in words.", "what our brine leaves in a chicken"),
        ),
        ascending=(("low", "likely", "high"),),
    ),
    "style_words": FactTable(
        about="a word that the house writes and those it doesn't; or those it never writes",
        keys=(("language", "house", "instead_of"),),
        columns=_of(
            _may(
                "language",
                choice(*LANGUAGES),
                "The house's language that it holds for; empty for any.",
                "en-US",
            ),
            _may("house", NAME, "The word that the house writes; empty where it has none.", "courgette"),
            _need("instead_of", NAMES, "The words that it does not write.", "zucchini|zucchinis"),
            _need("why", TEXT, "Why.", "our readers shop for it under this name"),
        ),
    ),
    "spelling_pairs": FactTable(
        about="a word spelled in two ways",
        keys=(("us",), ("uk",)),
        columns=_of(
            _need("us", NAME, "Its American spelling.", "yogurt"),
            _need("uk", NAME, "Its British spelling.", "yoghurt"),
            _may("au", NAME, "Its Australian spelling; empty where that is the British one.", "yoghurt"),
            _may("ending", choice("ize"), "Said where a British house may also write -ize.", "ize"),
        ),
    ),
    "edition_names": FactTable(
        about="a food's or a thing's name in each edition",
        keys=(("us", "uk", "au"),),
        columns=_of(
            _may("foods", FOODS, "The foods of the larder that go by it; empty for a thing.", "zucchini"),
            _need("us", NAMES_THERE, "Its names in the US; ? where nothing there is the same.", "zucchini"),
            _need("uk", NAMES_THERE, "Its names in the UK, the one to print first.", "courgette"),
            _need("au", NAMES_THERE, "Its names in Australia, the one to print first.", "zucchini"),
            _may(
                "when",
                choice("listed", "in list", "beaten", "equipment"),
                "Where it means this only beside its food or where that is beaten, or is said only there.",
                "listed",
            ),
            _may("why", TEXT, "Why the author is asked, where a name is ?.", "cream by its fat"),
        ),
    ),
    "trademarks": FactTable(
        about="a brand, and what to write for it",
        keys=(("mark",),),
        columns=_of(
            _need("mark", NAMES, "The brand's spellings.", "Quillpot"),
            _need("generic", NAME, "What to write for it.", "slow cooker"),
        ),
    ),
    "kinds": FactTable(
        about="a kind of recipe",
        keys=(("kind",),),
        columns=_of(
            _need("kind", KEY, "Its name in other tables.", "harbour-rusk"),
            _need("about", TEXT, "What it is.", "twice-baked rye bread"),
            _may("aliases", NAMES, "Other names for it, in small letters.", "rusk|rusks"),
        ),
    ),
    "ratios": FactTable(
        about="a proportion of a kind, in per cent or times",
        keys=(("kind", "ratio", "denominator"),),
        columns=_of(
            _need("kind", KEY, "A kind of ours or of the house.", "harbour-rusk"),
            _need("ratio", RATIO, "Its name: hydration.", "hydration"),
            _need("numerator", TERMS, "What is counted, by role.", "water:1"),
            _need("denominator", TERMS, "Of what.", "flour:1"),
            _need("told", TEXT, "That in words.", "the flour"),
            _may("low", NUMBER, "The least, in per cent or times.", "55"),
            _need("typical", POSITIVE, "What is usual.", "62"),
            _may("high", NUMBER, "The most.", "70"),
            _may("absurd_low", NUMBER, "What nobody can mean; empty for a tenth of the least."),
            _may("absurd_high", NUMBER, "What nobody can mean; empty for ten times the most."),
            _need("unit", choice("%", "times"), "What the figures are.", "%"),
            _may(
                "parts",
                choice("dough", "crust", "holding"),
                "Which parts are judged; empty for all but trimmings.",
            ),
            _may("needed", choice("yes"), "Whether none of it is a fault too.", "yes"),
            _may("how_known", TEXT, "How the source was seen.", "own trials"),
        ),
        ascending=(("low", "typical", "high"),),
    ),
    "kind_losses": FactTable(
        about="what a kind loses in cooking, in per cent of its list, and what a portion weighs, in g",
        keys=(("kind",),),
        columns=_of(
            _need("kind", KEY, "A kind of ours or of the house.", "harbour-rusk"),
            _may("low", LESS_THAN_ALL, "The least; empty where it takes up water that no list has.", "28"),
            _may("typical", LESS_THAN_ALL, "What is usual.", "33"),
            _may("high", LESS_THAN_ALL, "The most.", "40"),
            _may(
                "density",
                POSITIVE,
                "G/ml of what comes out, at the least; empty where nobody measures it in cups.",
            ),
            _need("portion_least", POSITIVE, "What a portion weighs at the least, g.", "20"),
            _need("portion_most", POSITIVE, "At the most.", "120"),
        ),
        ascending=(("low", "typical", "high"), ("portion_least", "portion_most")),
    ),
    "portion_bounds": FactTable(
        about="what a portion of a kind may hold: kcal, and g of salt",
        keys=(("kind",),),
        columns=_of(
            _need("kind", KEY, "A kind of ours or of the house.", "harbour-rusk"),
            _need("energy_least", POSITIVE, "Kcal of a portion at the least.", "60"),
            _need("energy_most", POSITIVE, "At the most.", "450"),
            _need("salt_most", NUMBER, "G of salt at the most.", "2"),
        ),
        ascending=(("energy_least", "energy_most"),),
    ),
    "kind_groups": FactTable(
        about="under which heading a kind stands on the site, and its part of the meal",
        keys=(("kind",),),
        columns=_of(
            _need("kind", KEY, "A kind of ours or of the house.", "harbour-rusk"),
            _need("heading", TEXT, "The heading on the site.", "Breads"),
            _need("course", TEXT, "Part of the meal.", "Bread"),
        ),
    ),
    "pan_fills": FactTable(
        about="how a batter of a kind fills its pan: g/ml, and shares of the pan",
        keys=(("kind",),),
        columns=_of(
            _need("kind", KEY, "A kind of ours or of the house.", "harbour-rusk"),
            _need("density", POSITIVE, "G/ml of the raw mixture.", "1"),
            _need("least", SHARE, "Share of the pan at the least, of one.", "0.4"),
            _need("most", SHARE, "At the most.", "0.75"),
            _need("told", TEXT, "What is usual in words.", "½ to ⅔"),
        ),
        ascending=(("least", "most"),),
    ),
    "pans": FactTable(
        about="a pan as it is marked in inches and in centimetres, inside its top edge",
        keys=(
            ("shape", "inches", "inches_across", "inches_deep"),
            ("shape", "centimetres", "centimetres_across", "centimetres_deep"),
        ),
        columns=_of(
            _need("shape", choice("round", "square", "rectangle", "loaf"), "Its shape.", "rectangle"),
            _need("inches", POSITIVE, "Its longer edge or its diameter in inches.", "14"),
            _may("inches_across", POSITIVE, "Its other edge; empty where there is none.", "4.5"),
            _need("inches_deep", POSITIVE, "How deep it is.", "1"),
            _need("centimetres", POSITIVE, "The same in centimetres.", "36"),
            _may("centimetres_across", POSITIVE, "Its other edge.", "12"),
            _need("centimetres_deep", POSITIVE, "How deep it is.", "2.5"),
        ),
    ),
    "vessels": FactTable(
        about="a word for a vessel whose size is not an amount of food: cazuela",
        keys=(("word",),),
        columns=_of(
            _need("word", NAME, "The word, in small letters; its plural is a row of its own.", "cazuela"),
        ),
    ),
    "oven_dials": FactTable(
        about="a setting of an oven in both scales",
        keys=(("fahrenheit",), ("celsius",)),
        columns=_of(
            _need("fahrenheit", WHOLE, "Its setting in °F.", "345"),
            _need("celsius", WHOLE, "In °C.", "175"),
            _may("gas_mark", NUMBER, "As a gas mark; empty where there is none."),
            _may("fan_celsius", WHOLE, "In °C with the fan.", "155"),
            _need("usual", choice("yes", "no"), "Whether recipes usually have it.", "no"),
        ),
    ),
}

KEYS = {name: fact.keys for name, fact in FACTS.items()}
