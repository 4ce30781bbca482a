"""What an end may seat on, what mends a clash, and a tube beside another."""

import pytest

from coper.frame.seat_offer import away_from
from coper.job.beside import BESIDE, bridge, parallel
from coper.job.end_change import end_changed, with_seat
from coper.job.frame import placed_tubes, tube_pieces
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
[tubes.pad]
shape = "plate 6 by 80"
start = { at = [380, 0, 150] }
end = { at = [380, 0, 250] }
turn = 90
"""


def job(start="[0, 0, 200]", more=""):
    return parse_job(JOB.replace("START", start) + more)


def mends(one):
    shaped = shape_job(one)
    return [mend for clash in shaped.clashes
            for mend in mends_of(one, shaped.pieces, shaped.clashes, clash)]


def left(one):
    shaped = shape_job(one)
    return list(forgotten(one, shaped.pieces, shaped.clashes))


@pytest.mark.parametrize(("point", "away"), [
    ([0, 0, 150], -20), ([20, 0, 150], 0), ([0, -33, 150], 13), ([0, 0, 312], 12), ([0, 0, -5], 5)])
def test_how_far_a_point_is_from_a_tube_counts_its_ends_too(point, away):
    import numpy as np
    tube = placed_tubes(job())["post"]["centre"]
    assert away_from(tube, np.array(point)) == pytest.approx(away, abs=1e-9)


@pytest.mark.parametrize(("point", "away"), [
    ([383, 0, 200], 3), ([377, 0, 200], -3), ([370, 0, 200], 4), ([379, 47, 200], 7),
    ([379, -47, 200], 7), ([379, 0, 255], 5)])
def test_how_far_a_point_is_from_a_plate_counts_its_edges_and_its_back(point, away):
    import numpy as np
    plate = placed_tubes(job())["pad"]["centre"]
    x, y, z = point
    if plate.pose.axes[1][0] < 0:  # its face looks back
        x = 760 - x
    assert away_from(plate, np.array((x, y, z))) == pytest.approx(away, abs=1e-9)


def test_the_tubes_near_an_end_come_the_nearest_first_each_with_its_stance():
    near = seat_offers(job("[-60, 0, 200]", JOB.split("[tubes.rail]")[0].replace("post", "wall")
                           .replace("[0, 0,", "[-95, 0,")), "rail", "start")
    assert [offer.main.name for offer in near] == ["wall", "post"]
    assert [round(offer.away, 6) for offer in near] == [15, 40]
    assert list(offer_words(near[0])) == [
        "at 90°, offset 0.00 mm; its point is 15.00 mm away"]
    assert seat_offers(job("[-80, 0, 200]"), "rail", "start") == ()
    far = seat_offers(job("[-80, 0, 200]"), "rail", "start", also=("post",))
    assert [offer.main.name for offer in far] == ["post"]


def test_an_offer_says_what_would_miss():
    offer, = seat_offers(job("[0, 60, 200]", "").__class__ and parse_job(
        JOB.replace("START", "[0, 60, 200]").replace("[400, 0, 200], back = 10",
                                                     "[400, 60, 200]")), "rail", "start")
    assert offer.end is None and "misses the main" in " ".join(offer_words(offer))


def test_the_end_near_the_place_seats_on_the_other_and_never_the_other_way_round():
    one = job()
    assert mends(one) == [Mend("rail", "start", "on", "post")]
    assert mends(parse_job(mended(one.text, mends(one)[0]))) == []
    crossing = job("[-200, 0, 200]")
    assert len(shape_job(crossing).clashes) == 1 and mends(crossing) == []


def test_a_tube_that_stands_already_is_seated_on_but_does_not_seat():
    assert mends(job(more="").__class__ and parse_job(JOB.replace(
        "START", "[0, 0, 200]").replace("[400, 0, 200], back = 10 }",
                                        "[400, 0, 200], back = 10 }\nexisting = true"))) == []
    stands = parse_job(JOB.replace("START", "[0, 0, 200]").replace(
        "[0, 0, 300] }", "[0, 0, 300] }\nexisting = true"))
    assert mends(stands) == [Mend("rail", "start", "on", "post")]


def test_what_would_leave_a_circle_is_not_offered():
    text = JOB.replace("START", "[0, 0, 200]").replace(
        "[0, 0, 300] }", "[0, 0, 300], on = [\"cap\"] }") + JOB.split("[tubes.rail]")[0].replace(
            "post", "cap").replace("[0, 0, 0]", "[-50, 0, 310], on = [\"rail\"]").replace(
                "[0, 0, 300]", "[50, 0, 310]")
    shaped = mends(job())
    assert shaped and not [one for one in _circles(text) if one.how == "on"]


def _circles(text):
    from coper.job.mends import _does
    one = parse_job(text.replace(', on = ["rail"]', ""))
    mend = Mend("cap", "start", "on", "post")
    return [mend] if _does(one, (), mend, set()) else []


@pytest.mark.parametrize(("start", "found"), [("[20, 0, 200]", True), ("[20.4, 0, 200]", True),
                                              ("[20.6, 0, 200]", False), ("[0, 0, 200]", False),
                                              ("[20, 0, 200], back = 1", False),
                                              ("[20, 0, 200], cap = 1", False)])
def test_a_plain_end_at_a_tubes_skin_was_forgotten(start, found):
    assert left(job(start.replace("]", "]", 1))) == (
        [Mend("rail", "start", "on", "post")] if found else [])


def test_words_of_a_mend_name_the_end_and_both_tubes():
    one = Mend("rail", "start", "on", "post")
    assert mend_words(one) == "Seat the start of rail on post"
    assert mend_words(Mend("a", "end", "mitre", "b")) == "Mitre the end of a with b"
    assert forgotten_words(one) == "The start of rail ends at post, and does not seat on it."


def test_one_tube_shaped_alone_is_as_among_all():
    one = parse_job(with_seat(job().text, "rail", "start", "post"))
    pieces = shape_job(one).pieces
    alone, = tube_pieces(one, "rail", pieces)
    other = next(piece for piece in pieces if piece.label == "rail")
    assert alone.blank == other.blank and (alone.start.outer == other.start.outer).all()


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
    text = JOB.replace("START", "[0, 50, 200]").replace("[400, 0, 200], back = 10 }",
                                                        "[400, 90, 200] }\nmirror = true")
    after = parse_job(bridge(text, "rail", "tie", "12 x 1", "by", 100))
    tie = after.tubes[-1]
    assert tie.start.at[1] == -tie.end.at[1] > 50 and tie.start.on == tie.end.on == ("rail",)
