"""The cut list of placed tubes: what shares a bar, and where a tapered one is cut first."""

import json

import pytest

from coper import Bent, Box, Oval, Plate, Round, Tapered, TaperedOval, Tube
from coper.bench.cut_list.cut_list import PlateBlank, cut_list
from coper.bench.cut_list.packing import Packing, Stock
from coper.bench.cut_list.stock import Rack, Shelf
from coper.frame.end import plain_end, shape_end
from coper.frame.piece import make_piece
from coper.telling.records.cut_list import cut_list_record
from coper.telling.words.cut_list import cut_steps, near_words, numbers_words

MAIN = Tube(Round(40, 3), (0, -60, 0), (0, 60, 0), "main")


def plain_tube(shape, length, name="rail", side="centre", back=(0.0, 0.0), allowance=0.0):
    tube = Tube(shape, (0, 0, 0), (0, 0, length), name, side)
    return make_piece(tube, plain_end(tube, "start", back[0]), plain_end(tube, "end", back[1]),
                      allowance)


def coped_tube(shape, length, which="start", back=0.0):
    """A tube seated on the main by one end, square to it; the other cut off plain."""
    ends = ((0, 0, 0), (0, 0, length)) if which == "start" else ((0, 0, length), (0, 0, 0))
    tube = Tube(shape, *ends, "stay")
    if which == "start":
        return make_piece(tube, shape_end(tube, "start", [MAIN]), plain_end(tube, "end", back))
    return make_piece(tube, plain_end(tube, "start", back), shape_end(tube, "end", [MAIN]))


def rack(*stocks):
    return Rack(Shelf(tuple(stocks), "shop.stock"))


def test_tubes_of_equal_shape_share_bars_however_they_lie():
    pieces = [plain_tube(Round(28.575, 0.9), 300), plain_tube(Round(1.125 * 25.4, 0.9), 200, "b"),
              plain_tube(Round(28.575, 1.2), 100, "c"),
              plain_tube(Box(20, 12, 2, 1.2), 90, "d"), plain_tube(Box(12, 20, 2, 1.2), 80, "e")]
    cuts = cut_list(pieces, rack(Stock(1000)))
    assert [[blank.name for blank in stock.blanks] for stock in cuts.stocks] == [
        ["rail", "b"], ["c"], ["d", "e"]]
    assert [len(stock.packing.bars) for stock in cuts.stocks] == [1, 1, 1]


def test_every_blank_has_its_own_number_over_all_bars_and_alike_ones_follow_each_other():
    pieces = [plain_tube(Round(20, 1), 300, "post-1"), plain_tube(Round(20, 1), 200, "rib"),
              plain_tube(Tapered(22, 14, 400, 0.8), 380, "stay", "left"),
              plain_tube(Round(25, 1), 90, "cross"), plain_tube(Round(20, 1), 300, "post-2"),
              plain_tube(Tapered(22, 14, 400, 0.8), 380, "stay", "right")]
    cuts = cut_list(pieces, rack(Stock(400)))
    assert len(cuts.stocks[0].packing.bars) == 3  # one number over all of them
    assert cuts.numbers == {"post-1": 1, "post-2": 2, "rib": 3, "cross": 4,
                            "stay left": 5, "stay right": 6}
    assert [numbers_words(some) for some in ((4,), (5, 4), (4, 5, 6), (1, 2, 3, 7))] == [
        "4", "4, 5", "4 to 6", "1 to 3, 7"]


def test_a_bend_is_cut_from_the_straight_tube_by_its_centreline():
    bend = plain_tube(Bent(16, 110, 1.2), 140, "hoop")
    cuts = cut_list([bend, plain_tube(Round(16, 1.2), 100)], rack(Stock(1000)))
    stock, = cuts.stocks
    assert [blank.bent for blank in stock.blanks] == [True, False]
    assert stock.blanks[0].length == pytest.approx(bend.tube.length) and bend.tube.length > 140


def test_an_allowance_goes_on_both_ends_of_every_blank():
    pieces = [plain_tube(Round(20, 1), 300, allowance=5),
              plain_tube(Tapered(22, 14, 400, 0.8), 380, "stay", allowance=5)]
    cuts = cut_list(pieces, rack(Stock(1000)), kerf=2)
    blank, = cuts.stocks[0].blanks
    assert (blank.shaped, blank.length, cuts.allowance) == (300, 310, 5)
    assert cuts.stocks[0].packing.bars[0].rest == pytest.approx(1000 - 310 - 2)
    stay, = cuts.tapered
    assert (stay.shaped, stay.length, stay.near, stay.far) == (380, 390, -5, 385)


def test_without_stock_lengths_the_whole_need_is_told_with_its_kerfs():
    cuts = cut_list([plain_tube(Round(20, 1), 300), plain_tube(Round(20, 1), 200)], kerf=3)
    stock, = cuts.stocks
    assert stock.packing is None and stock.needed == pytest.approx(503)


def test_a_plate_is_named_and_shares_no_bar():
    cuts = cut_list([plain_tube(Plate(6), 300, "dropout", "left")], rack(Stock(100)))
    assert cuts.plates == (PlateBlank("dropout left", Plate(6), 300),) and cuts.stocks == ()


def test_a_tubes_own_lengths_go_before_the_shops_and_counted_pieces_come_on_top():
    tube = plain_tube(Oval(30, 17, 0.9), 300)
    whole = Rack(Shelf((Stock(2000),)), {Oval(30, 17, 0.9): Shelf((Stock(500),))})
    counted = Rack(Shelf((Stock(2000),)), {Oval(30, 17, 0.9): Shelf((Stock(290, 3),))})
    assert cut_list([tube], whole).stocks[0].packing.total == 500
    assert cut_list([tube], counted).stocks[0].packing.total == 2000


