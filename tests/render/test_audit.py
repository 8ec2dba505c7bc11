from __future__ import annotations

import re

import pytest
from markupsafe import Markup

from cardsmith.render.audit import faults
from cardsmith.render.typesetter import Typesetter

PAGE = '<!DOCTYPE html><html lang="en"><head><title>x</title></head><body>{}</body></html>'
TABLE = f"<table><thead><tr><th>US</th></tr></thead>{'<tr><td>1 cup</td></tr>' * 60}</table>"
LONG = "<p>flour and water</p>" * 60


@pytest.mark.parametrize(
    ("body", "fault"),
    [
        ("<p>Whisk the flour.</p>", ""),
        (LONG, ""),  # three pages, nothing lost
        (
            TABLE,
            "",
        ),
        (f"<div style='position: absolute'>{LONG}</div>", "layout lost|off the page"),
        (f"<div style='float: left'>{LONG}</div>", "layout lost|off the page"),
        ("<p style='position: absolute; left: -1in'>flour</p>", "off the page: 'flour'"),
        ("<p style='white-space: nowrap'>" + "flour and water " * 20 + "</p>", "off the page"),
        ("<p>flour and water</p><p style='margin-top: -11pt'>sugar and salt</p>", "over other words"),
        ("<p>flour<span style='display: none'>water</span></p>", "the layout lost 5 letters"),
    ],
)
def test_faults_of_layout(body: str, fault: str, typesetter: Typesetter) -> None:
    html = PAGE.format(body)
    found = "; ".join(faults(typesetter.lay_out(html, {}), html, (), ()))
    assert re.search(fault, found) if fault else not found, found


def test_a_text_the_template_forgot(typesetter: Typesetter) -> None:
    html = PAGE.format("<p>Whisk the <em>rye</em> flour.</p>")
    document = typesetter.lay_out(html, {})
    assert faults(document, html, [Markup("the <i>rye</i> flour")], ()) == ()
    (fault,) = faults(document, html, [Markup("olive oil &amp; salt")], ())
    assert "'olive oil & salt'" in fault


def test_a_step_with_the_wrong_number(typesetter: Typesetter) -> None:
    html = PAGE.format("<ol style='margin: 30pt'><li>Whisk.</li><li>Bake.</li></ol>")
    document = typesetter.lay_out(html, {})
    assert faults(document, html, (), (1, 2)) == ()
    assert faults(document, html, (), (2, 3)) == ("steps numbered 1, 2",)
