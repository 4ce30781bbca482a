"""What an end may seat on, what mends a clash, and a tube beside another."""

import numpy as np
import pytest

from coper.frame.seat_offer import away_from
from coper.job.beside import BESIDE, bridge, parallel
from coper.job.end_change import end_changed, with_seat
from coper.job.frame import placed_tubes
from coper.job.mends import Mend, forgotten, mended, mends_of
from coper.job.read import parse_job
from coper.job.seats import seat_offers
from coper.job.shaped import shape_job
from coper.telling.words.seat import forgotten_words, mend_words, offer_words

JOB = """\
[tubes.post]
shape = "40 x 3"
start = { at = [0, 0, 0] }
end = { at = [0, 0, 300] }
[tubes.rail]
shape = "25 x 2"
start = { at = START }
end = { at = [400, 0, 200], back = 10 }
"""

PAD = """
[tubes.pad]
shape = "plate 6 by 80"
start = { at = [380, 0, 150] }
end = { at = [380, 0, 250] }
"""

BACK = "[400, 0, 200], back = 10 }"
"""The rail's end."""


def job(start="[0, 0, 200]", **instead):
    text = JOB.replace("START", start)
    for old, new in instead.items():
        text = text.replace({"end": BACK, "top": "[0, 0, 300] }"}[old], new)
    return parse_job(text)


def mends(one):
    shaped = shape_job(one)
    return [mend for clash in shaped.clashes
            for mend in mends_of(one, shaped.clashes, clash)]


def left(one):
    shaped = shape_job(one)
    return list(forgotten(one, shaped.pieces, shaped.clashes))


@pytest.mark.parametrize(("point", "away"), [
    ([0, 0, 150], -20), ([20, 0, 150], 0), ([0, -33, 150], 13), ([0, 0, 312], 12), ([0, 0, -5], 5)])
def test_how_far_a_point_is_from_a_tube_counts_its_ends_too(point, away):
    tube = placed_tubes(job())["post"]["centre"]
    assert away_from(tube, np.array(point)) == pytest.approx(away, abs=1e-9)


@pytest.mark.parametrize(("place", "away"), [
    ((0, 3, 50), 3), ((0, -3, 50), -3), ((0, -10, 50), 4), ((47, -1, 50), 7), ((-47, -1, 50), 7),
    ((0, -1, 105), 5)])
def test_how_far_a_point_is_from_a_plate_counts_its_edges_and_its_back(place, away):
    plate = placed_tubes(parse_job(PAD))["pad"]["centre"]
    assert away_from(plate, plate.pose.outward(np.array(place, float))) == pytest.approx(away)


def test_the_tubes_near_an_end_come_the_nearest_first_each_with_its_stance():
    post = JOB[:JOB.index("[tubes.rail]")]
    wall = post.replace("post", "wall").replace("[0, 0,", "[-95, 0,")
    near = seat_offers(parse_job(job("[-60, 0, 200]").text + wall), "rail", "start")
    assert [offer.main.name for offer in near] == ["wall", "post"]
    assert [round(offer.away, 6) for offer in near] == [15, 40]
    assert list(offer_words(near[0])) == ["at 90°, offset 0.00 mm; its point is 15.00 mm away"]
    assert seat_offers(job("[-80, 0, 200]"), "rail", "start") == ()
    far, = seat_offers(job("[-80, 0, 200]"), "rail", "start", also=("post",))
    assert far.main.name == "post"


def test_an_offer_says_what_would_miss():
    offer, = seat_offers(job("[0, 60, 200]", end="[400, 60, 200] }"), "rail", "start")
    assert offer.end is None and "misses the main" in " ".join(offer_words(offer))


def test_the_end_near_the_place_seats_on_the_other_and_never_the_other_way_round():
    one = job()
    assert mends(one) == [Mend("rail", "start", "on", "post")]
    assert mends(parse_job(mended(one.text, mends(one)[0]))) == []
    crossing = job("[-200, 0, 200]")
    assert len(shape_job(crossing).clashes) == 1 and mends(crossing) == []


