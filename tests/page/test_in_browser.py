"""The page in a real browser."""

import pytest
from playwright.sync_api import expect

from coper.page.answers.stations import KEYS as STATIONS
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


def dragged(page, *places):
    """The mouse pressed at the first of some places, and let go at the last."""
    page.mouse.move(*places[0])
    page.mouse.down()
    for place in places[1:]:
        page.mouse.move(*place, steps=2)
    page.mouse.up()


def test_a_drag_turns_the_frame_and_leads_nowhere_and_a_click_then_goes_to_the_tube(page, address):
    page.route("**/tubes/*", lambda route: route.fulfill(body="here"))
    page.goto(f"{address}wagtail/tubes")
    tube, seen = page.locator("#tube-down-tube text"), page.locator("#view svg #seen")
    box = tube.bounding_box()
    x, y = box["x"] + 5, box["y"] + 5
    # a drag that ends on the link that it began on, before the turned picture has come
    page.route("**/view.svg*", lambda route: route.fulfill(body=""))
    dragged(page, (x, y), (x + 25, y + 15), (x, y))
    page.unroute("**/view.svg*")
    dragged(page, (x, y), (x + 20, y + 10), (x, y + 30))
    expect(page.locator("#view")).to_have_attribute("data-up", "15.0")
    expect(seen).not_to_contain_text("from the right")
    assert page.url.endswith("/wagtail/tubes")
    tube.click()
    page.wait_for_url("**/wagtail/tubes/down-tube")


def test_a_side_by_its_name_and_the_arrow_keys_turn_the_frame_without_the_page_anew(page, address):
    page.goto(f"{address}wagtail/tubes")
    seen = page.locator("#view svg #seen")
    page.click("#sides >> text=from above")
    expect(seen).to_contain_text("from above")
    assert page.url.endswith("/wagtail/tubes")
    page.locator("#view").press("ArrowUp")
    expect(seen).not_to_contain_text("from above")
    page.locator("#view").press("ArrowDown")
    expect(seen).to_contain_text("from above")
    page.evaluate("document.getElementById('view').dataset.turn += '?tube=top-tube'")
    page.locator("#view").press("ArrowLeft")
    expect(page.locator("#tube-top-tube")).to_have_class("in-hand")
    page.focus("#sides a")  # the tube stays in hand wherever the focus is
    expect(page.locator("#tube-top-tube")).to_have_class("in-hand")


SMALL = """() => {
  const seen = (one) => one.getClientRects().length > 0;
  const small = [];
  for (const one of document.querySelectorAll("main *, header *")) {
    if (!seen(one) || one.closest("svg")) continue;
    const own = Array.from(one.childNodes).some((node) => node.nodeType === 3 && node.data.trim());
    const size = parseFloat(getComputedStyle(one).fontSize);
    if (own && size < 16) small.push(`letters: ${one.outerHTML}`);
    if (!one.matches("a, button, input, select, summary, textarea")) continue;
    if (one.matches("p a, dd a, td a, .skip, .in-hand [id$=-clock]")) continue;
    const box = (one.closest("label") ?? one).getBoundingClientRect();
    if (box.height < 43.5 || box.width < 43.5) small.push(`target: ${one.outerHTML}`);
  }
  return small.map((text) => text.slice(0, 160));
}"""
"""What is too small on the page: letters, and targets but for links in a line (WCAG 2.2, 2.5.8),
and for the name of the reading in hand, which leads to where one is."""


INNER = ("measure/dropout", "tubes/top-tube", "tubes/chain-stay?kind=bent", "said",
         "table/full-size", "ends/top-tube/centre/start", "check/tracking", "check/made",
         "print?tick=all", "bench/top-tube/centre/start", "nowhere")
"""Pages of the demo behind its stations."""


