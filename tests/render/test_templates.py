"""Templates place what they are given, and reach nothing else."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from jinja2.exceptions import SecurityError, UndefinedError

from cardsmith.commands.main import main
from cardsmith.commands.terminal import FINE
from cardsmith.render.templates import environment
from tests.demo import copy_templates

ROOT = Path(__file__).parents[2]
LEADS_OUT = (
    "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "{{ words.append('more') }}",
    "{{ self.__init__.__globals__ }}",
    "{{ cycler.__init__.__globals__.os }}",
    "{{ lipsum.__globals__['os'].system('touch written') }}",
    "{{ '{0.__class__.__mro__}'.format(words) }}",
    "{% set found = words.__iter__.__self__ %}{{ found }}",
    "{{ range(10000000) | list }}",
)


@pytest.mark.parametrize("text", LEADS_OUT)
def test_a_template_leads_to_nothing_but_what_it_is_given(text: str, tmp_path: Path) -> None:
    (tmp_path / "a.j2").write_text(text, "utf-8")
    with pytest.raises((SecurityError, UndefinedError, OverflowError)):
        environment(tmp_path).get_template("a.j2").render(words=["one"])


def test_a_template_repeats_chooses_and_places(tmp_path: Path) -> None:
    (tmp_path / "a.j2").write_text(
        "{% for one in words if one %}{{ loop.index }} {{ one }}{% endfor %}", "utf-8"
    )
    assert environment(tmp_path).get_template("a.j2").render(words=["<b>", ""]) == "1 &lt;b&gt;"


def test_a_template_that_would_run_code_makes_no_card_and_runs_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    copy_templates(tmp_path / "templates")
    shutil.copytree(ROOT / "recipes/mustard-dressing", tmp_path / "recipes/mustard-dressing")
    monkeypatch.chdir(tmp_path)
    file = tmp_path / "templates/site/card.html.j2"
    file.write_text(file.read_text("utf-8") + LEADS_OUT[4], "utf-8")
    assert main(["build", "--serial", "--pages"]) != FINE
    assert "SecurityError" in "".join(capsys.readouterr())
    assert not (tmp_path / "written").exists()
    assert not list(tmp_path.glob("build/cards/*/*.html"))
