"""Commands of every verb, most plausible, some absurd: done, or refused in lines that mend them."""

import random
import tomllib
from collections import Counter
from pathlib import Path

import pytest

from tests.cli.odd_commands import odd_command, trial
from tests.cli.run import run
from tests.profiles import seeds

BLOCK = 10
"""Commands a test: a search tries ten times as many blocks."""

GOOD = [tomllib.loads(Path("demo/wagtail.toml").read_text(encoding="utf-8"))]


@pytest.mark.parametrize("block", seeds(8))
def test_an_odd_command_is_done_or_refused(block):
    failed = [trial(GOOD, BLOCK * block + number) for number in range(BLOCK)]
    assert [one for one in failed if one] == []


def test_many_of_the_odd_commands_are_done_and_many_are_refused():
    statuses = Counter()
    for seed in range(30):
        words = odd_command(random.Random(seed))
        if words[:1] != ["tolerance"]:
            statuses[run(*words)[0]] += 1
    assert statuses[2] >= 7 and statuses[0] + statuses[1] >= 7
