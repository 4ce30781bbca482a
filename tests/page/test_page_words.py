"""What coper says of the file, as the page says it; and what no page says anywhere."""

import re
from html import unescape

import pytest

from coper.errors import CoperError
from coper.job.read import parse_job
from coper.page.answers.page_words import page_words
from coper.page.answers.stations import KEYS, STATIONS, after
from tests.page.pages import DEMO, OWN, client, wagtail

POST = """\
units = "mm"
[tubes.post]
shape = "40 x 3"
start = { at = [0, 0, 0] }
end = { at = [0, 0, 300] }
"""


def said(words):
    """A sentence on the page, with [ ] round what leads on."""
    return "".join(f"[{one.words}]" if one.to else one.words for one in page_words(words))


def faults(text):
    """What coper says of a job that does not load."""
    with pytest.raises(CoperError) as found:
        parse_job(text)
    return str(found.value).splitlines()


@pytest.mark.parametrize(("old", "new", "sentence"), [
    ("at = [0, 0, 300]", 'at = "top"', "[post], end, its point: 'top' is not known; pick another, "
     "type three numbers, or first add it as a point at [Measure]"),
    ("at = [0, 0, 300]", 'at = "axle"', "[post], end, its point: the bicycle's numbers do not give "
     "axle; give drop, chain stay at [Measure], or add axle as a point, at [Measure]"),
    ("300] }", '300], on = ["rail"] }', "[post], end, what it seats on: 'rail' is not known; "
     "give that tube too, at [Tubes]"),
    ("300] }", '300], cut = "square" }', "[post], end, cut: the end seats on nothing and is cut "
     "in one plane; say what it seats on, or choose bevelled"),
    ("300] }", "300], twin = true }", "[post], end, twin: the tube has no twin; tick "
     "that it has a twin, or choose another tube"),
    ("300] }", "300] }\ncorners = [[0, 0, 9]]", "[post], bend: missing; give it, such as 4-1/2in"),
    ("[tubes", '[points]\na_b = { along = "post", by = 9, gap = 1 }\n[tubes',
     "[a_b]: clear of what"),
    ("[tubes", "[drive]\nring = 4\n[tubes", "[ring]: 4 "),
    ("[tubes", "[bicycle]\ndrop = 60\n[tubes", "[chain stay]: missing; measure from the "
     "bracket's centre to the rear axle's, or give axle back, the level distance"),
    ("[tubes", "[table]\norigin = 4\n[tubes", "[table, origin]: "),
    ("[tubes", "[shop]\nroll = 3\n[tubes", "[roll]: "),
])
def test_a_fault_of_a_job_leads_to_its_field_and_its_cure_to_a_station(old, new, sentence):
    assert any(said(words).startswith(sentence) for words in faults(POST.replace(old, new))), [
        said(words) for words in faults(POST.replace(old, new))]


@pytest.mark.parametrize(("words", "there"), [
    ("a and b run through each other, 8.00 mm deep at [20, 50.5, -1]: let one seat on the other "
     "(on = ...), or move one.", "a and b run through each other, 8.00 mm deep at 20, 50.5, -1: "
     "let one seat on the other, or move one."),
    ("No stacks: list the shop's set-up blocks in [shop], as blocks.",
     "No stacks: give the shop's set-up blocks at [Table]."),
    ("head_tube and Measure have no key; a 'chain_stay' has one",
     "head tube and Measure have no key; a 'chain_stay' has one"),
    ("head_tube stands", "head_tube stands"),
    ("shell: it is needed by tubes.seat-tube.start.on, points.lug.along, tubes.\"a b\".end.at[0]; "
     "change that first", "shell: it is needed by the start of seat-tube, lug, the end of a b; "
     "change that first"),
    ("1 numbers; write how far from both: [900, 300]", "1 numbers; write how far from both: 900, "
     "300"),
    ("'20' is not a table; write { back = …, out = … }", "'20' alone is not enough; write back … "
     "out …"),
    ('x is no tyre; write it, such as "47-507"', "x is no tyre; write it, such as 47-507"),
    ("[1]: x: no number in it; write one", "no. 2: x: no number in it; write one"),
])
def test_other_sentences_are_said_as_the_page_has_it_and_names_stay(words, there):
    assert said(words) == there


