"""What one clause does to what lies together: how hot it gets it, by verb, place, cue and thermometer."""

from __future__ import annotations

import enum
from fractions import Fraction

from cardsmith.facts.method.clauses import HEATING, Clause, Deed, core
from cardsmith.facts.method.underdone import Sense, underdone
from cardsmith.frozen import frozen
from cardsmith.language.spans import Purpose
from cardsmith.regex import regex


@enum.unique
class Heat(enum.StrEnum):
    """How far heat has got, the least first."""

    RAW = "raw"
    WARMED = "warmed"  # touched by heat, never through
    FLAMED = "flamed"
    SEARED = "seared"  # its outside alone
    COOKED = "cooked"
    PASTEURISED = "pasteurised"  # by a published temperature, or time and temperature
    UNKNOWN = "unknown"


RANK = {heat: place for place, heat in enumerate(Heat)}


@frozen
class Event:
    """One deed that reached a food. Places are those of characters in the step's visible text."""

    step: int
    start: int
    end: int
    heat: Heat  # as its words have it; a thermometer may tell otherwise
    verb: str
    celsius: Fraction | None = None  # of the food's inside
    bath: Fraction | None = None  # °C of the water bath, which is not yet the food's
    seconds: Fraction = Fraction(0)  # how long, at least; 0 where nobody says
    held: Fraction = Fraction(0)  # of those, the seconds that its inside stays at ``celsius``
    boils: bool = False  # at a full boil
    goes_on: bool = False  # it is still over heat when the clause ends
    syrup: Fraction | None = None  # °C of the sugar in it
    text: str = ""  # of its clause, in small letters
    has_flesh: bool = False  # meat or fish is among it, so that the thermometer stands in that
    lines: frozenset[int] = frozenset()  # what lies together, by place in recipe.ingredients
    left: Sense | None = None  # rare, pink, runny by the author's own words

    @property
    def is_alone(self) -> bool:
        """Whether nothing else lies with it: flour toasted dry."""
        return len(self.lines) == 1


