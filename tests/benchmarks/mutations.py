"""What the checks see of faults put into sound recipes: recall by class of fault.

``python tests/benchmarks/mutations.py [SEED] [EACH] [CLASS]`` spoils sound recipes of ``tests/pairs``,
20 for each class, in one way each (a minute). A fault is seen where an error or a warning comes that the
sound recipe lacks. ``--kept`` draws from the half of the recipes that is kept apart; ``--missed`` prints
what was put in, and what was said of it. Not every mutation is a fault: so much less butter may be a
leaner bun.
"""

from __future__ import annotations

import random
import re
import sys
import zlib
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path

from cardsmith.finding import Severity
from cardsmith.flow import Prepared, prepare
from cardsmith.measure.larder import Food, load_larder
from cardsmith.measure.patterns import is_of
from cardsmith.recipe.model import Ingredient
from tests.demo import house_of_one_edition

PAIRS = Path(__file__).parents[1] / "pairs"
GLYPHS = {"½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8"}
NUMBER = r"(?:\d+(?:[ -]?[½⅓⅔¼¾⅛])|[½⅓⅔¼¾⅛]|\d+[ -]\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?)"
TIME = rf"{NUMBER}(?= (?:to \d+ )?(?:minutes?|hours?|min\b|h\b|days?|weeks?|months?))"
DEGREES = r"\d+(?= ?°)"
Fault = tuple[str, str]  # the spoiled recipe, and what was changed
Maker = Callable[[Prepared, random.Random], Iterator[Fault]]


def value(text: str) -> Fraction:
    """``1 1/2``, ``1½``, ``0.5``."""
    for glyph, plain in GLYPHS.items():
        text = text.replace(glyph, f" {plain}")
    return sum((Fraction(one.replace(",", ".")) for one in re.split(r"[ -]", text) if one), Fraction(0))


def written(number: Fraction) -> str:
    """A number as a cook could have slipped into writing it."""
    if number.denominator == 1:
        return str(number)
    whole, rest = divmod(number, 1)
    if rest.denominator in (2, 3, 4, 8):
        return f"{whole} {rest}" if whole else str(rest)
    return f"{float(number):.3g}"


def scaled(text: str, by: Fraction, pattern: str = NUMBER) -> str:
    """Every number of a text that the pattern finds, times ``by``."""
    return re.sub(pattern, lambda found: written(value(found[0]) * by), text)


def put(source: str, number: int, old: str, new: str) -> str | None:
    """The source with ``old`` replaced in its line ``number``, or those it runs on to; None without it."""
    lines = source.split("\n")
    for at in range(number - 1, min(number + 6, len(lines))):
        if old in lines[at]:
            lines[at] = lines[at].replace(old, new, 1)
            return "\n".join(lines)
    return None


MAINLY = {"role:water": "liquid", "role:milk": "liquid", "role:stock": "liquid", "role:cream": "cream"}


def _is(food: Food, wanted: tuple[str, ...]) -> bool:
    """Whether a food is of a role: in all, for water and flour, which much else holds."""
    if food.aisle == "produce" or food.share("egg") or food.share("levain"):
        return False
    return any(
        (is_of(food, (one,)) and one not in MAINLY and one != "role:flour")
        or food.share(MAINLY.get(one, one.removeprefix("role:"))) >= Fraction(3, 4)
        for one in wanted
    )


def amount_faults(foods: tuple[str, ...], factors: tuple[Fraction, ...], least: float = 0) -> Maker:
    """Lines of such foods with their amount scaled, everywhere it is written."""

    def faults(prepared: Prepared, draw: random.Random) -> Iterator[Fault]:
        recipe = prepared.recipe
        assert recipe is not None
        lines = [one for one in recipe.ingredients if one.food and one.amount and _is(one.food, foods)]
        draw.shuffle(lines)
        for line in lines:
            by = draw.choice(factors)
            small = (
                line.amount is not None
                and by < 1
                and line.amount.unit.name in ("teaspoon", "tablespoon", "cup")
            )
            if small or line.for_use or line.optional:
                continue  # nobody writes 0.05 cup
            spoiled = _line_scaled(prepared.source, line, by)
            if spoiled:
                yield spoiled

    return faults


