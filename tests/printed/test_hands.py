"""Lines and sentences of other hands print what their labels allow, or are asked about where they must be."""

from __future__ import annotations

import pytest

from tests.printed.hands import cases, shows

# Texts that the house asks about, whatever their hand thought, and why.
OTHERWISE = {
    "2 t. vanilla": "a small t may have been a T",
    "Set the oven to 450, with a stone on the bottom rack.": "a heat is never without its scale",
    "My oven is 15° hotter at the back, so I turn the sheet.": "nor is a difference of heat",
}


@pytest.mark.parametrize("name", ["lines.csv", "sentences.csv"])
def test_texts_print_as_labelled(name: str) -> None:
    assert [f"{text}: {fault}" for text, fault in cases(name) if text not in OTHERWISE] == []


def test_a_label_tells_figures_apart() -> None:
    assert shows("1½ cups|12 ounces & 240 g", "1½ cups (240 g) stock")
    assert not shows("½ cup", "1½ cups stock")
    assert not shows("240 g", "2,240 g stock")
    assert not shows("1 cup & 240 ml", "1 cup (250 ml)")
    assert not shows("18°C", "−18 °C")
