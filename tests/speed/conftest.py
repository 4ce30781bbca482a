"""Ends a run of the benchmarks with what each was measured beside."""


def pytest_terminal_summary(terminalreporter, config):
    run = getattr(config, "_benchmarksession", None)
    for one in run.benchmarks if run is not None else ():
        beside = ", ".join(f"{name} {value:.3g}" for name, value in one.extra_info.items())
        terminalreporter.write_line(f"{one.name}: {beside}")
