"""Data that a page's scripts read, as JSON inside it."""

from __future__ import annotations

import json
from typing import Any

from markupsafe import Markup


def json_in_html(values: Any) -> Markup:
    """JSON to stand in a script element: no ``<`` that could end it or begin a comment.

    Source: HTML Living Standard, 4.12.1.3 "Restrictions for contents of script elements".
    """
    text = json.dumps(values, ensure_ascii=False, separators=(",", ":"), default=dict)
    return Markup(text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029"))
