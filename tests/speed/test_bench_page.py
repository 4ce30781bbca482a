"""The shop page: the answer to one changed number beside a whole recomputation in the same run.

Aims, on a machine that does nothing else: 50 ms in the median and 100 ms at the 95th percentile
on the demo, 250 ms on a job of 60 tubes.
"""

import itertools
import statistics
import time

import pytest

from coper.page.keeping import JobFile
from tests.page.pages import DEMO, client
from tests.remembered import forget
from tests.speed.test_bench_job import fence

STATIONS = ("measure", "tubes", "ends", "ends/saws", "table", "check", "print", "bench")
"""The saws of ends that moved follow the list of ends: no aim is theirs."""

JOBS = {
    "wagtail": (DEMO / "wagtail.toml").read_text(),
    "dipper": (DEMO / "dipper.toml").read_text(),
    "fence": fence(60),
}
CHANGED = {
    "wagtail": (("reach = ", 345), ("by = ", 425.242), ("crank = ", 152)),
    "dipper": (("kink = [", 45), ("at = [", 22), ("at = [", 12)),
    "fence": (("start = { at = [", 820), ("start = { at = [", 1620), ("start = { at = [", 220)),
}
"""Numbers that are changed one after the other, each with what stands before it: of the bicycle,
a point, a tube, what moves."""

ROUNDS = 20


def changes(name):
    """The text of a job with one number after the other changed, without end."""
    numbers = [number for _, number in CHANGED[name]]
    for count in itertools.count():
        text = JOBS[name]
        for (words, first), number in zip(CHANGED[name], numbers, strict=True):
            assert f"{words}{first}" in text
            text = text.replace(f"{words}{first}", f"{words}{number:.6g}", 1)
        yield text
        numbers[count % len(numbers)] += 0.01


def answering(path, station):
    """Keeps a text as the page does, and asks for the station of it; in how many ms."""
    one, job = client(path.parent), JobFile(path)

    def answered(text):
        before = path.read_text()
        start = time.perf_counter()
        job.write(before, text)
        assert one.get(f"/{path.stem}/{station}").status_code == 200
        return 1000 * (time.perf_counter() - start)

    path.write_text("")
    return answered


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("station", STATIONS)
def test_the_answer_to_a_changed_number_beside_that_from_nothing(
        benchmark, tmp_path, station, name):
    texts, answered, times = changes(name), answering(tmp_path / f"{name}.toml", station), []
    answered(next(texts))
    benchmark.pedantic(lambda: times.append(answered(next(texts))), rounds=ROUNDS)
    nothing = []
    for _ in range(3):
        forget()
        nothing.append(answered(next(texts)))
    median, most = statistics.median(times), statistics.quantiles(times, n=20)[-1]
    benchmark.extra_info |= {"times that from nothing": median / min(nothing),
                             "median, ms": median, "95th percentile, ms": most}


def peak():
    """The most that this process has held, in what unit the system has."""
    import resource

    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


def test_the_memory_after_a_thousand_changes_beside_400(benchmark, tmp_path):
    texts, answered = changes("wagtail"), answering(tmp_path / "wagtail.toml", "tubes")
    held = [peak()]
    for count in (400, 600):
        for text in itertools.islice(texts, count):
            answered(text)
        held.append(peak())
    benchmark.pedantic(answered, (next(texts),), rounds=1)
    benchmark.extra_info |= {"after 400, times before": held[1] / held[0],
                             "after 1,000, times 400": held[2] / held[1]}
