"""Two cards compared: lines and steps are found again wherever they went."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardsmith.proof.changes import ChangeKind, Changes, changes
from cardsmith.proof.fields import FieldNumber, ProofField
from cardsmith.proof.word_changes import Marks


def field(kind: str, at: int, text: str, *, key: str = "", part: str = "", figures: str = "") -> ProofField:
    numbers = tuple(FieldNumber(author=one, us=one, metric=one) for one in figures.split("|") if one)
    return ProofField(
        kind=kind, at=at, place=f"{kind} {at + 1}", words={"text": text}, key=key, part=part, figures=numbers
    )


def line(at: int, us: str, item: str, part: str = "", prep: str = "") -> ProofField:
    return ProofField(
        kind="line",
        at=at,
        place=f"list: {item}",
        words={"us": us, "metric": us, "item": item, "prep": prep, "note": ""},
        key=item,
        part=part,
        figures=(FieldNumber(author=us, us=us, metric=us),),
    )


CARD = (
    field("title", 0, "Rye thins"),
    field("headnote", 0, "Thin and dark, and better on the second day."),
    field("part", 0, "Dough", part="Dough"),
    line(0, "200 g", "rye flour", "Dough"),
    line(1, "4 g", "fine salt", "Dough"),
    line(2, "110 g", "water", "Dough"),
    field("step", 0, "Heat the oven to 160 °C with a rack in the middle.", figures="160 °C"),
    field("step", 1, "Whisk the flour and the salt in a wide bowl."),
    field("step", 2, "Stir in the water until a stiff dough forms, then rest it.", figures=""),
    field("step", 3, "Bake for 25 to 30 minutes until dry.", figures="25 to 30 minutes"),
)


def renumbered(*fields: ProofField) -> tuple[ProofField, ...]:
    """Fields with their places counted again, as a card numbers its lines and steps."""
    counts: dict[str, int] = {}
    out = []
    for one in fields:
        at = counts.get(one.kind, 0)
        counts[one.kind] = at + 1
        out.append(replace(one, at=at))
    return tuple(out)


def marked(found: Changes) -> set[str]:
    return {
        f"{kind} {at} {cell} {sorted(marks.new)}"
        for (kind, at), cells in found.marks.items()
        for cell, marks in cells.items()
    }


def beside(found: Changes) -> dict[str, tuple[int, ...]]:
    """Where what went out is shown, and which entries of the list it is."""
    told = {}
    for (kind, at), cells in found.marks.items():
        for cell, marks in cells.items():
            if marks.before:
                told[f"{kind} {at} {cell} before"] = marks.before
            if marks.after:
                told[f"{kind} {at} {cell} after"] = marks.after
    return told


PIE = (
    *CARD[:6],
    field("part", 1, "Glaze", part="Glaze"),
    line(3, "10 g", "honey", "Glaze"),
    line(4, "5 g", "oil", "Glaze", "warm"),
    *CARD[6:],
    ProofField(kind="photo", at=0, place="photo", words={"text": "", "file": "a.jpg", "alt": "Thins"}),
)


@pytest.mark.parametrize(
    ("gone", "shown"),
    [
        ([1], {"title 0 text after": (1,)}),  # the headnote: no other text of its kind
        ([3], {"line 0 item before": (1,)}),  # the first line of a part: beside the next of the same part
        ([3, 4], {"line 0 item before": (1, 2)}),
        ([7], {"line 3 item before": (1,)}),  # not after the last line of the part before
        ([8], {"line 3 item after": (1,)}),
        ([9], {"step 0 text before": (1,)}),
        ([12], {"step 2 text after": (1,)}),
        ([10, 12], {"step 0 text after": (1,), "step 1 text after": (2,)}),
        ([13], {"title 0 text before": (1,)}),  # the picture stood above all
        ([6, 7, 8], {"part 0 text after": (1,), "line 2 item after": (2, 3)}),
    ],
)
def test_what_went_out_is_shown_where_it_stood(gone: list[int], shown: dict[str, tuple[int, ...]]) -> None:
    new = renumbered(*(one for place, one in enumerate(PIE) if place not in gone))
    found = changes(PIE, new)
    assert [one.kind for one in found.listed] == [ChangeKind.REMOVED] * len(gone)
    assert beside(found) == shown


def test_what_went_out_of_a_lines_cell_is_shown_at_its_item() -> None:
    new = renumbered(*PIE[:8], line(4, "5 g", "oil", "Glaze"), *PIE[9:])
    found = changes(PIE, new)
    assert found.marks[("line", 4)]["item"].gaps == {1}
    assert "prep" not in found.marks[("line", 4)]


def test_each_mark_names_its_entry_and_a_moved_text_has_one() -> None:
    new = renumbered(
        field("title", 0, "Rye crackers"), *CARD[1:4], CARD[5], CARD[4], *CARD[6:8], *CARD[9:], CARD[8]
    )
    found = changes(CARD, new)
    for number, one in enumerate(found.listed, 1):
        marks = found.marks[one.field.spot]
        assert {each.entry for each in marks.values()} == {number}
        assert any(each.moved for each in marks.values()) is bool(one.moved_from)
    assert [one.kind for one in found.listed] == [ChangeKind.CHANGED, ChangeKind.MOVED, ChangeKind.MOVED]


def test_the_same_card_has_no_changes() -> None:
    assert not changes(CARD, CARD)
    assert not changes(CARD, CARD).marks


def test_a_changed_amount_is_marked_and_nothing_else() -> None:
    new = renumbered(*CARD[:4], line(1, "5 g", "fine salt", "Dough"), *CARD[5:])
    found = changes(CARD, new)
    assert marked(found) == {"line 1 us [0]", "line 1 metric [0]"}
    (one,) = found.listed
    assert (one.kind, one.place) == (ChangeKind.CHANGED, "list: fine salt")
    (number,) = one.numbers
    assert number.old is not None
    assert number.new is not None
    assert (number.old.author, number.new.author) == ("4 g", "5 g")


def test_a_new_step_leaves_the_others_alone() -> None:
    added = field("step", 0, "Toast the seeds in a dry pan until they pop.")
    found = changes(CARD, renumbered(*CARD[:8], added, *CARD[8:]))
    assert [(one.kind, one.place) for one in found.listed] == [(ChangeKind.ADDED, "step 1")]
    assert set(found.marks) == {("step", 2)}


def test_a_removed_line_is_listed_with_its_number() -> None:
    found = changes(CARD, renumbered(*CARD[:4], *CARD[5:]))
    (one,) = found.listed
    assert (one.kind, one.place) == (ChangeKind.REMOVED, "list: fine salt")
    assert one.numbers[0].old == CARD[4].figures[0]
    assert one.numbers[0].new is None
    assert beside(found) == {"line 0 item after": (1,)}


def test_a_moved_step_is_moved_not_rewritten() -> None:
    found = changes(CARD, renumbered(*CARD[:6], CARD[7], CARD[6], *CARD[8:]))
    assert [one.kind for one in found.listed] == [ChangeKind.MOVED]
    assert found.marks == {("step", 0): {"text": Marks(moved=True, entry=1)}}


def test_a_moved_step_that_changed_shows_the_changed_word_alone() -> None:
    hotter = field("step", 6, "Heat the oven to 170 °C with a rack in the middle.", figures="170 °C")
    found = changes(CARD, renumbered(*CARD[:6], CARD[7], CARD[8], hotter, CARD[9]))
    assert marked(found) == {"step 2 text [4]"}


def test_a_line_that_goes_to_another_part_is_moved_and_a_renamed_part_moves_nothing() -> None:
    renamed = renumbered(
        *CARD[:2],
        field("part", 0, "Cracker dough", part="Cracker dough"),
        *(replace(one, part="Cracker dough") for one in CARD[3:6]),
        *CARD[6:],
    )
    found = changes(CARD, renamed)
    assert [one.field.kind for one in found.listed] == ["part"]
    two = renumbered(
        *CARD[:5], field("part", 1, "Glaze", part="Glaze"), replace(CARD[5], part="Glaze"), *CARD[6:]
    )
    kinds = {one.field.kind: one.kind for one in changes(CARD, two).listed}
    assert kinds == {"part": ChangeKind.ADDED, "line": ChangeKind.MOVED}


def test_a_number_that_only_prints_otherwise_is_rounding() -> None:
    other = replace(
        CARD[4],
        words={**CARD[4].words, "us": "¾ tsp"},
        figures=(FieldNumber(author="4 g", us="¾ tsp", metric="4 g"),),
    )
    (one,) = changes(CARD, (*CARD[:4], other, *CARD[5:])).listed
    assert [number.only_rounding for number in one.numbers] == [True]


@settings(max_examples=60)
@given(st.data())
def test_after_any_edits_what_is_unmarked_was_in_print(data: st.DataObject) -> None:
    """Words are replaced, lines moved, added and taken out; every word that is new bears a mark."""
    fields = list(CARD)
    places = data.draw(st.sets(st.integers(0, len(fields) - 1), max_size=4))
    for edited, place in enumerate(places):
        one = fields[place]
        cell = data.draw(st.sampled_from([cell for cell, words in one.words.items() if words]))
        words = one.words[cell].split()
        words[data.draw(st.integers(0, len(words) - 1))] = f"fresh{edited}"
        fields[place] = replace(one, words={**one.words, cell: " ".join(words)})
    steps = [one for one in fields if one.kind == "step"]
    rest = [one for one in fields if one.kind != "step"]
    steps = list(data.draw(st.permutations(steps)))
    if data.draw(st.booleans()):
        steps = steps[1:]
    if data.draw(st.booleans()):
        steps.insert(data.draw(st.integers(0, len(steps))), field("step", 0, "freshly wholly other words"))
    new = renumbered(*rest, *steps)
    found = changes(CARD, new)
    for one in new:
        for cell, text in one.words.items():
            marks = found.marks.get(one.spot, {}).get(cell)
            for at, word in enumerate(text.split()):
                if word.startswith("fresh"):
                    assert marks is not None
                    assert at in marks.new, (one, word)


@pytest.mark.parametrize("kind", ["title", "headnote"])
def test_a_text_that_stands_alone_is_compared_however_much_it_changed(kind: str) -> None:
    new = tuple(replace(one, words={"text": "Wholly different"}) if one.kind == kind else one for one in CARD)
    assert [one.kind for one in changes(CARD, new).listed] == [ChangeKind.CHANGED]
