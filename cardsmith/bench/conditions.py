"""What a trial was made under, beside its formula: air, oven, true heat, time in it, hands and place.

True heat is the dial with the oven's offset. Where two trials differ in any of this, or only one of them says
it, what came of a change isn't the change's alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction

from cardsmith.bench.log import MINUTE, accounts_for, in_heat, lasted
from cardsmith.bench.model import Trial, Verb
from cardsmith.bench.wording import figure, share, signed
from cardsmith.frozen import frozen

UNKNOWN = "–"


def degrees(value: Fraction) -> str:
    """``164 °C``."""
    return f"{figure(value)} °C"


def offset_said(value: Fraction) -> str:
    """``+4 °C``: so much hotter than its dial."""
    return f"{signed(value)} °C"


def minutes(seconds: Fraction) -> str:
    """``27 min``."""
    return f"{figure(seconds / MINUTE)} min"


def heat_said(dial: Fraction | None, offset: Fraction | None) -> str:
    """``164 °C (dial 160 °C, offset +4 °C)``; empty where no dial was set."""
    if dial is None:
        return ""
    if offset is None:
        return f"{degrees(dial)} by the dial (offset not recorded)"
    return f"{degrees(dial + offset)} (dial {degrees(dial)}, offset {offset_said(offset)})"


def heating(trial: Trial) -> str:
    """``27 min at 164 °C (dial 160 °C, offset +4 °C)``; empty where nothing of it is recorded."""
    lasted, heat = in_heat(trial), heat_said(trial.oven.dial, trial.oven.offset)
    words = (minutes(lasted) if lasted is not None else "", f"at {heat}" if heat else "")
    return " ".join(filter(None, words))


def log_said(trial: Trial) -> str:
    """The log in a line, each entry with how long it lasted: ``09:23 rest the dough (20 min); 09:43 …``."""
    words = []
    for place, entry in enumerate(trial.process):
        clock = f"{entry.minute // 60 % 24:02d}:{entry.minute % 60:02d} " if entry.minute is not None else ""
        took = lasted(trial, place)
        words.append(
            f"{clock}{entry.text}" + (f" ({minutes(took)})" if took and entry.minute is not None else "")
        )
    return "; ".join(words)


@frozen
class Conditions:
    """The conditions of one trial, as text for a table; a dash stands for what isn't recorded."""

    room: str
    oven: str
    dial: str
    offset: str
    heat: str
    lasted: str


HEADS = {
    "room": "room",
    "oven": "oven",
    "dial": "dial",
    "offset": "offset",
    "heat": "true heat",
    "lasted": "bake time",
}


def conditions(trial: Trial) -> Conditions:
    """What a trial was made under."""
    oven, lasted = trial.oven, in_heat(trial)
    warmth, damp = trial.room_temperature, trial.humidity
    room = ", ".join(filter(None, (degrees(warmth.middle) if warmth else "", share(damp) if damp else "")))
    return Conditions(
        room=room or UNKNOWN,
        oven=(oven.name + {True: ", fan", False: "", None: ""}[oven.fan]).lstrip(", ") or UNKNOWN,
        dial=degrees(oven.dial) if oven.dial is not None else UNKNOWN,
        offset=offset_said(oven.offset) if oven.offset is not None else UNKNOWN,
        heat=degrees(oven.heat) if oven.heat is not None else UNKNOWN,
        lasted=minutes(lasted) if lasted is not None else UNKNOWN,
    )


# What may not differ where an effect is credited to one change: its value, and how it is said.
_HELD: dict[str, tuple[Callable[[Trial], object], Callable[..., str]]] = {
    "cook": (lambda trial: trial.cook or None, str),
    "kitchen": (lambda trial: trial.kitchen or None, str),
    "oven": (lambda trial: trial.oven.name or None, str),
    "fan": (lambda trial: trial.oven.fan, lambda fan: "on" if fan else "off"),
    "dial": (lambda trial: trial.oven.dial, degrees),
    "offset": (lambda trial: trial.oven.offset, offset_said),
    "true heat": (lambda trial: trial.oven.heat, degrees),
    "bake time": (in_heat, minutes),
}
_DERIVED = "true heat"  # unknown where the dial or the offset is, which are named themselves
_ASKED = ("dial", "offset", "bake time")


def besides(trial: Trial, parent: Trial) -> tuple[str, ...]:
    """What differed besides the changes that are written down, each with its value now and before."""
    return tuple(_besides(trial, parent))


def _besides(trial: Trial, parent: Trial) -> Iterator[str]:
    meant = _meant(trial)
    for name, (value, said) in _HELD.items():
        now, then = value(trial), value(parent)
        if name not in meant and now is not None and then is not None and now != then:
            yield f"{name} {said(now)} (was {said(then)})"
    if _method(trial) != _method(parent) and all(change.verb is not Verb.METHOD for change in trial.changes):
        yield "steps written anew"


def unsaid(trial: Trial, parent: Trial) -> tuple[str, ...]:
    """What only one of the two records, so that nobody knows whether it differed."""
    return tuple(
        name
        for name, (value, _) in _HELD.items()
        if name != _DERIVED and (value(trial) is None) != (value(parent) is None)
    )


def never_said(trials: Iterable[Trial]) -> tuple[str, ...]:
    """What no trial records, of what an effect rests on."""
    every = tuple(trials)
    return tuple(name for name in _ASKED if all(_HELD[name][0](trial) is None for trial in every))


def _meant(trial: Trial) -> set[str]:
    """The conditions that a written change of method changes on purpose."""
    places: set[str] = set()
    for change in trial.changes:
        oven, timed = accounts_for(change.text) if change.verb is Verb.METHOD else (False, False)
        places |= {"dial", "true heat"} if oven else set()
        places |= {"bake time"} if timed else set()
    return places


def _method(trial: Trial) -> tuple[str, ...]:
    return tuple(step.text for part in trial.parts for step in part.steps)
