"""A page as the preview shows it: with the findings of the recipes, reloaded after the next build.

Nothing of this is in ``build/``. The page keeps its own content security policy, with what is added here.
"""

from __future__ import annotations

import html
import re
from collections.abc import Mapping, Sequence
from typing import Any

from cardsmith.site.policy import digest

NEWS = "/-/news"
_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)(")')
_SCRIPT = (
    '{const bar=document.getElementById("preview");'
    'new EventSource(bar.dataset.news).addEventListener("message",()=>location.reload());}'
)
_STYLE = (
    "#preview{position:fixed;inset:auto 0 0 0;z-index:99;max-height:50vh;overflow:auto;padding:.5rem 1rem;"
    "font:1rem/1.4 system-ui,sans-serif;color:#111;background:#fff3c4;border-top:3px solid #8a5a00}"
    "#preview.fine{background:#e4f2e4;border-color:#1d6b2c}"
    "#preview.stopped{background:#ffe0da;border-color:#a31d0a}"
    "#preview summary{cursor:pointer;font-weight:600;color:#111}"
    "#preview ul{margin:.4rem 0;padding-left:1.2rem;list-style:disc}"
    "#preview code,#preview pre{font:.95em ui-monospace,monospace;white-space:pre-wrap}"
)


def previewed(page: str, version: int, findings: Sequence[Mapping[str, Any]], fault: str) -> str:
    """``page`` with the bar at its foot.

    ``findings`` are records as `cardsmith build --json` gives them; ``fault`` is why the last build failed.
    """
    bar = _bar(version, findings, fault)
    page = _POLICY.sub(lambda found: found[1] + _opened(found[2]) + found[3], page, count=1)
    return page.replace("</head>", f"<style>{_STYLE}</style></head>", 1).replace(
        "</body>", f"{bar}<script>{_SCRIPT}</script></body>", 1
    )


def _opened(policy: str) -> str:
    """The page's policy, extended by the bar's style and script and the preview's events."""
    rules = dict(
        rule.strip().partition(" ")[::2] for rule in html.unescape(policy).split(";") if rule.strip()
    )
    for name, content in (("script-src", _SCRIPT), ("style-src", _STYLE)):
        sources = [source for source in rules.get(name, "").split() if source != "'none'"]
        rules[name] = " ".join((*sources, digest(content)))
    rules["connect-src"] = "'self'"
    return html.escape("; ".join(f"{name} {sources}" for name, sources in rules.items()))


def _bar(version: int, findings: Sequence[Mapping[str, Any]], fault: str) -> str:
    errors = sum(one["severity"] == "error" for one in findings)
    kind = "stopped" if fault or errors else "warned" if findings else "fine"
    summary = "The last build failed" if fault else _counted(findings)
    told = f"<pre>{html.escape(fault)}</pre>" if fault else ""
    items = "".join(_item(one) for one in sorted(findings, key=lambda one: one["severity"] != "error"))
    opened = " open" if kind == "stopped" else ""
    return (
        f'<aside id="preview" class="{kind}" aria-label="Preview" data-news="{NEWS}?after={version}">'
        f"<details{opened}><summary>{summary}</summary>{told}<ul>{items}</ul></details></aside>"
    )


def _counted(findings: Sequence[Mapping[str, Any]]) -> str:
    if not findings:
        return "Nothing to query"
    counts = {word: sum(one["severity"] == word for one in findings) for word in ("error", "warning", "note")}
    return ", ".join(f"{many} {word}{'s' if many > 1 else ''}" for word, many in counts.items() if many)


def _item(one: Mapping[str, Any]) -> str:
    place = f"{one['file']}:{one['line']}" if one.get("line") else one["file"]
    said = f"{one['severity']}: {one['what']} – {one['instead']}"
    return f"<li><code>{html.escape(place)}</code> {html.escape(said)}</li>"
