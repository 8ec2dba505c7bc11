"""All of a text as one value: ``6 g``, ``1 h 40 min``, ``350 °F``, ``3 to 5 %``; and the clock of a log."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.finding import Finding, Where
from cardsmith.language.faults import Fault, refused
from cardsmith.language.figures.amounts import SIZES, amount_at
from cardsmith.language.figures.bounds import bound_after, bound_before
from cardsmith.language.figures.clock import moment_at
from cardsmith.language.figures.heat import heat_at
from cardsmith.language.figures.numbers import Form, number_at
from cardsmith.language.prose.sentences import readings
from cardsmith.language.spans import Kind
from cardsmith.language.tokens import DASHES, TokenKind, tokenize
from cardsmith.measure.quantity import Bound, Quantity
from cardsmith.measure.units import System, units


def read_quantity(
    text: str, where: Where, measures: System = System.US
) -> tuple[Quantity | None, tuple[Finding, ...]]:
    """All of ``text`` as one amount, or findings that say why not."""
    tokens = tokenize(text)
    moment = moment_at(tokens, 0)
    if moment is not None and moment.quantity is not None and moment.end == len(tokens):
        return moment.quantity, ()
    amount = amount_at(tokens, 0, measures)
    if amount is None or (amount.quantity is not None and amount.end < len(tokens)):
        return None, (_unreadable(text).finding(where.at(len(text) - len(text.lstrip()))),)
    return amount.quantity, tuple(fault.finding(where) for fault in amount.faults)


def read_number(text: str) -> Fraction | None:
    """All of ``text`` as one number in figures, such as 5.4 or 12; None where it is not a number."""
    tokens = tokenize(text)
    number = number_at(tokens, 0)
    if number is None or number.form is not Form.FIGURES or number.end != len(tokens):
        return None
    return number.value


def read_percent(text: str) -> tuple[Fraction, Fraction] | None:
    """All of ``text`` as a share in per cent, low and high: 4.2 %, 3 to 5 %; None where it is not a share."""
    read = readings(text.strip())
    whole = len(read) == 1 and read[0].text == text.strip() and read[0].kind is Kind.PERCENT
    return (read[0].low, read[0].high) if whole else None


def read_share_behind(text: str) -> tuple[str, tuple[Fraction, Fraction, Bound] | None]:
    """An ingredient of a label, and the share that stands behind it in brackets or without: in per cent.

    Brackets that hold anything else, such as what an ingredient is made of, are left out.

    >>> read_share_behind("rolled oats (14 to 16 %)")
    ('rolled oats', (Fraction(14, 1), Fraction(16, 1), <Bound.EXACTLY: 'exactly'>))
    >>> read_share_behind("2 % milk"), read_share_behind("dark chocolate (70 % cocoa)")
    (('2 % milk', None), ('dark chocolate', None))
    """
    name, *brackets = text.replace(")", "(").split("(")
    for inside in brackets[::2]:
        if (share := _bare_share(inside)) is not None:
            return name.strip(), share
    last = readings(name)[-1:]
    if last and last[0].kind is Kind.PERCENT and (share := _bare_share(name[last[0].start :])):
        return name[: last[0].start].strip(" ,:"), share
    return name.strip(), None


def _bare_share(text: str) -> tuple[Fraction, Fraction, Bound] | None:
    """All of ``text`` as a share with the words of its bound: at least 14 %, <2 %, 14 to 16 %."""
    text = text.strip()
    read = readings(text)
    if len(read) != 1 or read[0].kind is not Kind.PERCENT:
        return None
    tokens = tokenize(text)
    first = bound_before(tokens, 0)[1]
    behind = next((at for at in range(len(tokens)) if tokens[at].start >= read[0].end), len(tokens))
    whole = tokens[first].start == read[0].start and bound_after(tokens, behind)[1] == len(tokens)
    return (read[0].low, read[0].high, read[0].bound) if whole else None


def read_count(text: str) -> tuple[Fraction, str] | None:
    """All of ``text`` as a count of pieces and their size class: 12, or 6 large; None where it is no count.

    >>> read_count("6 large"), read_count("6 kg")
    ((Fraction(6, 1), 'large'), None)
    """
    number, _, size = text.partition(" ")
    count = read_number(number)
    known = not size or size in SIZES
    return (count, size) if count is not None and count.denominator == 1 and known else None


def read_degrees(text: str) -> Fraction | None:
    """How many °C hotter (or, below nothing, cooler) ``text`` begins by saying: +6 °C, 8 °C cooler.

    None where it says neither by a sign nor by a word which of the two it is, or says both.

    >>> read_degrees("+6 °C"), read_degrees("9 °F cooler than its dial"), read_degrees("hot")
    (Fraction(6, 1), Fraction(-5, 1), None)
    >>> read_degrees("6 °C"), read_degrees("+6 °C cooler"), read_degrees("6 °C too hot"), read_degrees("0 °C")
    (None, None, Fraction(6, 1), Fraction(0, 1))
    """
    tokens = tokenize(text)
    temperature = heat_at(tokens, 1 if tokens[0].text == "+" else 0)
    if (
        temperature is None
        or temperature.quantity.unit.system not in {System.METRIC, System.US}
        or temperature.quantity.is_range
    ):
        return None
    unit = temperature.quantity.unit
    change = units()[unit.name if unit.name.endswith("(difference)") else f"{unit.name} (difference)"]
    degrees = change.to_base(unit.from_base(temperature.quantity.low))
    later = [token.low for token in tokens.all[temperature.end :]]
    signs = {-1} if degrees < 0 else {1} if tokens[0].text == "+" else set()
    signs |= {-1} if any(word.startswith(("cool", "cold", "low")) for word in later) else set()
    signs |= {1} if any(word.startswith(("hot", "warm", "high")) for word in later) else set()
    if degrees and len(signs) != 1:
        return None
    return -abs(degrees) if signs == {-1} else degrees


def read_clock(text: str) -> tuple[Fraction, str] | None:
    """The time of day that begins an entry of a log, in minutes after midnight, and the words behind it.

    >>> read_clock("9:15, mixed"), read_clock("8.05 bake"), read_clock("no clock")
    ((Fraction(555, 1), 'mixed'), (Fraction(485, 1), 'bake'), None)
    """
    tokens = tokenize(text)
    hour, mark, minute = tokens[0], tokens[1], tokens[2]
    if (
        TokenKind.DIGITS is hour.kind is minute.kind
        and mark.text in {":", "."}
        and mark.glued
        and minute.glued
    ):
        half = moment_at(tokens, 0)  # 2:30 pm
        end = half.end if half is not None and half.kind is Kind.CLOCK else 3
        minutes = half.low / 60 if half is not None and half.kind is Kind.CLOCK else None
        if minutes is None and len(minute.text) == 2 and int(minute.text) < 60 and int(hour.text) < 24:
            minutes = Fraction(int(hour.text) * 60 + int(minute.text))
        while tokens[end].text in DASHES | {",", ":"}:
            end += 1
        return (
            (minutes, text[tokens[end].start :] if end < len(tokens) else "") if minutes is not None else None
        )
    return None


def figures(written: str) -> str:
    """The number that begins an amount, without its unit, as written; empty where it can't be read.

    >>> figures("2¼ tbsp"), figures("2 to 3 lb"), figures("a knob")
    ('2¼', '2 to 3', 'a')
    """
    tokens = tokenize(written)
    amount = amount_at(tokens, 0)
    return tokens.between(amount.first, amount.unit_first) if amount and amount.quantity is not None else ""


def read_temperature(text: str) -> Quantity | None:
    """All of ``text`` as a temperature or a difference of two; None where it is neither."""
    tokens = tokenize(text)
    temperature = heat_at(tokens, 0)
    return temperature.quantity if temperature is not None and temperature.end == len(tokens) else None


def _unreadable(text: str) -> Fault:
    written = text.strip()
    what, instead = f"“{written}” can't be read as an amount", "an amount such as 1 1/2 cups or 200 g"
    return refused("unreadable-amount", 0, len(written), what, instead)
