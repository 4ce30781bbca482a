"""Paper as PDF, as ratios of the same run: our own pages beside words set by matplotlib.

Aims: the pages of a packet drawn ten times as fast as with words that matplotlib sets, in a
smaller file; one joint's PDF as a command within 1.5 times what loading matplotlib's writer takes.
"""

import io
import subprocess
import sys
import time

import matplotlib as mpl
import numpy as np
import pytest
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure

from coper import parse_job
from coper.drawing import pdf
from coper.joint.steps import silent
from coper.verbs.job import job
from tests.speed.test_bench_job import fence


@pytest.fixture(scope="module")
def pages():
    return tuple(job(parse_job(fence(20))).pages(silent))


def set_by_matplotlib(pages):
    """The pages through a figure each, every word measured and kerned again."""
    buffer = io.BytesIO()
    with mpl.rc_context({"pdf.fonttype": 42}), PdfPages(buffer) as document:
        for page in pages:
            figure = Figure(figsize=(page.width / 25.4, page.height / 25.4), frameon=False)
            figure.add_artist(pdf._Drawing(page.marks))
            document.savefig(figure)
    return buffer.getvalue()


def test_the_pages_of_a_packet_beside_words_that_matplotlib_sets(benchmark, pages):
    start = time.perf_counter()
    before = set_by_matplotlib(pages)
    taken = time.perf_counter() - start
    after = benchmark.pedantic(pdf.pdf_bytes, (pages, "fence"), rounds=3)
    benchmark.extra_info["times as fast"] = taken / benchmark.stats.stats.min
    benchmark.extra_info["share of the bytes"] = len(after) / len(before)


def command(*words):
    start = time.perf_counter()
    subprocess.run([sys.executable, *words], check=True, capture_output=True)
    return time.perf_counter() - start


def test_one_joint_as_pdf_beside_loading_matplotlibs_writer(benchmark, tmp_path):
    joint = ("-m", "coper", "joint", "28.6 x 0.9", "38.1", "--angle", "62", "--force", "--pdf",
             str(tmp_path / "x.pdf"))
    loading = ("-c", "import numpy, matplotlib.backends.backend_pdf")
    benchmark.pedantic(command, joint, rounds=5)
    benchmark.extra_info["times the loading"] = benchmark.stats.stats.min / min(
        command(*loading) for _ in range(5))


def test_a_packet_of_20_tubes_beside_one_of_10_and_one_of_40(benchmark):
    def whole(count):
        start = time.perf_counter()
        assert job(parse_job(fence(count))).pdf()
        return time.perf_counter() - start

    whole(10)
    benchmark.pedantic(whole, (20,), rounds=2)
    ten, forty = (np.min([whole(count) for _ in range(2)]) for count in (10, 40))
    benchmark.extra_info["times 10 tubes"] = benchmark.stats.stats.min / ten
    benchmark.extra_info["40 tubes, times"] = forty / benchmark.stats.stats.min
