"""Steps and headnotes against `cases/prose.txt`: each block is a step and, below it, what is found in it."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from cardsmith.finding import Finding, Where
from cardsmith.language.commonmark import visible
from cardsmith.language.prose.fields import LONGEST_TEXT, read_prose
from cardsmith.language.spans import Draw, Kind, Measured, Protected, Purpose, Span, Told, Unread, Words
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension
from cardsmith.recipe.fields.steps import read_step
from tests.language.beginnings import purpose_in
from tests.language.written_numbers import in_words

WHERE = Where(file="recipe.yaml", line=7, column=9, field="steps[0]")
BLOCKS = (Path(__file__).parents[1] / "cases" / "prose.txt").read_text(encoding="utf-8").strip().split("\n\n")


def told(quantity: Quantity) -> str:
    """A quantity as the cases write it: ``160–180 degree Celsius``, exact, in the author's unit."""
    ends = [quantity.unit.from_base(end) for end in (quantity.low, quantity.high)]
    low, high = (f"-{in_words(-end)}" if end < 0 else in_words(end) for end in ends)
    number = low if low == high else f"{low}–{high}"
    bound = "" if quantity.bound is Bound.EXACTLY else quantity.bound.value
    return " ".join(part for part in (bound, "fan" * quantity.fan, number, quantity.unit.name) if part)


def describe(span: Span) -> str:
    """One span as a line of the cases; words without emphasis say nothing."""
    if isinstance(span, Measured):
        sides = " by ".join(told(one) for one in span.sides)
        plain = span.kind.value == span.quantity.dimension.value
        marks = [
            "" if plain or span.kind is Kind.AMOUNT else span.kind,
            *(f"also {told(one)}" for one in span.stated),
            span.purpose or "",
            "adjective" * span.adjective,
        ]
        return "; ".join(part for part in (f"{span.text} = {sides}", *marks) if part)
    if isinstance(span, Draw):
        drawn = (
            told(span.amount) if span.amount else f"share {span.share}" if span.share is not None else "name"
        )
        return f"[{span.text}] = {'rest' if span.rest else drawn} of {span.key}"
    if isinstance(span, Protected):
        return f"`{span.text}`"
    if isinstance(span, Told):
        return f"{span.text} = {span.kind}" + f" of {span.noun}" * bool(span.noun)
    if isinstance(span, Unread):
        return f"{span.text} = unread"
    return f"{span.emphasis} “{span.text}”" if span.emphasis else ""


def fault(finding: Finding) -> str:
    return f"{finding.severity} {finding.name} at {finding.where.column - 8}+{finding.width}"


def found_in(text: str) -> list[str]:
    step, findings = read_step(text, WHERE)
    return [line for line in map(describe, step.spans) if line] + [fault(finding) for finding in findings]


@pytest.mark.parametrize("block", BLOCKS, ids=[block.partition("\n")[0] for block in BLOCKS])
def test_step(block: str) -> None:
    text, *expected = block.split("\n")
    assert found_in(text) == [line.strip() for line in expected]


def test_there_are_enough_cases_and_each_stands_once() -> None:
    texts = [block.partition("\n")[0] for block in BLOCKS]
    assert len(texts) >= 80
    assert len(set(texts)) == len(texts)


