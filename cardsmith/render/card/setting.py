"""One way to set a card: its size of type, where its picture stands, how its two halves share the pages."""

from __future__ import annotations

from fractions import Fraction

from cardsmith.frozen import frozen
from cardsmith.house.paper import CardSize
from cardsmith.render.card.places import Place


@frozen
class Setting:
    """One way to set a card."""

    text: Fraction  # points of body type
    photo: Place | None = None
    sides: bool = True  # whether the method starts a page of its own
    pages: int = 2  # at most, that of a picture over a whole back included
    turned: bool = False  # whether the headnote stands on the back, before the method
    whole: bool = True  # whether a page ends between the parts of a list, where it can
    close: bool = False  # whether steps follow each other without gaps
    level: float = 1.0  # the share of each page's height that its text may fill, so that all end alike

    def room(self, size: CardSize, name: str) -> float:
        """Points of height that the picture takes of the front or of the back, in each column."""
        if self.photo is None or self.over_back or (self.photo.name == "method") != (name == "back"):
            return 0.0
        return float(self.photo.room(size, self.text)) / size.columns

    @property
    def over_back(self) -> bool:
        """Whether the picture stands over a whole back."""
        return self.photo is not None and self.photo.name == "back"

    def cut(self, size: CardSize) -> float:
        """Points at the foot of each page of text that stay empty."""
        return (1 - self.level) * float(size.first_height)

    @property
    def text_pages(self) -> int:
        """How many pages its text may fill."""
        return self.pages - self.over_back
