"""How the page looks: contrast, targets, letters, and nothing from another place."""

import re
from pathlib import Path

import pytest

from coper.page.answers.stations import KEYS
from tests.page.pages import client, wagtail

PAGE = Path(__file__).parents[2] / "coper" / "page"
CSS = (PAGE / "static" / "page.css").read_text()
SCRIPT = (PAGE / "static" / "page.js").read_text()
PARTS = {path.name: path.read_text() for path in (PAGE / "parts").iterdir()}


def colours(block):
    return dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", block))


LIGHT, DARK = (colours(block.split("@media print")[0])
               for block in CSS.split("@media (prefers-color-scheme: dark)")[:2])


def luminance(colour):
    """Relative luminance (WCAG 2.2)."""
    parts = [int(colour[at:at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
                        for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_worked_out_as_wcag_has_it():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["ground", "paper"])
def test_letters_have_the_contrast_of_aa_and_the_edges_of_fields_too(scheme, ground):
    assert len(scheme) == 8
    for name in ("ink", "quiet", "wrong", "asked", "link"):
        assert contrast(scheme[name], scheme[ground]) >= 4.5, name
    assert contrast(scheme["line"], scheme[ground]) >= 3


@pytest.mark.parametrize("ground", ["ground", "paper"])
def test_at_the_bench_letters_and_lines_can_be_read_in_sunlight(ground):
    lines = re.search(r"\.at-bench \{ --line: var\(--(\w+)\)", CSS)[1]
    for name in ("ink", "quiet", "wrong", "asked", "link", lines):
        assert contrast(LIGHT[name], LIGHT[ground]) >= 7, name
        assert contrast(DARK[name], DARK[ground]) >= 7, f"{name}, dark"


def test_printed_the_page_is_black_on_white_and_what_leads_on_is_left_out():
    block = CSS.split("@media print {")[1]
    printed = colours(block)
    assert set(printed) == set(LIGHT) and printed["ground"] == printed["paper"] == "#ffffff"
    assert printed["ink"] == printed["quiet"] == printed["link"] == "#000000"
    assert all(contrast(printed[name], "#ffffff") >= 4.5 for name in ("line", "wrong", "asked"))
    assert re.search(r"header nav, \.history[^}]*button[^}]*display: none", block)


def test_targets_are_44_px_and_no_letters_are_below_16_px():
    for rule in ("nav a {", "button, .button {", "input:not([type=radio])"):
        block = CSS[CSS.index(rule):]
        assert "min-height: 44px" in block[:block.index("}")], rule
    assert "font: 100%" in CSS
    sizes = re.findall(r"font-size: ([\d.]+)rem", CSS)
    assert sizes and all(float(size) >= 1 for size in sizes)


def test_a_narrow_screen_is_as_wide_as_the_page():
    wide = re.findall(r"min-width: ([\d.]+rem|[\d.]+px)", re.sub(r"@media[^{]*", "", CSS))
    assert set(wide) == {"44px", "56px", "44rem"}  # of buttons, and of a drawing in its scroller
    assert re.search(r"\.drawing \{[^}]*overflow-x: auto", CSS)
    assert re.search(r"\.wide \{[^}]*overflow-x: auto", CSS)


def test_the_script_is_at_most_300_lines_and_asks_no_other_place():
    assert len(SCRIPT.splitlines()) <= 300
    assert "http" not in SCRIPT and "import" not in SCRIPT and "eval" not in SCRIPT
    assert "innerHTML" not in SCRIPT


@pytest.mark.parametrize("name", PARTS)
def test_no_template_has_script_or_style_of_its_own_or_leaves_markup_unescaped(name):
    text = PARTS[name]
    assert not re.search(r"<style|\sstyle=|\son\w+=|https?://|javascript:", text)
    assert all('src="/-/' in tag for tag in re.findall(r"<script[^>]*>", text))
    unescaped = set(re.findall(r"{{ ([^}]*\|safe) }}", text))
    pictures = r"(\w+\.)+(picture|edge)\|safe"  # of svg_element, which escapes what it is given
    assert all(re.fullmatch(pictures, one) for one in unescaped)


def test_every_page_of_a_job_names_the_seven_stations_and_where_one_is(tmp_path):
    wagtail(tmp_path)
    one = client(tmp_path)
    for key in KEYS:
        text = one.get(f"/wagtail/{key}").text
        stations = text.split("<nav")[1].split("</nav>")[0]
        assert re.findall(r'<a href="/wagtail/(\w+)"', stations) == list(KEYS)
        assert re.search(rf'href="/wagtail/{key}" aria-current="page"', text)
        assert stations.count("aria-current") == 1 and "<h1>" in text and "<main" in text


def test_the_icon_the_style_and_the_script_are_served_as_what_they_are(tmp_path):
    one = client(tmp_path)
    for name, kind in (("page.css", "text/css"), ("page.js", "text/javascript"),
                       ("mark.svg", "image/svg+xml")):
        assert one.get(f"/-/{name}").headers["Content-Type"].startswith(kind)
    assert one.get("/-/site.py").status_code == 404
