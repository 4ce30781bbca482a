"""How a job and its packet grow: ratios of the same run, near that of the tubes where linear."""

import time
import tracemalloc

from coper import make_pieces, parse_job
from coper.joint.steps import silent
from coper.verbs.job import job


def fence(tubes):
    """A rail with uprights between it and a foot rail, each leaning differently."""
    text = ["[tubes.rail]\nshape = '30 x 2'\nstart = { at = [0, 0, 500] }\n"
            f"end = {{ at = [{40 * tubes}, 0, 500] }}\n",
            "[tubes.foot]\nshape = '30 x 2'\nstart = { at = [0, 0, 0] }\n"
            f"end = {{ at = [{40 * tubes}, 0, 0] }}\n"]
    text += [f"[tubes.upright-{n}]\nshape = '20 x 1'\n"
             f"start = {{ at = [{40 * n + 20}, 0, 0], on = ['foot'] }}\n"
             f"end = {{ at = [{40 * n + 21 + n % 40 / 2}, 0, 500], on = ['rail'] }}\n"
             for n in range(tubes - 2)]
    return "".join(text)


def work(text):
    return make_pieces(parse_job(text))


def test_a_job_of_200_tubes_beside_one_of_20(benchmark):
    small, large = fence(20), fence(200)
    benchmark.pedantic(work, (large,), rounds=3)
    times = []
    for _ in range(5):
        start = time.perf_counter()
        assert len(work(small)) == 20
        times.append(time.perf_counter() - start)
    benchmark.extra_info["times 20 tubes"] = benchmark.stats.stats.min / min(times)


def packet(text):
    return job(parse_job(text)).pdf()


def test_a_packet_of_40_tubes_beside_one_of_10(benchmark):
    small, large = fence(10), fence(40)
    packet(small)
    benchmark.pedantic(packet, (large,), rounds=1)
    start = time.perf_counter()
    assert packet(small)
    benchmark.extra_info["times 10 tubes"] = (
        benchmark.stats.stats.min / (time.perf_counter() - start))


def peak(text):
    """MiB that a packet takes at its most, beside its job."""
    answer = job(parse_job(text))
    tracemalloc.start()
    assert sum(1 for _ in answer.pages(silent))
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return most / 2**20


def test_the_memory_of_a_packet_of_40_tubes_beside_one_of_10(benchmark):
    small = peak(fence(10))
    benchmark.pedantic(peak, (fence(40),), rounds=1)
    benchmark.extra_info["times 10 tubes"] = peak(fence(40)) / small
