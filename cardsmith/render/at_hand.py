"""Importing this module makes the typesetter ready: for processes that begin as a copy of one that did."""

from contextlib import suppress

from cardsmith.render.quicker import quicken

with suppress(OSError):  # without Pango, pages are made all the same, and the command says what is missing
    quicken()
