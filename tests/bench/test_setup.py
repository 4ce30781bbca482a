"""Set-ups of placed ends: the equivalent joint, the saws, their places, the gaps to expect."""

import json

import numpy as np
import pytest

from coper import (
    Bent,
    Box,
    Joint,
    Oval,
    Plate,
    Round,
    Tapered,
    Tube,
    make_piece,
    plain_end,
    shape_end,
)
from coper.bench.setup import SawShop, near_saws, piece_setups
from coper.frame.end import make_cluster
from coper.frame.equivalent import equivalent_joint
from coper.joint.fit.limits import own_limit
from coper.joint.saw.kit import USUAL_KIT_MM, choose_saws
from coper.telling.records.setup import setup_record
from tests.frame.specimens import random_cluster
from tests.specimens import BRANCHES, MAINS

ENDS = ("start", "end")
SHELL = Tube(Round(40), (0, -34, 0), (0, 34, 0), "shell")
SEAT_TUBE = Tube(Round(28.6), (0, 0, 0), (-120, 0, 420), "seat tube")
OWN_SIZES = SawShop((28.6, 40.0))
NEAR_SIZES = SawShop((28.575, 41.275))


def stay(which, shape=None):
    points = ((0, 8, 1), (-400, 60, 60))
    return Tube(shape or Round(36, 0.9), *(points if which == "start" else points[::-1]), "stay")


def setup_of(tube, which, mains, shop, cut="bevelled"):
    shaped = shape_end(tube, which, mains, cut)
    other = plain_end(tube, "end" if which == "start" else "start")
    piece = make_piece(tube, *((shaped, other) if which == "start" else (other, shaped)))
    setup, = piece_setups(piece, shop)
    return setup


def away(tube, which):
    way = (tube.end - tube.start) / tube.length
    return way if which == "start" else -way


def heel_way(tube, which, main):
    """Square to the tube, on the side where it and the main make the acute angle."""
    b, m = away(tube, which), main.end - main.start
    m = m / np.linalg.norm(m) * np.sign(m @ b)
    heel = m - (m @ b) * b
    return heel / np.linalg.norm(heel)


def crossing(tube, which, main):
    """Where the tube's axis passes the main's nearest, and from there to the main's axis."""
    b, m = away(tube, which), main.end - main.start
    point = tube.start if which == "start" else tube.end
    along, _, there = np.linalg.solve(
        np.stack((b, -m, np.cross(b, m)), axis=-1), main.start - point)
    return point + along * b, there * np.cross(b, m)


@pytest.mark.parametrize("which", ENDS)
@pytest.mark.parametrize("main", [kind for kind in MAINS if kind is not Bent])
@pytest.mark.parametrize("branch", BRANCHES)
def test_the_equivalent_joint_has_the_cope_of_the_end_on_that_main_alone(branch, main, which):
    for seed in range(2):
        tube, (one,) = random_cluster(seed, which, 1, branch, main)
        cluster, _ = make_cluster(tube, which, [one])
        equal = equivalent_joint(tube, which, one)
        clock = np.random.default_rng(seed).uniform(0, 360, 60)
        for depth in (0.0, cluster.wall()):
            np.testing.assert_allclose(
                equal.joint.cluster().entry(clock, depth),
                cluster.entry(clock, depth) + equal.shift, atol=1e-6)


def test_on_the_outside_of_a_bend_the_equivalent_joint_is_the_same_too():
    half = 120 * np.sin(0.6), 120 * (1 - np.cos(0.6))
    hoop = Tube(Bent(25.4, 120), (-half[0], 0, -half[1]), (half[0], 0, -half[1]), "hoop")
    tube = Tube(Round(20, 1), (0, 3, 0), (100, 3, 250), turn=25)
    cluster, _ = make_cluster(tube, "start", [hoop])
    equal = equivalent_joint(tube, "start", hoop)
    clock = np.linspace(0, 359, 80)
    np.testing.assert_allclose(equal.joint.cluster().entry(clock),
                               cluster.entry(clock) + equal.shift, atol=1e-6)


@pytest.mark.parametrize("which", ENDS)
def test_the_saw_passes_the_tubes_axis_where_the_mains_axis_does(which):
    tube = stay(which)
    setup = setup_of(tube, which, [SEAT_TUBE, SHELL], OWN_SIZES)
    for cut in setup.cuts:
        main = setup.end.mains[cut.main]
        place, to_main = crossing(tube, which, main)
        one, = cut.passes
        assert one.setting.diameter == main.shape.diameter
        right = np.cross(away(tube, which), heel_way(tube, which, main))
        assert one.sideways == pytest.approx(to_main @ right, abs=1e-6)
        blank_end = tube.start + setup.end.reach * (tube.end - tube.start) / tube.length
        off_the_end = (blank_end - place) @ away(tube, which)
        assert one.beyond_blank == pytest.approx(off_the_end, abs=1e-6)
        cosine = abs(away(tube, which) @ (main.end - main.start)) / main.length
        assert abs(one.setting.set_angle) == pytest.approx(np.degrees(np.arcsin(cosine)))


