"""What a cross-tester gets beside the card: a form to type into, and the same form for paper.

The form is in the syntax of a trial. What was cooked stands at its end, so that it reads back as a trial even
when the recipe has gone on since: the trial that has the card's formula, else the formula itself.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from cardsmith.bench.file.yaml_text import block, plain_text
from cardsmith.bench.formula.lineage import compared
from cardsmith.bench.model import Trials
from cardsmith.bench.pack.schema import FORMULA
from cardsmith.frozen import frozen
from cardsmith.language.spans import Measured
from cardsmith.measure.units import COLUMN_NAMES, Dimension
from cardsmith.recipe.file.shape import shaped
from cardsmith.recipe.file.source import read_source
from cardsmith.recipe.file.tree import Mapping
from cardsmith.recipe.file.yaml_traps import in_list
from cardsmith.recipe.model import Recipe, Step
from cardsmith.reference import table
from cardsmith.regex import regex

_WIDTH = 100  # of a comment in the form
_ASIDE = 26  # where the comment beside a key begins
_CLAUSE = regex(r"[,;.!?]\s+|\b(?:and|then)\s+")


@frozen
class PackStep:
    """One step as the card prints it, and what it says of each of its times."""

    number: int
    text: str
    timed: tuple[str, ...]  # rest for 20 minutes


@frozen
class Pack:
    """One cross-test to be made."""

    recipe: str  # its name
    title: str
    tester: str
    column: str  # us or metric
    mark: str  # of the card
    parent: int | None  # the trial that has its formula
    formula: tuple[str, ...]  # as lines of YAML, where no trial has it
    steps: tuple[PackStep, ...]
    measures: tuple[tuple[str, str, str], ...]  # key, about, example

    @property
    def column_name(self) -> str:
        """The column in words."""
        return COLUMN_NAMES[self.column]


def pack(
    recipe: Recipe, trials: Trials | None, printed: Sequence[str], *, tester: str, column: str, mark: str
) -> Pack:
    """The pack for one tester; ``printed`` are the steps of the card in that column."""
    parent = _parent(recipe, trials)
    steps = zip(printed, recipe.steps, strict=True)
    return Pack(
        recipe=recipe.name,
        title=recipe.title,
        tester=tester,
        column=column,
        mark=mark,
        parent=parent,
        formula=() if parent is not None else tuple(_formula(recipe)),
        steps=tuple(
            PackStep(number=number, text=text, timed=tuple(_timed(step)))
            for number, (text, step) in enumerate(steps, 1)
        ),
        measures=tuple(
            (row["name"], row["about"].rstrip("."), row["example"])
            for row in table("bench_measures")
            if row["asked"]
        ),
    )


def _parent(recipe: Recipe, trials: Trials | None) -> int | None:
    """The trial that ``tested:`` names, if the list is still its formula."""
    number = recipe.tested.trial if recipe.tested else ""
    trial = trials.get(int(number)) if trials and number.isdigit() else None
    if trial is None:
        return None
    held = compared(recipe.ingredients, trial)
    same = held.factor == 1 and not (held.unlike or held.untested or held.missing)
    return trial.number if same else None


def _formula(recipe: Recipe) -> Iterator[str]:
    """The author's lists and steps, as they stand in the recipe."""
    source = read_source(recipe.source.encode(), recipe.where.file)
    root, _ = shaped(source.root, source.text.split("\n")) if source.root is not None else (None, ())
    if root is not None:
        own = tuple(entry for entry in root.entries if entry[0].text in FORMULA)
        yield from block(Mapping(entries=own, where=root.where), 0)


def _timed(step: Step) -> Iterator[str]:
    """What a step says of each of its times, from the verb on: ``rest for 20 minutes``."""
    text = ""
    for span in step.spans:
        if isinstance(span, Measured) and span.quantity.dimension is Dimension.DURATION:
            before = _CLAUSE.split(text)[-1]
            yield " ".join(f"{before}{span.text}".split())
        text += span.text


