"""Importing this module makes the typesetter ready: for processes that begin as a copy of one that did."""

from contextlib import suppress

from cardsmith.render.weasyprint_patches import load_weasyprint

with suppress(OSError):  # without Pango, pages are made all the same, and the command says what is missing
    load_weasyprint()
