"""Rounds to keep in a shop book, and a process that keeps them until it is killed."""

import subprocess
import sys

from coper.book.entries import EndName, Reading, Readings

STAY = EndName("chain-stay", "left", "start")
ANSWER = {"largest_gap_after": 0.1, "largest": 0.4, "largest_clock": 90.0, "ok": False}

WRITER = """
import sys
from pathlib import Path
from coper.book.book import opened
from tests.book.books import ANSWER, readings
number = int(sys.argv[2])
while True:
    with opened(Path(sys.argv[1])) as book:
        for _ in range(3):
            book.keep_round(readings(number), ANSWER, f"title = {number // 7}")
            print(number, flush=True)
            number += 1
"""


def readings(number, end=STAY):
    """A round that no other number has."""
    gaps = (Reading(0.0, number / 100), Reading(120.0, 0.0), Reading(240.0, 0.5))
    return Readings(end, gaps, f"0={number / 100},120=0,240=0.5", "bevelled", 0.3)


def writer(path, first=0):
    """A process that keeps rounds without end, and prints each number once it is kept."""
    return subprocess.Popen([sys.executable, "-c", WRITER, str(path), str(first)],
                            stdout=subprocess.PIPE, text=True)