@pytest.mark.parametrize("which", ENDS)
@pytest.mark.parametrize("shape", [Round(36, 0.9), Oval(38, 30, 1), Box(34, 30, 3, 1)])
def test_turned_clockwise_looking_at_the_end_the_next_heel_comes_up(shape, which):
    tube = stay(which, shape)
    setup = setup_of(tube, which, [SEAT_TUBE, SHELL], OWN_SIZES)
    first, second = setup.cuts
    assert first.turn == 0 and abs(second.turn) > 45
    one, other = (heel_way(tube, which, setup.end.mains[cut.main]) for cut in setup.cuts)
    b, angle = away(tube, which), np.radians(second.turn)  # clockwise, looked at along b
    turned = np.cos(angle) * other + np.sin(angle) * np.cross(b, other)
    np.testing.assert_allclose(turned, one, atol=1e-9)


def test_the_main_with_the_largest_share_is_cut_first_and_one_without_a_share_not_at_all():
    away_from_it = Tube(Round(20), (200, -34, 400), (200, 34, 400), "post")
    setup = setup_of(stay("start"), "start", [SEAT_TUBE, SHELL, away_from_it], OWN_SIZES)
    assert [cut.seat.name for cut in setup.cuts] == ["shell", "seat tube"]
    shares = [cut.share for cut in setup.cuts]
    assert shares[0] > shares[1] > 0.05 and sum(shares) == pytest.approx(1)
    won = setup.end.main[np.isin(setup.end.clock, np.arange(0, 360, 0.5))]
    assert shares[0] == pytest.approx((won == 1).mean())


def entry(point, b, start, way, radius):
    """Where lines (n, 3) along b first enter a round main, from far along b, by the quadratic."""
    across = point - start - ((point - start) @ way)[..., None] * way
    ahead = b - (b @ way) * way
    half, square = across @ ahead, ahead @ ahead
    inside = half**2 - square * ((across * across).sum(axis=-1) - radius**2)
    return np.where(inside >= 0, (-half + np.sqrt(np.maximum(inside, 0))) / square, np.nan)


@pytest.mark.parametrize(("which", "shop"), [
    ("start", NEAR_SIZES), ("end", SawShop((31.75, 44.45)))])
def test_the_gap_that_two_saws_leave_is_that_of_a_dense_search(shop, which):
    tube, mains = stay(which), (SEAT_TUBE, SHELL)
    setup = setup_of(tube, which, mains, shop)
    b, point = away(tube, which), tube.start if which == "start" else tube.end
    first = np.cross(b, (0.0, 0.0, 1.0))
    first /= np.linalg.norm(first)
    clock = np.radians(np.arange(0, 360, 0.02))
    round_it = np.cos(clock)[:, None] * first + np.sin(clock)[:, None] * np.cross(b, first)
    mains_at, saws_at = [], []
    for radius in 18 - np.linspace(0, 0.9, 19):
        lines = point + radius * round_it
        mains_at.append(np.fmax.reduce([
            entry(lines, b, one.start, (one.end - one.start) / one.length,
                  one.shape.diameter / 2) for one in mains]))
        saws = []
        for cut in setup.cuts:
            one = mains[cut.main]
            saw, = cut.passes
            way = (one.end - one.start) / one.length
            to_main = crossing(tube, which, one)[1]
            off = (setup.end.reach if which == "start" else tube.length - setup.end.reach)
            at = point + (off - saw.beyond_blank) * b
            saws.append(entry(lines, b, at + to_main, way, saw.setting.diameter / 2))
        saws_at.append(np.fmax.reduce(saws))
    slide = np.nanmax(np.array(mains_at) - np.array(saws_at))
    edge = point + 18 * round_it + (saws_at[0] + slide)[:, None] * b
    gap = np.min([np.linalg.norm(np.cross(edge - one.start, (one.end - one.start) / one.length),
                                 axis=-1) - one.shape.diameter / 2 for one in mains], axis=0)
    assert setup.sawn.slide == pytest.approx(slide, abs=1e-3)
    assert setup.sawn.largest == pytest.approx(gap.max(), abs=2e-3)
    assert setup.sawn.largest > 0.05


def test_saws_of_the_mains_own_sizes_leave_no_gap_and_the_template_leaves_none():
    setup = setup_of(stay("start"), "start", [SEAT_TUBE, SHELL], OWN_SIZES)
    assert setup.sawn.largest < 1e-6 and setup.own.largest < 1e-6
    square = setup_of(stay("start"), "start", [SEAT_TUBE, SHELL], OWN_SIZES, "square")
    assert square.own.largest > 0.3


