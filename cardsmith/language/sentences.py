"""Running text read: what each numeral of a sentence is, in the order of the text.

    text    = { words | reading }
    reading = clock | heat | size | amount | percent | telling | unread
    heat    = heat.py, with its purpose (purposes.py) and what is stated again beside it
    size    = number "by" number ["by" number] length                     9 by 13 inches
    amount  = amounts.py: of food; a vessel's size (phrases.py); a time, a length, a pressure, a power
    percent = number ("%" | "percent")
    telling = tellings.py: a count, a reference, a share, how often, part of a name
    stated  = "(" measures ")" | "/" measure | ("," | "or") heat on another scale

What fits none of these is unread, and a fault that quotes it and says what to write.

>>> [(one.kind.value, one.text) for one in readings("Roast 20 minutes at 220 °C, then 1 hour at 180.")]
[('duration', '20 minutes'), ('temperature', '220 °C'), ('duration', '1 hour'), ('unread', '180')]
>>> [(one.kind.value, one.text) for one in readings("Heat 1 tablespoon oil in a 10-inch skillet.")]
[('amount', '1 tablespoon'), ('vessel', '10-inch')]
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache

from cardsmith.finding import Severity
from cardsmith.language.amounts import ONE, Amount, amount_at, joint_at, nothing
from cardsmith.language.bounds import bound_after, bound_behind
from cardsmith.language.clock import Moment, moment_at
from cardsmith.language.faults import Fault
from cardsmith.language.heat import Heat, fan_after, heat_at, signed_at
from cardsmith.language.numbers import Form, Number, number_at
from cardsmith.language.phrases import is_plural, phrase_at, vessel_at, vessel_before
from cardsmith.language.purposes import purpose_of
from cardsmith.language.spans import Kind, Purpose
from cardsmith.language.tellings import reference_at, telling_at
from cardsmith.language.tokens import DASHES, SLASHES, TokenKind, Tokens, tokenize
from cardsmith.language.word_classes import words_of
from cardsmith.measure.larder import load_larder
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import Dimension, System, Unit, units

_MOST_SIDES = 3  # width, length, depth
_MOST_TINS = 8  # counted before a cross; more is a side of one
_HIGH = Fraction(150_000)  # mm; a length from here on is one above the sea
_HEAT_PREPOSITIONS = frozenset({"to", "at", "of", "@", "reads", "registers", "is", "be", "reaches", "reach", "above",
                                "below", "around", "about", "oven", "fridge", "freezer", "temp", "temperature", "say",
                                "over", "under", "reading", "read", "hits", "by", "minus", "-", "−", "–"})  # fmt: skip
_COOL = frozenset({Purpose.REFRIGERATOR, Purpose.FREEZER, Purpose.ROOM, Purpose.PROOF, Purpose.DOUGH, Purpose.MILK,
                   Purpose.CHOCOLATE, Purpose.WATER})  # fmt: skip
_METERS = frozenset({"scale", "scales", "balance", "refractometer", "hydrometer", "brix"})  # read no heat
_WELLS = frozenset({"muffin", "cupcake", "popover", "madeleine", "mini-muffin"})  # tins of so many cups
_FLUID = {"ounce": "fluid ounce", "imperial ounce": "imperial fluid ounce"}
_ARTICLE_TIMES = frozenset({"hour", "minute", "week", "day", "month", "year"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One numeral or measure of a text, from character ``start`` up to ``end``."""

    start: int
    end: int
    text: str
    kind: Kind
    sides: tuple[Quantity, ...] = ()
    stated: tuple[Quantity, ...] = ()
    low: Fraction = Fraction(0)  # of a number without a unit
    high: Fraction = Fraction(0)
    bound: Bound = Bound.EXACTLY
    purpose: Purpose | None = None
    adjective: bool = False
    noun: str = ""
    says_bound: bool = False
    instead: str = ""
    faults: tuple[Fault, ...] = field(default=())


