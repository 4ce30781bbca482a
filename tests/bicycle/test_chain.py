"""How many links, and where in the slot the axle then stands."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from coper.bicycle.clearance.chain import PITCH_MM, WORN, centre_distance, chain_length, make_chain
from coper.bicycle.clearance.drive import Sprockets
from coper.bicycle.clearance.slot import Slot
from coper.errors import CoperError
from tests.profiles import examples

AXLE = (-415.0, 0.0, 58.0)


def exact_length(centre, sprockets):
    """A belt round the two pitch circles: two tangents and two arcs, in pitches."""
    large, small = (teeth * PITCH_MM / (2 * math.pi)
                    for teeth in (sprockets.ring, sprockets.sprocket))
    lean = math.asin((large - small) / centre)
    tangents = 2 * centre * math.cos(lean)
    arcs = large * (math.pi + 2 * lean) + small * (math.pi - 2 * lean)
    return (tangents + arcs) / PITCH_MM


def test_the_length_is_the_published_one():
    # 17.25 in, 52 and 28 teeth, computed from the formula of a chain maker's engineering page.
    length = chain_length(17.25 * 25.4, Sprockets(52, 28))
    assert length == pytest.approx(109.42290581, abs=1e-8)


wheels = st.builds(Sprockets, st.integers(28, 58), st.integers(11, 34))


@examples(60)
@given(st.floats(340, 520), wheels)
def test_the_formula_follows_the_belt_of_tangents_and_arcs(centre, sprockets):
    # It leaves out the fourth power of the tangents' lean: at most 0.02 of a link here.
    assert chain_length(centre, sprockets) == pytest.approx(
        exact_length(centre, sprockets), abs=0.02)
    if abs(sprockets.ring - sprockets.sprocket) < 12:
        assert chain_length(centre, sprockets) == pytest.approx(
            exact_length(centre, sprockets), abs=2e-4)


@examples(60)
@given(st.floats(340, 520), wheels)
def test_the_centre_distance_is_the_length_turned_round(centre, sprockets):
    assert centre_distance(chain_length(centre, sprockets), sprockets) == pytest.approx(
        centre, abs=1e-9)


@examples(60)
@given(st.floats(340, 520), wheels)
def test_ring_and_sprocket_may_change_places(centre, sprockets):
    other = Sprockets(sprockets.sprocket, sprockets.ring)
    assert chain_length(centre, sprockets) == chain_length(centre, other)


def reach(slot, at):
    x, _, z = slot.axle(AXLE, at)
    return math.hypot(x, z)


slots = st.builds(lambda travel, angle, share: Slot(travel, angle, share * travel),
                  st.floats(5, 60), st.floats(-60, 60), st.floats(0, 1))


@examples(60)
@given(slots, wheels)
def test_every_whole_number_of_links_between_the_slots_ends_is_found_where_bisection_puts_it(
        slot, sprockets):
    ends = [exact(slot, at, sprockets) for at in (0.0, slot.travel)]
    chain = make_chain(sprockets, AXLE, slot)
    assert [one.links for one in chain.choices] == list(
        range(math.ceil(min(ends)), math.floor(max(ends)) + 1))
    for one in chain.choices:
        at = brentq(lambda s, links=one.links: exact(slot, s, sprockets) - links,
                    0, slot.travel, xtol=1e-10)
        assert one.ahead == pytest.approx(at, abs=1e-6)
        assert one.ahead + one.behind == pytest.approx(slot.travel)
        assert one.move == pytest.approx(one.ahead - slot.at)
        assert one.half_link == bool(one.links % 2)


def exact(slot, at, sprockets):
    return chain_length(reach(slot, at), sprockets)


def test_an_upright_slot_may_hold_the_axle_at_two_places():
    # The slot passes its nearest place to the bracket half way: F.d = 0 at its middle.
    slot = Slot(240.0, 90.0, 178.0)  # from 120 mm below the bracket's height to 120 above
    chain = make_chain(Sprockets(44, 18), AXLE, slot)
    places = {}
    for one in chain.choices:
        places.setdefault(one.links, []).append(one.ahead)
        assert math.hypot(415, one.ahead - 120) == pytest.approx(one.centre, abs=1e-6)
    assert any(len(each) == 2 for each in places.values())


def test_a_worn_chain_is_taken_up_where_the_slot_goes_on():
    chain = make_chain(Sprockets(44, 18), AXLE, Slot(20, 0, 2))
    for one in chain.choices:
        worn = centre_distance(one.links * (1 + WORN), chain.sprockets)
        assert one.wears == (worn <= reach(Slot(20, 0, 2), 20))
    assert {one.wears for one in chain.choices} == {True, False}


def test_where_no_even_number_fits_other_sprockets_are_named_that_do():
    slot = Slot(4, 0, 2)
    lone = next(teeth for teeth in range(14, 22)
                if all(one.half_link for one in make_chain(Sprockets(44, teeth), AXLE,
                                                           slot).choices))
    chain = make_chain(Sprockets(44, lone), AXLE, slot)
    assert chain.instead
    for teeth, links in chain.instead:
        assert teeth != lone and not links.half_link
        assert links in make_chain(Sprockets(44, teeth), AXLE, slot).choices
    steps = [abs(teeth - lone) for teeth, _ in chain.instead]
    assert steps == sorted(steps)


def test_a_sprocket_that_would_touch_the_ring_is_not_named():
    # 60 and 40 teeth have 1 mm to spare, a sprocket of 41 or more none.
    reach = 100 / (2 * math.pi) * PITCH_MM + 1
    chain = make_chain(Sprockets(60, 40), (-reach, 0.0, 0.0), Slot(0.5, 0, 0))
    assert chain.choices == ()
    assert all(teeth < 40 for teeth, _ in chain.instead)


def test_where_an_even_number_fits_no_other_sprocket_is_named():
    assert make_chain(Sprockets(44, 18), AXLE, Slot(20, 0, 2)).instead == ()


def test_without_a_slot_the_even_numbers_on_either_side_are_given_and_how_far_the_axle_moves():
    chain = make_chain(Sprockets(44, 18), AXLE, None)
    below, above = chain.choices
    assert below.links < chain.drawn < above.links and above.links - below.links == 2
    assert below.links % 2 == 0 and below.move < 0 < above.move
    centre = math.hypot(AXLE[0], AXLE[2])
    assert chain_length(centre + above.move, chain.sprockets) == pytest.approx(above.links)


def test_wheels_that_would_touch_are_refused_with_their_key():
    with pytest.raises(CoperError, match="check the teeth") as raised:
        chain_length(120, Sprockets(44, 18))
    assert raised.value.where == "drive.ring"
