"""An order in inches, a job's or one with --units in: everything is written in inches first."""

import json
import re

import pytest

from coper.job.read import parse_job
from coper.units import order_unit
from coper.verbs import tolerance
from coper.verbs.job import job as ask_job
from tests.cli.run import run
from tests.cli.test_bends import JOB as HOOPS
from tests.drawing.readback import svg_paths, svg_texts

TUBES = "1.25 x .095", "1.5", "--angle", "62", "--offset", "1/8"
INCHES = (*TUBES, "--units", "in")
GAPS = "0=.012in,45=.003,90=.004,135=0,180=0.3mm,225=.02,270=.001,315=.01"

ORDERS = {
    "joint": ("joint", *INCHES, "--svg"),
    "fit": ("fit", *INCHES, "--cut", "square", "--limit", ".02", "--offset-error", ".01",
            "--picture"),
    "saw": ("saw", *INCHES, "--process", "tig", "--kit", "1-3/8,1-5/8", "--svg"),
    "regrind": ("regrind", *INCHES, "--process", "tig", "--gaps", GAPS, "--svg"),
    "tolerance": ("tolerance", *INCHES, "--picture"),
    "tracking": ("tracking", "--units", "in", "--head-diameter", "1-1/4", "--seat-diameter",
                 "1-1/8", "--head-to-seat", "22-1/2", "--seat-to-dropout", "16", "--hub", "5-1/8",
                 "--straight-edge", "2.2,2", "--stays", "16.1,16", "--rim-radius", "12",
                 "--dropout-thickness", "1/4", "--string", "1.1,1", "--width", "5.2", "--svg"),
}

SAID_IN_BRACKETS = re.compile(r"\d\.\d{3} in \(-?[\d.]+ mm\)")
"""What feelers read, in inches and then in mm."""
RATIO = re.compile(r"\S+ / \S+ in per in")
BARS = re.compile(r"^4 in, 100 mm (across|along): measure me$")


@pytest.fixture(scope="module")
def trailer(tmp_path_factory):
    """The file of the trailer in inches."""
    file = tmp_path_factory.mktemp("trailer") / "trailer.toml"
    run("new", "--like", "trailer", "--units", "in", str(file))
    return file


@pytest.fixture(scope="module")
def packet(trailer):
    """Its packet as SVG, and its record."""
    answer = ask_job(parse_job(trailer.read_text()))
    return answer.svg(), answer.record()


def lengths_mm(record):
    """Every number of a record that is no small whole one, as mm are printed."""
    match record:
        case dict():
            return {words for value in record.values() for words in lengths_mm(value)}
        case list():
            return {words for value in record for words in lengths_mm(value)}
        case float() if record > 5:
            return {f"{record:.2f}"}
    return set()


def mm_first(texts, record):
    """The texts with a length in mm that is not said in inches before."""
    known = lengths_mm(record)
    for text in texts:
        left = "" if BARS.match(text) else RATIO.sub("", SAID_IN_BRACKETS.sub("", text))
        bare = set(re.findall(r"(?<![\d.])\d+\.\d\d(?![\d.°]| links)", left))
        if re.search(r"\d ?mm\b", left) or re.search(r"\S mm$", left) or bare & known:
            yield text


def test_no_page_of_a_job_in_inches_says_a_length_in_mm_first(packet):
    pages, record = packet
    texts = [text for page in pages for text, _ in svg_texts(page)]
    assert list(mm_first(texts, record)) == []
    assert "1.05 x 0.113 in: 1 bar" in texts and "box 1.25 by 1.25 corner 0.125 x 0.083 in" in texts
    assert any("this bar is 24 in on the table" in text for text in texts)
    assert "length, in" in texts and "length, mm" not in texts


def test_the_check_finds_every_way_of_saying_mm_first():
    record = {"blank": 990.6, "tubes": [{"gap": 31.75}]}
    for text in ("990.60 mm", "gap 0.3 mm", "way round mm", "box 31.75 by 31.75", "A1:  990.60",
                 "31.75 mm (1-1/4 in)", "100 mm across: measure me"):
        assert list(mm_first([text], record)) == [text]
    said = ["39 in", "0.012 in (0.30 mm)", "8.544 in (8-35/64 in)", "mm", "31.75°"]
    assert list(mm_first(said, record)) == []


