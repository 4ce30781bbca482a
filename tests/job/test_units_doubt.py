"""Numbers that look like another unit than the job's: asked about, and named where they fail."""

import json

import pytest

from coper import CoperError, make_pieces, parse_job, read_job
from coper.drawing.svg import svg_text
from coper.job.shaped import shape_job
from coper.job.starter import KINDS, starter_job
from coper.joint.steps import silent
from coper.sheets.packet import packet_pages
from coper.telling.words.plausible import job_doubts
from tests.cli.run import run

TUBE = "[tubes.{name}]\nshape = '{shape}'\nstart = {{ at = {start} }}\nend = {{ at = {end} }}\n"


def job(*tubes, head=""):
    return head + "\n".join(TUBE.format(name=f"t{n}", shape=shape, start=list(start), end=list(end))
                            for n, (shape, start, end) in enumerate(tubes))


def doubt(text):
    """What is said of the unit, whether the job goes through or not."""
    try:
        found = parse_job(text)
        make_pieces(found)
    except CoperError as error:
        return next((line for line in str(error).splitlines() if line.startswith("units: ")), "")
    return "".join(job_doubts(found))


@pytest.mark.parametrize("kind", KINDS)
def test_a_starter_in_inches_without_its_units_looks_like_inches(kind):
    said = doubt(starter_job(kind, "in").replace('units = "in"', ""))
    assert "he numbers look like inches: " in said and 'write units = "in" at the top' in said
    assert ("bicycle.chain_stay = 16.5" in said) == (kind in ("bicycle", "rear-end"))


@pytest.mark.parametrize("kind", KINDS)
def test_a_starter_in_mm_that_says_inches_looks_like_mm(kind):
    said = doubt(starter_job(kind, "mm").replace('units = "mm"', 'units = "in"'))
    assert "he numbers look like mm: " in said and 'write units = "mm" at the top' in said


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("kind", KINDS)
def test_a_starter_with_its_own_units_does_not(kind, unit):
    assert doubt(starter_job(kind, unit)) == ""


def test_points_in_inches_between_tubes_that_say_their_unit_look_like_inches():
    tubes = [("1-1/2in x 0.095in", (0, 15 * n, 0), (60, 15 * n, 0)) for n in range(3)]
    said = doubt(job(*tubes))
    assert "numbers look like inches: tubes.t0 (38.1 x 2.413, 60 long), tubes.t1" in said
    assert doubt(job(*tubes[:2])) == "" and doubt(job(*tubes, head='units = "in"\n')) == ""


def test_ends_whose_cuts_cross_in_a_job_in_inches_are_led_by_the_units():
    text = job(("1-1/2in x 0.095in", (0, 0, 0), (60, 0, 0)), ("1-1/2in x 0.095in", (0, 30, 0),
               (60, 30, 0))) + """
[tubes.cross]
shape = "1-1/2in x 0.095in"
start = { at = [20, 0, 0], on = ["t0"] }
end = { at = [20, 30, 0], on = ["t1"] }
"""
    with pytest.raises(CoperError) as caught:
        make_pieces(parse_job(text))
    first, second = str(caught.value).splitlines()
    assert first.startswith("units: the numbers look like inches") and "cuts cross" in second


def test_a_job_of_one_slip_is_asked_about_that_key_and_not_about_its_units():
    text = starter_job("bicycle", "mm").replace("chain_stay = 419", "chain_stay = 41900")
    found = parse_job(text.replace("drop = 58", "drop = 5"))
    assert found.doubt is None and "bicycle.chain_stay, " in job_doubts(found)[0]


def test_the_question_is_on_the_terminal_in_the_json_and_on_the_job_sheet(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(job(*[("1-1/2in x 0.095in", (0, 95 * n, 0), (60, 95 * n, 0))
                          for n in range(3)]))
    status, out, _ = run("job", str(file))
    asked = "The numbers look like inches: tubes.t0 "
    assert status == 0 and f"! {asked}" in out
    assert json.loads(run("job", str(file), "--json")[1])["cautions"][0].startswith(asked)
    sheet = next(iter(packet_pages(shape_job(read_job(file)), silent)))
    assert "The numbers look like inches" in svg_text(sheet)


@pytest.mark.parametrize("verb", ["bicycle", "job", "clearance", "layout"])
def test_an_implausible_number_is_a_caution_of_every_verb_on_the_job(verb, tmp_path):
    file = tmp_path / "job.toml"
    file.write_text("""units = "in"
[bicycle]
drop = -2.75
chain_stay = 16.5
rear_wheel = "40-559"
[tubes.stay]
shape = "3/4 x 0.035"
start = { at = [0, 2, 0] }
end = { at = { from = "axle", by = [0, 2.6, 0] } }
""")
    status, out, _ = run(verb, str(file))
    assert status == 0 and "! bicycle.drop, -2.75 in: the bracket would stand 2.75 in above" in out
    cautions = json.loads(run(verb, str(file), "--json")[1])["cautions"]
    assert any(one.startswith("bicycle.drop, -69.85 mm: ") for one in cautions)


def test_a_change_that_makes_a_bicycle_odd_is_asked_about(tmp_path):
    file = tmp_path / "job.toml"
    file.write_text(starter_job("bicycle", "mm"))
    out = run("bicycle", str(file), "--rake", "160")[1]
    assert "! bicycle.rake, 160 mm: with it the trail is -" in out
    assert "bicycle.drop, -80 mm" in run("bicycle", str(file), "--drop", "-80")[1]
    assert json.loads(run("bicycle", str(file), "--json")[1])["cautions"] == []
