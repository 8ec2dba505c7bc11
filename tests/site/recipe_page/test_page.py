from __future__ import annotations

import base64
import hashlib
import json
import re
from dataclasses import replace
from fractions import Fraction

import pytest

from cardsmith.finding import Severity, Where
from cardsmith.measure.larder import load_larder
from cardsmith.render.card.view import error_text
from cardsmith.render.typeset import marks
from cardsmith.rewrite.batches.scale import scale
from cardsmith.rewrite.card.numbers import filed
from cardsmith.rewrite.card.rewrite import rewrite
from cardsmith.rewrite.wording import short
from cardsmith.site.recipe_page.files import MOST, overweight, weight
from cardsmith.site.recipe_page.page import render_page
from cardsmith.site.recipe_page.view import PageView
from cardsmith.site.script_data import json_in_html
from tests.site.published import NAMES, PUBLICATION, published, seen, tree


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("where", ["alone", "site"])
def test_the_policy_names_each_style_and_script_by_its_hash(name: str, where: str) -> None:
    made = published(name)
    page = tree(made.file(".html") if where == "alone" else made.in_site)
    policy = next(
        meta.get("content")
        for meta in page.iter("meta")
        if meta.get("http-equiv") == "Content-Security-Policy"
    )
    rules = {rule.split()[0]: rule.split()[1:] for rule in policy.split("; ")}
    for tag in ("style", "script"):
        hashes = {
            f"'sha256-{base64.b64encode(hashlib.sha256(one.text.encode()).digest()).decode()}'"
            for one in page.iter(tag)
            if not one.get("src")
        }
        assert hashes == set(rules[f"{tag}-src"]) - {"'self'"}
    assert rules["default-src"] == ["'none'"]


@pytest.mark.parametrize("name", NAMES)
def test_nothing_a_strict_policy_would_stop(name: str) -> None:
    for html in (published(name).file(".html"), published(name).in_site):
        for node in tree(html).iter():
            assert not [key for key in node.attrib if key == "style" or key.startswith("on")]
            if node.tag in {"img", "script", "source"} and node.get("src"):
                # Its own site's files at most: no host is named.
                assert node.get("src").startswith("data:") or not re.match(r"\w+:|/", node.get("src"))
    assert not re.findall(r"url\((?!\"data:)", published(name).file(".html"))


@pytest.mark.parametrize("name", NAMES)
def test_weight(name: str) -> None:
    made = published(name)
    assert weight(made.file(".html")) < MOST
    fonts = sum(file.stat().st_size for file in (PUBLICATION.templates / "webfonts").glob("*.woff2"))
    assert len(made.in_site.encode()) + fonts < MOST


def test_a_photo_is_no_weight_of_the_page_and_fonts_are() -> None:
    page = (
        '<style>src: url("data:font/woff2;base64,AAAA")</style>½<img src="data:image/png;base64,AAAA" alt="">'
    )
    assert weight(page) == len(page) + 1 - len("data:image/png;base64,AAAA")


def test_a_heavy_page_says_what_to_do() -> None:
    where = Where(file="recipe.yaml", line=1)
    page = published("seeded-crackers").file(".html").encode()
    light = {"cards/a/a.html": page, "site/recipes/a/index.html": page}
    heavy = light | {"cards/a/a.html": page.replace(b"</main>", b"x" * MOST + b"</main>")}
    assert overweight(light, where) == ()
    (finding,) = overweight(heavy, where)
    assert (finding.name, finding.severity, finding.where) == ("page-heavy", Severity.WARNING, where)
    assert f"{weight(heavy['cards/a/a.html'].decode()) // 1000} kB" in finding.what


@pytest.mark.parametrize("name", NAMES)
def test_every_id_is_one_and_every_reference_leads_to_one(name: str) -> None:
    page = tree(published(name).file(".html"))
    ids = [node.get("id") for node in page.iter() if node.get("id")]
    assert len(ids) == len(set(ids))
    told = {f"why-{node.get('data-why')}" for node in page.iter() if node.get("data-why")}
    used = {place for node in page.iter("li") for place in (node.get("data-uses") or "").split()}
    steps = {f"s{n}" for node in page.iter("tr") for n in (node.get("data-steps") or "").split()}
    assert told
    assert used | told | steps <= set(ids)