@pytest.mark.parametrize("verb", ["job", "layout"])
def test_no_line_about_a_job_in_inches_says_a_length_in_mm_first(verb, trailer):
    record = json.loads(run(verb, str(trailer), "--json")[1])
    status, out, _ = run(verb, str(trailer))
    assert status == 0 and list(mm_first(out.splitlines(), record)) == []


def test_no_line_about_bends_in_inches_says_a_length_in_mm_first(tmp_path):
    file = tmp_path / "hoops.toml"
    file.write_text(HOOPS.replace("[points]", "[shop]\nstretch = 0.125\n[points]"))
    record = json.loads(run("bends", str(file), "--json")[1])
    assert list(mm_first(run("bends", str(file))[1].splitlines(), record)) == []


@pytest.mark.parametrize("verb", ["bicycle", "clearance"])
def test_no_line_about_a_bicycle_in_inches_says_a_length_in_mm_first(verb, tmp_path):
    file = tmp_path / "bicycle.toml"
    run("new", "--like", "bicycle", "--units", "in", str(file))
    record = json.loads(run(verb, str(file), "--json")[1])
    out = run(verb, str(file))[1]
    assert list(mm_first(out.splitlines(), record)) == [] and " in" in out


@pytest.mark.parametrize("verb", ORDERS)
def test_no_text_of_an_order_with_units_in_says_a_length_in_mm_first(verb, tmp_path, monkeypatch):
    monkeypatch.setattr(tolerance, "JOINTS", 100)
    *words, written = ORDERS[verb]
    record = json.loads(run(*words, "--json")[1])
    status, out, err = run(*words, written, str(tmp_path / "page.svg"))
    assert status in (0, 1) and "coper:" not in err
    pages = [text for page in tmp_path.glob("*.svg") for text, _ in svg_texts(page.read_text())]
    assert pages and list(mm_first([*out.splitlines()[:-1], *pages], record)) == []


@pytest.mark.parametrize(("words", "said"), [
    (("1.25 x .7", "1.5"), "wall 0.7 in is too thick for 1.25 in; give a wall below 0.625 in"),
    (("1.25", "1.5"), "1.25 in has no wall; say its wall thickness, such as 1.25 x 0.035"),
    (("oval 1 by 2 x .05", "1.5"), "swap them: oval 2 by 1"),
    (("1 to 1 over 9 x .05", "1.5"), "write it as round: 1 x 0.050"),
])
def test_what_is_wrong_in_an_order_in_inches_is_said_in_inches(words, said):
    status, out, err = run("joint", *words, "--angle", "62", "--units", "in")
    assert (status, out) == (2, "") and said in err
    assert order_unit() == "mm"


def test_what_is_wrong_in_a_job_in_inches_is_said_in_inches(trailer, tmp_path):
    file = tmp_path / "wrong.toml"
    file.write_text(trailer.read_text().replace('"1 x 0.065"', '"1 x 0.6"'))
    assert "wall 0.6 in is too thick for 1 in" in run("job", str(file))[2]


def test_bare_numbers_are_in_the_unit_of_the_order_and_json_is_in_mm():
    written = [re.sub(r"(?<![-\w./])(\d+/\d+|[\d.]+)(?![\w/.])", r"\1in", word)
               if word not in ("62", "--angle") else word for word in TUBES]
    assert written[0] == "1.25in x .095in"
    assert run("joint", *INCHES, "--json") == run("joint", *written, "--json")
    assert json.loads(run("joint", *INCHES, "--json")[1])["joint"]["branch"]["diameter"] == 31.75
    assert run("joint", *TUBES, "--units=cm", "--json")[1].count('"diameter": 12.5') == 1


def test_a_sentence_in_a_record_is_in_mm_as_its_numbers_are(trailer, tmp_path):
    file = tmp_path / "short.toml"
    file.write_text(trailer.read_text().replace("front = [39,", "front = [38.2,"))
    out, record = run("job", str(file))[1], run("job", str(file), "--json")[1]
    assert "runs 0.425 in past" in out and "runs 10.8 mm past" in record
    assert not re.search(r"\d in\b", record)


def test_bare_numbers_of_the_options_on_a_job_are_in_its_unit(trailer):
    bare = run("layout", str(trailer), "--plane", "12-1/2", "--origin", "70,5", "--json")
    assert bare == run("layout", str(trailer), "--plane", "317.5mm", "--origin", "70in,5in",
                       "--json")
    assert "would be 1.5 in below the top of the table" in run(
        "layout", str(trailer), "--plane", "-1-1/2")[2]


