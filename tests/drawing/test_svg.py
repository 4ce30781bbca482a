"""The SVG, read back and measured."""

import pathlib
import re
from xml.etree import ElementTree

import numpy as np
import pytest

from coper.drawing.bounds import bounds, leaves
from coper.drawing.letters import CAP_EM, MARK, text_width
from coper.drawing.marks import CENTRE, CUT, LINE, THIN, Group, Hatch, Path, Text
from coper.drawing.page import Page
from coper.drawing.svg import Dress, numbers, svg_element, svg_files, svg_text
from coper.pages.compose import Block, compose
from tests.drawing.readback import svg_paths, svg_size, svg_texts
from tests.pages.specimens import length, rectangle, strip

TRUE_MM = 0.02  # what paper promises


def page_of(*marks):
    return Page("A", 210.0, 297.0, marks)


def test_the_page_has_its_size_in_mm():
    assert svg_size(svg_text(Page("A", 215.9, 279.4, ()))) == (215.9, 279.4)


def test_an_element_for_a_page_in_html_has_the_same_lines_and_no_size_and_style_of_its_own():
    page = page_of(Path(np.array(((0.0, 0.0), (10.0, 5.0))), THIN, name="line"))
    element = svg_element(page)
    assert element.startswith("<svg") and "<style" not in element and 'width="100%"' in element
    assert 'viewBox="0 0 210 297"' in element
    assert re.findall(r"<path[^>]*>", element) == re.findall(r"<path[^>]*>", svg_text(page))


def test_an_element_may_keep_its_size_and_have_ids_of_its_own_among_others():
    page = page_of(Path(np.array(((0.0, 0.0), (10.0, 5.0))), THIN, name="line"))
    element = svg_element(page, within="gap", scale=1.5)
    assert 'width="315mm"' in element and 'height="445.5mm"' in element
    assert 'viewBox="0 0 210 297"' in element and 'id="gap-line"' in element


def test_every_named_line_has_its_points_to_0_02_mm():
    (page,) = compose([Block("strip", strip(140.0, 90.0))], "a4", title="title")
    found = svg_paths(svg_text(page))
    for mark in leaves(page.marks):
        if isinstance(mark, Path) and mark.name:
            points = np.concatenate((mark.points, mark.points[: mark.closed]))
            np.testing.assert_allclose(found[mark.name], points, atol=TRUE_MM / 100)
    assert {"outline", "cut", "arrow", "check-across", "check-along"} <= set(found)


@pytest.mark.parametrize("bars", [(100.0, 100.0), (99.4, 100.2), (92.0, 108.0)])
def test_the_check_bars_are_100_mm_once_the_printer_has_stretched_them(bars):
    (page,) = compose([], "a4", bars, title="title")
    found = svg_paths(svg_text(page))
    for name, bar in zip(("check-across", "check-along"), bars, strict=True):
        assert found[name].shape == (2, 2)
        assert length(found[name]) * bar / 100 == pytest.approx(100.0, abs=TRUE_MM)


def test_words_stand_where_they_were_put_and_are_held_to_their_width():
    mark = Text((30.0, 40.0), "heel & <toe>", 3.5, "middle", turn=30.0, bold=True, name="words")
    ((words, element),) = svg_texts(svg_text(page_of(mark)))
    assert words == mark.words
    assert (element.attrib["x"], element.attrib["y"]) == ("30", "257")
    assert element.attrib["transform"] == "rotate(-30 30 257)"
    assert element.attrib["text-anchor"] == "middle"
    assert element.attrib["font-weight"] == "bold"
    assert float(element.attrib["font-size"]) == pytest.approx(3.5 / CAP_EM, abs=1e-4)
    width = text_width(mark.words, 3.5, bold=True)
    assert float(element.attrib["textLength"]) == pytest.approx(width, abs=1e-4)
    assert element.attrib["id"] == "words"


def test_pens_give_width_and_dashes_in_mm_and_only_what_is_filled_is_black():
    edge = rectangle(0.0, 0.0, 5.0, 5.0)
    text = svg_text(page_of(
        Path(edge, CENTRE, name="axis"), Path(edge, CUT, closed=True, fill=True, name="spot")
    ))
    by_id = {thing.attrib.get("id"): thing.attrib for thing in ElementTree.fromstring(text).iter()}
    assert by_id["axis"]["stroke-width"] == "0.25"
    assert by_id["axis"]["stroke-dasharray"] == "6,0.75,0.125,0.75"
    assert "fill" not in by_id["axis"]
    assert by_id["spot"]["fill"] == "black"
    assert "stroke-dasharray" not in by_id["spot"]


