"""What of a drawn layout landed in its place in the file that is made of it.

python -m tests.draft.placed 300      # how many of each kind, and which did not
python -m tests.draft.placed 17 -     # the layout of one seed, and its file
"""

# ruff: noqa: T201 - a script that prints for its reader

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from typing import Any

from ruamel.yaml import YAML

from cardsmith.draft.drafting import Drafted, draft_of
from cardsmith.finding import CardsmithError
from cardsmith.frozen import frozen
from cardsmith.measure.larder import Larder, load_larder
from tests.draft.files import made
from tests.draft.layouts import Layout, Writer


def _telling(text: str) -> tuple[str, ...]:
    """The words of a text in any order, as a table or an amount behind its food turns them."""
    letters = "".join(one if one.isalnum() or one in "½¾⅓" else " " for one in text.lower())
    return tuple(sorted(letters.split()))


@frozen
class Placed:
    """What of a layout landed in its place, and what did not."""

    of: Counter[str]
    right: Counter[str]
    wrong: tuple[str, ...]


def placed(layout: Layout, drafted: Drafted) -> Placed:
    """Each drawn line among the ingredients, each step among the steps, and each in its part."""
    trees: list[dict[str, Any]] = [YAML(typ="safe", pure=True).load(file.text) for file in drafted.files]
    parts = [part for tree in trees for part in (tree, *tree.get("parts", ()))]
    listed = [(part, one) for part in parts for one in part.get("ingredients", ())]
    named = [
        (_telling(part.get("name", "")), _telling(one if isinstance(one, str) else " ".join(one.values())))
        for part, one in listed
    ]
    lines = Counter(told for _, told in named)
    steps = [" ".join(step.split()) for part in parts for step in part.get("steps", ())]
    run = " ".join(steps)
    of, right, wrong = Counter[str](), Counter[str](), []
    for part in layout.meant.parts:
        for line in part.lines:
            told = _telling(line)
            _judge(of, right, wrong, "ingredient", line.strip(), holds=lines[told] > 0)
            if part.name:
                holds = any(one == told and set(_telling(part.name)) <= set(name) for name, one in named)
                _judge(of, right, wrong, "in its part", line, holds=holds)
            lines[told] -= 1
        for step in part.steps:
            plain = step.replace("'", "’")
            holds = {step, plain} & set(steps) if not layout.one_block else step in run or plain in run
            _judge(of, right, wrong, "step", step, holds=bool(holds))
    met = [steps.index(step) for step in _in_order(layout) if step in steps]
    _judge(of, right, wrong, "in order", f"{met}", holds=met == sorted(met))
    further = sum(len(part.steps) for part in layout.meant.parts) - len(steps)
    if further < 0 and not layout.one_block:
        _judge(of, right, wrong, "no other step", f"{-further} more steps", holds=False)
    if extra := +lines:
        _judge(of, right, wrong, "no other ingredient", f"{list(extra)}", holds=False)
    for key in ("title", "yield", "time", "headnote", "storage", "equipment", "note"):
        if told := layout.meant.fields.get(key, ""):
            found = " ".join(str(tree.get("notes" if key == "note" else key, "")) for tree in trees)
            holds = _told(key, told) <= set(_telling(found))
            _judge(of, right, wrong, key, told, holds=holds)
    if desk := layout.meant.fields.get("desk", ""):
        holds = not any(set(_telling(desk)) <= set(_telling(text)) for text in (*steps, *map(str, listed)))
        _judge(of, right, wrong, "desk", desk, holds=holds)
    _judge(of, right, wrong, "one recipe", f"{len(trees)} recipes", holds=len(trees) == 1)
    return Placed(of=of, right=right, wrong=tuple(wrong))


def _told(key: str, text: str) -> set[str]:
    """What of a field its key does not say itself."""
    words = set(_telling(text))
    if key in ("yield", "time"):
        return {word for word in words if any(map(str.isdigit, word))}
    return words - set("storage equipment you also need kit tools note to store".split())


def _in_order(layout: Layout) -> Iterator[str]:
    """The steps as they are laid out, which is how they were drawn."""
    for part in layout.meant.parts:
        for step in part.steps:
            yield from (step, step.replace("'", "’")) if "'" in step else (step,)


def _judge(
    of: Counter[str], right: Counter[str], wrong: list[str], what: str, text: str, *, holds: bool
) -> None:
    of[what] += 1
    right[what] += holds
    if not holds:
        wrong.append(f"{what}: {text}")


def drafted_of(layout: Layout, larder: Larder) -> Drafted:
    """What is made of a layout."""
    ending, data = made(layout.kind, layout.rows)
    return draft_of(data, f"drawn.{ending}", larder)


def measured(seeds: range, larder: Larder) -> Placed:
    """What of all layouts of some seeds landed in its place; what is refused landed nowhere."""
    of, right = Counter[str](), Counter[str]()
    wrong: list[str] = []
    for seed in seeds:
        layout = Writer(seed).layout()
        try:
            found = placed(layout, drafted_of(layout, larder))
        except CardsmithError as fault:
            found = Placed(of=Counter(refused=1), right=Counter(), wrong=(str(fault),))
        of += found.of
        right += found.right
        wrong += [f"{seed} ({layout.kind}): {one}" for one in found.wrong]
    return Placed(of=of, right=right, wrong=tuple(wrong))


if __name__ == "__main__":
    if len(sys.argv) > 2:
        shown = Writer(int(sys.argv[1])).layout()
        files = drafted_of(shown, load_larder()).files
        print("\n".join((*shown.rows, "-----", *(file.text for file in files))))
    else:
        all_ = measured(range(int(sys.argv[1])), load_larder())
        print("\n".join(all_.wrong))
        for what, number in all_.of.most_common():
            print(f"{what}: {all_.right[what]} of {number}, {100 * all_.right[what] / number:.1f} %")