@pytest.mark.parametrize(
    ("text", "celsius", "purpose"),
    [
        ("Heat the oven to {}.", 180, Purpose.OVEN),
        ("Roast at {} until tender.", 100, Purpose.OVEN),
        ("Bake at {} until the internal temperature is right.", 180, Purpose.OVEN),
        ("Bake until the centre registers {}.", 96, Purpose.CORE),
        ("Roast until a thermometer reads {}.", 63, Purpose.CORE),
        ("Fry at {} for 3 minutes.", 170, Purpose.FAT),
        ("Fry until the thickest part reaches {}.", 74, Purpose.CORE),
        ("Heat the oil until it reaches {}.", 180, Purpose.FAT),
        ("Boil the sugar and water to {}.", 118, Purpose.SYRUP),
        ("Cook until a candy thermometer reads {}.", 118, Purpose.SYRUP),
        ("Cook to {}, the soft-ball stage.", 113, Purpose.SYRUP),
        ("Cook the custard to {}.", 82, Purpose.CUSTARD),
        ("Refrigerate at {} or below.", 4, Purpose.REFRIGERATOR),
        ("Keep warm at {}.", 60, Purpose.HOLDING),
        ("Keep warm at {}.", 100, Purpose.HOLDING),
        ("Cool to {} within 2 hours.", 21, Purpose.HOLDING),
        ("Cool to {}.", 5, Purpose.HOLDING),
        ("Chill from 63 °C to below {}.", 5, Purpose.HOLDING),
        ("Set the refrigerator to {}.", 4, Purpose.REFRIGERATOR),
        ("Keeps 10 days at {}.", 4, Purpose.REFRIGERATOR),
        ("Keeps 8 weeks at {}.", -18, Purpose.FREEZER),
        ("Store jars somewhere dark at {}.", 14, Purpose.ROOM),
        ("Let the dough rise at {}.", 26, Purpose.PROOF),
        ("Aim for a dough temperature of {}.", 24, Purpose.DOUGH),
        ("Dissolve the yeast in water at {}.", 40, Purpose.WATER),
        ("Bring to room temperature, {}.", 21, Purpose.ROOM),
        ("Temper the chocolate at {}.", 31, Purpose.CHOCOLATE),
        ("Melt the chocolate to 45 °C; stir until it drops to {}.", 27, Purpose.CHOCOLATE),
        ("Steep at {}.", 80, Purpose.WATER),
        ("Whisk over simmering water to {}.", 71, Purpose.OTHER),
        ("Cook it in a {} water bath.", 56, Purpose.BATH),
        ("Smoke the brisket at {}.", 102, Purpose.SMOKER),
        ("Then 2 hours at {}.", 170, Purpose.OVEN),
        ("Refresh 12 min. at {}.", 200, Purpose.OVEN),
        ("Set the oven going. Then raise it to {}.", 160, Purpose.OVEN),  # from the sentence before
        ("Serve at {}.", 400, Purpose.CORE),  # what can't be is for the checks to say
    ],
)
def test_purpose(text: str, celsius: int, purpose: Purpose) -> None:
    written = f"{celsius} °C"
    assert purpose_in(text.replace("{}", written), written, celsius) is purpose


@pytest.mark.parametrize(
    ("link", "amount", "share", "rest"),
    [
        ("50 g", "50 gram", None, False),
        ("about 50 g", "about 50 gram", None, False),
        ("50 g of the sesame", "50 gram", None, False),
        ("the 50 g sesame", "50 gram", None, False),
        ("2 tablespoons of the sugar", "2 tablespoon", None, False),
        ("½ cup (60 g)", "½ cup", None, False),
        ("2 of the eggs", "2 one", None, False),
        ("one egg", "1 one", None, False),
        ("a pinch of the salt", "1 pinch", None, False),
        ("the rest", None, None, True),
        ("the remaining sesame", None, None, True),
        ("rest of the sesame", None, None, True),
        ("the remaining 20 g", "20 gram", None, False),
        ("half", None, Fraction(1, 2), False),
        ("half of the butter", None, Fraction(1, 2), False),
        ("the other half", None, Fraction(1, 2), False),
        ("a third of the butter", None, Fraction(1, 3), False),
        ("two thirds of the butter", None, Fraction(2, 3), False),
        ("1/4 of the butter", None, Fraction(1, 4), False),
        ("50 % of the butter", None, Fraction(1, 2), False),
        ("all of the butter", None, Fraction(1), False),
        ("sesame", None, None, False),
        ("a sesame seed", None, None, False),
    ],
)
def test_draw(link: str, amount: str | None, share: Fraction | None, rest: bool) -> None:
    step, findings = read_step(f"Add [{link}](#seeds) now.", WHERE)
    (draw,) = (span for span in step.spans if isinstance(span, Draw))
    assert (draw.key, draw.share, draw.rest, findings) == ("seeds", share, rest, ())
    assert (told(draw.amount) if draw.amount else None) == amount
    assert draw.amount is None or draw.text.startswith(draw.amount.written)
    assert link.endswith(draw.text)
    assert draw.where.column == 9 + len("Add [") + len(link) - len(draw.text)


def test_link_elsewhere_is_an_error_and_keeps_its_words() -> None:
    step, (finding,) = read_step("See [the site](https://example.org) for more.", WHERE)
    assert "".join(span.text for span in step.spans) == "See the site for more."
    assert str(finding) == (
        "recipe.yaml:7:14: error: the link “the site” leads to “https://example.org” - "
        "a link to an ingredient's key, such as [50 g](#seeds), or plain words [link-target]"
    )


