"""Which text of the old card became which of the new: moved lines and reworded steps are recognised."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from cardsmith.proof.fields import ProofField
from cardsmith.proof.word_changes import likeness

_ALIKE = 0.5  # share of common words from which two texts without a key count as the same


def pairs(old: Sequence[ProofField], new: Sequence[ProofField]) -> dict[int, int]:
    """For each place in ``new`` its place in ``old``; added texts are missing.

    Unchanged texts are paired first, then those with the same key, then the most similar.
    """
    paired: dict[int, int] = {}
    for kind in dict.fromkeys(field.kind for field in new):
        mine = [place for place, field in enumerate(new) if field.kind == kind]
        theirs = [place for place, field in enumerate(old) if field.kind == kind]
        _pair_same(old, new, mine, theirs, paired)
        _pair_alike(old, new, mine, theirs, paired)
    return paired


def _pair_same(
    old: Sequence[ProofField],
    new: Sequence[ProofField],
    mine: list[int],
    theirs: list[int],
    paired: dict[int, int],
) -> None:
    """Equal words, of the same part where several are equal."""
    for same_part in (True, False):
        for place in [own for own in mine if own not in paired]:
            for other in [former for former in theirs if former not in paired.values()]:
                field, before = new[place], old[other]
                if (field.key, dict(field.words)) == (before.key, dict(before.words)) and (
                    not same_part or field.part == before.part
                ):
                    paired[place] = other
                    break


def _pair_alike(
    old: Sequence[ProofField],
    new: Sequence[ProofField],
    mine: list[int],
    theirs: list[int],
    paired: dict[int, int],
) -> None:
    taken = set(paired.values())
    scores = []
    for place in (own for own in mine if own not in paired):
        for other in (former for former in theirs if former not in taken):
            field, before = new[place], old[other]
            keyed = bool(field.key) and field.key == before.key
            single = len(mine) == len(theirs) == 1
            score = likeness(before.text, field.text)
            if keyed or single or score >= _ALIKE:
                rank = (keyed, field.part == before.part, score)
                scores.append((rank, -abs(place - other), -place, -other))
    for _, _, place, other in sorted(scores, reverse=True):
        if -place not in paired and -other not in taken:
            paired[-place] = -other
            taken.add(-other)


def moved(paired: dict[int, int], old: Sequence[ProofField], new: Sequence[ProofField]) -> frozenset[int]:
    """The places in ``new`` whose text has moved: within its kind, or to another part."""
    out: set[int] = set()
    renamed = {
        old[other].words["text"]: new[place].words["text"]
        for place, other in paired.items()
        if new[place].kind == "part"
    }
    for kind in dict.fromkeys(field.kind for field in new):
        places = [place for place in sorted(paired) if new[place].kind == kind]
        kept = _longest_rising([paired[place] for place in places])
        out |= {place for at, place in enumerate(places) if at not in kept}
        out |= {
            place
            for place in places
            if renamed.get(old[paired[place]].part, old[paired[place]].part) != new[place].part
        }
    return frozenset(out)


def _longest_rising(values: Sequence[int]) -> frozenset[int]:
    """The places of a longest increasing subsequence; what is not in it was moved."""
    tails: list[int] = []
    ends: list[int] = []
    before: list[int] = []
    for place, value in enumerate(values):
        at = bisect_left(tails, value)
        tails[at:] = [value, *tails[at + 1 :]]
        ends[at:] = [place, *ends[at + 1 :]]
        before.append(ends[at - 1] if at else -1)
    kept: set[int] = set()
    place = ends[-1] if ends else -1
    while place >= 0:
        kept.add(place)
        place = before[place]
    return frozenset(kept)