PLACE = regex(
    r"\b(?:(?:in|into|on|onto|under|to) (?:the|a|an|your) (?:\w+[ -]){0,3}(?:oven|grill|broiler|barbecue"
    r"|griddle|microwave|steamer|slow cooker|pressure cooker|smoker|fryer|waffle iron|tandoor)"
    r"(?![- ](?:safe|proof))"
    r"|over (?:a |an |the )?(?:\w+[ -]){0,2}(?:heat|flame|coals|fire)\b"
    r"|(?:in|into) (?:\w+ ){0,4}(?:boiling|simmering|bubbling) \w+"
    r"|(?:in|into|on) (?:a|the) (?:very )?hot (?:\w+ )?(?:pan|skillet|wok|griddle|oil|fat))"
)
OVER_WATER = regex(
    r"\bover (?:\w+ ){0,4}(?:boiling|simmering) water\b"
    r"|\bback over the (?:\w+ )?(?:water|(?:sauce)?pan|pot)\b"
)
POURS = frozenset({"pour", "ladle", "spoon", "tip", "drizzle"})
DONE = regex(
    r"\b(?:boil\w*|simmer\w*|bubbl\w*|thick\w*|coats?|set|cooked|browned|opaque|tender|firm|crisp|curl\w*|pink"
    r"|flakes?|flaky|pops?|piping hot|puffed|wilted|golden|open|opened|custard|scrambl\w*|caramel\w*|amber)\b"
)
UNTIL = regex(r"\b(?:until|till|so that)\b")
OFF = regex(
    r"\b(?:(?:off|from|away from|out of) (?:the )?(?:heat|oven|stove|hob|flame|grill|water|pan|pot)"
    r"|turn(?:ed)? off|switch(?:ed)? off|heat off|to cool|set aside|residual heat)\b"
)
RESTS = regex(
    r"\b(?:rest|stand|cool|chill|soak|steep|marinat\w*|refrigerat\w*|freez\w*|aside|cold|prov\w+|rise)\b"
)
UNSAID = regex(
    r"\b(?:do not|don't|without|never|no need to|not|no|avoid|before|rather than|instead of)"
    r"\s+(?:\w+\s+){0,2}$"
)
BATH = regex(r"\b(?:sous[- ]vide|water bath|circulator|vacuum)\b")
FLAMES = regex(
    r"\b(?:set (?:it |them |the \w+ |this )?(?:alight|on fire|aflame)|set (?:fire|light) to|ignite|flamb\w+"
    r"|touch (?:it )?with a (?:match|flame|taper)|light (?:it|the|with)|flame the"
    r"|(?:long |lit |lighted |set a |put a |hold a )(?:match|taper)"
    r"|catch\w* (?:fire|light|alight|the gas|from the (?:burner|flame))"
    r"|(?:tilt|tip)\w*\b[^,]*\b(?:flame|burner|gas)|flames? (?:up|leap|shoot|flare)"
    r"|burning (?:over|onto)|flaming (?:\w+ ){0,2}(?:rum|brandy|spirits?|to the table))\b"
)
HOLDS = regex(r"\b(?:hold|held|holding|keep|kept|maintain\w*|stays?)\b")
READS = regex(
    r"\b(?:reads?|register\w*|inside|internal\w*|middle|cent(?:re|er)|thickest|thermometer|probe)\b"
)
BRINGS = regex(
    r"\b(?:to|comes? to) (?:a|the|its) (?:\w+ ){0,3}(?:boil|simmer|bubble)\b"
    r"|\bup to (?:the )?(?:boil|simmer)\b"
)
BOILS = regex(
    r"\b(?:keep|hold|let|leave|maintain)\b[^,;]*\b(?:boil|boiling|rolling boil)\b"
    r"(?! (?:\w+ )?(?:water|stock|milk|syrup|liquid))"
)
_BATH_MOST = 95  # °C: no bath is hotter; what is, is the pan that the food goes in next
THROUGH = 71  # °C: what reads 160 °F is cooked through, FoodSafety.gov chart for egg dishes
SURFACE = 120  # seconds on a side; what is only seared for less stays raw inside: common practice, no source


def off_the_heat(clause: Clause) -> bool:
    """Whether a clause takes food off the heat, or lets it lie."""
    return clause.says(OFF) or (clause.deed is Deed.LEAVE and clause.says(RESTS))


def heat_of(clause: Clause, *, is_on: bool, syrup: Fraction | None) -> Event | None:
    """What a clause does to what it acts on; None where it heats nothing.

    ``is_on`` says that some of it is over heat already, ``syrup`` how hot the syrup is that is among it.
    """
    heat = _by_words(clause, is_on=is_on)
    in_air = clause.deed is Deed.DRY and not clause.says(READS)  # whose heat is not the food's
    inside = [] if in_air else [measured.quantity.low for measured in core(clause)]
    if clause.deed in HEATING or heat is not None or is_on:
        inside += [
            measured.quantity.low for measured in clause.temperatures if measured.purpose is Purpose.WATER
        ]
    celsius = max(inside, default=None)
    bath = max(
        (measured.quantity.low for measured in clause.temperatures if measured.purpose is Purpose.BATH),
        default=None,
    )
    if bath is None and clause.says(BATH) and clause.deed is not Deed.WARM:
        low = (
            measured.quantity.low for measured in clause.temperatures if measured.quantity.low <= _BATH_MOST
        )
        bath, celsius = max(low, default=celsius), None
    if heat is None and bath is not None and clause.deed is not Deed.WARM and clause.seconds:
        heat = Heat.COOKED
    if heat is None and syrup is not None and syrup >= 110 and clause.deed is Deed.MIX:
        heat = Heat.COOKED  # boiling syrup over egg white: USDA FSIS, Shell Eggs from Farm to Table (memory)
    if heat is None and celsius is not None and celsius > 45 and clause.deed is not Deed.COOL:
        heat = Heat.WARMED
    left = underdone(clause.text)
    if heat is None and left is not None and clause.deed is Deed.NONE:
        heat = Heat.WARMED  # "; the middle should still be glassy"
    if heat is None:
        return None
    if celsius is not None and heat is Heat.WARMED and celsius >= THROUGH:
        heat = Heat.COOKED
    return Event(
        step=clause.step,
        start=clause.start,
        end=clause.end,
        heat=heat,
        verb=clause.verb,
        text=clause.text,
        syrup=max(
            (measured.quantity.low for measured in clause.temperatures if measured.purpose is Purpose.SYRUP),
            default=None,
        ),
        celsius=celsius,
        bath=bath,
        seconds=clause.seconds,
        held=clause.seconds if clause.is_held or clause.says(HOLDS) else Fraction(0),
        boils=clause.verb == "boil" or clause.says(BOILS) or (clause.says(BRINGS) and "boil" in clause.text),
        goes_on=(is_on or clause.deed in HEATING or clause.says(BRINGS) or clause.says(OVER_WATER))
        and not clause.says(OFF),
        left=left.sense if left is not None else None,
    )


