"""Words of the chain and its slot say the direction that the numbers have."""

from coper.bicycle.clearance.chain import make_chain
from coper.bicycle.clearance.drive import Sprockets
from coper.bicycle.clearance.slot import Slot
from coper.telling.words.clearance import chain_words, slot_words

AXLE = (-415.0, 0.0, 58.0)


def test_a_slot_that_rises_to_the_rear_is_said_to_go_up():
    assert " up " in slot_words(Slot(20, 15, 5)) and " down " in slot_words(Slot(20, -15, 5))


def test_a_longer_chain_takes_the_axle_behind_its_place_and_a_shorter_one_ahead():
    chain = make_chain(Sprockets(44, 18), AXLE, None)
    lines = [line for line in chain_words(chain) if "axle" in line and "drawn" in line][-2:]
    shorter, longer = lines
    assert chain.choices[0].move < 0 < chain.choices[1].move
    assert "ahead" in shorter and "behind" in longer
