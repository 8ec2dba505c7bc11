"""Whether a printed ingredient line says what the drawn line meant: both columns and the words beside them.

`faults(drawn, us, metric, item)` returns a short cause for each thing that is wrong, none if all is right.
A cause that begins with "unreadable" is the strict reader's own; one that begins with "remark" is no fault.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from tests.language.meaning.statements import Drawn, Statement
from tests.printed.meant import (
    METRIC,
    SIZES,
    Extent,
    Meant,
    by_density,
    compounded,
    meaning,
    near,
    of_reading,
    of_statement,
    tolerance,
)
from tests.printed.printed_reader import Reading, readings, words_between

# Words that may stand beside a figure in an amount column.
PIECES = """can cans tin tins jar jars package packages packet packets pack packs block blocks sachet
sachets envelope envelopes carton cartons bag bags bunch bunches sprig sprigs handful handfuls
stem stems leaf leaves clove cloves head heads pinch pinches dash dashes knob knobs slice slices
stick sticks stalk stalks piece pieces bean beans pod pods large medium small fat whole of a an
each lightly thin thick the size from and few several some good good-sized big little scant
generous heaped heaping rounded level about to taste extra without shell more or portion dozen

ear ears box boxes rasher rashers tub tubs sheet sheets glass ball balls pouch pouches punnet
punnets slab crown square squares katori leg legs wedge wedges fillet fillets steak steaks
breast breasts thigh thighs bottle bottles sleeve sleeves bar spoon shot shots""".split()
SAME_PIECE = (
    {"can", "tin"}, {"package", "packet", "pack"}, {"sachet", "envelope", "packet"},
    {"stick", "stalk", "rib"},
)  # fmt: skip
OTHER_WORDS = {
    "scant": ("scant", "about", "bare", "just under"),
    "heaping": ("heap", "generous", "rounded", "about", "good", "more than"),
    "generous": ("generous", "just over", "good"),
    "rounded": ("rounded", "more than"),
}


def faults(drawn: Drawn, us: str, metric: str, item: str) -> list[str]:
    """What is wrong with the printed line, a short cause each."""
    found: list[str] = []
    uses, metrics, items = us.split(" | "), metric.split(" | "), item.split(" | ")
    for one, other, words in zip(uses, metrics, items, strict=True):
        part = drawn
        if len(items) > 1:  # one line of several foods, printed as a line for each
            each = tuple(replace(said, of="all") for said in drawn.statements)
            part = replace(drawn, food=words.split(";")[0], statements=each)
        found += line_faults(part, meaning(part), one.strip(), other.strip(), words)
    names = [word for word in re.findall(r"[^\W\d_]{3,}", drawn.food) if word not in ("and", "the", "with")]
    missing = [word for word in names if word.lower() not in (item + us).lower()]
    if missing:
        found.append(f"food lost: {' '.join(missing)}")
    return list(dict.fromkeys(found))


def line_faults(drawn: Drawn, meant: Meant, us: str, metric: str, words: str) -> list[str]:
    found: list[str] = []
    if not meant.mains:
        for column, name in ((us, "US"), (metric, "metric")):
            if readings(column):
                found.append(f"{name}: an amount where none was meant")
        return found
    if not us and not metric:
        return ["amount lost: both columns empty"]
    beside = compounded(read for read in readings(words) if not read.article)
    for column, name in ((us, "US"), (metric, "metric")):
        if column:
            found += column_faults(drawn, meant, column, words, beside, name)
        elif any(read.unit for read in readings(us or metric)):
            found.append(f"{name}: column empty")
    found = _told_once(found)
    found += _across(us, metric)
    found += _others(drawn, meant, us + " " + metric, beside, words)
    found += _from_nowhere(drawn, beside)
    return found


def _told_once(found: list[str]) -> list[str]:
    """A weight beside a count that one column has, and the other hasn't, is no fault of the card."""
    lost = "weight or measure of all lost"
    if f"US: {lost}" in found and f"metric: {lost}" in found:
        return found
    return [f"remark: {one}" if one.endswith(lost) else one for one in found]