def _line_scaled(source: str, line: Ingredient, by: Fraction) -> Fault | None:
    head, item = line.text, line.item
    at = head.find(item)
    if at <= 0 or not line.amount:
        return None
    old = head[:at].rstrip()
    new = scaled(old, by)
    done = put(source, line.where.line, old, new) if new != old else None
    if done is None:
        return None
    noun = item.split()[-1]
    said = re.findall(rf"{NUMBER} [a-z]+(?: \([^)]*\))? (?:of )?(?:the )?(?:\w+ )?{re.escape(noun)}", done)
    for one in said:
        if one in line.text or line.amount.written in one:
            done = done.replace(one, scaled(one, by)) if one not in line.text else done
    return done, f"{line.text} -> {new} {item}"


def anywhere(pattern: str, change: Callable[[str, random.Random], str], skip: str = "") -> Maker:
    """What the pattern finds, changed wherever the same text stands."""

    def faults(prepared: Prepared, draw: random.Random) -> Iterator[Fault]:
        found = list(dict.fromkeys(re.findall(pattern, prepared.source)))
        draw.shuffle(found)
        for old in found:
            new = change(old, draw)
            if new != old and not (skip and re.search(skip, old)):
                yield prepared.source.replace(old, new), f"{old} -> {new}"

    return faults


def by_factor(*factors: Fraction | int, of: str = NUMBER) -> Callable[[str, random.Random], str]:
    """Every number of it times one of the factors."""
    return lambda old, draw: scaled(old, Fraction(draw.choice(factors)), of)


def by_degrees(fahrenheit: int, celsius: int) -> Callable[[str, random.Random], str]:
    """Both scales moved alike, up or down."""

    def change(old: str, draw: random.Random) -> str:
        sign = draw.choice((-1, 1))

        def moved(found: re.Match[str]) -> str:
            by = fahrenheit if found[2].strip(" °").startswith("F") else celsius
            return f"{max(int(found[1]) + sign * by, 30)}{found[2]}"

        return re.sub(r"(\d+)( ?° ?[CF])", moved, old)

    return change


def exchanged(old: str, draw: random.Random) -> str:
    """Another scale at each figure: 350 °F becomes 350 °C, and what stands beside it goes with it."""
    del draw
    first = re.search(r"(\d+) ?° ?([CF])", old)
    if first is None:
        return old
    figure = int(first[1])
    if first[2] == "F":
        return f"{figure} °C ({round(figure * 9 / 5 + 32)} °F)"
    return f"{figure} °F ({round((figure - 32) * 5 / 9)} °C)"


def _steps(prepared: Prepared) -> list[tuple[int, int]]:
    """The lines of the source that each step takes: first, and first of what follows."""
    recipe = prepared.recipe
    assert recipe is not None
    lines = prepared.source.split("\n")
    found = []
    for step in recipe.steps:
        start = step.where.line - 1
        end = start + 1
        while (
            end < len(lines)
            and lines[end].strip()
            and re.match(r"\s+[^-\s]", lines[end])
            and not re.match(r"\s*\w+:(?: |$)", lines[end])
        ):
            end += 1
        found.append((start, end))
    return found


def swapped(prepared: Prepared, draw: random.Random) -> Iterator[Fault]:
    """Two steps that follow each other, in the wrong order."""
    spots, lines = _steps(prepared), prepared.source.split("\n")
    pairs = [(one, two) for one, two in pairwise(spots) if one[1] == two[0]]
    draw.shuffle(pairs)
    for (start, middle), (_, end) in pairs:
        if lines[start].lstrip().startswith("-") and lines[middle].lstrip().startswith("-"):
            spoiled = [*lines[:start], *lines[middle:end], *lines[start:middle], *lines[end:]]
            yield (
                "\n".join(spoiled),
                f"swapped: {' '.join(lines[start:middle])[:150]} | {' '.join(lines[middle:end])[:150]}",
            )


