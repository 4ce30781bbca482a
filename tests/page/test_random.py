"""Whatever somebody does on the page, they are answered, and the file loads."""

import random

import pytest

from coper.job.starter import starter_job
from tests.page.jobs import DIPPER, WAGTAIL
from tests.page.monkey import Monkey
from tests.page.pages import client
from tests.page.places import PAIR
from tests.profiles import seeds, times

FEW = {"pair": PAIR, "starter": starter_job("rack", "in")}
ALL = {**FEW, "wagtail": WAGTAIL, "dipper": DIPPER, "bicycle": starter_job("bicycle", "in"),
       "trailer": starter_job("trailer", "mm"), "new": "[tubes]\n"}


@pytest.mark.parametrize("seed", seeds(2))
def test_no_random_step_breaks_the_page_or_the_file(tmp_path, seed):
    jobs = ALL if times() > 1 else FEW
    paths = [tmp_path / f"{name}.toml" for name in jobs]
    for path in paths:
        path.write_text(jobs[path.stem])
    Monkey(client(tmp_path), paths, random.Random(seed), times() > 1).goes_on(60 * times())