def test_html_and_images_are_plain_text() -> None:
    text = "A <b>bold</b> <script>x</script> & <https://example.org>"
    assert visible(text) == text
    step, findings = read_step(text, WHERE)
    assert (step.spans, findings) == ((Words(text=text),), ())
    assert [finding.name for finding in read_step("![alt](photo.jpg)", WHERE)[1]] == ["link-target"]


def test_places_are_those_of_the_source() -> None:
    text = "**Mix** `a` \\* &frac12; cup and [50 g](#s) at *180 °C*\nthen 20 g."
    step, _ = read_step(text, WHERE)
    placed = [span for span in step.spans if isinstance(span, Measured | Draw)]
    places = {span.text: (span.where.line, span.where.column) for span in placed}
    assert places["½ cup"] == (7, 9 + text.index("&frac12;"))
    assert places["50 g"] == (7, 9 + text.index("50 g"))
    assert places["180 °C"] == (7, 9 + text.index("180"))
    assert places["20 g"] == (8, 1 + "then 20 g.".index("20"))


def test_headnote_reads_measures_and_leaves_links_as_words() -> None:
    spans = read_prose("Keeps *two weeks* at 4 °C; see [the 50 g](#seeds).", WHERE)
    assert "".join(span.text for span in spans) == "Keeps two weeks at 4 °C; see the 50 g."
    measured = [span for span in spans if isinstance(span, Measured)]
    assert [told(span.quantity) for span in measured] == ["2 week", "4 degree Celsius", "50 gram"]
    assert [span.quantity.dimension for span in measured] == [
        Dimension.DURATION, Dimension.TEMPERATURE, Dimension.MASS,
    ]  # fmt: skip


def test_a_step_of_enormous_length_is_refused_unread() -> None:
    step, (finding,) = read_step("*" * (LONGEST_TEXT + 1), WHERE)
    assert (finding.name, len(step.spans)) == ("step-too-long", 1)


def test_visible_text_is_commonmarks() -> None:
    # markdown-it-py passes the CommonMark 0.31 suite; its own rendering, without tags, is the measure.
    text = "a *b* **c `d`** \\*e\\* &amp; &frac12; _f_ g*h* ***i*** [j](#k) 2 * 3 * 4 _l_m"
    html = MarkdownIt("commonmark").renderInline(text)
    for tag in ("em", "strong", "code", "a"):
        html = html.replace(f"</{tag}>", "").replace(f"<{tag}>", "")
    assert visible(text) == html.replace('<a href="#k">', "").replace("&amp;", "&")


@given(st.text(st.sampled_from("ab 1½,.:;!?<>|~#-+=@^{}()]\"'/$%\n")))
def test_a_text_without_marks_is_read_as_commonmark_reads_it(text: str) -> None:
    reader = MarkdownIt("zero").enable(["emphasis", "backticks", "link", "entity", "escape"])
    tokens = reader.parseInline(text.replace("\n", " "))[0].children or []
    assert visible(text) == "".join(token.content for token in tokens)


# --- on any text ---

WORDS = (
    "180|350|9|½|1/0|1,5|°C|°F|° F|F|C|degrees|gas mark|fan|oven|bake at|heat to|to|–|-|(|)|/|x|×|by|inch|cm|"
    "in|g|cup|minutes|hour|and|or|between|about|lower|*|**|_|`|[|](#k)|](x)|\\|&|&amp;|<|>|a|an|half|.|,|pan|"
    "the rest"
)
PIECES = st.sampled_from(WORDS.split("|"))
TEXTS = (
    st.lists(PIECES, max_size=14).map(" ".join)
    | st.lists(PIECES, max_size=10).map("".join)
    | st.text(max_size=50)
)


@given(TEXTS)
def test_spans_make_up_the_visible_text(text: str) -> None:
    step, findings = read_step(text, WHERE)
    assert step.text == text
    assert "".join(span.text for span in step.spans) == visible(text)
    assert "".join(span.text for span in read_prose(text, WHERE)) == visible(text)
    assert all(finding.what and finding.instead for finding in findings)


@given(TEXTS)
def test_what_is_measured_is_sound(text: str) -> None:
    for span in read_step(text, WHERE)[0].spans:
        if not isinstance(span, Measured):
            continue
        heat = span.quantity.dimension in {Dimension.TEMPERATURE, Dimension.TEMPERATURE_CHANGE}
        assert (span.purpose is not None) is heat
        assert all(side.low <= side.high for side in (*span.sides, *span.stated))
        assert all(side.dimension is span.quantity.dimension for side in span.sides)