def test_a_record_counts_the_sheets_that_are_printed(trailer, tmp_path):
    words = "layout", str(trailer), "--full-size", "--paper", "letter"
    count = json.loads(run(*words, "--json")[1])["sheets"]["count"]
    assert f"{count} sheets of letter" in run(*words)[1]


def test_a_plate_on_which_nothing_lands_has_its_outline_and_no_table(tmp_path):
    file = tmp_path / "plate.toml"
    file.write_text('units = "in"\n[tubes.step]\nshape = "plate 1/4 by 3"\n'
                    "start = { at = [0, 0, 0] }\nend = { at = [9, 0, 0] }\n")
    status, _, err = run("job", str(file), "--out", str(tmp_path / "out"))
    assert status == 0 and "coper:" not in err


def test_a_unit_that_is_none_is_refused_at_its_option():
    assert run("joint", *TUBES, "--units", "inch")[2] == (
        "coper: --units: 'inch' is not known; did you mean in?\n")


@pytest.mark.parametrize("verb", ["joint", "fit", "saw"])
def test_a_tube_under_4_mm_is_asked_about_and_the_order_goes_through(verb):
    question = ("The branch is only 1.25 mm across: if that is inches, give --units in, or write "
                "in after every number, such as 1.25in.")
    words = verb, "1.25 x .095", "1.5", "--angle", "62"
    status, out, _ = run(*words)
    assert status == 0 and f"! {question}" in out
    assert question in json.loads(run(*words, "--json")[1])["cautions"]
    assert "if that is inches" not in run(*words, "--units", "in")[1]
    assert "if that is inches" not in run(*words, "--units", "in", "--json")[1]
    assert "if that is inches" not in run(verb, "4.1 x .1", "6", "--angle", "62")[1]


def test_a_tube_under_4_mm_in_a_job_in_mm_is_asked_about(trailer, tmp_path):
    file = tmp_path / "mm.toml"
    file.write_text('[tubes.rail]\nshape = "1 x 0.065"\nstart = { at = [0, 0, 0] }\n'
                    "end = { at = [39, 0, 0] }\n")
    status, out, _ = run("job", str(file))
    assert status == 0 and (
        'The rail is only 1.00 mm across: if that is inches, give the job units = "in"' in out)
    assert "if that is inches" not in run("job", str(trailer))[1]


@pytest.mark.parametrize("kit", ["1in;2in", "1in 2in", "1in and 2in", '1"+2"'])
def test_saws_that_are_not_separated_by_commas_are_told_so(kit):
    status, _, err = run("saw", *TUBES, "--kit", kit)
    assert status == 2 and "saws are separated by commas, such as 1in,1-1/4in" in err


def test_a_feelers_inches_are_read_in_an_order_in_mm():
    tubes = "regrind", "28.6 x 0.9", "38.1", "--angle", "62", "--json", "--gaps"
    assert run(*tubes, "0=.012in,120=0,240=.02in") == run(*tubes, "0=0.3048,120=0,240=0.508")


def test_the_log_says_the_unit_of_its_gaps_and_its_command_reads_them(tmp_path):
    for words, unit in ((INCHES, "in"), (("28.6 x 0.9", "38.1", "--angle", "62"), "mm")):
        inches = unit == "in"
        run("saw", *words, "--svg", str(tmp_path / f"{unit}.svg"))
        texts = [text for page in tmp_path.glob(f"{unit}*.svg")
                 for text, _ in svg_texts(page.read_text())]
        heads = [text for text in texts if text in ("in", "mm")]  # over the columns of gaps
        assert heads and set(heads) == {unit}
        assert any("--units in" in text for text in texts) == inches


def test_every_page_in_inches_has_bars_of_4_in_beside_those_of_100_mm(packet):
    for page in packet[0]:
        paths = svg_paths(page)
        for way, axis in (("across", 0), ("along", 1)):
            bar, inches = paths[f"check-{way}"], paths[f"check-{way}-in"]
            assert abs(bar[1] - bar[0])[axis] == pytest.approx(100, abs=0.002)
            assert abs(inches[1] - inches[0])[axis] == pytest.approx(101.6, abs=0.002)
            assert inches[0] == pytest.approx(bar[0])


def test_a_page_in_mm_has_no_bar_in_inches(tmp_path):
    run("joint", "28.6 x 0.9", "38.1", "--angle", "62", "--svg", str(tmp_path / "mm.svg"))
    assert not any(name.endswith("-in") for page in tmp_path.glob("*.svg")
                   for name in svg_paths(page.read_text()))