def form(view: Pack) -> str:
    """The form as text to type into."""
    return "\n".join(_form(view)) + "\n"


def _form(view: Pack) -> Iterator[str]:
    yield f"# Cross-test of {view.title}, from the {view.column_name} column."
    yield "#"
    said = (
        "Cook from card.pdf alone, and ask nobody: what the card leaves unclear is what this test is for. "
        "Write while you cook, here behind the colons or on form.pdf. Each number with its unit (340 g or "
        "12 oz, 160 °C or 325 °F), each time by the clock (14:05). What you did not note stays empty. "
        "Send this file back with your photos beside it."
    )
    yield from _comment(said, "")
    yield ""
    yield _blank("date", "the day, such as 2026-03-02")
    yield f"cook: {plain_text(view.tester)}"
    yield _blank("kitchen", "where you cooked")
    yield "room:"
    yield _blank("temperature", "of the air, such as 21 °C", 2)
    yield "oven:"
    yield _blank("name", "which oven", 2)
    yield _blank("set", "what its dial was set to", 2)
    yield _blank("offset", "by a thermometer inside: +10 °F hotter than its dial, −10 °F cooler", 2)
    yield _blank("fan", "yes or no", 2)
    yield from _asked_of_formula(view)
    yield ""
    yield "times:                    # each by the clock; a second day goes on: 23:50, then 00:20"
    for step in view.steps:
        yield from _step(step)
    yield ""
    yield "measured:"
    for name, about, example in view.measures:
        yield _blank(name, f"{about[0].lower()}{about[1:]}, such as {example}", 2)
    yield _blank("colour", "in words", 2)
    yield _blank("texture", "in words", 2)
    yield ""
    yield _blank("photos", "the files beside this one, such as [whole.jpg, cut.jpg]")
    yield _blank("unclear", "what else you stumbled over, a list: [the tin was too full, which spoon?]")
    yield _blank("panel", "what each taster said, such as {RA: dry and toasty, JO: more salt}")
    yield "verdict:"
    yield _blank("call", "settle: good enough to print; keep: to be worked on; drop", 2)
    yield _blank("faults", "each in a word, such as [tough, pale]", 2)
    yield _blank("words", "what is to be said of it", 2)
    yield _blank("next", "what you would change")
    yield ""
    yield "# What you cooked, as the card has it. Please leave this as it is."
    parent = f", from: {view.parent}" if view.parent is not None else ""
    yield f"pack: {{recipe: {view.recipe}, card: {in_list(view.mark)}, column: {view.column}{parent}}}"
    yield from view.formula


def _asked_of_formula(view: Pack) -> Iterator[str]:
    if view.parent is None:
        yield "# Where you used something else, or another amount, write that into the lists at the end."
        return
    yield _blank("change", "what you used instead, a list: [20 g molasses instead of honey, without caraway]")
    yield _blank("method", "what you did otherwise, a list: [Baked on one pan.]")


def _step(step: PackStep) -> Iterator[str]:
    yield from _comment(f"{step.number}. {step.text}", "  ")
    yield f"  - step: {step.number}"
    yield _blank("began", "", 4)
    yield _blank("ended", "", 4)
    if step.timed:
        yield "    timed:"
        yield from (f"      - {{printed: {in_list(said)}, took: }}" for said in step.timed)
    yield _blank("unclear", "", 4)


def _blank(key: str, about: str, indent: int = 0) -> str:
    name = f"{' ' * indent}{key}:"
    return f"{name:<{_ASIDE}}# {about}" if about else name


def _comment(text: str, lead: str) -> Iterator[str]:
    yield from textwrap.wrap(
        text,
        _WIDTH,
        initial_indent=f"{lead}# ",
        subsequent_indent=f"{lead}# ",
        break_long_words=False,
        break_on_hyphens=False,
    )
