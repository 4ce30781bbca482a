"""Wheels in their forks, mudguards and brakes, against points and distances worked out here."""

import math

import numpy as np
import pytest

from coper import Round, Tube, make_piece, plain_end
from coper.bicycle.bicycle import Bicycle, Fork, Head, Parts, Rear, make_bicycle
from coper.bicycle.clearance.brake import brake_reaches
from coper.bicycle.clearance.clearance import make_clearances
from coper.bicycle.clearance.drive import Drive
from coper.bicycle.clearance.fitted import Brake, Crown, Fitted, ForkInside, Guard, Hole
from coper.bicycle.clearance.guard import guard_off
from coper.bicycle.clearance.slot import Slot
from coper.bicycle.clearance.wheel_room import kept_out, wheel_rooms
from coper.bicycle.wheel import Wheel, parse_wheel
from coper.frame.nearest import nearest_spot
from coper.telling.words.wheel_room import wheel_facts

REAR = Rear((-415.0, 58.0), 130, parse_wheel("40-507"))
HEAD = Head(70.0, (382.6, 380.6), 110)


def bicycle(length=350.0, rake=45.0, wheel="40-507", rear=REAR):
    return make_bicycle(Parts(rear=rear, head=HEAD,
                              fork=Fork(length, rake, 12, 100, parse_wheel(wheel))))


def in_head(down, ahead):
    """Points (…, 2), x and z: down the steering axis from the crown race, and ahead of it."""
    lean = math.radians(HEAD.angle)
    foot, along = np.array(HEAD.bottom), np.array((math.cos(lean), -math.sin(lean)))
    square = np.array((math.sin(lean), math.cos(lean)))  # to the front, and up
    down, ahead = np.asarray(down)[..., None], np.asarray(ahead)[..., None]
    return foot + (12 + down) * along + ahead * square


def rooms(frame, drive):
    return {(one.wheel, one.part, one.to, one.side): one.gap for one in wheel_rooms(frame, drive)}


def piece(shape, start, end, name="bar"):
    tube = Tube(shape, np.array(start, float), np.array(end, float), name)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def gaps(found, name):
    return [gap.spot.gap for gap in found if gap.tube == name]


# The fork

@pytest.mark.parametrize(("length", "rake", "crown"), [
    (350, 45, Crown(24, 36)), (350, 8, Crown(24, 36)), (350, -30, Crown(24, 36)),
    (310, 8, Crown(20, 30)), (400, 60, Crown(15, 2))])
def test_the_crowns_room_is_that_of_the_nearest_of_a_thousand_points_of_its_underside(
        length, rake, crown):
    axle = in_head(length, rake)
    under = in_head(crown.under, np.linspace(-crown.length / 2, crown.length / 2, 1001))
    across = np.linspace(-30, 30, 61)
    rho = np.hypot(*(under - axle).T)[:, None]
    tyre = np.hypot(rho - 253.5 - 20, across) - 20  # from the torus of a 40-507
    tyre = np.where(rho < 253.5 + 20, rho - 293.5, tyre)  # inside its middle: how deep in all
    found = rooms(bicycle(length, rake), Drive(fork=ForkInside(crown)))
    assert found["front", "tyre", "crown", ""] == pytest.approx(tyre.min(), abs=1e-3)


def test_without_a_crown_the_room_is_that_to_the_middle_of_the_crown_race():
    found = rooms(bicycle(310, 8, "40-559"), Drive())
    near = math.dist(in_head(310, 8), in_head(0, 0)) - (279.5 + 40)
    assert found["front", "tyre", "crown race", ""] == pytest.approx(near) == pytest.approx(
        -9.4, abs=0.01)


def test_a_wheel_that_is_larger_or_wider_than_its_fork_does_not_go_in():
    out = list(kept_out(bicycle(310, 8, "40-559"), Drive(fork=ForkInside(None, 39))))
    assert [(one.what, one.found, one.room) for one in out] == [
        ("radius", 319.5, 310), ("tyre", 40, 39)]
    assert not list(kept_out(bicycle(320, 8, "40-559"), Drive(fork=ForkInside(None, 40.5))))


