"""The README and the developers' page are true."""

import ast
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

import coper
from coper.bicycle.measured import KEYS as BICYCLE_KEYS
from coper.cli.parser import VERBS, make_parser, verb_module
from coper.job.bicycle import WHEEL_KEYS
from coper.job.drive import DRIVE_KEYS
from coper.job.ends import END_KEYS
from coper.job.fitted import BRAKE_KEYS, CROWN_KEYS, FITTED_KEYS, GUARD_KEYS
from coper.job.points import POINT_KEYS
from coper.job.read import JOB_KEYS, SHOP_KEYS
from coper.job.stock import STOCK_KEYS
from coper.job.tubes import TUBE_KEYS
from coper.telling.topics import TOPICS
from tests.cli.run import run

TOP = Path(__file__).parents[1]
README = (TOP / "README.md").read_text()
BLOCKS = re.findall(r"```sh\n(.*?)```", README, re.DOTALL)
STEPS = [[step.strip() for step in block.split("&&")] for block in BLOCKS]
COMMANDS = [shlex.split(step)[1:] for steps in STEPS for step in steps
            if step.startswith(".venv/bin/coper") and not step.startswith(".venv/bin/coper page")]


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
    assert STEPS[0][-1].startswith(".venv/bin/coper job demo/")
    assert STEPS[1][-1] == ".venv/bin/python -m pytest"


def test_the_readmes_third_block_starts_the_page_on_the_demos(monkeypatch, tmp_path):
    (tmp_path / "demo").symlink_to(TOP / "demo")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("coper.page.serve.Page.stay", lambda page: page.listening.close())
    assert STEPS[2][1].endswith("'.[page]'")
    status, out, err = run(*shlex.split(STEPS[2][-1])[1:], "--no-browser")
    assert (status, err) == (0, "") and "http://127.0.0.1:" in out


def test_each_of_the_readmes_shell_blocks_is_one_command_that_can_be_pasted():
    assert all(len(block.splitlines()) == 1 for block in BLOCKS)


def test_ci_calls_the_readmes_test_command_then_lint_and_types():
    lines = (TOP / ".ci" / "run").read_text().splitlines()
    order = [lines.index(line) for line in
             (f"{BLOCKS[1].strip()} || exit 1", ".venv/bin/ruff check .", ".venv/bin/mypy")]
    assert order == sorted(order)


def test_every_verb_stands_in_the_readme_and_its_help_explains_every_option():
    verbs = next(action for action in make_parser()._actions if action.dest == "verb").choices
    assert set(verbs) == set(VERBS)
    for name, verb in verbs.items():
        assert f"| `{name}` |" in README and f"coper {name}" in README
        assert len(verb.description) > 40
        for action in verb._actions:
            assert action.help, f"coper {name}: {action.dest}"


def test_every_key_of_a_job_file_is_explained_in_the_starter():
    status, text, _ = run("help", "keys")
    assert status == 0
    keys = {*JOB_KEYS, *SHOP_KEYS, *BICYCLE_KEYS, *WHEEL_KEYS, *DRIVE_KEYS, *POINT_KEYS, *TUBE_KEYS,
            *END_KEYS, *STOCK_KEYS, *FITTED_KEYS, *CROWN_KEYS, *BRAKE_KEYS, *GUARD_KEYS, "back",
            "out", "under"}
    for key in keys:
        assert re.search(rf"(?:^|[\[ {{#.])\b{key}\b[ \].]", text, re.MULTILINE), key


def test_every_topic_that_the_readme_names_can_be_read_up():
    named = re.findall(r"coper help (\w+)", README)
    assert set(named) <= set(TOPICS) and named
    for topic in TOPICS:
        assert len(run("help", topic)[1].splitlines()) > 3


def test_the_public_face_is_what_all_says():
    assert set(coper.__all__) == set(coper._PUBLIC)
    for name in coper.__all__:
        assert getattr(coper, name) is not None


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
def test_the_readmes_python_runs(block, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "demo").symlink_to(TOP / "demo")
    exec(compile(block, "README.md", "exec"), {})
    assert capsys.readouterr().out


def test_the_readmes_python_passes_the_type_checker(tmp_path):
    blocks = re.findall(r"```python\n(.*?)```", README, re.DOTALL)
    assert len(blocks) == 5
    files = [tmp_path / f"block{index}.py" for index in range(len(blocks))]
    for file, block in zip(files, blocks, strict=True):
        file.write_text(block)
    said = subprocess.run([sys.executable, "-m", "mypy", "--strict", "--no-incremental",
                           *map(str, files)], capture_output=True, text=True, check=False, cwd=TOP)
    assert said.returncode == 0, said.stdout


def test_every_room_of_the_developers_page_is_there():
    rooms = re.findall(r"^\| `(coper/[\w./]+)` ", (TOP / "DEVELOPERS.md").read_text(), re.MULTILINE)
    assert len(rooms) >= 7
    assert all((TOP / room).exists() for room in rooms)


def test_every_file_that_the_readme_shows_is_there():
    shown = re.findall(r"\]\(([\w./-]+)\)", README)
    assert shown and all((TOP / name).exists() for name in shown)
