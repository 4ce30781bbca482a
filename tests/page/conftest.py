"""Tests in a browser are left out where none is installed, and that is said."""

import shutil

import pytest

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")


def installed():
    """The path of a Chrome or Chromium; ``None`` where there is none."""
    return next(filter(None, map(shutil.which, BROWSERS)), None)


def pytest_collection_modifyitems(config, items):
    if installed() is not None:
        return
    out = [item for item in items if item.get_closest_marker("browser")]
    if out:
        config.hook.pytest_deselected(items=out)
        items[:] = [item for item in items if item not in out]


def pytest_report_header():
    found = installed()
    return f"browser: {found or 'none installed; tests marked browser are left out'}"


@pytest.fixture(scope="session")
def browser():
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        one = driver.chromium.launch(executable_path=installed(), args=["--no-sandbox"])
        yield one
        one.close()
