"""Stays cut from a donor frame's: from which end how much comes off, whether they reach."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import Round, Tapered, TaperedOval, Tube, make_pieces, parse_job, shape_end
from coper.bench.cut_list.donor import Donor
from coper.frame.equivalent import equivalent_joint
from coper.job.stock import job_cut_list
from coper.telling.words.cut_list import cut_steps, donor_shortages
from coper.verbs.job import job
from tests.profiles import examples

THICK, THIN, TAPER = 22.2, 14.0, 330.0
JOB = """\
[stock]
"22.2 to 14 over 330 x 0.8" = [{stock}]
[tubes.stay]
shape = "{shape} x 0.8"
shape_from = {first_at}
start = {{ at = [0, 26, 0], back = {back} }}
end = {{ at = [-300, 26, 0] }}
mirror = true
"""


def cuts(stock, first_at=20.0, shape="22.2 to 14 over 330", back=0.0):
    made = parse_job(JOB.format(stock=stock, shape=shape, first_at=first_at, back=back))
    return job_cut_list(made, make_pieces(made)).tapered


def diameter(from_thick):
    """Across the tapered tube, by hand: straight from one diameter to the other."""
    return THICK + (THIN - THICK) * from_thick / TAPER


@examples(40)
@given(st.floats(-60, 60), st.floats(0, 40), st.floats(0, 60), st.booleans())
def test_the_cut_on_the_donor_has_the_diameter_that_the_end_was_shaped_for(
    first_at, back, begins, thin_first
):
    stock = f"{{ length = 600, from = {begins} }}"
    shape = "14 to 22.2 over 330" if thin_first else "22.2 to 14 over 330"
    stay, = cuts(stock, first_at, shape, back)
    # Stations of the stay's two ends from the taper's thick station, by hand.
    ends = [back - first_at, 300 - first_at]
    thick = sorted(TAPER - end for end in ends) if thin_first else sorted(ends)
    assert stay.off == pytest.approx((thick[0] + begins, 600 - begins - thick[1]))
    across = {cut.name: cut.across[0] for cut in stay.cuts}
    assert across == pytest.approx({"thick": diameter(thick[0]), "thin": diameter(thick[1])})
    assert (stay.near, stay.far) == pytest.approx((thick[0] + begins, thick[1] + begins))


@pytest.mark.parametrize("shape", [Tapered(22.2, 14, 330, 0.8), Tapered(14, 22.2, 330, 0.8),
                                   TaperedOval(30, 17, 14, 380, 0.8)])
@pytest.mark.parametrize("which", ["start", "end"])
def test_a_shape_that_begins_further_on_is_the_shape_of_a_tube_that_begins_there(shape, which):
    """The same metal: its first size 37 mm on, or the tube's start point moved 37 mm on."""
    way = np.array((-0.9, 0.3, 0.2)) / np.linalg.norm((0.9, 0.3, 0.2))
    start, length = np.array((4.0, 8.0, -2.0)), 250.0
    moved = type(shape)(*(getattr(shape, name) for name in shape.__slots__[:-1]), first_at=37.0)
    one = Tube(moved, start, start + length * way, "stay")
    other = Tube(shape, start + 37 * way, start + length * way, "stay")
    at = start if which == "start" else start + length * way
    aside, up = np.array((0.0, 60.0, 0.0)), np.array((0.0, 0.0, 3.0))
    shell = Tube(Round(60), at + up - aside, at + up + aside, "shell")
    ends = [shape_end(tube, which, [shell]) for tube in (one, other)]
    assert ends[0].outer - 37 == pytest.approx(ends[1].outer, abs=1e-7)
    assert ends[0].inner - 37 == pytest.approx(ends[1].inner, abs=1e-7)
    for tube, end in zip((one, other), ends, strict=True):
        equal = equivalent_joint(tube, which, shell)
        cope = equal.joint.cope()
        assert cope.at(end.cope.clock).outer - equal.shift == pytest.approx(
            end.cope.outer, abs=1e-6)