def test_a_name_used_twice_gets_a_number_and_stays_a_name_that_xml_allows():
    line = rectangle(0.0, 0.0, 5.0, 5.0)
    marks = [Path(line, THIN, name=name) for name in ("cut", "cut-2", "cut", "cut", "2 left/right")]
    text = svg_text(page_of(Group(tuple(marks), "cut")))
    ids = [thing.attrib["id"] for thing in ElementTree.fromstring(text).iter()
           if "id" in thing.attrib]
    assert ids == ["cut", "cut-2", "cut-2-2", "cut-3", "cut-4", "n2-left-right"]


def test_a_group_is_an_element_that_holds_its_marks():
    line = Path(rectangle(0.0, 0.0, 5.0, 5.0), THIN, name="inner")
    root = ElementTree.fromstring(svg_text(page_of(Group((line,), "outer"))))
    (group,) = (thing for thing in root.iter() if thing.attrib.get("id") == "outer")
    assert [thing.attrib["id"] for thing in group] == ["inner"]


def test_a_hatch_is_one_element_with_all_its_strokes():
    hatch = Hatch((rectangle(10.0, 10.0, 20.0, 20.5),), 1.0, 0.0)
    root = ElementTree.fromstring(svg_text(page_of(hatch)))
    (line,) = (thing.attrib["d"] for thing in root.iter() if "d" in thing.attrib)
    assert line.count("M") == 21
    assert line.startswith("M10,287 30,287 M10,286 ")


def test_numbers_are_rounded_and_never_minus_zero_or_in_powers_of_ten():
    assert numbers((0.1 + 0.2, -1e-9, 1e-4, 4e-5, 12.0, -123456.78906)) == [
        "0.3", "0", "0.0001", "0", "12", "-123456.7891"
    ]


@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf])
def test_a_number_that_is_not_finite_is_refused(value):
    with pytest.raises(ValueError, match="not finite"):
        numbers((1.0, value))
    with pytest.raises(ValueError, match="not finite"):
        svg_text(Page("A", value, 297.0, ()))


def test_the_same_page_gives_the_same_bytes():
    pages = [compose([Block("strip", strip(140.0, 90.0))], "a4", title="title") for _ in range(2)]
    assert svg_text(pages[0][0]) == svg_text(pages[1][0])


def test_page_a_gets_the_name_and_the_others_their_letter():
    pages = compose([Block("long", strip(300.0, 400.0))], "a4", title="title")
    files = dict(svg_files(pathlib.Path("out/left.stay.svg"), pages))
    assert [str(path) for path in files] == [
        "out/left.stay.svg", "out/left.stay-B.svg", "out/left.stay-C.svg", "out/left.stay-D.svg"
    ]
    assert [content.decode() for content in files.values()] == [svg_text(page) for page in pages]


def test_the_drawing_in_the_file_lies_on_the_page():
    (page,) = compose([Block("strip", strip(140.0, 90.0))], "a4", title="title")
    box = bounds(page.marks)
    for points in svg_paths(svg_text(page)).values():
        assert (points >= (box.left - 1e-3, box.bottom - 1e-3)).all()
        assert (points <= (box.right + 1e-3, box.top + 1e-3)).all()


def test_a_browser_is_given_the_size_of_the_page_and_no_margin():
    (page,) = compose([], "letter", title="title")
    style = re.search(r"<style[^>]*>(.*?)</style>", svg_text(page), re.DOTALL)[1]
    assert "@page { size: 215.9mm 279.4mm; margin: 0 }" in style


def test_an_svg_keeps_a_letter_that_the_face_lacks_but_none_that_no_file_may_hold():
    words = "管 Łódź \x00\t"
    ((read, _),) = svg_texts(svg_text(Page("A", 50.0, 50.0, (Text((5, 5), words, 3.5),))))
    assert read == f"管 Łódź {MARK}{MARK}"


def test_a_dressed_group_leads_on_and_has_its_kind_and_words_while_its_like_has_none():
    line = Path(np.array([[1.0, 1.0], [9.0, 9.0]]), LINE)
    page = Page("A", 10.0, 10.0, (Group((line,), "one"), Group((line,), "two")))
    root = ElementTree.fromstring(svg_element(page, {"one": Dress("clash", "/a%20b", "<rail>")}))
    (link,) = root.iter("{http://www.w3.org/2000/svg}a")
    assert link.get("{http://www.w3.org/1999/xlink}href") == "/a%20b"
    assert link.get("aria-label") == "<rail>"
    groups = {one.get("id"): one.get("class")
              for one in root.iter("{http://www.w3.org/2000/svg}g") if one.get("id")}
    assert groups == {"one": "clash", "two": None}
    assert link.find("{http://www.w3.org/2000/svg}g[@class='reach']") is not None
