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
    air: int = 0  # quarters of a line more between rows and between steps; -1 for steps without gaps
    level: float = 1.0  # the share of a page's height that its text may fill, so that all end alike

    def pictured(self, page: int) -> bool:
        """Whether the picture stands on a page of text, of which the front is 0."""
        if self.photo is None or self.over_back:
            return False
        return page == {"method": 1, "notes": self.text_pages - 1}.get(self.photo.name, 0)

    def room(self, size: CardSize, page: int) -> float:
        """Points of height that the picture takes of a column of a page of text."""
        return float(self.photo.room(size, self.text)) if self.photo and self.pictured(page) else 0.0

    @property
    def row_air(self) -> int:
        """Quarters of a line more between the rows of a list, which keeps its rows together."""
        return min(max(self.air, 0), 2)

    @property
    def over_back(self) -> bool:
        """Whether the picture stands over a whole back."""
        return self.photo is not None and self.photo.name == "back"

    def level_of(self, page: int) -> float:
        """The share of a page's height that its text may fill; beside a picture on the front, all."""
        beside = self.photo is not None and self.photo.flowed and self.pictured(page)
        return 1.0 if page == 0 and beside else self.level

    def cut(self, size: CardSize, page: int) -> float:
        """Points at the foot of a page of text that stay empty."""
        return (1 - self.level_of(page)) * float(size.first_height)

    @property
    def text_pages(self) -> int:
        """How many pages its text may fill."""
        return self.pages - self.over_back