@dataclass(frozen=True, slots=True)
class _Part:
    """A reading by its tokens."""

    first: int
    end: int
    kind: Kind
    sides: tuple[Quantity, ...] = ()
    stated: tuple[Quantity, ...] = ()
    low: Fraction = Fraction(0)
    high: Fraction = Fraction(0)
    purpose: Purpose | None = None
    adjective: bool = False
    noun: str = ""
    says_bound: bool = False
    instead: str = ""
    faults: tuple[Fault, ...] = ()


@lru_cache(maxsize=1 << 11)
def readings(text: str, measures: System = System.US) -> tuple[Reading, ...]:
    """Every numeral of ``text`` in order, each in exactly one reading."""
    return _Reader(tokenize(text), measures).all()


@dataclass(frozen=True, slots=True)
class _Reader:
    tokens: Tokens
    measures: System

    def all(self) -> tuple[Reading, ...]:
        return tuple(self._placed(part) for part in self._parts())

    def _placed(self, part: _Part) -> Reading:
        tokens = self.tokens
        start, end = tokens[part.first].start, tokens[part.end - 1].end
        within = tokens[part.first - 1].low == "within"
        limit = within or part.kind not in {
            Kind.AMOUNT,
            Kind.COUNT,
            Kind.LENGTH,
            Kind.VESSEL,
            Kind.PERCENT,
            Kind.RATIO,
        }
        bound = bound_behind(tokens, part.first, limit=limit)[0]
        if bound is Bound.EXACTLY:
            bound = bound_after(tokens, part.end)[0]
        sides = tuple(
            replace(side, bound=bound) if side.bound is Bound.EXACTLY and bound is not Bound.EXACTLY else side
            for side in part.sides
        )
        return Reading(
            start=start,
            end=end,
            text=tokens.text[start:end],
            kind=part.kind,
            sides=sides,
            stated=part.stated,
            low=part.low,
            high=part.high,
            bound=sides[0].bound if sides else bound,
            purpose=part.purpose,
            adjective=part.adjective,
            noun=part.noun,
            says_bound=part.says_bound,
            instead=part.instead,
            faults=part.faults,
        )

    def _parts(self) -> Iterator[_Part]:
        at = 0
        reference = False
        while at < len(self.tokens):
            part = self._part(at, reference)
            if part is None:
                at += 1
                continue
            reference = part.kind is Kind.REFERENCE
            yield part
            at = part.end

    def _part(self, at: int, series: bool) -> _Part | None:
        """The reading that begins at token ``at``; None where no numeral does."""
        tokens = self.tokens
        token = tokens[at]
        if token.low in {"twice", "thrice"}:
            ratio = tokens[at + 1].low in {"as", "the"}
            value = Fraction(2 if token.low == "twice" else 3)
            return _Part(at, at + 1, Kind.RATIO if ratio else Kind.TIMES, low=value, high=value)
        moment = moment_at(tokens, at)
        if moment is not None:
            return self._moment(moment)
        heat = heat_at(tokens, at)
        if heat is not None:
            return self._heat(heat)
        number = number_at(tokens, at)
        if number is not None and number.form is Form.ARTICLE and number_at(tokens, at + 1) is not None:
            return None  # "a 9-inch pan": the article stays a word
        if number is None:
            return self._ranged(at) if token.low in {"between", "from"} else None
        return (
            self._decade(number)
            or self._size(at)
            or self._amount(at, series)
            or self._percent(number)
            or self._fallback(number, series)
        )

    # --- heat and moments -----------------------------------------------------------------------------

    def _moment(self, moment: Moment) -> _Part:
        if moment.kind is Kind.UNREAD:
            instead = f"“{moment.low} h {moment.high} min”, or the time of day"
            return self._unread(moment.first, moment.end, None, low=moment.low, instead=instead)
        return _Part(
            moment.first,
            moment.end,
            moment.kind,
            sides=(moment.quantity,) if moment.quantity else (),
            low=moment.low,
            high=moment.high,
        )

    def _heat(self, heat: Heat) -> _Part:
        quantity = heat.quantity
        stated, end = self._stated_heat(heat.end)
        change = quantity.dimension is Dimension.TEMPERATURE_CHANGE
        stated = tuple(map(_as_change, stated)) if change else stated
        celsius = None if quantity.unit.system in {System.UNKNOWN, System.GAS} or change else quantity.low
        gas = quantity.unit.system is System.GAS
        purpose = Purpose.OVEN if gas else purpose_of(self.tokens, heat.first, end, celsius)
        unknown = quantity.unit.system is System.UNKNOWN and not change
        kind = Kind.DIFFERENCE if change else Kind.UNREAD if unknown else Kind.TEMPERATURE
        return _Part(
            heat.first,
            end,
            kind,
            sides=(quantity,),
            stated=stated,
            purpose=purpose,
            adjective=heat.joined,
            faults=heat.faults,
        )

    def _stated_heat(self, end: int) -> tuple[tuple[Quantity, ...], int]:
        """The same temperature on other scales, in brackets or behind a slash, a comma or "or"."""
        tokens = self.tokens
        found: list[Quantity] = []
        while True:
            place = end
            opened = tokens[place].text in {"(", "["}
            slash = tokens[place].text in SLASHES
            joined = tokens[place].text == "," or tokens[place].low == "or"
            if not (opened or slash or joined):
                return tuple(found), end
            place += 1
            while joined and tokens[place].low in {"or", "about"}:
                place += 1
            inside: list[Quantity] = []
            while (other := heat_at(tokens, place)) is not None:
                inside.append(other.quantity)
                place = other.end
                if not (opened and (tokens[place].text in SLASHES | {",", ";"} or tokens[place].low == "or")):
                    break
                place += 1
            closed = not opened or tokens[place].text in {")", "]"}
            if not inside or not closed or (joined and not self._other_scale(inside[0], found)):
                return tuple(found), end
            found += inside
            end = place + opened
            if opened and (fan := fan_after(tokens, end)):
                end = fan

    def _other_scale(self, one: Quantity, found: list[Quantity]) -> bool:
        """Whether a temperature behind a comma or "or" says the same again: on another scale than the last."""
        return one.unit.system is not System.UNKNOWN and all(one.unit is not other.unit for other in found)

    # --- sizes and amounts ----------------------------------------------------------------------------

    def _size(self, at: int) -> _Part | None:
        """``9 by 13 inches``, ``33 × 23 × 5 cm``; without a unit it is unread."""
        sides = self._sides(at)
        if sides is None:
            return None
        last = sides[-1]
        assert last.quantity is not None  # _sides has looked
        if not last.has_unit:
            return self._bare_size(at, sides)
        if last.quantity.dimension is not Dimension.LENGTH or self._are_several(sides):
            return None
        end = self._without_stop(last)
        vessel = self._vessel(at, end)
        return self._beside(
            _Part(
                at,
                end,
                Kind.VESSEL if vessel else Kind.LENGTH,
                sides=_lengths(sides),
                adjective=last.joined or self._describes(end),
                noun=vessel,
                faults=tuple(fault for side in sides for fault in side.faults),
            )
        )

    def _sides(self, at: int) -> list[Amount] | None:
        """Two or three numbers with "by" or a cross between; None where no such size begins at ``at``."""
        sides: list[Amount] = []
        place: int | None = at
        while place is not None and len(sides) < _MOST_SIDES:
            amount = amount_at(self.tokens, place, self.measures)
            if amount is None or amount.quantity is None or amount.form is Form.ARTICLE:
                return None
            if amount.quantity.dimension is Dimension.COUNT:
                amount = replace(amount, has_unit=False, end=self._number_end(amount))
            sides.append(amount)
            place = self._by(amount.end)
        return sides if len(sides) > 1 else None

    def _are_several(self, sides: list[Amount]) -> bool:
        """Whether the first number counts things of one size: "3 × 18 cm cake tins"."""
        first, last = sides[0], sides[-1]
        if len(sides) != 2 or first.has_unit or self.tokens[first.end].low == "by":
            return False
        assert first.quantity is not None  # _sides has looked
        phrase = vessel_at(self.tokens, last.end)
        return phrase is not None and is_plural(phrase.head) and first.quantity.low <= _MOST_TINS

    def _number_end(self, amount: Amount) -> int:
        number = number_at(self.tokens, amount.first)
        return number.end if number else amount.end

    def _by(self, end: int) -> int | None:
        """Where the next side of a size begins: behind ``x``, ``×`` or "by"."""
        tokens = self.tokens
        place = end
        if tokens[place].text in DASHES:
            place += 1
        if tokens[place].low not in {"x", "×", "by"}:
            return None
        place += 1
        if tokens[place].text in DASHES:
            place += 1
        number = number_at(tokens, place)
        return place if number is not None and number.form is not Form.ARTICLE else None

    def _bare_size(self, at: int, sides: list[Amount]) -> _Part | None:
        """``a 9x13 pan``, whose unit was left out; "4 x 50 g" is times, and no size."""
        end = sides[-1].end
        if self.tokens[sides[0].end].low == "by" and sides[0].quantity == sides[1].quantity:
            return None  # two by two
        written = self.tokens.between(at, end)
        return self._unread(at, end, sides[0].quantity, instead=f"“{written}-inch” or “{written} cm”")

    def _ranged(self, at: int) -> _Part | None:
        """``between 3 and 4 cups``, ``from 5 to 10 minutes``."""
        amount = amount_at(self.tokens, at, self.measures)
        if amount is None or amount.quantity is None or not amount.has_unit or amount.first != at:
            return None
        return self._of_amount(amount)

    def _decade(self, number: Number) -> _Part | None:
        """``the 1930s``, which are no seconds."""
        after = self.tokens[number.end]
        if not (after.glued and after.low == "s" and (number.value or 0) >= 1000):
            return None
        return self._reference(number, None)

    def _reference(self, number: Number, high: Number | None, *, series: bool = False) -> _Part | None:
        found = reference_at(self.tokens, number, high, series=series)
        if found is None:
            return None
        return _Part(number.first, found.end, found.kind, low=found.low, high=found.high, noun=found.noun)

    def _amount(self, at: int, series: bool) -> _Part | None:
        amount = amount_at(self.tokens, at, self.measures)
        if amount is None:
            return None
        if amount.quantity is None:
            return _Part(at, amount.end, Kind.UNREAD, faults=amount.faults)
        if not amount.has_unit or amount.quantity.dimension is Dimension.RATIO:
            return None
        if amount.quantity.dimension is Dimension.COUNT:
            return None if amount.article else self._counted(amount, series)
        if amount.article and not self._article_counts(amount):
            return None
        return self._of_amount(amount)

    def _counted(self, amount: Amount, series: bool) -> _Part | None:
        """A count of pieces or containers: "2 cloves", "3 slices". Vague ones are amounts of food."""
        quantity = amount.quantity
        assert quantity is not None  # the caller has looked
        if quantity.is_vague:
            return _Part(
                amount.first, amount.end, Kind.AMOUNT, sides=(quantity,), noun=self._noun(amount.end)
            )
        number = number_at(self.tokens, amount.first)
        told = self._reference(number, None, series=series) if number else None
        if told is not None:
            return told
        singular = self.tokens.between(amount.unit_first, amount.end).lower() == quantity.unit.name
        if singular and quantity.low > 1:
            return None  # "an 8 round pan"
        if quantity.is_vague:
            return _Part(
                amount.first, amount.end, Kind.AMOUNT, sides=(quantity,), noun=self._noun(amount.end)
            )
        end = number.end if number and not quantity.is_range else amount.unit_first
        if self.tokens[end - 1].text in DASHES:
            return None
        return _Part(
            amount.first,
            end,
            Kind.COUNT,
            low=quantity.low,
            high=quantity.high,
            noun=self.tokens.between(amount.unit_first, amount.end),
        )

    def _article_counts(self, amount: Amount) -> bool:
        """``a cup of stock``, ``an hour``; but not "once a day", "10 minutes a pound", "a cup" to drink from."""
        tokens, quantity = self.tokens, amount.quantity
        assert quantity is not None  # the caller has looked
        before = tokens[amount.first - 1]
        if before.low in words_of("rate") or before.is_number or before.low in {"minutes", "hours", "times"}:
            return False
        after = tokens[amount.end].low
        if quantity.dimension is Dimension.DURATION:
            return quantity.unit.name in _ARTICLE_TIMES and not phrase_at(tokens, amount.end).words
        if quantity.dimension is Dimension.LENGTH:
            return after in {"thick", "deep", "wide", "long", "apart", "high", "of"}
        if vessel_at(tokens, amount.end) is not None:
            return True  # a quart jar
        if after not in words_of("stop") and load_larder().find(self._noun(amount.end)) is not None:
            return True  # a cup flour
        return after in {"", ".", ",", ";", "of", ")"} or tokens.words(amount.end, "at", "a", "time")

    def _of_amount(self, amount: Amount) -> _Part:
        quantity = amount.quantity
        assert quantity is not None  # the callers have looked
        end = self._without_stop(amount)
        if end < amount.end:
            quantity = replace(quantity, written=self.tokens.between(amount.first, end))
        faults = amount.faults
        inside = quantity.bound is not Bound.EXACTLY and bound_after(self.tokens, end)[0] is Bound.EXACTLY
        if quantity.low <= 0 and quantity.dimension in {Dimension.MASS, Dimension.VOLUME}:
            faults += (nothing(self.tokens, amount.first, end),)
        kind, quantity, end, noun = self._kind(amount, quantity, end)
        if kind is Kind.VESSEL and quantity.unit.name == "cup" and _WELLS & set(noun.split()):
            count = quantity.unit.from_base(quantity.low)
            return _Part(
                amount.first, end, Kind.NAME, low=count, high=count, noun=noun
            )  # a 12-cup muffin tin
        return self._beside(
            _Part(
                amount.first,
                end,
                kind,
                sides=(quantity,),
                adjective=amount.joined or (kind in {Kind.LENGTH, Kind.VESSEL} and self._describes(end)),
                noun=noun,
                says_bound=inside,
                faults=faults,
            )
        )

    def _kind(self, amount: Amount, quantity: Quantity, end: int) -> tuple[Kind, Quantity, int, str]:
        """What an amount measures, by the words around it; and the quantity and its end as that reads them."""
        dimension = quantity.dimension
        plain = {Dimension.DURATION: Kind.DURATION, Dimension.POWER: Kind.POWER, Dimension.ENERGY: Kind.ENERGY,
                 Dimension.PRESSURE: Kind.PRESSURE}  # fmt: skip
        if dimension in plain:
            return plain[dimension], quantity, end, ""
        if dimension is Dimension.MASS and (pressed := self._pressure(end)):
            unit = units()["pound per square inch"]
            scale = unit.size / quantity.unit.size
            psi = replace(quantity, low=quantity.low * scale, high=quantity.high * scale, unit=unit)
            return Kind.PRESSURE, psi, pressed, ""
        if dimension is Dimension.LENGTH and quantity.low >= _HIGH:
            return Kind.ALTITUDE, quantity, end, ""
        vessel = self._vessel(amount.first, end)
        if vessel:
            return Kind.VESSEL, self._capacity(quantity, vessel), end, vessel
        if dimension is Dimension.LENGTH:
            return Kind.LENGTH, quantity, end, self._noun(end)
        return Kind.AMOUNT, quantity, end, self._noun(end)

    def _pressure(self, end: int) -> int | None:
        """Where "pressure" ends behind pounds of it; None where the pounds are a weight."""
        tokens = self.tokens
        place = end + 1 if tokens[end].low == "of" else end
        if tokens[place].low == "pressure":
            return end
        canning = any(
            tokens[at].low in {"pressure", "canner", "psi"} for at in range(max(0, end - 8), end + 4)
        )
        processed = any(tokens[at].low in {"process", "can"} for at in range(max(0, end - 5), end))
        return end if canning and processed else None

    def _vessel(self, first: int, end: int) -> str:
        """The vessel that a size at these tokens belongs to; empty where it is none's."""
        phrase = vessel_at(self.tokens, end)
        if phrase is not None:
            return " ".join(phrase.words)
        return vessel_before(self.tokens, first) or self._deep(first, end)

    def _deep(self, first: int, end: int) -> str:
        """The vessel of a second size: "20 cm square tin, 5 cm deep"."""
        place = bound_behind(self.tokens, first, limit=False)[1] - 1
        if self.tokens[end].low not in {"deep", "across", "wide", "high"} or self.tokens[place].text != ",":
            return ""
        word = self.tokens[place - 1].low
        return word if word in words_of("vessel") else ""

    def _capacity(self, quantity: Quantity, vessel: str) -> Quantity:
        """A vessel's ounces are fluid ones: a 6-ounce ramekin holds 6 fluid ounces."""
        fluid = _FLUID.get(quantity.unit.name)
        if fluid is None or vessel.rsplit(maxsplit=1)[-1] not in words_of("capacity"):
            return quantity
        unit = units()[fluid]
        scale = unit.size / quantity.unit.size
        return replace(quantity, low=quantity.low * scale, high=quantity.high * scale, unit=unit)

    def _noun(self, end: int) -> str:
        place = end + 1 if self.tokens[end].low == "of" else end
        while self.tokens[place].low in {"the", "your", "a", "an"}:
            place += 1
        return " ".join(phrase_at(self.tokens, place).words)

    def _describes(self, end: int) -> bool:
        """Whether a length stands before the noun it describes: "a 23 cm tin", but "2 cm thick"."""
        if self.tokens[end - 1].low in {"inches", "feet", "centimetres", "centimeters"}:
            return False
        return bool(phrase_at(self.tokens, end).words)

    def _without_stop(self, amount: Amount) -> int:
        """Where an amount ends, the stop that ends its sentence left out: "Add 5 oz. Stir"."""
        after = self.tokens[amount.end]
        ends = after.low == "" or (after.text[:1].isupper() and not after.glued)
        return amount.end - 1 if amount.dotted and ends else amount.end

    def _beside(self, part: _Part) -> _Part:
        """``part`` with the same amount in other units: in brackets, or behind a slash."""
        tokens = self.tokens
        while True:
            opened = tokens[part.end].text in {"(", "["}
            if not opened and tokens[part.end].text not in SLASHES:
                return part
            stated: list[Quantity] = []
            place = part.end + 1
            again = self._sides(place) if part.kind in {Kind.LENGTH, Kind.VESSEL} else None
            if again and again[-1].has_unit:
                stated, place = list(_lengths(again)), again[-1].end
            while not again and (other := amount_at(tokens, place, self.measures)) is not None:
                if other.quantity is None or not other.has_unit or other.article:
                    break
                stated.append(other.quantity)
                place = other.end
                if not (
                    opened
                    and (
                        tokens[place].text in SLASHES | {",", ";", "x", "×"}
                        or tokens[place].low in {"or", "by"}
                    )
                ):
                    break
                place += 1
            if (
                not stated
                or (opened and tokens[place].text not in {")", "]"})
                or not _alike(part.sides[0], stated)
            ):
                return part
            part = replace(part, end=place + opened, stated=part.stated + tuple(stated))
            vessel = self._vessel(part.first, part.end) if part.kind in {Kind.AMOUNT, Kind.LENGTH} else ""
            if vessel:
                sides = tuple(self._capacity(side, vessel) for side in part.sides)
                part = replace(part, kind=Kind.VESSEL, noun=vessel, sides=sides)

    # --- numbers without a unit -----------------------------------------------------------------------

    def _percent(self, number: Number) -> _Part | None:
        tokens = self.tokens
        high = self._upper(number)
        last = high or number
        place = last.end
        if tokens[place].low not in {"%", "percent", "pct"} and not tokens.words(place, "per", "cent"):
            return None
        end = place + (2 if tokens[place].low == "per" else 1)
        joint = joint_at(tokens, end)
        upper = number_at(tokens, joint) if joint is not None else None
        if upper and upper.value is not None and tokens[upper.end].low in {"%", "percent"}:
            last, end = upper, upper.end + 1
        if number.value is None or last.value is None:
            return None
        kind = self._percent_kind(number.first, end)
        return _Part(number.first, end, kind, low=number.value, high=last.value, noun=self._noun(end))

    def _percent_kind(self, first: int, end: int) -> Kind:
        tokens = self.tokens
        near = {tokens[at].low for at in range(max(0, first - 8), end + 4)}
        if "power" in near or ("microwave" in near and tokens[first - 1].text == "("):
            return Kind.POWER
        named = tokens[end].low in words_of("named percent") or tokens[end + 1].low in {"chocolate", "cocoa"}
        return Kind.NAME if named else Kind.PERCENT

    def _upper(self, number: Number) -> Number | None:
        """The upper end of a range of bare numbers: "5 or 6", "4–6"."""
        joint = joint_at(self.tokens, number.end)
        if joint is None or number.form is Form.ARTICLE:
            return None
        high = number_at(self.tokens, joint)
        if high is None or high.value is None or number.value is None or high.form is Form.ARTICLE:
            return None
        return high if high.value > number.value else None

    def _fallback(self, number: Number, series: bool) -> _Part | None:
        if number.value is None:
            return _Part(number.first, number.end, Kind.UNREAD, faults=number.faults)
        if number.form is Form.ARTICLE:
            return None
        high = self._upper(number)
        if not self._bare_heat(number, high):
            telling = telling_at(self.tokens, number, high, series=series)
            if telling is not None:
                return _Part(
                    number.first,
                    telling.end,
                    telling.kind,
                    low=telling.low,
                    high=telling.high,
                    noun=telling.noun,
                )
        return self._unread_heat(number, high) or self._unread(
            number.first, (high or number).end, None, low=number.value, high=(high or number).value
        )

    def _bare_heat(self, number: Number, high: Number | None) -> bool:
        """Whether a bare number can only be a heat without its scale: "the oven down to 180", "reads 165"."""
        tokens, value = self.tokens, number.value
        last = high or number
        if value is None or value.denominator != 1:
            return False
        if tokens[last.end].low == "fan" and value >= 60:
            return True
        place = bound_behind(tokens, number.first, limit=True)[1] - 1
        minus = tokens[place].text in DASHES or tokens[place].low == "minus"
        if minus:
            place -= 1
        if (
            tokens[place].low not in _HEAT_PREPOSITIONS
            and tokens[number.first - 1].low not in _HEAT_PREPOSITIONS
        ):
            return False
        if _noun_follows(tokens, last.end) or tokens[last.end].text in {"%", ":"}:
            return False
        purpose = purpose_of(tokens, number.first, last.end, None)
        if purpose is Purpose.OTHER or any(
            tokens[at].low in _METERS for at in range(max(0, place - 3), place)
        ):
            return False
        return minus or value >= (1 if purpose in _COOL and number.form is Form.FIGURES else 30)

    def _unread_heat(self, number: Number, high: Number | None) -> _Part | None:
        """A heat without its scale, as a temperature that a check asks about."""
        if not self._bare_heat(number, high):
            return None
        signed = signed_at(self.tokens, number.first - 1)
        minus = signed is not None and signed[1] and signed[2] == number.first
        last = high or number
        assert number.value is not None  # _bare_heat has looked
        assert last.value is not None
        first = number.first - 1 if minus else number.first
        sign = -1 if minus else 1
        ends = sorted((sign * number.value, sign * last.value))
        fan = fan_after(self.tokens, last.end)
        end = fan or last.end
        quantity = Quantity(
            low=ends[0],
            high=ends[1],
            unit=units()["degree"],
            written=self.tokens.between(first, end),
            fan=fan is not None,
        )
        purpose = Purpose.OVEN if fan else purpose_of(self.tokens, number.first, last.end, None)
        stated: tuple[Quantity, ...] = ()
        other = number_at(self.tokens, end + 1) if self.tokens[end].text in SLASHES else None
        if other and other.value is not None:
            stated, end = (replace(quantity, low=other.value, high=other.value),), other.end
        return _Part(first, end, Kind.UNREAD, sides=(quantity,), stated=stated, purpose=purpose)

    def _unread(
        self,
        first: int,
        end: int,
        quantity: Quantity | None,
        *,
        low: Fraction | None = None,
        high: Fraction | None = None,
        instead: str = "",
    ) -> _Part:
        written = self.tokens.between(first, end)
        noun = self._noun(end)
        instead = (
            instead
            or f"the number with its unit, such as “{written} g”, “{written} minutes” or “{written} °C”"
        )
        fault = Fault(
            name="number-unread",
            severity=Severity.ERROR,
            start=self.tokens[first].start,
            end=self.tokens[end - 1].end,
            what=f"“{written}” measures nothing that can be told" + (f": “{written} {noun}”" if noun else ""),
            instead=instead,
        )
        low = quantity.low if quantity else low or Fraction(0)
        return _Part(
            first,
            end,
            Kind.UNREAD,
            low=low,
            high=high if high is not None else low,
            noun=noun,
            instead=instead,
            faults=(fault,),
        )


