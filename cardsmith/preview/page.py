"""A page as the preview shows it: the findings above it, their places marked, renewed after the next build.

Nothing of this is in ``build/``. The page keeps its own content security policy, with what is added here.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any
from urllib.parse import quote

from cardsmith.preview.news import News
from cardsmith.site.policy import digest

NEWS = "/-/news"
_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content=")([^"]*)(")')
_BODY = re.compile(r"<body[^>]*>")
_WORST = ("error", "warning", "note")
_SCRIPT = """{
const bar = document.getElementById("preview"), key = `preview ${location.pathname}`;
history.scrollRestoration = "manual";
addEventListener("load", () => {
  const left = JSON.parse(sessionStorage.getItem(key) ?? "null");
  sessionStorage.removeItem(key);
  if (!left) return;
  bar.querySelectorAll("details").forEach((one, place) => { one.open = left.open[place] ?? one.open; });
  const main = document.querySelector("main") ?? document.body;
  requestAnimationFrame(() => {
    scrollTo({ top: main.getBoundingClientRect().top + scrollY + left.down, behavior: "instant" });
  });
});
new EventSource(bar.dataset.news).addEventListener("message", () => {
  const main = document.querySelector("main") ?? document.body;
  const open = [...bar.querySelectorAll("details")].map((one) => one.open);
  sessionStorage.setItem(key, JSON.stringify({ down: -main.getBoundingClientRect().top, open }));
  location.reload();
});
}"""
_STYLE = """
#preview { font: 1rem/1.45 system-ui, sans-serif; color: #111; background: #fff8dc; }
#preview { border: 2px solid #8a5a00; }
#preview { border-top-width: 6px; margin: 0 0 1.2rem; padding: .5rem 1rem .7rem; overflow-wrap: anywhere; }
#preview.fine { background: #e4f2e4; border-color: #1d6b2c; }
#preview.stopped { background: #ffe9e4; border-color: #a31d0a; }
#preview :is(p, pre, ul) { margin: .3rem 0; padding: 0; max-width: none; }
#preview .sum, #preview summary { font-weight: 600; cursor: default; color: #111; }
#preview summary { cursor: pointer; padding: .3rem 0; }
#preview li { list-style: none; border-top: 1px solid #0003; padding: .45rem 0; }
#preview b { display: inline-block; padding: 0 .45em; margin-right: .4em; border: 2px solid #111; }
#preview li > span { display: block; }
#preview .error b { color: #fff; background: #a31d0a; border-color: #a31d0a; }
#preview .warning b { border-style: double; border-width: 4px; }
#preview a, #preview code { color: #0a3d62; }
#preview code, #preview pre { font: .92em/1.4 ui-monospace, monospace; white-space: pre-wrap; }
#preview pre.source { background: #0000000d; padding: .2rem .5rem; }
#preview mark { background: #ffd24d; color: #111; }
[data-query] { outline: 3px solid #a31d0a; outline-offset: -3px; }
[data-query="warning"] { outline: 4px double #8a5a00; }
[data-query="note"] { outline: 2px dotted #555; }
@media print { #preview { display: none; } [data-query] { outline: none; } }
"""


def previewed(page: str, news: News, recipe: str = "", root: Path = Path()) -> str:
    """``page`` with its findings above it; ``recipe`` is the one it shows, if any.

    ``root`` is the publication's folder, where an editor finds the files.
    """
    own = [finding for finding in news.findings if news.recipe_of(finding) == recipe] if recipe else []
    others = [finding for finding in news.findings if finding not in own]
    for place, severity in _marks(own).items():
        page = page.replace(f' id="{place}"', f' id="{place}" data-query="{severity}"', 1)
    page = _POLICY.sub(lambda match: match[1] + _opened(match[2]) + match[3], page, count=1)
    bar = _bar(news, own, others, root, recipe)
    page = page.replace("</head>", f"<style>{_STYLE}</style></head>", 1)
    page = _BODY.sub(lambda match: match[0] + bar, page, count=1)
    return page.replace("</body>", f"<script>{_SCRIPT}</script></body>", 1)


def unreadable(recipe: str) -> str:
    """A page for a recipe that can't be read, and that no one has seen before."""
    name = html.escape(recipe)
    head = f'<!DOCTYPE html><html lang="en"><head><title>{name}</title></head>'
    return f"{head}<body><main><h1>{name}</h1></main></body></html>"


def _marks(findings: Iterable[Mapping[str, Any]]) -> dict[str, str]:
    """The gravest finding of each place."""
    words_of: dict[str, str] = {}
    for finding in sorted(findings, key=_rank, reverse=True):
        if finding.get("place"):
            words_of[finding["place"]] = finding["severity"]
    return words_of


def _rank(finding: Mapping[str, Any]) -> int:
    return _WORST.index(finding["severity"])


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


def _bar(
    news: News,
    own: list[Mapping[str, Any]],
    others: list[Mapping[str, Any]],
    root: Path,
    recipe: str,
) -> str:
    every = (*own, *others)
    errors = any(finding["severity"] == "error" for finding in every)
    kind = "stopped" if news.fault or errors else "warned" if every else "fine"
    why = html.escape(news.fault)
    fault = f'<p class="sum">The last build failed</p><pre>{why}</pre>' if news.fault else ""
    here = f'<p class="sum">This recipe: {counted(own)}</p>' if recipe else ""
    rest = f"<summary>{'Elsewhere: ' if recipe else ''}{counted(others)}</summary>{_list(others, news, root)}"
    address = f"{NEWS}?after={news.version}{f'&amp;of={quote(recipe)}' if recipe else ''}"
    opened = " open" if not recipe and kind == "stopped" else ""
    return (
        f'<aside id="preview" class="{kind}" aria-label="Preview" data-news="{address}">'
        f"{fault}{here}{_list(own, news, root)}"
        f"{f'<details{opened}>{rest}</details>' if others or not recipe else ''}</aside>"
    )


def counted(findings: Iterable[Mapping[str, Any]]) -> str:
    """``1 error, 2 notes``."""
    words = [finding["severity"] for finding in findings]
    counts = {word: words.count(word) for word in _WORST}
    counted = [f"{many} {word}{'s' if many > 1 else ''}" for word, many in counts.items() if many]
    return ", ".join(counted) or "Nothing to query"


def _list(findings: Iterable[Mapping[str, Any]], news: News, root: Path) -> str:
    items = "".join(_item(finding, news.editor, root) for finding in sorted(findings, key=_rank))
    return f"<ul>{items}</ul>" if items else ""


def _item(finding: Mapping[str, Any], editor: str, root: Path) -> str:
    place = f"{finding['file']}:{finding['line']}" if finding.get("line") else finding["file"]
    where = f"<code>{html.escape(place)}</code>"
    if editor:
        where = f'<a href="{html.escape(_address(editor, finding, root))}">{where}</a>'
    here = f' · <a href="#{finding["place"]}">its place below</a>' if finding.get("place") else ""
    said = f"<strong>{html.escape(finding['what'])}</strong><span>→ {html.escape(finding['instead'])}</span>"
    severity = finding["severity"]
    return f'<li class="{severity}"><b>{severity}</b>{said}{where}{here}{_source(finding)}</li>'


def _address(editor: str, finding: Mapping[str, Any], root: Path) -> str:
    """What opens the editor at the finding: the house's address with file, line and column filled in."""
    file = quote(str((root / finding["file"]).absolute()))
    values = {
        "file": file,
        "line": max(finding.get("line", 0), 1),
        "column": max(finding.get("column", 0), 1),
    }
    for name, value in values.items():
        editor = editor.replace(f"{{{name}}}", str(value))
    return editor


def _source(finding: Mapping[str, Any]) -> str:
    line = finding.get("source", "")
    if not line.strip():
        return ""
    start = finding["column"] - 1
    if start < 0:
        return f'<pre class="source">{html.escape(line.strip())}</pre>'
    end = max(start + finding["width"], start + 1)
    before, marked, after = (html.escape(piece) for piece in (line[:start], line[start:end], line[end:]))
    return f'<pre class="source">{before.lstrip()}<mark>{marked}</mark>{after}</pre>'
