"""A number of degrees is a point or a difference: sentences drawn from their meaning."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import cycle

import pytest

from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind

POINT, CHANGE = Kind.TEMPERATURE, Kind.DIFFERENCE
HEATS = {POINT, CHANGE}
CHANGES = ("10 °C", "25 °F", "8 °F", "2 degrees C", "15°F", "5 to 10 °F", "2 °C")
POINTS = ("180 °C", "325 °F", "95 °F", "72 °C", "4 °C", "165°F", "160 to 165 °F")
THINGS = "the oven|it|the thermostat|the oil|the water bath|the oven temperature|the heat".split("|")
FOODS = "The roast|The oven|The oil|The syrup|Its middle|The dough|The temperature".split("|")

# Verbs that move a heat, some with a particle; those with none take how far right behind their object.
MOVES = "bring|take|knock|dial|nudge|bump|ease|crank|move|shift|push".split("|")
PLAIN_MOVES = "lower|raise|reduce|increase|decrease|drop".split("|")
RISES = (
    "rise|climb|fall|drop|drift|creep|coast|sink|jump|dip|slip|go up|come down|increase|decrease|shoot up|"
    "tick up|slide"
).split("|")
GAINS = ["gain", "lose", "swing", "vary"]
READS = "reach|hit|read|register|show|touch|pass|be".split("|")

MOVED = [
    ("{v} {t} by {c} and go on.", CHANGE), ("{v} {t} by about {c}.", CHANGE),
    ("{v} {t} by up to {c}.", CHANGE),
    ("{v} {t} to {p} and go on.", POINT), ("{v} {t} to about {p}.", POINT),
]  # fmt: skip
BY_A_PARTICLE = [
    ("{v} {t} up {c} and go on.", CHANGE), ("{v} {t} down another {c}.", CHANGE),
    ("{v} {t} up to {p}.", POINT),
    ("{v} {t} back down a further {c} if it browns.", CHANGE), ("{v} {t} back down to about {p}.", POINT),
]  # fmt: skip
BY_ITSELF = [("{v} {t} {c} if it browns.", CHANGE), ("{v} {t} another {c}.", CHANGE)]
GAINED = [
    ("{f} will {v} by {c} as it stands.", CHANGE), ("{f} will {v} another {c} as it stands.", CHANGE),
    ("{f} may {v} a further {c}.", CHANGE), ("{f} may {v} {c} as it rests.", CHANGE),
    ("{f} can {v} about {c}.", CHANGE), ("{f} can {v} by as much as {c}.", CHANGE),
]  # fmt: skip
RISEN = [("{f} will {v} to {p} first.", POINT), ("{f} will {v} from 71 °C to {p}.", POINT)]
READ = [
    ("{f} should {v} {p} before you go on.", POINT), ("{f} should {v} about {p}.", POINT),
    ("{f} should {v} {p} in the middle, off the heat.", POINT),
]  # fmt: skip
SIDES = ("below", "above", "under", "over", "short of", "shy of", "away from")
BESIDE = [
    ("Stop {c} {v} the target.", CHANGE), ("Pull it about {c} {v} where you want it.", CHANGE),
]  # fmt: skip
COMPARED = [
    ("Bake it {c} {v} than usual.", CHANGE), ("In moving air set it {c} {v}.", CHANGE),
    ("My oven is {c} {v} than it says.", CHANGE), ("Use {p}, no {v}.", POINT),
    ("Serve at {p} or {v}.", POINT),
]  # fmt: skip
ONCE = [
    *[(text, CHANGE) for text in (
        "Keep it within {c} of that.", "Hold it there, give or take {c}.",
        "Hold it there, plus or minus {c}.",
        "A rise of {c} is normal.", "A drop of about {c} is normal.", "Allow for {c} of carryover.",
        "Allow for {c} of further rise.", "Expect a {c} difference between shelves.",
        "Add {c} for a glass dish.",
        "Knock {c} off for a glass dish.", "Take off {c} for a glass dish.", "Subtract {c} from the setting.",
        "For every 300 m of height, take {c} off.", "My oven runs {c} hot.", "Ovens can be {c} out.",
    )],
    *[(text, POINT) for text in (
        "Preheat the oven to {p}.", "Hold it over {p} for an hour.", "It must not fall below {p}.",
        "Never let it drop under {p}.", "If it climbs past {p}, start again.",
        "Once it has risen to {p}, stop.",
        "Use {p} water and stir.", "Add {p} milk and stir.", "Lower the eggs into {p} water.",
        "Drop the beans into oil at {p}.", "Turn out and bake at {p}.", "Raise the rack and roast at {p}.",
        "Reduce the sauce at {p} for an hour.", "Warm to {p} off the heat.", "Bake at {p} for less time.",
        "At {p} less water is lost.", "At {p} more juice is lost.", "At {p} lower shelves brown first.",
        "Dry at {p} out of the sun.", "Set it {p} under the grill.", "Hold at {p} over a pan of water.",
        "Take it off at {p}.", "Add the yeast at {p}, not hotter.",
    )],
]  # fmt: skip


def drawn() -> Iterator[tuple[str, Kind]]:
    changes, points, things, foods = cycle(CHANGES), cycle(POINTS), cycle(THINGS), cycle(FOODS)
    for verbs, frames in (
        (MOVES, MOVED + BY_A_PARTICLE), (PLAIN_MOVES, MOVED + BY_ITSELF), (RISES, GAINED + RISEN),
        (GAINS, GAINED), (READS, READ), (SIDES, BESIDE),
        ("lower higher hotter cooler warmer colder".split(), COMPARED), ([""], ONCE),
    ):  # fmt: skip
        for verb in verbs:
            for frame, kind in frames:
                for _ in range(7):  # each value, with another thing every time
                    sentence = frame.format(
                        v=verb, c=next(changes), p=next(points), t=next(things), f=next(foods)
                    )
                    yield sentence[0].upper() + sentence[1:], kind
            next(things)
            next(foods)


def test_a_difference_is_told_from_a_point_by_its_grammar() -> None:
    wrong = []
    for text, kind in drawn():
        (*_, heat) = (one for one in readings(text) if one.kind in HEATS)
        if heat.kind is not kind:
            wrong.append(f"{heat.kind} for {kind}: {text}")
    assert not wrong, "\n".join(wrong[:20])


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("point", POINTS[:-1])
def test_a_heat_beside_another_is_a_difference(side: str, point: str) -> None:
    change, whole = readings(f"Stop at 5 °C {side} {point}.")
    assert (change.kind, whole.kind) == (CHANGE, POINT)


def test_a_heat_too_far_off_is_no_turn_of_a_dial() -> None:
    assert [one.kind for one in readings("Turn it up 220 °C. Turn it down 375 °F.")] == [POINT, POINT]