def test_every_stock_that_does_not_do_is_stated_and_the_rest_is_planned():
    pieces = [plain_tube(Round(20, 1), 1300, "long"), plain_tube(Round(30, 1), 1400, "longer"),
              plain_tube(Round(30, 1), 900, "fits"), plain_tube(Round(30, 1), 1000, "just")]
    one, other = cut_list(pieces, rack(Stock(1000))).stocks
    assert one.packing is None and [blank.name for blank in one.shortages[0].blanks] == ["long"]
    assert [blank.name for blank in other.shortages[0].blanks] == ["longer"]
    assert sorted(other.blanks[index].name for bar in other.packing.bars
                  for index in bar.pieces) == ["fits", "just"]


# A main of diameter 40, square: the furthest that the start of a tube of diameter d reaches is
# sqrt(20^2 - (d / 2)^2) (the design's check formula, clock 90); on a taper the outside meets it
# where d is that of the station, so the test asks the piece.
def test_what_comes_off_each_end_of_a_taper_and_the_blank_make_up_the_tube():
    piece = coped_tube(Tapered(22.2, 14, 410, 0.8), 400, back=15)
    stay, = cut_list([piece]).tapered
    assert stay.end_names == ("thick", "thin")
    assert stay.near == piece.start.reach and stay.far == pytest.approx(385)
    assert sum(stay.off) + stay.length == pytest.approx(410)


@pytest.mark.parametrize(("shape", "which", "first", "far_first"), [
    (Tapered(22.2, 14, 410, 0.8), "start", "start", False),
    (Tapered(22.2, 14, 410, 0.8), "end", "end", True),
    (Tapered(14, 22.2, 410, 0.8), "start", "start", True),
    (Tapered(14, 22.2, 410, 0.8), "end", "end", False),
    (TaperedOval(30, 17, 14, 410, 0.8), "start", "start", False),
    (TaperedOval(30, 17, 14, 410, 0.8), "end", "end", True),
])
def test_the_end_that_seats_is_cut_to_its_place_first(shape, which, first, far_first):
    stay, = cut_list([coped_tube(shape, 400, which, back=5)]).tapered
    assert (stay.first, stay.far_first) == (first, far_first)
    ends = [f"{name} end" for name in stay.end_names]
    opening, closing = cut_steps(stay)
    assert opening.startswith(f"Cut the {ends[far_first]} first")
    assert closing.startswith(f"Cut the {ends[not far_first]} last")
    assert "on main" in opening and f"{stay.length:.2f} mm" in closing


def test_the_diameters_given_are_those_of_the_stations():
    piece = plain_tube(Tapered(22, 14, 400, 0.8), 400, "stay", back=(50, 100))
    stay, = cut_list([piece]).tapered
    assert stay.off == (50, 100)
    assert "21.00 mm across" in cut_steps(stay)[0]  # 22 - 8 * 50 / 400
    assert "16.00 mm across" in cut_steps(stay)[1] and "taking off 100.00 mm" in cut_steps(stay)[1]


def test_a_taper_that_is_used_to_its_end_allows_the_other_end_only():
    stay, = cut_list([plain_tube(Tapered(22, 14, 400, 0.8), 400, back=(30, 0))]).tapered
    assert "Leave the thin end as it is" in cut_steps(stay)[-1]
    stay, = cut_list([plain_tube(Tapered(22, 14, 400, 0.8), 400, back=(0, 30))]).tapered
    assert "Leave the thick end as it is" in cut_steps(stay)[0]
    assert "thin end last" in cut_steps(stay)[1]


def test_a_blank_longer_than_its_taper_asks_for_a_tube_that_runs_on():
    stay, = cut_list([plain_tube(Tapered(22, 14, 400, 0.8), 412)]).tapered
    assert stay.off == (0, pytest.approx(-12))
    assert cut_steps(stay)[0].startswith("Take a tube that runs on 12.00 mm")
    assert "thin end" in cut_steps(stay)[0]


def test_twins_that_are_cut_alike_are_listed_together():
    left = Tube(Tapered(22, 14, 400, 0.8), (0, 20, 0), (-380, 60, 0), "stay", "left")
    pieces = [make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
              for tube in (left, left.mirrored())]
    stay, = cut_list(pieces).tapered
    assert stay.label == "stay left and right"


def test_how_near_is_rounded_up():
    assert near_words(Packing((), 1000, 1000)) == "no other way uses less"
    assert near_words(Packing((), 1020.1, 1000)) == "within 2.1 % of the least possible"


def test_the_record_is_plain_json_with_every_piece():
    pieces = [plain_tube(Round(20, 1), 300), plain_tube(Round(25, 1), 200, "b"),
              plain_tube(Tapered(22, 14, 400, 0.8), 380, "stay")]
    own = {Round(20, 1): Shelf((Stock(1000),))}
    record = json.loads(json.dumps(cut_list_record(cut_list(pieces, Rack(own=own))),
                                   allow_nan=False))
    one, other = record["stocks"]
    assert one["bars"] == [{"length": 1000, "rest": 698,
                            "pieces": [{"number": 1, "name": "rail", "side": "centre",
                                        "length": 300}]}]
    assert one["total"] == one["least_possible"] == 1000
    assert other["bars"] is None and other["needed"] == 200
    stay, = record["tapered"]
    assert [blank["number"] for blank in other["blanks"]] == [2] and stay["numbers"] == [3]
    assert [end["end"] for end in stay["ends"]] == ["thick end", "thin end"]
    assert [end["off"] for end in stay["ends"]] == [0, 20] and len(stay["steps"]) == 2
