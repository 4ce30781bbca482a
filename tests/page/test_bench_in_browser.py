"""The station Bench on a phone whose server comes and goes."""

import pytest
from playwright.sync_api import expect

from coper.book.book import opened
from tests.page.served import Served
from tests.page.test_bench import SMALL

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}
CARD = "two/bench/arm/centre/start"
AGAIN_MS = 3000
"""After so long what could not be sent is sent again."""


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "two.toml"
    path.write_text(SMALL.format(units="mm"))
    return path


@pytest.fixture
def served(path):
    one = Served(path.parent)
    yield one
    one.close()


@pytest.fixture
def phone(browser):
    context = browser.new_context(viewport=PHONE, has_touch=True)
    yield context
    context.close()


def card(phone, served, query=""):
    """The card of the end, on a new tab."""
    page = phone.new_page()
    page.clock.install()
    if query:
        page.goto(served.address + query)
        page.wait_for_url("**/")
    page.goto(served.address + CARD)
    return page


def reading(page, clock, presses):
    """Take a clock in hand in the drawing, and press + so often; 0 where it touches."""
    page.locator(f"[id='dim-gap.{clock}'] text").first.tap()
    hand = page.locator(".reading.in-hand")
    expect(hand).to_have_attribute("id", f"gap.{clock}")
    expect(page.locator("#drawing .in-hand")).to_have_count(1)
    for _ in range(presses):
        hand.get_by_role("button", name="more at").tap()
    if not presses:
        hand.get_by_role("button", name="it touches at").tap()


def rounds(path):
    with opened(path.with_suffix(".book")) as book:
        return [{one.clock: one.gap for one in kept.readings.gaps} for kept in book.rounds()]


def test_three_rounds_by_the_buttons_are_kept_once_each_though_the_server_is_killed_in_between(
        phone, served, path):
    page = card(phone, served)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    assert page.evaluate(
        "Math.min(...Array.from(document.querySelectorAll('.drawing text'), (one) =>"
        "parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().a))") >= 16
    bar = page.locator(".reading.in-hand").bounding_box()
    assert bar["y"] + bar["height"] == PHONE["height"]
    for number, presses in ((1, (4, 0, 3)), (2, (2, 0, 1)), (3, (1, 0, 0))):
        page.evaluate("for (const one of document.querySelectorAll('.reading input')) {"
                      "one.value = ''; }")
        for clock, count in zip((0, 135, 225), presses, strict=True):
            reading(page, clock, count)
        if number == 2:
            served.close()
        page.get_by_role("button", name="Where to grind?").tap()
        if number == 2:
            expect(page.locator("#notice")).to_contain_text("Not kept yet")
            expect(page.locator("[data-unsent]")).to_be_visible()
            page.get_by_role("button", name="Where to grind?").tap()
            served.open()
            page.clock.fast_forward(AGAIN_MS)
        expect(page.locator(".rounds li")).to_have_count(number)
        expect(page.locator("[data-unsent]")).to_be_hidden()
        assert page.locator("#large").inner_text()
    assert rounds(path) == [{0: 0.2, 135: 0, 225: 0.15}, {0: 0.1, 135: 0, 225: 0.05},
                            {0: 0.05, 135: 0, 225: 0}]
    assert page.evaluate("localStorage.length") == 0


def test_what_was_typed_outlives_the_network_the_tab_and_the_server_and_is_then_sent_once(
        phone, served, path):
    page = card(phone, served)
    reading(page, 0, 2)
    page.locator(".reading.in-hand input").fill("0.37")
    page.reload()
    expect(page.locator("[name='gap.0']")).to_have_value("0.37")
    expect(page.locator("[data-unsent]")).to_be_visible()
    assert not path.with_suffix(".book").exists()
    reading(page, 135, 0)
    reading(page, 225, 1)
    served.close()
    page.get_by_role("button", name="Where to grind?").tap()
    expect(page.locator("#notice")).to_contain_text("Not kept yet")
    page.close()
    served.open()
    page = card(phone, served)
    expect(page.locator(".rounds li")).to_have_count(1)
    expect(page.locator("[data-unsent]")).to_be_hidden()
    page.reload()
    assert rounds(path) == [{0: 0.37, 135: 0, 225: 0.05}]
    page.locator("#steps button").first.tap()
    expect(page.locator("#steps button").first).to_have_attribute("aria-pressed", "true")
    page.locator("#steps button").first.tap()
    expect(page.locator("#steps button").first).to_have_attribute("aria-pressed", "false")


def test_a_new_key_after_a_restart_is_asked_for_and_what_was_typed_is_still_there(
        phone, served, path):
    served.close()
    served.open("first")
    page = card(phone, served, "?key=first")
    for clock, count in ((0, 1), (135, 0), (225, 2)):
        reading(page, clock, count)
    served.close()
    served.open("second")
    page.get_by_role("button", name="Where to grind?").tap()
    expect(page.locator("#notice")).to_contain_text("scan its code again. What you typed stays")
    expect(page.locator("[name='gap.225']")).to_have_value("0.10")
    page = card(phone, served, "?key=second")
    expect(page.locator("[name='gap.225']")).to_have_value("0.10")
    page.get_by_role("button", name="Where to grind?").tap()
    expect(page.locator(".rounds li")).to_have_count(1)
    assert rounds(path) == [{0: 0.05, 135: 0, 225: 0.1}]
