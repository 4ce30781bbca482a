"""How many random examples the tests draw: the one place that says so.

``default`` draws the same examples everywhere, so that a newcomer's run is everybody's run.
``search`` draws fresh ones, many more of them, for those who work on coper; what it finds becomes
an example. No run has a deadline: that would be a timed assertion.
"""

import os
import random

from hypothesis import HealthCheck, settings

USUAL = 100
"""Examples of a law that does not say otherwise."""

MORE = 10
"""Times as many in a search."""

SEEDS = 2**32

RUN = os.environ.get("PYTEST_XDIST_TESTRUNUID") or os.urandom(8).hex()
"""Names one run; all of its workers have the same, so that they collect the same seeds."""


def register():
    """Make both profiles known, and choose the default one."""
    calm = [HealthCheck.too_slow]  # another timed assertion
    settings.register_profile("default", derandomize=True, deadline=None, database=None,
                              max_examples=USUAL, suppress_health_check=calm)
    settings.register_profile("search", derandomize=False, deadline=None, print_blob=True,
                              max_examples=MORE * USUAL, suppress_health_check=calm)
    settings.load_profile("default")


def times():
    """How many times as many examples the chosen profile draws."""
    return settings().max_examples // USUAL


def examples(count):
    """A law drawn ``count`` times, and more often in a search."""
    return settings(max_examples=count * times())


def seeds(count, *found):
    """Seeds of a random test: 0 to ``count`` and those a search ``found``; in a search fresh ones.

    A failing test names its seed: add it to ``found``.
    """
    if times() == 1:
        return [*range(count), *found]
    return random.Random(RUN).sample(range(SEEDS), count * times())
