"""The page in a real browser."""

import pytest
from playwright.sync_api import expect

from tests.page.pages import served, wagtail

pytestmark = pytest.mark.browser
REFUSED = "the server responded with a status of 422"
"""What the browser itself says of a value that cannot be used."""
PHONE = {"width": 390, "height": 844}


@pytest.fixture
def path(tmp_path):
    return wagtail(tmp_path)


@pytest.fixture
def address(path):
    with served(path.parent) as found:
        yield found


@pytest.fixture
def page(browser, address):
    one = browser.new_page()
    said = []
    one.on("console", lambda message: said.append(message.text)
           if REFUSED not in message.text else None)
    one.on("pageerror", lambda error: said.append(str(error)))
    one.goto(f"{address}wagtail/measure")
    yield one
    one.close()
    assert said == []


def test_a_changed_number_is_said_back_and_the_measures_follow_while_the_focus_stays(page, path):
    trail = page.locator("#numbers").inner_text()
    page.fill("#rake", "50")
    page.press("#rake", "Tab")
    expect(page.locator("#said-rake")).to_contain_text("50.00")
    assert page.locator("#numbers").inner_text() != trail
    assert page.evaluate("document.activeElement.id") == "lower_stack"
    assert "rake = 50" in path.read_text()


def test_the_field_in_hand_is_heavy_in_the_drawing_and_its_line_leads_to_it(page):
    page.focus("#reach")
    assert "in-hand" in page.get_attribute("#dim-reach", "class")
    page.locator("#dim-stack text").click()
    assert page.evaluate("document.activeElement.id") == "stack"


def test_what_cannot_be_used_stays_typed_with_its_fault_and_undo_brings_the_file_back(page, path):
    before = path.read_text()
    page.fill("#drop", "60")
    page.press("#drop", "Enter")
    page.wait_for_selector("#history form[action$=undo] button:not([disabled])")
    page.fill("#rake", "abc")
    page.press("#rake", "Tab")
    page.wait_for_selector("#said-rake .wrong")
    assert page.input_value("#rake") == "abc" and page.get_attribute("#rake", "aria-invalid")
    page.click("#history form[action$=undo] button")
    expect(page.locator("#drop")).to_have_value("58")
    assert path.read_text() == before


@pytest.mark.parametrize("key", ["measure", "tubes", "table", "check", "print", "bench"])
def test_on_a_phone_no_page_scrolls_sideways(browser, address, key):
    one = browser.new_page(viewport=PHONE)
    one.goto(f"{address}wagtail/{key}")
    assert one.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    one.close()