FAR = piece(Round(14), (0, 300, 300), (100, 300, 300))


def test_a_wheel_that_does_not_go_in_is_not_good_even_where_nothing_is_measured_to_foul():
    found = make_clearances([FAR], bicycle(315, 80, "40-559"), Drive())
    assert found.too_close(0) == () and not found.ok()


def test_words_of_blades_and_mudguard_say_the_side_that_the_rim_leaves_less():
    frame = bicycle()
    drive = Drive(front=Fitted(guard=RING, rim_off=2.0), fork=ForkInside(None, 60))
    found = make_clearances([FAR], frame, drive)
    facts = {fact.name: fact.words for fact in wheel_facts(found, frame.wheels[1])}
    assert "8.00 mm (5/16 in) on the left, 12.00 mm (15/32 in) on the right" in facts["blades"]
    assert "3.00 mm beyond the tyre on the left, 7.00 mm beyond the tyre on the right" in (
        facts["mudguard"])


def test_a_rim_to_the_left_has_less_room_to_the_left_blade():
    drive = Drive(front=Fitted(rim_off=3.0), fork=ForkInside(None, 60))
    found = rooms(bicycle(), drive)
    assert found["front", "tyre", "blade", "left"] == 10 - 3
    assert found["front", "tyre", "blade", "right"] == 10 + 3


def test_a_rim_to_the_left_takes_its_tyre_to_the_left_stay():
    stays = [piece(Round(14), (-200, y, 290), (-400, y, 90), name)
             for name, y in (("left one", 33), ("right one", -33))]
    found = make_clearances(stays, bicycle(), Drive(rear=Fitted(rim_off=2.5))).tyre
    (left,), (right,) = (gaps([gap for gap in found if gap.part == "rear"], name)
                         for name in ("left one", "right one"))
    assert left == pytest.approx(33 - 7 - 20 - 2.5, abs=1e-3)
    assert right == pytest.approx(33 - 7 - 20 + 2.5, abs=1e-3)


def test_the_least_room_of_the_tyre_that_guidance_has_is_also_that_in_the_fork():
    found = make_clearances([FAR], bicycle(), Drive(fork=ForkInside(None, 42)))
    assert [one.found for one in found.guidance if one.what == "tyre to frame"] == [1.0]
    assert found.ok() and not found.ok(1.5) and found.too_close(1.5) == ("blade",)


# Mudguards

RING = Guard(50, 12)


def brute(tube_points, wheel, axle, guard):
    """The least distance from points (n, 3) to those of a mudguard's outline, mm."""
    high, low = wheel.radius + guard.gap, wheel.radius - wheel.tyre / 2
    across, up = np.linspace(-guard.width / 2, guard.width / 2, 101), np.linspace(low, high, 33)
    outline = np.concatenate([
        np.stack((np.full_like(across, high), across), axis=-1),
        *(np.stack((up, np.full_like(up, side)), axis=-1) for side in (across[0], across[-1]))])
    flat = np.hypot(tube_points[:, 0] - axle[0], tube_points[:, 2] - axle[2])
    seen = np.stack((flat, tube_points[:, 1] - axle[1]), axis=-1)
    return np.hypot(*(seen[:, None] - outline).transpose(2, 0, 1)).min()


@pytest.mark.parametrize(("start", "end"), [
    ((-170, 36, 378), (-410, 69, 75)), ((-215, 60, 310), (-215, -60, 310)),
    ((-130, 33, 30), (-400, 60, 60)), ((-215, 34, 330), (-150, 90, 380))])
def test_a_tubes_room_to_a_mudguard_is_that_of_the_nearest_pair_of_points(start, end):
    wheel, axle = Wheel(293.5, 40), (-415.0, 0.0, 58.0)
    bar = piece(Round(12), start, end)
    pose, length = bar.tube.pose, bar.tube.length
    clock, along = np.meshgrid(np.linspace(0, 2 * math.pi, 49), np.linspace(0, length, 301))
    skin = pose.outward(np.stack((6 * np.cos(clock), 6 * np.sin(clock), along), -1)).reshape(-1, 3)
    found = nearest_spot(bar, guard_off(RING, wheel, axle)).gap
    off = np.hypot(skin[:, 0] + 415, skin[:, 2] - 58)
    near = skin[(np.abs(off - 300) < 60) & (np.abs(skin[:, 1]) < 60)]
    assert found > 0 and found == pytest.approx(brute(near, wheel, axle, RING), abs=0.3)


