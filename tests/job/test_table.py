"""How a job says that its frame is laid on the table."""

import json
import re

import pytest

from coper import parse_job
from coper.job.faults import JobError
from coper.job.job import TablePlan
from coper.telling.words.layout import table_lines
from coper.verbs.layout import layout
from tests.cli.run import run

JOB = """\
title = "Gate"
{units}[table]
{table}
[tubes.rail]
shape = "20 x 1"
start = {{ at = [0, 0, 0] }}
end = {{ at = [400, 30, 0] }}
"""


def text(table, units=""):
    return JOB.format(table=table, units=units)


@pytest.fixture
def gate(tmp_path):
    def write(table):
        file = tmp_path / "gate.toml"
        file.write_text(text(table))
        return str(file)

    return write


def test_lengths_are_in_the_jobs_unit_or_their_own():
    given = parse_job(text('lies = "flat"\norigin = [36, "300mm"]\nplane = "3-1/8in"',
                           'units = "in"\n'))
    assert given.table == TablePlan("flat", (914.4, 300.0), 79.375)
    assert parse_job(text("")).table == TablePlan("on its right side", None, None)


@pytest.mark.parametrize(("table", "said"), [
    ('lies = "flatt"', r"table\.lies: 'flatt' is not known; did you mean flat"),
    ("lies = 5", r"table\.lies: 5 is not text"),
    ("origin = [900]", r"table\.origin: 1 numbers?; write how far from the left end"),
    ("origin = [900, 300, 5]", r"table\.origin: 3 numbers; write how far"),
    ('origin = "900, 300"', r"table\.origin: .* is not a list; write \[900, 300\]"),
    ('origin = [900, "high"]', r"table\.origin\[1\]: high: no number"),
    ('plane = "high"', r"table\.plane: high: no number"),
    ("plain = 5", r"table\.plain: no such key; did you mean plane")])
def test_what_cannot_be_used_is_one_fault_with_its_key(table, said):
    with pytest.raises(JobError, match=said) as caught:
        parse_job(text(table))
    assert len(caught.value.faults) == 1


def test_the_file_says_where_it_lies_and_an_option_wins(gate):
    file = gate("origin = [600, 150]\nplane = 60")
    table = json.loads(run("layout", file, "--json")[1])["table"]
    assert (table["origin"], table["plane"]) == ([600.0, 150.0], 60.0)
    table = json.loads(run("layout", file, "--origin", "500,250", "--json")[1])["table"]
    assert (table["origin"], table["plane"]) == ([500.0, 250.0], 60.0)
    table = json.loads(run("layout", file, "--plane", "3in", "--json")[1])["table"]
    assert (table["origin"], table["plane"]) == ([600.0, 150.0], 76.2)


@pytest.mark.parametrize(("table", "said"), [
    ("origin = [600, 5]", ": table.origin: with the frame's origin 5 mm from the front edge"),
    ("plane = 9", ": table.plane: 9 mm above the table, the frame's middle plane leaves no room"),
    ('lies = "flat"\nplane = -1', ": table.plane: the lowest point, of rail, would be 1 mm below")])
def test_a_fault_of_the_file_is_named_at_its_key_and_one_of_an_option_at_the_option(
        gate, table, said):
    file = gate(table)
    status, out, err = run("layout", file)
    assert (status, out) == (2, "") and f"{file}{said}" in err and err.count("\n") == 1
    option = re.search(r"table\.(\w+)", said)[1]
    value = {"origin": "600,5", "plane": "-1" if "flat" in table else "9"}[option]
    status, _, err = run("layout", file, f"--{option}={value}")
    assert status == 2 and err.startswith(f"coper: --{option}: ")


def test_the_packet_lays_it_as_the_file_says(gate, tmp_path):
    file = gate('lies = "flat"\norigin = [600, 150]\nplane = 60')
    assert run("job", file, "--out", str(tmp_path / "out"))[0] == 0
    drawn = "".join(path.read_text() for path in (tmp_path / "out").glob("*.svg"))
    laid = layout(parse_job(text('lies = "flat"\norigin = [600, 150]\nplane = 60'))).result
    words = re.sub(r"<[^>]+>|\s", "", drawn)
    for line in list(table_lines(laid))[:2]:
        assert re.sub(r"\s", "", line) in words
    assert laid.clear == pytest.approx(60)