def test_a_saw_that_misses_the_very_tip_of_an_open_share_is_not_taken():
    tube = Tube(Round(36, 0.9), (0, 8, 3), (-400, 60, 60), "stay")  # overhangs the shell
    near = setup_of(tube, "start", [SEAT_TUBE, SHELL], NEAR_SIZES)
    assert [cut.passes[0].setting.diameter for cut in near.cuts] == [41.275, 41.275]
    sawn = setup_of(tube, "start", [SEAT_TUBE, SHELL], SawShop((31.75, 44.45))).sawn
    assert sawn.slide == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("which", ENDS)
def test_an_end_on_one_main_gets_the_saw_and_the_gap_of_the_measured_joint(which):
    tube = stay(which, Round(25.4, 0.9))
    setup = setup_of(tube, which, [SHELL], SawShop(enough=0.3))
    seat, = setup.end.stances
    kit = choose_saws(Joint(tube.shape, SHELL.shape, seat.angle, seat.offset), enough=0.3)
    cut, = setup.cuts
    best = kit.choices[0]
    assert [one.setting.diameter for one in cut.passes] == [
        one.diameter for one in best.passes]
    assert setup.sawn.largest == pytest.approx(best.fit.largest, abs=1e-6)
    for ours, theirs in zip(cut.passes, best.passes, strict=True):
        assert ours.setting.centre_beyond_long_point == pytest.approx(
            theirs.centre_beyond_long_point, abs=1e-6)


def test_only_the_saws_next_to_the_mains_size_are_tried():
    assert near_saws(USUAL_KIT_MM, 30.0, 30.0) == pytest.approx([28.575, 31.75])
    assert near_saws((20.0, 28.6, 40.0), 28.6, 28.6) == [28.6]
    assert near_saws((20.0, 28.6, 33.0, 40.0, 50.0), 28.6, 38.0) == [28.6, 33.0, 40.0]
    assert near_saws((50.0,), 28.6, 38.0) == [50.0]


TO_MAINS = [
    (Tube(Box(40, 30, 3), (0, -60, 0), (0, 60, 0), "rail"), SawShop(), "no hole saw cuts the flat"),
    (Tube(Plate(5), (0, -60, 0), (0, 60, 0), "tab", turn=-90), SawShop(),
     "no hole saw cuts the flat"),
    (Tube(Bent(30, 100), (0, -60, 0), (0, 60, 0), "hoop", turn=90), SawShop(), "curves away"),
    (SHELL, SawShop((10.0,)), "no saw of the kit cuts the whole tube"),
]


@pytest.mark.parametrize(("main", "shop", "why"), TO_MAINS, ids=lambda value: str(value)[:30])
def test_where_no_saw_will_do_the_reason_is_told_and_the_template_named(main, shop, why):
    tube = Tube(Round(25.4, 0.9), (0, 3, 0), (-20, 30, 300), "stay")
    setup = setup_of(tube, "start", [main], shop)
    cut, = setup.cuts
    assert cut.passes == () and why in cut.reason and "template" in cut.reason
    assert setup.sawn is None and setup.own.largest < 1e-6


def test_of_two_mains_one_too_large_for_the_kit_leaves_the_other_its_saw():
    setup = setup_of(stay("start"), "start", [SEAT_TUBE, SHELL], SawShop((28.6, 31.75)))
    shell, seat_tube = setup.cuts
    assert "its share" in shell.reason and shell.passes == ()
    assert seat_tube.passes[0].setting.diameter == 28.6


def test_a_tapered_and_an_oval_main_get_the_saw_of_the_smallest_gap_of_the_whole_kit():
    tube = Tube(Round(12, 0.9), (0, 1, 5), (-20, 30, 300), "stay")
    for shape in (Tapered(30, 24, 200), Oval(30, 26)):
        main = Tube(shape, (0, -60, 0), (0, 60, 0), "post")
        setup = setup_of(tube, "start", [main], SawShop(enough=9.0))
        equal = equivalent_joint(tube, "start", main)
        best = choose_saws(equal.joint, enough=9.0).choices[0]
        assert setup.sawn.largest == pytest.approx(best.fit.largest, abs=1e-6)


@pytest.mark.parametrize("which", ENDS)
def test_the_record_is_plain_json_with_the_clocks_of_the_tube(which):
    setup = setup_of(stay(which), which, [SEAT_TUBE, SHELL], NEAR_SIZES, "square")
    record = json.loads(json.dumps(setup_record(setup, own_limit(0.3)), allow_nan=False))
    gap = record["gap"]
    assert gap["clock"] == sorted(gap["clock"]) and gap["ok"] is False
    own = np.array(gap["clock"]) * (1 if which == "start" else -1)
    np.testing.assert_allclose(setup.own.at(own)[0], gap["outside"], atol=1e-9)
    at = setup.own.at(np.array([gap["largest_clock"] * (1 if which == "start" else -1)]))[0]
    assert at[0] == pytest.approx(gap["largest"], abs=1e-6)
    told = record["setup"]["cuts"][0]
    assert told["on"] == "shell" and told["passes"][0]["diameter"] == 41.275
    assert record["setup"]["gap"]["largest"] == setup.sawn.largest
