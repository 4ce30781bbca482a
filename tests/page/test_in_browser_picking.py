"""Points picked from the picture in a real browser."""

import pytest
from playwright.sync_api import expect

from tests.page.pages import served
from tests.page.test_picking import JOB

pytestmark = pytest.mark.browser


def test_what_is_typed_of_a_new_tube_stays_while_its_points_are_picked(browser, tmp_path):
    path, said = tmp_path / "posts.toml", []
    path.write_text(JOB)
    with served(tmp_path) as address:
        page = browser.new_page()
        page.on("console", lambda message: said.append(message.text))
        page.on("pageerror", lambda error: said.append(str(error)))
        page.goto(f"{address}posts/tubes")
        page.fill("#name", "brace")
        for name, which in (("foot", "start"), ("knee", "end")):
            page.locator(f"#point-{name} path").first.click()
            expect(page.locator("#pick h2")).to_have_text(name)
            assert page.evaluate("document.activeElement.id") == "picked"
            page.get_by_text(f"Make it the {which} of").click()
            expect(page.locator("#pick")).to_contain_text("✓")
        page.fill("[id='size.']", "20")
        page.fill("[id='size.x']", "2")
        page.get_by_text("Add this tube").click()
        page.wait_for_url("**/tubes/brace")
        page.close()
    assert '"20 x 2"\nstart = { at = "foot" }\nend = { at = "knee" }' in path.read_text()
    assert said == []
