"""What each page tells search engines has the types of schema.org, as schema-dts has them in TypeScript."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

from lxml import html

from tests.web.webtools import TOOLS, lack, tool

_HEAD = 'import type { Recipe, WithContext } from "schema-dts";\n'
_WRONG = """
const wrong: WithContext<Recipe> = {"@context": "https://schema.org", "@type": "Recipe", "cook": 1};
"""


def test_every_page_has_the_types_of_the_vocabulary(site: Path, tmp_path: Path) -> None:
    node = shutil.which("node")
    if node is None:
        lack("node is missing: apt-get install nodejs")
    tool("schema-dts/package.json")
    compiler = tool("typescript/bin/tsc")
    told = [
        script.text
        for page in sorted(site.rglob("recipes/**/index.html"))
        for script in html.fromstring(page.read_bytes()).iter("script")
        if script.get("type") == "application/ld+json"
    ]
    assert len({json.loads(one)["name"] for one in told}) >= 18
    pages = (f"export const page{at}: WithContext<Recipe> = {one};\n" for at, one in enumerate(told))
    (tmp_path / "pages.ts").write_text(_HEAD + "".join(pages), "utf-8")
    (tmp_path / "wrong.ts").write_text(_HEAD + _WRONG, "utf-8")
    (tmp_path / "node_modules").symlink_to(TOOLS.resolve())
    command = [node, str(compiler), "--noEmit", "--strict", "--skipLibCheck", "pages.ts", "wrong.ts"]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    faults = [line for line in done.stdout.splitlines() if "error" in line]
    assert len(faults) == 1, done.stdout
    assert faults[0].startswith("wrong.ts")  # a page that is wrong would be told of