def step_gone(prepared: Prepared, draw: random.Random) -> Iterator[Fault]:
    """A step left out."""
    spots, lines = _steps(prepared), prepared.source.split("\n")
    draw.shuffle(spots)
    for start, end in spots:
        if len(spots) > 2 and lines[start].lstrip().startswith("-"):
            yield "\n".join([*lines[:start], *lines[end:]]), f"gone: {' '.join(lines[start:end])[:200]}"


def line_gone(prepared: Prepared, draw: random.Random) -> Iterator[Fault]:
    """A line taken off its list."""
    recipe, lines = prepared.recipe, prepared.source.split("\n")
    assert recipe is not None
    gone = [
        one
        for one in recipe.ingredients
        if lines[one.where.line - 1].strip().strip("-'\" ").startswith(one.text[:20])
    ]
    draw.shuffle(gone)
    for one in gone:
        at = one.where.line - 1
        yield "\n".join([*lines[:at], *lines[at + 1 :]]), f"gone: {one.text}"


def unsaid(prepared: Prepared, draw: random.Random) -> Iterator[Fault]:
    """A food no longer named by the one step that names it."""
    recipe = prepared.recipe
    assert recipe is not None
    lines = list(recipe.ingredients)
    draw.shuffle(lines)
    for line in lines:
        noun = line.item.split()[-1]
        told = re.findall(
            rf",? (?:and )?(?:the |all the )?(?:\w+ )?\b{re.escape(noun)}\b(?=[,.; ])",
            " ".join(s.text for s in recipe.steps),
        )
        if len(told) == 1 and prepared.source.count(told[0]) == 1 and told[0].startswith(","):
            yield prepared.source.replace(told[0], ""), f"unsaid: {told[0]} ({line.text})"


F = Fraction
TENTH, TEN = F(1, 10), F(10)
HEAT = r"\d+ ?° ?[CF](?: \(\d+ ?° ?[CF][^)]{0,20}\))?"
INSIDE = r"(?:thermometer|reads?|registers?|internal|inside|cent(?:re|er)|core|middle|thickest)"
CORE = rf"{INSIDE}[^.;\n]{{0,60}}? {HEAT}"
HEATED = rf"(?:[Oo]ven|[Bb]ake|[Rr]oast)[^.;\n]{{0,40}}? {HEAT}"
KEPT = r"(?:[Kk]eeps?|[Ss]tore|[Rr]efrigerate|[Ff]ridge|[Cc]hill)"
KEEPING = rf"{KEPT}[^.\n]{{0,60}}?{NUMBER} (?:days?|weeks?|months?)"
SIZE = r"(?:inch|in|cm)(?: \([^)]*\))?"
PANNED = rf"\d+(?: by | ?x ?| × )\d+[ -]{SIZE}|\d+[ -]{SIZE} (?:\w+ ){{0,3}}(?:pan|tin|dish)"
PORTIONS = r"(?<=: )\d+(?: to \d+)?(?= [a-z])|(?<=: )\d+(?=$)|(?<=: about )\d+"
DAYS = r"(?:days?|weeks?|months?)"
YEASTS = ("role:yeast-instant", "role:yeast-active-dry", "role:yeast-fresh")
CLASSES: dict[str, Maker] = {
    "salt ×10": amount_faults(("role:salt",), (TEN,)),
    "leavener ×10": amount_faults(("role:soda", "role:baking-powder"), (TEN,)),
    "leavener ÷10": amount_faults(("role:soda", "role:baking-powder"), (TENTH,)),
    "spice ×10": amount_faults(("role:spice",), (TEN,)),
    "liquid ÷10": amount_faults(("role:water", "role:milk", "role:stock", "role:cream"), (TENTH,)),
    "liquid ×2": amount_faults(("role:water", "role:milk", "role:stock"), (F(2), F(3))),
    "fat ×10": amount_faults(("role:oil", "role:butter"), (TEN,)),
    "fat ÷10": amount_faults(("role:butter",), (TENTH,)),
    "sugar ×10": amount_faults(("role:sugar",), (TEN,)),
    "sugar ÷10": amount_faults(("role:sugar",), (TENTH,)),
    "flour ×10": amount_faults(("role:flour",), (TEN,)),
    "flour ÷10": amount_faults(("role:flour",), (TENTH,)),
    "yeast ×10": amount_faults(YEASTS, (TEN,)),
    "yeast ÷10": amount_faults(YEASTS, (TENTH,)),
    "gelatine ×÷10": amount_faults(("role:gelatine",), (TEN, TENTH)),
    "meat ×10": amount_faults(("role:meat", "role:poultry", "role:fish"), (TEN, TENTH)),
    "pan halved": anywhere(PANNED, by_factor(F(1, 2))),
    "pan doubled": anywhere(PANNED, by_factor(2)),
    "yield ×4 ÷4": anywhere(r"(?m)^ +(?:serves|makes): .*$", by_factor(4, F(1, 4), of=PORTIONS)),
    "oven ±100 °C": anywhere(HEATED, by_degrees(180, 100)),
    "oven scale": anywhere(rf"(?<=[Oo]ven to ){HEAT}", exchanged),
    "roast low": anywhere(HEATED, lambda old, draw: re.sub(HEAT, "225 °F (107 °C)", old)),
    "core lowered": anywhere(CORE, lambda old, draw: by_degrees(27, 15)(old, random.Random(1))),
    "times ×10": anywhere(TIME + r"[^.;\n]{0,25}", by_factor(10, of=TIME), DAYS),
    "times ÷10": anywhere(TIME + r"[^.;\n]{0,25}", by_factor(TENTH, of=TIME), DAYS),
    "keeping ×10": anywhere(KEEPING, by_factor(10, of=TIME)),
    "steps swapped": swapped,
    "step gone": step_gone,
    "line gone": line_gone,
    "unsaid": unsaid,
}  # fmt: skip


