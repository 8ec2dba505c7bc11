"""Units of a works against NIST SP 811, Appendix B.8 (factors for conversion to the SI)."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cardsmith.measure.pint_units import in_works_units


@pytest.mark.parametrize(
    ("number", "unit", "us", "metric"),
    [
        (1, "psi", "1 psi", "6.895 kPa"),  # 6.894 757 E+03 Pa
        (1, "horsepower", "2544 Btu/h", "0.7457 kW"),  # 7.456 999 E+02 W
        (1, "bushel", "9.309 gal", "35.24 L"),  # 3.523 907 E-02 m³
        (1, "acre", "43560 sq ft", "4047 m²"),  # 4.046 873 E+03 m²
        (1, "kilowatt_hour", "3412 Btu", "3600 kJ"),  # 3.6 E+06 J
        (1, "pound / gallon", "1 lb/gal", "0.1198 kg/L"),  # 1.198 264 E+02 kg/m³
        (1, "gallon / minute", "1 gal/min", "3.785 L/min"),  # 6.309 020 E-05 m³/s
        (1, "imperial_gallon", "1.201 gal", "4.546 L"),  # 4.546 09 E-03 m³
        (2, "short_ton", "4000 lb", "1814 kg"),  # 9.071 847 E+02 kg
    ],
)
def test_published_factor(number: int, unit: str, us: str, metric: str) -> None:
    found = in_works_units(Fraction(number), unit)
    assert found is not None
    assert (found.us[0], found.metric[0]) == (us, metric)


@pytest.mark.parametrize("unit", ["spoonfuls of hope", "newton", "", "2 **", "__import__('os')", "(" * 50])
def test_what_is_no_measure_is_refused(unit: str) -> None:
    assert in_works_units(Fraction(1), unit) is None


def test_nothing_is_nothing() -> None:
    found = in_works_units(Fraction(0), "psi")
    assert found is not None
    assert found.metric == ("0 kPa", "0 bar")