def _by_words(clause: Clause, *, is_on: bool) -> Heat | None:
    if UNSAID.search(clause.text[: max(clause.at - clause.start - len(clause.verb), 0)]):
        return None
    if clause.says(FLAMES) and (clause.deed in (Deed.FLAME, Deed.LEAVE, Deed.MIX) or clause.verb == "touch"):
        return Heat.FLAMED
    in_acid = clause.verb == "cook" and not is_on and clause.says(_IN_ACID) and not clause.says(PLACE)
    if in_acid or clause.verb == "cure":
        return None  # fish that turns opaque in lime juice, or firm in salt, is raw
    by_deed = _BY_DEED.get(clause.deed)
    if clause.deed is Deed.SEAR and clause.seconds >= SURFACE:
        return Heat.COOKED
    if clause.verb == "dry" and clause.says(PLACE):
        return Heat.COOKED
    if by_deed is Heat.WARMED:
        return Heat.COOKED if (clause.says(DONE) and clause.says(UNTIL)) or clause.says(BRINGS) else by_deed
    if by_deed is not None:
        return by_deed
    if clause.verb == "bring" or clause.deed is Deed.NONE:
        return Heat.COOKED if clause.says(BRINGS) else None
    if clause.deed in (Deed.MIX, Deed.LEAVE):
        return _going_on(clause, is_on=is_on)
    return None


def _going_on(clause: Clause, *, is_on: bool) -> Heat | None:
    """What heat does to food put, stirred or left over it, or still on it for a time or until a sign."""
    if clause.says(PLACE) or (clause.says(OVER_WATER) and clause.verb not in POURS):
        gentle = not clause.seconds and not clause.says(UNTIL)
        return Heat.WARMED if gentle and clause.deed is Deed.MIX and "heat" in clause.text else Heat.COOKED
    if clause.says(BRINGS):
        return Heat.COOKED
    stays = is_on and not clause.says(OFF) and not clause.says(RESTS)
    return Heat.COOKED if stays and (clause.seconds or (clause.says(UNTIL) and clause.says(DONE))) else None


_IN_ACID = regex(
    r"\b(?:in|by|with) (?:the |its |their )?(?:\w+ )?(?:lime|lemon|citrus|grapefruit|acid)\b"
    r"(?!.*\b(?:butter|heat|pan)\b)"
)
_BY_DEED = {
    Deed.COOK: Heat.COOKED,
    Deed.BOIL: Heat.COOKED,
    Deed.TOAST: Heat.COOKED,
    Deed.SEAR: Heat.SEARED,
    Deed.WARM: Heat.WARMED,
    Deed.FLAME: Heat.FLAMED,
    Deed.DRY: Heat.WARMED,
}