@cache
def _read(path: Path) -> Prepared:
    return _check(path.stem, path.read_text(encoding="utf-8"))


def _check(name: str, text: str) -> Prepared:
    return prepare(name, text.encode(), f"{name}.yaml", load_larder(), house_of_one_edition())


def _loud(prepared: Prepared) -> set[tuple[str, str]]:
    return {(one.name, one.what) for one in prepared.findings if one.severity is not Severity.NOTE}


def measure(seed: int, each: int, kept: bool, only: str, missed: bool) -> None:
    """Prints the recall of each class."""
    files = [
        path
        for path in sorted(PAIRS.glob("*sound*.yaml"))
        if (zlib.crc32(path.stem.encode()) % 2 == 1) == kept
    ]
    seen_of_all = done_of_all = 0
    for name, maker in CLASSES.items():
        if only and only not in name:
            continue
        draw = random.Random(f"{seed} {name}")
        chosen = files[:]
        draw.shuffle(chosen)
        seen = done = 0
        unseen = []
        for path in chosen:
            if done == each:
                break
            sound = _read(path)
            if sound.recipe is None:
                continue
            fault = next(maker(sound, draw), None)
            if fault is None:
                continue
            done += 1
            new = _loud(_check(path.stem, fault[0])) - _loud(sound)
            seen += bool(new)
            told = "; ".join(sorted(one for one, _ in new)) or "nothing"
            unseen.append(f"      {'  ' if new else 'NO'} {path.stem[:50]}: {fault[1]}  [{told}]")
        seen_of_all, done_of_all = seen_of_all + seen, done_of_all + done
        sys.stdout.write(f"{name:<16}{seen:>4} of {done}\n")
        if missed:
            sys.stdout.write("\n".join(unseen) + "\n")
        sys.stdout.flush()
    sys.stdout.write(f"{'all':<16}{seen_of_all:>4} of {done_of_all}\n")


if __name__ == "__main__":
    numbers = [int(one) for one in sys.argv[1:] if one.isdigit()]
    words = [one for one in sys.argv[1:] if not one.isdigit() and not one.startswith("--")]
    measure(
        seed=numbers[0] if numbers else 1,
        each=numbers[1] if len(numbers) > 1 else 20,
        kept="--kept" in sys.argv,
        only=words[0] if words else "",
        missed="--missed" in sys.argv,
    )
