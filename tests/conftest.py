"""What every run of the suite begins with."""

from tests.profiles import register

register()


def pytest_xdist_auto_num_workers(config):
    """A benchmark runs alone; everything else on every core."""
    return 0 if config.getoption("benchmark_only") else None
