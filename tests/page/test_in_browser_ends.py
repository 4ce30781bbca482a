"""An end on the page in a real browser, on a phone."""

import pytest
from playwright.sync_api import expect

from tests.page.pages import served
from tests.page.test_ends import ARM, JOB

pytestmark = pytest.mark.browser
PHONE = {"width": 390, "height": 844}


def test_another_cut_swaps_the_gap_the_saws_follow_and_a_drawing_scrolls_in_its_box(
        browser, tmp_path):
    path = tmp_path / "some.toml"
    path.write_text(JOB.format(units="mm"))
    with served(tmp_path) as address:
        one = browser.new_page(viewport=PHONE)
        one.goto(f"{address.rstrip('/')}{ARM}?saw=1-3/4in")
        expect(one.locator("#saws tr")).to_have_count(4)
        expect(one.locator("#saws tr[class=chosen]")).to_contain_text("44.45")
        one.check("#cut-square")
        expect(one.locator("#gap")).to_contain_text("By its template, square")
        expect(one.locator("#saws tr[class=chosen]")).to_contain_text("44.45")
        assert one.evaluate("document.activeElement.id") == "cut-square"
        assert 'cut = "square" }  # as' in path.read_text()
        one.click("#history form[action*=undo] button")
        expect(one.locator("#cut-bevelled")).to_be_checked()
        assert one.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
        box = one.locator("#gap-2")
        assert box.evaluate("one => one.scrollWidth > one.clientWidth")
        one.close()