def test_a_tapered_main_that_begins_further_on_is_met_where_it_stands():
    main = Tapered(40, 28, 300, 1, first_at=25)
    rail = Tube(main, (0, 0, 0), (300, 0, 0), "rail")
    moved = Tube(Tapered(40, 28, 300, 1), (25, 0, 0), (300, 0, 0), "rail")
    post = Tube(Round(20, 1), (150, 3, 0), (170, 3, 200), "post")
    assert shape_end(post, "start", [rail]).outer == pytest.approx(
        shape_end(post, "start", [moved]).outer, abs=1e-9)
    one, other = (equivalent_joint(post, "start", tube).joint for tube in (rail, moved))
    assert one.main_at == pytest.approx(other.main_at) and one.main == other.main


def test_the_shortest_tube_that_reaches_is_taken_and_a_twin_takes_another():
    long, short = "{ length = 400, from = 30, count = 1 }", "{ length = 335, from = 30, count = 1 }"
    one, other = cuts(f"{long}, {short}")
    assert (one.label, one.bought) == ("stay left", 335)
    assert (other.label, other.bought) == ("stay right", 400)
    assert not [words for blank in (one, other) for words in donor_shortages(blank)]


@pytest.mark.parametrize(("stock", "says"), [
    ("{ length = 300, from = 15 }", "5.00 mm (13/64 in) short at its thick end; with shape_from = "
     "15 it does, and is then 0.12 mm thinner everywhere"),
    ("{ length = 320, from = 45 }", "5.00 mm (13/64 in) short at its thin end; with shape_from = "
     "25 it does, and is then 0.12 mm thicker everywhere"),
    ("{ length = 290, from = 30 }", "one that begins as this and is 310.00 mm"),
    ("{ length = 400, from = 30, count = 1 }", "no tube is left for stay right"),
])
def test_one_that_does_not_reach_says_by_how_much_at_which_end_and_what_would(stock, says):
    said = " ".join(words for blank in cuts(stock) for words in donor_shortages(blank))
    assert says in said


def test_what_is_advised_then_reaches():
    for stock in ("{ length = 300, from = 15 }", "{ length = 320, from = 45 }"):
        said = " ".join(words for blank in cuts(stock) for words in donor_shortages(blank))
        first_at = float(re.search(r"shape_from = ([\d.]+)", said)[1])
        assert not [words for blank in cuts(stock, first_at) for words in donor_shortages(blank)]
    backwards = "14 to 22.2 over 330"
    said = " ".join(words for blank in cuts("{ length = 320, from = 5 }", 20, backwards)
                    for words in donor_shortages(blank))
    first_at = float(re.search(r"shape_from = (-?[\d.]+)", said)[1])
    assert not [words for blank in cuts("{ length = 320, from = 5 }", first_at, backwards)
                for words in donor_shortages(blank)]


def test_a_blank_that_begins_in_the_straight_part_is_said_with_how_thin_that_is():
    said, = donor_shortages(cuts("{ length = 500, straight = 60 }")[0])
    assert "begins 20.00 mm" in said and f"{20 * (THICK - THIN) / TAPER:.2f} mm thinner" in said
    assert not list(donor_shortages(cuts("{ length = 500, straight = 60 }", first_at=0)[0]))


def test_a_stock_written_thin_end_first_is_the_same_tube():
    turned = JOB.replace('"22.2 to 14', '"14 to 22.2')
    made = parse_job(turned.format(stock="{ length = 400, from = 40 }", first_at=20, back=0,
                                   shape="22.2 to 14 over 330"))
    donor, = made.rack.donors[Tapered(22.2, 14, 330, 0.8)]
    # 40 to the thin station, 330 on to the thick one, so 30 are left beyond that.
    assert (donor.length, donor.begins) == (400, 30)
    assert isinstance(donor, Donor)


def test_the_answer_counts_from_the_donors_own_end():
    stay, = cuts("{ length = 400, from = 30 }")
    first, last = cut_steps(stay)
    assert "Cut the thick end first, 10.00 mm" in first
    assert "Cut the thin end last, to 300.00 mm" in last and "taking off 90.00 mm" in last
    record = job(parse_job(JOB.format(stock="{ length = 290, from = 30 }", first_at=20, back=0,
                                      shape="22.2 to 14 over 330"))).record()
    blank, = record["cut_list"]["tapered"]
    assert blank["stock"] == {"length": 290, "begins": 30, "straight": 0, "reaches": False}
    assert "does not reach" in blank["shortages"][0]
