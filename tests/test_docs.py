"""The README and the developers' page are true."""

import ast
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from coper.cli.parser import VERBS, make_parser, verb_module
from tests.cli.run import run

TOP = Path(__file__).parents[1]
README = (TOP / "README.md").read_text()
BLOCKS = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
COMMANDS = [shlex.split(line)[1:] for block in BLOCKS for line in block.splitlines()
            if line.startswith(".venv/bin/coper")]


@pytest.mark.parametrize("words", COMMANDS, ids=" ".join)
def test_every_command_in_the_readmes_shell_blocks_runs(words, tmp_path, monkeypatch):
    (tmp_path / "out").mkdir()
    (tmp_path / "demo").symlink_to(TOP / "demo")
    monkeypatch.chdir(tmp_path)
    status, _, err = run(*words)
    assert status == 0 and "coper:" not in err
    assert len(list((tmp_path / "out").iterdir())) >= 1


def test_the_readme_has_the_main_job_first_and_the_tests_second():
    assert any("joint" in words or "job" in words for words in COMMANDS)
    assert ".venv/bin/coper" in BLOCKS[0]
    assert ".venv/bin/python -m pytest" in BLOCKS[1].splitlines()


def test_ci_calls_the_readmes_test_command_then_lint_and_types():
    lines = (TOP / ".ci" / "run").read_text().splitlines()
    order = [lines.index(line) for line in
             (".venv/bin/python -m pytest", ".venv/bin/ruff check .", ".venv/bin/mypy")]
    assert order == sorted(order)


def test_every_verb_and_option_stands_in_the_readme():
    parser = make_parser()
    verbs = next(action for action in parser._actions if action.dest == "verb").choices
    assert set(verbs) == set(VERBS)
    for name, verb in verbs.items():
        assert f"coper {name}" in README
        for action in verb._actions:
            if action.dest != "help":
                assert not action.option_strings or action.option_strings[-1] in README


def test_every_verbs_help_has_an_example():
    for name in VERBS:
        assert f"coper {name} " in verb_module(name).EXAMPLES


def test_a_command_loads_no_other_verb():
    code = ("import sys; from coper.cli.parser import read_arguments; "
            "read_arguments(['joint', '10 x 1', '20', '--angle', '90']); "
            "print(sorted(m for m in sys.modules if m.startswith(('coper.cli.', 'coper.verbs.'))))")
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = {name.rpartition(".")[2] for name in ast.literal_eval(said.stdout)}
    assert "joint" in loaded and not (set(VERBS) - {"joint"}) & loaded


@pytest.mark.parametrize("block", re.findall(r"```python\n(.*?)```", README, re.DOTALL))
def test_the_readmes_python_runs(block, capsys):
    exec(compile(block, "README.md", "exec"), {})
    assert "EdgePoint" in capsys.readouterr().out


def test_every_room_of_the_developers_page_is_there():
    rooms = re.findall(r"^\| `(coper/[\w./]+)` ", (TOP / "DEVELOPERS.md").read_text(), re.MULTILINE)
    assert len(rooms) >= 7
    assert all((TOP / room).exists() for room in rooms)


def test_every_file_that_the_readme_shows_is_there():
    shown = re.findall(r"\]\(([\w./-]+)\)", README)
    assert shown and all((TOP / name).exists() for name in shown)
