"""What README.md shows works, as does every command that the texts of cardsmith send an author to."""

from __future__ import annotations

import ast
import re
import shlex
import shutil
import signal
import subprocess
import sys
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path

import click
import pytest

import cardsmith as package
from cardsmith.bench.file.load import read_trials
from cardsmith.check.explain import explained
from cardsmith.commands.main import FINE, cardsmith, main
from cardsmith.flow import prepare
from cardsmith.house.publication import Publication
from cardsmith.measure.larder import load_larder
from tests.demo import copy_templates

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = [shlex.split(one) for one in dict.fromkeys(re.findall(r"`cardsmith ([^`]+)`", README))]
EXAMPLES = re.findall(r"(?m)^```yaml\n(.*?)^```", README, re.DOTALL)
INSTALLS = [line for line in README.splitlines() if line.startswith("sudo apt-get")]
NAMED = {"seeded-crackers", "lemon-curd", "ferry-butter-cake"}  # the recipes of the demo that it speaks of
ON_THE_BENCH = "ferry-butter-cake"  # its trials alone are asked for
LETTER = """Dear Ines, here it is.

Leek and barley broth
Serves 4
Hands-on 20 minutes, total 1 h 10 min

200 g pearl barley
300 g leeks, sliced
20 g olive oil
1.5 kg vegetable stock
4 g fine salt

Warm the oil in a large pot and sweat the leeks with the salt for 10 minutes, until soft.
Add the barley and stock and simmer for 45 minutes, until the barley is tender.
"""
SERVER = "preview"  # which ends when it is told to


@pytest.fixture(scope="module")
def publication(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """As much of the demo as the commands of the README name."""
    root = tmp_path_factory.mktemp("demo")
    copy_templates(root / "templates")
    for name in NAMED:
        shutil.copytree(ROOT / "recipes" / name, root / "recipes" / name)
    (root / f"recipes/{ON_THE_BENCH}/recipe.yaml").unlink()
    shutil.copy(ROOT / "recipes/prices.csv", root / "recipes")
    (root / "letter.txt").write_text(LETTER, encoding="utf-8")
    return root


def test_it_is_short() -> None:
    assert README.count("\n") <= 200


def test_commands_and_examples_are_found() -> None:
    assert {one[0] for one in COMMANDS} == set(cardsmith.list_commands(click.Context(cardsmith)))
    assert len(INSTALLS) == 2
    assert len(EXAMPLES) == 4


def test_every_command_runs_as_it_stands(
    publication: Path, monkeypatch: pytest.MonkeyPatch, filled_in: Callable[[Path], None]
) -> None:
    """In their order, since some need what others have made, and what an author writes after new."""
    monkeypatch.chdir(publication)
    for command in COMMANDS:
        if command[0] != SERVER:
            assert main(command) == FINE, command
        if command[0] == "new":
            filled_in(publication / "recipes" / command[1] / "recipe.yaml")
    assert (publication / "build/cards/lemon-curd/lemon-curd-press.pdf").is_file()


def test_the_preview_begins_and_ends(publication: Path) -> None:
    command = [sys.executable, "-m", "cardsmith", SERVER, "--port", "0"]
    with subprocess.Popen(command, cwd=publication, stdout=subprocess.PIPE, text=True) as started:
        assert started.stdout
        assert started.stdout.readline().startswith("http://127.0.0.1:")
        assert started.stdout.readline()  # it has built the pages
        started.send_signal(signal.SIGINT)
        assert started.wait(timeout=60) == FINE


def _command(words: list[str]) -> tuple[click.Command, list[str]]:
    """The command that words name, and what they give it."""
    group: click.Command = cardsmith
    while isinstance(group, click.Group) and words:
        found = group.get_command(click.Context(group), words[0])
        assert found is not None, f"there is no command {words[0]}"
        group, words = found, words[1:]
    return group, words


@pytest.mark.parametrize("line", [one for one in README.splitlines() if one.startswith("| `cardsmith ")])
def test_every_option_in_the_table_is_one_of_its_command(line: str) -> None:
    words = shlex.split(line.split("`")[1])[1:]
    command, _ = _command(words)
    known = {name for one in command.params for name in one.opts}
    assert set(re.findall(r"--[a-z-]+", line)) <= known


def test_the_recipe_shown_prints_and_leaves_notes_at_most() -> None:
    text = next(one for one in EXAMPLES if one.startswith("title:"))
    more = [one for one in EXAMPLES if one.startswith("accepted:")]
    house = Publication(root=ROOT).house()
    prepared = prepare("rye-crackers", "".join([text, *more]).encode(), "recipe.yaml", load_larder(), house)
    assert prepared.printable
    assert [str(one) for one in prepared.findings if one.severity != "note"] == []


def test_the_trials_shown_are_read_without_a_word() -> None:
    text = next(one for one in EXAMPLES if one.startswith("trials:"))
    trials, findings = read_trials("rye-crackers", text.encode(), "trials.yaml", load_larder())
    assert trials is not None
    assert (len(trials.trials), len(trials.tastings)) == (2, 1)
    assert [str(one) for one in findings] == []


def test_the_install_lines_bring_what_the_readme_shows() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    used, tests = (re.findall(r"pip install (?:-e )?'\.\[(\w+)\]'", line) for line in INSTALLS)
    assert used == ["bench"]  # the bench's commands are shown
    assert tests == ["test"]
    assert f"cardsmith[{used[0]}]" in extras[tests[0]]


def test_ci_brings_what_the_install_lines_do() -> None:
    script = (ROOT / ".ci/run").read_text(encoding="utf-8")
    for line in INSTALLS:
        brought = line.partition("install -y ")[2].partition(" &&")[0].split()
        assert [one for one in brought if f" {one} " not in script.replace("\n", " ")] == []


@pytest.mark.parametrize("target", re.findall(r"\]\(([^)#:]+)\)", README))
def test_what_it_links_to_is_there(target: str) -> None:
    assert (ROOT / target).is_file()


# `cardsmith …` as findings, tables and templates send an author to it, as far as it is a fixed text.
_SENT = re.compile(r"`cardsmith (?P<words>[a-z]+(?: [a-z][a-z.-]*)?)")


def _sent() -> Iterator[tuple[str, str]]:
    """Every command that a text of the package, of its tables or of the house names, and where."""
    home = Path(package.__file__).parent
    for path in sorted(home.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                yield from ((one["words"], path.name) for one in _SENT.finditer(node.value))
    for path in (*home.rglob("reference/*.csv"), *ROOT.glob("templates/*"), ROOT / "README.md"):
        if path.is_file():
            text = path.read_text(encoding="utf-8")
            yield from ((one["words"], path.name) for one in _SENT.finditer(text))


@pytest.mark.parametrize(("words", "place"), sorted(set(_sent())))
def test_a_command_that_an_author_is_sent_to_answers(words: str, place: str) -> None:
    command, given = _command(words.split())
    assert command.callback
    if command.name == "explain" and given:
        assert explained(given[0]), place


def test_the_names_of_checks_in_the_readme_are_explained() -> None:
    accepted = re.findall(r"accepted: \{([a-z-]+):", README)
    assert accepted
    assert all(explained(name) for name in accepted)
