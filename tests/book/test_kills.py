"""What was said to be kept in the shop book is there, whenever its writer is killed."""

import random
import time

from coper.book.book import opened
from tests.book.books import readings, writer
from tests.profiles import times

KILLS = 10


def kept_before(path, first, wait):
    """Numbers that a writer said it had kept before it was killed."""
    process = writer(path, first)
    said = [int(process.stdout.readline())]
    time.sleep(wait)
    process.kill()
    said += [int(line) for line in process.communicate()[0].splitlines(keepends=True)
             if line.endswith("\n")]
    return said


def test_every_round_that_was_said_to_be_kept_is_there_after_kills_at_random_moments(tmp_path):
    path, said, moments = tmp_path / "frame.book", [], random.Random(3)
    for _ in range(KILLS * times()):
        said += kept_before(path, len(said), moments.uniform(0, 0.03))
        with opened(path) as book:
            assert book.notes == ()
            kept = [one.readings for one in book.rounds()]
        assert kept[:len(said)] == [readings(number) for number in said]
        assert len(kept) - len(said) <= 1, "at most the one that was being kept"
        said = list(range(len(kept)))


def test_a_book_whose_writer_was_killed_as_it_was_begun_is_begun_again(tmp_path):
    for wait in (0.0, 0.04, 0.06, 0.08):
        path = tmp_path / f"{wait}.book"
        process = writer(path)
        time.sleep(wait)
        process.kill()
        process.communicate()
        with opened(path) as book:
            book.keep_round(readings(7), {}, "")
            assert book.rounds()[-1].readings == readings(7)


def test_two_writers_at_once_lose_nothing_of_each_other(tmp_path):
    path = tmp_path / "frame.book"
    both = writer(path, 0), writer(path, 100000)
    said = [{int(one.stdout.readline()) for _ in range(20)} for one in both]
    for one in both:
        one.kill()
        one.communicate()
    with opened(path) as book:
        there = [round(100 * one.readings.gaps[0].gap) for one in book.rounds()]
    assert all(numbers <= set(there) for numbers in said)
    assert len(set(there)) == len(there)
