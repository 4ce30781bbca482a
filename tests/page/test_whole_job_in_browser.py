"""A whole job as somebody does it who knows no job file: by clicks and typed words alone."""

import pypdfium2
import pytest
from playwright.sync_api import expect

from coper.job.read import parse_job
from coper.job.shaped import shape_job
from tests.cli.run import run
from tests.page.pages import served, wagtail

pytestmark = pytest.mark.browser

CLICK_S, TYPED_S = 3, 4
"""What a person takes to find and press a button, and to find a field, read it and fill it in."""

MOST_S = 300


class Hand:
    """Somebody at the page; every click and every field that they fill in is counted."""

    def __init__(self, page):
        self.page = page
        self.clicks = self.typed = 0

    def click(self, words, role="button"):
        """Click what has these words."""
        self.clicks += 1
        self.page.get_by_role(role, name=words, exact=True).first.click()

    def choose(self, words):
        """Choose one of several."""
        self.clicks += 1
        self.page.get_by_label(words, exact=True).check()

    def fill(self, **typed):
        """Fill in fields by what stands above them, without spaces."""
        for label, words in typed.items():
            self.typed += 1
            self.page.get_by_label(label.replace("_", " "), exact=True).fill(words)

    def saved(self, folder):
        """Make the PDF, and the words of each of its pages."""
        with self.page.expect_download() as saved:
            self.click("Make the PDF")
        path = folder / "saved.pdf"
        saved.value.save_as(path)
        document = pypdfium2.PdfDocument(path)
        words = [page.get_textpage().get_text_range() for page in document]
        document.close()
        return path.read_bytes(), words

    @property
    def seconds(self):
        """So long a person takes for all of it."""
        return CLICK_S * self.clicks + TYPED_S * self.typed


@pytest.fixture
def hand(browser, tmp_path):
    with served(tmp_path) as address:
        page = browser.new_page()
        page.goto(address)
        yield Hand(page)
        page.close()


def test_from_an_empty_folder_to_the_packet_of_two_tubes_in_five_minutes_and_sixty_clicks(
        hand, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    hand.fill(Its_name="Stand")
    hand.choose("another frame")
    hand.click("Begin")
    hand.click("Next: Tubes", "link")
    hand.click("box")
    hand.fill(its_name="rail", one_side="60", other_side="40", its_start_point="0, 0, 0",
              its_end_point="500, 0, 0")
    hand.page.get_by_label("wall, as").fill("2")
    hand.click("Add this tube")
    hand.click("Another tube", "link")
    hand.fill(its_name="post", outside_diameter="40", its_start_point="250 0 0",
              its_end_point="250 0 400")
    hand.page.get_by_label("wall, as").fill("3")
    hand.typed += 2
    hand.click("Add this tube")
    hand.click("Seat the start of post on rail")
    expect(hand.page.locator("#clashes")).to_be_empty()
    for station in ("Ends", "Table", "Check", "Print"):
        hand.click(f"Next: {station}", "link")
    bytes_, words = hand.saved(tmp_path)
    assert run("job", "stand.toml", "--out", "out")[0] == 0
    assert bytes_ == (tmp_path / "out" / "stand.pdf").read_bytes()
    assert "Stand" in words[0] and any("post" in page and "rail" in page for page in words)
    assert any(page.startswith("post") or "\npost" in page for page in words)
    job = shape_job(parse_job((tmp_path / "stand.toml").read_text()))
    assert [round(piece.blank) for piece in job.pieces] == [500, 380]
    assert not job.clashes


def test_the_demo_is_measured_added_to_broken_mended_undone_and_printed_in_part(hand, tmp_path):
    path, page = wagtail(tmp_path), hand.page
    page.reload()
    first = path.read_text()
    page.locator(".shelf a").click()
    page.fill("#rake", "50")
    page.press("#rake", "Tab")
    expect(page.locator("#said-rake")).to_contain_text("50.00")
    page.fill("#rake", "fifty")
    page.press("#rake", "Tab")
    expect(page.locator("#said-rake .wrong")).to_contain_text("fifty")
    page.fill("#rake", "50")
    page.press("#rake", "Tab")
    expect(page.locator("#said-rake .wrong")).to_have_count(0)
    assert path.read_text() == first.replace("rake = 45", "rake = 50") != first
    hand.click("Tubes", "link")
    hand.fill(its_name="brace", outside_diameter="16")
    page.get_by_label("wall, as").fill("0.9")
    page.get_by_label("or pick its start point").select_option("top-rear")
    page.get_by_label("or pick its end point").select_option("down-front")
    hand.click("Add this tube")
    expect(page.locator("h1")).to_have_text("brace")
    expect(page.locator("#clashes .wrong").first).to_contain_text("run through each other")
    broken = page.locator("#clashes .wrong").count()
    hand.click("Seat the start of brace on seat-tube")
    expect(page.locator("#clashes .wrong")).not_to_have_count(broken)
    assert 'on = ["seat-tube"]' in path.read_text().partition("[tubes.brace]")[2]
    hand.click("Undo")
    expect(page.locator("#clashes .wrong")).to_have_count(broken)
    hand.click("Undo")
    expect(page.locator("#wrong")).to_contain_text("no tube of this name now")
    assert path.read_text() == first.replace("rake = 45", "rake = 50")
    hand.click("Print", "link")
    hand.click("Choose sheets")
    hand.click("Tick none", "link")
    page.get_by_label("Cut list").check()
    _, words = hand.saved(tmp_path)
    assert len(words) == 2 and words[0].startswith("Cut list")
    assert "seat-tube" in " ".join(words) and "brace" not in " ".join(words)
