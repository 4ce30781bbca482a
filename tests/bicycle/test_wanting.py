"""What the numbers of a bicycle are for, and which are still wanting."""

from dataclasses import replace
from itertools import product

import pytest

from coper.bicycle.bicycle import make_bicycle
from coper.bicycle.measured import Measured, missing
from coper.bicycle.measures import measure
from coper.bicycle.solve import solve
from coper.bicycle.wanting import AIMS, FRONT, HEAD, wanting
from coper.bicycle.wheel import parse_wheel

FULL = Measured(
    drop=58.0, height=235.5, chain_stay=419.0, axle_back=414.966, rear_wheel=parse_wheel("40-507"),
    head_angle=70.0, reach=345.0, stack=484.0, head_bottom=(382.62, 380.63), front_centre=548.7,
    wheelbase=963.7, head_tube=110.0, fork_length=350.0, rake=45.0,
    front_wheel=parse_wheel("40-507"))

POINT = {"rear axle": "axle", "head tube": "head-top", "front axle": "front-axle"}


def only(keys):
    return Measured(**{key: getattr(FULL, key) for key in keys})


def ways(aim):
    """Every set of keys that the list says will do for an aim, with all before it."""
    before = [one for name in aim.after for one in ways(next(a for a in AIMS if a.name == name))]
    own = [{key for way in chosen for key in way} for chosen in product(*aim.needs)]
    if not aim.after:
        return own
    return [one | other for one in own for other in before] if len(aim.after) == 1 else own


def gives(aim, measured):
    if list(missing(measured)):
        return False
    bicycle = make_bicycle(solve(measured))
    if aim.name in POINT:
        return POINT[aim.name] in bicycle.points
    return measure(bicycle).trail is not None


@pytest.mark.parametrize("aim", AIMS[:3], ids=lambda aim: aim.name)
def test_each_way_that_is_said_to_do_gives_the_point_and_none_of_its_numbers_is_too_many(aim):
    for keys in ways(aim):
        rear = {"drop", "chain_stay"} if keys & {"front_centre", "wheelbase"} else set()
        assert gives(aim, only(keys | rear)), keys
        for key in keys - ({"head_tube"} if aim.name == FRONT else set()):
            assert not gives(aim, only(keys - {key})), (keys, key)


def test_with_all_that_is_wanting_the_bicycle_stands_on_the_ground():
    measured = Measured()
    for _ in range(20):
        lacks = [one for one in wanting(measured) if one.ways]
        if not lacks:
            break
        measured = replace(measured, **{key: getattr(FULL, key) for key in lacks[0].ways[0][0]})
    assert all(one.reached for one in wanting(measured)) and gives(AIMS[-1], measured)
    assert measured == only({"drop", "chain_stay", "head_angle", "reach", "stack", "head_tube",
                             "fork_length", "rake", "rear_wheel", "front_wheel"})


def test_an_aim_waits_for_those_before_it():
    of = {one.aim.name: one for one in wanting(only({"fork_length", "rake", "reach"}))}
    assert of[FRONT].ways == () and of[FRONT].after == (HEAD,) and not of[FRONT].reached
    assert of[HEAD].ways[1][:2] == (("reach", "stack"), ("head_bottom",))


def test_a_height_does_for_the_rear_axle_with_its_wheel_only():
    assert wanting(only({"height", "chain_stay"}))[0].ways
    assert wanting(only({"height", "chain_stay", "rear_wheel"}))[0].reached
