"""A packet made, and another fork tried, in a real browser."""

import threading

import pytest
from playwright.sync_api import expect

from coper.page.answers import printing
from tests.cli.run import run
from tests.page.pages import served, two_tubes, wagtail

pytestmark = pytest.mark.browser
LONG_S = 20


@pytest.fixture
def path(tmp_path):
    return two_tubes(tmp_path)


@pytest.fixture
def steps(monkeypatch):
    """Lets the packet go on by a step each time it is released."""
    on, make = threading.Semaphore(0), printing.packet_pdf

    def slow(text, file, ticked, say):
        def said(step, share):
            say(step, share)
            if " of " in step and not step.startswith("laying out"):
                assert on.acquire(timeout=LONG_S)

        return make(text, file, ticked, said)

    monkeypatch.setattr("coper.page.visits.printing.packet_pdf", slow)
    yield on
    on.release(1000)


@pytest.fixture
def page(browser, path):
    with served(path.parent) as address:
        one = browser.new_page()
        one.goto(f"{address}two/print")
        yield one
        one.close()


def test_the_bar_moves_with_the_name_of_what_is_drawn_and_the_pdf_that_is_saved_is_the_packet(
        page, path, steps, monkeypatch):
    monkeypatch.chdir(path.parent)
    assert run("job", "two.toml", "--out", "out")[0] == 0
    with page.expect_download() as saved:
        page.get_by_role("button", name="Make the PDF").click()
        expect(page.locator("#making-step")).to_contain_text("1 of")
        expect(page.locator("#making-step")).to_contain_text("Job sheet")
        first = int(page.get_attribute("#making-share", "value"))
        steps.release(3)
        expect(page.locator("#making-step")).not_to_contain_text("1 of")
        assert int(page.get_attribute("#making-share", "value")) > first > 0
        steps.release(1000)
    assert saved.value.suggested_filename == "two.pdf"
    assert saved.value.path().read_bytes() == (path.parent / "out" / "two.pdf").read_bytes()
    assert page.locator("#sheets input[type=checkbox]").count() > 3


def test_cancel_takes_the_bar_away_and_the_packet_can_be_made_again(page, steps):
    page.get_by_role("button", name="Make the PDF").click()
    expect(page.locator("#making-step")).to_contain_text("1 of")
    page.get_by_role("button", name="Cancel").click()
    expect(page.locator(".making")).to_have_count(0)
    steps.release(1000)
    with page.expect_download():
        page.get_by_role("button", name="Make the PDF").click()


def test_what_is_tried_follows_the_field_and_stays_in_the_address(browser, tmp_path):
    path = wagtail(tmp_path)
    with served(tmp_path) as address:
        one = browser.new_page()
        one.goto(f"{address}wagtail/measure")
        one.fill("[id='try.rake']", "43")
        one.press("[id='try.rake']", "Tab")
        expect(one.locator("#numbers")).to_contain_text("→")
        assert one.url.endswith("/wagtail/measure?try.rake=43")
        one.fill("#rake", "47")
        one.press("#rake", "Tab")
        expect(one.locator("#said-rake")).to_contain_text("47.00")
        expect(one.locator("#numbers")).to_contain_text("→")
        one.reload()
        expect(one.locator("[id='try.rake']")).to_have_value("43")
        one.get_by_role("button", name="Keep it", exact=True).click()
        expect(one.locator("#rake")).to_have_value("43")
        expect(one.locator("[id='try.rake']")).to_have_value("")
        assert one.url.endswith("/wagtail/measure") and "rake = 43" in path.read_text()
        one.close()