def test_on_a_phone_no_page_scrolls_sideways_and_nothing_is_too_small(browser, address):
    one = browser.new_page(viewport=PHONE)
    for place in (*STATIONS, *INNER):
        one.goto(f"{address}wagtail/{place}")
        assert one.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], place
        assert one.evaluate(SMALL) == [], place
        if place in STATIONS:  # a head that is low, with the station in it where that is the last
            assert one.locator("header").bounding_box()["height"] < 120
            here = one.locator("header [aria-current]").bounding_box()
            assert here["x"] >= 0 and here["x"] + here["width"] <= PHONE["width"], place
    one.close()


FOCUS = """() => {
  const one = document.activeElement;
  return one.id || one.getAttribute("href") || one.textContent.trim();
}"""


def test_by_keyboard_alone_the_picture_is_passed_and_what_was_in_hand_stays_so(page, address):
    page.goto(f"{address}wagtail/tubes")
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUS) == "#work" and page.locator(".skip:focus").is_visible()
    page.keyboard.press("Enter")
    for _ in range(5):  # the sides it is seen from, and then past the picture
        page.keyboard.press("Tab")
    assert page.evaluate(FOCUS) == "#clashes"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUS) == "/wagtail/tubes/shell", "the first of the list"

    page.goto(f"{address}wagtail/table")
    page.focus("#grid-2 summary, #words summary >> nth=0")
    page.keyboard.press("Space")
    opened = page.locator("#words details[open]")
    expect(opened).to_have_count(1)
    page.fill("#shop-blocks", "3in, 1in")
    page.press("#shop-blocks", "Enter")
    undo = page.locator("#history form[action*=undo] button")
    expect(undo).to_be_enabled()
    expect(opened).to_have_count(1)
    undo.press("Enter")
    expect(page.locator("#shop-blocks")).to_have_value("3in, 2in, 1in, 1/2in, 1/8in")
    expect(undo).to_be_disabled()
    assert page.evaluate(FOCUS) == "history", "the focus stays where the button was"
    expect(opened).to_have_count(1)


def test_readings_are_answered_with_the_way_the_rear_end_is_out_in_words_and_in_the_picture(
        page, address):
    page.goto(f"{address}wagtail/check/tracking")
    page.fill("#straight-edge-left", "54.2")
    page.fill("#straight-edge-right", "47.9")
    page.press("#straight-edge-right", "Enter")
    expect(page.locator("#answer")).to_contain_text("the rear end stands 3.15 mm (1/8 in) to the "
                                                    "left")
    boxes = {name: page.locator(f"#{name}").bounding_box()
             for name in ("dropout-left", "true-left", "dropout-left-behind", "true-left-behind")}
    assert boxes["dropout-left"]["y"] < boxes["true-left"]["y"], "from above its left is up"
    assert boxes["dropout-left-behind"]["x"] < boxes["true-left-behind"]["x"]
    page.fill("#straight-edge-right", "x")
    page.press("#straight-edge-right", "Enter")
    page.wait_for_selector("#said-straight-edge-right .wrong")
    assert page.input_value("#straight-edge-left") == "54.2"


LEAN = """\
[points]
knee = { along = "post", height = 100 }
foot = [120, 0, 20]

[tubes.post]
shape = "25 x 2"
start = { at = [0, 0, 0] }
end = { at = [60, 0, 400] }
"""


def height(dot):
    """How far down in its picture a dot begins, mm."""
    return float(dot.get_attribute("d").removeprefix("M").split()[0].split(",")[1])


