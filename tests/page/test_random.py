"""Whatever somebody does on the page, they are answered, and the file loads."""

import random

import pytest

from coper.job.starter import starter_job
from tests.page.jobs import DIPPER, SMALL
from tests.page.monkey import Monkey
from tests.page.pages import client
from tests.profiles import seeds, times

JOBS = {"small": SMALL, "dipper": DIPPER, "starter": starter_job("bicycle", "in")}


@pytest.mark.parametrize("seed", seeds(2))
def test_no_random_step_breaks_the_page_or_the_file(tmp_path, seed):
    paths = [tmp_path / f"{name}.toml" for name in JOBS]
    for path in paths:
        path.write_text(JOBS[path.stem])
    Monkey(client(tmp_path), paths, random.Random(seed), times() > 1).goes_on(60 * times())