@pytest.mark.parametrize("name", NAMES)
def test_every_number_tells_what_the_ledger_does(name: str) -> None:
    made = published(name)
    page = tree(made.file(".html"))
    rows = {node.get("id"): node for node in page.iter("tr") if (node.get("id") or "").startswith("why-")}
    ledger = {one.key: one for one in filed(made.card, made.house)}
    assert len(ledger) == len(filed(made.card, made.house))
    assert rows.keys() == {f"why-{place}" for place in ledger}
    for place, one in ledger.items():
        _, author, exact, us, metric, _ = list(rows[f"why-{place}"])
        assert seen(author) == marks(one.author)
        number = re.match(r"-?[\d.]+", seen(exact))
        assert number
        assert abs(Fraction(number[0]) - one.exact[0].middle) <= Fraction(1, 200)
        for cell, text, error in ((us, one.us, one.us_error), (metric, one.metric, one.metric_error)):
            assert seen(cell[0]) == marks(text)
            assert seen(cell[1]) == ("" if error is None else error_text(one, error))


@pytest.mark.parametrize("name", NAMES)
def test_a_batch_is_the_rewritten_recipe_of_that_size(name: str) -> None:
    made = published(name)
    found = next(
        (node for node in tree(made.file(".html")).iter("script") if node.get("id") == "sizes"), None
    )
    sizes = json.loads(found.text) if found is not None else {}
    offered = {str(batch.factor) for batch in made.sizes.offered}
    assert sizes.keys() - {"words"} == offered
    assert len(offered) + len(made.sizes.refused) == 4
    for size in offered:
        scaled = scale(made.card.recipe, Fraction(size)).recipe
        card, amiss = rewrite(scaled, load_larder(), made.house)
        assert not amiss
        lines = [line for part in card.parts for line in part.ingredients]
        for number, line in enumerate(lines):
            for system in ("us", "metric"):
                place = f"r{number}-{system}"
                told = sizes[size]["figures"].get(place)
                figure = made.view.figures[place]
                shown = told or [figure.number, figure.unit]
                if line.amount:
                    want = short(line.amount.of(system))
                    said = " ".join(" ".join(part for part in shown if part).split())
                    assert said == " ".join(marks(want).split())


def test_a_size_that_can_not_be_measured_says_why() -> None:
    made = published("raspberry-sorbet")
    assert [str(one.factor) for one in made.sizes.refused] == ["1/2", "3/2"]
    page = tree(made.file(".html"))
    assert "the water can’t be measured near enough" in "".join(map(seen, page.iter("p")))
    assert not [node for node in page.iter("input") if node.get("value") == "3/2"]


def test_fractions_are_heard_as_words() -> None:
    page = published("seeded-crackers").file(".html")
    assert '<span aria-hidden="true">1⅔</span><span class="aloud">one and two thirds</span>' in page
    page = published("raspberry-sorbet").file(".html")
    assert '<span aria-hidden="true">1⁄32</span>' in page


def test_a_page_not_yet_published_is_kept_out_of_search_engines() -> None:
    def robots(view: PageView) -> list[str | None]:
        page = tree(render_page(view, PUBLICATION.templates))
        return [one.get("content") for one in page.iter("meta") if one.get("name") == "robots"]

    view = published("seeded-crackers").view
    assert view.published
    assert robots(view) == []
    assert robots(replace(view, published="")) == ["noindex"]


def test_data_can_not_end_its_script() -> None:
    assert "<" not in json_in_html({"name": "</script><!--"})
    assert json.loads(json_in_html({"name": "</script>"})) == {"name": "</script>"}


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour (WCAG 2.2, definition)."""
    channels = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("scheme", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("role", ["ink", "soft", "accent"])
def test_contrast(scheme: int, role: str) -> None:
    """4.5 : 1 for text (WCAG 2.2, success criterion 1.4.3)."""
    colours: dict[str, str] = {}
    for name in ("look.css", "look-web.css"):
        blocks = re.findall(r":root \{([^}]+)\}", (PUBLICATION.templates / name).read_text("utf-8"))
        for block in blocks[: scheme + 1]:
            colours |= re.findall(r"--(\w+): (#[0-9a-f]{6})", block)
    high, low = sorted((luminance(colours[role]), luminance(colours["paper"])), reverse=True)
    assert (high + 0.05) / (low + 0.05) >= 4.5


@pytest.mark.parametrize("name", NAMES)
def test_a_house_of_one_system_has_one_column_and_nothing_of_the_other(name: str) -> None:
    """The choice between the systems is hidden; what each number rests on stands as ever."""
    page = tree(published(name, "metric").in_site)
    (head,) = [one for one in page.iter("thead") if "Ingredient" in seen(one)]
    assert [seen(one) for one in head.iter("th")] == ["Ingredient", "Metric"]
    units = next(one for one in page.iter("fieldset") if one.get("id") == "units")
    assert units.get("hidden") is not None
    card = [seen(one) for one in page.iter() if one.get("class") in {"list", "steps"}]
    assert len(card) > 1
    assert not re.findall(r"°F|\b(?:cups?|tbsp|oz)\b", " ".join(card))
