"""A file that an editor breaks while a card of it is open, in a real browser."""

import pytest
from playwright.sync_api import expect

from tests.page.pages import served
from tests.page.places import PAIR

pytestmark = pytest.mark.browser


def looked_at_again(page):
    """What coming back to the window does."""
    page.evaluate("window.dispatchEvent(new Event('focus'))")


def test_a_card_says_what_an_editor_broke_and_is_there_again_once_it_is_mended(browser, tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(PAIR)
    with served(tmp_path) as address:
        page = browser.new_page()
        page.goto(f"{address}job/bench/branch/centre/start")
        page.locator("[data-by='0.05']").first.click()
        typed = page.locator(".reading input").first
        path.write_text(PAIR.replace("28.6x1", "28.6xx1"))
        looked_at_again(page)
        expect(page.locator("#notice")).to_contain_text("28.6xx1: unknown word")
        path.write_text(PAIR + "# mended\n")
        looked_at_again(page)
        expect(page.locator("#notice")).to_contain_text("this is how it is now")
        expect(page.locator("#notice")).not_to_contain_text("28.6xx1: unknown word")
        expect(typed).to_have_value("0.05")
        page.close()