def test_an_end_that_only_comes_near_is_offered_where_no_other_is_within():
    assert mends(job("[-24, 0, 290]", end="[400, 0, 290] }")) == [
        Mend("post", "end", "on", "rail")]
    assert mends(job("[-24, 0, 200]")) == [Mend("rail", "start", "on", "post")]


def test_a_tube_that_stands_already_is_seated_on_but_does_not_seat():
    assert mends(job(end="[400, 0, 200] }\nexisting = true")) == []
    assert mends(job(top="[0, 0, 300] }\nexisting = true")) == [
        Mend("rail", "start", "on", "post")]


def test_what_would_make_a_circle_is_not_offered():
    cap = """[tubes.cap]
shape = "20 x 2"
start = { at = [0, 0, 310] }
end = { at = [0, 80, 310] }
"""
    leaning = job("[0, 120, 435]", end="[0, 0, 60] }").text + cap
    once = with_seat(leaning, "post", "end", "cap")
    seat = Mend("rail", "end", "on", "post")
    assert seat in mends(parse_job(once))
    assert seat not in mends(parse_job(with_seat(once, "cap", "end", "rail")))


@pytest.mark.parametrize(("start", "found"), [("[20, 0, 200]", True), ("[20.4, 0, 200]", True),
                                              ("[20.6, 0, 200]", False), ("[0, 0, 200]", False),
                                              ("[20, 0, 200], back = 1", False),
                                              ("[20, 0, 200], cap = 1", False)])
def test_a_plain_end_at_a_tubes_skin_was_forgotten(start, found):
    assert left(job(start)) == (
        [Mend("rail", "start", "on", "post")] if found else [])


def test_words_of_a_mend_name_the_end_and_both_tubes():
    one = Mend("rail", "start", "on", "post")
    assert mend_words(one) == "Seat the start of rail on post"
    assert mend_words(Mend("a", "end", "mitre", "b")) == "Mitre the end of a with b"
    assert forgotten_words(one) == "The start of rail ends at post, and does not seat on it."


def test_a_way_of_an_end_takes_the_place_of_another():
    text = with_seat(job().text, "rail", "start", "post")
    assert 'start = { at = [0, 0, 200], on = ["post"] }' in text
    text = end_changed(text, "rail", "start", "face", [1, 0, 1])
    assert "start = { at = [0, 0, 200], face = [1, 0, 1] }" in text
    text = with_seat(text, "rail", "end", "pad")
    assert 'end = { at = [400, 0, 200], on = ["pad"] }' in text


@pytest.mark.parametrize("way", BESIDE)
def test_a_parallel_tube_stands_so_far_that_way(way):
    after = parse_job(parallel(job(), "rail", "rail 2", way, 60, seats=False))
    one, other = (next(tube for tube in after.tubes if tube.name == name)
                  for name in ("rail", "rail 2"))
    for at, there in ((one.start.at, other.start.at), (one.end.at, other.end.at)):
        moved = [there[axis] - at[axis] for axis in range(3)]
        assert moved == pytest.approx([60 * part for part in BESIDE[way]])
    assert other.shape == one.shape and not other.start.how


def test_a_bent_tube_with_a_twin_has_its_like_beside_it_in_its_own_unit():
    text = """units = "in"
[points]
top = [0, 5, 9]
[tubes.hoop]
shape = "1 x 0.065"
start = { at = { from = "top", by = [0, 0, -9] } }
corners = ["top"]
bend = 3
end = { at = [9, 5, 9] }
mirror = true
"""
    after = parse_job(parallel(parse_job(text), "hoop", "inner", "below", 25.4 / 2, seats=True))
    one, other = after.tubes
    assert other.mirror and other.radii == one.radii
    assert [there[2] - at[2] for at, there in zip(one.corners, other.corners, strict=True)] == [
        pytest.approx(-12.7)]
    assert "inner-corner-1 = { from = \"top\", by = [0, 0, -0.5] }" in after.text


def test_a_bridge_is_between_both_twins_at_its_place():
    twins = job("[0, 50, 200]", end="[400, 90, 200] }\nmirror = true")
    after = parse_job(bridge(twins.text, "rail", "tie", "12 x 1", "by", 100))
    tie = after.tubes[-1]
    assert tie.start.at[1] == -tie.end.at[1] > 50 and tie.start.on == tie.end.on == ("rail",)
