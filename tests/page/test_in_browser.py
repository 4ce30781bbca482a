"""The page in a real browser."""

import threading

import pytest
import uvicorn
from playwright.sync_api import expect

from coper.page.answers.stations import KEYS as STATIONS
from coper.page.serve import opened
from tests.page.pages import wagtail

pytestmark = pytest.mark.browser
REFUSED = "the server responded with a status of 422"
"""What the browser itself says of a value that cannot be used."""
PHONE = {"width": 390, "height": 844}


@pytest.fixture
def path(tmp_path):
    return wagtail(tmp_path)


@pytest.fixture
def address(path):
    page = opened(str(path.parent), None, False, False)
    server = uvicorn.Server(uvicorn.Config(page.app, log_config=None, lifespan="off", ws="none"))
    serving = threading.Thread(target=server.run, args=([page.listening],))
    serving.start()
    yield page.address
    server.should_exit = True
    serving.join(20)


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


SMALL = """() => {
  const seen = (one) => one.getClientRects().length > 0;
  const small = [];
  for (const one of document.querySelectorAll("main *, header *")) {
    if (!seen(one) || one.closest("svg")) continue;
    const own = Array.from(one.childNodes).some((node) => node.nodeType === 3 && node.data.trim());
    const size = parseFloat(getComputedStyle(one).fontSize);
    if (own && size < 16) small.push(`letters: ${one.outerHTML}`);
    if (!one.matches("a, button, input, select, summary, textarea")) continue;
    if (one.matches("p a, dd a, td a, .skip")) continue;
    const box = (one.closest("label") ?? one).getBoundingClientRect();
    if (box.height < 43.5 || box.width < 43.5) small.push(`target: ${one.outerHTML}`);
  }
  return small.map((text) => text.slice(0, 160));
}"""
"""What is too small on the page: letters, and targets but for links in a line (WCAG 2.2, 2.5.8)."""


@pytest.mark.parametrize("key", STATIONS)
def test_on_a_phone_no_page_scrolls_sideways_and_nothing_is_too_small(browser, address, key):
    one = browser.new_page(viewport=PHONE)
    one.goto(f"{address}wagtail/{key}")
    assert one.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert one.evaluate(SMALL) == []
    one.close()