def _lengths(sides: list[Amount]) -> tuple[Quantity, ...]:
    """The sides of a size; one without a unit has that of the side behind it."""
    found: list[Quantity] = []
    unit: Unit | None = None
    for side in reversed(sides):
        assert side.quantity is not None  # who read them has looked
        unit = side.quantity.unit if side.has_unit or unit is None else unit
        low, high = side.quantity.low, side.quantity.high
        if not side.has_unit:
            low, high = unit.to_base(low), unit.to_base(high)
        found.insert(0, replace(side.quantity, low=low, high=high, unit=unit))
    return tuple(found)


def _as_change(point: Quantity) -> Quantity:
    """A number of degrees as a difference, where it says one again."""
    if point.dimension is not Dimension.TEMPERATURE or point.unit.system is System.GAS:
        return point
    unit = units()[f"{point.unit.name} (difference)"]
    low, high = (unit.to_base(point.unit.from_base(end)) for end in (point.low, point.high))
    return replace(point, low=low, high=high, unit=unit)


def _noun_follows(tokens: Tokens, end: int) -> bool:
    """Whether a noun follows a number, so that it may count: "at 2 stations"."""
    if tokens[end].kind is not TokenKind.WORD or tokens[end].low in words_of("stop") | {
        "fan",
        "conventional",
    }:
        return False
    return bool(phrase_at(tokens, end).words)


def _alike(one: Quantity, others: list[Quantity]) -> bool:
    """Whether quantities may be one amount in several units: lengths, or weights and volumes."""
    families = {Dimension.MASS: "food", Dimension.VOLUME: "food"}
    mine = families.get(one.dimension, one.dimension.value)
    return all(families.get(other.dimension, other.dimension.value) == mine for other in others)


__all__ = ["ONE", "Reading", "readings"]
