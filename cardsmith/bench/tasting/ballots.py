"""The ballots of a tasting and the sheet that says who gets what, as ready text.

A ballot tells its taster nothing of the test: a mark for the session stands in place of its name and seed.
"""

from __future__ import annotations

import hashlib

from cardsmith.bench.model import Tasting
from cardsmith.bench.tasting.serving import REFERENCE, servings
from cardsmith.bench.wording import sample, samples
from cardsmith.frozen import frozen
from cardsmith.reference import table

TASKS = {
    "liking": "In this order, water between: tick how much you like each one, then the scales.",
    "preference": "In this order, water between: which do you prefer?",
    "triangle": "In this order, water between: two are the same, one differs. Which? Guess if need be.",
    "duo-trio": "Taste R first, then the others, water between: which is the same as R? Guess if need be.",
}
MARK = "BCDFGHJKLMNPQRSTVWXZ"  # no vowel, so no word
PLACES = ("first", "second", "third", "fourth", "fifth", "sixth")


@frozen
class Ballot:
    """One taster's page."""

    taster: int
    cups: tuple[tuple[str, str], ...]  # code and sample, in order
    codes: tuple[str, ...]  # those to judge


@frozen
class Ballots:
    """The whole session."""

    session: str  # the same on every page; says nothing to who doesn't know it
    name: str
    test: str
    samples: str  # trial 4 and trial 6
    tasters: int
    seed: str
    question: str
    task: str
    places: tuple[str, ...]
    ballots: tuple[Ballot, ...]
    scored: bool
    optional: bool  # whether “no preference” may be ticked
    attributes: tuple[str, ...]
    liking: tuple[tuple[str, str], ...]
    just_right: tuple[tuple[str, str], ...]


def scale(name: str) -> tuple[tuple[str, str], ...]:
    """The points of a published scale and what each is called."""
    return tuple((row["point"], row["label"]) for row in table("sensory_scales") if row["scale"] == name)


def session_mark(tasting: Tasting) -> str:
    """Four consonants by which ballots and serving order are known to belong together."""
    digest = hashlib.sha256(f"{tasting.seed}/{tasting.name}/session".encode()).digest()
    return "".join(MARK[byte % len(MARK)] for byte in digest[:4])


def ballots(tasting: Tasting) -> Ballots:
    """The ballots as the seed gives them, the same each time they are printed."""
    served = servings(tasting)
    return Ballots(
        session=session_mark(tasting),
        name=tasting.name,
        test=tasting.test,
        samples=samples(tasting.trials),
        tasters=tasting.tasters,
        seed=tasting.seed,
        question=tasting.question,
        task=TASKS[tasting.test],
        places=tuple(PLACES[at] if at < len(PLACES) else str(at + 1) for at in range(len(served[0].cups))),
        ballots=tuple(
            Ballot(
                taster=serving.taster,
                cups=tuple((cup.code, sample(cup.trial)) for cup in serving.cups),
                codes=tuple(cup.code for cup in serving.cups if cup.code != REFERENCE),
            )
            for serving in served
        ),
        scored=tasting.test == "liking",
        optional=tasting.test == "preference",
        attributes=tasting.attributes,
        liking=scale("9-point hedonic"),
        just_right=scale("5-point just-about-right"),
    )