def _across(us: str, metric: str) -> list[str]:
    """Whether the two columns say the same where they measure in one dimension."""
    sums = [_sum(column) for column in (us, metric)]
    if sums[0] is None or sums[1] is None or sums[0].dimension != sums[1].dimension:
        return []
    share = max(Fraction(13, 100), tolerance(None, sums[0]))
    return [] if near(sums[1], sums[0], share) else ["columns disagree by more than 13 %"]


def _sum(column: str) -> Extent | None:
    """The amount outside brackets, its terms added up; none where it isn't one amount."""
    return _sum_of([read for read in readings(column) if read.depth == 0])


def column_faults(
    drawn: Drawn, meant: Meant, column: str, words: str, beside: list[Reading], name: str
) -> list[str]:
    found: list[str] = []
    reads = readings(column)
    left = [word for word in words_between(column) if word.lower() not in PIECES and word not in "().,"]
    if left:
        return [f"unreadable: {' '.join(left)}"]
    if not reads:
        return (
            []
            if re.search(r"\b(a|an|some|few|pinch|handful)\b", column, re.I)
            else [f"{name}: no figure in {column!r}"]
        )
    for read in reads:
        if read.unit and read.unit not in SIZES:
            return [f"unreadable: unit {read.unit}"]
        if read.unit and (read.unit in METRIC) != (name == "metric"):
            found.append(f"{name}: unit of the other system ({read.unit})")
    said = [
        *_figures(drawn, meant, column, reads, beside),
        *_bounds(meant, column, words, reads),
        *_pieces(meant, column, words, reads),
    ]
    return found + [
        f"remark: {name}: {one[8:]}" if one.startswith("remark") else f"{name}: {one}" for one in said
    ]


def _figures(
    drawn: Drawn, meant: Meant, column: str, reads: tuple[Reading, ...], beside: list[Reading]
) -> list[str]:
    """Main amount, sizes and totals of one column against what was meant."""
    found: list[str] = []
    totals, count = meant.totals(), meant.count()
    heads = [read for read in reads if read.depth == 0]
    if not heads and re.match(r"an? ", column, re.I):  # a small bunch (15 g)
        heads = [Reading(sides=((Fraction(1), Fraction(1)),))]
    sizes = compounded(read for read in reads if read.depth > 0)
    if len(heads) >= 2 and not heads[0].unit and heads[1].unit:  # 2 × 400 g; 1 5 cm piece
        heads, sizes = heads[:1], heads[1:] + sizes
    main = _sum_of(heads)
    if main is None:
        return ["unreadable: amounts of several dimensions"]
    measured = main.dimension != "count"
    if measured:
        found += _total(drawn, main, heads, totals) + _own_figures(meant, main, heads)
    else:
        found += _counted(main, count, totals)
    seen_size = seen_total = False
    for read in sizes:
        value = of_reading(read)
        if value is None:
            continue
        if value.dimension == "count":
            if count is None or not near(value, count, Fraction(0)):
                found.append("wrong count in brackets")
            continue
        size, total = _fits(meant, read, value)
        seen_size, seen_total = seen_size or size, seen_total or total
        several = main.high > 1 and not measured
        if not size and not total:
            found.append(_added(drawn, meant, value, several and read.of != "all"))
        elif several and size != total:
            found.append(_of_each_or_all(meant, column, read, value, size=size))
    if not measured and count is None and not seen_total:
        found += _length_lost(totals, beside)
    found += _lost(meant, main, seen_size=seen_size, seen_total=seen_total, beside=beside)
    return [one for one in found if one]


def _counted(main: Extent, count: Extent | None, totals: list[Extent]) -> list[str]:
    """Whether a count is the one meant; 2 cm of ginger may be one piece of 2 cm."""
    if count is not None:
        return [] if near(main, count, Fraction(0)) else ["wrong count"]
    piece = main.high == 1 and any(one.dimension == "length" for one in totals)
    return [] if piece else ["a count where none was meant"]


def _fits(meant: Meant, read: Reading, value: Extent) -> tuple[bool, bool]:
    """Whether a measure in brackets is the size of each, and whether it is the total."""
    size = any(_size_fits(value, one, pieces=meant.mains[0].unit == "whole") for one in meant.sizes)
    total = any(near(value, one, tolerance(read, one)) for one in meant.totals())
    return size, total