def test_a_place_has_the_address_of_its_field_whatever_the_name():
    one, *_ = page_words('tubes."a / <b>".end.at: no point; pick one')
    assert (one.words, one.to) == ("a / <b>", ("tubes", "a / <b>"))
    one, *_ = page_words("drive.crank: 9 mm; give its length")
    assert (one.words, one.to, one.at) == ("crank", ("check",), "drive-crank")


FILE_WORDS = re.compile(
    r"\w+_\w+|\[\w+\]|\w+ = |\bTOML\b|\bJSON\b|\bkeys?\b|\bforms?\b|\btold\b|\breckon|\bcoper \w+|"
    r"--\w|'\w+'")
"""What somebody at the bench has no use for."""

ALLOWED = ("arrow keys", "coper says", "z = ")


def spoken(text):
    """All that is read on a page: its words, and those for readers of screens."""
    labels = re.findall(r'aria-label="([^"]*)"', text)
    bare = re.sub(r"<head>.*?</head>|<svg.*?</svg>|<[^>]*>", " ", text, flags=re.DOTALL)
    words = " ".join(unescape(" ".join([bare, *labels])).split())
    for one in ALLOWED:
        words = words.replace(one, "")
    return words


@pytest.fixture(scope="module")
def jobs(tmp_path_factory):
    folder = tmp_path_factory.mktemp("jobs")
    wagtail(folder)
    (folder / "dipper.toml").write_text((DEMO / "dipper.toml").read_text())
    (folder / "post.toml").write_text(POST)
    (folder / "none.toml").write_text('title = "None"\n\n[tubes]\n')
    one = client(folder)
    one.post("/-/begin", headers=OWN, data={"title": "new", "like": "rear-end", "units": "in",
                                            "paper": "letter", "saws": ""})
    return one


@pytest.mark.parametrize("place", [
    *KEYS, "check/tracking", "check/made", "said"])
def test_no_page_speaks_of_files_and_every_station_leads_to_the_next(jobs, place):
    for name in ("dipper", "post", "none", "new"):
        page = jobs.get(f"/{name}/{place}")
        assert page.status_code == 200
        assert FILE_WORDS.findall(spoken(page.text)) == [], name
        station = STATIONS[KEYS.index(place)] if place in KEYS else None
        if station is not None and (following := after(station)):
            assert f'rel="next" href="/{name}/{following.key}">Next: {following.name}' in page.text


def test_every_way_on_a_page_leads_somewhere_whatever_the_names_are(tmp_path):
    (tmp_path / "odd.toml").write_text(POST.replace("tubes.post", 'tubes."a/b? <i>#%"') + """
[points]
"p/q & r" = [1, 2, 3]
""")
    one = client(tmp_path)
    for place in ("tubes", "measure", "ends"):
        ways = set(re.findall(r'href="(/odd/[^"#]*)', one.get(f"/odd/{place}").text))
        assert len(ways) > len(KEYS)
        assert {way: one.get(unescape(way)).status_code for way in ways} == dict.fromkeys(ways, 200)


def test_the_last_station_leads_to_no_other(jobs):
    assert 'rel="next"' not in jobs.get("/post/bench").text


def test_a_tube_in_hand_and_an_end_speak_of_no_file(jobs):
    for place in ("post/tubes/post", "new/tubes/chain-stay", "new/ends/chain-stay/left/start",
                  "new/bench/chain-stay/left/start", "new/measure/lug"):
        assert FILE_WORDS.findall(spoken(jobs.get(f"/{place}").text)) == [], place