def test_a_point_goes_up_its_tube_as_its_height_is_typed_and_another_dot_takes_the_focus(
        browser, address, path):
    job = path.with_name("lean.toml")
    job.write_text(LEAN)
    one = browser.new_page()
    one.goto(f"{address}lean/measure/knee")
    dot = one.locator("#view #point-knee path").first
    low = height(dot)
    one.fill("#h", "300")
    one.press("#h", "Tab")
    expect(one.locator("#where")).to_contain_text("300.00 mm (11-13/16 in) above")
    expect(one.locator("#view #point-knee")).to_have_class("in-hand")
    assert height(dot) < low - 10 and "height = 300" in job.read_text()
    assert one.evaluate("document.activeElement.name") == "h_way"
    one.check("#way-from")
    expect(one.locator("#dz")).to_be_visible()
    expect(one.locator("#dz")).to_have_value("280")
    expect(one.locator("#h")).to_be_hidden()
    one.locator("#view #point-foot").click()
    one.wait_for_url("**/lean/measure/foot*")
    assert one.evaluate("document.activeElement.id") == "hand"
    expect(one.locator("#view #point-foot")).to_have_class("in-hand")
    one.locator("#add summary").click()
    for key, words in (("name", "lug"), ("x", "1"), ("y", "abc"), ("z", "3")):
        one.fill(f"#new-{key}", words)
    one.click("#add button")
    expect(one.locator("#said-new-y")).to_contain_text("no number in this length")
    one.fill("#new-y", "2")
    one.click("#add button")
    one.wait_for_url("**/lean/measure/lug")
    one.close()


POSTS = """\
units = "mm"
[tubes.post]
shape = "40 x 3"
start = { at = [0, 0, 0] }
end = { at = [0, 0, 300] }
"""


def test_a_tube_is_added_seated_by_a_click_and_a_clash_is_mended_and_comes_back(page, path):
    file = path.parent / "posts.toml"
    file.write_text(POSTS)
    page.goto(page.url.replace("wagtail/measure", "posts/tubes"))
    for field, typed in (("name", "rail"), ("size.", "25"), ("size.x", "2"),
                         ("start.at", "0, 0, 200"), ("end.at", "400, 0, 200")):
        page.fill(f"[id='{field}']", typed)
    page.click("button:visible:has-text('Add this tube')")
    expect(page.locator("h1")).to_have_text("rail")
    expect(page.locator("#clashes")).to_contain_text("post and rail run through each other")
    seat = page.locator("[id='start.on.post']")
    seat.focus()
    page.keyboard.press("Space")
    expect(page.locator("#clashes")).to_be_empty()
    expect(page.locator("#comes-to")).to_contain_text("on post at 90°")
    assert page.evaluate("document.activeElement.id") == "start.on.post"
    page.click("#history form[action$=undo] button")
    expect(seat).not_to_be_checked()
    page.click("text=Seat the start of rail on post")
    expect(seat).to_be_checked()
    assert 'on = ["post"]' in file.read_text()
    page.click("#history form[action$=undo] button")
    expect(page.locator("#clashes")).to_contain_text("run through each other")
    assert page.locator("#mends button").count() == 1


def test_other_fields_take_the_place_of_those_of_another_kind_and_the_tube_stays_heavy(page, path):
    file = path.parent / "posts.toml"
    file.write_text(POSTS)
    page.goto(page.url.replace("wagtail/measure", "posts/tubes/post"))
    page.fill("#shape", "box 40 by 20 x 2")
    page.press("#shape", "Tab")
    expect(page.locator("[id='size.box']")).to_have_value("40")
    assert page.locator("[id='size.']").count() == 0
    page.fill("[id='size.by']", "30")
    page.press("[id='size.by']", "Tab")
    expect(page.locator("#shape")).to_have_value("box 40 by 30 x 2")
    assert page.evaluate("document.activeElement.id") == "size.corner"
    assert page.locator("#view .in-hand").count() >= 1


def test_what_was_typed_before_the_script_came_is_written_once_it_is_there(browser, address, path):
    one = browser.new_page()
    late = []

    def hold(route):
        late.append(route)

    one.route("**/page.js", hold)
    one.goto(f"{address}wagtail/measure", wait_until="commit")
    one.fill("#rake", "50")
    one.focus("#drop")
    late[0].continue_()
    expect(one.locator("#said-rake")).to_contain_text("50.00")
    assert "rake = 50" in path.read_text()
    one.close()