def _of_each_or_all(meant: Meant, column: str, read: Reading, value: Extent, *, size: bool) -> str:
    """Whether several things with a measure in brackets are told of each or of all, as they were meant."""
    if size:
        return "each printed as total" if read.of == "all" else ""
    if read.of == "all":
        return ""
    written = any(of_statement(one).dimension == value.dimension for one in meant.mains + meant.besides)
    if not written and not meant.sizes:
        return "remark: total added that reads as each"
    behind = read.of == "" and not _before_food(column)
    return "total left open behind the container" if behind else "total printed where it reads as each"


def _length_lost(totals: list[Extent], beside: list[Reading]) -> list[str]:
    lengths = [one for one in totals if one.dimension == "length"]
    told = [value for read in beside if (value := of_reading(read)) is not None]
    found = any(near(value, one, Fraction(10, 100)) for value in told for one in lengths)
    return ["length lost"] if lengths and not found else []


def _sum_of(heads: list[Reading]) -> Extent | None:
    heads = compounded(heads)  # 1 cup + 3 tbsp to 1½ cups
    parts = [of_reading(read) for read in heads]
    if (
        not parts
        or any(part is None for part in parts)
        or len({part.dimension for part in parts if part}) != 1
    ):
        return None
    low = high = Fraction(0)
    for read, part in zip(heads, parts, strict=True):
        if part is not None:
            sign = -1 if read.join == "minus" else 1
            low, high = low + sign * part.low, high + sign * part.high
    dimension = next(part.dimension for part in parts if part)
    return Extent(dimension=dimension, low=low, high=high)


def _own_figures(meant: Meant, main: Extent, heads: list[Reading]) -> list[str]:
    """What the writer said in this system and the card says otherwise, within what it may be off."""
    metric = heads[0].unit in METRIC
    if len(meant.mains) > 1:
        if not meant.totals():  # a spoon and a pinch have no sum
            return []
        first, whole = of_statement(meant.mains[0]), meant.totals()[0]
        same = (meant.mains[0].unit in METRIC) == metric and first.dimension == main.dimension
        lost = same and near(main, first, Fraction(1, 200)) and not near(main, whole, Fraction(1, 200))
        return ["a term of the sum lost"] if lost else []
    own = [of_statement(one) for one in meant.mains + meant.besides if (one.unit in METRIC) == metric]
    own = [one for one in own if one.dimension == main.dimension]
    if own and not any(near(main, one, Fraction(1, 100)) for one in own):
        return ["remark: the writer's own figure in this system changed"]
    return []


def _total(drawn: Drawn, main: Extent, heads: list[Reading], totals: list[Extent]) -> list[str]:
    alike = [one for one in totals if one.dimension == main.dimension]
    if alike:
        if any(near(main, one, max(tolerance(read, one) for read in heads)) for one in alike):
            return []
        one = alike[0]
        if (main.low == main.high) != (one.low == one.high):
            return ["range lost" if main.low == main.high else "range invented"]
        off = float((main.low - one.low) / one.low * 100) if one.low else 0.0
        return [f"wrong amount ({off:+.0f} %)"]
    others = [one for one in totals if one.dimension in ("mass", "volume")]
    if not others:
        return [f"{main.dimension} where none was meant"]
    wrong = [by_density(main, one, drawn.food) for one in others]
    return [] if "" in wrong else wrong[:1]


def _size_fits(value: Extent, said: Statement, *, pieces: bool = True) -> bool:
    meant = of_statement(said)
    share = Fraction(5, 100) if pieces else Fraction(3, 100)
    if meant.dimension == "length":
        share = Fraction(10, 100)
    elif meant.low <= 100:
        share = Fraction(6, 100)
    return near(value, meant, share)


def _before_food(column: str) -> bool:
    """Whether the food or its container follows the bracket, so that it reads as the size of each."""
    return not re.search(r"[a-z]{3,}\s*[(\[]", column)


def _added(drawn: Drawn, meant: Meant, value: Extent, as_each: bool) -> str:
    """A measure in brackets that the writer did not write: the product's own, or a wrong one."""
    said = [of_statement(one) for one in meant.sizes + meant.besides] + meant.totals()
    alike = [one for one in said if one.dimension == value.dimension]
    if alike:
        off = float((value.low - alike[0].low) / alike[0].low * 100)
        return f"wrong size or total in brackets ({off:+.0f} %)"
    others = [one for one in meant.totals() if {one.dimension, value.dimension} == {"mass", "volume"}]
    if others:
        wrong = [by_density(value, one, drawn.food) for one in others]
        return "" if "" in wrong else f"brackets: {wrong[0]}"
    return "remark: total added that reads as each" if as_each else "remark: a measure added in brackets"


