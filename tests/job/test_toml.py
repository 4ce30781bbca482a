"""What people write that TOML does not take: the line, the place, and how it should be."""

import re
import tomllib

import pytest

from coper.errors import CoperError
from coper.job.toml import read_toml
from tests.cli.run import run

WHOLE = {
    "drop = 12mm": 'drop = "12mm"',
    "drop = 40,5": "drop = 40.5",
    "drop = -3,25": "drop = -3.25",
    "shape = 40 x 3.5": 'shape = "40 x 3.5"',
    "mirror = yes": "mirror = true",
    "mirror = No": "mirror = false",
    "mirror = True": "mirror = true",
    'depth = 6"': 'depth = "6in"',
    'shape = "1-1/4" x 0.095"': 'shape = "1-1/4in x 0.095"',
    "depth = 7/8in": 'depth = "7/8in"',
    "shape = 'x": "shape = 'x'",
    "drop = .5": "drop = 0.5",
    "drop = 5.": "drop = 5.0",
    "drop = 058": "drop = 58",
    "at = (1, 2, 3)": "at = [1, 2, 3]",
    "at = [1, 2 3]": "at = [1, 2, 3]",
    'saws = ["7/8in" "1in"]': 'saws = ["7/8in", "1in"]',
    'start = { at = [0, 0, 0] on = ["x"] }': 'start = { at = [0, 0, 0], on = ["x"] }',
    'blocks = ["3"", 4]': 'blocks = ["3in", 4]',
    "[tubes.seat tube]": '[tubes."seat tube"]',
    "[tubes.shell": "[tubes.shell]",
    "drop: 58": "drop = 58",
    "seat tube = 3": '"seat tube" = 3',
}


@pytest.mark.parametrize("line", WHOLE)
def test_the_line_as_it_should_be_is_offered_and_is_toml(line):
    with pytest.raises(CoperError) as caught:
        read_toml(f"title = 'x'\n{line}\nunits = 'mm'\n")
    said = str(caught.value)
    assert said.startswith("line 2 column ") and line in said and said.count("\n") == 0
    better = said.rpartition("; write ")[2]
    assert better == WHOLE[line]
    tomllib.loads(better)


@pytest.mark.parametrize(("line", "needle"), [
    ("drop = [0, 12mm, 3]", 'write "12mm"'),
    ('saws = [7/8", 1]', 'write "7/8in"'),
    ("start = { at = dropout, back = 15 }", 'write "dropout"'),
    ('start = { at = [1, 2, 3], on = [shell] }', 'write "shell"'),
    ("title = “Wagtail”", 'use straight ones: title = "Wagtail"'),
    ("start = { at = 1,", "write it on one line"),
    ("drop =", "nothing after the ="),
    ("start = { at = [1], on = [\"shell] }", "the quotes are not closed"),
])
def test_a_fault_inside_a_line_names_the_word_and_the_cure(line, needle):
    with pytest.raises(CoperError) as caught:
        read_toml(f"{line}\n\n")
    said = str(caught.value)
    assert said.startswith("line 1 column ") and needle in said


@pytest.mark.parametrize(("text", "line"), [
    ("a = 1\nsaws = [1, 2\n", 2), ("a = 1\n\nsaws = [1, 2\n\n", 3), ("a = 1\nmirror", 2),
    ("a = 1\nb =\n\nc = 2\n", 2),
])
def test_what_the_parser_finds_only_at_the_end_is_in_the_last_line_that_holds_anything(text, line):
    with pytest.raises(CoperError, match=f"^line {line} column "):
        read_toml(text)


@pytest.mark.parametrize("text", ["[shop]\na = 1\n\n[shop]\n", "a = 1\nb = 2\na = 3\n",
                                  "[shop]\na = 1\na = 2\n[tubes.x]\n"])
def test_a_table_or_key_that_stands_twice_is_named_with_both_its_lines(text):
    with pytest.raises(CoperError, match=r"stands twice, first in line \d") as caught:
        read_toml(text)
    lines = text.splitlines()
    second = int(re.match(r"line (\d+)", str(caught.value))[1])
    first = int(re.search(r"first in line (\d+)", str(caught.value))[1])
    assert first < second
    assert lines[first - 1].split("=")[0].strip() == lines[second - 1].split("=")[0].strip()


def test_a_file_without_its_ending_is_offered_with_it(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "pip.toml").write_text("title = 'x'\n")
    status, out, err = run("job", "pip")
    assert (status, out) == (2, "") and "did you mean pip.toml?" in err and err.count("\n") == 1


def test_a_pair_with_a_space_in_it_is_answered_with_the_pair_without():
    status, _, err = run("tracking", "--head-diameter", "36", "--straight-edge", "59.2,", "46.5")
    assert status == 2 and "59.2,46.5" in err