def test_a_bridge_between_tyre_and_mudguard_fouls_by_what_it_has_to_move_out():
    at = 293.5 + 5  # its axis above the tread, straight over the axle
    bridge = piece(Round(8), (-415, 40, 58 + at), (-415, -40, 58 + at))
    found = make_clearances([bridge], bicycle(), Drive(rear=Fitted(guard=RING)))
    rear = [gap for gap in found.guard if gap.part == "rear"]
    assert gaps(rear, "bar") == [pytest.approx(-(12 - 5 + 4), abs=1e-6)]
    assert not found.ok() and found.too_close(0) == ("bar",)


def test_a_mudguards_edges_stand_out_over_the_tyre_and_less_on_the_side_of_the_rim():
    found = rooms(bicycle(), Drive(rear=Fitted(guard=RING, rim_off=-2)))
    assert found["rear", "tyre", "mudguard", ""] == 12
    assert found["rear", "tyre", "mudguard", "left"] == 5 + 2
    assert found["rear", "tyre", "mudguard", "right"] == 5 - 2


def test_a_mudguard_stays_in_the_middle_of_the_frame_wherever_the_rim_stands():
    stay = piece(Round(14), (-200, 38, 290), (-400, 38, 90))
    found = make_clearances([stay], bicycle(), Drive(rear=Fitted(guard=RING, rim_off=3)))
    assert gaps(found.guard, "bar") == [pytest.approx(38 - 7 - 25, abs=1e-3)]


def test_a_mudguard_in_the_fork_has_its_own_room_to_crown_and_blades():
    drive = Drive(front=Fitted(guard=RING, rim_off=1), fork=ForkInside(Crown(24, 36), 54))
    found = rooms(bicycle(), drive)
    assert found["front", "mudguard", "crown", ""] == pytest.approx(
        found["front", "tyre", "crown", ""] - 12)
    # It stands in the middle of the fork, wherever the rim does.
    assert (found["front", "mudguard", "blade", "left"],
            found["front", "mudguard", "blade", "right"]) == (2, 2)


def test_a_mudguard_narrower_than_the_tyre_is_no_fouling_and_one_wider_than_the_fork_is():
    narrow = Drive(front=Fitted(guard=Guard(36, 8)), fork=ForkInside(None, 46))
    assert make_clearances([FAR], bicycle(), narrow).ok()
    wide = Drive(front=Fitted(guard=Guard(47, 8)), fork=ForkInside(None, 46))
    found = make_clearances([FAR], bicycle(), wide)
    assert not found.ok() and found.too_close(0) == ("blade",)


# Brakes

def circle(axle, radius):
    turn = np.linspace(0, 2 * math.pi, 200_001)
    return axle[0] + radius * np.cos(turn), axle[1] + radius * np.sin(turn)


@pytest.mark.parametrize(("bolt", "pad"), [((-215.6, 0.0, 297.0), 0.0), ((-130.0, 0.0, 30.0), 3.0),
                                           ((-640.0, 0.0, 250.0), -2.0)])
def test_a_brake_needs_what_lies_between_its_bolt_and_the_nearest_of_the_pads_circle(bolt, pad):
    drive = Drive(rear=Fitted(brake=Brake(bolt, 50, 60, pad)))
    (found,) = brake_reaches(bicycle(), drive)
    x, z = circle(REAR.axle, 507 / 2 - pad)
    assert found.needed == pytest.approx(np.hypot(x - bolt[0], z - bolt[2]).min(), abs=1e-6)


