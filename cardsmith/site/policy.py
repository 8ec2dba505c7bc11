"""The content security policy of a page: only its own style and script run, and no other host is asked.

Source: W3C, Content Security Policy Level 3: 2.3.1 for sources by hash, 3.3 for a policy in ``meta``.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable


def digest(content: str) -> str:
    """What a policy calls a style or a script with exactly this content between its tags."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}'"


def policy(styles: Iterable[str], scripts: Iterable[str] = (), *, own_files: bool = False) -> str:
    """The policy of a page with these styles and scripts inline; ``own_files``: it shows its site's files."""
    rules = {
        "default-src": ("'none'",),
        "style-src": tuple(map(digest, styles)),
        "script-src": (*map(digest, scripts), *(("'self'",) if own_files else ())),
        "img-src": ("data:", "'self'") if own_files else ("data:",),
        "font-src": ("'self'",) if own_files else ("data:",),
        "manifest-src": ("'self'",) if own_files else (),
        # No script asks for anything; what judges a page from within it reads the site's robots.txt.
        "connect-src": ("'self'",) if own_files else (),
        "base-uri": ("'none'",),
        "form-action": ("'self'",) if own_files else ("'none'",),
    }
    return "; ".join(f"{name} {' '.join(sources)}" for name, sources in rules.items() if sources)