def _lost(
    meant: Meant, main: Extent, *, seen_size: bool, seen_total: bool, beside: list[Reading]
) -> Iterable[str]:
    """Sizes, totals and counts that stand nowhere on the card."""
    measured = main.dimension != "count"
    in_words = [value for read in beside if (value := of_reading(read)) is not None]
    for size in meant.sizes:
        told = any(_size_fits(value, size) for read in beside if (value := of_reading(read)))
        if not seen_size and not seen_total and not told and not measured:
            yield "size of each lost"
    for total in meant.besides:
        value = of_statement(total)
        if value.dimension == "count":
            if measured and not any(near(one, value, Fraction(0)) for one in in_words):
                yield "remark: count beside not in this column"
        elif (
            not measured
            and not seen_total
            and not any(
                near(one, value, Fraction(8, 100)) or not by_density(one, value, "") for one in in_words
            )
        ):
            yield "weight or measure of all lost"


def _bounds(meant: Meant, column: str, words: str, reads: tuple[Reading, ...]) -> Iterable[str]:
    main = meant.mains[0].bound
    printed = {read.bound for read in reads if read.depth == 0}
    besides = {one.bound for one in meant.besides}
    if main in OTHER_WORDS:
        if not any(word in (column + " " + words).lower() for word in OTHER_WORDS[main]):
            yield f"bound lost: {main}"
    elif main != "exactly" and main not in printed and not _told(main, words):
        yield f"bound lost: {main}"
    for extra in printed - {"exactly", main}:
        if main in OTHER_WORDS:
            continue
        if extra == "about":
            if "about" not in besides:
                yield "remark: about added"
        elif extra not in besides:
            yield f"bound invented: {extra}"


def _told(bound: str, words: str) -> bool:
    patterns = {
        "about": r"about|approx|roughly|around|or so", "at most": r"up to|at most|more than|maximum",
        "at least": r"at least|or more|less than|minimum",
    }  # fmt: skip
    return bool(re.search(patterns[bound], words, re.I))


def _pieces(meant: Meant, column: str, words: str, reads: tuple[Reading, ...]) -> Iterable[str]:
    """A container or piece word that is gone, and "each" of several foods."""
    text = f"{column} {words}".lower()
    for one in meant.mains:
        if one.of == "each" and "each" not in text and "|" not in text:
            yield "each lost"
        if one.unit in SIZES or one.unit in ("", "whole"):
            continue
        if any(read.unit in SIZES for read in reads if read.depth == 0):
            continue
        alike = {one.unit}.union(*(same for same in SAME_PIECE if one.unit in same))
        if one.unit in ("piece", "leaf"):
            alike |= {"leaves", "knob", "piece"}
        if not any(word in text for word in alike) and not meant.sizes:
            yield f"piece word lost: {one.unit}"


def _others(drawn: Drawn, meant: Meant, columns: str, beside: list[Reading], words: str) -> Iterable[str]:
    """Alternatives and amounts for a use, which must stand in the words."""
    every = [*beside, *readings(columns)]
    for one in meant.others:
        value = of_statement(one)
        if any(
            (read_value := of_reading(read)) is not None and near(read_value, value, Fraction(12, 100))
            for read in every
        ):
            continue
        yield f"{one.role} amount lost or changed"


def _from_nowhere(drawn: Drawn, beside: list[Reading]) -> Iterable[str]:
    """Figures in the words beside the amount that the writer never wrote."""
    written = [value for read in compounded(readings(drawn.text)) if (value := of_reading(read)) is not None]
    written += [of_statement(one) for one in drawn.statements]
    for read in beside:
        value = of_reading(read)
        if value is None:
            continue
        if not any(
            near(value, one, Fraction(12, 100))
            or (
                {value.dimension, one.dimension} == {"mass", "volume"}
                and not by_density(value, one, drawn.food)
            )
            for one in written
        ):
            yield "figure in the words that was never written"