def test_a_hole_in_the_crown_is_below_the_crown_race_and_its_brake_ahead_of_it():
    drive = Drive(front=Fitted(brake=Brake(Hole(12, 25), 50, 60)))
    (found,) = brake_reaches(bicycle(), drive)
    x, z = circle(in_head(350, 45), 507 / 2)
    bolt = in_head(12, 25)
    assert found.needed == pytest.approx(np.hypot(x - bolt[0], z - bolt[1]).min(), abs=1e-6)


BOLTS = {(-215.0, 0.0, 330.0): ("down", "up"), (-90.0, 0.0, 60.0): ("back", "forward"),
         (-415.0, 0.0, -250.0): ("up", "down"), (-760.0, 0.0, 100.0): ("forward", "back")}


def brake_words(brake, **more):
    frame = bicycle()
    found = make_clearances([FAR], frame,
                            Drive(rear=Fitted(brake=brake), **more))
    (fact,) = (fact for fact in wheel_facts(found, frame.wheels[0]) if fact.name == "brake")
    return fact, found


@pytest.mark.parametrize("bolt", BOLTS)
def test_a_brake_that_does_not_reach_says_by_how_much_and_which_way_its_bolt_moves(bolt):
    needed = math.hypot(bolt[0] + 415, bolt[2] - 58) - 253.5
    for least, most, says, way, sign in (
            (needed - 20, needed - 4, "TOO SHORT by 4.00 mm", BOLTS[bolt][0], 1),
            (needed + 5, needed + 20, "TOO LONG by 5.00 mm", BOLTS[bolt][1], -1)):
        fact, found = brake_words(Brake(bolt, least, most))
        assert says in fact.words and f"move the bolt {way}, " in fact.words
        assert ("towards" in fact.words) == (sign > 0) and not found.ok()
        # Its bolt moved as said, it just reaches.
        (one,) = found.brakes
        share = one.errs / math.hypot(*one.way)
        moved = bolt[0] + share * one.way[0], 0.0, bolt[2] + share * one.way[1]
        _, found = brake_words(Brake(moved, least - 1e-9, most + 1e-9))
        assert found.ok()


def test_the_slots_ends_need_more_and_less_and_the_drawn_axle_is_judged():
    bolt = (-215.6, 0.0, 297.0)
    fact, found = brake_words(Brake(bolt, 57, 60), slot=Slot(20, 0, 2))
    at = {one.axle: one.needed for one in found.brakes}
    for axle, back in (("front of slot", -2), ("drawn", 0), ("rear of slot", 18)):
        assert at[axle] == pytest.approx(math.hypot(bolt[0] + 415 + back, 239) - 253.5)
    assert "GOOD" in fact.words and found.ok()
    assert any("front of slot" in line and "TOO LONG" in line for line in fact.more)
    assert any("rear of slot" in line and "TOO SHORT" in line for line in fact.more)


@pytest.mark.parametrize(("off", "bolt_y", "says"), [
    (2, 0, "2.00 mm to the left of the bolt"), (-2, 0, "2.00 mm to the right of the bolt"),
    (0, 1.5, "1.50 mm to the right of the bolt"), (0, 0, None)])
def test_a_rim_beside_the_bolt_says_on_which_side_it_stands(off, bolt_y, says):
    frame = bicycle()
    drive = Drive(rear=Fitted(brake=Brake((-215.6, bolt_y, 297.0), 50, 70), rim_off=off))
    found = make_clearances([FAR], frame, drive)
    facts = {fact.name: fact for fact in wheel_facts(found, frame.wheels[0])}
    said = [line for line in facts["brake"].more if "of the bolt" in line]
    assert bool(said) == (says is not None) and all(says in line for line in said)
    assert ("left" in facts["rim"].words, "right" in facts["rim"].words) == (off > 0, off < 0)


def test_a_bicycle_without_a_fork_has_no_room_in_one():
    assert not list(wheel_rooms(Bicycle(), Drive(fork=ForkInside(None, 60))))
    frame = make_bicycle(Parts(rear=REAR))
    assert not list(brake_reaches(frame, Drive(front=Fitted(brake=Brake(Hole(12), 40, 50)))))
